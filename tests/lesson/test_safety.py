"""The safety lesson's tables on every build that comes with the course, and some of their numbers by hand."""

import re

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.lesson import safety

TABLES = (safety.commissioning_card, safety.inspector, safety.closing_table, safety.stall_table, safety.joint_table,
          safety.runaway_table, safety.hands_table, safety.body_table, safety.arc_table)  # fmt: skip


@pytest.fixture(scope="module", params=["orchard_van", "quarry_pickup", "college_hatch"])
def build(request):
    return read_build(find_build(request.param))


@pytest.fixture(scope="module")
def van():
    return read_build(find_build("orchard_van"))


@pytest.mark.parametrize("table", TABLES)
def test_a_table_or_one_sentence_on_every_build(table, build):
    shown = table(build)
    assert repr(shown) and not re.search(r"\bnan\b", repr(shown))
    assert ("<table>" in shown._repr_html_()) != ("does not apply. " in repr(shown))


def test_the_loop_s_table_tells_what_was_tried(van):
    text = repr(safety.single_faults(safety.shutdown_loop(van)))
    assert "24 single faults" in text and "175 cases" in text  # 25 states times 7 demands
    assert "none of them" in text
    worse = van.changed({"protection.shutdown.emergency_place": "before the coils"})
    assert "No way out by hand with: 12 V touches" in repr(safety.single_faults(safety.shutdown_loop(worse)))


def test_switching_off_is_the_mirror_of_switching_on():
    text = repr(safety.sequences())
    assert text.index("weld check") < text.index("precharge relay closes") < text.index("controller current to zero")


def test_readings_are_said_and_the_unread_are_counted(van):
    text = repr(safety.readings(van, {3: "180 kohm", "insulation, both": "240 kohm", "brakes": "7"}))
    assert "impossible" in text and "14 lines of the card were not read" in text
    assert "not on this build's card" in text.splitlines()[-2]


def test_the_blow_at_closing_by_hand(van):
    hot = 96 * 0.5e-3 * np.exp(2500 * (1 / 318.15 - 1 / 298.15))
    assert f"{0.05 * 96 * 3.40 / hot:.0f} A" in repr(safety.closing_table(van))


def test_the_stalled_loop_by_hand(van):
    ohms = 2 * 0.012 * (1 + 0.00393 * 55)
    standing = 600 * ohms + 4
    assert f"{600 * standing / 326.4:.1f} A" in repr(safety.stall_table(van))


def test_a_cold_arc_is_not_ended_by_a_partial_range_fuse(van):
    text = repr(safety.arc_table(van))
    cold = next(line for line in text.splitlines() if line.startswith("cold"))
    amps = float(re.search(r"(\d+) A", cold).group(1))
    assert amps < 1200 and "stepping back" in cold  # its smallest breaking current is 1200 A
    heat = 0.01 * 96 * 3.205 * amps * 2.0 / 45**2  # cal/cm2, the published formula on paper
    assert f"({heat:.1f} cal/cm²)" in cold


def test_polarity_is_asked_about_where_current_comes_back(van):
    assert "not polarised" in safety.say_polarity(van)
    hatch = read_build(find_build("college_hatch")).changed({"protection.contactor.contactor_polarised": "yes"})
    assert "stop until known" in safety.say_polarity(hatch)

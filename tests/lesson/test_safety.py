"""The safety lesson's tables on every build that comes with the course, and some of their numbers by hand."""

import re

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.lesson import safety
from evlib.lesson import safety_deep as deep

TABLES = (safety.commissioning_card, safety.inspector, safety.closing_table, safety.stall_table, deep.joint_table,
          safety.runaway_table, safety.hands_table, deep.body_table, deep.arc_table, safety.currents_table,
          safety.weld_table, safety.restart_table)  # fmt: skip


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
    assert text.index("all open") < text.index("precharge relay closes") < text.index("controller current to zero")


def test_readings_are_said_and_the_unread_are_counted(van):
    text = repr(
        safety.readings(
            van, {4: "180 kohm", "insulation, pack side, both": "240 kohm", "pressure": "510 kPa", "brakes": "7"}
        )
    )
    assert "impossible" in text and "26 lines of the card were not read" in text
    assert "not on this build's card" in text.splitlines()[-2]
    assert "lines 20, 21, 22, 23 begin so: say which" in text.splitlines()[-3]


def test_the_blow_at_closing_by_hand(van):
    hot = 96 * 0.5e-3 * np.exp(2500 * (1 / 318.15 - 1 / 298.15))
    assert f"{0.05 * 96 * 3.40 / hot:.0f} A" in repr(safety.closing_table(van))


def test_the_stalled_loop_by_hand(van):
    ohms = 2 * 0.012 * (1 + 0.00393 * 55)
    standing = 600 * ohms + 4
    assert f"{600 * standing / 326.4:.1f} A" in repr(safety.stall_table(van))
    hot = 96 * 0.5e-3 * np.exp(2500 * (1 / 318.15 - 1 / 298.15))
    assert f"{(326.4 - 4) / (hot + 2 * 0.012 * (1 + 0.00393 * 55)):.0f} A" in repr(safety.stall_table(van))  # brushes


def test_a_cold_arc_is_not_ended_by_a_large_partial_range_fuse(van):
    large = van.changed({"protection.fuse.fuse_minimum_breaking": "1200 A"})
    text = repr(deep.arc_table(large))
    cold = next(line for line in text.splitlines() if line.startswith("cold"))
    amps = float(re.search(r"(\d+) A", cold).group(1))
    assert amps < 1200 and "stepping back" in cold
    assert "the fuse" in next(line for line in repr(deep.arc_table(van)).splitlines() if line.startswith("cold"))
    assert "never: melts in" in repr(safety.currents_table(large)).splitlines()[-1]
    cells = 96 * 0.50e-3 * np.exp(2500 * (1 / 263.15 - 1 / 298.15)) * (1 + (0.05 / 0.2) ** 2)  # cold and low
    run = 2 * 2.6 * 1.02 * 1.7241e-8 * (1 + 0.00393 * 25) / 67.43e-6 + 10 * 0.10e-3  # cable at 45 °C, its joints
    by_hand = 96 * 3.205 / (cells + 0.012 + run) / 2
    assert amps == round(by_hand)
    heat = 0.01 * 96 * 3.205 * by_hand * 2.0 / 45**2  # cal/cm2, the published formula on paper
    assert f"({heat:.1f} cal/cm²)" in cold


def test_polarity_is_asked_about_where_current_comes_back(van):
    assert "not polarised" in deep.say_polarity(van)
    hatch = read_build(find_build("college_hatch")).changed({"protection.contactor.contactor_polarised": "yes"})
    assert "stop until known" in deep.say_polarity(hatch)


def test_the_weld_table_has_a_column_that_tells_each_weld_from_the_others(van):
    lines = [re.split(r"  +", line) for line in repr(safety.weld_table(van)).splitlines()]
    columns = list(zip(*lines, strict=True))[1:]
    seen = {column[0]: column[1:] for column in columns}
    assert len(set(seen.values())) == len(seen) == 5
    assert set(seen["nothing welded"]) == {"0 V"}
    assert seen["positive welded"][1] == "326 V at once" and seen["negative welded"][2] == "climbs to 322 V"


def test_a_restart_by_hand(van):
    row = re.split(r"  +", repr(safety.restart_table(van)).splitlines()[2])  # after 20 s
    left = 326.4 * np.exp(-20 / (8200 * 0.003))
    assert row[1] == f"{left:.0f} V" and "wait" in row[2]
    end, fold = 8200 / 8300, np.exp(-8300 / 8200)  # the divider, and one time constant of the 100 ohm alone
    assert row[3] == f"{100 * (end - (end - left / 326.4) * fold):.0f} %"
    volts = end * 326.4 - (end * 326.4 - left) * np.exp(-np.linspace(0, 1.5, 20_001) / (0.3 * end))
    assert row[4] == f"{np.trapezoid((326.4 - volts) ** 2 / 100, dx=1.5 / 20_000):.0f} J"


def test_a_slow_contactor_is_said_to_fail(van):
    said = safety.slow_release(van, 0.100)
    assert "make 140 ms: longer than every window (112, 103, 94 ms). That fails" in said
    assert "let go within 54.2 ms" in said  # 94.2 ms of the stuck controller, less 40 ms
    assert "fail" not in safety.slow_release(van, 0.030)
    assert "no contactor is quick enough" in safety.slow_release(
        van.changed({"protection.overspeed_trip.detection_delay": "95 ms"}), 0.030)  # fmt: skip


def test_closing_after_the_build_s_wait_is_the_panel_s_blow(van):
    from evlib.panels import safety_deep as panels

    panel = panels.precharge_panel(van)
    blow = panel.say(panel.compute(**panel.start)).sentence
    row = next(line for line in repr(safety.closing_table(van)).splitlines() if "its wait" in line)
    assert re.split(r"  +", row)[1] in blow
    hot = 96 * 0.5e-3 * np.exp(2500 * (1 / 318.15 - 1 / 298.15))
    volts = 326.4 * 8200 / 8300 * (1 - np.exp(-1.5 / 0.3 * 8300 / 8200))  # the divider of the two resistors
    assert float(re.split(r"  +", row)[1].split()[0]) == pytest.approx((326.4 - volts) / hot, rel=0.01)

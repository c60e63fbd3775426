"""The gearing lesson's tables on every build that comes with the course."""

import re

import pytest

from evlib.build.file import find_build, read_build
from evlib.lesson import gearing

TABLES = (gearing.road_table, gearing.members_table, gearing.holds_table, gearing.spinning_table, gearing.shift_table,
          gearing.change_table, gearing.gears_compared)  # fmt: skip


@pytest.fixture(scope="module", params=["orchard_van", "quarry_pickup", "college_hatch"])
def build(request):
    return read_build(find_build(request.param))


@pytest.mark.parametrize("table", TABLES)
def test_a_table_or_one_sentence(table, build):
    shown = table(build)
    text = repr(shown)
    assert text and "nan" not in text
    assert ("<table>" in shown._repr_html_()) != ("does not apply" in text)
    assert ("does not apply" in text) == (build.name == "College hatchback" and table in TABLES[1:3] + TABLES[4:6])


def test_sentences_of_the_panels(build):
    assert "starts on" in gearing.say_pull(build)
    assert "takes" in gearing.say_run_up(build)
    heavier = gearing.say_map(build, mass=float(build.vehicle.mass) + 500.0)
    shares = [int(word) for word in re.findall(r"(\d+) %", heavier)]
    assert len(shares) >= 8 and all(after <= before for before, after in zip(shares[::2], shares[1::2], strict=True))


def test_the_holds_are_the_ratios_by_torque_balance():
    text = repr(gearing.holds_table(read_build(find_build("orchard_van"))))
    low = 1 + 22 / 29
    for wanted in (low - 1, 1 - 1 / low, low + 1):
        assert f"{wanted:.3f}" in text


def test_a_log_that_is_not_there_is_one_sentence(build):
    with pytest.raises(ValueError, match=r"nowhere\.csv: there is no such log"):
        gearing.drive(build, "nowhere.csv")
    with pytest.raises(ValueError, match="urban"):
        gearing.drive(build, "moon")

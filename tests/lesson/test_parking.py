"""What the parking lesson's cells say."""

import pytest

from evlib.build.file import find_build, read_build
from evlib.build.registry import CHECKS
from evlib.build.review import load
from evlib.lesson import parking
from evlib.panels import parking as panels

BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")


def build(name="orchard_van"):
    return read_build(find_build(name))


@pytest.mark.parametrize("name", BUILDS)
def test_every_cell_speaks_on_every_build(name, capsys):
    made = build(name)
    for shown in (
        parking.story(made),
        parking.pawl(made),
        parking.shoes(made),
        parking.slowing(made),
        panels.ways(made),
    ):
        assert "nan" not in repr(shown) and "None" not in repr(shown) and "inf" not in repr(shown).replace("info", "")
    parking.proof(made)
    parking.forgotten(made, to="low", before="drive", condition="speed")
    parking.caught(made, 0.5)
    parking.rolls(made, seconds=3, grade=0.1)
    said = capsys.readouterr().out
    assert "all 15 rules hold" in said and "1 of 15 rules broken" in said and "12800 combinations" in said


def test_the_story_names_checks_that_there_are_and_all_of_parking():
    load()
    told = [name for _, names in parking.STORY for name in names]
    assert set(told) <= set(CHECKS) and len(told) == len(set(told))
    assert {name for name, spec in CHECKS.items() if spec.topic == "parking"} <= set(told)


def test_what_does_not_apply_says_why():
    text = repr(parking.story(build("college_hatch")))
    assert "does not apply: parking.selector is declared as not fitted" in text
    assert "reverses by inverter" in text


def test_the_selectors_settings_of_the_build_are_used(capsys):
    parking.proof(build().changed({"parking.selector.low_speed_limit": "110 km/h"}))
    said = capsys.readouterr().out
    assert "medium: up to 110 km/h" in said and "- low is never entered too fast" in said


def test_forgetting_what_is_not_there_is_refused():
    with pytest.raises(ValueError, match="no line lets park be entered from drive"):
        parking.forgotten(build(), to="park", before="drive", condition="brake")


def test_a_caught_car_by_hand(capsys):
    # 1650 kg at 2 m/s: 3300 J; twist 2 x sqrt(5000 x 1650) = 5745 N m; skid 0.8 x 0.52 x 1650 x 9.80665 x 0.30 / 3.70.
    parking.caught(build(), 2.0)
    said = capsys.readouterr().out
    assert "3.30 kJ" in said and "5745 N m" in said and "546 N m" in said

"""Repairs: the smallest change, confirmed by a review; what it breaks and mends; what is never suggested."""

import fnmatch
import math
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evlib.build.file import find_build, read_build
from evlib.build.kinds import CHANGEABLE, KINDS, RULE, TABLE, WISH, kind_of
from evlib.build.repair import BAD, failed, plan, repair, repairs, rounded
from evlib.build.review import review
from evlib.build.schema import declared
from evlib.ground.quantity import Quantity, quantity_of


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


@pytest.fixture(scope="module")
def before(pickup):
    return review(pickup, figures=False)


@pytest.fixture(scope="module")
def found(pickup):
    return repairs(pickup, rows=40, most=4)


# Worked out by hand from the build file alone. Target margin 10 %: demand times 1.1 is the capacity.
BY_HAND = (
    # The pack allows 300 A; the controller may draw what it is set to: 300 / 1.1.
    ("pack current", "controller.controller_pack_current_limit", 300 / 1.1, 270.0),
    # The brushes allow 750 A; two machines in series carry the controller's whole current: 750 / 1.1.
    ("motor current", "controller.motor_current_limit", 750 / 1.1, 680.0),
    # A half-open chopper makes the most ripple, half its current; the capacitor allows 420 A: 2 x 420 / 1.1.
    ("capacitor ripple", "controller.motor_current_limit", 2 * 420 / 1.1, 760.0),
    # The same, asked of the capacitor: 0.5 x 900 A x 1.1.
    ("capacitor ripple", "controller.ripple_current_limit", 0.5 * 900 * 1.1, 496.0),
)


@pytest.mark.parametrize(("name", "path", "least", "tidy"), BY_HAND)
def test_the_smallest_change_is_the_one_worked_out_by_hand(pickup, name, path, least, tidy):
    one = next(each for each in repair(pickup, name, most=9).found if each.path == path)
    assert one.least == pytest.approx(least, rel=2e-5)
    assert one.value == pytest.approx(tidy, rel=1e-9)


def test_a_change_that_is_smaller_by_a_little_does_not_do_it(pickup, found):
    tried = 0
    for each in (one for row in found for one in row.found if isinstance(one.least, float)):
        if quantity_of(declared()[each.path]).whole:
            less = each.least - math.copysign(1, each.least - each.now)
        else:
            less = each.now + 0.998 * (each.least - each.now)
        check = review(pickup.changed({each.path: less}), figures=False).check(each.check)
        assert not check.margin >= each.target, (each.check, each.path)
        tried += 1
    assert tried > 30


def test_what_a_change_breaks_and_mends_is_what_a_review_says(pickup, before, found):
    then = {check.name: check.verdict for check in before.checks}
    several = 0
    for each in (one for row in found for one in row.found):
        now = {c.name: c for c in review(pickup.changed({each.path: each.value}), figures=False).checks}
        assert now[each.check].margin == each.margin >= each.target
        assert set(each.breaks) == {name for name, c in now.items() if c.verdict in BAD and then[name] not in BAD}
        no_more = {name for name, c in now.items() if then[name] == "fail" and c.verdict not in BAD}
        assert {each.check, *each.mends} == no_more
        several += len(each.mends) >= 3
    assert several >= 3  # one cause, several checks
    assert {row.check for row in found} == {name for name, verdict in then.items() if verdict == "fail"}


def test_the_motor_current_of_the_pickup_mends_several_checks_at_once(pickup):
    """900 A was left as delivered; clutches, propeller shaft, capacitor and tyres all answer to it."""
    one = next(each for each in repair(pickup, "main pressure in low").found if each.kind == "setting")
    assert one.path == "controller.motor_current_limit"
    assert {"motor current", "grip", "propeller shaft torque", "capacitor ripple"} <= set(one.mends)


def test_facts_and_rules_are_never_suggested(found):
    for each in (one for row in found for one in row.found):
        assert each.kind == kind_of(each.path)
        assert each.kind in CHANGEABLE
    assert {"vehicle.wheelbase", "vehicle.mass", "machine.winding_resistance"}.isdisjoint(
        each.path for row in found for each in row.found
    )


def test_a_fact_is_no_candidate_even_where_it_would_do_it(pickup):
    """A lighter vehicle would hold on its handbrake; the handbrake check then passes, yet mass is not suggested."""
    name = "handbrake, nose up"
    light = review(pickup.changed({"vehicle.mass": 1500.0}), figures=False).check(name)
    assert light.margin >= light.target
    assert "vehicle.mass" not in [each.path for each in repair(pickup, name, most=99).found]


def test_settings_and_parts_come_before_wishes_and_usual_values_before_others(found):
    for row in found:
        order = [(each.kind == WISH, not each.usual) for each in row.found]
        assert order == sorted(order)


FAULTS = tomllib.loads((Path(__file__).parent / "faults" / "gearing.toml").read_text(encoding="utf-8"))
FAULTS |= tomllib.loads((Path(__file__).parent / "faults" / "safety.toml").read_text(encoding="utf-8"))
ONE_CAUSE = {
    name: next(iter(fault["changes"]))
    for name, fault in FAULTS.items()
    if len(fault["changes"]) == 1
    and kind_of(next(iter(fault["changes"]))) in CHANGEABLE
    and not isinstance(next(iter(fault["changes"].values())), dict)  # a curve is no candidate
}


@pytest.mark.parametrize("name", sorted(ONE_CAUSE))
def test_a_planted_fault_is_found_as_its_own_repair(name):
    """The sound build with one changeable value spoiled: that value is among the repairs, on its way back."""
    sound = read_build(find_build("orchard_van"))
    path = ONE_CAUSE[name]
    broken = sound.changed(FAULTS[name]["changes"])
    check = review(broken, figures=False).check(name)
    if check.margin is None:
        pytest.skip("a fault that leaves the check not known has no margin to lift")
    marginal = review(sound, figures=False).check(name)
    if not marginal.margin >= marginal.target:
        pytest.skip("marginal on the sound build: its own value does not reach the target either")
    one = next(each for each in repair(broken, name, most=99).found if each.path == path)
    if isinstance(one.now, float):
        back = sound.value(path) - one.now
        assert 0 < (one.least - one.now) / back <= 1.001
    assert review(broken.changed({path: one.value}), figures=False).check(name).verdict == "pass"


@given(
    now=st.floats(-500, 500),
    change=st.floats(0.01, 400),
    up=st.booleans(),
    kind=st.sampled_from([("A", ""), ("Pa", ""), ("m/s", ""), ("K", "reading")]),
)
def test_a_rounded_change_goes_at_least_as_far_and_little_further(now, change, up, kind):
    quantity = Quantity("x", kind[0], "anything", kind=kind[1])
    least = now + (change if up else -change)
    value = rounded(quantity, now=now, least=least)
    assert (value - least) * (1 if up else -1) >= -1e-6 * max(abs(least), 1)
    assert abs(value - now) <= 1.11 * change + 1e-6 * max(abs(now), 1)


def test_a_plan_leaves_fewer_failing_with_each_step_and_is_what_the_steps_make(pickup):
    made = plan(pickup)
    build, count = pickup, len(failed(made.before))
    for step in made.steps:
        assert step.kind in ("setting", "part")
        build = build.changed({step.path: step.value})
        now = len(failed(review(build, figures=False)))
        assert now < count
        count = now
    assert set(made.left) == set(failed(review(build, figures=False)))
    assert len(made.left) <= 3
    assert len(made.steps) <= len(failed(made.before)) / 2  # the pickup has fewer causes than failed checks


def test_what_cannot_be_mended_says_so_and_what_needs_nothing_too(pickup):
    build = pickup.changed({"controller.ripple_current_limit": None})
    with pytest.raises(ValueError, match="capacitor ripple: not known; there is no margin to lift"):
        repair(build, "capacitor ripple")
    with pytest.raises(ValueError, match="'nothing of the kind'"):
        repair(pickup, "nothing of the kind")
    sound = read_build(find_build("orchard_van"))
    assert repairs(sound) == ()
    assert repair(sound, "pack current").found == ()


def test_every_line_of_the_table_of_kinds_decides_something():
    paths = [path for path in declared() if not path.startswith("build.")]
    deciding = {next((p for p, _ in TABLE if fnmatch.fnmatchcase(path, p)), "") for path in paths}
    assert [pattern for pattern, _ in TABLE if pattern not in deciding] == []
    assert {kind_of(path) for path in paths} == set(KINDS)


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("vehicle.wheelbase", "fact"), ("vehicle.mass", "fact"), ("machine.winding_resistance", "fact"),
        ("controller.motor_current_limit", "setting"), ("hydraulics.regulator.regulator_set", "setting"),
        ("final_drive.final_drive_ratio", "part"), ("protection.fuse.fuse_rating", "part"),
        ("targets.start_grade", "wish"), ("targets.hottest_air", "fact"),
        ("protection.insulation.ohm_per_volt", RULE), ("protection.pack_fixing.crash_along", RULE),
        ("parking.hold_grade", RULE), ("protection.brake_servo.servo_stops", RULE),
    ],
)  # fmt: skip
def test_a_value_is_of_its_kind(path, kind):
    assert kind_of(path) == kind


def test_the_sentence_says_when_not_all_are_shown(pickup):
    few = repair(pickup, "bar volts", most=1)
    assert few.reach > 1 and few.sentence.endswith("; the first is shown.")
    every = repair(pickup, "bar volts", most=50)
    assert len(every.found) == every.reach and "shown" not in every.sentence

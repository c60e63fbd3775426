"""The ratio map: the same as single designs, its boundaries where the targets are, and gears side by side."""

import dataclasses

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.gears import highest_speed, run_to_target
from evlib.build.ratio_map import climb_arguments, designs, ratio_map, side_by_side, two_speed
from evlib.build.run_up import change_by_rule, run_up
from evlib.build.view import View
from evlib.ground.road import GRAVITY


@pytest.fixture(scope="module")
def van():
    return View(read_build(find_build("orchard_van")).parts)


def test_map_equals_single_designs(van):
    low, final = np.array([1.3, 1.7586, 2.4]), np.array([3.0, 3.7, 5.0])
    grid = ratio_map(van, low=low, final=final).designs
    d, given = two_speed(van), climb_arguments(van)
    for row in range(3):
        for column in range(3):
            one = designs(d, low=low[row], final=final[column], **given)
            assert grid.time[row, column] == pytest.approx(one.time[0], rel=1e-12)
            assert grid.winding[row, column] == pytest.approx(one.winding[0], rel=1e-9)
            alone = dataclasses.replace(d, gears=(float(low[row]), 1.0), final_drive_ratio=float(final[column]))
            assert one.time[0] == pytest.approx(run_up(alone, speed=given["speed"]).time, rel=1e-12)
            assert run_up(alone, speed=given["speed"]).change_speed <= change_by_rule(alone) + 1e-12


def test_the_build_itself_lies_on_the_map(van):
    built = side_by_side(van)["two gears"]
    assert built.top[0] == pytest.approx(highest_speed(van).speed, rel=1e-9)
    # the map changes by rule, the build at its own setting: the rule cannot be much slower
    assert built.time[0] <= run_to_target(van).time * 1.02


def test_steepest_start_on_the_map_by_hand(van):
    # F = T i_l i_f eta / r; sin(theta) + c cos(theta) = F / W, solved by stepping the angle
    d, given = two_speed(van), climb_arguments(van)
    one = designs(d, low=1.2, final=3.0, **given)
    force = given["start"] * 1.2 * 3.0 * 0.95 * 0.96 / 0.30
    angle = np.linspace(0, 0.6, 600_001)
    spare = force - 1650 * GRAVITY * (np.sin(angle) + 0.013 * np.cos(angle))
    assert one.start[0] == pytest.approx(np.tan(angle[np.argmin(np.abs(spare))]), rel=1e-4)


def test_the_hours_climb_takes_the_cooler_gear_that_can_hold_it(van):
    d, given = two_speed(van), climb_arguments(van)
    grade, speed = given["climb"]
    load = 1650 * GRAVITY * (np.sin(np.arctan(grade)) + np.cos(np.arctan(grade)) * (0.013 + 0.0002 * speed))
    load += 1.225 / 2 * 0.38 * 2.0 * speed**2
    by_gear = []
    for ratio, eta in ((2.0, 0.95), (1.0, 0.98)):
        torque = load * 0.30 / (ratio * 3.7 * eta * 0.96)
        by_gear.append(float(given["hot"](torque, speed * ratio * 3.7 / 0.30)))
    one = designs(d, low=2.0, final=3.7, **given)
    assert by_gear[0] < by_gear[1]
    assert one.winding[0] == pytest.approx(by_gear[0], rel=1e-6)
    # too low a gear for the motors' speed limit: only direct is left
    fast = {**given, "climb": (grade, 25.0)}
    alone = designs(d, low=3.0, final=3.7, **fast)
    assert alone.winding[0] == pytest.approx(designs(d, low=1.0, final=3.7, **fast).winding[0], rel=0.02)
    # a hill that no gear can hold
    steep = {**given, "climb": (0.9, 15.0)}
    assert designs(d, low=1.5, final=3.0, **steep).winding[0] == np.inf


def test_feasible_is_where_every_target_is_met(van):
    found = ratio_map(van, low=np.linspace(1, 3, 15), final=np.linspace(2.5, 6, 15))
    d, wanted = found.designs, found.targets
    by_hand = (d.time <= wanted["time"]) & (d.start >= wanted["start"]) & (d.top >= wanted["top"])
    by_hand &= d.winding <= wanted["winding"]
    assert (found.feasible == by_hand).all()
    assert found.feasible.any() and not found.feasible.all()


def test_more_low_gear_never_starts_less_steeply_and_taller_final_drive_never_tops_lower_by_the_motor(van):
    found = ratio_map(van, low=np.linspace(1, 3, 9), final=np.linspace(2.5, 6, 9)).designs
    assert (np.diff(found.start, axis=0) >= -1e-12).all()
    assert (np.diff(found.top[0]) <= 1e-9).all()  # here the motors' speed limits it all along


def test_gears_side_by_side(van):
    three = side_by_side(van)
    two, low, direct = three["two gears"], three["one gear, as low"], three["direct only"]
    assert two.start[0] == pytest.approx(low.start[0])
    assert two.top[0] == pytest.approx(direct.top[0])
    assert low.top[0] < direct.top[0] and direct.start[0] < low.start[0]
    assert two.time[0] <= direct.time[0]


def test_a_fixed_reduction_and_an_ac_machine_have_a_map_too():
    hatch = View(read_build(find_build("college_hatch")).parts)
    found = ratio_map(hatch, low=np.array([1.0, 1.6]), final=np.array([4.0, 5.8]))
    assert found.designs.winding is None
    assert "winding" not in found.spare
    assert np.isfinite(found.designs.time).all()


def test_the_thinned_curve_of_a_large_map_stays_close(van):
    low, final = np.linspace(1, 3, 40), np.linspace(2.5, 6, 40)  # more designs than a block: thinned
    large = ratio_map(van, low=low, final=final).designs
    d, given = two_speed(van), climb_arguments(van)
    for row, column in ((0, 0), (13, 22), (39, 39), (20, 5)):
        one = designs(d, low=low[row], final=final[column], **given)
        assert large.time[row, column] == pytest.approx(one.time[0], rel=2e-3)
        assert large.top[row, column] == pytest.approx(one.top[0], rel=2e-3)

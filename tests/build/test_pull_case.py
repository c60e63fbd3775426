"""What the lesson's pictures show, against the functions and the closed forms behind them."""

import dataclasses

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.gears import drive, highest_speed
from evlib.build.pull_case import pull_case, run_case
from evlib.build.run_up import run_up
from evlib.build.view import View
from evlib.ground.road import GRAVITY, road_load


@pytest.fixture(scope="module")
def van():
    return View(read_build(find_build("orchard_van")).parts)


def test_climb_at_fifty_balances_pull_and_road(van):
    case = pull_case(drive(van), start_torque=380.0)
    held = max(float(np.interp(case.at_speed, gear.speed, gear.steady)) for gear in case.gears)
    load = road_load(case.at_speed, mass=1650.0, rolling_coefficient=0.013, rolling_speed_term=0.0002,
                     drag_coefficient=0.38, frontal_area=2.0, grade=case.climb)  # fmt: skip
    assert load == pytest.approx(held, rel=1e-3)  # here the pull governs, not the grip


def test_start_by_hand(van):
    case = pull_case(drive(van), start_torque=300.0)
    force = 300.0 * (1 + 22 / 29) * 3.7 * 0.95 * 0.96 / 0.30
    angle = np.arctan(case.start.by_pull)
    assert 1650 * GRAVITY * (np.sin(angle) + 0.013 * np.cos(angle)) == pytest.approx(force, rel=1e-9)


def test_force_at_the_tyre_while_accelerating_lies_below_the_steady_pull(van):
    case = pull_case(drive(van), start_torque=380.0)
    low = case.gears[0]
    assert (low.moving < low.steady).all()
    assert case.top.speed == pytest.approx(highest_speed(van).speed, rel=1e-9)
    assert not case.spins
    slick = dataclasses.replace(drive(van), grip=0.3)
    assert pull_case(slick, start_torque=380.0).spins


def test_a_run_along_time_ends_where_the_quadrature_does(van):
    d = drive(van)
    case = run_case(d, speed=25.0, change_speed=15.0)
    run = run_up(d, speed=25.0, change_speed=15.0)
    assert case.reached and case.changes
    assert case.total == pytest.approx(run.time)
    assert case.time[-1] == pytest.approx(run.time)
    assert case.speed[-1] == pytest.approx(25.0)
    assert (np.diff(case.time) >= 0).all()
    at = int(np.searchsorted(case.time, case.change_time, side="right"))
    assert case.speed[at - 1] == pytest.approx(15.0)
    assert case.time[at] - case.time[at - 1] == pytest.approx(d.change_time)
    assert np.trapezoid(case.speed, case.time) == pytest.approx(run.distance, rel=1e-4)


def test_a_speed_out_of_reach_is_said_not_raised(van):
    case = run_case(drive(van), speed=60.0, change_speed=15.0)
    assert not case.reached
    assert np.isfinite(case.total) and np.isfinite(case.time).all()
    none = run_case(dataclasses.replace(drive(van), torque=0.0 * drive(van).torque), speed=10.0, change_speed=15.0)
    assert not none.reached


def test_the_power_of_the_curve_balances_point_by_point(van):
    # pack power x controller efficiency = shaft power + heat in the motors; winding at 75 degrees, 96 cells, 60 mohm
    d = drive(van)
    rest = 96 * 3.29  # half charge
    ohms = 96 * 0.5e-3 + 0.012
    taken = (rest - ohms * d.pack_current) * d.pack_current * 0.97
    made = d.torque * d.shaft_speed + d.heat
    np.testing.assert_allclose(taken, made, rtol=1e-6)


def test_heat_and_charge_of_a_run_add_up(van):
    d = drive(van)
    case = run_case(d, speed=25.0, change_speed=15.0)
    run = run_up(d, speed=25.0, change_speed=15.0)
    heat = charge = 0.0
    for leg, gear in zip(run.legs, d.gears, strict=True):
        to_shaft = gear * d.final_drive_ratio / d.wheel_radius
        along = leg.speed * to_shaft
        heat += np.trapezoid(np.interp(along, d.shaft_speed, d.heat), leg.time)
        charge += np.trapezoid(np.interp(along, d.shaft_speed, d.pack_current), leg.time)
    assert case.heat == pytest.approx(heat, rel=1e-3)
    assert case.charge == pytest.approx(charge, rel=1e-3)
    hatch = run_case(drive(View(read_build(find_build("college_hatch")).parts)), speed=15.0)
    assert hatch.heat is None and hatch.charge > 0

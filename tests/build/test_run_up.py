"""The run-up against closed forms, against an independent integrator, and against its own energy."""

import dataclasses
import time

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from evlib.build.run_up import (
    Drive,
    change_by_rule,
    change_by_search,
    coast,
    resistance,
    run_up,
    standing,
)

G = 9.80665
NO_ROAD = dict(rolling_coefficient=0.0, drag_coefficient=0.0, frontal_area=0.0)


def direct(torque, shaft_speed, **changes):
    """One gear, ratio 1, tyre radius 1 m: torque is force and shaft speed is road speed."""
    given_ = dict(
        gears=(1.0,), gear_efficiencies=(1.0,), final_drive_ratio=1.0, wheel_radius=1.0, mass=1200.0, **NO_ROAD
    )
    return Drive(**{**given_, "torque": torque, "shaft_speed": shaft_speed, **changes})


def van(points=400, **changes):
    shaft = np.linspace(0.0, 576.0, points)
    corner = 293.0
    base = dict(
        shaft_speed=shaft, torque=np.where(shaft < corner, 380.0, 380.0 * corner / np.maximum(shaft, 1.0)),
        gears=(1.7586, 1.0), gear_efficiencies=(0.95, 0.98), final_drive_ratio=3.7, final_drive_efficiency=0.96,
        wheel_radius=0.30, mass=1650.0, rolling_coefficient=0.013, rolling_speed_term=0.0002, drag_coefficient=0.38,
        frontal_area=2.0, density=1.2, input_inertia=0.26, propeller_inertia=0.02, wheel_inertia=4.0, change_time=0.6,
        grip=0.8, driven_axle="rear", rear_axle_share=0.52, wheelbase=2.6, cg_height=0.60,
    )  # fmt: skip
    return Drive(**{**base, **changes})


# --- closed forms -------------------------------------------------------------------------------------------------


def test_constant_power_to_sixty():
    # closed form t = m v^2 / 2P: 1200 kg, 40 kW, 60 mph in 10.79 s (published.md); force held below 0.4 m/s
    v = np.concatenate([[0.0], np.geomspace(0.4, 30.0, 600)])
    power = direct(40_000.0 / np.maximum(v, 0.4), v)
    assert run_up(power, speed=60 * 0.44704).time == pytest.approx(10.79, rel=0.0005)


def test_force_then_power_limited():
    # closed form: t = m vb / F + m (v^2 - vb^2) / 2P, s = m vb^2 / 2F + m (v^3 - vb^3) / 3P
    v = np.concatenate([np.linspace(0, 12.0, 5), np.linspace(12.0, 40.0, 300)[1:]])
    drive = direct(np.where(v <= 12.0, 4000.0, 48_000.0 / np.maximum(v, 1.0)), v, mass=1500.0)
    run = run_up(drive, speed=35.0)
    assert run.time == pytest.approx(1500 * 12 / 4000 + 1500 * (35**2 - 12**2) / 2 / 48_000, rel=1e-5)
    assert run.distance == pytest.approx(1500 * 144 / 8000 + 1500 * (35**3 - 12**3) / 3 / 48_000, rel=1e-5)


def test_drag_only():
    # constant force F against c v^2: v = vt tanh(t / tau), s = (m / c) ln cosh(t / tau)
    force, c, mass = 1200.0, 0.45, 1400.0
    v = np.linspace(0.0, 60.0, 1500)
    drive = direct(np.full_like(v, force), v, mass=mass, drag_coefficient=0.5, frontal_area=1.5, density=1.2)
    top, tau = np.sqrt(force / c), mass / np.sqrt(force * c)
    run = run_up(drive, speed=0.9 * top)
    assert run.time == pytest.approx(tau * np.arctanh(0.9), rel=2e-6)
    assert run.distance == pytest.approx(mass / c * np.log(np.cosh(np.arctanh(0.9))), rel=5e-6)


def test_a_straight_line_of_acceleration_is_exact_on_three_points():
    # F = F0 - k v: v = (F0/k)(1 - exp(-k t/m)), s = (F0/k) t - (m/k) v; and so are sums of what is linear in speed
    v = np.array([0.0, 15.0, 30.0])
    drive = direct(3000.0 - 80.0 * v, v, mass=1500.0, pack_current=5.0 + 2.0 * v)
    run = run_up(drive, speed=27.0)
    tau, top = 1500.0 / 80.0, 3000.0 / 80.0
    t = -tau * np.log(1 - 27.0 / top)
    assert run.time == pytest.approx(t, rel=1e-12)
    assert run.distance == pytest.approx(top * t - tau * 27.0, rel=1e-12)
    assert run.charge == pytest.approx(5.0 * t + 2.0 * run.distance, rel=1e-12)


def test_coast_down():
    # c v^2 and a constant R0: t = (m / sqrt(R0 c)) (atan(v0 k) - atan(v1 k)), k = sqrt(c / R0)
    drive = direct(np.ones(2), np.array([0.0, 50.0]), mass=1500.0, rolling_coefficient=0.013, drag_coefficient=0.4,
                   frontal_area=2.0, density=1.2)  # fmt: skip
    r0, c = 1500 * G * 0.013, 0.48
    k = np.sqrt(c / r0)
    after, way = coast(drive, 25.0, time=2.0)
    exact = np.tan(np.arctan(25.0 * k) - 2.0 * np.sqrt(r0 * c) / 1500) / k
    assert after == pytest.approx(exact, rel=1e-9)
    assert way == pytest.approx(1500 / (2 * c) * np.log((r0 + c * 625) / (r0 + c * exact**2)), rel=1e-6)


def test_grip_limited_start():
    # all wheels, no inertia upstream: a = mu g until the torque falls below it
    v = np.linspace(0.0, 30.0, 50)
    drive = direct(np.full_like(v, 50_000.0), v, grip=0.7, driven_axle="all")
    run = run_up(drive, speed=20.0)
    assert run.time == pytest.approx(20.0 / (0.7 * G), rel=1e-9)
    assert run.slips


# --- an independent integrator --------------------------------------------------------------------------------------


def by_integrator(d, target, change):
    """The same journey in time steps, written out separately: forces, grip, pause, direct."""
    load = lambda v: d.mass * G * (d.rolling_coefficient + d.rolling_speed_term * v) + d.density / 2 * 0.76 * v * v  # noqa: E731
    wheels = d.wheel_inertia / d.wheel_radius**2

    def rates(gear):
        ratio, eta = d.gears[gear] * 3.7 / 0.30, d.gear_efficiencies[gear] * 0.96
        rotor = d.input_inertia * ratio**2 * eta + d.propeller_inertia * (3.7 / 0.30) ** 2 * 0.96 + wheels / 2
        grip = 0.8 * d.mass * G * (0.52 - 0.013 * 0.6 / 2.6) / (1 - 0.8 * 0.6 / 2.6)

        def rate(t, y):
            v = max(y[0], 0.0)
            drive = np.interp(v * ratio, d.shaft_speed, d.torque) * ratio * eta
            free = (drive - load(v)) / (d.mass + rotor + wheels / 2)
            return [min(free, (grip - load(v)) / (d.mass + wheels / 2)), v]

        return rate

    def until(rate, start, speed):
        reach = lambda t, y: y[0] - speed  # noqa: E731
        reach.terminal = True
        return solve_ivp(rate, (0, 200), start, events=reach, rtol=1e-9, atol=1e-9, max_step=0.05)

    low = until(rates(0), [0.0, 0.0], change)
    rolling = d.mass + wheels + d.propeller_inertia * (3.7 / 0.30) ** 2 * 0.96
    pause = solve_ivp(lambda t, y: [-load(y[0]) / rolling, y[0]], (0, 0.6), low.y[:, -1], rtol=1e-10, atol=1e-10)
    high = until(rates(1), pause.y[:, -1], target)
    return low.t[-1] + 0.6 + high.t[-1], high.y[1, -1]


@pytest.mark.parametrize("grip", [0.8, 0.8 * 0.65])
def test_against_an_independent_integrator(grip):
    drive = van(grip=grip)
    run = run_up(drive, speed=27.0, change_speed=17.0)
    if grip == 0.8:
        seconds, metres = by_integrator(drive, 27.0, 17.0)
        assert run.time == pytest.approx(seconds, rel=2e-5)
        assert run.distance == pytest.approx(metres, rel=2e-5)
        assert not run.slips
    else:
        assert run.slips
        assert run.time > run_up(van(), speed=27.0, change_speed=17.0).time


def test_slipping_start_against_the_integrator():
    drive = van(torque=np.where(van().shaft_speed < 200.0, 520.0, 520.0 * 200.0 / np.maximum(van().shaft_speed, 1.0)))
    run = run_up(drive, speed=27.0, change_speed=15.0)
    seconds, metres = by_integrator(drive, 27.0, 15.0)
    assert run.slips
    assert run.time == pytest.approx(seconds, rel=5e-5)
    assert run.distance == pytest.approx(metres, rel=5e-5)


# --- energy ---------------------------------------------------------------------------------------------------------


def test_energy_in_is_kinetic_plus_losses():
    d = van(points=4000, change_time=0.0)
    run = run_up(d, speed=27.0, change_speed=17.0)
    for leg, gear in zip(run.legs, (0, 1), strict=True):
        ratio = d.gears[gear] * 3.7 / 0.30
        kept = leg.time > 0
        kept[np.argmax(kept) - 1] = True
        t, v, torque, a = (x[kept] for x in (leg.time, leg.speed, leg.torque, leg.acceleration))
        work = np.trapezoid(torque * v * ratio, t)
        road = np.trapezoid(leg.resistance[kept] * v, t)
        rotor = 0.26 * a * ratio
        eta_g, eta_f = d.gear_efficiencies[gear], 0.96
        after_gear = (torque - rotor) * d.gears[gear] * eta_g
        loss = np.trapezoid((torque - rotor) * v * ratio * (1 - eta_g), t)
        loss += np.trapezoid((after_gear - 0.02 * a * 3.7 / 0.30) * v * 3.7 / 0.30 * (1 - eta_f), t)
        stored = 1650 + 4.0 / 0.09 + 0.26 * ratio**2 + 0.02 * (3.7 / 0.30) ** 2
        assert work == pytest.approx(road + loss + stored * (v[-1] ** 2 - v[0] ** 2) / 2, rel=1e-6)


def test_charge_and_heat_are_carried_along():
    # at steady current and heat, charge = I t and heat = P t whatever the speed does
    d = van()
    d = dataclasses.replace(d, pack_current=np.full(400, 200.0), heat=np.full(400, 9000.0), change_time=0.0)
    run = run_up(d, speed=25.0)
    assert run.charge == pytest.approx(200.0 * run.time, rel=1e-9)
    assert run.heat == pytest.approx(9000.0 * run.time, rel=1e-9)
    rising = dataclasses.replace(d, pack_current=np.linspace(0, 400, 400), gears=(1.0,), gear_efficiencies=(1.0,))
    leg = run_up(rising, speed=25.0)
    points = leg.legs[0]
    expected = np.trapezoid(np.interp(points.speed * 3.7 / 0.3, d.shaft_speed, np.linspace(0, 400, 400)), points.time)
    assert leg.charge == pytest.approx(expected, rel=1e-4)


# --- change-over ----------------------------------------------------------------------------------------------------


def test_best_change_over_by_rule_and_by_search():
    quick = van(change_time=0.0)
    ruled, searched = change_by_rule(quick), change_by_search(quick, speed=27.0)
    assert ruled == pytest.approx(searched, rel=0.01)  # without a pause both must find the same place
    times = [run_up(quick, speed=27.0, change_speed=v).time for v in (0.7 * ruled, ruled, 1.15 * ruled)]
    assert times[1] < times[0] and times[1] < times[2]
    slow = van(change_time=1.5)
    best = run_up(slow, speed=27.0, change_speed=change_by_search(slow, speed=27.0)).time
    assert all(best <= run_up(slow, speed=27.0, change_speed=v).time + 1e-6 for v in np.linspace(5.0, 26.9, 60))


def test_change_by_rule_is_where_direct_accelerates_as_hard():
    d = van()
    v = change_by_rule(d)
    torque = [np.interp(v * i * 3.7 / 0.3, d.shaft_speed, d.torque) for i in d.gears]
    wheels = 4.0 / 0.09
    a = []
    for i, eta, t in zip(d.gears, d.gear_efficiencies, torque, strict=True):
        ratio = i * 3.7 / 0.3
        spun = 0.26 * ratio**2 * eta * 0.96 + 0.02 * (3.7 / 0.3) ** 2 * 0.96 + wheels
        a.append((t * ratio * eta * 0.96 - float(resistance(d, np.array([v]))[0])) / (1650.0 + spun))
    assert a[0] == pytest.approx(a[1], rel=0.01)


# --- standing distance ----------------------------------------------------------------------------------------------


def test_standing_distance_at_steady_force():
    # closed form: t = sqrt(2 s m / F), v = sqrt(2 s F / m)
    v = np.linspace(0.0, 60.0, 40)
    got = standing(direct(np.full_like(v, 3000.0), v), distance=400.0)
    assert got.time == pytest.approx(np.sqrt(2 * 400 * 1200 / 3000), rel=1e-9)
    assert got.speed == pytest.approx(np.sqrt(2 * 400 * 3000 / 1200), rel=1e-9)


def test_standing_distance_at_the_motors_limit():
    # 3000 N to 20 m/s (80 m in 8 s), then held there: 320 m more in 16 s
    v = np.linspace(0.0, 20.0, 40)
    got = standing(direct(np.full_like(v, 3000.0), v), distance=400.0)
    assert got.time == pytest.approx(8.0 + 16.0, rel=1e-9)
    assert got.speed == pytest.approx(20.0)


def test_standing_distance_through_a_change_agrees_with_the_integrator():
    d = van()
    got = standing(d, distance=400.0, change_speed=17.0)
    seconds, metres = by_integrator(d, got.speed, 17.0)
    assert metres == pytest.approx(400.0, rel=2e-4)
    assert got.time == pytest.approx(seconds, rel=2e-4)


# --- shapes, limits, monotony ---------------------------------------------------------------------------------------


def test_columns_equal_singles():
    masses, ratios = np.array([900.0, 1650.0, 2600.0]), np.array([1.5, 1.7586, 2.2])
    torque = van(60).torque * np.array([[1.0], [0.9], [1.3]])
    many = run_up(van(60, mass=masses, gears=(ratios, 1.0), torque=torque), speed=np.array([20.0, 25.0, 30.0]))
    on400 = standing(van(60, mass=masses, gears=(ratios, 1.0), torque=torque))
    for k in range(3):
        single = van(60, mass=float(masses[k]), gears=(float(ratios[k]), 1.0), torque=torque[k])
        one = run_up(single, speed=[20.0, 25.0, 30.0][k])
        assert many.time[k] == pytest.approx(one.time, rel=1e-12)
        assert many.distance[k] == pytest.approx(one.distance, rel=1e-12)
        assert many.change_speed[k] == pytest.approx(one.change_speed, rel=1e-12)
        assert on400.time[k] == pytest.approx(standing(single).time, rel=1e-12)


def test_a_speed_out_of_reach_takes_for_ever():
    assert run_up(van(), speed=60.0).time == np.inf  # past the motors' limit
    assert run_up(van(torque=van().torque * 0.2), speed=40.0).time == np.inf  # pull below road load
    assert run_up(van(torque=van().torque * 0.0), speed=10.0).time == np.inf
    assert run_up(van(), speed=1e-3).time < 0.01


@settings(max_examples=25, deadline=None)
@given(st.floats(0.5, 1.0), st.floats(0.0, 0.1), st.floats(6.0, 25.0))
def test_more_pull_is_never_slower_and_a_hill_never_quicker(share, grade, speed):
    base = van(80, grip=None)
    weak = run_up(dataclasses.replace(base, torque=base.torque * share), speed=speed, change_speed=15.0)
    strong = run_up(base, speed=speed, change_speed=15.0)
    hill = run_up(dataclasses.replace(base, grade=grade), speed=speed, change_speed=15.0)
    assert strong.time <= weak.time * (1 + 1e-9)
    assert strong.time <= hill.time * (1 + 1e-9)


def test_fewer_points_converge_to_many():
    fine = run_up(van(8001), speed=27.0, change_speed=17.0).time
    errors = [abs(run_up(van(n), speed=27.0, change_speed=17.0).time - fine) for n in (26, 101, 401)]
    assert errors[1] < errors[0] / 5 and errors[2] < errors[1] / 5


def test_a_run_up_is_quick_enough_for_ten_thousand():
    d = van(60)
    run_up(d, speed=27.0)
    begin = time.perf_counter()
    for _ in range(50):
        run_up(d, speed=27.0)
    assert (time.perf_counter() - begin) / 50 < 0.005  # wanted 1 ms on a quiet machine; see tests/benchmarks


@settings(max_examples=20, deadline=None)
@given(st.floats(0.5, 2.0), st.floats(0.5, 2.0), st.floats(0.5, 2.0))
def test_it_does_not_depend_on_the_units(kilogram, metre, second):
    # gravity stands in the rolling resistance and in the grip as a number, so they are left out here
    d = van(60, rolling_coefficient=0.0, rolling_speed_term=0.0, grip=None)
    scaled = dataclasses.replace(
        d, shaft_speed=d.shaft_speed / second, torque=d.torque * kilogram * metre**2 / second**2,
        wheel_radius=d.wheel_radius * metre, mass=d.mass * kilogram, frontal_area=d.frontal_area * metre**2,
        density=min(d.density * kilogram / metre**3, 2.0), input_inertia=d.input_inertia * kilogram * metre**2,
        propeller_inertia=d.propeller_inertia * kilogram * metre**2, change_time=d.change_time * second,
        wheel_inertia=d.wheel_inertia * kilogram * metre**2,
    )  # fmt: skip
    assume(scaled.density < 2.0)
    one = run_up(d, speed=25.0, change_speed=16.0)
    other = run_up(scaled, speed=25.0 * metre / second, change_speed=16.0 * metre / second)
    assert other.time == pytest.approx(one.time * second, rel=1e-9)
    assert other.distance == pytest.approx(one.distance * metre, rel=1e-9)

"""The cycle: the public one is what its regulation says, energy balances, and a trace too hard becomes a run-up."""

import dataclasses

import numpy as np
import pytest

from evlib.build import cycle
from evlib.build.file import find_build, read_build
from evlib.build.gears import drive
from evlib.build.run_up import resistance, run_up
from evlib.build.view import View
from evlib.gearing.log import Log, LogProblem, read_log

MPH = 0.44704


def view(name):
    return View(read_build(find_build(name)).parts)


def steady(speed, seconds=200):
    time = np.arange(float(seconds))
    return Log(time, np.full(len(time), float(speed)), tuple(range(2, len(time) + 2)))


def test_the_urban_cycle_is_the_regulations():
    # 40 CFR 86 Appendix I(a): t = 20..25 s: 0, 3.0, 5.9, 8.6, 11.5, 14.3 mph; whole: 1369 s, 11.99 km (7.45 mi),
    # 31.5 km/h mean, 91.2 km/h top (secondary for the whole)
    trace = cycle.named_cycle("urban")
    np.testing.assert_allclose(trace.speed[20:26] / MPH, [0, 3.0, 5.9, 8.6, 11.5, 14.3], atol=1e-9)
    way = np.trapezoid(trace.speed, trace.time)
    assert trace.time[-1] == 1369
    assert way / 1000 == pytest.approx(11.99, rel=0.001)
    assert way / 1369 * 3.6 == pytest.approx(31.5, rel=0.002)
    assert trace.speed.max() * 3.6 == pytest.approx(91.2, rel=0.001)


@pytest.mark.parametrize("name", ["village", "ridge"])
def test_the_invented_cycles_start_and_end_at_rest(name):
    trace = cycle.named_cycle(name)
    assert trace.speed[0] == trace.speed[-1] == 0
    assert np.abs(np.diff(trace.speed)).max() < 2.0


def test_an_unknown_cycle_says_what_there_is():
    with pytest.raises(ValueError, match="urban"):
        cycle.named_cycle("moon")


def test_steady_speed_by_hand():
    # AC machine, one fixed ratio: pack power = R v / (eta_f eta_a), eta_a machine and inverter together; then
    # U I - R I^2 = P solved as a quadratic
    b = view("college_hatch")
    v = 20.0
    got = cycle.drive_cycle(b, steady(v))
    load = 1200 * 9.80665 * (0.012 + 0.0002 * v) + 1.225 / 2 * 0.33 * 1.9 * v * v
    taken = load * v / 0.95 / 0.90
    u = 100 * 3.29  # half charge: between 3.28 at 40 % and 3.30 at 60 %
    ohms = 100 * 0.6e-3 * np.exp(2500 * (1 / 293.15 - 1 / 298.15)) + 0.015  # cells at 20 degrees, and the links
    amps = (u - np.sqrt(u**2 - 4 * ohms * taken)) / (2 * ohms)
    assert got.pack_rms == pytest.approx(amps, rel=0.002)
    assert got.per_metre == pytest.approx(u * got.pack_rms / v, rel=1e-3)
    assert got.range == pytest.approx(0.8 * 120 * 3600 / got.pack_rms * v, rel=1e-6)


def test_energy_balances_over_a_cycle():
    d = dataclasses.replace(drive(view("orchard_van")), gear_efficiencies=(1.0, 1.0), final_drive_efficiency=1.0)
    trace = cycle.named_cycle("urban")
    run = cycle.follow(d, trace, change_speed=15.0)
    middle, step = (run.speed[1:] + run.speed[:-1]) / 2, np.diff(run.time)
    road = np.sum(resistance(d, middle) * middle * step)
    # rotors weigh less in direct: each change hands their energy to the clutch, not to the road
    ratio = np.where(middle < 15.0, d.gears[0], d.gears[1]) * d.final_drive_ratio / d.wheel_radius
    kinetic = np.sum(d.input_inertia * ratio**2 * middle * np.diff(run.speed))
    assert run.work.sum() == pytest.approx(road + run.braked + kinetic, rel=1e-9)


def test_a_trace_too_hard_becomes_a_run_up():
    # independent: the quadrature over speed, without a pause
    b = view("orchard_van")
    d = dataclasses.replace(drive(b), change_time=0.0)
    time = np.arange(0.0, 12.0, 0.02)
    wanted = np.where(time == 0, 0.0, 28.0)
    run = cycle.follow(d, Log(time, wanted, tuple(range(len(time)))), change_speed=18.0)
    for target in (10.0, 17.0, 27.0):
        by_steps = float(np.interp(target, run.speed, run.time))
        assert by_steps == pytest.approx(run_up(d, speed=target, change_speed=18.0).time, abs=0.02)
    assert run.short.max() == pytest.approx(28.0, abs=0.3)


def test_a_build_that_cannot_follow_says_where_and_by_how_much():
    b = view("orchard_van")
    weak = View(read_build(find_build("orchard_van")).changed({"controller.motor_current_limit": "150 A"}).parts)
    trace = cycle.named_cycle("ridge")
    assert cycle.drive_cycle(b, trace).follows
    found = cycle.drive_cycle(weak, trace)
    assert not found.follows
    at = int(np.flatnonzero(trace.time == found.worst_time)[0])
    assert trace.speed[at] - found.driven.speed[at] == pytest.approx(found.worst_short)
    assert (found.driven.speed <= trace.speed + 1e-9).all()


def test_slower_costs_less_and_faster_warms_more():
    b = view("orchard_van")
    trace = cycle.named_cycle("village")
    slow, full = cycle.drive_cycle(b, cycle.slower(trace, factor=0.8)), cycle.drive_cycle(b, trace)
    assert slow.per_metre < full.per_metre
    assert slow.winding < full.winding
    assert slow.range > full.range


def test_a_crash_of_a_trace_is_refused_with_its_line():
    trace = read_log("time [s],speed [km/h]\n0,60\n1,60\n2,10\n3,10")
    with pytest.raises(ValueError, match="line 4"):
        cycle.follow(drive(view("orchard_van")), trace)
    with pytest.raises(LogProblem, match="line 3"):
        read_log("time,speed\n0,1\n0,2\n1,3")
    with pytest.raises(ValueError, match="does not move"):
        cycle.drive_cycle(view("orchard_van"), steady(0.0))

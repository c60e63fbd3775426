"""Rated currents with each current's own heat: against integration, against the energy balance, against a fixed point.

The second methods write the machine's losses and its two heat equations out from the build file's numbers; they call
nothing of the library.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from evlib.build import line, machine_heat
from evlib.build.file import find_build, read_build
from evlib.build.view import View
from evlib.motors import heat

AIR, LIMIT = 308.15, 428.15


@pytest.fixture(scope="module")
def van():
    return View(read_build(find_build("orchard_van")).parts)


def spin_and_brush_heat(amps, w):
    """2 V of brushes, 1.5 N m of friction, 1e-5 N m s2 of windage, 0.04 S of iron on the back-EMF: the build file."""
    k = 0.0016 * amps / (1 + amps / 300)
    return 2 * amps + 1.5 * w + 1e-5 * w**3 + 0.04 * (k * w) ** 2


def integrate(amps, seconds, w, start=(AIR, AIR), loaded=True, gfa=25.0):
    amps, other = (amps, spin_and_brush_heat(amps, w)) if loaded else (0.0, 0.0)

    def slope(_, x):
        copper, across = 0.012 * amps**2 * (1 + 0.00393 * (x[0] - 293.15)), 30.0 * (x[0] - x[1])
        return [(copper - across) / 5800.0, (other + across - gfa * (x[1] - AIR)) / 27e3]

    return solve_ivp(slope, (0, seconds), start, rtol=1e-9, atol=1e-8).y[:, -1]


def settled(amps, w, gfa=25.0):
    """What goes into each lump comes out of it: two balances, solved as a matrix."""
    copper = 0.012 * amps**2
    a = np.array([[30.0 - 0.00393 * copper, -30.0], [-30.0, 30.0 + gfa]])
    return np.linalg.solve(a, [copper * (1 - 0.00393 * 293.15), gfa * AIR + spin_and_brush_heat(amps, w)])


SPEEDS = [0.0, 100.0, 5500 * np.pi / 60, 400.0]


@pytest.mark.parametrize(("w", "still"), [*((w, False) for w in SPEEDS), *((w, True) for w in SPEEDS[:-1])])
def test_the_continuous_current_three_ways(van, w, still):
    gfa = 8.0 if still else 25.0
    found = float(machine_heat.continuous_current(van, w, still=still))
    assert found == pytest.approx(brentq(lambda i: settled(i, w, gfa)[0] - LIMIT, 0, 300), rel=1e-9)
    assert integrate(found, 4e5, w, gfa=gfa)[0] == pytest.approx(LIMIT, abs=1e-3)
    guess = 150.0  # R I^2 = (rise - P_o(I) / G_fa) / (1/G_wf + 1/G_fa), put into itself, half-way each time
    for _ in range(200):
        left = max(120.0 - spin_and_brush_heat(guess, w) / gfa, 0.0)
        guess = (guess + np.sqrt(left / (1 / 30.0 + 1 / gfa) / (0.012 * (1 + 0.00393 * 135)))) / 2
    assert found == pytest.approx(guess, rel=1e-9)


@pytest.mark.parametrize("w", SPEEDS)
@pytest.mark.parametrize("seconds", [60.0, 300.0, 3600.0])
def test_a_short_time_current_ends_at_the_limit_with_its_own_heat(van, seconds, w):
    found = float(machine_heat.short_time_current(van, seconds, w))
    assert integrate(found, seconds, w)[0] == pytest.approx(LIMIT, abs=1e-3)
    assert machine_heat.seconds_to_limit(van, found, w) == pytest.approx(seconds, rel=1e-6)


def test_a_cyclic_current_ends_at_the_limit_with_its_own_heat(van):
    w = machine_heat.half_speed(van)
    found, x = machine_heat.cyclic_current(van, 0.25, 600.0, w), (AIR, AIR)
    for _ in range(30):
        peak = integrate(found, 150.0, w, x)
        x = integrate(found, 450.0, w, peak, loaded=False)
    assert peak[0] == pytest.approx(LIMIT, abs=0.02)


def test_the_heat_of_another_current_gives_too_much_for_five_minutes(van):
    # The mistake that this module is there to prevent: the heat of 300 A kept for all currents.
    w = machine_heat.half_speed(van)
    frozen = float(heat.short_time_current(
        300.0, winding_limit=LIMIT, other_loss=float(line.frame_loss(van, 300.0, w)), air_temperature=AIR,
        **machine_heat.body(van)))  # fmt: skip
    assert integrate(frozen, 300.0, w)[0] > LIMIT + 1.0
    assert float(machine_heat.short_time_current(van, 300.0, w)) < frozen - 3.0


def test_shorter_is_more_and_faster_is_less(van):
    currents = [float(machine_heat.short_time_current(van, t, 288.0)) for t in (60.0, 300.0, 3600.0)]
    assert currents == sorted(currents, reverse=True)
    assert currents[-1] > float(machine_heat.continuous_current(van, 288.0))
    over_speed = [float(machine_heat.continuous_current(van, w)) for w in SPEEDS]
    assert over_speed == sorted(over_speed, reverse=True)


def test_no_current_is_left_where_air_and_iron_alone_reach_the_limit(van):
    # 1.5 w + 1e-5 w^3: 4480 W at 700 rad/s, 1240 W at 400 rad/s; 120 K carry 25 x 120 = 3000 W, or 8 x 120 = 960 W.
    assert float(machine_heat.continuous_current(van, 700.0)) == pytest.approx(0.0, abs=1e-9)
    assert float(machine_heat.continuous_current(van, 400.0, still=True)) == pytest.approx(0.0, abs=1e-9)


def test_a_measured_curve_that_ends_early_is_not_asked_beyond_its_end(van, monkeypatch):
    from evlib.ground.tables import Curve
    from evlib.motors.magnetisation import Tabulated

    short = Tabulated(Curve(x=np.array([0.0, 150.0]), y=np.array([0.0, 0.16])))
    monkeypatch.setattr(line, "magnetisation", lambda b: short)
    assert float(machine_heat.continuous_current(van, 100.0)) == 150.0
    assert machine_heat.cyclic_current(van, 0.25, 600.0, 100.0) == 150.0

"""Event segments against closed forms, and what happens when a switch is put inside the rate."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from evlib.ground.events import Guard, integrate

# A toy pressure switch: a tank fills when the pump is on and bleeds all the time; on below 4, off above 6.
# dp/dt = u - p/tau, u = 1 or 0, tau = 10. Closed form for each stretch.
TAU, LOW, HIGH = 10.0, 4.0, 6.0
RISE = TAU * np.log((TAU - LOW) / (TAU - HIGH))
FALL = TAU * np.log(HIGH / LOW)
OFF, ON = Guard("off", lambda t, y: y[0] - HIGH), Guard("on", lambda t, y: LOW - y[0])


def toy(end, **more):
    return integrate(
        lambda t, y, mode: (mode - y[0] / TAU,),
        state=(LOW,), mode=1, end=end,
        guards=lambda mode: [OFF if mode else ON],
        change=lambda name, t, y, mode: (1 - mode, y), **more,
    )  # fmt: skip


def test_toggles_when_the_closed_form_says():
    cycle = RISE + FALL
    run = toy(8.5 * cycle)
    expected = sorted([k * cycle + RISE for k in range(9)] + [(k + 1) * cycle for k in range(8)])
    assert len(run.events) == len(expected) == 17
    assert [event.time for event in run.events] == pytest.approx(expected, abs=1e-5)
    assert [event.name for event in run.events] == ["off", "on"] * 8 + ["off"]


def test_the_same_switch_inside_the_rate_toggles_wrongly():
    # The cautionary tale: memory inside the rate flips at trial points, so the count is wrong. No value is pinned.
    on, toggles = True, 0

    def rate(t, y):
        nonlocal on, toggles
        before = on
        if y[0] > HIGH:
            on = False
        elif y[0] < LOW:
            on = True
        toggles += on != before
        return [float(on) - y[0] / TAU]

    solve_ivp(rate, (0, 8.5 * (RISE + FALL)), [LOW], method="Radau", rtol=1e-7)
    assert toggles != 17


@pytest.mark.parametrize("method", ["LSODA", "RK45", "Radau"])
def test_bouncing_ball(method):
    # A ball from height h with restitution e: bounces at sqrt(2h/g) (1 + 2e + 2e^2 + ...); closed form.
    g, e = 9.81, 0.7
    first = np.sqrt(2 / g)
    expected = [first * (1 + 2 * sum(e**k for k in range(1, n + 1))) for n in range(6)]
    run = integrate(
        lambda t, y, mode: (y[1], -g), state=(1.0, 0.0), mode="air", end=expected[-1] + 0.01, method=method,
        guards=lambda mode: [Guard("floor", lambda t, y: -y[0])],
        change=lambda name, t, y, mode: ("air", (1e-12, -e * y[1])),
    )  # fmt: skip
    assert run.times_of("floor") == pytest.approx(expected, rel=1e-5)


def test_kinks_in_a_driven_rate_are_met_exactly():
    # A tank fed by a triangle: the integral is exact when segments end at its corners.
    corners, values = np.array([0.0, 1.0, 3.0, 4.0]), np.array([0.0, 2.0, 0.0, 1.0])
    run = integrate(
        lambda t, y, mode: (np.interp(t, corners, values),), state=(0.0,), mode=None, end=4.0, breaks=corners,
        guards=lambda mode: [], change=lambda *a: (None, a[2]), method="RK45",
    )  # fmt: skip
    assert run.state[-1, 0] == pytest.approx(1.0 + 2.0 + 0.5, abs=1e-12)
    assert run.at([1.0, 2.0])[:, 0] == pytest.approx([1.0, 2.5], abs=1e-9)
    assert run.mode_at(2.0) is None


def test_a_guard_already_past_fires_at_once():
    run = integrate(
        lambda t, y, mode: (0.0,), state=(5.0,), mode="closed", end=1.0,
        guards=lambda mode: [Guard("opens", lambda t, y: y[0] - 4)] if mode == "closed" else [],
        change=lambda name, t, y, mode: ("open", y),
    )  # fmt: skip
    assert [event.time for event in run.events] == [0.0]
    assert run.segments[0].mode == "open"


def test_a_guard_exactly_at_zero_and_falling_does_not_fire():
    run = integrate(
        lambda t, y, mode: (-1.0,), state=(4.0,), mode="closed", end=1.0,
        guards=lambda mode: [Guard("opens", lambda t, y: y[0] - 4)],
        change=lambda name, t, y, mode: ("open", y),
    )  # fmt: skip
    assert run.events == ()


def test_a_switch_without_hysteresis_is_reported():
    with pytest.raises(ValueError, match=r"chatter|without end"):
        integrate(
            lambda t, y, mode: (1.0 if mode else -1.0,), state=(0.0,), mode=True, end=1.0, most_events=500,
            guards=lambda mode: [Guard("off", lambda t, y: y[0] - 0.5)] if mode else [
                Guard("on", lambda t, y: 0.5 - y[0] + 1e-9)],
            change=lambda name, t, y, mode: (not mode, y),
        )  # fmt: skip


def test_asking_outside_the_run_is_refused():
    with pytest.raises(ValueError, match="outside the run"):
        toy(5.0).at([6.0])

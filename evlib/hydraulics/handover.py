"""Handover: from which speed the internal pump carries the pressure, and where the switch must stand."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.hydraulics import quantities as q
from evlib.hydraulics.pump import internal_leak, leakage

Sees = Literal["yes", "no"]
RULE = "Reverse with the gearbox, never with the motors."  # said in the same words wherever it is said
GAP = 0.1  # least hysteresis, over the switch-on speed: common practice, no source


@calculation
def handover_speed(
    pressure: q.Pressure, *, displacement: q.Displacement, internal_slip: q.InternalSlip,
    clearance_growth: q.ClearanceGrowth, seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak,
    open_feed: q.OpenFeed, leak_test_pressure: q.TestPressure, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Lowest input speed at which the internal pump alone carries a pressure.

    n = 2π (leakage(p) + slip(p)) / d

    pressure [Pa], the one that the asked torque needs and not merely the one at rest; displacement [m3 per turn],
    leakages and slip at leak_test_pressure [m3/s], clearance_growth and thinning [1]. Gives [rad/s]. Below the
    regulator's set point, so that cooler and lubrication take nothing.

    >>> box = dict(displacement=18e-6, internal_slip=4e-5, clearance_growth=1, seal_leak=2e-5, valve_body_leak=3e-5,
    ...     open_feed=0, leak_test_pressure=5e5, thinning=1)
    >>> round(handover_speed(5e5, **box) * 30 / 3.14159265)  # 5.4 L/min over 18 cm3 a turn
    300

    Source: flow balance.
    """
    box = {"leak_test_pressure": leak_test_pressure, "thinning": thinning}
    lost = leakage(pressure, seal_leak=seal_leak, valve_body_leak=valve_body_leak, open_feed=open_feed, **box)
    slip = internal_leak(pressure, internal_slip=internal_slip, clearance_growth=clearance_growth, **box)
    return np.asarray(2 * np.pi * (np.asarray(lost) + slip) / displacement)


@calculation
def input_deceleration(
    deceleration: q.Deceleration, *, overall_ratio: q.OverallRatio, wheel_radius: q.WheelRadius
) -> Number:
    """Rate at which input speed falls while the vehicle brakes in gear.

    α = a i / r

    deceleration [m/s2], overall_ratio (gear times axle) [1], wheel_radius [m]. Gives [rad/s2]. The wheels don't lock;
    locked wheels stop the input at once, and then only stored pressure is left.

    >>> round(input_deceleration(6.0, overall_ratio=6.512, wheel_radius=0.3), 2)
    130.24

    Source: rolling without slip.
    """
    return np.asarray(deceleration * np.asarray(overall_ratio) / wheel_radius)


@calculation
def switch_on_needed(
    handover: q.SwitchOnSpeed, *, input_deceleration: q.InputDeceleration, switch_delay: q.SwitchDelay,
    spin_up_time: q.SpinUpTime,
) -> Number:  # fmt: skip
    """Lowest switch-on speed with which the electric pump is up before the internal pump gives out.

    non = n_handover + α (tsw + tup)

    handover speed [rad/s], input_deceleration [rad/s2], switch_delay and spin_up_time [s]. Gives [rad/s]. The pump is
    counted as nothing until it is wholly up.

    >>> round(switch_on_needed(52.36, input_deceleration=130.24, switch_delay=0.05, spin_up_time=0.15), 2)
    78.41

    Source: constant deceleration.
    """
    return handover + np.asarray(input_deceleration) * (np.asarray(switch_delay) + spin_up_time)


@calculation
def pump_wanted(
    speed: q.InputSpeed, *, was_on: bool, on_speed: q.SwitchOnSpeed, off_speed: q.SwitchOffSpeed, sees_direction: Sees
) -> Number:  # fmt: skip
    """Whether the speed switch wants the electric pump on: 1 or 0.

    on below on_speed, off above off_speed, else as it was; a switch that sees no direction takes the size of the speed

    speed (backwards negative), on_speed and off_speed [rad/s]. Gives [1]. A switch that sees direction counts turning
    backwards as standing still, so that the pump stays on.

    >>> pump_wanted(-200.0, was_on=True, on_speed=50, off_speed=60, sees_direction="no")
    0.0
    >>> pump_wanted(-200.0, was_on=True, on_speed=50, off_speed=60, sees_direction="yes")
    1.0

    Source: common practice, no source.
    """
    if np.any(np.asarray(off_speed) <= on_speed):
        raise ValueError(f"off_speed: {off_speed} rad/s was given; allowed: more than on_speed, {on_speed} rad/s")
    felt = np.abs(speed) if sees_direction == "no" else np.asarray(speed)
    return np.where(felt < on_speed, 1.0, np.where(felt > off_speed, 0.0, float(was_on)))


@calculation
def backing_pressure(main_pressure_reverse: q.Pressure, *, pump_turns: Literal["forward", "backward"]) -> Number:
    """Pressure that may be counted on while the vehicle backs up faster than the switch-off speed.

    main pressure while the internal pump turns forward, as it does in the gearbox's own reverse; nil while it turns
    backward, as it does with reversed motors

    main_pressure_reverse [Pa]. Gives [Pa]. Turned backward the internal pump draws oil out of the main circuit, more
    than the electric pump gives, and a switch that sees no direction turns the electric pump off besides. With an
    outlet valve and a switch that sees direction all would hang on the electric pump alone, and the internal pump would
    run starved: nothing is counted on.

    >>> backing_pressure(1.1e6, pump_turns="forward"), backing_pressure(1.1e6, pump_turns="backward")
    (1100000.0, 0.0)

    Source: a gear pump turned backward draws from its outlet; common practice, no source.
    """
    return np.asarray(main_pressure_reverse) * (1.0 if pump_turns == "forward" else 0.0)


@calculation
def switch_off_least(on_speed: q.SwitchOnSpeed, *, ripple: q.SpeedRipple) -> Number:
    """Lowest switch-off speed with which the switch does not chatter.

    noff = larger of non + 2 Δ and non (1 + 1/10)

    on_speed and ripple (what the speed signal wavers, to either side) [rad/s]. Gives [rad/s].

    >>> switch_off_least(60.0, ripple=2.0), switch_off_least(60.0, ripple=5.0)
    (66.0, 70.0)

    Source: common practice, no source.
    """
    return np.asarray(np.maximum(np.add(on_speed, 2 * np.asarray(ripple)), np.multiply(on_speed, 1 + GAP)))

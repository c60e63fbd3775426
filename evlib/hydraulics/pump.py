"""The two pumps: the electric one by two points of its curve, the internal one by its displacement and its slip."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Array, Number, calculation
from evlib.hydraulics import quantities as q


@calculation
def pump_fall(*, slip_share: q.SlipShare, thinning: q.Thinning) -> Number:
    """How much steeper a pump's curve falls with this oil than with the oil of its data sheet.

    1 - s + s λ

    slip_share (share of the fall that is slip past the gears) and thinning [1]. Gives [1]. The other share is the
    motor slowing under load, which the oil doesn't change.

    >>> round(pump_fall(slip_share=0.4, thinning=1.5), 6)
    1.2

    Source: slip through laminar gaps goes with 1/viscosity (Hagen and Poiseuille).
    """
    return 1 - np.asarray(slip_share) + np.asarray(slip_share) * thinning


@calculation
def electric_flow(
    pressure: q.Pressure, *, free_flow: q.FreeFlow, rated_flow: q.RatedFlow, rated_pressure: q.RatedPressure,
    rated_voltage: q.PumpVolts, terminal_voltage: q.TerminalVolts, slip_share: q.SlipShare, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Flow of the electric pump against a pressure at its outlet.

    Q = Q0 V/Vr - (Q0 - Qr) (p/pr) (1 - s + s λ), and nothing beyond the pressure at which that is nil

    pressure and rated_pressure [Pa], free_flow and rated_flow [m3/s], voltages [V], slip_share and thinning [1]. Gives
    [m3/s]. A gear pump on a permanent-magnet motor: a straight line through two points of its data sheet, which moves
    with the volts. Its relief valve is not in it; a starved inlet neither.

    >>> round(electric_flow(5e5, free_flow=1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5,
    ...     terminal_voltage=12, slip_share=0.4, thinning=1) * 60e3, 2)
    5.0

    Source: permanent-magnet motor, speed falls in proportion to torque; any text on DC machines.
    """
    fall = np.asarray(pump_fall(slip_share=slip_share, thinning=thinning))
    flow = free_flow * np.asarray(terminal_voltage) / rated_voltage
    lost = (np.asarray(free_flow) - rated_flow) * pressure / rated_pressure * fall
    return np.asarray(np.maximum(flow - lost, 0.0))


@calculation
def stall_pressure(
    free_flow: q.FreeFlow, *, rated_flow: q.RatedFlow, rated_pressure: q.RatedPressure,
    rated_voltage: q.PumpVolts, terminal_voltage: q.TerminalVolts, slip_share: q.SlipShare, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Pressure against which the electric pump gives no flow.

    p = pr (V/Vr) Q0 / ((Q0 - Qr) (1 - s + s λ)); without limit for a curve that doesn't fall

    Arguments as :func:`electric_flow`. Gives [Pa]. The pump's relief valve opens first in most pumps.

    >>> round(stall_pressure(1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5, terminal_voltage=13.5,
    ...     slip_share=0.4, thinning=1))
    1500000

    Source: as :func:`electric_flow`.
    """
    fall = np.asarray(pump_fall(slip_share=slip_share, thinning=thinning))
    lost = np.asarray(free_flow) - rated_flow
    if np.any(lost < 0):
        raise ValueError(f"rated_flow: {rated_flow} m3/s was given; allowed: at most free_flow, {free_flow} m3/s")
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(
            lost > 0, np.asarray(rated_pressure) * terminal_voltage / rated_voltage * free_flow / (lost * fall), np.inf
        )


@calculation
def electric_pressure(
    flow: q.Flow, *, free_flow: q.FreeFlow, rated_flow: q.RatedFlow, rated_pressure: q.RatedPressure,
    rated_voltage: q.PumpVolts, terminal_voltage: q.TerminalVolts, slip_share: q.SlipShare, thinning: q.Thinning,
    pump_relief_pressure: q.PumpReliefPressure,
) -> Number:  # fmt: skip
    """Pressure at the electric pump's outlet while it gives a flow: its curve read the other way.

    p = (Q0 V/Vr - Q) pr / ((Q0 - Qr) (1 - s + s λ)), at most its relief pressure, not below nil

    flow [m3/s], pump_relief_pressure [Pa], the rest as :func:`electric_flow`. Gives [Pa].

    >>> round(electric_pressure(5e-5 / 0.6, free_flow=1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5,
    ...     terminal_voltage=12, slip_share=0.4, thinning=1, pump_relief_pressure=1.2e6), -3)
    500000.0

    Source: as :func:`electric_flow`.
    """
    fall = np.asarray(pump_fall(slip_share=slip_share, thinning=thinning))
    steepness = (np.asarray(free_flow) - rated_flow) * fall / rated_pressure
    spare = np.asarray(free_flow) * terminal_voltage / rated_voltage - flow
    with np.errstate(divide="ignore", invalid="ignore"):
        curve = np.where(steepness > 0, spare / steepness, np.where(spare > 0, np.inf, 0.0))
    return np.asarray(np.clip(curve, 0.0, pump_relief_pressure))


@calculation
def electric_current(
    pressure: q.Pressure, *, free_current: q.FreeCurrent, rated_current: q.RatedCurrent,
    rated_pressure: q.RatedPressure,
) -> Number:  # fmt: skip
    """Current that the electric pump draws against a pressure, once it is up to speed.

    I = I0 + (Ir - I0) p/pr

    pressure and rated_pressure [Pa], currents [A]. Gives [A]. Torque, hence current, follows pressure and hardly the
    volts; thick oil draws more.

    >>> electric_current(3e5, free_current=5, rated_current=15, rated_pressure=6e5)
    10.0

    Source: permanent-magnet motor; pump torque = pressure x displacement.
    """
    return free_current + (np.asarray(rated_current) - free_current) * pressure / rated_pressure


@calculation
def internal_leak(
    pressure: q.Pressure, *, internal_slip: q.InternalSlip, leak_test_pressure: q.TestPressure,
    clearance_growth: q.ClearanceGrowth, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Flow back through the internal pump's clearances, whether its gears turn or stand.

    Q = Qi (p/pt) λ w³

    pressure and leak_test_pressure [Pa], internal_slip [m3/s], clearance_growth and thinning [1]. Gives [m3/s].
    Laminar gaps: flow goes as the cube of their height and inversely as viscosity.

    >>> round(internal_leak(4e5, internal_slip=2e-5, leak_test_pressure=5e5, clearance_growth=1.2, thinning=1) * 60e3, 2)
    1.66

    Source: flow between parallel plates, Q = b h³ Δp / (12 μ L), any fluid text.
    """  # noqa: E501
    worn = np.asarray(clearance_growth) ** 3
    return np.asarray(np.asarray(internal_slip) * worn * thinning * pressure / leak_test_pressure)


@calculation
def internal_flow(
    speed: q.InputSpeed, *, pressure: q.Pressure, displacement: q.Displacement, internal_slip: q.InternalSlip,
    leak_test_pressure: q.TestPressure, clearance_growth: q.ClearanceGrowth, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Net flow of the internal pump into the main circuit; negative when oil goes back through it.

    Q = d n / 2π - Qi (p/pt) λ w³

    speed (backwards negative) [rad/s], pressure and leak_test_pressure [Pa], displacement [m3 per turn], internal_slip
    [m3/s], clearance_growth and thinning [1]. Gives [m3/s]. Turned backwards a gear pump draws oil out of the circuit;
    an outlet valve makes that nil, never positive. Filling losses at high speed are left out.

    >>> still = dict(pressure=5e5, displacement=18e-6, internal_slip=2e-5, leak_test_pressure=5e5, clearance_growth=1)
    >>> round(internal_flow(52.36, thinning=1, **still) * 60e3, 2), round(internal_flow(0.0, thinning=1, **still), 7)
    (7.8, -2e-05)

    Source: displacement per turn; slip as :func:`internal_leak`.
    """
    slip = internal_leak(
        pressure, internal_slip=internal_slip, leak_test_pressure=leak_test_pressure,
        clearance_growth=clearance_growth, thinning=thinning,
    )  # fmt: skip
    return np.asarray(displacement) * speed / (2 * np.pi) - slip


def linear_and_root(
    *, seal_leak: Number, valve_body_leak: Number, open_feed: Number, leak_test_pressure: Number, thinning: Number
) -> tuple[Array, Array]:
    """The gearbox's leakage as g p + k √p: what seals pass in proportion, and what orifices pass by the root."""
    test = np.asarray(leak_test_pressure, dtype=float)
    return np.asarray(seal_leak) * thinning / test, (np.asarray(valve_body_leak) + open_feed) / np.sqrt(test)


@calculation
def leakage(
    pressure: q.Pressure, *, seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak, open_feed: q.OpenFeed,
    leak_test_pressure: q.TestPressure, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Oil that leaves the main circuit below the regulator's set point, the internal pump not counted.

    Q = Qs λ p/pt + (Qv + Qf) √(p/pt)

    pressure and leak_test_pressure [Pa], seal_leak, valve_body_leak and open_feed at the test pressure [m3/s],
    thinning [1]. Gives [m3/s]. Seals are laminar gaps; the valve body and open feeds are orifices, where viscosity
    does not matter.

    >>> round(leakage(4e5, seal_leak=1e-5, valve_body_leak=2e-5, open_feed=0, leak_test_pressure=4e5, thinning=2), 7)
    4e-05

    Source: Hagen and Poiseuille; orifice equation (Esposito, Fluid Power, chapter 8).
    """
    slope, root = linear_and_root(
        seal_leak=seal_leak, valve_body_leak=valve_body_leak, open_feed=open_feed,
        leak_test_pressure=leak_test_pressure, thinning=thinning,
    )  # fmt: skip
    return np.asarray(slope * pressure + root * np.sqrt(np.asarray(pressure)))


@calculation
def regulator_flow(
    pressure: q.Pressure, *, regulator_set: q.RegulatorSet, regulator_override: q.RegulatorOverride,
    displacement: q.Displacement,
) -> Number:  # fmt: skip
    """Oil that the main regulator passes to cooler, lubrication and pan; nothing below its set point.

    Q = Q1000 (p - pset)/po above pset, Q1000 = d x 1000 rpm; else nil

    pressure, regulator_set and regulator_override [Pa], displacement [m3 per turn]. Gives [m3/s]. A spring-loaded
    valve: flow in proportion to how far it is open.

    >>> round(regulator_flow(6.2e5, regulator_set=6e5, regulator_override=4e4, displacement=18e-6) * 60e3, 1)
    9.0

    Source: spring force over area (Esposito, Fluid Power, chapter 8).
    """
    at_thousand = np.asarray(displacement) * 1000 / 60
    return np.asarray(at_thousand * np.maximum(np.asarray(pressure) - regulator_set, 0.0) / regulator_override)


@calculation
def main_pressure(
    regulator_set: q.RegulatorSet, *, load_boost: q.LoadBoost, reverse_boost: q.ReverseBoost,
    load_signal_level: q.LoadSignal,
) -> Number:  # fmt: skip
    """Main pressure that the regulator asks for once the internal pump carries it.

    p = pset + m pb + prev

    regulator_set, load_boost and reverse_boost (nil in forward gears) [Pa], load_signal_level [1]. Gives [Pa]. The
    internal pump must have taken over; between two signals a straight line.

    >>> main_pressure(6e5, load_boost=4e5, reverse_boost=0, load_signal_level=0.5)
    800000.0

    Source: force balance of a regulator spool with a modulator (common practice, no source).
    """
    return np.asarray(regulator_set) + np.asarray(load_signal_level) * load_boost + reverse_boost

"""Pressure at rest: not the pump's rating but the crossing of its curve with what the gearbox lets through."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.ground.solve import bisect
from evlib.hydraulics import quantities as q
from evlib.hydraulics.line import line_loss
from evlib.hydraulics.pump import (
    electric_flow,
    internal_flow,
    internal_leak,
    linear_and_root,
    pump_fall,
    regulator_flow,
)

BackFlow = Literal["open", "outlet valve"]


@result
class RestPoint:
    """Where pump curve and leakage cross: pressures [Pa] and flows [m3/s]."""

    pressure: Number  # in the gearbox's main circuit
    pump_pressure: Number  # at the electric pump's outlet
    flow: Number  # what the electric pump delivers
    through_seals: Number
    through_orifices: Number
    through_internal_pump: Number
    through_regulator: Number


@calculation
def check_valve_loss(
    flow: q.Flow, *, cracking_pressure: q.CrackingPressure, check_loss: q.CheckLoss, free_flow: q.FreeFlow
) -> Number:
    """Pressure that the check valve keeps back.

    Δp = pc + Δpc (Q/Q0)²

    flow and free_flow [m3/s], cracking_pressure and check_loss at the pump's free flow [Pa]. Gives [Pa]. Ball on a
    soft spring; the spring's own stiffness is within check_loss.

    >>> check_valve_loss(1e-4, cracking_pressure=2e4, check_loss=4e4, free_flow=2e-4)
    30000.0

    Source: orifice equation (Esposito, Fluid Power, chapter 8).
    """
    return np.asarray(cracking_pressure + np.asarray(check_loss) * (np.asarray(flow) / free_flow) ** 2)


@calculation
def rest_point(
    *, free_flow: q.FreeFlow, rated_flow: q.RatedFlow, rated_pressure: q.RatedPressure, rated_voltage: q.PumpVolts,
    terminal_voltage: q.TerminalVolts, slip_share: q.SlipShare, pump_relief_pressure: q.PumpReliefPressure,
    cracking_pressure: q.CrackingPressure, check_loss: q.CheckLoss,
    line_bore: q.LineBore, line_length: q.LineLength, line_fittings: q.LineFittings,
    viscosity: q.KinematicViscosity, density: q.OilDensity, thinning: q.Thinning,
    leak_test_pressure: q.TestPressure, seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak, open_feed: q.OpenFeed,
    internal_slip: q.InternalSlip, clearance_growth: q.ClearanceGrowth, back_flow: BackFlow,
    regulator_set: q.RegulatorSet, regulator_override: q.RegulatorOverride, displacement: q.Displacement,
) -> RestPoint:  # fmt: skip
    """Pressure that the electric pump holds in the gearbox while the motors stand still.

    the Q at which Q = leakage(p) + slip of the standing internal pump(p) + regulator(p), with
    p = pump curve(Q) - check valve(Q) - line(Q)

    Flows [m3/s], pressures [Pa], volts [V], line_bore and line_length [m], viscosity [m2/s], density [kg/m3],
    displacement [m3 per turn], shares and factors [1]; each as in its own function. back_flow is ``open`` where the
    standing internal pump lies open to the circuit. Gives :class:`RestPoint`. The left side rises with Q and the right
    side falls, so there is one crossing; it is found by bisection. Steady flow; the pump's inlet must not be starved.

    >>> given = dict(free_flow=1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5, terminal_voltage=13.5,
    ...     slip_share=0.4, pump_relief_pressure=2e6, cracking_pressure=0, check_loss=0, line_bore=0.1, line_length=0,
    ...     line_fittings=0, viscosity=1e-5, density=850, thinning=1, leak_test_pressure=5e5, seal_leak=3e-5,
    ...     valve_body_leak=0, open_feed=0, internal_slip=2e-5, clearance_growth=1, back_flow="open",
    ...     regulator_set=5e6, regulator_override=1e5, displacement=18e-6)
    >>> round(rest_point(**given).pressure)  # two straight lines cross: 1.5e-4 / (1e-10 + 1e-10)
    750000

    Source: flow balance; each part as in its own function.
    """
    lost = np.asarray(free_flow) - rated_flow
    steepness = lost * np.asarray(pump_fall(slip_share=slip_share, thinning=thinning)) / rated_pressure
    fastest = np.asarray(free_flow) * terminal_voltage / rated_voltage

    def outlet(flow: Array) -> Array:
        with np.errstate(divide="ignore", invalid="ignore"):
            curve = np.where(steepness > 0, (fastest - flow) / steepness, np.where(flow < fastest, np.inf, 0.0))
        return np.asarray(np.minimum(curve, pump_relief_pressure))

    def gearbox(flow: Array) -> Array:
        valve = check_valve_loss(
            flow, cracking_pressure=cracking_pressure, check_loss=check_loss, free_flow=free_flow
        )  # fmt: skip
        hose = line_loss(
            flow, bore=line_bore, length=line_length, fittings=line_fittings, viscosity=viscosity, density=density
        )  # fmt: skip
        return np.asarray(np.maximum(outlet(flow) - valve - hose, 0.0))

    def drains(pressure: Array) -> tuple[Array, Array, Array, Array]:
        slope, root = linear_and_root(
            seal_leak=seal_leak, valve_body_leak=valve_body_leak, open_feed=open_feed,
            leak_test_pressure=leak_test_pressure, thinning=thinning,
        )  # fmt: skip
        back = internal_leak(
            pressure, internal_slip=internal_slip, leak_test_pressure=leak_test_pressure,
            clearance_growth=clearance_growth, thinning=thinning,
        )  # fmt: skip
        spilled = regulator_flow(
            pressure, regulator_set=regulator_set, regulator_override=regulator_override, displacement=displacement
        )  # fmt: skip
        through = np.asarray(back) * (back_flow == "open")
        return slope * pressure, root * np.sqrt(pressure), through, np.asarray(spilled)

    flow = bisect(lambda guess: guess - sum(drains(gearbox(guess))), low=0.0 * fastest * steepness, high=fastest)
    pressure = gearbox(flow)
    return RestPoint(pressure, outlet(flow), flow, *drains(pressure))


@calculation
def pressure_for(
    flow: q.Flow, *, leak_test_pressure: q.TestPressure, seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak,
    open_feed: q.OpenFeed, internal_slip: q.InternalSlip, clearance_growth: q.ClearanceGrowth, thinning: q.Thinning,
) -> Number:  # fmt: skip
    """Pressure that a given flow builds up against the gearbox's leakage, below the regulator's set point.

    g p + k √p = Q, so √p = (√(k² + 4 g Q) - k) / 2g

    flow and leakages at leak_test_pressure [m3/s], leak_test_pressure [Pa], clearance_growth and thinning [1]. Gives
    [Pa]. A closed form, against which the crossing of :func:`rest_point` can be checked.

    >>> round(pressure_for(6e-5, leak_test_pressure=5e5, seal_leak=2e-5, valve_body_leak=2e-5, open_feed=0,
    ...     internal_slip=2e-5, clearance_growth=1, thinning=1))
    500000

    Source: root of a quadratic.
    """
    slope, root = linear_and_root(
        seal_leak=seal_leak, valve_body_leak=valve_body_leak, open_feed=open_feed,
        leak_test_pressure=leak_test_pressure, thinning=thinning,
    )  # fmt: skip
    slope = slope + np.asarray(internal_slip) * np.asarray(clearance_growth) ** 3 * thinning / leak_test_pressure
    # Written so that nothing cancels: √p = 2 Q / (k + √(k² + 4 g Q)).
    return np.asarray((2 * np.asarray(flow) / (root + np.sqrt(root**2 + 4 * slope * flow))) ** 2)


@calculation
def shut_off_pressure(
    stall: q.Pressure, *, pump_relief_pressure: q.PumpReliefPressure, cracking_pressure: q.CrackingPressure
) -> Number:
    """Pressure in the gearbox at which the electric pump's flow ends.

    pshut = min(pstall, prel) - pc, not below nil

    stall, pump_relief_pressure and cracking_pressure [Pa]. Gives [Pa].

    >>> shut_off_pressure(1.5e6, pump_relief_pressure=1.2e6, cracking_pressure=2e4)
    1180000.0

    Source: pressure balance.
    """
    return np.asarray(np.maximum(np.minimum(stall, np.asarray(pump_relief_pressure)) - cracking_pressure, 0.0))


@calculation
def free_flow_in_place(rest_flow: q.Flow, *, rest_pressure: q.Pressure, shut_off: q.Pressure) -> Number:
    """Flow against nothing of the straight line that stands for pump, line and check valve in a simulation.

    Q0 = Q pshut / (pshut - p): the line through shut-off and the point at rest

    rest_flow [m3/s] and rest_pressure [Pa] of :func:`rest_point`, shut_off [Pa]. Gives [m3/s]. Exact at both points.

    >>> round(free_flow_in_place(5e-5, rest_pressure=5e5, shut_off=1e6), 6)
    0.0001

    Source: line through two points.
    """
    if np.any(np.asarray(rest_pressure) >= np.asarray(shut_off)):
        raise ValueError(f"rest_pressure: {rest_pressure} Pa was given; allowed: less than shut_off, {shut_off} Pa")
    return np.asarray(np.asarray(rest_flow) * shut_off / (np.asarray(shut_off) - rest_pressure))


@calculation
def crossing_of_lines(
    free_flow: q.FreeFlow, *, rated_flow: q.RatedFlow, rated_pressure: q.RatedPressure, leak_flow: q.LeakFlow,
    leak_test_pressure: q.TestPressure,
) -> Number:  # fmt: skip
    """Pressure at rest by the simple model: two straight lines, oil as in the tests, no losses on the way.

    p = Q0 / ((Q0 - Qr)/pr + Ql/pt)

    free_flow and rated_flow [m3/s], rated_pressure and leak_test_pressure [Pa], leak_flow of the whole gearbox at the
    test pressure [m3/s]. Gives [Pa]. Too high where oil is hotter than in the tests or volts are lost; the regulator is
    left out.

    >>> test = dict(leak_flow=5e-5, leak_test_pressure=5e5)
    >>> round(crossing_of_lines(1.5e-4, rated_flow=1e-4, rated_pressure=7e5, **test), -3)
    875000.0

    Source: two straight lines.
    """
    fall = (np.asarray(free_flow) - rated_flow) / rated_pressure
    return np.asarray(free_flow / (fall + np.asarray(leak_flow) / leak_test_pressure))


@calculation
def running_pressure(
    speed: q.InputSpeed, *, electric_on: bool, free_flow: q.FreeFlow, rated_flow: q.RatedFlow,
    rated_pressure: q.RatedPressure, rated_voltage: q.PumpVolts, terminal_voltage: q.TerminalVolts,
    slip_share: q.SlipShare, cracking_pressure: q.CrackingPressure, thinning: q.Thinning,
    leak_test_pressure: q.TestPressure, seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak, open_feed: q.OpenFeed,
    internal_slip: q.InternalSlip, clearance_growth: q.ClearanceGrowth, back_flow: BackFlow,
    regulator_set: q.RegulatorSet, regulator_override: q.RegulatorOverride, displacement: q.Displacement,
) -> Number:  # fmt: skip
    """Main pressure while the input turns, with the electric pump on or off.

    the p at which electric(p + pc) + d n/2π - slip(p) = leakage(p) + regulator(p)

    Arguments as :func:`rest_point`; speed [rad/s], backwards negative. Gives [Pa]; nil where the internal pump draws
    more than the electric one gives. The hose's and the check valve's flow losses are left out (a few kPa), and the
    electric pump's relief valve.

    >>> given = dict(free_flow=1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5, terminal_voltage=13.5,
    ...     slip_share=0.4, cracking_pressure=0, thinning=1, leak_test_pressure=5e5, seal_leak=3e-5, valve_body_leak=0,
    ...     open_feed=0, internal_slip=2e-5, clearance_growth=1, back_flow="open", regulator_set=5e6,
    ...     regulator_override=1e5, displacement=18e-6)
    >>> round(running_pressure(0.0, electric_on=True, **given)), round(running_pressure(20, electric_on=False, **given))
    (750000, 572958)

    Source: flow balance; each part as in its own function.
    """
    curve = {
        "free_flow": free_flow, "rated_flow": rated_flow, "rated_pressure": rated_pressure, "thinning": thinning,
        "rated_voltage": rated_voltage, "terminal_voltage": terminal_voltage, "slip_share": slip_share,
    }  # fmt: skip

    def surplus(pressure: Array) -> Array:
        slope, root = linear_and_root(
            seal_leak=seal_leak, valve_body_leak=valve_body_leak, open_feed=open_feed,
            leak_test_pressure=leak_test_pressure, thinning=thinning,
        )  # fmt: skip
        inside = internal_flow(
            speed, pressure=pressure, displacement=displacement, internal_slip=internal_slip,
            leak_test_pressure=leak_test_pressure, clearance_growth=clearance_growth, thinning=thinning,
        )  # fmt: skip
        if back_flow == "outlet valve":
            inside = np.maximum(inside, 0.0)
        spilled = regulator_flow(
            pressure, regulator_set=regulator_set, regulator_override=regulator_override, displacement=displacement
        )  # fmt: skip
        added = electric_flow(pressure + cracking_pressure, **curve) if electric_on else 0.0
        return np.asarray(added + np.asarray(inside) - slope * pressure - root * np.sqrt(pressure) - spilled)

    given = (speed, free_flow, rated_pressure, terminal_voltage, thinning, seal_leak, valve_body_leak, open_feed,
             internal_slip, clearance_growth, regulator_set, displacement, leak_test_pressure)  # fmt: skip
    shape = np.broadcast(*given).shape
    found = bisect(surplus, low=np.zeros(shape), high=np.full(shape, 9e6))
    return np.asarray(np.where(surplus(np.zeros(shape)) <= 0, 0.0, found))

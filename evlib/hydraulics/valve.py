"""Spring-loaded valves: at which pressure one opens, and what a shim under its spring changes."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.hydraulics import quantities as q


@calculation
def valve_pressure(area: q.PistonArea, *, spring_rate: q.SpringRate, compression: q.SpringCompression) -> Number:
    """Pressure that a spring-loaded valve balances.

    p = k x / A

    area on which oil acts [m2], spring_rate [N/m], compression of the spring from its free length [m]. Gives [Pa]. With
    the valve shut it is the cracking pressure; with the lift added, the pressure at that flow. Flow forces and friction
    are left out.

    >>> round(valve_pressure(4.84e-4, spring_rate=438e3, compression=5.08e-3) / 1e3)
    4597

    Source: force balance; Esposito, Fluid Power, Ex 8.1.
    """
    return np.asarray(spring_rate * np.asarray(compression) / area)


@calculation
def shim_for(rise: q.PressureLoss, *, area: q.PistonArea, spring_rate: q.SpringRate) -> Number:
    """Thickness of a shim under a regulator's spring that raises its pressure by a given amount.

    x = Δp A / k

    rise [Pa], area [m2], spring_rate [N/m]. Gives [m]. Check first that the spring does not go solid at full lift.

    >>> round(shim_for(1e5, area=2e-4, spring_rate=8e3) * 1e3, 2)
    2.5

    Source: force balance.
    """
    return np.asarray(np.asarray(rise) * area / spring_rate)


@calculation
def oil_power(flow: q.Flow, *, pressure: q.Pressure) -> Number:
    """Power that a flow carries at a pressure, all of which becomes heat where it is throttled.

    P = p Q

    flow [m3/s], pressure [Pa]. Gives [W].

    >>> round(oil_power(1e-4, pressure=6e5), 6)
    60.0

    Source: Esposito, Fluid Power, Ex 8.2.
    """
    return np.asarray(np.asarray(flow) * pressure)


@calculation
def emptying_time(
    pressure: q.Pressure, *, end_pressure: q.Pressure, compliance: q.Compliance, leak_slope: q.LeakSlope
) -> Number:
    """Time in which the shut circuit bleeds down from one pressure to another.

    t = (C/g) ln(p/pend)

    pressure and end_pressure [Pa], compliance [m3/Pa], leak_slope (leakage in proportion to pressure) [m3/s/Pa]. Gives
    [s]. Laminar leakage only, which is nearly so when oil is hot and the valve body tight; an orifice empties sooner.

    >>> round(emptying_time(6e5, end_pressure=3e5, compliance=2e-11, leak_slope=1e-10), 4)
    0.1386

    Source: first-order decay.
    """
    if np.any(np.asarray(end_pressure) > np.asarray(pressure)):
        raise ValueError(f"end_pressure: {end_pressure} Pa was given; allowed: at most pressure, {pressure} Pa")
    with np.errstate(divide="ignore"):
        return np.asarray(compliance / np.asarray(leak_slope) * np.log(np.asarray(pressure) / end_pressure))


@calculation
def accumulator_compliance(
    gas_volume: q.AccumulatorGas, *, charge_pressure: q.ChargePressure, pressure: q.Pressure, exponent: q.GasExponent
) -> Number:
    """Oil that a gas accumulator takes up for each pascal, around a pressure.

    C = (V0/(n P)) (P0/P)^(1/n), pressures absolute; nil below its charge

    gas_volume at charge_pressure [m3], charge_pressure and pressure [Pa gauge], exponent (1 slow, 1.4 quick) [1]. Gives
    [m3/Pa]. Ideal gas.

    >>> round(accumulator_compliance(1e-4, charge_pressure=4e5, pressure=6e5, exponent=1.4) * 1e11, 2)
    8.01

    Source: polytropic gas, any thermodynamics text.
    """
    charged, now = np.asarray(charge_pressure) + 101325.0, np.asarray(pressure) + 101325.0
    steep = np.asarray(gas_volume) / (exponent * now) * (charged / now) ** (1 / np.asarray(exponent))
    return np.asarray(np.where(now >= charged, steep, 0.0))

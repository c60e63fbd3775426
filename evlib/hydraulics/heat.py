"""Where the oil's heat comes from, and how warm it gets."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.hydraulics import quantities as q


@calculation
def pump_heat(speed: q.InputSpeed, *, pressure: q.Pressure, displacement: q.Displacement) -> Number:
    """Power that the internal pump takes from the shaft, all of which ends as heat in the oil.

    P = p d n / 2π

    speed [rad/s], pressure [Pa], displacement [m3 per turn]. Gives [W]; nothing is gained from turning backwards. What
    the regulator spills is throttled, and leakage too; the pump's own friction (some tenths more) is left out.

    >>> round(pump_heat(314.16, pressure=8e5, displacement=16e-6))
    640

    Source: displacement times pressure is work per turn.
    """
    return np.asarray(np.maximum(np.asarray(speed), 0.0) * pressure * displacement / (2 * np.pi))


@calculation
def steady_oil_temperature(
    heat: q.HeatFlow, *, air_temperature: q.OilTemperature, conductance: q.HeatConductance
) -> Number:
    """Temperature at which the oil loses as much heat as it gets.

    t = ta + P / G

    heat [W], air_temperature [K], conductance of pan and cooler to the air [W/K]. Gives [K]. Oil of one temperature
    everywhere; conductance as measured at that speed of air.

    >>> steady_oil_temperature(640, air_temperature=303.15, conductance=16) - 273.15
    70.0

    Source: heat balance.
    """
    return np.asarray(air_temperature + np.asarray(heat) / conductance)


@calculation
def warming_time(
    share: q.WarmShare, *, oil_mass: q.OilMass, metal_mass: q.OilMass, conductance: q.HeatConductance
) -> Number:
    """Time until a share of the final rise is reached.

    t = (m c + M C)/G x ln(1/(1 - s)), c = 2000 J/kg K for oil, C = 500 J/kg K for the case

    share of the rise [1], oil_mass and metal_mass of the gearbox that warms with it [kg], conductance [W/K]. Gives [s].

    >>> round(warming_time(0.632, oil_mass=6, metal_mass=50, conductance=16) / 60)
    39

    Source: first-order heating (any heat-transfer text); heat capacities of oil and of steel with aluminium, handbook.
    """
    stored = np.asarray(oil_mass) * 2000.0 + np.asarray(metal_mass) * 500.0
    return np.asarray(stored / conductance * -np.log1p(-np.asarray(share)))

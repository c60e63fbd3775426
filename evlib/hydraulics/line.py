"""Hoses: what pressure a line loses, and whether the pump's inlet is starved."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Array, Number, calculation
from evlib.ground.solve import bisect
from evlib.ground.units import HOSE_BORE
from evlib.hydraulics import quantities as q

GRAVITY = 9.80665  # m/s2
LAMINAR_TO, TURBULENT_FROM = 2300.0, 4000.0  # Reynolds number; between them the flow is unsettled
HOSE_ROUGHNESS = 1.5e-6  # m; drawn tube and rubber hose count as smooth (any fluid text)


@calculation
def reynolds(flow: q.Flow, *, bore: q.LineBore, viscosity: q.KinematicViscosity) -> Number:
    """Reynolds number of a flow in a round line.

    Re = 4 Q / (π D ν)

    flow [m3/s], bore [m], viscosity [m2/s]. Gives [1]. Below about 2300 the flow is laminar.

    >>> round(reynolds(8 / 60000, bore=9.525e-3, viscosity=40e-6), 1)
    445.6

    Source: any fluid-power text; Esposito, Fluid Power, chapter 4.
    """
    return 4 * flow / (np.pi * np.asarray(bore) * viscosity)


@calculation
def friction_factor(reynolds_number: q.ReynoldsNumber, *, relative_roughness: q.RelativeRoughness) -> Number:
    """Friction factor of a round line (Darcy's, four times Fanning's).

    laminar f = 64 / Re; turbulent 1/√f = -2 log10(e/3.7 + 2.51/(Re √f)); a straight line between Re 2300 and 4000

    reynolds_number and relative_roughness [1]. Gives [1]. The stretch between is not settled in nature either.

    >>> round(friction_factor(1e5, relative_roughness=1e-3), 5)
    0.02217

    Source: Hagen and Poiseuille; Colebrook.
    """
    number = np.asarray(reynolds_number, dtype=float)
    laminar = 64 / np.clip(number, 1e-9, LAMINAR_TO)
    turbulent = _colebrook(np.maximum(number, TURBULENT_FROM), np.asarray(relative_roughness))
    share = np.clip((number - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO), 0, 1)
    return np.asarray((1 - share) * laminar + share * turbulent)


def _colebrook(number: Array, roughness: Array) -> Array:
    """Fixed-point iteration on 1/√f: each pass gains about a digit; twelve reach rounding."""
    inverse_root = np.full(np.broadcast_shapes(number.shape, roughness.shape), 7.0)
    for _ in range(14):
        inverse_root = -2 * np.log10(roughness / 3.7 + 2.51 * inverse_root / number)
    return np.asarray(inverse_root**-2)


@calculation
def line_loss(
    flow: q.Flow, *, bore: q.LineBore, length: q.LineLength, fittings: q.LineFittings,
    viscosity: q.KinematicViscosity, density: q.OilDensity,
) -> Number:  # fmt: skip
    """Pressure that a hose and its fittings lose.

    Δp = (f L/D + ΣK) ρ v² / 2, v = 4 Q / (π D²)

    flow [m3/s], bore and length [m], fittings (sum of loss factors) [1], viscosity [m2/s], density [kg/m3]. Gives [Pa].
    Settled flow in a smooth, round line; the longer loss of thick oil in fittings and hose bends is left out.

    >>> round(line_loss(8 / 60000, bore=9.525e-3, length=1, fittings=0, viscosity=40e-6, density=850) / 1e3, 2)
    22.44

    Source: Darcy and Weisbach; Esposito, Fluid Power, chapter 4.
    """
    bore = np.asarray(bore)
    velocity = 4 * np.asarray(flow) / (np.pi * bore**2)
    number = 4 * np.asarray(flow) / (np.pi * bore * viscosity)
    factor = np.asarray(friction_factor(number, relative_roughness=HOSE_ROUGHNESS / bore))
    return (factor * length / bore + fittings) * density * velocity**2 / 2


@calculation
def inlet_pressure(
    flow: q.Flow, *, bore: q.SuctionBore, length: q.SuctionLength, fittings: q.SuctionFittings,
    lift: q.SuctionLift, viscosity: q.KinematicViscosity, density: q.OilDensity, air_pressure: q.AirPressure,
) -> Number:  # fmt: skip
    """Absolute pressure at the pump's inlet.

    p = pa - ρ g h - Δp - ρ v² / 2

    flow [m3/s], bore and length [m], fittings [1], lift (inlet above the oil) [m], viscosity [m2/s], density [kg/m3],
    air_pressure [Pa absolute]. Gives [Pa absolute]; below nothing means that this flow can't be drawn at all. Steady
    flow; what a starting pump needs to accelerate the oil is left out.

    >>> round(inlet_pressure(0.0, bore=0.0127, length=0.5, fittings=2, lift=0.3, viscosity=40e-6, density=850,
    ...     air_pressure=101325) / 1e3, 2)
    98.82

    Source: Bernoulli; Esposito, Fluid Power, chapter 4.
    """
    velocity = 4 * np.asarray(flow) / (np.pi * np.asarray(bore) ** 2)
    loss = line_loss(flow, bore=bore, length=length, fittings=fittings, viscosity=viscosity, density=density)
    return air_pressure - density * GRAVITY * np.asarray(lift) - loss - density * velocity**2 / 2


@calculation
def largest_suction_flow(
    lowest_pressure: q.InletAllowed, *, bore: q.SuctionBore, length: q.SuctionLength, fittings: q.SuctionFittings,
    lift: q.SuctionLift, viscosity: q.KinematicViscosity, density: q.OilDensity, air_pressure: q.AirPressure,
) -> Number:  # fmt: skip
    """Largest flow that the suction line lets through before the inlet falls below its lowest pressure.

    the Q at which :func:`inlet_pressure` equals lowest_pressure

    lowest_pressure and air_pressure [Pa absolute], the rest as :func:`inlet_pressure`. Gives [m3/s], at most
    0.01 m3/s; nil where the lift alone is too much. On a cold start this, not the pump, sets the flow.

    >>> thick = dict(bore=0.0127, length=0.8, fittings=3, lift=0.2, density=880, air_pressure=101325)
    >>> round(largest_suction_flow(80e3, viscosity=3e-3, **thick) * 60e3, 2)
    0.36

    Source: as :func:`inlet_pressure`.
    """

    def spare(flow: Array) -> Number:
        got = inlet_pressure(flow, bore=bore, length=length, fittings=fittings, lift=lift, viscosity=viscosity,
                             density=density, air_pressure=air_pressure)  # fmt: skip
        return np.asarray(got) - lowest_pressure

    shape = np.broadcast(lowest_pressure, bore, length, fittings, lift, viscosity, density, air_pressure).shape
    found = bisect(spare, low=np.zeros(shape), high=np.full(shape, 0.01))
    at_rest = np.asarray(spare(np.zeros(shape)))
    return np.where(at_rest <= 0, 0.0, np.where(np.isnan(found), 0.01, found))


def dash_of(bore: float) -> int | None:
    """The dash number of a bore in the 100R1/R2 hose series, or None if it is no size of that series.

    >>> dash_of(9.5e-3), dash_of(9e-3)
    (6, None)
    """
    return next((dash for dash, known in HOSE_BORE.items() if abs(known - bore) < 1e-6), None)


def next_size_down(bore: float) -> float | None:
    """The next smaller bore of the 100R1/R2 hose series [m], or None below its smallest.

    >>> next_size_down(9.5e-3)
    0.0079
    """
    smaller = [known for known in HOSE_BORE.values() if known < bore - 1e-6]
    return max(smaller) if smaller else None

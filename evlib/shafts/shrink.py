"""A hub shrunk or pressed on a shaft: the pressure between them, the torque that friction holds, the heat to fit it."""

from __future__ import annotations

import math

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts.tables import STEEL_EXPANSION

STEEL_MODULUS, STEEL_POISSON = 207e9, 0.3  # Pa; handbook


@result
class ShrinkFit:
    """Pressure between shaft and hub, and the ring stress at the hub's bore (tension) and in the shaft there [Pa]."""

    pressure: Number
    hub_hoop: Number
    shaft_hoop: Number


@calculation
def shrink_fit(
    interference: q.Interference,
    *,
    shaft_diameter: q.ShaftDiameter,
    hub_diameter: q.ShrinkHub,
    shaft_bore: q.ShaftBore = 0.0,
    shaft_modulus: q.YoungsModulus = STEEL_MODULUS,
    hub_modulus: q.YoungsModulus = STEEL_MODULUS,
    shaft_poisson: q.Poisson = STEEL_POISSON,
    hub_poisson: q.Poisson = STEEL_POISSON,
) -> ShrinkFit:
    """Pressure of a hub that was made too small for its shaft.

    p = i / (d [(Co + no) / Eo + (Ci - ni) / Ei]), Co = (D^2 + d^2) / (D^2 - d^2), Ci = (d^2 + d0^2) / (d^2 - d0^2);
    ring stress: hub p Co, shaft -p Ci

    Arguments: interference i [m], on the diameter; shaft_diameter d, hub_diameter D, shaft_bore d0 [m]; moduli E [Pa]
    and Poisson's ratios n of shaft (i) and hub (o). Long plain cylinders, elastic, smooth: the ends of a real hub press
    harder, and turned faces bed in and lose some of the interference. Hub and shaft equally warm, standing still.

    >>> fit = shrink_fit(35e-6, shaft_diameter=0.035, hub_diameter=0.060)
    >>> round(fit.pressure / 1e6, 1), round(fit.hub_hoop / 1e6, 1)
    (68.3, 138.7)

    Source: Lame's thick cylinders; Shigley 9th ed., equation 3-56.
    """
    if (np.asarray(hub_diameter) <= shaft_diameter).any():
        raise ValueError("hub_diameter: no wall is left round the shaft; allowed: more than the shaft's diameter")
    if (np.asarray(shaft_bore) >= shaft_diameter).any():
        raise ValueError("shaft_bore: as large as the shaft was given; allowed: less than the shaft's diameter")
    out, size, bore = (np.asarray(v, float) ** 2 for v in (hub_diameter, shaft_diameter, shaft_bore))
    hub, shaft = (out + size) / (out - size), (size + bore) / (size - bore)
    give = (hub + hub_poisson) / hub_modulus + (shaft - np.asarray(shaft_poisson)) / shaft_modulus
    pressure = interference / (shaft_diameter * give)
    return ShrinkFit(pressure, pressure * hub, -pressure * shaft)


@calculation
def shrink_torque(
    pressure: q.Stress, *, shaft_diameter: q.ShaftDiameter, hub_length: q.ShaftLength, friction: q.Friction
) -> Number:
    """Torque that a shrunk hub holds by friction before it slips [N m].

    T = mu p (pi d L) d / 2

    Arguments: pressure p [Pa]; shaft_diameter d, hub_length L [m]; friction mu, 0.10 to 0.15 for oiled steel on steel.

    >>> round(shrink_torque(68.3e6, shaft_diameter=0.035, hub_length=0.040, friction=0.12))
    631

    Source: Coulomb friction; Shigley 9th ed., section 7-8.
    """
    return friction * np.asarray(pressure) * math.pi * shaft_diameter**2 * hub_length / 2


@calculation
def shrink_warming(
    interference: q.Interference,
    *,
    clearance: q.Interference,
    shaft_diameter: q.ShaftDiameter,
    expansion: q.Expansion = STEEL_EXPANSION,
) -> Number:
    """How much warmer than the shaft a hub must be to go over it [K].

    dT = (i + c) / (a d)

    Arguments: interference i and clearance c to slide it on [m], both on the diameter; shaft_diameter d [m]; expansion
    a [1/K]. Tempered steel loses hardness above its tempering heat: ask what the hub may see.

    >>> round(shrink_warming(35e-6, clearance=35e-6, shaft_diameter=0.035))
    171

    Source: linear expansion.
    """
    return (np.asarray(interference) + clearance) / (expansion * np.asarray(shaft_diameter))

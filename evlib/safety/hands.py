"""Weights, wheels and hands: what a cutting wheel, a fixing and a lifted motor ask for."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

STEEL_DENSITY = 7850.0  # kg/m3; handbook
POISSON = 0.3  # of steel; handbook
RimStress = Annotated[
    Number, Quantity("s", "Pa", "stress", low=0, high=1e10, slider=(0, 2e8), kind="pressure difference")
]


@calculation
def rim_speed(shaft_speed: q.ShaftSpeed, *, wheel_diameter: q.WheelDiameter) -> Number:
    """Speed of a wheel's rim, to hold against the speed printed on a cutting wheel.

    v = w D / 2

    shaft_speed [rad/s], wheel_diameter [m]. Gives [m/s]. A new, larger wheel on the same grinder is faster; a motor's
    shaft turned as a lathe is slow.

    >>> round(rim_speed(1151.9, wheel_diameter=0.125), 1)
    72.0
    """
    return shaft_speed * wheel_diameter / 2


@calculation
def ring_stress(rim_speed: q.RimSpeed, *, density: float = STEEL_DENSITY) -> Number:
    """Stress in a thin ring that spins.

    s = rho v^2

    rim_speed [m/s], density [kg/m3]. Gives [Pa], whatever the ring's size.

    >>> round(ring_stress(100.0) / 1e6, 1)
    78.5
    """
    return density * np.square(rim_speed)


@calculation
def disc_stress(rim_speed: q.RimSpeed, *, density: float = STEEL_DENSITY, poisson: float = POISSON) -> Number:
    """Stress at the centre of a solid disc that spins.

    s = (3 + nu) / 8 rho v^2

    rim_speed [m/s], density [kg/m3], poisson [1]. Gives [Pa]. A hole in the middle about doubles it.

    >>> round(disc_stress(100.0) / 1e6, 1)
    32.4
    """
    return (3 + poisson) / 8 * density * np.square(rim_speed)


@calculation
def fixing_force(mass: q.Mass, *, acceleration: q.Acceleration) -> Number:
    """Force that a fixing must hold when a mass is to be stopped or lifted with it.

    F = m a

    mass [kg], acceleration [m/s2]. Gives [N]. 20 g along and 8 g across are common practice, no source: the local
    rule comes first.

    >>> round(fixing_force(180.0, acceleration=20 * 9.80665) / 1e3, 1)
    35.3
    """
    return mass * acceleration

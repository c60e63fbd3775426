"""Weights, wheels and hands: what a cutting wheel, a fixing and a lifted motor ask for."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

STEEL_DENSITY = 7850.0  # kg/m3; handbook
POISSON = 0.3  # of steel; handbook
GRAVITY = 9.80665  # m/s2; ISO 80000-3
ONE_PERSON = 25.0  # kg; a man, close to the body at waist height: a national guideline for lifting, from memory
LegAngle = Annotated[
    Number,
    Quantity("b", "rad", "angle of a sling's leg to the level", above=0, high=np.pi / 2, slider=(0.3, 1.5),
             how="measure it; under 30 degrees it is not to be used"),
]  # fmt: skip
LegCount = Annotated[
    Number, Quantity("n", "", "legs of the sling that carry", low=1, high=4, slider=(1, 4), whole=True)
]
Overhang = Annotated[
    Number, Quantity("x", "m", "centre of mass in front of the stand's face", low=0, high=3, slider=(0, 1))
]
Span = Annotated[Number, Quantity("L", "m", "distance between two supports", above=0, high=10, slider=(0.2, 2))]
PieceVoltage = Annotated[Number, Quantity("V_1", "V", "highest voltage of one cell", above=0, high=100, slider=(2, 5))]
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
def largest_speed(rim_speed: q.RimSpeed, *, wheel_diameter: q.WheelDiameter) -> Number:
    """Largest speed of a wheel whose rim may have the speed printed on it.

    w = 2 v / D

    rim_speed as printed [m/s], wheel_diameter [m]. Gives [rad/s]. The grinder's own no-load speed must lie below it.

    >>> round(largest_speed(80.0, wheel_diameter=0.125) * 30 / np.pi)
    12223
    """
    return 2 * np.divide(rim_speed, wheel_diameter)


@calculation
def leg_tension(mass: q.Mass, *, leg_angle: LegAngle, leg_count: LegCount) -> Number:
    """Pull in each leg of a sling that shares a load evenly.

    F = m g / (n sin b)

    mass [kg], leg_angle to the level [rad], leg_count [1]. Gives [N]. Of four stiff legs only two are sure to carry.

    >>> round(leg_tension(160.0, leg_angle=np.pi / 4, leg_count=2.0))
    1109

    Source: statics.
    """
    return mass * GRAVITY / (leg_count * np.sin(leg_angle))


@calculation
def stand_moment(mass: q.Mass, *, overhang: Overhang) -> Number:
    """Moment on a stand that holds a motor by one end.

    M = m g x

    mass [kg], overhang of its centre of mass from the stand's face [m]. Gives [N m].

    >>> round(stand_moment(80.0, overhang=0.20))
    157

    Source: statics.
    """
    return mass * GRAVITY * overhang


@calculation
def far_support(mass: q.Mass, *, overhang: Overhang, span: Span) -> Number:
    """Load on the second of two supports under a long package; the first has the rest.

    F = m g x / L

    mass [kg], overhang: of the centre of mass from the first support [m], span between the two [m]. Gives [N]; more
    than m g where the centre of mass lies beyond the second support, and then the first lifts off.

    >>> round(far_support(235.0, overhang=0.55, span=1.1) / 9.80665, 1)
    117.5

    Source: statics.
    """
    return mass * GRAVITY * overhang / span


@calculation
def cells_below_limit(cell_voltage: PieceVoltage, *, limit: q.EndVoltage) -> Number:
    """Most cells in a row that stay at or below a voltage, so that a pack is handled in pieces below it.

    n = floor(limit / V_1)

    cell_voltage of a full cell [V], limit [V]. Gives whole cells. Even a short row can weld a spanner to itself.

    >>> cells_below_limit(3.40, limit=60.0)
    17.0
    """
    return np.floor(np.divide(limit, cell_voltage) + 1e-9)


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

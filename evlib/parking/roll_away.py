"""Rolling away: what happens on a hill when nothing holds the car, and how long there is to react."""

from __future__ import annotations

import numpy as np

from evlib.ground import road
from evlib.ground.quantity import Number, calculation, result
from evlib.parking import quantities as q

WALKING = 1.5  # m/s, a brisk walk: faster than this a person on foot no longer gets into the car


@calculation
def roll_acceleration(grade: road.Grade, *, mass: road.Mass, rolling_coefficient: road.RollingCoefficient,
                      hold_back: q.HoldBack = 0.0, rotating_share: q.RotatingShare = 0.0) -> Number:  # fmt: skip
    """Acceleration with which a released car starts down a grade.

    a = (m g sin(theta) - m g cos(theta) Crr - F_h) / (m (1 + lambda)), never less than 0

    grade: its size, up or down [1], mass [kg], rolling_coefficient [1], hold_back: what else resists [N],
    rotating_share: turning parts counted as extra mass [1]. Gives [m/s2]; 0 where it stays where it is.

    >>> round(roll_acceleration(0.10, mass=1650.0, rolling_coefficient=0.013), 3)
    0.849
    """
    slope = np.abs(grade)
    pull = road.grade_force(mass, grade=slope)
    resist = road.rolling_force(mass, rolling_coefficient=rolling_coefficient, grade=slope) + hold_back
    return np.maximum((pull - resist) / (mass * (1 + rotating_share)), 0.0)


@result
class Roll:
    """Speed [m/s] and distance [m] of a car that rolls away."""

    speed: Number
    distance: Number


@calculation
def rolled(time: q.RollTime, *, grade: road.Grade, mass: road.Mass, rolling_coefficient: road.RollingCoefficient,
           hold_back: q.HoldBack = 0.0, rotating_share: q.RotatingShare = 0.0) -> Roll:  # fmt: skip
    """Speed and distance a time after letting go.

    v = a t, s = a t^2 / 2

    time [s]; the rest as in :func:`roll_acceleration`. Air is ignored: on 20 % it takes off 1 % by 36 km/h.

    >>> after = rolled(4.0, grade=0.10, mass=1650.0, rolling_coefficient=0.013)
    >>> round(after.speed, 2), round(after.distance, 2)
    (3.4, 6.79)
    """
    acceleration = roll_acceleration(grade, mass=mass, rolling_coefficient=rolling_coefficient, hold_back=hold_back,
                                     rotating_share=rotating_share)  # fmt: skip
    return Roll(speed=acceleration * time, distance=acceleration * np.square(time) / 2)


@calculation
def time_to_distance(distance: q.RollDistance, *, grade: road.Grade, mass: road.Mass,
                     rolling_coefficient: road.RollingCoefficient, hold_back: q.HoldBack = 0.0,
                     rotating_share: q.RotatingShare = 0.0) -> Number:  # fmt: skip
    """Time in which a released car rolls a distance: the time there is to react.

    t = sqrt(2 s / a)

    distance [m]; the rest as in :func:`roll_acceleration`. Gives [s]; infinite where it does not roll.

    >>> round(time_to_distance(6.0, grade=0.10, mass=1650.0, rolling_coefficient=0.013), 2)
    3.76
    """
    acceleration = roll_acceleration(grade, mass=mass, rolling_coefficient=rolling_coefficient, hold_back=hold_back,
                                     rotating_share=rotating_share)  # fmt: skip
    still = np.asarray(acceleration) <= 0
    return np.where(still, np.inf, np.sqrt(2 * distance / np.where(still, 1.0, acceleration)))

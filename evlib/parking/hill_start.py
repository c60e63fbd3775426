"""Hill start: how far the car rolls back between letting the brake go and the pull that holds it."""

from __future__ import annotations

import numpy as np

from evlib.ground import road
from evlib.ground.quantity import Number, calculation
from evlib.parking import quantities as q
from evlib.parking.roll_away import roll_acceleration


@calculation
def rollback(full_pull: q.FullPull, *, grade: road.Grade, mass: road.Mass,
             rolling_coefficient: road.RollingCoefficient, pull_delay: q.PullDelay, pull_rise: q.PullRise,
             rotating_share: q.RotatingShare = 0.0) -> Number:  # fmt: skip
    """Distance that the car rolls back at a hill start.

    a_g until t_0; then the pull rises evenly to F_p within t_r: dv/dt = -a_g + b (t - t_0), b = F_p / (m_e t_r)

    full_pull at the tyres [N], grade [1], mass [kg], rolling_coefficient [1], pull_delay t_0, pull_rise t_r [s],
    rotating_share [1]. Gives [m]; infinite where the full pull does not hold the car. Solved exactly, in the ramp or
    after it. Brake let go at once; the gearbox is taken as already in gear. Hold with the brake, not with the pedal:
    motors that hold a car at rest heat a few commutator bars (lesson 1).

    >>> round(rollback(4000.0, grade=0.20, mass=1650.0, rolling_coefficient=0.013, pull_delay=0.3, pull_rise=0.5), 3)
    1.028
    """
    down = np.asarray(roll_acceleration(grade, mass=mass, rolling_coefficient=rolling_coefficient,
                                        rotating_share=rotating_share))  # fmt: skip
    heavy = mass * (1 + rotating_share)
    rise = np.asarray(pull_rise)
    slope = np.maximum(np.divide(full_pull, heavy * np.maximum(rise, 1e-200)), 1e-12)  # no ramp: as steep as you like
    in_ramp = (down + np.sqrt(np.square(down) + 2 * slope * down * pull_delay)) / slope
    stops_in_ramp = in_ramp <= rise
    ramp = np.minimum(in_ramp, rise)
    way = down * np.square(pull_delay + ramp) / 2 - slope * ramp**3 / 6
    still = down * (pull_delay + rise) - slope * np.square(rise) / 2  # speed left when the ramp is over
    surplus = np.asarray(full_pull) / heavy - down
    holds = surplus > 0
    after = np.where(stops_in_ramp, 0.0, np.square(still) / (2 * np.where(holds, surplus, 1.0)))
    return np.where(down <= 0, 0.0, np.where(stops_in_ramp | holds, way + after, np.inf))

"""Over-speed: how much time is left between the trip speed and the motors' limit, and who spends it."""

from __future__ import annotations

import numpy as np

from evlib.ground import runaway
from evlib.ground.quantity import Number, calculation
from evlib.safety import quantities as q


@calculation
def longest_delay(torque: runaway.AcceleratingTorque, *, rotor_inertia: runaway.RotorInertia,
                  trip_speed: q.TripSpeed, speed_limit: runaway.SpeedLimit,
                  release_time: q.ContactorReleaseTime) -> Number:  # fmt: skip
    """Longest time that detecting may take so that the current is off before the motors' limit.

    t = J (w_lim - w_trip) / T - t_rel

    torque: what still drives the freed rotors [N m]; rotor_inertia: of all that still turns [kg m2]; trip_speed,
    speed_limit [rad/s]; release_time of the contactor [s]. Gives [s]; negative where the contactor alone is already
    too slow, infinite where nothing drives. The torque is that of the controller's current limit, so it reads low;
    torque falls as speed climbs, and the true time is longer.

    >>> round(longest_delay(380.0, rotor_inertia=0.24, trip_speed=400.0, speed_limit=576.0, release_time=0.03), 4)
    0.0812
    """
    return _window(torque, rotor_inertia, trip_speed, speed_limit) - np.asarray(release_time)


def _window(torque: Number, inertia: Number, start: Number, end: Number) -> Number:
    return runaway.time_to_speed_limit(torque, rotor_inertia=inertia, start_speed=start, speed_limit=end)


@calculation
def speed_when_off(torque: runaway.AcceleratingTorque, *, rotor_inertia: runaway.RotorInertia, trip_speed: q.TripSpeed,
                   detection_delay: q.DetectionDelay, release_time: q.ContactorReleaseTime) -> Number:  # fmt: skip
    """Speed that the freed rotors reach before the current is off.

    w = w_trip + T (t_det + t_rel) / J

    torque [N m], rotor_inertia [kg m2], trip_speed [rad/s], detection_delay, release_time [s]. Gives [rad/s].

    >>> round(speed_when_off(380.0, rotor_inertia=0.24, trip_speed=400.0, detection_delay=0.05, release_time=0.03), 1)
    526.7
    """
    return trip_speed + torque * (np.asarray(detection_delay) + release_time) / rotor_inertia

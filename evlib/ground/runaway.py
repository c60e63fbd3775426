"""A machine that has lost its load: how its speed climbs, and how long until the maker's speed limit.

An armature fails at the bands over its end windings and at its commutator long before a steel rim of the same size
would burst, so the limit is the maker's speed limit and not a rim formula.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Array, Number, Quantity, calculation

RotorInertia = Annotated[
    Number,
    Quantity("J", "kg m2", "inertia of one machine's rotor", above=0, high=100, slider=(0.02, 0.5), scale="log",
             how="data sheet, or hang the armature on two wires and time its swing"),
]  # fmt: skip
SpeedLimit = Annotated[
    Number,
    Quantity("w_m", "rad/s", "highest speed that the maker allows", above=0, high=3000, slider=(300, 900),
             how="the maker's plate or letter; do not guess this one"),
]  # fmt: skip
StartSpeed = Annotated[
    Number, Quantity("w_0", "rad/s", "speed when the load is lost", low=0, high=3000, slider=(0, 600))
]
AcceleratingTorque = Annotated[
    Number,
    Quantity("T", "N m", "torque left to speed the rotor up, losses taken off", low=0, high=10_000, slider=(0, 800)),
]


@calculation
def time_to_speed_limit(
    torque: AcceleratingTorque, *, rotor_inertia: RotorInertia, start_speed: StartSpeed, speed_limit: SpeedLimit
) -> Number:
    """Time from the loss of load to the speed limit at a steady torque.

    t = J (w_m - w_0) / T

    torque: left to speed the rotor up [N m]; rotor_inertia: of all that still turns [kg m2]; start_speed,
    speed_limit [rad/s]. A current limiter that keeps the motor amps keeps the torque, so this is the case while the
    controller still has volts in hand. 0 where the start is at or above the limit; no end (infinite) without torque.

    >>> round(time_to_speed_limit(190.0, rotor_inertia=0.12, start_speed=200.0, speed_limit=500.0), 4)
    0.1895

    Source: Newton's law for rotation; any text on dynamics.
    """
    rise = np.maximum(np.asarray(speed_limit) - start_speed, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        climbs = np.where(rise > 0, rotor_inertia * rise / np.asarray(torque, float), 0.0)
    return climbs


@calculation
def climb(speed: Array, *, torque: Array, rotor_inertia: RotorInertia) -> Array:
    """Time at each of a row of rising speeds, from the torque left at each.

    t_i = J * sum of (w_{j+1} - w_j) / T_mean, with T_mean the logarithmic mean of a segment's end torques

    speed: rising, first is where the load was lost [rad/s]; torque: what is left to speed the rotor up at each of
    these speeds [N m]; rotor_inertia: of all that still turns [kg m2]. Exact where torque falls linearly between two
    speeds. From the first speed at which no torque is left the time is infinite: it is never reached.

    >>> climb(np.array([0.0, 100.0, 200.0]), torque=np.array([10.0, 10.0, 10.0]), rotor_inertia=0.1).tolist()
    [0.0, 1.0, 2.0]

    Source: separation of variables in J dw/dt = T(w); any text on dynamics.
    """
    speeds, torques = np.asarray(speed, float), np.asarray(torque, float)
    if speeds.ndim != 1 or speeds.shape != torques.shape or len(speeds) < 2 or not (np.diff(speeds) > 0).all():
        raise ValueError("speed: wanted a row of two or more rising speeds, with a torque for each")
    if not np.isfinite(torques).all():
        raise ValueError("torque: wanted a finite number at each speed")
    before, after = torques[:-1], torques[1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = after / before
        mean = np.where(np.abs(ratio - 1) < 1e-6, (before + after) / 2, (after - before) / np.log(ratio))
        spent = np.where((before > 0) & (after > 0), np.diff(speeds) * np.asarray(rotor_inertia, float) / mean, np.inf)
    return np.concatenate([[0.0], np.cumsum(spent)])

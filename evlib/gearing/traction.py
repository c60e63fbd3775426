"""Pull against road: what the gears bring to the tyre, what the tyre can pass on, and which of the two governs."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.gearing import quantities as q
from evlib.ground.quantity import Number, calculation, result
from evlib.ground.road import GRAVITY


@calculation
def tractive_effort(torque: q.Torque, *, gear_ratio: q.Ratio, final_drive_ratio: q.Ratio, wheel_radius: q.WheelRadius,
                    efficiency: q.Efficiency = 1.0) -> Number:  # fmt: skip
    """Force that steady torque brings to the tyre [N]: F = T i_g i_f eta / r.

    torque [N m] at the gearbox input, gear_ratio [1], final_drive_ratio [1], wheel_radius [m], efficiency [1]. While
    the vehicle accelerates part of the torque spins up the rotors instead: see :func:`accelerating`.

    >>> round(tractive_effort(380.0, gear_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.30, efficiency=0.93))
    7671
    """
    return torque * gear_ratio * final_drive_ratio * efficiency / wheel_radius


@calculation
def shaft_speed(speed: q.RoadSpeed, *, gear_ratio: q.Ratio, final_drive_ratio: q.Ratio,
                wheel_radius: q.WheelRadius) -> Number:  # fmt: skip
    """Speed of the gearbox input [rad/s] at a road speed: w = v i_g i_f / r. Tyre slip is ignored (1 to 3 %).

    >>> round(shaft_speed(20.0, gear_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.30), 1)
    434.1
    """
    return speed * gear_ratio * final_drive_ratio / wheel_radius


@result
class Accelerating:
    """Acceleration [m/s2] and the force that is then at the driven tyre [N]."""

    acceleration: Number
    tyre_force: Number


@calculation
def accelerating(tractive: q.Force, *, resistance: q.Force, mass: q.Mass, driven_mass: q.RotatingEquivalent = 0.0,
                 dragged_mass: q.RotatingEquivalent = 0.0) -> Accelerating:  # fmt: skip
    """Acceleration, and the force at the driven tyre while it lasts, which is less than the steady tractive effort.

    a = (F - R) / (m + m_driven + m_dragged); F_tyre = R + (m + m_dragged) a = F - m_driven a.

    tractive [N] steady tractive effort, resistance [N], mass [kg], driven_mass [kg] rotors, shafts and driven wheels
    as mass at the tyre, dragged_mass [kg] the wheels that roll along. Grip has to be compared with F_tyre.

    >>> accelerating(7500.0, resistance=500.0, mass=1600.0, driven_mass=150.0)
    Accelerating(acceleration=4.0, tyre_force=6900.0)
    """
    acceleration = (tractive - resistance) / (mass + driven_mass + dragged_mass)
    return Accelerating(acceleration=acceleration, tyre_force=tractive - driven_mass * acceleration)


def _grip_per_weight(grip: Number, driven_axle: str, share: Number, transfer: Number, rolling: Number) -> Number:
    """Largest tyre force / (weight x cos theta); the same on every grade. ``transfer`` is cg height / wheelbase."""
    if driven_axle == "all":
        return grip * np.ones_like(np.asarray(share, dtype=float) + transfer)
    if driven_axle == "front":
        return grip * (1 - share + rolling * transfer) / (1 + grip * transfer)
    freed = 1 - grip * transfer
    with np.errstate(divide="ignore", invalid="ignore"):
        slips = np.where(freed > 0, grip * (share - rolling * transfer) / freed, np.inf)
        lifts = np.where(transfer > 0, (1 - share) / transfer + rolling, np.inf)
    return np.minimum(slips, lifts)


@calculation
def grip_force(mass: q.Mass, *, grip: q.Grip, driven_axle: q.Axle, rear_axle_share: q.RearAxleShare,
               wheelbase: q.Wheelbase, cg_height: q.CgHeight, grade: q.Grade = 0.0,
               rolling_coefficient: q.RollingCoefficient = 0.0) -> Number:  # fmt: skip
    """Largest force that the driven tyres can pass on [N], the load that moves to the rear included.

    Rear drive: F = mu W cos(theta) (s_r - Crr h_c/L_w) / (1 - mu h_c/L_w), at most where the front axle lifts.
    Front drive: F = mu W cos(theta) (1 - s_r + Crr h_c/L_w) / (1 + mu h_c/L_w). All wheels: F = mu W cos(theta).

    mass [kg], grip [1], rear_axle_share [1], wheelbase [m], cg_height [m], grade [1], rolling_coefficient [1]. The
    pull moves load whether it climbs, accelerates or works against the air at the height of the centre of gravity.
    Straight ahead, both wheels of an axle on the same surface; all-wheel drive shares as the load does (the best case).
    Source: Mannering and Washburn, Principles of Highway Engineering and Traffic Analysis, eq. 2.14 and 2.15.

    >>> van = dict(grip=0.8, rear_axle_share=0.52, wheelbase=2.6, cg_height=0.6)
    >>> [round(grip_force(1650.0, driven_axle=axle, **van)) for axle in ("rear", "front", "all")]
    [8255, 5245, 12945]
    """
    share = _grip_per_weight(grip, driven_axle, rear_axle_share, cg_height / wheelbase, rolling_coefficient)
    return mass * GRAVITY * np.cos(np.arctan(grade)) * share


@result
class Steepest:
    """The steepest grade [1], and what governs: by pull alone, and by grip alone."""

    grade: Number
    by_pull: Number
    by_grip: Number

    @property
    def governs(self) -> Any:
        """``pull`` or ``grip``; an array of them for columns."""
        words = np.where(np.asarray(self.by_pull) <= self.by_grip, "pull", "grip")
        return str(words) if words.ndim == 0 else words


@calculation
def steepest_grade(tractive: q.Force, *, mass: q.Mass, grip: q.Grip, driven_axle: q.Axle,
                   rear_axle_share: q.RearAxleShare, wheelbase: q.Wheelbase, cg_height: q.CgHeight,
                   rolling_coefficient: q.RollingCoefficient, air: q.Force = 0.0) -> Steepest:  # fmt: skip
    """Steepest grade that a pull holds at steady speed, or just starts on (air = 0): the less of pull and grip.

    Pull: sin(theta) + Crr cos(theta) = (F - F_air) / W. Grip: sin(theta) + Crr cos(theta) = k cos(theta) - F_air / W,
    with k the largest tyre force per load of :func:`grip_force`. Grade = tan(theta).

    tractive [N] steady tractive effort at that speed, air [N] the air drag there, rolling_coefficient [1] at that
    speed; the rest as in :func:`grip_force`. At the grade itself nothing is left to accelerate with: plan with less.
    A pull of more than the whole weight has no steepest grade (infinite); too little to roll gives a negative grade.

    >>> van = dict(mass=1650.0, grip=0.8, driven_axle="rear", rear_axle_share=0.52, wheelbase=2.6, cg_height=0.6)
    >>> start = steepest_grade(7400.0, rolling_coefficient=0.013, **van)
    >>> round(start.grade, 3), start.governs
    (0.494, 'grip')
    """
    weight = mass * GRAVITY
    flat = (tractive - air) / (weight * np.hypot(1.0, rolling_coefficient))
    angle = np.arcsin(np.clip(flat, -1.0, 1.0)) - np.arctan(rolling_coefficient)
    by_pull = np.where(flat >= 1.0, np.inf, np.tan(angle))
    share = _grip_per_weight(grip, driven_axle, rear_axle_share, cg_height / wheelbase, rolling_coefficient)
    spare = share - rolling_coefficient
    by_grip = np.tan(np.arctan(spare) - np.arcsin(np.minimum(air / weight / np.hypot(1.0, spare), 1.0)))
    return Steepest(grade=np.minimum(by_pull, by_grip), by_pull=by_pull, by_grip=by_grip)


@calculation
def constant_power_time(speed: q.RoadSpeed, *, mass: q.Mass, power: q.TyrePower) -> Number:
    """Time from rest to a speed at constant power at the tyres [s]: t = m v^2 / (2 P); the least that is possible.

    speed [m/s], mass [kg] with rotating parts, power [W]. Road load, grip and the low speeds, where no gear is low
    enough for it, are ignored. Source: kinetic energy over power.

    >>> round(constant_power_time(26.8224, mass=1200.0, power=40_000.0), 2)
    10.79
    """
    return mass * speed**2 / (2 * power)


@result
class TopSpeed:
    """Top speed [m/s]; ``at_limit`` is true where the curve ends (motor speed limit) before pull meets road load."""

    speed: Number
    at_limit: Any

    @property
    def limited_by(self) -> Any:
        """``motor speed`` or ``pull meets road load``; an array of them for columns."""
        words = np.where(self.at_limit, "motor speed", "pull meets road load")
        return str(words) if words.ndim == 0 else words


def top_speed(speeds: Any, *, pull: Any, load: Any) -> TopSpeed:
    """Highest speed at which the pull still meets the road load, by the last crossing of two sampled curves.

    speeds [m/s], pull [N], load [N]: arrays of one shape along their last axis, speeds rising; rows are builds. Beyond
    the last speed there is no pull (the motors' limit). Straight lines between the points. A build that cannot even
    creep has top speed 0.

    >>> v = np.linspace(0.0, 60.0, 601)
    >>> top = top_speed(v, pull=30000.0 / np.maximum(v, 1.0), load=0.42 * v**2)
    >>> round(float(top.speed), 2), top.limited_by
    (41.49, 'pull meets road load')
    """
    speeds, spare = np.broadcast_arrays(np.asarray(speeds, float), np.asarray(pull, float) - np.asarray(load, float))
    count = speeds.shape[-1]
    enough = spare >= 0
    last = np.where(enough.any(axis=-1), count - 1 - np.argmax(enough[..., ::-1], axis=-1), 0)
    following = np.minimum(last + 1, count - 1)

    def at(values: Any, place: Any) -> Any:
        return np.take_along_axis(values, np.asarray(place)[..., None], axis=-1)[..., 0]

    here, there = at(spare, last), at(spare, following)
    with np.errstate(divide="ignore", invalid="ignore"):
        part = np.where(here > there, here / (here - there), 0.0)
    reached = at(speeds, last) + np.clip(part, 0.0, 1.0) * (at(speeds, following) - at(speeds, last))
    reached = np.where(enough.any(axis=-1), reached, 0.0)
    at_limit = enough[..., -1]
    return TopSpeed(
        speed=reached.item() if reached.ndim == 0 else reached,
        at_limit=bool(at_limit) if at_limit.ndim == 0 else at_limit,
    )

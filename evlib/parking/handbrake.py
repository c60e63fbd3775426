"""Handbrake: from the hand on the lever to the force along the road, each way."""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np

from evlib.ground import road
from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, Quantity, calculation
from evlib.parking import quantities as q

# What the rules say, kept apart from what this project asks.
RULES: dict[str, str] = {
    "49 CFR 571.135 S7.12": "full mass, neutral, 20 %, both ways, 5 min, at most 400 N by hand, 500 N by foot",
    "UN R13-H": "full mass, 20 % up or down, at most 400 N by hand, 500 N by foot (from memory)",
    "49 CFR 571.114": "park by itself: on 10 % the car may move 150 mm at most (from memory)",
    "this project": "park lock and handbrake each hold alone, at the mass as driven: a target of ours, not a rule",
}
HAND_LIMIT = 400.0  # N; 49 CFR 571.135 S7.12

BrakeTorque = Annotated[Number, Quantity("T_b", "N m", "torque of one brake", low=0, high=1e5, slider=(0, 2000))]
Leading = Literal["leading", "trailing"]


@calculation
def shoe_force(hand_force: q.HandForce, *, lever_ratio: q.LeverRatio, cable_efficiency: q.CableEfficiency,
               actuating_ratio: q.ActuatingRatio) -> Number:  # fmt: skip
    """Force that pushes each shoe or pad, from the force on the lever.

    F_s = F_l i_l eta / 2 x i_a

    hand_force [N], lever_ratio, cable_efficiency, actuating_ratio [1]. Gives [N]. A balance bar gives each side half
    of the pull; without one, or with it jammed, one side gets nearly all.

    >>> round(shoe_force(400.0, lever_ratio=6.0, cable_efficiency=0.8, actuating_ratio=5.0))
    4800
    """
    return hand_force * lever_ratio * cable_efficiency / 2 * actuating_ratio


@calculation
def shoe_torque(force: q.ShoeForce, *, side: Leading, lining_friction: q.LiningFriction, drum_radius: q.DrumRadius,
                pivot_radius: q.PivotRadius, shoe_arm: q.ShoeArm, shoe_start: q.ShoeStart,
                shoe_end: q.ShoeEnd) -> Number:  # fmt: skip
    """Torque of one pivoted shoe in a drum. A leading shoe is dragged in by the drum, a trailing one pushed off.

    M_n = r a [(t2 - t1)/2 - (sin 2t2 - sin 2t1)/4];  M_f = f r [r (cos t1 - cos t2) - a (sin^2 t2 - sin^2 t1)/2]
    T = F c f r^2 (cos t1 - cos t2) / (M_n - M_f) leading, / (M_n + M_f) trailing   (each per p b / sin t_a)

    force [N], lining_friction [1], drum_radius r, pivot_radius a, shoe_arm c [m], shoe_start t1 and shoe_end t2 from
    the pivot [rad]. Gives [N m]. Pressure goes with the sine of the angle from the pivot: stiff drum and shoe, worn-in
    lining. Where friction alone would pull the shoe in (M_f >= M_n) it grabs, and :class:`OutOfRange` is raised.

    >>> round(shoe_torque(2280.0, side="leading", lining_friction=0.32, drum_radius=0.150, pivot_radius=0.1227,
    ...                   shoe_arm=0.212, shoe_start=0.0, shoe_end=2.199), -1)
    370.0

    Source: Shigley, Mechanical Engineering Design, internal expanding rim brakes.
    """
    if np.any(np.asarray(shoe_end) <= np.asarray(shoe_start)):
        raise ValueError("shoe_end: the lining must end further from the pivot than it begins")
    spread = np.cos(shoe_start) - np.cos(shoe_end)
    normal = (
        drum_radius * pivot_radius * ((shoe_end - shoe_start) / 2 - (np.sin(2 * shoe_end) - np.sin(2 * shoe_start)) / 4)
    )
    squares = np.square(np.sin(shoe_end)) - np.square(np.sin(shoe_start))
    friction = lining_friction * drum_radius * (drum_radius * spread - pivot_radius / 2 * squares)
    balance = normal - friction if side == "leading" else normal + friction
    if np.any(balance <= 0):
        share = float(np.max(friction / normal))
        raise OutOfRange("friction moment over normal moment of the shoe", round(share, 3), 0.0, 1.0,
                         "shoes that do not grab by themselves")  # fmt: skip
    torque: Number = force * shoe_arm * lining_friction * np.square(drum_radius) * spread / balance
    return torque


@calculation
def drum_torque(force: q.ShoeForce, *, kind: Literal["leading and trailing drum", "two leading drum"],
                rolling: Literal["forward", "backward"], lining_friction: q.LiningFriction, drum_radius: q.DrumRadius,
                pivot_radius: q.PivotRadius, shoe_arm: q.ShoeArm, shoe_start: q.ShoeStart,
                shoe_end: q.ShoeEnd) -> Number:  # fmt: skip
    """Torque of one drum brake with two shoes pushed alike, for the way the car wants to roll.

    Leading and trailing: one of each, the same both ways. Two leading: both lead forward, both trail backward.

    Arguments as in :func:`shoe_torque`. Gives [N m]. Which way a car wants to roll: nose up, backward.

    >>> shoe = dict(lining_friction=0.35, drum_radius=0.11, pivot_radius=0.085, shoe_arm=0.17, shoe_start=0.35,
    ...             shoe_end=2.4)
    >>> round(drum_torque(1000.0, kind="two leading drum", rolling="forward", **shoe)
    ...       / drum_torque(1000.0, kind="two leading drum", rolling="backward", **shoe), 2)
    2.91
    """
    shoe = {
        "lining_friction": lining_friction, "drum_radius": drum_radius, "pivot_radius": pivot_radius,
        "shoe_arm": shoe_arm, "shoe_start": shoe_start, "shoe_end": shoe_end,
    }  # fmt: skip
    if kind == "leading and trailing drum":
        return shoe_torque(force, side="leading", **shoe) + shoe_torque(force, side="trailing", **shoe)
    return 2 * shoe_torque(force, side="leading" if rolling == "forward" else "trailing", **shoe)


@calculation
def disc_torque(force: q.ShoeForce, *, lining_friction: q.LiningFriction, pad_radius: q.PadRadius) -> Number:
    """Torque of one disc brake with two pads.

    T = 2 f F r

    force on each pad [N], lining_friction [1], pad_radius [m]. Gives [N m], the same both ways: a disc does not help
    itself, so it asks far more force than a drum.

    >>> round(disc_torque(10_000.0, lining_friction=0.38, pad_radius=0.115), 1)
    874.0
    """
    return 2 * lining_friction * force * pad_radius


@calculation
def road_force(brake_torque: BrakeTorque, *, wheel_radius: road.WheelRadius) -> Number:
    """Force along the road from two alike brakes of one axle.

    F = 2 T / r

    brake_torque of one brake [N m], wheel_radius [m]. Gives [N], before the tyres' grip limits it. Brakes sit on the
    wheels, outside the differential, so each wheel holds by itself.

    >>> road_force(600.0, wheel_radius=0.30)
    4000.0
    """
    return 2 * brake_torque / wheel_radius


@calculation
def grade_held(force: q.FullPull, *, mass: road.Mass) -> Number:
    """The steepest grade on which a force along the road holds a car.

    G = tan(arcsin(F / (m g)))

    force [N], mass [kg]. Gives [1]; infinite where the force is more than the weight.

    >>> round(grade_held(3173.4, mass=1650.0), 3)
    0.2
    """
    sine = np.asarray(force) / (mass * road.GRAVITY)
    return np.where(sine < 1, np.tan(np.arcsin(np.minimum(sine, 1 - 1e-15))), np.inf)

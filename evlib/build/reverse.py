"""Going backwards on a build: pull from torque, ratio and the way it reverses; three topics meet here."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.gears import gear_ratios, geared_efficiency, has, start_torque
from evlib.build.launch import input_torque_allowed, launch_allowed, launch_torque, rest_pressure
from evlib.build.view import View, derived
from evlib.ground.quantity import Number, result
from evlib.ground.road import grade_force, rolling_force
from evlib.parking import reverse

BRUSH_PART = 0.7  # of the torque, where brushes set for forward must turn backward; a guess, common practice, no source


@result
class PullBack:
    """Pull at the tyres going backwards [N], the torque at the gearbox input behind it [N m], the ratio used [1].

    ``given`` is what the motors would give, ``held`` what the gearbox holds at rest; the smaller is ``input_torque``.
    """

    pull: Number
    input_torque: Number
    given: Number
    held: Number
    ratio: Number


def brush_part(b: View, way: str) -> float:
    """The part of the torque that the brushes leave backward: less than 1 only where a series machine is turned."""
    return BRUSH_PART if way == "contactors" and b.machine.kind == "series" else 1.0


def given_backward(b: View, way: str) -> Number:
    """Torque at the gearbox input [N m] that the motors give for going backwards: the launch setting is in it."""
    if way == "gearbox":
        boxed = has(b, "hydraulics")
        return np.asarray(launch_torque(b, "reverse") if boxed else start_torque(b))
    return np.multiply(start_torque(b), brush_part(b, way))


def held_backward(b: View, way: str) -> Number:
    """Torque at the gearbox input [N m] that pressure at rest lets the gearbox hold; infinite where nothing is held.

    By contactors or inverter the motors drive backward in low: a band that wound itself on forward is unwound then.
    """
    if not (has(b, "gearbox") and has(b, "hydraulics")):
        return np.asarray(np.inf)
    if way == "gearbox":
        return launch_allowed(b, "reverse")
    return input_torque_allowed(b, "low", pressure=rest_pressure(b, "low"), driving=False)


def pull_factor(b: View, way: str) -> Number:
    """Pull at the tyres for each newton metre at the gearbox input [N/(N m)]."""
    return reverse.reverse_pull(
        1.0,
        reverse_ratio=ratio_backward(b, way),
        final_ratio=b.final_drive.final_drive_ratio,
        efficiency=np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency),
        wheel_radius=b.vehicle.wheel_radius,
    )


def ratio_backward(b: View, way: str) -> Number:
    """The gearbox's ratio going backwards: its own reverse, or low with the motors turned round."""
    return gear_ratios(b).reverse if way == "gearbox" else gear_ratios(b).low


@derived
def pull_back(b: View) -> PullBack:
    """What the build can pull backwards from rest: the smaller of what the motors give and what the gearbox holds."""
    way = b.parking.reverse_by
    given, held = given_backward(b, way), held_backward(b, way)
    torque = np.minimum(given, held)
    return PullBack(np.multiply(torque, pull_factor(b, way)), torque, given, held, ratio_backward(b, way))


def needed_pull(mass: Any, *, grade: Any, rolling_coefficient: Any) -> Number:
    """Force at the tyres [N] to back up a grade [1] at a crawl: the slope and the tyres."""
    rolling = rolling_force(mass, rolling_coefficient=rolling_coefficient, grade=grade)
    return np.add(grade_force(mass, grade=grade), rolling)


@derived
def needed_back(b: View) -> Number:
    """Force at the tyres [N] to back up the build's steepest drive."""
    return needed_pull(
        b.vehicle.mass, grade=b.parking.reverse_grade, rolling_coefficient=b.vehicle.rolling_coefficient
    )  # fmt: skip

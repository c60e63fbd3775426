"""Going backwards on a build: pull from torque, ratio and the way it reverses; three topics meet here."""

from __future__ import annotations

import numpy as np

from evlib.build.gears import gear_ratios, geared_efficiency, has
from evlib.build.launch import launch_allowed, launch_torque
from evlib.build.line import torque_at_rest
from evlib.build.view import View, derived
from evlib.ground.quantity import Number, result
from evlib.parking import reverse

BRUSH_PART = 0.7  # of the torque, where brushes set for forward must turn backward; a guess, common practice, no source


@result
class PullBack:
    """Pull at the tyres going backwards [N], the torque at the gearbox input [N m] and the ratio used [1]."""

    pull: Number
    input_torque: Number
    ratio: Number
    torque_part: Number


@derived
def pull_back(b: View) -> PullBack:
    """What the build can pull backwards from rest.

    By gearbox: the smaller of what the controller gives and what pressure at rest lets the reverse clutch or band
    hold, in the reverse ratio. By contactors or inverter: the motors turn backward in low.
    """
    way = b.parking.reverse_by
    part = BRUSH_PART if way == "contactors" and b.machine.kind == "series" else 1.0
    if way == "gearbox" and has(b, "hydraulics"):
        torque = np.minimum(launch_torque(b, "reverse"), launch_allowed(b, "reverse"))
    else:
        torque = np.asarray(torque_at_rest(b))
    ratio = gear_ratios(b).reverse if way == "gearbox" else gear_ratios(b).low
    pull = reverse.reverse_pull(
        torque,
        reverse_ratio=ratio,
        final_ratio=b.final_drive.final_drive_ratio,
        efficiency=np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency),
        wheel_radius=b.vehicle.wheel_radius,
        torque_part=part,
    )
    return PullBack(pull, torque, ratio, part)

"""From gearbox output to wheel studs: the torque in each part, and the ripple of a universal joint."""

from __future__ import annotations

import numpy as np

from evlib.gearing import quantities as q
from evlib.ground.quantity import Number, calculation, result


@result
class DrivelineTorque:
    """Steady torque [N m] in the propeller shaft, at the final drive's ring gear, and in one axle shaft."""

    propeller: Number
    final_drive: Number
    axle_shaft: Number


@calculation
def driveline_torque(torque: q.Torque, *, gear_ratio: q.Ratio, final_drive_ratio: q.Ratio,
                     gear_efficiency: q.Efficiency = 1.0, final_drive_efficiency: q.Efficiency = 1.0,
                     axle_share: q.AxleShare = 0.5) -> DrivelineTorque:  # fmt: skip
    """Torque along the driveline at standstill or steady speed, both wheels on the road.

    T_prop = T i_g eta_g; T_ring = T_prop i_f eta_f; T_axle = T_ring x share (one half with an open differential; 1
    with a locked one and one wheel in the air).

    torque [N m] at the gearbox input. Shock from a clutch that bites, or from wheels that spin and grip again, comes
    on top and is not in here.

    >>> driveline_torque(380.0, gear_ratio=1.75, final_drive_ratio=4.0)
    DrivelineTorque(propeller=665.0, final_drive=2660.0, axle_shaft=1330.0)
    """
    propeller = torque * gear_ratio * gear_efficiency
    ring = propeller * final_drive_ratio * final_drive_efficiency
    return DrivelineTorque(propeller=propeller, final_drive=ring, axle_shaft=ring * axle_share)


@calculation
def stud_capacity(stud_clamp: q.StudClamp, *, stud_count: q.StudCount, stud_circle_radius: q.StudCircle,
                  hub_friction: q.FaceFriction) -> Number:  # fmt: skip
    """Torque that clamped studs pass from hub to wheel by friction alone [N m]: T = n F mu R.

    stud_clamp [N] each, stud_circle_radius [m], hub_friction [1]. The studs must never carry it in shear: a wheel
    that creeps works its studs loose.

    >>> round(stud_capacity(40_000.0, stud_count=5, stud_circle_radius=0.056, hub_friction=0.12))
    1344
    """
    return stud_count * stud_clamp * hub_friction * stud_circle_radius


@calculation
def clamp_from_torque(tightening: q.RatedTorque, *, stud_diameter: q.StudDiameter) -> Number:
    """Clamp force of a stud from its tightening torque [N]: F = T / (0.2 d), dry plain threads.

    >>> round(clamp_from_torque(110.0, stud_diameter=0.012))
    45833
    """
    return tightening / (0.2 * stud_diameter)


@result
class JointRipple:
    """Driven speed / driving speed of a universal joint: smallest, largest, and their difference."""

    low: Number
    high: Number
    ripple: Number


@calculation
def joint_ripple(joint_angle: q.JointAngle) -> JointRipple:
    """Speed ripple of one universal joint, twice a turn: cos(beta) to 1 / cos(beta); ripple = tan(beta) sin(beta).

    joint_angle [rad]. Torque ripples inversely. Two joints at equal angles with their forks in line cancel it at the
    far end, not in the shaft between them. Source: kinematics of the Hooke joint, any theory of machines.

    >>> round(joint_ripple(np.radians(3.0)).ripple, 5)
    0.00274
    """
    cosine = np.cos(joint_angle)
    return JointRipple(low=cosine, high=1 / cosine, ripple=1 / cosine - cosine)


@calculation
def joint_ratio(turned: q.TurnAngle, *, joint_angle: q.JointAngle) -> Number:
    """Driven speed / driving speed at an angle of the driving fork: cos(b) / (1 - sin(b)^2 cos(a)^2).

    turned [rad] from the position where the driving fork lies in the plane of both shafts.

    >>> round(joint_ratio(0.0, joint_angle=np.radians(25.0)), 4)
    1.1034
    """
    hidden = np.sin(joint_angle) * np.cos(turned)
    ratio: Number = np.cos(joint_angle) / (1 - hidden**2)
    return ratio

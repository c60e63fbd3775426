"""What park lock feels on a build, and what each part from the pawl to the road stands; three topics meet here."""

from __future__ import annotations

import functools
from typing import Any, Literal

import numpy as np

from evlib.build.view import View, derived
from evlib.gearing import driveline
from evlib.ground.quantity import Number
from evlib.parking import park_lock

Nose = Literal["up", "down"]
NOSES: tuple[Nose, Nose] = ("up", "down")


@derived
def lock_ratio(b: View) -> Number:
    """Turns of the toothed wheel to one turn of the wheels."""
    return np.asarray(
        b.final_drive.final_drive_ratio if b.parking.park_lock.park_place == "before final drive" else 1.0
    )


@derived
def hold_torque(b: View) -> Number:
    """Torque on the toothed wheel that holds the car at rest on the hold grade [N m]."""
    return park_lock.lock_torque(
        b.parking.hold_grade, mass=b.vehicle.mass, wheel_radius=b.vehicle.wheel_radius, lock_ratio=lock_ratio(b)
    )


def standing_load(b: View, axle: Any, nose: Nose) -> Number:
    """Load [N] of an axle while the car stands on the hold grade."""
    return park_lock.axle_load(
        b.vehicle.mass,
        axle=axle,
        nose=nose,
        grade=b.parking.hold_grade,
        rear_axle_share=b.vehicle.rear_axle_share,
        wheelbase=b.vehicle.wheelbase,
        cg_height=b.vehicle.cg_height,
    )


def grade_gripped(b: View, axle: Any, nose: Nose) -> Number:
    """The steepest grade [1] on which the grip of an axle's two wheels holds, with its load on that grade."""
    return park_lock.grade_gripped(
        b.vehicle.grip,
        axle=axle,
        nose=nose,
        rear_axle_share=b.vehicle.rear_axle_share,
        wheelbase=b.vehicle.wheelbase,
        cg_height=b.vehicle.cg_height,
    )


def taken_up(b: View, nose: Nose, *, grip: Any = None) -> park_lock.TakenUp:
    """The car falls through a pitch and the play on the hold grade and is caught; on the vehicle's grip, or another."""
    lock = b.parking.park_lock
    return park_lock.taken_up(
        b.parking.hold_grade,
        mass=b.vehicle.mass,
        wheel_radius=b.vehicle.wheel_radius,
        lock_ratio=lock_ratio(b),
        park_teeth=lock.park_teeth,
        backlash=lock.park_backlash,
        stiffness=lock.park_stiffness,
        grip_force=np.multiply(b.vehicle.grip if grip is None else grip, standing_load(b, b.vehicle.driven_axle, nose)),
    )


@derived
def hardest_catch(b: View) -> Number:
    """Torque on the toothed wheel [N m] when the pawl takes the car up, the harder way round, on the vehicle's grip."""
    return np.maximum(taken_up(b, "up").torque, taken_up(b, "down").torque)


@derived
def longest_way(b: View) -> Number:
    """How far [m] the car rolls before it stands, the longer way round; 100 m stands for never."""
    return np.minimum(np.maximum(taken_up(b, "up").way, taken_up(b, "down").way), 100.0)


@derived
def pawl_limit(b: View) -> Number:
    """Torque on the toothed wheel that pawl, tooth and pin stand [N m]."""
    lock = b.parking.park_lock
    return park_lock.torque_limit(
        lock.park_contact_pressure,
        pin_strength=lock.pawl_pin_strength,
        park_radius=lock.park_radius,
        pressure_angle=lock.park_pressure_angle,
        contact_area=lock.park_contact_area,
        pin_diameter=lock.pawl_pin_diameter,
        pin_planes=lock.pawl_pin_planes,
    )


@derived
def line_limits(b: View) -> dict[str, Number]:
    """What each part from the pawl to the wheels stands, as torque on the toothed wheel [N m]."""
    rated, ratio = b.final_drive, lock_ratio(b)
    studs = driveline.stud_capacity(
        rated.stud_clamp,
        stud_count=rated.stud_count,
        stud_circle_radius=rated.stud_circle_radius,
        hub_friction=rated.hub_friction,
    )
    limits = {"pawl, tooth and pin": pawl_limit(b)}
    if b.parking.park_lock.park_place == "before final drive":
        limits |= {
            "propeller shaft": np.asarray(rated.propeller_rating),
            "final drive": np.divide(rated.final_drive_rating, ratio),
        }
    return limits | {
        "both axle shafts": np.multiply(2, rated.axle_shaft_rating) / ratio,
        "wheel studs of both wheels": np.multiply(2, studs) / ratio,
    }


@derived
def line_strength(b: View) -> Number:
    """Torque on the toothed wheel that the weakest part from the pawl to the wheels stands [N m]."""
    return functools.reduce(np.minimum, line_limits(b).values())


@derived
def drop_in(b: View) -> Number:
    """Road speed up to which the pawl drops in [m/s]: the maker's value or the pawl's sum, the lower known one."""
    lock = b.parking.park_lock
    known = [lock.park_engage_speed] if lock.known("park_engage_speed") else []
    if lock.known("park_gap_angle") and lock.known("pawl_time"):
        known.append(
            park_lock.drop_in_speed(
                lock.park_gap_angle, pawl_time=lock.pawl_time, wheel_radius=b.vehicle.wheel_radius,
                lock_ratio=lock_ratio(b),
            )
        )  # fmt: skip
    return functools.reduce(np.minimum, known) if known else lock.park_engage_speed  # type: ignore[no-any-return]

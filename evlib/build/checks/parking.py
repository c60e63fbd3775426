"""Checks of the parking topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from evlib.build.gears import gear_ratios, geared_efficiency, low_rotating, start_torque
from evlib.build.registry import check, stated
from evlib.build.reverse import pull_back
from evlib.build.view import View, derived
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.ground.road import grade_force, rolling_force
from evlib.parking import handbrake, hill_start, park_lock

STATICS = "statics of a vehicle on a slope"
RULE = "target of this project: each holds alone on the grade that 49 CFR 571.135 tests the parking brake on"
Nose = Literal["up", "down"]


@derived
def slope_pull(b: View) -> Number:
    """Force along the road on the grade that park lock and handbrake must each hold [N]."""
    return grade_force(b.vehicle.mass, grade=b.parking.hold_grade)


@derived
def lock_ratio(b: View) -> Number:
    """Turns of the toothed wheel to one turn of the wheels."""
    return np.asarray(
        b.final_drive.final_drive_ratio if b.parking.park_lock.park_place == "before final drive" else 1.0
    )


@derived
def lock_demand(b: View) -> Number:
    """Torque on the toothed wheel on the hold grade [N m]."""
    return park_lock.lock_torque(
        b.parking.hold_grade, mass=b.vehicle.mass, wheel_radius=b.vehicle.wheel_radius, lock_ratio=lock_ratio(b)
    )


def _axle_load(b: View, axle: Any, nose: Nose) -> Number:
    return park_lock.axle_load(
        b.vehicle.mass,
        axle=axle,
        nose=nose,
        grade=b.parking.hold_grade,
        rear_axle_share=b.vehicle.rear_axle_share,
        wheelbase=b.vehicle.wheelbase,
        cg_height=b.vehicle.cg_height,
    )


@check("park lock", topic="parking")
def park_lock_strength(b: View) -> Check:
    """Torque on the toothed wheel on the hold grade, against what pawl, tooth and pin stand."""
    lock = b.parking.park_lock
    limit = park_lock.torque_limit(
        lock.park_contact_pressure,
        pin_strength=lock.pawl_pin_strength,
        park_radius=lock.park_radius,
        pressure_angle=lock.park_pressure_angle,
        contact_area=lock.park_contact_area,
        pin_diameter=lock.pawl_pin_diameter,
        pin_planes=lock.pawl_pin_planes,
    )
    return Check(
        "park lock", "parking", lock_demand(b), limit, "N m",
        working=Working("T = m g sin(theta) r / i_p", {"m g sin(theta)": (slope_pull(b), "N"),
                        "r": (b.vehicle.wheel_radius, "m"), "i_p": (lock_ratio(b), "")}, (lock_demand(b), "N m")),
        source="force balance; " + RULE,
        advice="a stronger pawl or pin, or park held by the handbrake as well: park lock is not a brake",
        target=1.0,  # catching a slowly rolling car asks more than holding it
    )  # fmt: skip


def _park_grip(b: View, nose: Nose) -> Check:
    load = _axle_load(b, b.vehicle.driven_axle, nose)
    holds = park_lock.grip_hold(
        b.parking.worse_grip, better_grip=b.vehicle.grip, axle_load=load, differential="open"
    )  # fmt: skip
    return Check(
        "", "parking", slope_pull(b), holds, "N",
        working=Working("F = min(mu_w, mu) N", {"mu_w": (b.parking.worse_grip, ""), "mu": (b.vehicle.grip, ""),
                        "N": (load, "N")}, (holds, "N")),
        source=STATICS + ", open differential; " + RULE,
        advice="through an open differential the worse wheel decides: handbrake as well, chocks on ice, and never jack "
        "a driven wheel with park alone",
    )  # fmt: skip


@check("park grip, nose up", topic="parking")
def park_grip_up(b: View) -> Check:
    """Grip that park lock can use with the nose up, against the slope's pull."""
    return _park_grip(b, "up")


@check("park grip, nose down", topic="parking")
def park_grip_down(b: View) -> Check:
    """Grip that park lock can use with the nose down, against the slope's pull."""
    return _park_grip(b, "down")


@check("roll before park holds", topic="parking")
def roll_before_hold(b: View) -> Check:
    """How far the car may roll before the pawl holds it, against what is allowed."""
    lock = b.parking.park_lock
    roll = park_lock.roll_before_hold(
        b.parking.hold_grade,
        mass=b.vehicle.mass,
        wheel_radius=b.vehicle.wheel_radius,
        lock_ratio=lock_ratio(b),
        park_teeth=lock.park_teeth,
        backlash=lock.park_backlash,
        stiffness=lock.park_stiffness,
    )
    return Check(
        "roll before park holds", "parking", roll, lock.park_roll_allowed, "m",
        working=Working("s = r / i_p (2 pi / z + b + T / k)", {"r": (b.vehicle.wheel_radius, "m"),
                        "i_p": (lock_ratio(b), ""), "z": (lock.park_teeth, ""), "b": (lock.park_backlash, "rad"),
                        "T": (lock_demand(b), "N m"), "k": (lock.park_stiffness, "N m/rad")}, (roll, "m")),
        source="geometry; 49 CFR 571.114 allows 150 mm, on 10 % (from memory)",
        advice="more teeth on the park wheel, less play in the joints, a stiffer propeller shaft",
    )  # fmt: skip


@derived
def brake_force(b: View) -> tuple[Number, Number]:
    """Force along the road of the handbrake at the hand-force limit, nose up and nose down [N], before grip."""
    hand = b.parking.handbrake
    force = handbrake.shoe_force(
        hand.hand_force,
        lever_ratio=hand.lever_ratio,
        cable_efficiency=hand.cable_efficiency,
        actuating_ratio=hand.actuating_ratio,
    )

    def on_road(rolling: Literal["forward", "backward"]) -> Number:
        if hand.handbrake_kind == "disc":
            torque = handbrake.disc_torque(force, lining_friction=hand.lining_friction, pad_radius=hand.pad_radius)
        else:
            torque = handbrake.drum_torque(
                force, kind=hand.handbrake_kind, rolling=rolling, lining_friction=hand.lining_friction,
                drum_radius=hand.drum_radius, pivot_radius=hand.shoe_pivot_radius, shoe_arm=hand.shoe_arm,
                shoe_start=hand.shoe_start, shoe_end=hand.shoe_end,
            )  # fmt: skip
        return handbrake.road_force(torque, wheel_radius=b.vehicle.wheel_radius)

    return on_road("backward"), on_road("forward")


def _handbrake(b: View, nose: Nose) -> Check:
    brakes = brake_force(b)[0 if nose == "up" else 1]
    load = _axle_load(b, b.parking.handbrake.handbrake_axle, nose)
    grip = np.multiply(b.vehicle.grip, load)
    return Check(
        "", "parking", slope_pull(b), np.minimum(brakes, grip), "N",
        working=Working("F = min(2 T_b / r, mu N)", {"hand": (b.parking.handbrake.hand_force, "N"),
                        "2 T_b / r": (brakes, "N"), "mu N": (grip, "N")}, (np.minimum(brakes, grip), "N")),
        source="drum and disc brakes after Shigley; 49 CFR 571.135 S7.12: 20 %, both ways, at most 400 N "
        "by hand, at full mass (here: the mass as driven)",
        advice="adjust shoes and cables, renew linings, a longer lever; brakes are a legal matter: licensed inspection",
        target=0.2,
    )  # fmt: skip


@check("handbrake, nose up", topic="parking")
def handbrake_up(b: View) -> Check:
    """The handbrake alone, nose up, at the hand-force limit, against the slope's pull."""
    return _handbrake(b, "up")


@check("handbrake, nose down", topic="parking")
def handbrake_down(b: View) -> Check:
    """The handbrake alone, nose down, at the hand-force limit, against the slope's pull."""
    return _handbrake(b, "down")


@derived
def start_pull(b: View) -> Number:
    """Pull at the tyres in the lowest gear once the ramp is over [N]."""
    total = np.multiply(gear_ratios(b).low, b.final_drive.final_drive_ratio)
    efficiency = np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency)
    return np.asarray(np.multiply(start_torque(b), total) * efficiency / b.vehicle.wheel_radius)


@check("rollback at a hill start", topic="parking")
def rollback(b: View) -> Check:
    """How far the car rolls back between brake and pull, against what is allowed."""
    start = b.parking.hill_start
    share = np.minimum(np.divide(low_rotating(b).driven, b.vehicle.mass), 2.0)
    roll = hill_start.rollback(
        start_pull(b),
        grade=start.hill_grade,
        mass=b.vehicle.mass,
        rolling_coefficient=b.vehicle.rolling_coefficient,
        pull_delay=start.pull_delay,
        pull_rise=start.pull_rise,
        rotating_share=share,
    )
    roll = np.minimum(roll, 100.0)  # a car that is never caught is shown as 100 m
    return Check(
        "rollback at a hill start", "parking", roll, start.rollback_allowed, "m",
        working=Working("dv/dt = -a_g + F(t) / (m (1 + lambda)), F from 0 at t_0 to F_p at t_0 + t_r",
                        {"F_p": (start_pull(b), "N"), "t_0": (start.pull_delay, "s"), "t_r": (start.pull_rise, "s"),
                         "lambda": (share, "")}, (roll, "m")),
        source="equation of motion; the allowance is a target of this project",
        advice="a quicker ramp, pressure up before the brake goes, or start with the handbrake; hold with the brake, "
        "never with the pedal",
    )  # fmt: skip


@check("reverse pull", topic="parking")
def reverse_pull(b: View) -> Check:
    """Force needed to back up the steepest drive, against the pull backwards."""
    back = pull_back(b)
    mass, grade = b.vehicle.mass, b.parking.reverse_grade
    rolling = rolling_force(mass, rolling_coefficient=b.vehicle.rolling_coefficient, grade=grade)
    needed = np.add(grade_force(mass, grade=grade), rolling)
    return Check(
        "reverse pull", "parking", needed, back.pull, "N",
        working=Working("F = T i i_final eta x / r", {"T": (back.input_torque, "N m"), "i": (back.ratio, ""),
                        "i_final": (b.final_drive.final_drive_ratio, ""), "x": (back.torque_part, ""),
                        "r": (b.vehicle.wheel_radius, "m")}, (back.pull, "N")),
        source="torque balance; launch torque from the pressure at rest where the gearbox reverses",
        advice="more pressure at rest for the reverse clutch or band, a higher launch setting in reverse if it holds, "
        "or turn round before the steep drive",
        target=0.2,
    )  # fmt: skip


@stated("steepest grade held by the handbrake, nose up", group="Parking and reverse", unit="percent")
def held_up(b: View) -> Number:
    """Grade that the brakes alone hold at the hand-force limit, before grip [per cent]."""
    return np.multiply(100, handbrake.grade_held(brake_force(b)[0], mass=b.vehicle.mass))


@stated("steepest grade held by the handbrake, nose down", group="Parking and reverse", unit="percent")
def held_down(b: View) -> Number:
    """Grade that the brakes alone hold at the hand-force limit, before grip [per cent]."""
    return np.multiply(100, handbrake.grade_held(brake_force(b)[1], mass=b.vehicle.mass))


@stated("pull backwards from rest", group="Parking and reverse", unit="N")
def stated_pull_back(b: View) -> Number:
    """Pull at the tyres going backwards."""
    return pull_back(b).pull


@stated("going backwards by", group="Parking and reverse")
def stated_way(b: View) -> str:
    """The way it reverses, and which way the internal pump then turns."""
    way = b.parking.reverse_by
    pump = "turns its own way" if way == "gearbox" else "turns backward and delivers nothing"
    return f"{way}; an internal pump {pump}"

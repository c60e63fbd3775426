"""Checks of the gearing topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.gears import (
    change_speed,
    drive,
    gear_ratios,
    geared_efficiency,
    has,
    highest_speed,
    input_inertia,
    low_rotating,
    run_to_target,
    shaft_per_road,
    standing_400,
    start_torque,
)
from evlib.build.line import line_envelope, torque_at_rest
from evlib.build.registry import check, stated
from evlib.build.view import View, derived
from evlib.gearing import driveline, shift, traction
from evlib.ground.checks import Check, Working
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number
from evlib.ground.road import GRAVITY, rolling_force

STATICS = "statics of a vehicle on four wheels"
ENERGY = "energy balance"
NOT_REACHED = "not reached"


def _tractive(b: View, torque: Any) -> Number:
    return traction.tractive_effort(
        torque,
        gear_ratio=gear_ratios(b).low,
        final_drive_ratio=b.final_drive.final_drive_ratio,
        wheel_radius=b.vehicle.wheel_radius,
        efficiency=np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency),
    )


def _axles(b: View) -> dict[str, Any]:
    return {
        "grip": b.vehicle.grip,
        "driven_axle": b.vehicle.driven_axle,
        "rear_axle_share": b.vehicle.rear_axle_share,
        "wheelbase": b.vehicle.wheelbase,
        "cg_height": b.vehicle.cg_height,
        "rolling_coefficient": b.vehicle.rolling_coefficient,
    }


@check("grip", topic="gearing")
def grip(b: View) -> Check:
    """Force at the tyre at full current from rest, against what the driven tyres pass on."""
    spun = low_rotating(b)
    road = rolling_force(b.vehicle.mass, rolling_coefficient=b.vehicle.rolling_coefficient)
    static = _tractive(b, torque_at_rest(b))
    moving = traction.accelerating(
        static, resistance=road, mass=b.vehicle.mass, driven_mass=spun.driven, dragged_mass=spun.dragged
    )
    return Check(
        "grip", "gearing", moving.tyre_force, traction.grip_force(b.vehicle.mass, **_axles(b)), "N",
        working=Working("F_tyre = F - m_up a, a = (F - R) / (m + m_up + m_roll)",
                        {"F": (static, "N"), "R": (road, "N"), "m": (b.vehicle.mass, "kg"),
                         "m_up, spun up before the tyres": (spun.driven, "kg"),
                         "m_roll, wheels that roll along": (spun.dragged, "kg"),
                         "a": (moving.acceleration, "m/s2")}, (moving.tyre_force, "N")),
        source=STATICS,
        advice="turn the motor current down at low speed, or expect wheelspin; a wet road halves the grip",
    )  # fmt: skip


@check("steepest start", topic="gearing")
def steepest_start(b: View) -> Check:
    """The grade it is to start on, against the steepest that pull and grip allow in low."""
    torque = start_torque(b)
    pull = _tractive(b, torque)
    found = traction.steepest_grade(pull, mass=b.vehicle.mass, **_axles(b))
    weight = np.multiply(b.vehicle.mass, GRAVITY)
    return Check(
        "steepest start", "gearing", np.multiply(100, b.targets.start_grade), np.multiply(100, found.grade), "percent",
        working=Working("sin(theta) + Crr cos(theta) = F / W, at most where the tyres let go",
                        {"F": (pull, "N"), "T": (torque, "N m"), "W": (weight, "N"),
                         "by pull": (np.multiply(100, found.by_pull), "percent"),
                         "by grip": (np.multiply(100, found.by_grip), "percent")},
                        (np.multiply(100, found.grade), "percent")),
        source=STATICS,
        advice="a larger low or final drive ratio, more launch current if the clutches hold it, or less mass; where "
        "grip governs, more pull does not help",
        target=0.2,
    )  # fmt: skip


@check("time to speed", topic="gearing")
def time_to_speed(b: View) -> Check:
    """The run-up to the target speed, against the time wanted."""
    run = run_to_target(b)
    spun = low_rotating(b)
    return Check(
        "time to speed", "gearing", run.time, b.targets.time_to_speed, "s",
        working=Working("t = sum of dv / a, a = (F - R) / (m + m_rot), and the pause",
                        {"v": (b.targets.speed, "m/s"), "m": (b.vehicle.mass, "kg"),
                         "m_rot in low, all that turns": (spun.driven + spun.dragged, "kg"),
                         "change at": (run.change_speed, "m/s") if has(b, "gearbox") else ("no change", "")},
                        (run.time, "s"), NOT_REACHED),
        source=ENERGY,
        advice="more torque where the run-up lags, a larger low ratio, less mass, or a shorter pause; stay in low as "
        "long as it accelerates harder than direct; a speed never reached asks for more pull at speed, or a smaller "
        "final drive ratio if the motors' speed ends it",
    )  # fmt: skip


@check("top speed", topic="gearing")
def top_speed(b: View) -> Check:
    """The top speed wanted, against the one reached on the level."""
    top = highest_speed(b)
    d = drive(b)
    gear = np.multiply(d.gears[-1], b.final_drive.final_drive_ratio)
    limit = b.machine.speed_limit / shaft_per_road(b, d.gears[-1])
    return Check(
        "top speed", "gearing", b.targets.top_speed, top.speed, "m/s",
        working=Working("pull = road load, at most w_max r / i",
                        {"w_max": (b.machine.speed_limit, "rad/s"), "i": (gear, ""), "w_max r / i": (limit, "m/s")},
                        (top.speed, "m/s")),
        source="balance of pull and road load",
        advice="where the motors' speed limits it, a smaller final drive ratio; where pull does, more volts or less "
        "drag",
    )  # fmt: skip


@derived
def upshift(b: View) -> shift.Upshift:
    """The change up at the build's change-over, current cut."""
    return shift.upshift(
        change_speed(b),
        low_ratio=gear_ratios(b).low,
        direct_ratio=gear_ratios(b).direct,
        final_drive_ratio=b.final_drive.final_drive_ratio,
        wheel_radius=b.vehicle.wheel_radius,
        input_inertia=input_inertia(b),
        clutch_torque=1.0,  # with the current cut the heat does not depend on it
    )


def _two_speed(b: View) -> None:
    if not has(b, "gearbox"):
        raise DoesNotApply("gearbox is declared as not fitted: there is no change of gear")


@check("shift energy", topic="gearing")
def shift_energy(b: View) -> Check:
    """Rise of the direct clutch's steel plates in one upshift, current left on for the overlap."""
    _two_speed(b)
    change = upshift(b)
    torque = line_envelope(b, change.before).torque
    extra = shift.overlap_energy(
        torque, speed_before=change.before, speed_after=change.after, overlap=b.gearbox.current_overlap
    )
    heat = np.asarray(change.energy + extra)
    rise = shift.plate_rise(heat, steel_mass=b.gearbox.clutch_steel_mass)
    return Check(
        "shift energy", "gearing", rise, b.gearbox.clutch_rise_allowed, "K",
        working=Working("dT = (J_in (w1 - w2)^2 / 2 + T (w1 - w2) t_l) / (m_s c)",
                        {"J_in": (input_inertia(b), "kg m2"), "w1": (change.before, "rad/s"),
                         "w2": (change.after, "rad/s"), "T": (torque, "N m"), "t_l": (b.gearbox.current_overlap, "s"),
                         "heat": (heat, "J"), "m_s": (b.gearbox.clutch_steel_mass, "kg")}, (rise, "K difference")),
        source=ENERGY + "; steel 480 J/kg K",
        advice="cut the current before the change, change at a lower speed, or fit more plates",
        kind="difference",
    )  # fmt: skip


@check("left-on current", topic="gearing")
def left_on_current(b: View) -> Check:
    """Speed of the rotors if the box is between gears while current is still on."""
    _two_speed(b)
    change = upshift(b)
    torque = line_envelope(b, change.before).torque
    gained = shift.left_on(torque, input_inertia=input_inertia(b), time=b.gearbox.current_overlap)
    reached = np.asarray(change.before + gained)
    return Check(
        "left-on current", "gearing", reached, b.machine.speed_limit, "rad/s",
        working=Working("w = w1 + T t_l / J_in", {"w1": (change.before, "rad/s"), "T": (torque, "N m"),
                                                  "t_l": (b.gearbox.current_overlap, "s"),
                                                  "J_in": (input_inertia(b), "kg m2")}, (reached, "rad/s")),
        source="Newton's second law for the rotors",
        advice="let the change switch open the pedal signal before the band lets go; change at a lower speed",
    )  # fmt: skip


@check("downshift over-speed", topic="gearing")
def downshift(b: View) -> Check:
    """Speed to which a change down drags the rotors, against their limit. It needs no electricity."""
    _two_speed(b)
    dragged = shift.downshift_speed(
        b.gearbox.downshift_speed,
        low_ratio=gear_ratios(b).low,
        final_drive_ratio=b.final_drive.final_drive_ratio,
        wheel_radius=b.vehicle.wheel_radius,
    )
    return Check(
        "downshift over-speed", "gearing", dragged, b.machine.speed_limit, "rad/s",
        working=Working("w = v i_low i_f / r",
                        {"v": (b.gearbox.downshift_speed, "m/s"), "i_low": (gear_ratios(b).low, ""),
                         "i_f": (b.final_drive.final_drive_ratio, ""), "r": (b.vehicle.wheel_radius, "m")},
                        (dragged, "rad/s")),
        source="kinematics",
        advice="block low by a governor or a speed switch below that speed; no controller setting helps here",
    )  # fmt: skip


@derived
def greatest_torque(b: View) -> driveline.DrivelineTorque:
    """Torque along the driveline with all that the motors give, in low or reverse, whichever is more."""
    ratios = gear_ratios(b)
    return driveline.driveline_torque(
        torque_at_rest(b),
        gear_ratio=np.maximum(ratios.low, ratios.reverse),
        final_drive_ratio=b.final_drive.final_drive_ratio,
        gear_efficiency=geared_efficiency(b),
        final_drive_efficiency=b.final_drive.final_drive_efficiency,
    )


def _rating(b: View, name: str, torque: Number, capacity: Number, equation: str, advice: str) -> Check:
    ratios = gear_ratios(b)
    numbers = {"T": (torque_at_rest(b), "N m"), "i_g": (np.maximum(ratios.low, ratios.reverse), ""),
               "i_f": (b.final_drive.final_drive_ratio, "")}  # fmt: skip
    return Check(name, "gearing", torque, capacity, "N m", working=Working(equation, numbers, (torque, "N m")),
                 source="torque balance, no shock; the rating is the build's", advice=advice)  # fmt: skip


@check("propeller shaft torque", topic="gearing")
def propeller(b: View) -> Check:
    """Full torque in low or reverse against the propeller shaft's rating."""
    torque = greatest_torque(b).propeller
    return _rating(b, "propeller shaft torque", torque, b.final_drive.propeller_rating, "T_prop = T i_g eta_g",
                   "limit the motor current in low and reverse, or fit a larger shaft and joints")  # fmt: skip


@check("final drive torque", topic="gearing")
def final_drive(b: View) -> Check:
    """Full torque in low or reverse against the final drive's rating."""
    torque = greatest_torque(b).final_drive
    return _rating(b, "final drive torque", torque, b.final_drive.final_drive_rating, "T_ring = T i_g eta_g i_f eta_f",
                   "limit the motor current in low and reverse, or fit a stronger axle")  # fmt: skip


@check("axle shaft torque", topic="gearing")
def axle_shaft(b: View) -> Check:
    """Full torque in low or reverse against one axle shaft's rating, open differential."""
    torque = greatest_torque(b).axle_shaft
    return _rating(b, "axle shaft torque", torque, b.final_drive.axle_shaft_rating, "T_axle = T_ring / 2",
                   "limit the motor current in low and reverse; a locked differential doubles this")  # fmt: skip


@check("wheel stud torque", topic="gearing")
def wheel_studs(b: View) -> Check:
    """Full torque at one wheel against what its studs pass on by friction."""
    torque = greatest_torque(b).axle_shaft
    held = driveline.stud_capacity(
        b.final_drive.stud_clamp,
        stud_count=b.final_drive.stud_count,
        stud_circle_radius=b.final_drive.stud_circle_radius,
        hub_friction=b.final_drive.hub_friction,
    )
    return _rating(b, "wheel stud torque", torque, held, "T_axle against n_st F_st mu_h R_st",
                   "clean faces, the right tightening torque, checked again after the first drive")  # fmt: skip


# --- what the sheet states ------------------------------------------------------------------------------------------


@stated("time to the target speed", group="Predicted figures", unit="s")
def stated_time(b: View) -> Any:
    """The run-up to the target speed."""
    time = run_to_target(b).time
    return time if np.ndim(time) or np.isfinite(time) else NOT_REACHED  # a column stays one, infinite where not


@stated("standing 400 m", group="Predicted figures", unit="s")
def stated_400(b: View) -> Any:
    """Time over the standing 400 m."""
    return standing_400(b).time


@stated("top speed", group="Predicted figures", unit="m/s")
def stated_top(b: View) -> Any:
    """Top speed on the level."""
    return highest_speed(b).speed


@stated("what limits the top speed", group="Predicted figures")
def stated_limit(b: View) -> Any:
    """The motors' speed limit, or pull against road load."""
    return highest_speed(b).limited_by


@stated("steepest start", group="Predicted figures", unit="percent")
def stated_start(b: View) -> Any:
    """Steepest grade it starts on."""
    found = traction.steepest_grade(_tractive(b, start_torque(b)), mass=b.vehicle.mass, **_axles(b))
    return np.multiply(100, found.grade)


@stated("all that turns in low, as mass at the tyre", group="Predicted figures", unit="kg")
def stated_rotating(b: View) -> Any:
    """Rotors, propeller shaft and all wheels, in the lowest gear."""
    return np.add(low_rotating(b).driven, low_rotating(b).dragged)


@stated("low ratio", group="Predicted figures", unit="")
def stated_low(b: View) -> Any:
    """The low gear's ratio."""
    _two_speed(b)
    return gear_ratios(b).low


@stated("reverse ratio", group="Predicted figures", unit="")
def stated_reverse(b: View) -> Any:
    """The reverse gear's ratio."""
    _two_speed(b)
    return gear_ratios(b).reverse

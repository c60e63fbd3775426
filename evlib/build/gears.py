"""The build's gears: ratios from tooth counts or as measured, what turns, and what it takes to drive the run-up."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.launch import launch_torque
from evlib.build.line import frame_loss, line_envelope, torque_at_rest, warm_resistance
from evlib.build.run_up import Drive, RunUp, Standing, change_by_rule, pull, resistance, run_up, standing
from evlib.build.view import View, derived
from evlib.gearing import planetary
from evlib.gearing.inertia import RotatingMass, rotating_mass
from evlib.gearing.traction import TopSpeed, top_speed
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number, result
from evlib.ground.road import STANDARD_AIR

POINTS = 121  # shaft speeds at which the motors' curve is taken for a run-up


@result
class GearRatios:
    """Ratios of the gearbox as sizes: low, direct, reverse; all 1 where the build has no change-speed gearbox."""

    low: Number
    direct: Number
    reverse: Number


def has(b: View, section: str) -> bool:
    """Whether a section is not declared as left out."""
    try:
        getattr(b, section)
    except DoesNotApply:
        return False
    return True


@derived
def gear_ratios(b: View) -> GearRatios:
    """The gearbox's ratios: from tooth counts; from ``low_ratio`` and ``reverse_ratio`` where none were counted."""
    if not has(b, "gearbox"):
        return GearRatios(1.0, 1.0, 1.0)
    box = b.gearbox
    if box.known("low_ratio") and not box.known("input_sun_teeth"):
        return GearRatios(box.low_ratio, 1.0, box.reverse_ratio)
    names = {"input sun": "input sun", "low sun": "low sun", "ring": "ring", "carrier": "carrier"}
    if box.arrangement == "simple planetary":
        names |= {"input sun": "sun", "low sun": "sun"}
        train = planetary.simple_set(box.input_sun_teeth, ring=box.ring_teeth)
    else:
        train = planetary.two_sun_set(
            box.input_sun_teeth,
            low_sun=box.low_sun_teeth,
            short_planet=box.short_planet_teeth,
            long_planet=box.long_planet_teeth,
            ring=box.ring_teeth,
        )

    def size(held: str) -> Number:
        driven, output = names[box.input_member], names[box.output_member]
        return np.abs(planetary.solve(train, driven=driven, output=output, held=(names[held],)).ratio)

    return GearRatios(size(box.low_held_member), 1.0, size(box.reverse_held_member))


@derived
def input_inertia(b: View) -> Number:
    """All that turns with the gearbox input [kg m2]: the rotors and, where there is one, the gearbox's own input."""
    rotors = np.multiply(b.machine.machine_count, b.machine.rotor_inertia)
    return np.asarray(rotors + (b.gearbox.gearbox_input_inertia if has(b, "gearbox") else 0.0))


def geared_efficiency(b: View) -> Number:
    """Efficiency of the gearbox in low and reverse; 1 where there is none (the final drive's then counts alone)."""
    return np.asarray(b.gearbox.geared_efficiency if has(b, "gearbox") else 1.0)


def shaft_per_road(b: View, gear_ratio: Any) -> Number:
    """Gearbox input speed per road speed in a gear [rad/m]."""
    return np.asarray(np.multiply(gear_ratio, b.final_drive.final_drive_ratio) / b.vehicle.wheel_radius)


@derived
def start_torque(b: View) -> Number:
    """Torque with which it starts in low [N m]: what the launch setting allows, else all that the motors give."""
    if has(b, "gearbox") and has(b, "hydraulics"):
        return launch_torque(b, "low")
    return torque_at_rest(b)


@derived
def low_rotating(b: View) -> RotatingMass:
    """Everything that turns, as mass at the tyre, in the lowest gear."""
    return rotating_mass(
        input_inertia(b),
        gear_ratio=gear_ratios(b).low,
        final_drive_ratio=b.final_drive.final_drive_ratio,
        wheel_radius=b.vehicle.wheel_radius,
        propeller_inertia=b.final_drive.propeller_inertia,
        wheel_inertia=b.vehicle.wheel_inertia,
        driven_axle=b.vehicle.driven_axle,
        gear_efficiency=geared_efficiency(b),
        final_drive_efficiency=b.final_drive.final_drive_efficiency,
    )


@derived
def drive(b: View) -> Drive:
    """All that a run-up needs, from the build; the motors' curve at the build's charge and 75 °C windings."""
    share = np.linspace(0.0, 1.0, POINTS)
    limit = np.asarray(b.machine.speed_limit, dtype=float)
    shaft = share * (limit[:, None] if limit.ndim else limit)
    line = line_envelope(b, share[:, None] * limit if limit.ndim else shaft if _single(b) else shaft[:, None])
    torque, current = (_rows(curve) for curve in (line.torque, line.pack_current))
    boxed = has(b, "gearbox")
    ratios = gear_ratios(b)
    return Drive(
        shaft_speed=shaft,
        torque=torque,
        pack_current=current,
        heat=_rows(motor_heat(b, line.current, line.speed)) if b.machine.kind == "series" else None,
        gears=(ratios.low, ratios.direct) if boxed else (1.0,),
        gear_efficiencies=(b.gearbox.geared_efficiency, b.gearbox.direct_efficiency) if boxed else (1.0,),
        final_drive_ratio=b.final_drive.final_drive_ratio,
        final_drive_efficiency=b.final_drive.final_drive_efficiency,
        wheel_radius=b.vehicle.wheel_radius,
        mass=b.vehicle.mass,
        rolling_coefficient=b.vehicle.rolling_coefficient,
        rolling_speed_term=b.vehicle.rolling_speed_term,
        drag_coefficient=b.vehicle.drag_coefficient,
        frontal_area=b.vehicle.frontal_area,
        density=STANDARD_AIR,
        input_inertia=input_inertia(b),
        propeller_inertia=b.final_drive.propeller_inertia,
        wheel_inertia=b.vehicle.wheel_inertia,
        change_time=b.gearbox.change_time if boxed else 0.0,
        grip=b.vehicle.grip,
        driven_axle=b.vehicle.driven_axle,
        rear_axle_share=b.vehicle.rear_axle_share,
        wheelbase=b.vehicle.wheelbase,
        cg_height=b.vehicle.cg_height,
    )


def _rows(curve: Any) -> Any:
    """A curve of shape (points,), or of (points, builds) turned to (builds, points)."""
    values = np.asarray(curve, dtype=float)
    return values.T if values.ndim == 2 else values


def motor_heat(b: View, current: Any, speed: Any) -> Any:
    """All that the series machines turn into heat together [W], at the current in each and a shaft speed."""
    copper = np.square(current) * warm_resistance(b)
    return np.multiply(b.machine.machine_count, copper + frame_loss(b, current, speed))


def _single(b: View) -> bool:
    """Whether the motors' torque is that of one build (its torque at rest is a plain number)."""
    return np.ndim(torque_at_rest(b)) == 0


def change_speed(b: View) -> Any:
    """Road speed of the change up [m/s]: the build's own, or by the rule of equal acceleration; None without a box."""
    if not has(b, "gearbox"):
        return None
    return b.gearbox.upshift_speed if b.gearbox.known("upshift_speed") else change_by_rule(drive(b))


@derived
def run_to_target(b: View) -> RunUp:
    """The run-up to the target speed, full current, on the level."""
    return run_up(drive(b), speed=b.targets.speed, change_speed=change_speed(b))


@derived
def standing_400(b: View) -> Standing:
    """The standing 400 m."""
    return standing(drive(b), distance=400.0, change_speed=change_speed(b))


@derived
def highest_speed(b: View) -> TopSpeed:
    """Top speed on the level in the gear that gives the most, and whether the motors' speed limit ends it."""
    d = drive(b)
    best: TopSpeed | None = None
    for gear in range(len(d.gears)):
        to_shaft = np.asarray(shaft_per_road(b, d.gears[gear]))
        speed = d.shaft_speed / (to_shaft[:, None] if to_shaft.ndim else to_shaft)
        here = pull(d, gear, speed=speed, torque=d.torque)
        # what is left after the road, counted at steady speed, so that inertia plays no part
        spare = here.acceleration
        found = top_speed(speed, pull=spare, load=np.zeros_like(resistance(d, speed) + spare))
        if best is None:
            best = found
        else:
            faster = np.asarray(found.speed) > best.speed
            best = TopSpeed(np.where(faster, found.speed, best.speed), np.where(faster, found.at_limit, best.at_limit))
    assert best is not None
    return best if np.ndim(best.speed) else TopSpeed(float(best.speed), bool(best.at_limit))

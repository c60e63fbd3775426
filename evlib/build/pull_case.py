"""What the pictures of the gearing lesson show: one design's pull against the road, and one run-up along time."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.build.run_up import Drive, coast, pull, resistance, run_up
from evlib.gearing.inertia import RotatingMass, rotating_mass
from evlib.gearing.traction import Steepest, TopSpeed, grip_force, steepest_grade, top_speed, tractive_effort
from evlib.ground.quantity import Array, result

GRADES = (0.0, 0.1, 0.2, 0.3)
ENDLESS = 10.0  # a grade of 1000 %: steeper than any, as far as pull alone goes


@result
class GearCurve:
    """One gear over speed [m/s]: steady pull, and force at the tyre while it accelerates on the level [N]."""

    name: str
    speed: Array
    steady: Array
    moving: Array


@result
class PullCase:
    """Pull against road for one design: curves, road load by grade, the grip, and what comes out of them."""

    gears: tuple[GearCurve, ...]
    speed: Array
    road: dict[float, Array]
    grip: float
    start: Steepest
    at_speed: float  # m/s, the speed of the second climb figure
    climb: float  # steepest grade held at that speed
    top: TopSpeed
    rotating: RotatingMass
    spins: bool


@result
class RunCase:
    """A run-up along time: speed [m/s] over time [s], its change-over, and its end."""

    time: Array
    speed: Array
    acceleration: Array
    target: float
    reached: bool
    total: float  # s to the target, or to the last point where it is never reached
    distance: float
    changes: bool
    change_speed: float
    change_time: float  # s, when the change begins
    pause: float
    slips: bool
    charge: float | None = None  # C from the pack
    heat: float | None = None  # J in the motors


def names(d: Drive) -> tuple[str, ...]:
    """What the gears are called."""
    return ("low", "direct") if len(d.gears) == 2 else ("fixed gear",)


def pull_case(d: Drive, *, start_torque: float, at_speed: float = 50 / 3.6) -> PullCase:
    """The curves and figures of one design (not of columns)."""
    level = d.shaft_speed
    curves, tops = [], []
    for gear, name in enumerate(names(d)):
        ratio = float(d.gears[gear] * d.final_drive_ratio / d.wheel_radius)
        speed = level / ratio
        through = d.gear_efficiencies[gear] * d.final_drive_efficiency
        steady = np.asarray(d.torque) * ratio * through
        curves.append(GearCurve(name, speed, steady, _moving(d, gear, speed)))
        tops.append(top_speed(speed, pull=steady, load=resistance(d, speed)))
    grip = float(_grip(d, 0.0))
    force = tractive_effort(
        start_torque, gear_ratio=d.gears[0], final_drive_ratio=d.final_drive_ratio, wheel_radius=d.wheel_radius,
        efficiency=d.gear_efficiencies[0] * d.final_drive_efficiency,
    )  # fmt: skip
    speed = np.linspace(0.0, max(float(each.speed[-1]) for each in curves), 120)
    road = {grade: _road(d, speed, grade) for grade in GRADES}
    top = max(tops, key=lambda each: float(each.speed))
    return PullCase(
        gears=tuple(curves), speed=speed, road=road, grip=grip, start=_finite(_steepest(d, float(force), 0.0)),
        at_speed=at_speed,
        climb=_climb(d, curves, at_speed), top=top, rotating=_rotating(d),
        spins=bool(pull(d, 0, speed=np.zeros(1), torque=np.asarray(d.torque)[:1]).slips[0]),
    )  # fmt: skip


def _moving(d: Drive, gear: int, speed: Any) -> Any:
    """Force at the tyre while accelerating on the level, whatever the grip."""
    return pull(dataclasses.replace(d, grip=None), gear, speed=speed, torque=np.asarray(d.torque)).tyre_force


def _road(d: Drive, speed: Any, grade: float) -> Any:
    return resistance(dataclasses.replace(d, grade=grade), speed)


def _grip(d: Drive, grade: float) -> Any:
    return grip_force(
        d.mass, grip=2.0 if d.grip is None else d.grip, driven_axle=d.driven_axle, rear_axle_share=d.rear_axle_share,
        wheelbase=d.wheelbase, cg_height=d.cg_height, grade=grade, rolling_coefficient=d.rolling_coefficient,
    )  # fmt: skip


def _steepest(d: Drive, force: float, speed: float) -> Steepest:
    rolling = d.rolling_coefficient + d.rolling_speed_term * speed
    air = d.density / 2 * d.drag_coefficient * d.frontal_area * speed**2
    return steepest_grade(
        force, mass=d.mass, grip=2.0 if d.grip is None else d.grip, driven_axle=d.driven_axle, air=air,
        rear_axle_share=d.rear_axle_share, wheelbase=d.wheelbase, cg_height=d.cg_height, rolling_coefficient=rolling,
    )  # fmt: skip


def _finite(found: Steepest) -> Steepest:
    """A pull of more than the weight has no steepest grade; a picture counts it as ENDLESS."""
    clipped = (float(np.minimum(side, ENDLESS)) for side in (found.grade, found.by_pull, found.by_grip))
    return Steepest(*clipped)


def _climb(d: Drive, curves: list[GearCurve], speed: float) -> float:
    held = [float(np.interp(speed, c.speed, c.steady, right=0.0)) for c in curves]
    return float(_finite(_steepest(d, max(held), speed)).grade)


def _rotating(d: Drive) -> RotatingMass:
    return rotating_mass(
        d.input_inertia, gear_ratio=d.gears[0], final_drive_ratio=d.final_drive_ratio, wheel_radius=d.wheel_radius,
        propeller_inertia=d.propeller_inertia, wheel_inertia=d.wheel_inertia, driven_axle=d.driven_axle,
        gear_efficiency=d.gear_efficiencies[0], final_drive_efficiency=d.final_drive_efficiency,
    )  # fmt: skip


def run_case(d: Drive, *, speed: float, change_speed: float | None = None) -> RunCase:
    """One run-up, point by point, as far as it gets."""
    run = run_up(d, speed=speed, change_speed=change_speed)
    time, speeds, rate = [], [], []
    begun, changed = 0.0, -1.0
    for number, leg in enumerate(run.legs):
        moving = np.concatenate([[True], np.diff(leg.speed) > 0])
        if number and not (moving[1:].any() and np.isfinite(begun)):
            continue
        if number:
            changed = begun
            begun += float(d.change_time)
        first = int(np.argmax(moving[1:])) if moving[1:].any() else 0
        keep = np.flatnonzero(moving & (np.arange(len(moving)) >= first))
        keep = np.unique(np.concatenate([[first], keep]))
        keep = keep[np.isfinite(leg.time[keep])]
        time.append(leg.time[keep] + begun)
        speeds.append(leg.speed[keep])
        rate.append(leg.acceleration[keep])
        begun += float(leg.time[-1])
    reached = bool(np.isfinite(run.time))
    return RunCase(
        time=np.concatenate(time), speed=np.concatenate(speeds), acceleration=np.concatenate(rate), target=speed,
        reached=reached, total=float(run.time) if reached else float(time[-1][-1]), changes=changed >= 0,
        distance=float(run.distance) if reached else 0.0, change_speed=float(run.change_speed) if changed >= 0 else 0.0,
        change_time=changed, pause=float(d.change_time) if changed >= 0 else 0.0, slips=bool(run.slips),
        charge=_known(run.charge, reached), heat=_known(run.heat, reached),
    )  # fmt: skip


def _known(value: Any, reached: bool) -> float | None:
    return float(value) if reached and value is not None else None


def coasting(d: Drive, speed: float, *, time: float) -> float:
    """Speed [m/s] left after rolling for a time with the box between gears."""
    return float(coast(d, speed, time=time)[0])

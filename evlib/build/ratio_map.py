"""The ratio map: every pair of low ratio and final drive tried at once, and one design read whole."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.build.gears import drive, gear_ratios, has, start_torque
from evlib.build.line import frame_loss, motor_current_for
from evlib.build.run_up import Drive, pull, resistance, run_up
from evlib.build.view import View
from evlib.gearing.traction import steepest_grade, top_speed, tractive_effort
from evlib.ground.quantity import Array, result
from evlib.motors import heat

BLOCK = 1000  # designs worked out at once: as many as stay in the processor's cache
CLIMB_TIME = 3600.0  # s; the hour's climb


@result
class Designs:
    """What each design does: time to the target speed [s], steepest start [1], top speed [m/s], hot winding [K]."""

    time: Array
    start: Array
    top: Array
    winding: Array | None


@result
class RatioMap:
    """Designs on a grid: rows are low ratios, columns are final drives. ``targets`` are the build's, where known."""

    low: Array
    final: Array
    designs: Designs
    targets: dict[str, float]

    @property
    def feasible(self) -> Any:
        """Where every target that is known is met."""
        good = np.ones_like(self.designs.time, dtype=bool)
        for spare in self.spare.values():
            good &= spare >= 0
        return good

    @property
    def spare(self) -> dict[str, Array]:
        """Relative margin against each known target; 0 on its boundary, negative beyond it."""
        found, d, wanted = {}, self.designs, self.targets
        if "time" in wanted:
            found["time"] = 1 - d.time / wanted["time"]
        if "start" in wanted:
            found["start"] = d.start / wanted["start"] - 1
        if "top" in wanted:
            found["top"] = d.top / wanted["top"] - 1
        if "winding" in wanted and d.winding is not None:
            found["winding"] = (wanted["winding"] - d.winding) / 100.0
        return found


@result
class MapPicture:
    """What is drawn of a map: relative margins and times, cut off where they no longer matter."""

    low: Array
    final: Array
    time: Array
    spare: dict[str, Array]
    worst: Array  # the smallest margin; the shaded region is where it is not negative
    share: float  # of the map that meets every target


@result
class MapCase:
    """A map with one design in question, and what that design does; ``winding`` is None without a hot limit."""

    picture: MapPicture
    targets: dict[str, float]
    low: float
    final: float
    reached: bool
    time: float
    start: float
    governs: str
    top: float
    climbs: bool
    winding: float | None
    speed: float  # m/s, the target of the run-up
    changes: bool  # whether it changes gear on the way there, by the rule of equal acceleration
    climb: tuple[float, float]  # grade [1] and speed [m/s] of the hour's climb


def picture(found: RatioMap) -> MapPicture:
    """A map made ready to draw: margins within 9 either way, times up to 999 s."""
    spare = {
        name: np.clip(np.nan_to_num(each, posinf=9.0, neginf=-9.0), -9.0, 9.0) for name, each in found.spare.items()
    }
    worst = np.minimum.reduce(list(spare.values())) if spare else np.ones_like(found.designs.time)
    return MapPicture(
        found.low, found.final, np.minimum(found.designs.time, 999.0), spare, worst, float(np.mean(found.feasible))
    )


Hot = Callable[[Any, Any], Any]  # torque at the gearbox input [N m], its speed [rad/s] -> winding temperature [K]


def designs(d: Drive, *, low: Any, final: Any, start: float, speed: float, hot: Hot | None = None,
            climb: tuple[float, float] = (0.0, 0.0)) -> Designs:  # fmt: skip
    """Work out columns of low ratios and final drives on one vehicle. ``climb`` is (grade, speed) of the hour's climb.

    A low ratio of 1 is a vehicle with no change of gear. The change-over is by the rule of equal acceleration.
    """
    low, final = (np.asarray(side, dtype=float).ravel() for side in np.broadcast_arrays(low, final))
    d = dataclasses.replace(d, pack_current=None, heat=None)  # not asked for on a map
    if len(low) > BLOCK:  # every other point of the motors' curve is enough for a map: see tests/benchmarks
        d = dataclasses.replace(d, shaft_speed=d.shaft_speed[::2], torque=d.torque[::2])
    blocks = [
        _block(dataclasses.replace(d, gears=(low[k : k + BLOCK], d.gears[-1]), final_drive_ratio=final[k : k + BLOCK]),
               start, speed, hot, climb)
        for k in range(0, len(low), BLOCK)
    ]  # fmt: skip
    winding = None if hot is None else np.concatenate([np.asarray(b.winding) for b in blocks])
    time, steepest, top = (np.concatenate([getattr(b, name) for b in blocks]) for name in ("time", "start", "top"))
    return Designs(time, steepest, top, winding)


def _block(d: Drive, start: float, speed: float, hot: Hot | None, climb: tuple[float, float]) -> Designs:
    time = run_up(d, speed=np.full(np.size(d.gears[0]), speed)).time
    force = tractive_effort(
        start, gear_ratio=d.gears[0], final_drive_ratio=d.final_drive_ratio, wheel_radius=d.wheel_radius,
        efficiency=d.gear_efficiencies[0] * d.final_drive_efficiency,
    )  # fmt: skip
    steepest = steepest_grade(
        force, mass=d.mass, grip=2.0 if d.grip is None else d.grip, driven_axle=d.driven_axle, wheelbase=d.wheelbase,
        rear_axle_share=d.rear_axle_share, cg_height=d.cg_height, rolling_coefficient=d.rolling_coefficient,
    )  # fmt: skip
    top = np.zeros_like(time)
    for gear in (0, 1):
        ratio = np.multiply(d.gears[gear], d.final_drive_ratio) / d.wheel_radius
        speeds = d.shaft_speed / ratio[:, None]
        spare = pull(d, gear, speed=speeds, torque=d.torque).acceleration
        top = np.maximum(top, np.asarray(top_speed(speeds, pull=spare, load=np.zeros_like(spare)).speed))
    winding = None if hot is None else climb_winding(d, hot=hot, grade=climb[0], speed=climb[1])
    return Designs(np.asarray(time), np.asarray(steepest.grade), top, winding)


def climb_winding(d: Drive, *, hot: Hot, grade: float, speed: float) -> Any:
    """Winding temperature [K] after the hour's climb in the cooler of the gears; infinite where none can do it."""
    hill = dataclasses.replace(d, grade=grade)
    load = resistance(hill, np.full((np.size(d.final_drive_ratio), 1), speed))[:, 0]
    coolest = np.full(np.shape(load), np.inf)
    for gear, ratio in enumerate(d.gears):
        through = np.asarray(d.gear_efficiencies[gear] * d.final_drive_efficiency)
        whole = np.multiply(ratio, d.final_drive_ratio)
        torque = load * d.wheel_radius / (whole * through)
        shaft = speed * whole / d.wheel_radius
        can = shaft <= d.shaft_speed[-1]
        can &= torque <= np.interp(shaft, d.shaft_speed, d.torque)
        found = hot(np.where(can, torque, 0.0), np.where(can, shaft, 0.0))
        coolest = np.minimum(coolest, np.where(can, found, np.inf))
    return coolest


def hour_climb(b: View) -> Hot:
    """The winding temperature of one series machine after an hour at a torque and speed of the line, from 35 °C or so.

    The build's hottest air, blower on; the two-lump body of the motors topic.
    """
    m = b.machine

    def hot(torque: Any, speed: Any) -> Any:
        current = motor_current_for(b, torque, speed)
        return heat.temperatures_after(
            CLIMB_TIME, current=current, winding_resistance=m.winding_resistance,
            other_loss=frame_loss(b, current, speed), air_temperature=b.targets.hottest_air,
            start_winding=b.targets.hottest_air, start_frame=b.targets.hottest_air,
            winding_heat_capacity=m.winding_heat_capacity, frame_heat_capacity=m.frame_heat_capacity,
            winding_conductance=m.winding_conductance, frame_conductance=m.frame_conductance,
        ).winding  # fmt: skip

    return hot


def ratio_map(b: View, *, low: Any = None, final: Any = None, mass: float | None = None) -> RatioMap:
    """The map of one build, with its targets as far as known; low ratios 1 to 3, final drives 2.5 to 6 unless given."""
    low = np.linspace(1.0, 3.0, 41) if low is None else np.asarray(low, dtype=float)
    final = np.linspace(2.5, 6.0, 41) if final is None else np.asarray(final, dtype=float)
    d = two_speed(b)
    d = d if mass is None else dataclasses.replace(d, mass=mass)
    rows, columns = np.meshgrid(low, final, indexing="ij")
    found = designs(d, low=rows, final=columns, **climb_arguments(b))
    shape = rows.shape
    winding = None if found.winding is None else found.winding.reshape(shape)
    grid = Designs(found.time.reshape(shape), found.start.reshape(shape), found.top.reshape(shape), winding)
    return RatioMap(low, final, grid, map_targets(b))


def two_speed(b: View) -> Drive:
    """The build's drive as one with two gears, also where it has a fixed reduction (low ratio 1 then means that)."""
    d = drive(b)
    if len(d.gears) == 2:
        return d
    return dataclasses.replace(d, gears=(1.0, 1.0), gear_efficiencies=(1.0, 1.0))


def climb_arguments(b: View) -> dict[str, Any]:
    """What :func:`designs` needs from a build beside the drive."""
    series = b.machine.kind == "series"
    return {
        "start": float(start_torque(b)),
        "speed": float(b.targets.speed),
        "hot": hour_climb(b) if series else None,
        "climb": (float(b.targets.climb_grade), float(b.targets.climb_speed)) if series else (0.0, 0.0),
    }


def map_targets(b: View) -> dict[str, float]:
    """The build's targets, as far as it states them."""
    wanted = {}
    for name, field in (("time", "time_to_speed"), ("start", "start_grade"), ("top", "top_speed")):
        if b.targets.known(field):
            wanted[name] = float(getattr(b.targets, field))
    if b.machine.kind == "series" and b.machine.known("winding_limit"):
        wanted["winding"] = float(b.machine.winding_limit)
    return wanted


def side_by_side(b: View) -> dict[str, Designs]:
    """One speed, two, or direct: the same vehicle with its own two gears, held in low, and held in direct."""
    d = two_speed(b)
    low = float(np.asarray(gear_ratios(b).low)) if has(b, "gearbox") else 1.0
    final, given = float(b.final_drive.final_drive_ratio), climb_arguments(b)
    only_low = dataclasses.replace(
        d, gears=(low, low), gear_efficiencies=(d.gear_efficiencies[0],) * 2, change_time=0.0
    )  # fmt: skip
    only_direct = dataclasses.replace(d, gear_efficiencies=(d.gear_efficiencies[1],) * 2, change_time=0.0)
    return {
        "two gears": designs(d, low=low, final=final, **given),
        "one gear, as low": designs(only_low, low=low, final=final, **given),
        "direct only": designs(only_direct, low=1.0, final=final, **given),
    }

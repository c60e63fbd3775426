"""The tables of the gearing lesson: a build's gears, what they hold, what turns, what a change of gear costs."""

from __future__ import annotations

import functools
import html
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build import gears
from evlib.build.cycle import CYCLES, Cycle, drive_cycle, named_cycle
from evlib.build.launch import held_multiples
from evlib.build.line import line_envelope, torque_at_rest
from evlib.build.ratio_map import Designs, ratio_map, side_by_side
from evlib.build.run_up import change_by_rule, change_by_search, run_up
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.gearing import shift
from evlib.gearing.coast_down import CoastFit, fit, read_run
from evlib.gearing.driveline import joint_ripple
from evlib.gearing.log import read_log
from evlib.gearing.planetary import Solution, solve, two_sun_set
from evlib.ground.folder import folder
from evlib.ground.road import road_load
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.panels.gearing import pull_panel, run_panel


def _of_a_two_speed_box(make: Callable[..., Shown]) -> Callable[..., Shown]:
    """On a build without a gearbox a table becomes one sentence, so that the lesson runs on."""

    @functools.wraps(make)
    def table_or_sentence(build: Build, **more: Any) -> Shown:
        if gears.has(view(build), "gearbox"):
            return make(build, **more)
        said = f"{build.name} has a fixed reduction: there is no change of gear, and this table does not apply."
        return Shown(said, f"<p>{html.escape(said)}</p>")

    return table_or_sentence


def view(build: Build) -> View:
    """The build as calculations see it."""
    return View(build.parts)


def full_torque(build: Build) -> float:
    """All that the motors give at rest, at the gearbox input [N m]."""
    return float(np.asarray(torque_at_rest(view(build))))


def road_table(build: Build, *, speeds: tuple[float, ...] = (0.0, 50 / 3.6, 100 / 3.6)) -> Shown:
    """Road load at some speeds [m/s] on the level, on 10 % and on 20 %."""
    v = view(build).vehicle
    rows = []
    for speed in speeds:
        load = [
            float(np.asarray(road_load(
                speed, mass=v.mass, rolling_coefficient=v.rolling_coefficient, grade=grade,
                rolling_speed_term=v.rolling_speed_term, drag_coefficient=v.drag_coefficient,
                frontal_area=v.frontal_area,
            )))
            for grade in (0.0, 0.1, 0.2)
        ]  # fmt: skip
        rows.append((both(speed, "m/s"), *(both(force, "N") for force in load)))
    return table(("speed", "level", "10 %", "20 %"), rows)


def solutions(build: Build) -> dict[str, Solution]:
    """The build's two-sun set in low, direct and reverse, for one newton-metre and one turn at the input."""
    box = view(build).gearbox
    train = two_sun_set(
        box.input_sun_teeth, low_sun=box.low_sun_teeth, short_planet=box.short_planet_teeth,
        long_planet=box.long_planet_teeth, ring=box.ring_teeth,
    )  # fmt: skip
    ends: dict[str, Any] = {"driven": box.input_member, "output": box.output_member}
    return {
        "low": solve(train, held=(box.low_held_member,), **ends),
        "direct": solve(train, locked=((box.input_member, box.direct_locked_member),), **ends),
        "reverse": solve(train, held=(box.reverse_held_member,), **ends),
    }


@_of_a_two_speed_box
def members_table(build: Build) -> Shown:
    """Each member's turns for one turn of the input, in each gear."""
    found = solutions(build)
    names = list(found["low"].speed)
    rows = [(name, *(f"{float(np.asarray(gear.speed[name])):+.3f}" for gear in found.values())) for name in names]
    return table(("turns for one of the input", *found), rows)


@_of_a_two_speed_box
def holds_table(build: Build) -> Shown:
    """What low band, direct clutch and reverse clutch hold: multiples of input torque, and at full torque."""
    held, torque = held_multiples(view(build)), full_torque(build)
    ratios = gears.gear_ratios(view(build))
    rows = []
    for name, multiple, ratio in (("low band", held.low, ratios.low), ("direct clutch", held.direct, 1.0),
                                  ("reverse clutch", held.reverse, -np.asarray(ratios.reverse))):  # fmt: skip
        times = float(np.asarray(multiple))
        rows.append((name, f"{float(np.asarray(ratio)):+.3f}", f"{times:.3f}", both(times * torque, "N m")))
    return table(("held or passed on by", "ratio", "times input torque", "at full torque"), rows)


def spinning_table(build: Build) -> Shown:
    """What turns, as kilograms at the tyre, in the lowest gear and in direct."""
    b = view(build)
    low = gears.low_rotating(b)
    square = float(np.asarray(gears.gear_ratios(b).low)) ** 2
    share = float(np.asarray(gears.geared_efficiency(b)))
    parts = {name: float(np.asarray(getattr(low, name)))
             for name in ("rotors", "propeller", "driven_wheels", "dragged", "driven")}  # fmt: skip
    rows = [("rotors and gearbox input, in the lowest gear", both(parts["rotors"], "kg"))]
    if gears.has(b, "gearbox"):
        in_direct = parts["rotors"] / square / share * b.gearbox.direct_efficiency
        rows.append(("the same, in direct", both(in_direct, "kg")))
    rows += [
        ("propeller shaft", both(parts["propeller"], "kg")),
        ("driven wheels", both(parts["driven_wheels"], "kg")),
        ("wheels that roll along", both(parts["dragged"], "kg")),
        ("spun up before the driven tyres, in the lowest gear", both(parts["driven"], "kg")),
        ("all that turns, in the lowest gear", both(parts["driven"] + parts["dragged"], "kg")),
        ("the vehicle itself", both(float(b.vehicle.mass), "kg")),
    ]
    return table(("what", "as mass at the tyre"), rows)


@_of_a_two_speed_box
def shift_table(build: Build) -> Shown:
    """A change up at the build's change-over: rotor speeds, heat with current cut and left on, over-speeds."""
    b = view(build)
    final, radius, inertia = b.final_drive.final_drive_ratio, b.vehicle.wheel_radius, gears.input_inertia(b)
    speed = gears.change_speed(b)
    given: dict[str, Any] = {"low_ratio": gears.gear_ratios(b).low, "final_drive_ratio": final,
                             "wheel_radius": radius, "input_inertia": inertia}  # fmt: skip
    cut = shift.upshift(speed, clutch_torque=1.0, **given)
    torque = float(np.asarray(line_envelope(b, cut.before).torque))
    clutch = 1.5 * torque
    left = shift.upshift(speed, clutch_torque=clutch, motor_torque=torque, **given)
    over = cut.before + shift.left_on(torque, input_inertia=inertia, time=0.15)
    down = shift.downshift_speed(
        b.gearbox.downshift_speed, low_ratio=gears.gear_ratios(b).low, final_drive_ratio=final, wheel_radius=radius
    )
    rows = [
        ("rotors before the change up", both(float(cut.before), "rad/s")),
        ("rotors after it", both(float(cut.after), "rad/s")),
        ("heat in the clutch, current cut", both(float(cut.energy), "J")),
        ("torque of the motors there, full current", both(torque, "N m")),
        ("pull of a clutch that is half as strong again, felt at the gearbox input", both(clutch, "N m")),
        ("heat in that clutch, full current left on", both(float(left.energy), "J")),
        ("rotors after 150 ms of left-on current, between gears", both(float(over), "rad/s")),
        (f"rotors after a change down at {both(float(b.gearbox.downshift_speed), 'm/s')}", both(float(down), "rad/s")),
        ("the motors' limit", both(float(b.machine.speed_limit), "rad/s")),
    ]
    return table(("what", "value"), rows)


@_of_a_two_speed_box
def change_table(build: Build, *, speed: float | None = None) -> Shown:
    """Run-up time to a speed [m/s], or to the target, for three change-overs: the build's, by rule, by search."""
    b = view(build)
    d, target = gears.drive(b), float(b.targets.speed) if speed is None else speed
    ways = (
        ("the build's setting", float(np.asarray(gears.change_speed(b)))),
        ("by rule: equal acceleration", float(np.asarray(change_by_rule(d)))),
        ("by search", change_by_search(d, speed=target)),
    )
    rows = []
    for name, speed in ways:
        run = run_up(d, speed=target, change_speed=speed)
        when = both(speed, "m/s") if speed < target else "not before the target"
        rows.append((name, when, f"{float(np.asarray(run.time)):.4f} s"))
    return table(("change-over", "at", f"time to {both(target, 'm/s')}"), rows)


def gears_compared(build: Build) -> Shown:
    """One gear, two, or direct, side by side on the same vehicle."""
    b = view(build)
    rows = [(name, *_design_cells(found)) for name, found in side_by_side(b).items()]
    climb = (
        f"winding after an hour of {100 * float(b.targets.climb_grade):.0f} % at {both(b.targets.climb_speed, 'm/s')}"
    )
    return table(("gears", f"time to {both(b.targets.speed, 'm/s')}", "steepest start", "top speed", climb), rows)


def _design_cells(found: Designs) -> tuple[str, ...]:
    time, start, top = (float(x[0]) for x in (found.time, found.start, found.top))
    hot = "" if found.winding is None else float(found.winding[0])
    return (
        f"{time:.1f} s" if np.isfinite(time) else "not reached",
        f"{100 * start:.0f} %",
        both(top, "m/s"),
        hot if isinstance(hot, str) else (both(hot, "K", kind="reading") if np.isfinite(hot) else "cannot"),
    )


def ripple_table(angles: tuple[float, ...] = (1, 3, 5, 8)) -> Shown:
    """Speed ripple of one universal joint at some angles in degrees."""
    rows = [
        (f"{angle:.0f}°", f"{100 * float(joint_ripple(float(np.radians(angle))).ripple):.2f} %") for angle in angles
    ]
    return table(("joint angle", "speed ripple, twice a turn"), rows)


def say_pull(build: Build, **changes: float) -> str:
    """The pull panel's sentence at changed values, e.g. ``final_drive_ratio=4.6``."""
    panel = pull_panel(build)
    return panel.say(panel.compute(**{**panel.start, **changes})).sentence


def say_run_up(build: Build, **changes: float) -> str:
    """The run-up panel's sentence at changed values."""
    panel = run_panel(build)
    return panel.say(panel.compute(**{**panel.start, **changes})).sentence


def say_map(build: Build, *, mass: float) -> str:
    """How much of the map each target leaves, at the build's mass and at another [kg]."""
    names = {"time": "time to speed", "start": "steepest start", "top": "top speed", "winding": "hour's climb"}
    before, after = (ratio_map(view(build), mass=m) for m in (None, mass))
    parts = [
        f"{names[name]} {100 * float(np.mean(before.spare[name] >= 0)):.0f} % to "
        f"{100 * float(np.mean(after.spare[name] >= 0)):.0f} %"
        for name in before.spare
    ]
    whole = [f"{100 * float(np.mean(found.feasible)):.0f} %" for found in (before, after)]
    return f"The shaded region goes from {whole[0]} of the map to {whole[1]}. Target by target: {', '.join(parts)}."


def coast_down(build: Build, *, out: str = "coast_down_out.csv", back: str = "coast_down_back.csv",
               air: bool = True) -> CoastFit:  # fmt: skip
    """Fit the two logged runs of the course's data on this build's mass; or your own, by path.

    ``air=False`` fits the simpler model in which drag does not depend on speed.
    """
    b = view(build)
    runs = [read_run(_text(name), direction=way) for name, way in ((out, 1.0), (back, -1.0))]
    wheels = float(b.vehicle.wheel_inertia) / float(b.vehicle.wheel_radius) ** 2
    propeller = float(b.final_drive.propeller_inertia) * float(
        b.final_drive.final_drive_ratio / b.vehicle.wheel_radius
    ) ** 2  # fmt: skip
    given: dict[str, Any] = {"mass": float(b.vehicle.mass), "rotating": wheels + propeller, "density": 1.2}
    if not air:
        return fit(runs, unknown=("rolling_coefficient", "grade"), known={"drag_area": 0.0}, **given)
    return fit(runs, rolling_speed_term=float(b.vehicle.rolling_speed_term), **given)


def _text(name: str) -> str:
    path = next((place for place in (Path(name), folder() / name, CYCLES / name) if place.is_file()), None)
    if path is None:
        raise ValueError(f"{name}: there is no such log")
    return path.read_text(encoding="utf-8")


def drive(build: Build, name: str) -> Cycle:
    """Drive a cycle that comes with the course, ``urban``, ``village`` or ``ridge``, or a log of your own by path."""
    trace = read_log(_text(name)) if name.endswith(".csv") else named_cycle(name)
    return drive_cycle(view(build), trace)


def cycles_table(build: Build, *names: str) -> Shown:
    """Cycles side by side."""
    rows = []
    for name in names:
        found = drive(build, name)
        hot = "" if found.winding is None else both(found.winding, "K", kind="reading")
        follows = "yes" if found.follows else f"short by {both(found.worst_short, 'm/s')} at {found.worst_time:.0f} s"
        mean = found.driven.distance / float(found.driven.time[-1])
        rows.append((name, f"{found.driven.distance / 1000:.1f} km", both(mean, "m/s"),
                     f"{found.per_metre / 3.6:.0f} Wh/km", f"{found.range / 1000:.0f} km", hot, follows))  # fmt: skip
    return table(("cycle", "way", "mean speed", "energy", "range", "windings at its end", "follows"), rows)

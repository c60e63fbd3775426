"""What the learner moves in the gearing lesson: pull against road, the run-up, the ratio map, tooth counts."""

from __future__ import annotations

import dataclasses
from functools import lru_cache
from typing import Any

import numpy as np

from evlib.build import gears
from evlib.build.pull_case import ENDLESS, PullCase, RunCase, pull_case, run_case
from evlib.build.ratio_map import (
    MapCase,
    MapPicture,
    climb_arguments,
    designs,
    map_targets,
    picture,
    ratio_map,
    two_speed,
)
from evlib.build.run_up import Drive, change_by_rule
from evlib.build.schema import Build, SpeedTarget
from evlib.build.view import View
from evlib.figures import gearing as figures
from evlib.gearing import quantities as q
from evlib.gearing.set_picture import SetPicture, set_picture
from evlib.gearing.traction import steepest_grade
from evlib.ground import units
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity

PERCENT = "percent"
NOT_REACHED = "not reached"


def _drive(b: View) -> Drive:
    return gears.drive(b)


def _ratios(d: Drive, low: float | None) -> tuple[Any, ...]:
    return d.gears if low is None or len(d.gears) == 1 else (low, d.gears[1])


def _low_control(b: View) -> tuple[Any, ...]:
    """The low ratio's control, where the build has a change of gear."""
    if not gears.has(b, "gearbox"):
        return ()
    return (quantity("gearbox.low_ratio", q.LowRatio, float(np.asarray(gears.gear_ratios(b).low))),)


def _final_control(d: Drive) -> Any:
    return quantity("final_drive.final_drive_ratio", q.FinalDriveRatio, float(d.final_drive_ratio))


def _number(value: Any) -> float | None:
    return None if value is None else float(value)


# --- pull against road ----------------------------------------------------------------------------------------------


def pull_panel(build: Build) -> Panel:
    """Pull against road: final drive, low ratio, mass and grip move."""
    b = View(build.parts)
    d, torque = _drive(b), float(np.asarray(gears.start_torque(b)))
    vehicle = build.parts.vehicle
    assert vehicle is not None

    def compute(*, final_drive_ratio: float, mass: float, grip: float, low_ratio: float | None = None) -> PullCase:
        changed = dataclasses.replace(
            d, final_drive_ratio=final_drive_ratio, mass=mass, grip=grip, gears=_ratios(d, low_ratio)
        )
        return pull_case(changed, start_torque=torque)

    return Panel(
        id="gearing.pull",
        title="Pull against road",
        controls=(
            _final_control(d),
            *_low_control(b),
            quantity("vehicle.mass", q.Mass, float(d.mass)),
            quantity("vehicle.grip", q.Grip, _number(vehicle.grip)),
        ),
        compute=compute,
        draw=figures.pull_against_road,
        twin=pull_twin,
        room=0.27,
        size=(6.6, 4.0),
        probe="final_drive_ratio",
    )


def pull_twin(result: PullCase, *, system: str = "SI") -> Twin:
    """The picture of pull against road in words."""
    top, start = float(result.top.speed), float(result.start.grade)
    said = units.show(top, "m/s", system=system)
    pull = units.show(float(result.gears[0].steady[0]), "N", system=system, digits=4)
    grip = units.show(result.grip, "N", system=system, digits=4)
    moving = units.show(float(result.gears[0].moving[0]), "N", system=system, digits=4)
    spin = "the driven tyres spin at full current" if result.spins else "the driven tyres hold at full current"
    rows = (
        ("pull at rest, steady", Amount(float(result.gears[0].steady[0]), "N", digits=4)),
        ("at the tyre while accelerating", Amount(float(result.gears[0].moving[0]), "N", digits=4)),
        ("grip, level", Amount(result.grip, "N", digits=4)),
        ("steepest start, pull alone", _grade(float(result.start.by_pull))),
        ("steepest start, grip alone", _grade(float(result.start.by_grip))),
        ("steepest climb at 50 km/h", _grade(result.climb)),
        ("top speed", Amount(top, "m/s")),
        ("spun up before the driven tyres, as mass", Amount(float(result.rotating.driven), "kg")),
        ("all that turns, as mass", Amount(float(result.rotating.driven + result.rotating.dragged), "kg")),
    )
    names = " and ".join(gear.name for gear in result.gears)
    return Twin(
        alt=f"Force over road speed. Pull in {names} falls with speed; road load at four grades rises; the grip is "
        f"level at {grip}. Pull at rest is {pull}.",
        sentence=f"It starts on {100 * start:.0f} % ({result.start.governs} governs) and tops at {said} "
        f"({result.top.limited_by}); {spin}: {moving} at the tyre, {grip} of grip.",
        table=Table(("what", "value"), rows),
    )


def _grade(value: float) -> Amount | str:
    return Amount(100 * value, PERCENT) if value < ENDLESS else "any"


# --- run-up ---------------------------------------------------------------------------------------------------------


def run_panel(build: Build) -> Panel:
    """The run-up: target speed, change-over, pause, ratios and mass move."""
    b = View(build.parts)
    d = _drive(b)
    boxed = gears.has(b, "gearbox")
    shift: tuple[Any, ...] = ()
    if boxed:
        shift = (
            quantity("gearbox.upshift_speed", q.UpshiftSpeed, b.gearbox.upshift_speed),
            quantity("gearbox.change_time", q.ChangeTime, float(d.change_time)),
        )

    def compute(*, speed: float, mass: float, final_drive_ratio: float, low_ratio: float | None = None,
                upshift_speed: float | None = None, change_time: float = 0.0) -> RunCase:  # fmt: skip
        changed = dataclasses.replace(d, mass=mass, final_drive_ratio=final_drive_ratio, change_time=change_time,
                                      gears=_ratios(d, low_ratio))  # fmt: skip
        return run_case(changed, speed=speed, change_speed=upshift_speed)

    return Panel(
        id="gearing.run_up",
        title="Run-up",
        controls=(
            quantity("targets.speed", SpeedTarget, float(b.targets.speed)),
            *shift,
            *_low_control(b),
            _final_control(d),
            quantity("vehicle.mass", q.Mass, float(d.mass)),
        ),
        compute=compute,
        draw=figures.run_up,
        twin=run_twin,
        room=0.14,
        probe="mass",
    )


def run_twin(result: RunCase, *, system: str = "SI") -> Twin:
    """The picture of the run-up in words."""
    target = units.show(result.target, "m/s", system=system)
    changes = result.changes
    if not result.reached:
        return _never(result, target, system)
    change = units.show(result.change_speed, "m/s", system=system) if changes else "no change"
    grip = "grip governs at first" if result.slips else "grip never governs"
    rows: tuple[tuple[Any, ...], ...] = (
        ("time", Amount(result.total, "s")),
        ("way", f"{result.distance:.0f} m"),
        ("change at", change),
        ("hardest acceleration", Amount(float(result.acceleration.max()), "m/s2")),
        ("acceleration at the end", Amount(float(result.acceleration[-1]), "m/s2")),
    )
    if result.charge is not None:
        rows += (("charge from the pack", f"{result.charge / 3600:.2f} Ah"),)
    if result.heat is not None:
        rows += (("heat in the motors", Amount(result.heat, "J")),)
    words = f"with one change at {change}" if changes else "without a change of gear"
    return Twin(
        alt=f"Speed over time: from rest to {target} in {result.total:.1f} s, {words}.",
        sentence=f"From rest to {target} takes {result.total:.2f} s and {result.distance:.0f} m, {words}; {grip}.",
        table=Table(("what", "value"), rows),
    )


def _never(result: RunCase, target: str, system: str) -> Twin:
    best = float(result.speed.max())
    said = units.show(best, "m/s", system=system)
    rows = (("time", NOT_REACHED), ("highest speed in this run", Amount(best, "m/s")))
    return Twin(
        alt=f"Speed over time: it rises to {said} and does not reach {target}.",
        sentence=f"It never reaches {target}: pull, or the motors' speed limit, ends at {said}.",
        table=Table(("what", "value"), rows),
    )


# --- ratio map ------------------------------------------------------------------------------------------------------


def map_panel(build: Build, *, points: int = 100, coarse_points: int = 22) -> Panel:
    """The ratio map: the point moves over ten thousand designs; the mass moves the map itself."""
    b = View(build.parts)
    d, given, targets = two_speed(b), climb_arguments(b), map_targets(b)

    @lru_cache(maxsize=6)
    def grid(mass: float, count: int) -> MapPicture:
        low, final = np.linspace(1.0, 3.0, count), np.linspace(2.5, 6.0, count)
        return picture(ratio_map(b, low=low, final=final, mass=mass))

    def case(count: int, low: float, final: float, mass: float) -> MapCase:
        heavy = dataclasses.replace(d, mass=mass)
        one = designs(heavy, low=low, final=final, **given)
        force = given["start"] * low * final * d.gear_efficiencies[0] * d.final_drive_efficiency / d.wheel_radius
        steep = steepest_grade(
            float(force), mass=mass, grip=2.0 if d.grip is None else d.grip, driven_axle=d.driven_axle,
            rear_axle_share=d.rear_axle_share, wheelbase=d.wheelbase, cg_height=d.cg_height,
            rolling_coefficient=d.rolling_coefficient,
        )  # fmt: skip
        hot = 0.0 if one.winding is None else float(one.winding[0])
        time, climbs = float(one.time[0]), bool(np.isfinite(hot))
        return MapCase(
            picture=grid(mass, count), targets=targets, low=low, final=final, reached=bool(np.isfinite(time)),
            time=min(time, 999.0), start=min(float(one.start[0]), ENDLESS), governs=str(steep.governs),
            top=float(one.top[0]), climbs=climbs, winding=hot if one.winding is not None and climbs else None,
            speed=given["speed"], climb=given["climb"],
            changes=low > 1.0
            and change_by_rule(dataclasses.replace(heavy, gears=(low, d.gears[-1]), final_drive_ratio=final))
            < given["speed"],
        )  # fmt: skip

    def compute(*, low_ratio: float, final_drive_ratio: float, mass: float) -> MapCase:
        return case(points, low_ratio, final_drive_ratio, mass)

    def coarse(*, low_ratio: float, final_drive_ratio: float, mass: float) -> MapCase:
        return case(coarse_points, low_ratio, final_drive_ratio, mass)

    low = dataclasses.replace(_quantity(q.LowRatio), low=1.0, high=3.0, slider=(1.0, 3.0))
    final = dataclasses.replace(_quantity(q.FinalDriveRatio), low=2.5, high=6.0, slider=(2.5, 6.0))
    return Panel(
        id="gearing.ratio_map",
        title="Ratio map",
        controls=(
            quantity("gearbox.low_ratio", low, float(np.clip(np.asarray(d.gears[0]), 1.0, 3.0))),
            quantity("final_drive.final_drive_ratio", final, float(np.clip(d.final_drive_ratio, 2.5, 6.0))),
            quantity("vehicle.mass", q.Mass, float(d.mass)),
        ),
        compute=compute,
        coarse=coarse,
        coarse_note=f"{coarse_points} by {coarse_points} designs while you move",
        draw=figures.ratio_map,
        twin=map_twin,
        room=0.05,
        size=(6.0, 4.2),
        probe="mass",
    )


def _quantity(alias: Any) -> Any:
    from evlib.ground.quantity import quantity_of

    found = quantity_of(alias)
    assert found is not None
    return found


def map_twin(result: MapCase, *, system: str = "SI") -> Twin:
    """The ratio map in words: the design at the point, and how much of the map meets every target."""
    wanted, share = result.targets, result.picture.share
    speed, uphill = (units.show(value, "m/s", system=system) for value in (result.speed, result.climb[1]))
    change = "one change, at the best speed" if result.changes else "without a change of gear"

    def row(name: str, value: float, unit: str, target: str, *, least: bool, kind: str = "") -> tuple[Any, ...]:
        if target not in wanted:
            return (name, Amount(value, unit, kind), "no target", "")
        limit = wanted[target] * (100 if unit == PERCENT else 1)
        met = value >= limit if least else value <= limit
        return (name, Amount(value, unit, kind), Amount(limit, unit, kind), "met" if met else "missed")

    rows = [
        row(f"time to {speed}, {change}", result.time, "s", "time", least=False),
        row(f"steepest start ({result.governs} governs)", 100 * result.start, PERCENT, "start", least=True),
        row("top speed", result.top, "m/s", "top", least=True),
    ]
    if result.winding is not None:
        hill = f"winding after an hour of {100 * result.climb[0]:.0f} % at {uphill}, in the cooler gear"
        rows.append(row(hill, result.winding, "K", "winding", least=False, kind="reading"))
    if not result.reached:
        rows[0] = (rows[0][0], NOT_REACHED, *rows[0][2:])
    missed = [str(cells[0]).split(" (")[0].split(",")[0] for cells in rows if cells[3] == "missed"]
    if not result.climbs:
        missed.append("the hour's climb: no gear can hold it")
    verdict = "every target that is stated" if not missed else "all but: " + ", ".join(missed)
    return Twin(
        alt=f"Low ratio over final drive, with a line where each target is just met; {100 * share:.0f} % of the "
        f"designs meet all of them; the point is at {result.final:.2f} and {result.low:.2f}.",
        sentence=f"Low {result.low:.2f} with final drive {result.final:.2f} meets {verdict}; {100 * share:.0f} % of "
        f"the designs on the map meet every target.",
        table=Table(("what", "this design", "target", ""), tuple(rows)),
    )


# --- tooth counts (deep) --------------------------------------------------------------------------------------------


def teeth_panel(build: Build) -> Panel:
    """A two-sun set to scale: tooth counts, gear and the input's turn move."""
    box = build.parts.gearbox
    teeth = (("input_sun_teeth", q.InputSunTeeth), ("low_sun_teeth", q.LowSunTeeth),
             ("short_planet_teeth", q.ShortPlanetTeeth), ("long_planet_teeth", q.LongPlanetTeeth))  # fmt: skip
    planets = dataclasses.replace(_quantity(q.PlanetCount), slider=(2, 4))

    def compute(*, gear: Any, input_sun_teeth: float, low_sun_teeth: float, short_planet_teeth: float,
                long_planet_teeth: float, planet_count: float, turn: float) -> SetPicture:  # fmt: skip
        return set_picture(input_sun_teeth, low_sun=low_sun_teeth, short_planet=short_planet_teeth,
                           long_planet=long_planet_teeth, planet_count=planet_count, gear=gear,
                           input_turn=turn)  # fmt: skip

    return Panel(
        id="gearing.teeth",
        title="Tooth counts",
        controls=(
            choice("gear", ("low", "direct", "reverse")),
            *(quantity(f"gearbox.{name}", alias, getattr(box, name, None)) for name, alias in teeth),
            quantity("gearbox.planet_count", planets, getattr(box, "planet_count", None)),
            quantity("turn", q.InputTurn, 0.0),
        ),
        compute=compute,
        draw=figures.planetary,
        twin=teeth_twin,
        room=0.01,
        size=(7.2, 3.9),
        probe="low_sun_teeth",
    )


def teeth_twin(result: SetPicture) -> Twin:
    """The set in words: ratio, each member's speed and torque, and whether it can be put together."""
    s = result.solution
    ring = next(circle for circle in result.circles if circle.name == "ring").radius * 2
    room = f"smallest gap {result.gap:.1f} modules"
    if not np.isfinite(result.gap):
        fits, room = "it cannot be built", "long and short planets do not reach each other"
    elif not result.assembles:
        fits = "equally spaced planets do not go in"
    else:
        fits = "it goes together" if result.gap > 0 else "neighbouring planets would touch"
    names = ("input sun", "low sun", "ring", "carrier", "long planet", "short planet")
    pins = {name: f"{s.pin_speed(name):+.3f}" for name in names if "planet" in name}
    rows = tuple((name, f"{s.speed[name]:+.3f}", pins.get(name, ""), f"{s.torque[name]:+.3f}") for name in names)
    hold = ", ".join(f"{name} {abs(value):.3f}" for name, value in s.hold.items())
    return Twin(
        alt=f"Pitch circles of a two-sun set to scale inside a ring of {ring:.0f} teeth; ratio {s.ratio:.3f}.",
        sentence=f"Ratio {s.ratio:.3f}; held or locked: {hold} times the input torque; {fits} ({room}).",
        table=Table(("member", "turns per input turn", "on its pin", "torque per input torque"), rows),
    )

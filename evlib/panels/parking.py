"""What the learner moves in the parking lesson: roll away, park lock, selector."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from evlib.build.checks.parking import brake_force, lock_ratio
from evlib.build.parking_cases import (
    CAR_LENGTH,
    HoldCase,
    RollCase,
    SelectorCase,
    hold_case,
    roll_case,
    selector_case,
    ways_back,
)
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import parking as figures
from evlib.ground import road, units
from evlib.ground.quantity import Array
from evlib.ground.shown import Shown
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity
from evlib.parking import park_lock
from evlib.parking import quantities as q
from evlib.parking.selector import POSITIONS, VALUES, State, read_table

TABLE = Path(__file__).parents[2] / "data" / "parking" / "selector.toml"


def roll_panel(build: Build) -> Panel:
    """Roll away: grade and what holds back move, distance over time follows."""
    b = View(build.parts)
    mass, rolling = float(b.vehicle.mass), float(b.vehicle.rolling_coefficient)

    def compute(*, hold_grade: float, hold_back: float) -> RollCase:
        return roll_case(hold_grade, hold_back=hold_back, mass=mass, rolling_coefficient=rolling)

    return Panel(
        id="parking.roll",
        title="Roll away",
        controls=(quantity("hold_grade", q.HoldGrade, "10 %"), quantity("hold_back", q.HoldBack, 800.0)),
        compute=compute,
        draw=figures.roll_away,
        twin=roll_twin,
        room=0.25,
        probe="hold_grade",
    )


def _seconds(value: float | None) -> Amount | str:
    return "never" if value is None else Amount(value, "s")


def roll_twin(result: RollCase, *, system: str = "SI") -> Twin:
    """The picture of rolling away in words."""
    length = units.show(CAR_LENGTH, "m", system=system, shown={"SI": "m", "shop": "ft"})
    grade = f"{100 * result.grade:.3g} %"
    free = "never" if result.free_length is None else units.show(result.free_length, "s", system=system)
    held = "never" if result.held_length is None else units.show(result.held_length, "s", system=system)
    rows = (
        ("to one car length, freewheeling", _seconds(result.free_length)),
        ("to one car length, held back", _seconds(result.held_length)),
        ("to a brisk walk, freewheeling", _seconds(result.free_walk)),
        ("speed after 6 s, freewheeling", Amount(result.speed_after, "m/s")),
    )
    return Twin(
        alt=f"Distance over time on {grade}, two rising curves: freewheeling, one car length after {free}; held back, "
        f"after {held}.",
        sentence=f"On {grade} a car with freewheeling motors has rolled {length} after {free}; held back by "
        f"{units.show(result.hold_back, 'N', system=system)}, after {held}. That is the time to react.",
        table=Table(("what", "value"), rows),
    )


def hold_panel(build: Build) -> Panel:
    """Park lock: grip, grade, weight and its place move; what holds follows."""
    b = View(build.parts)
    vehicle, lock = b.vehicle, b.parking.park_lock
    limit = park_lock.torque_limit(
        lock.park_contact_pressure, pin_strength=lock.pawl_pin_strength, park_radius=lock.park_radius,
        pressure_angle=lock.park_pressure_angle, contact_area=lock.park_contact_area,
        pin_diameter=lock.pawl_pin_diameter, pin_planes=lock.pawl_pin_planes,
    )  # fmt: skip
    strength = float(np.asarray(limit * lock_ratio(b) / vehicle.wheel_radius))
    up, down = (float(np.asarray(force)) for force in brake_force(b))
    fixed: dict[str, Any] = {
        "grip": float(vehicle.grip), "wheelbase": float(vehicle.wheelbase), "cg_height": float(vehicle.cg_height),
        "driven_axle": vehicle.driven_axle, "handbrake_axle": b.parking.handbrake.handbrake_axle,
        "brake_up": up, "brake_down": down, "strength": strength,
    }  # fmt: skip

    def compute(*, hold_grade: float, worse_grip: float, mass: float, rear_axle_share: float) -> HoldCase:
        return hold_case(hold_grade, worse_grip=worse_grip, mass=mass, rear_axle_share=rear_axle_share, **fixed)

    return Panel(
        id="parking.hold",
        title="Park lock",
        controls=(
            quantity("parking.hold_grade", q.HoldGrade, float(b.parking.hold_grade)),
            quantity("parking.worse_grip", q.WorseGrip, float(b.parking.worse_grip)),
            quantity("vehicle.mass", road.Mass, float(vehicle.mass)),
            quantity("vehicle.rear_axle_share", road.RearAxleShare, float(vehicle.rear_axle_share)),
        ),
        compute=compute,
        draw=figures.what_holds,
        twin=hold_twin,
        size=(6.6, 4.0),
        room=0.26,
        probe="worse_grip",
    )


def _held(value: float) -> str:
    return f"{100 * value:.3g} %" if value < 0.3999 else "40 % and more"


def hold_twin(result: HoldCase, *, system: str = "SI") -> Twin:
    """The picture of what holds in words."""

    def at(values: Array) -> float:
        return float(np.interp(result.asked, result.grade, values))

    rows = (
        ("slope pulls", Amount(at(result.pull), "N")),
        ("park, nose up", Amount(at(result.park_up), "N")),
        ("park, nose down", Amount(at(result.park_down), "N")),
        ("handbrake, nose up", Amount(at(result.brake_up), "N")),
        ("handbrake, nose down", Amount(at(result.brake_down), "N")),
        ("park lock's own strength, at the road", Amount(result.strength, "N")),
    )
    worse = min(result.held_up, result.held_down)
    way = "up" if result.held_up <= result.held_down else "down"
    verdict = "holds" if worse >= result.asked else "does not hold"
    asked = f"{100 * result.asked:.3g} %"
    return Twin(
        alt=f"Force over grade. The slope's pull rises through the level lines of park lock and handbrake; with the "
        f"nose up park holds to {_held(result.held_up)}, with the nose down to {_held(result.held_down)}.",
        sentence=f"Park alone {verdict} on {asked}: the worse driven wheel lets go at {_held(worse)} with the nose "
        f"{way}. The slope pulls with {units.show(at(result.pull), 'N', system=system)}.",
        table=Table((f"on {asked}", "force"), rows),
    )


def selector_panel() -> Panel:
    """Selector: choose a situation, ask for a position, see why it is refused."""
    table = read_table(TABLE)

    def compute(*, asked: str, **situation: str) -> SelectorCase:
        return selector_case(table, asked=asked, state=State(on="on", **situation))

    options = {"lost": ("none", "speed")}
    words = {"position": "lever stands in", "lost": "sensor lost", "speed": "road speed"}
    names = ("position", "speed", "pedal", "brake", "plug", "pressure", "lost")
    start = State(on="on", position="drive", speed="medium", pedal="down", brake="off")
    return Panel(
        id="parking.selector",
        title="Selector",
        controls=(
            choice("asked", POSITIONS, start="reverse", label="ask for"),
            *(choice(n, options.get(n, VALUES[n]), start=getattr(start, n), label=words.get(n, n)) for n in names),
        ),
        compute=compute,
        draw=figures.selector,
        twin=selector_twin,
        size=(6.6, 2.9),
        room=0.02,
        probe="asked",
    )


def selector_twin(result: SelectorCase) -> Twin:
    """The selector's answer in words."""
    state = result.state
    answer = "granted" if result.granted else f"refused: {result.why}"
    if result.asked == state.position:
        answer = "already there"
    rows = (
        ("lever stands in", state.position), ("asked for", result.asked), ("answer", answer),
        ("motor current now", result.current),
    )  # fmt: skip
    return Twin(
        alt=f"The lever's five positions in a row; it stands in {state.position}, {result.asked} is asked for: "
        f"{'granted' if result.granted else 'refused'}.",
        sentence=f"In {state.position}, road speed {state.speed}: {result.asked} is {answer}. Motor current allowed "
        f"now: {result.current}.",
        table=Table(("what", "answer"), rows),
    )


def ways(build: Build) -> Shown:
    """The three ways of going backwards as one table, computed from the build."""
    rows = [
        (
            way.way,
            f"{way.motors_turn}; internal pump {'delivers' if way.internal_pump_delivers else 'delivers nothing'}",
            units.show(way.pull, "N"),
            units.show(way.speed_limit, "m/s"),
            "; ".join(way.parts),
            "; ".join(way.can_fail),
        )
        for way in ways_back(View(build.parts))
    ]
    made = Table(("by", "motors turn", "pull", "speed limit", "what it needs", "what can fail"), tuple(rows))
    return Shown(made.plain(), made.html())

"""What the learner moves in the parking lesson: roll away, park lock, selector."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.brakes import brake_force, kinds, road_force
from evlib.build.gears import has
from evlib.build.launch import input_torque_allowed
from evlib.build.park_line import grade_gripped, line_strength, lock_ratio
from evlib.build.parking_cases import (
    CAR_LENGTH,
    BackCase,
    BrakeCase,
    HoldCase,
    RollCase,
    SelectorCase,
    back_case,
    brake_case,
    hold_case,
    roll_case,
    selector_case,
    torques_back,
    ways_back,
)
from evlib.build.reverse import BRUSH_PART
from evlib.build.schema import Build
from evlib.build.selector_rules import shipped
from evlib.build.view import View
from evlib.figures import parking as figures
from evlib.ground import road, units
from evlib.ground.quantity import Array, Quantity
from evlib.ground.shown import Shown
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity
from evlib.panels.parking_pictures import show_drum as show_drum
from evlib.panels.parking_pictures import show_lock as show_lock
from evlib.parking import park_lock
from evlib.parking import quantities as q
from evlib.parking.reverse import Torques, WayBack
from evlib.parking.roll_away import WALKING
from evlib.parking.selector import POSITIONS, VALUES, State

REST_PRESSURE = Quantity("p", "Pa", "pressure at rest, reverse or low selected", low=0, high=2e6, slider=(0, 1e6),
                         kind="gauge")  # fmt: skip
BRUSHES = Quantity("x", "", "part of the torque that the brushes leave backward", above=0, high=1, slider=(0.3, 1),
                   shown={"SI": "%", "shop": "%"})  # fmt: skip


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
        (f"to a brisk walk, {units.show(WALKING, 'm/s', system=system)}, freewheeling", _seconds(result.free_walk)),
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
    vehicle = b.vehicle
    strength = float(np.asarray(line_strength(b) * lock_ratio(b) / vehicle.wheel_radius))
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
        ("weakest part from pawl to wheels, at the road", Amount(result.strength, "N")),
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


def selector_panel(build: Build) -> Panel:
    """Selector: choose a situation, ask for a position, see why it is refused."""
    table, words_for_speed = shipped(), speed_words(build)

    def compute(*, asked: str, **situation: str) -> SelectorCase:
        return selector_case(table, asked=asked, state=State(on="on", **situation), speed_words=words_for_speed)

    options = {"lost": ("none", "speed")}
    words = {"position": "selector stands in", "lost": "sensor lost", "speed": "road speed"}
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


def speed_words(build: Build) -> str:
    """What the table's words for speed mean on a build; empty where it has no settings."""
    walking, medium = (build.value(f"parking.selector.{name}_speed_limit") for name in ("reverse", "low"))
    if walking is None or medium is None:
        return ""
    return f"walking: up to {units.show(walking, 'm/s')}; medium: up to {units.show(medium, 'm/s')}; fast: above"


def selector_twin(result: SelectorCase) -> Twin:
    """The selector's answer in words."""
    answer = "granted" if result.granted else f"refused: {result.why}"
    if result.asked == result.position:
        answer = "already there"
    rows = [
        ("selector stands in", result.position), ("asked for", result.asked), ("answer", answer),
        ("motor current now", result.current),
    ]  # fmt: skip
    if result.speed_words:
        rows.append(("speeds on this build", result.speed_words))
    return Twin(
        alt=f"The selector's five positions in a row; it stands in {result.position}, {result.asked} is asked for: "
        f"{'granted' if result.granted else 'refused'}.",
        sentence=f"In {result.position}, road speed {result.speed}: {result.asked} is {answer}. Motor current allowed "
        f"now: {result.current}.",
        table=Table(("what", "answer"), tuple(rows)),
    )


def handbrake_panel(build: Build) -> Panel:
    """Handbrake: hand, cables and lining move; the force along the road follows, each way."""
    b = View(build.parts)
    hand, vehicle = b.parking.handbrake, b.vehicle
    axle = hand.handbrake_axle
    fits = kinds(b)

    def compute(*, hold_grade: float, hand_force: float, cable_efficiency: float, lining_friction: float,
                handbrake_kind: str = fits[0]) -> BrakeCase:  # fmt: skip
        changed = {
            "handbrake_kind": handbrake_kind, "lining_friction": lining_friction, "cable_efficiency": cable_efficiency,
        }  # fmt: skip
        up, down = (float(np.asarray(road_force(b, 1.0, rolling=r, **changed))) for r in ("backward", "forward"))
        grip_up, grip_down = (
            float(vehicle.grip)
            * float(np.asarray(park_lock.axle_load(
                vehicle.mass, axle=axle, nose=nose, grade=hold_grade, rear_axle_share=vehicle.rear_axle_share,
                wheelbase=vehicle.wheelbase, cg_height=vehicle.cg_height)))
            for nose in ("up", "down")
        )  # fmt: skip
        return brake_case(hold_grade, mass=float(vehicle.mass), up_per_newton=up, down_per_newton=down,
                          grip_up=grip_up, grip_down=grip_down, limit=hand_force,
                          grade_up=float(np.asarray(grade_gripped(b, axle, "up"))),
                          grade_down=float(np.asarray(grade_gripped(b, axle, "down"))))  # fmt: skip

    return Panel(
        id="parking.handbrake",
        title="Handbrake",
        controls=(
            quantity("parking.handbrake.hand_force", q.HandForce, float(hand.hand_force)),
            quantity("parking.handbrake.cable_efficiency", q.CableEfficiency, float(hand.cable_efficiency)),
            quantity("parking.handbrake.lining_friction", q.LiningFriction, float(hand.lining_friction)),
            quantity("parking.hold_grade", q.HoldGrade, float(b.parking.hold_grade)),
            *([choice("parking.handbrake.handbrake_kind", fits, label="brake")] if len(fits) > 1 else []),
        ),
        compute=compute,
        draw=figures.handbrake,
        twin=handbrake_twin,
        size=(6.6, 3.8),
        room=0.2,
        probe="lining_friction",
    )


def handbrake_twin(result: BrakeCase, *, system: str = "SI") -> Twin:
    """The handbrake in words."""

    def hand(needed: float | None) -> Amount | str:
        return "the tyres let go first" if needed is None else Amount(needed, "N")

    def grade(held: float) -> str:
        return f"{100 * held:.3g} %" if held < 2 else "over 200 %"

    limit = units.show(result.limit, "N", system=system)
    worse = min(result.held_up, result.held_down)
    rows = (
        ("slope pulls", Amount(result.slope, "N")),
        ("hand force that holds it, nose up", hand(result.needed_up)),
        ("hand force that holds it, nose down", hand(result.needed_down)),
        ("grip's end, nose up", Amount(result.grip_up, "N")),
        ("grip's end, nose down", Amount(result.grip_down, "N")),
        (f"grade held at {limit}, nose up", grade(result.held_up)),
        (f"grade held at {limit}, nose down", grade(result.held_down)),
    )
    return Twin(
        alt=f"Force along the road over hand force: nose up and nose down rise until the tyres let go, past the slope's"
        f" pull of {units.show(result.slope, 'N', system=system)}; at {limit} they hold {grade(result.held_up)} and "
        f"{grade(result.held_down)}.",
        sentence=f"With {limit} on the lever the handbrake alone holds {grade(result.held_up)} with the nose up and "
        f"{grade(result.held_down)} with the nose down; the worse way counts: {grade(worse)}.",
        table=Table(("what", "value"), rows),
    )


def reverse_panel(build: Build) -> Panel:
    """Reverse: grade, weight, pressure and brushes move; each way's pull against what the grade needs follows."""
    b = View(build.parts)
    behind = torques_back(b)
    boxed = has(b, "gearbox") and has(b, "hydraulics")
    turned = "contactors" in behind
    plain = dict(behind)
    if turned:
        plain["contactors"] = behind["inverter"]  # before the brushes take their part
    fixed = {"rolling_coefficient": float(b.vehicle.rolling_coefficient)}
    own = str(b.parking.reverse_by)

    def held(way: str, pressure: float | None) -> float | None:
        if pressure is None:
            return None
        gear: Any = "reverse" if way == "gearbox" else "low"
        torque = input_torque_allowed(b, gear, pressure=pressure, driving=way == "gearbox")
        return max(float(np.asarray(torque)), 0.0)

    def compute(*, reverse_grade: float, mass: float, rest_pressure: float | None = None,
                brush_part: float = BRUSH_PART) -> BackCase:  # fmt: skip
        torques = {
            way: Torques(t.given * (brush_part if way == "contactors" else 1.0), held(way, rest_pressure),
                         rest_pressure)
            for way, t in plain.items()
        }  # fmt: skip
        return back_case(reverse_grade, mass=mass, ways=ways_back(b, torques), **fixed)

    at_rest = behind["gearbox"].pressure if boxed else None
    return Panel(
        id="parking.reverse",
        title="Reverse",
        controls=(
            quantity("parking.reverse_grade", q.ReverseGrade, float(b.parking.reverse_grade)),
            quantity("vehicle.mass", road.Mass, float(b.vehicle.mass)),
            *([quantity("rest_pressure", REST_PRESSURE, at_rest)] if at_rest is not None else []),
            *([quantity("brush_part", BRUSHES, BRUSH_PART)] if turned else []),
        ),
        compute=compute,
        draw=figures.going_back,
        twin=lambda result, *, system="SI": reverse_twin(result, own=own, system=system),
        size=(6.6, 3.8),
        room=0.2,
        probe="reverse_grade",
    )


def reverse_twin(result: BackCase, *, own: str, system: str = "SI") -> Twin:
    """Going backwards in words."""
    rows: list[tuple[str, Amount | str]] = [("needed at the tyres", Amount(result.needed_here, "N"))]
    for way, steepest in zip(result.ways, result.steepest, strict=True):
        behind = way.torques
        governs = "the motors" if behind.held is None or behind.given <= behind.held else "what the gearbox holds"
        rows += [
            (f"{way.way}: pull", Amount(way.pull, "N")), (f"{way.way}: decided by", governs),
            (f"{way.way}: backs up", _held(steepest)),
        ]  # fmt: skip
    mine = next((way for way in result.ways if way.way == own), result.ways[0])
    verdict = "backs up" if mine.pull >= result.needed_here else "does not back up"
    asked = f"{100 * result.asked:.3g} %"
    pulls = ", ".join(f"{way.way} {units.show(way.pull, 'N', system=system)}" for way in result.ways)
    return Twin(
        alt=f"Pull over grade: what is needed rises, and is {units.show(result.needed_here, 'N', system=system)} at "
        f"{asked}; one level line for each way of going backwards: {pulls}.",
        sentence=f"By {mine.way} this build {verdict} {asked}, which needs "
        f"{units.show(result.needed_here, 'N', system=system)}. Pull: {pulls}.",
        table=Table(("what", "value"), tuple(rows)),
    )


def ways(build: Build) -> Shown:
    """The ways of going backwards, computed from the build; below, what each needs and how it fails."""
    limit = build.value("parking.selector.reverse_speed_limit")
    told = "no table" if limit is None else units.show(limit, "m/s")
    rows = [
        (
            way.way,
            _turning(way),
            _torque(way.torques.given),
            "no clutch" if way.torques.held is None else _torque(way.torques.held),
            "" if way.torques.pressure is None else units.show(way.torques.pressure, "Pa", kind="gauge"),
            units.show(way.pull, "N"),
            "no clutch"
            if way.torques.held is None
            else "slips and burns"
            if way.torques.given > way.torques.held
            else "holds",
            units.show(way.speed_limit, "m/s"),
            told,
        )
        for way in ways_back(View(build.parts))
    ]
    header = (
        "by",
        "motors and internal pump",
        "motors give",
        "gearbox holds",
        "at",
        "pull, at most",
        "at full current",
        "motors' limit",
        "selector's limit",
    )
    made, more = Table(header, tuple(rows)), _what_can_fail(build)
    return Shown(f"{made.plain()}\n\n{more.plain()}", f"{made.html()}{more.html()}")


def _turning(way: WayBack) -> str:
    if way.torques.held is None:
        return f"{way.motors_turn}; no pump"
    return f"{way.motors_turn}; pump {'delivers' if way.internal_pump_delivers else 'draws the clutches empty'}"


def _torque(value: float) -> str:
    return units.show(value, "N m")


def _what_can_fail(build: Build) -> Table:
    rows: list[tuple[str, str, str]] = []
    for way in ways_back(View(build.parts)):
        boxed = way.torques.held is not None
        rows.append((way.way, "is held by", way.holds if boxed else "no clutch"))
        rows += [(way.way, "needs", part) for part in way.parts]
        rows += [(way.way, "can fail", fault) for fault in way.can_fail if boxed or "pump" not in fault]
    return Table(("by", "", "what"), tuple(rows))

"""What the cells of the parking lesson call: the story of one trip, the selector's proof, slowing."""

from __future__ import annotations

import itertools
import tomllib
from typing import Any

import numpy as np

from evlib.build import park_line, selector_rules
from evlib.build.park_line import hold_torque, line_strength, lock_ratio
from evlib.build.review import review
from evlib.build.schema import Build
from evlib.build.sheet import both, margin_text, side_text
from evlib.build.slowing import RULE_SPEED, low_holds_back, ways_to_slow
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.checks import NOT_APPLICABLE, NOT_KNOWN
from evlib.ground.errors import DoesNotApply
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.panels.parking import speed_words
from evlib.parking import handbrake, park_lock, reverse, roll_away, selector

METRES = {"SI": "m", "shop": "ft"}
STORY: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("you stop on the hill, nose up, pull the handbrake, and let the car settle on it", ("handbrake, nose up",)),
    ("then you choose park; both stay on", ("selector rules", "park drop-in speed")),
    ("the handbrake gives: the car rolls on to the pawl", ("roll before park holds", "park lock")),
    ("park alone holds it, one wheel on worse ground", ("park grip, nose up",)),
    ("tomorrow it stands the other way round", ("handbrake, nose down", "park grip, nose down")),
    ("you come back and start up the hill", ("rest pressure", "launch in low", "rollback at a hill start")),
    ("you reverse out of a steep drive", ("reverse pressure", "launch in reverse", "reverse pull")),
)  # fmt: skip


def story(build: Build) -> Shown:
    """One trip, moment by moment, with the checks that it needs, in the order in which they come."""
    found = review(build, topics=("parking", "hydraulics"), figures=False)
    rows = []
    for moment, names in STORY:
        for name in names:
            made = found.check(name)
            verdict = str(made.verdict)
            if verdict in (NOT_APPLICABLE, NOT_KNOWN):
                verdict += ": " + (made.reason or ", ".join(made.missing))
            demand, capacity = (side_text(made, side) for side in (made.demand, made.capacity))
            rows.append((moment, name, demand, capacity, margin_text(made.margin), verdict))
    return table(("moment", "check", "demand", "capacity", "margin", "verdict"), rows)


def rolls(build: Build, *, seconds: float, grade: float) -> None:
    """How far and how fast the build has rolled some seconds after letting go, motors freewheeling."""
    b = View(build.parts)
    after = roll_away.rolled(
        seconds, grade=grade, mass=b.vehicle.mass, rolling_coefficient=b.vehicle.rolling_coefficient
    )  # fmt: skip
    print(
        f"After {seconds:g} s on {100 * grade:g} %: {units.show(float(after.distance), 'm', shown=METRES)}, "
        f"and {units.show(float(after.speed), 'm/s')}."
    )


def shoes(build: Build) -> Shown:
    """What each shoe or pad of the build's handbrake makes of the hand-force limit."""
    hand = View(build.parts).parking.handbrake
    force = handbrake.shoe_force(
        hand.hand_force,
        lever_ratio=hand.lever_ratio,
        cable_efficiency=hand.cable_efficiency,
        actuating_ratio=hand.actuating_ratio,
    )
    if hand.handbrake_kind == "disc":
        torque = handbrake.disc_torque(force, lining_friction=hand.lining_friction, pad_radius=hand.pad_radius)
        return table(("what", "force on it", "torque"), [("both pads", both(force, "N"), both(torque, "N m"))])
    sides: tuple[handbrake.Leading, ...] = ("leading", "trailing")
    rows = []
    for side in sides:
        torque = handbrake.shoe_torque(
            force, side=side, lining_friction=hand.lining_friction, drum_radius=hand.drum_radius,
            pivot_radius=hand.shoe_pivot_radius, shoe_arm=hand.shoe_arm, shoe_start=hand.shoe_start,
            shoe_end=hand.shoe_end,
        )  # fmt: skip
        rows.append((f"a {side} shoe", both(force, "N"), units.show(float(np.asarray(torque)), "N m", digits=4)))
    return table(("what", "force on it", "torque"), rows)


def taken_up(build: Build) -> Shown:
    """The car rolls a whole pitch and the play on its hold grade, and is caught: each way round, on both grips."""
    b, rows = View(build.parts), []
    for grip, nose in itertools.product((b.vehicle.grip, b.parking.worse_grip), park_line.NOSES):
        found = park_line.taken_up(b, nose, grip=grip)
        way = float(np.asarray(found.way))
        rows.append((f"grip {float(grip):g}, nose {nose}", units.show(float(np.asarray(found.speed)), "m/s"),
                     *(both(t, "N m") for t in (found.swing, found.skid, found.torque)),
                     both(way, "m") if np.isfinite(way) else "does not stand"))  # fmt: skip
    header = ("both driven wheels on", "arrives at", "by twist alone", "tyres skid at", "parts feel", "rolls in all")
    return table(header, rows)


def swapped() -> Shown:
    """Torque of an invented machine as connected, with its supply swapped, and with its field alone swapped."""
    rows = []
    for what, armature, field in (("as connected", 400.0, 400.0), ("supply swapped: both change", -400.0, -400.0),
                                  ("field alone swapped", 400.0, -400.0)):  # fmt: skip
        torque = reverse.electrical_torque(armature, field_current=field, mutual_inductance=1e-3)
        rows.append((what, f"{armature:.0f} A", f"{field:.0f} A", f"{float(torque):.0f} N m"))
    return table(("one invented motor", "armature", "field", "torque"), rows)


def proof(build: Build, data: dict[str, Any] | None = None) -> None:
    """Try the selector's rules on this build's speeds and print the broken ones, or all where all hold."""
    rules = selector_rules.shipped() if data is None else selector.table(data)
    try:
        found, words = selector_rules.proof(View(build.parts), rules), speed_words(build)
    except DoesNotApply:
        found, words = selector.prove(rules), ""
    print(f"On this build, {words}." if words else "This build has no selector of this kind: here is the table alone.")
    print(found.text())
    for line in [broken.text() for broken in found.broken] or selector.RULES:
        print(f"- {line}")


def forgotten(build: Build, *, to: str, before: str, condition: str) -> None:
    """Take one condition out of the line that lets ``to`` be entered from ``before``, and try the rules again."""
    data = tomllib.loads(selector_rules.TABLE.read_text(encoding="utf-8"))
    lines = [entry for entry in data["enter"] if entry["to"] == to and before in entry.get("from", selector.POSITIONS)]
    if not any(condition in entry for entry in lines):
        raise ValueError(f"no line lets {to} be entered from {before} on the condition of {condition!r}")
    for entry in lines:
        entry.pop(condition, None)
    proof(build, data)


def caught(build: Build, speed: float) -> None:
    """What catching the car at a road speed [m/s] does to the toothed wheel, and where skidding wheels end it."""
    b = View(build.parts)
    mass, radius = float(b.vehicle.mass), float(b.vehicle.wheel_radius)
    load = park_lock.axle_load(
        mass, axle=b.vehicle.driven_axle, nose="up", grade=0.0, rear_axle_share=b.vehicle.rear_axle_share,
        wheelbase=b.vehicle.wheelbase, cg_height=b.vehicle.cg_height,
    )  # fmt: skip
    shared = {"mass": mass, "stiffness": b.parking.park_lock.park_stiffness, "wheel_radius": radius,
              "lock_ratio": lock_ratio(b)}  # fmt: skip
    grips = {
        f"grip {b.vehicle.grip:g} under both driven wheels, they skid at": float(b.vehicle.grip),
        f"grip {b.parking.worse_grip:g} under the worse one, it lets go for both at": float(b.parking.worse_grip),
    }
    twist = float(np.asarray(park_lock.catch_torque(speed, grip_force=1e5, **shared)))
    ends = [
        (f"with {words}", float(np.asarray(load)) * grip * radius / float(np.asarray(lock_ratio(b))))
        for words, grip in grips.items()
    ]
    energy = float(np.asarray(park_lock.motion_energy(speed, mass=mass)))
    print(f"At {units.show(speed, 'm/s')} the car carries {units.show(energy, 'J')}.")
    print(f"- caught by twist alone: {units.show(twist, 'N m')} on the toothed wheel")
    for words, torque in ends:
        print(f"- {words} {units.show(torque, 'N m')}")
    print(f"- the weakest part stands {units.show(float(np.asarray(line_strength(b))), 'N m')}")
    print(f"- holding on the grade asks {units.show(float(np.asarray(hold_torque(b))), 'N m')}")


def slowing(build: Build, *, current: float = 200.0) -> Shown:
    """Each way to slow down without the brakes at 40 km/h in low, and what each costs."""
    b = View(build.parts)
    rows = [
        (
            way.way,
            "" if way.resistance is None else units.show(way.resistance, "ohm"),
            units.show(way.torque, "N m"),
            units.show(way.force, "N"),
            units.show(way.heat, "W"),
            units.show(way.from_pack, "W"),
        )
        for way in ways_to_slow(b, current=current)
    ]
    held = float(np.asarray(low_holds_back(b)))
    end = "no clutch is in the way" if np.isinf(held) else f"low then holds {units.show(held, 'N m')} at main pressure"
    shown = table(
        ("way", "resistor each", "at gearbox input", "at the tyres", "heat in resistors and windings", "from the pack"),
        rows,
    )
    words = f"At {units.show(RULE_SPEED, 'm/s')} in low; {end}."
    return Shown(f"{shown!r}\n{words}", f"{shown._repr_html_()}<p>{words}</p>")

"""Pictures of the parking lesson that nobody moves: park wheel and pawl, and the drum brake."""

from __future__ import annotations

import html

import numpy as np

from evlib.build.parking_cases import drum_picture, lock_picture
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import parking_parts as figures
from evlib.ground import units
from evlib.ground.shown import Shown
from evlib.panels.markup import show
from evlib.panels.panel import Table, Twin


def show_lock(build: Build) -> None:
    """The build's park wheel and pawl, with the names of the parts and what the force does to each."""
    lock = View(build.parts).parking.park_lock
    picture = lock_picture(float(lock.park_teeth), pressure_angle=float(lock.park_pressure_angle))
    lean = units.show(float(lock.park_pressure_angle), "rad")
    rows = (
        ("park wheel", f"{picture.teeth} teeth; sits {lock.park_place}, turns with it", "its tooth pushes the pawl"),
        ("pawl", "a lever on its pin; its tooth lies in a gap", "is pushed along the circle"),
        ("pawl's pin", "held by the gearbox case", "carries the force; could shear"),
        ("cam", "moved by the lever in the car", "holds the pawl down; without it the pawl comes out"),
    )
    say = Twin(
        alt=f"A park wheel with {picture.teeth} teeth seen from its end. On top a pawl, a lever on a pin at its right "
        "end, lies with its tooth in one gap; a round cam above presses it down. A red arrow pushes along the circle "
        "from tooth to pawl, a blue one away from the wheel.",
        sentence=f"The car wants to roll, and the wheel's tooth pushes the pawl along the circle. The flank leans by "
        f"{lean}, so a small part of the force throws the pawl out; the cam stands against it.",
        table=Table(("part", "where", "what the force does to it"), rows),
    )
    show(figures.park_lock, picture, say, title="Park wheel and pawl: teeth counted from the build, the rest a sketch",
         size=(7.4, 4.2), room=0.02)  # fmt: skip


def show_drum(build: Build) -> Shown | None:
    """The build's drum brake, with its two shoes, and which one leads when the drum turns clockwise."""
    hand = View(build.parts).parking.handbrake
    if hand.handbrake_kind == "disc":
        said = f"{build.name} has a disc handbrake: two pads press on a disc, alike both ways. No drum to draw."
        return Shown(said, f"<p>{html.escape(said)}</p>")
    picture = drum_picture(
        float(hand.drum_radius), pivot_radius=float(hand.shoe_pivot_radius), shoe_arm=float(hand.shoe_arm),
        shoe_start=float(hand.shoe_start), shoe_end=float(hand.shoe_end),
    )  # fmt: skip
    begin, end = (f"{float(np.degrees(float(angle))):.0f}°" for angle in (hand.shoe_start, hand.shoe_end))
    rows = (
        ("drum", f"inner radius {units.show(float(hand.drum_radius), 'm')}", "turns with the wheel"),
        ("pivot", f"{units.show(float(hand.shoe_pivot_radius), 'm')} from the middle", "the shoes swing about it"),
        ("force on each shoe", f"{units.show(float(hand.shoe_arm), 'm')} from the pivot", "from the cable, by an arm"),
        ("lining", f"from {begin} to {end}, counted from the pivot", "rubs on the drum"),
    )
    say = Twin(
        alt="A drum seen from its open side, turning clockwise. Two curved shoes lie inside, left and right, both "
        "pivoted at the bottom; arrows at the top push them apart. The right one is named leading, the left one "
        "trailing.",
        sentence="On the right the drum moves from the pushed end towards the pivot, and drags the shoe on: it leads. "
        "On the left it moves the other way, and pushes the shoe off. Turn the drum round, and the two change places.",
        table=Table(("part", "here", "what it does"), rows),
    )
    show(figures.drum, picture, say, title="Drum brake with one leading and one trailing shoe, to scale",
         size=(7.4, 4.2), room=0.02)  # fmt: skip
    return None

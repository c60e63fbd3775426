"""The bridges: what school left behind, in the words of the shop. Each has a self-check and one more for practice."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.quantity import Quantity

SPEED = Quantity("ω", "rad/s", "speed", low=0, shown={"SI": "rpm", "shop": "rpm"})

EXERCISES: list[Exercise] = [
    Number(
        id="bridges.2",
        objective="turn rpm into rad/s and back",
        depth="Shop",
        text="A motor's tachometer shows {speed}. What is that in rad/s?",
        given={"speed": Draw(SPEED, "1500 rpm", "5400 rpm", "100 rpm")},
        answer=SPEED,
        unit="rad/s",
        right=lambda speed: speed,
        steps=(Step("angle", "speed in rpm x 2 pi / 60", "rad/s", lambda speed: speed),),
        slips=(
            Slip(
                "rpm left as it is",
                lambda speed: speed * 60 / (2 * pi),
                "That is still in rpm: one turn is 2 pi radians, a minute has 60 seconds.",
            ),
            Slip(
                "turns a second", lambda speed: speed / (2 * pi), "Those are turns a second; one turn is 2 pi radians."
            ),
            Slip("minutes forgotten", lambda speed: speed * 60, "Those are radians a minute; a second is wanted."),
        ),
    ),
]

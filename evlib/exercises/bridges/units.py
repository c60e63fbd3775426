"""Bridges 1 to 3: units and prefixes, rpm and rad/s, torque times speed."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.bridges.quantities import LENGTH, POWER, RESISTANCE, SPEED, TORQUE
from evlib.exercises.number import Draw, Number, Slip, Step

PREFIX = "Milli means a thousandth: ask whether the number must get smaller or larger, and by how many places."
TURNS = "Speed must be in radians a second before you multiply: one turn is 2 pi radians, a minute is 60 seconds."

UNITS: list[Exercise] = [
    Number(
        id="bridges.1",
        objective="change a value from one unit or prefix to another",
        depth="Shop",
        text="A field winding measures {resistance}. Write that in ohm.",
        given={"resistance": Draw(RESISTANCE, "12 mohm", "48 mohm", "1 mohm")},
        answer=RESISTANCE,
        unit="ohm",
        right=lambda resistance: resistance,
        steps=(Step("ohms", "resistance in mohm / 1000", "ohm", lambda resistance: resistance),),
        slips=(
            Slip("multiplied by a thousand", lambda resistance: resistance * 1e6, PREFIX),
            Slip("milli as a hundredth", lambda resistance: resistance * 10, PREFIX),
            Slip("milli as a millionth", lambda resistance: resistance / 1000, PREFIX),
        ),
        teacher="Let them say the size first: larger or smaller number? Then move the point.",
    ),
    Number(
        id="bridges.1b",
        objective="change a value from one unit or prefix to another",
        depth="Shop",
        text="A feeler blade of {gap} just fits the gap (1 thou is a thousandth of an inch). How many mm is that?",
        given={"gap": Draw(LENGTH, "12 thou", "48 thou", "1 thou")},
        answer=LENGTH,
        unit="mm",
        right=lambda gap: gap,
        steps=(Step("millimetres", "gap in thou / 1000 x 25.4 mm", "m", lambda gap: gap),),
        slips=(
            Slip("thou as a thousandth of a mm", lambda gap: gap / 25.4, "A thou is a part of an inch, not of a mm."),
            Slip("inch to mm upside down", lambda gap: gap / 25.4**2, "One inch is more than one mm: 25.4 of them."),
        ),
    ),
    Number(
        id="bridges.2",
        objective="turn rpm into rad/s and back",
        depth="Shop",
        text="A motor's tachometer shows {speed}. What is that in rad/s?",
        given={"speed": Draw(SPEED, "1500 rpm", "5400 rpm", "100 rpm")},
        answer=SPEED,
        unit="rad/s",
        right=lambda speed: speed,
        steps=(Step("angular", "speed in rpm x 2 pi / 60", "rad/s", lambda speed: speed),),
        slips=(
            Slip(
                "rpm left as it is",
                lambda speed: speed * 60 / (2 * pi),
                "That number is still in rpm: one turn is 2 pi radians, and a minute has 60 seconds.",
            ),
            Slip("turns a second", lambda speed: speed / (2 * pi), "Those are turns a second; a turn is 2 pi radians."),
            Slip("minutes forgotten", lambda speed: speed * 60, "Those are radians a minute; a second is wanted."),
        ),
        teacher="Rule of thumb to offer afterwards, not before: rad/s is a little more than a tenth of rpm.",
    ),
    Number(
        id="bridges.2b",
        objective="turn rpm into rad/s and back",
        depth="Shop",
        text="A calculation gives {speed}. What will the tachometer show, in rpm?",
        given={"speed": Draw(SPEED, "160 rad/s", "560 rad/s", "10 rad/s")},
        answer=SPEED,
        unit="rpm",
        right=lambda speed: speed,
        steps=(Step("tachometer", "speed in rad/s x 60 / (2 pi)", "rad/s", lambda speed: speed),),
        slips=(
            Slip(
                "factor upside down",
                lambda speed: speed * (2 * pi / 60) ** 2,
                "A shaft makes more turns in a minute than radians in a second: your factor is upside down.",
            ),
            Slip("seconds forgotten", lambda speed: speed / 60, "Those are turns a second; a minute is wanted."),
            Slip("turn forgotten", lambda speed: speed * 2 * pi, "Those are radians a minute; turns are wanted."),
        ),
    ),
    Number(
        id="bridges.3",
        objective="find power from torque and speed",
        depth="Shop",
        text="A motor pair gives {torque} at {speed}. What power is that?",
        given={
            "torque": Draw(TORQUE, "110 N m", "390 N m", "10 N m"),
            "speed": Draw(SPEED, "1200 rpm", "3900 rpm", "100 rpm"),
        },
        answer=POWER,
        right=lambda torque, speed: torque * speed,
        steps=(Step("power", "torque x speed in rad/s", "W", lambda torque, speed: torque * speed),),
        slips=(
            Slip("rpm for rad/s", lambda torque, speed: torque * speed * 60 / (2 * pi), TURNS),
            Slip("turns a second for rad/s", lambda torque, speed: torque * speed / (2 * pi), TURNS),
            Slip(
                "divided",
                lambda torque, speed: torque / speed,
                "Power grows with torque and with speed: one of them must not be divided by the other.",
            ),
        ),
    ),
    Number(
        id="bridges.3b",
        objective="find power from torque and speed",
        depth="Why",
        text="The shaft into a gearbox carries {power} at {speed}. What torque is that?",
        given={
            "power": Draw(POWER, "21 kW", "79 kW", "1 kW"),
            "speed": Draw(SPEED, "1200 rpm", "3900 rpm", "100 rpm"),
        },
        answer=TORQUE,
        right=lambda power, speed: power / speed,
        steps=(Step("torque", "power / speed in rad/s", "N m", lambda power, speed: power / speed),),
        slips=(
            Slip("rpm for rad/s", lambda power, speed: power / speed * 2 * pi / 60, TURNS),
            Slip("turns a second for rad/s", lambda power, speed: power / speed * 2 * pi, TURNS),
            Slip(
                "multiplied",
                lambda power, speed: power * speed,
                "At the same power a faster shaft needs less torque: rearrange power = torque x speed.",
            ),
        ),
    ),
]

"""Exercises on line and wire."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.hydraulics.words import BORE, DROP, NUMBER, SUPPLY
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground import wire
from evlib.hydraulics import line
from evlib.hydraulics import quantities as q

HOT_COPPER = 1.7241e-8 * (1 + 0.00393 * 55)  # ohm m at 75 °C; IEC 60028


def _drop(area: float, length: float, current: float) -> float:
    ohms = wire.resistance_per_metre(area, temperature=348.15, stranding_factor=1.0)
    return float(2 * length * ohms * current)


SIZING: list[Exercise] = [
    Number(
        id="hydraulics.8",
        objective=SUPPLY,
        depth="Shop",
        text="The pump draws {current} through a solid copper wire of {area}, {length} from battery to pump and as "
        "long back. The wire is warm: a metre of 1 mm² has 0.02097 ohm at 75 °C. How many volts are lost?",
        given={
            "area": Draw(q.WireArea, "2.5 mm2", "6 mm2", "0.5 mm2"),
            "length": Draw(q.WireLength, "2 m", "5 m", "0.5 m"),
            "current": Draw(q.RatedCurrent, "12 A", "24 A", "1 A"),
        },
        answer=DROP,
        right=_drop,
        steps=(
            Step(
                "resistance",
                "0.02097 x 2 x length / area in mm²",
                "ohm",
                lambda length, area: HOT_COPPER * 2 * length / area,
            ),
            Step("drop", "current x resistance", "V", lambda current, resistance: current * resistance),
        ),
        slips=(
            Slip(
                "one way",
                lambda current, length, area: current * HOT_COPPER * length / area,
                "The current has to come back too.",
            ),
            Slip(
                "area times length",
                lambda current, length, area: current * HOT_COPPER * 2 * length * area * 1e12,
                "A thicker wire has less resistance: is the area above or below the line?",
            ),
        ),
    ),
    Number(
        id="hydraulics.9",
        objective=SUPPLY,
        depth="Deep",
        text="{flow} of oil with {viscosity} run through a hose of {bore} bore. What is the Reynolds number, "
        "the speed of the oil times the bore over its viscosity? 1 cSt is 1 mm²/s.",
        given={
            "flow": Draw(q.Flow, "4 L/min", "9 L/min", "0.5 L/min"),
            "bore": Draw(BORE, "6.4 mm", "12.8 mm", "0.8 mm"),
            "viscosity": Draw(q.KinematicViscosity, "8 cSt", "40 cSt", "2 cSt"),
        },
        answer=NUMBER,
        right=lambda flow, bore, viscosity: float(line.reynolds(flow, bore=bore, viscosity=viscosity)),
        steps=(
            Step("area", "pi/4 x bore²", "m2", lambda bore: pi / 4 * bore**2),
            Step("speed", "flow / area", "m/s", lambda flow, area: flow / area),
            Step("number", "speed x bore / viscosity", "", lambda speed, bore, viscosity: speed * bore / viscosity),
        ),
        slips=(
            Slip(
                "radius for bore",
                lambda flow, bore, viscosity: 2 * flow / (pi * bore * viscosity),
                "The number is made with the whole bore, not with half of it.",
            ),
            Slip(
                "radius for diameter in the area",
                lambda flow, bore, viscosity: flow / (pi * bore * viscosity),
                "The area of a circle takes half its diameter, squared, times pi.",
            ),
        ),
    ),
]

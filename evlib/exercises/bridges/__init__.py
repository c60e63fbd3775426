"""The bridges: ten small things from school, in the words of the shop. ``.3`` is a self-check, ``.3b`` practice."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.bridges.electric import ELECTRIC
from evlib.exercises.bridges.road import ROAD
from evlib.exercises.bridges.shares import SHARES
from evlib.exercises.bridges.units import UNITS
from evlib.exercises.free import Prediction

PREDICTED: list[Exercise] = [
    Prediction(
        id="bridges.p1",
        objective="find power from torque and speed",
        depth="Shop",
        text="A motor holds its torque while its speed doubles. What happens to its power?",
    ),
]

EXERCISES: list[Exercise] = [*UNITS, *SHARES, *ELECTRIC, *ROAD, *PREDICTED]

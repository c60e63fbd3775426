"""The exercises of the parking lesson."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.parking.going import GOING
from evlib.exercises.parking.holding import HOLDING

EXERCISES: list[Exercise] = [*HOLDING, *GOING]

"""Exercises of the shafts lessons."""

from evlib.exercises.base import Exercise
from evlib.exercises.shafts.companions import COMPANIONS
from evlib.exercises.shafts.main import MAIN

EXERCISES: list[Exercise] = [*MAIN, *COMPANIONS]

"""Exercises of the shafts lessons."""

from evlib.exercises.base import Exercise
from evlib.exercises.shafts.at_the_dial import AT_THE_DIAL
from evlib.exercises.shafts.companions import COMPANIONS
from evlib.exercises.shafts.main import MAIN

EXERCISES: list[Exercise] = [*MAIN, *COMPANIONS, *AT_THE_DIAL]

"""The exercises of the gearing lesson."""

from evlib.exercises.base import Exercise
from evlib.exercises.gearing.at_the_desk import AT_THE_DESK
from evlib.exercises.gearing.ratios_and_changes import RATIOS_AND_CHANGES

EXERCISES: list[Exercise] = [*RATIOS_AND_CHANGES, *AT_THE_DESK]

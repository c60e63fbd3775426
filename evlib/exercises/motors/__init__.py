"""Exercises of the motors lesson. Numbers come from the learner's course code; the right answer from the library."""

from evlib.exercises.base import Exercise
from evlib.exercises.motors.at_the_bench import AT_THE_BENCH
from evlib.exercises.motors.power import POWER_AND_LIMITS
from evlib.exercises.motors.time_and_turn import PREDICTIONS, TIME_AND_TURN

EXERCISES: list[Exercise] = [*POWER_AND_LIMITS, *TIME_AND_TURN, *AT_THE_BENCH, *PREDICTIONS]

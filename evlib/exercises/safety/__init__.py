"""The exercises of the safety lesson."""

from evlib.exercises.base import Exercise
from evlib.exercises.safety.charge_and_leaks import READING
from evlib.exercises.safety.fuse_and_cable import AGREEING
from evlib.exercises.safety.hands_and_arc import HANDLING
from evlib.exercises.safety.speed_and_card import STOPPING

EXERCISES: list[Exercise] = [*READING, *AGREEING, *STOPPING, *HANDLING]

"""The exercises of the hydraulics lesson."""

from evlib.exercises.base import Exercise
from evlib.exercises.hydraulics.at_the_bench import AT_THE_BENCH
from evlib.exercises.hydraulics.handing_over import HANDING_OVER
from evlib.exercises.hydraulics.launching import LAUNCHING
from evlib.exercises.hydraulics.line_and_wire import SIZING
from evlib.exercises.hydraulics.resting import RESTING
from evlib.exercises.hydraulics.trouble import TROUBLES

EXERCISES: list[Exercise] = [*RESTING, *LAUNCHING, *HANDING_OVER, *SIZING, *TROUBLES, *AT_THE_BENCH]

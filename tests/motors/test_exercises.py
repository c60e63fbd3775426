"""Exercises whose answer is no number: that the right answer is the only one, found by trying all the others."""

from __future__ import annotations

import itertools
import re

import numpy as np

from evlib.exercises.motors import EXERCISES
from evlib.ground import units

BY_ID = {exercise.id: exercise for exercise in EXERCISES}


def lawful(per_amp: np.ndarray) -> bool:
    """Rises with current, and by less each time."""
    steps = np.diff(per_amp)
    return bool((steps > 0).all() and (np.diff(steps) < 0).all())


def test_only_one_row_of_the_bench_table_can_be_the_misread_one():
    exercise = BY_ID["motors.11"]
    rows = [(float(a), float(t)) for a, t in re.findall(r"(\d+) A: (\d+) N m", exercise.text)]
    assert len(rows) == 5
    amps, torque = np.array(rows).T
    assert not lawful(torque / amps)
    mends = {
        current
        for n, current in enumerate(amps)
        for other in np.arange(1.0, 400.0, 0.25)  # what this row might have read, the others kept
        if lawful(np.where(np.arange(5) == n, other, torque) / amps)
    }
    right = [option.text for option in exercise.choices if option.right]
    assert right == ["the row at 400 A"] and mends == {400.0}
    assert {f"the row at {a:.0f} A" for a in amps} == {option.text for option in exercise.choices}


def test_strapping_down_may_come_before_or_after_connecting():
    exercise = BY_ID["motors.15"]
    names = [stage.name for stage in exercise.stages]
    allowed = [
        order
        for order in itertools.permutations(names)
        if all(order.index(rule.first) < order.index(rule.later) for rule in exercise.rules)
    ]
    rest = ["tap", "compare", "couple"]
    assert ("paper", "strap", "connect", *rest) in allowed and ("paper", "connect", "strap", *rest) in allowed
    assert all(list(order)[-3:] == rest for order in allowed)


def test_every_bench_reading_that_is_drawn_is_that_of_a_plausible_machine():
    given = BY_ID["motors.2"].given
    ends = {name: [units.read(text, draw.declared.unit) for text in (draw.low, draw.high)]
            for name, draw in given.items()}  # fmt: skip
    found = [
        t * w / (v * i)
        for t, w, i, v in itertools.product(ends["torque"], ends["speed"], ends["current"], ends["volts"])
    ]
    assert min(found) > 0.75 and max(found) < 0.95

"""Roots of many equations at once: what a column of builds needs where a closed form is missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.ground.quantity import Array


def bisect(function: Callable[[Array], Any], *, low: Any, high: Any, steps: int = 60) -> Array:
    """The root of ``function`` between ``low`` and ``high`` for each element; the sign must change there.

    Bisection halves the interval ``steps`` times, so the error is (high - low) / 2**steps. Where the sign does not
    change, the element is NaN: the caller decides what that means. ``low`` and ``high`` broadcast together.

    >>> round(float(bisect(lambda x: x * x - 2, low=0.0, high=2.0)), 9)
    1.414213562
    """
    left, right = (np.array(side, dtype=float) for side in np.broadcast_arrays(low, high))
    at_left, at_right = np.asarray(function(left), float), np.asarray(function(right), float)
    left, right, at_left, at_right = (a.copy() for a in np.broadcast_arrays(left, right, at_left, at_right))
    brackets = np.sign(at_left) * np.sign(at_right) <= 0
    rising = at_right >= at_left
    for _ in range(steps):
        middle = (left + right) / 2
        upper = (np.asarray(function(middle), float) > 0) == rising
        right, left = np.where(upper, middle, right), np.where(upper, left, middle)
    return np.where(brackets, (left + right) / 2, np.nan)

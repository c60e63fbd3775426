"""ISO 286: tolerance grades and fits, for pilots, spigots and bearing seats."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts import tables

Grade = Literal[5, 6, 7, 8, 9]
ShaftLetter = Literal["f", "g", "h", "k", "m", "n", "p"]


def _step(size: Number) -> Array:
    """Which size step of the standard a nominal size falls in."""
    millimetres = np.asarray(size, dtype=float) * 1000
    steps = np.array(tables.SIZE_STEPS)
    if ((millimetres <= steps[0]) | (millimetres > steps[-1] * (1 + 1e-12))).any():
        raise OutOfRange("size", f"{millimetres} mm", steps[0], steps[-1], "ISO 286 sizes held here [mm]")
    return np.asarray(np.minimum(np.searchsorted(steps, millimetres), len(steps) - 1) - 1)


@calculation
def standard_tolerance(size: q.Size, *, grade: Grade) -> Number:
    """Width of the tolerance of a grade [m].

    Arguments: size [m] nominal; grade 5 to 9. OutOfRange outside 3 to 180 mm.

    >>> standard_tolerance(0.035, grade=7)
    2.5e-05

    Source: ISO 286-1, table 1.
    """
    widths: Array = np.array(tables.STANDARD_TOLERANCE[grade], dtype=float) / 1e6
    return np.asarray(widths[_step(size)])


@result
class Fit:
    """Least and most clearance of a fit [m]; below zero is interference."""

    least: Number
    most: Number


@calculation
def hole_basis_fit(size: q.Size, *, hole_grade: Grade, shaft_letter: ShaftLetter, shaft_grade: Grade) -> Fit:
    """Clearance of an H hole with a shaft, such as H7/g6.

    hole 0 to IT; shaft es - IT to es (f, g, h) or ei to ei + IT (k, m, n, p)

    Arguments: size [m]; hole_grade; shaft_letter; shaft_grade (k: 5 to 7). OutOfRange outside 3 to 180 mm.

    >>> fit = hole_basis_fit(0.035, hole_grade=7, shaft_letter="g", shaft_grade=6)
    >>> round(fit.least * 1e6), round(fit.most * 1e6)
    (9, 50)

    Source: ISO 286-1.
    """
    if shaft_letter == "k" and shaft_grade > 7:
        raise OutOfRange("shaft_grade", shaft_grade, 5, 7, "ISO 286-1, deviation k held here")
    hole = standard_tolerance(size, grade=hole_grade)
    shaft = standard_tolerance(size, grade=shaft_grade)
    deviation = np.array(tables.SHAFT_DEVIATION[shaft_letter], dtype=float)[_step(size)] / 1e6
    upper = deviation if shaft_letter in "fgh" else deviation + shaft
    return Fit(-upper, hole - (upper - shaft))

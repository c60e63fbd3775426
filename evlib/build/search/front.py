"""The front: builds that no other one beats in every aim at once, and what such a few do when they are simulated.

The sorting is our own: it is a dozen lines of numpy, exact for any number of aims, and quick for two. What libraries
offer for it comes with a whole optimiser, or with compiled code to be shipped for every system.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from evlib.build.cycle import drive_cycle, named_cycle
from evlib.build.gears import run_to_target, standing_400
from evlib.build.review import review
from evlib.build.search.found import Found
from evlib.build.search.plan import Alternatives
from evlib.build.view import View
from evlib.ground.checks import FAIL
from evlib.ground.quantity import Array, result

WAYS = {"least": 1.0, "most": -1.0}


def not_beaten(costs: Any) -> Any:
    """Which rows no other row beats: none is as small in every column and smaller in one. Equal rows stand together.

    >>> not_beaten([[1.0, 5.0], [2.0, 2.0], [2.0, 3.0], [4.0, 1.0]]).tolist()
    [True, True, False, True]
    """
    costs = np.asarray(costs, dtype=float)
    if costs.ndim != 2 or np.isnan(costs).any():
        raise ValueError("costs: wanted rows of numbers, none of them missing")
    points, same = np.unique(costs, axis=0, return_inverse=True)  # sorted: only an earlier point can beat a later one
    good = np.zeros(len(points), dtype=bool)
    if costs.shape[1] == 2 and len(points):
        before = np.concatenate([[np.inf], np.minimum.accumulate(points[:-1, 1])])
        good = points[:, 1] < before
        good[0] = True
    else:
        left = np.arange(len(points))
        while len(left):
            first, left = left[0], left[1:]
            good[first] = True
            left = left[~(points[left] >= points[first]).all(axis=1)]
    return good[same.ravel()]


@result
class Front:
    """Builds that no other beats, in the order of the first aim. ``values`` has a row for each and a column an aim."""

    aims: dict[str, str]
    rows: Any
    values: Array
    among: int


def front(found: Found, aims: Mapping[str, str], *, feasible: bool = True) -> Front:
    """The front of a search over two or more aims, each ``least`` or ``most``, of the builds on which no check fails.

    An aim is a result that the search kept, a quantity that it moved, or ``smallest margin``. Builds on which an aim
    has no finite value are left out. Raises ``ValueError`` for an aim that was not kept.
    """
    if len(aims) < 2:
        raise ValueError(f"aims: {len(aims)} were given; allowed: two or more")
    for name, way in aims.items():
        if way not in WAYS:
            raise ValueError(f"{name}: {way!r} was given; allowed: 'least', 'most'")
        if any(axis.name == name and isinstance(axis, Alternatives) for axis in found.plan.axes):
            raise ValueError(f"{name}: a list of alternatives has no least or most; allowed: a number")
    values = np.column_stack([found.column(name) for name in aims])
    good = np.isfinite(values).all(axis=1)
    if feasible:
        good &= found.feasible
    rows, values = found.rows[good], values[good]
    keep = not_beaten(values * np.array([WAYS[way] for way in aims.values()]))
    order = np.argsort(values[keep][:, 0], kind="stable")
    return Front(dict(aims), rows[keep][order], values[keep][order], int(good.sum()))


@result
class Simulated:
    """One build of a search, driven: the run-up to its target speed, 400 m from rest, and a cycle.

    time [s], distance [m] and change_speed [m/s] of the run-up (infinite where the speed is out of reach), standing
    [s], per_metre [J/m] and range [m] on the cycle, and whether it follows the cycle. ``failed`` names the checks that
    fail when the build is reviewed alone.
    """

    row: int
    words: dict[str, str]
    time: float
    distance: float
    change_speed: float
    standing: float
    per_metre: float
    range: float
    follows: bool
    failed: tuple[str, ...]


def simulate(found: Found, rows: Iterable[int], *, cycle: str = "village") -> tuple[Simulated, ...]:
    """Drive the few builds that were kept, one by one: run-up, standing 400 m and a cycle; and review each alone."""
    return tuple(_simulated(found, int(row), cycle) for row in rows)


def _simulated(found: Found, row: int, cycle: str) -> Simulated:
    build = found.build(row)
    b = View(build.parts)
    run, driven = run_to_target(b), drive_cycle(b, named_cycle(cycle))
    alone = review(build, figures=False)
    return Simulated(
        row=row, words=found.plan.words(row), time=float(run.time), distance=float(run.distance),
        change_speed=float(run.change_speed), standing=float(standing_400(b).time), per_metre=driven.per_metre,
        range=driven.range, follows=driven.follows,
        failed=tuple(check.name for check in alone.checks if check.verdict == FAIL),
    )  # fmt: skip

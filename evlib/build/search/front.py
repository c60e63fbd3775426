"""The front: builds that no other one beats in every aim at once, and what such a few do when they are simulated.

The sorting is our own: it is a dozen lines of numpy, exact for any number of aims, and quick for two. What libraries
offer for it comes with a whole optimiser, or with compiled code to be shipped for every system.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from evlib.build.cycle import drive_cycle, named_cycle
from evlib.build.gears import run_to_target, standing_400
from evlib.build.review import review
from evlib.build.search.found import Found, meaning, of_build
from evlib.build.search.plan import Alternatives
from evlib.build.view import View
from evlib.ground.checks import FAIL
from evlib.ground.quantity import Array, Quantity, result

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
class FrontCase:
    """A front over two aims, made ready to draw, and one of its builds read whole.

    Columns are the two aims, in their ``units`` (unit and kind; shares in percent): ``cloud`` some of the other builds,
    ``line`` the front, whose builds ``rows`` numbers, ``kept`` the builds in question, ``present`` the build that the
    search began with, empty where it has no such value. ``row`` is the build chosen on the front; ``free`` says that on
    the builds shown no check fails.
    """

    aims: tuple[str, str]
    ways: tuple[str, str]
    units: tuple[tuple[str, str], ...]
    cloud: Array
    line: Array
    rows: Any
    kept: Array
    present: Array
    row: int
    point: tuple[float, float]
    words: tuple[tuple[str, str, str], ...]  # what moves, on the chosen build and on the present one
    failed: tuple[str, ...]
    among: int
    tried: int
    free: bool


def front_picture(found: Found, aims: Mapping[str, str], *, kept: Iterable[int] = (), cloud: int = 300) -> FrontCase:
    """The front over two aims, ready to draw, its first build chosen; over all builds where each has a failed check."""
    if len(aims) != 2:
        raise ValueError(f"aims: {len(aims)} were given; allowed in a picture: two")
    first, second = aims
    free = bool(found.feasible.any())
    one = front(found, aims, feasible=free)
    if not len(one.rows):
        raise ValueError(f"aims: no build of this search has a number for both {' and '.join(aims)}; allowed: results "
                         "that are known")  # fmt: skip
    units, factors = zip(*(_unit(meaning(found.plan.build, name)) for name in aims), strict=True)
    values = np.column_stack([found.column(name) for name in aims]) * factors
    rows = found.rows
    shown = np.isfinite(values).all(axis=1) & (found.feasible if free else True)
    others = np.flatnonzero(shown)
    others = others[:: max(1, len(others) // cloud)]
    places = np.searchsorted(rows, [row for row in kept if row in set(rows.tolist())])
    now = np.array([[of_build(found.plan, name) for name in aims]]) * factors
    case = FrontCase(
        aims=(first, second), ways=(aims[first], aims[second]), units=units, cloud=values[others],
        line=one.values * factors, rows=one.rows, kept=values[places], present=now[np.isfinite(now).all(axis=1)], row=0,
        point=(0.0, 0.0), words=(), failed=(), among=one.among, tried=found.count, free=free,
    )  # fmt: skip
    return choose(found, case, 0.0)


def choose(found: Found, case: FrontCase, place: float) -> FrontCase:
    """The same picture with another build of the front chosen: 0 is the first along it, 1 the last."""
    at = round(place * (len(case.rows) - 1))
    row = int(case.rows[at])
    words = tuple((name, told, found.plan.now(name)) for name, told in found.plan.words(row).items())
    point = (float(case.line[at, 0]), float(case.line[at, 1]))
    return dataclasses.replace(case, row=row, point=point, words=words, failed=found.failing(row))


def _unit(quantity: Quantity) -> tuple[tuple[str, str], float]:
    """Unit and kind that a value is told in, and the factor to it: a share is told in percent."""
    percent = not quantity.unit and (quantity.shown or {}).get("SI") == "%"
    return (("percent", ""), 100.0) if percent else ((quantity.unit, quantity.kind), 1.0)


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

"""The trade-off map: every check and a few results over two quantities of one build, and one point of it read whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from evlib.build.registry import CHECKS
from evlib.build.review import load, review
from evlib.build.schema import Build
from evlib.build.search.found import MARGIN, Found, meaning
from evlib.build.search.piece import smallest_margin
from evlib.build.search.plan import OUT_OF_RANGE, Span, plan
from evlib.build.search.run import run
from evlib.ground.quantity import Array, result

LEVELS = 41  # values of each quantity on the map
DRAWN = 6  # limits that are drawn: more lines than that nobody tells apart
FURTHEST = 9.0  # margins are cut off here either way: what matters is where they are 0
ROWS = 6  # checks that are told of a point


@result
class TradeMap:
    """A grid of builds: rows are values of ``up``, columns values of ``across``, both in SI.

    ``results`` are grids in SI, margins in percent; where one is no finite number, ``known`` is false.
    ``margins`` has a grid for each check that says something anywhere, cut off at 9 either way. ``never`` are checks
    that fail all over the map: what moves here does not mend them. ``worst`` is the smallest margin of the others that
    fail somewhere, and ``share`` the part of the map where none of those fails. ``limits`` are the checks whose limit
    is drawn, ``moving`` those whose margin is not the same everywhere.
    """

    across: str
    up: str
    x: Array
    y: Array
    results: dict[str, Array]
    known: dict[str, Any]
    margins: dict[str, Array]
    never: tuple[str, ...]
    limits: tuple[str, ...]
    moving: tuple[str, ...]
    worst: Array
    share: float


@result
class TradeCase:
    """A map with one point: the build there, what fails on it, and the checks with the smallest margins.

    ``exact``: by a review of its own; else the nearest build of the map stands for it.
    """

    picture: TradeMap
    result: str
    unit: str
    kind: str
    x: float
    y: float
    value: float | None
    failed: tuple[str, ...]
    made: int  # checks that could be made
    governing: tuple[tuple[str, float], ...]
    exact: bool


def trade_map(build: Build, spans: Mapping[str, tuple[float, float]], results: tuple[str, ...], *,
              levels: int = LEVELS) -> TradeMap:  # fmt: skip
    """Review a grid of builds over two quantities. Raises ``ValueError`` where one does not take every value."""
    if len(spans) != 2:
        raise ValueError(f"map: {len(spans)} quantities were given; allowed: two")
    kept = tuple(name for name in results if name != MARGIN)
    load()
    made = plan(build, spans, builds=levels**2, how="grid", keep=(*kept, *(f"margin of {name}" for name in CHECKS)))
    for axis in made.axes:
        if not isinstance(axis, Span):
            raise ValueError(f"{axis.name}: it is a list or a count; allowed on a map: a quantity that takes any value")
    found = run(made)

    def grid(name: str) -> Array:
        return (100.0 if _is_margin(name) else 1.0) * found.column(name).reshape(
            levels, levels
        ).T  # the first quantity changes slowest

    known = {name: np.isfinite(grid(name)) for name in results}
    margins = _margins(found, levels)
    never = tuple(name for name, margin in margins.items() if (margin < 0).all())
    rest = {name: margin for name, margin in margins.items() if name not in never and (margin < 0).any()}
    worst = np.minimum.reduce(list(rest.values())) if rest else np.full((levels, levels), FURTHEST)
    across, up = made.spans
    share = np.linspace(0.0, 1.0, levels)
    return TradeMap(
        across.name, up.name, across.at(share), up.at(share),
        {name: np.where(known[name], grid(name), _filler(grid(name))) for name in results}, known, margins, never,
        _limits(rest), tuple(name for name, margin in margins.items() if np.ptp(margin) > 0), worst,
        float(np.mean(worst >= 0)),
    )  # fmt: skip


def _filler(values: Array) -> float:
    good = values[np.isfinite(values)]
    return float(good.max()) if good.size else 0.0


def _margins(found: Found, levels: int) -> dict[str, Array]:
    """The margin of each check over the map; one that cannot be made at a place counts as failed there."""
    cannot, grids = found.cannot, {}
    for line, name in enumerate(found.plan.checks):
        column = np.where(cannot[:, line], -FURTHEST, found.column(f"margin of {name}"))
        if not np.isnan(column).all():
            clipped = np.clip(
                np.nan_to_num(column, nan=FURTHEST, posinf=FURTHEST, neginf=-FURTHEST), -FURTHEST, FURTHEST
            )
            grids[name] = clipped.reshape(levels, levels).T
    return grids


def _limits(margins: Mapping[str, Array]) -> tuple[str, ...]:
    """The checks that bound the region where none fails: first those that alone shut out most of the map."""
    crossing = {name: margin < 0 for name, margin in margins.items()}
    if not crossing:
        return ()
    count = np.sum(list(crossing.values()), axis=0)
    alone = {name: int(np.sum(fails & (count == 1))) for name, fails in crossing.items()}
    best = sorted(crossing, key=lambda name: (-alone[name], -int(crossing[name].sum())))
    bounding = [name for name in best if alone[name]]
    return tuple((bounding or best)[:DRAWN])


def at_point(build: Build, picture: TradeMap, name: str, *, x: float, y: float) -> TradeCase:
    """One point of the map, by a review of its own."""
    there = build.changed({picture.across: x, picture.up: y})
    wanted = () if _is_margin(name) else (name,)
    found = review(there, figures=wanted)
    margins = [(check.name, _clipped(check.margin)) for check in found.checks
               if check.demand is not None or check.missing == OUT_OF_RANGE]  # fmt: skip
    failed = tuple(name for name, margin in margins if margin < 0)
    value = found.stated[0].value if wanted else 100.0 * dict(margins).get(name.removeprefix("margin of "), np.nan)
    if name == MARGIN:
        value = 100.0 * smallest_margin(found.checks, {picture.across, picture.up})
    return _case(build, picture, name, x, y, value, failed, margins, exact=True)


def _is_margin(name: str) -> bool:
    return name == MARGIN or name.startswith("margin of ")


def _clipped(margin: float | None) -> float:
    """A margin within the map's limits; of a check that cannot be made here, the lower one."""
    return -FURTHEST if margin is None or np.isnan(margin) else float(np.clip(margin, -FURTHEST, FURTHEST))


def near_point(build: Build, picture: TradeMap, name: str, *, x: float, y: float) -> TradeCase:
    """The same point as the nearest build of the map has it: what a drag shows."""
    row, column = int(np.argmin(np.abs(picture.y - y))), int(np.argmin(np.abs(picture.x - x)))
    margins = [(check, float(grid[row, column])) for check, grid in picture.margins.items()]
    failed = tuple(check for check, margin in margins if margin < 0)
    value = float(picture.results[name][row, column]) if picture.known[name][row, column] else None
    return _case(build, picture, name, x, y, value, failed, margins, exact=False)


def _case(build: Build, picture: TradeMap, name: str, x: float, y: float, value: Any, failed: tuple[str, ...],
          margins: list[tuple[str, float]], *, exact: bool) -> TradeCase:  # fmt: skip
    quantity = meaning(build, name)
    number = float(value) if isinstance(value, int | float | np.number) and np.isfinite(value) else None
    moving = [pair for pair in margins if pair[1] < 0 or pair[0] in picture.moving]
    governing = tuple(sorted(moving, key=lambda pair: pair[1])[:ROWS])
    unit = "percent" if _is_margin(name) else quantity.unit
    return TradeCase(picture, name, unit, quantity.kind, x, y, number, failed, len(margins), governing, exact)


__all__ = ["TradeCase", "TradeMap", "at_point", "near_point", "trade_map"]

"""What moves what: each value at the ends of its declared span, one at a time.

A build states where a value comes from, and perhaps its spread; from that follows one standard deviation. Everything
here is one column of builds through the same checks that a review makes.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.kinds import RULE, WISH, kind_of
from evlib.build.registry import CHECKS, STATED, Stated, evaluate, state
from evlib.build.review import load
from evlib.build.schema import Build, declared
from evlib.build.view import View
from evlib.ground.checks import Check
from evlib.ground.quantity import SPREAD, Array, Quantity, quantity_of, result

WIDE = 2.0  # standard deviations to each side: the declared span of a value


def standard_deviation(build: Build, path: str) -> float:
    """The standard deviation of a value, relative to it; 0 for what is exact, not known, or no number.

    The build's own ``spread`` comes first, then what ``from`` usually means, then what the quantity declares. Counts,
    wishes and rules are exact: nobody measures a wish. A temperature's spread is a share of its kelvin.
    """
    quantity, value = quantity_of(declared().get(path)), build.value(path)
    if quantity is None or quantity.whole or not isinstance(value, float) or value == 0:
        return 0.0
    origin = build.origins.get(path)
    if origin is not None and origin.spread is not None:
        return origin.spread
    if origin is not None and origin.source:
        return SPREAD[origin.source]
    if kind_of(path) in (WISH, RULE):
        return 0.0
    return SPREAD[quantity.spread] if isinstance(quantity.spread, str) else quantity.spread


def spreads(build: Build) -> dict[str, float]:
    """Every value of a build that may differ from what is stated: path to relative standard deviation."""
    found = {path: standard_deviation(build, path) for path in declared()}
    return {path: share for path, share in found.items() if share > 0}


def limits(quantity: Quantity, value: float) -> tuple[float, float]:
    """The limits that a value near this one may not pass.

    A limit that is itself not allowed is kept away from by a hundredth of the way: a mass of next to nothing is
    no vehicle, though it is more than 0.
    """
    low = max(quantity.low, quantity.above + 0.01 * (value - quantity.above) if quantity.above > -np.inf else -np.inf)
    high = min(quantity.high, quantity.below - 0.01 * (quantity.below - value) if quantity.below < np.inf else np.inf)
    return low, high


@result
class Outcome:
    """What a check's margin or a stated figure comes to, and the values that it rests on."""

    value: Any  # a number or a column; NaN where it cannot be made
    unit: str
    target: Any  # the wanted margin; None for a stated figure
    needs: tuple[str, ...]


def outcome(build: Build, name: str) -> Outcome:
    """The margin of the check of that name, or the stated figure of that name. Raises ``ValueError`` on another."""
    load()
    view = View(build.parts)
    with np.errstate(divide="ignore", invalid="ignore"):
        if name in CHECKS:
            made: Check = evaluate(CHECKS[name], view)
            return Outcome(np.nan if made.margin is None else made.margin, "", made.target, made.needs)
        if name in STATED:
            figure: Stated = state(STATED[name], view)
            number = not isinstance(figure.value, str) and figure.value is not None
            return Outcome(figure.value if number else np.nan, figure.unit, None, figure.needs)
    raise ValueError(f"{name!r} is no check and no stated figure; checks are: {', '.join(CHECKS)}")


def outcomes(build: Build, name: str, columns: dict[str, Array]) -> tuple[Array, Array]:
    """One outcome for each row of the columns, and its target: all at once. NaN where it cannot be made.

    A row that contradicts itself (or leaves a table) takes its whole column with it. Then the column is made in
    halves, and so on down, so that only that row is lost.
    """
    rows = len(next(iter(columns.values())))
    try:
        alone = rows == 1
        given: dict[str, Any] = {path: float(column[0]) if alone else column for path, column in columns.items()}
        made = outcome(build.changed(given), name)
        values = np.broadcast_to(np.asarray(made.value, float), rows)
        target = np.broadcast_to(np.asarray(0.0 if made.target is None else made.target, float), rows)
        if alone or not np.isnan(values).all():
            return values, target
    except (TypeError, ValueError):  # TypeError: a count that the check takes one of, not a column
        if rows == 1:
            return np.array([np.nan]), np.array([0.0])
    halves = [
        outcomes(build, name, {path: column[part] for path, column in columns.items()})
        for part in (slice(None, rows // 2), slice(rows // 2, None))
    ]
    return np.concatenate([half[0] for half in halves]), np.concatenate([half[1] for half in halves])


@result
class Bar:
    """One value at both ends of its declared span, and what the outcome is there."""

    path: str
    words: str
    low_value: float
    high_value: float
    at_low: float
    at_high: float

    @property
    def effect(self) -> float:
        """How far apart the outcome is at the two ends."""
        return abs(self.at_high - self.at_low)


@result
class Tornado:
    """What moves one outcome: a bar for each value with a spread, the longest first."""

    name: str
    unit: str
    here: float
    target: float | None
    scale: float
    bars: tuple[Bar, ...]
    left_out: tuple[str, ...]  # values at whose ends the outcome cannot be worked out


def tornado(build: Build, name: str, *, scale: float = 1.0, wide: float = WIDE) -> Tornado:
    """Each spread value at the low and the high end of its span, one at a time, as one column of builds.

    The span is ``wide`` standard deviations to each side, times ``scale``, within the declared limits. Values that
    do not move the outcome, or whose ends cannot be worked out, are left out. ``name`` is a check (its margin
    moves) or a stated figure.
    """
    base = outcome(build, name)
    here, paths = float(np.asarray(base.value)), [p for p in base.needs if standard_deviation(build, p) > 0]
    if not np.isfinite(here):
        raise ValueError(f"{name}: has no number on this build that could move")
    ends = {path: _ends(build, path, wide * scale) for path in paths}
    columns = {path: np.full(2 * len(paths), float(build.value(path))) for path in paths}
    for row, path in enumerate(paths):
        columns[path][2 * row : 2 * row + 2] = ends[path]
    values = outcomes(build, name, columns)[0] if paths else np.array([])
    bars = [
        Bar(path, words(path), *ends[path], float(values[2 * row]), float(values[2 * row + 1]))
        for row, path in enumerate(paths)
    ]
    moving = [bar for bar in bars if np.isfinite(bar.effect) and bar.effect > 1e-9 * max(abs(here), 1e-9)]
    left_out = tuple(bar.path for bar in bars if not np.isfinite(bar.effect))
    target = None if base.target is None else float(np.max(base.target))
    ordered = tuple(sorted(moving, key=lambda bar: (-bar.effect, bar.path)))
    return Tornado(name, base.unit, here, target, scale, ordered, left_out)


def _ends(build: Build, path: str, wide: float) -> tuple[float, float]:
    quantity, value = quantity_of(declared()[path]), float(build.value(path))
    assert quantity is not None  # standard_deviation was above 0
    low, high = limits(quantity, value)
    reach = wide * standard_deviation(build, path) * abs(value)
    return max(value - reach, low), min(value + reach, high)


def words(path: str) -> str:
    """A value in words, with its part where other parts have a value of the same name."""
    quantity = quantity_of(declared()[path])
    text = quantity.text if quantity else path.rsplit(".", 1)[1].replace("_", " ")
    name = path.rsplit(".", 1)[1]
    twins = sum(other.rsplit(".", 1)[1] == name for other in declared())
    return f"{text} ({path.rsplit('.', 2)[-2].replace('_', ' ')})" if twins > 1 else text

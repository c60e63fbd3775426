"""One chunk of a search: the columns of its builds through the review, and what is kept of them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from evlib.build.registry import CHECKS, STATED, Stated, evaluate, state
from evlib.build.review import review
from evlib.build.schema import Build
from evlib.build.search.plan import ASPECTS, OUT_OF_RANGE, Plan
from evlib.build.view import View
from evlib.ground.checks import Check
from evlib.ground.quantity import Array

Piece = dict[str, Any]  # arrays by name: failed, unknown (bits), worst, governs, and each result that is kept


def piece(plan: Plan, number: int) -> Piece:
    """Review one chunk. The numbers depend on the plan and the chunk alone, not on where or when it is worked out."""
    fixed, columns = plan.changes(number)
    rows = plan.chunks[number][2] - plan.chunks[number][1]
    build = plan.build.changed(fixed)
    figures = tuple(name for name in plan.keep if name.partition(" of ")[0] not in ASPECTS)
    found = review(build.changed(columns), figures=figures)
    checks = {check.name: check for check in found.checks}
    sides = _Sides(plan, rows)
    for name in plan.checks:
        sides.put(checks[name], slice(None))
    broken = [name for name, check in checks.items() if _refused(check) and set(check.needs) & set(columns)]
    if broken:
        order = _order(columns, {path for name in broken for path in checks[name].needs})
        _halve(plan, build, columns, broken, order, sides)
    kept: dict[str, Array] = {}
    for name in plan.keep:
        aspect, _, check = name.partition(" of ")
        if aspect in ASPECTS and check in CHECKS:
            kept[name] = getattr(sides, aspect)[plan.checks.index(check)]
        else:
            kept[name] = np.full(rows, np.nan)
            figure = next(figure for figure in found.stated if figure.name == name)
            _figure(build, columns, figure, np.arange(rows), kept[name])
    governs = np.argmin(sides.spare, axis=0)
    return {
        "failed": np.packbits(sides.margin < 0, axis=0).T.copy(),
        "unknown": np.packbits(sides.unknown, axis=0).T.copy(),
        "worst": sides.spare[governs, np.arange(rows)], "governs": governs.astype(np.int16), **kept,
    }  # fmt: skip


class _Sides:
    """Demand, capacity and margin of every check (rows) on every build of a chunk (columns).

    NaN is a check that says nothing here: it does not apply, or the build does not state what it needs. ``unknown``
    are checks that should say something and cannot: beyond a table, or on values that do not go together. ``spare`` is
    the margin where it tells builds of this search apart, as :func:`smallest_margin` has it; infinite elsewhere.
    """

    def __init__(self, plan: Plan, rows: int) -> None:
        self.plan, self.rows = plan, rows
        self.demand, self.capacity, self.margin = (np.full((len(plan.checks), rows), np.nan) for _ in range(3))
        self.spare = np.full((len(plan.checks), rows), np.inf)
        self.unknown = np.zeros((len(plan.checks), rows), dtype=bool)

    def put(self, check: Check, where: Any) -> None:
        """Note one check on some of the builds."""
        line = self.plan.checks.index(check.name)
        if check.demand is None:
            cannot = bool(check.missing) and check.name not in self.plan.unmade
            self.unknown[line, where] = cannot
            self.spare[line, where] = -np.inf if cannot and self.plan.moved & set(check.needs) else np.inf
            return
        margin = np.asarray(check.margin, float)
        self.unknown[line, where] = np.isnan(margin)
        self.margin[line, where] = margin
        self.demand[line, where] = check.demand
        self.capacity[line, where] = check.capacity
        self.spare[line, where] = _spare(check, self.plan.moved)


def smallest_margin(checks: Iterable[Check], moved: set[str]) -> float:
    """The smallest margin of one build, of the checks that the moved values touch; infinite where there is none.

    A check that wants no spare, as a count of faults, is left out while it is met: its 0 % says nothing.
    """
    return float(min((np.min(_spare(check, moved)) for check in checks if check.demand is not None), default=np.inf))


def _spare(check: Check, moved: set[str]) -> Any:
    margin = np.asarray(check.margin, float)
    met = (np.asarray(check.target) == 0) & (margin >= 0)
    told = np.where(np.isnan(margin), -np.inf, np.where(met, np.inf, margin))
    return told if moved & set(check.needs) else np.inf


def _refused(check: Check) -> bool:
    """Whether a check could not be made because of what its values are, not because one is missing."""
    return check.demand is None and check.missing == OUT_OF_RANGE


def _order(columns: dict[str, Array], needs: set[str]) -> Any:
    """Rows sorted by the columns that the broken checks read, so that what breaks lies together."""
    read = [columns[path] for path in sorted(needs & set(columns))]
    rows = len(next(iter(columns.values()))) if columns else 1
    return np.lexsort(read) if read else np.arange(rows)


def _halve(plan: Plan, build: Build, columns: dict[str, Array], broken: list[str], rows: Any, sides: _Sides) -> None:
    """Make the checks that refused a whole column again on halves of it, until only the builds at fault are left.

    A check refuses a column if one build in it contradicts itself (a bore as large as its shaft). The others stand.
    """
    if len(rows) < 2:
        return
    for half in np.array_split(rows, 2):
        view = View(build.changed({path: column[half] for path, column in columns.items()}).parts)
        with np.errstate(divide="ignore", invalid="ignore"):
            made = [evaluate(CHECKS[name], view) for name in broken]
        for check in made:
            sides.put(check, half)
        still = [check.name for check in made if _refused(check)]
        if still:
            _halve(plan, build, columns, still, half, sides)


def _figure(build: Build, columns: dict[str, Array], figure: Stated, rows: Any, out: Array) -> None:
    """Put a figure's column in its place; where it refused the column, as for the checks, on halves of it."""
    if isinstance(figure.value, str):
        return  # words in place of a number ("not reached"), the same for all of these builds
    if figure.value is not None:
        out[rows] = figure.value
    elif figure.reason.endswith(OUT_OF_RANGE[0]) and len(rows) > 1 and set(figure.needs) & set(columns):
        for half in np.array_split(rows, 2):
            view = View(build.changed({path: column[half] for path, column in columns.items()}).parts)
            with np.errstate(divide="ignore", invalid="ignore"):
                _figure(build, columns, state(STATED[figure.name], view), half, out)

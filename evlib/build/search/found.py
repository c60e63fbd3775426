"""What a search has found: by column, by check, and build by build."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build.registry import CHECKS, STATED
from evlib.build.review import load, review
from evlib.build.schema import Build, declared
from evlib.build.search import store
from evlib.build.search.piece import Piece, smallest_margin
from evlib.build.search.plan import Plan, Span
from evlib.ground.quantity import Array, Quantity, quantity_of, result

MARGIN = "smallest margin"


@result
class Fails:
    """How often one check fails: its name, builds on which it fails or cannot be made, and where it alone does."""

    check: str
    builds: int
    alone: int


class Found:
    """The results of the chunks that are done. Rows keep their number in the plan, done or not."""

    def __init__(self, made: Plan, folder: Path | None) -> None:
        self.plan, self.folder = made, folder
        self.pieces: dict[int, Piece] = {}
        self.done: set[int] = set()
        if folder is not None:
            self.done = {number for number in range(len(made.chunks)) if store.whole(folder, number, made)}

    def add(self, number: int, made: Piece) -> None:
        """Keep one chunk: in the folder if there is one, else in memory."""
        if self.folder is None:
            self.pieces[number] = made
        else:
            store.write(self.folder, number, made, self.plan.keep)
        self.done.add(number)

    def piece(self, number: int) -> Piece:
        """One chunk that is done."""
        if self.folder is None:
            return self.pieces[number]
        return store.read(self.folder, number, self.plan.keep)

    @property
    def complete(self) -> bool:
        """Whether every build of the plan is done."""
        return len(self.done) == len(self.plan.chunks)

    @property
    def count(self) -> int:
        """How many builds are done."""
        return sum(end - start for _, start, end in (self.plan.chunks[number] for number in self.done))

    @property
    def rows(self) -> Any:
        """The numbers of the rows that are done, ascending; every column stands in this order."""
        starts = np.cumsum([0, *(end - start for _, start, end in self.plan.chunks)])
        return _joined([np.arange(starts[number], starts[number + 1]) for number in sorted(self.done)], int)

    def column(self, name: str) -> Array:
        """A column over the builds that are done: a result that was kept, ``smallest margin``, or what was moved."""
        numbers = sorted(self.done)
        if name == MARGIN:
            return _joined([self.piece(number)["worst"] for number in numbers])
        if name in self.plan.keep:
            return _joined([self.piece(number)[name] for number in numbers])
        if name in {axis.name for axis in self.plan.axes}:
            return _joined([self.plan.chunk_values(number)[name] for number in numbers])
        known = ", ".join([MARGIN, *self.plan.keep, *(axis.name for axis in self.plan.axes)])
        raise ValueError(f"{name}: this search did not keep it; there are: {known}")

    @property
    def feasible(self) -> Any:
        """Where no check fails and each that the build's values allow can be made."""
        return _joined([_feasible(self.piece(number)) for number in sorted(self.done)], bool)

    @property
    def cannot(self) -> Any:
        """Which checks cannot be made on which builds, though the build states what they need; a row for each build."""
        count = len(self.plan.checks)
        bits = [self.piece(number)["unknown"] for number in sorted(self.done)]
        return _joined([np.unpackbits(each, axis=1, count=count).astype(bool) for each in bits], bool)

    @property
    def governs(self) -> list[str]:
        """The check with the smallest margin, build by build, of those that what moves touches."""
        numbers = _joined([self.piece(number)["governs"] for number in sorted(self.done)], int)
        return [self.plan.checks[number] for number in numbers]

    def fails(self) -> tuple[Fails, ...]:
        """The checks that fail somewhere, the most often failing first."""
        count = len(self.plan.checks)
        builds, alone = np.zeros(count, int), np.zeros(count, int)
        for number in self.done:
            bad = _bad(self.piece(number), count)
            builds += bad.sum(axis=0)
            alone += bad[bad.sum(axis=1) == 1].sum(axis=0)
        order = np.argsort(-builds, kind="stable")
        return tuple(Fails(self.plan.checks[k], int(builds[k]), int(alone[k])) for k in order if builds[k])

    def failing(self, row: int) -> tuple[str, ...]:
        """The checks that fail on one build, or cannot be made on it."""
        chunk, place = self.plan.where(row)
        if chunk not in self.done:
            raise ValueError(f"row {row}: this build is not done yet; {self.count} of {self.plan.rows} are")
        bad = _bad(self.piece(chunk), len(self.plan.checks))[place]
        return tuple(name for name, here in zip(self.plan.checks, bad, strict=True) if here)

    def build(self, row: int) -> Build:
        """One build of the search, whole: for a review of its own, a panel or a sheet."""
        return self.plan.build.changed(self.plan.change(row))

    def shown(self, name: str, value: float) -> str:
        """A value of a moved quantity or an alternative's name, in words."""
        axis = next(axis for axis in self.plan.axes if axis.name == name)
        return axis.quantity.show(value) if isinstance(axis, Span) else axis.names[int(value)]


def meaning(build: Build, name: str) -> Quantity:
    """What a column of a search is: its unit, its kind and its words."""
    load()
    if name == MARGIN or name.startswith("margin of "):
        return Quantity("", "", name, shown={"SI": "%", "shop": "%"})
    if name in STATED:
        return Quantity("", STATED[name].unit, name)
    _, _, check = name.partition(" of ")
    if check in CHECKS:
        made = review(build, topics=(CHECKS[check].topic,), figures=False).check(check)
        return Quantity("", made.unit, name, kind=made.kind)
    quantity = quantity_of(declared().get(name))
    if quantity is None:
        raise ValueError(f"{name}: it is no number of a search; allowed: a result that was kept, or a quantity")
    return quantity


def of_build(made: Plan, name: str) -> float:
    """What a column of a search is on the build it was begun with; NaN where that does not say."""
    load()
    build = made.build
    if name in STATED:
        found = review(build, topics=(), figures=(name,)).stated[0].value
    elif name == MARGIN:
        found = smallest_margin(review(build, figures=False).checks, made.moved)
    elif name.partition(" of ")[2] in CHECKS:
        aspect, _, check = name.partition(" of ")
        found = getattr(review(build, topics=(CHECKS[check].topic,), figures=False).check(check), aspect)
    else:
        found = build.value(name)
    return float(found) if isinstance(found, int | float | np.number) else math.nan


def _bad(made: Piece, count: int) -> Any:
    return np.unpackbits(made["failed"] | made["unknown"], axis=1, count=count).astype(bool)


def _feasible(made: Piece) -> Any:
    return ~(made["failed"].any(axis=1) | made["unknown"].any(axis=1))


def _joined(parts: list[Any], kind: Any = float) -> Array:
    return np.concatenate(parts) if parts else np.zeros(0, kind)

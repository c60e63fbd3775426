"""What is searched: two to six declared quantities or lists of alternatives, and which builds are tried.

A plan names every build by its row number, so that any stretch of rows can be made again from nothing: that is what
keeps memory flat, lets a stopped search go on, and gives the same numbers wherever the stretch is worked out.
"""

from __future__ import annotations

import dataclasses
import difflib
import functools
import itertools
import math
import typing
from collections.abc import Mapping
from typing import Any

import numpy as np

from evlib.build.file import is_list
from evlib.build.registry import CHECKS, STATED
from evlib.build.review import load, review
from evlib.build.schema import Build, declared
from evlib.ground.quantity import Array, Quantity, quantity_of

CHUNK = 2048  # builds reviewed at once: more take more memory and no less time; see tests/benchmarks
FEWEST, MOST = 2, 6  # quantities or lists in one search
MOST_BUILDS = 10_000_000
MOST_BLOCKS = 1000  # alternatives that are no plain numbers are reviewed one combination at a time
ASPECTS = ("margin", "demand", "capacity")


@dataclasses.dataclass(frozen=True, eq=False)
class Span:
    """A quantity that takes every value between two ends, in SI; evenly, or evenly in the logarithm."""

    name: str
    quantity: Quantity
    low: float
    high: float

    def at(self, share: Any) -> Array:
        """The value at a share of the span from 0 to 1."""
        if self.quantity.scale == "log" and self.low > 0:
            return np.asarray(self.low * (self.high / self.low) ** np.asarray(share, float))
        return np.asarray(self.low + (self.high - self.low) * np.asarray(share, float))


@dataclasses.dataclass(frozen=True, eq=False)
class Alternatives:
    """A list to choose from: each named alternative changes some values of the build."""

    name: str
    options: dict[str, dict[str, Any]]

    @property
    def names(self) -> tuple[str, ...]:
        """What the alternatives are called."""
        return tuple(self.options)

    @property
    def paths(self) -> set[str]:
        """Every value that one of them changes."""
        return set().union(*self.options.values())


Axis = Span | Alternatives


@dataclasses.dataclass(frozen=True, eq=False)
class Plan:
    """A search that can be run: the build it starts from, what moves, how many builds, and what is kept of each."""

    build: Build
    axes: tuple[Axis, ...]
    builds: int
    how: str
    seed: int
    keep: tuple[str, ...]

    @functools.cached_property
    def spans(self) -> tuple[Span, ...]:
        """The quantities that move freely."""
        return tuple(axis for axis in self.axes if isinstance(axis, Span))

    @functools.cached_property
    def moved(self) -> set[str]:
        """Every value of the build that some axis changes."""
        return set().union(*(axis.paths if isinstance(axis, Alternatives) else {axis.name} for axis in self.axes))

    @functools.cached_property
    def blocks(self) -> tuple[Alternatives, ...]:
        """Lists that change words, counts or curves: one review for each of their combinations."""
        return tuple(axis for axis in self.axes if isinstance(axis, Alternatives) and not _is_column(axis, self.build))

    @functools.cached_property
    def lists(self) -> tuple[Alternatives, ...]:
        """Lists of plain numbers: they stand in a column like a quantity."""
        return tuple(axis for axis in self.axes if isinstance(axis, Alternatives) and axis not in self.blocks)

    @functools.cached_property
    def combinations(self) -> tuple[tuple[int, ...], ...]:
        """Every choice from the blocks, as the numbers of the alternatives."""
        return tuple(itertools.product(*(range(len(axis.options)) for axis in self.blocks)))

    @functools.cached_property
    def points(self) -> int:
        """Points over the spans; every combination of alternatives is tried at all of them."""
        share = self.builds / (len(self.combinations) * self._choices)
        if not self.spans:
            return 1
        return self.levels ** len(self.spans) if self.how == "grid" else max(1, math.ceil(share - 1e-9))

    @functools.cached_property
    def levels(self) -> int:
        """Values of each span on a full grid."""
        share = self.builds / (len(self.combinations) * self._choices)
        return max(2, int(share ** (1 / len(self.spans)) + 1e-9)) if self.spans else 1

    @property
    def _choices(self) -> int:
        return math.prod(len(axis.options) for axis in self.lists)

    @property
    def rows(self) -> int:
        """How many builds are tried."""
        return len(self.combinations) * self._choices * self.points

    @functools.cached_property
    def chunks(self) -> tuple[tuple[int, int, int], ...]:
        """Stretches of rows, each within one block: (block, first row of the block, end)."""
        each = self._choices * self.points
        return tuple((block, start, min(start + CHUNK, each))
                     for block in range(len(self.combinations)) for start in range(0, each, CHUNK))  # fmt: skip

    @functools.cached_property
    def checks(self) -> tuple[str, ...]:
        """Every check, in the order of its bit."""
        load()
        return tuple(sorted(CHECKS))  # not as they were registered: that order hangs on who imported what first

    @functools.cached_property
    def unmade(self) -> tuple[str, ...]:
        """Checks that cannot be made because this build does not state what they need; they decide nothing here."""
        made = review(self.build, figures=False).checks
        return tuple(c.name for c in made if c.demand is None and c.missing and c.missing != OUT_OF_RANGE)

    def chunk_values(self, number: int) -> dict[str, Array]:
        """What each axis is in one chunk: a quantity's values in SI, a list's number of the alternative."""
        block, start, end = self.chunks[number]
        row = np.arange(start, end)
        shares = self._shares(start // self._choices, (end - 1) // self._choices + 1)
        place = row // self._choices - start // self._choices
        found: dict[str, Array] = {}
        for axis, shared in zip(self.spans, shares.T, strict=True):
            found[axis.name] = axis.at(shared)[place]
        rest = row % self._choices
        for which in self.lists:
            found[which.name], rest = (rest % len(which.options)).astype(float), rest // len(which.options)
        for which, chosen in zip(self.blocks, self.combinations[block], strict=True):
            found[which.name] = np.full(len(row), float(chosen))
        return {axis.name: found[axis.name] for axis in self.axes}

    def _shares(self, first: int, end: int) -> Array:
        """Points ``first`` to ``end`` of the unit cube, one row each."""
        if not self.spans:
            return np.zeros((end - first, 0))
        if self.how == "grid":
            places = np.unravel_index(np.arange(first, end), (self.levels,) * len(self.spans))
            return np.column_stack(places) / (self.levels - 1)
        from scipy.stats import qmc

        points = qmc.Sobol(len(self.spans), scramble=True, seed=np.random.default_rng(self.seed))
        if first:
            points.fast_forward(first)
            return np.asarray(points.random(end - first))
        return np.asarray(points.random(2 ** math.ceil(math.log2(max(end, 1)))))[:end]  # it wants a power of two

    def changes(self, number: int) -> tuple[dict[str, Any], dict[str, Array]]:
        """One chunk as changes to the build: what is the same for all of it, and what is a column."""
        values, fixed, columns = self.chunk_values(number), {}, {}
        for axis in self.axes:
            here = values[axis.name]
            if isinstance(axis, Span):
                columns[axis.name] = here
            elif axis in self.blocks:
                fixed.update(axis.options[axis.names[int(here[0])]])
            else:
                for path in axis.paths:
                    numbers = [_number(path, change.get(path, self.build.value(path)))
                               for change in axis.options.values()]  # fmt: skip
                    columns[path] = np.array(numbers)[here.astype(int)]
        return fixed, columns

    def where(self, row: int) -> tuple[int, int]:
        """The chunk that a row stands in, and its place there."""
        if not 0 <= row < self.rows:
            raise ValueError(f"row: {row} was given; allowed: 0 to {self.rows - 1}")
        each = self._choices * self.points
        block, inside = divmod(row, each)
        return block * math.ceil(each / CHUNK) + inside // CHUNK, inside % CHUNK

    def change(self, row: int) -> dict[str, Any]:
        """What one row changes in the build, ready for ``build.changed``."""
        chunk, place = self.where(row)
        fixed, columns = self.changes(chunk)
        return {**fixed, **{path: float(column[place]) for path, column in columns.items()}}

    def words(self, row: int) -> dict[str, str]:
        """What each axis is in one row, in words: a value with its unit, or the alternative's name."""
        chunk, place = self.where(row)
        values = self.chunk_values(chunk)
        return {axis.name: axis.quantity.show(float(values[axis.name][place])) if isinstance(axis, Span)
                else axis.names[int(values[axis.name][place])] for axis in self.axes}  # fmt: skip

    def now(self, name: str) -> str:
        """What an axis is on the build itself, in words; empty where it is a list."""
        axis = next(axis for axis in self.axes if axis.name == name)
        if isinstance(axis, Alternatives):
            return ""
        value = self.build.value(name)
        return "not known" if value is None else axis.quantity.show(float(value))


OUT_OF_RANGE = ("a value within range",)  # what a check names as missing where its values do not go together


def plan(build: Build, axes: Mapping[str, Any], *, builds: int = 100_000, how: str = "sample", seed: int = 1,
         keep: tuple[str, ...] = ()) -> Plan:  # fmt: skip
    """A search over ``axes``, checked. Raises ``ValueError`` in one sentence for whatever is wrong with it.

    Each key of ``axes`` is a dotted path of the build, or the name of a list. Its value is ``None`` (the quantity's own
    span), a pair of ends ``("3.2", "4.6")`` with units or in SI, a list of values, or alternatives by name, each the
    values it changes: ``{"gearset": {"short": {...}, "long": {...}}}``. ``how`` is ``sample`` (spread evenly over the
    spans by a seeded Sobol sequence) or ``grid`` (every combination of equal steps). ``keep`` names results to be kept
    of each build: a figure that the sheet states, or ``margin of``, ``demand of`` or ``capacity of`` a check.
    """
    if not FEWEST <= len(axes) <= MOST:
        raise ValueError(f"search: {len(axes)} quantities or lists were given; allowed: {FEWEST} to {MOST}")
    if how not in ("sample", "grid"):
        raise ValueError(f"how: {how!r} was given; allowed: 'sample', 'grid'")
    if isinstance(builds, bool) or not isinstance(builds, int) or not 1 <= builds <= MOST_BUILDS:
        raise ValueError(f"builds: {builds!r} was given; allowed: a whole number from 1 to {MOST_BUILDS}")
    if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
        raise ValueError(f"seed: {seed!r} was given; allowed: a whole number from 0")
    made = Plan(build, tuple(_axis(build, name, given) for name, given in axes.items()), builds, how, seed,
                tuple(_kept(build, name) for name in dict.fromkeys(keep)))  # fmt: skip
    moved = [path for axis in made.axes for path in (axis.paths if isinstance(axis, Alternatives) else {axis.name})]
    twice = sorted({path for path in moved if moved.count(path) > 1})
    if twice:
        raise ValueError(f"{twice[0]}: two parts of the search move it; allowed: one")
    if len(made.combinations) > MOST_BLOCKS:
        raise ValueError(f"search: {len(made.combinations)} combinations of alternatives; allowed: {MOST_BLOCKS}")
    if made.rows > MOST_BUILDS:
        raise ValueError(f"search: it would try {made.rows} builds; allowed: at most {MOST_BUILDS}")
    return made


def _axis(build: Build, name: str, given: Any) -> Axis:
    if isinstance(given, Mapping):
        for option, change in given.items():
            if not isinstance(change, Mapping):
                raise ValueError(f"{name}, {option}: {change!r} was given; allowed: values that it changes, by path")
        options = {str(option): dict(change) for option, change in given.items()}
        return _alternatives(build, Alternatives(name, options))
    quantity = quantity_at(name)
    if isinstance(given, list):
        if len({str(value) for value in given}) != len(given):
            raise ValueError(f"{name}: the same value stands twice in {given!r}; allowed: values that differ")
        return _alternatives(build, Alternatives(name, {str(value): {name: value} for value in given}))
    if quantity is None:
        raise ValueError(f"{name}: it is no number, so it has no span; allowed: a list of values or alternatives")
    span = quantity.slider if given is None else given
    if span is None:
        raise ValueError(f"{name}: the quantity has no span of its own; allowed: a pair of ends, as ('1', '2')")
    if not isinstance(span, tuple) or len(span) != 2:
        raise ValueError(f"{name}: {given!r} was given; allowed: None, a pair of ends, a list, or named alternatives")
    try:
        low, high = (float(quantity.accept(end)) for end in span)
    except (ValueError, TypeError) as error:
        raise ValueError(f"{name}: {error}") from None
    if not low < high:
        raise ValueError(f"{name}: from {quantity.show(low)} to {quantity.show(high)} was given; allowed: rising")
    if quantity.whole:
        counts = np.arange(math.ceil(low), math.floor(high) + 1)
        return _alternatives(build, Alternatives(name, {str(count): {name: float(count)} for count in counts}))
    return Span(name, quantity, low, high)


def quantity_at(path: str) -> Quantity | None:
    """The quantity at a path; None where a build holds a word, a list or a curve there."""
    known = declared()
    if path not in known:
        near = difflib.get_close_matches(path, known, n=1)
        raise ValueError(f"{path}: no such value in a build" + (f"; did you mean {near[0]}?" if near else ""))
    return None if is_list(known[path]) else quantity_of(known[path])


def _alternatives(build: Build, axis: Alternatives) -> Alternatives:
    if len(axis.options) < 2:
        raise ValueError(f"{axis.name}: {len(axis.options)} alternatives were given; allowed: two or more")
    if not axis.paths:
        raise ValueError(f"{axis.name}: none of its alternatives changes anything; allowed: values by their path")
    for option, change in axis.options.items():
        for path, value in change.items():
            quantity, hint = quantity_at(path), declared()[path]
            words = [word for inner in (hint, *typing.get_args(hint)) if typing.get_origin(inner) is typing.Literal
                     for word in typing.get_args(inner)]  # fmt: skip
            if quantity is None and words and value not in words:
                raise ValueError(f"{path}: {value!r} was given; allowed: {', '.join(map(repr, words))}")
            try:
                build.changed({path: value})
            except (ValueError, TypeError) as error:
                raise ValueError(f"{axis.name}, {option}: {' '.join(str(error).split())}") from None
    return axis


def _is_column(axis: Alternatives, build: Build) -> bool:
    """Whether all that the alternatives change are plain numbers that every one of them knows; counts are not."""
    for path in axis.paths:
        quantity = quantity_at(path)
        if quantity is None or quantity.whole:
            return False
        values = [change.get(path, build.value(path)) for change in axis.options.values()]
        if any(value is None or isinstance(value, np.ndarray) for value in values):
            return False
    return True


def _number(path: str, value: Any) -> float:
    quantity = quantity_at(path)
    assert quantity is not None
    return float(quantity.accept(value))


def is_number(build: Build, name: str) -> bool:
    """Whether a figure of the sheet is a number: it has a unit, or is one on this build, or is not known on it."""
    value = review(build, topics=(), figures=(name,)).stated[0].value
    return bool(STATED[name].unit) or value is None or isinstance(value, int | float | np.number)


def _kept(build: Build, name: str) -> str:
    """A result's name, if it is one and is a number on this build."""
    load()
    aspect, _, check = name.partition(" of ")
    if aspect in ASPECTS and check in CHECKS:
        return name
    if name in STATED:
        if is_number(build, name):
            return name
        raise ValueError(f"{name}: it is words, not a number; allowed: a figure that is a number")
    known = [*STATED, *(f"{aspect} of {check}" for check in CHECKS for aspect in ASPECTS)]
    near = difflib.get_close_matches(name, known, n=1)
    raise ValueError(f"{name}: no such result" + (f"; did you mean {near[0]!r}?" if near else
                     "; allowed: a figure of the sheet, 'margin of', 'demand of', 'capacity of' a check"))  # fmt: skip

"""Two to four builds side by side, or two versions of one: what differs, and what that does."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from evlib.build.review import Review, review
from evlib.build.schema import Build, declared
from evlib.build.sheet.words import both, margin_text, value_text
from evlib.build.spread import words
from evlib.ground.checks import NOT_APPLICABLE, VERDICTS, Check
from evlib.ground.quantity import quantity_of, result
from evlib.ground.tables import Curve

FEWEST, MOST = 2, 4
LEAST = 0.005  # margins are relative, so this is too: half a per cent of the demand


@result
class Differs:
    """One value, or one stated figure, that is not the same in all builds."""

    path: str
    words: str
    values: tuple[str, ...]  # build by build, in words


@result
class Line:
    """One check on each build."""

    checks: tuple[Check, ...]
    shift: float  # how far the margins lie apart

    @property
    def name(self) -> str:
        """The check's name."""
        return self.checks[0].name

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdicts differ."""
        return len({check.verdict for check in self.checks}) > 1

    @property
    def worse(self) -> bool:
        """Whether the last build's verdict is a worse one than the first's."""
        return VERDICTS.index(self.checks[-1].verdict) < VERDICTS.index(self.checks[0].verdict)


@result
class Comparison:
    """What differs between builds, and what that does: verdict changes first, and of these the worse ones."""

    reviews: tuple[Review, ...]
    values: tuple[Differs, ...]
    checks: tuple[Line, ...]
    figures: tuple[Differs, ...]

    @property
    def sentence(self) -> str:
        """The outcome in one sentence."""
        if not self.values:
            return "The builds state the same values."
        changed = sum(line.verdict_changed for line in self.checks)
        return (
            f"{_some(len(self.values), 'value')} differ{'s' if len(self.values) == 1 else ''}; "
            f"{_some(changed, 'check')} with another verdict, {len(self.checks) - changed} more with another margin."
        )


def compare(builds: Sequence[Build], *, least: float = LEAST, figures: bool = True) -> Comparison:
    """What differs between two to four builds. Checks whose margin moved by less than ``least`` are left out."""
    if not FEWEST <= len(builds) <= MOST:
        raise ValueError(f"builds: {len(builds)} were given; allowed: {FEWEST} to {MOST}")
    reviews = tuple(review(build, figures=figures) for build in builds)
    values = []
    for path, hint in declared().items():
        found = [build.value(path) for build in builds]
        if path.startswith("build.") or all(_same(found[0], other) for other in found[1:]):
            continue
        texts = tuple("not stated" if value is None else value_text(value, quantity_of(hint)) for value in found)
        values.append(Differs(path, words(path), texts))
    return Comparison(reviews, tuple(values), _lines(reviews, least), _figures(reviews, least))


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, Curve) and isinstance(other, Curve):
        return _same(one.x, other.x) and _same(one.y, other.y)
    numbers = (float, int, np.ndarray, list, tuple)
    if isinstance(one, numbers) and isinstance(other, numbers):
        return np.shape(one) == np.shape(other) and bool(np.allclose(one, other, rtol=1e-9, atol=0))
    return bool(one == other)  # text, and what is not stated


def _lines(reviews: tuple[Review, ...], least: float) -> tuple[Line, ...]:
    by_name = [{check.name: check for check in found.checks} for found in reviews]
    lines = [Line(made, _apart(made)) for made in (tuple(each[name] for each in by_name) for name in by_name[-1])]
    found = [line for line in lines if line.verdict_changed or line.shift >= least]
    return tuple(sorted(found, key=_first))


def _first(line: Line) -> tuple[bool, bool, bool, float]:
    """Another verdict first; that a part is not fitted is less of a change; worse ones before better ones."""
    without = any(check.verdict == NOT_APPLICABLE for check in line.checks)
    return not line.verdict_changed, without, not line.worse, -line.shift


def _apart(checks: tuple[Check, ...]) -> float:
    margins = [float(check.margin) for check in checks if check.margin is not None]
    if len(set(margins)) < 2:
        return 0.0
    return math.inf if any(map(math.isinf, margins)) else max(margins) - min(margins)


def _figures(reviews: tuple[Review, ...], least: float) -> tuple[Differs, ...]:
    found = []
    for stated in zip(*(each.stated for each in reviews), strict=True):
        values = [figure.value for figure in stated]
        if all(_near(values[0], other, least) for other in values[1:]):
            continue
        texts = tuple("not known" if f.value is None else both(f.value, f.unit) for f in stated)
        if len(set(texts)) > 1:
            found.append(Differs(stated[0].name, stated[0].name, texts))
    return tuple(found)


def _near(one: Any, other: Any, least: float) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return one == other or abs(one - other) < least * max(abs(one), abs(other))
    return bool(one == other)


def _some(count: int, word: str) -> str:
    return f"{count or 'no'} {word}{'' if count == 1 else 's'}"


@result
class Listed:
    """A table in words: its title, its header and its rows."""

    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def listed(found: Comparison, names: Sequence[str], *, most: int = 12) -> tuple[Listed, ...]:
    """What differs as tables, the first ``most`` rows of each; ``names`` head the columns. Empty ones are left out."""
    changed = [line for line in found.checks if line.verdict_changed]
    others = [line for line in found.checks if not line.verdict_changed]
    tables = (
        ("checks with another verdict", "check", [(line.name, *map(_verdict, line.checks)) for line in changed]),
        ("values that differ", "value", [(each.words, *each.values) for each in found.values]),
        ("figures that differ", "figure", [(each.words, *each.values) for each in found.figures]),
        ("other margins that moved", "check", [(line.name, *map(_margin, line.checks)) for line in others]),
    )
    made = []
    for title, first, rows in tables:
        more = f" (the first {most} of {len(rows)})" if len(rows) > most else ""
        if rows:
            made.append(Listed(title + more, (first, *names), tuple(rows[:most])))
    return tuple(made)


def _verdict(check: Check) -> str:
    margin = _margin(check)
    return f"{check.verdict} {margin}".strip()


def _margin(check: Check) -> str:
    return margin_text(check.margin)


# --- two, for a lesson's cell -------------------------------------------------------------------------------------
@dataclasses.dataclass(frozen=True, eq=False)
class Moved:
    """One check before and after a change."""

    before: Check
    after: Check

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdict is another one."""
        return bool(self.before.verdict != self.after.verdict)


def moved(before: Build, after: Build, *, least: float = LEAST) -> tuple[Moved, ...]:
    """The checks whose verdict changed, or whose margin moved by ``least`` or more; the most moved first."""
    return tuple(Moved(*line.checks) for line in compare((before, after), least=least, figures=False).checks)

"""The smallest change of one value that lifts a failed check's margin to its target, and what else that change does.

Each value that the check rests on, and that one can change, is tried over a column of candidates, from where it
stands outward; the first candidate that reaches the target is then closed in on. So the margin need not be monotonic,
though a window narrower than the steps between candidates may be missed. What is suggested is confirmed by the full
review of the changed build.
"""

from __future__ import annotations

import math
import typing
from typing import Any

import numpy as np

from evlib.build.kinds import CHANGEABLE, WISH, kind_of
from evlib.build.review import Review, review
from evlib.build.schema import Build, declared
from evlib.build.sheet.words import few, margin_text, value_text
from evlib.build.spread import limits, outcome, outcomes, words
from evlib.ground.checks import FAIL, NOT_KNOWN
from evlib.ground.quantity import Array, Quantity, quantity_of, result

FURTHEST = 5.0  # times the value, or a fifth of it: beyond that it is another vehicle
STEPS = 40  # candidates to each side
WHOLE_STEPS = 30  # and of counts
FINER, ROUNDS = 33, 3  # closing in: a step becomes 32 steps, three times over
BAD = (FAIL, NOT_KNOWN)


@result
class Repair:
    """One change that lifts a check's margin to its target."""

    check: str
    path: str
    words: str
    kind: str  # ``setting``, ``part`` or ``wish``
    now: Any  # SI, or the option chosen now
    least: Any  # the smallest change that does it
    value: Any  # the same, rounded away from ``now`` to a number that one can set or order
    change: float  # relative to what is there; of a temperature, relative to its usual span; of another option, 1
    usual: bool  # whether ``value`` is within the span that is declared as usual
    margin: float  # with ``value``, by the full review
    target: float
    breaks: tuple[str, ...]  # checks that fail with it, or are not known, and were not so before
    mends: tuple[str, ...]  # other checks that failed and no longer do

    @property
    def gain(self) -> int:
        """How many checks fewer fail, this one included."""
        return 1 + len(self.mends) - len(self.breaks)


@result
class Repairs:
    """What was found for one check. ``found`` may be empty: then no single change within reach does it."""

    check: str
    margin: float
    target: float
    tried: int  # values and choices that were tried
    found: tuple[Repair, ...]
    reach: int  # how many of them reach the target; ``found`` are the best of them

    @property
    def sentence(self) -> str:
        """The outcome in one sentence."""
        if not self.reach:
            return f"{self.check}: none of the {self.tried} values that one can change does it alone."
        shown = "the first is" if len(self.found) == 1 else f"the first {len(self.found)} are"
        more = f"; {shown} shown" if self.reach > len(self.found) > 0 else ""
        return (
            f"{self.check}: {self.reach} of the {self.tried} values that one can change would each do it alone{more}."
        )


HEADER = ("change", "now", "to", "margin then", "no longer failing", "fails then")


def cells(change: Repair) -> tuple[str, ...]:
    """A change in words, under :data:`HEADER`."""
    quantity = quantity_of(declared()[change.path])
    now, to = (value_text(value, quantity) for value in (change.now, change.value))
    beyond = "" if change.usual else "; beyond the usual span"
    others = f"and {len(change.mends)} more" if change.mends else "this one"
    return (f"{change.words} ({change.kind}{beyond})", now, to, margin_text(change.margin),
            f"this {others}" if change.mends else others, few(change.breaks) or "none")  # fmt: skip


def repairs(build: Build, *, rows: int = 5, most: int = 3) -> tuple[Repairs, ...]:
    """For the worst failed checks of a build, the smallest single changes that mend each."""
    before = review(build, figures=False)
    return tuple(repair(build, name, most=most, before=before) for name in failed(before)[:rows])


def failed(found: Review) -> list[str]:
    """The checks that fail, the worst first."""
    return [check.name for check in found.checks if check.verdict == FAIL]


def repair(build: Build, name: str, *, most: int = 3, before: Review | None = None) -> Repairs:
    """The smallest single changes that lift the margin of one check to its target, the best ``most`` of them.

    What a builder can change (a setting, a part) comes before what the owner may ask less of; a value within its
    usual span before one beyond it; then the smallest relative change first. Facts and rules are no candidates, nor
    is a value beyond its usual span that leaves no fewer checks failing.
    """
    before = before or review(build, figures=False)
    check = before.check(name)
    if check.demand is None:
        raise ValueError(f"{name}: {check.verdict}; there is no margin to lift")
    target = float(np.max(check.target))
    known = [path for path in check.needs if build.value(path) is not None and kind_of(path) in CHANGEABLE]
    numbers = {
        path: q for path in known if (q := quantity_of(declared()[path])) and isinstance(build.value(path), float)
    }
    if check.margin >= target:
        return Repairs(name, float(check.margin), target, 0, (), 0)
    found = [*_numbers(build, name, numbers), *_options(build, name, [path for path in known if path not in numbers])]
    found.sort(key=lambda each: (kind_of(each[0]) == WISH, not _usual(each[0], each[1]), each[2], each[0]))
    confirmed: list[Repair] = []
    rejected = 0
    for path, least, change in found:
        if len(confirmed) == most:
            break
        made = _confirm(build, before, name, path, least, change)
        if made is not None and (made.usual or made.gain > 0):  # no wheel of a hand's width, at the cost of the rest
            confirmed.append(made)
        else:
            rejected += 1
    tried = len(numbers) + sum(bool(_choices(path)) for path in known)
    return Repairs(name, float(check.margin), target, tried, tuple(confirmed), len(found) - rejected)


def _usual(path: str, value: Any) -> bool:
    quantity = quantity_of(declared()[path])
    return quantity is None or quantity.slider is None or quantity.slider[0] <= value <= quantity.slider[1]


# --- several changes ----------------------------------------------------------------------------------------------
@result
class Plan:
    """One change after another, each on the build that the ones before it made."""

    before: Review
    steps: tuple[Repair, ...]
    after: Review

    @property
    def left(self) -> tuple[str, ...]:
        """The checks that still fail."""
        return tuple(failed(self.after))


def plan(build: Build, *, most: int = 12) -> Plan:
    """Mend the worst failed check by the change that leaves the fewest failing; review; and so on with the next.

    Only settings and parts, never a wish; changes that break nothing come first, for all checks, and then the
    others. A change is taken only if fewer checks fail after it than before, so it ends. This is one way that works
    on paper, found step by step, and not the best of all ways.
    """
    first = now = review(build, figures=False)
    steps: list[Repair] = []
    for may_break in (False, True):
        passed_over: set[str] = set()
        while len(steps) < most:
            name = next((name for name in failed(now) if name not in passed_over), None)
            if name is None:
                break
            found = [each for each in repair(build, name, most=6, before=now).found if _helps(each, may_break)]
            if not found:
                passed_over.add(name)
                continue
            best = max(found, key=lambda each: (each.usual, each.gain, -each.change))
            steps.append(best)
            build = build.changed({best.path: best.value})
            now = review(build, figures=False)
    return Plan(first, tuple(steps), now)


def _helps(change: Repair, may_break: bool) -> bool:
    return change.kind != WISH and change.gain > 0 and (may_break or not change.breaks)


# --- numbers ------------------------------------------------------------------------------------------------------
def _numbers(build: Build, name: str, numbers: dict[str, Quantity]) -> list[tuple[str, float, float]]:
    """(path, smallest change's value, relative change) of each number that can do it."""
    brackets: dict[tuple[str, int], tuple[float, float]] = {}  # path and way: the last value that fails, the first not
    ways = {(path, way): _candidates(q, build.value(path), way) for path, q in numbers.items() for way in (1, -1)}
    for key, passed in _tried(build, name, ways).items():
        if passed.any():
            first = int(np.argmax(passed))
            brackets[key] = (float(ways[key][first - 1]) if first else build.value(key[0]), float(ways[key][first]))
    for _ in range(ROUNDS):
        finer = {key: np.linspace(*ends, FINER)[1:] for key, ends in brackets.items() if not numbers[key[0]].whole}
        for key, passed in _tried(build, name, finer).items():
            first = int(np.argmax(passed)) if passed.any() else FINER - 2
            brackets[key] = (float(finer[key][first - 1]) if first else brackets[key][0], float(finer[key][first]))
    best: dict[str, tuple[str, float, float]] = {}
    for (path, _), (_, value) in brackets.items():
        change = abs(value - build.value(path)) / _scale(numbers[path], build.value(path))
        if path not in best or change < best[path][2]:
            best[path] = (path, value, change)
    return list(best.values())


def _candidates(quantity: Quantity, value: float, way: int) -> Array:
    """Values from the present one outward, as far as a change may go; closer together near by."""
    low, high = _reach(quantity, value)
    end = high if way > 0 else low
    if not abs(end - value) > 1e-9 * _scale(quantity, value):
        return np.array([])
    if quantity.whole:
        return np.asarray(np.arange(value + way, end + way / 2, way)[:WHOLE_STEPS], float)
    return np.asarray(value + (end - value) * np.geomspace(2e-3, 1.0, STEPS))


def _reach(quantity: Quantity, value: float) -> tuple[float, float]:
    """How far a change may go: over the usual span, or a few times what is there; within the declared limits."""
    low, high = quantity.slider or (value, value)
    if quantity.kind != "reading" and value > 0:  # twice a temperature means nothing
        low, high = min(low, value / FURTHEST), max(high, value * FURTHEST)
    ends = limits(quantity, value)
    return max(min(low, value), ends[0]), min(max(high, value), ends[1])


def _tried(build: Build, name: str, ways: dict[tuple[str, int], Array]) -> dict[tuple[str, int], Any]:
    """Which candidates reach the target. Each way is one column: beside plain numbers it costs little."""
    return {key: _reaches(build, name, {key[0]: values}) for key, values in ways.items() if len(values)}


def _reaches(build: Build, name: str, columns: dict[str, Array]) -> Any:
    margins, targets = outcomes(build, name, columns)
    return margins >= targets  # NaN does not


def _scale(quantity: Quantity, value: float) -> float:
    """What a change is measured against: the value; for a temperature its usual span, since 0 K is no usual one."""
    span = quantity.slider[1] - quantity.slider[0] if quantity.slider else 1.0
    return span if quantity.kind == "reading" or value == 0 else abs(value)


# --- choices ------------------------------------------------------------------------------------------------------
def _choices(path: str) -> tuple[str, ...]:
    hint = declared()[path]
    return tuple(c for inner in (hint, *typing.get_args(hint)) if typing.get_origin(inner) is typing.Literal
                 for c in typing.get_args(inner))  # fmt: skip


def _options(build: Build, name: str, paths: list[str]) -> list[tuple[str, str, float]]:
    """(path, option, 1) of each choice with another option that does it."""
    found = []
    for path in paths:
        for option in _choices(path):
            if option != build.value(path) and _option_does(build, name, path, option):
                found.append((path, option, 1.0))
                break
    return found


def _option_does(build: Build, name: str, path: str, option: str) -> bool:
    made = outcome(build.changed({path: option}), name)
    return bool(made.value >= made.target)


# --- confirming ---------------------------------------------------------------------------------------------------
def _confirm(build: Build, before: Review, name: str, path: str, least: Any, change: float) -> Repair | None:
    """Review the changed build in full, with the rounded value or, should that miss, the exact one."""
    quantity = quantity_of(declared()[path])
    now = build.value(path)
    tidy = rounded(quantity, now=now, least=least) if isinstance(least, float) and quantity else least
    then = {check.name: check.verdict for check in before.checks}
    for value in dict.fromkeys((tidy, least)):
        try:
            after = review(build.changed({path: value}), figures=False)
        except ValueError:  # rounded past a limit
            continue
        check = after.check(name)
        if check.margin is None or not check.margin >= np.max(check.target):
            continue
        breaks = tuple(c.name for c in after.checks if c.verdict in BAD and then[c.name] not in BAD)
        mends = tuple(c.name for c in after.checks if c.verdict not in BAD and then[c.name] == FAIL and c.name != name)
        return Repair(name, path, words(path), kind_of(path), now, least, value, change, _usual(path, value),
                      float(check.margin), float(np.max(check.target)), breaks, mends)  # fmt: skip
    return None


def rounded(quantity: Quantity, *, now: float, least: float) -> float:
    """The smallest change rounded up to two figures of the change, in the unit that is shown.

    >>> amps = Quantity("I", "A", "current")
    >>> rounded(amps, now=900.0, least=655.3)
    650.0
    """
    if quantity.whole:
        return least
    zero, one, at, from_ = (float(quantity.to_shown(v)) for v in (0.0, 1.0, least, now))
    change = at - from_
    step = 10.0 ** (math.floor(math.log10(abs(change))) - 1)
    away = math.ceil(at / step - 1e-9) if change > 0 else math.floor(at / step + 1e-9)
    return round(away * step - zero, 12) / (one - zero)

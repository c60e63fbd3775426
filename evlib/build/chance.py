"""Monte Carlo: the chance that each check passes, when values are only as sure as the build says.

Every value with a spread is drawn anew for each of thousands of builds, which go through the same review as one
column. The distribution is a normal one with the declared standard deviation, because a spread is declared as one and
because most values err for several small reasons at once. It is cut at three standard deviations and at the declared
limits: a gross error is found in a workshop, and half a negative mass helps nobody. The cut takes 1.3 % off the
standard deviation. Values are independent of each other; what errs together (two readings of one poor meter) is not
in it, and curves and choices stand as given.
"""

from __future__ import annotations

import zlib
from typing import Any, Literal

import numpy as np

from evlib.build.review import review
from evlib.build.schema import Build, declared
from evlib.build.spread import limits, outcome, outcomes, spreads, words
from evlib.ground.checks import NOT_APPLICABLE, NOT_KNOWN, Check
from evlib.ground.quantity import SPREAD, Array, quantity_of, result

DRAWS = 2000
CUT = 3.0  # standard deviations
FEW = 200  # draws where some contradict themselves
GROUPS = 40  # of draws with like readings
ASSUMED = (
    "Each value is drawn by itself from a normal distribution with the spread that the build declares, cut at three "
    "standard deviations. Curves, choices, counts, wishes and rules stand as stated. The formulas are taken as exact."
)
Shape = Literal["normal", "uniform"]


def at_share(shares: Array, *, low: float, high: float, shape: Shape = "normal") -> Array:
    """The deviate below which the given share of a distribution lies, in standard deviations.

    The distribution has mean 0 and standard deviation 1 before it is cut at ``low`` and ``high``; what is cut off is
    shared out over the rest, so no draw sits on a limit.
    """
    if shape == "uniform":
        reach = np.sqrt(3.0)  # a uniform of this half-width has standard deviation 1
        low, high = max(low, -reach), min(high, reach)
        return np.asarray(low + shares * (high - low))
    from scipy.special import ndtr, ndtri

    below, above = ndtr(max(low, -CUT)), ndtr(min(high, CUT))
    return np.asarray(ndtri(below + shares * (above - below)))


def draw(
    build: Build, shares: dict[str, Array], *, sure: dict[str, float] | None = None, shape: Shape = "normal"
) -> dict[str, Array]:
    """Each named value as a column: the values below which the given shares of its distribution lie.

    ``sure`` gives other standard deviations than the build's, relative to the value.
    """
    deviations = {**spreads(build), **(sure or {})}
    found = {}
    for path, share in shares.items():
        quantity, value = quantity_of(declared()[path]), float(build.value(path))
        assert quantity is not None  # only a number has a spread
        reach = deviations[path] * abs(value)
        if reach == 0:
            found[path] = np.full(len(share), value)
            continue
        low, high = ((limit - value) / reach for limit in limits(quantity, value))
        found[path] = value + reach * at_share(share, low=low, high=high, shape=shape)
    return found


def random_shares(paths: Any, *, draws: int, seed: int) -> dict[str, Array]:
    """Random shares for each path. A path's own draws do not depend on which others are drawn beside it."""
    return {path: np.random.default_rng([seed, zlib.crc32(path.encode())]).random(draws) for path in paths}


@result
class Chance:
    """How often one check passes over many draws."""

    name: str
    topic: str
    margin: float  # as stated
    verdict: str
    chance: float  # share of the draws in which the check passes, marginal ones too
    standard_error: float  # of that share
    low: float  # margin that one draw in twenty falls short of
    high: float  # margin that one draw in twenty exceeds
    draws: int
    guesses: tuple[str, ...]  # paths of the guesses it hangs on, the most telling first

    @property
    def text(self) -> str:
        """The chance in words. Where all draws agree, only what so many draws can tell (three in ``draws``)."""
        few = 300 / self.draws
        if self.chance in (0, 1):
            return f"under {few:.2g} %" if self.chance == 0 else f"over {100 - few:.4g} %"
        digits = 0 if 0.01 <= self.chance <= 0.99 else 1
        return f"{100 * self.chance:.{digits}f} % ± {100 * self.standard_error:.1f} %"


def chances(
    build: Build, *, names: tuple[str, ...] = (), draws: int = DRAWS, seed: int = 1, shape: Shape = "normal"
) -> tuple[Chance, ...]:
    """The chance that each check (or each named one) passes, the least sure first. What is not known is left out."""
    there = spreads(build)
    if not there:
        raise ValueError("no value of this build has a spread, so there are no chances: only the verdicts")
    columns = draw(build, random_shares(there, draws=draws, seed=seed), shape=shape)
    alone = review(build, figures=False)
    stated = {name: alone.check(name) for name in names} if names else {check.name: check for check in alone.checks}
    stated = {name: check for name, check in stated.items() if check.verdict not in (NOT_KNOWN, NOT_APPLICABLE)}
    topics = tuple({check.topic for check in stated.values()})
    together = review(build.changed(dict(columns)), figures=False, topics=topics)
    found = [_one(build, stated[check.name], check, columns) for check in together.checks if check.name in stated]
    return tuple(sorted(found, key=lambda each: (each.chance, each.low)))


def _one(build: Build, stated: Check, check: Check, columns: dict[str, Array]) -> Chance:
    rows = len(next(iter(columns.values())))
    columns = {path: column for path, column in columns.items() if path in stated.needs}
    if check.margin is not None:
        return _chance(build, stated, np.broadcast_to(np.asarray(check.margin, float), rows), columns)
    if not columns:
        return _chance(build, stated, np.full(rows, float(stated.margin)), columns)
    # Some draws contradict themselves. They do not pass, the others count; to find them takes long, so fewer are made.
    columns = {path: column[:FEW] for path, column in columns.items()}
    return _chance(build, stated, outcomes(build, check.name, columns)[0], columns)


def _chance(build: Build, stated: Check, margins: Array, columns: dict[str, Array]) -> Chance:
    passed = int(np.count_nonzero(margins >= 0))  # NaN does not pass
    ordered = np.where(np.isnan(margins), -np.inf, margins)
    low, high = (float(np.quantile(ordered, share, method="lower")) for share in (0.05, 0.95))
    share, error = share_and_error(passed, len(margins))
    return Chance(stated.name, stated.topic, float(stated.margin), str(stated.verdict), share, error, low, high,
                  len(margins), _guesses(build, stated, margins, columns))  # fmt: skip


def share_and_error(passed: int, draws: int) -> tuple[float, float]:
    """The share that passed and its standard error.

    sqrt(p (1 - p) / n), with p = (k + 1) / (n + 2) in the error only: where all draws or none passed, the plain
    formula would say that nothing is left to chance.

    >>> share, error = share_and_error(900, 1000)
    >>> share, round(error, 4)
    (0.9, 0.0095)
    """
    near = (passed + 1) / (draws + 2)
    return passed / draws, float(np.sqrt(near * (1 - near) / draws))


def _guesses(build: Build, stated: Check, margins: Array, columns: dict[str, Array]) -> tuple[str, ...]:
    """The guesses a check rests on that matter, by how closely its margin follows each over the draws."""
    good = np.isfinite(margins)
    if np.count_nonzero(good) < 3 or not np.ptp(margins[good]) > 0:
        return ()
    follows = {}
    for path in stated.needs:
        origin = build.origins.get(path)
        if path in columns and np.ptp(columns[path]) > 0 and (origin is None or origin.source in ("guess", "")):
            follows[path] = float(np.corrcoef(columns[path][good], margins[good])[0, 1] ** 2)
    noise = 9 / len(margins)  # three standard errors of a correlation of nothing, squared
    return tuple(sorted((p for p, share in follows.items() if share > noise), key=lambda p: -follows[p]))


@result
class Measurement:
    """What measuring one value is expected to do to the scatter of a margin (its standard deviation)."""

    path: str
    words: str
    source: str  # where the value comes from now
    gain: float  # part of the margin's variance that is expected to go
    scatter: float  # now
    after: float  # and with this one value measured


def measurements(build: Build, name: str, *, draws: int = 2 * DRAWS, seed: int = 1) -> tuple[Measurement, ...]:
    """Which one measurement would narrow a check's margin (or a stated figure) most, the best first.

    removed = var(E[margin | reading])

    The reading errs so much that, with what was known before, the value is as sure as a measured one. What it will
    say is not known yet, so this is the mean over what it may say. The conditional mean is that of groups of draws
    with like readings. Values no less sure than a measured one are left out, and so are gains that are within three
    standard errors of nothing.

    Source: first-order indices from given data, Plischke, Borgonovo and Smith (2013), from memory.
    """
    there, stated = spreads(build), outcome(build, name)
    if not np.isfinite(stated.value):
        raise ValueError(f"{name}: has no number on this build that could scatter")
    columns = draw(build, random_shares([path for path in there if path in stated.needs], draws=draws, seed=seed))
    margins = outcomes(build, name, columns)[0] if columns else np.array([])
    good = np.isfinite(margins)
    if np.count_nonzero(good) < draws / 2 or not np.ptp(margins[good]) > 0:
        raise ValueError(f"{name}: no spread of this build moves it")
    margins = margins[good]
    found = []
    for path in columns:
        sure = SPREAD["measured"] / there[path]
        if sure >= 1:
            continue
        error = there[path] * abs(build.value(path)) * sure / np.sqrt(1 - sure**2)
        noise = np.random.default_rng([seed, 1, zlib.crc32(path.encode())]).standard_normal(len(margins))
        gain = explained(columns[path][good] + error * noise, margins)
        if gain > 3 * np.sqrt(2 * GROUPS) / len(margins):
            origin, scatter = build.origins.get(path), float(np.std(margins))
            source = (origin.source if origin else "") or "origin not stated"
            found.append(Measurement(path, words(path), source, gain, scatter, scatter * float(np.sqrt(1 - gain))))
    return tuple(sorted(found, key=lambda each: -each.gain))


def explained(given: Array, values: Array) -> float:
    """The part of the variance of ``values`` that goes when ``given`` is known: that of the means of like groups.

    What groups of pure chance would show is taken off.
    """
    groups = np.array_split(values[np.argsort(given, kind="stable")], GROUPS)
    total = float(np.sum((values - values.mean()) ** 2))
    between = sum(len(group) * (group.mean() - values.mean()) ** 2 for group in groups) / total
    chance = (1 - between) * (GROUPS - 1) / (len(values) - GROUPS)
    return float(min(max(between - chance, 0.0), 1.0))

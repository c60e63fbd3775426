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

from evlib.build.registry import CHECKS
from evlib.build.review import review
from evlib.build.schema import Build, declared
from evlib.build.spread import limits, outcomes, spreads
from evlib.ground.checks import NOT_APPLICABLE, NOT_KNOWN, Check
from evlib.ground.quantity import SPREAD, Array, quantity_of, result

DRAWS = 2000
CUT = 3.0  # standard deviations
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
    guesses: tuple[str, ...]  # paths of the guesses it hangs on, the most telling first


def chances(build: Build, *, draws: int = DRAWS, seed: int = 1, shape: Shape = "normal") -> tuple[Chance, ...]:
    """The chance that each check passes, the least sure first. Checks that are not known are left out."""
    shares = random_shares(spreads(build), draws=draws, seed=seed)
    columns = draw(build, shares, shape=shape)
    stated = {check.name: check for check in review(build, figures=False).checks}
    together = review(build.changed(dict(columns)), figures=False)
    found = [
        _chance(build, stated[check.name], _margins(build, check, columns), columns)
        for check in together.checks
        if stated[check.name].verdict not in (NOT_KNOWN, NOT_APPLICABLE)
    ]
    return tuple(sorted(found, key=lambda each: (each.chance, each.low)))


def _margins(build: Build, check: Check, columns: dict[str, Array]) -> Array:
    rows = len(next(iter(columns.values())))
    if check.margin is None:  # some draws contradict themselves: those are lost, the others count
        return outcomes(build, check.name, columns)[0]
    return np.broadcast_to(np.asarray(check.margin, float), rows)


def _chance(build: Build, stated: Check, margins: Array, columns: dict[str, Array]) -> Chance:
    passed = int(np.count_nonzero(margins >= 0))  # NaN does not pass
    low = float(np.quantile(np.where(np.isnan(margins), -np.inf, margins), 0.05, method="lower"))
    share, error = share_and_error(passed, len(margins))
    return Chance(stated.name, stated.topic, float(stated.margin), str(stated.verdict), share, error, low,
                  _guesses(build, stated, margins, columns))  # fmt: skip


def share_and_error(passed: int, draws: int) -> tuple[float, float]:
    """The share that passed and its standard error.

    sqrt(p (1 - p) / n), with p = (k + 1) / (n + 2) in the error only: where all draws or none passed, the plain
    formula would say that nothing is left to chance.

    >>> share_and_error(900, 1000)
    (0.9, 0.009503...)
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
class Measured:
    """A check before and after one value is measured: its chance, and how far its margin scatters."""

    name: str
    path: str
    chance: float
    standard_error: float
    scatter: float  # standard deviation of the margin
    chance_after: float
    scatter_after: float


def if_measured(
    build: Build, name: str, path: str, *, draws: int = DRAWS, seed: int = 1, shape: Shape = "normal"
) -> Measured:
    """Try what a measurement would narrow: the same draws, with that one value as sure as a measured one.

    What the measurement will find is not known yet, so the value stays as stated; only its spread shrinks.
    """
    if name not in CHECKS:
        raise ValueError(f"{name!r} is no check; there are: {', '.join(CHECKS)}")
    there = spreads(build)
    if path not in there:
        raise ValueError(f"{path}: this value has no spread on this build")
    shares = random_shares(there, draws=draws, seed=seed)
    sure = {path: min(SPREAD["measured"], there[path])}
    before, after = (outcomes(build, name, draw(build, shares, sure=changed, shape=shape))[0] for changed in ({}, sure))
    chance, error = share_and_error(int(np.count_nonzero(before >= 0)), draws)
    return Measured(name, path, chance, error, float(np.nanstd(before)), float(np.mean(after >= 0)),
                    float(np.nanstd(after)))  # fmt: skip

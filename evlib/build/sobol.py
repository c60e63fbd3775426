"""Sobol indices: which part of an outcome's variance each value makes, alone and with the others.

The sampling and the estimators are SALib's; it is imported only when asked. This is a thin layer: a sample, one
column of builds, the indices.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.build.chance import Shape, draw
from evlib.build.schema import Build
from evlib.build.spread import outcomes, tornado, words
from evlib.ground.quantity import Array, result

BASE = 512  # the sample has this many rows times (values + 2); a power of two, as the sequence wants


@result
class Index:
    """One value's part in the variance of an outcome, each with half the width of its 95 % interval."""

    name: str
    words: str
    first: float  # alone: what is lost of the variance if this value were known
    first_within: float
    total: float  # with all it does together with others: what is left if only this value were unknown
    total_within: float


def indices(
    function: Callable[[dict[str, Array]], Array], spans: dict[str, tuple[float, float]], *, base: int = BASE,
    seed: int = 1,
) -> tuple[Index, ...]:  # fmt: skip
    """First and total indices of a function of columns, each argument uniform over its span; the largest first.

    S_i = var(E[y | x_i]) / var(y); ST_i = 1 - var(E[y | all but x_i]) / var(y)

    ``base`` is a power of two. Arguments are independent. Raises ``ValueError`` where the function does not vary or
    gives what is no number.

    Source: Saltelli's sample, estimators of Saltelli et al. (2010), as SALib has them.
    """
    from SALib.analyze import sobol as analyse
    from SALib.sample import sobol as sample

    if base < 2 or base & (base - 1):
        raise ValueError(f"base: {base} was given; allowed: a power of two, as 512")
    problem: dict[str, Any] = {"num_vars": len(spans), "names": list(spans), "bounds": [*map(list, spans.values())]}
    rows = sample.sample(problem, base, calc_second_order=False, seed=seed)
    values = np.asarray(function({name: rows[:, i] for i, name in enumerate(spans)}), float)
    if not np.isfinite(values).all():
        raise ValueError(f"{np.count_nonzero(~np.isfinite(values))} of {len(values)} rows give no number")
    if not np.ptp(values) > 1e-12 * np.abs(values).max():
        raise ValueError("the outcome does not vary over these spans")
    centred = (values - values.mean()) / values.std()  # the estimators lose digits on a large mean
    found = analyse.analyze(problem, centred, calc_second_order=False, seed=seed)
    made = [
        Index(name, name, *(float(found[key][i]) for key in ("S1", "S1_conf", "ST", "ST_conf")))
        for i, name in enumerate(spans)
    ]
    return tuple(sorted(made, key=lambda index: -index.total))


def sobol(
    build: Build, name: str, *, base: int = BASE, seed: int = 1, most: int = 12, shape: Shape = "normal"
) -> tuple[Index, ...]:
    """Sobol indices of a check's margin (or a stated figure) over the build's declared spreads.

    The sample is of shares between 0 and 1, which the distributions of :mod:`evlib.build.chance` turn into values.
    Of many values the ``most`` that move the outcome furthest one at a time are taken; the others stand as stated.
    """
    paths = [bar.path for bar in tornado(build, name).bars][:most]
    if not paths:
        raise ValueError(f"{name}: no value with a spread moves it on this build")

    def of_shares(shares: dict[str, Array]) -> Array:
        return outcomes(build, name, draw(build, shares, shape=shape))[0]

    found = indices(of_shares, dict.fromkeys(paths, (0.0, 1.0)), base=base, seed=seed)
    return tuple(Index(i.name, words(i.name), i.first, i.first_within, i.total, i.total_within) for i in found)

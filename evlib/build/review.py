"""The review: every check on a build, governing ones first. Works on one build or on a column of thousands."""

from __future__ import annotations

import collections
import dataclasses
import importlib
from typing import Any

import numpy as np

from evlib.build.registry import CHECKS, GROUPS, STATED, Stated, evaluate, state
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.ground.checks import FAIL, MARGINAL, NOT_APPLICABLE, NOT_KNOWN, PASS, VERDICTS, Check

TOPICS = ("motors", "gearing", "shafts", "hydraulics", "parking", "safety")

NOT_REVIEWED = (
    "the brakes beyond the servo's vacuum", "steering assistance", "heating and demisting",
    "the 12 V supply as a whole", "charging", "tyre loads", "motor and gearbox mounts",
    "registration and type approval",
)  # fmt: skip


@dataclasses.dataclass(frozen=True, eq=False)
class Review:
    """All checks on one build (or one column of builds), and the figures that the sheet states."""

    build: Build
    checks: tuple[Check, ...]
    stated: tuple[Stated, ...]

    @property
    def counts(self) -> dict[str, int]:
        """How many checks of a single build have each verdict."""
        found = collections.Counter(check.verdict for check in self.checks)
        return {verdict: found.get(verdict, 0) for verdict in (PASS, MARGINAL, FAIL, NOT_KNOWN, NOT_APPLICABLE)}

    @property
    def summary(self) -> str:
        """The counts in one sentence. It never says that a build passes."""
        counts = self.counts
        return (
            f"{counts[PASS] + counts[MARGINAL]} checks passed ({counts[MARGINAL]} of them marginal), "
            f"{counts[FAIL]} failed, {counts[NOT_KNOWN]} not known, {counts[NOT_APPLICABLE]} not applicable"
        )

    def check(self, name: str) -> Check:
        """The check of that name. Raises ``ValueError`` naming what there is."""
        for check in self.checks:
            if check.name == name:
                return check
        raise ValueError(f"check: {name!r}; there are: {', '.join(check.name for check in self.checks)}")

    def topic(self, topic: str) -> tuple[Check, ...]:
        """The checks of one topic, governing first."""
        return tuple(check for check in self.checks if check.topic == topic)

    def group(self, group: str) -> tuple[Stated, ...]:
        """The stated figures of one group."""
        return tuple(figure for figure in self.stated if figure.group == group)


def review(build: Build, *, topics: tuple[str, ...] = TOPICS, figures: bool | tuple[str, ...] = True) -> Review:
    """Make every check on a build. Fields may be columns: every demand and capacity then is one too.

    ``figures``: all that the sheet states, none, or the named ones.
    """
    load()
    view = View(build.parts)
    with np.errstate(divide="ignore", invalid="ignore"):
        made = [evaluate(spec, view) for spec in CHECKS.values() if spec.topic in topics]
        wanted = tuple(STATED) if figures is True else figures or ()
        stated = [state(STATED[name], view) for name in wanted]
    made.sort(key=_governing)
    stated.sort(key=lambda figure: GROUPS.index(figure.group))
    return Review(build, tuple(made), tuple(stated))


def load() -> None:
    """Register every topic's checks (on first use, so that importing evlib.build stays light)."""
    for topic in TOPICS:
        importlib.import_module(f"evlib.build.checks.{topic}")


def _governing(check: Check) -> tuple[Any, ...]:
    """Failed first, then marginal, then not known; the smallest margin first within each."""
    margin = check.margin
    if margin is None:
        return VERDICTS.index(check.verdict), 0.0
    worst = float(np.min(margin))
    verdict = FAIL if not worst >= 0 else (PASS if worst >= float(np.max(check.target)) else MARGINAL)
    return VERDICTS.index(verdict), worst

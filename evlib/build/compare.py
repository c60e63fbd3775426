"""What a change does: the checks of two builds side by side."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from evlib.build.review import review
from evlib.build.schema import Build
from evlib.ground.checks import Check


@dataclasses.dataclass(frozen=True, eq=False)
class Moved:
    """One check before and after a change."""

    before: Check
    after: Check

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdict is another one."""
        return bool(self.before.verdict != self.after.verdict)


def moved(before: Build, after: Build, *, least: float = 0.005) -> tuple[Moved, ...]:
    """The checks whose verdict changed, or whose margin moved by ``least`` or more; the most moved first.

    Margins are relative, so ``least`` is too: 0.005 is half a per cent of the demand. Single builds only.
    """
    then = {check.name: check for check in review(before, figures=False).checks}
    pairs = [Moved(then[check.name], check) for check in review(after, figures=False).checks]
    found = [pair for pair in pairs if pair.verdict_changed or _shift(pair) >= least]
    return tuple(sorted(found, key=lambda pair: (not pair.verdict_changed, -_shift(pair))))


def _shift(pair: Moved) -> float:
    margins: tuple[Any, Any] = pair.before.margin, pair.after.margin
    if margins[0] is None or margins[1] is None:
        return 0.0
    if math.isinf(margins[0]) or math.isinf(margins[1]):
        return 0.0 if margins[0] == margins[1] else math.inf
    return abs(float(margins[1]) - float(margins[0]))

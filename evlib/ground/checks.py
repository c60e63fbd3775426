"""The one kind of check: what is asked, what there is, how the numbers came about, and what to do."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Number

PASS, MARGINAL, FAIL = "pass", "marginal", "fail"
NOT_KNOWN, NOT_APPLICABLE = "not known", "does not apply"
VERDICTS = (FAIL, MARGINAL, NOT_KNOWN, PASS, NOT_APPLICABLE)  # governing first


@dataclasses.dataclass(frozen=True, eq=False)
class Working:
    """An equation and the numbers put into it, so that a figure on the sheet can show how it came about.

    ``numbers`` maps a symbol to (value, SI unit); ``result`` names the symbol that the equation gives. ``endless`` is
    what an infinite result means: a speed that is never reached is no speed without limit.
    """

    equation: str
    numbers: dict[str, tuple[Any, str]]
    result: tuple[Any, str] = (None, "")
    endless: str = "no limit"

    def text(self, *, index: int = 0, system: str = "SI") -> str:
        """``T = n k I: n = 2, k = 0.4, I = 400 A; gives 320 N m``."""
        put_in = ", ".join(
            f"{symbol} = {_shown(value, unit, index, system)}" for symbol, (value, unit) in self.numbers.items()
        )
        value, unit = self.result
        shown = "" if value is None else _shown(value, unit, index, system)
        gives = f"; gives {self.endless if shown == 'no limit' else shown}" if shown else ""
        return f"{self.equation}: {put_in}{gives}"


def _shown(value: Any, unit: str, index: int, system: str) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, np.ndarray) and value.ndim:
        value = value[index]
    kind = "difference" if unit == "K difference" else ""
    return units.show(float(value), unit.removesuffix(" difference"), kind=kind, system=system)


@dataclasses.dataclass(frozen=True, eq=False)
class Check:
    """One demand against one capacity. A failed check is data, not an exception.

    ``demand`` must not exceed ``capacity``; both are in SI ``unit`` and may be columns. ``target`` is the wanted
    margin; below it a passed check is *marginal*. ``needs`` names the build values it rests on; ``missing`` those
    that are not known. ``source`` says where the capacity or the rule comes from.
    """

    name: str
    topic: str
    demand: Number | None
    capacity: Number | None
    unit: str
    working: Working | None = None
    source: str = ""
    advice: str = ""
    target: Number = 0.1
    kind: str = ""
    needs: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reason: str = ""  # why it does not apply, or is not known

    @property
    def endless(self) -> str:
        """What an infinite demand or capacity means, in words."""
        return self.working.endless if self.working else "no limit"

    @property
    def margin(self) -> Any:
        """(capacity - demand) / |demand|; infinite where nothing is demanded, -1 where the demand has no end."""
        if self.demand is None or self.capacity is None:
            return None
        demand, capacity = np.asarray(self.demand, float), np.asarray(self.capacity, float)
        with np.errstate(divide="ignore", invalid="ignore"):
            margin = np.where(demand == 0, np.where(capacity >= 0, np.inf, -np.inf), (capacity - demand) / abs(demand))
            margin = np.where((demand == np.inf) & np.isfinite(capacity), -1.0, margin)
        return margin.item() if margin.ndim == 0 else margin

    @property
    def verdict(self) -> Any:
        """``pass``, ``marginal``, ``fail``, ``not known`` or ``does not apply``; an array of them for columns."""
        margin = self.margin
        if margin is None:
            return NOT_KNOWN if self.missing else NOT_APPLICABLE
        if isinstance(margin, float):
            return FAIL if not margin >= 0 else (PASS if margin >= float(np.max(self.target)) else MARGINAL)
        return np.where(margin >= self.target, PASS, np.where(margin >= 0, MARGINAL, FAIL))


def not_known(name: str, *, topic: str, missing: tuple[str, ...], reason: str = "") -> Check:
    """A check that cannot be made because values are missing."""
    return Check(name, topic, None, None, "", missing=missing, needs=missing, reason=reason)


def not_applicable(name: str, *, topic: str, reason: str) -> Check:
    """A check about a part that this build declares as not fitted."""
    return Check(name, topic, None, None, "", reason=reason)

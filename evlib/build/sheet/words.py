"""How the sheet says a value: in both systems of units, a margin, a check in one line, and what is not known."""

from __future__ import annotations

import dataclasses
import functools
import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from evlib.build.registry import StatedSpec, state
from evlib.build.schema import declared
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.checks import Check
from evlib.ground.quantity import Quantity, quantity_of
from evlib.ground.tables import Curve
from evlib.shafts.tables import INCH

BLANK = "__________"  # a line to fill in by hand
WANTING = "needs "  # so begins the registry's reason where a value is wanting, and no other


def both(value: Any, unit: str, *, kind: str = "", shown: Any = None, digits: int = 3) -> str:
    """A value in both systems of units, ``1230 N m (909 lbf ft)``; once where they are the same."""
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    kind = "difference" if unit == "K difference" else kind
    unit = unit.removesuffix(" difference")
    si, shop = (
        units.show(float(value), unit, kind=kind, system=system, shown=shown, digits=digits)
        for system in ("SI", "shop")
    )
    return si if si == shop else f"{si} ({shop})"


def cut_size(metres: Any) -> str:
    """A size that is cut or measured on a cut: to a hundredth of a millimetre, and in inches."""
    return f"{1000 * float(metres):.2f} mm ({float(metres) / INCH:.4f} in)"


def side_text(check: Check, side: Any) -> str:
    """A check's demand or capacity in both systems of units; in the check's own words where it has no end."""
    if check.kind == "count" and side is not None:
        return f"{float(side):.0f}"
    return check.endless if side == math.inf else both(side, check.unit, kind=check.kind)


def margin_text(margin: float | None) -> str:
    """A margin in words: ``+12 %``, or what an infinite one means."""
    if margin is None:
        return ""
    if math.isinf(margin):
        return "nothing asked" if margin > 0 else "nothing there"
    if abs(margin) >= 10:
        return f"over {int(abs(margin)) * 100} %" if margin > 0 else f"under -{int(abs(margin)) * 100} %"
    return f"{100 * margin:+.0f} %"


def in_short(check: Check) -> str:
    """A check in one line."""
    if check.demand is None:
        return f"{check.name}: {check.verdict}" + (f" ({few(check.missing)})" if check.missing else "")
    demand, capacity = (side_text(check, side) for side in (check.demand, check.capacity))
    return f"{check.name}: {demand} against {capacity}, {check.verdict}"


def few(names: Iterable[str], *, most: int = 3) -> str:
    """The first of many names, and how many more there are."""
    all_names = list(names)
    more = len(all_names) - most
    return ", ".join(all_names[:most]) + (f" and {more} more" if more > 0 else "")


def wants(reason: str) -> str:
    """Why a figure has no value, from the registry's reason: values by name where they are few, else how many."""
    if not reason.startswith(WANTING):
        return f"does not apply: {reason}"
    names = reason.removeprefix(WANTING).split(", ")
    return f"not known: {reason}" if len(names) <= 2 else f"not known: needs {len(names)} values"


def value_text(value: Any, quantity: Quantity | None) -> str:
    """A value of the build file as it stands on the sheet."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Curve):
        return f"curve of {len(value.x)} points" + (f" ({value.source})" if value.source else "")
    if isinstance(value, list | tuple):
        return ", ".join(value_text(item, quantity) for item in value)
    if quantity is None or isinstance(value, str):
        return str(value)
    if quantity.whole:
        return f"{value:.0f}"
    return both(value, quantity.unit, kind=quantity.kind, shown=quantity.shown)


def spread_text(spread: float | None) -> str:
    """A spread in words, nothing where none is stated."""
    return "" if spread is None else f"±\u00a0{units.figures(100 * spread, 2)}\u00a0%"


Make = str | Callable[[View], Any]  # a value's dotted path in the build, or how it is worked out


@dataclasses.dataclass(frozen=True)
class Line:
    """One line of a card: what it is, where its value comes from, and a note beside it.

    A value that stands in the build is named by its path, and shown as its quantity declares; ``unit`` (SI), ``kind``
    and ``shown`` are for what is worked out.
    """

    what: str
    make: Make
    unit: str = ""
    note: str | Callable[[View], str] = ""
    kind: str = ""
    shown: Mapping[str, str] | None = None


@dataclasses.dataclass(frozen=True)
class Row:
    """A line filled in. ``text`` is empty where the value is not known: the reader writes it by hand."""

    what: str
    text: str
    note: str


@dataclasses.dataclass(frozen=True)
class Card:
    """The lines of a card that a build has, and in a few words why others are not on it."""

    rows: tuple[Row, ...]
    left_out: tuple[str, ...] = ()

    def text(self, what: str) -> str:
        """What stands beside a line. Raises ``ValueError`` where there is none."""
        for row in self.rows:
            if row.what == what:
                return row.text
        raise ValueError(f"line: {what!r}; there are: {', '.join(row.what for row in self.rows)}")


def tried(b: View, make: Make) -> tuple[Any, str, bool]:
    """A value of a build (None where there is none), why there is none, and whether that is for want of a value."""
    make = at(make) if isinstance(make, str) else make
    with np.errstate(divide="ignore", invalid="ignore"):
        found = state(StatedSpec("", "", "", make), b)
    value = found.value
    if isinstance(value, float | np.ndarray) and math.isnan(float(value)):
        return None, "the values given do not fit together", True
    return value, found.reason, found.reason.startswith(WANTING)


def fill(b: View, lines: Iterable[Line]) -> Card:
    """A card filled in from a build. What does not apply to it is left out, and said so once."""
    rows, left_out = [], []
    for line in lines:
        value, why, wanting = tried(b, line.make)
        if value is None and not wanting:
            left_out.append(why)
            continue
        own = isinstance(line.make, str)  # the blank itself is then what is wanted
        note = line.note if isinstance(line.note, str) else line.note(b)
        note = note if value is not None or own else "; ".join(filter(None, (note, wants(why))))
        rows.append(Row(line.what, _shown(value, line.make, line.unit, line.kind, line.shown), note))
    return Card(tuple(rows), tuple(dict.fromkeys(left_out)))


def said(b: View, make: Make, unit: str = "", *, kind: str = "", shown: Any = None) -> str:
    """A value for the middle of a sentence; a blank to fill in where it is not known. Arguments as in :class:`Line`."""
    value, _, _ = tried(b, make)
    return _shown(value, make, unit, kind, shown) or BLANK


def _shown(value: Any, make: Make, unit: str, kind: str, shown: Any) -> str:
    if value is None:
        return ""
    if isinstance(make, str):
        return value_text(value, quantity_of(declared()[make]))
    return both(value, unit, kind=kind, shown=shown)


def at(path: str) -> Callable[[View], Any]:
    """What reads a build's value at a dotted path."""
    return lambda b: functools.reduce(getattr, path.split("."), b)

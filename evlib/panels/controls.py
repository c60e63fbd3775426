"""The two kinds of control a panel has: a quantity, and a choice (or button). All units are handled here."""

from __future__ import annotations

import dataclasses
import math
import re
from typing import Any

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Quantity, quantity_of

STEPS = 100  # a press of an arrow key is a hundredth of the slider


@dataclasses.dataclass(frozen=True)
class QuantityControl:
    """A slider with a box to type in. ``path`` is the dotted build path; its last word is the argument's name."""

    path: str
    quantity: Quantity
    start: float
    span: tuple[float, float]
    note: str = ""

    @property
    def name(self) -> str:
        """The argument of the panel's function."""
        return self.path.rpartition(".")[2]

    @property
    def steps(self) -> int:
        """How many steps the slider has."""
        low, high = self.span
        return min(STEPS, round(high - low)) if self.quantity.whole else STEPS

    def at(self, step: float, *, system: str = "SI") -> float:
        """The value at a step of the slider, rounded in the unit shown so that the numbers read well."""
        low, high = self.span
        if step <= 0 or step >= self.steps:
            return low if step <= 0 else high
        share = step / self.steps
        logarithmic = self.quantity.scale == "log"
        value = low * (high / low) ** share if logarithmic else low + (high - low) * share
        if self.quantity.whole:
            return float(round(value))
        shown = float(self.quantity.to_shown(value, system=system))
        if logarithmic:
            rounded = float(f"{shown:.3g}")
        else:
            ends = self.quantity.to_shown(np.array([low, high]), system=system)
            rounded = round(shown, math.ceil(-math.log10(abs(ends[1] - ends[0]) / self.steps) - 1e-9))
        return min(max(self.from_shown(rounded, system=system), low), high)

    def step(self, value: float) -> int:
        """The step nearest to a value; a value typed outside the span sits at its end."""
        low, high = self.span
        if not low < value < high:
            return 0 if value <= low else self.steps
        logarithmic = self.quantity.scale == "log"
        share = math.log(value / low) / math.log(high / low) if logarithmic else (value - low) / (high - low)
        return round(share * self.steps)

    def from_shown(self, number: float, *, system: str = "SI") -> float:
        """A number in the unit shown, in SI; every display unit is a factor and an offset."""
        zero, one = (float(self.quantity.to_shown(v, system=system)) for v in (0.0, 1.0))
        return (number - zero) / (one - zero)

    def typed(self, text: str, *, system: str = "SI") -> float:
        """What was typed, in SI: with a unit, or a bare number in the unit shown beside the box."""
        bare = re.fullmatch(r"\s*[-+−]?[\d.,\s½⅓⅔¼¾⅛⅜⅝⅞]*(?:[eE][-+]?\d+)?\s*", text)
        if bare and any(sign.isnumeric() for sign in text) and self.quantity.unit:
            return float(self.quantity.number(self.from_shown(units.read(text, ""), system=system), name=self.label))
        value = self.quantity.accept(text)
        return float(self.quantity.number(value, name=self.label))

    @property
    def label(self) -> str:
        """The quantity in words."""
        return self.quantity.text

    def unit(self, *, system: str = "SI") -> str:
        """The unit shown beside the box."""
        unit = self.quantity.shown_unit(system=system)
        return units.pretty(unit.replace("°C", "K") if self.quantity.kind == "difference" else unit)

    def show(self, value: float, *, system: str = "SI") -> str:
        """The value with its unit."""
        return f"{plain_number(float(self.quantity.to_shown(value, system=system)))} {self.unit(system=system)}".strip()

    def spec(self) -> dict[str, Any]:
        """What the page is told once."""
        return {"kind": "quantity", "name": self.name, "label": self.label, "symbol": self.quantity.symbol,
                "steps": self.steps, "note": self.note}  # fmt: skip

    def state(self, value: float, *, system: str = "SI") -> dict[str, Any]:
        """What the page is told with every frame."""
        low, high = self.span
        slack = 1e-9 * (high - low)
        outside = "" if low - slack <= value <= high + slack else "typed, beyond the slider's span"
        shown = self.show(value, system=system)
        unit = self.unit(system=system)
        return {"step": self.step(value), "number": shown.removesuffix(unit).strip(), "unit": unit, "shown": shown,
                "outside": outside}  # fmt: skip

    def toml(self, value: float) -> str:
        """As a build file writes it; the build's own reader reads it back."""
        shown = f"{plain_number(float(self.quantity.to_shown(value)), digits=6)} {self.quantity.shown_unit()}".strip()
        return f'"{shown}"' if self.quantity.unit else plain_number(value, digits=6)


@dataclasses.dataclass(frozen=True)
class Choice:
    """One of several named options; worked by arrow keys."""

    path: str
    options: tuple[str, ...]
    start: str
    label: str

    @property
    def name(self) -> str:
        """The argument of the panel's function."""
        return self.path.rpartition(".")[2]

    def spec(self) -> dict[str, Any]:
        """What the page is told once."""
        return {"kind": "choice", "name": self.name, "label": self.label, "options": list(self.options)}

    def toml(self, value: str) -> str:
        """As a build file writes it."""
        return f'"{value}"'


@dataclasses.dataclass(frozen=True)
class Button:
    """A button; the panel's function is given how often it was pressed since the start."""

    path: str
    label: str
    start: int = 0

    @property
    def name(self) -> str:
        """The argument of the panel's function."""
        return self.path

    def spec(self) -> dict[str, Any]:
        """What the page is told once."""
        return {"kind": "button", "name": self.name, "label": self.label}


Control = QuantityControl | Choice | Button


def quantity(path: str, declared: Any, value: float | str | None = None) -> QuantityControl:
    """A quantity control: dotted build path, the declared quantity (or its alias), and the build's value.

    The slider's span is the declared one, widened to include the value. A value that the build does not know is
    started from the middle of the span, and the panel says so.
    """
    found = declared if isinstance(declared, Quantity) else quantity_of(declared)
    if found is None:
        raise TypeError(f"{path}: {declared!r} declares no quantity")
    if found.slider is None:
        raise ValueError(f"{path}: the quantity declares no slider span")
    low, high = found.slider
    note = ""
    if value is None:
        value = math.sqrt(low * high) if found.scale == "log" else (low + high) / 2
        value = float(round(value)) if found.whole else value
        note = "not known in this build; started from a typical value"
    number = float(found.accept(value))
    if not math.isfinite(number):
        raise ValueError(f"{path}: {value!r} is not a number")
    low, high = min(low, number), max(high, number)
    if found.scale == "log" and low <= 0:
        raise ValueError(f"{path}: a logarithmic slider can't start at {low:g}")
    return QuantityControl(path, found, number, (low, high), note)


def choice(path: str, options: tuple[str, ...] | list[str], *, start: str | None = None, label: str = "") -> Choice:
    """A choice control; it starts at the first option unless told."""
    start = options[0] if start is None else start
    if start not in options:
        raise ValueError(f"{path}: {start!r} was given; allowed: {', '.join(options)}")
    return Choice(path, tuple(options), start, label or path.rpartition(".")[2].replace("_", " "))


def button(name: str, label: str) -> Button:
    """A button control."""
    return Button(name, label)


def plain_number(value: float, digits: int = 4) -> str:
    """Digits without powers of ten or trailing zeros: 0.05, 1650, 12.5."""
    if value and abs(value) < 1e-6:
        return f"{value:.{digits - 1}e}"
    return str(np.format_float_positional(float(f"{value:.{digits}g}"), trim="-"))

"""Declared curves: y against x, each axis a quantity, with where it comes from. Never read outside its ends."""

from __future__ import annotations

import dataclasses
import math
from typing import Any, Literal

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Quantity


@dataclasses.dataclass(frozen=True, eq=False)
class Curve:
    """A curve given by points. Between points it is read linearly, or linearly in the logarithms of both axes."""

    x: Array
    y: Array
    source: str = ""
    name: str = "curve"
    logarithmic: bool = False

    def at(self, x: Any) -> Any:
        """Y at x; scalar or column. Raises :class:`OutOfRange` outside the points.

        >>> Curve(x=np.array([0.0, 2.0]), y=np.array([1.0, 5.0])).at(1.0)
        3.0
        """
        return self._read(x, self.x, self.y)

    def inverse(self, y: Any) -> Any:
        """X at y, for a curve that only rises or only falls. Raises :class:`OutOfRange` outside the points."""
        rising = self.y[-1] > self.y[0]
        return self._read(y, self.y if rising else self.y[::-1], self.x if rising else self.x[::-1])

    def _read(self, value: Any, from_axis: Array, to_axis: Array) -> Any:
        asked = np.asarray(value, dtype=float)
        slack = 1e-9 * max(abs(from_axis[0]), abs(from_axis[-1]))  # rounding is not extrapolation
        outside = ~((asked >= from_axis[0] - slack) & (asked <= from_axis[-1] + slack))
        if outside.any():
            bad = float(asked[outside].flat[0])
            raise OutOfRange(self.name, bad, float(from_axis[0]), float(from_axis[-1]), self.source or "its points")
        if self.logarithmic:
            read = np.exp(np.interp(np.log(asked), np.log(from_axis), np.log(to_axis)))
        else:
            read = np.interp(asked, from_axis, to_axis)
        return float(read) if read.ndim == 0 else read


@dataclasses.dataclass(frozen=True)
class CurveOf:
    """Declares a curve field: ``Annotated[Curve, CurveOf("name", x=Quantity(...), y=Quantity(...))]``.

    In a build file: ``{ x = ["0 kPa", "300 kPa"], y = ["8 L/min", "2 L/min"], source = "maker's sheet" }``.
    ``shape`` says whether y must rise, fall, or may do either; x always rises.
    """

    text: str
    x: Quantity
    y: Quantity
    shape: Literal["rising", "falling", "any"] = "any"
    logarithmic: bool = False
    how: str = ""

    def __hash__(self) -> int:
        return hash(self.text)

    def accept(self, value: Any) -> Curve:
        """Validate points from the outside. Raises ``ValueError``."""
        if isinstance(value, Curve):
            return value
        wanted = f"{self.text}: wanted {{ x = [{self.x.text}, ...], y = [{self.y.text}, ...], source = '...' }}"
        if not isinstance(value, dict) or not {"x", "y"} <= set(value) or set(value) - {"x", "y", "source"}:
            raise ValueError(wanted)
        if not all(isinstance(value[axis], list | tuple | np.ndarray) for axis in "xy"):
            raise ValueError(wanted)
        x, y = (np.atleast_1d(axis.accept(list(value[n]))) for n, axis in (("x", self.x), ("y", self.y)))
        if len(x) != len(y) or len(x) < 2:
            raise ValueError(f"{self.text}: {len(x)} x and {len(y)} y were given; wanted two or more pairs")
        if not (np.diff(x) > 0).all():
            raise ValueError(f"{self.text}: x must rise from point to point")
        steps = np.diff(y) * (1 if self.shape == "rising" else -1)
        if self.shape != "any" and not (steps >= 0).all():
            raise ValueError(f"{self.text}: y must be {self.shape} from point to point")
        if self.logarithmic and (min(x) <= 0 or min(y) <= 0):
            raise ValueError(f"{self.text}: points must be more than 0, since it is read in logarithms")
        return Curve(x=x, y=y, source=str(value.get("source", "")), name=self.text, logarithmic=self.logarithmic)

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(self.accept)


def middle(quantity: Quantity) -> float:
    """A typical value of a quantity: the middle of its slider, for probing what else is missing."""
    if quantity.slider is None:
        low, high = max(quantity.low, quantity.above), min(quantity.high, quantity.below)
        return (low + high) / 2 if math.isfinite(low + high) else (low + 1.0 if math.isfinite(low) else 1.0)
    low, high = quantity.slider
    value = math.sqrt(low * high) if quantity.scale == "log" and low > 0 else (low + high) / 2
    return float(round(value)) if quantity.whole else value

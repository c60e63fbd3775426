"""One declaration per quantity: symbol, unit, words, limits, slider, spread. Everything else is made from it."""

from __future__ import annotations

import dataclasses
import functools
import inspect
import math
import typing
from collections.abc import Callable, Mapping
from typing import Any, Literal, TypeVar, dataclass_transform

import numpy as np
from numpy.typing import NDArray

from evlib.ground import units

Array = NDArray[np.float64]
Number = float | Array  # a value, or a column of them

# Standard relative spread (one standard deviation) of a value by where it comes from, unless the build says better.
SPREAD: dict[str, float] = {"measured": 0.01, "catalogue": 0.03, "guess": 0.15}


@dataclasses.dataclass(frozen=True)
class Quantity:
    """What is to be known of one parameter, declared once and used as ``Annotated[Number, Quantity(...)]``.

    ``unit`` is SI; ``low``/``high`` are allowed limits, ``above``/``below`` limits that are not themselves allowed;
    ``slider`` is the typical span (also shown where a value is missing); ``scale`` is ``linear`` or ``log``;
    ``spread`` is where such a value usually comes from (a key of :data:`SPREAD`) or a relative number; ``kind`` is
    a kind of :func:`evlib.ground.units.read`; ``shown`` overrides the display units, e.g. ``{"SI": "m"}``; ``how``
    says in one clause how to get the value; ``whole`` marks counts.
    """

    symbol: str
    unit: str
    text: str
    low: float = -math.inf
    high: float = math.inf
    above: float = -math.inf
    below: float = math.inf
    slider: tuple[float, float] | None = None
    scale: Literal["linear", "log"] = "linear"
    spread: str | float = "catalogue"
    kind: str = ""
    shown: Mapping[str, str] | None = None
    how: str = ""
    whole: bool = False

    def __hash__(self) -> int:
        return hash((self.symbol, self.unit, self.text))

    @property
    def allowed(self) -> str:
        """The limits in words, e.g. ``more than 0 and at most 1000 mm``."""
        parts = []
        if self.above > -math.inf:
            parts.append(f"more than {self.show(self.above)}")
        if self.low > -math.inf:
            parts.append(f"at least {self.show(self.low)}")
        if self.below < math.inf:
            parts.append(f"less than {self.show(self.below)}")
        if self.high < math.inf:
            parts.append(f"at most {self.show(self.high)}")
        kind = "a whole number" if self.whole else "a finite number"
        if parts and self.whole:
            return " and ".join(parts) + f", {kind}"
        return " and ".join(parts) if parts else kind

    def show(self, value: float, *, system: str = "SI", digits: int = 3) -> str:
        """The value as text in its display unit."""
        if self.whole and math.isfinite(value):
            return f"{value:.0f} {self.unit}".strip()
        return units.show(value, self.unit, kind=self.kind, system=system, shown=self.shown, digits=digits)

    def shown_unit(self, *, system: str = "SI") -> str:
        """The unit it is shown in."""
        return units.shown_unit(self.unit, kind=self.kind, system=system, shown=self.shown)

    def to_shown(self, value: Any, *, system: str = "SI") -> Any:
        """A value or column in the display unit."""
        return units.to_shown(value, self.unit, shown=self.shown_unit(system=system), kind=self.kind)

    def number(self, value: Any, *, name: str = "") -> Any:
        """Validate a number or a column; a 0-d array becomes a float. Raises ``ValueError`` naming what is allowed."""
        name = name or self.text
        if type(value) is int and abs(value) > 10**300:
            raise ValueError(f"{name}: a number of more than 300 digits was given; allowed: {self.allowed}")
        if type(value) is float or type(value) is int:
            if not (self.low <= value <= self.high and self.above < value < self.below):
                self._refuse(name, value)
            if value in (math.inf, -math.inf) or (self.whole and value != int(value)):
                self._refuse(name, value)
            return float(value)
        if isinstance(value, bool | str | bytes) or value is None:
            raise ValueError(f"{name}: {value!r} is not a number; allowed: {self.allowed}")
        try:
            column = np.asarray(value, dtype=np.float64)
        except (TypeError, ValueError, OverflowError):
            raise ValueError(f"{name}: {value!r} is not a number; allowed: {self.allowed}") from None
        if column.size == 0:
            raise ValueError(f"{name}: an empty list was given; allowed: {self.allowed}")
        good = np.isfinite(column) & (column >= self.low) & (column <= self.high)
        good &= (column > self.above) & (column < self.below)
        if self.whole:
            good &= np.where(good, column, 0.5) % 1 == 0
        if not good.all():
            self._refuse(name, float(column[~good].flat[0]))
        return float(column) if column.ndim == 0 else column

    def _refuse(self, name: str, value: float) -> typing.NoReturn:
        plain = math.isfinite(value) and not (self.whole and value % 1)  # 28.5 teeth must not be reported as 28
        given = self.show(value) if plain else str(value)
        raise ValueError(f"{name}: {given} was given; allowed: {self.allowed}")

    def accept(self, value: Any) -> Any:
        """From the outside: text with a unit, a bare SI number, or a column of either. Raises ``ValueError``."""
        if isinstance(value, str):
            return self.number(units.read(value, self.unit, kind=self.kind))
        if isinstance(value, list | tuple):
            return self.number(np.array([self.accept(item) for item in value], dtype=np.float64))
        return self.number(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core import core_schema

        def to_json(value: Any) -> Any:
            return value.tolist() if isinstance(value, np.ndarray) else value

        return core_schema.no_info_plain_validator_function(
            self.accept, serialization=core_schema.plain_serializer_function_ser_schema(to_json)
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return {"type": ["string", "number"], "description": f"{self.text} [{self.unit or '1'}]; {self.allowed}"}


def quantity_of(annotation: Any) -> Quantity | None:
    """The Quantity inside an annotation (also inside ``X | None``), or None."""
    for item in getattr(annotation, "__metadata__", ()):
        if isinstance(item, Quantity):
            return item
    for inner in typing.get_args(annotation):
        if inner is not type(None):
            found = quantity_of(inner)
            if found is not None:
                return found
    return None


C = TypeVar("C", bound=type)
F = TypeVar("F", bound=Callable[..., Any])


@dataclass_transform(frozen_default=True, kw_only_default=True)
def part(cls: C) -> C:
    """Make a part: a frozen keyword-only pydantic dataclass that refuses unknown fields and keeps columns."""
    from pydantic import ConfigDict
    from pydantic.dataclasses import dataclass

    config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)
    return typing.cast(C, dataclass(frozen=True, kw_only=True, eq=False, config=config)(cls))


@dataclass_transform(frozen_default=True)
def result(cls: C) -> C:
    """Make a small frozen result with named fields, in place of a bare tuple."""
    return typing.cast(C, dataclasses.dataclass(frozen=True, eq=False)(cls))


@functools.cache
def quantities(thing: Any) -> dict[str, Quantity]:
    """The quantities that a part's fields or a calculation's arguments declare, by name."""
    hints = typing.get_type_hints(inspect.unwrap(thing) if not inspect.isclass(thing) else thing, include_extras=True)
    found = {name: quantity_of(hint) for name, hint in hints.items() if name != "return"}
    return {name: quantity for name, quantity in found.items() if quantity is not None}


def calculation(function: F) -> F:
    """Wrap a pure function: check each declared quantity, take scalars or columns, give plain floats for scalars.

    An argument annotated with a :class:`Quantity` is checked against its limits (NaN and infinity are refused); one
    annotated with ``Literal`` against its choices. Everything computed from plain floats comes back as plain floats.
    """
    names = list(inspect.signature(function).parameters)
    known: dict[str, Quantity] = {}
    choices: dict[str, tuple[Any, ...]] = {}
    prepared = False

    def prepare() -> None:
        nonlocal prepared
        known.update(quantities(function))
        hints = typing.get_type_hints(function)
        choices.update({n: typing.get_args(h) for n, h in hints.items() if typing.get_origin(h) is Literal})
        prepared = True

    @functools.wraps(function)
    def checked(*args: Any, **kwargs: Any) -> Any:
        if not prepared:
            prepare()
        if args:
            if len(args) > 1:
                raise TypeError(f"{function.__name__}() takes one value by position; name the others")
            if names[0] in kwargs:
                raise TypeError(f"{function.__name__}() got {names[0]} twice")
            kwargs[names[0]] = args[0]
        for name, value in kwargs.items():
            quantity = known.get(name)
            if quantity is not None and value is not None:
                kwargs[name] = quantity.number(value, name=name)
            elif name in choices and value not in choices[name]:
                raise ValueError(f"{name}: {value!r} was given; allowed: {', '.join(map(repr, choices[name]))}")
        return _plain(function(**kwargs))

    return typing.cast(F, checked)


def _plain(value: Any) -> Any:
    """0-d arrays and numpy scalars to plain Python, inside results too."""
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, np.ndarray):
        return value.item() if value.ndim == 0 else value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        changed = {
            field.name: plain
            for field in dataclasses.fields(value)
            if (plain := _plain(old := getattr(value, field.name))) is not old
        }
        return dataclasses.replace(value, **changed) if changed else value
    return value

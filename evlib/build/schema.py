"""The build: every part of one conversion, as the build file names them."""

from __future__ import annotations

import dataclasses
import functools
import typing
from typing import Annotated, Any

from evlib.gearing.parts import FinalDrive, Gearbox, Vehicle
from evlib.ground.quantity import Number, Quantity, part, quantity_of
from evlib.ground.tables import CurveOf
from evlib.hydraulics.parts import Hydraulics
from evlib.motors.parts import Controller, Machine, Pack
from evlib.motors.quantities import HoldTime
from evlib.parking.parts import Parking
from evlib.safety.parts import Protection
from evlib.shafts.parts import Coupling

SpeedTarget = Annotated[
    Number,
    Quantity("v_t", "m/s", "speed to be reached from rest", above=0, high=70, slider=(10, 35), how="your own wish"),
]
TimeTarget = Annotated[
    Number,
    Quantity("t_t", "s", "time allowed to reach that speed", above=0, high=300, slider=(5, 40), how="your own wish"),
]
StartGradeTarget = Annotated[
    Number,
    Quantity(
        "p_t", "", "steepest grade to start on, rise over run", low=0, high=1, slider=(0.1, 0.4),
        how="the steepest drive or ramp it must leave: measure it with a level and a rule",
        shown={"SI": "%", "shop": "%"},
    ),
]  # fmt: skip
TopSpeedTarget = Annotated[
    Number,
    Quantity("v_m", "m/s", "top speed wanted on the level", above=0, high=100, slider=(20, 45), how="your own wish"),
]
ClimbGrade = Annotated[
    Number,
    Quantity(
        "p_h", "", "grade of the hour's climb", low=0, high=0.3, slider=(0, 0.08), how="your longest hill, from a map",
        shown={"SI": "%", "shop": "%"},
    ),
]  # fmt: skip
ClimbSpeed = Annotated[
    Number,
    Quantity("v_h", "m/s", "speed on the hour's climb", above=0, high=60, slider=(10, 30), how="your own wish"),
]
Ambient = Annotated[
    Number,
    Quantity("Θ_a", "K", "hottest outside air", low=223, high=333, slider=(283, 318), kind="reading",
             how="the local summer record"),
]  # fmt: skip


@part
class About:
    """What this build is called and where its numbers come from."""

    name: str | None = None
    note: str | None = None
    invented: bool | None = None
    date: str | None = None


@part
class Targets:
    """What the owner asks of the vehicle."""

    speed: SpeedTarget | None = None
    time_to_speed: TimeTarget | None = None
    start_grade: StartGradeTarget | None = None
    top_speed: TopSpeedTarget | None = None
    climb_grade: ClimbGrade | None = None
    climb_speed: ClimbSpeed | None = None
    hottest_air: Ambient | None = None
    hold_time: HoldTime | None = None


@dataclasses.dataclass(frozen=True)
class Origin:
    """Where a value comes from, as the build file states it."""

    text: str = ""
    source: str = ""
    spread: float | None = None
    note: str = ""


@part
class Parts:
    """The sections of a build file; a section that is absent is not known."""

    build: About | None = None
    vehicle: Vehicle | None = None
    pack: Pack | None = None
    controller: Controller | None = None
    machine: Machine | None = None
    coupling: Coupling | None = None
    gearbox: Gearbox | None = None
    final_drive: FinalDrive | None = None
    hydraulics: Hydraulics | None = None
    parking: Parking | None = None
    protection: Protection | None = None
    targets: Targets | None = None


@dataclasses.dataclass(frozen=True, eq=False)
class Build:
    """One conversion: its parts, where each value comes from (by dotted path), and what it was changed from."""

    parts: Parts
    origins: dict[str, Origin] = dataclasses.field(default_factory=dict)
    base: Build | None = None

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_") or name == "parts":
            raise AttributeError(name)
        return getattr(self.parts, name)

    @property
    def name(self) -> str:
        """What the build is called."""
        return (self.parts.build.name if self.parts.build else None) or "unnamed build"

    def value(self, path: str) -> Any:
        """The value at a dotted path, or None where it is not known."""
        thing: Any = self.parts
        for step in path.split("."):
            thing = getattr(thing, step) if thing is not None else None
        return thing

    def changed(self, changes: dict[str, Any]) -> Build:
        """A build with some values replaced: text with units, SI numbers, or columns. Raises ``ValueError``."""
        parts = self.parts
        for path, value in changes.items():
            parts = _replaced(parts, Parts, path.split("."), value, path)
        gone = {path: Origin(text=_told(value)) for path, value in changes.items()}
        return Build(parts, {**self.origins, **gone}, self.base or self)


def _told(value: Any) -> str:
    """A changed value as its origin quotes it; of a column only its length, since printing one takes long."""
    return f"a column of {len(value)}" if hasattr(value, "__len__") and not isinstance(value, str) else str(value)


def _replaced(thing: Any, kind: Any, steps: list[str], value: Any, path: str) -> Any:
    hints = fields_of(kind)
    if steps[0] not in hints:
        raise ValueError(f"{path}: no such value; known in this place: {', '.join(hints)}")
    if len(steps) > 1:
        inner = part_of(hints[steps[0]])
        if inner is None:
            raise ValueError(f"{path}: {steps[0]} is a value, not a part")
        value = _replaced(getattr(thing, steps[0], None), inner, steps[1:], value, path)
    else:
        declared = quantity_of(hints[steps[0]])
        if declared is not None and value is not None:
            try:
                value = declared.accept(value)
            except ValueError as error:
                raise ValueError(f"{path}: {error}") from None
    if thing is None:
        return kind(**{steps[0]: value})
    return dataclasses.replace(thing, **{steps[0]: value})


def fields_of(kind: Any) -> dict[str, Any]:
    """A part's fields with their annotations."""
    return _hints(kind)


@functools.cache
def _hints(kind: typing.Hashable) -> dict[str, Any]:
    return typing.get_type_hints(kind, include_extras=True)


def part_of(hint: Any) -> Any:
    """The part class inside an annotation, or None where it declares a value."""
    for inner in (hint, *typing.get_args(hint)):
        if isinstance(inner, type) and hasattr(inner, "__pydantic_fields__"):
            return inner
    return None


def curve_of(hint: Any) -> CurveOf | None:
    """The curve declaration inside an annotation, or None."""
    for item in getattr(hint, "__metadata__", ()):
        if isinstance(item, CurveOf):
            return item
    return next((found for inner in typing.get_args(hint) if (found := curve_of(inner)) is not None), None)


def declared(kind: Any = Parts, *, path: str = "") -> dict[str, Any]:
    """Every value that a build file can hold: dotted path to annotation, in the file's order."""
    return dict(_declared(kind, path))


@functools.cache
def _declared(kind: Any, path: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    hints = fields_of(kind)
    for name, hint in sorted(hints.items(), key=lambda item: part_of(item[1]) is not None):  # TOML wants values first
        where = f"{path}.{name}" if path else name
        inner = part_of(hint)
        found.update(_declared(inner, where) if inner is not None else {where: hint})
    return found

"""The exercise that shows an instrument: read it off, and enter what it says with a unit."""

from __future__ import annotations

import dataclasses
import functools
from typing import Any

from evlib.exercises.base import Picture
from evlib.exercises.number import Case, Draw, Number
from evlib.ground import units
from evlib.ground.quantity import Quantity, quantity_of

SIZE = (3.6, 3.4)  # inches


@dataclasses.dataclass(frozen=True, kw_only=True)
class Dial:
    """A round dial: ``numbered`` marks evenly spaced, ``parts`` equal spaces between two of them, the unit on it.

    A reading is good to half of the smallest space; that is how closely a pointer is read.
    """

    name: str
    unit: str
    numbered: tuple[float, ...]
    parts: int
    quantity: Any

    @property
    def space(self) -> float:
        """What one small space is worth, in the dial's unit."""
        return (self.numbered[1] - self.numbered[0]) / self.parts

    @property
    def factor(self) -> float:
        """The dial's unit in SI."""
        declared = self.quantity if isinstance(self.quantity, Quantity) else quantity_of(self.quantity)
        return units.factor(self.unit, declared.unit) if self.unit and declared else 1.0

    def draw(self, low: str, high: str) -> Draw:
        """Where the pointer may stand: on marks and half-way between them."""
        unit = f" {self.unit}" if self.unit else ""
        return Draw(self.quantity, f"{low}{unit}", f"{high}{unit}", f"{self.space / 2:g}{unit}")

    def counted(self, value: float, each: float) -> float:
        """What [SI] is read if every small space is taken for ``each`` of the dial's unit."""
        below, spaces = self.place(value)
        return (self.numbered[below] + spaces * each) * self.factor

    def backwards(self, value: float) -> float:
        """What [SI] is read if the small spaces are counted from the next number down."""
        below, spaces = self.place(value)
        return (self.numbered[below] + (self.parts - spaces) * self.space) * self.factor

    def place(self, value: float) -> tuple[int, float]:
        """The numbered mark at or below a value [SI], counted from 0, and how many small spaces past it, in halves."""
        halves = round(2 * (value / self.factor - self.numbered[0]) / self.space)
        below = min(halves // (2 * self.parts), len(self.numbered) - 1)
        return below, halves / 2 - below * self.parts

    def words(self, value: float) -> str:
        """The dial and its pointer in words: what the eye sees, not what it says."""
        below, spaces = self.place(value)
        numbers = [f"{number:g}" for number in self.numbered]
        marked = f"A dial, {self.name}{f', marked {units.pretty(self.unit)}' if self.unit else ''}. "
        marked += f"Its numbered marks are {', '.join(numbers)}. Small marks divide each step between two numbers into "
        marked += f"{self.parts} equal spaces. "
        whole, half = int(spaces), spaces % 1
        start = f"the mark numbered {numbers[below]}"
        near = start if not whole else f"small mark {whole} after {start}"
        after = f"small mark {whole + 1}" if whole + 1 < self.parts else f"the mark numbered {numbers[below + 1]}"
        return marked + (f"The pointer stands half-way between {near} and {after}." if half
                         else f"The pointer stands on {near}.")  # fmt: skip


@dataclasses.dataclass(frozen=True)
class Pointed:
    """A dial with its pointer at a value [SI], for the figure."""

    dial: Dial
    value: float

    @property
    def marks(self) -> tuple[tuple[float, str], ...]:
        """Each mark and its number, or an empty text."""
        first, space, parts = self.dial.numbered[0], self.dial.space, self.dial.parts
        found = []
        for i in range((len(self.dial.numbered) - 1) * parts + 1):
            found.append((first + i * space, "" if i % parts else f"{self.dial.numbered[i // parts]:g}"))
        return tuple(found)

    @property
    def share(self) -> float:
        """Where the pointer stands on the scale, 0 to 1."""
        numbered = self.dial.numbered
        return (self.value / self.dial.factor - numbered[0]) / (numbered[-1] - numbered[0])

    @property
    def caption(self) -> str:
        """What stands on the dial."""
        return f"{self.dial.name}\n{units.pretty(self.dial.unit)}".strip()


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Reading(Number):
    """A number that is read off a picture. ``pointer`` names the given quantity that the dial shows and the text hides.

    The tolerance is that of a number, with half a small space of the dial as what the reading may be off by.
    """

    dial: Dial
    pointer: str

    @property
    def hidden(self) -> tuple[str, ...]:
        """What stands in the picture alone."""
        return (self.pointer,)

    def may_be_off(self, name: str) -> float:
        """Half a small space, for what is read off the dial [SI]."""
        return self.dial.space / 2 * self.dial.factor if name == self.pointer else super().may_be_off(name)

    def picture(self, code: str) -> Picture:
        """The dial with its pointer, and the same in words."""
        return _picture(self.dial, self.case(code).values[self.pointer])

    def solution(self, code: str) -> tuple[str, ...]:
        """What the dial shows, then the rest."""
        case: Case = self.case(code)
        each = f"{units.figures(self.dial.space)} {units.pretty(self.dial.unit)}".strip()
        first = f"One small space is {each}; the pointer stands at {case.shown[self.pointer]}"
        return (f"{first}, to half a small space.", *super().solution(code))


@functools.lru_cache(maxsize=64)
def _picture(dial: Dial, value: float) -> Picture:
    from evlib.figures import base
    from evlib.figures.instruments import draw_dial

    figure, axes = base.figure(size=SIZE, room=0.02)
    figure.subplots_adjust(left=0.02, right=0.98, bottom=0.02, top=0.98)
    base.call_draw(draw_dial, Pointed(dial, value), axes)
    return Picture(base.png(figure), dial.words(value))

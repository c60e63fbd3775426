"""The exercise whose answer is a number with a unit: numbers drawn, tolerance computed, usual slips recognised."""

from __future__ import annotations

import dataclasses
import functools
import inspect
import math
import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from evlib.exercises.base import Exercise, Mark, pick
from evlib.ground import units
from evlib.ground.quantity import Quantity, quantity_of

ATTEMPTS = 60  # draws tried until no two readings of an answer collide
NOISE = 1e-9  # relative; what floating point may differ by


@dataclasses.dataclass(frozen=True, eq=False)
class Draw:
    """A quantity of the text and the values it may take: ``Draw(Current, "200 A", "500 A", "10 A")``.

    ``quantity`` is a Quantity or an alias that holds one. All three texts carry the same unit; the value is drawn as
    low + a whole number of steps, so that what the learner reads is exactly what is computed with.
    """

    quantity: Any
    low: str
    high: str
    step: str

    @property
    def declared(self) -> Quantity:
        """The Quantity itself."""
        found = self.quantity if isinstance(self.quantity, Quantity) else quantity_of(self.quantity)
        if found is None:
            raise TypeError(f"{self.quantity!r} declares no quantity")
        return found

    def texts(self) -> tuple[str, ...]:
        """Every value that can be drawn, as text with its unit."""
        (low, unit), (high, unit_high), (step, unit_step) = (
            _decimal(text) for text in (self.low, self.high, self.step)
        )
        if not unit == unit_high == unit_step or step <= 0 or high < low:
            raise ValueError(
                f"Draw {self.low!r} to {self.high!r} by {self.step!r}: one unit, low to high, step above 0"
            )
        count = int((high - low) / step) + 1
        return tuple(f"{low + step * i:f} {unit}".strip() for i in range(count))


def _decimal(text: str) -> tuple[Decimal, str]:
    number, _, unit = text.strip().partition(" ")
    return Decimal(number), unit.strip()


@dataclasses.dataclass(frozen=True, eq=False)
class Step:
    """One line of the paper solution: a name, what is done in words or symbols, the SI unit, the function.

    The function's arguments are names of given quantities and of earlier steps. Turning a given value into SI is no
    step: it is shown and allowed for by itself.
    """

    name: str
    equation: str
    unit: str
    function: Callable[..., Any]


@dataclasses.dataclass(frozen=True, eq=False)
class Slip:
    """A usual mistake: its name, the (wrong) value it leads to, and a hint that does not give the answer.

    Slips that cannot be told apart get the same hint, word for word: then they are treated as one.
    """

    name: str
    function: Callable[..., Any]
    hint: str


@dataclasses.dataclass(frozen=True, eq=False)
class Wrong:
    """What a slip gives with one learner's numbers, and how far rounding on the way can move it."""

    slip: Slip
    value: float
    band: float

    def is_near(self, value: float) -> bool:
        """Whether an answer comes from this slip."""
        return abs(value - self.value) <= self.band


@dataclasses.dataclass(frozen=True, eq=False)
class Case:
    """One learner's numbers: as shown and in SI, the right answer, its tolerance and what each slip would give.

    ``answers`` is the right answer as a bare number in each unit that it is usually written in.
    """

    shown: Mapping[str, str]
    values: Mapping[str, float]
    worked: Mapping[str, float]
    right: float
    answers: tuple[float, ...]
    tolerance: float
    wrong: tuple[Wrong, ...]

    def is_right(self, value: float) -> bool:
        """Whether an answer is right, to the tolerance that rounding on the way leaves."""
        return abs(value - self.right) <= self.tolerance

    @property
    def collisions(self) -> tuple[str, ...]:
        """Slips that cannot be told from the right answer, or from a slip with another hint; hints that tell it."""
        found = []
        for i, one in enumerate(self.wrong):
            others = [
                (other.slip.name, other.value, other.band)
                for other in self.wrong[:i]
                if other.slip.hint != one.slip.hint
            ]
            for name, value, band in [("the right answer", self.right, self.tolerance), *others]:
                if not abs(value - one.value) > band + one.band:
                    found.append(f"slip {one.slip.name!r} ({one.value:.6g}) lies on {name!r} ({value:.6g})")
            told = [float(number) for number in re.findall(r"\d+(?:\.\d+)?", one.slip.hint)]
            near = self.tolerance / abs(self.right)
            if any(abs(number - answer) <= near * abs(answer) for number in told for answer in self.answers):
                found.append(f"the hint of slip {one.slip.name!r} tells the answer")
        return tuple(found)


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Number(Exercise):
    """A number is wanted. ``right`` is a function of the library; ``steps`` the same by hand, one line at a time.

    The tolerance is what comes of rounding every converted value, every step and the answer to three significant
    figures, the worst way round, in any unit it may be written in. ``unit`` asks for one unit only (for exercises
    that are about the unit); otherwise every unit of the right kind will do.
    """

    given: Mapping[str, Draw]
    answer: Any
    right: Callable[..., Any]
    steps: tuple[Step, ...]
    slips: tuple[Slip, ...] = ()
    unit: str = ""

    @property
    def wanted(self) -> Quantity:
        """The Quantity of the answer."""
        return self.answer if isinstance(self.answer, Quantity) else quantity_of(self.answer) or Quantity("", "", "")

    @property
    def hidden(self) -> tuple[str, ...]:
        """Given quantities that the text does not name; for a reading, what the picture shows."""
        return ()

    def may_be_off(self, name: str) -> float:
        """How far [SI] the given quantity may be off from what is computed with, beyond rounding."""
        return 0.0

    @property
    def how(self) -> str:
        """What to type."""
        if self.unit:
            return f"your answer in {units.pretty(self.unit)}, with the unit"
        if self.unit_names() == ("",):
            return "your answer: a number without a unit"
        return f"your answer with its unit ({', '.join(units.pretty(u) for u in self.unit_names())})"

    def unit_names(self) -> tuple[str, ...]:
        """Units the answer is usually written in: the one asked for, or those of both systems and SI."""
        wanted = self.wanted
        usual = [wanted.shown_unit(), wanted.shown_unit(system="shop"), wanted.unit]
        names = tuple(dict.fromkeys([self.unit] if self.unit else usual))
        return tuple(name for name in names if name) or ("",)

    def case(self, code: str) -> Case:
        """The numbers of one learner, drawn again where a slip would collide."""
        return _case(self, code)

    def asked(self, code: str) -> str:
        """The text with this learner's numbers."""
        return self.text.format_map(self.case(code).shown)

    def problems(self, code: str) -> tuple[str, ...]:
        """Collisions that no draw avoided, and a hand solution that disagrees with the library."""
        case, found = self.case(code), []
        by_hand = case.worked[self.steps[-1].name]
        if abs(by_hand - case.right) > NOISE * abs(case.right):
            found.append(f"the steps give {by_hand:.9g}, the library {case.right:.9g}")
        return (*case.collisions, *found)

    def judge(self, text: str, code: str) -> Mark:
        """Right; the right number in a wrong unit; a known slip; not yet."""
        case = self.case(code)
        plain = re.sub(r"^\s*(?:[^\W\d]\w{0,20}\s*)?[=≈~]\s*", "", text)
        value, number, unit, problem = self._read(plain)
        if value is not None and (unit or not self.wanted.unit) and not self._of_another_kind(unit):
            mark = self._right_or_slip(value, unit, case)
            if mark is not None:
                return mark
        if number is not None:
            mark = self._by_number(number, unit, value, case)
            if mark is not None:
                return mark
        if problem:
            return Mark("unread", f"This was not read as an answer: {problem}.")
        return Mark("not yet", "This is not the answer yet, and it is none of the usual slips: write your steps down.")

    def _read(self, text: str) -> tuple[float | None, float | None, str, str]:
        """The value in SI, the bare number, the unit as typed, and what is wrong with the text."""
        wanted, value, problem = self.wanted, None, ""
        try:
            value = units.read(text, wanted.unit, kind=wanted.kind)
        except ValueError as error:
            problem = str(error)
        try:
            number, unit = units.split(text)
        except ValueError:
            return value, None, text if value is not None else "", problem
        return value, number, unit, problem

    def _right_or_slip(self, value: float, unit: str, case: Case) -> Mark | None:
        if case.is_right(value):
            if self.unit and not _same_unit(unit, self.unit, self.wanted.unit):
                return Mark("unit", f"This is the same value, but the question asks for it in {self.unit}.")
            return Mark("right", "Right.")
        for wrong in case.wrong:
            if wrong.is_near(value):
                return Mark("slip", wrong.slip.hint, wrong.slip.name)
        if case.is_right(-value):
            return Mark("slip", "The size is right, the direction (plus or minus) is not.", "sign")
        if case.is_right(value / 2) or case.is_right(value * 2):
            return Mark(
                "slip", "It is out by a factor of two: what comes in pairs here, or is halved?", "factor of two"
            )
        return None

    def _of_another_kind(self, unit: str) -> bool:
        """Whether a unit fits and yet says something else: an angle for a ratio, joules for a torque."""
        others = {"": ("\u00b0", "deg", "rad"), "N m": ("J", "kJ", "MJ", "W s", "Wh", "kWh")}
        return any(_same_name(unit, other) for other in others.get(self.wanted.unit, ()))

    def _by_number(self, number: float, unit: str, value: float | None, case: Case) -> Mark | None:
        """What the number alone tells, read in each unit that the answer is usually written in."""
        wanted = self.wanted
        read_as = {}
        for name in self.unit_names():
            try:
                read_as[name] = units.read(f"{number!r} {name}".strip(), wanted.unit, kind=wanted.kind)
            except ValueError:
                continue
        if any(case.is_right(value) for value in read_as.values()):
            if not unit:
                return Mark(
                    "unit", "The number is right; write its unit too, because a number alone can mean many things."
                )
            return Mark("unit", self._about_unit(unit, next(name for name in read_as if case.is_right(read_as[name]))))
        if not unit and self.unit_names() != ("",):
            for wrong in case.wrong:
                if any(wrong.is_near(value) for value in read_as.values()):
                    return Mark("slip", f"{wrong.slip.hint} And write the unit too.", wrong.slip.name)
            return Mark("not yet", "This is not the answer yet; write the unit too, so that more can be said.")
        return self._power_of_ten(value, case) if value is not None else None

    def _about_unit(self, unit: str, right: str) -> str:
        """What is wrong with the unit of a right number: how it is written, or which one it is."""
        for name in self.unit_names():
            if _same_name(unit.casefold(), name.casefold()) and not _same_name(unit, name):
                return f"Write the unit as {units.pretty(name)}: capital and small letters tell units apart."
        if any(_same_name(unit, name) for name in self.unit_names()):
            return f"The number is right in {units.pretty(right)}; in {unit} it would be another one."
        return f"The number is right, but {unit!r} is not the unit that belongs to it."

    def _power_of_ten(self, value: float, case: Case) -> Mark | None:
        for power in (-6, -3, -2, -1, 1, 2, 3, 6):
            if case.is_right(value * 10.0**power):
                return Mark("slip", "The digits are right; look at the prefix or the decimal point.", "power of ten")
        return None

    def solution(self, code: str) -> tuple[str, ...]:
        """Conversions, steps and answer, line by line, with this learner's numbers."""
        case, lines = self.case(code), []
        for name, draw in self.given.items():
            quantity = draw.declared
            if _written_in(case.shown[name]) != quantity.unit:
                si = f"{units.figures(case.values[name], 4)} {units.pretty(quantity.unit)}".strip()
                lines.append(f"{quantity.text}: {case.shown[name]} = {si}")
        for step in self.steps:
            value = f"{units.figures(case.worked[step.name], 4)} {units.pretty(step.unit)}".strip()
            lines.append(f"{step.equation} = {value}")
        return (*lines, f"Answer: {self.shown_answer(code)}")

    def shown_answer(self, code: str) -> str:
        """The right answer in the units it is usually written in."""
        case = self.case(code)
        if self.wanted.whole:
            return self.wanted.show(case.right)
        pairs = zip(case.answers, self.unit_names(), strict=True)
        return " = ".join(f"{units.figures(number)} {units.pretty(name)}".strip() for number, name in pairs)


@functools.lru_cache(maxsize=4096)
def _case(exercise: Number, code: str) -> Case:
    for attempt in range(ATTEMPTS):
        case = _draw(exercise, code, attempt)
        if not case.collisions:
            break
    return case


def _draw(exercise: Number, code: str, attempt: int) -> Case:
    shown, values = {}, {}
    for name, draw in exercise.given.items():
        texts = draw.texts()
        at = pick(code, label=f"{exercise.id}|{attempt}|{name}", count=len(texts))
        number, _, unit = texts[at].partition(" ")
        shown[name] = f"{number} {units.pretty(unit)}".strip().replace(" ", "\u00a0")
        values[name] = draw.declared.accept(units.read(texts[at], draw.declared.unit, kind=draw.declared.kind))
    right = float(call(exercise.right, values))
    worked = _work(exercise.steps, values, {})
    wanted, names = exercise.wanted, exercise.unit_names()
    tolerance = _tolerance(exercise, values, worked, right)
    wrong = []
    for slip in exercise.slips:
        value = float(call(slip.function, values))
        band = tolerance / abs(right) * abs(value)
        band += 0.0 if wanted.whole else half_figure(value, (wanted.unit, *names), wanted.unit)
        wrong.append(Wrong(slip, value, band))
    answers = tuple(float(units.to_shown(right, wanted.unit, shown=name, kind=wanted.kind)) for name in names)
    return Case(shown, values, worked, right, answers, tolerance, tuple(wrong))


def _tolerance(exercise: Number, values: dict[str, float], worked: dict[str, float], right: float) -> float:
    """How far the answer can move when each number on the way is rounded to three figures, the worst way round."""
    if exercise.wanted.whole:
        return NOISE * abs(right)
    last = exercise.steps[-1].name
    nudges = {name: half_figure(value, (draw.declared.unit,), draw.declared.unit)
              for (name, draw), value in zip(exercise.given.items(), values.values(), strict=True)
              if float(f"{value:.2e}") != float(f"{value:.10e}")}  # fmt: skip
    for name in exercise.hidden:
        nudges[name] = max(nudges.get(name, 0.0), exercise.may_be_off(name))
    for step in exercise.steps:
        usual = (step.unit, units.shown_unit(step.unit), units.shown_unit(step.unit, system="shop"))
        nudges[step.name] = half_figure(worked[step.name], usual, step.unit)
    names = (exercise.wanted.unit, *exercise.unit_names())
    if any(not _is_power_of_ten(name, names[0]) for name in names):  # written in a second unit, it is rounded again
        nudges[last] += half_figure(worked[last], names, names[0])
    grown = 1.0
    for name, nudge in nudges.items():
        moved = [_work(exercise.steps, values, {name: sign * nudge})[last] for sign in (1, -1)]
        grown *= 1 + max(abs(value - worked[last]) for value in moved) / abs(right)
    return abs(right) * (grown - 1 + NOISE)


def _same_name(unit: str, other: str) -> bool:
    return unit.replace(" ", "") == other.replace(" ", "")


def _is_power_of_ten(unit: str, other: str) -> bool:
    """Whether two units have the same digits, so that rounding in one is rounding in the other."""
    slope = float(units.to_shown(1.0, other, shown=unit)) - float(units.to_shown(0.0, other, shown=unit))
    return math.log10(slope) % 1 < NOISE or 1 - math.log10(slope) % 1 < NOISE


def half_figure(value: float, written: tuple[str, ...], unit: str) -> float:
    """Half of the third significant figure [SI], in whichever of the units it is largest.

    >>> half_figure(104.0, ("N m",), "N m"), half_figure(0.0, ("N m",), "N m")
    (0.5, 0.0)
    """
    largest = 0.0
    for name in dict.fromkeys(written):
        number = float(units.to_shown(value, unit, shown=name))
        slope = float(units.to_shown(1.0, unit, shown=name)) - float(units.to_shown(0.0, unit, shown=name))
        if number and math.isfinite(number):
            largest = max(largest, 0.5 * 10.0 ** (math.floor(math.log10(abs(number))) - 2) / abs(slope))
    return largest


def _work(steps: tuple[Step, ...], values: Mapping[str, float], nudges: Mapping[str, float]) -> dict[str, float]:
    known = {name: value + nudges.get(name, 0.0) for name, value in values.items()}
    for step in steps:
        known[step.name] = float(call(step.function, known)) + nudges.get(step.name, 0.0)
    return {step.name: known[step.name] for step in steps}


def call(function: Callable[..., Any], values: Mapping[str, float]) -> Any:
    """Call a function with those of the values that it names."""
    return function(**{name: values[name] for name in _names(function)})


@functools.lru_cache(maxsize=4096)
def _names(function: Callable[..., Any]) -> tuple[str, ...]:
    return tuple(inspect.signature(function).parameters)


def _written_in(shown: str) -> str:
    return shown.partition("\u00a0")[2].replace("\u00a0", " ")


def _same_unit(typed: str, wanted: str, unit: str) -> bool:
    try:
        ours, theirs = units.factor(wanted, unit), units.factor(typed, unit)
    except ValueError:
        return typed == wanted
    return math.isclose(ours, theirs, rel_tol=1e-9)

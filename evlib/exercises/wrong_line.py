"""The exercise that shows a worked sum with one line wrong: find the line, then say what should stand there."""

from __future__ import annotations

import dataclasses
import functools
import inspect
import re
from collections.abc import Callable, Mapping
from typing import Any

from evlib.exercises.base import Exercise, Form, Mark, pick
from evlib.exercises.number import NOISE, Draw, Number, Slip, Step, call
from evlib.ground import units
from evlib.ground.quantity import Quantity

_TYPED = re.compile(r"(?:line\s*)?(\d{1,2})(?:\s*[:;)]\s*|\s*[.,]?\s+|\s*$)(.*)", re.IGNORECASE)


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Line:
    """One line of the sum, as it should be. ``holds`` says why, to a learner who takes it for the wrong one.

    The function's arguments are names of given quantities and of earlier lines, in SI, as for a Step.
    """

    name: str
    equation: str
    unit: str
    function: Callable[..., Any]
    holds: str
    kind: str = ""

    @property
    def step(self) -> Step:
        """The line as a step of a number's solution."""
        return Step(self.name, self.equation, self.unit, self.function)


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Fault:
    """What may be wrong: in which line, the equation that is shown there, the value it gives; its name; hint; why.

    Without ``equation`` the line keeps its own, so that only its value is wrong. ``hint`` helps who found the line but
    gives the same wrong value again; ``why`` is said when all is right.
    """

    line: str
    name: str
    function: Callable[..., Any]
    hint: str
    why: str
    equation: str = ""


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class WrongLine(Exercise):
    """A sum with one wrong line. The course code draws the numbers and which of the faults is in it.

    The lines after the wrong one work on with its value. ``right`` is the library's value of the last line.
    """

    given: Mapping[str, Draw]
    lines: tuple[Line, ...]
    faults: tuple[Fault, ...]
    right: Callable[..., Any]

    def __post_init__(self) -> None:
        """Three to nine lines, two or more faults, each in a line that there is."""
        super().__post_init__()
        names = [line.name for line in self.lines]
        if not 3 <= len(names) <= 9 or len(set(names)) < len(names):
            raise ValueError(f"{self.id}: three to nine lines with different names are wanted")
        if len({fault.line for fault in self.faults}) < 2 or not {fault.line for fault in self.faults} <= set(names):
            raise ValueError(f"{self.id}: faults in two lines or more are wanted, each in a line that is there")

    @property
    def form(self) -> Form:
        """Lines to choose one of, and a field for its value."""
        return "lines"

    @property
    def how(self) -> str:
        """What to choose."""
        return "choose the line that is wrong"

    @property
    def typed(self) -> str:
        """What to type where there is no box."""
        return "the line's number: the value that should stand there"

    def fault(self, code: str) -> Fault:
        """What is wrong in this learner's sum."""
        return self.faults[pick(code, label=f"{self.id}|fault", count=len(self.faults))]

    def wrong_at(self, code: str) -> int:
        """Which line is wrong, counted from 0."""
        return [line.name for line in self.lines].index(self.fault(code).line)

    @functools.cached_property
    def _values(self) -> dict[str, Number]:
        """For each line with a fault, the question what should stand there."""
        return {fault.line: self._value_of(fault.line) for fault in self.faults}

    def _value_of(self, name: str) -> Number:
        at = [line.name for line in self.lines].index(name)
        steps = tuple(line.step for line in self.lines[: at + 1])
        line = self.lines[at]

        def run(last: Callable[..., Any]) -> Callable[..., Any]:
            return _Chain(tuple(self.given), steps[:-1], last)

        slips = tuple(Slip(f.name, run(f.function), f.hint) for f in self.faults if f.line == name)
        return Number(
            id=self.id, objective=self.objective, depth=self.depth, text="", given=self.given, steps=steps, slips=slips,
            answer=Quantity("", line.unit, name, kind=line.kind), right=run(line.function),
        )  # fmt: skip

    def value(self, code: str) -> Number:
        """The question what should stand in this learner's wrong line."""
        return self._values[self.fault(code).line]

    def asked(self, code: str) -> str:
        """The text with this learner's numbers."""
        return self.text.format_map(self.value(code).case(code).shown)

    def options(self, code: str) -> tuple[tuple[str, str], ...]:
        """Number and text of each line, the wrong one among them."""
        known, wrong, shown = dict(self.value(code).case(code).values), self.fault(code), []
        for number, line in enumerate(self.lines, 1):
            bad = line.name == wrong.line
            known[line.name] = float(call(wrong.function if bad else line.function, known))
            equation = (bad and wrong.equation) or line.equation
            value = units.show(known[line.name], line.unit, kind=line.kind, digits=4)
            shown.append((str(number), f"{line.name.replace('_', ' ')} = {equation} = {value}"))
        return tuple(shown)

    def judge(self, text: str, code: str) -> Mark:
        """First the line; then, when that is found, the value."""
        found = _TYPED.fullmatch(text.strip())
        if not found or not 1 <= int(found[1]) <= len(self.lines):
            return Mark("unread", f"Name one of the lines 1 to {len(self.lines)}, and after a colon its right value.")
        at, rest = int(found[1]) - 1, found[2].strip()
        if at != self.wrong_at(code):
            line = self.lines[at]
            return Mark("slip", line.holds, f"{line.name.replace('_', ' ')!r} taken for the wrong line")
        if not rest:
            return Mark("half", "That is the line. Now say what should stand there, with its unit.")
        mark = self.value(code).judge(rest, code)
        if mark.verdict == "right":
            return Mark("right", f"Right. {self.fault(code).why}")
        verdict = "half" if mark.verdict == "unread" else mark.verdict
        return Mark(verdict, f"The line is found. {mark.sentence}", mark.slip)

    def answer(self, code: str) -> str:
        """The line and its right value, as text."""
        return f"{self.wrong_at(code) + 1}: {self.value(code).shown_answer(code).partition(' = ')[0]}"

    def solution(self, code: str) -> tuple[str, ...]:
        """The line, what is wrong there, and the sum up to it."""
        return (f"Line {self.wrong_at(code) + 1} is wrong. {self.fault(code).why}", *self.value(code).solution(code))

    def problems(self, code: str) -> tuple[str, ...]:
        """Faults that can't be told from the right value; lines that disagree with the library."""
        number = self.value(code)
        case, known = number.case(code), dict(number.case(code).values)
        for line in self.lines:
            known[line.name] = float(call(line.function, known))
        library, last = float(call(self.right, case.values)), known[self.lines[-1].name]
        found = [] if abs(last - library) <= NOISE * abs(library) else [f"the lines give {last}, the library {library}"]
        return (*number.problems(code), *found)


@dataclasses.dataclass(frozen=True, eq=False)
class _Chain:
    """Lines one after the other as one function of the given quantities."""

    given: tuple[str, ...]
    steps: tuple[Step, ...]
    last: Callable[..., Any]

    @property
    def __signature__(self) -> inspect.Signature:
        """What it takes, for whoever calls it by names."""
        kind = inspect.Parameter.KEYWORD_ONLY
        return inspect.Signature([inspect.Parameter(name, kind) for name in self.given])

    def __call__(self, **given: float) -> float:
        known = dict(given)
        for step in self.steps:
            known[step.name] = float(call(step.function, known))
        return float(call(self.last, known))

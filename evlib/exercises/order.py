"""The exercise that asks for an order: steps are shown mixed, the learner puts each where it belongs."""

from __future__ import annotations

import dataclasses
import itertools
import re

from evlib.exercises.base import Exercise, Form, Mark, mixed
from evlib.exercises.choice import LETTERS


@dataclasses.dataclass(frozen=True, kw_only=True)
class Stage:
    """One step: a short name for rules and for the teacher, and the text that the learner reads."""

    name: str
    text: str


@dataclasses.dataclass(frozen=True, kw_only=True)
class Before:
    """A rule: one stage comes before another, by name. ``hint`` asks what goes wrong otherwise and names no move."""

    first: str
    later: str
    hint: str

    @property
    def slip(self) -> str:
        """What it is called when it is broken."""
        return f"{self.later} before {self.first}"


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Order(Exercise):
    """Steps to put in order. ``stages`` stand in a right order; ``rules`` say which orders are right.

    Two stages that no rule holds apart may change places. The first broken rule gives the hint, so the rule whose
    breach hurts most stands first. ``why`` is said when the order is right.
    """

    stages: tuple[Stage, ...]
    rules: tuple[Before, ...]
    why: str

    def __post_init__(self) -> None:
        """Three to eight stages, each in a rule; rules that the declared order keeps."""
        super().__post_init__()
        names = [stage.name for stage in self.stages]
        if not 3 <= len(names) <= len(LETTERS) or len(set(names)) < len(names):
            raise ValueError(f"{self.id}: three to {len(LETTERS)} stages with different names are wanted")
        if {name for rule in self.rules for name in (rule.first, rule.later)} != set(names):
            raise ValueError(f"{self.id}: every stage must be in a rule, and every rule's stages must be declared")
        if self.broken(tuple(names)):
            raise ValueError(f"{self.id}: the declared order breaks the rule {self.broken(tuple(names))[0].slip!r}")

    @property
    def form(self) -> Form:
        """Rows that move up and down."""
        return "order"

    @property
    def how(self) -> str:
        """What to do."""
        return "put the steps in order, the first one on top"

    @property
    def typed(self) -> str:
        """What to type where there is no box."""
        return "the letters in order, such as b a c"

    def broken(self, names: tuple[str, ...]) -> tuple[Before, ...]:
        """The rules that an order of names breaks."""
        return tuple(rule for rule in self.rules if names.index(rule.first) > names.index(rule.later))

    def shown(self, code: str) -> tuple[Stage, ...]:
        """The stages as this learner meets them: mixed, and never right already."""
        orders = (mixed(self.stages, code, label=f"{self.id}|{attempt}") for attempt in itertools.count())
        return next(order for order in orders if self.broken(tuple(stage.name for stage in order)))

    def options(self, code: str) -> tuple[tuple[str, str], ...]:
        """Letters and texts as shown."""
        return tuple(zip(LETTERS, (stage.text for stage in self.shown(code)), strict=False))

    def judge(self, text: str, code: str) -> Mark:
        """By letters, with or without anything between them."""
        order = self.shown(code)
        letters = LETTERS[: len(order)]
        typed = re.sub(r"[\s,;.:>)(\u2192-]+", "", text.casefold())
        if set(typed) - set(letters):
            return Mark("unread", f"Write the letters a to {letters[-1]} in order, each of them once.")
        for said, wanted in (("missing", 0), ("there more than once", 2)):
            found = [letter for letter in letters if (n := typed.count(letter)) == wanted or n > wanted > 0]
            if found:
                return Mark("unread", f"Each letter from a to {letters[-1]} once: {found[0]} is {said}.")
        broken = self.broken(tuple(order[letters.index(letter)].name for letter in typed))
        if not broken:
            return Mark("right", f"Right. {self.why}")
        more = " There is more out of place; mend this first." if len(broken) > 1 else ""
        return Mark("slip", broken[0].hint + more, broken[0].slip)

    def answer(self, code: str) -> str:
        """A right order, as letters."""
        order = self.shown(code)
        return " ".join(LETTERS[order.index(stage)] for stage in self.stages)

    def solution(self, code: str) -> tuple[str, ...]:
        """A right order, step by step, and why."""
        steps = (f"{number}. {stage.text}" for number, stage in enumerate(self.stages, 1))
        return (f"Answer: {self.answer(code)}", *steps, self.why)

    def problems(self, code: str) -> tuple[str, ...]:
        """Hints that tell where a step belongs: they repeat a step's own words."""
        told = [(rule, stage) for rule in self.rules for stage in self.stages
                if stage.text.strip(". ").casefold() in rule.hint.casefold()]  # fmt: skip
        return tuple(f"the hint of {rule.slip!r} repeats the step {stage.name!r}" for rule, stage in told)

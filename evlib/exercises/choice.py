"""The exercise whose answer is chosen, and which says why a choice is right or wrong."""

from __future__ import annotations

import dataclasses

from evlib.exercises.base import Exercise, Form, Mark, mixed

LETTERS = "abcdefgh"


@dataclasses.dataclass(frozen=True, kw_only=True)
class Option:
    """One choice: its text, why it is right or what speaks against it, and whether it is the right one.

    The reason of a wrong option is a hint: it does not name the right one.
    """

    text: str
    reason: str
    right: bool = False


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Choice(Exercise):
    """One option of several is right. The order of the options depends on the course code."""

    choices: tuple[Option, ...]

    def __post_init__(self) -> None:
        """Two to eight different options, exactly one of them right."""
        super().__post_init__()
        texts = {option.text for option in self.choices}
        if not 2 <= len(self.choices) <= len(LETTERS) or len(texts) < len(self.choices):
            raise ValueError(f"{self.id}: two to {len(LETTERS)} different options are wanted")
        if sum(option.right for option in self.choices) != 1:
            raise ValueError(f"{self.id}: exactly one option must be right")

    @property
    def how(self) -> str:
        """What to choose."""
        return "choose one"

    @property
    def form(self) -> Form:
        """Options to choose one of."""
        return "choices"

    @property
    def typed(self) -> str:
        """What to type where there is no box."""
        return "your letter"

    def ordered(self, code: str) -> tuple[Option, ...]:
        """The options in this learner's order."""
        return mixed(self.choices, code, label=self.id)

    def options(self, code: str) -> tuple[tuple[str, str], ...]:
        """Letters and texts in this learner's order."""
        return tuple(zip(LETTERS, (option.text for option in self.ordered(code)), strict=False))

    def judge(self, text: str, code: str) -> Mark:
        """By letter (``b``, ``B)``) or by the option's own text."""
        order = self.ordered(code)
        typed = " ".join(text.split()).strip(".)( ").casefold()
        for letter, option in zip(LETTERS, order, strict=False):
            if typed in (letter, option.text.strip(".)( ").casefold()):
                return Mark("right" if option.right else "slip", option.reason, "" if option.right else option.text)
        last = LETTERS[len(order) - 1]
        return Mark("unread", f"Choose one of the letters a to {last}.")

    def solution(self, code: str) -> tuple[str, ...]:
        """The right option and its reason."""
        for letter, option in zip(LETTERS, self.ordered(code), strict=False):
            if option.right:
                return (f"Answer: {letter}. {option.text}", option.reason)
        raise AssertionError("a Choice has a right option")  # __post_init__ saw to it

"""Answers in the learner's own words: free text that a person marks by a guide, and predictions."""

from __future__ import annotations

import dataclasses

from evlib.exercises.base import Exercise, Form, Mark


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Free(Exercise):
    """An answer in sentences. ``guide`` lists the points it must make, one mark each; ``model`` is a good answer."""

    guide: tuple[str, ...]
    model: str

    @property
    def how(self) -> str:
        """What to type."""
        return "your answer in one to five sentences"

    @property
    def form(self) -> Form:
        """Room for sentences."""
        return "text"

    def judge(self, text: str, code: str) -> Mark:
        """Keep it: a person marks it, the learner first."""
        if len(text.split()) < 3:
            return Mark("unread", "Answer in at least one whole sentence, so that it can be marked.")
        points = "one point" if len(self.guide) == 1 else f"{len(self.guide)} points"
        return Mark("kept", f"Kept. Now open the marking guide and see which of its {points} your answer makes.")

    def solution(self, code: str) -> tuple[str, ...]:
        """The marking guide, then a model answer."""
        return (*(f"1 mark: {point}" for point in self.guide), f"A model answer: {self.model}")


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Prediction(Exercise):
    """What the learner expects before moving anything (id ``motors.p1``): kept, then shown beside the outcome."""

    @property
    def how(self) -> str:
        """What to type."""
        return "what you expect, in a few words or as a number"

    def judge(self, text: str, code: str) -> Mark:
        """Keep it: a prediction is neither right nor wrong before the outcome."""
        return Mark("kept", "Kept. Now move on, and compare it with what comes out.")

    def solution(self, code: str) -> tuple[str, ...]:
        """There is none: the outcome answers."""
        return ("The outcome answers this.",)

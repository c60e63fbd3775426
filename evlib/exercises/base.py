"""What every exercise is, whatever its kind: declared once, its numbers drawn from a learner's course code, marked.

A kind (number, choice, free text, prediction) is a subclass in a file of its own. It says what is asked, how an
answer is judged and what the worked solution is; :mod:`evlib.exercises.marker` does what is the same for all.
"""

from __future__ import annotations

import abc
import dataclasses
import hashlib
import re
from collections.abc import Sequence
from typing import Literal, TypeVar, get_args

Depth = Literal["Shop", "Why", "Deep"]
Place = Literal["desk", "bench, dead", "bench, energised", "vehicle"]
Verdict = Literal["right", "unit", "slip", "half", "not yet", "unread", "kept"]
DONE = ("right", "kept")  # verdicts after which an exercise is done
Form = Literal["line", "text", "choices", "order", "lines"]  # of the box: which controls it has

DEMONSTRATION = "DEMO-0"  # the course code of the numbers in a committed notebook
LONGEST = 4000  # characters of an answer; more than any answer needs

T = TypeVar("T")
_ID = re.compile(r"[a-z][a-z_]*\.[a-z]?\d+[a-z]?")


@dataclasses.dataclass(frozen=True)
class Mark:
    """What the marker says: a verdict, one sentence for the learner, and the name of the slip if one was found.

    ``unit`` is the right number with a wrong or missing unit; ``slip`` a usual mistake that was recognised; ``half``
    the first of two parts; ``unread`` text that is no answer; ``kept`` an answer that a person marks.
    """

    verdict: Verdict
    sentence: str
    slip: str = ""

    @property
    def words(self) -> str:
        """The verdict in the learner's words."""
        said = {"unit": "right number, wrong unit", "slip": "not yet", "half": "half right", "unread": "not read"}
        return said.get(self.verdict, self.verdict)

    def __repr__(self) -> str:
        return f"{self.words}: {self.sentence}"


@dataclasses.dataclass(frozen=True)
class Picture:
    """A picture to an exercise: the PNG, and the same in words, with which the same task can be done."""

    png: bytes
    words: str


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Exercise(abc.ABC):
    """One exercise. ``id`` is ``motors.3``; ``objective`` is the lesson's objective it serves, in the same words.

    ``text`` may name drawn quantities in braces; a blank line starts a paragraph. ``place`` is where it is done; all
    but ``desk`` need ``caution``: what can hurt, and who must be present. ``teacher`` is a note for the teacher.
    """

    id: str
    objective: str
    depth: Depth
    text: str
    place: Place = "desk"
    caution: str = ""
    teacher: str = ""

    def __post_init__(self) -> None:
        """Refuse a declaration that cannot work."""
        if not _ID.fullmatch(self.id):
            raise ValueError(f"id: {self.id!r}; wanted a topic, a point and a number, such as 'motors.3'")
        for field, allowed in (("depth", get_args(Depth)), ("place", get_args(Place))):
            if getattr(self, field) not in allowed:
                raise ValueError(f"{self.id}: {field} {getattr(self, field)!r}; allowed: {', '.join(allowed)}")
        if self.place != "desk" and not self.caution:
            raise ValueError(f"{self.id}: a task at {self.place!r} needs its caution")

    @property
    def topic(self) -> str:
        """The topic's name: the id before its point."""
        return self.id.partition(".")[0]

    def asked(self, code: str) -> str:
        """The text with this learner's numbers in it."""
        return self.text

    def options(self, code: str) -> tuple[tuple[str, str], ...]:
        """What may be chosen, as (letter, text) in this learner's order; empty where the answer is typed."""
        return ()

    def picture(self, code: str) -> Picture | None:
        """What is to be looked at, where there is something."""
        return None

    @property
    def form(self) -> Form:
        """Which controls the box has."""
        return "line"

    @property
    def typed(self) -> str:
        """What to type where there is no box."""
        return self.how

    @property
    @abc.abstractmethod
    def how(self) -> str:
        """One clause that labels the box: what to type or choose."""

    @abc.abstractmethod
    def judge(self, text: str, code: str) -> Mark:
        """The mark of an answer that is not blank."""

    @abc.abstractmethod
    def solution(self, code: str) -> tuple[str, ...]:
        """The worked solution, line by line."""

    def problems(self, code: str) -> tuple[str, ...]:
        """What is wrong with the declaration for this code: for the test that runs over many codes."""
        return ()


def pick(code: str, *, label: str, count: int) -> int:
    """A number from 0 to count - 1 that depends on the course code and the label only, on every machine alike."""
    digest = hashlib.sha256(f"{code}|{label}".encode()).digest()
    return int.from_bytes(digest[:8], "big") % count


def mixed(things: Sequence[T], code: str, *, label: str) -> tuple[T, ...]:
    """The same things in an order that depends on the course code and the label only."""
    left, order = list(things), []
    while left:
        order.append(left.pop(pick(code, label=f"{label}|{len(left)}", count=len(left))))
    return tuple(order)

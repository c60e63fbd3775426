"""What the cells of an assignment call. Nothing here touches the folder of whoever runs or marks it.

An assignment carries its answers in its own cells, so that what is handed in is one file. Its numbers are drawn from
the course code in its first code cell. Marking runs the notebook again with the same code: same numbers, same marks.
"""

from __future__ import annotations

import atexit
import os
import re
import shutil
import tempfile

from evlib import exercises
from evlib.exercises import answers, page
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.box import show_in_cell
from evlib.exercises.marker import mark
from evlib.exercises.register import find
from evlib.ground.folder import VARIABLE
from evlib.ground.shown import Shown

SHARE = {"right": 1.0, "unit": 0.5, "half": 0.5}  # of an exercise's points, by verdict; every other verdict gives none
NEXT = "Type your answer into the next cell."
_typed: dict[str, str] = {}  # the last text given for each exercise in this run
_place: list[str] = []  # the folder that this run writes into, once it has begun


def begin(code: str) -> Shown:
    """Draw all numbers of this assignment from a learner's course code. What was typed before is forgotten."""
    _typed.clear()
    if not _place:
        _place.append(tempfile.mkdtemp())
        atexit.register(shutil.rmtree, _place[0], ignore_errors=True)
        os.environ[VARIABLE] = _place[0]
    try:
        kept = answers.keep_code(code or "?")
    except ValueError as problem:
        kept = answers.keep_code(DEMONSTRATION)
        return page.sentence(f"{problem}. Until there is one, the numbers are those of {kept}.")
    return page.sentence(f"Course code {kept}: the numbers of this assignment are drawn from it.")


def ask(name: str) -> None:
    """Show an exercise with this learner's numbers; its answer has a cell of its own."""
    card = page.card(find(name), code=_code())
    text = re.sub(rf"{page.HOW} .*", NEXT, repr(card))
    html = re.sub(rf"{page.HOW} <code>.*?</code>", NEXT, card._repr_html_())
    show_in_cell(Shown(text, html))


def answer(name: str, text: str) -> Shown:
    """Mark an answer at once, with a hint where it is wrong; the last one counts."""
    _code()
    _typed[name] = text
    return exercises.answer(name, text)


def handed_in(*names: str) -> None:
    """Say whether there is an answer that can be read: for the learner, before handing in."""
    for name in names:
        verdict = mark(find(name), _typed.get(name, ""), code=_code()).verdict
        said = "there is no answer yet that can be read" if verdict == "unread" else "your answer is in"
        show_in_cell(page.sentence(f"{name}: {said}."))


def points(name: str, *, of: float) -> float:
    """The points of the last answer: all for a right one, half for a right number with a wrong unit or half a task."""
    return of * SHARE.get(mark(find(name), _typed.get(name, ""), code=_code()).verdict, 0.0)


def _code() -> str:
    """The course code of this run. One that did not begin has the demonstration's, and writes to nobody's folder."""
    if not _place:
        begin(DEMONSTRATION)
    return answers.course_code()

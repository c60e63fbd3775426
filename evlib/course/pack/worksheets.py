"""A worksheet for each learner, with the numbers of that course code, and the key to all of them apart."""

from __future__ import annotations

import base64
import html

from evlib.course.lessons import Lesson
from evlib.exercises import page as cards
from evlib.exercises.base import Exercise
from evlib.exercises.free import Free
from evlib.exercises.number import Number
from evlib.exercises.order import Order
from evlib.exercises.wrong_line import WrongLine
from evlib.panels.twin import Table

ROOM = {"line": 2.6, "text": 4.0, "choices": 0.0, "order": 0.8, "lines": 2.0}  # of paper [cm], by the form of the box


def class_set(lesson: Lesson, codes: tuple[str, ...]) -> str:
    """A lesson's worksheet for each code, each on a new page: print it once for the whole class."""
    return "".join(sheet(lesson, code, first=number == 0) for number, code in enumerate(codes))


def sheet(lesson: Lesson, code: str, *, first: bool = True) -> str:
    """The exercises of a lesson with this learner's numbers, and room to write."""
    fresh = "" if first else ' style="break-before:page"'
    head = (
        f"<h2{fresh}>{html.escape(lesson.title)}, course code {html.escape(code)}</h2><p>The numbers are yours: your "
        "neighbour has others. Write each step, with its unit. Then type the answer into the lesson's box, which tells "
        "you "
        "more. Write no name into any box.</p>"
    )
    return head + "".join(_task(exercise, code) for exercise in lesson.exercises)


def _task(exercise: Exercise, code: str) -> str:
    words, picture = cards.label(exercise), exercise.picture(code)
    caution = f"<p><b>Caution.</b> {html.escape(exercise.caution)}</p>" if exercise.caution else ""
    listed = "".join(
        f"<li>\u2610 {html.escape(letter)}. {html.escape(text)}</li>" for letter, text in exercise.options(code)
    )
    options = f'<ul style="list-style:none;padding-left:1em">{listed}</ul>' if listed else ""
    shown = ""
    if picture is not None:
        data = base64.b64encode(picture.png).decode()
        shown = f'<img src="data:image/png;base64,{data}" alt="{html.escape(picture.words)}" style="max-width:10cm">'
    answer = "" if exercise.form in ("choices", "text") else "<p>Answer: ______________________</p>"
    return (
        f'<section style="break-inside:avoid"><h3 style="font-size:1em">{html.escape(words)}</h3>{caution}'
        f"{cards.paragraphs(exercise.asked(code))}{shown}{options}"
        f'<div style="height:{ROOM[exercise.form]}cm"></div>{answer}</section>'
    )


def key(lesson: Lesson, codes: tuple[str, ...]) -> str:
    """Right answers of a lesson, one row a code for what is drawn; below, what is the same for all."""
    drawn = [exercise for exercise in lesson.exercises if not isinstance(exercise, Free)]
    parts = [
        "<p>For you alone. Answers in sentences are marked by the guide, in <i>marking</i>; questions and working "
        "stand in "
        "<i>wrong answers</i>. The last row says how far off a number may be, in per cent: that is what rounding each "
        "step to three figures makes.</p>"
    ]
    for first in range(0, len(drawn), 4):  # four columns fit a page
        some = drawn[first : first + 4]
        rows = tuple((code, *(answer(exercise, code) for exercise in some)) for code in codes)
        rows += (("may be off by", *(_tolerance(exercise, codes) for exercise in some)),)
        parts.append(Table(("code", *(exercise.id for exercise in some)), rows).html())
    return "".join(parts)


def answer(exercise: Exercise, code: str) -> str:
    """The right answer for one code, in one line."""
    if isinstance(exercise, Number):
        return exercise.shown_answer(code)
    if isinstance(exercise, Order | WrongLine):
        return exercise.answer(code)
    return exercise.solution(code)[0].removeprefix("Answer: ")


def _tolerance(exercise: Exercise, codes: tuple[str, ...]) -> str:
    """How far a number may be off, over all codes, in per cent; nothing for what is no number."""
    if not isinstance(exercise, Number):
        return "-"
    cases = [exercise.case(code) for code in codes]
    return f"{100 * min(abs(case.tolerance / case.right) for case in cases):.2g} %"

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

ROOM = {"line": 3.0, "text": 5.0, "choices": 0.0, "order": 2.0, "lines": 3.0}  # of paper [cm], by the form of the box


def sheet(chosen: tuple[Lesson, ...], code: str) -> str:
    """The exercises of the chosen lessons with this learner's numbers and room to write; a new page for each lesson."""
    parts = [
        f"<p>Course code <b>{html.escape(code)}</b>. The numbers are yours: your neighbour has others. Write each "
        "step, with its unit, and type the answer into the lesson's box, which tells you more. Do not write your name "
        "in any box.</p>"
    ]
    for number, lesson in enumerate(lesson for lesson in chosen if lesson.exercises):
        fresh = ' style="break-before:page"' if number else ""
        parts.append(f"<h2{fresh}>Lesson {html.escape(lesson.title)}</h2>")
        parts += [_task(exercise, code) for exercise in lesson.exercises]
    return "".join(parts)


def _task(exercise: Exercise, code: str) -> str:
    words, picture = cards.label(exercise), exercise.picture(code)
    caution = f"<p><b>Caution.</b> {html.escape(exercise.caution)}</p>" if exercise.caution else ""
    listed = "".join(f"<li>{html.escape(letter)}. {html.escape(text)}</li>" for letter, text in exercise.options(code))
    options = f'<ul style="list-style:none;padding-left:1em">{listed}</ul>' if listed else ""
    shown = ""
    if picture is not None:
        data = base64.b64encode(picture.png).decode()
        shown = f'<img src="data:image/png;base64,{data}" alt="{html.escape(picture.words)}" style="max-width:10cm">'
    return (
        f'<section style="break-inside:avoid"><h3 style="font-size:1em">{html.escape(words)}</h3>{caution}'
        f"{cards.paragraphs(exercise.asked(code))}{shown}{options}"
        f'<div style="height:{ROOM[exercise.form]}cm"></div></section>'
    )


def key(lesson: Lesson, codes: tuple[str, ...]) -> str:
    """Right answers of a lesson, one row a code for what is drawn; below, what is the same for all."""
    drawn = [exercise for exercise in lesson.exercises if not isinstance(exercise, Free)]
    parts = ["<p>For you alone. Answers in sentences are marked by the guide, in <i>marking</i>.</p>"]
    for first in range(0, len(drawn), 4):  # four columns fit a page
        some = drawn[first : first + 4]
        rows = tuple((code, *(answer(exercise, code) for exercise in some)) for code in codes)
        parts.append(Table(("code", *(exercise.id for exercise in some)), rows).html())
    return "".join(parts)


def answer(exercise: Exercise, code: str) -> str:
    """The right answer for one code, in one line."""
    if isinstance(exercise, Number):
        return exercise.shown_answer(code)
    if isinstance(exercise, Order | WrongLine):
        return exercise.answer(code)
    return exercise.solution(code)[0].removeprefix("Answer: ")

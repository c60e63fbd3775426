"""Wrong answers that are to be expected, with what to say to each; and marking schemes of the answers in sentences."""

from __future__ import annotations

import html

from evlib.course.lessons import Lesson
from evlib.exercises.base import DEMONSTRATION, Exercise
from evlib.exercises.choice import Choice
from evlib.exercises.free import Free
from evlib.exercises.number import Number
from evlib.exercises.order import Order
from evlib.exercises.wrong_line import WrongLine
from evlib.ground import units
from evlib.panels.twin import Table


def wrong_answers(chosen: tuple[Lesson, ...]) -> str:
    """Each lesson's exercises with their usual mistakes, and the hint that the learner gets for each."""
    parts = [
        f"<p>The numbers are those of the sample code {DEMONSTRATION}; each learner has others. The hint is what the "
        "box says, and it never gives the answer.</p>"
    ]
    for lesson in chosen:
        parts.append(f"<h2>Lesson {html.escape(lesson.title)}</h2>")
        for exercise in lesson.exercises:
            rows = tuple(row[1:] for row in usual(exercise))
            if rows:
                asked = html.escape(" ".join(exercise.asked(DEMONSTRATION).split()))
                worked = "".join(f"<li>{html.escape(line)}</li>" for line in exercise.solution(DEMONSTRATION))
                table = Table(("mistake", "what comes out", "what the learner is told"), rows).html()
                parts.append(
                    "<section "
                    f"style='break-inside:avoid'><h3>{exercise.id}</h3><p>{asked}</p><ul>{worked}</ul>{table}</section>"
                )
    return "".join(parts)


def usual(exercise: Exercise) -> list[tuple[str, str, str, str]]:
    """The usual mistakes of one exercise: id, mistake, what it gives, hint."""
    if isinstance(exercise, Number):
        unit = exercise.wanted
        return [
            (
                exercise.id,
                wrong.slip.name,
                units.show(wrong.value, unit.unit, kind=unit.kind, shown=unit.shown),
                wrong.slip.hint,
            )
            for wrong in exercise.case(DEMONSTRATION).wrong
        ]
    if isinstance(exercise, Choice):
        return [
            (exercise.id, "wrong choice", option.text, option.reason) for option in exercise.choices if not option.right
        ]
    if isinstance(exercise, Order):
        return [(exercise.id, rule.slip, "an order with this in it", rule.hint) for rule in exercise.rules]
    if isinstance(exercise, WrongLine):
        return [(exercise.id, f"not found: {fault.name}", f"in line {fault.line.replace('_', ' ')!r}", fault.hint)
                for fault in exercise.faults]  # fmt: skip
    return []


def schemes(chosen: tuple[Lesson, ...]) -> str:
    """Free answers: the question, one mark a point, and a model answer."""
    parts = [
        "<p>One mark a point, in whatever words. Any answer that is right in another way earns the same: say why in "
        "the margin.</p>"
    ]
    for lesson in chosen:
        for exercise in lesson.exercises:
            if isinstance(exercise, Free):
                points = "".join(f"<li>{html.escape(point)}</li>" for point in exercise.guide)
                note = f"<p><b>Note.</b> {html.escape(exercise.teacher)}</p>" if exercise.teacher else ""
                parts.append(
                    f"<section style='break-inside:avoid'><h2>{exercise.id}, lesson {html.escape(lesson.title)}</h2>"
                    f"<p>{html.escape(exercise.asked(DEMONSTRATION))}</p>"
                    f"<p>{len(exercise.guide)} marks:</p><ol>{points}</ol>"
                    f"<p><b>A model answer.</b> {html.escape(exercise.model)}</p>{note}</section>"
                )
    return "".join(parts)

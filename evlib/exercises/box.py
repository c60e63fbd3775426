"""What a lesson's cells call: ask, answer, predict, outcome, solution. Both ways in end at the one marker."""

from __future__ import annotations

from evlib.exercises import answers, page
from evlib.exercises.base import DEMONSTRATION, Exercise, Mark
from evlib.exercises.free import Prediction
from evlib.exercises.marker import clean, mark
from evlib.exercises.register import find
from evlib.ground.shown import Shown


def ask(name: str) -> Shown | None:
    """Show an exercise with this learner's numbers and a box to answer in."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        return exercise
    return page.card(exercise, code=answers.course_code())


def answer(name: str, text: str) -> Shown:
    """Mark an answer, and keep it: ``answer("motors.3", "85 N m")``."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        return exercise
    result, report = submit(exercise, text)
    return page.marked(exercise, text, result, report)


def predict(name: str, text: str = "") -> Shown | None:
    """Commit a prediction, ``predict("motors.p1", "it doubles")``; without text, show the question and its box."""
    return answer(name, text) if text else ask(name)


def outcome(name: str, came_out: str) -> Shown:
    """What came out, beside what this learner predicted."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        return exercise
    predicted = answers.prediction(exercise.id, code=answers.course_code())
    return page.beside(exercise.asked(answers.course_code()), predicted, came_out)


def solution(*names: str) -> Shown:
    """The worked solutions, folded, with this learner's numbers. For cells tagged ``solution``."""
    found = [_find(name) for name in names]
    for one in found:
        if isinstance(one, Shown):
            return one
    return page.solutions(tuple(one for one in found if isinstance(one, Exercise)), code=answers.course_code())


def my_code(text: str = "") -> Shown:
    """Show your course code; ``my_code("K7-204")`` keeps one, ``my_code("new")`` draws one. Never your name."""
    try:
        if text:
            answers.keep_code("" if text.strip().lower() == "new" else text)
    except (ValueError, OSError) as error:
        return page.sentence(f"Not kept: {error}.")
    code = answers.course_code()
    if code == DEMONSTRATION:
        return page.sentence(f"Your course code is {code}: the demonstration numbers that everybody sees.")
    return page.sentence(f"Your course code is {code}: the exercises now have numbers of your own.")


def submit(exercise: Exercise, text: str) -> tuple[Mark, str]:
    """Mark and keep. Returns the mark, and a sentence about the answer file if there is one to say."""
    code = answers.course_code()
    result = mark(exercise, text, code=code)
    if result.verdict == "unread":
        return result, ""
    kept = clean(text)
    if isinstance(exercise, Prediction):
        return result, answers.keep_prediction(exercise.id, kept, code=code)
    return result, answers.keep_answer(exercise.id, kept, result, code=code)


def _find(name: str) -> Exercise | Shown:
    try:
        return find(name)
    except LookupError as error:
        return page.sentence(str(error.args[0]))

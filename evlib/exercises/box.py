"""What a lesson's cells call: ask, answer, predict, outcome, solution. Both ways in end at the one marker."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Any

from evlib.exercises import answers, page
from evlib.exercises.base import DEMONSTRATION, Exercise, Mark
from evlib.exercises.free import Free, Prediction
from evlib.exercises.marker import clean, mark
from evlib.exercises.number import Number
from evlib.exercises.register import find
from evlib.ground.shown import Shown


def ask(name: str) -> None:
    """Show an exercise with this learner's numbers and a box to answer in."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        show_in_cell(exercise)
        return
    code = answers.course_code()

    def respond(text: str) -> dict[str, str]:
        if answers.course_code() != code:
            return told(Mark("unread", "Your course code has changed: run this cell again to see your numbers."))
        result, report = submit(exercise, text)
        return told(result, report)

    button = "Keep" if isinstance(exercise, Free | Prediction) else "Check"
    spec = {"id": exercise.id, "label": exercise.how, "button": button, "options": exercise.options(code),
            "form": exercise.form, "last": _last(exercise, code)}  # fmt: skip
    _with_box(spec, respond, lambda run: page.card(exercise, code=code, run=run))


def told(result: Mark, report: str = "") -> dict[str, str]:
    """A mark as it is sent to the page."""
    return {"verdict": result.verdict, "words": result.words, "sentence": f"{result.sentence} {report}".strip()}


def _last(exercise: Exercise, code: str) -> dict[str, str] | None:
    """What this learner answered last, marked again, for a box that is opened anew."""
    if isinstance(exercise, Prediction):
        text = answers.prediction(exercise.id, code=code)
    else:
        text = (answers.last_try(exercise.id, code=code) or {"text": ""})["text"]
    return {"text": text, **told(mark(exercise, text, code=code))} if text else None


def _with_box(spec: dict[str, Any], respond: Callable[[str], dict[str, str]], show: Callable[[str], Shown]) -> None:
    """Show what is saved and, where a kernel runs in a page, start the live box behind it."""
    run = secrets.token_hex(4)
    show_in_cell(show(run))
    if in_kernel():
        from evlib.exercises.live import start

        start({**spec, "run": run}, respond)


def answer(name: str, text: str) -> Shown:
    """Mark an answer, and keep it: ``answer("motors.3", "85 N m")``."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        return exercise
    result, report = submit(exercise, text)
    return page.marked(exercise, text, result, report)


def predict(name: str, text: str = "") -> Shown | None:
    """Commit a prediction, ``predict("motors.p1", "it doubles")``; without text, show the question and its box."""
    if text:
        return answer(name, text)
    ask(name)
    return None


def outcome(name: str, came_out: str) -> Shown:
    """What came out, beside what this learner predicted."""
    exercise = _find(name)
    if isinstance(exercise, Shown):
        return exercise
    predicted = answers.prediction(exercise.id, code=answers.course_code())
    return page.beside(exercise.asked(answers.course_code()), predicted, came_out)


def solution(*names: str, opened: bool = False) -> Shown:
    """The worked solutions, folded or ``opened``, with this learner's numbers. For cells tagged ``solution``."""
    found = [_find(name) for name in names]
    for one in found:
        if isinstance(one, Shown):
            return one
    worked = tuple(one for one in found if isinstance(one, Exercise))
    return page.solutions(worked, code=answers.course_code(), opened=opened)


def my_code(text: str = "") -> Shown | None:
    """Show your course code and a box to change it; ``my_code("K7-204")`` keeps one, ``my_code("new")`` draws one."""
    if text:
        return page.sentence(_keep_code(text)["sentence"])
    spec = {"id": "course code", "label": "the code from your teacher, or the word new", "button": "Keep",
            "options": (), "form": "line", "last": None}  # fmt: skip
    _with_box(spec, _keep_code, lambda run: page.code_card(_code_sentence(), run=run))
    return None


def _keep_code(text: str) -> dict[str, str]:
    try:
        answers.keep_code("" if text.strip().lower() == "new" else text or "?")
    except (ValueError, OSError) as error:
        return told(Mark("unread", f"{error}."))
    return told(Mark("kept", _code_sentence() + " Now run the lesson's cells again."))


def _code_sentence() -> str:
    code = answers.course_code()
    if code == DEMONSTRATION:
        return f"Your course code is {code}: the demonstration numbers that everybody sees."
    return f"Your course code is {code}: the exercises have numbers of your own."


def numbers_of(name: str) -> dict[str, float]:
    """The numbers of an exercise as this learner has them, in SI and by name, for a picture that belongs to it."""
    exercise = find(name)
    if not isinstance(exercise, Number):
        raise ValueError(f"{name} has no numbers; they belong to exercises whose answer is a number")
    return dict(exercise.case(answers.course_code()).values)


def right_at_once(*names: str) -> str:
    """How many of these exercises were right at the first try, in words: ``7 of 10 right at the first try``."""
    code = answers.course_code()
    right = sum(answers.first_verdict(name, code=code) == "right" for name in names)
    return f"{right} of {len(names)} right at the first try"


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


def show_in_cell(shown: Shown) -> None:
    """Put something into the cell's output, wherever in the cell the call stands."""
    from IPython.display import display

    display({"text/html": shown._repr_html_(), "text/plain": repr(shown)}, raw=True)  # type: ignore[no-untyped-call]


def in_kernel() -> bool:
    """Whether a notebook's kernel is running this."""
    from IPython.core.getipython import get_ipython

    shell: Any = get_ipython()
    return shell is not None and hasattr(shell, "kernel")

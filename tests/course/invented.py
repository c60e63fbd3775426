"""Invented learners who answer through the real boxes: rightly, with a usual slip, or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from evlib.exercises import answers
from evlib.exercises.choice import Choice
from evlib.exercises.free import Free, Prediction
from evlib.exercises.marker import mark
from evlib.exercises.number import Number
from evlib.exercises.order import Order
from evlib.exercises.register import find
from evlib.exercises.wrong_line import WrongLine


def right(name: str, code: str) -> str:
    """What a learner types who has it right."""
    one = find(name)
    if isinstance(one, Choice):
        return next(letter for letter, option in zip("abcdefgh", one.ordered(code), strict=False) if option.right)
    if isinstance(one, Order | WrongLine):
        return one.answer(code)
    if isinstance(one, Number):
        return f"{one.case(code).right!r} {one.unit or one.wanted.unit}".strip()
    return one.model if isinstance(one, Free) else "it grows"


def slip(name: str, code: str) -> str:
    """What a learner types who makes the exercise's first usual slip."""
    one = find(name)
    if isinstance(one, Choice):
        return next(letter for letter, option in zip("abcdefgh", one.ordered(code), strict=False) if not option.right)
    if isinstance(one, Order):
        return " ".join(letter for letter, _ in one.options(code))
    if isinstance(one, WrongLine):
        return "1" if one.wrong_at(code) else "2"
    assert isinstance(one, Number)
    return f"{one.case(code).wrong[0].value!r} {one.unit or one.wanted.unit}".strip()


def hand_in(folder: Path, code: str, *typed: tuple[str, str]) -> Path:
    """The answer file of a learner who typed this, made by the code that the boxes call."""
    before = os.environ.get("EVLIB_FOLDER")
    os.environ["EVLIB_FOLDER"] = str(folder)
    try:
        for name, text in typed:
            if isinstance(find(name), Prediction):
                answers.keep_prediction(name, text, code=code)
            else:
                answers.keep_answer(name, text, mark(find(name), text, code=code), code=code)
        return answers.path_of(code)
    finally:
        os.environ.pop("EVLIB_FOLDER")
        if before is not None:
            os.environ["EVLIB_FOLDER"] = before

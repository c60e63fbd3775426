"""The one marker: every way in (box, ``answer(...)``, a teacher's script) comes through here."""

from __future__ import annotations

from evlib.exercises.base import LONGEST, Exercise, Mark


def mark(exercise: Exercise, text: object, *, code: str) -> Mark:
    """The mark of an answer. Never raises for what a learner may type."""
    if not isinstance(text, str):
        return Mark("unread", "Type the answer as text between quotation marks, for example with its unit.")
    plain = clean(text)
    if not plain:
        return Mark("unread", f"Nothing was typed yet: {exercise.how}.")
    if len(plain) > LONGEST:
        return Mark("unread", f"That is {len(plain)} characters; an answer has at most {LONGEST}.")
    return exercise.judge(plain, code)


def clean(text: str) -> str:
    """Typed text without what does not print, so that it can be kept in a file."""
    return "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in text).strip()

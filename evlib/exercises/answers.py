"""What the learner answered and predicted, kept in the learner's folder under a course code: no name, no clock.

One JSON file for each code: ``answers-K7-204.json``. It is read afresh and written atomically at every answer, so
that two open lessons do not undo each other's work.
"""

from __future__ import annotations

import json
import re
import secrets
from collections.abc import Callable
from pathlib import Path
from typing import Any

from evlib.exercises.base import DEMONSTRATION, Mark
from evlib.ground.folder import folder, write_atomically

FORM = 1  # of the file; a reader of a later form can tell
KEYS = ("text", "verdict", "slip")  # of one try
KEEP = 50  # tries kept for each exercise
_CODE = re.compile(r"[A-Z0-9]{1,8}-[A-Z0-9]{1,8}")
_FILE = "course-code.txt"


def tidy_code(text: str) -> str:
    """A course code in its one spelling. Raises ``ValueError``: it has a hyphen and a digit, so it is no name."""
    code = str(text).strip().upper()
    if not _CODE.fullmatch(code) or not re.search(r"\d", code):
        raise ValueError(
            f"{str(text)[:40]!r} is not a course code: two groups of letters and digits with a hyphen between, "
            "at least one digit, such as K7-204; never your name"
        )
    return code


def course_code() -> str:
    """The code that this learner chose, or the demonstration code."""
    try:
        return tidy_code((folder() / _FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return DEMONSTRATION


def keep_code(text: str = "") -> str:
    """Keep a course code for all lessons; without one, draw a new one. Returns it."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    drawn = f"{secrets.choice(letters)}{secrets.randbelow(10)}-{secrets.randbelow(9000) + 1000}"
    code = tidy_code(text) if text.strip() else drawn
    write_atomically(folder() / _FILE, code + "\n")
    return code


def path_of(code: str) -> Path:
    """The answer file of a code."""
    return folder() / f"answers-{code}.json"


def load(code: str) -> tuple[dict[str, Any], str]:
    """The kept answers, and one sentence if a file could not be read and was put aside (else an empty text).

    Raises ``OSError`` only where such a file can't be put aside either; then nothing is to be written over it.
    """
    path = path_of(code)
    empty: dict[str, Any] = {"form": FORM, "code": code, "answers": {}, "predictions": {}}
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return empty, ""
    except (OSError, UnicodeDecodeError):
        return empty, _put_aside(path)
    try:
        kept = json.loads(text)
    except (ValueError, RecursionError):
        return empty, _put_aside(path)
    return (kept, "") if is_sound(kept, code) else (empty, _put_aside(path))


def is_sound(kept: Any, code: str) -> bool:
    """Whether a file's content has the shape that is written here."""
    if not isinstance(kept, dict) or kept.get("form") != FORM or kept.get("code") != code:
        return False
    answers, predictions = kept.get("answers"), kept.get("predictions")
    if not isinstance(answers, dict) or not isinstance(predictions, dict):
        return False
    tries = [one for several in answers.values() for one in (several if isinstance(several, list) else [None])]
    good = all(isinstance(one, dict) and all(isinstance(one.get(key), str) for key in KEYS) for one in tries)
    return good and all(isinstance(text, str) for text in predictions.values())


def _put_aside(path: Path) -> str:
    number = 1
    while (aside := path.with_name(f"{path.stem} (unreadable {number}).json")).exists():
        number += 1
    path.rename(aside)
    return f"The answer file {path.name} could not be read; it is kept as {aside.name!r}, and a new one begins."


def keep_answer(name: str, text: str, mark: Mark, *, code: str) -> str:
    """Add one try to the file. Returns a sentence if something is to be reported, else an empty text."""

    def add(kept: dict[str, Any]) -> None:
        tries = kept["answers"].setdefault(name, [])
        tries.append({"text": text, "verdict": mark.verdict, "slip": mark.slip})
        del tries[1 : max(1, len(tries) - KEEP + 1)]  # the first try stays, and the last ones

    return _change(add, code)


def keep_prediction(name: str, text: str, *, code: str) -> str:
    """Keep a prediction; a later one replaces it. Returns a sentence if something is to be reported."""

    def put(kept: dict[str, Any]) -> None:
        kept["predictions"][name] = text

    return _change(put, code)


def _change(change: Callable[[dict[str, Any]], None], code: str) -> str:
    try:
        kept, report = load(code)
        change(kept)
        write_atomically(path_of(code), json.dumps(kept, indent=1, sort_keys=True, ensure_ascii=False) + "\n")
    except OSError as error:
        return f"Your answer was marked but could not be saved ({error.strerror or error})."
    return report


def _kept(code: str) -> dict[str, Any]:
    """What can be read now, for showing."""
    try:
        return load(code)[0]
    except OSError:
        return {"answers": {}, "predictions": {}}


def prediction(name: str, *, code: str) -> str:
    """The kept prediction, or an empty text."""
    return str(_kept(code)["predictions"].get(name, ""))


def last_try(name: str, *, code: str) -> dict[str, str] | None:
    """The last try at an exercise: its text, verdict and slip."""
    tries = _kept(code)["answers"].get(name)
    return tries[-1] if tries else None


def first_verdict(name: str, *, code: str) -> str:
    """The verdict of the first try, or an empty text."""
    tries = _kept(code)["answers"].get(name)
    return str(tries[0]["verdict"]) if tries else ""

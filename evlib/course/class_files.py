"""A folder of answer files, as a teacher collects it: what can be used, and one sentence about each that cannot.

Every answer is marked again, by the one marker: what a file says about itself is not believed. Files are only read.
"""

from __future__ import annotations

import dataclasses
import json
import os
import stat
from pathlib import Path
from typing import Any

from evlib.exercises import answers
from evlib.exercises.base import DEMONSTRATION, DONE, Exercise, Mark
from evlib.exercises.marker import mark
from evlib.exercises.register import find

LARGEST = 20_000_000  # bytes; the fullest file that the boxes can write is smaller
NAMED = 5  # ids that a sentence names before it says "and more"
UNIT = "right number, its unit wrong or missing"


@dataclasses.dataclass(frozen=True)
class Try:
    """One answer and its mark, made anew."""

    text: str
    mark: Mark


@dataclasses.dataclass(frozen=True)
class Sheet:
    """What one learner handed in: tries by exercise, in the order they were made, and predictions."""

    code: str
    file: str
    tries: dict[str, tuple[Try, ...]]
    predictions: dict[str, str]

    def verdicts(self, name: str) -> tuple[str, ...]:
        """The verdicts of an exercise's tries."""
        return tuple(each.mark.verdict for each in self.tries.get(name, ()))

    def is_done(self, name: str) -> bool:
        """Whether it was right once, or is kept for a person to mark."""
        return any(verdict in DONE for verdict in self.verdicts(name))

    def at_once(self, name: str) -> bool:
        """Whether the first try was right."""
        return self.verdicts(name)[:1] == ("right",)

    def slips(self, name: str) -> set[str]:
        """The names of the usual mistakes that were made on the way; a wrong or missing unit is one."""
        marks = [each.mark for each in self.tries.get(name, ())]
        return {mark.slip or UNIT for mark in marks if mark.slip or mark.verdict == "unit"}


@dataclasses.dataclass(frozen=True)
class Collected:
    """The sheets by code; a sentence about each file that was left out; and remarks about files that were used."""

    sheets: tuple[Sheet, ...]
    left_out: tuple[str, ...]
    remarks: tuple[str, ...]


class _NotUsed(Exception):
    """Why a file is left out, in words that follow its name."""


def collect(folder: Path) -> Collected:
    """Read every file in a folder and the folders in it; only hidden ones are passed over without a word."""
    found: dict[str, tuple[Sheet, dict[str, Any]]] = {}
    left_out: list[str] = []
    remarks: list[str] = []
    for path in _files(folder):
        name = tidy(str(path.relative_to(folder)))
        try:
            kept = _read(path)
            sheet, said = _sheet(kept, name)
        except _NotUsed as why:
            left_out.append(f"{name}: {why}.")
            continue
        earlier = found.get(sheet.code)
        if earlier and _size(earlier[0]) >= _size(sheet):
            left_out.append(_twice(sheet, earlier[0], same=kept == earlier[1]))
            continue
        if earlier:
            left_out.append(_twice(earlier[0], sheet, same=False))
            remarks = [remark for remark in remarks if not remark.startswith(f"{earlier[0].file}: ")]
        found[sheet.code] = (sheet, kept)
        remarks += [f"{name}: {each}." for each in said]
    return Collected(tuple(found[code][0] for code in sorted(found)), tuple(left_out), tuple(remarks))


def tidy(text: str, most: int = 60) -> str:
    """Text from a file or a file's name, so that it can be printed: one line, nothing that steers a terminal."""
    plain = "".join(sign if sign.isprintable() else "?" for sign in text)
    return plain if len(plain) <= most else plain[: most - 1] + "…"


def _files(folder: Path) -> list[Path]:
    found = []
    for place, inner, names in os.walk(folder):
        inner[:] = sorted(name for name in inner if name[:1] != ".")
        found += [Path(place) / name for name in sorted(names) if name[:1] != "."]
    return found


def _read(path: Path) -> dict[str, Any]:
    if path.suffix.lower() != ".json":
        raise _NotUsed("is no answer file, whose name ends in .json")
    try:
        about = path.lstat()
        if not stat.S_ISREG(about.st_mode):
            raise _NotUsed("is a link or a device and not a file, so it was not opened")
        if about.st_size > LARGEST:
            raise _NotUsed(f"has {about.st_size / 1e6:.0f} MB; an answer file has at most {LARGEST / 1e6:.0f} MB")
        kept = json.loads(path.read_bytes().decode("utf-8-sig"))
    except OSError as problem:
        raise _NotUsed(f"could not be read ({problem.strerror or 'no reason given'})") from problem
    except (ValueError, RecursionError) as problem:
        raise _NotUsed("is damaged or no answer file: it does not read as JSON text") from problem
    if not isinstance(kept, dict) or not {"form", "code", "answers", "predictions"} <= kept.keys():
        raise _NotUsed("is JSON, but no answer file of this course")
    return kept


def _sheet(kept: dict[str, Any], name: str) -> tuple[Sheet, list[str]]:
    form = kept["form"]
    if form != answers.FORM or isinstance(form, bool):
        raise _NotUsed(f"is of form {tidy(repr(form), 12)}, from another version; this one reads form {answers.FORM}")
    try:
        code = answers.tidy_code(kept["code"])
    except ValueError as problem:
        raise _NotUsed("holds no course code that could be used") from problem
    if not answers.is_sound(kept, code):
        raise _NotUsed("is damaged: its answers or predictions do not have the form that the boxes write")
    if code == DEMONSTRATION:
        raise _NotUsed(f"was made with {DEMONSTRATION}, the demonstration numbers, which belong to nobody")
    known: dict[str, tuple[Try, ...]] = {}
    changed, strange = [], []
    for exercise_id, tries in kept["answers"].items():
        exercise = _find(exercise_id)
        if exercise is None:
            strange.append(exercise_id)
            continue
        known[exercise.id] = tuple(Try(one["text"], mark(exercise, one["text"], code=code)) for one in tries)
        if any(new.mark.verdict != old["verdict"] for new, old in zip(known[exercise.id], tries, strict=True)):
            changed.append(exercise_id)
    said = []
    if changed:
        said.append(f"marked again, {_some(changed)} came out otherwise than the file says; the new marks count")
    if strange:
        said.append(f"{_some(strange)} does not belong to this version of the course and is passed over")
    return Sheet(code, name, known, dict(kept["predictions"])), said


def _find(name: str) -> Exercise | None:
    try:
        return find(name)
    except LookupError:
        return None


def _some(names: list[str]) -> str:
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return ", ".join(tidy(name, 30) for name in names[:NAMED]) + more


def _size(sheet: Sheet) -> int:
    return sum(len(tries) for tries in sheet.tries.values()) + len(sheet.predictions)


def _twice(loser: Sheet, winner: Sheet, *, same: bool) -> str:
    """What is said about the second file with a code."""
    if same:
        return f"{loser.file}: is the same as {winner.file}, which is used."
    only = [name for name in loser.tries if name not in winner.tries]
    lost = f", and lacks {_some(only)}" if only else ""
    return f"{loser.file}: has the code {loser.code}, as {winner.file} has; that one holds more{lost}, and is used."

"""The class table: a folder of answer files becomes tables for a spreadsheet and a page with pictures."""

from __future__ import annotations

import argparse
import csv
import io
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from evlib.course.class_counts import Class, count
from evlib.course.class_files import Collected, Sheet, collect
from evlib.course.class_page import class_page
from evlib.course.editions import new_folder
from evlib.course.lessons import lessons
from evlib.exercises.free import Free

PLAIN = "=+-@\t\r"  # a spreadsheet takes a cell that begins so for a formula


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("folder", type=Path, help="where the answer files are; folders in it are read too")
    parser.add_argument("-o", "--output", type=Path, required=True, help="the new folder that gets tables and page")


def run(asked: argparse.Namespace) -> int:
    """Read the folder, write what is found, and say what was left out."""
    if not asked.folder.is_dir():
        what = "this is a file and no folder" if asked.folder.exists() else "there is no such folder"
        print(f"{asked.folder}: {what}; name the one that holds the answer files", file=sys.stderr)
        return 2
    collected = collect(asked.folder)
    for sentence in (*collected.left_out, *collected.remarks):
        print(sentence, file=sys.stderr)
    if not collected.sheets:
        print(f"{asked.folder}: no answer file in it that could be used; nothing is written", file=sys.stderr)
        return 2
    counted = count(collected.sheets, lessons())
    with new_folder(asked.output) as place:
        for name, text in tables(counted).items():
            (place / name).write_text(text, encoding="utf-8-sig")  # the mark tells a spreadsheet that it is UTF-8
        (place / "class.html").write_text(class_page(counted, collected), encoding="utf-8")
    print(_said(collected, asked.output))
    return 1 if collected.left_out else 0


def _said(collected: Collected, output: Path) -> str:
    used, left = len(collected.sheets), len(collected.left_out)
    learners = f"{used} learner{'s' if used != 1 else ''}"
    rest = f"; {left} file{'s' if left != 1 else ''} left out, each said above and on the page" if left else ""
    return f"{output} is written for {learners}{rest}. Open class.html first."


def tables(counted: Class) -> dict[str, str]:
    """The files for a spreadsheet, by name."""
    return {
        "class.csv": _csv(_by_learner(counted)),
        "exercises.csv": _csv(_by_exercise(counted)),
        "objectives.csv": _csv(_by_objective(counted)),
    }


def _by_learner(counted: Class) -> Iterable[Sequence[object]]:
    """One row for each learner: sums, then each lesson, then each exercise."""
    names = list(dict.fromkeys(one.exercise.id for lesson in counted.lessons for one in lesson.exercises))
    parts = [f"lesson {each.lesson.number} (of {len(each.exercises)})" for each in counted.lessons]
    yield ["code", f"done (of {len(names)})", "right at first", "tries", "predictions", *parts, *names]
    for at, sheet in enumerate(counted.sheets):
        done = sum(sheet.is_done(name) for name in names)
        first, tries = sum(sheet.at_once(name) for name in names), sum(len(sheet.verdicts(name)) for name in names)
        lesson = [each.done[at] for each in counted.lessons]
        cells = [_cell(sheet, name) for name in names]
        yield [sheet.code, done, first, tries, len(sheet.predictions), *lesson, *cells]


def _cell(sheet: Sheet, name: str) -> str:
    """How an exercise stands: the try at which it was right, ``kept`` to be marked, or how often it was tried."""
    verdicts = sheet.verdicts(name)
    if "right" in verdicts:
        return f"right at try {verdicts.index('right') + 1}"
    if "kept" in verdicts:
        return "kept"
    return f"not yet, tries: {len(verdicts)}" if verdicts else ""


def _by_exercise(counted: Class) -> Iterable[Sequence[object]]:
    """One row for each exercise of each lesson, and one more for each further slip that was made in it."""
    yield ["lesson", "exercise", "objective", "depth", "marked by", "tried", "right at first", "done", "mean tries",
           "slip", "learners with the slip"]  # fmt: skip
    for lesson in counted.lessons:
        for one in lesson.exercises:
            what = one.exercise
            by = "a person" if isinstance(what, Free) else "the machine"
            head = [lesson.lesson.number, what.id, what.objective, what.depth, by, one.tried, one.first, one.done,
                    f"{one.tries:.1f}"]  # fmt: skip
            slip, learners = one.slips[0] if one.slips else ("", "")
            yield [*head, slip, learners]
            for slip, learners in one.slips[1:]:
                yield [lesson.lesson.number, what.id, *[""] * 7, slip, learners]


def _by_objective(counted: Class) -> Iterable[Sequence[object]]:
    yield ["lesson", "objective", "exercises", "learners who tried", "learners who have all done", "commonest slip",
           "in exercise", "learners with the slip"]  # fmt: skip
    for lesson in counted.lessons:
        for one in lesson.objectives:
            yield [lesson.lesson.number, one.objective, " ".join(one.exercises), one.tried, one.done, one.slip[0],
                   one.where, one.slip[1] or ""]  # fmt: skip


def _csv(rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows([[_harmless(cell) for cell in row] for row in rows])
    return text.getvalue()


def _harmless(cell: object) -> str:
    """A cell that no spreadsheet takes for a formula."""
    text = str(cell)
    return f"'{text}" if text[:1] and text[:1] in PLAIN else text

"""A lesson as an assignment for nbgrader, the open tool that many colleges mark notebooks with.

What is written is a course folder with source notebooks in nbgrader's own format: the learner edition without
solutions, and after each exercise a cell for the answer and a locked cell that marks it. The right answers, of the
demonstration's numbers, stand in regions that ``nbgrader generate_assignment`` takes out, as it does the marking.
nbgrader itself is not needed for that, nor ever for the lessons.
"""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path
from typing import Any

from evlib.course.editions import Book, edition, lesson_files, new_folder, read, source, write
from evlib.exercises.base import DEMONSTRATION, Exercise
from evlib.exercises.free import Free, Prediction
from evlib.exercises.marker import mark
from evlib.exercises.page import call
from evlib.exercises.register import find

POINTS = {"Shop": 1, "Why": 2, "Deep": 3}  # of an exercise that is marked by the library; free text: one for each point
ASKED = re.compile(r'\bask\(\s*"([^"]+)"')
TO_LESSON = re.compile(r"\[([^\]]+)\]\([\w-]+\.ipynb[^)]*\)")  # a link to a lesson that is not in the assignment
HOW = """## Your course code

This is an assignment. Put the course code from your teacher between the quotation marks of the next cell. Then run all
cells: the exercises get numbers of your own. Type each answer into its cell and run that cell; you may try as often as
you like, and the last answer counts. Save before you hand in. Never type your name."""
BEGIN = f"""from evlib.course.assignment_cells import begin
begin("{DEMONSTRATION}")  # your course code"""
CALLS = "from evlib.course.assignment_cells import answer, ask, handed_in"
CONFIG = """# For nbgrader, which is run in this folder. Written by `python3 -m evlib.course assignment`.
c = get_config()
c.CourseDirectory.course_id = "electric-conversion"
c.ClearSolutions.code_stub = {"python": "# Now run this cell."}  # what a learner sees in place of the right answer
"""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("out", type=Path, help="the new folder that gets nbgrader's source notebooks")
    parser.add_argument("lessons", nargs="+", metavar="LESSON", help="a lesson's number, such as 03d, or its name")


def run(asked: argparse.Namespace) -> int:
    """Write a course folder with one assignment for each lesson."""
    known = {path.stem: path for path in lesson_files()}
    chosen = {}
    for word in asked.lessons:
        name = next((name for name in known if word in (name, name.partition("_")[0])), "")
        if not name:
            numbers = ", ".join(name.partition("_")[0] for name in known)
            print(f"There is no lesson {word[:40]!r}; there are: {numbers}.", file=sys.stderr)
            return 2
        chosen[name] = assignment(read(known[name]))
        if not total(chosen[name]):
            print(f"{name} has no exercises, so it cannot be an assignment.", file=sys.stderr)
            return 2
    with new_folder(asked.out) as place:
        (place / "nbgrader_config.py").write_text(CONFIG, encoding="utf-8")
        for name, book in chosen.items():
            (place / "source" / name).mkdir(parents=True)
            write(place / "source" / name / f"{name}.ipynb", book)
    for name, book in chosen.items():
        print(f"{name}: {total(book)} points; in {asked.out}: nbgrader generate_assignment {name}")
    return 0


def assignment(book: Book) -> Book:
    """A lesson as a source notebook of nbgrader."""
    cells: list[dict[str, Any]] = []
    begun = False
    for cell in edition(book, solutions="out")["cells"]:
        text = source(cell)
        if cell["cell_type"] == "markdown":
            cells.append({**cell, "source": TO_LESSON.sub(r"\1", text)})
            continue
        if text.startswith("my_code("):
            continue  # the code stands in the assignment
        cell = {**cell, "outputs": [], "execution_count": None}
        if not begun:
            cells += [_markdown("assignment-how", HOW), _code("assignment-code", BEGIN)]
            imports, gap, rest = text.partition("\n\n")
            cell["source"] = f"{imports}\n{CALLS}{gap}{rest}"  # after the lesson's own `ask`, which it stands in for
            begun = True
        cells.append(cell)
        for name in ASKED.findall(text):
            exercise = find(name)
            if not isinstance(exercise, Prediction):
                cells += _free(exercise) if isinstance(exercise, Free) else _marked(exercise)
    return {**book, "cells": cells}


def total(book: Book) -> int:
    """All points of an assignment."""
    return sum(cell["metadata"].get("nbgrader", {}).get("points", 0) for cell in book["cells"])


def right_text(exercise: Exercise, code: str) -> str:
    """A text that the marker takes for right: the first of the ways in which an answer may be written.

    Raises ``ValueError`` where none is: then the exercise cannot be an assignment's.
    """
    letters = [letter for letter, _ in exercise.options(code)]
    said = [line.removeprefix("Answer: ") for line in exercise.solution(code) if line.startswith("Answer: ")]
    said += [line.partition(" = ")[0] for line in said]
    for text in (*letters, *said, *(f"{letter}: {line}" for letter in letters for line in said)):
        if mark(exercise, text, code=code).verdict == "right":
            return text
    raise ValueError(f"{exercise.id}: its solution names no answer that the marker takes for right")


def _marked(exercise: Exercise) -> list[dict[str, Any]]:
    """The cell for the answer, and the locked one that marks it."""
    name, most = exercise.id, POINTS[exercise.depth]
    hint = call(exercise).split('", "', 1)[1].removesuffix('")')
    typed = f"""answer("{name}", "")  # {hint}
### BEGIN SOLUTION
answer("{name}", "{right_text(exercise, DEMONSTRATION)}")
### END SOLUTION"""
    marks = f"""handed_in("{name}")  # {_points(most)}
### BEGIN HIDDEN TESTS
from evlib.course.assignment_cells import points
points("{name}", of={most})
### END HIDDEN TESTS"""
    return [
        _graded(_code(f"answer-{_id(exercise)}", typed), grade=False, solution=True, points=0),
        _graded(_code(f"points-{_id(exercise)}", marks), grade=True, solution=False, points=most),
    ]


def _free(exercise: Free) -> list[dict[str, Any]]:
    """The cell for an answer in sentences, which a person marks; guide and model are for that person."""
    guide = "\n".join(f"- {line}" for line in exercise.solution(DEMONSTRATION))
    text = f"""**Your answer to {exercise.id}** ({_points(len(exercise.guide))}). Double-click here and write below.

### BEGIN SOLUTION
{guide}
### END SOLUTION"""
    cell = _markdown(f"answer-{_id(exercise)}", text)
    return [_graded(cell, grade=True, solution=True, points=len(exercise.guide))]


def _points(number: int) -> str:
    return f"{number} point{'' if number == 1 else 's'}"


def _id(exercise: Exercise) -> str:
    """An id as nbgrader and notebooks allow it: no point."""
    return exercise.id.replace(".", "-")


def _markdown(identity: str, text: str) -> dict[str, Any]:
    return {"cell_type": "markdown", "id": identity, "metadata": {}, "source": text}


def _code(identity: str, text: str) -> dict[str, Any]:
    return {"cell_type": "code", "id": identity, "metadata": {}, "source": text, "outputs": [], "execution_count": None}


def _graded(cell: dict[str, Any], *, grade: bool, solution: bool, points: int) -> dict[str, Any]:
    """A cell with nbgrader's metadata, in the third form of its schema."""
    said: dict[str, Any] = {"grade_id": cell["id"], "grade": grade, "solution": solution, "locked": not solution}
    said |= {"schema_version": 3, "task": False, "cell_type": cell["cell_type"]}
    return {**cell, "metadata": {"nbgrader": said | ({"points": points} if grade else {})}}

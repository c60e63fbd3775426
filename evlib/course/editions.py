"""Two editions of every lesson from the one source: for learners, and for who teaches.

The learner edition has no teacher's notes, and its solutions folded or out. The solution edition has them open, and
the notes. What a cell is, is told by its tags ``solution`` and ``teacher``; saved outputs come along.
"""

from __future__ import annotations

import argparse
import contextlib
import copy
import errno
import json
import re
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

from evlib.course.lessons import NOTEBOOKS

Book = dict[str, Any]
Edition = Literal["folded", "out", "open"]  # what became of the solutions; teacher's notes go with open ones
FOLD = "<details>"
NOTICE = (
    "**Solution edition**, for who teaches: solutions are open and the teacher's notes are in. Keep it to yourself."
)
FOLDED = "They are folded. Open one when you have tried."


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("out", type=Path, help="the new folder that gets the two editions")
    parser.add_argument(
        "--solutions", choices=["folded", "out"], default="folded", help="in the learner edition (folded if not said)"
    )


def run(asked: argparse.Namespace) -> int:
    """Write both editions."""
    made: dict[str, Edition] = {"learner": asked.solutions, "solution": "open"}
    with new_folder(asked.out) as place:
        for name, solutions in made.items():
            (place / name).mkdir()
            for path in lesson_files():
                write(place / name / path.name, edition(read(path), solutions=solutions))
    print(f"{asked.out}: {len(lesson_files())} lessons for learners, solutions {asked.solutions}, in `learner`")
    print(f"{asked.out}: {len(lesson_files())} lessons with solutions and teacher's notes in `solution`")
    return 0


def edition(book: Book, *, solutions: Edition) -> Book:
    """One lesson as an edition: a copy; the given one stays as it is."""
    book = copy.deepcopy(book)
    cells = [cell for cell in book["cells"] if _belongs(tags(cell), solutions)]
    if solutions == "open":
        for cell in cells:
            _open(cell)
        notice = {
            "cell_type": "markdown",
            "id": "solution-edition",
            "metadata": {"tags": ["teacher"]},
            "source": NOTICE,
        }
        cells.insert(1, notice)
    return {**book, "cells": cells}


def tags(cell: dict[str, Any]) -> list[str]:
    """A cell's tags."""
    return list(cell["metadata"].get("tags", []))


def source(cell: dict[str, Any]) -> str:
    """A cell's text in one piece, whichever way it was saved."""
    return "".join(cell["source"])


def _belongs(marks: list[str], solutions: Edition) -> bool:
    return solutions == "open" or not ("teacher" in marks or (solutions == "out" and "solution" in marks))


def _open(cell: dict[str, Any]) -> None:
    """Open what is folded in a cell for teachers: in the text, in the call that folds, and in what it has shown."""
    marks, text = tags(cell), source(cell)
    if cell["cell_type"] == "markdown" and ("teacher" in marks or "solution" in marks):
        cell["source"] = text.replace(FOLD, "<details open>").replace(FOLDED, "They are open in this edition.")
    elif cell["cell_type"] == "code" and "solution" in marks:
        cell["source"] = re.sub(r"^(solution\(.*)\)$", r"\1, opened=True)", text)
        for output in cell["outputs"]:
            for kind, content in output.get("data", {}).items():
                output["data"][kind] = "".join(content).replace(FOLD, "<details open>")


def lesson_files() -> list[Path]:
    """The notebooks, in the order of the lessons."""
    return sorted(NOTEBOOKS.glob("[0-9]*.ipynb"))


def read(path: Path) -> Book:
    """A notebook as it is in its file."""
    book: Book = json.loads(path.read_text(encoding="utf-8"))
    return book


def write(path: Path, book: Book) -> None:
    """A notebook into its file."""
    path.write_text(json.dumps(book, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


@contextlib.contextmanager
def new_folder(out: Path) -> Iterator[Path]:
    """A folder to write into, which becomes ``out`` when all went well: a stop half-way leaves nothing of it.

    Raises ``FileExistsError`` with one sentence where ``out`` holds something already: it may be somebody's work.
    """
    out = out.expanduser().absolute()
    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise FileExistsError(errno.EEXIST, "exists already, and is left as it is; name a new folder", str(out))
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=f".{out.name}.") as scratch:
        place = Path(scratch) / out.name
        place.mkdir()
        yield place
        if out.exists():
            out.rmdir()
        shutil.move(place, out)

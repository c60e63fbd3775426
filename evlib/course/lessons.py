"""The lessons as they stand in their notebooks: title, objectives, and which exercises a lesson asks."""

from __future__ import annotations

import dataclasses
import functools
import json
import re
from pathlib import Path
from typing import Any

from evlib.exercises.base import Exercise
from evlib.exercises.free import Prediction
from evlib.exercises.register import everything, find

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
LIST = re.compile(r"you can\b[^\n]*\n+((?:[-*] [^\n]*(?:\n  [^\n]*)*\n?)+)")  # the list after "you can"


@dataclasses.dataclass(frozen=True)
class Lesson:
    """One notebook: its file's name without the ending, its title, its objectives, the ids it asks and predicts."""

    name: str
    title: str
    objectives: tuple[str, ...]
    asked: tuple[str, ...]

    @property
    def number(self) -> str:
        """What the lesson is called: ``03b``."""
        return self.name.partition("_")[0]

    @property
    def exercises(self) -> tuple[Exercise, ...]:
        """What is marked or kept for marking; predictions are not."""
        found = (find(name) for name in self.asked)
        return tuple(one for one in found if not isinstance(one, Prediction))

    @property
    def predictions(self) -> tuple[str, ...]:
        """The ids of its predictions."""
        return tuple(name for name in self.asked if isinstance(find(name), Prediction))

    def serving(self, objective: str) -> tuple[Exercise, ...]:
        """The lesson's exercises for one of its objectives."""
        return tuple(one for one in self.exercises if one.objective == objective)


@functools.cache
def lessons(folder: Path = NOTEBOOKS) -> tuple[Lesson, ...]:
    """Every lesson, in the order of the file names. A notebook without objectives, as the page of words, is none."""
    found = (_read(path) for path in sorted(folder.glob("[0-9]*.ipynb")))
    return tuple(lesson for lesson in found if lesson.objectives)


def _read(path: Path) -> Lesson:
    book: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    sources = {kind: [_source(cell) for cell in book["cells"] if cell["cell_type"] == kind]
               for kind in ("markdown", "code")}  # fmt: skip
    prose, code = "\n".join(sources["markdown"]), "\n".join(sources["code"])
    title = re.search(r"^# (.+)$", prose, flags=re.MULTILINE)
    listed = LIST.search(prose)
    points = re.split(r"^[-*] ", listed[1], flags=re.MULTILINE)[1:] if listed else []
    objectives = tuple(" ".join(point.split()).strip("*;. ") for point in points)
    known = {exercise.id for exercise in everything()}
    named = re.findall(r'\b(?:ask|predict)\(\s*"([^"]+)"', code)
    asked = tuple(name for name in dict.fromkeys(named) if name in known)
    return Lesson(path.stem, title[1].strip() if title else path.stem, objectives, asked)


def _source(cell: dict[str, Any]) -> str:
    return "".join(cell["source"])

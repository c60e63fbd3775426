"""Which objective prepares for which point of published frameworks for work on vehicles with high voltage."""

from __future__ import annotations

import functools
import html
import tomllib
from typing import Any

from evlib.course.glossary import DATA
from evlib.course.lessons import Lesson
from evlib.panels.twin import Table


@functools.cache
def read() -> dict[str, Any]:
    """``data/course/competences.toml``."""
    return tomllib.loads((DATA / "competences.toml").read_text(encoding="utf-8"))


def points(lesson: Lesson, objective: str) -> tuple[str, ...]:
    """The points that an objective prepares for. Raises ``LookupError`` if none, or more than one, entry fits it."""
    entries = read()["objective"].get(lesson.name, {})
    fitting = [listed for start, listed in entries.items() if objective.startswith(start)]
    if len(fitting) != 1:
        raise LookupError(f"{lesson.name}: {len(fitting)} entries of competences.toml fit the objective {objective!r}")
    return tuple(fitting[0])


def body(chosen: tuple[Lesson, ...]) -> str:
    """The frameworks, then a table for each lesson."""
    frameworks: dict[str, Any] = read()["framework"]
    parts = [
        "<p>The lessons give knowledge; they train no hands and certify nobody. <b>None of these levels is reached by "
        "working through them.</b> Your local code says which qualification a task needs. A dash means that no point "
        "of these frameworks asks for the objective: it is engineering beyond them.</p>"
    ]
    for short, framework in frameworks.items():
        rows = tuple((f"{short} {point}", what) for point, what in framework["levels"].items())
        table = Table(("point", "what it is about, in our words"), rows)
        parts.append(
            f"<h2>{html.escape(framework['name'])}</h2><p>Source: {html.escape(framework['source'])}.</p>{table.html()}"
        )
    for lesson in chosen:
        rows = tuple((objective, ", ".join(points(lesson, objective)) or "-") for objective in lesson.objectives)
        parts.append(f"<h2>Lesson {html.escape(lesson.title)}</h2>{Table(('objective', 'prepares for'), rows).html()}")
    return "".join(parts)

"""What a learner has done, by lesson and objective: for a cell of a notebook, and as a page that prints."""

from __future__ import annotations

import argparse
import dataclasses
import html
import sys
from pathlib import Path
from typing import Any

from evlib.course.lessons import Lesson, lessons
from evlib.exercises import answers
from evlib.exercises.base import DONE
from evlib.exercises.free import Free
from evlib.ground.folder import folder, write_atomically
from evlib.ground.shown import Shown
from evlib.panels.twin import Table

PRIVATE = (
    "What you answer is kept in your own folder, in one file under your course code. It holds your answers, how each "
    "was marked and your predictions: no name, no time of day, nothing about you. Nothing is sent anywhere."
)
HEADER = ("objective", "done", "right at first", "still to do")
STYLE = (
    "body{font:16px/1.5 'DejaVu Sans',Verdana,sans-serif;max-width:60em;margin:1em auto;padding:0 1em;color:#222}"
    "table{border-collapse:collapse;width:100%;margin:.3em 0 1em}td,th{border:1px solid #8a8a8a;padding:2px 8px;"
    "vertical-align:top}h2{break-after:avoid}img{max-width:100%;height:auto}"
    "@media screen and (max-width:45em){td,th{padding:2px 4px;font-size:13px;overflow-wrap:anywhere}}"
    "@media print{tr{break-inside:avoid}body{max-width:none}"
    "details::details-content{content-visibility:visible;block-size:auto}}"
)


@dataclasses.dataclass(frozen=True)
class Done:
    """One objective of a lesson and what this learner has done for it, as ids of exercises."""

    objective: str
    done: tuple[str, ...]
    first: tuple[str, ...]
    left: tuple[str, ...]


def done(lesson: Lesson, kept: dict[str, Any]) -> tuple[Done, ...]:
    """What an answer file holds about a lesson, one entry for each objective."""
    return tuple(_done(lesson, objective, kept["answers"]) for objective in lesson.objectives)


def _done(lesson: Lesson, objective: str, tries: dict[str, list[dict[str, str]]]) -> Done:
    names = [exercise.id for exercise in lesson.serving(objective)]
    good = tuple(name for name in names if any(each["verdict"] in DONE for each in tries.get(name, [])))
    first = tuple(name for name in names if tries.get(name) and tries[name][0]["verdict"] == "right")
    return Done(objective, good, first, tuple(name for name in names if name not in good))


def progress(lesson: str = "") -> Shown:
    """What is done, for a cell: all lessons, or those with this in their file's name (``"04"``, ``"motors"``)."""
    wanted = [one for one in lessons() if str(lesson) in one.name]
    if not wanted:
        names = ", ".join(one.name for one in lessons())
        text = f"There is no lesson {str(lesson)[:40]!r}; there are: {names}."
        return Shown(text, f"<p>{html.escape(text)}</p>")
    code = answers.course_code()
    kept, report = answers.load(code)
    parts = [_part(one, kept) for one in wanted]
    total = _sum(wanted, kept) if len(wanted) > 1 else ""
    opening = " ".join(filter(None, [f"Course code {code}.", total, report]))
    text = "\n\n".join([opening, *(f"{title}\n{said}\n{table.plain()}" for title, said, table in parts), PRIVATE])
    page = [f"<p>{html.escape(opening)}</p>"]
    page += [f"<h2>{html.escape(title)}</h2><p>{html.escape(said)}</p>{table.html()}" for title, said, table in parts]
    return Shown(text, "".join([*page, f"<p>{PRIVATE}</p>"]))


def _sum(wanted: list[Lesson], kept: dict[str, Any]) -> str:
    """One sentence over all that is shown."""
    points = [point for one in wanted for point in done(one, kept)]
    total, ready = sum(len(p.done) + len(p.left) for p in points), sum(len(p.done) for p in points)
    whole = sum(not point.left for point in points)
    return f"{ready} of {total} exercises done; {whole} of {len(points)} objectives have all theirs."


def _part(lesson: Lesson, kept: dict[str, Any]) -> tuple[str, str, Table]:
    """A lesson's title, a sentence and the table of its objectives."""
    points = done(lesson, kept)
    rows = tuple((point.objective, f"{len(point.done)} of {len(point.done) + len(point.left)}", str(len(point.first)),
                  ", ".join(point.left) or "nothing") for point in points)  # fmt: skip
    made = sum(name in kept["predictions"] for name in lesson.predictions)
    said = f"{sum(len(point.done) for point in points)} of {len(lesson.exercises)} exercises done"
    said += f", {made} of {len(lesson.predictions)} predictions made" if lesson.predictions else ""
    own = [e.id for e in lesson.exercises if isinstance(e, Free) and any(e.id in point.done for point in points)]
    said += f". Not marked by machine, a person reads them: {', '.join(own)}." if own else "."
    return f"Lesson {lesson.title}", said, Table(HEADER, rows)


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("-o", "--output", type=Path, default=None, help="the page to write; else one in your folder")


def run(asked: argparse.Namespace) -> int:
    """Write the page."""
    output = asked.output or folder() / "progress.html"
    if not output.parent.is_dir():
        print(f"{output}: there is no folder {output.parent}; name a file in one that there is", file=sys.stderr)
        return 2
    write_atomically(output, page("What you have done", progress()._repr_html_() + _hand_in()))
    print(f"{output} is written; open it in a browser")
    return 0


def _hand_in() -> str:
    """Which file a teacher may ask for, where there is one."""
    path = answers.path_of(answers.course_code())
    if not path.exists():
        return ""
    return f"<p>To hand in, give your teacher a copy of this file: <code>{html.escape(str(path))}</code></p>"


def page(title: str, body: str) -> str:
    """A whole HTML page, with the one style of the course's pages that print."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{STYLE}</style></head><body><main><h1>{html.escape(title)}</h1>{body}</main></body></html>\n"
    )

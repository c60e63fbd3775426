"""The plan by class period, and the workshop-safety sheet, from ``data/course``."""

from __future__ import annotations

import dataclasses
import functools
import html
import tomllib
from typing import Any

import mistune

from evlib.course.glossary import DATA
from evlib.course.lessons import Lesson

PERIOD = 45  # minutes


@dataclasses.dataclass(frozen=True)
class Period:
    """One class period: what is done in it, minute by minute, what to prepare and what to watch for."""

    lesson: str
    title: str
    place: str
    do: tuple[tuple[int, str], ...]
    prepare: tuple[str, ...]
    watch: tuple[str, ...]

    @property
    def minutes(self) -> int:
        """How long it takes."""
        return sum(minutes for minutes, _ in self.do)


@functools.cache
def periods() -> tuple[Period, ...]:
    """Every period, in order."""
    read = tomllib.loads((DATA / "plan.toml").read_text(encoding="utf-8"))
    return tuple(_period(entry) for entry in read["period"])


def _period(entry: dict[str, Any]) -> Period:
    do = tuple((int(minutes), str(what)) for minutes, what in entry["do"])
    return Period(**{**entry, "do": do, "prepare": tuple(entry["prepare"]), "watch": tuple(entry["watch"])})


def body(chosen: tuple[Lesson, ...]) -> str:
    """The periods of the chosen lessons, each a table of minutes with its lists."""
    names = {lesson.name: lesson.title for lesson in chosen}
    held = [period for period in periods() if period.lesson in names]
    rest = sorted({lesson.title for lesson in chosen} - {names[period.lesson] for period in held})
    parts = [
        f"<p>{len(held)} periods of {PERIOD} minutes, exercises included; a lesson's own minutes are for one learner "
        "who reads "
        "alone. Lessons with a letter are companions: leave them out where time is short. Deep parts are for who asks "
        "for "
        "more. Exercises that a period leaves over are homework.</p>"
        "<p><b>For every period:</b> a computer for each pair, set up with <code>start.py</code> before the first "
        "period "
        "(it takes a few minutes and 2 GB each), or the pages to read on any screen; a projector for the slides; the "
        "worksheets of the lesson. Pictures and cards to print are in <code>prints</code>.</p>",
        f"<p>Without a period of its own: {html.escape(', '.join(rest))}.</p>" if rest else "",
    ]
    for number, period in enumerate(held, 1):
        rows = "".join(f"<tr><td>{minutes}</td><td>{html.escape(what)}</td></tr>" for minutes, what in period.do)
        parts.append(
            f"<section style='break-inside:avoid'><h2>Period {number}. {html.escape(period.title)}</h2>"
            f"<p>Lesson {html.escape(names[period.lesson])}; <i>{period.place}</i>; {period.minutes} minutes.</p>"
            "<table><thead><tr><th scope='col'>minutes</th><th scope='col'>what</th></tr></thead>"
            f"<tbody>{rows}</tbody></table>"
            f"<p><b>Prepare</b></p>{_list(period.prepare)}<p><b>Watch for</b></p>{_list(period.watch)}</section>"
        )
    return "".join(parts)


def safety() -> str:
    """The workshop-safety sheet."""
    return str(mistune.html((DATA / "workshop_safety.md").read_text(encoding="utf-8")))


def _list(items: tuple[str, ...]) -> str:
    return "<ul>" + "".join(f"<li>{html.escape(item)}</li>" for item in items) + "</ul>"

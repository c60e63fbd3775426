"""Makes the whole pack in one new folder, with a bar that shows how far it is."""

from __future__ import annotations

import argparse
import html
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from evlib.build.file import find_build, read_build
from evlib.build.sheet import sheet
from evlib.course.lessons import Lesson, lessons
from evlib.course.pack import competences, marking, plan, slides, worksheets
from evlib.course.progress import page
from evlib.exercises.answers import tidy_code
from evlib.ground.folder import write_atomically

BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")
MOST = 200  # learners of one class
BAR = 24  # signs
Piece = tuple[str, str, Callable[[], str]]  # the file, what it is, and what makes its page


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("folder", type=Path, help="the new folder")
    parser.add_argument("--learners", type=int, default=30, help="how many worksheets and codes (30 if not said)")
    parser.add_argument("--group", default="K1", help="the first half of the codes: one to eight letters and digits")
    parser.add_argument("--lessons", nargs="+", default=[], metavar="NUMBER", help="some lessons only, such as 01 03b")


def run(asked: argparse.Namespace) -> int:
    """Make the pack. 2 and one sentence if a word is bad; then nothing is written."""
    try:
        codes = class_codes(asked.group, asked.learners)
        chosen = pick(asked.lessons)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    folder: Path = asked.folder.expanduser().resolve()
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        print(f"folder: {folder} exists already; name a new one", file=sys.stderr)
        return 2
    make(folder, chosen, codes)
    print(f"The pack is in {folder}: open index.html. Keep the folder `key` to yourself.")
    return 0


def class_codes(group: str, learners: int) -> tuple[str, ...]:
    """One course code for each learner: ``K1-201``, ``K1-202``, and so on. Raises ``ValueError``."""
    if not 1 <= learners <= MOST:
        raise ValueError(f"learners: {learners} was given; allowed: 1 to {MOST}")
    try:
        return tuple(tidy_code(f"{group}-{201 + number}") for number in range(learners))
    except ValueError:
        raise ValueError(f"group: {group[:40]!r} was given; allowed: one to eight letters and digits") from None


def pick(numbers: list[str]) -> tuple[Lesson, ...]:
    """The lessons with these numbers, or all. Raises ``ValueError``."""
    known = {lesson.number: lesson for lesson in lessons()}
    for number in numbers:
        if number not in known:
            raise ValueError(f"lessons: {number[:40]!r} was given; allowed: {', '.join(known)}")
    return tuple(lesson for number, lesson in known.items() if not numbers or number in numbers)


def make(folder: Path, chosen: tuple[Lesson, ...], codes: tuple[str, ...]) -> None:
    """Write every page, an index of them, and the list of codes."""
    pieces = tuple(every_piece(chosen, codes))
    for number, (name, what, made) in enumerate(pieces):
        show(number, len(pieces), what)
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        write_atomically(path, made())
    write_atomically(
        folder / "codes.csv", "code,learner (keep this list to yourself)\n" + "".join(f"{c},\n" for c in codes)
    )
    write_atomically(folder / "index.html", page("Teacher's pack", contents(pieces)))
    show(len(pieces), len(pieces), "done")
    print()


def every_piece(chosen: tuple[Lesson, ...], codes: tuple[str, ...]) -> Iterator[Piece]:
    """The files of the pack."""
    yield "plan.html", "Plan by class period", partial(_page, "Plan by class period", plan.body, chosen)
    yield "workshop_safety.html", "Workshop safety, for the wall", partial(_page, "Workshop safety", plan.safety)
    title = "What the objectives prepare for"
    yield "competences.html", "Objectives and published frameworks", partial(_page, title, competences.body, chosen)
    for lesson in chosen:
        yield f"slides/{lesson.name}.html", f"Slides of lesson {lesson.title}", partial(slides.deck, lesson)
    title = "Expected wrong answers"
    yield "key/wrong_answers.html", title, partial(_page, title, marking.wrong_answers, chosen)
    title = "Marking schemes of the free answers"
    yield "key/marking.html", title, partial(_page, title, marking.schemes, chosen)
    asking = [lesson for lesson in chosen if lesson.exercises]
    for lesson in asking:
        title = f"Key to lesson {lesson.title}"
        yield f"key/answers_{lesson.name}.html", title, partial(_page, title, worksheets.key, lesson, codes)
    for lesson in asking:
        title = f"Worksheets of lesson {lesson.title}, {len(codes)} learners"
        yield f"worksheets/{lesson.name}.html", title, partial(_page, title, worksheets.class_set, lesson, codes)
    yield "prints/pictures.html", "Pictures of the lessons, one a sheet", partial(slides.pictures, chosen)
    for name in BUILDS:
        yield f"prints/sheet_{name}.html", f"Build sheet of {name}", partial(_sheet, name)


def _page(title: str, body: Callable[..., str], *of: Any) -> str:
    return page(title, body(*of))


def _sheet(name: str) -> str:
    return sheet(read_build(find_build(name)))


OPENING = """
<p>Everything here prints on A4 and on Letter. Give each learner a code and the pages of its worksheet, and write into
<code>codes.csv</code> who has which. No name goes into the lessons or the answer files.</p>
<p>The folder <code>key</code> is yours alone. Later collect the learners' answer files into one folder. In the folder
of the lessons, run <code>.venv/bin/python -m evlib.course class COLLECTED -o class_table</code> (Windows:
<code>.venv\\Scripts\\python</code>). It shows who has done what, and which slip is common.</p>
"""
GROUPS = {
    "": "For you and the wall",
    "slides": "Slides: page down goes to the next",
    "worksheets": "Worksheets, one file for each lesson with the pages of every learner",
    "prints": "To print: pictures, and build sheets with their cut, settings and commissioning cards",
    "key": "Key, for you alone",
}


def contents(pieces: tuple[Piece, ...]) -> str:
    """The index: what there is, and in which order to use it."""
    parts = [OPENING]
    for start, title in GROUPS.items():
        inside = [(name, what) for name, what, _ in pieces if name.rpartition("/")[0] == start]
        links = "".join(f'<li><a href="{name}">{html.escape(what)}</a></li>' for name, what in inside)
        parts.append(f"<h2>{title}</h2><ul>{links}</ul>" if inside else "")
    return "".join(parts)


def show(done: int, total: int, what: str) -> None:
    """One line that shows how far it is: in place on a terminal, a line now and then in a file."""
    filled = BAR * done // total
    line = f"[{'#' * filled}{'.' * (BAR - filled)}] {done:3d} of {total}  {what:.44s}"
    if sys.stdout.isatty():
        print(f"\r{line:<80.80s}", end="", flush=True)
    elif done in (0, total) or done % 20 == 0:
        print(line, flush=True)

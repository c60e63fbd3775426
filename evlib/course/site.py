"""The lessons as pages to read: one folder of HTML that opens from a disk, on a phone, with no kernel and no network.

Made from the saved outputs, which the tests compare with a fresh run. Pictures stay in the pages as they are in the
notebooks; formulas become MathML; no script, no style sheet and no font of another place is asked for.
"""

from __future__ import annotations

import argparse
import dataclasses
import html
import re
from pathlib import Path
from typing import Any

from evlib.course.editions import Book, edition, lesson_files, new_folder, read, source
from evlib.course.site_text import Page, output, preformatted
from evlib.exercises.base import DEMONSTRATION

TITLE = "Engineering an electric conversion"
ONLY_HERE = re.compile(r"(?:progress|my_code)\(")  # cells that are about the reader's own answers
NO_CODE = re.compile(r"(?:ask|predict|outcome|solution)\(")  # cells whose code says no more than what they show


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("out", type=Path, help="the new folder that gets the pages")


def run(asked: argparse.Namespace) -> int:
    """Write the pages."""
    made = pages([(path.stem, read(path)) for path in lesson_files()])
    with new_folder(asked.out) as place:
        for name, text in made.items():
            (place / name).write_text(text, encoding="utf-8")
    print(f"{asked.out}: {len(made) - 1} lessons; open index.html in a browser")
    return 0


@dataclasses.dataclass(frozen=True)
class Lesson:
    """One lesson as a page: its file's name without the ending, what the index says of it, and its HTML."""

    name: str
    title: str
    question: str
    minutes: int
    head: str
    body: str
    contents: tuple[tuple[str, str], ...]


def pages(books: list[tuple[str, Book]]) -> dict[str, str]:
    """File name to HTML: a page for each lesson, and the index."""
    lessons = [lesson(name, book) for name, book in books]
    made = {"index.html": _render(title=TITLE, lesson=False, pages=lessons)}
    for number, one in enumerate(lessons):
        steps = ['<a href="index.html">All lessons</a>']
        steps += [_step("Before", lessons[number - 1])] if number else []
        steps += [_step("Next", lessons[number + 1])] if number + 1 < len(lessons) else []
        made[f"{one.name}.html"] = _render(
            title=f"{one.title} - {TITLE}", lesson=True, steps="\n".join(steps), head=one.head, body=one.body,
            contents=one.contents, code=DEMONSTRATION,
        )  # fmt: skip
    return made


def lesson(name: str, book: Book) -> Lesson:
    """One lesson: without the teacher's notes, solutions folded. Raises ``ValueError`` for what cannot be shown."""
    page, cells = Page(), edition(book, solutions="folded")["cells"]
    try:
        made = [_cell(page, cell) for cell in cells]
    except ValueError as problem:
        raise ValueError(f"{name}: {problem}") from None
    text = "\n".join(source(cell) for cell in cells if cell["cell_type"] == "markdown")
    asked = re.search(r"\*([^*]+\?)\*", text)  # the lesson's question stands in bold or italic under its title
    minutes = re.search(r"(\d+) minutes", text)
    contents = tuple((anchor, words) for level, anchor, words in page.headings if level == 2)
    return Lesson(
        name, page.headings[0][2], html.escape(asked[1]) if asked else "", int(minutes[1]) if minutes else 0,
        made[0], "\n".join(made[1:]), contents,
    )  # fmt: skip


def _cell(page: Page, cell: dict[str, Any]) -> str:
    text = source(cell)
    if cell["cell_type"] == "markdown":
        return page.markdown(text)
    if ONLY_HERE.match(text):
        return ""
    shown = "".join(output(each) for each in cell["outputs"])
    if NO_CODE.match(text):
        return shown
    return f'<details class="code"><summary>The code</summary>{preformatted(text)}</details>{shown}'


def _step(word: str, to: Lesson) -> str:
    return f'<a href="{to.name}.html">{word}: {html.escape(to.title)}</a>'


def _render(**values: Any) -> str:
    from jinja2 import Template

    text = Path(__file__).with_name("site.html.j2").read_text(encoding="utf-8")
    return str(Template(text, trim_blocks=True, lstrip_blocks=True).render(**values)) + "\n"

"""Slides of a lesson, made from its notebook: the question, objectives, cautions, then each part with its picture."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from typing import Any

from evlib.course.lessons import NOTEBOOKS, Lesson
from evlib.course.plain import SKIPPED_HEADINGS, SKIPPED_TAGS, sentences, simple
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.register import find

STYLE = (
    "@page{size:A4 landscape;margin:10mm}*{box-sizing:border-box}"
    "body{margin:0;font:24px/1.4 'DejaVu Sans',Verdana,sans-serif;color:#222;background:#fff}"
    "section{min-height:100vh;padding:3vh 5vw;border-bottom:1px solid #8a8a8a;break-after:page;display:flex;"
    "flex-direction:column}h1,h2{margin:.2em 0;color:#004b7d}p,ul{margin:.3em 0}li{margin:.3em 0}"
    "img{max-width:100%;max-height:58vh;align-self:center}"
    ".caution{border:3px solid #b34700;padding:.5em 1em}small{margin-top:auto;color:#555}"
    "@media print{body{font-size:18px}section{min-height:0;height:185mm;border:0;overflow:hidden}img{max-height:105mm}}"
)
LINES = 4  # sentences on a slide, so that it can be read from the last row
PICTURE = re.compile(r'<img\b[^>]*\bsrc="(data:image/png;base64,[^"]+)"[^>]*>')
ALT = re.compile(r'\balt="([^"]*)"')
Slide = tuple[str, str]  # heading, body


def deck(lesson: Lesson) -> str:
    """All slides of a lesson as one HTML page: scroll, or print one a sheet."""
    made = list(slides(lesson))
    shown = "".join(
        f'<section aria-label="slide {number} of {len(made)}"><{level}>{html.escape(heading)}</{level}>{body}'
        f"<small>{html.escape(lesson.title)} · {number} of {len(made)}</small></section>"
        for number, level, (heading, body) in ((n, "h1" if n == 1 else "h2", slide) for n, slide in enumerate(made, 1))
    )
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Slides: {html.escape(lesson.title)}</title>'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{STYLE}</style></head>'
        f"<body><main>{shown}</main></body></html>\n"
    )


def slides(lesson: Lesson) -> Iterator[Slide]:
    """Heading and body of each slide."""
    cells = json.loads((NOTEBOOKS / f"{lesson.name}.ipynb").read_text(encoding="utf-8"))["cells"]
    opening = "".join(cells[0]["source"])
    yield lesson.title, _points([text for text in _read(opening) if text != lesson.title][:2])
    yield "When you are through, you can", _points(list(lesson.objectives))
    caution = _caution(cells)
    if caution:
        yield "Before anything else", f'<div class="caution">{_points(caution)}</div>'
    for name in lesson.predictions:
        yield "Say first what you expect", _points(sentences(find(name).asked(DEMONSTRATION)))
    yield from _parts(cells)
    asked = [f"{exercise.id}: {exercise.objective}" for exercise in lesson.exercises]
    for first in range(0, len(asked), 8):
        yield "Exercises, and what each is for", _points(asked[first : first + 8])


def _parts(cells: list[dict[str, Any]]) -> Iterator[Slide]:
    """One slide for each part of the main path with what it says first, and one for each picture in it."""
    heading, skipped = "", True
    for cell in cells[1:]:
        if SKIPPED_TAGS & set(cell["metadata"].get("tags", [])):
            continue
        if cell["cell_type"] == "markdown":
            for part in re.split(r"(?m)^(?=## )", "".join(cell["source"])):
                found = re.match(r"## (.*)\n?", part)
                if found:
                    heading = simple(found[1]).strip()
                    skipped = bool(SKIPPED_HEADINGS.search(heading)) or heading in (
                        "Before you start",
                        "Solutions",
                        "Exercises",
                    )
                    said = [one for text in _read(part[found.end() :]) for one in sentences(text)]
                    if not skipped and said:
                        yield heading, _points(said[:LINES])
        elif heading and not skipped:
            for shown in cell["outputs"]:
                page = "".join(shown.get("data", {}).get("text/html", ""))
                yield from ((heading, f'<img src="{image[1]}" alt="{_alt(image[0])}"><p>{_alt(image[0])}</p>')
                            for image in PICTURE.finditer(page))  # fmt: skip


def _alt(tag: str) -> str:
    found = ALT.search(tag)
    return found[1] if found else ""


def _caution(cells: list[dict[str, Any]]) -> list[str]:
    """The sentences of the lesson's caution box."""
    for cell in cells[:4]:
        text = "".join(cell["source"])
        found = re.search(r"\*\*Cautions?\.?\*\*:?\.?(.*?)(?:\n\n(?!\S*[-*>])|</div>|\Z)", text, flags=re.DOTALL)
        if cell["cell_type"] == "markdown" and found:
            return [
                one
                for line in simple(found[1]).split("\n\n")
                for one in sentences(re.sub(r"[\s>]+", " ", line).strip())
            ][:7]
    return []


def _read(markdown: str) -> list[str]:
    """Paragraphs in plain words; tables, lists of links and worked sums are left to the lesson."""
    blocks = [
        re.sub(r"\s+", " ", re.sub(r"(?m)^[#>]+\s*", "", block)).strip()
        for block in re.split(r"\n\s*\n", simple(markdown))
    ]
    return [block for block in blocks if re.search(r"[A-Za-z]{3}", block) and not block.startswith("|")]


def _points(lines: list[str]) -> str:
    return "<ul>" + "".join(f"<li>{html.escape(line)}</li>" for line in lines) + "</ul>"

"""Slides of a lesson, made from its notebook: the question, objectives, cautions, then each part with its pictures."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from typing import Any

from evlib.course.lessons import NOTEBOOKS, Lesson
from evlib.course.plain import SKIPPED_HEADINGS, SKIPPED_TAGS, sentences
from evlib.course.site_text import Page
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.register import find

STYLE = (
    "@page{size:A4 landscape;margin:10mm}*{box-sizing:border-box}html{scroll-snap-type:y proximity}"
    "body{margin:0;font:clamp(20px,2.5vw,44px)/1.35 'DejaVu Sans',Verdana,sans-serif;color:#222;background:#fff}"
    "section{min-height:100vh;padding:2.5vh 4vw;border-bottom:1px solid #8a8a8a;break-after:page;display:flex;"
    "flex-direction:column;scroll-snap-align:start}h1,h2{margin:.1em 0 .3em;color:#004b7d;font-size:1.4em}"
    "p,ul,ol{margin:.3em 0}li{margin:.25em 0}img{width:100%;max-height:66vh;object-fit:contain}"
    "table{border-collapse:collapse;font-size:.75em}"
    "td,th{border:1px solid #8a8a8a;padding:.15em .5em;text-align:left}"
    "pre{font-size:.72em;white-space:pre-wrap;background:#f3f3f3;padding:.5em}a{color:inherit}"
    ".caution{border:4px solid #b34700;padding:.4em 1em;font-size:.85em}"
    "small{margin-top:auto;color:#555;font-size:.5em}"
    "@media print{body{font-size:23px}section{min-height:0;height:186mm;border:0;overflow:hidden}img{max-height:125mm}}"
)
WORDS = 60  # of running text on a slide, so that it can be read from the last row
ROWS = 9  # of a table, or lines of a sum
WORDS_A_LINE = 11
PICTURE = re.compile(r'<img\b[^>]*\bsrc="(data:image/png;base64,[^"]+)"[^>]*>')
ALT = re.compile(r'\balt="([^"]*)"')
# As in plain.sentences, but what is bold stays so: the marks behind a full stop belong to it.
SENTENCE = re.compile(r"(?:(?<=[.!?:;])|(?<=[.!?:;]\*)|(?<=[.!?:;]\*\*))\s+(?=[*(]*[A-Z0-9])")
FOLDS = re.compile(r"<details.*?</details>|<style.*?</style>", re.DOTALL)
NOT_SHOWN = ("Before you start", "Solutions", "Exercises", "The numbers of this build")
ASKING = re.compile(r"^\s*(ask|predict|outcome|solution|progress|my_code)\(")
ABOUT_THE_PAGE = re.compile(
    r"\b(Run All|run the cells?|Press Shift|in the (cell|line) (above|below)|Run the next cell)\b", re.I
)
Slide = tuple[str, str]  # heading, body


def deck(lesson: Lesson) -> str:
    """All slides of a lesson as one HTML page: page down goes to the next; printed, there is one on a sheet."""
    made = list(slides(lesson))
    shown = "".join(
        f'<section aria-label="slide {number} of {len(made)}"><{level}>{html.escape(heading)}</{level}>{body}'
        f"<small>{html.escape(lesson.title)} · {number} of {len(made)}</small></section>"
        for number, level, (heading, body) in ((n, "h1" if n == 1 else "h2", slide) for n, slide in enumerate(made, 1))
    )
    return _whole(f"Slides: {lesson.title}", shown)


def _whole(title: str, inside: str, style: str = "") -> str:
    """A page of slides by itself: its sections bring their own headings."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{STYLE}{style}</style></head>'
        f"<body><main>{inside}</main></body></html>\n"
    )


def slides(lesson: Lesson) -> Iterator[Slide]:
    """Heading and body of each slide."""
    cells = json.loads((NOTEBOOKS / f"{lesson.name}.ipynb").read_text(encoding="utf-8"))["cells"]
    yield lesson.title, _blocks("".join(cells[0]["source"]).partition("\n")[2])
    if lesson.objectives:
        yield "When you are through, you can", _points(list(lesson.objectives))
    for part in caution(cells):
        yield "Before anything else", f'<div class="caution">{part}</div>'
    for name in lesson.predictions:
        yield "Say first what you expect", _points(sentences(find(name).asked(DEMONSTRATION)))
    yield from _parts(cells)


def pictures(chosen: tuple[Lesson, ...]) -> str:
    """Every picture of the lessons' main paths, one a sheet, with its words beneath: to print for wall and hand."""
    made = []
    for lesson in chosen:
        cells = json.loads((NOTEBOOKS / f"{lesson.name}.ipynb").read_text(encoding="utf-8"))["cells"]
        for heading, body in _parts(cells):
            if body.startswith("<img"):
                name = f"{html.escape(lesson.title)}: {html.escape(heading)}"
                made.append(f'<section aria-label="{name}"><h2>{name}</h2>{body}<p>{_alt(body)}</p></section>')
    return _whole("Pictures of the lessons", f"<h1>Pictures of the lessons</h1>{''.join(made)}", "p{font-size:.6em}")


def _parts(cells: list[dict[str, Any]]) -> Iterator[Slide]:
    """Each part of the main path: what its cells say first, their lists, tables and sums, and every picture."""
    heading, skipped = "", True
    for cell in cells[1:]:
        source = "".join(cell["source"])
        if SKIPPED_TAGS & set(cell["metadata"].get("tags", [])):
            continue
        if cell["cell_type"] == "markdown":
            for part in re.split(r"(?m)^(?=#{2,3} )", source):
                found = re.match(r"(#{2,3}) (.*)\n?", part)
                if found:
                    heading = html.unescape(re.sub(r"<[^>]+>|[*`]", "", found[2])).strip()
                    if found[1] == "##":
                        skipped = bool(SKIPPED_HEADINGS.search(heading)) or heading in NOT_SHOWN
                said = "" if skipped else _blocks(part[found.end() :] if found else part)
                if said:
                    yield heading, said
        elif heading and not skipped and not ASKING.match(source):
            for shown in cell["outputs"]:
                page = "".join(shown.get("data", {}).get("text/html", ""))
                yield from (
                    (heading, f'<img src="{image[1]}" alt="{_alt(image[0])}">') for image in PICTURE.finditer(page)
                )


def _blocks(markdown: str) -> str:
    """What a slide shows of a piece of a lesson: short paragraphs; lists, tables and sums as far as there is room."""
    kept, words, rows = [], 0, 0
    for block in re.split(r"\n\s*\n", FOLDS.sub("", markdown).strip("\n")):
        text = re.sub(r"<div[^>]*>|</div>", "", block).strip("\n")
        lines = text.strip().splitlines()
        if not lines:
            continue
        if lines[0].lstrip().startswith(("|", "-", "*  ", "1.")) or text.startswith("    "):
            text = _short_list(text) if re.match(r"[-*] |\d+\.", text) else text
            rows += max(len(text.splitlines()), len(text.split()) // WORDS_A_LINE)
            kept += [text] if rows <= ROWS + 2 else []
            continue
        said = [one for one in SENTENCE.split(" ".join(lines)) if not ABOUT_THE_PAGE.search(one)]
        short: list[str] = []
        while said and words + len(" ".join([*short, said[0]]).split()) <= WORDS:
            short.append(said.pop(0))
        while short and short[-1].rstrip("*").endswith(":") and said:  # its other half has no room
            short.pop()
        words += len(" ".join(short).split())
        kept += [" ".join(short)] if short else []
    while kept and kept[-1].rstrip("*_ ").endswith(":"):  # what it announces is not on the slide
        kept.pop()
    return Page().markdown("\n\n".join(kept)) if kept else ""


def _short_list(text: str) -> str:
    """A list with the first sentence of each item: the others are the lesson's."""
    items = re.split(r"\n(?=[-*] |\d+\.)", text)
    return "\n".join(
        SENTENCE.split(" ".join(item.split()))[0] if len(item.split()) > 2 * WORDS_A_LINE else item for item in items
    )


def _alt(tag: str) -> str:
    found = ALT.search(tag)
    return found[1] if found else ""


def caution(cells: list[dict[str, Any]]) -> list[str]:
    """The lesson's caution box as HTML, in pieces that fit a slide."""
    for cell in cells[:4]:
        text = "".join(cell["source"])
        found = re.search(
            r"(?:^> |<div[^>]*>\s*)(\*\*Cautions?.*?)(?:</div>|\n\n(?![>-])|\Z)", text, flags=re.DOTALL | re.MULTILINE
        )
        if cell["cell_type"] == "markdown" and found:
            lines = re.sub(r"(?m)^> ?", "", found[1]).strip()
            pieces = [one for block in re.split(r"\n\s*\n|\n(?=- )", lines) for one in _short(block)]
            return ["".join(Page().markdown(piece) for piece in pieces[at : at + 7]) for at in range(0, len(pieces), 7)]
    return []


def _short(block: str) -> list[str]:
    """A block of a caution: a list item as it is, running text as single sentences."""
    return [block] if block.lstrip().startswith("- ") else SENTENCE.split(" ".join(block.split()))


def _points(lines: list[str]) -> str:
    return "<ul>" + "".join(f"<li>{html.escape(line)}</li>" for line in lines) + "</ul>"

"""The main path of a lesson as plain text, its sentences and words: what a reader meets without opening a fold."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

LONGEST = 35  # words a sentence

SKIPPED_TAGS = {"solution", "teacher"}
SKIPPED_HEADINGS = re.compile(r"\bDeep\b|^Sources$")
BLOCK = re.compile(r"\n\s*\n|\n(?=\s*(?:[-*>|#]|\d+\.)\s)|(?<=\|)\n")
# A full stop ends a sentence only before a space and a capital, digit or bracket, and not behind these.
END = re.compile(
    r"(?<!\be\.g\.)(?<!\bi\.e\.)(?<!\bNo\.)(?<!\bEx\.)(?<=[.!?:;])"
    r"[*_\"')]*\s+(?=[*_\"'(]*[A-Z0-9])"
)
WORD = re.compile(r"[A-Za-z][A-Za-z'\u2019-]*[A-Za-z]|[A-Za-z]")
ABBREVIATION = re.compile(r"(?<![A-Za-z0-9-])[A-Z]{2,}(?:-[A-Z]{2,})?(?![A-Za-z0-9])")


def main_path(lesson: Path) -> list[str]:
    """The paragraphs, list items, table cells and headings that stand open on a lesson's main path, as plain text.

    Left out: cells tagged ``solution`` or ``teacher``, folds, the Deep sections, the sources, code and formulas.
    """
    found: list[str] = []
    skipped = False
    for cell in json.loads(lesson.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] != "markdown" or SKIPPED_TAGS & set(cell["metadata"].get("tags", [])):
            continue
        for part in re.split(r"(?m)^(?=## )", "".join(cell["source"])):
            heading = re.match(r"## (.*)", part)
            if heading:
                skipped = bool(SKIPPED_HEADINGS.search(heading[1].strip()))
            if not skipped:
                found += list(_blocks(part))
    return found


def sentences(block: str) -> list[str]:
    """The sentences of a paragraph; a colon or semicolon before a capital ends one too."""
    return [part.strip() for part in END.split(block) if part.strip()]


def words(text: str) -> list[str]:
    """Its words, without numbers and signs."""
    return WORD.findall(text)


def abbreviations(text: str) -> list[str]:
    """Runs of two or more capitals, such as ``DXF``."""
    return ABBREVIATION.findall(text)


def simple(text: str) -> str:
    """Markdown as the plain words that are read: no marks, links' words only, formulas and code left out."""
    text = re.sub(r"(?s)<details.*?</details>|<style.*?</style>", " ", text)
    text = re.sub(r"(?s)\$\$.*?\$\$|```.*?```", " ", text)
    text = re.sub(r"\$[^$\n]*\$|`[^`\n]*`", "x", text)
    text = re.sub(r"(?m)^(?: {4}|\t).*$", "", text)
    text = re.sub(r"!?\[([^\]]*)\]\([^)]*\)", r"\1", text)
    text = re.sub(r"<[^>]+>", " ", text)
    return re.sub(r"\*\*|(?<!\w)[*_]|[*_](?!\w)", "", text)


def _blocks(text: str) -> Iterator[str]:
    for block in BLOCK.split(simple(text)):
        row = block.strip()
        cells = row.strip("|").split("|") if row.startswith("|") else [row]
        for cell in cells:
            plain = re.sub(r"\s+", " ", re.sub(r"^[#>\-\s]+|^\d+\.\s", "", cell)).strip()
            if re.search(r"[A-Za-z]", plain):
                yield plain


def is_among(word: str, common: set[str]) -> bool:
    """Whether a word, or what is left without its usual ending, is among the common ones."""
    word = re.sub(r"('s|\u2019s|s')$", "", word.lower())
    stems = {word}
    for ending in ("s", "es", "d", "ed", "ing", "r", "er", "st", "est", "ly", "ness"):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            stem = word[: -len(ending)]
            stems |= {stem, stem + "e"} | ({stem[:-1]} if stem[-1:] == stem[-2:-1] else set())
            stems |= {stem[:-1] + "y"} if stem.endswith("i") else set()
    return not stems.isdisjoint(common) or (
        "-" in word and all(is_among(part, common) for part in word.split("-") if part)
    )

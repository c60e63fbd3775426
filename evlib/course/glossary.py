"""The glossary: every word of the trade and every quantity, with its meaning and the lesson that explains it."""

from __future__ import annotations

import dataclasses
import functools
import html
import importlib
import pkgutil
import re
import tomllib
from collections.abc import Sequence
from pathlib import Path

from evlib import ground
from evlib.ground.quantity import Quantity, quantity_of
from evlib.ground.shown import Shown
from evlib.panels.twin import Table

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "data" / "course"
LESSONS = ROOT / "notebooks"
TOPICS = {
    "motors": "01_motors", "gearing": "02_gearing", "shafts": "03_shafts", "hydraulics": "04_hydraulics",
    "parking": "05_parking", "safety": "06_safety",
}  # fmt: skip


@dataclasses.dataclass(frozen=True)
class Word:
    """A word of the trade: what it means, which lesson explains it, and with which words of that lesson."""

    term: str
    says: str
    lesson: str
    there: str = ""  # nothing: a word of any workshop or school, which only the glossary explains
    also: tuple[str, ...] = ()
    before: tuple[tuple[str, str], ...] = ()  # earlier lessons that use it, with the words there that explain it
    ignore: tuple[str, ...] = ()  # lessons that use the same letters for an everyday word

    @functools.cached_property
    def pattern(self) -> re.Pattern[str]:
        """Finds the word and its plain endings."""
        forms = "|".join(re.escape(form).replace(r"\ ", r"\s") for form in (self.term, *self.also))
        return re.compile(rf"(?<![\w-])(?:{forms})(?:'s|\u2019s|s|es|s'|ed)?(?![\w-])", re.IGNORECASE)


@dataclasses.dataclass(frozen=True)
class Meant:
    """A quantity as the glossary lists it."""

    quantity: Quantity
    lesson: str


@functools.cache
def words() -> tuple[Word, ...]:
    """Every word of ``data/course/words.toml``, in order of the alphabet."""
    read = tomllib.loads((DATA / "words.toml").read_text(encoding="utf-8"))
    found = [
        Word(term, **{**entry, "also": tuple(entry.get("also", ())), "ignore": tuple(entry.get("ignore", ())),
                      "before": tuple(entry.get("before", {}).items())})
        for term, entry in read.items()
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda word: word.term.lower()))


@functools.cache
def abbreviations() -> dict[str, str]:
    """Every abbreviation of ``data/course/abbreviations.toml``, written out."""
    return tomllib.loads((DATA / "abbreviations.toml").read_text(encoding="utf-8"))


@functools.cache
def quantities() -> tuple[Meant, ...]:
    """Every declared quantity once, with the first topic that declares or uses it."""
    shared = {_same(found): found for name in _ground() for found in _declared(f"evlib.ground.{name}")}
    made: dict[tuple[str, str], Meant] = {}
    for topic, lesson in TOPICS.items():
        for found in _declared(f"evlib.{topic}.quantities"):
            made.setdefault(_same(found), Meant(found, lesson))
    for key, found in shared.items():
        made.setdefault(key, Meant(found, "02_gearing"))  # what only the ground declares is the road's
    return tuple(sorted(made.values(), key=lambda meant: (meant.quantity.text.lower(), meant.quantity.symbol)))


def _ground() -> list[str]:
    return [module.name for module in pkgutil.iter_modules(ground.__path__)]


def _declared(module: str) -> list[Quantity]:
    found = [quantity_of(value) for value in vars(importlib.import_module(module)).values()]
    return [quantity for quantity in found if quantity is not None]


def _same(quantity: Quantity) -> tuple[str, str]:
    return quantity.symbol, quantity.text


def titles() -> dict[str, str]:
    """Every lesson's file name without ending, and its short name, such as ``3b``."""
    return {path.stem: re.sub(r"^0", "", path.stem.split("_")[0]) for path in sorted(LESSONS.glob("*.ipynb"))}


def words_table() -> Shown:
    """Words of the trade: the word, what it means, and the lesson that explains it."""
    rows = [(word.term, word.says, word.lesson) for word in words()]
    return _listed(("word", "what it means", "lesson"), rows)


def abbreviations_table() -> Shown:
    """Abbreviations, written out."""
    made = Table(("abbreviation", "written out"), tuple(sorted(abbreviations().items())))
    return Shown(made.plain(), made.html())


def quantities_table() -> Shown:
    """Quantities: what, symbol, unit, how to get it, and the lesson that uses it first."""
    rows = [
        (
            meant.quantity.text,
            meant.quantity.symbol,
            meant.quantity.unit or "-",
            meant.quantity.how or "-",
            meant.lesson,
        )
        for meant in quantities()
    ]
    return _listed(("quantity", "symbol", "SI unit", "how to get it", "lesson"), rows)


def _listed(header: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> Shown:
    """A table whose last column is a link to a lesson; as text, its number."""
    numbers = titles()
    plain = Table(header, tuple((*row[:-1], numbers.get(row[-1], row[-1])) for row in rows)).plain()
    head = "".join(f'<th scope="col" style="text-align:left">{html.escape(name)}</th>' for name in header)
    body = []
    for row in rows:
        cells = "".join(f'<td style="text-align:left">{html.escape(cell)}</td>' for cell in row[1:-1])
        link = f'<a href="{row[-1]}.ipynb">{html.escape(numbers.get(row[-1], row[-1]))}</a>'
        body.append(
            f'<tr><th scope="row" style="text-align:left">{html.escape(row[0])}</th>{cells}<td>{link}</td></tr>'
        )
    return Shown(plain, f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(body)}</tbody></table>")

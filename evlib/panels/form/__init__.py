"""A form that fills in a learner's own build: boxes with labels where a kernel runs, the same as tables without one."""

from __future__ import annotations

import html
import secrets
from pathlib import Path
from typing import Any

from evlib.build.entry import Entry, enter, entries, sections_of
from evlib.build.file import SOURCES
from evlib.panels.markup import display_mounted
from evlib.panels.twin import table_html

LIVE: dict[str, Any] = {}  # the live form of each mount, so that running a cell again replaces it
TITLES = {"ac": "if it is an AC machine", "low": "low gear's clutch or band", "direct": "direct gear's clutch or band",
          "reverse": "reverse's clutch or band"}  # fmt: skip


class Form:
    """What stands behind a form: the file, the parts that are asked for, and the answers to the page's messages."""

    def __init__(self, path: Path, *parts: str) -> None:
        self.path, self.parts, self.sections = path, parts, sections_of(*parts)

    @property
    def rows(self) -> tuple[Entry, ...]:
        """The entries as the file has them now."""
        return entries(self.path, *self.sections)

    def counts(self) -> str:
        """How much is known, in one sentence."""
        rows = [row for row in self.rows if not row.path.endswith(".fitted")]
        known = [row for row in rows if row.typed]
        guesses = sum(row.source == "guess" for row in known)
        guessed = f", {guesses} of them guesses" if guesses else ""
        return f"{len(known)} of {len(rows)} values of these parts are known{guessed}."

    def spec(self) -> dict[str, Any]:
        """What the page needs to build the form."""
        sections = [
            {"path": section, "title": title(section), "rows": [_row(row) for row in self.rows if _in(row, section)]}
            for section in self.sections
        ]
        return {"file": self.path.name, "sections": sections, "sources": list(SOURCES), "counts": self.counts()}

    def receive(self, message: dict[str, Any]) -> dict[str, Any]:
        """Answer one message of the page: a greeting with all values, an entry with what became of it."""
        if message.get("kind") != "enter":
            return {"kind": "all", "rows": [_row(row) for row in self.rows], "counts": self.counts()}
        place, text, source = (str(message.get(key, "")) for key in ("path", "text", "source"))
        try:
            row = enter(self.path, place, text, source=source)
        except (ValueError, OSError) as error:
            return {"kind": "refused", "path": place, "sentence": f"Not saved: {error}."}
        said = f"Saved as a {row.source}." if row.source == "guess" else "Saved." if row.typed else "Not known."
        return {"kind": "saved", "row": _row(row), "sentence": said, "counts": self.counts()}

    def static(self) -> str:
        """The form without a kernel: what is known and how to find out the rest."""
        header = ("what", "value", "from", "how to get it", "typically")
        parts = []
        for section in self.sections:
            rows = [[_label(row), row.typed or "not known", row.source, row.how, row.typical or ", ".join(row.options)]
                    for row in self.rows if _in(row, section)]  # fmt: skip
            asked = [row for row in self.rows if _in(row, section) and not row.path.endswith(".fitted")]
            summary = f"{title(section)}: {sum(bool(row.typed) for row in asked)} of {len(asked)} filled in"
            parts.append(f"<details><summary>{html.escape(summary)}</summary>{table_html(header, rows)}</details>")
        how = f"Run this cell for boxes to fill in, or write into builds/{self.path.name} in your folder."
        return f"<p>{html.escape(self.counts())} {html.escape(how)}</p>{''.join(parts)}"


def fill_in(path: Path, *parts: str) -> None:
    """Show a form for the named parts of a learner's build; every answer is saved at once."""
    form, run = Form(path, *parts), secrets.token_hex(4)
    if not display_mounted(form.static(), form.counts(), run=run):
        return
    from evlib.panels.form.live import Live

    key = " ".join((path.name, *parts))
    if key in LIVE:
        LIVE.pop(key).close()
    LIVE[key] = Live(form, run)


def title(section: str) -> str:
    """A part's name as a heading: ``hydraulics.electric_pump`` is ``electric pump``."""
    last = section.rsplit(".", 1)[-1]
    return TITLES.get(last, last.replace("_", " "))


def _in(row: Entry, section: str) -> bool:
    return row.path.rsplit(".", 1)[0] == section


def _label(row: Entry) -> str:
    return f"{row.words}, {row.symbol}" if row.symbol else row.words


def _row(row: Entry) -> dict[str, Any]:
    """An entry as it is sent to the page, its help in one sentence."""
    helps = [f"in {row.unit}" if row.kind == "number" and row.unit else "",
             f"one point a line: {row.unit}" if row.kind == "points" else "",
             f"typically {row.typical}" if row.typical else "",
             f"how: {row.how}" if row.how else "", row.note]  # fmt: skip
    return {
        "path": row.path, "kind": row.kind, "label": _label(row), "help": "; ".join(filter(None, helps)),
        "options": row.options, "typed": row.typed, "source": row.source or "guess",
        "sourced": row.kind != "words" and not row.path.endswith((".fitted", ".invented")),
    }  # fmt: skip

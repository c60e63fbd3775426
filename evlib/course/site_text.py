"""The markdown and the outputs of a lesson as HTML that reads on a phone, without a kernel and without a network."""

from __future__ import annotations

import html
import re
from typing import Any

import mistune

from evlib.course.site_formula import mathml

WIDE = 3  # columns of a table from which on it may have to be moved sideways on a phone
CROWDED, WORDY = 5, 60  # columns, and letters in a cell, from which on it is made wider than a phone
HOW = re.compile(r"<p><small>(?:Run this cell|To change it, run this cell)\b.*?</small></p>", re.DOTALL)


class Page(mistune.HTMLRenderer):
    """One page: its headings get the anchors that they have in JupyterLab, links lead to pages."""

    def __init__(self) -> None:
        super().__init__(escape=False)
        self.headings: list[tuple[int, str, str]] = []  # level, anchor, text

    def heading(self, text: str, level: int, **attrs: Any) -> str:
        """A heading with its anchor."""
        plain = html.unescape(re.sub(r"<[^>]+>", "", text))
        anchor = base = plain.replace(" ", "-")
        number = 2
        while anchor in [used for _, used, _ in self.headings]:
            anchor, number = f"{base}-{number}", number + 1
        self.headings.append((level, anchor, plain))
        return f'<h{level} id="{html.escape(anchor)}">{text}</h{level}>\n'

    def link(self, text: str, url: str, title: str | None = None) -> str:
        """A link; one to a notebook leads to that lesson's page."""
        return super().link(text, page_of(url), title)

    def block_code(self, code: str, info: str | None = None) -> str:
        """A sum on paper, or code."""
        return preformatted(code.rstrip("\n"))

    def table(self, text: str) -> str:
        """A table, moved sideways by itself if it is wider than the screen."""
        return scrolled(f"<table>{text}</table>") + "\n"

    def block_math(self, text: str) -> str:
        """A formula on a line of its own."""
        return f"<p>{mathml(text, block=True)}</p>\n"

    def inline_math(self, text: str) -> str:
        """A formula within the text."""
        return mathml(text, block=False)

    def markdown(self, text: str) -> str:
        """Markdown to HTML."""
        return str(mistune.create_markdown(renderer=self, plugins=["table", "math", "strikethrough"])(text))


def page_of(url: str) -> str:
    """Where a link of a lesson leads in the pages.

    >>> page_of("00b_bridges.ipynb#2-Turning"), page_of("#Sources")
    ('00b_bridges.html#2-Turning', '#Sources')
    """
    return re.sub(r"^([\w-]+)\.ipynb(?=#|$)", r"\1.html", url)


def preformatted(text: str) -> str:
    """Text in its own lines; it can be reached by keyboard, to be moved sideways where it is wide."""
    return f'<pre tabindex="0">{html.escape(text)}</pre>\n'


def scrolled(tables: str) -> str:
    """HTML whose wide tables move sideways within themselves, by keyboard too."""
    return re.sub(r"<table.*?</table>", _scroll, tables, flags=re.DOTALL)


def _scroll(found: re.Match[str]) -> str:
    table = re.sub(r"<th\b[^>]*></th>", "<td></td>", found[0])  # an empty heading is none, for who hears the table
    columns = len(re.findall(r"<t[hd]\b", table.partition("</tr>")[0]))
    reach = ' tabindex="0" role="group" aria-label="Table, can be moved sideways"' if columns >= WIDE else ""
    wordy = max(map(len, re.findall(r"<t[hd]\b[^>]*>(.*?)</t[hd]>", table, flags=re.DOTALL)), default=0) > WORDY
    if columns >= CROWDED or (columns >= WIDE and wordy):  # else a phone squeezes sentences into columns of one word
        table = table.replace("<table", f'<table style="min-width:{min((11 if wordy else 6) * columns, 44)}rem"', 1)
    return f'<div class="wide"{reach}>{table}</div>'


def output(shown: dict[str, Any]) -> str:
    """What a cell has shown: its HTML, or its text. What asks for a running kernel is left out.

    Raises ``ValueError`` for an error, which has no place in a lesson.
    """
    if shown["output_type"] == "error":
        raise ValueError(f"a cell shows an error: {shown.get('evalue', '')}")
    if shown["output_type"] == "stream":
        return f'<pre class="said">{html.escape("".join(shown["text"]).rstrip())}</pre>\n'
    data = shown["data"]
    if "text/html" not in data:
        return preformatted("".join(data["text/plain"]))
    page = HOW.sub("", "".join(data["text/html"]))
    return scrolled(re.sub(r'(?<=<a href=")[^"]*', lambda found: page_of(found[0]), page))

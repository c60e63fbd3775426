"""What a cell shows: HTML in a browser, the same words as text elsewhere, for nbval to compare and screen readers."""

from __future__ import annotations


class Shown:
    """The last value of a cell, in both forms."""

    def __init__(self, text: str, page: str) -> None:
        self._text, self._page = text, page

    def __repr__(self) -> str:
        return self._text

    def _repr_html_(self) -> str:
        return self._page

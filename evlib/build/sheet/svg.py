"""A few strokes for the sheet's drawings: plain SVG in millimetres of paper, so that a drawing prints to its scale."""

from __future__ import annotations

import html
from collections.abc import Iterable

INK, GREY, PALE, METAL, PART = "#222222", "#5b5b5b", "#eef1f4", "#d5dbe3", "#b9c8d8"
BLUE, GREEN, RED = "#0072b2", "#007f5c", "#b03a00"  # each at least 4.5 to 1 against white; never alone: dashes differ
TEXT = 2.9  # mm; the height of letters, about 8 points


class Drawing:
    """A sheet of paper of some millimetres. Up is up: ``y`` grows upward from the bottom."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._parts: list[str] = []

    def _y(self, y: float) -> float:
        return self.height - y

    def box(self, x: float, y: float, width: float, height: float, *, fill: str = "none", dash: str = "") -> None:
        """A rectangle from its lower left corner."""
        self._parts.append(
            f'<rect x="{x:.2f}" y="{self._y(y + height):.2f}" width="{width:.2f}" height="{height:.2f}" '
            f'fill="{fill}" stroke="{INK}" stroke-width="0.25"{_dashes(dash)}/>'
        )

    def circle(self, x: float, y: float, radius: float, *, fill: str = "none", dash: str = "") -> None:
        """A circle about a point."""
        self._parts.append(
            f'<circle cx="{x:.2f}" cy="{self._y(y):.2f}" r="{radius:.2f}" fill="{fill}" stroke="{INK}" '
            f'stroke-width="0.25"{_dashes(dash)}/>'
        )

    def line(
        self, points: Iterable[tuple[float, float]], *, colour: str = INK, dash: str = "", width: float = 0.3
    ) -> None:
        """A line through points."""
        path = " ".join(f"{x:.2f},{self._y(y):.2f}" for x, y in points)
        self._parts.append(
            f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="{width}"{_dashes(dash)}/>'
        )

    def dimension(self, x0: float, x1: float, y: float, words: str, *, colour: str = GREY) -> None:
        """A dimension line with a stroke at each end, its size beneath."""
        self.line(((x0, y), (x1, y)), colour=colour, width=0.25)
        for x in (x0, x1):
            self.line(((x, y - 1), (x, y + 1)), colour=colour, width=0.25)
        self.text((x0 + x1) / 2, y - 3.6, words, colour=INK)

    def text(self, x: float, y: float, words: str, *, anchor: str = "middle", size: float = TEXT, colour: str = INK,
             weight: str = "normal") -> None:  # fmt: skip
        """Words on a base line."""
        self._parts.append(
            f'<text x="{x:.2f}" y="{self._y(y):.2f}" font-size="{size}" text-anchor="{anchor}" fill="{colour}" '
            f'font-weight="{weight}">{html.escape(words)}</text>'
        )

    def svg(self, alt: str) -> str:
        """The drawing as markup, at its true size on paper, with its alternative text."""
        return (
            f'<svg role="img" aria-label="{html.escape(alt, quote=True)}" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'style="width:{self.width:g}mm;max-width:100%" font-family="DejaVu Sans, Verdana, sans-serif">'
            + "".join(self._parts)
            + "</svg>"
        )


def _dashes(dash: str) -> str:
    return f' stroke-dasharray="{dash}"' if dash else ""

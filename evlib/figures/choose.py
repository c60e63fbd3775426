"""What the lesson on choosing draws: what moves a check's margin, as a tornado."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from evlib.build.spread import Bar, Tornado
from evlib.figures import base
from evlib.ground.quantity import Quantity, result

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MARGIN = Quantity("m", "", "margin of the check", shown={"SI": "%", "shop": "%"})
DEVIATIONS = Quantity("k", "", "moved by: its standard deviations, less or more", low=-5, high=5, slider=(-2, 2))
MOST = 6
LONGEST = 52  # letters of a value's words that have room over its bar


@result
class Moves:
    """A tornado, and one of its values moved."""

    tornado: Tornado
    place: int  # of the moved bar; the longest is 0
    deviations: float
    value: float  # of the moved quantity
    margin: float  # with it

    @property
    def bars(self) -> tuple[Bar, ...]:
        """The bars that are drawn."""
        return self.tornado.bars[:MOST]


def tornado(result: Moves, axes: Axes) -> None:
    """A bar for each value, from the margin at the low end of its span to that at the high end; one is moved."""
    bars, target = result.bars, 100 * (result.tornado.target or 0.0)
    ends = 100 * np.array([[bar.at_low, bar.at_high] for bar in bars])
    for place, bar in enumerate(bars):
        low, high = ends[place]
        here = 100 * result.tornado.here
        axes.fill_between([min(low, here), max(low, here)], place - 0.16, place + 0.16, color=base.COLOURS["blue"],
                          alpha=0.85, linewidth=0)  # fmt: skip
        axes.fill_between([min(high, here), max(high, here)], place - 0.16, place + 0.16,
                          color=base.COLOURS["vermilion"], alpha=0.45, linewidth=0)  # fmt: skip
        moved = "  < moved" if place == result.place else ""
        axes.text(0.0, place - 0.42, f" {short(bar.words)}{moved}", va="center", ha="left", fontsize=9,
                  transform=axes.get_yaxis_transform())  # fmt: skip
    every = [*ends.ravel(), 0.0, target, 100 * result.margin]
    left, right = min(every), max(every)
    room = 0.06 * (right - left)
    axes.set_xlim(left - room, right + room)
    axes.set_ylim(len(bars) - 0.5, -0.75)
    # Marks stand at the bars alone, so that no line goes through a word.
    heights = np.ravel([[place - 0.26, place + 0.26, np.nan] for place in range(len(bars))])
    marks = [(0.0, base.INK, "-"), (target, base.COLOURS["green"], (0, (6, 2)))] if target else [(0.0, base.INK, "-")]
    for at, colour, dash in marks:
        axes.plot(np.full(len(heights), at), heights, color=colour, linestyle=dash, linewidth=1.6, label="_mark")
    axes.plot([100 * result.margin], [result.place], color=base.INK, marker="D", linestyle="none", label="_here")
    axes.set_yticks(range(len(bars)), [str(place + 1) for place in range(len(bars))])
    axes.grid(visible=False, axis="y")
    axes.set_ylabel("value; dark: at the low end of its span, pale: at the high end")
    axes.set_xlabel("margin m [%]; solid: 0" + (", dashed: the target" if target else ""))


def short(words: str) -> str:
    """A value's words, so short that they have room over a bar; the part in brackets at the end stays."""
    head, bracket, part = words.partition(" (")
    head = head.split(":")[0].split(",")[0]
    tail = bracket + part if bracket and len(head) + len(part) < LONGEST else ""
    return (head if len(head) <= LONGEST else head[: LONGEST - 1].rstrip() + "…") + tail

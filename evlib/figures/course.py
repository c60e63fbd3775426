"""What a class has done: a grid of learners and lessons, and the slips that many make."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

from evlib.figures.base import COLOURS

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LABELS = 2.6  # columns' widths kept for the row's name
DARKEST = 0.55  # of the blue that is all done: the number in it is read easily on it
WIDEST = 62  # signs of a slip's name in the picture; the table beneath has it whole


@dataclasses.dataclass(frozen=True)
class Grid:
    """Shares from 0 to 1, one row for each learner and one column for each lesson."""

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    shares: tuple[tuple[float, ...], ...]


@dataclasses.dataclass(frozen=True)
class Bars:
    """Counts with their names, the largest first."""

    names: tuple[str, ...]
    counts: tuple[int, ...]


def draw_grid(result: Grid, axes: Axes) -> None:
    """Each share as a per cent in a field that is darker the more is done; an empty field is nothing done."""
    from matplotlib.patches import Rectangle

    axes.set_axis_off()
    axes.set(xlim=(-LABELS, len(result.columns)), ylim=(len(result.rows), -1))
    for at, name in enumerate(result.columns):
        axes.text(at + 0.5, -0.5, name, ha="center", va="center", weight="bold")
    axes.text(-LABELS, -0.5, "lesson", ha="left", va="center", weight="bold")
    for down, (name, shares) in enumerate(zip(result.rows, result.shares, strict=True)):
        axes.text(-0.15, down + 0.5, name, ha="right", va="center", fontsize=8 if len(name) > 9 else 9.5)
        for at, share in enumerate(shares):
            axes.add_patch(Rectangle((at + 0.04, down + 0.06), 0.92, 0.88, facecolor=COLOURS["blue"], linewidth=0,
                                     alpha=share * DARKEST))  # fmt: skip
            axes.add_patch(Rectangle((at + 0.04, down + 0.06), 0.92, 0.88, fill=False, edgecolor="#BBBBBB"))
            if share > 0:
                axes.text(at + 0.5, down + 0.5, f"{100 * share:.0f}", ha="center", va="center", fontsize=9)


def draw_slips(result: Bars, axes: Axes) -> None:
    """A bar for each slip, its name over it, and how many learners made it."""
    from matplotlib.ticker import MaxNLocator

    places = range(len(result.names))
    axes.barh(list(places), result.counts, height=0.36, color=COLOURS["vermilion"])
    for place, name, count in zip(places, result.names, result.counts, strict=True):
        short = name if len(name) <= WIDEST else name[: WIDEST - 1] + "…"
        axes.text(0, place - 0.24, f"{count}  {short}", ha="left", va="bottom", fontsize=9)
    axes.set(ylim=(len(result.names) - 0.5, -0.9), xlim=(0, max(result.counts, default=1) * 1.02))
    axes.set_yticks([])
    axes.grid(axis="y", visible=False)
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.set_xlabel("learners who made the slip")

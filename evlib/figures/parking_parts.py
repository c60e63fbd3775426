"""The parts that hold a car, drawn so that their names and the forces on them can be seen: park lock and drum brake."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.build.parking_cases import DrumPicture, LockPicture
from evlib.figures import base

if TYPE_CHECKING:
    from matplotlib.axes import Axes

STEEL, PAWL, LINING = "#E8E8E8", "#F6DDCB", "#D9E6F2"


def _line(axes: Axes, x: Any, y: Any, colour: str = base.INK, width: float = 1.3, style: Any = "-") -> None:
    axes.plot(x, y, color=colour, linewidth=width, linestyle=style, label="_part")


def _shape(axes: Axes, points: Any, fill: str, edge: str = base.INK) -> None:
    x, y = np.asarray(points, dtype=float).T
    axes.fill(x, y, facecolor=fill, edgecolor=edge, linewidth=1.3, linestyle="-")


def _circle(axes: Axes, at: tuple[float, float], radius: float, fill: str, edge: str = base.INK) -> None:
    turn = np.linspace(0, 2 * np.pi, 60)
    _shape(axes, np.column_stack([at[0] + radius * np.cos(turn), at[1] + radius * np.sin(turn)]), fill, edge)


def _arrow(axes: Axes, tail: tuple[float, float], head: tuple[float, float], colour: str) -> None:
    """A straight arrow, with its own drawn head."""
    start, end = np.asarray(tail), np.asarray(head)
    along = (end - start) / np.linalg.norm(end - start)
    across = np.array([-along[1], along[0]])
    size = 0.05 * abs(axes.get_ylim()[1] - axes.get_ylim()[0])
    neck = end - 0.7 * size * along
    _line(axes, [start[0], neck[0]], [start[1], neck[1]], colour, 2.0)
    _shape(axes, [end, end - size * along + 0.4 * size * across, end - size * along - 0.4 * size * across],
           colour, colour)  # fmt: skip


def _turning(axes: Axes, radius: float, begin: float, end: float, colour: str) -> None:
    """An arrow along a circle round the middle, from one angle to another [degrees]."""
    turn = np.radians(np.linspace(begin, end, 30))
    _line(axes, radius * np.cos(turn[:-2]), radius * np.sin(turn[:-2]), colour, 2.0)
    tail, head = ((radius * np.cos(t), radius * np.sin(t)) for t in (turn[-4], turn[-1]))
    _arrow(axes, tail, head, colour)


def _name(axes: Axes, words: str, at: tuple[float, float], where: tuple[float, float], side: str = "left",
          colour: str = base.INK) -> None:  # fmt: skip
    """A name with a thin line to what it names."""
    _line(axes, [at[0], where[0]], [at[1], where[1]], base.GREY, 0.8)
    axes.plot([at[0]], [at[1]], color=base.INK, marker="o", markersize=3, linestyle="none", label="_at")
    off = 0.05 if side == "left" else -0.05
    axes.text(where[0] + off, where[1], words, ha=side, va="center", color=colour, fontsize=9.5)


def _frame(axes: Axes, *, middle: tuple[float, float], tall: float) -> None:
    """Equal scales across and up, without axes."""
    wide = tall * axes.bbox.width / axes.bbox.height
    axes.set_xlim(middle[0] - wide / 2, middle[0] + wide / 2)
    axes.set_ylim(middle[1] - tall / 2, middle[1] + tall / 2)
    axes.set_axis_off()


def park_lock(result: LockPicture, axes: Axes) -> None:
    """Park wheel, pawl, pin and cam, with the force of a car that wants to roll. Wheel to scale, the rest a sketch."""
    _frame(axes, middle=(0.78, 0.36), tall=3.0)
    blue, red = base.COLOURS["blue"], base.COLOURS["vermilion"]
    _shape(axes, result.wheel, STEEL)
    _circle(axes, (0.0, 0.0), 0.32, "white")
    _shape(axes, result.pawl, PAWL, red)
    _circle(axes, result.pin, 0.085, "white")
    _circle(axes, (result.pin[0], result.pin[1]), 0.03, base.INK)
    _circle(axes, result.cam, 0.16, LINING, blue)
    _turning(axes, 0.62, 160, 70, base.INK)
    x, y = result.contact
    _arrow(axes, (x - 0.62, y), (x - 0.02, y), red)
    _arrow(axes, (x - 0.12, y + 0.16), (x - 0.12, y + 0.72), blue)
    axes.text(x - 0.66, y, "F along\nthe circle", ha="right", va="center", color=red, fontsize=9.5)
    axes.text(x - 0.2, y + 0.62, "throws it out", ha="right", va="center", color=blue, fontsize=9.5)
    _name(axes, "cam, moved by the lever:\nholds the pawl down", result.cam, (0.95, 1.78))
    _name(axes, "pawl", result.arm, (1.5, 1.32))
    _name(axes, "pawl's pin, in the\ngearbox case", result.pin, (1.85, 0.85))
    _name(axes, "gap", result.gap, (1.35, 0.25))
    _name(axes, "tooth", result.tooth, (1.35, -0.2))
    _name(axes, "park wheel, turns with\nthe gearbox output", (0.72, -0.5), (1.35, -0.7))
    axes.text(0.0, -0.62, "the car wants\nto roll", ha="center", va="center", fontsize=9.5)


def drum(result: DrumPicture, axes: Axes) -> None:
    """Drum, two shoes on their pivot, the force that pushes them, and which of them leads. To scale."""
    _frame(axes, middle=(0.0, 0.03), tall=3.0)
    blue, red, green = base.COLOURS["blue"], base.COLOURS["vermilion"], base.COLOURS["green"]
    _circle(axes, (0.0, 0.0), 1.14, STEEL)
    _circle(axes, (0.0, 0.0), 1.0, "white")
    for shoe, colour in ((result.leading, red), (result.trailing, blue)):
        _shape(axes, shoe, PAWL if colour == red else LINING, colour)
    for web in result.webs:
        _line(axes, *web, base.INK, 3.0)
    _circle(axes, result.pivot, 0.06, "white")
    x, y = result.push
    _arrow(axes, (0.08, y), (x - 0.02, y), green)
    _arrow(axes, (-0.08, y), (-x + 0.02, y), green)
    axes.text(0.0, y - 0.27, "force on each shoe", ha="center", va="center", color=green, fontsize=9.5)
    _turning(axes, 1.27, 125, 55, base.INK)
    axes.text(0.0, 1.42, "drum turns this way", ha="center", va="center", fontsize=9.5)
    _name(axes, "leading shoe:\nthe drum drags it on,\ntowards its pivot", result.leading_at, (1.4, 0.55), "left", red)
    _name(axes, "trailing shoe:\nthe drum\npushes it off", result.trailing_at, (-1.4, 0.55), "right", blue)
    _name(axes, "drum, turns with the wheel", (0.83, -0.68), (1.4, -0.6))
    _name(axes, "pivot, stands still", result.pivot, (-1.4, -0.95), "right")
    _name(axes, "lining, on the shoe", result.lining_at, (1.4, -0.1))

"""The traction circuit as a drawing: pack, fuse, contactors, precharge, controller, motors, leaks to the chassis."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.figures import base

if TYPE_CHECKING:
    from matplotlib.axes import Axes

TOP, BOTTOM, OVER = 60.0, 12.0, 72.0  # heights of the plus rail, the minus rail, and the precharge branch


def circuit(result: Any, axes: Axes) -> None:
    """The circuit, with all contacts open and the service disconnect in. ``result`` is not read."""
    axes.set_axis_off()
    _wires(axes)
    _pack(axes, 14)
    _plug(axes, 14, 36)
    for height, name in ((51.0, "R_p"), (21.0, "R_n")):
        _resistor(axes, 3, height, upright=True, dash=(0, (2, 1.5)))
        axes.text(6.5, height - 1, name, ha="left", va="center", fontsize=9)
    _box(axes, (24, 34), (TOP - 2, TOP + 2))
    _line(axes, [24, 34], [TOP, TOP])
    for x, y in ((46, TOP), (46, BOTTOM), (42, OVER)):
        _contact(axes, x, y)
    _resistor(axes, 59, OVER, upright=False)
    _capacitor(axes, 72, 36)
    _resistor(axes, 81, 36, upright=True)
    _box(axes, (101, 117), (26, 46))
    for middle in (50.0, 22.0):
        turn = np.linspace(0, 2 * np.pi, 60)
        axes.fill(134 + 6 * np.cos(turn), middle + 6 * np.sin(turn), facecolor="white", edgecolor=base.INK,
                  linewidth=1.4, linestyle="-")  # fmt: skip
        axes.text(134, middle, "M", ha="center", va="center", fontsize=11)
    for across, up, words, side in (
        (17.5, 41, "pack", "left"), (18, 35, "service\ndisconnect", "left"),
        (29, 65, "fuse", "center"), (-4, 36, "chassis", "center"),
        (50, 53.5, "positive\ncontactor", "center"), (50, 20, "negative\ncontactor", "center"),
        (46, 78, "precharge relay", "right"), (54, 79, "precharge\nresistor", "left"),
        (70, 29, "capa-\ncitor", "right"), (84, 36, "dis-\ncharge\nresistor", "left"),
        (109, 36, "controller", "center"), (137, 36, "motors,\nin series", "left"),
        (104, 65, "controller's plus terminal", "center"), (104, 7, "controller's minus terminal", "center"),
    ):  # fmt: skip
        axes.text(across, up, words, ha=side, va="center", fontsize=9,
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8})  # fmt: skip
    shape = axes.bbox.width / axes.bbox.height
    tall = max(80.0, 164.0 / shape)
    axes.set_xlim(71 - tall * shape / 2, 71 + tall * shape / 2)
    axes.set_ylim(43 - tall / 2, 43 + tall / 2)


def _line(axes: Axes, x: Any, y: Any, *, width: float = 1.4, dash: Any = "-") -> None:
    axes.plot(x, y, color=base.INK, linestyle=dash, linewidth=width, label="_wire")


def _box(axes: Axes, x: tuple[float, float], y: tuple[float, float]) -> None:
    axes.fill([x[0], x[1], x[1], x[0]], [y[0], y[0], y[1], y[1]], facecolor="white", edgecolor=base.INK, linewidth=1.4,
              linestyle="-")  # fmt: skip


def _wires(axes: Axes) -> None:
    rails: tuple[tuple[Any, Any], ...] = (
        ([14, 46], [TOP, TOP]), ([54, 104], [TOP, TOP]), ([104, 104], [TOP, 46]),
        ([14, 46], [BOTTOM, BOTTOM]), ([54, 104], [BOTTOM, BOTTOM]), ([104, 104], [BOTTOM, 26]),
        ([14, 14], [TOP, 44]), ([14, 14], [BOTTOM, 28]),
        ([38, 38, 42], [TOP, OVER, OVER]), ([50, 68, 68], [OVER, OVER, TOP]),
        ([72, 72], [TOP, 38]), ([72, 72], [BOTTOM, 34]), ([81, 81], [TOP, BOTTOM]),
        ([112, 112, 134, 134], [46, 60, 60, 16]), ([134, 134, 112, 112], [16, 12, 12, 26]),
    )  # fmt: skip
    for x, y in rails:
        _line(axes, x, y)
    _line(axes, [14, 3, 3, 14], [TOP, TOP, BOTTOM, BOTTOM], dash=(0, (2, 1.5)))
    _line(axes, [-3, 3], [40, 40])
    _line(axes, [-7, 1], [40, 40], width=2.4)
    for x, y in ((14, TOP), (38, TOP), (68, TOP), (72, TOP), (81, TOP), (104, TOP), (14, BOTTOM), (72, BOTTOM),
                 (81, BOTTOM), (104, BOTTOM)):  # fmt: skip
        axes.plot([x], [y], marker="o", markersize=4, color=base.INK, linestyle="none", label="_joint")


def _pack(axes: Axes, x: float) -> None:
    for y, half, width in ((44, 4.0, 1.4), (41, 2.0, 3.0), (31, 4.0, 1.4), (28, 2.0, 3.0)):
        _line(axes, [x - half, x + half], [y, y], width=width)
    _line(axes, [x, x], [41, 31], dash=(0, (1.5, 1.5)))
    axes.text(x + 5, 45.5, "+", ha="left", va="center", fontsize=11)
    axes.text(x + 5, 27, "\u2212", ha="left", va="center", fontsize=11)


def _plug(axes: Axes, x: float, y: float) -> None:
    """The service disconnect: a plug between the two halves of the pack."""
    _box(axes, (x - 2.2, x + 2.2), (y - 2.4, y + 2.4))


def _resistor(axes: Axes, x: float, y: float, *, upright: bool, dash: Any = "-") -> None:
    long, short = (1.8, 5.0) if upright else (5.0, 1.8)
    axes.fill([x - long, x + long, x + long, x - long], [y - short, y - short, y + short, y + short],
              facecolor="white", edgecolor=base.INK, linewidth=1.4, linestyle=dash)  # fmt: skip


def _contact(axes: Axes, x: float, y: float) -> None:
    """An open contact, 8 wide, from x on."""
    _line(axes, [x, x + 7.0], [y, y + 4.0])
    for at in (x, x + 8):
        axes.plot([at], [y], marker="o", markersize=4, color=base.INK, linestyle="none", label="_contact")


def _capacitor(axes: Axes, x: float, y: float) -> None:
    for height in (y - 1.5, y + 1.5):
        _line(axes, [x - 3.5, x + 3.5], [height, height], width=2.2)

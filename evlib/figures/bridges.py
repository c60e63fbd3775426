"""What the bridges and lesson 0 draw: power over speed, a straight line to read, and the parts in their order."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from evlib.figures import base
from evlib.ground.quantity import Array, Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SPEED = Quantity("n", "rad/s", "shaft speed", low=0)
POWER = Quantity("P", "W", "power", low=0)


@dataclasses.dataclass(frozen=True)
class PowerCase:
    """Power at one torque over all speeds, and at the speed in question."""

    torque: float
    speed: float
    power: float
    speeds: Array
    powers: Array


@dataclasses.dataclass(frozen=True)
class Line:
    """A pack's voltage over its current: from ``rest`` at no current straight to ``loaded`` at ``amps``."""

    rest: float
    loaded: float
    amps: float


@dataclasses.dataclass(frozen=True)
class Chain:
    """Parts in the order in which power passes them."""

    parts: tuple[str, ...]
    aside: str
    at: int  # the part that the one aside belongs to


def power_line(result: PowerCase, axes: Axes, *, system: str = "SI") -> None:
    """Power over speed at one torque, with the case in question as a point."""
    axes.plot(
        base.shown(result.speeds, SPEED, system=system),
        base.shown(result.powers, POWER, system=system),
        label="at this torque",
    )
    x = float(base.shown(result.speed, SPEED, system=system))
    y = float(base.shown(result.power, POWER, system=system))
    axes.plot([x, x, 0], [0, y, y], color=base.GREY, linestyle=":", linewidth=1)
    axes.plot([x], [y], marker="o", color=base.COLOURS["vermilion"], linestyle="none")
    axes.set_xlim(0, float(base.shown(float(result.speeds[-1]), SPEED, system=system)))
    top = max(250e3, 1.1 * result.power)  # W; the same for every slider position, so that a move is seen as a move
    axes.set_ylim(0, float(base.shown(top, POWER, system=system)))
    axes.set_xlabel(base.axis_label(SPEED, system=system))
    axes.set_ylabel(base.axis_label(POWER, system=system))
    base.label_lines(axes)


def voltage_line(result: Line, axes: Axes) -> None:
    """The straight fall of a pack's voltage, with the triangle whose slope is the resistance."""
    amps = np.array([0.0, result.amps])
    axes.plot(amps, [result.rest, result.loaded], label="pack voltage")
    axes.plot(amps, [result.rest, result.rest], color=base.GREY, linestyle=":", linewidth=1.2)
    axes.plot([result.amps] * 2, [result.loaded, result.rest], color=base.GREY, linestyle=":", linewidth=1.2)
    axes.text(result.amps / 2, result.rest + 2, "run", ha="center", va="bottom")
    axes.text(result.amps * 1.01, (result.rest + result.loaded) / 2, "fall", ha="left", va="center")
    axes.set_xlim(0, 500)
    axes.set_ylim(220, 350)
    axes.set_xlabel("current I [A]")
    axes.set_ylabel("voltage U [V]")
    base.label_lines(axes)


def chain(result: Chain, axes: Axes) -> None:
    """The parts as boxes in a row, joined by lines; the part aside below the one it belongs to."""
    axes.set_axis_off()
    axes.set_xlim(0.3, len(result.parts) - 0.3)
    axes.set_ylim(-1.5, 0.35)
    box = {"boxstyle": "round,pad=0.35", "facecolor": "white", "edgecolor": base.COLOURS["blue"], "linewidth": 1.4}
    for i, name in enumerate(result.parts):
        if i:
            axes.plot([i - 0.5, i + 0.5], [0, 0], color=base.INK, linestyle="-", zorder=0)
        axes.text(i + 0.5, 0, name, ha="center", va="center", bbox=box)
    x = result.at + 0.5
    axes.plot([x, x], [0, -1.2], color=base.COLOURS["vermilion"], linestyle="--", zorder=0)
    axes.text(x, -1.2, result.aside, ha="center", va="center", bbox={**box, "edgecolor": base.COLOURS["vermilion"]})

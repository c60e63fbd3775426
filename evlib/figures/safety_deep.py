"""What the Deep parts of the safety lesson draw: precharge, a cable's heat, the shutdown loop."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

import numpy as np

from evlib.build.safety_deep_cases import NOTHING, CableCase, LoopCase, PrechargeCase
from evlib.figures import base
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

TEMPERATURE = Quantity("T", "K", "temperature of the copper", kind="reading")


def precharge(result: PrechargeCase, axes: Axes) -> None:
    """Voltage at the controller over time, what must be reached, and when the contactor closes."""
    end, pack = float(result.time[-1]), result.pack_voltage
    axes.plot(result.time, result.volts, color=base.COLOURS["blue"], linestyle="-", label="controller")
    axes.plot([0, end], [pack, pack], color=base.GREY, linestyle=":", linewidth=1.3, label="pack")
    axes.plot([0, end], [result.allowed] * 2, color=base.COLOURS["vermilion"], linestyle=(0, (6, 2)),
              label="must be here")  # fmt: skip
    axes.plot([result.wait] * 2, [0, result.reached], color=base.COLOURS["black"], linestyle=":", linewidth=1.3,
              label="_wait")  # fmt: skip
    axes.plot([result.wait], [result.reached], marker="o", color=base.COLOURS["black"], linestyle="none",
              label="_closes")  # fmt: skip
    axes.set_xlim(0, end)
    axes.set_ylim(0, 1.12 * pack)
    axes.set_xlabel("time since precharge on t [s]; dot: contactor closes")
    axes.set_ylabel("voltage at the controller V [V]")
    base.label_lines(axes)


def cable(result: CableCase, axes: Axes, *, system: str = "SI") -> None:
    """Steady temperature over current, the insulation's limit, and where this cable runs."""

    def up(kelvin: float) -> float:
        return float(base.shown(kelvin, TEMPERATURE, system=system))

    most, top = float(result.current[-1]), result.limit + 100.0
    values = base.shown(np.minimum(result.temperature, top), TEMPERATURE, system=system)
    axes.plot(result.current, values, color=base.COLOURS["blue"], linestyle="-", label="copper")
    axes.plot([0, most], [up(result.limit)] * 2, color=base.COLOURS["vermilion"], linestyle=(0, (6, 2)), label="limit")
    axes.plot([0, most], [up(result.ambient)] * 2, color=base.GREY, linestyle=":", linewidth=1.3, label="air")
    axes.plot([result.steady_current], [up(min(result.settled, top))], marker="o", color=base.COLOURS["black"],
              linestyle="none", label="_here")  # fmt: skip
    axes.set_xlim(0, most)
    axes.set_ylim(up(min(result.ambient, result.limit) - 10.0), up(top + 10.0))
    axes.set_xlabel("steady current I [A]; dot: this cable")
    axes.set_ylabel(base.axis_label(TEMPERATURE, system=system))
    base.label_lines(axes)


def loop(result: LoopCase, axes: Axes) -> None:
    """The loop from 12 V down to ground as a ladder: each switch, the coils, and what became of the pack."""
    axes.set_axis_off()
    rows = [*result.switches[: result.before], "coils of the contactors", *result.switches[result.before :]]
    bottom = -len(rows) - 0.7
    axes.set_xlim(-0.8, 10)
    axes.set_ylim(bottom - 0.5, 1.2)
    axes.text(0.6, 0.75, "12 V", ha="center", va="center")
    axes.text(0.6, bottom - 0.1, "ground", ha="center", va="center")
    for row, name in enumerate(rows):
        y = -row - 0.2
        if name.startswith("coils"):
            _coils(axes, y, live=result.coils_live)
            continue
        # The wire behind a switch before the coils is loop 1, 2, ...; those after them are counted up from ground.
        wire = f"loop {row + 1}" if row < result.before else f"return {len(rows) - row}"
        axes.text(0.25, y - 0.7 if row < result.before else y + 0.3, wire, ha="right", va="center", fontsize=8,
                  color=base.GREY)  # fmt: skip
        opened, wrong = name in result.opened, result.fails.startswith(name)
        _switch(axes, y, opened=opened)
        state = "open" if opened else "closed, stuck" if wrong else "closed"
        colour = base.COLOURS["vermilion"] if opened or wrong else base.INK
        axes.text(1.2, y - 0.35, f"{name}: {state}", ha="left", va="center", color=colour)
    lines = [
        "what fails:",
        *textwrap.wrap(result.fails, 26),
        f"asked: {result.demand}",
        f"poles still joined: {result.joined} of {result.poles}",
        "PACK CONNECTED" if result.connected else "pack disconnected",
    ]
    for row, words in enumerate(lines):
        bad = result.connected and result.demand != NOTHING and row == len(lines) - 1
        axes.text(6.1, -1.0 - 0.9 * row, words, ha="left", va="center",
                  color=base.COLOURS["vermilion"] if bad else base.INK)  # fmt: skip


def _switch(axes: Axes, y: float, *, opened: bool) -> None:
    """One rung of the ladder, one unit high, as a switch."""
    colour = base.COLOURS["vermilion"] if opened else base.COLOURS["blue"]
    for start, end in ((0.7, 0.2), (-0.5 + 0.2, -0.5 + 0.0)):
        axes.plot([0.6, 0.6], [y + start - 0.2, y + end - 0.2], color=colour, linestyle="-", linewidth=1.8, label="_w")
    tip = 1.0 if opened else 0.6
    for end in (y, y - 0.5):  # the two contacts, so that a closed switch is seen too
        axes.plot([0.6], [end], marker="o", markersize=4, color=colour, linestyle="none", label="_contact")
    axes.plot([0.6, tip], [y - 0.5, y], color=colour, linestyle="-", linewidth=2.6, label="_blade")


def _coils(axes: Axes, y: float, *, live: bool) -> None:
    """The rung of the coils: a box, filled where they are live."""
    colour = base.COLOURS["green"] if live else base.GREY
    for start, end in ((0.5, 0.0), (-0.6, -0.5)):
        axes.plot([0.6, 0.6], [y + start, y + end], color=colour, linestyle="-", linewidth=1.8, label="_w")
    if live:
        axes.fill_between([0.3, 0.9], y - 0.5, y, color="#BFE3D8", linewidth=0, label="_live")
    axes.plot([0.3, 0.9, 0.9, 0.3, 0.3], [y, y, y - 0.5, y - 0.5, y], color=colour, linestyle="-", linewidth=1.8,
              label="_box")  # fmt: skip
    axes.text(1.2, y - 0.25, f"coils: {'live' if live else 'dead'}", ha="left", va="center", color=colour)

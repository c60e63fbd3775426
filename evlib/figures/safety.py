"""What the safety lesson draws: insulation, the protection chart, runaway."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from evlib.build.safety_cases import InsulationCase, ProtectionCase, RunawayPicture
from evlib.figures import base
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SPEED = Quantity("n", "rad/s", "speed")


def insulation(result: InsulationCase, axes: Axes) -> None:
    """Leaks found against what is asked, on a logarithmic axis."""
    names = ("both together", "form with the sum", "smaller leak")
    values = np.clip(np.array([result.both, result.by_sum, result.smaller_leak]) / 1e3, 0.11, 9e4)
    axes.set_xscale("log")
    for place, (name, value) in enumerate(zip(names, values, strict=True)):
        good = value * 1e3 >= result.asked
        colour = base.COLOURS["blue"] if good else base.COLOURS["vermilion"]
        axes.plot([0.1, value], [place, place], color=colour, linewidth=9, linestyle="-", solid_capstyle="butt",
                  label="_" + name)  # fmt: skip
        axes.text(0.012, place + 0.42, f"{name}, {'at or above' if good else 'below'} what is asked", va="center",
                  ha="left", transform=axes.get_yaxis_transform(),
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0})  # fmt: skip
    asked = result.asked / 1e3
    axes.plot([asked, asked], [-0.5, 2.3], color=base.INK, linestyle=(0, (6, 2)), label="_asked")
    axes.text(asked, 2.75, "asked", ha="center", va="center")
    axes.set_xticks([0.1, 1, 10, 100, 1000, 10_000, 100_000], minor=False)
    axes.set_xticklabels(["0.1", "1", "10", "100", "1000", "10 000", "100 000"])
    axes.set_xlim(0.1, 1e5)
    axes.set_ylim(-0.5, 3.0)
    axes.set_yticks([])
    axes.set_xlabel("resistance to the chassis R [kΩ]")
    axes.set_ylabel("which value")


def protection(result: ProtectionCase, axes: Axes) -> None:
    """Time over current: fuse, cable, contactor, the currents of a short, and the forbidden band."""
    axes.set_xscale("log")
    axes.set_yscale("log")
    low, high = 1e-3, 300.0
    if result.open_band:
        axes.fill_betweenx([low, high], result.lower, result.upper, color="#F3C9B0", linewidth=0, label="_band")
    axes.plot(result.current, result.clearing, color=base.COLOURS["blue"], linestyle="-", label="fuse clears")
    axes.plot(result.current, result.melting, color=base.COLOURS["blue"], linestyle=(0, (1.5, 1.5)), linewidth=1.3,
              label="_melts")  # fmt: skip
    short = result.cable <= 5.0
    if short.any():
        axes.plot(result.current[short], result.cable[short], color=base.COLOURS["green"],
                  linestyle=(0, (7, 2, 1.5, 2)), label="cable limit")  # fmt: skip
    first = float(result.current[0])
    axes.plot([first, result.breaking], [result.release] * 2, color=base.COLOURS["vermilion"], linestyle=(0, (6, 2)),
              label="_contactor")  # fmt: skip
    left = min(first, 0.9 * result.smallest / 2, 0.9 * result.minimum)
    beside = result.breaking < 6000.0  # there is room to the right of where the line ends
    axes.text(max(result.breaking, left) * 1.05 if beside else 19_000, result.release * (1.0 if beside else 1.15),
              "contactor opens", color=base.COLOURS["vermilion"], ha="left" if beside else "right",
              va="center" if beside else "bottom")  # fmt: skip
    marks = (("fuse breaks from", 0.78, result.minimum), ("cold arc", 0.85, result.smallest / 2),
             ("least short", 0.99, result.smallest), ("largest short", 0.92, result.largest))  # fmt: skip
    for name, place, current in marks:
        axes.plot([current, current], [low, high], color=base.GREY, linestyle="-", linewidth=0.9, label="_" + name)
        axes.text(current * 1.03, low * (high / low) ** place, name, color=base.GREY, ha="left", va="top",
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0})  # fmt: skip
    if result.time_constant > 0:  # the current of a short is nearly all there after three of these
        risen = 3 * result.time_constant
        axes.plot([left, 20_000], [risen, risen], color=base.COLOURS["indigo"], linestyle=(0, (3, 1.5)), linewidth=1.3,
                  label="_risen")  # fmt: skip
        axes.text(left * 1.05, risen * 1.15, "short has risen: 3 L/R", color=base.COLOURS["indigo"], ha="left",
                  va="bottom")  # fmt: skip
    axes.set_xlim(left, 20_000)
    axes.set_ylim(low, high)
    axes.set_xticks([100, 200, 500, 1000, 2000, 5000, 10_000, 20_000], minor=False)
    axes.set_xticklabels(["100", "200", "500", "1000", "2000", "5000", "10 000", "20 000"])
    axes.set_xticks([], minor=True)
    axes.set_yticks([0.001, 0.01, 0.1, 1, 10, 100], minor=False)
    axes.set_yticklabels(["0.001", "0.01", "0.1", "1", "10", "100"])
    axes.set_xlim(left, 20_000)
    axes.set_xlabel("current I [A]")
    axes.set_ylabel("time t [s]; blue dots: fuse melts")
    base.label_lines(axes)


WAYS = (("blue", "-"), ("green", (0, (7, 2, 1.5, 2))), ("indigo", (0, (3, 1.5))))


def runaway(result: RunawayPicture, axes: Axes, *, system: str = "SI") -> None:
    """Speed of the freed motors over time since the trip speed, one line for each way to lose the load."""
    worst = result.worst
    limit = float(base.shown(worst.limit, SPEED, system=system))
    top, end = limit, 1e3 * float(worst.time[-1])
    for way, (colour, dash) in zip(result.ways, WAYS, strict=False):
        speed = base.shown(way.speed, SPEED, system=system)
        top, end = max(top, float(speed[-1])), min(end, 1e3 * float(way.time[-1]))
        name = way.name.split(",")[0]
        axes.plot(1e3 * way.time, speed, color=base.COLOURS[colour], linestyle=dash, label=name)
        axes.plot([1e3 * way.off_at], [float(base.shown(way.speed_off, SPEED, system=system))], marker="o",
                  color=base.COLOURS[colour], linestyle="none", label="_off")  # fmt: skip
    axes.plot([0, end], [limit, limit], color=base.COLOURS["vermilion"], linestyle=(0, (6, 2)), label="limit")
    low = float(base.shown(worst.trip, SPEED, system=system))
    off = 1e3 * worst.off_at
    if off < end:
        axes.plot([off, off], [0, 2 * top], color=base.GREY, linestyle=":", linewidth=1.3, label="_when")
        late = off > 0.6 * end
        axes.text(off + (-0.01 if late else 0.01) * end, low, "current off", color=base.GREY,
                  ha="right" if late else "left", va="bottom")  # fmt: skip
    axes.set_xlim(0, end)
    axes.set_ylim(low - 0.05 * (top - low), top + 0.05 * (top - low))
    axes.set_xlabel("time since the trip speed t [ms]; dots: current off")
    axes.set_ylabel(base.axis_label(SPEED, system=system))
    base.label_lines(axes)

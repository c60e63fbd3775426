"""What the motors lesson draws: the envelope by its governing limits, warming up, unequal machines, sag, runaway."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.figures import base
from evlib.ground.quantity import Array, Quantity
from evlib.motors.bench import BenchTable
from evlib.motors.envelope import Envelope
from evlib.motors.unloaded import Runaway

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SPEED = Quantity("w", "rad/s", "shaft speed", low=0)
TORQUE = Quantity("T_all", "N m", "torque of all machines", low=0)
ONE_TORQUE = Quantity("T", "N m", "shaft torque of one machine", low=0)
POWER = Quantity("P_all", "W", "shaft power of all machines", low=0)
PACK_POWER = Quantity("P_b", "W", "power that leaves the pack", low=0)
CURRENT = Quantity("I", "A", "current", low=0)
VOLTS = Quantity("U", "V", "voltage", low=0)
TEMPERATURE = Quantity("Θ", "K", "temperature", kind="reading")
SHARE = Quantity("d", "", "how much stronger the second flux is", shown={"SI": "%", "shop": "%"})

# One look for each limit, the same in every picture: colour, line style, and its name at the line.
LOOK: dict[str, tuple[str, Any]] = {
    "motor amps": (base.COLOURS["blue"], "-"),
    "brushes": (base.COLOURS["violet"], (0, (3, 1.5))),
    "pack amps": (base.COLOURS["vermilion"], (0, (6, 2))),
    "cut-off": (base.COLOURS["black"], (0, (7, 2, 1.5, 2))),
    "largest power": (base.COLOURS["indigo"], (0, (7, 2, 1.5, 2, 1.5, 2))),
    "volts": (base.COLOURS["green"], (0, (1.5, 1.5))),
    "speed limit": (base.GREY, "-"),
    "constant torque": (base.COLOURS["blue"], "-"),
    "constant power": (base.COLOURS["indigo"], (0, (7, 2, 1.5, 2, 1.5, 2))),
    "pull-out": (base.COLOURS["green"], (0, (1.5, 1.5))),
}


@dataclasses.dataclass(frozen=True, eq=False)
class EnvelopeCase:
    """An envelope with what the picture and its twin say of it; ``others`` are at other states of charge."""

    envelope: Envelope
    others: tuple[tuple[str, Envelope], ...]
    speed_limit: float
    peak: int  # index of the largest power
    open_volts: float
    seconds_at_peak: float  # until the winding limit at the current of the largest power; a day at most
    half_speed: float  # half the speed limit
    seconds_at_half: float  # until the winding limit there, at the current at standstill


@dataclasses.dataclass(frozen=True, eq=False)
class HeatCase:
    """Winding and frame temperature over time at a steady current."""

    time: Array
    winding: Array
    frame: Array
    limit: float
    air: float
    current: float
    speed: float  # at which it turns: its air, iron and friction warm it too
    seconds: float  # until the limit; a day at most
    continuous: float


@dataclasses.dataclass(frozen=True, eq=False)
class MismatchCase:
    """Currents, torques and copper losses of two machines over their mismatch, and at the one in question."""

    mismatch: Array
    first_current: Array
    second_current: Array
    chosen: float
    wiring: str
    here: dict[str, float]


@dataclasses.dataclass(frozen=True, eq=False)
class SagCase:
    """Power of a pack over its current."""

    current: Array
    power: Array
    volts: Array
    allowed: float
    best: float


@dataclasses.dataclass(frozen=True, eq=False)
class SheetCase:
    """A bench table's torques and the straight law T ~ I^2 and fitted law beside it."""

    table: BenchTable
    current: Array
    straight: Array
    fitted: Array


def runs(words: Any) -> list[tuple[str, int, int]]:
    """Stretches of equal words: (word, first, one past the last)."""
    found: list[tuple[str, int, int]] = []
    start = 0
    for i in range(1, len(words) + 1):
        if i == len(words) or words[i] != words[start]:
            found.append((str(words[start]), start, i))
            start = i
    return found


def charge_tells(result: EnvelopeCase) -> bool:
    """Whether the envelopes at the other charges can be told from the one drawn: a hundredth of its height apart."""
    own = np.asarray(result.envelope.power)
    return any(float(np.max(np.abs(other.power - own))) > 0.01 * float(np.max(own)) for _, other in result.others)


LONG = 0.22  # of the width: a stretch that long carries its own label, a shorter one has it at the margin


def _name_on(axes: Axes, x: Array, y: Array, word: str, colour: str, top: float) -> bool:
    """Write a stretch's name beside its middle, if it is long enough; False where it is not."""
    wide = float(axes.get_xlim()[1])
    if len(x) < 3 or x[-1] - x[0] < LONG * wide:
        return False
    slope = float(y[-1] - y[0]) / top / (float(x[-1] - x[0]) / wide)
    middle = len(x) // 2
    side, stand = ("center", "bottom") if abs(slope) < 0.15 else ("left", "top" if slope > 0 else "bottom")
    axes.text(float(x[middle]), float(y[middle]) + 0.02 * top * (1 if stand == "bottom" else -1), f" {word} ",
              color=colour, ha=side, va=stand)  # fmt: skip
    return True


def _limits(axes: Axes, e: Envelope, x: Array, y: Array, top: float) -> None:
    for word, first, end in runs(e.governing):
        if word != "speed limit":
            colour, style = LOOK[word]
            stop = min(end + 1, len(x))  # joined to the next stretch
            if stop < len(x) and e.governing[stop - 1] == "speed limit":
                stop = end
            named = _name_on(axes, x[first:stop], y[first:stop], word, colour, top)
            axes.plot(x[first:stop], y[first:stop], color=colour, linestyle=style, label=f"_{word}" if named else word)


def envelope(result: EnvelopeCase, axes: list[Axes], *, system: str = "SI") -> None:
    """Torque over speed and power over speed, each stretch in the look of the limit that governs it."""
    e = result.envelope
    x = base.shown(np.asarray(e.speed), SPEED, system=system)
    for ax, declared, name in ((axes[0], TORQUE, "torque"), (axes[1], POWER, "power")):
        for _, other in result.others:
            values = base.shown(np.asarray(getattr(other, name)), declared, system=system)
            ax.plot(x, values, color=base.GREY, linestyle="-", linewidth=0.8)
        y = base.shown(np.asarray(getattr(e, name)), declared, system=system)
        top = max([float(np.max(getattr(c, name))) for c in (e, *(o for _, o in result.others))] + [1.0])
        top = 1.2 * float(base.shown(top, declared, system=system))
        ax.set_ylim(0, top)
        ax.set_xlim(0, float(x[-1]))
        _limits(ax, e, x, y, top)
        ax.set_ylabel(base.axis_label(declared, system=system))
        ax.set_xlabel(base.axis_label(SPEED, system=system))
        base.label_lines(ax)
    emptier, fuller = (name for name, _ in result.others)
    words = f"thin grey: above at {fuller} charge, below at {emptier}"
    if not charge_tells(result):
        words = f"at {fuller} and {emptier} charge the same line"
    axes[0].text(0.02, 0.05, words, color=base.GREY, ha="left", va="bottom", transform=axes[0].transAxes)
    peak = float(base.shown(float(np.asarray(e.power)[result.peak]), POWER, system=system))
    axes[1].plot([x[result.peak]], [peak], marker="o", linestyle="none", color=base.INK)


def heat(result: HeatCase, axes: Axes, *, system: str = "SI") -> None:
    """Winding and frame temperature over minutes, with the winding limit."""
    minutes = result.time / 60.0
    for place, (name, values) in enumerate((("winding", result.winding), ("frame", result.frame))):
        shown, colour = base.shown(values, TEMPERATURE, system=system), list(base.COLOURS.values())[place]
        ends_early = float(minutes[-1]) < 50.0  # then its name has room beside its end
        axes.plot(minutes, shown, color=colour, linestyle=base.DASHES[place], label=f"_{name}" if ends_early else name)
        if ends_early:
            axes.text(float(minutes[-1]), float(shown[-1]), f" {name}", color=colour, ha="left", va="center")
    limit = float(base.shown(result.limit, TEMPERATURE, system=system))
    axes.plot([0, 60], [limit, limit], color=base.GREY, linestyle=":", label="limit")
    axes.set_xlim(0, 60)
    low, high = (float(base.shown(t, TEMPERATURE, system=system)) for t in (result.air - 5.0, result.limit + 40.0))
    axes.set_ylim(low, high)
    axes.set_xlabel("time t [min]")
    axes.set_ylabel(base.axis_label(TEMPERATURE, system=system))
    base.label_lines(axes)


def mismatch(result: MismatchCase, axes: Axes) -> None:
    """Each machine's current over the mismatch, and the case in question."""
    percent = 100.0 * result.mismatch
    axes.plot(percent, result.first_current, label="first")
    axes.plot(percent, result.second_current, label="second")
    for name, mark in (("first_current", "o"), ("second_current", "s")):
        axes.plot([100 * result.chosen], [result.here[name]], marker=mark, linestyle="none", color=base.INK)
    axes.set_xlim(percent[0], percent[-1])
    axes.set_ylim(0, 1.15 * max(1.0, float(np.max([result.first_current, result.second_current]))))
    axes.set_xlabel("how much stronger the second machine's flux is d [%]")
    axes.set_ylabel("current in each machine I [A]")
    base.label_lines(axes)


def sag(result: SagCase, axes: Axes, *, system: str = "SI") -> None:
    """Power that leaves the pack over its current, with what is allowed and where it peaks."""
    power = base.shown(result.power, POWER, system=system)
    allowed = result.current <= result.allowed
    axes.plot(result.current[allowed], power[allowed], label="_allowed")
    axes.text(float(result.current[allowed][-1]), float(power[allowed][-1]), "   allowed", ha="left", va="top",
              color=base.COLOURS["blue"])  # fmt: skip
    axes.plot(result.current[~allowed], power[~allowed], label="past limits")
    axes.plot([result.best], [np.max(power)], marker="o", linestyle="none", color=base.INK)
    axes.set_xlim(0, float(result.current[-1]))
    axes.set_ylim(0, 1.15 * float(np.max(power)))
    axes.set_xlabel("pack current I_b [A]")
    axes.set_ylabel(base.axis_label(PACK_POWER, system=system))
    base.label_lines(axes)


def sheet(result: SheetCase, axes: Axes, *, system: str = "SI") -> None:
    """Measured torque over current, the unsaturated law that fails, and the fitted one."""
    axes.plot(result.table.current, base.shown(result.table.torque, TORQUE, system=system), marker="o",
              linestyle="none", color=base.INK, label="measured")  # fmt: skip
    top = 1.25 * float(np.max(base.shown(result.table.torque, TORQUE, system=system)))
    straight = base.shown(result.straight, TORQUE, system=system)
    inside = straight <= top
    axes.plot(result.current[inside], straight[inside], label="T ~ I²")
    axes.plot(result.current, base.shown(result.fitted, TORQUE, system=system), label="saturating")
    axes.set_xlim(0, float(result.current[-1]))
    axes.set_ylim(0, top)
    axes.set_xlabel("current I [A]")
    axes.set_ylabel(base.axis_label(ONE_TORQUE, system=system))
    base.label_lines(axes)


def runaway(result: Runaway, axes: Axes, *, system: str = "SI") -> None:
    """Speed against time after the load is lost, up to the maker's limit."""
    good = np.isfinite(result.time)
    axes.plot(result.time[good], base.shown(result.speed[good], SPEED, system=system), label="no load")
    end = float(result.time[good][-1])
    top = float(base.shown(float(result.speed[-1]), SPEED, system=system))
    axes.plot([0, 1.1 * end], [top, top], color=base.GREY, linestyle=":", label="limit")
    axes.set_xlim(0, 1.1 * end)
    axes.set_ylim(0, 1.15 * top)
    axes.set_xlabel("time t [s]")
    axes.set_ylabel(base.axis_label(SPEED, system=system))
    base.label_lines(axes)


IRON, COPPER = "#E8E8E8", "#F6DDCB"


def machine(result: None, axes: Axes) -> None:
    """A series machine cut along its shaft, a schematic not to scale, its parts named."""
    ink, copper, blue = base.INK, base.COLOURS["vermilion"], base.COLOURS["blue"]

    def block(x: tuple[float, float], y: tuple[float, float], fill: str, edge: str) -> None:
        axes.fill([x[0], x[1], x[1], x[0]], [y[0], y[0], y[1], y[1]], facecolor=fill, edgecolor=edge, linewidth=1.3,
                  linestyle="-")  # fmt: skip

    def line(x: Any, y: Any, colour: str, width: float = 1.0) -> None:
        axes.plot(x, y, color=colour, linewidth=width, linestyle="-", label="_part")

    block((-0.9, 10.2), (-0.24, 0.24), "white", blue)
    for way in (1, -1):
        block((1.0, 8.6), (way * 2.7, way * 3.0), IRON, ink)
        for end in (0.85, 8.6):
            block((end, end + 0.25), (way * 0.5, way * 3.0), IRON, ink)
            block((end - 0.1, end + 0.35), (way * 0.24, way * 0.5), "white", ink)
        block((4.5, 7.4), (way * 0.24, way * 1.7), IRON, ink)
        for x in ((4.0, 4.5), (7.4, 7.9)):
            block(x, (way * 0.6, way * 1.6), COPPER, copper)
            block((x[0] + 0.05, x[1] - 0.05), (way * 1.95, way * 2.6), COPPER, copper)
        block((4.5, 7.4), (way * 1.82, way * 2.7), IRON, ink)
        block((2.0, 3.6), (way * 0.24, way * 1.0), COPPER, copper)
        line([3.6, 4.0], [way * 0.9, way * 0.9], copper, 2.0)
        block((2.5, 3.1), (way * 1.0, way * 1.75), "#444444", ink)
        line([2.8, 2.65, 2.95, 2.65, 2.95, 2.8], [way * y for y in (1.75, 1.95, 2.1, 2.25, 2.4, 2.7)], ink)
    for bar in np.arange(2.2, 3.5, 0.2):
        line([bar, bar], [0.3, 0.96], copper, 0.8)
    line([-1.2, 10.5], [0, 0], base.GREY, 0.7)
    labels: tuple[tuple[str, tuple[float, float], tuple[float, float], str], ...] = (
        ("brush, pressed\nby its spring", (2.8, 1.4), (0.6, 3.75), "center"),
        ("frame", (4.0, 2.85), (3.2, 3.75), "center"),
        ("pole (iron)", (5.6, 2.3), (5.3, 3.75), "center"),
        ("field coil", (7.65, 2.3), (7.7, 3.75), "center"),
        ("second\nshaft end", (-0.6, 0.24), (-1.5, 1.1), "left"),
        ("drive end", (9.8, 0.24), (9.3, 1.1), "left"),
        ("commutator,\nring of bars", (2.2, -0.7), (-0.4, -3.75), "center"),
        ("armature\nwinding", (4.25, -1.2), (2.9, -3.75), "center"),
        ("armature\n(turns)", (6.0, -1.2), (6.5, -3.75), "center"),
        ("bearing", (8.75, -0.4), (9.4, -3.75), "center"),
    )
    for words, at, where, side in labels:
        below = where[1] < 0
        line([at[0], where[0] + (0.5 if side == "left" else 0.0)], [at[1], where[1]], base.GREY, 0.8)
        axes.plot([at[0]], [at[1]], color=base.INK, marker="o", markersize=3, linestyle="none", label="_at")
        axes.text(*where, words, color=ink, ha=side, va="top" if below else "bottom", fontsize=9.5)
    axes.text(4.6, -5.15, "series: + to the field coils, a brush, the armature, the other brush, to \u2212",
              color=copper, ha="center", va="center", fontsize=9.5)  # fmt: skip
    shape = axes.bbox.width / axes.bbox.height
    tall = 10.6
    axes.set_xlim(4.65 - tall * shape / 2, 4.65 + tall * shape / 2)
    axes.set_ylim(-5.7, 4.9)
    axes.set_axis_off()

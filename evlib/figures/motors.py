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
    seconds_at_rest: float  # ... at the current at standstill


@dataclasses.dataclass(frozen=True, eq=False)
class HeatCase:
    """Winding and frame temperature over time at a steady current."""

    time: Array
    winding: Array
    frame: Array
    limit: float
    air: float
    current: float
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


def _limits(axes: Axes, e: Envelope, x: Array, y: Array) -> None:
    for word, first, end in runs(e.governing):
        if word != "speed limit":
            colour, style = LOOK[word]
            stop = min(end + 1, len(x))  # joined to the next stretch
            if stop < len(x) and e.governing[stop - 1] == "speed limit":
                stop = end
            axes.plot(x[first:stop], y[first:stop], color=colour, linestyle=style, label=word)


def envelope(result: EnvelopeCase, axes: list[Axes], *, system: str = "SI") -> None:
    """Torque over speed and power over speed, each stretch in the look of the limit that governs it."""
    e = result.envelope
    x = base.shown(np.asarray(e.speed), SPEED, system=system)
    for ax, declared, name in ((axes[0], TORQUE, "torque"), (axes[1], POWER, "power")):
        for _, other in result.others:
            values = base.shown(np.asarray(getattr(other, name)), declared, system=system)
            ax.plot(x, values, color=base.GREY, linestyle="-", linewidth=0.8)
        y = base.shown(np.asarray(getattr(e, name)), declared, system=system)
        _limits(ax, e, x, y)
        top = max([float(np.max(getattr(c, name))) for c in (e, *(o for _, o in result.others))] + [1.0])
        ax.set_ylim(0, 1.12 * float(base.shown(top, declared, system=system)))
        ax.set_xlim(0, float(x[-1]))
        ax.set_ylabel(base.axis_label(declared, system=system))
        ax.set_xlabel(base.axis_label(SPEED, system=system))
        base.label_lines(ax)
    names = " and ".join(name for name, _ in result.others)
    axes[0].text(0.98, 0.95, f"thin grey: {names} charge", color=base.GREY, ha="right", va="top",
                 transform=axes[0].transAxes)  # fmt: skip
    peak = float(base.shown(float(np.asarray(e.power)[result.peak]), POWER, system=system))
    axes[1].plot([x[result.peak]], [peak], marker="o", linestyle="none", color=base.INK)


def heat(result: HeatCase, axes: Axes, *, system: str = "SI") -> None:
    """Winding and frame temperature over minutes, with the winding limit."""
    minutes = result.time / 60.0
    axes.plot(minutes, base.shown(result.winding, TEMPERATURE, system=system), label="winding")
    axes.plot(minutes, base.shown(result.frame, TEMPERATURE, system=system), label="frame")
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
    axes.plot(result.current[allowed], power[allowed], label="allowed")
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

"""What the hydraulics lesson draws: launch, handover, stop and go, a log, line loss, and the circuit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.build.hydraulic_cases import DriveCase, HandoverCase, LaunchCase, LineCase, LogCase
from evlib.figures import base
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

PRESSURE = Quantity("p", "Pa", "main pressure", low=0, kind="gauge")
FLOW = Quantity("Q", "m3/s", "flow")
TORQUE = Quantity("T", "N m", "input torque", low=0)
SPEED = Quantity("n", "rad/s", "input speed")
LEAST = 20.0  # Pa; what a logarithmic scale can still show of a loss
TIME = Quantity("t", "s", "time", low=0)
LOSS = Quantity("Δp", "Pa", "loss of the hose", low=0, kind="pressure difference")


def launch(result: LaunchCase, axes: list[Axes], *, system: str = "SI") -> None:
    """Above: pump curve and leakage cross at the pressure at rest. Below: the torque that each pressure holds."""
    above, below = axes
    p = base.shown(result.pressure, PRESSURE, system=system)
    at = float(base.shown(result.rest_pressure, PRESSURE, system=system))
    flow = float(base.shown(result.rest_flow, FLOW, system=system))
    given = base.shown(result.given, FLOW, system=system)
    top = 1.25 * max(float(given.max(initial=0.0)), flow, 1e-9)
    taken = base.shown(result.taken, FLOW, system=system)
    inside = taken <= top
    above.plot(base.shown(result.given_pressure, PRESSURE, system=system), given, label="pump gives")
    above.plot(p[inside], taken[inside], label="gearbox takes")
    above.plot([at], [flow], marker="o", color=base.INK, linestyle="none", label="_at rest")
    above.set_ylim(0, top)
    above.set_ylabel(base.axis_label(FLOW, system=system))
    allowed = base.shown(result.allowed, TORQUE, system=system)
    asked = float(base.shown(result.asked, TORQUE, system=system))
    held = float(base.shown(result.allowed_at_rest, TORQUE, system=system))
    below.plot(p, allowed, label=f"{result.gear} holds")
    below.plot(p, np.full(p.shape, asked), label="asked")
    below.plot([at], [held], marker="o", color=base.INK, linestyle="none", label="_at rest")
    below.set_ylim(0, 1.1 * max(asked, float(allowed[-1])))
    below.set_ylabel(base.axis_label(TORQUE, system=system))
    for each in axes:
        each.axvline(at, color=base.GREY, linestyle=":", linewidth=1.2)
        each.set_xlim(0, float(p[-1]))
        each.set_xlabel(base.axis_label(PRESSURE, system=system))
        base.label_lines(each)


def handover(result: HandoverCase, axes: Axes, *, system: str = "SI") -> None:
    """Internal pump's flow over input speed, what the pressure lets through, and where the switch stands."""
    n = base.shown(result.speed, SPEED, system=system)
    net = base.shown(result.net, FLOW, system=system)
    leak = float(base.shown(result.leak, FLOW, system=system))
    axes.plot(n, net, label="internal\npump gives")
    axes.plot(n, np.full(n.shape, leak), label="seals and\nvalve body\ntake")
    low, high = float(net[0]), float(net[-1])
    axes.fill_between([float(n[0]), 0.0], low, high, color=base.PALE, linewidth=0)
    axes.text(float(n[0]) / 2, high - 0.06 * (high - low), "backwards", ha="center", va="top")
    marks = (("hands over", result.handover_speed, "-"), ("switch-on needed", result.needed_on_speed, "--"),
             ("on below", result.on_speed, ":"), ("off above", result.off_speed, "-."))  # fmt: skip
    # The slowest stands lowest, and no line comes down to a label below its own: none crosses a word.
    for row, (name, speed, dash) in enumerate(sorted(marks, key=lambda mark: mark[1])):
        at = float(base.shown(speed, SPEED, system=system))
        if at <= float(n[-1]):
            height = low + (0.02 + 0.09 * row) * (high - low)
            left = at > 0.75 * float(n[-1])
            axes.plot([at, at], [height, high], color=base.INK, linestyle=dash, linewidth=1.1, label="_")
            axes.text(at, height, f"{name} " if left else f" {name}", ha="right" if left else "left", va="bottom")
    axes.set_xlim(float(n[0]), float(n[-1]))
    axes.set_ylim(low, high)
    axes.set_xlabel(base.axis_label(SPEED, system=system))
    axes.set_ylabel(base.axis_label(FLOW, system=system, text="flow at the pressure that the torque needs,"))
    base.label_lines(axes)


def stop_and_go(result: DriveCase, axes: list[Axes], *, system: str = "SI") -> None:
    """Above: pressure and the pressure needed. Below: input speed, and when the electric pump turns."""
    above, below = axes
    above.plot(result.time, base.shown(result.pressure, PRESSURE, system=system), label="pressure")
    above.plot(result.time, base.shown(result.needed, PRESSURE, system=system), label="needed")
    top = 1.1 * float(base.shown(max(float(result.pressure.max()), float(result.needed.max())), PRESSURE,
                                 system=system))  # fmt: skip
    for dip in result.dips:
        above.axvspan(dip.start, dip.end, color=base.COLOURS["vermilion"], alpha=0.25, linewidth=0)
    above.set_ylim(0, top)
    above.set_ylabel(base.axis_label(PRESSURE, system=system))
    speed = base.shown(result.speed, SPEED, system=system)
    highest = 1.1 * max(float(speed.max()), 1.0)
    below.plot(result.time, speed, label="input speed")
    _pump_spans(below, result.time, result.pump, highest)
    below.set_ylim(0, highest)
    below.set_ylabel(base.axis_label(SPEED, system=system))
    for each in axes:
        each.set_xlim(0, float(result.time[-1]))
        each.set_xlabel(base.axis_label(TIME, system=system))
        base.label_lines(each)


def _pump_spans(axes: Axes, time: Any, pump: Any, highest: float) -> None:
    """Shade when the electric pump turns, and say so where there is room above the speed."""
    on = np.concatenate([[0], (np.asarray(pump) > 0.5).astype(int), [0]])
    starts, ends = np.flatnonzero(np.diff(on) == 1), np.flatnonzero(np.diff(on) == -1) - 1
    length = float(time[-1] - time[0])
    for first, last in zip(starts, ends, strict=True):
        begin, end = float(time[first]), float(time[last])
        axes.axvspan(begin, end, color=base.PALE, linewidth=0)
        if end - begin > 0.13 * length:
            axes.text((begin + end) / 2, 0.97 * highest, "electric\npump on", ha="center", va="top", fontsize=9)


def log(result: LogCase, axes: list[Axes], *, system: str = "SI") -> None:
    """Above: logged pressure, what is needed, and the troubles shaded. Below: input speed, and when the pump is on."""
    above, below = axes
    time = result.log.time
    pressure = base.shown(result.log.pressure, PRESSURE, system=system)
    needed = float(base.shown(result.needed, PRESSURE, system=system))
    above.plot(time, pressure, label="pressure")
    above.plot(time, np.full(time.shape, needed), label="needed")
    top = 1.25 * max(float(pressure.max()), needed)
    for number, trouble in enumerate(result.found, start=1):
        above.axvspan(trouble.start, trouble.end, color=base.COLOURS["vermilion"], alpha=0.25, linewidth=0)
        above.text((trouble.start + trouble.end) / 2, 0.98 * top, str(number), ha="center", va="top")
    above.set_ylim(0, top)
    above.set_ylabel(base.axis_label(PRESSURE, system=system))
    speed = base.shown(result.log.speed, SPEED, system=system)
    highest = 1.25 * max(float(speed.max()), 100.0)
    below.plot(time, speed, label="input speed")
    _pump_spans(below, time, result.log.pump, highest)
    below.set_ylim(0, highest)
    below.set_ylabel(base.axis_label(SPEED, system=system))
    for each in axes:
        each.set_xlim(float(time[0]), float(time[-1]))
        each.set_xlabel(base.axis_label(TIME, system=system))
        base.label_lines(each)


def line(result: LineCase, axes: Axes, *, system: str = "SI") -> None:
    """Loss of three hose sizes over oil temperature, on a logarithmic scale."""
    temperature = result.temperature - 273.15 if system == "SI" else (result.temperature - 273.15) * 1.8 + 32
    for dash, loss in result.loss.items():
        axes.plot(temperature, base.shown(np.maximum(loss, LEAST), LOSS, system=system), label=f"dash {dash}")
    allowed = float(base.shown(result.allowed, LOSS, system=system))
    axes.plot(temperature, np.full(temperature.shape, allowed), label="accepted")
    axes.set_yscale("log")
    every = np.concatenate([np.maximum(loss, LEAST) for loss in result.loss.values()])
    low, high = (float(base.shown(v, LOSS, system=system)) for v in (every.min(), every.max()))
    axes.set_ylim(min(low, allowed) / 1.5, max(high, allowed) * 1.5)
    ticks = [
        tick
        for tick in (0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000, 3000)
        if min(low, allowed) / 1.5 < tick
    ]
    ticks = [tick for tick in ticks if tick < max(high, allowed) * 1.5]
    axes.set_yticks(ticks, [f"{tick:g}" for tick in ticks])
    axes.set_yticks([], minor=True)
    axes.set_xlim(float(temperature[0]), float(temperature[-1]))
    axes.set_xlabel("oil temperature t [°C]" if system == "SI" else "oil temperature t [°F]")
    axes.set_ylabel(base.axis_label(LOSS, system=system))
    base.label_lines(axes)


# -- the circuit, own drawing with the shapes of ISO 1219-1 --------------------------------------------------------
def circuit(result: Any, axes: Axes) -> None:
    """The circuit: tanks, both pumps, check valve, regulator, valve body, pistons. ``result`` is not read."""
    axes.set_xlim(0, 132)
    axes.set_ylim(0, 62)
    axes.set_aspect("equal")
    axes.axis("off")
    _pipes(axes)
    _pump(axes, 24, 24, electric=True)
    _pump(axes, 58, 24, electric=False)
    _check(axes, 24, 40)
    _relief(axes, 88, 40)
    _shape(axes, [99, 131, 131, 99], [42, 42, 47, 47])
    for x, name in ((104, "low"), (115, "direct"), (126, "reverse")):
        _cylinder(axes, x, name)
    for x in (24, 58, 88):
        _tank(axes, x, 8)
    for across, up, text, side in (
        (17, 24, "electric\npump, 12 V", "right"), (68, 24, "internal\npump, by\nthe\nmotors", "left"),
        (19, 40, "check\nvalve", "right"), (79, 40, "main\nregulator", "right"), (41, 55, "main pressure", "center"),
        (115, 44.5, "valve body", "center"), (56, 44, "outlet, open:\nno valve here", "right"),
        (115, 17.5, "a piston each, for\na band or a clutch", "center"), (22, 48, "hose", "right"),
        (38, 32.5, "speed switch,\nrelay", "center"), (41, 6, "all three:\nthe pan", "center"),
        (84, 55, "dashed: it feels main pressure", "center"),
    ):  # fmt: skip
        axes.text(across, up, text, ha=side, va="center", fontsize=9)


def _stroke(axes: Axes, x: Any, y: Any, *, width: float = 1.6) -> None:
    axes.plot(x, y, color=base.INK, linestyle="-", linewidth=width)


def _shape(axes: Axes, x: Any, y: Any, *, full: bool = False) -> None:
    axes.fill(
        x, y, facecolor=base.INK if full else "white", edgecolor=base.INK, linewidth=0 if full else 1.6, linestyle="-"
    )


def _round(axes: Axes, x: float, y: float, radius: float) -> None:
    turn = np.linspace(0, 2 * np.pi, 60)
    _shape(axes, x + radius * np.sin(turn), y + radius * np.cos(turn))


def _pipes(axes: Axes) -> None:
    for x, low, high in ((24, 8, 19), (24, 29, 37), (24, 43, 52), (58, 8, 19), (58, 29, 52), (88, 45, 52), (88, 8, 35),
                         (115, 47, 52), (104, 36, 42), (115, 36, 42), (126, 36, 42)):  # fmt: skip
        _stroke(axes, [x, x], [low, high])
    _stroke(axes, [24, 115], [52, 52])
    for x in (58, 88):
        axes.plot([x], [52], marker="o", markersize=4, color=base.INK, linestyle="none")


def _pump(axes: Axes, x: float, y: float, *, electric: bool) -> None:
    _round(axes, x, y, 5)
    _shape(axes, [x - 1.6, x + 1.6, x], [y + 1.8, y + 1.8, y + 5], full=True)  # flow leaves upwards
    _stroke(axes, [x + 5, x + 8], [y, y])
    if electric:
        _round(axes, x + 11, y, 3)
        axes.text(x + 11, y, "M", ha="center", va="center", fontsize=9)
        _stroke(axes, [x + 11, x + 11], [y + 3, y + 5.5], width=1.0)


def _check(axes: Axes, x: float, y: float) -> None:
    _round(axes, x, y + 0.6, 1.7)
    _stroke(axes, [x - 3, x, x + 3], [y + 1.2, y - 1.8, y + 1.2])
    _stroke(axes, [x, x], [y - 3, y - 1.8])
    _stroke(axes, [x, x], [y + 2.3, y + 3])


def _relief(axes: Axes, x: float, y: float) -> None:
    _shape(axes, [x - 5, x + 5, x + 5, x - 5], [y - 5, y - 5, y + 5, y + 5])
    _stroke(axes, [x + 2.5, x + 2.5], [y + 4, y - 4], width=1.4)
    _shape(axes, [x + 1.5, x + 3.5, x + 2.5], [y - 1.8, y - 1.8, y - 4.4], full=True)
    _stroke(axes, [x + 5, x + 5.8, x + 6.6, x + 7.4, x + 8.2, x + 9], [y, y + 1.6, y - 1.6, y + 1.6, y - 1.6, y],
            width=1.3)  # fmt: skip
    axes.plot([x - 5, x - 7, x - 7, x], [y, y, y + 8, y + 8], color=base.INK, linestyle=(0, (3, 2)), linewidth=1.2)


def _cylinder(axes: Axes, x: float, name: str) -> None:
    _shape(axes, [x - 3, x + 3, x + 3, x - 3], [28, 28, 36, 36])
    _stroke(axes, [x - 3, x + 3], [32.5, 32.5], width=3)
    _stroke(axes, [x, x], [26, 32.5], width=2)
    _stroke(axes, [x - 1.8, x - 0.9, x - 1.8, x - 0.9], [32.2, 31, 29.8, 28.6], width=1)
    axes.text(x, 25.4, name, ha="center", va="top", fontsize=8.5)


def _tank(axes: Axes, x: float, y: float) -> None:
    _stroke(axes, [x - 5, x - 5, x + 5, x + 5], [y + 2, y - 3, y - 3, y + 2])
    _stroke(axes, [x, x], [y, y - 1.5])

"""What the shafts lessons draw: torque along the line, the spline and its ways of failing, the cut plan to scale."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from evlib.figures import base
from evlib.ground import units
from evlib.ground.quantity import Array, Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

PLACE = Quantity("x", "m", "place along the line", low=0)
ACROSS = Quantity("y", "m", "across", low=-1, high=1)
TORQUE = Quantity("T", "N m", "torque, shock included", low=0)
STRESS = Quantity("τ", "Pa", "shear stress", low=0, shown={"SI": "MPa", "shop": "psi"})
GAP = Quantity("g", "m", "gap left, floats deducted", shown={"SI": "mm", "shop": "thou"})
TIME = Quantity("t", "s", "time since a cold start", low=0, shown={"SI": "min", "shop": "min"})
USED = Quantity("u", "", "stress, of what the steel may bear", low=0, shown={"SI": "percent", "shop": "percent"})
METAL, PART, PALER = "#D5DBE3", "#B9C8D8", "#EEF1F4"


@dataclasses.dataclass(frozen=True)
class LinePicture:
    """Torque and surface stress of each section of the line, from the far machine to the gearbox."""

    sections: tuple[str, ...]
    torques: tuple[float, ...]
    stresses: tuple[float, ...]


@dataclasses.dataclass(frozen=True)
class SplinePicture:
    """The spline's section [m] and how much of its steel each way of failing uses, fixed and flexible."""

    shaft_x: Array
    shaft_y: Array
    bore_x: Array
    bore_y: Array
    outside: float
    modes: tuple[str, ...]
    used: tuple[float, ...]
    declared: str


@dataclasses.dataclass(frozen=True)
class CutPicture:
    """The two shaft ends and the sleeve along the axis [m], and the gap over the time after a cold start."""

    face_distance: float
    far_cut: float
    near_cut: float
    far_step: float
    near_step: float
    sleeve_start: float
    sleeve_length: float
    shaft_radius: float
    sleeve_radius: float
    engagement: float
    times: Array
    gaps: Array
    reserve: float


@dataclasses.dataclass(frozen=True)
class SidePicture:
    """The line as boxes in a row [m], the room there is [m], and where its weight acts [m]."""

    names: tuple[str, ...]
    starts: tuple[float, ...]
    lengths: tuple[float, ...]
    heights: tuple[float, ...]
    room: float
    centre: float


@dataclasses.dataclass(frozen=True)
class ModePicture:
    """Torsional modes [Hz] against shaft speed [rad/s]: pulses [Hz] of each order drawn, and the range's end."""

    modes: tuple[float, ...]
    orders: tuple[float, ...]
    pulses: tuple[Array, ...]
    speeds: Array
    limit: float


def line_torque(result: LinePicture, axes: list[Axes], *, system: str = "SI") -> None:
    """Torque along the line above, the stress that it makes below, section by section."""
    for each, values, quantity in ((axes[0], result.torques, TORQUE), (axes[1], result.stresses, STRESS)):
        shown = [float(base.shown(value, quantity, system=system)) for value in values]
        top = 1.25 * max([*shown, 1e-9])
        for i, value in enumerate(shown):
            each.fill([i, i, i + 1, i + 1], [0, value, value, 0], color=PART, linewidth=0)
            each.plot([i, i + 1], [value, value], color=base.COLOURS["blue"], linestyle="-", linewidth=2.2)
            each.text(i + 0.5, value + 0.03 * top, quantity.show(values[i], system=system), ha="center", va="bottom")
        each.set_xlim(0, len(shown))
        each.set_ylim(0, top)
        each.set_xticks([i + 0.5 for i in range(len(shown))], list(result.sections))
        each.set_ylabel(base.axis_label(quantity, system=system))
        each.set_xlabel("section of the line, from the far machine to the gearbox")
    axes[0].set_xlabel(" ")


def spline(result: SplinePicture, axes: list[Axes], *, system: str = "SI") -> None:
    """The true section on the left; on the right how much of its steel each way of failing uses."""
    left, right = axes

    def scale(values: Array) -> Array:
        return np.asarray(base.shown(values, ACROSS, system=system))

    turn = np.linspace(0, 2 * np.pi, 181)
    out_x, out_y = scale(result.outside * np.sin(turn)), scale(result.outside * np.cos(turn))
    left.fill(out_x, out_y, facecolor=PART, edgecolor=base.INK, linewidth=1.0, linestyle="-")
    left.fill(
        scale(result.bore_x), scale(result.bore_y), facecolor="white", edgecolor=base.INK, linewidth=1.0, linestyle="-"
    )
    left.fill(
        scale(result.shaft_x),
        scale(result.shaft_y),
        facecolor=METAL,
        edgecolor=base.COLOURS["blue"],
        linewidth=1.2,
        linestyle="-",
    )
    reach = 1.08 * float(scale(np.array(result.outside)))
    left.set_xlim(-reach, reach)
    left.set_ylim(-reach, reach)
    left.set_aspect("equal")
    unit = units.pretty(ACROSS.shown_unit(system=system))
    left.set_xlabel(f"across [{unit}]")
    left.set_ylabel(f"up [{unit}]")
    most = max(120.0, 100 * 1.25 * max(result.used))
    for i, (mode, used) in enumerate(zip(result.modes, result.used, strict=True)):
        good = used <= 1
        colour = base.COLOURS["blue"] if good else base.COLOURS["vermilion"]
        right.fill([0, 100 * used, 100 * used, 0], [i - 0.28, i - 0.28, i + 0.28, i + 0.28], color=colour, linewidth=0)
        right.text(0, i + 0.36, f"{mode}: {100 * used:.0f} %", ha="left", va="bottom")
    right.plot([100, 100], [-0.5, len(result.used) + 0.1], color=base.INK, linestyle="--", linewidth=1.4)
    right.set_xlim(0, most)
    right.set_ylim(-0.5, len(result.used) + 0.1)
    right.set_yticks([])
    right.set_xlabel("stress, of what the steel may bear [%]")
    right.set_ylabel("way of failing")


def cut_plan(result: CutPicture, axes: list[Axes], *, system: str = "SI") -> None:
    """The upper half of the joint to scale above; below, the gap that is left while everything warms."""
    _joint(result, axes[0], system)
    _warming(result, axes[1], system)


def _joint(result: CutPicture, axes: Axes, system: str) -> None:
    def at(value: float) -> float:
        return float(base.shown(value, PLACE, system=system))

    def box(x0: float, x1: float, y0: float, y1: float, colour: str) -> None:
        x, y = (at(x0), at(x0), at(x1), at(x1)), (at(y0), at(y1), at(y1), at(y0))
        axes.fill(x, y, facecolor=colour, edgecolor=base.INK, linewidth=0.9, linestyle="-")

    d, r, body = result.face_distance, result.shaft_radius, 0.014
    high = 1.5 * result.sleeve_radius
    box(-body, 0, 0, high, PALER)
    box(d, d + body, 0, high, PALER)
    box(0, result.far_step, r, 1.25 * result.sleeve_radius, PALER)
    box(d - result.near_step, d, r, 1.25 * result.sleeve_radius, PALER)
    box(-body, result.far_cut, 0, r, METAL)
    box(d - result.near_cut, d + body, 0, r, METAL)
    end = result.sleeve_start + result.sleeve_length
    box(result.sleeve_start, end, r, result.sleeve_radius, PART)
    axes.plot([at(-body), at(d + body)], [0, 0], color=base.GREY, linestyle="-.", linewidth=0.9)
    words = {name: PLACE.show(v, system=system, digits=4) for name, v in
             (("far", result.far_cut), ("near", result.near_cut))}  # fmt: skip
    axes.text(at(-0.8 * body), at(0.35 * r), f"far {words['far']}", ha="left", va="bottom")
    axes.text(at(d + 0.8 * body), at(0.35 * r), f"near {words['near']}", ha="right", va="bottom")
    axes.text(at(d / 2), at(1.12 * result.sleeve_radius), "sleeve", ha="center", va="bottom")
    axes.set_xlim(at(-1.1 * body), at(d + 1.1 * body))
    axes.set_ylim(at(-0.12 * high), at(1.05 * high))
    axes.set_aspect("equal")
    unit = units.pretty(PLACE.shown_unit(system=system))
    axes.set_xlabel(f"from the far machine's face [{unit}]")
    axes.set_ylabel(f"from the axis [{unit}]")


def _warming(result: CutPicture, axes: Axes, system: str) -> None:
    minutes = base.shown(result.times, TIME, system=system)
    gaps = np.asarray(base.shown(result.gaps, GAP, system=system))
    reserve = float(base.shown(result.reserve, GAP, system=system))
    axes.plot(minutes, gaps, color=base.COLOURS["blue"], linestyle="-", label="gap left")
    ends = [minutes[0], minutes[-1]]
    axes.plot(ends, [reserve, reserve], color=base.COLOURS["green"], linestyle="--", label="reserve")
    axes.plot(ends, [0, 0], color=base.COLOURS["vermilion"], linestyle=":", label="they touch")
    worst = int(np.argmin(gaps))
    axes.plot([minutes[worst]], [gaps[worst]], marker="o", color=base.COLOURS["blue"], linestyle="none")
    low, high = min(0.0, float(gaps.min())), max(float(gaps.max()), reserve)
    room = 0.12 * max(high - low, 1e-9)
    axes.set_xlim(float(minutes[0]), float(minutes[-1]))
    axes.set_ylim(low - room, high + room)
    axes.set_xlabel(base.axis_label(TIME, system=system))
    axes.set_ylabel(base.axis_label(GAP, system=system))
    base.label_lines(axes)


SPEED = Quantity("n", "rad/s", "shaft speed", low=0)
PULSES = Quantity("f", "Hz", "pulses", low=0)


def side_view(result: SidePicture, axes: Axes, *, system: str = "SI") -> None:
    """The line from the side, to scale, dimensioned part by part, with the room there is and the centre of gravity."""

    def at(value: float) -> float:
        return float(base.shown(value, PLACE, system=system))

    total = result.starts[-1] + result.lengths[-1]
    for i, (name, start, length, height) in enumerate(
        zip(result.names, result.starts, result.lengths, result.heights, strict=True)
    ):
        x, y = (start, start, start + length, start + length), (-height / 2, height / 2, height / 2, -height / 2)
        dashes = "--" if i == 0 else "-"
        axes.fill([at(v) for v in x], [at(v) for v in y], facecolor=PALER if i == 0 else (METAL, PART)[i % 2],
                  edgecolor=base.INK, linewidth=0.9, linestyle=dashes)  # fmt: skip
        low = -0.20 - 0.055 * (i % 3)
        axes.plot([at(start), at(start + length)], [at(low), at(low)], color=base.GREY, linestyle="-", linewidth=0.9,
                  marker="|", markersize=7)  # fmt: skip
        words = f"{name} {PLACE.show(length, system=system)}"
        place, side = (start, "left") if i == 0 else (start + length / 2, "center")
        axes.text(at(place), at(low - 0.008), words, ha=side, va="top", fontsize=8.5)
    colour = base.COLOURS["vermilion" if total > result.room else "green"]
    axes.plot([at(0), at(result.room)], [at(0.21), at(0.21)], color=colour, linestyle="-", marker="|", markersize=9)
    axes.text(at(result.room / 2), at(0.218), f"room there is {PLACE.show(result.room, system=system, digits=4)}, "
              f"line {PLACE.show(total, system=system, digits=4)}", ha="center", va="bottom", color=colour)  # fmt: skip
    axes.plot([at(result.centre)], [0], color=base.INK, marker="o", markersize=9, fillstyle="left", linestyle="none")
    axes.text(at(result.centre), at(0.025), "centre of gravity", ha="center", va="bottom", fontsize=8.5)
    axes.set_xlim(at(-0.04), at(max(total, result.room) + 0.04))
    axes.set_ylim(at(-0.40), at(0.30))
    axes.set_aspect("equal")
    unit = units.pretty(PLACE.shown_unit(system=system))
    axes.set_xlabel(f"along the line [{unit}]")
    axes.set_ylabel(f"from the axis [{unit}]")


def side_view_page(result: SidePicture, *, scale: int = 10, title: str = "") -> Figure:
    """The side view alone on an A4 page, lying, at a scale of 1 to ``scale``: print it at full size and measure."""
    made, axes = base.figure(size=(297 / 25.4, 210 / 25.4), room=0.02)
    base.call_draw(side_view, result, axes)
    x, y = axes[0].get_xlim(), axes[0].get_ylim()  # millimetres of the vehicle
    wide, high = (x[1] - x[0]) / scale / 297, (y[1] - y[0]) / scale / 210
    if wide > 0.92 or high > 0.8:
        raise ValueError(f"scale: 1 to {scale} does not fit an A4 page; allowed: a larger number")
    axes[0].set_aspect("auto")
    axes[0].set_position((0.5 - wide / 2, 0.5 - high / 2, wide, high))
    base.place_labels(axes[0])
    made.text(0.06, 0.93, f"{title}   scale 1 : {scale}   all sizes in mm", fontsize=12)
    made.text(0.06, 0.06, "Lengths as the build states them. Heights are a sketch. Measure before you cut.", fontsize=9)
    return made


def modes(result: ModePicture, axes: Axes, *, system: str = "SI") -> None:
    """Pulses against speed: where a slanted line crosses a level one, a mode is struck."""
    x = np.asarray(base.shown(result.speeds, SPEED, system=system))
    for order, pulses in zip(result.orders, result.pulses, strict=True):
        axes.plot(x, pulses, label=f"{order:g} per turn")
    for i, mode in enumerate(result.modes, 1):
        axes.plot([x[0], x[-1]], [mode, mode], color=base.INK, linestyle="-", linewidth=1.2, label=f"mode {i}")
    end = float(base.shown(result.limit, SPEED, system=system))
    top = 1.15 * max(*result.modes, float(result.pulses[-1][-1]))
    axes.plot([end, end], [0, top], color=base.GREY, linestyle="--", linewidth=1.2)
    axes.text(end, 0.02 * top, "speed limit ", ha="right", va="bottom", color=base.GREY)
    axes.set_xlim(float(x[0]), float(x[-1]))
    axes.set_ylim(0, top)
    axes.set_xlabel(base.axis_label(SPEED, system=system))
    axes.set_ylabel(base.axis_label(PULSES, system=system))
    base.label_lines(axes)

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

PLACE = Quantity("x", "m", "place along the line", low=0)
ACROSS = Quantity("y", "m", "across", low=-1, high=1)
TORQUE = Quantity("T", "N m", "torque, shock included", low=0)
STRESS = Quantity("τ", "Pa", "shear stress", low=0, shown={"SI": "MPa", "shop": "psi"})
GAP = Quantity("g", "m", "gap left", shown={"SI": "mm", "shop": "thou"})
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

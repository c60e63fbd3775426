"""Labelled drawings of the shafts lessons: the joint cut open, the hub in its pump, dials on a flange, the plate."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.figures import base
from evlib.figures.shafts import METAL, PALER, PART, PLACE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SMALL = 8.5  # points
CLEAR = {"facecolor": "white", "edgecolor": "none", "pad": 0.8}  # keeps lines out of the words
BLUE, GREY = base.COLOURS["blue"], base.GREY


@dataclasses.dataclass(frozen=True)
class CutawayPicture:
    """The joint along its axis [m], from the far machine's face, and radii [m]."""

    face_distance: float
    far_cut: float
    near_cut: float
    far_step: float
    near_step: float
    far_start: float
    near_start: float
    sleeve_start: float
    sleeve_length: float
    sleeve_radius: float
    shaft_radius: float
    root_radius: float
    held: tuple[float, float]  # spline in engagement on the far shaft, from and to


@dataclasses.dataclass(frozen=True)
class HubPicture:
    """The hub in the gearbox's front [m], from the housing's face, and radii [m]."""

    adapter: float
    pump_depth: float
    hub_reach: float
    tang_engagement: float
    hub_radius: float
    bore_radius: float
    shaft_radius: float


@dataclasses.dataclass(frozen=True)
class PlatePicture:
    """The plate's round cuts: centre and diameter [m] and the layer of each; outline and pilot bore come first."""

    cuts: tuple[tuple[float, float, float, str], ...]
    machine_circle: float
    gearbox_circle: float


@dataclasses.dataclass(frozen=True)
class DialPicture:
    """Offset [m] and angle [rad] between two flanges of one diameter [m], to be drawn much too large."""

    offset: float
    angle: float
    diameter: float


def _box(axes: Axes, x0: float, x1: float, y0: float, y1: float, colour: str, hatch: str = "") -> None:
    axes.fill([x0, x0, x1, x1], [y0, y1, y1, y0], facecolor=colour, edgecolor=base.INK, linewidth=0.8, linestyle="-",
              hatch=hatch)  # fmt: skip


def _both_sides(axes: Axes, x0: float, x1: float, y0: float, y1: float, colour: str, hatch: str = "") -> None:
    _box(axes, x0, x1, y0, y1, colour, hatch)
    _box(axes, x0, x1, -y1, -y0, colour, hatch)


def _dimension(
    axes: Axes, x0: float, x1: float, y: float, words: str, *, reach: Sequence[float] = (), place: str = "above"
) -> None:
    """A dimension line with an arrowhead at each end, and thin lines from what it measures."""
    arrow = {"arrowstyle": "<|-|>", "color": BLUE, "linewidth": 1.1, "shrinkA": 0, "shrinkB": 0, "mutation_scale": 9}
    axes.annotate("", (x0, y), (x1, y), arrowprops=arrow)
    for x, start in zip((x0, x1), reach, strict=False):
        axes.plot([x, x], [start, y], color=GREY, linewidth=0.6, linestyle="-")
    middle = (x0 + x1) / 2
    if place == "above":
        axes.text(middle, y + 0.8, words, ha="center", va="bottom", fontsize=SMALL, color=BLUE, bbox=CLEAR)
    else:
        axes.text(middle, y - 0.8, words, ha="center", va="top", fontsize=SMALL, color=BLUE, bbox=CLEAR)


def _label(axes: Axes, words: str, at: tuple[float, float], text: tuple[float, float], *, ha: Any = "center") -> None:
    """A name beside the drawing with a thin line to the part it names."""
    thin = {"arrowstyle": "-", "color": GREY, "linewidth": 0.8, "shrinkA": 1, "shrinkB": 0}
    axes.annotate(words, at, text, ha=ha, va="center", fontsize=SMALL, color=base.INK, arrowprops=thin)


def _bare(axes: Axes, x: tuple[float, float], y: tuple[float, float]) -> None:
    axes.set_xlim(*x)
    axes.set_ylim(*y)
    axes.set_aspect("equal")
    axes.set_axis_off()


def _mm(value: float, digits: int = 4) -> str:
    return PLACE.show(value, digits=digits)


def cutaway(result: CutawayPicture, axes: Axes) -> None:
    """Shafts, sleeve, steps, faces and ring, cut open, with the sizes that the lesson works out. Lengths to scale."""
    k = 1000.0
    d, far, near = k * result.face_distance, k * result.far_cut, k * (result.face_distance - result.near_cut)
    r, root, outer = k * result.shaft_radius, k * result.root_radius, k * result.sleeve_radius
    s0, s1 = k * result.sleeve_start, k * (result.sleeve_start + result.sleeve_length)
    f_step, n_step = k * result.far_step, d - k * result.near_step
    body, high = 16.0, outer + 17.0
    for x0, x1 in ((-body, 0.0), (d, d + body)):
        _both_sides(axes, x0, x1, r + 0.6, high, PALER, "//")
    _both_sides(axes, 0.0, f_step, r + 3, outer + 5, PALER, "//")
    _both_sides(axes, n_step, d, r + 3, outer + 5, PALER, "//")
    _both_sides(axes, 0.0, d, high - 7, high, PART, "\\\\")  # the ring
    for x in (high - 3.5, 3.5 - high):
        axes.plot([-body, d + body], [x, x], color=GREY, linestyle="-.", linewidth=1.0)  # a bolt's axis
    for x0, x1, start, end in ((-body, far, k * result.far_start, far),
                               (near, d + body, near, d - k * result.near_start)):  # fmt: skip
        _box(axes, x0, x1, -r, r, METAL)
        for y in (root, -root):
            axes.plot([start, end], [y, y], color=base.INK, linewidth=0.7, linestyle="-")
        axes.plot([start, start] if x0 < 0 else [end, end], [-r, r], color=base.INK, linewidth=0.7, linestyle=":")
    _both_sides(axes, s0, s1, root, outer, PART, "xx")
    axes.plot([-body - 3, d + body + 3], [0, 0], color=GREY, linestyle="-.", linewidth=0.9)

    low = -high
    _dimension(axes, 0, d, high + 7, f"Df faces apart {_mm(result.face_distance)}", reach=(high, high))
    _dimension(axes, s0, s1, outer + 2.2, f"Ls sleeve {_mm(result.sleeve_length, 3)}", reach=(outer, outer))
    _dimension(axes, 0, far, low - 6, f"c far {_mm(result.far_cut)}", reach=(low, -r), place="below")
    _dimension(axes, near, d, low - 6, f"c near {_mm(result.near_cut)}", reach=(-r, low), place="below")
    _dimension(axes, f_step, far, low - 17, f"from step {_mm(result.far_cut - result.far_step)}",
               reach=(-outer - 5, -r), place="below")  # fmt: skip
    _dimension(axes, near, n_step, low - 26, f"from step {_mm(result.near_cut - result.near_step)}",
               reach=(-r, -outer - 5), place="below")  # fmt: skip
    held = tuple(k * x for x in result.held)
    _dimension(axes, held[0], held[1], 0.35 * r, f"Lm {_mm(result.held[1] - result.held[0], 3)}")
    gap = result.face_distance - result.far_cut - result.near_cut
    _label(axes, f"gap {_mm(gap, 2)}", ((far + near) / 2, -0.5 * r), ((far + near) / 2 + 15, -0.5 * r))
    _label(axes, f"hs step {_mm(result.far_step, 3)}", (f_step * 0.5, outer + 4.2), (-body - 4, high + 8), ha="right")
    _label(axes, "far machine", (-body * 0.6, high * 0.8), (-body - 4, high * 0.62), ha="right")
    _label(axes, "far shaft", (-body * 0.8, 0.5 * r), (-body - 4, 0.5 * r), ha="right")
    _label(axes, "near machine", (d + body * 0.6, high * 0.8), (d + body + 4, high * 0.62), ha="left")
    _label(axes, "near shaft", (d + body * 0.8, 0.5 * r), (d + body + 4, 0.5 * r), ha="left")
    _label(axes, "flange ring, bolts", (d * 0.8, high - 2), (d + body + 4, high + 6), ha="left")
    _label(axes, "spline", (far - 4, -r + 1.2), (-body - 4, -r - 2), ha="right")
    _label(axes, "sleeve", (s1 - 4, -outer + 3), (d + body + 4, -outer + 1), ha="left")
    _bare(axes, (-body - 34, d + body + 36), (low - 34, high + 14))


def hub_joint(result: HubPicture, axes: Axes) -> None:
    """The hub on the motors' shaft reaching into the gearbox's pump, cut open. Lengths to scale."""
    k = 1000.0
    plate, depth, reach, hold = (
        k * v for v in (result.adapter, result.pump_depth, result.hub_reach, result.tang_engagement)
    )  # fmt: skip
    out, bore, shaft = k * result.hub_radius, k * result.bore_radius, k * result.shaft_radius
    high = out + 22.0
    _both_sides(axes, -plate - 14, -plate, out + 6, high + 6, PALER, "//")
    _both_sides(axes, -plate, 0, out + 6, high + 6, PART, "\\\\")
    _both_sides(axes, 0, depth + 12, out + 14, high, PALER, "//")
    _both_sides(axes, depth, depth + 12, shaft + 3, out + 14, PALER, "//")  # the pump's cover: the bottom
    _both_sides(axes, 4, 14, out, out + 4, METAL, "..")  # bush
    _both_sides(axes, 0, 14, out + 4, out + 14, PALER, "//")
    _both_sides(axes, reach - hold, depth - 0.4, out, out + 13, METAL, "xx")  # pump gear
    _both_sides(axes, -plate - 4, reach, bore, out, PART, "")
    _both_sides(axes, reach - hold, reach, bore, out, METAL, "||||")  # its tangs, in the gear
    _both_sides(axes, -plate - 4, -plate + 3, shaft, bore, PART, "")  # where it sits on the shaft
    _box(axes, -plate - 20, -plate + 8, -shaft, shaft, METAL)
    _box(axes, -plate - 14, depth + 18, -shaft + 5, shaft - 5, PALER)  # splined into the motors' shaft
    axes.plot([-plate - 24, depth + 22], [0, 0], color=GREY, linestyle="-.", linewidth=0.9)
    _dimension(axes, 0, depth, -high - 6, f"dp {_mm(result.pump_depth, 3)}", reach=(-high, -out), place="below")
    _dimension(axes, 0, reach, -high - 18, f"rh {_mm(result.hub_reach, 3)}", reach=(-high, -bore), place="below")
    _dimension(axes, reach - hold, reach, -high - 30, f"Lt {_mm(result.tang_engagement, 2)}", reach=(-bore, -bore),
               place="below")  # fmt: skip
    _dimension(axes, reach, depth, 0.5 * (bore + shaft), "", reach=(bore, shaft + 3))
    left = f"{_mm(result.pump_depth - result.hub_reach, 2)} left, cold"
    _label(axes, left, ((reach + depth) / 2, 0.5 * (bore + shaft)), (depth + 22, 0.5 * shaft), ha="left")
    _dimension(axes, -plate, 0, high + 12, f"l3 adapter {_mm(result.adapter, 3)}", reach=(high + 6, high + 6))
    _label(axes, "near machine", (-plate - 7, high), (-plate - 24, high + 8), ha="right")
    _label(axes, "motors' shaft", (-plate - 14, 0.4 * shaft), (-plate - 24, 0.6 * shaft), ha="right")
    _label(axes, "hub", (-plate * 0.5, -0.5 * (out + bore)), (-plate - 24, -out), ha="right")
    _label(axes, "gearbox housing", (8, high - 2), (depth + 22, high + 10), ha="left")
    _label(axes, "bush", (9, -out - 2), (depth + 22, -high), ha="left")
    _label(axes, "pump gear", (depth - 3, out + 9), (depth + 22, out + 8), ha="left")
    _label(axes, "tangs of the hub", (reach - 0.6 * hold, 0.5 * (out + bore)), (depth + 22, out - 4), ha="left")
    _label(axes, "bottom of the drive", (depth + 1, -out - 4), (depth + 22, -out - 4), ha="left")
    _label(axes, "gearbox input", (depth + 16, -0.4 * shaft), (depth + 22, -out + 10), ha="left")
    _bare(axes, (-plate - 62, depth + 74), (-high - 40, high + 22))


def plate(result: PlatePicture, axes: Axes) -> None:
    """The adapter plate to scale, as the cutter gets it, with its sizes."""
    turn = np.linspace(0, 2 * math.pi, 121)
    colours = {"outline": base.INK, "pilot": base.COLOURS["vermilion"], "machine_holes": BLUE,
               "gearbox_holes": base.COLOURS["green"]}  # fmt: skip
    for x, y, size, layer in result.cuts:
        colour = METAL if layer == "outline" else "white"
        axes.fill(1000 * (x + size / 2 * np.cos(turn)), 1000 * (y + size / 2 * np.sin(turn)), facecolor=colour,
                  edgecolor=colours[layer], linewidth=1.4, linestyle="-")  # fmt: skip
    for circle, layer in ((result.machine_circle, "machine_holes"), (result.gearbox_circle, "gearbox_holes")):
        axes.plot(500 * circle * np.cos(turn), 500 * circle * np.sin(turn), color=colours[layer], linewidth=0.7,
                  linestyle="--")  # fmt: skip
    outline, pilot = result.cuts[0][2], result.cuts[1][2]
    edge = 500 * outline
    axes.plot([-edge - 6, edge + 6], [0, 0], color=GREY, linestyle="-.", linewidth=0.7)
    axes.plot([0, 0], [-edge - 6, edge + 6], color=GREY, linestyle="-.", linewidth=0.7)
    holes = {layer: [c for c in result.cuts if c[3] == layer] for layer in ("machine_holes", "gearbox_holes")}
    words = (
        (0.7071 * edge, 0.7071 * edge, f"outline {_mm(outline)}"),
        (0.0, 500 * pilot, f"pilot bore {_mm(pilot, 5)}"),
    )
    for row, (x, y, text) in enumerate(words):
        _label(axes, text, (x, y), (edge + 14, edge - 14 - 26 * row), ha="left")
    for row, (layer, found) in enumerate(holes.items()):
        circle = result.machine_circle if layer == "machine_holes" else result.gearbox_circle
        hole = max(found, key=lambda c: (c[0] > 0, c[1] <= 1e-9, c[0]))
        text = f"{layer.split('_')[0]} side: {len(found)} holes {_mm(hole[2], 3)}\non a circle of {_mm(circle, 3)}"
        _label(axes, text, (1000 * hole[0], 1000 * hole[1]), (edge + 14, 30 - 100 * (1 - row)), ha="left")
    _bare(axes, (-edge - 12, edge + 165), (-edge - 10, edge + 10))


def dials(result: DialPicture, axes: Sequence[Axes]) -> None:
    """A dial on the rim for the offset, a dial on the face for the angle; both errors are drawn much too large."""
    ring, red = np.linspace(0, 2 * math.pi, 61), base.COLOURS["vermilion"]
    for on_face, each in enumerate(axes):
        shift, tilt, half = (0.0, math.radians(6), 56.0) if on_face else (7.0, 0.0, 42.0)
        _box(each, -46, -17, -8, 8, METAL)
        _box(each, -17, -5, -42, 42, PART)
        turn = np.array([[math.cos(tilt), math.sin(tilt)], [-math.sin(tilt), math.cos(tilt)]])
        moved = np.array((4.0 if on_face else 0.0, shift))
        for x0, x1, y, colour in ((5, 17, half, PART), (17, 46, 8, METAL)):
            x, y2 = (np.array([(x0, -y), (x0, y), (x1, y), (x1, -y)]) @ turn + moved).T
            each.fill(x, y2, facecolor=colour, edgecolor=base.INK, linewidth=0.8, linestyle="-")
        each.plot([-50, 56], [0, 0], color=GREY, linestyle="-.", linewidth=0.9)
        ends = np.array([(0, 0), (64, 0)]) @ turn + moved
        each.plot(ends[:, 0], ends[:, 1], color=red, linestyle="--", linewidth=1.3)
        dial, tip = ((-22.0, 49.0), (4.5, 49.0)) if on_face else ((11.0, 68.0), (11.0, 49.0))
        post = ([-34, -34, dial[0]], [8, dial[1], dial[1]])
        each.plot(*post, color=GREY, linewidth=2.2, linestyle="-")  # the dial's holder, clamped to this shaft
        each.plot([dial[0], tip[0]], [dial[1], tip[1]], color=base.INK, linewidth=1.6, linestyle="-")
        each.fill(dial[0] + 8 * np.cos(ring), dial[1] + 8 * np.sin(ring), facecolor="white", edgecolor=base.INK,
                  linewidth=1.2, linestyle="-")  # fmt: skip
        each.plot([dial[0], dial[0] + 4], [dial[1], dial[1] + 5], color=BLUE, linewidth=1.4, linestyle="-")
        each.text(-34, -48, "this shaft\nholds the dial", ha="center", va="top", fontsize=SMALL)
        words = "angle: full reading\nover the diameter" if on_face else "offset: half of\nthe full reading"
        each.text(44, -62 if on_face else -48, words, ha="center", va="top", fontsize=SMALL, color=red)
        each.set_title("dial on the face" if on_face else "dial on the rim", fontsize=10)
        _bare(each, (-64, 80), (-80, 80))

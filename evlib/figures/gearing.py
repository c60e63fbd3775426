"""What the gearing lesson draws: pull against road, the run-up, the ratio map, a planetary set to scale."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.build.cycle import Driven
from evlib.build.pull_case import PullCase, RunCase
from evlib.build.ratio_map import MapCase, MapPicture
from evlib.figures import base
from evlib.gearing.coast_down import CoastFit
from evlib.gearing.set_picture import SetPicture
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SPEED = Quantity("v", "m/s", "speed", low=0)
FORCE = Quantity("F", "N", "force at the tyres", shown={"SI": "kN", "shop": "lbf"})
TIME = Quantity("t", "s", "time", low=0)


def _shown(quantity: Quantity, system: str) -> Callable[[Any], Any]:
    return lambda values: base.shown(values, quantity, system=system)


def pull_against_road(result: PullCase, axes: Axes, *, system: str = "SI") -> None:
    """Pull in each gear, road load by grade, and the grip, over road speed."""
    across, up = _shown(SPEED, system), _shown(FORCE, system)
    top = 1.15 * max(result.grip, max(float(gear.steady.max()) for gear in result.gears))
    for grade, force in result.road.items():
        inside = force <= top
        axes.plot(across(result.speed[inside]), up(force[inside]), color=base.GREY, linestyle="-", linewidth=1.1,
                  label=f"road, {100 * grade:.0f} %")  # fmt: skip
    looks = (("blue", "-"), ("vermilion", (0, (6, 2))))
    for gear, (colour, dash) in zip(result.gears, looks, strict=False):
        ink = base.COLOURS[colour]
        axes.plot(across(gear.speed), up(gear.steady), color=ink, linestyle=dash, label="_" + gear.name)
        axes.text(float(across(gear.speed[-1])), float(up(gear.steady[-1])), gear.name, color=ink, ha="right", va="top",
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0})  # fmt: skip
    first = result.gears[0]
    axes.plot(across(first.speed), up(first.moving), color=base.COLOURS["blue"], linestyle=(0, (1.5, 1.5)),
              linewidth=1.3, label="_moving")  # fmt: skip
    axes.text(0.98, 0.98, f"dotted: {first.name}, at the tyre while accelerating", color=base.COLOURS["blue"], va="top",
              ha="right", transform=axes.transAxes)  # fmt: skip
    ends = np.array([0.0, float(result.speed[-1])])
    axes.plot(across(ends), up(np.full(2, result.grip)), color=base.COLOURS["green"], linestyle=(0, (7, 2, 1.5, 2)),
              label="grip")  # fmt: skip
    axes.set_xlim(0, float(across(ends[1])))
    axes.set_ylim(0, float(up(top)))
    axes.set_xlabel(base.axis_label(SPEED, system=system, text="road speed"))
    axes.set_ylabel(base.axis_label(FORCE, system=system))
    base.label_lines(axes)


def run_up(result: RunCase, axes: Axes, *, system: str = "SI") -> None:
    """Speed over time, with the change-over and the target."""
    across = _shown(SPEED, system)
    axes.plot(result.time, across(result.speed), color=base.COLOURS["blue"], label="_speed")
    axes.axhline(float(across(result.target)), color=base.GREY, linestyle=":", linewidth=1.1, label="target")
    if result.changes:
        axes.axvspan(result.change_time, result.change_time + result.pause, color=base.PALE)
        axes.text(result.change_time + result.pause, 0.06 * float(across(result.target)), " change", color=base.INK)
    end = result.total
    if result.reached:
        axes.plot([end], [float(across(result.target))], marker="o", linestyle="none",
                  color=base.COLOURS["vermilion"], label="_end")  # fmt: skip
    axes.set_xlim(0, max(10.0, 1.15 * end))
    axes.set_ylim(0, 1.15 * float(across(result.target)))
    axes.set_xlabel(base.axis_label(TIME))
    axes.set_ylabel(base.axis_label(SPEED, system=system, text="road speed"))
    base.label_lines(axes)


LINES = {
    "time": ("blue", "-", "time to speed"),
    "start": ("vermilion", (0, (6, 2)), "steepest start"),
    "top": ("green", (0, (7, 2, 1.5, 2)), "top speed"),
    "winding": ("violet", (0, (3, 1.5)), "hour's climb"),
}


def ratio_map(result: MapCase, axes: Axes) -> None:
    """The boundary of each target over final drive and low ratio, what meets all of them, and one design as a point."""
    from contourpy import contour_generator

    found = result.picture
    shade = contour_generator(found.final, found.low, found.worst, fill_type="OuterCode")
    for polygon in shade.filled(0.0, 99.0)[0]:
        assert polygon is not None
        axes.fill(polygon[:, 0], polygon[:, 1], color="#E3EEF5", linewidth=0, zorder=0)
    for name, spare in found.spare.items():
        colour, dash, words = LINES[name]
        lines: Any = contour_generator(found.final, found.low, spare).lines(0.0)
        if not lines:
            continue
        joined = np.concatenate([piece for line in lines for piece in (line, [[np.nan, np.nan]])])
        axes.plot(joined[:, 0], joined[:, 1], color=base.COLOURS[colour], linestyle=dash, label=f"{words} just met")
    _levels(axes, found)
    axes.plot([result.final], [result.low], marker="o", linestyle="none", color=base.INK, label="_here")
    axes.set_xlim(float(found.final[0]), float(found.final[-1]))
    axes.set_ylim(float(found.low[0]), float(found.low[-1]))
    axes.set_xlabel("final drive ratio")
    axes.set_ylabel("low ratio")
    if found.spare:
        axes.legend(loc="upper left", frameon=True, facecolor="white", edgecolor="white", framealpha=1.0)


def _levels(axes: Axes, found: MapPicture) -> None:
    """Thin lines of equal time to speed, so that the map also says how much a step is worth."""
    from contourpy import contour_generator

    low, high = np.percentile(found.time, [4, 96])
    step = next(s for s in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 1e9) if (min(high, 60.0) - low) / s <= 5)
    high = min(high, 60.0)
    ways = contour_generator(found.final, found.low, found.time)
    for level in np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step:
        lines: Any = ways.lines(float(level))
        if not lines:
            continue
        joined = np.concatenate([piece for line in lines for piece in (line, [[np.nan, np.nan]])])
        axes.plot(joined[:, 0], joined[:, 1], color=base.GREY, linewidth=0.8, linestyle="-", label="_level")
        longest = max(lines, key=len)
        at = longest[len(longest) // 4]
        axes.text(at[0], at[1], f"{level:.1f} s", color=base.GREY, ha="center", va="center", fontsize=8.5,
                  clip_on=True, bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8})  # fmt: skip


def coast_down(result: CoastFit, axes: list[Axes], *, system: str = "SI") -> None:
    """Logged and fitted speeds of the runs, and below what is left between them."""
    across = _shown(SPEED, system)
    above, below = axes
    looks = (("blue", "o", "-"), ("vermilion", "s", (0, (6, 2))))
    for run, trace, (colour, mark, dash) in zip(result.runs, result.traces, looks, strict=False):
        ink, name = base.COLOURS[colour], "out" if run.direction > 0 else "back"
        above.plot(run.time[::3], across(run.speed[::3]), marker=mark, markersize=3, linestyle="none", color=ink,
                   label="_log")  # fmt: skip
        above.plot(run.time, across(trace), color=ink, linestyle=dash, linewidth=1.2, label=name)
        below.plot(run.time, across(run.speed - trace), color=ink, linestyle=dash, linewidth=1.0, label="_" + name)
    for each in (above, below):
        each.set_xlim(0, float(max(run.time[-1] for run in result.runs)))
    above.set_ylim(0, 1.08 * float(max(across(run.speed).max() for run in result.runs)))
    reach = 1.3 * max(float(np.abs(across(run.speed - trace)).max())
                      for run, trace in zip(result.runs, result.traces, strict=True))  # fmt: skip
    below.set_ylim(-reach, reach)
    above.set_xlabel(base.axis_label(TIME))
    below.set_xlabel(base.axis_label(TIME))
    above.set_ylabel(base.axis_label(SPEED, system=system, text="speed: dots logged, lines fitted"))
    below.set_ylabel(base.axis_label(SPEED, system=system, text="logged less fitted"))
    base.label_lines(above)


def cycle(result: Driven, axes: Axes, *, system: str = "SI") -> None:
    """The trace that was asked for and the speed that was driven."""
    across = _shown(SPEED, system)
    axes.plot(
        result.time, across(result.wanted), color=base.GREY, linestyle=(0, (3, 1.5)), linewidth=1.2, label="asked"
    )
    axes.plot(result.time, across(result.speed), color=base.COLOURS["blue"], linewidth=1.4, label="driven")
    axes.set_xlim(0, float(result.time[-1]))
    axes.set_ylim(0, 1.1 * float(across(result.wanted.max())))
    axes.set_xlabel(base.axis_label(TIME))
    axes.set_ylabel(base.axis_label(SPEED, system=system, text="road speed"))
    base.label_lines(axes)


def planetary(result: SetPicture, axes: Axes) -> None:
    """A set to scale, seen from the input end: pitch circles, with each member's speed per input turn."""
    for circle in result.circles:
        x, y = _circle(circle.x, circle.y, circle.radius)
        held = circle.speed == 0
        axes.plot(x, y, color=base.INK if held else base.COLOURS[circle.colour], linewidth=2.6 if held else 1.6,
                  linestyle="-" if not circle.internal else (0, (6, 2)), label="_circle")  # fmt: skip
        if circle.mark:
            angle = circle.angle
            axes.plot([circle.x, circle.x + circle.radius * np.cos(angle)],
                      [circle.y, circle.y + circle.radius * np.sin(angle)], color=base.COLOURS[circle.colour],
                      linewidth=1.0, linestyle="-", label="_mark")  # fmt: skip
    for label in result.labels:
        axes.text(label.x, label.y, label.text, ha=label.side, va="center", color=base.COLOURS[label.colour])
    shape = axes.bbox.width / axes.bbox.height  # limits in the shape of the axes, so that circles stay round live too
    axes.set_xlim(-1.08 * result.size, (-1.08 + 2.16 * shape) * result.size)
    axes.set_ylim(-1.08 * result.size, 1.08 * result.size)
    axes.set_axis_off()


def _circle(x: float, y: float, radius: float) -> tuple[Any, Any]:
    angle = np.linspace(0, 2 * np.pi, 121)
    return x + radius * np.cos(angle), y + radius * np.sin(angle)

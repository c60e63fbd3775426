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
from evlib.gearing.set_picture import Circle, SetPicture
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
        at = (3 * len(gear.speed)) // 5  # beside the falling part, clear of the road's lines and their ends
        axes.text(float(across(gear.speed[at])), float(up(gear.steady[at])), " " + gear.name, color=ink, ha="left",
                  va="bottom")  # fmt: skip
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
            share = "every" if float(np.min(spare)) >= 0 else "no"
            axes.plot([np.nan], [np.nan], linestyle="none", label=f"{words}: {share} design meets it")
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
    axes.plot(result.time, across(result.wanted), color=base.GREY, linestyle="-", linewidth=5.0, alpha=0.45,
              label="asked")  # fmt: skip
    axes.plot(result.time, across(result.speed), color=base.COLOURS["blue"], linestyle="-", linewidth=1.2,
              label="driven")  # fmt: skip
    axes.set_xlim(0, float(result.time[-1]))
    axes.set_ylim(0, 1.1 * float(across(result.wanted.max())))
    axes.set_xlabel(base.axis_label(TIME))
    axes.set_ylabel(base.axis_label(SPEED, system=system, text="road speed"))
    base.label_lines(axes)


NUMBERS = {"input sun": 1, "low sun": 2, "ring": 3, "carrier": 4, "long planet": 5, "short planet": 6}
HELD = 3.4  # line width of a member that stands still


def planetary(result: SetPicture, axes: Axes) -> None:
    """A set to scale, seen from the input end: pitch circles, with each member's speed per input turn."""
    _from_the_end(result, axes)
    for label in result.labels:
        axes.text(label.x, label.y, label.text, ha=label.side, va="center", color=base.COLOURS[label.colour])
    shape = axes.bbox.width / axes.bbox.height  # limits in the shape of the axes, so that circles stay round live too
    axes.set_xlim(-1.08 * result.size, (-1.08 + 2.16 * shape) * result.size)
    axes.set_ylim(-1.08 * result.size, 1.08 * result.size)
    axes.set_axis_off()


def two_views(result: SetPicture, axes: list[Axes]) -> None:
    """A set from its end, to scale, and from its side: which member lies in which plane."""
    front, side = axes
    front.set_position((0.01, 0.02, 0.44, 0.88))
    side.set_position((0.46, 0.02, 0.53, 0.88))
    _from_the_end(result, front, marks=False)
    _from_the_side(result, side)
    for each, left, low, high, words in ((front, -1.1, -1.1, 1.1, "from the end"),
                                         (side, -1.1, -1.75, 1.3, "from the side")):  # fmt: skip
        shape = each.bbox.width / each.bbox.height
        across = (high - low) * shape
        left = -across / 2 if each is front else left
        each.set_xlim(left * result.size, (left + across) * result.size)
        each.set_ylim(low * result.size, high * result.size)
        each.set_axis_off()
        each.set_title(words, fontsize=10, color=base.INK)


def _from_the_end(result: SetPicture, axes: Axes, *, marks: bool = True) -> None:
    """Pitch circles in their members' colours, what stands still with a thick line, each kind numbered once."""
    pins = np.array([(circle.x, circle.y) for circle in result.circles if "planet" in circle.name])
    around = np.vstack([pins, pins[:1]])
    axes.plot(around[:, 0], around[:, 1], color=base.INK, linewidth=1.2, linestyle="-", marker="o", markersize=3.5,
              label="_carrier")  # fmt: skip
    numbered: set[str] = set()
    for circle in result.circles:
        x, y = _circle(circle.x, circle.y, circle.radius)
        colour = base.COLOURS[circle.colour]
        axes.plot(x, y, color=colour, linewidth=HELD if circle.speed == 0 else 1.6,
                  linestyle="-" if not circle.internal else (0, (6, 2)), label="_circle")  # fmt: skip
        if circle.mark and marks:
            axes.plot([circle.x, circle.x + circle.radius * np.cos(circle.angle)],
                      [circle.y, circle.y + circle.radius * np.sin(circle.angle)], color=colour,
                      linewidth=1.0, linestyle="-", label="_mark")  # fmt: skip
        if circle.name not in numbered:
            numbered.add(circle.name)
            _number(axes, circle.name, colour, *_place(circle, pins))
    middle = (pins[-1] + pins[-2]) / 2
    _number(axes, "carrier", base.INK, float(middle[0]), float(middle[1]))


def _place(circle: Circle, pins: Any) -> tuple[float, float]:
    """Where a member's number stands: beside a planet's pin; on a central circle away from the first planets."""
    first = float(np.arctan2(pins[0][1], pins[0][0]))
    if "planet" in circle.name:
        out = np.hypot(circle.x, circle.y)
        return circle.x * (1 + 0.42 * circle.radius / out), circle.y * (1 + 0.42 * circle.radius / out)
    turn, share = {"input sun": (3.9, 1.0), "low sun": (2.3, 0.55), "ring": (3.14, 1.0)}[circle.name]
    return circle.radius * share * np.cos(first + turn), circle.radius * share * np.sin(first + turn)


def _number(axes: Axes, name: str, colour: str, x: float, y: float) -> None:
    axes.text(x, y, str(NUMBERS[name]), color=colour, ha="center", va="center", weight="bold",
              bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.2})  # fmt: skip


def _from_the_side(result: SetPicture, axes: Axes) -> None:
    """Cut along the shaft, not to scale along it: above the axis a long planet, below it a short one."""
    circles = {circle.name: circle for circle in reversed(result.circles)}
    s = result.size
    radius = {name: circle.radius for name, circle in circles.items()}
    pin = {name: float(np.hypot(circles[name].x, circles[name].y)) for name in ("long planet", "short planet")}
    front, rear, wide = 0.0, 0.68 * s, 0.54 * s
    end = rear + wide

    def block(name: str, x: tuple[float, float], y: tuple[float, float]) -> None:
        ink = base.COLOURS[_colour_of(result, name)]
        axes.fill([x[0], x[1], x[1], x[0]], [y[0], y[0], y[1], y[1]], facecolor="white", edgecolor=ink, linewidth=1.6,
                  linestyle="-")  # fmt: skip

    shaft, hollow = 0.055 * s, (0.085 * s, 0.15 * s)
    for way in (1, -1):
        block("low sun", (front, front + wide), (way * hollow[0], way * radius["low sun"]))
        block("low sun", (front - 0.42 * s, front), (way * hollow[0], way * hollow[1]))
        block("input sun", (rear, end), (way * shaft, way * radius["input sun"]))
        block("ring", (front, front + wide), (way * s, way * 1.08 * s))
    block("input sun", (front - 0.75 * s, end), (-shaft, shaft))
    block("long planet", (front, end), (pin["long planet"] - radius["long planet"],
                                        pin["long planet"] + radius["long planet"]))  # fmt: skip
    block("short planet", (front, front + wide), (-pin["short planet"] - radius["short planet"],
                                                  -pin["short planet"] + radius["short planet"]))  # fmt: skip
    plate = end + 0.1 * s
    block("carrier", (plate, plate + 0.08 * s), (-pin["short planet"] - 0.08 * s, pin["long planet"] + 0.08 * s))
    block("carrier", (plate + 0.08 * s, plate + 0.5 * s), (-shaft, shaft))
    for height in (pin["long planet"], -pin["short planet"]):
        axes.plot(
            [front - 0.06 * s, plate], [height, height], color=base.INK, linewidth=1.4, linestyle="-", label="_pin"
        )
    axes.plot([-0.8 * s, plate + 0.6 * s], [0, 0], color=base.GREY, linewidth=0.8, linestyle=(0, (7, 2, 1.5, 2)),
              label="_axis")  # fmt: skip
    half = wide / 2
    for name, x, y in (("input sun", rear + half, -radius["input sun"] / 2), ("ring", front + half, 1.2 * s),
                       ("low sun", front + half, -(radius["low sun"] + hollow[0]) / 2),
                       ("long planet", end - half / 2, pin["long planet"] - 0.5 * radius["long planet"]),
                       ("short planet", front + half, -pin["short planet"] - 0.5 * radius["short planet"]),
                       ("carrier", plate + 0.2 * s, -0.5 * pin["short planet"])):  # fmt: skip
        _number(axes, name, base.COLOURS[_colour_of(result, name)], x, y)
    for x, y, words, align in ((-0.78 * s, 0.2 * s, "from the\nmotors", "left"),
                               (plate + 0.3 * s, 0.13 * s, "to the\nwheels", "left"),
                               (-0.78 * s, -0.36 * s, "band and\ndirect clutch", "left"),
                               (front + half, -1.2 * s, "front plane", "center"),
                               (rear + half, -1.2 * s, "rear plane", "center"),
                               (0.4 * s, -1.58 * s, "1 input sun   2 low sun   3 ring\n4 carrier   5 long planet   "
                                "6 short planet", "center")):  # fmt: skip
        axes.text(x, y, words, color=base.INK, ha=align, va="bottom" if y > 0 else "center", fontsize=9)


def _colour_of(result: SetPicture, name: str) -> str:
    return next((circle.colour for circle in result.circles if circle.name == name), "black")


def _circle(x: float, y: float, radius: float) -> tuple[Any, Any]:
    angle = np.linspace(0, 2 * np.pi, 121)
    return x + radius * np.cos(angle), y + radius * np.sin(angle)

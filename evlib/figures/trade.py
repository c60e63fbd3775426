"""What the lesson on choosing draws: the trade-off map, and the front of a search."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.build.schema import declared
from evlib.build.search.front import FrontCase
from evlib.build.search.trade_map import TradeCase
from evlib.figures import base
from evlib.ground import units
from evlib.ground.quantity import Array, Quantity, quantity_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SHADE = "#E3EEF5"
APART = 30.0  # pixels between two labels on lines
ROW = 15.5  # pixels from line to line in the key
LINES, MOST = 3, 9  # contours of a result: about so many over half of the map, and at most over all of it


def trade_map(result: TradeCase, axes: Axes, *, system: str = "SI") -> None:
    """Contours of a result, the limits of the checks that bound what is possible, and one build as a point."""
    from contourpy import contour_generator

    picture = result.picture
    across, up = (_quantity(path) for path in (picture.across, picture.up))
    x, y = base.shown(picture.x, across, system=system), base.shown(picture.y, up, system=system)
    axes.set_xlim(float(x[0]), float(x[-1]))
    axes.set_ylim(float(y[0]), float(y[-1]))
    shade = contour_generator(x, y, picture.worst, fill_type="OuterCode")
    for polygon in shade.filled(0.0, 99.0)[0]:
        assert polygon is not None
        axes.fill(polygon[:, 0], polygon[:, 1], color=SHADE, linewidth=0, zorder=0)
    point = float(base.shown(result.x, across, system=system)), float(base.shown(result.y, up, system=system))
    taken = [axes.transData.transform(point)]
    _limits(result, axes, x, y, taken)
    _contours(result, axes, x, y, taken, system)
    axes.plot([point[0]], [point[1]], marker="o", markersize=8, linestyle="none", color=base.INK, label="this build")
    axes.set_xlabel(base.axis_label(across, system=system))
    axes.set_ylabel(base.axis_label(up, system=system))
    _key(axes)


def front(result: FrontCase, axes: Axes, *, system: str = "SI") -> None:
    """The front over two aims, some of the builds behind it, the kept ones, the chosen one and the present build."""

    def points(values: Array) -> tuple[Array, Array]:
        return tuple(_amounts(values[:, k], result.units[k], system) for k in (0, 1))  # type: ignore[return-value]

    words = "no check fails" if result.free else "some check fails"
    axes.plot(*points(result.cloud), marker="s", markersize=2, linestyle="none", color="#9BB7C9",
              label=textwrap.fill(f"tried, {words}", 24))  # fmt: skip
    axes.plot(*points(result.line), color=base.COLOURS["blue"], linestyle="-", linewidth=1.0, marker="o", markersize=3,
              label="front: none better in both")  # fmt: skip
    if len(result.present):
        axes.plot(*points(result.present), marker="D", markersize=8, linestyle="none", color=base.COLOURS["vermilion"],
                  label="the build as it is")  # fmt: skip
    if len(result.kept):
        axes.plot(*points(result.kept), marker="s", markersize=8, linestyle="none", fillstyle="none",
                  color=base.COLOURS["green"], label="kept, to be driven")  # fmt: skip
    axes.plot(*points(np.array([result.point])), marker="o", markersize=11, linestyle="none", fillstyle="none",
              color=base.INK, label="chosen")  # fmt: skip
    for number, (name, (unit, kind), way) in enumerate(zip(result.aims, result.units, result.ways, strict=True)):
        better = "less is wanted" if way == "least" else "more is wanted"
        shown = units.pretty(units.shown_unit(unit, kind=kind, system=system))
        label = name + (f" [{shown}], {better}" if shown else f", {better}")
        (axes.set_ylabel if number else axes.set_xlabel)(label)
        every = np.concatenate([each[:, number] for each in (result.cloud, result.line, result.kept, result.present)])
        low, high = _amounts(np.array([every.min(), every.max()]), (unit, kind), system)
        room = 0.06 * (high - low) or 0.05 * max(abs(high), 1.0)
        (axes.set_ylim if number else axes.set_xlim)(float(low - room), float(high + room))
    _key(axes)


def _amounts(values: Array, unit: tuple[str, str], system: str) -> Array:
    name = units.shown_unit(unit[0], kind=unit[1], system=system)
    return np.asarray(units.to_shown(values, unit[0], shown=name, kind=unit[1]))


def _limits(result: TradeCase, axes: Axes, x: Array, y: Array, taken: list[Any]) -> None:
    """A numbered line where each drawn check is just met; the legend names the numbers."""
    from contourpy import contour_generator

    for number, (name, colour, dash) in enumerate(
        zip(result.picture.limits, base.COLOURS, base.DASHES, strict=False), 1
    ):
        lines: Any = contour_generator(x, y, result.picture.margins[name]).lines(0.0)
        words = textwrap.fill(f"{number} {name}, just met", 24)
        axes.plot(*_joined(lines), color=base.COLOURS[colour], linestyle=dash, label=words)
        _mark(axes, lines, str(number), taken, color=base.COLOURS[colour], weight="bold")


def _contours(result: TradeCase, axes: Axes, x: Array, y: Array, taken: list[Any], system: str) -> None:
    """Thin lines on which the result is the same."""
    from contourpy import contour_generator

    shown = units.shown_unit(result.unit, kind=result.kind, system=system)
    values = units.to_shown(result.picture.results[result.result], result.unit, shown=shown, kind=result.kind)
    grid = np.ma.array(values, mask=~result.picture.known[result.result])
    good = grid.compressed()
    step, ways = _step(good), contour_generator(x, y, grid)
    label = textwrap.fill(f"{result.result} [{units.pretty(shown)}]" if shown else result.result, 24)
    if step:
        low, high = np.percentile(good, [3, 97])
        for level in (np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step)[:MOST]:
            lines: Any = ways.lines(float(level))
            axes.plot(*_joined(lines), color=base.GREY, linewidth=0.9, linestyle="-", label=label)
            _mark(axes, lines, f"{level:.6g}", taken, color=base.GREY, fontsize=8.5)
            label = "_level"  # one entry of the legend stands for all of them


def _step(values: Any) -> float:
    """A round step that gives about three lines over the middle half of what the map holds; 0 where all is alike."""
    if not len(values):
        return 0.0
    low, high = np.percentile(values, [25, 75])
    wide = float(high - low)
    if not wide > 1e-9 * max(abs(float(high)), 1e-9):
        return 0.0
    tens = 10.0 ** np.floor(np.log10(wide / LINES))
    return float(next(step * tens for step in (1.0, 2.0, 5.0, 10.0) if wide / (step * tens) <= LINES))


def _mark(axes: Axes, lines: Any, words: str, taken: list[Any], **look: Any) -> None:
    """Write on a line, where nothing else is written near it; where there is no such place, nowhere."""
    for line in sorted(lines, key=len, reverse=True):
        for share in (0.5, 0.3, 0.7, 0.15, 0.85):
            at = line[int(share * (len(line) - 1))]
            pixel = axes.transData.transform(at)
            inside = axes.bbox.padded(-9).contains(*pixel)
            if inside and all(np.hypot(*(pixel - other)) > APART for other in taken):
                taken.append(pixel)
                axes.text(at[0], at[1], words, ha="center", va="center", clip_on=True,
                          bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8}, **look)  # fmt: skip
                return


def _key(axes: Axes) -> None:
    """What each labelled line is, beside the picture; matplotlib's own legend takes as long as all the rest."""
    from matplotlib.lines import Line2D

    wide, high = axes.bbox.width, axes.bbox.height
    left, right, top = 1 + 12 / wide, 1 + 44 / wide, 1.0
    for line in list(axes.lines):
        words = str(line.get_label())
        if words.startswith("_"):
            continue
        tall = ROW * (words.count("\n") + 1)
        middle = top - tall / 2 / high
        alone = line.get_linestyle() in ("None", "none")
        sample = Line2D([(left + right) / 2] if alone else [left, right], [middle] if alone else [middle, middle])
        sample.update_from(line)
        sample.set(transform=axes.transAxes, clip_on=False, label="_key")
        axes.add_line(sample)
        axes.text(right + 8 / wide, middle, words, transform=axes.transAxes, va="center", fontsize=9.5)
        top -= (tall + 7) / high


def _joined(lines: Any) -> tuple[Array, Array]:
    """Several pieces of one line, with gaps between them."""
    if not lines:
        return np.array([np.nan]), np.array([np.nan])
    points = np.concatenate([piece for line in lines for piece in (line, [[np.nan, np.nan]])])
    return points[:, 0], points[:, 1]


def _quantity(path: str) -> Quantity:
    found = quantity_of(declared()[path])
    assert found is not None
    return found

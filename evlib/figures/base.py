"""One figure style for all lessons, and the few helpers that every picture uses.

A figure function is ``draw(result, axes)``: it takes a computed result and matplotlib axes, draws, and computes
nothing. It may take a keyword ``system`` (``"SI"`` or ``"shop"``) if its axes follow the learner's units. Text is
plain Unicode, never ``$...$``: the live picture and the printed one must read the same.
"""

from __future__ import annotations

import functools
import inspect
import io
import itertools
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# Told apart with the common kinds of colour blindness, and each at least 4.5 to 1 against white, so that a label may
# have its line's colour (a test computes both). Colour is never alone: every colour has its own line style, and lines
# are labelled where they end.
COLOURS: dict[str, str] = {
    "blue": "#0072B2", "vermilion": "#C04A00", "black": "#222222",
    "green": "#007F5C", "indigo": "#332288", "violet": "#8040D0",
}  # fmt: skip
DASHES: tuple[str | tuple[int, tuple[float, ...]], ...] = (
    "-", (0, (6, 2)), (0, (1.5, 1.5)), (0, (7, 2, 1.5, 2)), (0, (3, 1.5)), (0, (7, 2, 1.5, 2, 1.5, 2)),
)  # fmt: skip
INK, GREY, PALE = "#222222", "#6B6B6B", "#DDDDDD"
DPI = 100
LARGEST_PNG = 60_000  # bytes; a picture saved in a notebook is not larger
FONTS = ("DejaVu Sans", "Verdana", "sans-serif")


@functools.cache
def style() -> dict[str, Any]:
    """The one figure style, as matplotlib settings."""
    from cycler import cycler

    return {
        "figure.facecolor": "white", "axes.facecolor": "white", "savefig.facecolor": "white",
        "font.family": "sans-serif", "font.sans-serif": list(FONTS), "font.size": 10,
        "axes.labelsize": 10, "xtick.labelsize": 9.5, "ytick.labelsize": 9.5, "legend.fontsize": 9.5,
        "text.color": INK, "axes.labelcolor": INK, "xtick.color": INK, "ytick.color": INK, "axes.edgecolor": GREY,
        "axes.spines.top": False, "axes.spines.right": False, "axes.linewidth": 0.9,
        "axes.grid": True, "grid.color": PALE, "grid.linewidth": 0.7, "axes.axisbelow": True,
        "axes.prop_cycle": cycler(color=list(COLOURS.values())) + cycler(linestyle=list(DASHES)),
        "lines.linewidth": 1.9, "lines.markersize": 6, "legend.frameon": False,
        "axes.formatter.useoffset": False, "axes.formatter.limits": (-5, 9), "mathtext.default": "regular",
    }  # fmt: skip


def _rc() -> Any:
    return style()  # matplotlib's stubs want literal keys


def figure(
    *, size: tuple[float, float] = (6.0, 3.7), layout: tuple[int, int] = (1, 1), room: float = 0.2
) -> tuple[Figure, list[Axes]]:
    """A figure in the one style, with fixed margins so that a live picture never jumps.

    ``size`` is in inches at 100 dots each; ``layout`` is rows and columns; ``room`` is the share of the width kept
    free on the right for the labels at the line ends.
    """
    from matplotlib import rc_context
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    rows, columns = layout
    width, height = size
    with rc_context(_rc()):
        made = Figure(figsize=size, dpi=DPI)
        FigureCanvasAgg(made)
        made.subplots_adjust(
            left=0.62 / width, right=1 - room if columns == 1 else 1 - room / columns, bottom=0.55 / height,
            top=1 - 0.35 / height, hspace=0.55, wspace=0.25 + room * 2,
        )  # fmt: skip
        axes = list(made.subplots(rows, columns, squeeze=False).flat)
    return made, axes


def place_labels(axes: Axes) -> None:
    """Put the axis labels where they do not depend on the width of the tick labels; the y label lies flat on top."""
    side = str(axes.yaxis.get_label_position())
    inches = axes.get_window_extent().height / DPI
    axes.xaxis.set_label_coords(0.5, -0.40 / inches)
    axes.yaxis.set_label_coords(-0.02 if side == "left" else 1.02, 1 + 0.09 / inches)
    axes.yaxis.label.set(rotation=0, ha=side, va="bottom")
    axes.xaxis.label.set(va="baseline")


def call_draw(draw: Callable[..., None], result: Any, axes: list[Axes], *, system: str = "SI") -> None:
    """Call a figure function in the one style: one axes alone, several as a list."""
    from matplotlib import rc_context

    given: Any = axes[0] if len(axes) == 1 else axes
    with rc_context(_rc()):
        if "system" in inspect.signature(draw).parameters:
            draw(result, given, system=system)
        else:
            draw(result, given)
    made: Any = axes[0].figure
    for each in made.axes:  # also the twins that the picture added
        place_labels(each)


def clear(axes: Axes) -> None:
    """Empty kept axes for the next picture: six times quicker than ``Axes.clear``, and all that a picture sets.

    What a figure function sets on the axes beyond artists, limits, scales, title and legend (ticks, spines) it must
    set every time.
    """
    for artist in [*axes.lines, *axes.patches, *axes.texts, *axes.collections, *axes.images, *axes.artists]:
        artist.remove()
    legend = axes.get_legend()
    if legend is not None:
        legend.remove()
    axes.set_title("")
    if axes.get_xscale() != "linear":
        axes.set_xscale("linear")
    if axes.get_yscale() != "linear":
        axes.set_yscale("linear")
    axes.set_prop_cycle(style()["axes.prop_cycle"])
    axes.relim()
    axes.set_autoscale_on(True)


def png(made: Figure) -> bytes:
    """The figure as a PNG of at most 60 kB, with few colours: a third of the size, and the eye sees no difference."""
    from PIL import Image

    plain, smaller = io.BytesIO(), io.BytesIO()
    made.savefig(plain, format="png", dpi=DPI, metadata={"Software": None})
    full = Image.open(plain).convert("RGB")
    for colours in (128, 32):
        smaller = io.BytesIO()
        full.quantize(colours).save(smaller, format="PNG", optimize=True)
        if smaller.tell() <= LARGEST_PNG:
            return smaller.getvalue()
    raise ValueError(f"the picture has {smaller.tell()} bytes; allowed are {LARGEST_PNG}: draw less in it")


def shown(values: Any, quantity: Quantity, *, system: str = "SI") -> Any:
    """SI values in the unit that the axes show."""
    return quantity.to_shown(values, system=system)


def axis_label(quantity: Quantity, *, system: str = "SI", text: str = "") -> str:
    """``torque T [N m]``: every axis names its quantity and its unit."""
    unit = units.pretty(quantity.shown_unit(system=system))
    return f"{text or quantity.text} {quantity.symbol}" + (f" [{unit}]" if unit else "")


def label_lines(axes: Axes, *, gap: float = 17.0) -> None:
    """Write each line's label at its right end, in its colour, pushed apart so that labels do not overlap.

    Call it last, when the limits stand. Lines without a label of their own are left out.
    """
    axes.get_xlim()  # settles automatic limits
    box = axes.bbox
    wanted: list[list[Any]] = []
    for line in axes.lines:
        label = str(line.get_label())
        if label.startswith("_") or not line.get_visible():
            continue
        points = line.get_transform().transform(np.column_stack(line.get_data()).astype(float))
        inside = np.isfinite(points).all(axis=1) & (points[:, 0] <= box.x1 + 1) & (points[:, 0] >= box.x0 - 1)
        inside &= (points[:, 1] <= box.y1 + 1) & (points[:, 1] >= box.y0 - 1)
        if inside.any():
            end = points[np.flatnonzero(inside)[-1]]
            wanted.append([float(np.clip(end[1], box.y0, box.y1)), label, line.get_color()])
    wanted.sort(key=lambda item: item[0])
    for below, above in itertools.pairwise(wanted):
        above[0] = max(above[0], below[0] + gap * (below[1].count("\n") + above[1].count("\n") + 2) / 2)
    top = box.y1 + 4  # pushed past the top? then push back down
    for item in reversed(wanted):
        item[0] = min(item[0], top)
        top = item[0] - gap * (1 + item[1].count("\n"))
    for height, label, colour in wanted:
        axes.text(1.015, (height - box.y0) / box.height, label, color=colour, va="center", ha="left",
                  transform=axes.transAxes)  # fmt: skip

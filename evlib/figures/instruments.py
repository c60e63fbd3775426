"""Instruments to be read off: a dial with its marks and its pointer."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING, Protocol

from evlib.figures.base import GREY, INK

if TYPE_CHECKING:
    from matplotlib.axes import Axes

START, SWEEP = 225.0, -270.0  # degrees: from lower left, clockwise, to lower right
RIM, NUMBERED, SMALL, NUMBERS, TIP = 1.0, 0.86, 0.92, 0.72, 0.88  # radii; the rim is 1


class Face(Protocol):
    """What a dial looks like and where its pointer stands, in the dial's own numbers."""

    @property
    def marks(self) -> tuple[tuple[float, str], ...]:
        """Each mark and its number, or an empty text."""

    @property
    def share(self) -> float:
        """Where the pointer stands: 0 at the first mark, 1 at the last."""

    @property
    def caption(self) -> str:
        """What stands on the dial."""


def draw_dial(result: Face, axes: Axes) -> None:
    """A round dial as it hangs on the bench."""
    from matplotlib.patches import Circle

    first, last = result.marks[0][0], result.marks[-1][0]
    axes.set_axis_off()
    axes.set_aspect("equal")
    axes.set(xlim=(-1.12, 1.12), ylim=(-1.12, 1.12))
    axes.add_patch(Circle((0, 0), RIM + 0.08, fill=False, edgecolor=GREY, linewidth=3))
    for value, text in result.marks:
        angle = _angle((value - first) / (last - first))
        inner = NUMBERED if text else SMALL
        axes.plot([inner * cos(angle), RIM * cos(angle)], [inner * sin(angle), RIM * sin(angle)], "-", color=INK,
                  linewidth=2.0 if text else 1.0)  # fmt: skip
        axes.text(NUMBERS * cos(angle), NUMBERS * sin(angle), text, ha="center", va="center", fontsize=11, zorder=3)
    axes.text(0, -0.31, result.caption, ha="center", va="center", fontsize=11)
    angle = _angle(result.share)
    axes.plot([-0.18 * cos(angle), TIP * cos(angle)], [-0.18 * sin(angle), TIP * sin(angle)], "-", color=INK,
              linewidth=2.2, gid="pointer")  # fmt: skip
    axes.add_patch(Circle((0, 0), 0.06, facecolor=INK))


def _angle(share: float) -> float:
    """Where on the dial something stands [rad, anticlockwise from the right]."""
    return radians(START + SWEEP * share)

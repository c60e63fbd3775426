"""What the parking lesson draws: rolling away, what holds on a grade, the selector's answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from evlib.build.parking_cases import (
    CAR_LENGTH,
    ROLL_SECONDS,
    BackCase,
    BrakeCase,
    HoldCase,
    RollCase,
    SelectorCase,
)
from evlib.figures import base
from evlib.ground.quantity import Quantity

if TYPE_CHECKING:
    from matplotlib.axes import Axes

TIME = Quantity("t", "s", "time since letting go")
DISTANCE = Quantity("s", "m", "distance", shown={"SI": "m", "shop": "ft"})
FORCE = Quantity("F", "N", "force along the road", shown={"SI": "kN", "shop": "lbf"})
TALL = 20.0  # m; past this it has long met something
HAND = Quantity("F_l", "N", "force on the lever")


def roll_away(result: RollCase, axes: Axes, *, system: str = "SI") -> None:
    """Distance over time, freewheeling and held back, with one car length marked."""
    free, held = (base.shown(np.minimum(d, TALL), DISTANCE, system=system) for d in (result.free, result.held))
    axes.plot(result.time, free, color=base.COLOURS["vermilion"], linestyle="-", label="motors freewheel")
    axes.plot(result.time, held, color=base.COLOURS["blue"], linestyle=(0, (6, 2)), label="held back")
    length = float(base.shown(CAR_LENGTH, DISTANCE, system=system))
    axes.plot(
        [0, ROLL_SECONDS], [length, length], color=base.GREY, linestyle=":", linewidth=1.2, label="one car length"
    )
    axes.set_xlim(0, ROLL_SECONDS)
    axes.set_ylim(0, float(base.shown(TALL, DISTANCE, system=system)))
    axes.set_xlabel("time since letting go t [s]")
    axes.set_ylabel(base.axis_label(DISTANCE, system=system, text="distance rolled"))
    base.label_lines(axes)


def what_holds(result: HoldCase, axes: Axes, *, system: str = "SI") -> None:
    """The slope's pull and what holds against it, over the grade."""

    def up(values: Any) -> Any:
        return base.shown(values, FORCE, system=system)

    grade = 100 * result.grade
    axes.plot(grade, up(result.pull), color=base.INK, linestyle="-", label="slope pulls")
    looks = (
        (result.park_up, "blue", "-", "park, nose up"), (result.park_down, "blue", (0, (6, 2)), "park, nose down"),
        (result.brake_up, "green", (0, (7, 2, 1.5, 2)), "brake, nose up"),
        (result.brake_down, "green", (0, (1.5, 1.5)), "brake, nose down"),
    )  # fmt: skip
    for values, colour, dash, label in looks:
        axes.plot(grade, up(values), color=base.COLOURS[colour], linestyle=dash, label=label)
    highest = 1.15 * max(float(result.pull.max()), float(result.park_up.max()), float(result.brake_up.max()),
                         float(result.brake_down.max()), float(result.park_down.max()))  # fmt: skip
    axes.plot([100 * result.asked] * 2, up(np.array([0.0, highest])), color=base.GREY, linestyle=":", linewidth=1.2,
              label="_asked")  # fmt: skip
    axes.set_xlim(0, 40)
    axes.set_ylim(0, float(np.asarray(up(highest))))
    axes.set_xlabel("grade G [%], dotted: the grade to hold")
    axes.set_ylabel(base.axis_label(FORCE, system=system))
    base.label_lines(axes)


def selector(result: SelectorCase, axes: Axes) -> None:
    """The selector's positions in a row: where it is, what is asked for, and the answer."""
    axes.set_axis_off()
    axes.set_xlim(0, len(result.order))
    axes.set_ylim(-3.4, 1.2)
    for place, name in enumerate(result.order):
        here, wanted = name == result.position, name == result.asked
        edge = base.COLOURS["blue"] if here else base.COLOURS["vermilion"] if wanted else base.GREY
        box = {"boxstyle": "round,pad=0.4", "facecolor": "white", "edgecolor": edge,
               "linewidth": 2.4 if here or wanted else 1.0}  # fmt: skip
        axes.text(place + 0.5, 0, name, ha="center", va="center", bbox=box)
        note = "here" if here else ("granted" if result.granted else "refused") if wanted else ""
        if note:
            axes.text(place + 0.5, 0.75, note, ha="center", va="center", color=edge)
    axes.text(0.02, -0.9, f"motor current now: {result.current}", ha="left", va="center")
    reasons = result.why.split("; ") if result.why else []
    shown = reasons if len(reasons) <= 4 else [*reasons[:3], f"and {len(reasons) - 3} more"]
    for line, reason in enumerate(shown):
        axes.text(0.02, -1.5 - 0.55 * line, reason, ha="left", va="center", color=base.COLOURS["vermilion"])


def handbrake(result: BrakeCase, axes: Axes, *, system: str = "SI") -> None:
    """Force along the road over the force of the hand, each way, against the slope's pull."""

    def up(values: Any) -> Any:
        return base.shown(values, FORCE, system=system)

    hand = base.shown(result.hand, HAND, system=system)
    highest = 1.12 * max(float(result.up.max()), float(result.down.max()), result.slope)
    limit = float(np.asarray(base.shown(result.limit, HAND, system=system)))
    axes.plot(hand, up(result.up), color=base.COLOURS["green"], linestyle=(0, (7, 2, 1.5, 2)), label="nose up")
    axes.plot(hand, up(result.down), color=base.COLOURS["blue"], linestyle=(0, (1.5, 1.5)), label="nose down")
    axes.plot([hand[0], hand[-1]], [float(np.asarray(up(result.slope)))] * 2, color=base.INK, linestyle="-",
              label="slope pulls")  # fmt: skip
    axes.plot([limit] * 2, up(np.array([0.0, highest])), color=base.GREY, linestyle=":", linewidth=1.2, label="_limit")
    axes.set_xlim(0, float(hand[-1]))
    axes.set_ylim(0, float(np.asarray(up(highest))))
    axes.set_xlabel(
        base.axis_label(HAND, system=system, text="force on the lever, dotted: the most that a test allows")
    )
    axes.set_ylabel(base.axis_label(FORCE, system=system))
    base.label_lines(axes)


LOOKS = {"gearbox": ("blue", "-"), "contactors": ("vermilion", (0, (6, 2))), "inverter": ("green", (0, (1.5, 1.5)))}


def going_back(result: BackCase, axes: Axes, *, system: str = "SI") -> None:
    """What a grade needs, and the pull of each way of going backwards."""

    def up(values: Any) -> Any:
        return base.shown(values, FORCE, system=system)

    grade = 100 * result.grade
    highest = 1.15 * max(float(result.needed.max()), *(way.pull for way in result.ways))
    axes.plot(grade, up(result.needed), color=base.INK, linestyle="-", label="needed")
    for way in result.ways:
        colour, dash = LOOKS[way.way]
        axes.plot([0, 40], [float(np.asarray(up(way.pull)))] * 2, color=base.COLOURS[colour], linestyle=dash,
                  label=way.way)  # fmt: skip
    axes.plot([100 * result.asked] * 2, up(np.array([0.0, highest])), color=base.GREY, linestyle=":", linewidth=1.2,
              label="_asked")  # fmt: skip
    axes.set_xlim(0, 40)
    axes.set_ylim(0, float(np.asarray(up(highest))))
    axes.set_xlabel("grade G [%], dotted: the grade to back up")
    axes.set_ylabel(base.axis_label(FORCE, system=system, text="pull backwards"))
    base.label_lines(axes)

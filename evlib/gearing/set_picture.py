"""A two-sun set laid out to scale in one gear: where each member lies, how fast it turns, what it carries."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

import numpy as np

from evlib.gearing import quantities as q
from evlib.gearing.planetary import Solution, assembles, solve, two_sun_set
from evlib.gearing.teeth import two_sun_layout
from evlib.ground.quantity import calculation, result

Gear = Literal["low", "direct", "reverse"]


@result
class Circle:
    """A pitch circle in modules; ``mark`` draws a radius at ``angle``, so that a turn can be seen."""

    name: str
    x: float
    y: float
    radius: float
    speed: float
    colour: str
    internal: bool = False
    mark: bool = False
    angle: float = 0.0


@result
class Label:
    """A line of text in modules."""

    x: float
    y: float
    text: str
    colour: str
    side: Literal["left", "center", "right"] = "left"


@result
class SetPicture:
    """The set to scale, its solution in one gear, and whether it can be put together."""

    circles: tuple[Circle, ...]
    labels: tuple[Label, ...]
    size: float
    solution: Solution
    gap: float
    assembles: bool


COLOURS = {"input sun": "blue", "low sun": "vermilion", "ring": "green", "carrier": "black",
           "long planet": "indigo", "short planet": "violet"}  # fmt: skip
TIES: dict[str, dict[str, Any]] = {
    "low": {"held": ("low sun",)},
    "direct": {"locked": (("input sun", "low sun"),)},
    "reverse": {"held": ("ring",)},
}


@calculation
def set_picture(input_sun: q.Teeth, *, low_sun: q.Teeth, short_planet: q.Teeth, long_planet: q.Teeth,
                planet_count: q.PlanetCount, gear: Gear = "low",
                input_turn: q.TurnAngle = 0.0) -> SetPicture:  # fmt: skip
    """Lay out a two-sun set in one gear, after the input has turned by an angle.

    The ring follows from the rest: z_ring = z_low + 2 z_short. Teeth that leave no room for each other are laid out
    all the same, and the gap says so: it is minus infinity where long and short planets cannot reach each other.

    >>> picture = set_picture(29, low_sun=22, short_planet=29, long_planet=17, planet_count=3)
    >>> len(picture.circles), picture.assembles
    (9, True)
    """
    ring = low_sun + 2 * short_planet
    train = two_sun_set(input_sun, low_sun=low_sun, short_planet=short_planet, long_planet=long_planet, ring=ring)
    layout = two_sun_layout(
        input_sun, low_sun=low_sun, short_planet=short_planet, long_planet=long_planet, planet_count=planet_count
    )
    solution = solve(train, driven="input sun", output="carrier", **TIES[gear])
    turn, size = float(input_turn), float(ring) / 2
    central = (("ring", ring, True), ("input sun", input_sun, False), ("low sun", low_sun, False))
    circles = [
        Circle(name, 0.0, 0.0, float(z) / 2, float(solution.speed[name]), COLOURS[name], internal, True,
               turn * float(solution.speed[name]))
        for name, z, internal in central
    ]  # fmt: skip
    carried = turn * float(solution.speed["carrier"])
    for k in range(int(planet_count)):
        at = carried + 2 * np.pi * k / int(planet_count)
        for name, radius, shift, z in (
            ("short planet", layout.radius, 0.0, short_planet),
            ("long planet", layout.second_radius, layout.angle, long_planet),
        ):
            x, y = float(radius * np.cos(at + shift)), float(radius * np.sin(at + shift))
            speed = float(solution.speed[name])
            circles.append(Circle(name, x, y, float(z) / 2, speed, COLOURS[name], False, True, turn * speed))
    return SetPicture(
        tuple(circles), tuple(_labels(train.teeth, solution, size)), size, solution, float(layout.gap),
        bool(assembles(train, planet_count=planet_count)),
    )  # fmt: skip


def _labels(teeth: Mapping[str, Any], solution: Solution, size: float) -> list[Label]:
    names = ("input sun", "low sun", "ring", "carrier", "long planet", "short planet")
    lines = [Label(1.1 * size, 0.9 * size, "number, name, teeth: turns for one of the input", COLOURS["carrier"])]
    for k, name in enumerate(names):
        speed = float(solution.speed[name])
        count = f" {teeth[name]:.0f}" if name in teeth else ""
        turns = "stands still (thick line)" if abs(speed) < 1e-12 else f"{speed:+.3f}"
        lines.append(Label(1.1 * size, size * (0.62 - 0.26 * k), f"{k + 1}  {name}{count}: {turns}", COLOURS[name]))
    return lines

"""What the selector table's speeds mean on a build, and the table's rules proved for it.

The table speaks of "walking", "medium" and "fast". On a build, walking ends at ``reverse_speed_limit`` and medium at
``low_speed_limit``. Whether a speed is too fast follows from these two settings, from the ratios and from the motors'
speed limit; it comes out as three yes-or-no answers, so there are only eight different searches for a table, however
many builds stand in a column. Each takes some tenths of a second and is made once. That is why this search may be part
of a review, and a search over a build's own numbers may not.
"""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build.gears import gear_ratios, shaft_per_road
from evlib.build.view import View, derived
from evlib.ground.quantity import Number, result
from evlib.parking.roll_away import WALKING
from evlib.parking.selector import RULES, Proof, Table, TooFast, prove, read_table

TABLE = Path(__file__).parents[2] / "data" / "parking" / "selector.toml"


@functools.cache
def shipped() -> Table:
    """The selector table that comes with the course."""
    return read_table(TABLE)


@result
class SpeedsMeant:
    """Motor speed in low at the end of walking and of medium [rad/s], and which of the table's speeds are too fast."""

    shaft_walking: Number
    shaft_medium: Number
    walking_low: Any
    medium_low: Any
    walking_reverse: Any


def speeds_meant(
    reverse_speed_limit: Any, *, low_speed_limit: Any, shaft_per_road: Any, speed_limit: Any
) -> SpeedsMeant:
    """What a build's two settings [m/s] make of the table's words.

    ``shaft_per_road`` is the motors' speed in low per road speed [rad/m], ``speed_limit`` theirs [rad/s]. Too fast for
    low: the wheels would turn the motors past their limit, with or without current. Too fast for reverse and park:
    above a brisk walk. Where low's setting lies below reverse's, medium ends where walking does.
    """
    walking = np.asarray(reverse_speed_limit, dtype=float)
    medium = np.maximum(walking, low_speed_limit)
    at_walking, at_medium = walking * shaft_per_road, medium * shaft_per_road
    return SpeedsMeant(
        at_walking, at_medium, at_walking > np.asarray(speed_limit), at_medium > np.asarray(speed_limit),
        walking > WALKING,
    )  # fmt: skip


@derived
def meant(b: View) -> SpeedsMeant:
    """What the build's settings make of the table's words."""
    s = b.parking.selector
    return speeds_meant(
        s.reverse_speed_limit,
        low_speed_limit=s.low_speed_limit,
        shaft_per_road=shaft_per_road(b, gear_ratios(b).low),
        speed_limit=b.machine.speed_limit,
    )


def too_fast(walking_low: Any, medium_low: Any, walking_reverse: Any) -> TooFast:
    """Three answers as what the search asks for."""
    low = {"fast", *(["walking"] if walking_low else []), *(["medium"] if medium_low else [])}
    reverse = {"medium", "fast", *(["walking"] if walking_reverse else [])}
    return TooFast(frozenset(low), frozenset(reverse))


def proof(b: View, table: Table | None = None) -> Proof:
    """The rules tried on one build's speeds: the shipped table, or another."""
    m = meant(b)
    answers = (bool(np.asarray(a)) for a in (m.walking_low, m.medium_low, m.walking_reverse))
    return prove(table or shipped(), too_fast(*answers))


def rules_held(b: View) -> Number:
    """How many of the rules hold, for one build or for each of a column."""
    m = meant(b)
    answers = np.broadcast_arrays(m.walking_low, m.medium_low, m.walking_reverse)
    code = sum(np.asarray(a, dtype=int) << bit for bit, a in enumerate(answers))
    held = np.zeros(np.shape(code))
    for number in np.unique(code):
        broken = prove(shipped(), too_fast(*(bool(number >> bit & 1) for bit in range(3)))).broken
        held = np.where(code == number, float(len(RULES) - len(broken)), held)
    return held

"""Cases of the parking lesson's pictures, computed from plain values: rolling away, what holds, the selector."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.build.gears import gear_ratios, geared_efficiency, has, start_torque
from evlib.build.launch import launch_allowed, launch_torque
from evlib.build.reverse import BRUSH_PART
from evlib.build.view import View
from evlib.ground.quantity import Array
from evlib.ground.road import grade_force
from evlib.parking import park_lock, reverse, roll_away
from evlib.parking.selector import State, Table

CAR_LENGTH = 4.5  # m; after that it has met what stood behind it
ROLL_SECONDS = 6.0


@dataclasses.dataclass(frozen=True)
class RollCase:
    """A car let go on a grade: distance over time, freewheeling and held back [s, m, m/s]; None: never reached."""

    grade: float
    hold_back: float
    time: Array
    free: Array
    held: Array
    free_length: float | None
    held_length: float | None
    free_walk: float | None
    speed_after: float


def roll_case(grade: float, *, hold_back: float, mass: float, rolling_coefficient: float) -> RollCase:
    """Rolling away with the motors freewheeling, against a hold-back such as a stopped engine's in gear."""
    road = {"grade": grade, "mass": mass, "rolling_coefficient": rolling_coefficient}
    time = np.linspace(0.0, ROLL_SECONDS, 61)
    free, held = (roll_away.rolled(time, hold_back=force, **road) for force in (0.0, hold_back))

    def known(seconds: Any) -> float | None:
        return float(seconds) if np.isfinite(seconds) else None

    lengths = [known(roll_away.time_to_distance(CAR_LENGTH, hold_back=f, **road)) for f in (0.0, hold_back)]
    pace = float(roll_away.roll_acceleration(grade, mass=mass, rolling_coefficient=rolling_coefficient))
    walk = known(roll_away.WALKING / pace) if pace > 0 else None
    return RollCase(grade, hold_back, time, np.asarray(free.distance), np.asarray(held.distance), lengths[0],
                    lengths[1], walk, pace * ROLL_SECONDS)  # fmt: skip


@dataclasses.dataclass(frozen=True)
class HoldCase:
    """What the slope pulls and what holds, over the grade [1, N]; and the steepest grade that each holds."""

    grade: Array
    pull: Array
    park_up: Array
    park_down: Array
    strength: float
    brake_up: Array
    brake_down: Array
    asked: float
    held_up: float
    held_down: float


def hold_case(
    asked: float, *, worse_grip: float, grip: float, mass: float, rear_axle_share: float, wheelbase: float,
    cg_height: float, driven_axle: str, handbrake_axle: str, brake_up: float, brake_down: float, strength: float,
) -> HoldCase:  # fmt: skip
    """Park lock by the worse wheel's grip and by its strength, and the handbrake, nose up and nose down."""
    grade = np.linspace(0.0, 0.40, 81)
    pull = np.asarray(grade_force(mass, grade=grade))

    def load(axle: str, nose: str) -> Array:
        return np.asarray(
            park_lock.axle_load(mass, axle=axle, nose=nose, grade=grade, rear_axle_share=rear_axle_share,  # type: ignore[arg-type]
                                wheelbase=wheelbase, cg_height=cg_height)
        )  # fmt: skip

    def park(nose: str) -> Array:
        held = park_lock.grip_hold(
            worse_grip, better_grip=grip, axle_load=load(driven_axle, nose), differential="open"
        )  # fmt: skip
        return np.minimum(held, strength)

    def brake(nose: str, force: float) -> Array:
        return np.minimum(force, grip * load(handbrake_axle, nose))

    up, down = park("up"), park("down")
    return HoldCase(grade, pull, up, down, strength, brake("up", brake_up), brake("down", brake_down), asked,
                    _steepest(grade, pull, up), _steepest(grade, pull, down))  # fmt: skip


def _steepest(grade: Array, pull: Array, hold: Array) -> float:
    """The steepest of the grades at which it still holds, read between the points."""
    spare = hold - pull
    if spare.min() >= 0:
        return float(grade[-1])
    first = int(np.argmax(spare < 0))
    if first == 0:
        return 0.0
    share = spare[first - 1] / (spare[first - 1] - spare[first])
    return float(grade[first - 1] + share * (grade[first] - grade[first - 1]))


@dataclasses.dataclass(frozen=True)
class SelectorCase:
    """One request at the selector: whether it is granted, why not, and the current allowed before it."""

    order: tuple[str, ...]
    state: State
    asked: str
    granted: bool
    why: str
    current: str


def selector_case(table: Table, *, asked: str, state: State) -> SelectorCase:
    """What the table answers to a request in a state."""
    granted = asked == state.position or table.grants(state, asked)
    why = "" if granted else table.why_refused(state, asked)
    return SelectorCase(table.order, state, asked, granted, why, table.level(state))


def ways_back(b: View) -> list[reverse.WayBack]:
    """The ways of going backwards that a build could have, each with the torque that it may use.

    Without a change-speed gearbox there is no reverse in it; an AC machine has no field to swap by contactors.
    """
    ratios = gear_ratios(b)
    low = float(np.asarray(start_torque(b)))
    boxed = has(b, "gearbox") and has(b, "hydraulics")
    rows = reverse.three_ways(
        low,
        reverse_torque=float(np.minimum(launch_torque(b, "reverse"), launch_allowed(b, "reverse"))) if boxed else low,
        input_speed_limit=float(b.machine.speed_limit),
        low_ratio=float(np.asarray(ratios.low)),
        reverse_ratio=float(np.asarray(ratios.reverse)),
        final_ratio=float(b.final_drive.final_drive_ratio),
        efficiency=float(np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency)),
        wheel_radius=float(b.vehicle.wheel_radius),
        brush_part=BRUSH_PART,
    )
    fitting = {"gearbox": has(b, "gearbox"), "contactors": b.machine.kind == "series", "inverter": True}
    return [row for row in rows if fitting[row.way]]

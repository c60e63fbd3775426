"""Cases of the parking lesson's pictures, computed from plain values: rolling away, what holds, the selector."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.build.gears import gear_ratios, geared_efficiency, has
from evlib.build.launch import rest_pressure
from evlib.build.reverse import given_backward, held_backward, needed_pull
from evlib.build.view import View
from evlib.ground.quantity import Array
from evlib.ground.road import grade_force
from evlib.parking import park_lock, reverse, roll_away
from evlib.parking.handbrake import grade_held
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
    """One request at the selector: whether it is granted, why not, and the current allowed before it.

    ``speed_words`` says what the table's words for speed mean on the build, where it has settings for them.
    """

    order: tuple[str, ...]
    position: str
    speed: str
    asked: str
    granted: bool
    why: str
    current: str
    speed_words: str = ""


def selector_case(table: Table, *, asked: str, state: State, speed_words: str = "") -> SelectorCase:
    """What the table answers to a request in a state."""
    granted = asked == state.position or table.grants(state, asked)
    why = "" if granted else table.why_refused(state, asked)
    return SelectorCase(table.order, state.position, state.speed, asked, granted, why, table.level(state), speed_words)


def torques_back(b: View) -> dict[reverse.Way, reverse.Torques]:
    """What stands behind each way of going backwards that a build could have.

    Without a change-speed gearbox there is no reverse in it; an AC machine has no field to swap by contactors.
    """
    fitting: dict[reverse.Way, bool] = {
        "gearbox": has(b, "gearbox"), "contactors": b.machine.kind == "series", "inverter": True,
    }  # fmt: skip
    boxed = has(b, "gearbox") and has(b, "hydraulics")
    found = {}
    for way in (way for way, fits in fitting.items() if fits):
        given = float(np.asarray(given_backward(b, way)))
        held = float(np.asarray(held_backward(b, way))) if boxed else None
        pressure = float(np.asarray(rest_pressure(b, "reverse" if way == "gearbox" else "low"))) if boxed else None
        found[way] = reverse.Torques(given, held, pressure)
    return found


def ways_back(b: View, torques: dict[reverse.Way, reverse.Torques] | None = None) -> list[reverse.WayBack]:
    """The ways of going backwards that a build could have, in one table; or with other torques behind them."""
    ratios = gear_ratios(b)
    return reverse.three_ways(
        torques_back(b) if torques is None else torques,
        input_speed_limit=float(b.machine.speed_limit),
        low_ratio=float(np.asarray(ratios.low)),
        reverse_ratio=float(np.asarray(ratios.reverse)),
        final_ratio=float(b.final_drive.final_drive_ratio),
        efficiency=float(np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency)),
        wheel_radius=float(b.vehicle.wheel_radius),
    )


@dataclasses.dataclass(frozen=True)
class BrakeCase:
    """Handbrake: force along the road over the force of the hand, each way [N]; what the slope pulls and grip allows.

    ``needed`` is the hand force that holds the slope [N], None where grip lets go first or no force does.
    """

    hand: Array
    up: Array
    down: Array
    slope: float
    grip_up: float
    grip_down: float
    limit: float
    needed_up: float | None
    needed_down: float | None
    held_up: float
    held_down: float


def brake_case(
    grade: float, *, mass: float, up_per_newton: float, down_per_newton: float, grip_up: float, grip_down: float,
    limit: float, grade_up: float, grade_down: float,
) -> BrakeCase:  # fmt: skip
    """The handbrake each way: force along the road goes with the hand's force, up to where the tyres let go.

    ``grip_up`` and ``grip_down`` are the tyres' limit on this grade [N]; ``grade_up`` and ``grade_down`` the steepest
    grade on which the tyres hold [1], with the axle's load on *that* grade.
    """
    hand = np.linspace(0.0, 600.0, 61)
    slope = float(np.asarray(grade_force(mass, grade=grade)))

    def way(per_newton: float, grip: float, gripped: float) -> tuple[Array, float | None, float]:
        force = np.minimum(hand * per_newton, grip)
        held = min(float(np.asarray(grade_held(limit * per_newton, mass=mass))), gripped)
        return force, (slope / per_newton if slope <= grip else None), min(held, 9.99)

    up, needed_up, held_up = way(up_per_newton, grip_up, grade_up)
    down, needed_down, held_down = way(down_per_newton, grip_down, grade_down)
    return BrakeCase(hand, up, down, slope, grip_up, grip_down, limit, needed_up, needed_down, held_up, held_down)


@dataclasses.dataclass(frozen=True)
class BackCase:
    """Going backwards: force needed over the grade [1, N], each way's pull [N], the steepest grade it backs up.

    Where a way is not possible on the build it is left out.
    """

    grade: Array
    needed: Array
    asked: float
    needed_here: float
    ways: tuple[reverse.WayBack, ...]
    steepest: tuple[float, ...]


def back_case(asked: float, *, mass: float, rolling_coefficient: float, ways: list[reverse.WayBack]) -> BackCase:
    """The ways of going backwards against what grades need."""
    grade = np.linspace(0.0, 0.40, 81)
    needed = np.asarray(needed_pull(mass, grade=grade, rolling_coefficient=rolling_coefficient))
    here = float(np.asarray(needed_pull(mass, grade=asked, rolling_coefficient=rolling_coefficient)))
    return BackCase(
        grade, needed, asked, here, tuple(ways),
        tuple(_steepest(grade, needed, np.full_like(grade, way.pull)) for way in ways),
    )  # fmt: skip


Points = tuple[tuple[float, float], ...]
TOOTH_SHARE = 0.42  # of a pitch, at the middle of the tooth; the picture's own
TOOTH_DEPTH = 0.22  # of the park wheel's radius; the picture's own


@dataclasses.dataclass(frozen=True)
class LockPicture:
    """Park wheel and pawl as outlines, in radii of the wheel; the pawl's tooth lies in the gap on top."""

    teeth: int
    wheel: Points
    pawl: Points
    pin: tuple[float, float]
    cam: tuple[float, float]
    contact: tuple[float, float]
    arm: tuple[float, float]
    gap: tuple[float, float]
    tooth: tuple[float, float]


def lock_picture(teeth: float, *, pressure_angle: float) -> LockPicture:
    """The park wheel with its count of teeth and the lean of its flanks; the pawl drawn to fit a gap.

    Each tooth is as wide at the radius 1, where the pawl meets it, as its share of a pitch; its flanks lean by the
    pressure angle from the radius, so that it is narrower at the tip.
    """
    count = int(teeth)
    pitch, inner, outer = 2 * np.pi / count, 1 - TOOTH_DEPTH / 2, 1 + TOOTH_DEPTH / 2
    half = pitch * TOOTH_SHARE / 2
    lean = min(TOOTH_DEPTH / 2 * np.tan(pressure_angle), 0.6 * half)  # narrower at the tip, wider at the foot

    def at(radius: float, angle: float) -> tuple[float, float]:
        return float(radius * np.cos(angle)), float(radius * np.sin(angle))

    top = np.pi / 2  # the middle of a gap
    wheel = [
        at(radius, top + (number + 0.5) * pitch + side)
        for number in range(count)
        for radius, side in ((inner, -half - lean), (outer, -half + lean), (outer, half - lean), (inner, half + lean))
    ]
    wide = float(pitch / 2 - half)  # half of the gap at radius 1
    foot, root = 0.86 * (wide - lean), 0.86 * (wide + lean)
    pin = (1.22, 1.16)
    pawl = (
        (-foot, inner + 0.03), (foot, inner + 0.03), (root, outer), (root + 0.12, outer + 0.03),
        (pin[0], pin[1] - 0.12), (pin[0] + 0.12, pin[1]), (pin[0], pin[1] + 0.13), (0.35, outer + 0.24),
        (-root - 0.08, outer + 0.24), (-root - 0.08, outer + 0.05), (-root, outer),
    )  # fmt: skip
    return LockPicture(
        teeth=count, wheel=tuple(wheel), pawl=pawl, pin=pin, cam=(-0.02, outer + 0.40), contact=(-wide, 1.0),
        arm=(0.75, outer + 0.12), gap=at(0.99, top - pitch * 2), tooth=at(1.0, top - pitch * (count // 4 - 0.5)),
    )  # fmt: skip


@dataclasses.dataclass(frozen=True)
class DrumPicture:
    """A drum brake as outlines, in radii of the drum; the drum turns clockwise, so the right shoe leads."""

    leading: Points
    trailing: Points
    webs: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    pivot: tuple[float, float]
    push: tuple[float, float]
    leading_at: tuple[float, float]
    trailing_at: tuple[float, float]
    lining_at: tuple[float, float]


def drum_picture(
    drum_radius: float, *, pivot_radius: float, shoe_arm: float, shoe_start: float, shoe_end: float
) -> DrumPicture:
    """Both shoes from a common pivot below, each with its lining from ``shoe_start`` to ``shoe_end`` [m, rad].

    The pushing force lies ``shoe_arm`` above the pivot. On the right the drum moves down, from the pushed end to the
    pivot: friction turns that shoe about its pivot the way the force does, so it leads.
    """
    below = -pivot_radius / drum_radius
    turn = np.linspace(shoe_start, shoe_end, 30) - np.pi / 2

    def band(side: int) -> Points:
        ring = [(radius * np.cos(t), radius * np.sin(t)) for radius, sweep in ((0.98, turn), (0.86, turn[::-1]))
                for t in sweep]  # fmt: skip
        return tuple((side * float(x), float(y)) for x, y in ring)

    up = (shoe_arm - pivot_radius) / drum_radius
    across = float(np.sqrt(max(0.86**2 - min(abs(up), 0.85) ** 2, 0.01)))
    x, y = 0.86 * float(np.cos(turn[0])), 0.86 * float(np.sin(turn[0]))
    end = 0.86 * float(np.cos(turn[-1])), 0.86 * float(np.sin(turn[-1]))
    webs = tuple(
        web for side in (1, -1)
        for web in (((0.0, side * x), (below, y)), ((side * end[0], side * across), (end[1], up)))
    )  # fmt: skip
    middle = turn[len(turn) // 2]
    mid = 0.92 * float(np.cos(middle)), 0.92 * float(np.sin(middle))
    low = turn[len(turn) // 4]
    return DrumPicture(
        leading=band(1), trailing=band(-1), webs=webs, pivot=(0.0, float(below)), push=(across, float(up)),
        leading_at=(mid[0], mid[1] + 0.15), trailing_at=(-mid[0], mid[1] + 0.15),
        lining_at=(0.95 * float(np.cos(low)), 0.95 * float(np.sin(low))),
    )  # fmt: skip

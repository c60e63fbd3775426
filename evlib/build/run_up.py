"""The run-up: from rest to a speed, by quadrature over speed, for one build or for a column of ten thousand.

Over speed the run-up needs no time steps: t = integral dv / a(v), s = integral v dv / a(v). Between two points of the
motors' curve the acceleration is taken as a straight line, for which both integrals have a closed form, so the slow
creep towards top speed costs no accuracy. What the motors give comes in as arrays (shaft speed to torque).
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.gearing import quantities as q
from evlib.gearing.inertia import rotating_mass
from evlib.gearing.traction import grip_force
from evlib.ground.quantity import Array, Number, part, result
from evlib.ground.road import GRAVITY, STANDARD_AIR

MapArray = Any  # an array of shape (points,) or (builds, points)


@part
class Drive:
    """All that a run-up needs, as plain numbers: any of them may be a column of builds.

    ``shaft_speed`` [rad/s] rises from 0 to the motors' speed limit, of shape (points,), or (builds, points) with the
    same shares of each build's own limit. ``torque`` [N m] is what the motors give at the gearbox input there, of
    shape (points,) or (builds, points). ``pack_current`` [A] and ``heat`` [W], of the same shape, are carried along
    where they are given. ``gears`` lists the ratios, the lowest gear first.
    """

    shaft_speed: Array
    torque: MapArray
    gears: tuple[q.Ratio, ...]
    gear_efficiencies: tuple[q.Efficiency, ...]
    final_drive_ratio: q.Ratio
    final_drive_efficiency: q.Efficiency = 1.0
    wheel_radius: q.WheelRadius
    mass: q.Mass
    rolling_coefficient: q.RollingCoefficient
    rolling_speed_term: q.RollingSpeedTerm = 0.0
    drag_coefficient: q.DragCoefficient
    frontal_area: q.FrontalArea
    density: q.AirDensity = STANDARD_AIR
    headwind: q.Headwind = 0.0
    grade: q.Grade = 0.0
    input_inertia: q.RotatingInertia = 0.0
    propeller_inertia: q.RotatingInertia = 0.0
    wheel_inertia: q.WheelInertia = 0.0
    change_time: q.ChangeTime = 0.0
    grip: q.Grip | None = None  # without it the tyres pass on anything
    driven_axle: q.Axle = "rear"
    rear_axle_share: q.RearAxleShare = 0.5
    wheelbase: q.Wheelbase = 2.5
    cg_height: q.CgHeight = 0.0
    pack_current: MapArray = None
    heat: MapArray = None


@result
class Leg:
    """One stretch in one gear, along its points: speed [m/s], acceleration [m/s2], forces [N], time [s], way [m]."""

    gear: int
    speed: Array
    acceleration: Array
    tyre_force: Array
    resistance: Array
    torque: Array  # what the gearbox input really takes: less than the motors could give where grip governs
    slips: Array
    time: Array
    distance: Array
    charge: Array | None
    heat: Array | None


@result
class RunUp:
    """Time [s], way [m] and last speed [m/s] of a run-up; infinite time where the speed is never reached.

    ``charge`` [C] from the pack and ``heat`` [J] in the motors are None where their curves were not given. ``slips``:
    grip, not torque, governed somewhere on the way.
    """

    time: Number
    distance: Number
    change_speed: Number
    charge: Number | None
    heat: Number | None
    slips: Any
    legs: tuple[Leg, ...]


def _column(value: Any) -> Any:
    """A scalar as it is, a column (n,) as (n, 1), to stand beside arrays of shape (n, points)."""
    value = np.asarray(value, dtype=float)
    return value[:, None] if value.ndim else value


def _at(drive: Drive, curve: Any, shaft: Any) -> Any:
    """A curve over shaft speed read at (n, m) or (m,) shaft speeds; the caller sees to it that none lies outside."""
    curve, limit = np.asarray(curve, dtype=float), drive.shaft_speed[..., -1:]
    share = shaft / limit  # of the build's own speed limit, so that every build is read on the same points
    points = (drive.shaft_speed / limit)[0] if drive.shaft_speed.ndim > 1 else drive.shaft_speed / limit
    if curve.ndim == 1:
        return np.interp(share, points, curve)
    share = np.broadcast_to(share, (curve.shape[0], np.shape(share)[-1]))
    place = np.clip(np.searchsorted(points, share) - 1, 0, len(points) - 2)
    low, high = points[place], points[place + 1]
    part = np.clip((share - low) / (high - low), 0.0, 1.0)
    return np.take_along_axis(curve, place, -1) * (1 - part) + np.take_along_axis(curve, place + 1, -1) * part


def resistance(drive: Drive, speed: Any) -> Any:
    """Road load [N] at (n, m) speeds: the same sum as :func:`evlib.ground.road.road_load`, laid out for columns."""
    angle = np.arctan(_column(drive.grade))
    weight = _column(drive.mass) * GRAVITY
    constant = weight * (np.cos(angle) * _column(drive.rolling_coefficient) + np.sin(angle))
    linear = weight * np.cos(angle) * _column(drive.rolling_speed_term)
    square = _column(drive.density) / 2 * _column(drive.drag_coefficient) * _column(drive.frontal_area)
    through = speed + _column(drive.headwind)
    return constant + linear * speed + square * through * np.abs(through)


@result
class Pull:
    """One gear at given speeds: acceleration, force at the tyre, road load, torque taken, whether it slips."""

    acceleration: Array
    tyre_force: Array
    resistance: Array
    torque: Array
    slips: Array


def pull(drive: Drive, gear: int, *, speed: Any, torque: Any) -> Pull:
    """Acceleration in a gear at (n, m) speeds with the motors' torque there; the tyre's grip is respected.

    a = (F - R) / (m + m_driven + m_dragged), but where F - m_driven a would exceed the grip, a = (F_grip - R) /
    (m + m_dragged): rotors, propeller and driven wheels are upstream of the tyre and take their share first.
    """
    spun = _spun(drive, gear)
    through = drive.gear_efficiencies[gear] * drive.final_drive_efficiency
    per_torque = _column(drive.gears[gear] * drive.final_drive_ratio * through / drive.wheel_radius)
    driven, rolling = _column(spun.driven), _column(drive.mass) + _column(spun.dragged)
    load = resistance(drive, speed)
    acceleration = (per_torque * torque - load) / (rolling + driven)
    slips = np.zeros(np.shape(acceleration), dtype=bool)
    if drive.grip is not None:
        held = (_column(_grip(drive)) - load) / rolling
        slips = acceleration > held
        acceleration = np.minimum(acceleration, held)
    tyre = load + rolling * acceleration
    return Pull(acceleration, tyre, load, (tyre + driven * acceleration) / per_torque, slips)


def _spun(drive: Drive, gear: int) -> Any:
    return rotating_mass(
        drive.input_inertia,
        gear_ratio=drive.gears[gear],
        final_drive_ratio=drive.final_drive_ratio,
        wheel_radius=drive.wheel_radius,
        propeller_inertia=drive.propeller_inertia,
        wheel_inertia=drive.wheel_inertia,
        driven_axle=drive.driven_axle,
        gear_efficiency=drive.gear_efficiencies[gear],
        final_drive_efficiency=drive.final_drive_efficiency,
    )


def _grip(drive: Drive) -> Any:
    assert drive.grip is not None
    return grip_force(
        drive.mass,
        grip=drive.grip,
        driven_axle=drive.driven_axle,
        rear_axle_share=drive.rear_axle_share,
        wheelbase=drive.wheelbase,
        cg_height=drive.cg_height,
        grade=drive.grade,
        rolling_coefficient=drive.rolling_coefficient,
    )


def _leg(drive: Drive, gear: int, start: Any, end: Any) -> Leg:
    """One gear from ``start`` to ``end`` speed (columns), along the motors' own points; cumulative from zero."""
    to_shaft = _column(drive.gears[gear] * drive.final_drive_ratio / drive.wheel_radius)
    start, end = _column(start), _column(end)
    highest = drive.shaft_speed[..., -1:] / to_shaft
    top = np.minimum(end, highest)
    own = drive.shaft_speed / to_shaft
    speed = np.clip(own, np.minimum(start, top), top)
    inner = (own >= start) & (own <= top)
    ends = np.concatenate(np.broadcast_arrays(np.minimum(start, top), top), axis=-1)
    torque = _between(drive, drive.torque, ends * to_shaft, own, start, inner)
    here = pull(drive, gear, speed=speed, torque=torque)
    step = np.diff(speed)
    a, b = here.acceleration[..., :-1], here.acceleration[..., 1:]
    stalls = (step > 0) & (np.minimum(a, b) <= 0)
    mean = np.where(stalls, 1.0, (a + b) / 2)
    x = np.where(stalls, 0.0, (b - a) / 2 / np.where(mean == 0, 1.0, mean))
    mean = np.where(step > 0, mean, 1.0)
    x = np.where(step > 0, x, 0.0)
    lag = _lag(x)  # (atanh(x)/x - 1)/x: how much longer it stays in the slower half of the step
    time = np.where(stalls, np.inf, step / mean * (1 + x * lag))
    skew = -step / (2 * mean) * lag  # integral of (v - middle) / step over time
    middle = (speed[..., :-1] + speed[..., 1:]) / 2
    distance = np.where(stalls, np.inf, middle * time + np.where(stalls, 0.0, step * skew))
    beyond = np.where((end > highest * (1 + 1e-12)) & (end > start), np.inf, 0.0)
    carried: list[Array | None] = []
    for curve in (drive.pack_current, drive.heat):
        if curve is None:
            carried.append(None)
            continue
        value = _between(drive, curve, ends * to_shaft, own, start, inner)
        share = np.where(here.slips, here.torque / np.where(torque == 0, 1.0, torque), 1.0)
        value = value * share  # where grip governs the driver lifts: current and heat taken in proportion
        total = (value[..., 1:] + value[..., :-1]) / 2 * time + np.diff(value) * skew
        carried.append(_running(np.where(stalls, np.inf, total), beyond))
    return Leg(gear=gear, speed=speed, acceleration=here.acceleration, tyre_force=here.tyre_force,
               resistance=here.resistance, torque=here.torque, slips=here.slips, time=_running(time, beyond),
               distance=_running(distance, beyond), charge=carried[0], heat=carried[1])  # fmt: skip


def _between(drive: Drive, curve: Any, ends: Any, own: Any, start: Any, inner: Any) -> Any:
    """A curve at the points of a leg: its own values inside, read between points at the leg's two ends."""
    at_ends = _at(drive, curve, ends)
    outside = np.where(own < start, at_ends[..., :1], at_ends[..., -1:])
    return np.where(inner, np.asarray(curve, dtype=float), outside)


def _running(steps: Array, beyond: Any) -> Array:
    """Sum along the points, from zero; infinite at the last point where the motors' curve ends too early."""
    sums = np.concatenate([np.zeros((*steps.shape[:-1], 1)), np.cumsum(steps, axis=-1)], axis=-1)
    sums[..., -1:] += beyond
    return sums


def _lag(x: Any) -> Any:
    """(atanh(x)/x - 1)/x = x/3 + x^3/5 + ..., without the cancellation near 0."""
    with np.errstate(divide="ignore", invalid="ignore"):
        small = np.abs(x) < 0.05
        direct = (np.arctanh(np.where(small, 0.5, x)) / np.where(small, 0.5, x) - 1) / np.where(small, 0.5, x)
    square = x * x
    return np.where(small, x * (1 / 3 + square * (1 / 5 + square * (1 / 7 + square / 9))), direct)


def coast(drive: Drive, speed: Any, *, time: Any) -> tuple[Any, Any]:
    """Speed [m/s] and way [m] after rolling for a time with the box between gears (one Runge-Kutta step)."""
    spun = _spun(drive, 0)
    mass = drive.mass + spun.dragged + spun.driven_wheels + spun.propeller

    def slower(v: Any) -> Any:
        return -resistance(drive, v[..., None])[..., 0] / mass

    v = np.asarray(speed, dtype=float)
    k1 = slower(v)
    k2 = slower(v + time / 2 * k1)
    k3 = slower(v + time / 2 * k2)
    k4 = slower(v + time * k3)
    after = v + time / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return after, time * (v + after) / 2 - time**2 / 12 * (k4 - k1)


def run_up(drive: Drive, *, speed: Any, change_speed: Any = None) -> RunUp:
    """From rest to a speed: low gear to the change-over, a pause without pull, then direct.

    t = integral dv/a, s = integral v dv/a over each gear, and the change time in between, during which the vehicle
    coasts. speed [m/s] to be reached; change_speed [m/s], by :func:`change_by_rule` if not given. Ignored: the little
    push the rotors give while the clutch pulls them down; pack and motors stay as warm as their curves were made for.
    """
    speed = np.asarray(speed, dtype=float)
    if len(drive.gears) == 1:
        legs = (_leg(drive, 0, np.zeros_like(speed), speed),)
        return _collect(legs, np.nan * speed, 0.0, 0.0)
    change = np.asarray(change_by_rule(drive) if change_speed is None else change_speed, dtype=float)
    change, speed = np.broadcast_arrays(np.minimum(change, speed), speed)
    changes = change < speed
    after, rolled = coast(drive, change, time=np.where(changes, drive.change_time, 0.0))
    first = _leg(drive, 0, np.zeros_like(change), change)
    second = _leg(drive, 1, np.where(changes, np.maximum(after, 0.0), speed), speed)
    return _collect((first, second), change, np.where(changes, drive.change_time, 0.0), rolled)


def _collect(legs: tuple[Leg, ...], change: Any, pause: Any, rolled: Any) -> RunUp:
    def total(name: str) -> Any:
        parts = [getattr(leg, name) for leg in legs]
        return None if parts[0] is None else _plain(sum(part[..., -1] for part in parts))

    slips: Any = False
    for leg in legs:  # one leg may be a column where the other is one build's
        slips = slips | np.any(np.logical_and(leg.slips, leg.time < leg.time[..., -1:]), axis=-1)
    return RunUp(time=_plain(total("time") + pause), distance=_plain(total("distance") + rolled),
                 change_speed=_plain(change), charge=total("charge"), heat=total("heat"), slips=_plain(slips),
                 legs=legs)  # fmt: skip


def _plain(value: Any) -> Any:
    value = np.asarray(value)
    return value.item() if value.ndim == 0 else value


def change_by_rule(drive: Drive) -> Any:
    """Change where direct would accelerate as hard as low does [m/s]; at the motors' limit where it never would.

    The rotors' own inertia counts in each gear, so this is not where the tractive efforts cross. The pause is ignored;
    since speed is lost in it, the best change lies a little lower: :func:`change_by_search` finds it.
    """
    to_low = _column(drive.gears[0] * drive.final_drive_ratio / drive.wheel_radius)
    to_direct = _column(drive.gears[1] * drive.final_drive_ratio / drive.wheel_radius)
    speed = drive.shaft_speed / to_low
    low = pull(drive, 0, speed=speed, torque=np.asarray(drive.torque, float)).acceleration
    torque = _at(drive, drive.torque, speed * to_direct)
    spare = low - pull(drive, 1, speed=speed, torque=torque).acceleration
    behind = spare < 0
    first = np.where(behind.any(axis=-1), np.argmax(behind, axis=-1), spare.shape[-1] - 1)[..., None]
    before = np.maximum(first - 1, 0)
    speed = np.broadcast_to(speed, spare.shape)
    v0, v1 = np.take_along_axis(speed, before, -1), np.take_along_axis(speed, first, -1)
    s0, s1 = np.take_along_axis(spare, before, -1), np.take_along_axis(spare, first, -1)
    crosses: Any = np.logical_and(s1 < 0, s0 >= 0)
    share = np.where(crosses, s0 / np.where(crosses, s0 - s1, 1.0), 1.0)
    return _plain((v0 + share * (v1 - v0))[..., 0])


def change_by_search(drive: Drive, *, speed: float, points: int = 200) -> float:
    """The change-over speed [m/s] that gives the shortest run-up of one build, found by trying (two passes)."""
    highest = float(drive.shaft_speed[..., -1] * drive.wheel_radius / (drive.gears[0] * drive.final_drive_ratio))
    low, high = 0.0, min(speed, highest)
    for _ in range(2):
        tried = np.linspace(low, high, points)
        times = np.asarray(run_up(drive, speed=np.full(points, speed), change_speed=tried).time)
        best = int(np.argmin(times))
        low, high = float(tried[max(best - 1, 0)]), float(tried[min(best + 1, points - 1)])
    return float(tried[best])


@result
class Standing:
    """Time [s] over a distance from rest, and the speed [m/s] at its end."""

    time: Number
    speed: Number


def standing(drive: Drive, *, distance: float = 400.0, change_speed: Any = None) -> Standing:
    """Time and end speed over a standing distance; past the last point that can be reached it rolls on steadily."""
    last = len(drive.gears) - 1
    to_last = drive.gears[last] * drive.final_drive_ratio / drive.wheel_radius
    run = run_up(drive, speed=np.asarray(drive.shaft_speed[..., -1] / to_last), change_speed=change_speed)
    rows = np.shape(run.time)
    time, way, speed = (np.concatenate([_flat(leg, name, rows) for leg in run.legs], axis=-1)
                        for name in ("time", "distance", "speed"))  # fmt: skip
    if last:
        pause = np.where(np.asarray(run.change_speed) < speed[..., -1], drive.change_time, 0.0)
        rolled = coast(drive, run.change_speed, time=pause)[1]
        points = run.legs[1].time.shape[-1]
        time[..., -points:] += (run.legs[0].time[..., -1] + pause)[..., None]
        way[..., -points:] += (run.legs[0].distance[..., -1] + rolled)[..., None]
    reached: Any = np.isfinite(way) & (way <= distance)
    place = (reached.shape[-1] - 1 - np.argmax(reached[..., ::-1], axis=-1))[..., None]
    following = np.minimum(place + 1, reached.shape[-1] - 1)

    def at(values: Any, where: Any) -> Any:
        return np.take_along_axis(values, where, -1)[..., 0]

    s0, v0, t0, s1, v1 = at(way, place), at(speed, place), at(time, place), at(way, following), at(speed, following)
    left = distance - s0
    inside = np.isfinite(s1) & (s1 > s0)
    rate = np.where(inside, (v1**2 - v0**2) / (2 * np.where(inside, s1 - s0, 1.0)), 0.0)
    end = np.sqrt(np.maximum(v0**2 + 2 * rate * left, 0.0))
    with np.errstate(divide="ignore"):
        return Standing(time=_plain(np.where(v0 + end > 0, t0 + 2 * left / (v0 + end), np.inf)), speed=_plain(end))


def _flat(leg: Leg, name: str, rows: tuple[int, ...]) -> Array:
    """A leg's points for every build, also where this leg is the same for all of them."""
    points = np.asarray(getattr(leg, name), dtype=float)
    return np.broadcast_to(points, (*rows, points.shape[-1]))

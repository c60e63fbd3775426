"""The search for a switch speed and hysteresis that suit all that a build may turn out to be."""

from __future__ import annotations

import dataclasses
import itertools
from typing import Any

import numpy as np

from evlib.build import hydraulic_cases as cases
from evlib.build import launch as on_build
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.ground.quantity import SPREAD, Array
from evlib.hydraulics import handover

RANDOM = 1000
WIDE = 2.0  # standard deviations to each side: the declared span of a value
ROUND = 25 * np.pi / 30  # rad/s; a setting is given in steps of 25 rpm
RIPPLE = 20 * np.pi / 30  # rad/s; what a toothed wheel's signal wavers, either way
VARIED = (
    "hydraulics.internal_pump.internal_slip", "hydraulics.internal_pump.displacement",
    "hydraulics.leakage.valve_body_leak", "hydraulics.leakage.seal_leak", "hydraulics.low.dynamic_friction",
    "hydraulics.switch.switch_delay", "hydraulics.electric_pump.spin_up_time", "hydraulics.switch.hardest_braking",
    "hydraulics.oil.hot_temperature", "vehicle.wheel_radius",
)  # fmt: skip


@dataclasses.dataclass(frozen=True)
class SwitchSetting:
    """What the search found: settings, the worst member of the family, and how it fared when simulated."""

    on_speed: float  # [rad/s]
    off_speed: float
    needed: Array  # switch-on speed that each member needs [rad/s]; corners first, then random ones
    above_set: int  # members that need more than the build's own setting
    corners: int
    worst: dict[str, float]  # the member that needs most: build path to value, SI
    rest_short: int  # members whose pressure at rest is itself below what launch needs: no switch mends that
    current_least: float  # motor current at launch in low that pressure at rest allows in every member [A]
    lowest: float  # simulated, worst members: pressure while braking, over the lower of pressure at rest and needed
    switchings: int  # simulated at a wavering speed between the two settings: 0 is wanted


def spans(build: Build, paths: tuple[str, ...] = VARIED) -> dict[str, tuple[float, float]]:
    """The declared span of each varied value: two standard deviations to each side of what the build states."""
    found = {}
    for path in paths:
        value = build.value(path)
        if not isinstance(value, float) or value == 0:
            continue
        origin = build.origins.get(path)
        spread = origin.spread if origin and origin.spread is not None else SPREAD.get(origin.source if origin else "")
        share = WIDE * (SPREAD["catalogue"] if spread is None else spread)
        found[path] = (value * (1 - share), value * (1 + share))
    return found


def family(build: Build, *, seed: int = 0, random: int = RANDOM) -> dict[str, Array]:
    """Every corner of the declared spans and random members between, as columns for one build."""
    inside = spans(build)
    corners = np.array(list(itertools.product(*inside.values())))
    chance = np.random.default_rng(seed)
    ends = np.array(list(inside.values()))
    between = ends[:, 0] + chance.random((random, len(ends))) * (ends[:, 1] - ends[:, 0])
    rows = np.concatenate([corners, between])
    return {path: rows[:, i] for i, path in enumerate(inside)}


def needed_on_speed(build: Build) -> Any:
    """Switch-on speed [rad/s] that braking hard in low needs; a column for a build of columns."""
    b = View(build.parts)
    carried = np.maximum(on_build.handover_needed(b, "low"), on_build.handover_needed(b, "reverse"))
    return handover.switch_on_needed(
        carried, input_deceleration=cases.slowing(b, b.hydraulics.switch.hardest_braking),
        switch_delay=b.hydraulics.switch.switch_delay, spin_up_time=b.hydraulics.electric_pump.spin_up_time,
    )  # fmt: skip


def search(build: Build, *, seed: int = 0, simulated: int = 5) -> SwitchSetting:
    """Find the lowest setting that suits every member of the family, and simulate the members that need most.

    The switch-on speed is the highest that any member needs, rounded up to 25 rpm. The switch-off speed is above it by
    what the check *switch hysteresis* asks, or by twice the ripple of the speed signal where that is more, rounded up
    likewise. Both are then tried in the simulation.
    """
    columns = family(build, seed=seed)
    everyone = build.changed(columns)
    needed = np.asarray(needed_on_speed(everyone), dtype=float)
    on = float(np.ceil(needed.max() / ROUND) * ROUND)
    off = float(np.ceil(handover.switch_off_least(on, ripple=RIPPLE) / ROUND - 1e-9) * ROUND)
    hardest = np.argsort(needed)[::-1][:simulated]
    lowest = min(_tried(build, {path: float(column[row]) for path, column in columns.items()}, on, off)
                 for row in hardest)  # fmt: skip
    worst = {path: float(column[hardest[0]]) for path, column in columns.items()}
    corners = len(needed) - RANDOM
    set_now = build.value("hydraulics.switch.switch_on_speed")
    above_set = int(np.count_nonzero(needed > (0.0 if set_now is None else set_now)))
    return SwitchSetting(
        on, off, needed, above_set, corners, worst, _rest_short(everyone), _current_least(everyone), lowest,
        wavering(build, on, off),
    )  # fmt: skip


def _rest_short(build: Build) -> int:
    b = View(build.parts)
    needed = on_build.pressure_needed(b, "low", input_torque=on_build.launch_torque(b, "low"))
    return int(np.count_nonzero(np.asarray(on_build.rest_hot(b).pressure) < np.asarray(needed)))


def _current_least(build: Build) -> float:
    return float(np.min(on_build.launch_current_allowed(View(build.parts), "low")))


def _tried(build: Build, member: dict[str, float], on: float, off: float) -> float:
    """Lowest pressure of braking to a stop, over the lower of pressure at rest and what launch torque needs."""
    changed = build.changed(member)
    b = View(changed.parts)
    oil = on_build.hot_oil(b)
    times, speeds = cases.trip(b, braking=b.hydraulics.switch.hardest_braking)
    run = cases.run_trip(b, times, speeds, oil, cases.in_place(b, oil), on_speed=on, off_speed=off)
    at = np.linspace(times[3], times[-1], 801)  # from the start of braking
    needed = float(np.asarray(on_build.pressure_needed(b, "low", input_torque=on_build.launch_torque(b, "low"))))
    return float(run.at(at).min()) / min(needed, float(np.asarray(on_build.rest_hot(b).pressure)))


def wavering(build: Build, on: float, off: float) -> int:
    """Switchings within ten seconds of crawling between the two settings, the speed signal wavering by its ripple."""
    b = View(build.parts)
    oil = on_build.hot_oil(b)
    times = np.arange(0.0, 10.01, 0.1)
    speeds = (on + off) / 2 + RIPPLE * np.where(np.arange(times.size) % 2 == 0, 1.0, -1.0)
    return cases.run_trip(b, times, speeds, oil, cases.in_place(b, oil), on_speed=on, off_speed=off).switchings()

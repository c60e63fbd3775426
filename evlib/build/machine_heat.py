"""How long a build's series machines bear a current, and which currents they bear: each with its own heat.

Brushes and iron warm the frame more at a higher current. So a rated current is where the winding just reaches its limit
with the heat that belongs to *this* current and speed, not with that of another current.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.build import line
from evlib.build.view import View
from evlib.ground.quantity import Array, Number
from evlib.ground.solve import bisect
from evlib.motors import heat


def body(b: View, *, still: bool = False) -> dict[str, Any]:
    """The two lumps of one machine, as keywords of the heat functions; still: without its blower."""
    m = b.machine
    return {
        "winding_resistance": m.winding_resistance, "winding_heat_capacity": m.winding_heat_capacity,
        "frame_heat_capacity": m.frame_heat_capacity, "winding_conductance": m.winding_conductance,
        "frame_conductance": m.frame_conductance_still if still else m.frame_conductance,
    }  # fmt: skip


def half_speed(b: View) -> float:
    """Half the speed limit [rad/s]: where minutes and rated currents are stated, unless said otherwise."""
    return 0.5 * float(b.machine.speed_limit)


def seconds_to_limit(b: View, current: Any, speed: Any, *, air: Any = None, still: bool = False) -> Number:
    """Time from all cold at the air's temperature to the winding limit [s]; infinite where it never comes."""
    air = b.targets.hottest_air if air is None else air
    return heat.time_to_limit(
        current, winding_limit=b.machine.winding_limit, other_loss=line.frame_loss(b, current, speed),
        air_temperature=air, start_winding=air, start_frame=air, **body(b, still=still),
    )  # fmt: skip


def continuous_current(b: View, speed: Any, *, air: Any = None, still: bool = False) -> Number:
    """Current that one machine carries for ever at a speed [A], duty type S1."""
    steady = {key: value for key, value in body(b, still=still).items() if "capacity" not in key}
    air = b.targets.hottest_air if air is None else air
    return _own_heat(b, speed, lambda other: heat.continuous_current(
        b.machine.winding_limit, other_loss=other, air_temperature=air, **steady))  # fmt: skip


def short_time_current(b: View, seconds: Any, speed: Any) -> Number:
    """Current that one machine carries for a time from cold at a speed [A], duty type S2."""
    return _own_heat(b, speed, lambda other: heat.short_time_current(
        seconds, winding_limit=b.machine.winding_limit, other_loss=other, air_temperature=b.targets.hottest_air,
        **body(b)))  # fmt: skip


def _own_heat(b: View, speed: Any, carried: Callable[[Any], Any]) -> Number:
    """Where a current equals what the machine carries with this current's own heat: the one falls, the other rises."""
    line.only_series(b)
    # Without any other heat it would carry this much, so never more. A measured curve says nothing beyond its end: then
    # its end is given, on the low side.
    high = np.minimum(carried(0.0), line.magnetisation(b).largest_current)
    found = bisect(lambda amps: amps - carried(line.frame_loss(b, amps, speed)), low=np.zeros_like(high), high=high)
    return np.where(np.isnan(found), high, found)


def cyclic_current(b: View, fraction: float, cycle_time: float, speed: float) -> float:
    """Current of the loaded part of equal cycles of load and rest that repeat [A], duty type S3; one build."""
    line.only_series(b)

    def above(amps: Array) -> Array:
        return np.array([_hot(b, float(each), fraction, cycle_time, speed) for each in np.ravel(amps)])

    high = min(1500.0, float(line.magnetisation(b).largest_current))
    found = float(bisect(above, low=np.zeros(1), high=np.full(1, high))[0])
    return high if np.isnan(found) else found


def _hot(b: View, amps: float, fraction: float, cycle_time: float, speed: float) -> float:
    """Peak above the winding limit [K]; a cycle that never settles is above any."""
    try:
        peak = heat.cyclic_peak(
            amps, duty_fraction=fraction, cycle_time=cycle_time, other_loss=line.frame_loss(b, amps, speed),
            air_temperature=b.targets.hottest_air, **body(b),
        )  # fmt: skip
    except ValueError:
        return np.inf
    return float(peak.winding) - float(b.machine.winding_limit)

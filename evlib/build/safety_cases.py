"""Cases of the safety lesson's pictures, computed from plain values: insulation, the protection chart, runaway."""

from __future__ import annotations

import dataclasses

import numpy as np

from evlib.ground import fuse, runaway, wire
from evlib.ground.quantity import Array
from evlib.ground.tables import Curve
from evlib.safety import faults, insulation


@dataclasses.dataclass(frozen=True)
class InsulationCase:
    """Three readings [V], the leaks that they lead to, both together and what is asked [ohm]."""

    pack_voltage: float
    larger: float
    smaller_reading: float
    second: float
    test_resistance: float
    smaller_leak: float
    by_sum: float
    both: float
    asked: float


def insulation_case(
    pack_voltage: float, *, leak_positive: float, leak_negative: float, meter_resistance: float, ohm_per_volt: float
) -> InsulationCase:
    """The voltmeter method on two leaks, with a resistor of about what is asked."""
    asked = float(insulation.required(pack_voltage, ohm_per_volt=ohm_per_volt))
    seen = insulation.readings(pack_voltage, leak_positive=leak_positive, leak_negative=leak_negative,
                               test_resistance=asked, meter_resistance=meter_resistance)  # fmt: skip
    kw = {"second_reading": seen.second, "test_resistance": asked}
    return InsulationCase(
        pack_voltage,
        float(seen.larger),
        float(seen.smaller),
        float(seen.second),
        asked,
        float(insulation.smaller_leak(seen.larger, pack_voltage=pack_voltage, **kw)),
        float(insulation.smaller_leak_by_sum(seen.larger, other_reading=seen.smaller, **kw)),
        float(insulation.parallel_value(leak_positive, leak_negative=leak_negative)),
        asked,
    )


@dataclasses.dataclass(frozen=True)
class ProtectionCase:
    """Fuse, cable and contactor over current [A, s], with the currents that a short can make."""

    current: Array
    melting: Array
    clearing: Array
    cable: Array
    breaking: float
    release: float
    minimum: float
    smallest: float
    largest: float
    clears_smallest: float  # s, in which the fuse clears the smallest
    time_constant: float  # L/R of the short
    rated_constant: float  # L/R up to which the fuse's DC rating holds
    lower: float
    upper: float
    cable_area: float

    @property
    def open_band(self) -> bool:
        """Whether there is a current that the contactor meets first and cannot break."""
        return self.upper > self.lower


def protection_case(
    contactor_breaking_current: float, *, contactor_release_time: float, conductor_area: float, curve: Curve,
    arcing_time: float, minimum: float, smallest: float, largest: float, insulation_limit: float,
    short_circuit_limit: float, time_constant: float = 0.0, rated_constant: float = 0.0,
) -> ProtectionCase:  # fmt: skip
    """The one chart on which fuse, cable and contactor must agree."""
    current = np.geomspace(float(curve.x[0]), 20_000.0, 121)
    factor = wire.withstand_factor(insulation_limit, end=short_circuit_limit)
    release = max(contactor_release_time, arcing_time * 1.001)
    band = faults.opening_band(contactor_breaking_current, release_time=release, curve=curve,
                               arcing_time=arcing_time, largest_current=largest)  # fmt: skip
    melting = np.asarray(fuse.melting_time(current, curve=curve))
    return ProtectionCase(
        current, melting, melting + arcing_time,
        np.asarray(wire.withstand_time(current, area=conductor_area, factor=factor)),
        contactor_breaking_current, release, minimum, smallest, largest,
        float(fuse.clearing_time(smallest, curve=curve, arcing_time=arcing_time)), time_constant, rated_constant,
        float(band.lower), float(band.upper),
        conductor_area,
    )  # fmt: skip


@dataclasses.dataclass(frozen=True)
class RunawayCase:
    """Speed of the freed motors over time since the trip speed [s, rad/s], and when the current is off."""

    time: Array
    speed: Array
    trip: float
    limit: float
    off_at: float
    speed_off: float
    window: float | None  # time from the trip speed to the limit; None where it is never reached
    name: str = ""


def runaway_case(
    trip_speed: float, *, detection_delay: float, contactor_release_time: float, rotor_inertia: float,
    machine_count: float, other_inertia: float, speeds: Array, torques: Array, limit: float, name: str = "",
) -> RunawayCase:  # fmt: skip
    """Speed over time from the trip speed on, with the torque that the motors still have at each speed."""
    top = 2.0 * max(limit, trip_speed)
    speed = np.linspace(trip_speed, top, 201)
    torque = np.interp(speed, speeds, torques)
    inertia = machine_count * rotor_inertia + other_inertia
    time = runaway.climb(speed, torque=torque, rotor_inertia=inertia)
    reached = np.isfinite(time)
    time, speed = time[reached], speed[reached]
    off = detection_delay + contactor_release_time
    speed_off = float(np.interp(off, time, speed))
    window = float(np.interp(limit, speed, time)) if trip_speed < limit <= speed[-1] else None
    shown = time <= max(2.0 * off, 0.3)
    return RunawayCase(time[shown], speed[shown], trip_speed, limit, off, speed_off, window, name)


@dataclasses.dataclass(frozen=True)
class RunawayPicture:
    """Each way to lose the load, on one chart."""

    ways: tuple[RunawayCase, ...]

    @property
    def worst(self) -> RunawayCase:
        """The way that ends at the highest speed."""
        return max(self.ways, key=lambda way: way.speed_off)

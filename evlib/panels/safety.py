"""What the learner moves in the safety lesson: insulation meter, protection chart, runaway."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.gears import input_inertia
from evlib.build.line import line_envelope
from evlib.build.protection import full_volts, short_circuits
from evlib.build.safety_cases import (
    InsulationCase,
    ProtectionCase,
    RunawayCase,
    insulation_case,
    protection_case,
    runaway_case,
)
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import safety as figures
from evlib.ground import runaway, units, wire
from evlib.panels.panel import Amount, Panel, Table, Twin, quantity
from evlib.safety import quantities as q


def insulation_panel(build: Build) -> Panel:
    """Insulation meter: two leaks, the meter and the rule move; readings and verdicts follow."""
    b = View(build.parts)
    volts, part = float(np.asarray(full_volts(b))), b.protection.insulation

    def compute(
        *, leak_positive: float, leak_negative: float, meter_resistance: float, ohm_per_volt: float
    ) -> InsulationCase:
        return insulation_case(volts, leak_positive=leak_positive, leak_negative=leak_negative,
                               meter_resistance=meter_resistance, ohm_per_volt=ohm_per_volt)  # fmt: skip

    where = "protection.insulation."
    return Panel(
        id="safety.insulation",
        title="Insulation meter",
        controls=(
            quantity(where + "leak_positive", q.LeakPositive, float(part.leak_positive)),
            quantity(where + "leak_negative", q.LeakNegative, float(part.leak_negative)),
            quantity(where + "meter_resistance", q.MeterResistance, float(part.meter_resistance)),
            quantity(where + "ohm_per_volt", q.OhmPerVolt, float(part.ohm_per_volt)),
        ),
        compute=compute,
        draw=figures.insulation,
        twin=insulation_twin,
        room=0.06,
        probe="leak_positive",
    )


def _word(value: float, asked: float) -> str:
    return "at or above" if value >= asked else "below"


def _kilo(value: float) -> Amount:
    return Amount(value / 1e3, "kohm")


def insulation_twin(result: InsulationCase) -> Twin:
    """The readings and what they mean, in words."""
    asked = _kilo(result.asked).show()
    rows = (
        ("pack voltage", Amount(result.pack_voltage, "V")),
        ("larger reading", Amount(result.larger, "V")),
        ("other reading", Amount(result.smaller_reading, "V")),
        ("larger one again, with the resistor", Amount(result.second, "V")),
        ("resistor put in", _kilo(result.test_resistance)),
        ("smaller leak, meter cancels", _kilo(result.smaller_leak)),
        ("same by the form with the sum", _kilo(result.by_sum)),
        ("both leaks together", _kilo(result.both)),
    )
    small, both = _kilo(result.smaller_leak).show(), _kilo(result.both).show()
    return Twin(
        alt=f"Three bars against a line at {asked}: the smaller leak {small}, both together {both}.",
        sentence=f"The meter finds the smaller leak, {small}: {_word(result.smaller_leak, result.asked)} the {asked} "
        f"that are asked. Both leaks together are {both}: {_word(result.both, result.asked)} it.",
        table=Table(("what", "value"), rows),
    )


def protection_panel(build: Build) -> Panel:
    """Protection chart: contactor and cable move; the band and the cable's limit follow."""
    b = View(build.parts)
    part, short = b.protection, short_circuits(b)
    cable = part.pack_cable
    fixed: dict[str, Any] = {
        "curve": part.fuse.fuse_curve, "arcing_time": float(part.fuse.fuse_arcing_time),
        "minimum": float(part.fuse.fuse_minimum_breaking), "smallest": float(np.asarray(short.smallest)),
        "largest": float(np.asarray(short.largest)), "insulation_limit": float(cable.insulation_limit),
        "short_circuit_limit": float(cable.short_circuit_limit),
    }  # fmt: skip

    def compute(
        *, contactor_breaking_current: float, contactor_release_time: float, conductor_area: float
    ) -> ProtectionCase:
        return protection_case(contactor_breaking_current, contactor_release_time=contactor_release_time,
                               conductor_area=conductor_area, **fixed)  # fmt: skip

    return Panel(
        id="safety.protection",
        title="Protection chart",
        controls=(
            quantity("protection.contactor.contactor_breaking_current", q.ContactorBreakingCurrent,
                     float(part.contactor.contactor_breaking_current)),
            quantity("protection.contactor.contactor_release_time", q.ContactorReleaseTime,
                     float(part.contactor.contactor_release_time)),
            quantity("protection.pack_cable.conductor_area", wire.ConductorArea, float(cable.conductor_area)),
        ),
        compute=compute,
        draw=figures.protection,
        twin=protection_twin,
        size=(6.6, 4.2),
        room=0.2,
        probe="contactor_release_time",
    )  # fmt: skip


def protection_twin(result: ProtectionCase) -> Twin:
    """The chart in words."""
    lower, upper = units.show(result.lower, "A"), units.show(result.upper, "A")
    if result.open_band:
        said = f"The forbidden band is open, {lower} to {upper}: the contactor parts first, on more than it can break."
    else:
        said = f"The forbidden band is closed: from {upper} the fuse is quicker, and the contactor breaks {lower}."
    minimum = units.show(result.minimum, "A")
    low = "above" if result.smallest >= result.minimum else "below"
    at_least = float(np.interp(result.smallest, result.current, result.cable))
    rows = (
        ("contactor breaks up to", Amount(result.breaking, "A")),
        ("fuse is quicker from", Amount(result.upper, "A")),
        ("contactor opens after", Amount(result.release, "s")),
        ("largest short, hot and full", Amount(result.largest, "A")),
        ("least short, cold and low", Amount(result.smallest, "A")),
        ("fuse breaks from", Amount(result.minimum, "A")),
        ("cable stands the least short for", Amount(at_least, "s")),
    )
    stands = units.show(at_least, "s")
    return Twin(
        alt=f"Time over current, both logarithmic: the fuse's curve falls from left to right, the cable's limit lies "
        f"over it, the contactor opens after {units.show(result.release, 's')}, up to "
        f"{units.show(result.breaking, 'A')}; the band is {'open' if result.open_band else 'closed'}. "
        f"The cable stands {stands} at the "
        f"least short.",
        sentence=f"{said} The least short, {units.show(result.smallest, 'A')}, lies {low} the {minimum} from which the "
        f"fuse can break.",
        table=Table(("what", "value"), rows),
    )  # fmt: skip


def runaway_panel(build: Build) -> Panel:
    """Runaway: trip speed, delays and inertia move; speed over time follows."""
    b = View(build.parts)
    limit, count = float(b.machine.speed_limit), float(b.machine.machine_count)
    speeds = np.linspace(0.0, limit, 41)
    torques = np.asarray(line_envelope(b, speeds, state_of_charge=1.0).torque, float)
    torques = np.maximum(torques, 1.0)
    other = float(np.asarray(input_inertia(b))) - count * float(b.machine.rotor_inertia)

    def compute(
        *, trip_speed: float, detection_delay: float, contactor_release_time: float, rotor_inertia: float
    ) -> RunawayCase:
        return runaway_case(trip_speed, detection_delay=detection_delay, contactor_release_time=contactor_release_time,
                            rotor_inertia=rotor_inertia, machine_count=count, other_inertia=max(other, 0.0),
                            speeds=speeds, torques=torques, limit=limit)  # fmt: skip

    return Panel(
        id="safety.runaway",
        title="Runaway",
        controls=(
            *(
                quantity(path, declared, build.value(path))  # what the build leaves out starts from a typical value
                for path, declared in (
                    ("protection.overspeed_trip.trip_speed", q.TripSpeed),
                    ("protection.overspeed_trip.detection_delay", q.DetectionDelay),
                    ("protection.contactor.contactor_release_time", q.ContactorReleaseTime),
                    ("machine.rotor_inertia", runaway.RotorInertia),
                )
            ),
        ),
        compute=compute,
        draw=figures.runaway,
        twin=runaway_twin,
        room=0.2,
        probe="detection_delay",
    )  # fmt: skip


def runaway_twin(result: RunawayCase, *, system: str = "SI") -> Twin:
    """The picture of a runaway in words."""
    off, speed = units.show(1e3 * result.off_at, ""), units.show(result.speed_off, "rad/s", system=system)
    limit = units.show(result.limit, "rad/s", system=system)
    over = "over" if result.speed_off > result.limit else "under"
    window = "never" if result.window is None else f"{units.figures(1e3 * result.window)} ms"
    rows = (
        ("trip speed", Amount(result.trip, "rad/s")),
        ("limit", Amount(result.limit, "rad/s")),
        ("from trip speed to limit", window),
        ("current off after", f"{off} ms"),
        ("speed then", Amount(result.speed_off, "rad/s")),
    )
    return Twin(
        alt=f"Speed over time, rising from the trip speed; the limit at {limit}; the current is off after {off} ms at "
        f"{speed}.",
        sentence=f"With the load gone the motors reach {speed} before the current is off: {over} their limit of "
        f"{limit}. From trip speed to limit: {window}.",
        table=Table(("what", "value"), rows),
    )

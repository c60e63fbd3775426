"""What the learner moves in the safety lesson: insulation meter, protection chart, runaway."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.gears import input_inertia
from evlib.build.protection import freed_torques, full_volts, short_circuits
from evlib.build.safety_cases import (
    InsulationCase,
    ProtectionCase,
    RunawayPicture,
    insulation_case,
    protection_case,
    runaway_case,
)
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import safety as figures
from evlib.figures.safety_circuit import circuit
from evlib.ground import runaway, units, wire
from evlib.panels.markup import show
from evlib.panels.panel import Amount, Panel, Table, Twin, quantity
from evlib.safety import faults
from evlib.safety import quantities as q


def show_circuit() -> None:
    """The traction circuit with its parts named, for the lesson."""
    rows = (
        ("pack", "its two poles float: neither is joined to the chassis"),
        ("service disconnect", "a plug in the middle of the pack; pulled, it leaves two halves that stay live"),
        ("R_p, R_n, dashed", "leaks from plus and from minus to the chassis; nobody put them there"),
        ("fuse", "in the plus lead; melts on too much current, then must put its own arc out"),
        ("positive, negative contactor", "large relays, one in each pole; coils in a 12 V loop hold them closed"),
        ("precharge relay and resistor", "a way around the open positive contactor, to fill the capacitor slowly"),
        ("capacitor", "across the controller's terminals; holds the voltage steady, and keeps it when all is off"),
        ("discharge resistor", "across the capacitor, always joined; empties it after switching off"),
        ("controller", "chops pack voltage into the lower voltage that the motors get"),
        ("motors", "two in series: the same current flows in both"),
    )
    twin = Twin(
        alt="A circuit drawing with all contacts open. A plug, the service disconnect, stands in the middle of the "
        "pack. From the pack's plus the current goes through fuse and positive "
        "contactor to the controller's plus terminal, and from its minus terminal through the negative contactor back "
        "to the pack. Precharge relay and resistor bridge the positive contactor. Capacitor and discharge resistor "
        "lie across the controller's terminals. The controller feeds two motors in series. Two dashed resistors, R_p "
        "and R_n, lead from plus and minus to the chassis.",
        sentence="Pack, protections, controller and motors, all contacts open; not to scale.",
        table=Table(("part", "what it is"), rows),
    )
    show(circuit, None, twin, title="The traction circuit", size=(7.4, 3.9), room=0.01)


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
        "largest": float(np.asarray(short.largest)), "rated_constant": float(part.fuse.fuse_time_constant),
        "time_constant": float(np.asarray(faults.time_constant(
            part.short_circuit.loop_inductance, pack_resistance=short.least_resistance, circuit_resistance=0.0))),
        "insulation_limit": float(cable.insulation_limit),
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
    low, arc = ("above" if amps >= result.minimum else "below" for amps in (result.smallest, result.smallest / 2))
    at_least = float(np.interp(result.smallest, result.current, result.cable))
    stands = units.show(at_least, "s") if at_least <= wire.ADIABATIC_LIMIT else "more than 5 s, where its rule ends"
    clears = result.clears_smallest
    breaks = np.isfinite(clears) and result.smallest >= result.minimum
    rows = (
        ("contactor breaks up to", Amount(result.breaking, "A")),
        ("fuse is quicker from", Amount(result.upper, "A")),
        ("contactor opens after", f"{units.figures(1e3 * result.release)} ms"),
        ("largest short, hot and full", Amount(result.largest, "A")),
        ("least short, cold and low", Amount(result.smallest, "A")),
        ("fuse breaks from, its least", Amount(result.minimum, "A")),
        ("fuse clears the least short in", f"{units.figures(1e3 * clears)} ms" if breaks else "never"),
        ("cable stands the least short for", stands),
        ("an arc on the cold, low pack", Amount(result.smallest / 2, "A")),
        ("L/R of the short", f"{units.figures(1e3 * result.time_constant)} ms"),
        ("L/R up to which the fuse's DC rating holds", f"{units.figures(1e3 * result.rated_constant)} ms"),
    )
    return Twin(
        alt=f"Time over current, both logarithmic: the fuse's curve falls from left to right, the cable's limit lies "
        f"over it, the contactor opens after {units.figures(1e3 * result.release)} ms, up to "
        f"{units.show(result.breaking, 'A')}; the band is {'open' if result.open_band else 'closed'}. "
        f"The short's current rises with an L/R of {units.figures(1e3 * result.time_constant)} ms.",
        sentence=f"{said} The least short, {units.show(result.smallest, 'A')}, lies {low} the {minimum} from which the "
        f"fuse can break; a cold arc, {units.show(result.smallest / 2, 'A')}, lies {arc} it.",
        table=Table(("what", "value"), rows),
    )  # fmt: skip


def runaway_panel(build: Build) -> Panel:
    """Runaway: trip speed, delays and inertia move; speed over time follows."""
    b = View(build.parts)
    limit, count = float(b.machine.speed_limit), float(b.machine.machine_count)
    speeds = np.linspace(0.0, limit, 41)
    torques = {name: np.maximum(np.asarray(torque, float), 1.0) for name, torque in freed_torques(b, speeds).items()}
    other = max(float(np.asarray(input_inertia(b))) - count * float(b.machine.rotor_inertia), 0.0)
    if count < 2:  # nothing between two machines can break
        del torques["broken coupler"]

    def compute(
        *, trip_speed: float, detection_delay: float, contactor_release_time: float, rotor_inertia: float
    ) -> RunawayPicture:
        spent = {"detection_delay": detection_delay, "contactor_release_time": contactor_release_time}
        return RunawayPicture(tuple(
            runaway_case(trip_speed, rotor_inertia=rotor_inertia, machine_count=1.0 if alone else count,
                         other_inertia=0.0 if alone else other, speeds=speeds, torques=torque, limit=limit,
                         name=name, **spent)
            for name, torque in torques.items() for alone in (name == "broken coupler",)
        ))  # fmt: skip

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


def runaway_twin(result: RunawayPicture, *, system: str = "SI") -> Twin:
    """The picture of a runaway in words."""
    worst = result.worst
    off, speed = units.show(1e3 * worst.off_at, ""), units.show(worst.speed_off, "rad/s", system=system)
    limit, trip = (units.show(value, "rad/s", system=system) for value in (worst.limit, worst.trip))
    over = "over" if worst.speed_off > worst.limit else "under"
    rows = tuple(
        (way.name, "never" if way.window is None else f"{units.figures(1e3 * way.window)} ms",
         Amount(way.speed_off, "rad/s"), "over the limit" if way.speed_off > way.limit else "under the limit")
        for way in result.ways
    )  # fmt: skip
    return Twin(
        alt=f"Speed over time since the trip speed of {trip}, one line for each of {len(rows)} ways to lose the load; "
        f"a level line at the limit of {limit}. After {off} ms the current is off; the worst line is then at {speed}.",
        sentence=f"The current is off {off} ms after the trip speed of {trip}. The worst way, {worst.name}, is then at "
        f"{speed}: {over} the limit of {limit}.",
        table=Table(("load lost", "trip speed to limit", "speed when current is off", "that is"), rows),
    )

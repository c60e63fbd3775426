"""What the cells of the safety lesson call: the cards, the search through the loop, and small tables."""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from evlib.build.checks.safety.charge import precharge_circuit
from evlib.build.checks.safety.fault_current import opening_band
from evlib.build.commissioning import card, read_back
from evlib.build.line import layout
from evlib.build.protection import (
    full_volts,
    motor_peak,
    runaway_ways,
    short_circuits,
    shutdown_circuit,
    stalled_full_on,
)
from evlib.build.review import review
from evlib.build.safety_deep_cases import FREE, precharge_case
from evlib.build.schema import Build
from evlib.build.sheet import both, card_rows, inspector_rows
from evlib.build.view import View
from evlib.ground import fuse, units, wire
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.safety import faults, hands, insulation, motor_loop, overspeed, precharge, shock
from evlib.safety.commissioning import CardLine
from evlib.safety.shutdown import (
    NEGATIVE,
    OFF_SEQUENCE,
    ON_SEQUENCE,
    POSITIVE,
    PRECHARGE,
    Circuit,
    controller_sees,
    explore_faults,
    leaves_connected,
    no_way_out,
    weld_check,
)

BY_HAND = ("key off", "emergency")
NUMBERS = (
    "protection.precharge.link_capacitance", "protection.discharge.discharge_resistance",
    "protection.insulation.ohm_per_volt", "protection.fuse.fuse_rating",
    "protection.contactor.contactor_breaking_current", "protection.overspeed_trip.trip_speed",
)  # fmt: skip
_WELDS: dict[str, tuple[str, ...]] = {
    "nothing welded": (), "positive welded": (POSITIVE,), "negative welded": (NEGATIVE,),
    "precharge relay welded": (PRECHARGE,), "positive and negative welded": (POSITIVE, NEGATIVE),
}  # fmt: skip


def view(build: Build) -> View:
    """The build as calculations see it."""
    return View(build.parts)


# --- short sentences in, one number out ----------------------------------------------------------------------------
def cable_takes(square_mm: float, *, celsius: float = 125.0) -> float:
    """Current squared times time that a cable takes, from a temperature to 250 °C [A2 s]."""
    return float(faults.cable_withstand(square_mm * 1e-6, start=celsius + 273.15, end=523.15))


def to_60(volts: float, *, ohms: float, farads: float) -> float:
    """How long a capacitor takes to fall to 60 V through a resistor [s]."""
    return float(shock.discharge_time(volts, end_voltage=60.0, discharge_resistance=ohms, link_capacitance=farads))


def filled(missing: float, *, ohms: float, farads: float, beside: float) -> float:
    """How long precharge takes until only a part is missing, with a resistor beside the capacitor [s]."""
    return float(precharge.time_to_difference(missing, precharge_resistance=ohms, link_capacitance=farads,
                                              load_resistance=beside))  # fmt: skip


def fuse_sees(motor_amps: float, *, volts: float, pack: float) -> float:
    """Pack current that goes with a motor current [A]."""
    return float(motor_loop.pack_current(motor_amps, motor_voltage=volts, pack_voltage=pack))


def fuse_clears(build: Build, amps: float) -> float:
    """How long the build's fuse takes to clear a current: melting and arcing [s]."""
    part = view(build).protection.fuse
    return float(fuse.clearing_time(amps, curve=part.fuse_curve, arcing_time=part.fuse_arcing_time))


def cable_loses(amps: float, *, mm2: float, metres: float, celsius: float = 70.0) -> float:
    """Voltage lost in a cable of gauge size, out and back [V]."""
    return float(wire.drop_both_ways(amps, area=mm2 * 1e-6, length=metres, temperature=celsius + 273.15,
                                     stranding_factor=1.02))  # fmt: skip


def detection_time(torque: float, *, inertia: float, trip_rpm: float, limit_rpm: float, contactor: float) -> float:
    """How long over-speed detection may take [s]."""
    rpm = np.pi / 30
    return float(overspeed.longest_delay(torque, rotor_inertia=inertia, trip_speed=trip_rpm * rpm,
                                         speed_limit=limit_rpm * rpm, release_time=contactor))  # fmt: skip


def leg_pull(mass: float, *, degrees: float) -> float:
    """Pull in each of two sling legs at an angle to the level [N]."""
    return float(hands.leg_tension(mass, leg_angle=np.radians(degrees), leg_count=2.0))


def reading_just_above(leak: float, *, asked: float, volts: float, accuracy: float) -> Shown:
    """Four thousand tries of the voltmeter method with a meter that errs, on a leak just above what is asked."""
    true = insulation.readings(volts, leak_positive=leak, leak_negative=500e3, test_resistance=asked,
                               meter_resistance=10e6)  # fmt: skip
    many = insulation.meter_spread(true, pack_voltage=volts, test_resistance=asked, accuracy=accuracy, asked=asked)
    return table(("what", "value"), [
        ("true leak", f"{leak / 1e3:.1f} kohm"),
        ("found, nine times in ten", f"{many.low / 1e3:.1f} to {many.high / 1e3:.1f} kohm"),
        ("found below what is asked", f"{many.share_below:.0%} of the tries"),
    ])  # fmt: skip


def curves_table() -> Shown:
    """Precharge curves, by two readings as parts of the pack voltage, and what each says."""
    pairs = ((0.63, 0.98), (0.0, 0.0), (1.0, 1.0), (0.57, 0.80), (0.45, 0.94))
    rows = [(f"{now:.0%}", f"{later:.0%}", precharge.diagnose(now, part_later=later, expected=0.632))
            for now, later in pairs]  # fmt: skip
    return table(("after one time constant", "after five", "it says"), rows)


def _time(seconds: float) -> str:
    """A time in ms below one second, else in s; with no end, ``never``."""
    if not np.isfinite(seconds):
        return "never"
    return f"{1e3 * seconds:.3g} ms" if seconds < 1 else both(seconds, "s")


def with_note(shown: Shown, note: str) -> Shown:
    """A table with one sentence beneath it."""
    return Shown(f"{shown!r}\n{note}", f"{shown._repr_html_()}<p>{html.escape(note)}</p>")


# --- the cards ---------------------------------------------------------------------------------------------------
def commissioning_card(build: Build) -> Shown:
    """The commissioning card, line by line, with what is not on it."""
    _, left_out = card(view(build))
    shown = table(("no.", "do", "where", "expect", "band", "why", "stop if"), card_rows(build))
    return with_note(shown, "Not on the card: " + ("; ".join(left_out) or "nothing") + ".")


def readings(build: Build, read: Mapping[int | str, str]) -> Shown:
    """Readings with their units, each with what it says. A line is named by its number, or by how it begins."""
    b = view(build)
    lines, _ = card(b)
    numbers = {key: _line_number(lines, key) for key in read}
    several = {key: _lines_that_begin(lines, key) for key in read}
    found = read_back(b, {number: read[key] for key, number in numbers.items() if number})
    rows = [(str(number), line.task, units.pretty(text), words) for number, line, _, words in found
            for key, text in read.items() if numbers[key] == number]  # fmt: skip
    rows += [
        ("", str(key), read[key], f"lines {', '.join(map(str, several[key]))} begin so: say which" if several[key]
         else "not on this build's card")
        for key, number in numbers.items() if not number
    ]  # fmt: skip
    shown = table(("no.", "do", "read", "what it says"), rows)
    left = len(lines) - len(found)
    return with_note(shown, f"{left} lines of the card were not read. A reading in its band is no permission.")


def _line_number(lines: Sequence[CardLine], key: int | str) -> int:
    """The number of a line named by its number or by how it begins; 0 where the card has none, or more than one."""
    if isinstance(key, int):
        return key if 1 <= key <= len(lines) else 0
    begins = _lines_that_begin(lines, key)
    return begins[0] if len(begins) == 1 else 0


def _lines_that_begin(lines: Sequence[CardLine], key: int | str) -> list[int]:
    begins = str(key).casefold()
    return [number for number, line in enumerate(lines, 1) if line.task.casefold().startswith(begins)]


def inspector(build: Build) -> Shown:
    """What an inspector asks: what the build answers, and what stays open."""
    found = review(build, topics=("safety",), figures=False)
    rows = [(name, "; ".join(answers), question) for name, answers, question in inspector_rows(build, found)]
    return table(("asked", "computed from this build", "open question"), rows)


# --- the loop ----------------------------------------------------------------------------------------------------
def shutdown_loop(build: Build) -> Circuit:
    """The build's shutdown loop, as a circuit."""
    return shutdown_circuit(view(build))


def single_faults(circuit: Circuit) -> Shown:
    """Every single fault and the demands that it defeats."""
    found: dict[str, list[str]] = {}
    for finding in leaves_connected(circuit):
        found.setdefault(finding.fault.words, []).append(finding.demand)
    shown = table(("single fault", "leaves the pack connected at"), [(f, ", ".join(d)) for f, d in found.items()])
    stuck = ", ".join(fault.words for fault in no_way_out(circuit, by_hand=BY_HAND))
    return with_note(
        shown,
        f"{len(circuit.faults())} single faults, {len(explore_faults(circuit))} cases tried. No way out by hand with: "
        f"{stuck or 'none of them'}.",
    )


def sequences() -> Shown:
    """Switching on and off, step by step, with what must be seen before the next step."""
    rows = [(f"on {n}", step.what, step.seen) for n, step in enumerate(ON_SEQUENCE, 1)]
    rows += [(f"off {n}", step.what, step.seen) for n, step in enumerate(OFF_SEQUENCE, 1)]
    return table(("step", "what happens", "what must be seen between the controller's terminals"), rows)


def weld_table(build: Build) -> Shown:
    """What the meter between the controller's terminals shows in each step of the weld check, by what is welded."""

    def make(b: View) -> list[tuple[str, ...]]:
        full, circuit = float(np.asarray(full_volts(b))), precharge_circuit(b)
        volts = both(full, "V")
        end = full * float(precharge.end_part(circuit["precharge_resistance"],
                                              load_resistance=circuit["load_resistance"]))  # fmt: skip
        shows = {"nothing": "0 V", "climbs": f"climbs to {both(end, 'V')}", "full at once": f"{volts} at once"}
        return [
            (step.what, *(shows[controller_sees(step.closed, welded=welded)] for welded in _WELDS.values()))
            for step in ON_SEQUENCE[:3]
        ]

    return said(build, make, ("closed", *_WELDS))


def restart_table(build: Build, *, seconds: tuple[float, ...] = (5.0, 20.0, 40.0, 80.0)) -> Shown:
    """Switched on again before the capacitor is empty: what is left, what the weld check says, how it then fills."""

    def make(b: View) -> list[tuple[str, ...]]:
        part, volts = b.protection.precharge, float(np.asarray(full_volts(b)))
        constant = float(b.protection.discharge.discharge_resistance * part.link_capacitance)
        rows: list[tuple[str, ...]] = []
        for after in seconds:
            left = volts * float(np.exp(-after / constant))
            start = {"pack_voltage": volts, "start_voltage": left, **precharge_circuit(b)}
            first = float(precharge.voltage_after(part.precharge_resistance * part.link_capacitance, **start))
            heat = float(precharge.heat_until(part.precharge_wait, **start))
            rows.append((f"{after:g} s", both(left, "V"), weld_check(left, pack_voltage=volts),
                         f"{100 * first / volts:.0f} %", f"{heat:.0f} J"))  # fmt: skip
        return rows

    header = ("on again after", "still there", "weld check with all open", "after one time constant", "resistor takes")
    return said(build, make, header)


# --- small tables ------------------------------------------------------------------------------------------------
def said(build: Build, make: Any, header: tuple[str, ...]) -> Shown:
    """A table, or one sentence where the build has no such part or does not state a value."""
    try:
        return table(header, make(view(build)))
    except (DoesNotApply, NotKnown) as why:
        said = f"{build.name}: this table does not apply. {why}"
        return Shown(said, f"<p>{html.escape(said)}</p>")


def closing_table(build: Build, *, missing: tuple[float, ...] = (0.02, 0.05, 0.2, 1.0)) -> Shown:
    """The blow as the main contactor closes with a part of the voltage missing, and how soon precharge may repeat."""

    def make(b: View) -> list[tuple[str, str]]:
        short, volts, part = short_circuits(b), full_volts(b), b.protection.precharge
        rows = [
            (f"closed with {100 * share:g} % missing", both(float(precharge.closing_current(
                min(share, 1 - 1e-9), pack_voltage=volts, pack_resistance=short.least_resistance,
                circuit_resistance=0.0)), "A"))
            for share in missing
        ]  # fmt: skip
        kept = precharge_case(
            float(part.precharge_resistance), link_capacitance=float(part.link_capacitance),
            precharge_wait=float(part.precharge_wait), load_resistance=FREE,
            discharge_resistance=float(b.protection.discharge.discharge_resistance), pack_voltage=float(volts),
            pack_resistance=float(short.least_resistance), circuit_resistance=0.0,
            closing_difference=float(part.precharge_closing_difference))  # fmt: skip
        waited = both(part.precharge_wait, "s")
        rows.insert(0, (f"closed after its wait of {waited}, {100 * kept.missing:.1f} % missing",
                        both(kept.blow, "A")))  # fmt: skip
        apart = precharge.shortest_repeat(kept.heat, precharge_power_rating=part.precharge_power_rating)
        watts = both(part.precharge_power_rating, "W")
        stuck, broken_off = (float(precharge.stuck_energy(time, pack_voltage=volts,
                                                          precharge_resistance=part.precharge_resistance))
                             for time in (part.precharge_wait, part.precharge_give_up))  # fmt: skip
        given_up = both(part.precharge_give_up, "s")
        return [
            *rows,
            ("one precharge: heat in the resistor", f"{kept.heat:.0f} J"),
            (f"next precharge, by its {watts} always, not before", both(float(apart), "s")),
            ("far side shorted, for the whole wait: heat", f"{stuck:.0f} J"),
            (f"far side shorted, broken off after {given_up}: heat", f"{broken_off:.0f} J"),
            ("the same tried twice: heat, so no second try", f"{2 * broken_off:.0f} J"),
            ("the resistor stands in one pulse", f"{float(part.precharge_pulse_energy):.0f} J"),
        ]

    return said(build, make, ("what", "value"))


def stall_table(build: Build) -> Shown:
    """The motor loop at a standstill: what its cables carry, what the fuse sees, and a controller failed full on."""

    def make(b: View) -> list[tuple[str, str]]:
        volts, short, peak = float(np.asarray(full_volts(b))), short_circuits(b), float(motor_peak(b))
        ohms = float(np.asarray(stalled_full_on(b).motor_resistance))
        brushes = float(layout(b).in_series) * float(b.machine.brush_drop)
        standing = peak * ohms + brushes
        seen = motor_loop.pack_current(peak, motor_voltage=standing, pack_voltage=volts)
        failed = motor_loop.failed_on_current(
            max(volts - brushes, 0.0), motor_resistance=ohms, pack_resistance=short.least_resistance,
            circuit_resistance=0.0)  # fmt: skip
        clears = fuse_clears(build, float(failed))
        return [
            ("motor cables, stalled at the current limit", both(peak, "A")),
            ("the fuse then sees", both(float(seen), "A")),
            ("controller failed full on, stalled, hot and full", both(float(failed), "A")),
            ("the fuse then clears in, if it is rated for the L/R with the motors", _time(clears)),
        ]

    return said(build, make, ("what", "value"))


def currents_table(build: Build) -> Shown:
    """Each current that the fuse may meet when something goes wrong, with how long the fuse takes to clear it."""

    def make(b: View) -> list[tuple[str, ...]]:
        short, part = short_circuits(b), b.protection.fuse
        least = float(np.asarray(short.smallest))
        met = [("largest short: hot, full, at the pack's own terminals", float(np.asarray(short.largest))),
               ("least short: cold, low, through links and cable", least)]  # fmt: skip
        if b.machine.kind == "series":
            met.append(("cold, low, controller failed full on, motors stalled (their L/R left out)",
                        float(np.asarray(stalled_full_on(b).smallest))))  # fmt: skip
        met.append(("an arc on the cold, low pack: half of its short", least / 2))
        rows: list[tuple[str, ...]] = []
        for words, amps in met:
            clears = fuse_clears(build, amps)
            can = part.fuse_minimum_breaking <= amps <= part.fuse_breaking_capacity
            melts = clears - float(part.fuse_arcing_time)
            after = _time(clears) if can else "never" if np.isinf(melts) else f"never: melts in {_time(melts)}, arcs on"
            rows.append((words, both(amps, "A"), after))
        return rows

    return said(build, make, ("case", "current", "the fuse clears it in"))


def runaway_table(build: Build) -> Shown:
    """Three ways to lose the load: what drives, what turns, and the time that detection has."""

    def make(b: View) -> list[tuple[str, ...]]:
        release = float(b.protection.contactor.contactor_release_time)
        trip, limit = b.protection.overspeed_trip, b.machine.speed_limit
        rows: list[tuple[str, ...]] = []
        for name, way in runaway_ways(b).items():
            torque, inertia = float(np.asarray(way.torque)), float(np.asarray(way.inertia))
            off = overspeed.speed_when_off(max(torque, 0.0), rotor_inertia=inertia, trip_speed=trip.trip_speed,
                                           detection_delay=trip.detection_delay, release_time=release)  # fmt: skip
            mark = "under" if off <= limit else "over"
            window, allowed = (f"{1e3 * time:.0f} ms" for time in (float(way.delay) + release, float(way.delay)))
            speed = f"{both(float(off), 'rad/s')}, {mark} the limit"
            rows.append((name, both(torque, "N m"), window, allowed, speed))
        return rows

    header = ("load lost", "still drives", "trip speed to limit", "detection may take", "speed when current is off")
    return said(build, make, header)


def slow_release(build: Build, release: float) -> str:
    """What a slow contactor leaves of the time for over-speed, said plainly; and how quick it must be."""
    try:
        return _slow_release(build, release)
    except (DoesNotApply, NotKnown) as why:
        return f"this build cannot say. {why}"


def _slow_release(build: Build, release: float) -> str:
    slow = build.changed({"protection.contactor.contactor_release_time": release})
    detects = float(view(build).protection.overspeed_trip.detection_delay)
    windows = [float(np.asarray(way.delay)) + release for way in runaway_ways(view(slow)).values()]
    listed = ", ".join(f"{1e3 * window:.0f}" for window in windows)
    band = opening_band(view(slow))
    closed = bool(np.all(np.asarray(band.width) == 0))
    said_first = f"The forbidden band is {'closed' if closed else 'open'}. For over-speed:"
    spent = f"{_time(detects)} to detect and {_time(release)} to let go make {_time(detects + release)}"
    if detects + release <= min(windows):
        return f"{said_first} {spent}; each window is longer: {listed} ms."
    lost = "every window" if detects + release > max(windows) else "the shortest window"
    room = min(windows) - detects
    must = f"the contactor must let go within {_time(room)}" if room > 0 else "no contactor is quick enough"
    return (
        f"{said_first} {spent}: longer than {lost} ({listed} ms). That fails: the motors pass their limit before the "
        f"current is off. With this detection {must}."
    )


def hands_table(build: Build) -> Shown:
    """Weights and wheels: lifting a machine, the pack in pieces below 60 V, and what a cutting wheel may turn."""

    def make(b: View) -> list[tuple[str, str]]:
        machine, pack, cells = b.machine.machine_mass, b.protection.pack_fixing.pack_mass, b.pack.cells_in_series
        most = float(hands.cells_below_limit(float(full_volts(b)) / cells, limit=shock.DC_LIMIT))
        pieces = float(np.ceil(cells / most))
        legs = [float(hands.leg_tension(machine, leg_angle=np.radians(a), leg_count=2.0)) for a in (60, 30)]
        each = pack / pieces
        persons = int(np.ceil(each / hands.ONE_PERSON))
        need = "one person" if persons == 1 else "a hoist"
        return [
            ("one machine", both(machine, "kg")),
            ("each of two sling legs, 60° to the level", both(legs[0], "N")),
            ("each of two sling legs, 30° to the level", both(legs[1], "N")),
            ("on a stand, held by one end, 0.2 m out", both(float(hands.stand_moment(machine, overhang=0.2)), "N m")),
            ("cells in a row below 60 V", f"{most:.0f}"),
            ("pack in pieces below 60 V", f"{pieces:.0f} of about {both(each, 'kg')}: {need}"),
            ("125 mm cutting wheel marked 80 m/s turns at most",
             both(float(hands.largest_speed(80.0, wheel_diameter=0.125)), "rad/s")),
        ]  # fmt: skip

    return said(build, make, ("what", "value"))

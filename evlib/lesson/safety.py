"""What the cells of the safety lesson call: the cards, the search through the loop, and small tables."""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from evlib.build.commissioning import card, read_back
from evlib.build.line import open_volts, warm_resistance
from evlib.build.protection import full_volts, motor_peak, runaway_ways, short_circuits, shutdown_circuit
from evlib.build.review import review
from evlib.build.schema import Build
from evlib.build.sheet import both, card_rows, inspector_rows
from evlib.build.view import View
from evlib.ground import fuse, units, wire
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.safety import arc, body, cables, hands, insulation, motor_loop, overspeed, precharge, shock
from evlib.safety.commissioning import CardLine
from evlib.safety.shutdown import OFF_SEQUENCE, ON_SEQUENCE, Circuit, explore_faults, leaves_connected, no_way_out

BY_HAND = ("key off", "emergency")
NUMBERS = (
    "protection.precharge.link_capacitance", "protection.discharge.discharge_resistance",
    "protection.insulation.ohm_per_volt", "protection.fuse.fuse_rating",
    "protection.contactor.contactor_breaking_current", "protection.overspeed_trip.trip_speed",
)  # fmt: skip
ARM = 0.45  # m; from an arc at the hands to face and chest: a working distance often taken


def view(build: Build) -> View:
    """The build as calculations see it."""
    return View(build.parts)


# --- short sentences in, one number out ----------------------------------------------------------------------------
def cable_stands(amps: float, *, square_mm: float) -> float:
    """How long a cable stands a short, from 90 to 250 °C [s]."""
    factor = wire.withstand_factor(363.15, end=523.15)
    return float(wire.withstand_time(amps, area=square_mm * 1e-6, factor=factor))


def cable_loses(amps: float, *, square_mm: float, metres: float, celsius: float = 70.0) -> float:
    """Voltage lost in a cable of gauge size, out and back [V]."""
    return float(wire.drop_both_ways(amps, area=square_mm * 1e-6, length=metres, temperature=celsius + 273.15,
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
    pairs = ((0.63, 0.99), (0.0, 0.0), (1.0, 1.0), (0.50, 0.80), (0.45, 0.96))
    rows = [(f"{now:.0%}", f"{later:.0%}", precharge.diagnose(now, part_later=later, expected=0.632))
            for now, later in pairs]  # fmt: skip
    return table(("after one time constant", "after five", "it says"), rows)


def _with_note(shown: Shown, note: str) -> Shown:
    return Shown(f"{shown!r}\n{note}", f"{shown._repr_html_()}<p>{html.escape(note)}</p>")


# --- the cards ---------------------------------------------------------------------------------------------------
def commissioning_card(build: Build) -> Shown:
    """The commissioning card, line by line, with what is not on it."""
    _, left_out = card(view(build))
    shown = table(("no.", "do", "where", "expect", "band", "why", "stop if"), card_rows(build))
    return _with_note(shown, "Not on the card: " + ("; ".join(left_out) or "nothing") + ".")


def readings(build: Build, read: Mapping[int | str, str]) -> Shown:
    """Readings with their units, each with what it says. A line is named by its number, or by how it begins."""
    b = view(build)
    lines, _ = card(b)
    numbers = {key: _line_number(lines, key) for key in read}
    found = read_back(b, {number: read[key] for key, number in numbers.items() if number})
    rows = [(str(number), line.task, units.pretty(text), words) for number, line, _, words in found
            for key, text in read.items() if numbers[key] == number]  # fmt: skip
    rows += [("", str(key), read[key], "not on this build's card") for key, number in numbers.items() if not number]
    shown = table(("no.", "do", "read", "what it says"), rows)
    left = len(lines) - len(found)
    return _with_note(shown, f"{left} lines of the card were not read. A reading in its band is no permission.")


def _line_number(lines: Sequence[CardLine], key: int | str) -> int:
    """The number of a line named by its number or by how it begins; 0 where the card has none."""
    if isinstance(key, int):
        return key if 1 <= key <= len(lines) else 0
    begins = (number for number, line in enumerate(lines, 1) if line.task.casefold().startswith(key.casefold()))
    return next(begins, 0)


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
    return _with_note(
        shown,
        f"{len(circuit.faults())} single faults, {len(explore_faults(circuit))} cases tried. No way out by hand with: "
        f"{stuck or 'none of them'}.",
    )


def sequences() -> Shown:
    """Switching on and off, step by step, with what must be seen before the next step."""
    rows = [(f"on {n}", *step) for n, step in enumerate(ON_SEQUENCE, 1)]
    rows += [(f"off {n}", *step) for n, step in enumerate(OFF_SEQUENCE, 1)]
    return table(("step", "what happens", "what must be seen"), rows)


# --- small tables ------------------------------------------------------------------------------------------------
def _said(build: Build, make: Any, header: tuple[str, ...]) -> Shown:
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
        apart = precharge.shortest_repeat(volts, link_capacitance=part.link_capacitance,
                                          precharge_power_rating=part.precharge_power_rating)  # fmt: skip
        stuck = precharge.stuck_energy(part.precharge_wait, pack_voltage=volts,
                                       precharge_resistance=part.precharge_resistance)  # fmt: skip
        return [
            *rows,
            ("precharges, one after the other, at least this far apart", both(float(apart), "s")),
            ("heat in the resistor if the far side is shorted, in one wait", f"{float(stuck):.0f} J"),
        ]

    return _said(build, make, ("what", "value"))


def stall_table(build: Build) -> Shown:
    """The motor loop at a standstill: what its cables carry, what the fuse sees, and a controller failed full on."""

    def make(b: View) -> list[tuple[str, str]]:
        volts, short, peak = float(np.asarray(full_volts(b))), short_circuits(b), float(motor_peak(b))
        count = float(b.machine.machine_count) if b.machine.wiring == "series" else 1.0
        ohms = count * float(np.asarray(warm_resistance(b)))
        standing = peak * ohms + count * float(b.machine.brush_drop)
        seen = motor_loop.pack_current(peak, motor_voltage=standing, pack_voltage=volts)
        failed = motor_loop.failed_on_current(volts, motor_resistance=ohms, pack_resistance=short.least_resistance,
                                              circuit_resistance=0.0)  # fmt: skip
        melts = fuse.melting_time(failed, curve=b.protection.fuse.fuse_curve)
        return [
            ("motor cables, stalled at the current limit", both(peak, "A")),
            ("the fuse then sees", both(float(seen), "A")),
            ("controller failed full on, stalled", both(float(failed), "A")),
            ("the fuse then melts in", both(float(melts), "s") if np.isfinite(melts) else "no time: never"),
        ]

    return _said(build, make, ("what", "value"))


def joint_table(build: Build, *, milliohms: tuple[float, ...] = (0.05, 0.1, 0.5, 2.0)) -> Shown:
    """Heat and rise of one joint at the pack cable's steady current."""

    def make(b: View) -> list[tuple[str, ...]]:
        current = b.protection.pack_cable.steady_current
        rows: list[tuple[str, ...]] = []
        for milli in milliohms:
            ohms = milli * 1e-3
            rise = cables.joint_rise(current, joint_resistance=ohms, joint_surface=0.01, heat_transfer=10.0)
            rows.append((f"{milli:g} mohm", f"{float(cables.joint_power(current, joint_resistance=ohms)):.1f} W",
                         both(float(rise), "K difference")))  # fmt: skip
        return rows

    return _said(build, make, ("joint", "heat", "rise, by 100 cm² in still air"))


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
    return _said(build, make, header)


def hands_table(build: Build) -> Shown:
    """Weights and wheels: lifting a machine, the pack in pieces below 60 V, and what a cutting wheel may turn."""

    def make(b: View) -> list[tuple[str, str]]:
        machine, pack, cells = b.machine.machine_mass, b.protection.pack_fixing.pack_mass, b.pack.cells_in_series
        most = float(hands.cells_below_limit(float(full_volts(b)) / cells, limit=shock.DC_LIMIT))
        pieces = float(np.ceil(cells / most))
        legs = [float(hands.leg_tension(machine, leg_angle=np.radians(a), leg_count=2.0)) for a in (60, 30)]
        each = pack / pieces
        persons = int(np.ceil(each / hands.ONE_PERSON))
        need = "one person" if persons == 1 else f"a hoist, or {persons} persons"
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

    return _said(build, make, ("what", "value"))


# --- Deep --------------------------------------------------------------------------------------------------------
def body_table(build: Build, *, body_resistance: float = 1000.0) -> Shown:
    """Information only: the current through a body that touches one pole, by the leak of the other."""

    def make(b: View) -> list[tuple[str, ...]]:
        volts = float(np.asarray(full_volts(b)))
        rows: list[tuple[str, ...]] = []
        for words, leak in (("1000 ohm/V", 1000 * volts), ("100 ohm/V", 100 * volts), ("10 ohm/V", 10 * volts),
                            ("other pole joined to the chassis", 1e-3)):  # fmt: skip
            through = float(body.current_through_body(volts, leak=leak, body_resistance=body_resistance))
            rows.append((words, f"{1e3 * through:.3g} mA", body.band(through, kind="DC")))
        return rows

    return _said(build, make, ("leak of the other pole", "through 1000 ohm", "band, 2 s and more"))


def arc_table(build: Build) -> Shown:
    """Information only: heat of an arc at an arm's length by the maximum-power method, with this build's fuse."""

    def make(b: View) -> list[tuple[str, ...]]:
        short, part = short_circuits(b), b.protection.fuse
        low = open_volts(b, state_of_charge=b.protection.short_circuit.lowest_charge)
        rows: list[tuple[str, ...]] = []
        for words, current, volts in (("hot and full", short.largest, full_volts(b)),
                                      ("cold and low", short.smallest, low)):  # fmt: skip
            bolted = float(np.asarray(current))
            clears = float(fuse.clearing_time(bolted / 2, curve=part.fuse_curve, arcing_time=part.fuse_arcing_time))
            broken = np.isfinite(clears) and bolted / 2 >= part.fuse_minimum_breaking
            time = min(clears, arc.LONGEST_EXPOSURE) if broken else arc.LONGEST_EXPOSURE
            heat = float(
                arc.incident_energy(float(np.asarray(volts)), prospective_current=bolted, arc_time=time, distance=ARM)
            )
            ends = f"the fuse, {time:.3g} s" if broken and clears <= time else f"stepping back, {time:g} s"
            rows.append((words, both(bolted / 2, "A"), ends, f"{heat / 1e4:.1f} J/cm² ({heat / 41840:.1f} cal/cm²)"))
        return rows

    return _said(build, make, ("pack", "arc current", "ended by", f"heat at {100 * ARM:.0f} cm, in the open"))


def say_polarity(build: Build) -> str:
    """What to look at in the main contactor's polarity."""
    b = view(build)
    comes_back = b.machine.kind == "ac"  # an inverter gives current back; a series machine's chopper does not
    return f"{build.name}: {arc.polarity(b.protection.contactor.contactor_polarised, current_comes_back=comes_back)}."

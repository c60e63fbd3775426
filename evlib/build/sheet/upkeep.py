"""The maintenance card, and the parts in general terms: rating, size, quantity. No brand, and nothing that is bought.

Intervals and what is looked at are common practice, no source; a maker's or a rule's own interval goes before them. The
numbers beside them are the build's.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection
from typing import Any

from evlib.build.checks.hydraulics.supply import running_current
from evlib.build.checks.safety.charge import discharge_time
from evlib.build.checks.safety.insulation import asked
from evlib.build.launch import rest_hot
from evlib.build.line import only_series
from evlib.build.protection import dead_wait, full_volts
from evlib.build.sheet.words import BLANK, Line, Make, at, both, cut_size, fill, said, tried
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.motors.brushes import BEDDED, PRESSURE_ROAD


@dataclasses.dataclass(frozen=True)
class Task:
    """One task of the card: the part, when, what is looked at, and the lines whose readings are expected."""

    what: str
    when: str
    look: str
    lines: tuple[Line, ...] = ()
    only: Make | None = None  # raises DoesNotApply where the build has no such part


def _band(b: View) -> Any:
    if b.hydraulics.low.holds_by != "band":
        raise DoesNotApply("low is held by plates: there is no band")
    return 1.0


SERVICE, YEAR = "service", "yearly"
TASKS = (
    Task("Brushes", "after 1000 km, then each service",
         f"free in their holders, none chipped; {BEDDED:.0%} of each face shines; springs press with "
         f"{both(PRESSURE_ROAD[0], 'Pa')} to {both(PRESSURE_ROAD[1], 'Pa')}. Shortest now ______, least by the maker "
         "______", only=only_series),
    Task("Commutator and its dust", SERVICE,
         "even and brown, no burnt or high bars. Blow the dust out dead, outdoors, mask and eye protection on: it "
         "conducts. Read insulation before and after", only=only_series),
    Task("Insulation of pack and motors", "service, and after any work", "both leaks, by the card's method",
         (Line("at least", asked, "ohm", shown={"SI": "kohm", "shop": "kohm"}),)),
    Task("Contactors", YEAR, "each opens and closes by ear; a welded one is found before precharge, never in the dark",
         (Line("closed, at most", "protection.contactor.contact_resistance"),)),
    Task("Emergency switch, key, interlocks", "monthly", "each by itself drops the contactors; no other check does it",
         only="protection.shutdown"),
    Task("Cables and joints", YEAR, "warm joints after a run, chafed covers, clips; bolts at the maker's torque",
         (Line("one joint, at most", "protection.pack_cable.joint_resistance"),
          Line("gap to the propeller shaft", "protection.plates.cable_clearance"))),
    Task("Discharge", YEAR, "time after switching off; proved dead with a meter all the same",
         (Line("below 60 V after", discharge_time, "s"), Line("begin proving dead after", dead_wait, "s"))),
    Task("Over-speed trip", YEAR, "with a signal generator, wheels still",
         (Line("trips at", "protection.overspeed_trip.trip_speed"),
          Line("within", "protection.overspeed_trip.detection_delay"))),
    Task("Pack", "monthly by the monitor, opened yearly", "spread of the cells at rest, dry and clean, fixings tight"),
    Task("Gearbox oil", "service; changed at 40000 km or two years", "level, colour, smell; filter; leaks at the "
         "hoses", (Line("no hotter than", "hydraulics.oil.hot_temperature"),),
         only="hydraulics"),
    Task("Pressure at rest, oil hot", SERVICE, "falling from one service to the next is wear: find it before it slips",
         (Line("expect", lambda b: rest_hot(b).pressure, "Pa"),
          Line("drive forbidden below", "hydraulics.switch.inhibit_pressure"))),
    Task("Electric pump", YEAR, "its sound, volts at its terminals, current", (Line("current", running_current, "A"),)),
    Task("Low band", "after 5000 km, then 20000 km", "adjusted by the maker's way: torque ______, backed off ______ "
         "turns; slips or grabs in low", only=_band),
    Task("Splined sleeve", "20000 km or two years, and when open", "grease renewed; red dust is fretting: measure the "
         "teeth; gap with each rotor pushed into its motor",
         (Line("gap as built", lambda b: b.coupling.sleeve and cut_size(b.coupling.cut.measured_gap)),)),
    Task("Bolts of the frames", "after 500 km, then yearly", "none has turned past its paint mark; torque wrench",
         (Line("ring", "coupling.flange.tightening_torque"),
          Line("adapter", "coupling.adapter.tightening_torque"),
          Line("the plate's other bolts", lambda b: b.coupling.plate.gearbox_holes and BLANK))),
    Task("Wheel studs, joints, mounts", "after 100 km, then each service", "torque by the vehicle's maker ______; "
         "play, torn rubber"),
    Task("Park lock and handbrake", SERVICE, "each by itself, on a gentle slope, chocks a hand's width away",
         (Line("roll, at most", "parking.park_lock.park_roll_allowed"),)),
    Task("Brake-servo vacuum", SERVICE, "pump off, brake as often as the card says: the servo still helps",
         (Line("not below", "protection.brake_servo.least_vacuum"),)),
    Task("Air for the motors", SERVICE, "blower runs, filter clean, ducts tight"),
)  # fmt: skip


def maintenance_card(b: View) -> list[tuple[str, str, str, str]]:
    """Part, when, what is looked at, and the readings to expect; tasks for parts that are not fitted are left out."""
    rows = []
    for task in TASKS:
        if task.only is not None and _absent(b, task.only):
            continue
        card = fill(b, task.lines)
        if task.lines and not card.rows:
            continue
        rows.append((task.what, task.when, task.look, "; ".join(f"{r.what} {r.text or BLANK}" for r in card.rows)))
    return rows


def _absent(b: View, only: Make) -> bool:
    """Whether a part is declared as not there; not so where that is not known."""
    read = at(only) if isinstance(only, str) else only

    def there(view: View) -> Any:
        read(view)
        return 1.0

    value, _, wanting = tried(b, there)
    return value is None and not wanting


@dataclasses.dataclass(frozen=True)
class Part:
    """One part in general terms: what it is, how many, and its ratings and sizes."""

    what: str | Callable[[View], str]
    count: Make | int  # a path, how it is counted, or a number
    lines: tuple[Line, ...]
    also: tuple[str, ...] = ()  # paths of values that its lines work with


def _cells(b: View) -> str:
    return f"{b.pack.cells_in_series * b.pack.cells_in_parallel:.0f}"


def _controllers(b: View) -> str:
    return f"{b.machine.machine_count:.0f}" if b.controller.arrangement == "one each" else "1"


def _poles(b: View) -> str:
    return "2" if b.protection.shutdown.contactor_poles == "both poles" else "1"


def _bolts(section: str) -> tuple[Line, ...]:
    def thread(b: View) -> str:
        part = getattr(b.coupling, section)
        return f"{1000 * part.bolt_diameter:g} mm x {1000 * part.bolt_pitch:g} mm"

    where = f"coupling.{section}."
    return (Line("thread", thread), Line("class", where + "bolt_class"),
            Line("thread engaged", where + "thread_engagement"),
            Line("on a circle of", where + "bolt_circle"))  # fmt: skip


def _cable(section: str) -> tuple[Line, ...]:
    where = f"protection.{section}."
    return (Line("copper", where + "conductor_area"), Line("one way", where + "cable_length"),
            Line("insulation for", where + "insulation_limit"))  # fmt: skip


def _motor_side(b: View) -> Any:
    only_series(b)
    return b.controller.motor_current_limit


def _fitting(b: View) -> list[str] | None:
    """The sides of the plate that the bolts stated for the adapter fit; None where that is not known."""
    try:
        bolts, plate = b.coupling.adapter, b.coupling.plate
        return [side for side in ("machine", "gearbox")
                if abs(bolts.bolt_circle - getattr(plate, f"{side}_circle")) < 0.001
                and bolts.bolt_count == getattr(plate, f"{side}_holes")]  # fmt: skip
    except (NotKnown, DoesNotApply):
        return None


def _adapter_words(b: View) -> str:
    """Where the adapter's bolts go: told by the plate that is cut for them, since its sides differ."""
    sides = _fitting(b)
    if sides is None:
        return "Bolts, adapter"
    return f"Bolts, adapter at the {sides[0]}" if sides else "Bolts, adapter: they fit NEITHER side of the plate"


def _other_side(b: View) -> str:
    """The side of the plate whose bolts the build does not state."""
    return "machine" if _fitting(b) == ["gearbox"] else "gearbox"


def _side(b: View, name: str) -> Any:
    return getattr(b.coupling.plate, f"{_other_side(b)}_{name}")


PARTS = (
    Part("Drive motor", "machine.machine_count",
         (Line("", lambda b: {"series": "series-wound, direct current", "ac": "alternating current"}[b.machine.kind]),
          Line("up to", "machine.speed_limit"), Line("", "machine.machine_mass"))),
    Part("Controller or inverter", _controllers,
         (Line("volts, at least", full_volts, "V"),
          Line("motor side", _motor_side, "A"),
          Line("pack side", "controller.controller_pack_current_limit")), ("controller.motor_current_limit",)),
    Part("Cells", _cells,
         (Line("in series", "pack.cells_in_series"),
          Line("in parallel", "pack.cells_in_parallel"),
          Line("each", "pack.cell_capacity"),
          Line("pack current", "pack.pack_current_limit"))),
    Part("Pack fuse", 1,
         (Line("", "protection.fuse.fuse_rating"),
          Line("direct current", "protection.fuse.fuse_voltage_rating"),
          Line("breaks from", "protection.fuse.fuse_minimum_breaking"),
          Line("to", "protection.fuse.fuse_breaking_capacity"))),
    Part("Main contactor", _poles,
         (Line("carries", "protection.contactor.contactor_continuous_current"),
          Line("breaks", "protection.contactor.contactor_breaking_current"),
          Line("at", full_volts, "V"))),
    Part("Precharge resistor", 1,
         (Line("", "protection.precharge.precharge_resistance"),
          Line("always", "protection.precharge.precharge_power_rating"),
          Line("one pulse", "protection.precharge.precharge_pulse_energy"))),
    Part("Discharge resistor", 1,
         (Line("", "protection.discharge.discharge_resistance"),
          Line("always", "protection.discharge.discharge_power_rating"))),
    Part("Pack cable", 2, _cable("pack_cable")),
    Part("Motor cable", 1, _cable("motor_cable")),
    Part("Splined sleeve", 1,
         (Line("teeth", "coupling.sleeve.spline_teeth"),
          Line("module", "coupling.sleeve.spline_module"),
          Line("long", "coupling.sleeve.sleeve_length"),
          Line("outside", "coupling.sleeve.sleeve_diameter"),
          Line("", "coupling.sleeve.sleeve_steel"))),
    Part("Bolts, ring between the frames", "coupling.flange.bolt_count", _bolts("flange")),
    Part(_adapter_words, "coupling.adapter.bolt_count", _bolts("adapter")),
    Part(lambda b: f"Bolts, plate at the {_other_side(b)}", lambda b: f"{_side(b, 'holes'):.0f}",
         (Line("no check is made of these; thread by the housing's maker", lambda b: _side(b, "holes") and BLANK),
          Line("torque", lambda b: _side(b, "holes") and BLANK),
          Line("for holes of", lambda b: _side(b, "hole"), "m"),
          Line("on a circle of", lambda b: _side(b, "circle"), "m"))),
    Part("Adapter plate", 1, (Line("outside", "coupling.plate.plate_diameter"),
                                          Line("thick", "coupling.plate.plate_thickness"))),
    Part("Final drive", 1, (Line("ratio", "final_drive.final_drive_ratio"),
                            Line("input", "final_drive.propeller_rating"),
                            Line("output", "final_drive.final_drive_rating"))),
    Part("Blower, duct and filter for the motors", 1,
         (Line("frame to air, each motor", "machine.frame_conductance"),)),
    Part("Handbrake, lever and cables", 1,
         (Line("lever", "parking.handbrake.lever_ratio"), Line("for a hand of", "parking.handbrake.hand_force"))),
    Part("Electric oil pump", 1,
         (Line("gives", "hydraulics.electric_pump.rated_flow"),
          Line("at", "hydraulics.electric_pump.rated_pressure"),
          Line("and", "hydraulics.electric_pump.rated_voltage"),
          Line("share of time, at most", "hydraulics.electric_pump.duty_limit"))),
    Part("Check valve", 1, (Line("opens at", "hydraulics.check_valve.cracking_pressure"),
                                        Line("stands", "hydraulics.electric_pump.pump_relief_pressure"))),
    Part("Pressure hose", 1, (Line("bore", "hydraulics.line.line_bore"),
                                          Line("long", "hydraulics.line.line_length"))),
    Part("Suction hose", 1, (Line("bore", "hydraulics.line.suction_bore"),
                                         Line("long", "hydraulics.line.suction_length"))),
    Part("Pump fuse, 12 V", 1, (Line("", "hydraulics.supply.pump_fuse_rating"),)),
    Part("Pump relay, 12 V", 1, (Line("", "hydraulics.supply.pump_relay_rating"),)),
    Part("Pump wire", 2, (Line("copper", "hydraulics.supply.pump_wire_area"),
                                      Line("one way", "hydraulics.supply.pump_wire_length"))),
    Part("Vacuum reservoir", 1, (Line("", "protection.brake_servo.reservoir_volume"),)),
    Part("Vacuum pump", 1, (Line("", "protection.brake_servo.vacuum_pump_flow"),)),
)  # fmt: skip


def parts_list(b: View, *, changed: Collection[str] = ()) -> list[tuple[str, str, str]]:
    """Part, number, and rating or size; parts that are not fitted are left out.

    ``changed`` names the values, by path, that were changed: a part on which one stands says so.
    """
    rows = []
    for part in PARTS:
        card = fill(b, part.lines)
        if not card.rows:
            continue
        count = part.count if isinstance(part.count, int) else said(b, part.count)
        sizes = "; ".join(f"{row.what} {row.text or BLANK}".strip() for row in card.rows)
        what = part.what if isinstance(part.what, str) else part.what(b)
        if {*part.also, *(line.make for line in part.lines if isinstance(line.make, str))} & set(changed):
            sizes = f"CHANGED: {sizes}"
        rows.append((what, str(count), sizes))
    return rows

"""The tables of the hydraulics lesson: pressure at rest, what holds, remedies, signals, faults, bench card."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build import hydraulic_cases as cases
from evlib.build import launch as on_build
from evlib.build.gears import input_inertia
from evlib.build.hydraulic_faults import FAULTS, fault_outcome
from evlib.build.launch import GEARS
from evlib.build.line import motor_current_for, torque_at_rest
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.switch_search import search
from evlib.build.view import View
from evlib.ground.shown import Shown
from evlib.hydraulics import clutch, heat, pump, slip, valve
from evlib.lesson.parts import table
from evlib.panels.controls import QuantityControl
from evlib.panels.hydraulics import handover_panel, launch_panel, stop_and_go_panel
from evlib.panels.panel import Panel

WORN = 1.40  # clearances of a worn internal pump over new ones: an example
CHANGE = 150.0  # rad/s; what the rotors lose in a change up at town speed
PULLS: tuple[cases.PullGear, ...] = ("low", "reverse")
AIR = 300e3  # Pa; workshop air for the air check: enough to move a piston, gentle on old seals


def view(build: Build) -> View:
    """The build as calculations see it."""
    return View(build.parts)


def _gauge(value: Any) -> str:
    return both(float(np.asarray(value)), "Pa", kind="gauge")


def rest_table(build: Build) -> Shown:
    """Pressure at rest in low: oil as in the leakage test, hot, cold; and hot with the internal pump worn.

    ``WORN`` and the build's own clearances are both over new ones.
    """
    b = view(build)
    oil, growth = b.hydraulics.oil, float(b.hydraulics.internal_pump.clearance_growth)
    states = (
        ("as in the leakage test", oil.reference_temperature, growth),
        ("hot", oil.hot_temperature, growth),
        ("cold", oil.cold_temperature, growth),
        ("hot, pump worn", oil.hot_temperature, WORN),
    )
    rows = []
    for name, temperature, clearance in states:
        state = on_build.oil_at(b, temperature)
        point = on_build.rest_at(b, state, clearance_growth=clearance)
        back = 100 * float(point.through_internal_pump) / float(point.flow)
        rows.append((f"{name}, {both(float(temperature), 'K')}", f"{float(state.thinning):.2f}", f"{clearance:.2f}",
                     _gauge(point.pressure), both(float(point.flow), "m3/s"), f"{back:.0f} %"))  # fmt: skip
    header = ("oil", "flow through a gap, over the test's", "clearances over new ones", "pressure at rest",
              "flow of the pump", "of it back through the internal pump")  # fmt: skip
    return table(header, rows)


def holds_table(build: Build) -> Shown:
    """What each clutch or band holds at rest: input torque and motor current, against what is asked."""
    b = view(build)
    rows = []
    for gear in ("low", "reverse"):
        multiple = float(np.asarray(getattr(on_build.held_multiples(b), gear)))
        rows.append((
            gear, getattr(b.hydraulics, gear).holds_by, f"{multiple:.2f}",
            both(float(on_build.launch_allowed(b, gear)), "N m"),
            f"{float(on_build.launch_current_allowed(b, gear)):.0f} A",
            f"{float(getattr(b.hydraulics.launch, f'launch_current_{gear}')):.0f} A",
        ))  # fmt: skip
    header = ("gear", "held by", "holds, over input torque", "largest input torque", "largest motor current",
              "current limit set")  # fmt: skip
    return table(header, rows)


REMEDIES: tuple[tuple[str, dict[str, Any], str], ...] = (
    ("as it is", {}, "nothing"),
    ("pump with half as much flow again", {"electric_pump.free_flow": 1.5, "electric_pump.rated_flow": 1.5},
     "a pump; about half as much current again, so wire, fuse and relay too"),
    ("outlet valve at the internal pump", {"internal_pump.back_flow": "outlet valve"},
     "a cheap valve, but the internal pump must come out, and its outlet be machined for a seat"),
    ("two more plates in reverse", {"reverse.friction_faces": 4.0},
     "plates, the box opened, and room for them in the drum"),
    ("one volt more at the pump", {"supply.supply_voltage": 1.0},
     "a charger set higher, as far as 12 V battery and lamps stand it; a thicker wire gives only what the wire loses"),
)  # fmt: skip


def remedies_table(build: Build) -> Shown:
    """What each remedy does to pressure at rest and to the torque that reverse holds at launch."""
    rows = []
    for name, changes, cost in REMEDIES:
        b = view(build.changed({f"hydraulics.{path}": _remedied(build, path, by) for path, by in changes.items()}))
        rows.append((
            name, _gauge(on_build.rest_pressure(b, "reverse")),
            both(float(on_build.launch_allowed(b, "reverse")), "N m"),
            f"{float(on_build.launch_current_allowed(b, 'reverse')):.0f} A", cost,
        ))  # fmt: skip
    header = ("remedy", "pressure at rest", "largest input torque in reverse", "largest motor current", "what it costs")
    return table(header, rows)


def _remedied(build: Build, path: str, by: Any) -> Any:
    if isinstance(by, str):
        return by
    value = build.value(f"hydraulics.{path}")
    return value * by if path.startswith("electric_pump") else value + by


def signals_table(build: Build) -> Shown:
    """Main pressure with each kind of load signal, how many times the full torque each gear holds, heat in the oil."""
    rows = []
    for signal in ("none", "always full", "follows load"):
        b = view(build.changed({"hydraulics.regulator.load_signal": signal}))
        torque = float(np.asarray(torque_at_rest(b)))
        full = {gear: float(np.asarray(on_build.main_pressure(b, gear))) for gear in GEARS}
        light = build.value("hydraulics.regulator.regulator_set") if signal != "always full" else full["low"]
        held = [
            f"{float(np.asarray(on_build.input_torque_allowed(b, gear, pressure=full[gear]))) / torque:.1f}"
            for gear in GEARS
        ]
        warm = heat.pump_heat(
            3000 * np.pi / 30, pressure=light, displacement=b.hydraulics.internal_pump.displacement
        )  # fmt: skip
        change = slip.engaging_time(
            CHANGE, inertia=input_inertia(b), drive_torque=0.0,
            held=on_build.input_torque_allowed(b, "direct", pressure=light),
        )  # fmt: skip
        rows.append(
            (
                signal,
                _gauge(full["low"]),
                _gauge(full["reverse"]),
                _gauge(light),
                *held,
                f"{1000 * float(change):.0f} ms",
                f"{float(warm):.0f} W",
            )
        )
    header = ("load signal", "main pressure, full pedal", "the same in reverse",
              "main pressure, light pedal", "low holds, over full torque",
              "direct holds", "reverse holds", "a change up takes", "heat into the oil at 3000 rpm")  # fmt: skip
    return table(header, rows)


def accumulator_table(build: Build) -> Shown:
    """How long pressure lasts from rest to what launch in low needs with both pumps dead, with and without a store."""
    b = view(build)
    point = on_build.rest_hot(b)
    needed = float(on_build.pressure_needed(b, "low", input_torque=on_build.launch_torque(b, "low")))
    start = float(point.pressure)
    if needed >= start:
        return table(("store of oil", "lasts"), [("any", "pressure at rest is below what launch needs already")])
    rows = []
    for name, volume in (("pistons, hose and a little air", 0.0), ("with an accumulator of 0.1 L", 0.1e-3)):
        stored = cases.COMPLIANCE + float(valve.accumulator_compliance(
            volume, charge_pressure=300e3, pressure=(start + needed) / 2, exponent=1.4
        ))  # fmt: skip
        time = valve.emptying_time(
            start, end_pressure=needed, compliance=stored, leak_slope=float(point.flow) / start
        )  # fmt: skip
        rows.append((name, f"{1e11 * stored:.1f} cm³ for each 100 kPa", f"{float(time):.2f} s"))
    return table(("store of oil", "takes up", f"{_gauge(start)} lasts, down to {_gauge(needed)}"), rows)


def faults_table(build: Build) -> Shown:
    """Each fault simulated on a short trip: pressures, heat in the lining with and without the pressure switch."""
    rows = []
    for fault in FAULTS:
        out = fault_outcome(view(build), fault)
        rows.append((
            fault.name, f"{out.standing / 1e3:.0f}", f"{out.crawling / 1e3:.0f}", _heat(out.heat),
            _heat(out.heat_inhibited), fault.noticed, fault.guard,
        ))  # fmt: skip
    header = ("fault", "standing [kPa]", "crawling [kPa]", "heat in the band [J/cm²]", "heat with pressure switch",
              "what is noticed", "what guards against it")  # fmt: skip
    return table(header, rows)


def _heat(joules: float) -> str:
    each = joules / 1e4
    return "over 1000" if each > 1000 else f"{each:.0f}"


def _set_now(build: Build) -> str:
    speed = build.value("hydraulics.switch.switch_on_speed")
    return "no speed" if speed is None else both(speed, "rad/s")


def search_table(build: Build) -> Shown:
    """The switch settings that suit every corner of the declared spans and 1,000 random builds."""
    found = search(build)
    rows = [
        ("builds tried", f"{found.needed.size}, of which {found.corners} corners"),
        ("switch-on speed needed, least and most",
         f"{both(float(found.needed.min()), 'rad/s')} and {both(float(found.needed.max()), 'rad/s')}"),
        ("switch on below", both(found.on_speed, "rad/s")),
        ("switch off above", both(found.off_speed, "rad/s")),
        (f"builds that need more than is set, {_set_now(build)}", f"{found.above_set}"),
        ("worst five, simulated: pressure while braking over what is wanted", f"{100 * found.lowest:.0f} %"),
        ("switchings while the speed wavers between on and off", f"{found.switchings}"),
        ("builds whose pressure at rest is short of full launch torque", f"{found.rest_short}"),
        ("motor current in low that pressure at rest allows in all of them", f"{found.current_least:.0f} A"),
    ]  # fmt: skip
    return table(("what", "value"), rows)


def bench_card(build: Build) -> Shown:
    """The bench card: pressures to be read before the motors drive it, and what the air check should move."""
    b = view(build)
    rows = []
    positions: tuple[tuple[str, on_build.Gear], ...] = (
        ("park or neutral", "low"), ("low", "low"), ("direct", "direct"), ("reverse", "reverse"),
    )  # fmt: skip
    for position, gear in positions:
        readings = [
            f"{_gauge(on_build.rest_at(b, on_build.oil_at(b, t), gear=gear).pressure)} at {both(float(t), 'K')}"
            for t in (b.hydraulics.oil.reference_temperature, b.hydraulics.oil.hot_temperature)
        ]
        rows.append((f"selector in {position}, electric pump on, motors still", ", ".join(readings)))
    rows.append(("electric pump off, motors still, oil hot", _bleeds_down(b)))
    for gear in GEARS:
        part = getattr(b.hydraulics, gear)
        area = clutch.piston_area(part.piston_outer_diameter, inner_diameter=part.piston_inner_diameter)
        least = float(part.return_spring_force / area)
        moves = "applies" if least < AIR else "does not apply at this pressure"
        rows.append((f"air check of {gear} at {_gauge(AIR)}", f"{moves} (its spring gives way at {_gauge(least)})"))
    return table(("do", "expect"), rows)


def _bleeds_down(b: View) -> str:
    """How the pressure falls with both pumps still: to what launch needs, and to a twentieth."""
    point = on_build.rest_hot(b)
    start, needed = float(point.pressure), cases.launch_pressure_low(b)
    slope = float(point.flow) / start
    times = [
        float(valve.emptying_time(start, end_pressure=end, compliance=cases.COMPLIANCE, leak_slope=slope))
        for end in (min(needed, start), start / 20)
    ]
    return (
        f"falls at once: from {_gauge(start)} to the {_gauge(needed)} that launch in low needs in about "
        f"{times[0]:.2f} s, to a twentieth in about {times[1]:.1f} s"
    )


def main_flow_table(build: Build) -> Shown:
    """The internal pump's net flow at some input speeds, at the pressure that launch in low needs."""
    b = view(build)
    needed = on_build.pressure_needed(b, "low", input_torque=on_build.launch_torque(b, "low"))
    thinning = on_build.hot_oil(b).thinning
    inside = b.hydraulics.internal_pump
    rows = []
    taken = float(pump.leakage(needed, thinning=thinning, **on_build.leak_arguments(b)))
    for rpm in (-500, 0, 200, 300, 500, 1000):
        net = float(pump.internal_flow(
            rpm * np.pi / 30, pressure=needed, displacement=inside.displacement, thinning=thinning,
            leak_test_pressure=b.hydraulics.leakage.leak_test_pressure, **on_build.internal_arguments(b),
        ))  # fmt: skip
        word = "yes" if net >= taken else "no"
        rows.append((f"{rpm} rpm", both(net, "m3/s"), both(taken, "m3/s"), word))
    header = ("input speed", "internal pump gives", "seals and valve body take", "carries the pressure alone")
    return table(header, rows)


def handover_table(build: Build) -> Shown:
    """From which speed the internal pump alone carries what each gear's launch torque needs, and full torque."""
    b = view(build)
    full = float(np.asarray(torque_at_rest(b)))
    asked: list[tuple[str, on_build.Gear, float]] = [
        (f"launch in {gear}", gear, float(np.asarray(on_build.launch_torque(b, gear)))) for gear in PULLS
    ]
    asked += [(f"full torque in {gear}", gear, full) for gear in GEARS]
    rows = []
    for what, gear, torque in asked:
        pressure = on_build.pressure_needed(b, gear, input_torque=torque)
        speed = float(np.asarray(on_build.carried_from(b, pressure)))
        rows.append((what, both(torque, "N m"), _gauge(pressure), both(speed, "rad/s")))
    return table(("what is asked", "input torque", "pressure it needs", "internal pump alone carries it from"), rows)


def limit_table(build: Build) -> Shown:
    """The controller's current limit over input speed: what pressure allows in low and reverse, electric pump on."""
    b = view(build)
    rows = []
    for rpm in (0, 50, 100, 200, 400):
        cells = []
        for gear in ("low", "reverse"):
            pressure = cases.running(b, rpm * np.pi / 30, gear=gear)
            allowed = on_build.input_torque_allowed(b, gear, pressure=pressure)
            cells += [_gauge(pressure), f"{float(motor_current_for(b, allowed, 0.0)):.0f} A"]
        rows.append((f"{rpm} rpm", *cells))
    header = ("input speed", "pressure in low", "motor current allowed in low", "pressure in reverse",
              "motor current allowed in reverse")  # fmt: skip
    return table(header, rows)


def direction_table(build: Build) -> Shown:
    """Backing just above the switch-off speed: pressure and what the gearbox then holds, by each way there is.

    With reversed motors low drives, and a band that wound itself on is unwound.
    """
    b = view(build)
    speed = 1.05 * float(b.hydraulics.switch.switch_off_speed)
    there = cases.running(b, speed, gear="reverse", electric_on=False)
    held = on_build.input_torque_allowed(b, "reverse", pressure=there)
    rows = [("gearbox's reverse, motors forward", "any", "any", "off", _gauge(there), both(float(held), "N m"))]
    for outlet, back_flow in (("open", "open"), ("outlet valve", "outlet valve")):
        for sees in ("no", "yes"):
            there = cases.running(b, -speed, gear="low", electric_on=sees == "yes", back_flow=back_flow)  # type: ignore[arg-type]
            held = on_build.input_torque_allowed(b, "low", pressure=there, driving=False)
            rows.append(("motors turned backward, in low", sees, outlet, "on" if sees == "yes" else "off",
                         _gauge(there), both(float(held), "N m")))  # fmt: skip
    header = (f"back at {both(speed, 'rad/s')} by", "switch sees direction", "internal pump's outlet", "electric pump",
              "pressure", "gearbox holds")  # fmt: skip
    return table(header, rows)


def say_fall(build: Build, *, clearance_growth: float) -> str:
    """What worn clearances (over new ones) take from the torque that reverse and low hold at launch, oil hot."""
    b = view(build)
    now = float(on_build.launch_allowed(b, "reverse"))
    point = on_build.rest_at(b, on_build.hot_oil(b), gear="reverse", clearance_growth=clearance_growth)
    worn = float(on_build.input_torque_allowed(b, "reverse", pressure=point.pressure))
    asked = float(on_build.launch_torque(b, "reverse"))
    ends = "it still holds" if worn >= asked else "it slips"
    return (
        f"Clearances {clearance_growth:.2f} times new leave {_gauge(point.pressure)} at rest. Reverse then holds "
        f"{both(worn, 'N m')} in place of {both(now, 'N m')}: {100 * (1 - worn / now):.0f} % less. "
        f"{both(asked, 'N m')} are asked: {ends}. {_say_low(b, clearance_growth)}"
    )


def _say_low(b: View, clearance_growth: float) -> str:
    point = on_build.rest_at(b, on_build.hot_oil(b), clearance_growth=clearance_growth)
    held = float(on_build.input_torque_allowed(b, "low", pressure=point.pressure))
    asked = float(on_build.launch_torque(b, "low"))
    current = float(motor_current_for(b, held, 0.0))
    ends = "it holds" if held >= asked else f"it slips above {current:.0f} A"
    return f"Low then holds {both(held, 'N m')}; {both(asked, 'N m')} are asked: {ends}."


def say_launch(build: Build, **changes: Any) -> str:
    """The launch panel's sentence at changed values: SI numbers, or text with units."""
    return _say(launch_panel(build), changes)


def say_handover(build: Build, **changes: Any) -> str:
    """The handover panel's sentence at changed values: SI numbers, or text with units."""
    return _say(handover_panel(build), changes)


def say_trip(build: Build, **changes: Any) -> str:
    """The stop-and-go panel's sentence at changed values: SI numbers, or text with units."""
    return _say(stop_and_go_panel(build), changes)


def _say(panel: Panel, changes: dict[str, Any]) -> str:
    values = panel.start
    for control in panel.controls:
        if control.name in changes:
            given = changes.pop(control.name)
            typed = isinstance(control, QuantityControl) and isinstance(given, str)
            values[control.name] = control.typed(given) if typed else given  # type: ignore[union-attr]
    if changes:
        raise ValueError(f"{panel.id} has no control {', '.join(changes)}")
    return panel.say(panel.compute(**values)).sentence

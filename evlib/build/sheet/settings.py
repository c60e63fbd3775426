"""The cards of settings and the bench: hydraulics in the vehicle, the gearbox on the bench, the protections."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

import numpy as np

from evlib.build.checks.hydraulics.handover import handover_margin
from evlib.build.checks.hydraulics.pressure import pressure_switch
from evlib.build.checks.hydraulics.supply import running_current
from evlib.build.checks.safety.charge import discharge_time, precharge_time
from evlib.build.checks.safety.insulation import asked
from evlib.build.commissioning import POSITIONS
from evlib.build.gears import gear_ratios, shaft_per_road
from evlib.build.launch import (
    Gear,
    handover_needed,
    hot_oil,
    launch_current_allowed,
    main_pressure,
    oil_at,
    pump_volts,
    rest_at,
    rest_hot,
)
from evlib.build.protection import dead_wait, freed_line, full_volts, pack_peak, short_circuits
from evlib.build.sheet.words import Card, Line, Make, both, fill, said, tried
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply
from evlib.hydraulics import clutch, pump


def road_speed_low(b: View, speed: Any) -> Any:
    """Road speed [m/s] at an input speed [rad/s] in low."""
    return speed / np.asarray(shaft_per_road(b, gear_ratios(b).low))


def _beside(note: str, setting: Make, *, least: Make | None = None, most: Make | None = None,
            unit: str = "") -> Callable[[View], str]:  # fmt: skip
    """A setting's note, with what it is up against put before it where the setting is not within that."""

    def words(b: View) -> str:
        is_set, low, high = (None if make is None else tried(b, make)[0] for make in (setting, least, most))
        if is_set is not None and low is not None and is_set < low:
            return f"TOO LOW: at least {both(low, unit)}; {note}".removesuffix("; ")
        if is_set is not None and high is not None and is_set > high:
            return f"TOO HIGH: at most {both(high, unit)}; {note}".removesuffix("; ")
        return note

    return words


def _launch(gear: Literal["low", "reverse"]) -> tuple[Line, Line]:
    """The launch setting of a gear beside what pressure at rest allows, and which of two limits really holds."""
    path = f"hydraulics.launch.launch_current_{gear}"

    def note(b: View) -> str:
        is_set, controller = (tried(b, make)[0] for make in (path, "controller.motor_current_limit"))
        if is_set is None or controller is None or is_set <= controller:
            return _beside("", path, most=lambda v: launch_current_allowed(v, gear), unit="A")(b)
        held = f"the controller's own limit is lower and holds it: {both(controller, 'A')}"
        over = _beside(held, "controller.motor_current_limit", most=lambda v: launch_current_allowed(v, gear), unit="A")
        allowed = tried(b, lambda v: launch_current_allowed(v, gear))[0]
        alone = allowed is not None and controller <= allowed < is_set
        return over(b) + ("; raise that, and this setting alone is too high" if alone else "")

    return (
        Line(f"Motor current set for launch in {gear}", path, note=note),
        Line(f"pressure at rest allows in {gear}", lambda b: launch_current_allowed(b, gear), "A", "oil hot"),
    )


HYDRAULIC = (
    Line("Electric pump on below (gearbox input)", "hydraulics.switch.switch_on_speed",
         note=_beside("set the speed switch to this", "hydraulics.switch.switch_on_speed",
                      least=lambda b: handover_margin(b).demand, unit="rad/s")),
    Line("the same, at the least", lambda b: handover_margin(b).demand, "rad/s",
         "braking hard in low with worn clearances needs this much"),
    Line("Electric pump off above", "hydraulics.switch.switch_off_speed",
         note=_beside("well above the other, or the switch chatters", "hydraulics.switch.switch_off_speed",
                      least="hydraulics.switch.switch_on_speed", unit="rad/s")),
    Line("as road speed in low: on below", lambda b: road_speed_low(b, b.hydraulics.switch.switch_on_speed), "m/s",
         "what you hear while you roll out"),
    Line("as road speed in low: off above", lambda b: road_speed_low(b, b.hydraulics.switch.switch_off_speed), "m/s",
         "what you hear while you pull away"),
    Line("Internal pump carries what launch needs from",
         lambda b: np.maximum(handover_needed(b, "low"), handover_needed(b, "reverse")), "rad/s",
         "below it only the electric pump holds the clutches"),
    Line("Regulator, no load signal", "hydraulics.regulator.regulator_set", note="set with the gauge, hot"),
    Line("Load signal at the regulator", "hydraulics.regulator.load_signal"),
    Line("Main pressure under load, low and direct", lambda b: main_pressure(b, "low"), "Pa",
         "once the internal pump carries it"),
    Line("Main pressure under load, reverse", lambda b: main_pressure(b, "reverse"), "Pa",
         "once the internal pump carries it"),
    Line("Relief valve of the electric pump", "hydraulics.electric_pump.pump_relief_pressure", note="the pump's own"),
    Line("Pressure switch", "hydraulics.switch.pressure_switch", note="what it does below its setting"),
    Line("Pressure switch set to", "hydraulics.switch.inhibit_pressure",
         note=_beside("above what launch needs, below the pressure at rest", "hydraulics.switch.inhibit_pressure",
                      least=lambda b: pressure_switch(b).demand, most=lambda b: rest_hot(b).pressure, unit="Pa")),
    Line("what launch needs", lambda b: pressure_switch(b).demand, "Pa", "the larger of low and reverse"),
    Line("Volts at the pump while it runs", pump_volts, "V", "read at its terminals, not at the battery"),
    Line("Pump current at rest, oil hot", running_current, "A", "more says a blocked line, less says air or no prime"),
    Line("Motor current limit of the controller", "controller.motor_current_limit", note="the same in every gear"),
    *_launch("low"), *_launch("reverse"),
)  # fmt: skip


def pressures(b: View) -> list[tuple[str, str, str]]:
    """Selector position by position: the pressure to expect at rest with hot and with cold oil."""

    def at_rest(gear: Gear, hot: bool) -> str:
        def make(view: View) -> Any:
            oil = hot_oil(view) if hot else oil_at(view, view.hydraulics.oil.cold_temperature)
            return rest_at(view, oil, gear=gear).pressure

        return said(b, make, "Pa")

    return [(position, at_rest(gear, True), at_rest(gear, False)) for position, gear in POSITIONS]


def hydraulic_card(b: View) -> tuple[Card, list[tuple[str, str, str]], str]:
    """The settings, the pressures to expect, and at which oil temperatures. No pressures where nothing applies."""
    card = fill(b, HYDRAULIC)
    hot, cold = (said(b, f"hydraulics.oil.{name}") for name in ("hot_temperature", "cold_temperature"))
    return card, pressures(b) if card.rows else [], f"hot is {hot}, cold is {cold}"


def _element(gear: Gear) -> tuple[Line, ...]:
    def area(b: View) -> Any:
        part = getattr(b.hydraulics, gear)
        return clutch.piston_area(part.piston_outer_diameter, inner_diameter=part.piston_inner_diameter)

    name = {"low": "Low", "direct": "Direct", "reverse": "Reverse"}[gear]
    return (
        Line(f"{name}: piston moves from", lambda b: getattr(b.hydraulics, gear).return_spring_force / area(b), "Pa",
             "return springs over piston area; air, rising slowly, behind a guard"),
        Line(f"{name}: oil to fill it", f"hydraulics.{gear}.fill_volume", note="measured into it"),
    )  # fmt: skip


def _leak(b: View, *, back: bool) -> Any:
    """What the gearbox takes at the test pressure [m3/s]; ``back``: through the standing internal pump alone."""
    through = b.hydraulics.internal_pump
    if back:
        if through.back_flow != "open":
            raise DoesNotApply("an outlet valve shuts off the standing internal pump")
        return pump.internal_leak(
            b.hydraulics.leakage.leak_test_pressure, internal_slip=through.internal_slip,
            clearance_growth=through.clearance_growth, thinning=1.0,
            leak_test_pressure=b.hydraulics.leakage.leak_test_pressure,
        )  # fmt: skip
    leak = b.hydraulics.leakage
    return np.add(np.add(leak.seal_leak, leak.valve_body_leak), leak.open_feed)


def _of_pump(name: str) -> Callable[[View], Any]:
    """A size of the joint that only a gearbox with a pump of its own has."""

    def make(b: View) -> Any:
        _ = b.hydraulics.internal_pump
        if b.coupling.gearbox_joint.pump_drive == "no pump":
            raise DoesNotApply("this gearbox has no internal pump")
        return getattr(b.coupling.gearbox_joint, name)

    return make


BENCH = (
    Line("Turns of the input for ten of the output, low", lambda b: _turns(b, "low"), "", "by hand; count both"),
    Line("the same, direct", lambda b: _turns(b, "direct"), "", "clutch on air"),
    Line("the same, reverse, the other way round", lambda b: _turns(b, "reverse"), "", ""),
    *_element("low"), *_element("direct"), *_element("reverse"),
    Line("Pressure of the leakage test", "hydraulics.leakage.leak_test_pressure",
         note="by the electric pump and a bench valve"),
    Line("Oil while it is tested", "hydraulics.oil.reference_temperature",
         note="thinner oil leaks more: warm it first"),
    Line("Seals and valve body take", lambda b: _leak(b, back=False), "m3/s", "bucket and watch"),
    Line("the standing internal pump takes", lambda b: _leak(b, back=True), "m3/s", "nothing with an outlet valve"),
    Line("Electric pump gives against no pressure", "hydraulics.electric_pump.free_flow", note="at its rated volts"),
    Line("Electric pump gives at its rated pressure", "hydraulics.electric_pump.rated_flow"),
    Line("its rated pressure", "hydraulics.electric_pump.rated_pressure"),
    Line("its rated volts", "hydraulics.electric_pump.rated_voltage", note="at its terminals"),
    Line("Internal pump, oil for each turn", "hydraulics.internal_pump.displacement", note="turned the right way only"),
    Line("Check valve opens at", "hydraulics.check_valve.cracking_pressure",
         note="and lets nothing back at the test pressure"),
    Line("End float of the pump's hub", _of_pump("hub_float"), "m", "dial on the shaft's end"),
    Line("Run-out at the pump's bush, at most", _of_pump("pilot_limit"), "m", "full dial reading"),
)  # fmt: skip


def _turns(b: View, gear: Gear) -> Any:
    _ = b.gearbox  # one that is left out has no gears to count, and says so here
    return np.multiply(10, getattr(gear_ratios(b), gear))


def bench_card(b: View) -> Card:
    """What is read on the gearbox before it goes into the vehicle."""
    return fill(b, BENCH)


PROTECTIONS = (
    Line("Full pack", full_volts, "V", "every part below must be rated for it, as direct current"),
    Line("Fuse", "protection.fuse.fuse_rating", note="at the pack, before anything else"),
    Line("Fuse, rated for", "protection.fuse.fuse_voltage_rating", note="direct current"),
    Line("Fuse breaks up to", "protection.fuse.fuse_breaking_capacity"),
    Line("largest short, hot and full", lambda b: short_circuits(b).largest, "A", "at the pack's own terminals"),
    Line("Fuse breaks from", "protection.fuse.fuse_minimum_breaking"),
    Line("least short, cold and low", lambda b: short_circuits(b).smallest, "A", "at the far end of the cable"),
    Line("Pack current, at most", pack_peak, "A", "controller setting and battery monitor"),
    Line("Contactor carries", "protection.contactor.contactor_continuous_current", note="always"),
    Line("Contactor breaks once", "protection.contactor.contactor_breaking_current"),
    Line("Contactor opens in", "protection.contactor.contactor_release_time", note="suppressor as fitted"),
    Line("Contactor has a plus and a minus side", "protection.contactor.contactor_polarised",
         note="if so, current backwards welds it"),
    Line("Precharge resistor", "protection.precharge.precharge_resistance"),
    Line("Precharge wait set to", "protection.precharge.precharge_wait",
         note=_beside("", "protection.precharge.precharge_wait", least=precharge_time, unit="s")),
    Line("precharge needs", precharge_time, "s", ""),
    Line("Discharge resistor", "protection.discharge.discharge_resistance", note="across the controller's input"),
    Line("Switched off, below 60 V after", discharge_time, "s", "not dead yet"),
    Line("Begin proving dead after", dead_wait, "s", "five time constants; the meter decides, not the clock"),
    Line("Pack cable, copper", "protection.pack_cable.conductor_area"),
    Line("Motor cable, copper", "protection.motor_cable.conductor_area"),
    Line("Insulation asked, each leak", asked, "ohm", "", "", {"SI": "kohm", "shop": "kohm"}),
    Line("Over-speed trip set to", "protection.overspeed_trip.trip_speed",
         note=_beside("", "protection.overspeed_trip.trip_speed", most="machine.speed_limit", unit="rad/s")),
    Line("Over-speed must be detected within", lambda b: freed_line(b).delay, "s", "else a freed motor passes its "
         "limit"),
    Line("it is detected in", "protection.overspeed_trip.detection_delay",
         note=_beside("", "protection.overspeed_trip.detection_delay", most=lambda b: freed_line(b).delay, unit="s")),
    *(Line(words, f"protection.shutdown.{name}", "shutdown loop") for words, name in (
        ("Key switch stands", "key_place"), ("Emergency switch stands", "emergency_place"),
        ("Main contactors open", "contactor_poles"), ("Inertia switch", "inertia_switch"),
        ("Cover interlocks", "interlock_line"), ("Insulation monitor's relay", "monitor_relay"),
        ("Over-speed relay", "overspeed_relay"), ("Oil pressure relay", "pressure_relay"))),
)  # fmt: skip


def protections_card(b: View) -> Card:
    """The protections as they are built and set, beside what they are up against."""
    return fill(b, PROTECTIONS)

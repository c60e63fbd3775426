"""Checks of the hydraulics topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.build.gears import gear_ratios
from evlib.build.launch import (
    Gear,
    handover_needed,
    held_multiples,
    hot_oil,
    input_torque_allowed,
    launch_allowed,
    launch_current_allowed,
    launch_torque,
    leak_arguments,
    main_pressure,
    oil_at,
    pressure_needed,
    pump_arguments,
    rest_at,
    rest_hot,
    wire_drop,
)
from evlib.build.line import torque_at_rest
from evlib.build.registry import check, stated
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.ground.units import STANDARD_ATMOSPHERE
from evlib.hydraulics import clutch, handover, line, pump, supply

BALANCE = "flow balance of pump and leakage"
FRICTION = "Jindal, Machine Design, ch. 22 (plates); Euler and Eytelwein (band); torque balance of the gear set"
CONTINUOUS = 1.25  # a fuse carries its rating less a quarter without ageing: common practice, no source


@check("rest pressure", topic="hydraulics")
def rest_pressure(b: View) -> Check:
    """Pressure below which the pressure switch forbids drive, against what the electric pump holds at rest, oil hot."""
    at_rest = rest_hot(b)
    numbers = {
        "Q": (at_rest.flow, "m3/s"), "seals": (at_rest.through_seals, "m3/s"),
        "valve body": (at_rest.through_orifices, "m3/s"), "internal pump": (at_rest.through_internal_pump, "m3/s"),
        "regulator": (at_rest.through_regulator, "m3/s"), "p at the pump": (at_rest.pump_pressure, "Pa"),
        "oil": (b.hydraulics.oil.hot_temperature, "K"),
    }  # fmt: skip
    return Check(
        "rest pressure", "hydraulics", b.hydraulics.switch.inhibit_pressure, at_rest.pressure, "Pa",
        working=Working("pump curve(p) = what leaves: seals + valve body + standing internal pump + regulator", numbers,
                        (at_rest.pressure, "Pa")),
        source=BALANCE, kind="gauge", target=0.2,
        advice="stop the largest leak first (a check valve behind the internal pump, blanked feeds), then fit a larger "
        "pump or better volts; a pump's rating is not its pressure in this gearbox",
    )  # fmt: skip


def _launch(b: View, gear: Literal["low", "reverse"]) -> Check:
    allowed, asked = launch_allowed(b, gear), launch_torque(b, gear)
    current = launch_current_allowed(b, gear)
    held = getattr(held_multiples(b), gear)
    kind = getattr(b.hydraulics, gear).holds_by
    equation = "T = n μ (p A - Fs) Rm / k" if kind == "plates" else "T = i (p A - Fs) r (exp(μ θ) - 1) / k"
    return Check(
        f"launch in {gear}", "hydraulics", asked, allowed, "N m",
        working=Working(equation, {"p": (rest_hot(b).pressure, "Pa"), "k": (held, ""),
                                   "motor current asked": (getattr(b.hydraulics.launch, f"launch_current_{gear}"), "A"),
                                   "motor current that it allows": (current, "A")}, (allowed, "N m")),
        source=FRICTION,
        advice="set the controller's limit below the current that the pressure allows until the internal pump has "
        "taken over, let a pressure switch forbid drive, or fit a larger pump or more plates",
    )  # fmt: skip


@check("launch in low", topic="hydraulics")
def launch_in_low(b: View) -> Check:
    """Input torque at launch in low against what pressure at rest lets the low band or clutch hold."""
    return _launch(b, "low")


@check("launch in reverse", topic="hydraulics")
def launch_in_reverse(b: View) -> Check:
    """Input torque at launch in reverse against what pressure at rest lets the reverse clutch or band hold."""
    return _launch(b, "reverse")


def _main(b: View, gear: Gear) -> Check:
    pressure, torque = main_pressure(b, gear), torque_at_rest(b)
    held = getattr(held_multiples(b), gear)
    allowed = input_torque_allowed(b, gear, pressure=pressure)
    return Check(
        f"main pressure in {gear}", "hydraulics", torque, allowed, "N m",
        working=Working("torque that holds at p = set + load boost + reverse boost",
                        {"p": (pressure, "Pa"), "k": (held, ""), "T k": (np.multiply(torque, held), "N m")},
                        (allowed, "N m")),
        source=FRICTION,
        advice="give the regulator a load signal or raise its set point within the maker's limits, or fit more plates",
    )  # fmt: skip


@check("main pressure in low", topic="hydraulics")
def main_in_low(b: View) -> Check:
    """All that the motors give, against what low holds once main pressure is up."""
    return _main(b, "low")


@check("main pressure in direct", topic="hydraulics")
def main_in_direct(b: View) -> Check:
    """All that the motors give, against what the direct clutch holds once main pressure is up."""
    return _main(b, "direct")


@check("main pressure in reverse", topic="hydraulics")
def main_in_reverse(b: View) -> Check:
    """All that the motors give, against what reverse holds once main pressure is up."""
    return _main(b, "reverse")


@check("handover margin", topic="hydraulics")
def handover_margin(b: View) -> Check:
    """Switch-on speed that braking hard in low needs, against the one that is set."""
    h = b.hydraulics
    carried = np.maximum(handover_needed(b, "low"), handover_needed(b, "reverse"))
    overall = np.multiply(gear_ratios(b).low, b.final_drive.final_drive_ratio)
    slowing = handover.input_deceleration(
        h.switch.hardest_braking, overall_ratio=overall, wheel_radius=b.vehicle.wheel_radius
    )  # fmt: skip
    times = {"switch_delay": h.switch.switch_delay, "spin_up_time": h.electric_pump.spin_up_time}
    needed = handover.switch_on_needed(carried, input_deceleration=slowing, **times)
    return Check(
        "handover margin", "hydraulics", needed, h.switch.switch_on_speed, "rad/s",
        working=Working("n_on = n_handover + α (t_switch + t_pump)",
                        {"n_handover": (carried, "rad/s"), "α": (slowing, "rad/s2"),
                         "t_switch": (h.switch.switch_delay, "s"), "t_pump": (h.electric_pump.spin_up_time, "s")},
                        (needed, "rad/s")),
        source="flow balance; constant deceleration",
        advice="raise the switch-on speed; about 500 rpm is common practice, but a worn pump and thin oil need more",
    )  # fmt: skip


@check("switch hysteresis", topic="hydraulics")
def switch_hysteresis(b: View) -> Check:
    """Switch-on speed against switch-off speed: a switch that does both at one speed chatters."""
    switch = b.hydraulics.switch
    return Check(
        "switch hysteresis", "hydraulics", switch.switch_on_speed, switch.switch_off_speed, "rad/s",
        working=Working("n_off over n_on", {"n_on": (switch.switch_on_speed, "rad/s")},
                        (switch.switch_off_speed, "rad/s")),
        source="common practice, no source",
        advice="set the switch-off speed at least a tenth above the switch-on speed, more for a rough speed signal",
    )  # fmt: skip


@check("direction", topic="hydraulics")
def direction(b: View) -> Check:
    """Pressure that reverse needs against what there is while backing up above the switch-off speed."""
    switch = b.hydraulics.switch
    needed = _launch_pressure(b, "reverse")
    there = handover.backing_pressure(
        rest_hot(b).pressure, main_pressure_reverse=main_pressure(b, "reverse"), reverse_by=switch.reverse_by,
        sees_direction=switch.sees_direction,
    )  # fmt: skip
    return Check(
        "direction", "hydraulics", needed, there, "Pa",
        working=Working("main pressure if the gearbox reverses; if the motors do, pressure at rest with a switch that "
                        "sees direction, nothing with one that does not",
                        {"reverse by": (switch.reverse_by, ""), "switch sees direction": (switch.sees_direction, "")},
                        (there, "Pa")),
        source="a gear pump turned backwards draws from its outlet; common practice, no source", kind="gauge",
        advice="reverse with the gearbox, never with the motors, or fit a switch that sees direction and a check valve "
        "behind the internal pump",
    )  # fmt: skip


@check("line loss", topic="hydraulics")
def line_loss(b: View) -> Check:
    """Pressure that the hose from pump to gearbox loses at rest, oil hot, against what is accepted."""
    hose, oil, flow = b.hydraulics.line, hot_oil(b), rest_hot(b).flow
    loss = line.line_loss(
        flow, bore=hose.line_bore, length=hose.line_length, fittings=hose.line_fittings, viscosity=oil.viscosity,
        density=oil.density,
    )  # fmt: skip
    number = line.reynolds(flow, bore=hose.line_bore, viscosity=oil.viscosity)
    return Check(
        "line loss", "hydraulics", loss, hose.line_loss_allowed, "Pa",
        working=Working("Δp = (f L/D + ΣK) ρ v²/2", {"Q": (flow, "m3/s"), "D": (hose.line_bore, "m"),
                                                    "L": (hose.line_length, "m"), "Re": (number, "")}, (loss, "Pa")),
        source="Darcy and Weisbach; Colebrook", kind="pressure difference",
        advice="next hose size up, a shorter run, swept elbows",
    )  # fmt: skip


def _inlet(b: View, oil_temperature: Number, flow: Number) -> Number:
    hose, oil = b.hydraulics.line, oil_at(b, oil_temperature)
    return line.inlet_pressure(
        flow, bore=hose.suction_bore, length=hose.suction_length, fittings=hose.suction_fittings,
        lift=hose.suction_lift, viscosity=oil.viscosity, density=oil.density, air_pressure=STANDARD_ATMOSPHERE,
    )  # fmt: skip


@check("cavitation", topic="hydraulics")
def cavitation(b: View) -> Check:
    """Lowest inlet pressure allowed against the one at the pump's free flow, oil hot (absolute, at sea level)."""
    flow = b.hydraulics.electric_pump.free_flow
    there = _inlet(b, b.hydraulics.oil.hot_temperature, flow)
    return Check(
        "cavitation", "hydraulics", b.hydraulics.line.inlet_pressure_allowed, there, "Pa",
        working=Working("p = pa - ρ g h - Δp - ρ v²/2", {"Q": (flow, "m3/s"),
                                                        "D": (b.hydraulics.line.suction_bore, "m"),
                                                        "h": (b.hydraulics.line.suction_lift, "m")}, (there, "Pa")),
        source="Bernoulli; Darcy and Weisbach", kind="absolute", target=0.05,
        advice="mount the pump lower than the oil, with a wide and short suction line",
    )  # fmt: skip


def _launch_pressure(b: View, gear: Literal["low", "reverse"]) -> Number:
    return pressure_needed(b, gear, input_torque=launch_torque(b, gear))


@check("cold start", topic="hydraulics")
def cold_start(b: View) -> Check:
    """Flow that the gearbox takes at launch pressure with cold oil, against what the suction line lets through."""
    h = b.hydraulics
    oil = oil_at(b, h.oil.cold_temperature)
    pressure = np.maximum(_launch_pressure(b, "low"), _launch_pressure(b, "reverse"))
    box = leak_arguments(b)
    taken = np.asarray(pump.leakage(pressure, thinning=oil.thinning, **box)) + pump.internal_leak(
        pressure, internal_slip=h.internal_pump.internal_slip, clearance_growth=h.internal_pump.clearance_growth,
        leak_test_pressure=box["leak_test_pressure"], thinning=oil.thinning,
    )  # fmt: skip
    drawn = line.largest_suction_flow(
        h.line.inlet_pressure_allowed, bore=h.line.suction_bore, length=h.line.suction_length,
        fittings=h.line.suction_fittings, lift=h.line.suction_lift, viscosity=oil.viscosity, density=oil.density,
        air_pressure=STANDARD_ATMOSPHERE,
    )  # fmt: skip
    given = np.minimum(drawn, pump.electric_flow(pressure, thinning=oil.thinning, **pump_arguments(b)))
    return Check(
        "cold start", "hydraulics", taken, given, "m3/s",
        working=Working("least of what the suction lets through and what the pump gives at p",
                        {"oil": (h.oil.cold_temperature, "K"), "ν": (oil.viscosity, "m2/s"), "p": (pressure, "Pa"),
                         "suction lets through": (drawn, "m3/s")}, (given, "m3/s")),
        source="ASTM D341; Hagen and Poiseuille. Near -20 °C such oil is no longer Newtonian: measure there",
        advice="a wider suction line, a lower pump, an oil that is thinner in the cold, or time to warm it",
    )  # fmt: skip


@check("pump duty", topic="hydraulics")
def pump_duty(b: View) -> Check:
    """Share of time for which the pump runs in the worst traffic, against what its maker allows."""
    electric = b.hydraulics.electric_pump
    on, allowed = np.multiply(100, electric.on_share), np.multiply(100, electric.duty_limit)
    return Check(
        "pump duty", "hydraulics", on, allowed, "percent",
        working=Working("time on over time", {"on": (on, "percent")}, (allowed, "percent")),
        source="the pump's data sheet",
        advice="a pump rated for continuous running, or a lower switch speed where the handover leaves room",
    )  # fmt: skip


def running_current(b: View) -> Number:
    """Current of the electric pump at rest [A], oil hot."""
    electric = b.hydraulics.electric_pump
    return pump.electric_current(
        rest_hot(b).pump_pressure, free_current=electric.free_current, rated_current=electric.rated_current,
        rated_pressure=electric.rated_pressure,
    )  # fmt: skip


@check("12 V fuse", topic="hydraulics")
def fuse(b: View) -> Check:
    """Pump current at rest with a quarter to spare, against the fuse's rating."""
    current = running_current(b)
    asked = np.multiply(CONTINUOUS, current)
    return Check(
        "12 V fuse", "hydraulics", asked, b.hydraulics.supply.pump_fuse_rating, "A",
        working=Working("1.25 I", {"I": (current, "A"), "p": (rest_hot(b).pump_pressure, "Pa")}, (asked, "A")),
        source="common practice, no source: a fuse is loaded to four fifths", target=0.05,
        advice="the next larger fuse, if the wire is rated above it; never a larger fuse than the wire",
    )  # fmt: skip


@check("12 V fuse at the pump's start", topic="hydraulics")
def fuse_at_start(b: View) -> Check:
    """What the starting pump puts through its fuse against what a blade fuse stands."""
    electric, rating = b.hydraulics.electric_pump, b.hydraulics.supply.pump_fuse_rating
    heat = supply.inrush_heat(
        electric.inrush_current, running_current=electric.rated_current, spin_up_time=electric.spin_up_time
    )  # fmt: skip
    stands = supply.blade_fuse_stands(electric.inrush_current, fuse_rating=rating)
    return Check(
        "12 V fuse at the pump's start", "hydraulics", heat, stands, "A2 s",
        working=Working("∫ i² dt against I² t_shortest", {"I_in": (electric.inrush_current, "A"),
                                                          "t_up": (electric.spin_up_time, "s"),
                                                          "I_fuse": (rating, "A")}, (heat, "A2 s")),
        source="ISO 8820-3, shortest opening times (from memory)", target=0.5,
        advice="a slower fuse of the same rating, or the next larger where the wire allows it",
    )  # fmt: skip


@check("12 V wire", topic="hydraulics")
def wire(b: View) -> Check:
    """The fuse's rating against the current that the pump's wire may carry."""
    given = b.hydraulics.supply
    return Check(
        "12 V wire", "hydraulics", given.pump_fuse_rating, given.pump_wire_allowed, "A",
        working=Working("fuse at most what the wire carries", {"A": (given.pump_wire_area, "m2")},
                        (given.pump_wire_allowed, "A")),
        source="the fuse protects the wire, not the pump: any wiring rule", target=0.0,
        advice="a thicker wire, or a smaller fuse if the pump's current leaves room",
    )  # fmt: skip


@check("12 V voltage drop", topic="hydraulics")
def drop(b: View) -> Check:
    """Volts lost in the pump's wire, out and back, against what is accepted."""
    given, current = b.hydraulics.supply, running_current(b)
    lost = wire_drop(b, current)
    return Check(
        "12 V voltage drop", "hydraulics", lost, given.pump_drop_allowed, "V",
        working=Working("ΔV = 2 l r I", {"I": (current, "A"), "A": (given.pump_wire_area, "m2"),
                                         "l": (given.pump_wire_length, "m")}, (lost, "V")),
        source="Ohm's law; IEC 60028 copper at 75 °C",
        advice="a thicker or shorter wire: the pump's flow falls with its volts",
    )  # fmt: skip


@check("12 V relay", topic="hydraulics")
def relay(b: View) -> Check:
    """Pump current at rest with a quarter to spare, against the relay's rating for motor load."""
    current = running_current(b)
    asked = np.multiply(CONTINUOUS, current)
    return Check(
        "12 V relay", "hydraulics", asked, b.hydraulics.supply.pump_relay_rating, "A",
        working=Working("1.25 I", {"I": (current, "A")}, (asked, "A")),
        source="common practice, no source; ask its maker for the rating that makes the inrush",
        advice="a relay rated for motor load; one for lamps welds shut",
    )  # fmt: skip


@check("released clutch", topic="hydraulics")
def released_clutch(b: View) -> Check:
    """Force of turning oil on the released direct clutch at top motor speed, against its return spring."""
    direct, oil = b.hydraulics.direct, hot_oil(b)
    emptied = direct.drum_turns == "no" or direct.oil_bleed == "check ball"
    force = clutch.spinning_oil_force(
        b.machine.speed_limit, outer_diameter=direct.piston_outer_diameter,
        inner_diameter=direct.piston_inner_diameter, oil_inlet_radius=direct.oil_inlet_radius, density=oil.density,
    )  # fmt: skip
    demand = np.multiply(force, 0.0 if emptied else 1.0)
    return Check(
        "released clutch", "hydraulics", demand, direct.return_spring_force, "N",
        working=Working("F = (π ρ ω²/4)((Ro² - r0²)² - (Rs² - r0²)²)",
                        {"ω": (b.machine.speed_limit, "rad/s"), "ρ": (oil.density, "kg/m3"),
                         "unbled": (force, "N"), "bleed": (direct.oil_bleed, "")}, (demand, "N")),
        source="forced vortex, any fluid text",
        advice="fit a drum with a check ball; a clutch that drags in low burns",
    )  # fmt: skip


@stated("pressure at rest, oil hot", group="Pump and switch settings", unit="Pa")
def stated_rest(b: View) -> Number:
    """Pressure that the electric pump holds at rest."""
    return rest_hot(b).pressure


@stated("pressure at rest, oil cold", group="Pump and switch settings", unit="Pa")
def stated_rest_cold(b: View) -> Number:
    """Pressure at rest with the coldest oil, suction permitting."""
    return rest_at(b, oil_at(b, b.hydraulics.oil.cold_temperature)).pressure


@stated("motor current that pressure at rest allows in low", group="Pump and switch settings", unit="A")
def stated_low(b: View) -> Number:
    """Largest motor current at launch in low."""
    return launch_current_allowed(b, "low")


@stated("motor current that pressure at rest allows in reverse", group="Pump and switch settings", unit="A")
def stated_reverse(b: View) -> Number:
    """Largest motor current at launch in reverse."""
    return launch_current_allowed(b, "reverse")


@stated("internal pump carries launch pressure from", group="Pump and switch settings", unit="rad/s")
def stated_handover(b: View) -> Number:
    """Lowest input speed at which the internal pump carries what launch in low and in reverse needs."""
    return np.maximum(handover_needed(b, "low"), handover_needed(b, "reverse"))


@stated("electric pump on below", group="Pump and switch settings", unit="rad/s")
def stated_on(b: View) -> Number:
    """Switch-on speed that is set."""
    speed: Number = b.hydraulics.switch.switch_on_speed
    return speed


@stated("electric pump off above", group="Pump and switch settings", unit="rad/s")
def stated_off(b: View) -> Number:
    """Switch-off speed that is set."""
    speed: Number = b.hydraulics.switch.switch_off_speed
    return speed


@stated("pump current at rest", group="Pump and switch settings", unit="A")
def stated_current(b: View) -> Number:
    """Current of the electric pump at rest."""
    return running_current(b)

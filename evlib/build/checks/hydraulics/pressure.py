"""Pressure at rest, what launch and full torque ask of clutches and bands, and the pressure switch."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.build.launch import (
    Gear,
    held_multiples,
    hot_oil,
    input_torque_allowed,
    launch_allowed,
    launch_current_allowed,
    launch_torque,
    main_pressure,
    pressure_needed,
    rest_hot,
)
from evlib.build.launch import (
    rest_pressure as pressure_at_rest,
)
from evlib.build.line import torque_at_rest
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.hydraulics import clutch

BALANCE = "flow balance of pump and leakage"
FRICTION = "Jindal, Machine Design, ch. 22 (plates); Euler and Eytelwein (band); torque balance of the gear set"


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
        source=BALANCE, kind="gauge",
        advice="stop the largest leak first (an outlet valve at the internal pump, unneeded feeds plugged), then "
        "fit a larger pump or better volts; a pump's rating is not its pressure in this gearbox",
    )  # fmt: skip


def launch_pressure(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Pressure [Pa] that the torque asked at launch needs."""
    return pressure_needed(b, gear, input_torque=launch_torque(b, gear))


@check("pressure switch", topic="hydraulics")
def pressure_switch(b: View) -> Check:
    """Pressure that launch in low and in reverse needs, against the one below which drive is forbidden."""
    switch = b.hydraulics.switch
    low, reverse = launch_pressure(b, "low"), launch_pressure(b, "reverse")
    needed = np.maximum(low, reverse)
    guards = switch.pressure_switch == "inhibits drive"
    below = np.multiply(switch.inhibit_pressure, 1.0 if guards else 0.0)
    return Check(
        "pressure switch", "hydraulics", needed, below, "Pa",
        working=Working("what launch needs is reached before drive is allowed",
                        {"in low": (low, "Pa"), "in reverse": (reverse, "Pa"),
                         "the switch": (switch.pressure_switch, "")}, (below, "Pa")),
        source="force balance of band and clutch", kind="gauge", target=0.0,
        advice="set the pressure switch above what launch needs and below what the pump holds at rest, and let it "
        "forbid drive: a lamp is seen too late",
    )  # fmt: skip


def _launch(b: View, gear: Literal["low", "reverse"]) -> Check:
    allowed, asked = launch_allowed(b, gear), launch_torque(b, gear)
    current = launch_current_allowed(b, gear)
    held = getattr(held_multiples(b), gear)
    kind = getattr(b.hydraulics, gear).holds_by
    equation = "T = n μ (p A - Fs) Rm / k" if kind == "plates" else "T = i (p A - Fs) r (exp(μ θ) - 1) / k"
    return Check(
        f"launch in {gear}", "hydraulics", asked, allowed, "N m",
        working=Working(equation, {"p": (pressure_at_rest(b, gear), "Pa"), "k": (held, ""),
                                   "motor current asked": (getattr(b.hydraulics.launch, f"launch_current_{gear}"), "A"),
                                   "motor current that it allows": (current, "A")}, (allowed, "N m")),
        source=FRICTION,
        advice="set the controller's limit below the current that the pressure allows until the internal pump alone "
        "carries full torque, let a pressure switch forbid drive, or fit a larger pump or more plates",
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

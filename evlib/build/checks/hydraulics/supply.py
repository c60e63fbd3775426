"""The 12 V side of the electric pump: duty, fuse, wire, relay."""

from __future__ import annotations

import numpy as np

from evlib.build.launch import (
    rest_hot,
    wire_drop,
)
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.hydraulics import pump, supply

CONTINUOUS = 1.25  # a fuse carries its rating less a quarter without ageing: common practice, no source


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

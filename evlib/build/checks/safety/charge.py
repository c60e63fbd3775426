"""Checks of precharge and discharge."""

from __future__ import annotations

from typing import Any

from evlib.build.protection import full_volts
from evlib.build.registry import check
from evlib.build.view import View, derived
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.safety import precharge, shock

MAKER = "the maker's data sheet, as the build states it"


@derived
def precharge_circuit(b: View) -> dict[str, Any]:
    """What the capacitor fills through, and the discharge resistor that draws across it all the while."""
    part = b.protection.precharge
    return {
        "precharge_resistance": part.precharge_resistance, "link_capacitance": part.link_capacitance,
        "load_resistance": b.protection.discharge.discharge_resistance,
    }  # fmt: skip


@derived
def precharge_time(b: View) -> Number:
    """Time until little enough of the pack voltage is missing [s]."""
    return precharge.time_to_difference(b.protection.precharge.precharge_closing_difference, **precharge_circuit(b))


@derived
def precharge_heat(b: View) -> Number:
    """Heat in the resistor in one whole precharge, until the main contactor closes [J]."""
    return precharge.heat_until(b.protection.precharge.precharge_wait, pack_voltage=full_volts(b),
                                **precharge_circuit(b))  # fmt: skip


@check("precharge time", topic="safety")
def precharge_time_check(b: View) -> Check:
    """Time that precharge needs, against the time it is given."""
    part = b.protection.precharge
    return Check(
        "precharge time", "safety", precharge_time(b), part.precharge_wait, "s",
        working=Working("t = k R C ln(k / (k - 1 + v)), k = R_d / (R_d + R)",
                        {"R": (part.precharge_resistance, "ohm"), "C": (part.link_capacitance, "F"),
                         "R_d": (b.protection.discharge.discharge_resistance, "ohm"),
                         "v": (part.precharge_closing_difference, "")},
                        (precharge_time(b), "s"), endless="never"),
        source="RC charging against the discharge resistor; " + MAKER,
        advice="wait longer, or a smaller resistor that stands the pulse; better, close on a measured voltage",
        target=0.2,
    )  # fmt: skip


@check("precharge energy", topic="safety")
def precharge_energy(b: View) -> Check:
    """Heat of one precharge in the resistor, against the pulse that it stands."""
    part = b.protection.precharge
    heat = precharge_heat(b)
    return Check(
        "precharge energy", "safety", heat, part.precharge_pulse_energy, "J",
        working=Working("W = C V^2 / 2, and a little more for what the discharge resistor draws",
                        {"C": (part.link_capacitance, "F"), "V": (full_volts(b), "V"),
                         "R_d": (b.protection.discharge.discharge_resistance, "ohm")}, (heat, "J")),
        source="energy balance; " + MAKER,
        advice="a resistor made for pulses; its rated watts alone say nothing about one pulse",
        target=0.5,
    )  # fmt: skip


@check("precharge into a short", topic="safety")
def precharge_short(b: View) -> Check:
    """Heat in the resistor with its far side shorted, until precharge is broken off, against the pulse it stands."""
    part, volts = b.protection.precharge, full_volts(b)
    heat = precharge.stuck_energy(part.precharge_give_up, pack_voltage=volts,
                                  precharge_resistance=part.precharge_resistance)  # fmt: skip
    return Check(
        "precharge into a short", "safety", heat, part.precharge_pulse_energy, "J",
        working=Working("W = V^2 t_give / R", {"V": (volts, "V"), "t_give": (part.precharge_give_up, "s"),
                        "R": (part.precharge_resistance, "ohm")}, (heat, "J")),
        source="Joule's law; " + MAKER + "; the pack's fuse does not notice so small a current",
        advice="let the controller look at the voltage early, break precharge off while it does not rise, and not try "
        "again until the cause is found",
        target=0.2,
    )  # fmt: skip


@derived
def discharge_time(b: View) -> Number:
    """Time from full pack voltage to 60 V after switching off [s]."""
    return shock.discharge_time(
        full_volts(b),
        end_voltage=shock.DC_LIMIT,
        discharge_resistance=b.protection.discharge.discharge_resistance,
        link_capacitance=b.protection.precharge.link_capacitance,
    )


@check("discharge time", topic="safety")
def discharge_time_check(b: View) -> Check:
    """Time until the controller's capacitor is below 60 V, against what is allowed."""
    part = b.protection.discharge
    return Check(
        "discharge time", "safety", discharge_time(b), part.discharge_time_allowed, "s",
        working=Working("t = R C ln(V / 60 V)", {"R": (part.discharge_resistance, "ohm"),
                        "C": (b.protection.precharge.link_capacitance, "F"), "V": (full_volts(b), "V")},
                        (discharge_time(b), "s")),
        source="RC discharge to the limit of UN R100",
        advice="a smaller resistor that stands its watts; prove dead with a meter all the same, a resistor can break",
    )  # fmt: skip


@check("discharge resistor", topic="safety")
def discharge_power(b: View) -> Check:
    """Heat of the discharge resistor, always connected at full pack voltage, against its rating."""
    part = b.protection.discharge
    power = shock.resistor_power(full_volts(b), discharge_resistance=part.discharge_resistance)
    return Check(
        "discharge resistor", "safety", power, part.discharge_power_rating, "W",
        working=Working("P = V^2 / R", {"V": (full_volts(b), "V"), "R": (part.discharge_resistance, "ohm")},
                        (power, "W")),
        source="Ohm's law; " + MAKER,
        advice="a resistor of more watts, or a larger resistance and a longer wait",
        target=0.5,
    )  # fmt: skip

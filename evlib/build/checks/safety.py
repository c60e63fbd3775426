"""Checks of the safety topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.line import open_volts
from evlib.build.protection import (
    cable_after,
    cable_steady,
    freed_line,
    full_volts,
    motor_peak,
    pack_peak,
    short_circuits,
)
from evlib.build.registry import check, stated
from evlib.build.view import View, derived
from evlib.ground import fuse
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.safety import cables, faults, insulation, precharge, shock

R100 = "UN R100 5.1.3: 100 ohm/V for DC alone, 500 ohm/V with AC; local rule first"
MAKER = "the maker's data sheet, as the build states it"
HEAT = "heat balance of one cable in still air; a printed table or the maker's value comes first"


# --- insulation --------------------------------------------------------------------------------------------------
@derived
def asked(b: View) -> Number:
    """Insulation that is asked [ohm]."""
    return insulation.required(full_volts(b), ohm_per_volt=b.protection.insulation.ohm_per_volt)


def _insulation(b: View, found: Any, equation: str) -> Check:
    part = b.protection.insulation
    return Check(
        "", "safety", asked(b), found, "ohm",
        working=Working(equation + "; asked: r V", {"R_p": (part.leak_positive, "ohm"),
                        "R_n": (part.leak_negative, "ohm"), "r": (part.ohm_per_volt, "ohm/V"),
                        "V": (full_volts(b), "V")}, (found, "ohm")),
        source=R100,
        advice="find the leak with the pack split in halves: brush dust, damp, a pinched cable; dry, clean, read again",
        target=1.0,  # a reading just above what is asked is within the meter's error and the next damp day
    )  # fmt: skip


@check("insulation, smaller leak", topic="safety")
def insulation_smaller(b: View) -> Check:
    """The smaller of the two leaks to the chassis, which the voltmeter method finds, against what is asked."""
    part = b.protection.insulation
    return _insulation(b, np.minimum(part.leak_positive, part.leak_negative), "R = smaller of R_p, R_n")


@check("insulation, both leaks", topic="safety")
def insulation_both(b: View) -> Check:
    """Both leaks side by side, which a monitor sees, against what is asked."""
    part = b.protection.insulation
    both = insulation.parallel_value(part.leak_positive, leak_negative=part.leak_negative)
    return _insulation(b, both, "R = R_p R_n / (R_p + R_n)")


# --- precharge and discharge --------------------------------------------------------------------------------------
@derived
def precharge_time(b: View) -> Number:
    """Time until little enough of the pack voltage is missing [s]."""
    part = b.protection.precharge
    return precharge.time_to_difference(
        part.precharge_closing_difference,
        precharge_resistance=part.precharge_resistance,
        link_capacitance=part.link_capacitance,
    )


@check("precharge time", topic="safety")
def precharge_time_check(b: View) -> Check:
    """Time that precharge needs, against the time it is given."""
    part = b.protection.precharge
    return Check(
        "precharge time", "safety", precharge_time(b), part.precharge_wait, "s",
        working=Working("t = R C ln(1 / v)", {"R": (part.precharge_resistance, "ohm"),
                        "C": (part.link_capacitance, "F"), "v": (part.precharge_closing_difference, "")},
                        (precharge_time(b), "s")),
        source="RC charging; " + MAKER,
        advice="wait longer, or a smaller resistor that stands the pulse; better, close on a measured voltage",
        target=0.2,
    )  # fmt: skip


@check("precharge energy", topic="safety")
def precharge_energy(b: View) -> Check:
    """Heat of one precharge in the resistor, against the pulse that it stands."""
    part = b.protection.precharge
    heat = precharge.pulse_energy(full_volts(b), link_capacitance=part.link_capacitance)
    return Check(
        "precharge energy", "safety", heat, part.precharge_pulse_energy, "J",
        working=Working("W = C V^2 / 2", {"C": (part.link_capacitance, "F"), "V": (full_volts(b), "V")}, (heat, "J")),
        source="energy balance; " + MAKER,
        advice="a resistor made for pulses; its rated watts alone say nothing about one pulse",
        target=0.5,
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


# --- fuse, contactor and cable ------------------------------------------------------------------------------------
def _fuse(b: View) -> dict[str, Any]:
    part = b.protection.fuse
    return {"curve": part.fuse_curve, "arcing_time": part.fuse_arcing_time}


@check("fuse voltage", topic="safety")
def fuse_voltage(b: View) -> Check:
    """Voltage of the full pack, against the fuse's DC rating."""
    rating = b.protection.fuse.fuse_voltage_rating
    return Check(
        "fuse voltage", "safety", full_volts(b), rating, "V",
        working=Working("V = cells x volts of a full cell", {"cells": (b.pack.cells_in_series, "")},
                        (full_volts(b), "V")),
        source=MAKER, advice="a fuse with a DC rating above the full pack; an AC rating does not count", target=0.05,
    )  # fmt: skip


@check("fuse breaking capacity", topic="safety")
def fuse_capacity(b: View) -> Check:
    """Largest short-circuit current, hot and full, against what the fuse can break."""
    short = short_circuits(b)
    return Check(
        "fuse breaking capacity", "safety", short.largest, b.protection.fuse.fuse_breaking_capacity, "A",
        working=Working("I = V / R_b, hot and full, no links", {"V": (full_volts(b), "V"),
                        "R_b": (short.least_resistance, "ohm")}, (short.largest, "A")),
        source="Ohm's law; " + MAKER, advice="a fuse of higher breaking capacity at this DC voltage", target=0.2,
    )  # fmt: skip


@check("fuse time constant", topic="safety")
def fuse_time_constant(b: View) -> Check:
    """L/R of the fault's loop, against the L/R at which the fuse's DC rating holds."""
    short, inductance = short_circuits(b), b.protection.short_circuit.loop_inductance
    tau = faults.time_constant(inductance, pack_resistance=short.least_resistance, circuit_resistance=0.0)
    return Check(
        "fuse time constant", "safety", tau, b.protection.fuse.fuse_time_constant, "s",
        working=Working("tau = L / R", {"L": (inductance, "H"), "R": (short.least_resistance, "ohm")}, (tau, "s")),
        source=MAKER, advice="lay both cables together, or a fuse rated at a longer time constant", target=0.5,
    )  # fmt: skip


@check("fuse minimum breaking current", topic="safety")
def fuse_minimum(b: View) -> Check:
    """Smallest current that the fuse can break, against the smallest short-circuit current, cold and low."""
    short = short_circuits(b)
    low = open_volts(b, state_of_charge=b.protection.short_circuit.lowest_charge)
    return Check(
        "fuse minimum breaking current", "safety", b.protection.fuse.fuse_minimum_breaking, short.smallest, "A",
        working=Working("I = V / R, cold and low, with links and cable", {"V": (low, "V"),
                        "R": (short.most_resistance, "ohm")}, (short.smallest, "A")),
        source="Ohm's law; " + MAKER,
        advice="a full-range fuse, a smaller fuse, or thicker cable: below this current it melts and goes on arcing",
        target=0.3,
    )  # fmt: skip


@check("fuse at steady current", topic="safety")
def fuse_steady(b: View) -> Check:
    """Steady pack current, against the fuse's rated current."""
    steady, rating = b.protection.pack_cable.steady_current, b.protection.fuse.fuse_rating
    return Check(
        "fuse at steady current", "safety", steady, rating, "A",
        working=Working("steady current of the pack cable, against I_n", {"I_n": (rating, "A")}, (steady, "A")),
        source="the fuse's rating, as the build states it; a fifth kept free is common practice, no source",
        advice="a larger fuse that still protects the cable; a fuse in warm air carries less than its rating",
        target=0.25,
    )  # fmt: skip


@check("fuse at peak current", topic="safety")
def fuse_peak(b: View) -> Check:
    """Largest pack current, against the current that melts the fuse in the time it may last."""
    time = b.protection.pack_cable.peak_time
    melts = fuse.melting_current(time, curve=b.protection.fuse.fuse_curve)
    return Check(
        "fuse at peak current", "safety", pack_peak(b), melts, "A",
        working=Working("I that melts it in t_p, from its curve", {"t_p": (time, "s")}, (melts, "A")),
        source="the fuse's curve, as the build states it; makers allow 8 to 10 % on the current",
        advice="a larger fuse that still protects the cable, or a lower pack-current setting",
        target=0.3,
    )  # fmt: skip


@check("fuse against pack cable, hot", topic="safety")
def fuse_cable_hot(b: View) -> Check:
    """I²t that the fuse lets through at the largest current, against what the cable stands."""
    cable, short = b.protection.pack_cable, short_circuits(b)
    through = fuse.let_through(
        short.largest, clearing_integral=b.protection.fuse.fuse_clearing_integral, **_fuse(b)
    )  # fmt: skip
    stands = faults.cable_withstand(cable.conductor_area, start=cable.insulation_limit, end=cable.short_circuit_limit)
    return Check(
        "fuse against pack cable, hot", "safety", through, stands, "A2 s",
        working=Working("I^2 t <= k^2 A^2, from the insulation's limit", {"I": (short.largest, "A"),
                        "A": (np.multiply(cable.conductor_area, 1e6), "mm2")}, (through, "A2 s")),
        source="IEC 60364-5-54, no heat leaving, up to 5 s",
        advice="a smaller or faster fuse, or a thicker cable",
        target=0.5,
    )  # fmt: skip


@check("fuse against pack cable, cold", topic="safety")
def fuse_cable_cold(b: View) -> Check:
    """Rise of the cable until the fuse clears the smallest short-circuit current, against what the cable stands."""
    cable, short = b.protection.pack_cable, short_circuits(b)
    clears = fuse.clearing_time(short.smallest, **_fuse(b))
    end = cable_after(cable, current=short.smallest, time=np.minimum(clears, 1e6), start=cable.insulation_limit)
    allowed = np.subtract(cable.short_circuit_limit, cable.insulation_limit)
    rise = np.maximum(np.subtract(end, cable.insulation_limit), 0.0)
    return Check(
        "fuse against pack cable, cold", "safety", rise, allowed, "K", kind="difference",
        working=Working("heat balance over the clearing time", {"I": (short.smallest, "A"),
                        "t_c": (np.minimum(clears, 1e6), "s")}, (rise, "K difference")),
        source="heat balance with heat leaving (the adiabatic rule ends at about 5 s)",
        advice="a full-range or smaller fuse: a cold, low pack gives too little current to melt this one in time",
        target=0.5,
    )  # fmt: skip


@derived
def opening_band(b: View) -> faults.OpeningBand:
    """The band of currents that the contactor would meet before the fuse, and cannot break."""
    part = b.protection.contactor
    return faults.opening_band(
        part.contactor_breaking_current,
        release_time=part.contactor_release_time,
        largest_current=short_circuits(b).largest,
        **_fuse(b),
    )


@check("contactor and fuse, opening band", topic="safety")
def opening_band_check(b: View) -> Check:
    """Current above which the fuse is quicker than the contactor, against what the contactor can break."""
    band, part = opening_band(b), b.protection.contactor
    return Check(
        "contactor and fuse, opening band", "safety", band.upper, part.contactor_breaking_current, "A",
        working=Working("I at which t_fuse = t_rel, at most the largest short-circuit current",
                        {"t_rel": (part.contactor_release_time, "s"),
                         "t_arc": (b.protection.fuse.fuse_arcing_time, "s")}, (band.upper, "A")),
        source="the fuse's curve and the contactor's breaking curve, as the build states them",
        advice="a contactor that breaks more, a faster fuse, or a release held back until the fuse has had its time",
    )  # fmt: skip


@check("contactor current", topic="safety")
def contactor_current(b: View) -> Check:
    """Steady pack current, against what the contactor carries always."""
    steady, rating = b.protection.pack_cable.steady_current, b.protection.contactor.contactor_continuous_current
    return Check(
        "contactor current", "safety", steady, rating, "A",
        working=Working("steady current of the pack cable", {}, (steady, "A")),
        source=MAKER, advice="a larger contactor, or thicker cables on its studs", target=0.2,
    )  # fmt: skip


# --- cables ---------------------------------------------------------------------------------------------------------
def _steady(cable: View) -> Check:
    settled, ambient = cable_steady(cable), cable.cable_ambient
    rise = np.minimum(np.subtract(settled, ambient), 1e4)
    return Check(
        "", "safety", rise, np.subtract(cable.insulation_limit, ambient), "K", kind="difference",
        working=Working("I^2 R'(T) = h pi D (T - T_a)", {"I": (cable.steady_current, "A"), "T_a": (ambient, "K"),
                        "A": (np.multiply(cable.conductor_area, 1e6), "mm2")}, (rise, "K difference")),
        source=HEAT,
        advice="thicker cable, a cooler run, or insulation for more heat; against a printed ampacity table this reads "
        "up to a tenth too cool, so keep that in hand",
        target=0.25,
    )  # fmt: skip


@check("pack cable temperature", topic="safety")
def pack_cable_temperature(b: View) -> Check:
    """Rise of the pack cable at its steady current, against what its insulation stands."""
    return _steady(b.protection.pack_cable)


@check("motor cable temperature", topic="safety")
def motor_cable_temperature(b: View) -> Check:
    """Rise of the motor cable at its steady current, against what its insulation stands."""
    return _steady(b.protection.motor_cable)


@check("motor loop at launch", topic="safety")
def motor_loop(b: View) -> Check:
    """Rise of the motor cable at full motor current for its longest time, against what its insulation stands."""
    cable, peak = b.protection.motor_cable, motor_peak(b)
    start = np.minimum(cable_steady(cable), 1300.0)
    rise = np.subtract(cable_after(cable, current=peak, time=cable.peak_time, start=start), cable.cable_ambient)
    return Check(
        "motor loop at launch", "safety", rise, np.subtract(cable.insulation_limit, cable.cable_ambient), "K",
        kind="difference",
        working=Working("c A dT/dt = I^2 R'(T) - h pi D (T - T_a), from the steady temperature",
                        {"I": (peak, "A"), "t": (cable.peak_time, "s"), "T_start": (start, "K")},
                        (rise, "K difference")),
        source="heat balance; the pack's fuse never sees motor current, so nothing else protects this cable",
        advice="thicker motor cables, or a shorter time at full motor current",
        target=0.2,
    )  # fmt: skip


@check("pack cable drop", topic="safety")
def pack_cable_drop(b: View) -> Check:
    """Voltage lost in the pack cable both ways at the largest pack current, against what is allowed."""
    cable = b.protection.pack_cable
    drop = cables.loop_drop(
        pack_peak(b), area=cable.conductor_area, length=cable.cable_length, stranding_factor=cable.stranding_factor,
        temperature=cable.insulation_limit, joint_resistance=cable.joint_resistance, joint_count=cable.joint_count,
    )  # fmt: skip
    allowed = np.multiply(cable.allowed_drop, open_volts(b))
    return Check(
        "pack cable drop", "safety", drop, allowed, "V",
        working=Working("V = I (2 R' l + n R_j)", {"I": (pack_peak(b), "A"), "l": (cable.cable_length, "m"),
                        "n": (cable.joint_count, ""), "R_j": (cable.joint_resistance, "ohm")}, (drop, "V")),
        source="Ohm's law; IEC 60028 copper; the allowance is common practice, no source",
        advice="clean and tighten joints first, then a thicker or shorter cable",
    )  # fmt: skip


# --- over-speed -------------------------------------------------------------------------------------------------------
@check("over-speed delay", topic="safety")
def overspeed_delay(b: View) -> Check:
    """Time that detection takes, against the longest that leaves the motors below their limit."""
    trip, freed = b.protection.overspeed_trip, freed_line(b)
    return Check(
        "over-speed delay", "safety", trip.detection_delay, freed.delay, "s",
        working=Working("t = J (w_lim - w_trip) / T - t_rel", {"J": (freed.inertia, "kg m2"),
                        "w_lim": (b.machine.speed_limit, "rad/s"), "w_trip": (trip.trip_speed, "rad/s"),
                        "T": (freed.torque, "N m"), "t_rel": (b.protection.contactor.contactor_release_time, "s")},
                        (freed.delay, "s")),
        source="Newton's law for rotation, with the torque that the motors still have at the trip speed",
        advice="a lower trip speed, more pulses per turn, a faster coil suppressor on the contactor",
        target=0.5,
    )  # fmt: skip


@stated("largest short-circuit current, hot and full", group="Protections", unit="A")
def stated_largest(b: View) -> Number:
    """Prospective current for the fuse's breaking capacity."""
    return short_circuits(b).largest


@stated("smallest short-circuit current, cold and low", group="Protections", unit="A")
def stated_smallest(b: View) -> Number:
    """Prospective current that must still melt the fuse."""
    return short_circuits(b).smallest


@stated("precharge needs", group="Protections", unit="s")
def stated_precharge(b: View) -> Number:
    """Time until little enough of the pack voltage is missing."""
    return precharge_time(b)


@stated("from one precharge to the next at least", group="Protections", unit="s")
def stated_repeat(b: View) -> Number:
    """How far apart precharges must lie so that the resistor is not hotter than at its rated power."""
    part = b.protection.precharge
    return precharge.shortest_repeat(
        full_volts(b), link_capacitance=part.link_capacitance, precharge_power_rating=part.precharge_power_rating
    )


@stated("below 60 V after switching off", group="Protections", unit="s")
def stated_discharge(b: View) -> Number:
    """Time from full pack voltage to 60 V."""
    return discharge_time(b)


@stated("insulation asked", group="Protections", unit="ohm")
def stated_insulation(b: View) -> Number:
    """Ohm that each leak must have."""
    return asked(b)


@stated("over-speed must be detected within", group="Protections", unit="s")
def stated_overspeed(b: View) -> Number:
    """Longest detection delay."""
    return freed_line(b).delay

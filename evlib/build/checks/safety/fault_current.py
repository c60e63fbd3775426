"""Checks of fuse, contactor and cable in a short circuit, and at the currents of driving."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.line import open_volts
from evlib.build.protection import cable_after, full_volts, pack_peak, short_circuits
from evlib.build.registry import check
from evlib.build.view import View, derived
from evlib.ground import fuse
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.safety import faults

MAKER = "the maker's data sheet, as the build states it"


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


def _melting_current(time: Any, curve: Any) -> Number:
    """Current that melts the fuse in a time.

    One build whose time is longer than the curve's longest gets no answer: its check is not known, and says why. In a
    column such an element is NaN, which fails by itself and leaves the others their answers: a design that the curve
    does not cover must not be chosen, and must not hide those that it does cover.
    """
    asked = np.asarray(time, float)
    if asked.ndim == 0:
        return fuse.melting_current(asked, curve=curve)
    within = fuse.melting_current(np.minimum(asked, curve.y[0]), curve=curve)
    return np.where(asked <= curve.y[0], within, np.nan)


@check("fuse at peak current", topic="safety")
def fuse_peak(b: View) -> Check:
    """Largest pack current, against the current that melts the fuse in the time it may last."""
    time = b.protection.pack_cable.peak_time
    melts = _melting_current(time, b.protection.fuse.fuse_curve)
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
    """The band of currents that the contactor would meet before the fuse, and cannot break.

    In a column, elements whose contactor is quicker than the fuse's arc, or slower than its curve goes, are NaN and so
    fail; one such build alone is not known, and says why.
    """
    part, given = b.protection.contactor, _fuse(b)
    release = np.asarray(part.contactor_release_time, float)
    arcing, longest = np.asarray(given["arcing_time"], float), given["curve"].y[0]
    covered = (release > arcing) & (release - arcing <= longest)
    if covered.ndim:
        release = np.where(covered, release, arcing + 1e-3)  # any time that is covered: what it gives is thrown away
    band = faults.opening_band(part.contactor_breaking_current, release_time=release,
                               largest_current=short_circuits(b).largest, **given)  # fmt: skip
    if covered.ndim == 0:
        return band
    return faults.OpeningBand(band.lower, np.where(covered, band.upper, np.nan), np.where(covered, band.width, np.nan))


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

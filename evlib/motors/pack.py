"""The pack: voltage at rest, resistance, how far it sags, and the largest power that a sagging pack gives."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.ground.tables import Curve
from evlib.motors.quantities import (
    CellCapacity,
    CellCutOff,
    CellResistance,
    CellsInParallel,
    CellsInSeries,
    CutOffVolts,
    LinkResistance,
    OpenVolts,
    PackCurrent,
    PackCurrentLimit,
    PackResistance,
    PackTemperature,
    Power,
    ResistanceTemperatureConstant,
    StateOfCharge,
)

REFERENCE_TEMPERATURE = 298.15  # K, 25 C: where cell resistance is stated
LOW_CHARGE = 0.2  # below this state of charge cell resistance climbs; common practice, no source
LOW_CHARGE_RISE = 1.0  # ... and has doubled when empty; a guess, say so where it matters


@result
class SupplyLimit:
    """How much current the pack may give, and what says so (``pack amps``, ``cut-off`` or ``largest power``)."""

    current: Number
    volts: Number
    power: Number
    by_pack_amps: Number
    by_cut_off: Number
    by_largest_power: Number


@result
class LargestPower:
    """The most power a sagging pack gives, and where."""

    current: Number
    volts: Number
    power: Number


@calculation
def open_volts(
    state_of_charge: StateOfCharge, *, cell_open_voltage: Curve, cells_in_series: CellsInSeries
) -> Number:  # fmt: skip
    """Pack voltage at rest.

    U_0 = N_s v(s)

    state_of_charge: s [1]; cell_open_voltage: curve of a rested cell's voltage against state of charge [V];
    cells_in_series: N_s. Hysteresis between charging and discharging is ignored. OutOfRange outside the curve.

    >>> cell = Curve(x=np.array([0.0, 0.5, 1.0]), y=np.array([2.9, 3.3, 3.4]))
    >>> round(open_volts(0.5, cell_open_voltage=cell, cells_in_series=96), 6)
    316.8

    Source: series connection.
    """
    return np.asarray(cell_open_voltage.at(state_of_charge) * cells_in_series)


@calculation
def pack_resistance(
    cell_resistance: CellResistance,
    *,
    cells_in_series: CellsInSeries,
    cells_in_parallel: CellsInParallel,
    link_resistance: LinkResistance,
    pack_temperature: PackTemperature,
    resistance_temperature_constant: ResistanceTemperatureConstant,
    state_of_charge: StateOfCharge,
) -> Number:
    """Resistance of the whole pack with its links, at a temperature and a state of charge.

    R_b = r (N_s / N_p) exp(B (1/t - 1/298.15)) f(s) + R_l,  f = 1 above 20 % charge, rising to 2 when empty

    cell_resistance: r at 25 °C [ohm]; cells_in_series: N_s; cells_in_parallel: N_p; link_resistance: R_l [ohm];
    pack_temperature: t [K]; resistance_temperature_constant: B [K]; state_of_charge: s [1]. One resistance for the
    ten-second step; slower diffusion is ignored. The rise below 20 % charge is a guess to be replaced by a reading.

    >>> round(pack_resistance(0.0005, cells_in_series=96, cells_in_parallel=1, link_resistance=0.012,
    ...                       pack_temperature=298.15, resistance_temperature_constant=2500.0,
    ...                       state_of_charge=0.8), 6)
    0.06

    Source: Arrhenius form, usual for cell resistance (from memory).
    """
    cold = np.exp(
        np.asarray(resistance_temperature_constant) * (1.0 / np.asarray(pack_temperature) - 1.0 / REFERENCE_TEMPERATURE)
    )
    empty = np.maximum(LOW_CHARGE - np.asarray(state_of_charge), 0.0) / LOW_CHARGE
    cells = np.asarray(cells_in_series) / cells_in_parallel
    return cell_resistance * cells * cold * (1.0 + LOW_CHARGE_RISE * np.square(empty)) + link_resistance


@calculation
def sagged_volts(pack_current: PackCurrent, *, open_volts: OpenVolts, pack_resistance: PackResistance) -> Number:
    """Pack voltage under load.

    U = U_0 - R_b I_b

    pack_current: I_b [A]; open_volts: U_0 [V]; pack_resistance: R_b [ohm]. Negative results say that the pack
    cannot give this current at all.

    >>> round(sagged_volts(720.0, open_volts=144.0, pack_resistance=0.1), 6)
    72.0

    Source: Ohm's law.
    """
    return np.asarray(open_volts) - np.asarray(pack_resistance) * pack_current


@calculation
def power_at(pack_current: PackCurrent, *, open_volts: OpenVolts, pack_resistance: PackResistance) -> Number:
    """Power that leaves the pack at a current.

    P = I_b (U_0 - R_b I_b)

    pack_current: I_b [A]; open_volts: U_0 [V]; pack_resistance: R_b [ohm].

    >>> round(power_at(720.0, open_volts=144.0, pack_resistance=0.1), 6)
    51840.0

    Source: power as volts times amps.
    """
    return np.asarray(pack_current) * (np.asarray(open_volts) - np.asarray(pack_resistance) * pack_current)


@calculation
def largest_power(open_volts: OpenVolts, *, pack_resistance: PackResistance) -> LargestPower:
    """The largest power that a sagging pack can give, and the current at which it gives it.

    P = U_0^2 / (4 R_b)  at  I = U_0 / (2 R_b),  U = U_0 / 2

    open_volts: U_0 [V]; pack_resistance: R_b, more than 0 [ohm]. Half of what the cells make is then lost inside
    them: cut-off and current limits come long before this in a healthy pack.

    >>> best = largest_power(144.0, pack_resistance=0.1)
    >>> round(best.power, 6), round(best.current, 6), round(best.volts, 6)
    (51840.0, 720.0, 72.0)

    Source: largest-power theorem; any text on circuits.
    """
    resistance = np.asarray(pack_resistance, float)
    if (resistance <= 0).any():
        raise ValueError("pack_resistance: 0 ohm was given; a pack without resistance has no largest power")
    current = open_volts / (2.0 * resistance)
    return LargestPower(current, np.asarray(open_volts) / 2.0, np.square(open_volts) / (4.0 * resistance))


@calculation
def supply_limit(
    open_volts: OpenVolts,
    *,
    pack_resistance: PackResistance,
    pack_current_limit: PackCurrentLimit,
    cut_off_volts: CutOffVolts,
) -> SupplyLimit:
    """The current at which the pack's first limit cuts in: its own amps, the cut-off voltage, or its largest power.

    I = smallest of I_p, (U_0 - U_c) / R_b, U_0 / (2 R_b)

    open_volts: U_0 [V]; pack_resistance: R_b [ohm]; pack_current_limit: I_p [A]; cut_off_volts: U_c [V]. Where the
    pack at rest is already below cut-off, nothing may be drawn: 0 A.

    >>> round(supply_limit(310.0, pack_resistance=0.06, pack_current_limit=450.0, cut_off_volts=240.0).current, 6)
    450.0

    Source: Ohm's law.
    """
    rest, resistance = np.asarray(open_volts, float), np.asarray(pack_resistance, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        spare = np.maximum(rest - cut_off_volts, 0.0)
        cut = np.where(resistance > 0, spare / resistance, np.where(spare > 0, np.inf, 0.0))
        half = np.where(resistance > 0, rest / (2.0 * resistance), np.inf)
    limit = np.asarray(pack_current_limit, float) + 0.0 * cut
    current = np.minimum(np.minimum(limit, cut), half)
    volts = rest - resistance * current
    return SupplyLimit(current, volts, current * volts, limit, cut, half)


@calculation
def current_for_power(power: Power, *, open_volts: OpenVolts, pack_resistance: PackResistance) -> Number:
    """Pack current for a power, the smaller of the two that give it.

    I_b = 2 P / (U_0 + sqrt(U_0^2 - 4 R_b P))

    power: P [W]; open_volts: U_0 [V]; pack_resistance: R_b [ohm]. ValueError above the largest power.

    >>> round(current_for_power(18000.0, open_volts=144.0, pack_resistance=0.0), 6)
    125.0

    Source: P = I (U_0 - R I) turned round.
    """
    inside = np.square(open_volts) - 4.0 * np.asarray(pack_resistance) * power
    if (inside < -1e-9 * np.square(open_volts)).any():
        asked = float(np.broadcast_to(power, inside.shape)[inside < 0].flat[0])
        raise ValueError(f"power: {asked:g} W was given; the sagging pack cannot give that at any current")
    return np.asarray(2.0 * np.asarray(power) / (open_volts + np.sqrt(np.maximum(inside, 0.0))))


@calculation
def cut_off_volts(cell_cut_off: CellCutOff, *, cells_in_series: CellsInSeries) -> Number:
    """Lowest pack voltage allowed under load: U_c = N_s v_c.

    cell_cut_off: v_c [V]; cells_in_series: N_s. The weakest cell gets there before the mean does: keep a margin.

    >>> cut_off_volts(2.5, cells_in_series=96)
    240.0

    Source: series connection.
    """
    return np.asarray(cell_cut_off) * cells_in_series


@calculation
def stored_energy(
    cell_capacity: CellCapacity,
    *,
    cell_open_voltage: Curve,
    cells_in_series: CellsInSeries,
    cells_in_parallel: CellsInParallel,
) -> Number:
    """Energy between full and empty at rest voltage, sag not taken off.

    W = Q N_s N_p * integral of v(s) ds

    cell_capacity: Q [C]; cell_open_voltage: curve over state of charge [V]; cells_in_series: N_s;
    cells_in_parallel: N_p.

    >>> flat = Curve(x=np.array([0.0, 1.0]), y=np.array([3.2, 3.2]))
    >>> round(stored_energy(576000.0, cell_open_voltage=flat, cells_in_series=96, cells_in_parallel=1) / 3.6e6, 3)
    49.152

    Source: energy as charge times voltage.
    """
    mean = np.trapezoid(cell_open_voltage.y, cell_open_voltage.x)
    return np.asarray(cell_capacity) * cells_in_series * cells_in_parallel * float(mean)

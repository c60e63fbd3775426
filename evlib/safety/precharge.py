"""Precharge: filling the controller's capacitor through a resistor, so that the main contactor closes on nothing."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

LoadResistance = Annotated[
    Number,
    Quantity("R_L", "ohm", "resistance of whatever else draws behind the precharge resistor", above=0, high=1e9,
             slider=(10, 1e6), scale="log", how="voltage over current of a heater or converter left on"),
]  # fmt: skip
NOTHING = np.inf  # ohm; nothing joined across the capacitor, not even a discharge resistor


@calculation
def end_part(precharge_resistance: q.PrechargeResistance, *, load_resistance: LoadResistance) -> Number:
    """Part of the pack voltage at which precharge stops when something draws current behind it.

    v = R_L / (R_L + R)

    precharge_resistance; load_resistance of all that is joined across the capacitor, the discharge resistor first of
    all [ohm]. Gives [1]. A heater left on keeps the voltage down for ever: the curve goes flat, and a controller that
    waits for a fixed *time* closes on the rest.

    >>> round(end_part(100.0, load_resistance=400.0), 2)
    0.8
    """
    return _end_part(precharge_resistance, load_resistance)


def _end_part(resistance: Number, load: Number) -> Number:
    return 1 / (1 + np.divide(resistance, load))  # 1 where nothing is joined: an endless resistance


@calculation
def voltage_after(time: q.Time, *, pack_voltage: q.PackVoltage, precharge_resistance: q.PrechargeResistance,
                  link_capacitance: q.LinkCapacitance, load_resistance: LoadResistance = NOTHING,
                  start_voltage: q.StartVoltage = 0.0) -> Number:  # fmt: skip
    """Voltage of the capacitor after a time on precharge.

    v = v_e - (v_e - V0) exp(-t / k R C), v_e = k V, k = R_L / (R_L + R)

    time [s], pack_voltage, start_voltage [V], precharge_resistance [ohm], link_capacitance [F]; load_resistance of
    what is joined across the capacitor [ohm]. Gives [V].

    >>> round(voltage_after(1.0, pack_voltage=100.0, precharge_resistance=1000.0, link_capacitance=1e-3), 1)
    63.2

    Source: Thevenin's theorem on the divider, then RC charging; any text on circuits.
    """
    part = _end_part(precharge_resistance, load_resistance)
    end = part * np.asarray(pack_voltage)
    return end - (end - start_voltage) * np.exp(-np.divide(time, part * precharge_resistance * link_capacitance))


@calculation
def time_to_difference(difference: q.ClosingDifference, *, precharge_resistance: q.PrechargeResistance,
                       link_capacitance: q.LinkCapacitance, load_resistance: LoadResistance = NOTHING,
                       ) -> Number:  # fmt: skip
    """Time until only a part of the pack voltage is missing.

    t = k R C ln(k / (k - 1 + v)), k = R_L / (R_L + R)

    difference: the missing part of the pack voltage [1], precharge_resistance [ohm], link_capacitance [F];
    load_resistance of what is joined across the capacitor [ohm]. Gives [s]; infinite where the divider of the two
    resistors stays lower than that.

    >>> round(time_to_difference(0.05, precharge_resistance=100.0, link_capacitance=3e-3), 3)
    0.899
    """
    part = np.asarray(_end_part(precharge_resistance, load_resistance))
    left = np.asarray(part - 1 + difference)
    with np.errstate(divide="ignore"):
        fold = np.where(left > 0, np.log(part / np.where(left > 0, left, 1.0)), np.inf)
    return part * precharge_resistance * link_capacitance * fold


@calculation
def heat_until(time: q.Time, *, pack_voltage: q.PackVoltage, precharge_resistance: q.PrechargeResistance,
               link_capacitance: q.LinkCapacitance, load_resistance: LoadResistance = NOTHING,
               start_voltage: q.StartVoltage = 0.0) -> Number:  # fmt: skip
    """Heat in the precharge resistor until a time: the capacitor's share, and what goes on into the load.

    W = (a^2 t + 2 a b T (1 - x) + b^2 T (1 - x^2) / 2) / R, a = V - v_e, b = v_e - V0, T = k R C, x = exp(-t / T)

    As in :func:`voltage_after`; the integral of (V - v)^2 / R in closed form. Gives [J].

    >>> round(heat_until(10.0, pack_voltage=350.0, precharge_resistance=100.0, link_capacitance=3e-3), 2)
    183.75
    """
    part = _end_part(precharge_resistance, load_resistance)
    end, constant = part * np.asarray(pack_voltage), part * precharge_resistance * link_capacitance
    left, rise, folds = pack_voltage - end, end - start_voltage, np.divide(time, constant)
    once, twice = -np.expm1(-folds), -np.expm1(-2 * folds) / 2
    heat: Number = (left**2 * time + constant * (2 * left * rise * once + rise**2 * twice)) / precharge_resistance
    return heat


@calculation
def pulse_energy(pack_voltage: q.PackVoltage, *, link_capacitance: q.LinkCapacitance) -> Number:
    """Heat in the resistor for one whole precharge: as much as ends up in the capacitor, whatever the resistor.

    W = C V^2 / 2

    pack_voltage [V], link_capacitance [F]. Gives [J].

    >>> round(pulse_energy(350.0, link_capacitance=3e-3), 2)
    183.75
    """
    return link_capacitance * np.square(pack_voltage) / 2


@calculation
def stuck_energy(time: q.Time, *, pack_voltage: q.PackVoltage, precharge_resistance: q.PrechargeResistance) -> Number:
    """Heat in the resistor when the far side is shorted and precharge stays on.

    W = V^2 t / R

    time [s], pack_voltage [V], precharge_resistance [ohm]. Gives [J]. This, and not the pulse, burns resistors.

    >>> stuck_energy(2.0, pack_voltage=350.0, precharge_resistance=100.0)
    2450.0
    """
    return np.square(pack_voltage) * time / precharge_resistance


@calculation
def first_current(pack_voltage: q.PackVoltage, *, precharge_resistance: q.PrechargeResistance) -> Number:
    """Current at the first moment of precharge.

    I = V / R

    pack_voltage [V], precharge_resistance [ohm]. Gives [A].

    >>> first_current(350.0, precharge_resistance=100.0)
    3.5
    """
    return pack_voltage / precharge_resistance


@calculation
def closing_current(difference: q.ClosingDifference, *, pack_voltage: q.PackVoltage, pack_resistance: q.PackResistance,
                    circuit_resistance: q.CircuitResistance) -> Number:  # fmt: skip
    """Current when the main contactor closes with a part of the pack voltage still missing.

    I = v V / (R_b + R_c)

    difference [1], pack_voltage [V], pack_resistance and circuit_resistance [ohm]. Gives [A]. Inductance is ignored,
    so it reads high. Without precharge v is 1: the short-circuit current, through contacts that are just touching.

    >>> round(closing_current(0.05, pack_voltage=350.0, pack_resistance=0.06, circuit_resistance=0.01))
    250
    """
    return difference * pack_voltage / (pack_resistance + circuit_resistance)


@calculation
def shortest_repeat(heat: q.StoredEnergy, *, precharge_power_rating: q.PrechargePowerRating) -> Number:
    """How far apart pulses must lie so that the resistor is not hotter than at its rated power, on average.

    t = W / P

    heat of one pulse [J], precharge_power_rating [W]. Gives [s].

    >>> shortest_repeat(160.0, precharge_power_rating=50.0)
    3.2
    """
    return np.divide(heat, precharge_power_rating)


@calculation
def measured_time_constant(time: q.Time, *, reading: q.EndVoltage, pack_voltage: q.PackVoltage) -> Number:
    """Time constant from one reading on the rising curve.

    R C = -t / ln(1 - v / V)

    time of the reading [s], reading [V], pack_voltage [V]. Gives [s]. Nothing else may draw; what a discharge
    resistor takes makes it read a little long.

    >>> round(measured_time_constant(0.3, reading=221.2, pack_voltage=350.0), 3)
    0.3
    """
    if np.any(np.asarray(reading) >= np.asarray(pack_voltage)):
        raise ValueError("reading: must be less than the pack voltage; take it while the voltage still climbs")
    return -time / np.log1p(-reading / pack_voltage)


def diagnose(part_now: float, *, part_later: float, expected: float) -> str:
    """What two readings say: at one time constant, and after five.

    ``part_now``: reading over pack voltage after one expected time constant; ``part_later``: after five of them;
    ``expected``: what a healthy circuit shows at the first, 0.632. In words, with what to look for.

    >>> diagnose(0.0, part_later=0.0, expected=0.632)
    'no voltage: precharge path open, fuse or resistor broken, or the far side shorted; do not close'
    """
    if part_now < 0.02 and part_later < 0.02:
        return "no voltage: precharge path open, fuse or resistor broken, or the far side shorted; do not close"
    if part_now > 0.97:
        return "full at once: main contactor welded, or the capacitor is gone; do not close, prove dead"
    slow = 1 - (1 - part_now) ** 5  # where a curve that is only slow would be by then
    if part_later < min(0.95, slow - 0.02):
        return "goes flat below the pack voltage: something else draws current; do not close"
    if part_now < expected - 0.15:
        return "too slow: more capacitance or more resistance than the build says; do not close by the clock"
    if part_now > expected + 0.15:
        return "too fast: less capacitance or less resistance than the build says"
    return "as expected"

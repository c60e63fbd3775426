"""Insulation to the chassis: what is asked, how a voltmeter finds it, and which of two values it finds.

A pack floats: neither pole is joined to the chassis. One leak does nothing until the second one, or a hand, closes
the circuit. The voltmeter method finds the *smaller* leak. Both leaks side by side are a smaller resistance still.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation, result
from evlib.safety import quantities as q

DC_ALONE, WITH_AC = 100.0, 500.0  # ohm/V; UN R100 5.1.3; 49 CFR 571.305 S5.4.3

Accuracy = Annotated[
    Number,
    Quantity("e", "", "meter error as a part of the reading, one standard deviation", low=0, high=0.2,
             slider=(0.001, 0.02), shown={"SI": "%", "shop": "%"}, how="the manual's limit divided by two"),
]  # fmt: skip


@result
class Readings:
    """What a voltmeter shows: to each side, and on the larger side again with the known resistor in [V]."""

    negative: Number
    positive: Number
    larger: Number
    smaller: Number
    second: Number
    larger_is_negative: Number


@calculation
def readings(pack_voltage: q.PackVoltage, *, leak_positive: q.LeakPositive, leak_negative: q.LeakNegative,
             test_resistance: q.TestResistance, meter_resistance: q.MeterResistance) -> Readings:  # fmt: skip
    """What the meter shows in the three steps of the voltmeter method.

    V_n = V R_n' / (R_n' + R_p), with R_n' = R_n and R_m side by side; V_p likewise; then R_o beside the larger

    pack_voltage [V]; leak_positive, leak_negative: to the chassis [ohm]; test_resistance, meter_resistance [ohm].
    The meter loads the circuit, so the two readings add up to less than the pack voltage. The capacitance between
    pack and chassis is taken as charged: wait until the reading stands still.

    >>> got = readings(350.0, leak_positive=50e3, leak_negative=200e3, test_resistance=35e3, meter_resistance=10e6)
    >>> round(got.larger, 2), round(got.smaller, 2), round(got.second, 2)
    (278.88, 69.72, 130.42)
    """
    at_negative = _divided(pack_voltage, near=_beside(leak_negative, meter_resistance), far=leak_positive)
    at_positive = _divided(pack_voltage, near=_beside(leak_positive, meter_resistance), far=leak_negative)
    negative_larger = np.asarray(at_negative) >= at_positive
    near = np.where(negative_larger, leak_negative, leak_positive)
    far = np.where(negative_larger, leak_positive, leak_negative)
    second = _divided(pack_voltage, near=_beside(_beside(near, meter_resistance), test_resistance), far=far)
    return Readings(
        negative=at_negative,
        positive=at_positive,
        larger=np.where(negative_larger, at_negative, at_positive),
        smaller=np.where(negative_larger, at_positive, at_negative),
        second=second,
        larger_is_negative=np.where(negative_larger, 1.0, 0.0),
    )


def _beside(first: Number, second: Number) -> Number:
    """Two resistances in parallel."""
    return 1 / (1 / first + 1 / second)


def _divided(voltage: Number, *, near: Number, far: Number) -> Number:
    return voltage * near / (near + far)


@calculation
def smaller_leak(larger_reading: q.LargerReading, *, second_reading: q.SecondReading, pack_voltage: q.PackVoltage,
                 test_resistance: q.TestResistance) -> Number:  # fmt: skip
    """The smaller leak, from the pack voltage and two readings on one side. The meter's own resistance cancels.

    R_i = R_o (V / V_1' - V / V_1)

    larger_reading V_1, second_reading V_1' with the known resistor in, pack_voltage [V]; test_resistance [ohm].
    Gives [ohm]. It is the leak on the side *opposite* to the one measured, exactly, whatever the meter: the meter
    stands in both readings and drops out in the difference. The pack voltage must not change between the readings.

    >>> round(smaller_leak(278.884, second_reading=130.424, pack_voltage=350.0, test_resistance=35e3), -2)
    50000.0

    Source: UN R100 annex 5A (01 series annex 4), fourth step; 49 CFR 571.305 S7.6.6.
    """
    if np.any(np.asarray(second_reading) >= np.asarray(larger_reading)):
        raise ValueError("second_reading: with the known resistor in, the reading must fall; measure the same side")
    return test_resistance * (pack_voltage / second_reading - pack_voltage / larger_reading)


@calculation
def smaller_leak_by_sum(larger_reading: q.LargerReading, *, second_reading: q.SecondReading,
                        other_reading: q.OtherReading, test_resistance: q.TestResistance) -> Number:  # fmt: skip
    """The smaller leak, from three readings to the chassis. Here the meter's own resistance does *not* cancel.

    R_i = R_o (1 + V_2 / V_1) (V_1 - V_1') / V_1'

    larger_reading V_1, other_reading V_2, second_reading V_1' [V]; test_resistance [ohm]. Gives [ohm]. It takes
    V_1 + V_2 for the pack voltage, which is true only of a meter that draws nothing; a real meter makes it read low.

    >>> round(smaller_leak_by_sum(280.0, second_reading=131.25, other_reading=70.0, test_resistance=35e3), -1)
    49580.0

    Source: 49 CFR 571.305 as first written (from memory).
    """
    if np.any(np.asarray(second_reading) >= np.asarray(larger_reading)):
        raise ValueError("second_reading: with the known resistor in, the reading must fall; measure the same side")
    drop = (np.asarray(larger_reading) - second_reading) / second_reading
    return test_resistance * (1 + other_reading / larger_reading) * drop


@calculation
def larger_leak(larger_reading: q.LargerReading, *, smaller: q.LeakPositive, pack_voltage: q.PackVoltage,
                meter_resistance: q.MeterResistance) -> Number:  # fmt: skip
    """The other leak, once the smaller one is known. Here the meter's own resistance counts.

    1 / R = (V / V_1 - 1) / R_i - 1 / R_m

    larger_reading V_1, pack_voltage [V]; smaller: the leak found [ohm]; meter_resistance [ohm]. Gives [ohm];
    infinite where the meter alone explains the reading.

    >>> round(larger_leak(278.884, smaller=50e3, pack_voltage=350.0, meter_resistance=10e6), -3)
    200000.0
    """
    conductance = (np.asarray(pack_voltage) / larger_reading - 1) / smaller - 1 / np.asarray(meter_resistance)
    with np.errstate(divide="ignore"):
        return np.where(conductance > 0, 1 / np.where(conductance > 0, conductance, 1.0), np.inf)


@calculation
def parallel_value(leak_positive: q.LeakPositive, *, leak_negative: q.LeakNegative) -> Number:
    """Both leaks side by side, as most monitors report them. Worked out: the poles of a pack are never joined.

    R = R_p R_n / (R_p + R_n)

    leak_positive, leak_negative [ohm]. Gives [ohm]; never more than the smaller leak, and half of it where both are
    alike.

    >>> parallel_value(40e3, leak_negative=40e3)
    20000.0
    """
    return _beside(leak_positive, leak_negative)


@calculation
def required(pack_voltage: q.PackVoltage, *, ohm_per_volt: q.OhmPerVolt) -> Number:
    """Insulation that is asked.

    R = r V

    pack_voltage: the highest working voltage [V]; ohm_per_volt [ohm/V]. Gives [ohm].

    >>> required(350.4, ohm_per_volt=100.0)
    35040.0

    Source: UN R100 5.1.3: 100 ohm/V for DC alone, 500 ohm/V for AC and for both joined.
    """
    return ohm_per_volt * pack_voltage


@calculation
def leak_current(pack_voltage: q.PackVoltage, *, leak: q.LeakPositive) -> Number:
    """Current that the leak lets through to someone who touches the other pole and the chassis.

    I = V / R

    pack_voltage [V], leak [ohm]. Gives [A]. At 100 ohm/V it is 10 mA whatever the voltage: that is what the rule
    means. The body's own resistance is left out, so it reads high.

    >>> leak_current(350.0, leak=35e3)
    0.01
    """
    return pack_voltage / leak


@result
class LeakSpread:
    """The smaller leak as a meter with errors would find it over many tries [ohm]."""

    low: float  # one try in twenty lies below
    middle: float
    high: float  # one try in twenty lies above
    share_below: float  # part of the tries that lie below what is asked


def meter_spread(true: Readings, *, pack_voltage: float, test_resistance: float, accuracy: float, asked: float,
                 tries: int = 4000, seed: int = 1) -> LeakSpread:  # fmt: skip
    """The smaller leak found by a meter whose every reading errs, tried many times (Monte Carlo).

    Each of the three readings and the known resistor errs by itself: normal, ``accuracy`` as one standard deviation
    of the reading. A reading "just above" what is asked then lies below it in a stated share of the tries.

    >>> true = readings(350.0, leak_positive=36e3, leak_negative=500e3, test_resistance=35e3, meter_resistance=1e7)
    >>> found = meter_spread(true, pack_voltage=350.0, test_resistance=35e3, accuracy=0.005, asked=35e3)
    >>> found.low < 36e3 < found.high
    True
    """
    rng = np.random.default_rng(seed)
    pack, first, second, resistor = (
        value * (1 + accuracy * rng.standard_normal(tries))
        for value in (pack_voltage, float(true.larger), float(true.second), test_resistance)
    )
    found = resistor * (pack / second - pack / first)
    low, middle, high = np.quantile(found, [0.05, 0.5, 0.95])
    return LeakSpread(float(low), float(middle), float(high), float(np.mean(found < asked)))

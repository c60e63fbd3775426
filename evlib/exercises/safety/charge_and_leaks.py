"""Exercises on stored charge, insulation and precharge."""

from __future__ import annotations

from math import log

from evlib.exercises.base import Exercise
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.safety.words import CHARGE, HEAT, KILO, LOGARITHM, OHMS, READ_GOAL, SECONDS, VOLTS
from evlib.safety import insulation, precharge, shock

READING: list[Exercise] = [
    Number(
        id="safety.1",
        objective=READ_GOAL,
        depth="Why",
        text="A controller has {charge} across its input and a discharge resistor of {resistor}. The pack has {pack}. "
        "How long after switching off until it is at 60 V?",
        given={
            "charge": Draw(CHARGE, "1000 µF", "4000 µF", "250 µF"),
            "resistor": Draw(KILO, "4 kohm", "20 kohm", "1 kohm"),
            "pack": Draw(VOLTS, "140 V", "380 V", "10 V"),
        },
        answer=SECONDS,
        right=lambda charge, resistor, pack: shock.discharge_time(
            pack, end_voltage=60.0, discharge_resistance=resistor, link_capacitance=charge
        ),
        steps=(
            Step("constant", "resistance x capacitance", "s", lambda charge, resistor, pack: resistor * charge),
            Step("part", "pack voltage / 60 V", "", lambda charge, resistor, pack, constant: pack / 60),
            Step("fold", "natural logarithm of it", "", lambda charge, resistor, pack, constant, part: log(part)),
            Step(
                "time",
                "time constant x logarithm",
                "s",
                lambda charge, resistor, pack, constant, part, fold: constant * fold,
            ),
        ),
        slips=(
            Slip("one constant", lambda charge, resistor, pack: resistor * charge, LOGARITHM),
            Slip("no logarithm", lambda charge, resistor, pack: resistor * charge * pack / 60, LOGARITHM),
            Slip(
                "straight line",
                lambda charge, resistor, pack: resistor * charge * (1 - 60 / pack),
                LOGARITHM,
            ),
            Slip(
                "decimal logarithm",
                lambda charge, resistor, pack: resistor * charge * log(pack / 60) / log(10),
                "There are two logarithm keys. This one belongs to e, and is often marked ln.",
            ),
        ),
    ),
    Number(
        id="safety.2",
        objective=READ_GOAL,
        depth="Shop",
        text="The pack has {pack}. From one pole to the chassis a meter shows {first}, from the other less. With "
        "{known} put in beside the meter at the first pole it shows {second}. How large is the smaller leak?",
        given={
            "pack": Draw(VOLTS, "310 V", "350 V", "5 V"),
            "first": Draw(VOLTS, "230 V", "290 V", "5 V"),
            "known": Draw(KILO, "30 kohm", "40 kohm", "1 kohm"),
            "second": Draw(VOLTS, "60 V", "130 V", "5 V"),
        },
        answer=KILO,
        right=lambda pack, first, known, second: insulation.smaller_leak(
            first, second_reading=second, pack_voltage=pack, test_resistance=known
        ),
        steps=(
            Step("loaded", "pack voltage / second reading", "", lambda pack, second: pack / second),
            Step("bare", "pack voltage / first reading", "", lambda pack, first: pack / first),
            Step(
                "leak", "resistor x difference of the two", "ohm", lambda known, loaded, bare: known * (loaded - bare)
            ),
        ),
        slips=(
            Slip(
                "first reading left out",
                lambda pack, first, known, second: known * pack / second,
                "Both readings count: the meter itself stands in both, and drops out in the difference.",
            ),
            Slip(
                "difference of readings",
                lambda pack, first, known, second: known * (first - second) / pack,
                "Divide the pack voltage by each reading first, then take the difference.",
            ),
        ),
    ),
    Number(
        id="safety.22",
        objective=READ_GOAL,
        depth="Shop",
        text="A pack of {pack} precharges through {known}, but the far side is shorted. The controller looks, and "
        "breaks off after {time}. What heat does the resistor take until then?",
        given={
            "pack": Draw(VOLTS, "100 V", "380 V", "10 V"),
            "known": Draw(OHMS, "60 ohm", "200 ohm", "10 ohm"),
            "time": Draw(SECONDS, "0.2 s", "0.6 s", "0.05 s"),
        },
        answer=HEAT,
        right=lambda pack, known, time: precharge.stuck_energy(time, pack_voltage=pack, precharge_resistance=known),
        steps=(
            Step("current", "pack voltage / resistance", "A", lambda pack, known: pack / known),
            Step("power", "pack voltage x current", "W", lambda pack, current: pack * current),
            Step("heat", "power x time", "J", lambda power, time: power * time),
        ),
        slips=(
            Slip(
                "half of it",
                lambda pack, known, time: pack**2 / known * time / 2,
                "Half is for a capacitor that fills. A short never fills, so the current never falls.",
            ),
            Slip(
                "time left out", lambda pack, known, time: pack**2 / known, "That is the power. How long does it last?"
            ),
        ),
    ),
    Number(
        id="safety.3",
        objective=READ_GOAL,
        depth="Shop",
        text="One pole leaks to the chassis through {one}, the other through {two}. What are both together, "
        "side by side, as an insulation monitor sees them?",
        given={
            "one": Draw(KILO, "30 kohm", "90 kohm", "5 kohm"),
            "two": Draw(KILO, "100 kohm", "400 kohm", "10 kohm"),
        },
        answer=KILO,
        right=lambda one, two: insulation.parallel_value(one, leak_negative=two),
        steps=(
            Step("product", "one x other, in ohm squared", "", lambda one, two: one * two),
            Step("total", "one + other", "ohm", lambda one, two: one + two),
            Step("both", "product / sum", "ohm", lambda product, total: product / total),
        ),
        slips=(
            Slip("added", lambda one, two: one + two, "Two ways for the current: together they resist less, not more."),
            Slip("mean", lambda one, two: (one + two) / 2, "Side by side they are less than the smaller one alone."),
            Slip("smaller", lambda one, two: one, "The larger leak lets some current through as well."),
        ),
    ),
    Number(
        id="safety.4",
        objective=READ_GOAL,
        depth="Shop",
        text="{charge} are charged through {resistor}. Little enough is missing after three time constants. How long "
        "must precharge wait at least?",
        given={
            "charge": Draw(CHARGE, "1000 µF", "6000 µF", "500 µF"),
            "resistor": Draw(OHMS, "50 ohm", "250 ohm", "10 ohm"),
        },
        answer=SECONDS,
        right=lambda charge, resistor: precharge.time_to_difference(
            0.049787068367863944, precharge_resistance=resistor, link_capacitance=charge
        ),
        steps=(
            Step("constant", "resistance x capacitance", "s", lambda charge, resistor: resistor * charge),
            Step("wait", "3 x time constant", "s", lambda charge, resistor, constant: 3 * constant),
        ),
        slips=(
            Slip(
                "one constant",
                lambda charge, resistor: resistor * charge,
                "After one time constant more than a third of the voltage is still missing.",
            ),
            Slip(
                "five constants",
                lambda charge, resistor: 5 * resistor * charge,
                "Count the time constants that the question asks for.",
            ),
        ),
    ),
    Number(
        id="safety.5",
        objective=READ_GOAL,
        depth="Shop",
        text="A pack of {pack} charges {charge} through a resistor. What heat does the resistor take in one precharge?",
        given={
            "pack": Draw(VOLTS, "100 V", "360 V", "10 V"),
            "charge": Draw(CHARGE, "1000 µF", "6000 µF", "500 µF"),
        },
        answer=HEAT,
        right=lambda pack, charge: precharge.pulse_energy(pack, link_capacitance=charge),
        steps=(
            Step("squared", "voltage squared", "", lambda pack, charge: pack**2),
            Step("whole", "capacitance x voltage squared", "J", lambda pack, charge, squared: charge * squared),
            Step(
                "heat",
                "half of it; the other half is now in the capacitor",
                "J",
                lambda pack, charge, squared, whole: whole / 2,
            ),
        ),
        slips=(
            Slip(
                "forgot the half",
                lambda pack, charge: charge * pack**2,
                "What leaves the pack is shared: some is heat, as much again stays in the capacitor.",
            ),
            Slip("not squared", lambda pack, charge: charge * pack / 2, "The voltage counts twice: squared."),
        ),
    ),
]

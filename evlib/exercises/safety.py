"""The exercises of the safety lesson."""

from __future__ import annotations

from math import log

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground import wire
from evlib.ground.quantity import Quantity
from evlib.safety import faults, insulation, motor_loop, overspeed, precharge, shock

VOLTS = Quantity("V", "V", "voltage", above=0)
CHARGE = Quantity("C", "F", "capacitance", above=0, shown={"SI": "µF", "shop": "µF"})
OHMS = Quantity("R", "ohm", "resistance", above=0)
KILO = Quantity("R", "ohm", "resistance", above=0, shown={"SI": "kohm", "shop": "kohm"})
MILLI = Quantity("R", "ohm", "resistance", above=0, shown={"SI": "mohm", "shop": "mohm"})
AMPS = Quantity("I", "A", "current", above=0)
SECONDS = Quantity("t", "s", "time", low=0)
TIMES = Quantity("k", "", "how many times", above=0)
AREA = Quantity("A", "m2", "copper area", above=0, shown={"SI": "mm2", "shop": "mm2"})
LENGTH = Quantity("l", "m", "length one way", above=0, shown={"SI": "m", "shop": "ft"})
SHAFT = Quantity("n", "rad/s", "speed", low=0)
INERTIA = Quantity("J", "kg m2", "inertia of all rotors", above=0)
TORQUE = Quantity("T", "N m", "torque", above=0)
DELAY = Quantity("t", "s", "time", low=0, shown={"SI": "ms", "shop": "ms"})
HEAT = Quantity("W", "J", "heat", low=0, shown={"SI": "J", "shop": "J"})

READ_GOAL = "work out insulation, precharge and discharge, and judge a reading"
AGREE_GOAL = "check that fuse, cable and contactor agree from the coldest short to the hottest"
SPEED_GOAL = "work out how long over-speed detection may take"
FAULT_GOAL = "find the single fault that leaves a pack connected"
CARD_GOAL = "judge a commissioning card, and say when to stop"

K_RUBBER = 143e6  # A s^0.5/m2, copper from 90 to 250 °C; IEC 60364-5-54
BOTH_WAYS = "Current goes out through one cable and comes back through another: both lose voltage."
LOGARITHM = "Emptying is no straight line: the voltage falls by the same part in the same time."


EXERCISES: list[Exercise] = [
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
        id="safety.3",
        objective=READ_GOAL,
        depth="Shop",
        text="One pole leaks to the chassis through {one}, the other through {two}. What would an insulation tester "
        "find, with both poles joined?",
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
    Number(
        id="safety.6",
        objective=AGREE_GOAL,
        depth="Shop",
        text="A nearly empty pack has {pack} at rest. Its cells have {cells} at 25 °C and {cold} times that on a cold "
        "morning; links and cables add {links}. What current does a dead short give on that morning?",
        given={
            "pack": Draw(VOLTS, "280 V", "320 V", "5 V"),
            "cells": Draw(MILLI, "40 mohm", "80 mohm", "2 mohm"),
            "cold": Draw(TIMES, "2.0", "4.0", "0.2"),
            "links": Draw(MILLI, "10 mohm", "30 mohm", "2 mohm"),
        },
        answer=AMPS,
        right=lambda pack, cells, cold, links: faults.prospective_current(
            pack, pack_resistance=cells * cold, circuit_resistance=links
        ),
        steps=(
            Step("chilled", "cells at 25 °C x how many times", "ohm", lambda cells, cold: cells * cold),
            Step("loop", "cold cells + links", "ohm", lambda chilled, links: chilled + links),
            Step("current", "voltage / loop", "A", lambda pack, loop: pack / loop),
        ),
        slips=(
            Slip(
                "warm",
                lambda pack, cells, cold, links: pack / (cells + links),
                "That is the current on a warm day. Cold cells resist more.",
            ),
            Slip(
                "links left out",
                lambda pack, cells, cold, links: pack / (cells * cold),
                "Everything in the loop counts, links and cables too.",
            ),
            Slip(
                "links cold too",
                lambda pack, cells, cold, links: pack / ((cells + links) * cold),
                "Only the cells resist so much more when cold; copper does not.",
            ),
        ),
    ),
    Number(
        id="safety.7",
        objective=AGREE_GOAL,
        depth="Why",
        text="A short of {current} flows through a cable of {area}. Copper whose insulation allows 250 °C stands "
        "143 A √s for each mm², from 90 °C on. How long does the cable stand it?",
        given={
            "current": Draw(AMPS, "2000 A", "6000 A", "250 A"),
            "area": Draw(AREA, "16 mm2", "70 mm2", "2 mm2"),
        },
        answer=SECONDS,
        right=lambda current, area: wire.withstand_time(current, area=area, factor=K_RUBBER),
        steps=(
            Step("stands", "143 A √s per mm² x area", "", lambda area: K_RUBBER * area),
            Step("root", "divided by the current", "", lambda stands, current: stands / current),
            Step("time", "squared", "s", lambda root: root**2),
        ),
        slips=(
            Slip(
                "not squared",
                lambda current, area: K_RUBBER * area / current,
                "The unit says it: what you have now is a root of seconds.",
            ),
            Slip(
                "upside down",
                lambda current, area: (current / (K_RUBBER * area)) ** 2,
                "More copper must give more time, more current less.",
            ),
        ),
    ),
    Number(
        id="safety.8",
        objective=AGREE_GOAL,
        depth="Shop",
        text="The motors stand still. {motor} flow in their cables at {volts}; the pack has {pack}. Leave out losses. "
        "What current does the pack's fuse see?",
        given={
            "motor": Draw(AMPS, "300 A", "800 A", "50 A"),
            "volts": Draw(VOLTS, "8 V", "24 V", "2 V"),
            "pack": Draw(VOLTS, "250 V", "340 V", "10 V"),
        },
        answer=AMPS,
        right=lambda motor, volts, pack: motor_loop.pack_current(motor, motor_voltage=volts, pack_voltage=pack),
        steps=(
            Step("power", "motor current x motor voltage", "W", lambda motor, volts, pack: motor * volts),
            Step("fuse", "power / pack voltage", "A", lambda motor, volts, pack, power: power / pack),
        ),
        slips=(
            Slip(
                "same current",
                lambda motor, volts, pack: motor,
                "The controller trades volts for amps: the two sides carry the same power, not the same current.",
            ),
            Slip(
                "upside down",
                lambda motor, volts, pack: motor * pack / volts,
                "Which side has the larger voltage? That side has the smaller current.",
            ),
        ),
    ),
    Number(
        id="safety.9",
        objective=AGREE_GOAL,
        depth="Shop",
        text="A cable run is {length} long each way. Hot, it has 0.33 mohm in each metre. What is lost at {current}?",
        given={"length": Draw(LENGTH, "1.5 m", "5 m", "0.5 m"), "current": Draw(AMPS, "150 A", "500 A", "25 A")},
        answer=Quantity("V", "V", "voltage lost", low=0),
        right=lambda length, current: _drop(length, current),
        steps=(
            Step("both", "2 x length", "m", lambda length, current: 2 * length),
            Step("ohms", "length of both x 0.33 mohm", "ohm", lambda length, current, both: both * 0.33e-3),
            Step("lost", "current x resistance", "V", lambda length, current, both, ohms: current * ohms),
        ),
        slips=(
            Slip("one way", lambda length, current: length * 0.33e-3 * current, BOTH_WAYS),
            Slip("ohm per metre", lambda length, current: 2 * length * 0.33 * current, "A milliohm is a thousandth."),
        ),
    ),
    Choice(
        id="safety.10",
        objective=AGREE_GOAL,
        depth="Why",
        text="A contactor breaks up to 1000 A. The fuse is quicker than it from 2200 A up. What is wrong?",
        choices=(
            Option(
                text="from 1000 to 2200 A the contactor parts first",
                right=True,
                reason="It then draws an arc that it cannot put out. That is the forbidden opening band.",
            ),
            Option(text="above 2200 A nothing breaks the current", reason="There the fuse is the quicker one."),
            Option(text="below 1000 A the fuse is too slow", reason="There the contactor can break it by itself."),
        ),
    ),
    Number(
        id="safety.11",
        objective=SPEED_GOAL,
        depth="Why",
        text="The load is gone. All rotors together have {inertia}; {torque} still drive them. The trip is at {trip}, "
        "the makers' limit is {limit}. The contactor needs 30 ms. How long may detection take?",
        given={
            "inertia": Draw(INERTIA, "0.20 kg m2", "0.40 kg m2", "0.02 kg m2"),
            "torque": Draw(TORQUE, "60 N m", "160 N m", "10 N m"),
            "trip": Draw(SHAFT, "3600 rpm", "4400 rpm", "100 rpm"),
            "limit": Draw(SHAFT, "5200 rpm", "6000 rpm", "100 rpm"),
        },
        answer=DELAY,
        right=lambda inertia, torque, trip, limit: overspeed.longest_delay(
            torque, rotor_inertia=inertia, trip_speed=trip, speed_limit=limit, release_time=0.030
        ),
        steps=(
            Step("rise", "limit - trip speed", "rad/s", lambda inertia, torque, trip, limit: limit - trip),
            Step(
                "window",
                "inertia x rise / torque",
                "s",
                lambda inertia, torque, trip, limit, rise: inertia * rise / torque,
            ),
            Step(
                "delay",
                "less the contactor's 30 ms",
                "s",
                lambda inertia, torque, trip, limit, rise, window: window - 0.030,
            ),
        ),
        slips=(
            Slip(
                "rpm for rad/s",
                lambda inertia, torque, trip, limit: (limit - trip) * 9.549297 * inertia / torque - 0.030,
                "Speed must be in rad/s here: a turn is 2 pi radians and a minute 60 seconds.",
            ),
            Slip(
                "contactor left out",
                lambda inertia, torque, trip, limit: (limit - trip) * inertia / torque,
                "The contactor spends a part of the time too.",
            ),
            Slip(
                "from standstill",
                lambda inertia, torque, trip, limit: limit * inertia / torque - 0.030,
                "The clock starts at the trip speed, not at rest.",
            ),
        ),
    ),
    Choice(
        id="safety.12",
        objective=FAULT_GOAL,
        depth="Why",
        text="Key and emergency switch stand one after the other on the 12 V side of the coils; their other end is "
        "always on ground. Which single fault leaves the pack connected whichever of the two you open?",
        choices=(
            Option(
                text="12 V touches the coil wire",
                right=True,
                reason="The coils are then fed behind both switches. One switch in the return would still let go.",
            ),
            Option(text="the key stays closed", reason="Then the emergency switch still opens the loop."),
            Option(text="one of two contactors welds", reason="Then the other one still parts its pole."),
            Option(text="the coil wire touches ground", reason="Then the 12 V fuse blows, and everything lets go."),
        ),
    ),
    Choice(
        id="safety.13",
        objective=CARD_GOAL,
        depth="Shop",
        text="A card for a pack of 326 V: time constant 0.31 s (0.24 to 0.36 expected); smaller leak 180 kohm; "
        "both leaks together 240 kohm; pressure at rest in its band. Which reading is impossible?",
        choices=(
            Option(text="the time constant", reason="It lies inside its band."),
            Option(text="the smaller leak", reason="It is well above what is asked, which can be."),
            Option(
                text="both leaks together",
                right=True,
                reason="Two leaks side by side are never more than the smaller one.",
            ),
            Option(text="the pressure", reason="It lies inside its band."),
        ),
    ),
    Free(
        id="safety.14",
        objective=CARD_GOAL,
        depth="Why",
        text="It is Friday evening. The insulation reads 102 ohm per volt on a damp day, 100 are asked, and the owner "
        "waits. What do you do, and why?",
        guide=(
            "Does not hand it over, says stop, 1 mark",
            "Names the meter's error: a reading just above may lie below, 1 mark",
            "Asks for the parallel value as well, not only the smaller leak, 1 mark",
            "Looks for the cause: brush dust, damp, a pinched cable; dries, cleans, reads again, 1 mark",
            "Leaves the decision to the licensed person and the local code, 1 mark",
        ),
        model="I stop. The reading is above what is asked by less than the meter's error: the true one may be less. "
        "Both leaks together are smaller still. I look for the cause, clean out the brush dust, let it dry and read "
        "again on another day. Who may hand it over is decided by the licensed person and the local code.",
    ),
    Prediction(
        id="safety.p1",
        objective=READ_GOAL,
        depth="Shop",
        text="Both poles leak to the chassis, each a little better than what is asked. Are both together at or above "
        "what is asked, or below?",
    ),
    Prediction(
        id="safety.p2",
        objective=AGREE_GOAL,
        depth="Shop",
        text="You fit a plain diode across the contactor's coil, and it lets go in 100 ms, not 30. What happens to "
        "the forbidden band: does it stay closed, or does it open?",
    ),
]


def _drop(length: float, current: float) -> float:
    """The library's drop of a cable that has 0.33 mohm in each metre."""
    resistivity = wire.resistance_per_metre(1e-4, temperature=293.15, stranding_factor=1.0) * 1e-4
    area = resistivity / 0.33e-3
    return float(
        wire.drop_both_ways(current, area=area, length=length, temperature=293.15, stranding_factor=1.0)
    )  # fmt: skip

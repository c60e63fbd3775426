"""Exercises on short circuits, fuses, contactors and cables."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.safety.words import (
    AGREE_GOAL,
    AMPS,
    AREA,
    BOTH_WAYS,
    K_RUBBER,
    LENGTH,
    MILLI,
    SECONDS,
    TIMES,
    VOLTS,
)
from evlib.ground import wire
from evlib.ground.quantity import Quantity
from evlib.safety import faults, motor_loop

AGREEING: list[Exercise] = [
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
]


def _drop(length: float, current: float) -> float:
    """The library's drop of a cable that has 0.33 mohm in each metre."""
    resistivity = wire.resistance_per_metre(1e-4, temperature=293.15, stranding_factor=1.0) * 1e-4
    area = resistivity / 0.33e-3
    return float(
        wire.drop_both_ways(current, area=area, length=length, temperature=293.15, stranding_factor=1.0)
    )  # fmt: skip

"""Bridges 6 and 7: volts, amps, ohms and watts; watt-hours and joules."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.bridges.quantities import AMPS, CHARGE, ENERGY, JOULES, POWER, RESISTANCE, VOLTS
from evlib.exercises.number import Draw, Number, Slip, Step

ELECTRIC: list[Exercise] = [
    Number(
        id="bridges.6",
        objective="use volts, amps, ohms and watts together",
        depth="Shop",
        text="A pack of {volts} sends {amps} through cables and joints of {resistance} in all. "
        "How much power do the cables and joints turn into heat?",
        given={
            "volts": Draw(VOLTS, "120 V", "320 V", "10 V"),
            "amps": Draw(AMPS, "160 A", "480 A", "10 A"),
            "resistance": Draw(RESISTANCE, "6 mohm", "19 mohm", "1 mohm"),
        },
        answer=POWER,
        right=lambda amps, resistance: amps**2 * resistance,
        steps=(
            Step("lost", "current x resistance", "V", lambda amps, resistance: amps * resistance),
            Step("heat", "volts lost x current", "W", lambda lost, amps: lost * amps),
        ),
        slips=(
            Slip(
                "all of the pack's power",
                lambda volts, amps: volts * amps,
                "That is all that the pack gives; only the volts lost in the cables heat the cables.",
            ),
            Slip(
                "volts lost for watts",
                lambda amps, resistance: amps * resistance,
                "Current times resistance is volts; one more step makes it watts.",
            ),
            Slip(
                "volts squared over ohms",
                lambda volts, resistance: volts**2 / resistance,
                "Those volts are the pack's, not the volts across the cables.",
            ),
            Slip(
                "current not squared, halved",
                lambda amps, resistance: amps**2 * resistance / 2,
                "Nothing is halved here: heat is current squared times resistance.",
            ),
        ),
    ),
    Number(
        id="bridges.6b",
        objective="use volts, amps, ohms and watts together",
        depth="Shop",
        text="A motor draws {amps}. Between pack and motor you measure a drop of {drop}. "
        "What is the resistance between them?",
        given={
            "amps": Draw(AMPS, "160 A", "480 A", "10 A"),
            "drop": Draw(VOLTS, "1.2 V", "6.4 V", "0.1 V"),
        },
        answer=RESISTANCE,
        right=lambda amps, drop: drop / amps,
        steps=(Step("resistance", "volts lost / current", "ohm", lambda amps, drop: drop / amps),),
        slips=(
            Slip("upside down", lambda amps, drop: amps / drop, "Ohms are volts for each amp, not amps for each volt."),
            Slip("multiplied", lambda amps, drop: amps * drop, "Volts times amps is watts; ohms are wanted."),
        ),
    ),
    Number(
        id="bridges.7",
        objective="turn watt-hours into joules, and charge into energy",
        depth="Shop",
        text="A pack holds {energy}. How many MJ is that?",
        given={"energy": Draw(ENERGY, "11 kWh", "54 kWh", "1 kWh")},
        answer=JOULES,
        unit="MJ",
        right=lambda energy: energy,
        steps=(Step("joules", "energy in kWh x 3.6", "J", lambda energy: energy),),
        slips=(
            Slip(
                "divided",
                lambda energy: energy / 3.6**2,
                "A kWh is 1000 W for 3600 s, which is more than a million joules: the number must grow.",
            ),
            Slip("minutes for an hour", lambda energy: energy / 60, "An hour has 60 minutes, each with 60 seconds."),
            Slip(
                "kWh left as it is", lambda energy: energy / 3.6, "A watt for an hour is not a joule: how many seconds?"
            ),
        ),
    ),
    Number(
        id="bridges.7b",
        objective="turn watt-hours into joules, and charge into energy",
        depth="Shop",
        text="A pack of {volts} has a charge of {charge}. How much energy is that?",
        given={
            "volts": Draw(VOLTS, "110 V", "330 V", "10 V"),
            "charge": Draw(CHARGE, "60 Ah", "190 Ah", "10 Ah"),
        },
        answer=ENERGY,
        right=lambda volts, charge: volts * charge,
        steps=(Step("energy", "volts x charge", "J", lambda volts, charge: volts * charge),),
        slips=(
            Slip(
                "hours forgotten",
                lambda volts, charge: volts * charge / 3600,
                "Volts times amp-hours gives watt-hours: joules would need seconds.",
            ),
            Slip("volts forgotten", lambda charge: charge, "Amp-hours alone say nothing of energy: at what voltage?"),
            Slip(
                "divided",
                lambda volts, charge: volts / charge * 3600**2,
                "More charge is more energy: do not divide by it.",
            ),
        ),
    ),
]

"""Exercises on power, sag and limits."""

from __future__ import annotations

from math import pi

import numpy as np

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.motors.words import (
    AMPS,
    CONSTANT,
    FOUR,
    INDUCTANCE,
    LIMITS,
    POWER,
    RESISTANCE,
    SAG,
    SHARE,
    SPEED,
    TORQUE,
    VOLTS,
)
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.tables import Curve
from evlib.motors import pack, series
from evlib.motors.controller import pack_current_of
from evlib.motors.magnetisation import Froelich, Tabulated

DROPS = "Which voltages lie between the terminals and the back-EMF? There are two, and they are not there to help."
RADIANS = "Torque times speed is power only with speed in radians a second: a turn is 2 pi, a minute 60 seconds."
BALANCE = "Power balances at the controller, amps do not. Which voltage stands on each side, and which way is the loss?"
HALVES = "Follow the current: what leaves the controller splits in parallel, and it passes whole through a series pair."
SAGGED = "The pack's own resistance takes its share before the terminals: find the voltage under load first."


def _speed(current: float, volts: float, resistance: float, constant: float) -> float:
    curve = Curve(x=np.array([0.0, current]), y=np.array([0.0, constant]))
    return series.speed_at(
        current, volts=volts, magnetisation=Tabulated(curve), winding_resistance=resistance, brush_drop=2.0
    )  # type: ignore[return-value]


def _parallel_torque(limit: float, inductance: float) -> float:
    one = series.torque(
        limit / 2, speed=0.0, magnetisation=Froelich(inductance, 300.0), friction_torque=0.0,
        windage_coefficient=0.0, iron_conductance=0.0,
    )  # fmt: skip
    return 2.0 * float(np.asarray(one))


def _inside(current: float, inductance: float) -> float:
    return inductance * current**2 / (1 + current / 300.0)


POWER_AND_LIMITS: list[Exercise] = [
    Number(
        id="motors.1",
        objective=FOUR,
        depth="Shop",
        text="One machine takes {current} at {volts}. Its warm winding has {resistance}, its brushes drop 2 V, and at "
        "this current back-EMF over speed is {constant} (volts for each rad/s). How fast does it turn?",
        given={
            "current": Draw(AMPS, "200 A", "500 A", "20 A"),
            "volts": Draw(VOLTS, "60 V", "140 V", "5 V"),
            "resistance": Draw(RESISTANCE, "10 mohm", "20 mohm", "1 mohm"),
            "constant": Draw(CONSTANT, "0.20 V s", "0.34 V s", "0.02 V s"),
        },
        answer=SPEED,
        right=_speed,
        steps=(
            Step("drop in the winding", "R x I", "V", lambda resistance, current: resistance * current),
            Step("back_emf", "V - R I - 2 V", "V", lambda volts, resistance, current: volts - resistance * current - 2),
            Step("speed", "back-EMF / k", "rad/s", lambda back_emf, constant: back_emf / constant),
        ),
        slips=(
            Slip("drops left out", lambda volts, constant: volts / constant, DROPS),
            Slip(
                "brush drop left out",
                lambda volts, resistance, current, constant: (volts - resistance * current) / constant,
                DROPS,
            ),
            Slip(
                "drops added",
                lambda volts, resistance, current, constant: (volts + resistance * current + 2) / constant,
                DROPS,
            ),
        ),
        teacher="Let them first say the size: nearly all of the volts are back-EMF.",
    ),
    Number(
        id="motors.2",
        objective=FOUR,
        depth="Shop",
        text="On the bench a machine gives {torque} at {speed} and takes {current} at {volts}. What is its efficiency?",
        given={
            "torque": Draw(TORQUE, "100 N m", "108 N m", "2 N m"),
            "speed": Draw(SPEED, "3050 rpm", "3200 rpm", "50 rpm"),
            "current": Draw(AMPS, "395 A", "405 A", "5 A"),
            "volts": Draw(VOLTS, "98 V", "102 V", "1 V"),
        },
        answer=SHARE,
        right=lambda torque, speed, current, volts: torque * speed / (volts * current),
        steps=(
            Step("mechanical", "T x w", "W", lambda torque, speed: torque * speed),
            Step("electrical", "V x I", "W", lambda volts, current: volts * current),
            Step("efficiency", "mechanical / electrical", "", lambda mechanical, electrical: mechanical / electrical),
        ),
        slips=(
            Slip(
                "rpm for rad/s",
                lambda torque, speed, current, volts: torque * speed * 30 / pi / (volts * current),
                RADIANS,
            ),
            Slip(
                "turns a second for rad/s",
                lambda torque, speed, current, volts: torque * speed / (2 * pi) / (volts * current),
                RADIANS,
            ),
            Slip(
                "upside down",
                lambda torque, speed, current, volts: volts * current / (torque * speed),
                "Efficiency is what comes out over what goes in; can it be more than one?",
            ),
        ),
        teacher="Ask first what they expect of such a machine. Then: which reading, one per cent off, shifts it most?",
    ),
    Number(
        id="motors.3",
        objective=SAG,
        depth="Shop",
        text="A pack rests at {rest} and has {resistance} with its cables. You draw {current}. What power leaves it?",
        given={
            "rest": Draw(VOLTS, "280 V", "360 V", "10 V"),
            "resistance": Draw(RESISTANCE, "50 mohm", "120 mohm", "5 mohm"),
            "current": Draw(AMPS, "250 A", "500 A", "25 A"),
        },
        answer=POWER,
        right=lambda rest, resistance, current: pack.power_at(current, open_volts=rest, pack_resistance=resistance),
        steps=(
            Step("sag", "R x I", "V", lambda resistance, current: resistance * current),
            Step("loaded", "voltage at rest - sag", "V", lambda rest, sag: rest - sag),
            Step("power", "loaded voltage x current", "W", lambda loaded, current: loaded * current),
        ),
        slips=(
            Slip("no sag", lambda rest, current: rest * current, SAGGED),
            Slip("sag added", lambda rest, resistance, current: (rest + resistance * current) * current, SAGGED),
            Slip(
                "only the loss",
                lambda resistance, current: resistance * current**2,
                "That is what stays in the pack as heat. What is asked leaves it.",
            ),
        ),
    ),
    Number(
        id="motors.4",
        objective=SAG,
        depth="Why",
        text="A controller of 97 % efficiency feeds a series pair. {current} flows through both; each machine has "
        "{volts}. The pack has {loaded} under load. What current leaves the pack?",
        given={
            "current": Draw(AMPS, "300 A", "600 A", "20 A"),
            "volts": Draw(VOLTS, "30 V", "90 V", "5 V"),
            "loaded": Draw(VOLTS, "280 V", "320 V", "5 V"),
        },
        answer=AMPS,
        right=lambda current, volts, loaded: pack_current_of(
            current, motor_volts=2 * volts, pack_volts=loaded, controller_efficiency=0.97
        ),
        steps=(
            Step("pair", "2 x volts of one", "V", lambda volts: 2 * volts),
            Step("to_machines", "volts of the pair x current", "W", lambda pair, current: pair * current),
            Step("from_pack", "power to the machines / 0.97", "W", lambda to_machines: to_machines / 0.97),
            Step("pack current", "power from the pack / its volts", "A", lambda from_pack, loaded: from_pack / loaded),
        ),
        slips=(
            Slip("motor amps taken for pack amps", lambda current: current, BALANCE),
            Slip(
                "one machine only",
                lambda current, volts, loaded: volts * current / 0.97 / loaded,
                "The controller stands across the whole pair. How many machines share its voltage in series?",
            ),
            Slip("loss the wrong way", lambda current, volts, loaded: 2 * volts * current * 0.97 / loaded, BALANCE),
        ),
    ),
    Choice(
        id="motors.5",
        objective=LIMITS,
        depth="Shop",
        text="At 1500 rpm a pair gives the same torque on a full pack and on one at 30 %. Which limit governs?",
        choices=(
            Option(
                text="the motor amps of the controller",
                right=True,
                reason="Only this limit fixes the current, and so the torque, whatever the pack does.",
            ),
            Option(
                text="the pack amps of the battery monitor",
                reason="At a fixed pack current a fuller pack stands higher, so it would give more power.",
            ),
            Option(
                text="the volts left by the sagging pack",
                reason="Volts rise with charge, so the torque would change from one pack to the other.",
            ),
            Option(
                text="the cut-off voltage of its weakest cell",
                reason="A fuller pack is further from cut-off, so it could give more current before it gets there.",
            ),
        ),
    ),
    Number(
        id="motors.6",
        objective=LIMITS,
        depth="Why",
        text="Two machines, each with k = L I / (1 + I / 300 A) and L of {inductance}, are joined in parallel on one "
        "controller of {limit}. What torque do they make together at rest? Leave friction out.",
        given={
            "limit": Draw(AMPS, "400 A", "900 A", "50 A"),
            "inductance": Draw(INDUCTANCE, "1.2 mH", "2.0 mH", "0.1 mH"),
        },
        answer=TORQUE,
        right=_parallel_torque,
        steps=(
            Step("each", "limit / 2", "A", lambda limit: limit / 2),
            Step(
                "constant",
                "L I / (1 + I / 300 A)",
                "V s",
                lambda inductance, each: inductance * each / (1 + each / 300),
            ),
            Step("one", "k x I", "N m", lambda constant, each: constant * each),
            Step("both", "2 x one", "N m", lambda one: 2 * one),
        ),
        slips=(
            Slip("full current in each", lambda limit, inductance: 2 * _inside(limit, inductance), HALVES),
            Slip(
                "one machine with half the current",
                lambda limit, inductance: _inside(limit / 2, inductance),
                "That is the torque of one. How many turn the shaft?",
            ),
            Slip(
                "no saturation",
                lambda limit, inductance: 2 * inductance * (limit / 2) ** 2,
                "That is the straight law. What does the iron do to k at this current?",
            ),
        ),
    ),
]

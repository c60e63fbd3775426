"""Exercises on time, rotation and a test sheet; the design question; the predictions."""

from __future__ import annotations

from math import sqrt

import numpy as np

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.motors.words import (
    AMPS,
    CAPACITY,
    COUNT,
    FOUR,
    LIMITS,
    LONG,
    RESISTANCE,
    RISE,
    TIME,
    TURN,
    VOLTS,
)
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.motors import commutator, duty, heat

SQUARES = (
    "The bars warm with the square of the current, so the time falls with the square: is your ratio the right way?"
)
MEANS = "A winding is warmed by the square of current. Square first, weigh by time over the whole cycle, then the root."
BARS = "Count the bars that lie between two brushes of opposite sign: the bars share themselves among the poles."


def _rms(current: float, loaded: float, rest: float) -> float:
    return float(duty.rms_of_steps(np.array([current, 0.0]), duration=np.array([loaded, rest])))


TIME_AND_TURN: list[Exercise] = [
    Number(
        id="motors.7",
        objective=LONG,
        depth="Shop",
        text="The maker allows {known} for {span} at standstill. You would hold the vehicle on the pedal at {current} "
        "in each machine. For how long may you, at most?",
        given={
            "known": Draw(AMPS, "200 A", "320 A", "20 A"),
            "span": Draw(TIME, "8 s", "20 s", "2 s"),
            "current": Draw(AMPS, "340 A", "500 A", "20 A"),
        },
        answer=TIME,
        right=lambda known, span, current: commutator.stall_time_allowed(current, stall_current=known, stall_time=span),
        steps=(
            Step("ratio", "known current / your current", "", lambda known, current: known / current),
            Step("time", "ratio squared x known time", "s", lambda ratio, span: ratio**2 * span),
        ),
        slips=(
            Slip("not squared", lambda known, span, current: span * known / current, SQUARES),
            Slip("upside down", lambda known, span, current: span * (current / known) ** 2, SQUARES),
        ),
        teacher="The better answer is the brake. Ask why no winding sensor would warn.",
    ),
    Number(
        id="motors.8",
        objective=LONG,
        depth="Why",
        text="On a hilly round a machine carries {current} for {loaded}, then nothing for {rest}, again and again. The "
        "cycle is short against the minutes that its winding takes to warm. Which steady current warms it as much?",
        given={
            "current": Draw(AMPS, "240 A", "400 A", "20 A"),
            "loaded": Draw(TIME, "40 s", "90 s", "10 s"),
            "rest": Draw(TIME, "60 s", "150 s", "10 s"),
        },
        answer=AMPS,
        right=_rms,
        steps=(
            Step("cycle", "loaded + rest", "s", lambda loaded, rest: loaded + rest),
            Step("share", "loaded / cycle", "", lambda loaded, cycle: loaded / cycle),
            Step("current", "current x root of share", "A", lambda current, share: current * sqrt(share)),
        ),
        slips=(
            Slip("mean of the current", lambda current, loaded, rest: current * loaded / (loaded + rest), MEANS),
            Slip("pause left out", lambda current: current, MEANS),
            Slip(
                "share of load to pause",
                lambda current, loaded, rest: current * sqrt(loaded / rest),
                "Of what is the loaded time a share: of the pause, or of the whole cycle?",
            ),
        ),
    ),
    Choice(
        id="motors.9",
        objective=TURN,
        depth="Why",
        text="Two like machines stand drive end to drive end on one shaft. Both brush rings are advanced for clockwise "
        "rotation, seen at the drive end. What do you find when you think it through?",
        choices=(
            Option(
                text="One suits, one must have its ring moved",
                right=True,
                reason="One shaft turns, and each drive end looks at it from the other side: one sees it clockwise, "
                "one counter-clockwise.",
            ),
            Option(
                text="Both suit, since they are set alike",
                reason="Stand at each drive end in turn and look along the shaft. Do both of you see the same turn?",
            ),
            Option(
                text="Neither suits, since both face inwards",
                reason="Facing inwards is not a rotation. Name the turn that each drive end sees.",
            ),
            Option(
                text="Exchanging both leads of one puts it right",
                reason="Field and armature current would both reverse. What happens to their product?",
            ),
        ),
    ),
    Number(
        id="motors.10",
        objective=TURN,
        depth="Shop",
        text="A commutator has {bars} bars, the machine {poles} poles. It sees {volts} when the pack is full. What is "
        "the mean voltage between neighbouring bars?",
        given={
            "bars": Draw(COUNT, "41", "81", "4"),
            "poles": Draw(COUNT, "4", "6", "2"),
            "volts": Draw(VOLTS, "100 V", "180 V", "10 V"),
        },
        answer=VOLTS,
        right=lambda bars, poles, volts: commutator.bar_volts(volts, commutator_bars=bars, poles=poles),
        steps=(
            Step("between", "bars / poles", "", lambda bars, poles: bars / poles),
            Step("each", "volts / bars between two brushes", "V", lambda volts, between: volts / between),
        ),
        slips=(
            Slip("shared among all bars", lambda bars, volts: volts / bars, BARS),
            Slip("pole pairs for poles", lambda bars, poles, volts: volts * poles / 2 / bars, BARS),
        ),
    ),
    Choice(
        id="motors.11",
        objective=FOUR,
        depth="Deep",
        text="Five rows of one bench table, one torque misread. 200 A: 36 N m. 300 A: 70 N m. 400 A: 117 N m. 500 A: "
        "148 N m. 600 A: 190 N m. Torque per ampere must rise with current, and by less each time. Which row is off?",
        choices=(
            Option(
                text="the row at 200 A",
                reason="Leave it out and divide the others by their currents: do their steps fall each time?",
            ),
            Option(
                text="the row at 300 A",
                reason="Leave it out and look at the steps of the others: the last is larger than the one before.",
            ),
            Option(
                text="the row at 400 A",
                right=True,
                reason="Torque per ampere goes 0.180, 0.233, 0.293, 0.296, 0.317: steps of 0.053, 0.059, 0.003, 0.021. "
                "With 107 N m they are 0.053, 0.034, 0.028, 0.021. Changing any other one row cannot make them fall.",
            ),
            Option(
                text="the row at 500 A",
                reason="Only the step to this row looks small. Which end of that step makes the one before large too?",
            ),
            Option(
                text="the row at 600 A",
                reason="Leave it out and look at the steps of the others: the second is larger than the first.",
            ),
        ),
    ),
    Free(
        id="motors.12",
        objective=LIMITS,
        depth="Why",
        text="A customer has two like series machines, one controller of 600 A and the Orchard van's pack, and wants a "
        "quick start and 110 km/h as well. At 110 km/h in direct the motors turn at 3599 rpm. Series or parallel, one "
        "controller or two? Say what you would fit, which "
        "limit governs at start and at top speed, and what you would check before switching on.",
        guide=(
            "names the current in each machine at rest for the wiring chosen",
            "says that motor amps govern at the start",
            "says that pack amps or volts govern at high speed, and that series halves the volts of each machine",
            "counts the price of a second controller against the gain",
            "checks bar volts or brush current for the chosen wiring",
            "proves rotation at low voltage, uncoupled, before full voltage",
        ),
        model="Series on the one controller: 600 A in each at rest, so full torque; motor amps govern up to about "
        "2,500 rpm, then pack amps, then volts. Parallel would leave 300 A each, about two fifths of the torque. "
        "Two controllers would give both, but the pack's amps cap the power either way. Bar volts are lower in "
        "series. First prove each machine's rotation uncoupled on a low-voltage supply.",
    ),
    Number(
        id="motors.13",
        objective=LONG,
        depth="Shop",
        text="A winding takes {capacity} for each kelvin; warm it has {resistance}. At {current}, and if no "
        "heat left it, after what time has it warmed by {rise}?",
        given={
            "capacity": Draw(CAPACITY, "4000 J", "8000 J", "500 J"),
            "resistance": Draw(RESISTANCE, "12 mohm", "20 mohm", "1 mohm"),
            "current": Draw(AMPS, "400 A", "700 A", "50 A"),
            "rise": Draw(RISE, "60 K", "110 K", "10 K"),
        },
        answer=TIME,
        right=lambda capacity, resistance, current, rise: heat.shortest_time(
            current, winding_rise=rise, winding_resistance=resistance, winding_heat_capacity=capacity
        ),
        steps=(
            Step("heat", "R x I x I", "W", lambda resistance, current: resistance * current**2),
            Step("needed", "capacity x rise", "J", lambda capacity, rise: capacity * rise),
            Step("time", "heat needed / heat each second", "s", lambda needed, heat: needed / heat),
        ),
        slips=(
            Slip(
                "current not squared",
                lambda capacity, resistance, current, rise: capacity * rise / (resistance * current),
                "Resistance times current is a voltage. What makes it watts?",
            ),
            Slip(
                "rise left out",
                lambda capacity, resistance, current: capacity / (resistance * current**2),
                "That warms it by one kelvin.",
            ),
        ),
        teacher="The real time is longer: some heat reaches the frame. Compare with the panel.",
    ),
]

PREDICTIONS: list[Exercise] = [
    Prediction(
        id="motors.p1",
        objective=LIMITS,
        depth="Shop",
        text="You halve the motor-current limit. What happens to the torque at rest, and what to the largest power?",
    ),
    Prediction(
        id="motors.p2",
        objective=LONG,
        depth="Shop",
        text="At 300 A the winding takes some minutes to its limit. You raise the current by half. How many minutes: "
        "two thirds, a half, or less?",
    ),
    Prediction(
        id="motors.p3",
        objective=LIMITS,
        depth="Why",
        text="The second machine's flux is 3 % stronger. In parallel, which of the two runs hotter, and in series?",
    ),
]

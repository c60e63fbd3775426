"""Exercises of the motors lesson. Numbers come from the learner's course code; the right answer from the library."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.quantity import Quantity
from evlib.ground.tables import Curve
from evlib.motors import commutator, heat, pack, series
from evlib.motors.controller import pack_current_of
from evlib.motors.magnetisation import Froelich, Tabulated

AMPS = Quantity("I", "A", "current", low=0)
VOLTS = Quantity("V", "V", "voltage", low=0)
SPEED = Quantity("w", "rad/s", "shaft speed", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
POWER = Quantity("P", "W", "power", low=0)
RESISTANCE = Quantity("R", "ohm", "resistance", low=0, shown={"SI": "mohm", "shop": "mohm"})
CONSTANT = Quantity("k", "V s", "back-EMF over speed", low=0)
SHARE = Quantity("e", "", "efficiency", low=0, high=1, shown={"SI": "percent", "shop": "percent"})
TIME = Quantity("t", "s", "time", low=0)
INDUCTANCE = Quantity("L", "H", "mutual inductance", low=0, shown={"SI": "mH", "shop": "mH"})
CAPACITY = Quantity("C", "J", "heat for each kelvin", low=0, shown={"SI": "J", "shop": "J"})
RISE = Quantity("dt", "K", "temperature rise", low=0, kind="difference")
COUNT = Quantity("n", "", "number", low=1, whole=True)

FOUR = "find torque, speed, power and efficiency of a machine from volts and amps"
SAG = "find how far a pack sags, what it can give, and what the controller draws from it"
LIMITS = "say which limit governs at a speed, for one controller or two, in series or in parallel"
LONG = "say how long a current may flow, while turning and while standing still"
TURN = "settle rotation, connection and brushes of each machine, and prove them before coupling"

DROPS = "Which voltages lie between the terminals and the back-EMF? There are two, and they are not there to help."
RADIANS = "Torque times speed is power only with speed in radians a second: a turn is 2 pi, a minute 60 seconds."
BALANCE = "Power balances at the controller, amps do not. Which voltage stands on each side, and which way is the loss?"
HALVES = "Follow the current: what leaves the controller splits in parallel, and it passes whole through a series pair."
SQUARES = (
    "The bars warm with the square of the current, so the time falls with the square: is your ratio the right way?"
)
MEANS = "A winding is warmed by the square of current. Square first, weigh by time over the whole cycle, then the root."
BARS = "Count the bars that lie between two brushes of opposite sign: the bars share themselves among the poles."
SAGGED = "The pack's own resistance takes its share before the terminals: find the voltage under load first."


def _speed(current: float, volts: float, resistance: float, constant: float) -> float:
    curve = Curve(x=np.array([0.0, current]), y=np.array([0.0, constant]))
    return series.speed_at(
        current, volts=volts, magnetisation=Tabulated(curve), winding_resistance=resistance, brush_drop=2.0
    )  # type: ignore[return-value]


def _rms(current: float, loaded: float, rest: float) -> float:
    return float(heat.rms_of_steps(np.array([current, 0.0]), duration=np.array([loaded, rest])))


def _parallel_torque(limit: float, inductance: float) -> float:
    one = series.torque(
        limit / 2, speed=0.0, magnetisation=Froelich(inductance, 300.0), friction_torque=0.0,
        windage_coefficient=0.0, iron_conductance=0.0,
    )  # fmt: skip
    return 2.0 * float(np.asarray(one))


def _inside(current: float, inductance: float) -> float:
    return inductance * current**2 / (1 + current / 300.0)


EXERCISES: list[Exercise] = [
    Number(
        id="motors.1",
        objective=FOUR,
        depth="Shop",
        text="One machine takes {current} at {volts}. Its warm winding has {resistance}, its brushes drop 2 V, and at "
        "this current it makes {constant} of back-EMF for each rad/s. How fast does it turn?",
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
            "torque": Draw(TORQUE, "80 N m", "120 N m", "2 N m"),
            "speed": Draw(SPEED, "1500 rpm", "2000 rpm", "50 rpm"),
            "current": Draw(AMPS, "330 A", "420 A", "10 A"),
            "volts": Draw(VOLTS, "84 V", "96 V", "2 V"),
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
        teacher="Some draws give a doubtful efficiency. Ask which reading they would repeat first.",
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
        "cycle is short against its time constant. Which steady current warms it as much?",
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
        text="Four rows of one bench table, one torque misread. 200 A: 36 N m. 300 A: 70 N m. 400 A: 117 N m. 500 A: "
        "148 N m. Torque per ampere must rise with current, and by less each time. Which row is off?",
        choices=(
            Option(
                text="the row at 200 A",
                reason="Divide each torque by its current: this one fits the bend of its neighbours.",
            ),
            Option(
                text="the row at 300 A",
                reason="Divide each torque by its current and look at the steps: the step to this one is plausible.",
            ),
            Option(
                text="the row at 400 A",
                right=True,
                reason="Torque per ampere goes 0.180, 0.233, 0.293, 0.296: steps of 0.053, 0.060, 0.003. The third "
                "is too high; 107 N m would make the steps fall evenly.",
            ),
            Option(
                text="the row at 500 A",
                reason="Only the step to this row looks small. Which end of that step makes the one before large too?",
            ),
        ),
    ),
    Free(
        id="motors.12",
        objective=LIMITS,
        depth="Why",
        text="A customer has two like series machines, one controller of 600 A and the Orchard van's pack, and wants a "
        "quick start *and* 110 km/h. Series or parallel, one controller or two? Say what you would fit, which "
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

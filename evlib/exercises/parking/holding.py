"""Exercises on what holds a car: rolling away, park lock, the worse wheel, the handbrake, the hill start."""

from __future__ import annotations

from math import atan, cos, pi, sin, sqrt

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.parking.words import (
    FORCE,
    GRADE,
    GRIP,
    HAND_GOAL,
    LOCK_GOAL,
    MASS,
    METRES,
    RADIUS,
    RATIO,
    SECONDS,
    START_GOAL,
    TEETH,
    TORQUE,
    TURN,
    WHEEL_GOAL,
    WHERE,
)
from evlib.ground.quantity import Quantity
from evlib.ground.road import GRAVITY
from evlib.parking import handbrake, hill_start, park_lock, roll_away


def _rolls(grade: float) -> float:
    return GRAVITY * (grade - 0.013) / sqrt(1 + grade**2)


def _pull(mass: float, grade: float) -> float:
    return mass * GRAVITY * sin(atan(grade))


SINE_STEP = Step("sine", "sine of the slope: grade / root of (1 + grade squared)", "", lambda grade: sin(atan(grade)))
COSINE_STEP = Step("cosine", "cosine of it: 1 / root of (1 + grade squared)", "", lambda grade: cos(atan(grade)))


HOLDING: list[Exercise] = [
    Number(
        id="parking.1",
        objective=LOCK_GOAL,
        depth="Shop",
        text="A car stands on a grade of {grade} and is let go. Its tyres have a rolling coefficient of 0.013, its "
        "motors freewheel. How long until it has rolled {distance}?",
        given={"grade": Draw(GRADE, "8 %", "20 %", "1 %"), "distance": Draw(METRES, "3 m", "9 m", "0.5 m")},
        answer=SECONDS,
        right=lambda grade, distance: roll_away.time_to_distance(
            distance, grade=grade, mass=1500.0, rolling_coefficient=0.013
        ),
        steps=(
            Step(
                "sine",
                "sine of the slope: grade / root of (1 + grade squared)",
                "",
                lambda grade, distance: sin(atan(grade)),
            ),
            Step(
                "cosine",
                "cosine of the slope: 1 / root of (1 + grade squared)",
                "",
                lambda grade, distance, sine: cos(atan(grade)),
            ),
            Step(
                "a",
                "9.807 m/s2 x (sine - 0.013 x cosine)",
                "m/s2",
                lambda sine, cosine: GRAVITY * (sine - 0.013 * cosine),
            ),
            Step(
                "time",
                "square root of 2 x distance / a",
                "s",
                lambda distance, a: sqrt(2 * distance / a),
            ),
        ),
        slips=(
            Slip(
                "forgot the two",
                lambda grade, distance: sqrt(distance / (GRAVITY * (grade - 0.013) / sqrt(1 + grade**2))),
                "Distance from rest grows with half the acceleration: look at the formula once more.",
            ),
            Slip(
                "no square root",
                lambda grade, distance: 2 * distance / (GRAVITY * (grade - 0.013) / sqrt(1 + grade**2)),
                "Distance grows with time squared, so time comes out of a root.",
            ),
        ),
    ),
    Number(
        id="parking.2",
        objective=LOCK_GOAL,
        depth="Shop",
        text="A car of {mass} stands on {grade} with park engaged. Tyre radius {radius}. The toothed wheel sits on the "
        "gearbox output, before a final drive of {ratio}. What torque must it hold?",
        given={
            "mass": Draw(MASS, "1000 kg", "2200 kg", "50 kg"),
            "grade": Draw(GRADE, "10 %", "30 %", "1 %"),
            "radius": Draw(RADIUS, "0.26 m", "0.38 m", "0.01 m"),
            "ratio": Draw(RATIO, "3.0", "4.6", "0.1"),
        },
        answer=TORQUE,
        right=lambda mass, grade, radius, ratio: park_lock.lock_torque(
            grade, mass=mass, wheel_radius=radius, lock_ratio=ratio
        ),
        steps=(
            Step(
                "sine",
                "sine of the slope: grade / root of (1 + grade squared)",
                "",
                lambda mass, grade, radius, ratio: sin(atan(grade)),
            ),
            Step(
                "pull",
                "mass x 9.807 m/s2 x sine",
                "N",
                lambda mass, sine: mass * GRAVITY * sine,
            ),
            Step("wheels", "pull x tyre radius", "N m", lambda pull, radius: pull * radius),
            Step(
                "torque",
                "torque at the wheels / final drive",
                "N m",
                lambda wheels, ratio: wheels / ratio,
            ),
        ),
        slips=(
            Slip("ratio upside down", lambda mass, grade, radius, ratio: _pull(mass, grade) * radius * ratio, WHERE),
            Slip("at the wheels", lambda mass, grade, radius, ratio: _pull(mass, grade) * radius, WHERE),
            Slip(
                "diameter for radius",
                lambda mass, grade, radius, ratio: _pull(mass, grade) * 2 * radius / ratio,
                "The force acts at the tyre's radius: from the ground to the wheel's centre, not across the tyre.",
            ),
            Slip(
                "grade taken for an angle in degrees",
                lambda mass, grade, radius, ratio: mass * GRAVITY * sin(100 * grade * pi / 180) * radius / ratio,
                "A grade in per cent is not an angle in degrees: 100 % is 45 degrees.",
            ),
            Slip(
                "kilograms for newtons",
                lambda mass, grade, radius, ratio: _pull(mass, grade) / GRAVITY * radius / ratio,
                "A mass is not a force: its weight comes from multiplying by 9.807 m/s2.",
            ),
        ),
    ),
    Number(
        id="parking.3",
        objective=LOCK_GOAL,
        depth="Why",
        text="The park wheel has {teeth} teeth and {play} of free play, and sits before a final drive of {ratio}. Tyre "
        "radius {radius}. Leave out the twist. How far can the car roll at most before the pawl takes it up?",
        given={
            "teeth": Draw(TEETH, "10", "30", "1"),
            "play": Draw(TURN, "2 deg", "14 deg", "1 deg"),
            "ratio": Draw(RATIO, "3.0", "4.6", "0.1"),
            "radius": Draw(RADIUS, "0.26 m", "0.38 m", "0.01 m"),
        },
        answer=Quantity("s", "m", "roll", low=0),
        right=lambda teeth, play, ratio, radius: park_lock.roll_before_hold(
            0.0, mass=1500.0, wheel_radius=radius, lock_ratio=ratio, park_teeth=teeth, backlash=play, stiffness=5000.0
        ),
        steps=(
            Step("pitch", "a whole turn, 2 pi, / teeth", "rad", lambda teeth, play, ratio, radius: 2 * pi / teeth),
            Step("turn", "pitch + free play", "rad", lambda teeth, play, ratio, radius, pitch: pitch + play),
            Step(
                "roll",
                "turn x tyre radius / final drive",
                "m",
                lambda teeth, play, ratio, radius, pitch, turn: turn * radius / ratio,
            ),
        ),
        slips=(
            Slip(
                "ratio upside down",
                lambda teeth, play, ratio, radius: (2 * pi / teeth + play) * radius * ratio,
                "The wheels turn less than the toothed wheel, which sits before the final drive.",
            ),
            Slip(
                "half a turn",
                lambda teeth, play, ratio, radius: (pi / teeth + play) * radius / ratio,
                "A whole turn of the toothed wheel is shared by its teeth: look at how many radians that is.",
            ),
            Slip(
                "play left out",
                lambda teeth, play, ratio, radius: 2 * pi / teeth * radius / ratio,
                "Two things are used up before it holds: the pitch, and the play in the driveline.",
            ),
        ),
    ),
    Number(
        id="parking.4",
        objective=WHEEL_GOAL,
        depth="Shop",
        text="The driven axle carries {load}, half on each wheel. One wheel has dry road, grip 0.8, the other "
        "slippery ground, grip {worse}. Park is engaged, the differential is open. What force can park hold?",
        given={"load": Draw(FORCE, "5 kN", "12 kN", "0.25 kN"), "worse": Draw(GRIP, "0.10", "0.50", "0.02")},
        answer=FORCE,
        right=lambda load, worse: park_lock.grip_hold(worse, better_grip=0.8, axle_load=load, differential="open"),
        steps=(
            Step("one", "grip of the worse wheel x half the axle load", "N", lambda load, worse: worse * load / 2),
            Step(
                "both", "both wheels the same, because the differential is open", "N", lambda load, worse, one: 2 * one
            ),
        ),
        slips=(
            Slip(
                "each wheel its own",
                lambda load, worse: (worse + 0.8) * load / 2,
                "An open differential gives both wheels the same torque: what does that mean for the wheel that grips?",
            ),
            Slip(
                "better wheel",
                lambda load, worse: 0.8 * load,
                "Which wheel lets go first? The other one can then hold no more than that.",
            ),
            Slip(
                "one wheel alone",
                lambda load, worse: worse * load / 2,
                "Both driven wheels push on the road, each with half of the axle's load.",
            ),
        ),
    ),
    Choice(
        id="parking.5",
        objective=WHEEL_GOAL,
        depth="Shop",
        text="Rear-wheel drive, park lock on the driveline, an icy slope. How does park alone hold better?",
        choices=(
            Option(
                text="nose up",
                right=True,
                reason="The slope moves load to the rear axle, which is the one that park holds.",
            ),
            Option(text="nose down", reason="Think which axle gets lighter then."),
            Option(
                text="no difference", reason="The weight is the same, but how it is shared between the axles is not."
            ),
        ),
    ),
    Number(
        id="parking.6",
        objective=HAND_GOAL,
        depth="Shop",
        text="A lever multiplies {hand} at the hand by {lever}. A fifth is lost in the cables, a bar shares the "
        "rest between two brakes, and the arm in each brake multiplies by {arm}. What force pushes each shoe?",
        given={
            "hand": Draw(FORCE, "200 N", "400 N", "20 N"),
            "lever": Draw(RATIO, "5.0", "8.0", "0.5"),
            "arm": Draw(RATIO, "2.5", "6.0", "0.5"),
        },
        answer=Quantity("F", "N", "force on a shoe", low=0),
        right=lambda hand, lever, arm: handbrake.shoe_force(
            hand, lever_ratio=lever, cable_efficiency=0.8, actuating_ratio=arm
        ),
        steps=(
            Step("cable", "hand force x lever x 0.8", "N", lambda hand, lever, arm: hand * lever * 0.8),
            Step("side", "cable pull / 2", "N", lambda hand, lever, arm, cable: cable / 2),
            Step("shoe", "pull of one side x arm", "N", lambda hand, lever, arm, cable, side: side * arm),
        ),
        slips=(
            Slip(
                "not shared",
                lambda hand, lever, arm: hand * lever * 0.8 * arm,
                "There are two brakes on the axle, and one lever.",
            ),
            Slip(
                "no loss",
                lambda hand, lever, arm: hand * lever / 2 * arm,
                "Something is lost in the cables: a fifth never arrives.",
            ),
            Slip(
                "only the lost part",
                lambda hand, lever, arm: hand * lever * 0.2 / 2 * arm,
                "A fifth is lost: what arrives is the rest.",
            ),
        ),
    ),
    Number(
        id="parking.12",
        objective=START_GOAL,
        depth="Why",
        text="A car of {mass} stands on {grade}, rolling coefficient 0.013. You let the brake go. After {delay} a pull "
        "of {pull} is there, all at once. Leave turning parts out. How far does it roll back in all?",
        given={
            "mass": Draw(MASS, "1200 kg", "2000 kg", "100 kg"),
            "grade": Draw(GRADE, "8 %", "16 %", "1 %"),
            "delay": Draw(SECONDS, "0.30 s", "0.80 s", "0.05 s"),
            "pull": Draw(FORCE, "5 kN", "7 kN", "0.5 kN"),
        },
        answer=Quantity("s", "m", "roll", low=0),
        right=lambda mass, grade, delay, pull: hill_start.rollback(
            pull, grade=grade, mass=mass, rolling_coefficient=0.013, pull_delay=delay, pull_rise=0.0
        ),
        steps=(
            Step(
                "sine",
                "sine of the slope: grade / root of (1 + grade squared)",
                "",
                lambda mass, grade, delay, pull: sin(atan(grade)),
            ),
            Step(
                "cosine",
                "cosine of the slope: 1 / root of (1 + grade squared)",
                "",
                lambda mass, grade, delay, pull, sine: cos(atan(grade)),
            ),
            Step(
                "a",
                "9.807 m/s2 x (sine - 0.013 x cosine)",
                "m/s2",
                lambda sine, cosine: GRAVITY * (sine - 0.013 * cosine),
            ),
            Step("first", "a x delay squared / 2", "m", lambda delay, a: a * delay**2 / 2),
            Step("speed", "a x delay", "m/s", lambda delay, a: a * delay),
            Step("slowing", "pull / mass - a", "m/s2", lambda mass, pull, a: pull / mass - a),
            Step("second", "speed squared / (2 x slowing)", "m", lambda speed, slowing: speed**2 / (2 * slowing)),
            Step("roll", "first + second", "m", lambda first, second: first + second),
        ),
        slips=(
            Slip(
                "stopped at once",
                lambda mass, grade, delay, pull: _rolls(grade) * delay**2 / 2,
                "When the pull comes the car is already rolling. How does it come to a stop?",
            ),
            Slip(
                "slope forgotten",
                lambda mass, grade, delay, pull: (
                    _rolls(grade) * delay**2 / 2 + (_rolls(grade) * delay) ** 2 * mass / (2 * pull)
                ),
                "While the motors pull, the slope goes on pulling the other way.",
            ),
            Slip(
                "no halves",
                lambda mass, grade, delay, pull: (
                    _rolls(grade) * delay**2 + (_rolls(grade) * delay) ** 2 / (pull / mass - _rolls(grade))
                ),
                "Distance from rest, and distance to rest, go with half of what you have: look at the formulas again.",
            ),
        ),
    ),
    Prediction(
        id="parking.p1",
        objective=WHEEL_GOAL,
        depth="Shop",
        text="One driven wheel stands on ice (grip 0.1), the other on dry road. How much of what park could hold "
        "is left: about all, about half, or about an eighth?",
    ),
    Prediction(
        id="parking.p2",
        objective=LOCK_GOAL,
        depth="Shop",
        text="On a 10 % drive the car is let go. After how many seconds has it rolled one car length?",
    ),
]

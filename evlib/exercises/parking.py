"""The exercises of the parking lesson."""

from __future__ import annotations

from math import atan, pi, sin, sqrt

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.quantity import Quantity
from evlib.ground.road import GRAVITY
from evlib.parking import handbrake, park_lock, reverse, roll_away

MASS = Quantity("m", "kg", "mass of the car", above=0)
RADIUS = Quantity("r", "m", "tyre radius", above=0)
RATIO = Quantity("i", "", "ratio", above=0)
GRADE = Quantity("G", "", "grade", low=0, shown={"SI": "percent", "shop": "percent"})
TORQUE = Quantity("T", "N m", "torque", low=0)
FORCE = Quantity("F", "N", "force along the road", low=0)
SECONDS = Quantity("t", "s", "time", low=0)
METRES = Quantity("s", "m", "distance", low=0, shown={"SI": "m", "shop": "ft"})
TEETH = Quantity("z", "", "teeth", low=4, whole=True)
TURN = Quantity("b", "rad", "free turn", low=0)
GRIP = Quantity("mu", "", "grip", low=0)

LOCK_GOAL = "work out how a car rolls away, what park lock must hold, and how far it rolls first"
WHEEL_GOAL = "say which wheel decides through an open differential, nose up and nose down"
HAND_GOAL = "follow the handbrake's force from hand to road, each way"
BACK_GOAL = "compare three ways of going backwards, and say which way each turns the pump"
RULE_GOAL = "read a selector table, and say why a request is refused"

SINE = "The grade is rise over run. What pulls along the road is the sine of the slope's angle, not the grade itself."
WHERE = "Ask where the toothed wheel sits: what lies between it and the wheels multiplies or divides the torque."


def _pull(mass: float, grade: float) -> float:
    return mass * GRAVITY * sin(atan(grade))


EXERCISES: list[Exercise] = [
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
                "a",
                "9.81 m/s2 x (sine of the slope - 0.013 x cosine of it)",
                "m/s2",
                lambda grade, distance: GRAVITY * (grade - 0.013) / sqrt(1 + grade**2),
            ),
            Step("time", "square root of 2 x distance / a", "s", lambda grade, distance, a: sqrt(2 * distance / a)),
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
                "pull",
                "mass x 9.81 m/s2 x sine of the slope",
                "N",
                lambda mass, grade, radius, ratio: _pull(mass, grade),
            ),
            Step("wheels", "pull x tyre radius", "N m", lambda mass, grade, radius, ratio, pull: pull * radius),
            Step(
                "torque",
                "torque at the wheels / final drive",
                "N m",
                lambda mass, grade, radius, ratio, pull, wheels: wheels / ratio,
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
                "A mass is not a force: its weight comes from multiplying by 9.81 m/s2.",
            ),
        ),
    ),
    Number(
        id="parking.3",
        objective=LOCK_GOAL,
        depth="Why",
        text="The park wheel has {teeth} teeth and {play} of free play, and sits before a final drive of {ratio}. Tyre "
        "radius {radius}. Leave out the wind-up. How far can the car roll at most before park holds?",
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
        "wet leaves, grip {worse}. Park is engaged, the differential is open. What force can park hold?",
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
    Choice(
        id="parking.7",
        objective=BACK_GOAL,
        depth="Why",
        text="A learner swaps the two supply cables of a series-wound motor to make it turn backward. What happens?",
        choices=(
            Option(
                text="it turns backward",
                reason="Follow the current through both windings: which of the two changed its direction?",
            ),
            Option(
                text="it turns as before",
                right=True,
                reason="Armature and field current both change sign, and torque goes with their product.",
            ),
            Option(text="it stands still", reason="Both windings still carry current, so there is torque."),
        ),
    ),
    Choice(
        id="parking.8",
        objective=BACK_GOAL,
        depth="Shop",
        text="With which way of going backwards does the gearbox's own oil pump still turn the right way?",
        choices=(
            Option(
                text="reverse in the gearbox",
                right=True,
                reason="The motors, and the pump they drive, keep turning forward.",
            ),
            Option(
                text="contactors that swap the field", reason="Then the motors turn backward. What turns with them?"
            ),
            Option(
                text="an inverter told to run backward", reason="Then the motor turns backward. What turns with it?"
            ),
        ),
    ),
    Number(
        id="parking.9",
        objective=BACK_GOAL,
        depth="Shop",
        text="At the gearbox input there are {torque}. Reverse has a ratio of {reverse}, the final drive {final}, tyre "
        "radius {radius}. Leave out losses. What is the pull backwards at the tyres?",
        given={
            "torque": Draw(TORQUE, "120 N m", "380 N m", "20 N m"),
            "reverse": Draw(RATIO, "1.6", "2.4", "0.1"),
            "final": Draw(RATIO, "3.0", "4.6", "0.1"),
            "radius": Draw(RADIUS, "0.26 m", "0.38 m", "0.01 m"),
        },
        answer=FORCE,
        right=lambda torque, reverse, final, radius: _back(torque, reverse, final, radius),
        steps=(
            Step(
                "wheels",
                "torque x reverse ratio x final drive",
                "N m",
                lambda torque, reverse, final, radius: torque * reverse * final,
            ),
            Step(
                "pull",
                "torque at the wheels / tyre radius",
                "N",
                lambda torque, reverse, final, radius, wheels: wheels / radius,
            ),
        ),
        slips=(
            Slip(
                "reverse ratio left out",
                lambda torque, reverse, final, radius: torque * final / radius,
                "Two ratios lie between the gearbox input and the wheels, one after the other.",
            ),
            Slip(
                "times radius",
                lambda torque, reverse, final, radius: torque * reverse * final * radius,
                "A longer lever makes a smaller force from the same torque.",
            ),
            Slip(
                "diameter",
                lambda torque, reverse, final, radius: torque * reverse * final / (2 * radius),
                "The force acts at the tyre's radius, not across the tyre.",
            ),
        ),
    ),
    Choice(
        id="parking.10",
        objective=RULE_GOAL,
        depth="Shop",
        text="At 90 km/h a driver pulls the lever to low. The table refuses. Why is that right?",
        choices=(
            Option(
                text="the motors would turn past their limit",
                right=True,
                reason="The wheels drive the motors through the lower gear; no current is needed for that.",
            ),
            Option(
                text="there would be too much pull at that speed",
                reason="Even without any current there is a danger. Which?",
            ),
            Option(text="the pack could not deliver the current", reason="The danger is there with the pedal up, too."),
        ),
    ),
    Choice(
        id="parking.11",
        objective=RULE_GOAL,
        depth="Why",
        text="The road-speed sensor is lost while driving in drive. What should the table do when low is asked for?",
        choices=(
            Option(
                text="grant it: no speed is seen, so the car stands",
                reason="A lost sensor does not say zero. It says nothing.",
            ),
            Option(
                text="refuse it: the speed is not known",
                right=True,
                reason="What is not known meets no condition; losing a sensor must never add torque or allow a step.",
            ),
            Option(
                text="switch everything off at once", reason="Losing all pull on a motorway is a danger of its own."
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


def _back(torque: float, reverse_ratio: float, final: float, radius: float) -> float:
    return float(
        reverse.reverse_pull(
            torque, reverse_ratio=reverse_ratio, final_ratio=final, efficiency=1.0, wheel_radius=radius
        )
    )

"""Lesson 8: your own vehicle. Readings into values, where values come from, and what to find out next."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.quantity import SPREAD, Quantity
from evlib.ground.road import grade_force

MASS = Quantity("m", "kg", "mass", above=0)
SHARE = Quantity("s_r", "", "share of the mass on the rear axle", shown={"SI": "percent", "shop": "percent"})
DISTANCE = Quantity("s", "m", "distance rolled", above=0)
RADIUS = Quantity("r", "m", "loaded tyre radius", above=0)
TURNS = Quantity("n", "", "turns of the wheel", above=0, whole=True)
FORCE = Quantity("F", "N", "force along the slope", above=0)
GRADE = Quantity("G", "", "grade", above=0, shown={"SI": "percent", "shop": "percent"})

SPREADS = "say where a value comes from, and how far off it may be"
READING = "turn a reading into a value of the build"
NEXT = "choose which missing value to find out next"
MEASURE = "decide whether to measure again or to change a part"

SCALE = (
    "Stay out of the way of lorries; nobody under or in front of the vehicle while it rolls on to the scale. A second "
    "person waves you on."
)
ROLL = "Level ground, motors off, brakes tested first, chocks at hand; a second person beside the handbrake."

EXERCISES: list[Exercise] = [
    Number(
        id="vehicle.1",
        objective=SPREADS,
        depth="Shop",
        text="You guess that the converted car will have a mass of {mass}. These lessons take a guess to be off by "
        "15 %, up or down (one standard deviation). How many kilograms is that?",
        given={"mass": Draw(MASS, "900 kg", "2100 kg", "20 kg")},
        answer=MASS,
        right=lambda mass: SPREAD["guess"] * mass,
        steps=(Step("off", "0.15 x mass", "kg", lambda mass: 0.15 * mass),),
        slips=(
            Slip("both ways added", lambda mass: 0.30 * mass, "Is 15 % the way to one side, or from end to end?"),
            Slip(
                "catalogue for guess",
                lambda mass: 0.03 * mass,
                "That is how far off a catalogue's value is taken to be. Is this one from a catalogue?",
            ),
            Slip("the upper end", lambda mass: 1.15 * mass, "How far off is asked, not how large it may be."),
        ),
    ),
    Number(
        id="vehicle.2",
        objective=READING,
        depth="Shop",
        place="vehicle",
        caution=SCALE,
        text="On a public scale you drive the front wheels on first, then the whole car. The scale reads {front}, "
        "then {whole}. Which share of the mass stands on the rear axle, in per cent?",
        given={
            "front": Draw(MASS, "600 kg", "800 kg", "10 kg"),
            "whole": Draw(MASS, "1500 kg", "1800 kg", "20 kg"),
        },
        answer=SHARE,
        right=lambda front, whole: 1 - front / whole,
        steps=(
            Step("rear", "whole - front", "kg", lambda front, whole: whole - front),
            Step("share", "rear / whole", "", lambda rear, whole: rear / whole),
        ),
        slips=(
            Slip("the front's share", lambda front, whole: front / whole, "Whose share was asked for?"),
            Slip(
                "rear against front",
                lambda front, whole: (whole - front) / front,
                "A share is a part of the whole. What did you divide by?",
            ),
        ),
        teacher="A scale that takes one axle at a time must be level with the road, or the reading shifts.",
    ),
    Number(
        id="vehicle.3",
        objective=READING,
        depth="Shop",
        place="vehicle",
        caution=ROLL,
        text="You chalk the tyre and the ground, and push the loaded car straight on until the wheel has turned "
        "{turns} times. The marks on the ground are {distance} apart. What is the tyre's radius as it rolls?",
        given={"turns": Draw(TURNS, "2", "5", "1"), "distance": Draw(DISTANCE, "5.4 m", "9.8 m", "0.2 m")},
        answer=RADIUS,
        right=lambda turns, distance: distance / turns / (2 * pi),
        steps=(
            Step("one_turn", "distance / turns", "m", lambda turns, distance: distance / turns),
            Step("radius", "one_turn / (2 pi)", "m", lambda one_turn: one_turn / (2 * pi)),
        ),
        slips=(
            Slip(
                "diameter for radius",
                lambda turns, distance: distance / turns / pi,
                "That reaches across the whole tyre. From where to where is a radius?",
            ),
            Slip(
                "turns left out",
                lambda turns, distance: distance / (2 * pi),
                "How many turns did the wheel make on that distance?",
            ),
            Slip("pi left out", lambda turns, distance: distance / turns / 2, "How far does a wheel roll in one turn?"),
        ),
    ),
    Choice(
        id="vehicle.4",
        objective=NEXT,
        depth="Shop",
        text="Four values are missing. Which one do you find out next?",
        choices=(
            Option(
                text="The tooth counts: 28 checks wait for them, and the gearbox lies open on the bench this week.",
                right=True,
                reason="Many checks wait for it, and it can be had now. Both count.",
            ),
            Option(
                text="The oil's viscosity when hot: 9 checks wait for it, and they also wait for 12 other values.",
                reason="Would a single check more be made tomorrow if you knew it?",
            ),
            Option(
                text="The machine's rotor inertia, because it is the hardest to get and hard things come first.",
                reason="Difficulty is no measure. How many checks wait for it, and what would they tell you?",
            ),
            Option(
                text="None of them: first order the parts, then measure what has come.",
                reason="What is the build file for, if not to find out before the money is spent?",
            ),
        ),
    ),
    Choice(
        id="vehicle.5",
        objective=MEASURE,
        depth="Shop",
        text="Your steepest start fails by 4 %. The vehicle's mass in that check is a guess. What do you do first?",
        choices=(
            Option(
                text="Weigh the vehicle: a guess may be off by far more than 4 %, and the scale costs an hour.",
                right=True,
                reason="The verdict hangs on a number that nobody has measured. It may turn either way.",
            ),
            Option(
                text="Fit a shorter final drive, since a failed check means that a part is too weak.",
                reason="What does the check believe, and who told it so?",
            ),
            Option(
                text="Lower the target grade until the check passes, and go on with the next one.",
                reason="Has the hill at the end of your road become less steep?",
            ),
            Option(
                text="Put in a smaller guess, because the mass will surely come down in the end.",
                reason="How will you know? A guess that is chosen for its result is worth nothing.",
            ),
        ),
    ),
    Number(
        id="vehicle.6",
        objective=MEASURE,
        depth="Why",
        text="Your car must start on a {grade} hill. You guessed {mass}; the scale says 8 % more. How much more force "
        "does the slope alone ask for than you had reckoned with?",
        given={"grade": Draw(GRADE, "12 %", "24 %", "2 %"), "mass": Draw(MASS, "1000 kg", "1900 kg", "50 kg")},
        answer=FORCE,
        right=lambda grade, mass: grade_force(0.08 * mass, grade=grade),
        steps=(
            Step("more", "0.08 x mass", "kg", lambda mass: 0.08 * mass),
            Step("sine", "grade / root of (1 + grade^2)", "", lambda grade: grade / (1 + grade**2) ** 0.5),
            Step("force", "more x 9.807 x sine", "N", lambda more, sine: more * 9.80665 * sine),
        ),
        slips=(
            Slip(
                "the whole force",
                lambda grade, mass: grade_force(1.08 * mass, grade=grade),
                "That is the whole force of the slope. How much more than before was asked.",
            ),
            Slip(
                "weight for slope",
                lambda grade, mass: 0.08 * mass * 9.80665,
                "That is how much heavier the car presses down. Which part of it pulls along the slope?",
            ),
        ),
    ),
    Prediction(
        id="vehicle.p1",
        objective=NEXT,
        depth="Shop",
        text="Of a car only pack, controller and motors are known. How many of the hundred or so checks can be made?",
    ),
]

"""Bridges 8 to 10: grade, graph and log, tolerance."""

from __future__ import annotations

from math import asin, atan, cos, pi, radians, sin, sqrt

from evlib.exercises.base import Exercise
from evlib.exercises.bridges.quantities import (
    ACCELERATION,
    AMPS,
    ANGLE,
    FORCE,
    GAUGE,
    LENGTH,
    RESISTANCE,
    ROAD_SPEED,
    SHARE,
    TIME,
    VOLTS,
)
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.road import GRAVITY, Grade, Mass, grade_force, slope_angle

ROAD: list[Exercise] = [
    Number(
        id="bridges.8",
        objective="turn a grade in per cent into an angle and a pull",
        depth="Why",
        text="A ramp has a grade of {grade}: so much rise for each metre along the level. What is its angle?",
        given={"grade": Draw(Grade, "20 %", "35 %", "1 %")},
        answer=ANGLE,
        right=slope_angle,
        steps=(Step("angle", "arctangent of (grade / 100)", "rad", lambda grade: atan(grade)),),
        slips=(
            Slip(
                "per cent as degrees",
                lambda grade: radians(grade * 100),
                "Per cent are not degrees: 100 % is 45 degrees.",
            ),
            Slip(
                "share of a right angle",
                lambda grade: grade * pi / 2,
                "Half of a right angle is 100 %, and the angle does not grow evenly with the grade.",
            ),
            Slip(
                "share of half a right angle",
                lambda grade: grade * pi / 4,
                "You know one point, 100 % is 45 degrees, but the angle does not grow evenly with the grade.",
            ),
            Slip(
                "sine for tangent",
                lambda grade: asin(grade),
                "A grade is rise over the level distance, not over the distance along the road.",
            ),
        ),
    ),
    Number(
        id="bridges.8b",
        objective="turn a grade in per cent into an angle and a pull",
        depth="Why",
        text="A vehicle of {mass} stands on a grade of {grade}. With what force does it pull down the slope?",
        given={
            "mass": Draw(Mass, "1150 kg", "2450 kg", "50 kg"),
            "grade": Draw(Grade, "26 %", "40 %", "1 %"),
        },
        answer=FORCE,
        right=lambda mass, grade: grade_force(mass, grade=grade),
        steps=(
            Step("sine", "grade / square root of (1 + grade^2)", "", lambda grade: grade / sqrt(1 + grade**2)),
            Step("pull", "mass x 9.81 x sine", "N", lambda mass, sine: mass * GRAVITY * sine),
        ),
        slips=(
            Slip(
                "grade for sine",
                lambda mass, grade: mass * GRAVITY * grade,
                "Close, but a steep grade is not its own sine: go by way of the angle.",
            ),
            Slip(
                "cosine for sine",
                lambda mass, grade: mass * GRAVITY * cos(atan(grade)),
                "That is how hard the vehicle presses on the road; the pull along it is wanted.",
            ),
            Slip(
                "mass for weight",
                lambda mass, grade: mass * sin(atan(grade)),
                "Kilograms are not newtons: where is the pull of the earth?",
            ),
            Slip(
                "per cent as degrees",
                lambda mass, grade: mass * GRAVITY * sin(radians(grade * 100)),
                "Per cent are not degrees: 100 % is 45 degrees.",
            ),
        ),
    ),
    Number(
        id="bridges.9",
        objective="read a value from a graph and from a log",
        depth="Shop",
        text="A log says: at 10 s the speed is {first}, {time} later it is {second}. "
        "What was the acceleration in between, in m/s²?",
        given={
            "first": Draw(ROAD_SPEED, "8 km/h", "22 km/h", "2 km/h"),
            "second": Draw(ROAD_SPEED, "42 km/h", "68 km/h", "2 km/h"),
            "time": Draw(TIME, "3 s", "7 s", "1 s"),
        },
        answer=ACCELERATION,
        right=lambda first, second, time: (second - first) / time,
        steps=(
            Step("gain", "second speed - first speed", "m/s", lambda first, second: second - first),
            Step("acceleration", "gain in m/s / time", "m/s2", lambda gain, time: gain / time),
        ),
        slips=(
            Slip(
                "km/h for m/s",
                lambda first, second, time: (second - first) * 3.6 / time,
                "The log is in km/h; divide by 3.6 to get m/s.",
            ),
            Slip(
                "difference forgotten",
                lambda second, time: second / time,
                "It did not start from rest: how much speed was gained?",
            ),
            Slip(
                "clock for time between",
                lambda first, second, time: (second - first) / (10 + time),
                "The clock is not the time between the two rows.",
            ),
            Slip(
                "upside down",
                lambda first, second, time: time / (second - first),
                "Acceleration is the speed gained for each second, not seconds for each m/s.",
            ),
        ),
    ),
    Number(
        id="bridges.9b",
        objective="read a value from a graph and from a log",
        depth="Why",
        text="On a graph the pack's voltage falls in a straight line, from {rest} at no current to {loaded} at {amps}. "
        "The slope of the line is the pack's resistance. How large is it?",
        given={
            "rest": Draw(VOLTS, "300 V", "330 V", "5 V"),
            "loaded": Draw(VOLTS, "240 V", "280 V", "5 V"),
            "amps": Draw(AMPS, "300 A", "450 A", "50 A"),
        },
        answer=RESISTANCE,
        right=lambda rest, loaded, amps: (rest - loaded) / amps,
        steps=(
            Step("fall", "volts at rest - volts under load", "V", lambda rest, loaded: rest - loaded),
            Step("slope", "fall / current", "ohm", lambda fall, amps: fall / amps),
        ),
        slips=(
            Slip("height for slope", lambda loaded, amps: loaded / amps, "A slope is a fall over a run, not a height."),
            Slip("height at rest", lambda rest, amps: rest / amps, "A slope is a fall over a run, not a height."),
            Slip(
                "upside down",
                lambda rest, loaded, amps: amps / (rest - loaded),
                "Ohms are volts for each amp: fall over run, not run over fall.",
            ),
        ),
    ),
    Number(
        id="bridges.10",
        objective="carry plus-minus and tolerance through a sum",
        depth="Shop",
        text="A bore is {depth} deep, plus or minus {play}. A hub of {hub}, plus or minus {spread}, goes into it. "
        "In the worst case, what is the smallest gap left behind the hub?",
        given={
            "depth": Draw(LENGTH, "43.0 mm", "44.0 mm", "0.5 mm"),
            "play": Draw(LENGTH, "0.3 mm", "0.5 mm", "0.1 mm"),
            "hub": Draw(LENGTH, "41.0 mm", "42.0 mm", "0.5 mm"),
            "spread": Draw(LENGTH, "0.1 mm", "0.2 mm", "0.1 mm"),
        },
        answer=LENGTH,
        right=lambda depth, play, hub, spread: (depth - play) - (hub + spread),
        steps=(
            Step("nominal", "depth - hub", "m", lambda depth, hub: depth - hub),
            Step("worst", "both tolerances together", "m", lambda play, spread: play + spread),
            Step("smallest", "nominal gap - both tolerances", "m", lambda nominal, worst: nominal - worst),
        ),
        slips=(
            Slip(
                "tolerances forgotten",
                lambda depth, hub: depth - hub,
                "That is the gap on the drawing; now the worst case.",
            ),
            Slip(
                "largest gap",
                lambda depth, play, hub, spread: depth - hub + play + spread,
                "That is the largest gap: which way must each part be off to leave the least?",
            ),
            Slip(
                "tolerances subtracted",
                lambda depth, play, hub, spread: depth - hub - (play - spread),
                "One part's error does not make up for the other's: in the worst case both eat into the gap.",
            ),
            Slip(
                "one tolerance only",
                lambda depth, play, hub: depth - hub - play,
                "Both parts can be off at once.",
            ),
            Slip(
                "other tolerance only",
                lambda depth, hub, spread: depth - hub - spread,
                "Both parts can be off at once.",
            ),
        ),
    ),
    Number(
        id="bridges.10b",
        objective="carry plus-minus and tolerance through a sum",
        depth="Shop",
        text="A gauge that goes to {span} is good to plus or minus {accuracy} of its full span. It shows {reading}. "
        "How low may the true pressure be?",
        given={
            "span": Draw(GAUGE, "200 psi", "300 psi", "50 psi"),
            "accuracy": Draw(SHARE, "3 %", "5 %", "1 %"),
            "reading": Draw(GAUGE, "70 psi", "120 psi", "5 psi"),
        },
        answer=GAUGE,
        right=lambda span, accuracy, reading: reading - accuracy * span,
        steps=(
            Step("band", "accuracy x span", "Pa", lambda span, accuracy: accuracy * span),
            Step("low", "reading - band", "Pa", lambda reading, band: reading - band),
        ),
        slips=(
            Slip(
                "per cent of the reading",
                lambda accuracy, reading: reading * (1 - accuracy),
                "Per cent of what? The gauge is good to a share of its full span, wherever the needle stands.",
            ),
            Slip(
                "high for low",
                lambda span, accuracy, reading: reading + accuracy * span,
                "That is how high it may be.",
            ),
        ),
    ),
]

"""A sum of pulls that went wrong."""

from __future__ import annotations

from math import atan, radians, sin

from evlib.exercises.base import Exercise
from evlib.exercises.gearing.ratios_and_changes import MASS, PULL_GOAL, RATIO, TORQUE
from evlib.exercises.number import Draw
from evlib.exercises.wrong_line import Fault, Line, WrongLine
from evlib.gearing import quantities as q
from evlib.gearing.traction import tractive_effort
from evlib.ground.road import GRAVITY, grade_force


def _left(
    torque: float, low: float, final: float, efficiency: float, radius: float, mass: float, grade: float
) -> float:  # fmt: skip
    pull = tractive_effort(
        torque, gear_ratio=low, final_drive_ratio=final, wheel_radius=radius, efficiency=efficiency
    )  # fmt: skip
    return float(pull) - float(grade_force(mass, grade=grade))


AT_THE_DESK: list[Exercise] = [
    WrongLine(
        id="gearing.13",
        objective=PULL_GOAL,
        depth="Shop",
        text="Somebody has worked out what pull is left on a hill of {grade} (rolling and air left out). The motors "
        "give {torque}; low is {low}, the final drive {final}, {efficiency} comes through, the tyre radius is "
        "{radius}, the mass {mass}. One line is wrong; the lines after it go on with what it gave. Which line, and "
        "what should stand there?",
        given={
            "torque": Draw(TORQUE, "300 N m", "420 N m", "10 N m"),
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "final": Draw(RATIO, "3.20", "4.40", "0.10"),
            "efficiency": Draw(q.Efficiency, "86 %", "93 %", "1 %"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
            "mass": Draw(MASS, "1200 kg", "1800 kg", "50 kg"),
            "grade": Draw(q.Grade, "8 %", "16 %", "1 %"),
        },
        lines=(
            Line(
                name="ratio",
                equation="low x final drive",
                unit="",
                function=lambda low, final: low * final,
                holds="One reduction comes after the other, so they multiply, and so they do here.",
            ),
            Line(
                name="axle_torque",
                equation="motor torque x ratio x share that comes through",
                unit="N m",
                function=lambda torque, ratio, efficiency: torque * ratio * efficiency,
                holds="A reduction makes torque larger and losses make it smaller: this line does both.",
            ),
            Line(
                name="pull",
                equation="axle torque / tyre radius",
                unit="N",
                function=lambda axle_torque, radius: axle_torque / radius,
                holds="Force is torque over the radius at which it acts: so it stands here.",
            ),
            Line(
                name="hill",
                equation="mass x 9.80665 m/s2 x sine of the slope's angle",
                unit="N",
                function=lambda mass, grade: mass * GRAVITY * sin(atan(grade)),
                holds="The share of the weight along the road goes by the sine of the angle. Do this sum again: rise "
                "over run gives the angle.",
            ),
            Line(
                name="left",
                equation="pull - hill",
                unit="N",
                function=lambda pull, hill: pull - hill,
                holds="What the hill takes is no longer there to push: this line takes it off.",
            ),
        ),
        faults=(
            Fault(
                line="ratio",
                name="ratios added",
                equation="low + final drive",
                function=lambda low, final: low + final,
                hint="That is what stands there now. If each halves the speed, is it a quarter or a fourth less?",
                why="Reductions one after the other multiply.",
            ),
            Fault(
                line="axle_torque",
                name="losses the wrong way",
                equation="motor torque x ratio / share that comes through",
                function=lambda torque, ratio, efficiency: torque * ratio / efficiency,
                hint="That is what stands there now. Do losses make the torque at the axle larger or smaller?",
                why="Only a share of the torque comes through: multiply by it.",
            ),
            Fault(
                line="pull",
                name="diameter for radius",
                equation="axle torque / tyre diameter",
                function=lambda axle_torque, radius: axle_torque / (2 * radius),
                hint="That is what stands there now. Torque acts from the wheel's centre to the ground.",
                why="Torque acts at the radius of the tyre.",
            ),
            Fault(
                line="hill",
                name="per cent read as degrees",
                function=lambda mass, grade: mass * GRAVITY * sin(radians(100 * grade)),
                hint="That is what stands there now. Per cent of grade is rise over run; degrees are something else.",
                why="The line reads well, and yet the per cents of the grade went in as degrees.",
            ),
            Fault(
                line="left",
                name="hill added",
                equation="pull + hill",
                function=lambda pull, hill: pull + hill,
                hint="That is what stands there now. Does the hill help or hinder?",
                why="The hill pulls back: it is taken off.",
            ),
        ),
        right=_left,
        teacher="Have them say the size of each line before they work it out: one of them then looks wrong at once.",
    ),
]

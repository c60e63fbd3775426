"""Bridges 4 and 5: ratios and per cent, pressure times area."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.bridges.quantities import ABSOLUTE, FORCE, GAUGE, LENGTH, RATIO, SHARE, SPEED, TORQUE
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.units import STANDARD_ATMOSPHERE

CIRCLE = "The area of a circle takes the radius, which is half the bore, squared, times pi."

SHARES: list[Exercise] = [
    Number(
        id="bridges.4",
        objective="work with ratios and per cent",
        depth="Shop",
        text="A gearbox with a reduction of {ratio} : 1 takes in {torque} and loses {loss} of the power. "
        "What torque comes out?",
        given={
            "ratio": Draw(RATIO, "1.5", "3.8", "0.1"),
            "torque": Draw(TORQUE, "110 N m", "390 N m", "10 N m"),
            "loss": Draw(SHARE, "5 %", "12 %", "1 %"),
        },
        answer=TORQUE,
        right=lambda ratio, torque, loss: torque * ratio * (1 - loss),
        steps=(
            Step("ideal", "torque x reduction", "N m", lambda ratio, torque: torque * ratio),
            Step("out", "that x (1 - loss)", "N m", lambda ideal, loss: ideal * (1 - loss)),
        ),
        slips=(
            Slip(
                "ratio upside down",
                lambda ratio, torque, loss: torque / ratio * (1 - loss),
                "A reduction makes the shaft slower and the torque larger: your ratio is upside down.",
            ),
            Slip(
                "loss forgotten",
                lambda ratio, torque, loss: torque * ratio,
                "That would be a gearbox that loses nothing.",
            ),
            Slip(
                "loss added",
                lambda ratio, torque, loss: torque * ratio * (1 + loss),
                "A loss cannot make the torque larger.",
            ),
            Slip(
                "only the loss",
                lambda ratio, torque, loss: torque * ratio * loss,
                "That is the part which is lost; what is left is wanted.",
            ),
        ),
    ),
    Number(
        id="bridges.4b",
        objective="work with ratios and per cent",
        depth="Shop",
        text="Under load a motor slows from {before} to {after}. By how many per cent has the speed fallen?",
        given={
            "before": Draw(SPEED, "3000 rpm", "3900 rpm", "100 rpm"),
            "after": Draw(SPEED, "2000 rpm", "2600 rpm", "100 rpm"),
        },
        answer=SHARE,
        right=lambda before, after: (before - after) / before,
        steps=(
            Step("fall", "speed before - speed after", "rad/s", lambda before, after: before - after),
            Step("share", "fall / speed before", "", lambda fall, before: fall / before),
        ),
        slips=(
            Slip(
                "part of the new value",
                lambda before, after: (before - after) / after,
                "Per cent of what? A fall is measured against the value before it.",
            ),
            Slip("what is left", lambda before, after: after / before, "That is what is left; the fall is wanted."),
        ),
    ),
    Number(
        id="bridges.5",
        objective="find force from pressure and area, and tell gauge from absolute pressure",
        depth="Shop",
        text="Oil at {pressure} (gauge) pushes on a round piston of {bore} bore. With what force?",
        given={
            "pressure": Draw(GAUGE, "410 kPa", "980 kPa", "10 kPa"),
            "bore": Draw(LENGTH, "24 mm", "66 mm", "2 mm"),
        },
        answer=FORCE,
        right=lambda pressure, bore: pressure * pi / 4 * bore**2,
        steps=(
            Step("area", "pi x (bore / 2)^2", "m2", lambda bore: pi * (bore / 2) ** 2),
            Step("force", "pressure x area", "N", lambda pressure, area: pressure * area),
        ),
        slips=(
            Slip("diameter for radius", lambda pressure, bore: pressure * pi * bore**2, CIRCLE),
            Slip(
                "square, not round", lambda pressure, bore: pressure * bore**2, "That is the force on a square piston."
            ),
            Slip("radius not squared", lambda pressure, bore: pressure * pi * bore / 2, CIRCLE),
            Slip(
                "absolute for gauge",
                lambda pressure, bore: (pressure + STANDARD_ATMOSPHERE) * pi / 4 * bore**2,
                "Air presses on the other side of the piston too: use the gauge pressure alone.",
            ),
        ),
    ),
    Number(
        id="bridges.5b",
        objective="find force from pressure and area, and tell gauge from absolute pressure",
        depth="Shop",
        text="A gauge on the pump line shows {pressure}. What is the absolute pressure at sea level? "
        "(The air presses with 101.3 kPa, which is 14.7 psi. Write psia or kPa.)",
        given={"pressure": Draw(GAUGE, "55 psi", "120 psi", "5 psi")},
        answer=ABSOLUTE,
        right=lambda pressure: pressure + STANDARD_ATMOSPHERE,
        steps=(
            Step(
                "absolute",
                "gauge pressure + pressure of the air",
                "Pa",
                lambda pressure: pressure + STANDARD_ATMOSPHERE,
            ),
        ),
        slips=(
            Slip(
                "gauge left as it is",
                lambda pressure: pressure,
                "A gauge in open air shows zero; an absolute one does not.",
            ),
            Slip(
                "subtracted",
                lambda pressure: pressure - STANDARD_ATMOSPHERE,
                "Absolute pressure counts from empty space, so it is larger than what the gauge shows.",
            ),
        ),
    ),
]

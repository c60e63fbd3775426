"""Exercises on what clutches and bands hold, and on launch."""

from __future__ import annotations

from math import expm1, pi

from evlib.exercises.base import Exercise
from evlib.exercises.free import Free, Prediction
from evlib.exercises.hydraulics.words import ANGLE, FORCE, HOLD, LAUNCH, RADIUS, TORQUE
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.hydraulics import clutch, launch
from evlib.hydraulics import quantities as q

RING = "The oil presses on a ring: take the inner circle's area off the outer one's."
HALF = "The area of a circle takes half its diameter, squared, times pi."
SPRING = "What is left to press on the plates? Something pushes the piston back all the time."


def _force(pressure: float, outer: float, inner: float, spring: float) -> float:
    area = clutch.piston_area(outer, inner_diameter=inner)
    return float(clutch.apply_force(pressure, area=area, return_spring_force=spring, spinning_force=0.0))


def _plates(force: float, faces: float, outer: float, inner: float) -> float:
    return float(
        clutch.plate_torque(
            force, friction=0.12, faces=faces, outer_diameter=outer, inner_diameter=inner, contact="uniform wear"
        )
    )


def _band(force: float, wrap: float, drum: float) -> float:
    return float(
        clutch.band_capacity(
            force, friction=0.12, wrap_angle=wrap, drum_diameter=drum, lever_ratio=1.0, sense="energising"
        )
    )


LAUNCHING: list[Exercise] = [
    Number(
        id="hydraulics.2",
        objective=HOLD,
        depth="Shop",
        text="A clutch piston is a ring of {outer} outside and {inner} inside. Main pressure is {pressure}, the return "
        "springs push back with {spring}. With what force does it press the plates?",
        given={
            "pressure": Draw(q.Pressure, "400 kPa", "900 kPa", "50 kPa"),
            "outer": Draw(q.PistonOuter, "130 mm", "160 mm", "5 mm"),
            "inner": Draw(q.PistonInner, "70 mm", "90 mm", "5 mm"),
            "spring": Draw(q.SpringForce, "600 N", "1000 N", "50 N"),
        },
        answer=FORCE,
        right=_force,
        steps=(
            Step("area", "pi/4 x (outer² - inner²)", "m2", lambda outer, inner: pi / 4 * (outer**2 - inner**2)),
            Step("push", "pressure x area", "N", lambda pressure, area: pressure * area),
            Step("force", "push - spring", "N", lambda push, spring: push - spring),
        ),
        slips=(
            Slip("spring left out", lambda pressure, outer, inner: pressure * pi / 4 * (outer**2 - inner**2), SPRING),
            Slip(
                "spring added",
                lambda pressure, outer, inner, spring: pressure * pi / 4 * (outer**2 - inner**2) + spring,
                SPRING,
            ),
            Slip("whole circle", lambda pressure, outer, spring: pressure * pi / 4 * outer**2 - spring, RING),
            Slip(
                "diameter for radius",
                lambda pressure, outer, inner, spring: pressure * pi * (outer**2 - inner**2) - spring,
                HALF,
            ),
        ),
    ),
    Number(
        id="hydraulics.3",
        objective=HOLD,
        depth="Shop",
        text="A clutch has {faces} friction faces, lined from {inner} to {outer} in diameter, friction 0.12 while it "
        "slips. It is pressed with {force}. Its lining is worn in, so take the middle of the ring as its radius. What "
        "torque does it hold?",
        given={
            "force": Draw(q.ApplyForce, "3000 N", "7000 N", "500 N"),
            "faces": Draw(q.Faces, "8", "14", "2"),
            "outer": Draw(q.FaceOuter, "140 mm", "160 mm", "5 mm"),
            "inner": Draw(q.FaceInner, "110 mm", "125 mm", "5 mm"),
        },
        answer=TORQUE,
        right=_plates,
        steps=(
            Step("radius", "(outer + inner) / 4", "m", lambda outer, inner: (outer + inner) / 4),
            Step(
                "torque",
                "faces x 0.12 x force x radius",
                "N m",
                lambda faces, force, radius: faces * 0.12 * force * radius,
            ),
        ),
        slips=(
            Slip(
                "diameter for radius",
                lambda faces, force, outer, inner: faces * 0.12 * force * (outer + inner) / 2,
                RADIUS,
            ),
            Slip(
                "plates for faces",
                lambda faces, force, outer, inner: faces / 2 * 0.12 * force * (outer + inner) / 4,
                "Every lined plate rubs on both its sides; the faces are already counted here.",
            ),
            Slip(
                "one face",
                lambda force, outer, inner: 0.12 * force * (outer + inner) / 4,
                "The same force goes through the whole pack: each face holds its share of torque, and they add up.",
            ),
            Slip(
                "no friction factor",
                lambda faces, force, outer, inner: faces * force * (outer + inner) / 4,
                "The force presses; only a part of it drags. Which number says how large a part?",
            ),
        ),
    ),
    Number(
        id="hydraulics.4",
        objective=LAUNCH,
        depth="Shop",
        text="At rest the reverse clutch can hold {capacity}. In reverse it has to hold {multiple} times the input "
        "torque. What is the largest input torque that you may ask for at launch in reverse?",
        given={
            "capacity": Draw(q.HeldTorque, "500 N m", "900 N m", "20 N m"),
            "multiple": Draw(q.HeldMultiple, "2.6", "3.0", "0.02"),
        },
        answer=TORQUE,
        right=lambda capacity, multiple: float(launch.input_torque_held(capacity, held_multiple=multiple)),
        steps=(Step("torque", "capacity / multiple", "N m", lambda capacity, multiple: capacity / multiple),),
        slips=(
            Slip(
                "multiplied",
                lambda capacity, multiple: capacity * multiple,
                "The clutch holds more than the input gives. So must the input torque be larger or smaller than its "
                "capacity?",
            ),
            Slip(
                "ratio for multiple",
                lambda capacity, multiple: capacity / (multiple - 1),
                "The gear ratio is what the output gets. The case holds output and input together: use the clutch's "
                "multiple.",
            ),
            Slip(
                "not divided",
                lambda capacity: capacity,
                "That is the torque at the clutch. How many times the input torque does the clutch see?",
            ),
        ),
        teacher="The ring is held against output plus input: that is why its multiple is one more than the ratio.",
    ),
    Number(
        id="hydraulics.5",
        objective=HOLD,
        depth="Shop",
        text="A servo pulls a band with {force} where the drum drags it away from the servo (energising). The drum "
        "is {drum} in diameter, the band touches it over {wrap}, friction is 0.12. What torque does it hold?",
        given={
            "force": Draw(q.ApplyForce, "2000 N", "4500 N", "100 N"),
            "wrap": Draw(ANGLE, "280 deg", "330 deg", "10 deg"),
            "drum": Draw(q.DrumDiameter, "140 mm", "180 mm", "5 mm"),
        },
        answer=TORQUE,
        right=_band,
        steps=(
            Step("exponent", "0.12 x wrap angle in radians", "", lambda wrap: 0.12 * wrap),
            Step("gain", "e^exponent - 1", "", lambda exponent: expm1(exponent)),
            Step(
                "torque", "force x gain x drum diameter / 2", "N m", lambda force, gain, drum: force * gain * drum / 2
            ),
        ),
        slips=(
            Slip(
                "overrunning",
                lambda force, wrap, drum: -force * expm1(-0.12 * wrap) * drum / 2,
                "Which end does the servo pull, the slack one or the tight one? Look at which way the drum drags.",
            ),
            Slip(
                "tight side alone",
                lambda force, wrap, drum: force * (expm1(0.12 * wrap) + 1) * drum / 2,
                "Both ends pull on the drum, against each other. What is left over turns it.",
            ),
            Slip(
                "diameter for radius",
                lambda force, wrap, drum: force * expm1(0.12 * wrap) * drum,
                RADIUS,
            ),
        ),
    ),
    Free(
        id="hydraulics.12",
        objective=LAUNCH,
        depth="Shop",
        text="In reverse your build may ask for less torque at launch than in low. Name two remedies, and for each "
        "what it costs or what it does not solve.",
        guide=(
            "names a limit of current at low speed, and that a steep start in reverse becomes weaker",
            "names more pressure (larger pump, tighter box, outlet valve at the internal pump) or more plates",
            "says that the pressure switch forbids drive but adds nothing to what holds, or another true cost",
        ),
        model="Limit the motor current until the internal pump carries full torque: it costs hardly any money, but a "
        "steep start in reverse becomes weaker. A larger pump raises pressure at rest: it draws more current and may "
        "only feed the leak. More plates hold more at the same pressure: the gearbox must be opened.",
    ),
    Prediction(
        id="hydraulics.p1",
        objective=LAUNCH,
        depth="Shop",
        text="The gears of the internal pump wear on, until its clearances are 1.40 times those of a new pump. By how "
        "many per cent will the torque that reverse holds at launch fall?",
    ),
]

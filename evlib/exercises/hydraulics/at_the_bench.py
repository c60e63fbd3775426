"""Hydraulics with the hands: the order of a first run, a sum that went wrong, a gauge."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.hydraulics.words import HANDOVER, LAUNCH, PRESSURE, REST
from evlib.exercises.number import Draw, Slip, Step
from evlib.exercises.order import Before, Order, Stage
from evlib.exercises.reading import Dial, Reading
from evlib.exercises.wrong_line import Fault, Line, WrongLine
from evlib.hydraulics import clutch, launch
from evlib.hydraulics import quantities as q

GAUGE = Dial(
    name="main pressure", unit="kPa", numbered=(0, 200, 400, 600, 800, 1000), parts=8, quantity=PRESSURE
)  # fmt: skip
SHARE_OUT = "How much lies between two numbers, and how many equal spaces share it? Then you know what one is worth."


def _input_torque(
    pressure: float, outer: float, inner: float, spring: float, faces: float, face_outer: float, face_inner: float,
    multiple: float,
) -> float:  # fmt: skip
    area = clutch.piston_area(outer, inner_diameter=inner)
    force = clutch.apply_force(pressure, area=area, return_spring_force=spring, spinning_force=0.0)
    held = clutch.plate_torque(
        force, friction=0.12, faces=faces, outer_diameter=face_outer, inner_diameter=face_inner, contact="uniform wear"
    )
    return float(launch.input_torque_held(held, held_multiple=multiple))


AT_THE_BENCH: list[Exercise] = [
    Order(
        id="hydraulics.13",
        objective=HANDOVER,
        depth="Shop",
        text="The electric pump is fitted. In which order do you commission it, up to a speed switch that is set and "
        "proved?",
        stages=(
            Stage(name="secure", text="Chock the car, lift the driven wheels onto stands, lock traction power off."),
            Stage(name="look", text="With 12 V still off, check the oil level, the hose, its clamps and the gauge."),
            Stage(name="pump", text="Run the electric pump in park, and look for leaks with a piece of card."),
            Stage(name="read", text="With the oil warm, read the pressure at rest in each selector position."),
            Stage(
                name="unlock",
                text="Licensed people prove the stop switch, set the controller to at most 1000 rpm and to little "
                "current, and unlock traction power.",
            ),
            Stage(
                name="find",
                text="In neutral, one person at the stop switch and nobody beside the motors: turn them up slowly with "
                "the electric pump off. Note from which speed the internal pump carries the pressure alone.",
            ),
            Stage(
                name="set",
                text="Motors stopped and traction power locked off again: set the switch-on speed to that speed and "
                "what hard braking takes away.",
            ),
            Stage(
                name="prove",
                text="Wheels down, brakes proved, power freed by licensed people, on closed ground with nobody in "
                "front: brake hard to a stop, and log "
                "how low the pressure falls.",
            ),
        ),
        rules=(
            Before(
                first="secure",
                later="pump",
                hint="The car can move as soon as pressure comes up. What keeps it "
                "where it is at that moment in your order?",
            ),
            Before(
                first="secure",
                later="look",
                hint="Somebody reaches under the car. Is it held, and is its power locked off, by then?",
            ),
            Before(
                first="look",
                later="pump",
                hint="Oil comes out where something is loose, as a jet. What do you "
                "want to know before anything pumps?",
            ),
            Before(
                first="pump",
                later="read",
                hint="A gauge shows what a pump makes. Is there one at work, and does "
                "the oil stay in, when you read it?",
            ),
            Before(
                first="read",
                later="unlock",
                hint="The motors are to turn the gearbox. Do you know yet that its "
                "clutches get their oil without them?",
            ),
            Before(
                first="unlock",
                later="find",
                hint="Traction power was locked off. Who frees it, and what keeps a motor without load from running "
                "away, by the time it turns?",
            ),
            Before(first="find", later="set", hint="A setting comes from a number. Where have you measured it?"),
            Before(first="set", later="prove", hint="What is proved on the ground is a setting. Is there one by then?"),
        ),
        why="First what can move or spray, then what is at rest, then what turns; and a setting is proved last. In "
        "neutral the motors have no load, and series motors without load run away: the controller's limit and the hand "
        "at the stop switch come first.",
        teacher="Let them name, for each step, who stands where. The bench card of this lesson has the readings.",
    ),
    WrongLine(
        id="hydraulics.14",
        objective=LAUNCH,
        depth="Shop",
        text="Somebody has worked out which input torque the reverse clutch holds at {pressure}. Its piston is a ring "
        "of {outer} outside and {inner} inside; the springs push back with {spring}. It has {faces} faces, lined from "
        "{face_inner} to {face_outer}, friction 0.12, and must hold {multiple} times the input torque. One line is "
        "wrong; the lines after it go on with what it gave. Which line, and what should stand there?",
        given={
            "pressure": Draw(q.Pressure, "400 kPa", "900 kPa", "50 kPa"),
            "outer": Draw(q.PistonOuter, "130 mm", "160 mm", "5 mm"),
            "inner": Draw(q.PistonInner, "70 mm", "90 mm", "5 mm"),
            "spring": Draw(q.SpringForce, "600 N", "1000 N", "50 N"),
            "faces": Draw(q.Faces, "8", "14", "2"),
            "face_outer": Draw(q.FaceOuter, "140 mm", "160 mm", "5 mm"),
            "face_inner": Draw(q.FaceInner, "110 mm", "125 mm", "5 mm"),
            "multiple": Draw(q.HeldMultiple, "2.6", "3.0", "0.02"),
        },
        lines=(
            Line(
                name="push",
                equation="pressure x pi/4 x (outside² - inside²)",
                unit="N",
                function=lambda pressure, outer, inner: pressure * pi / 4 * (outer**2 - inner**2),
                holds="Oil presses on a ring, the outer circle less the inner one, and this line says so. Do its sum "
                "again.",
            ),
            Line(
                name="force",
                equation="push - spring",
                unit="N",
                function=lambda push, spring: push - spring,
                holds="The springs push against the oil, and this line takes them off. Its own step holds.",
            ),
            Line(
                name="radius",
                equation="(lining outside + lining inside) / 4",
                unit="m",
                function=lambda face_outer, face_inner: (face_outer + face_inner) / 4,
                holds="Half of each diameter is a radius, and the middle of two radii is half their sum. That is what "
                "stands here.",
            ),
            Line(
                name="clutch_torque",
                equation="faces x 0.12 x force x radius",
                unit="N m",
                function=lambda faces, force, radius: faces * 0.12 * force * radius,
                holds="Each face drags with its share of the force at the radius, and the faces add up: so it is here.",
            ),
            Line(
                name="input_torque",
                equation="clutch torque / times held",
                unit="N m",
                function=lambda clutch_torque, multiple: clutch_torque / multiple,
                holds="The clutch sees several times the input torque, so this line divides. Its own step holds.",
            ),
        ),
        faults=(
            Fault(
                line="push",
                name="diameter for radius",
                equation="pressure x pi x (outside² - inside²)",
                function=lambda pressure, outer, inner: pressure * pi * (outer**2 - inner**2),
                hint="That is what stands there now. The area of a circle takes half its diameter, squared.",
                why="With diameters the area of a circle takes a quarter of pi.",
            ),
            Fault(
                line="force",
                name="spring added",
                equation="push + spring",
                function=lambda push, spring: push + spring,
                hint="That is what stands there now. Do the springs help the oil or work against it?",
                why="The springs work against the oil: they are taken off.",
            ),
            Fault(
                line="radius",
                name="diameter for radius",
                equation="(lining outside + lining inside) / 2",
                function=lambda face_outer, face_inner: (face_outer + face_inner) / 2,
                hint="That is what stands there now: the middle of two diameters. Is it a radius yet?",
                why="Half the sum of two diameters is a diameter; the radius is half of that.",
            ),
            Fault(
                line="clutch_torque",
                name="plates for faces",
                function=lambda faces, force, radius: faces / 2 * 0.12 * force * radius,
                hint="That is what stands there now. Work out the line as it is written, with all its faces.",
                why="The line is written rightly but was worked out with half of the faces: a lined plate rubs on both "
                "its sides.",
            ),
            Fault(
                line="input_torque",
                name="ratio for multiple",
                equation="clutch torque / (times held - 1)",
                function=lambda clutch_torque, multiple: clutch_torque / (multiple - 1),
                hint="That is what stands there now. The gear ratio is what the output gets; what does the clutch see?",
                why="The case holds output and input together, so the clutch sees the whole multiple.",
            ),
        ),
        right=_input_torque,
        teacher="Whoever works the last line backwards finds that it agrees: only the wrong line breaks the chain.",
    ),
    Reading(
        id="hydraulics.15",
        objective=REST,
        depth="Shop",
        text="The car stands, the electric pump runs, the selector is in park. The gauge at the main pressure port "
        "shows what you see. What is the pressure at rest?",
        dial=GAUGE,
        pointer="shown",
        given={"shown": GAUGE.draw("250", "950")},
        answer=PRESSURE,
        right=lambda shown: shown,
        steps=(Step("pressure", "where the pointer stands", "Pa", lambda shown: shown),),
        slips=(
            Slip("a small space for ten", lambda shown: GAUGE.counted(shown, 10), SHARE_OUT),
            Slip("a small space for one", lambda shown: GAUGE.counted(shown, 1), SHARE_OUT),
            Slip(
                "counted from the next number",
                lambda shown: GAUGE.backwards(shown),
                "Which way does the pointer go as pressure rises? Count on from the number that it has passed.",
            ),
        ),
        teacher="Half a small space is as closely as such a pointer is read: common practice, no source.",
    ),
]

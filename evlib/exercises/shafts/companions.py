"""Exercises of the companions of lesson 3: bolts and truth, package, gearbox joint."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.shafts.words import COUNT, LENGTH, RADIUS, SMALL, TORQUE, length, small
from evlib.shafts import bolts, joint, package

BOLTS = "find what a bolted face holds, with the scatter of the wrench"
TRUTH = "turn dial readings into offset and angle"
LONG = "add up length and weight, and compare them with the room there is"
PUMP = "find the clearance between the hub and the bottom of the pump's drive, and where the hub is cut"


COMPANIONS: list[Exercise] = [
    Prediction(
        id="shafts.p4", objective=BOLTS, depth="Shop",
        text="The scatter of the wrench goes from 15 to 30 per cent. What happens to what the ring holds, and to the "
        "most that a bolt gets?",
    ),
    Prediction(
        id="shafts.p5", objective=LONG, depth="Shop",
        text="A long adapter of 8 in takes the place of the short one. Does this line still fit, and by how much?",
    ),
    Prediction(
        id="shafts.p6", objective=PUMP, depth="Shop",
        text="The near rotor is located at its coupling end. When it warms, does the hub come nearer to the "
        "bottom of the pump's drive, or go away from it?",
    ),
    Number(
        id="shafts.16", objective=BOLTS, depth="Why",
        text="{count} bolts M10 on a circle of {circle} are tightened to {torque}. Nut factor 0.18, scatter 30 per "
        "cent, friction of the faces 0.15. What torque does the ring hold for certain?",
        given={
            "count": Draw(COUNT, "6", "12", "1"), "circle": Draw(length("circle"), "160 mm", "230 mm", "10 mm"),
            "torque": Draw(TORQUE, "30 N m", "40 N m", "1 N m"),
        },
        answer=TORQUE,
        right=lambda count, circle, torque: bolts.friction_torque(
            bolts.preload(torque, bolt_diameter=0.010, nut_factor=0.18, preload_scatter=0.3).least,
            bolt_count=count, bolt_circle=circle, face_friction=0.15),
        steps=(
            Step("clamp", "torque / (0.18 x 0.010 m)", "N", lambda torque: torque / (0.18 * 0.010)),
            Step("least", "clamp x (1 - 0.30)", "N", lambda clamp: 0.7 * clamp),
            Step("grip", "0.15 x count x least", "N", lambda count, least: 0.15 * count * least),
            Step("held", "grip x circle / 2", "N m", lambda grip, circle: grip * circle / 2),
        ),
        slips=(
            Slip("scatter left out", lambda count, circle, torque: 0.15 * count * torque / 0.0018 * circle / 2,
                 "The wrench gives less on some bolts than you think."),
            Slip("scatter the wrong way", lambda count, circle, torque:
                 1.3 * 0.15 * count * torque / 0.0018 * circle / 2, "That is the most that the bolts can give."),
            Slip("diameter for radius", lambda count, circle, torque:
                 0.7 * 0.15 * count * torque / 0.0018 * circle, RADIUS),
            Slip("one bolt", lambda count, circle, torque: 0.7 * 0.15 * torque / 0.0018 * circle / 2,
                 "That is what one bolt holds."),
        ),
    ),
    Number(
        id="shafts.17", objective=TRUTH, depth="Shop",
        text="A dial clamped to one shaft sweeps the other flange's rim. Over one turn it reads {reading} in all. "
        "How far are the two axes apart?",
        given={"reading": Draw(small("reading"), "0.06 mm", "0.24 mm", "0.02 mm")},
        answer=SMALL,
        right=lambda reading: joint.pilot_offset(reading),
        steps=(Step("offset", "reading / 2", "m", lambda reading: reading / 2),),
        slips=(
            Slip("whole reading", lambda reading: reading,
                 "Turn the dial half way round in your mind: the offset shows once as plus and once as minus."),
            Slip("doubled", lambda reading: 2 * reading, "The dial shows more than the offset, not less."),
        ),
    ),
    Number(
        id="shafts.18", objective=LONG, depth="Shop",
        text="Far machine {far}, ring {ring}, near machine {near}, adapter {adapter}, gearbox {box}. How long is the "
        "line, without room behind it?",
        given={
            "far": Draw(length("far"), "380 mm", "440 mm", "10 mm"),
            "ring": Draw(length("ring"), "70 mm", "90 mm", "2 mm"),
            "near": Draw(length("near"), "385 mm", "445 mm", "10 mm"),
            "adapter": Draw(length("adapter"), "25 mm", "60 mm", "5 mm"),
            "box": Draw(length("box"), "420 mm", "480 mm", "10 mm"),
        },
        answer=LENGTH,
        right=lambda far, ring, near, adapter, box: package.line_length(
            near, far_machine_length=far, ring_length=ring, adapter_length=adapter, gearbox_length=box).bare,
        steps=(
            Step("machines", "far + near", "m", lambda far, near: far + near),
            Step("line", "machines + ring + adapter + gearbox", "m",
                 lambda machines, ring, adapter, box: machines + ring + adapter + box),
        ),
        slips=(
            Slip("ring left out", lambda far, ring, near, adapter, box: far + near + adapter + box,
                 "Something stands between the two machines."),
            Slip("one machine", lambda far, ring, near, adapter, box: near + ring + adapter + box,
                 "There are two machines in this line."),
        ),
    ),
    Number(
        id="shafts.19", objective=PUMP, depth="Shop",
        text="From the housing's face to the bottom of the pump's drive you measure {depth}. You want "
        "{clearance} left, the shaft has {end_float} float, and it grows {grown} toward the pump. How far may the "
        "hub reach past the face?",
        given={
            "depth": Draw(length("depth"), "26 mm", "34 mm", "0.5 mm"),
            "clearance": Draw(length("clearance"), "1.5 mm", "3.0 mm", "0.5 mm"),
            "end_float": Draw(length("end float"), "0.6 mm", "1.2 mm", "0.2 mm"),
            "grown": Draw(length("grown"), "0.5 mm", "0.9 mm", "0.1 mm"),
        },
        answer=LENGTH,
        right=lambda depth, clearance, end_float, grown: joint.hub_reach_wanted(
            depth, pump_clearance=clearance, hub_float=end_float, growth=grown),
        steps=(
            Step("kept", "clearance + float + growth", "m",
                 lambda clearance, end_float, grown: clearance + end_float + grown),
            Step("reach", "depth - kept", "m", lambda depth, kept: depth - kept),
        ),
        slips=(
            Slip("bottoming", lambda depth, clearance, end_float, grown: depth,
                 "That hub would bottom, and break the pump on the first start."),
            Slip("cold only", lambda depth, clearance, end_float, grown: depth - clearance,
                 "The shaft does not stay where it is: it has play, and it grows."),
            Slip("added", lambda depth, clearance, end_float, grown: depth + clearance + end_float + grown,
                 "The hub must stay short of the bottom."),
        ),
    ),
    Choice(
        id="shafts.20", objective=PUMP, depth="Shop",
        text="The converter is gone. What turns the gearbox's own pump now?",
        choices=(
            Option(text="a hub on the motors' shaft that drives the pump gear by its tangs or flats", right=True,
                   reason="The converter's hub used to do it. Something on the shaft must take its place."),
            Option(text="the oil from the electric pump, by pushing the gear round",
                   reason="Oil from another pump passes by; a check valve keeps it out of this one."),
            Option(text="the gearbox output, through the wheels",
                   reason="The pump sits at the input. Ask what reaches it there."),
            Option(text="nothing; it is taken out with the converter",
                   reason="Look at what supplies the clutches at speed."),
        ),
    ),
]  # fmt: skip

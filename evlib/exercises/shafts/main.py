"""Exercises of lesson 3: torque line, key and spline, cut plan, growth, the locked spline."""

from __future__ import annotations

from math import cos, pi, radians

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.shafts.words import (
    COUNT,
    FACTOR,
    FORCE,
    LENGTH,
    RADIUS,
    RISE,
    SMALL,
    STRESS,
    TORQUE,
    length,
    small,
)
from evlib.shafts import cut_plan, dudley, growth, key, torsion
from evlib.shafts.tables import STEEL_EXPANSION

LINE = "find the torque that each section of the line carries, and the stress that it makes"
FITS = "compare a key with a spline, and a fixed spline with a flexible one"
LINES = "find the cut line on each shaft, and the spline that is left"
GAPS = "work out the gap that is left when hot, and decide what to do"
GAP_FIRST = "Then the shafts would touch, or not go in at all: what must come off before you halve?"
LOCK = "say what a loaded spline does with growth"

BEARS = "Ask two things: where on the shaft does the force act, and how much of the key's side bears in the hub?"
HALVES = "Two shafts share what lies between the faces. Draw it, and mark the gap in the middle."

MAIN: list[Exercise] = [
    Prediction(
        id="shafts.p1", objective=LINE, depth="Shop",
        text="The shock factor rises from 1.5 to 3. What happens to the torque in the sleeve and at the gearbox input?",
    ),
    Prediction(
        id="shafts.p2", objective=FITS, depth="Shop",
        text="The same spline is declared fixed in place of flexible. How does the compression on its teeth change?",
    ),
    Prediction(
        id="shafts.p3", objective=GAPS, depth="Shop",
        text="Both rotors are located at their far ends in place of the coupling ends. What gap is left when hot?",
    ),
    Number(
        id="shafts.1", objective=LINE, depth="Shop",
        text="The far machine gives {far}, the near machine {near}. The shock factor is {shock}. What torque must the "
        "gearbox input stand?",
        given={
            "far": Draw(TORQUE, "120 N m", "240 N m", "10 N m"), "near": Draw(TORQUE, "125 N m", "245 N m", "10 N m"),
            "shock": Draw(FACTOR, "1.3", "2.2", "0.1"),
        },
        answer=TORQUE,
        right=lambda far, near, shock: torsion.line_torque(far, near_torque=near, shock_factor=shock).gearbox_input,
        steps=(
            Step("both", "far + near", "N m", lambda far, near: far + near),
            Step("input", "shock x both", "N m", lambda shock, both: shock * both),
        ),
        slips=(
            Slip("shock left out", lambda far, near, shock: far + near, "Snatch and clutch grab are not in it yet."),
            Slip("one machine", lambda far, near, shock: shock * far,
                 "Follow the line from the far end: how many machines have added their torque before this section?"),
            Slip("shock on one", lambda far, near, shock: shock * far + near, "The shock comes on the whole torque."),
        ),
        teacher="Have them draw the line and write the torque into every section before any formula.",
    ),
    Number(
        id="shafts.2", objective=LINE, depth="Why",
        text="A solid shaft of {diameter} carries {torque}. What shear stress is at its surface, away from notches?",
        given={
            "diameter": Draw(length("diameter"),
            "26 mm", "44 mm", "1 mm"),
            "torque": Draw(TORQUE, "180 N m", "620 N m", "20 N m"),
        },
        answer=STRESS,
        right=lambda diameter, torque: torsion.shear_stress(torque, shaft_diameter=diameter),
        steps=(
            Step("cube", "diameter to the third power", "", lambda diameter: diameter**3),
            Step("stress", "16 x torque / (pi x cube)", "Pa", lambda torque, cube: 16 * torque / (pi * cube)),
        ),
        slips=(
            Slip("radius for diameter", lambda diameter, torque: 16 * torque / (pi * (diameter / 2) ** 3), RADIUS),
            Slip("square for cube", lambda diameter, torque: 16 * torque / (pi * diameter**2), RADIUS),
            Slip("bending formula", lambda diameter, torque: 32 * torque / (pi * diameter**3),
                 "That is the formula of a shaft that is bent. This one is twisted."),
            Slip("pi left out", lambda diameter, torque: 16 * torque / diameter**3, "A circle has its pi in it."),
        ),
    ),
    Number(
        id="shafts.3", objective=FITS, depth="Why",
        text="A key {width} wide, {height} high and {length} long drives a hub on a {diameter} shaft with {torque}. "
        "What crushing stress is on its side? Half of its height bears.",
        given={
            "width": Draw(length("width"),
            "8 mm", "8 mm", "1 mm"),
            "height": Draw(length("height"),
            "7 mm", "7 mm", "1 mm"),
            "length": Draw(length("length"),
            "24 mm", "44 mm", "2 mm"),
            "diameter": Draw(length("diameter"),
            "26 mm", "30 mm", "1 mm"),
            "torque": Draw(TORQUE, "90 N m", "220 N m", "10 N m"),
        },
        answer=STRESS,
        right=lambda width, height, length, diameter, torque: key.key_stress(
            torque, shaft_diameter=diameter, key_width=width, key_height=height, key_length=length).crush,
        steps=(
            Step("force", "2 x torque / diameter", "N", lambda torque, diameter: 2 * torque / diameter),
            Step("area", "height / 2 x length", "m2", lambda height, length: height / 2 * length),
            Step("crush", "force / area", "Pa", lambda force, area: force / area),
        ),
        slips=(
            Slip("diameter for radius", lambda width, height, length, diameter, torque:
                 torque / diameter / (height / 2 * length), BEARS),
            Slip("whole height", lambda width, height, length, diameter, torque:
                 2 * torque / diameter / (height * length), BEARS),
            Slip("shear", lambda width, height, length, diameter, torque: 2 * torque / diameter / (width * length),
                 "That is the stress that shears the key across. Crushing acts on its side."),
        ),
    ),
    Number(
        id="shafts.4", objective=FITS, depth="Why",
        text="A flexible spline of {teeth} teeth, module {module}, fillet root (contact height one module), holds over "
        "{engaged} and carries {torque}. All factors are 1. What compression is on its teeth?",
        given={
            "teeth": Draw(COUNT, "16", "24", "1"), "module": Draw(length("module"), "2.0 mm", "2.5 mm", "0.25 mm"),
            "engaged": Draw(length("engaged"),
            "15 mm", "26 mm", "1 mm"),
            "torque": Draw(TORQUE, "150 N m", "290 N m", "10 N m"),
        },
        answer=STRESS,
        right=lambda teeth, module, engaged, torque: dudley.tooth_compression(
            torque, spline_teeth=teeth, spline_module=module, engagement=engaged, fit="flexible"),
        steps=(
            Step("pitch", "module x teeth", "m", lambda module, teeth: module * teeth),
            Step("force", "2 x torque / pitch diameter", "N", lambda torque, pitch: 2 * torque / pitch),
            Step("area", "teeth x engaged length x module", "m2",
                 lambda teeth, engaged, module: teeth * engaged * module),
            Step("compression", "force / area", "Pa", lambda force, area: force / area),
        ),
        slips=(
            Slip("fixed", lambda teeth, module, engaged, torque:
                 2 * torque / (9 * module * teeth * teeth * engaged * module),
                 "That is the formula of a spline that cannot rock. Read again how this one is declared."),
            Slip("diameter for radius", lambda teeth, module, engaged, torque:
                 torque / (module * teeth * teeth * engaged * module), RADIUS),
            Slip("one tooth", lambda teeth, module, engaged, torque: 2 * torque / (module * teeth * engaged * module),
                 "That would put the whole torque on a single tooth."),
        ),
    ),
    Choice(
        id="shafts.5", objective=FITS, depth="Shop",
        text="A sleeve slides freely on both shafts; nothing centres it but the teeth. The flanges are true to a dial. "
        "Which is it, and why?",
        choices=(
            Option(text="flexible: nothing stops it from rocking and sliding a little with every turn", right=True,
                   reason="What counts is whether the parts can move on one another. They can, so wear decides."),
            Option(text="fixed: the flanges are true, so there is no angle between the shafts",
                   reason="A true flange makes the angle small. Ask whether the parts can still move on one another."),
            Option(text="fixed: the motors are bolted together, and bolts do not move",
                   reason="The frames are bolted. The spline sits between the rotors: what holds that?"),
            Option(text="neither: the words are for splines with crowned teeth only",
                   reason="The form of the teeth is another question. Read what the two words mean."),
        ),
    ),
    Number(
        id="shafts.6", objective=LINES, depth="Shop",
        text="The faces are {face} apart once flanged. In the middle a gap of {gap} is wanted, for a plastic "
        "disc that keeps the shafts apart. How far must each shaft stand out of its face?",
        given={
            "face": Draw(length("face"),
            "70 mm", "95 mm", "1 mm"),
            "gap": Draw(length("gap"),
            "3 mm", "6 mm", "1 mm"),
        },
        answer=LENGTH,
        right=lambda face, gap: cut_plan.cut_lines(
            face, gap=gap, far_projection=0.2, near_projection=0.2).far_from_face,
        steps=(
            Step("metal", "face - gap", "m", lambda face, gap: face - gap),
            Step("cut", "metal / 2", "m", lambda metal: metal / 2),
        ),
        slips=(
            Slip("not halved", lambda face, gap: face - gap, HALVES),
            Slip("gap not taken off", lambda face, gap: face / 2, GAP_FIRST),
            Slip("gap added", lambda face, gap: (face + gap) / 2, GAP_FIRST),
            Slip("whole gap off each", lambda face, gap: face / 2 - gap, HALVES),
        ),
    ),
    Number(
        id="shafts.7", objective=LINES, depth="Shop",
        text="The same cut line is to be set with a caliper. Each shaft must stand {cut} out of its face, and a step "
        "stands {step} out of the same face. What do you set from the step?",
        given={
            "cut": Draw(length("cut"),
            "34.5 mm", "46.5 mm", "0.5 mm"),
            "step": Draw(length("step"),
            "8 mm", "14 mm", "1 mm"),
        },
        answer=LENGTH,
        right=lambda cut, step: cut_plan.cut_lines(
            2 * cut, gap=0.0, far_projection=0.2, near_projection=0.2, far_step=step).far_from_step,
        steps=(Step("from_step", "cut - step", "m", lambda cut, step: cut - step),),
        slips=(
            Slip("step added", lambda cut, step: cut + step, "The caliper starts nearer to the line than the face."),
            Slip("from the face", lambda cut, step: cut, "That is from the face; the caliper cannot reach it."),
            Slip("half the step", lambda cut, step: cut - step / 2, "The step is on this side only: do not halve it."),
        ),
    ),
    Number(
        id="shafts.8", objective=LINES, depth="Why",
        text="A sleeve {sleeve} long sits over a gap of {gap}. Shaft ends and sleeve ends each have a chamfer of "
        "{chamfer}. Rings let the sleeve wander {wander} from end to end. How much spline holds on one shaft when the "
        "sleeve is as far from it as it can go? The splines reach far enough back.",
        given={
            "sleeve": Draw(length("sleeve"),
            "44 mm", "60 mm", "2 mm"),
            "gap": Draw(length("gap"),
            "0.6 mm", "1.4 mm", "0.2 mm"),
            "chamfer": Draw(length("chamfer"),
            "1.0 mm", "1.6 mm", "0.2 mm"),
            "wander": Draw(length("wander"),
            "3 mm", "5 mm", "1 mm"),
        },
        answer=LENGTH,
        right=lambda sleeve, gap, chamfer, wander: cut_plan.sleeve_engagement(
            0.1, far_cut=0.05 - gap / 2, near_cut=0.05 - gap / 2, sleeve_length=sleeve, sleeve_kept="rings",
            sleeve_float=wander, sleeve_chamfer=chamfer, far_chamfer=chamfer, near_chamfer=chamfer).far_worst,
        steps=(
            Step("half", "(sleeve - gap) / 2", "m", lambda sleeve, gap: (sleeve - gap) / 2),
            Step("held", "half - 2 x chamfer", "m", lambda half, chamfer: half - 2 * chamfer),
            Step("worst", "held - wander / 2", "m", lambda held, wander: held - wander / 2),
        ),
        slips=(
            Slip("wander left out", lambda sleeve, gap, chamfer, wander: (sleeve - gap) / 2 - 2 * chamfer,
                 "That is with the sleeve in its middle place."),
            Slip("whole wander", lambda sleeve, gap, chamfer, wander: (sleeve - gap) / 2 - 2 * chamfer - wander,
                 "From its middle place the sleeve can go only part of that way to one side."),
            Slip("both sides", lambda sleeve, gap, chamfer, wander: sleeve - gap - 4 * chamfer - wander,
                 "That is the spline of both shafts together."),
            Slip("chamfers left out", lambda sleeve, gap, chamfer, wander: (sleeve - gap) / 2 - wander / 2,
                 "No tooth holds in a chamfer, and there is one at each end of the overlap."),
        ),
    ),
    Choice(
        id="shafts.9", objective=LINES, depth="Shop",
        text="A card from the shop. Faces apart 76.20 mm, gap 0.50 mm in the middle, steps 12.70 mm (far) and 10.00 mm "
        "(near). One line on the card is wrong, and a shaft would be scrap. Which?",
        choices=(
            Option(text="near shaft, from the step: 25.15 mm", right=True,
                   reason="37.85 - 10.00 is 27.85. Someone took the far machine's step for both."),
            Option(text="near shaft, from the face: 37.85 mm", reason="(76.20 - 0.50) / 2: work it out."),
            Option(text="far shaft, from the step: 25.15 mm", reason="Take the far step from the far cut line."),
            Option(text="far shaft, from the face: 37.85 mm", reason="(76.20 - 0.50) / 2: work it out."),
        ),
        teacher="Let two learners check the card apart, as the shop should. A cut cannot be undone.",
    ),
    Number(
        id="shafts.10", objective=GAPS, depth="Why",
        text="Located at the far end, {length} of steel shaft warms by {rise} more than when cold. How far does its "
        "end move out? Leave the frame out for now. Steel grows 11.7 millionths per kelvin.",
        given={
            "length": Draw(length("length"),
            "300 mm", "420 mm", "10 mm"),
            "rise": Draw(RISE, "60 K", "110 K", "5 K"),
        },
        answer=SMALL,
        right=lambda length, rise: growth.expansion(length, rise=rise, coefficient=STEEL_EXPANSION),
        steps=(Step("growth", "11.7e-6 x length x rise", "m", lambda length, rise: 11.7e-6 * length * rise),),
        slips=(
            Slip("273 added", lambda length, rise: 11.7e-6 * length * (rise + 273.15),
                 "Growth goes with the difference of temperature; a difference has no 273 in it."),
            Slip("aluminium", lambda length, rise: 23e-6 * length * rise, "The shaft is of steel."),
        ),
    ),
    Number(
        id="shafts.11", objective=GAPS, depth="Shop",
        text="Each rotor is pushed into its own motor, and you measure a gap of {gap}. Each rotor has {end_float} end "
        "float. Growth closes {closing}. What gap is left when hot, at the worst?",
        given={
            "gap": Draw(small("gap"), "0.80 mm", "1.20 mm", "0.05 mm"),
            "end_float": Draw(small("end float"), "0.10 mm", "0.16 mm", "0.02 mm"),
            "closing": Draw(small("closing"), "0.20 mm", "0.30 mm", "0.02 mm"),
        },
        answer=SMALL,
        right=lambda gap, end_float, closing: cut_plan.gap_left(
            gap, closing=closing, far_float=end_float, near_float=end_float).worst,
        steps=(
            Step("true", "gap - 2 x end float", "m", lambda gap, end_float: gap - 2 * end_float),
            Step("left", "true - closing", "m", lambda true, closing: true - closing),
        ),
        slips=(
            Slip("floats left out", lambda gap, end_float, closing: gap - closing,
                 "The hand push took up the play of both rotors. In service they can come back."),
            Slip("one float", lambda gap, end_float, closing: gap - end_float - closing, "There are two rotors."),
            Slip("floats added", lambda gap, end_float, closing: gap + 2 * end_float - closing,
                 "In service the rotors can only come nearer than you pushed them."),
            Slip("growth left out", lambda gap, end_float, closing: gap - 2 * end_float, "That is the gap when cold."),
        ),
    ),
    Choice(
        id="shafts.12", objective=GAPS, depth="Shop",
        text="The pair measures 0.35 mm. Floats take 0.20 mm, growth closes 0.15 mm, and you want 0.10 mm left. The "
        "flange may be shimmed by up to 0.30 mm, and there is 5 mm of spline to spare. What do you do?",
        choices=(
            Option(text="shim the flange by 0.10 mm", right=True,
                   reason="0.35 - 0.20 - 0.15 leaves nothing, 0.10 is short, and a shim can be taken out again."),
            Option(text="go: there is a gap of 0.35 mm", reason="Take off what the floats and growth will take."),
            Option(text="take 0.10 mm more off one shaft", reason="It would do. Ask which way can be undone."),
            Option(text="reject the pair of shafts", reason="Ask whether the spline still holds after a small change."),
        ),
    ),
    Number(
        id="shafts.13", objective=LOCK, depth="Why",
        text="A spline of pitch diameter {pitch}, pressure angle 30 degrees, carries {torque}; friction {friction}. "
        "What axial force can it pass on before it slides?",
        given={
            "pitch": Draw(length("pitch"),
            "30 mm", "44 mm", "1 mm"),
            "torque": Draw(TORQUE, "100 N m", "280 N m", "10 N m"),
            "friction": Draw(FACTOR, "0.10", "0.16", "0.01"),
        },
        answer=FORCE,
        right=lambda pitch, torque, friction: dudley.lock_force(
            torque, base_diameter=pitch * cos(radians(30)), friction=friction),
        steps=(
            Step("base", "pitch diameter / 2 x cos 30", "m", lambda pitch: pitch / 2 * cos(radians(30))),
            Step("teeth", "torque / base radius", "N", lambda torque, base: torque / base),
            Step("force", "friction x force on the teeth", "N", lambda friction, teeth: friction * teeth),
        ),
        slips=(
            Slip("diameter for radius", lambda pitch, torque, friction: friction * torque / (pitch * cos(radians(30))),
                 RADIUS),
            Slip("pitch circle", lambda pitch, torque, friction: friction * torque / (pitch / 2),
                 "Teeth of an involute press along a line that touches the base circle, not the pitch circle."),
            Slip("friction left out", lambda pitch, torque, friction: torque / (pitch / 2 * cos(radians(30))),
                 "That is the force that presses the teeth together. How much of it acts along the shaft?"),
        ),
    ),
    Choice(
        id="shafts.14", objective=LOCK, depth="Shop",
        text="After an hour on the road a bearing of the near motor runs hot. The gap between the shafts is still "
        "there. What is the most likely story?",
        choices=(
            Option(text="torque locked the spline, and growth was pushed into the bearing", right=True,
                   reason="A loaded spline does not slide until friction is overcome. Grease and a sliding fit help."),
            Option(text="the shafts touched when hot and parted again when cold",
                   reason="Possible with a tight gap. But what passes an axial force without touching?"),
            Option(text="the sleeve is too long and pressed on the step",
                   reason="Then it would press when cold too: steps and sleeve hardly grow apart."),
            Option(text="the torque is too high for the bearing",
                   reason="Torque alone does not load a bearing along the shaft. Something must turn it into a push."),
        ),
    ),
    Free(
        id="shafts.15", objective=GAPS, depth="Why",
        text="A friend says: twenty thousandths of an inch is always enough. Say in three or four sentences when that "
        "is true and when it is not.",
        guide=(
            "it depends on where each rotor is located, 1 mark",
            "located at the coupling end only the stub grows toward the other shaft, 1 mark",
            "located at the far end the whole armature does, and it leads the frame while warming, 1 mark",
            "end floats must be taken off the measured gap, 1 mark",
        ),
        model="It depends on which bearing locates each rotor. At the coupling end only a short stub grows toward the "
        "other shaft, and 0.5 mm is plenty. At the far end the whole armature grows that way, faster than the frame "
        "follows, and 0.5 mm can be gone within the hour. And what you measured by pushing still has the floats in it.",
    ),
]  # fmt: skip

"""Exercises on weights, wheels and fixings, and the Deep ones on arcs and polarity."""

from __future__ import annotations

from math import sin

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.safety.words import AGREE_GOAL, ANGLE, FORCE, GRAVITIES, HANDS_GOAL, MASS, RIM, SHAFT, WHEEL
from evlib.safety import hands

G = 9.80665
WEIGHT = "A kilogram is not a newton: a mass must first be made a weight, or an acceleration."

HANDLING: list[Exercise] = [
    Number(
        id="safety.15",
        objective=HANDS_GOAL,
        depth="Why",
        text="A motor of {mass} hangs from two legs of a sling. Each stands at {angle} to the level. What pull must "
        "each leg hold?",
        given={"mass": Draw(MASS, "60 kg", "140 kg", "10 kg"), "angle": Draw(ANGLE, "30 deg", "60 deg", "5 deg")},
        answer=FORCE,
        right=lambda mass, angle: hands.leg_tension(mass, leg_angle=angle, leg_count=2.0),
        steps=(
            Step("weight", "mass x 9.807 m/s2", "N", lambda mass, angle: mass * G),
            Step("share", "half of it for each leg", "N", lambda weight: weight / 2),
            Step("sine", "sine of the angle to the level", "", lambda angle: sin(angle)),
            Step("pull", "share / sine", "N", lambda share, sine: share / sine),
        ),
        slips=(
            Slip(
                "half the weight",
                lambda mass, angle: mass * G / 2,
                "That is so only where both legs hang straight "
                "down. The flatter they lie, the more they pull against each other.",
            ),
            Slip(
                "times the sine",
                lambda mass, angle: mass * G / 2 * sin(angle),
                "Flatter legs must pull more, not less.",
            ),
            Slip("one leg", lambda mass, angle: mass * G / sin(angle), "How many legs share the motor?"),
        ),
    ),
    Number(
        id="safety.16",
        objective=HANDS_GOAL,
        depth="Shop",
        text="A cutting wheel of {wheel} is marked {rim}. What is the largest speed of a grinder that may carry it?",
        given={"wheel": Draw(WHEEL, "100 mm", "230 mm", "10 mm"), "rim": Draw(RIM, "63 m/s", "80 m/s", "1 m/s")},
        answer=SHAFT,
        right=lambda wheel, rim: hands.largest_speed(rim, wheel_diameter=wheel),
        steps=(
            Step("radius", "half the diameter", "m", lambda wheel, rim: wheel / 2),
            Step("speed", "rim speed / radius", "rad/s", lambda rim, radius: rim / radius),
        ),
        slips=(
            Slip("diameter for radius", lambda wheel, rim: rim / wheel, "The rim is half a diameter from the shaft."),
            Slip(
                "turns for radians",
                lambda wheel, rim: rim / (wheel / 2) / 6.283185307,
                "Rim speed over radius is in radians each second: a turn is 2 pi of them.",
            ),
        ),
    ),
    Number(
        id="safety.17",
        objective=HANDS_GOAL,
        depth="Shop",
        text="A pack of {mass} must stay in its place at {times} times gravity along the vehicle. What force must its "
        "fixing hold?",
        given={"mass": Draw(MASS, "180 kg", "520 kg", "20 kg"), "times": Draw(GRAVITIES, "12", "20", "1")},
        answer=FORCE,
        right=lambda mass, times: hands.fixing_force(mass, acceleration=times * G),
        steps=(
            Step("acceleration", "times gravity x 9.807 m/s2", "m/s2", lambda mass, times: times * G),
            Step("force", "mass x acceleration", "N", lambda mass, acceleration: mass * acceleration),
        ),
        slips=(Slip("kilograms", lambda mass, times: mass * times, WEIGHT),),
        teacher="20 g along and 8 g across are common practice without a source; ask which rule holds where you are.",
    ),
    Choice(
        id="safety.18",
        objective=HANDS_GOAL,
        depth="Shop",
        text="The scale says 1180 kg on the rear axle, with an empty load floor. The plate allows 1180 kg. What "
        "follows?",
        choices=(
            Option(
                text="no load at all may go on this axle any more",
                right=True,
                reason="The plate is for the loaded vehicle. Nothing is left over for load.",
            ),
            Option(text="it is within its plate, so nothing follows", reason="What happens when somebody loads it?"),
            Option(
                text="stiffer springs make the plate's figure larger",
                reason="The plate is the maker's, for axle, brakes and tyres together; springs alone do not change it.",
            ),
        ),
    ),
    Choice(
        id="safety.19",
        objective=AGREE_GOAL,
        depth="Deep",
        text="Hot and full, an arc draws 5000 A and the fuse ends it within 10 ms. Cold and low it draws 900 A, and "
        "the fuse breaks from 1200 A up. Which arc gives more heat to what stands before it?",
        choices=(
            Option(
                text="the cold one: it burns on",
                right=True,
                reason="Heat is power times time. The fuse does not end it. It lasts until somebody steps back: 2 s "
                "against 10 ms is two hundred times as long.",
            ),
            Option(text="the hot one: it draws more", reason="More power, yes. And for how long?"),
            Option(text="both alike: it is one pack", reason="Neither power nor time is the same in the two."),
        ),
    ),
    Choice(
        id="safety.20",
        objective=AGREE_GOAL,
        depth="Deep",
        text="A contactor with blow-out magnets is marked with a plus. "
        "A charger behind it sends current the other way. What do you ask its maker?",
        choices=(
            Option(
                text="what it breaks with the current turned round",
                right=True,
                reason="The magnets then pull the arc in, and it may break far less than its rating.",
            ),
            Option(text="whether its coil may be turned round too", reason="The coil has nothing to do with the arc."),
            Option(
                text="whether a larger coil suppressor helps it",
                reason="That changes when it opens, and not what happens to the arc.",
            ),
        ),
    ),
]

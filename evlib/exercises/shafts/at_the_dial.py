"""A dial that sweeps a flange, to be read off."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.number import Slip, Step
from evlib.exercises.reading import Dial, Reading
from evlib.exercises.shafts.companions import TRUTH
from evlib.exercises.shafts.words import SMALL
from evlib.ground.quantity import Quantity
from evlib.shafts import joint

SCALE = Quantity("s", "", "what the pointer shows, in hundredths of a millimetre", low=0)
INDICATOR = Dial(name="in 0.01 mm", unit="", numbered=(0, 10, 20, 30, 40, 50), parts=5, quantity=SCALE)

AT_THE_DIAL: list[Exercise] = [
    Reading(
        id="shafts.21",
        objective=TRUTH,
        depth="Shop",
        text="A dial is clamped to one shaft and sweeps the other flange's rim. At the top it was set to zero. Half a "
        "turn on, at the bottom, it shows what you see. How far does one axis lie above or below the other?",
        dial=INDICATOR,
        pointer="shown",
        given={"shown": INDICATOR.draw("12", "49")},
        answer=SMALL,
        right=lambda shown: joint.pilot_offset(shown * 1e-5),
        steps=(
            Step("reading", "what the pointer shows / 100, in mm", "m", lambda shown: shown * 1e-5),
            Step("offset", "reading / 2", "m", lambda reading: reading / 2),
        ),
        slips=(
            Slip(
                "whole reading",
                lambda shown: shown * 1e-5,
                "From top to bottom the rim has come nearer on one side and gone off on the other. How often does the "
                "offset show in that?",
            ),
            Slip(
                "a small space for one",
                lambda shown: INDICATOR.counted(shown, 1) * 1e-5 / 2,
                "How much lies between two numbers of the dial, and how many equal spaces share it?",
            ),
        ),
        teacher="Two flanges on a lathe, a shim under one side: let them read the dial and measure the shim.",
    ),
]

"""Exercises on over-speed, single faults and the commissioning card; and the predictions."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.safety.words import (
    AGREE_GOAL,
    CARD_GOAL,
    DELAY,
    INERTIA,
    READ_GOAL,
    SHAFT,
    SPEED_GOAL,
    TORQUE,
)
from evlib.safety import overspeed

STOPPING: list[Exercise] = [
    Number(
        id="safety.11",
        objective=SPEED_GOAL,
        depth="Why",
        text="The load is gone. All rotors together have {inertia}; {torque} still drive them. The trip is at {trip}, "
        "the makers' limit is {limit}. The contactor needs 30 ms. How long may detection take?",
        given={
            "inertia": Draw(INERTIA, "0.20 kg m2", "0.40 kg m2", "0.02 kg m2"),
            "torque": Draw(TORQUE, "60 N m", "160 N m", "10 N m"),
            "trip": Draw(SHAFT, "3600 rpm", "4400 rpm", "100 rpm"),
            "limit": Draw(SHAFT, "5200 rpm", "6000 rpm", "100 rpm"),
        },
        answer=DELAY,
        right=lambda inertia, torque, trip, limit: overspeed.longest_delay(
            torque, rotor_inertia=inertia, trip_speed=trip, speed_limit=limit, release_time=0.030
        ),
        steps=(
            Step("rise", "limit - trip speed", "rad/s", lambda inertia, torque, trip, limit: limit - trip),
            Step(
                "window",
                "inertia x rise / torque",
                "s",
                lambda inertia, torque, trip, limit, rise: inertia * rise / torque,
            ),
            Step(
                "delay",
                "less the contactor's 30 ms",
                "s",
                lambda inertia, torque, trip, limit, rise, window: window - 0.030,
            ),
        ),
        slips=(
            Slip(
                "rpm for rad/s",
                lambda inertia, torque, trip, limit: (limit - trip) * 9.549297 * inertia / torque - 0.030,
                "Speed must be in rad/s here: a turn is 2 pi radians and a minute 60 seconds.",
            ),
            Slip(
                "contactor left out",
                lambda inertia, torque, trip, limit: (limit - trip) * inertia / torque,
                "The contactor spends a part of the time too.",
            ),
            Slip(
                "from standstill",
                lambda inertia, torque, trip, limit: limit * inertia / torque - 0.030,
                "The clock starts at the trip speed, not at rest.",
            ),
        ),
    ),
    Choice(
        id="safety.12",
        objective=SPEED_GOAL,
        depth="Why",
        text="Key and emergency switch stand one after the other on the 12 V side of the coils; their other end is "
        "always on ground. Which single fault leaves the pack connected whichever of the two you open?",
        choices=(
            Option(
                text="12 V touches the coil wire",
                right=True,
                reason="The coils are then fed behind both switches. One switch in the return would still let go.",
            ),
            Option(text="the key stays closed", reason="Then the emergency switch still opens the loop."),
            Option(text="one of two contactors welds", reason="Then the other one still parts its pole."),
            Option(text="the coil wire touches ground", reason="Then the 12 V fuse blows, and everything lets go."),
        ),
    ),
    Choice(
        id="safety.13",
        objective=CARD_GOAL,
        depth="Shop",
        text="A card for a pack of 326 V: time constant 0.31 s (0.24 to 0.36 expected); smaller leak 180 kohm; "
        "both leaks together 240 kohm; pressure at rest in its band. Which reading is impossible?",
        choices=(
            Option(text="the time constant", reason="It lies inside its band."),
            Option(text="the smaller leak", reason="It is well above what is asked, which can be."),
            Option(
                text="both leaks together",
                right=True,
                reason="Two leaks side by side are never more than the smaller one.",
            ),
            Option(text="the pressure", reason="It lies inside its band."),
        ),
    ),
    Choice(
        id="safety.21",
        objective=SPEED_GOAL,
        depth="Why",
        text="The capacitor is empty. With all contacts open the controller reads 0 V. The negative contactor alone "
        "closes: 0 V. The precharge relay alone closes: the voltage climbs, nearly to the pack's. What is welded?",
        choices=(
            Option(
                text="the negative contactor",
                right=True,
                reason="The relay joins plus through its resistor. Minus can only be joined by a weld.",
            ),
            Option(
                text="the positive contactor",
                reason="Then the full voltage would have come one step earlier.",
            ),
            Option(text="nothing: precharge always climbs", reason="It climbs only when the other pole is joined too."),
            Option(text="both main contactors", reason="Then the full voltage would have been there with all open."),
        ),
    ),
    Free(
        id="safety.14",
        objective=CARD_GOAL,
        depth="Why",
        text="It is Friday evening. The insulation reads 102 ohm per volt on a damp day, 100 are asked, and the owner "
        "waits. What do you do, and why?",
        guide=(
            "Does not hand it over, says stop, 1 mark",
            "Names the meter's error: a reading just above may lie below, 1 mark",
            "Asks for the parallel value as well, not only the smaller leak, 1 mark",
            "Looks for the cause: brush dust, damp, a pinched cable; dries, cleans, reads again, 1 mark",
            "Leaves the decision to the licensed person and the local code, 1 mark",
        ),
        model="I stop. The reading is above what is asked by less than the meter's error: the true one may be less. "
        "Both leaks together are smaller still. I look for the cause, clean out the brush dust, let it dry and read "
        "again on another day. Who may hand it over is decided by the licensed person and the local code.",
    ),
    Prediction(
        id="safety.p1",
        objective=READ_GOAL,
        depth="Shop",
        text="Both poles leak to the chassis, each a little better than what is asked. Are both together at or above "
        "what is asked, or below?",
    ),
    Prediction(
        id="safety.p2",
        objective=AGREE_GOAL,
        depth="Shop",
        text="You fit a plain diode across the contactor's coil, and it lets go in 100 ms, not 30. Does the forbidden "
        "band stay closed? And can the over-speed trip still save motors that lost their load?",
    ),
]

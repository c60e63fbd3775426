"""Exercises on going backwards and on the selector table."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.parking.words import BACK_GOAL, FORCE, RADIUS, RATIO, RULE_GOAL, TORQUE
from evlib.parking import reverse

GOING: list[Exercise] = [
    Choice(
        id="parking.7",
        objective=BACK_GOAL,
        depth="Why",
        text="A learner swaps the two supply cables of a series-wound motor to make it turn backward. What happens?",
        choices=(
            Option(
                text="it turns backward",
                reason="Follow the current through both windings: which of the two changed its direction?",
            ),
            Option(
                text="it turns as before",
                right=True,
                reason="Armature and field current both change sign, and torque goes with their product.",
            ),
            Option(text="it stands still", reason="Both windings still carry current, so there is torque."),
        ),
    ),
    Choice(
        id="parking.8",
        objective=BACK_GOAL,
        depth="Shop",
        text="With which way of going backwards does the gearbox's own oil pump still turn the right way?",
        choices=(
            Option(
                text="reverse in the gearbox",
                right=True,
                reason="The motors, and the pump they drive, keep turning forward.",
            ),
            Option(
                text="contactors that swap the field", reason="Then the motors turn backward. What turns with them?"
            ),
            Option(
                text="an inverter told to run backward", reason="Then the motor turns backward. What turns with it?"
            ),
        ),
    ),
    Number(
        id="parking.9",
        objective=BACK_GOAL,
        depth="Shop",
        text="At the gearbox input there are {torque}. Reverse has a ratio of {reverse}, the final drive {final}, tyre "
        "radius {radius}. Leave out losses. What is the pull backwards at the tyres?",
        given={
            "torque": Draw(TORQUE, "120 N m", "380 N m", "20 N m"),
            "reverse": Draw(RATIO, "1.6", "2.4", "0.1"),
            "final": Draw(RATIO, "3.0", "4.6", "0.1"),
            "radius": Draw(RADIUS, "0.26 m", "0.38 m", "0.01 m"),
        },
        answer=FORCE,
        right=lambda torque, reverse, final, radius: _back(torque, reverse, final, radius),
        steps=(
            Step(
                "wheels",
                "torque x reverse ratio x final drive",
                "N m",
                lambda torque, reverse, final, radius: torque * reverse * final,
            ),
            Step(
                "pull",
                "torque at the wheels / tyre radius",
                "N",
                lambda torque, reverse, final, radius, wheels: wheels / radius,
            ),
        ),
        slips=(
            Slip(
                "reverse ratio left out",
                lambda torque, reverse, final, radius: torque * final / radius,
                "Two ratios lie between the gearbox input and the wheels, one after the other.",
            ),
            Slip(
                "times radius",
                lambda torque, reverse, final, radius: torque * reverse * final * radius,
                "A longer lever makes a smaller force from the same torque.",
            ),
            Slip(
                "diameter",
                lambda torque, reverse, final, radius: torque * reverse * final / (2 * radius),
                "The force acts at the tyre's radius, not across the tyre.",
            ),
        ),
    ),
    Choice(
        id="parking.10",
        objective=RULE_GOAL,
        depth="Shop",
        text="At 110 km/h a driver of the orchard van asks for low. The table refuses. Why is that right?",
        choices=(
            Option(
                text="the motors would turn past their limit",
                right=True,
                reason="In low, 110 km/h is about 6300 rpm at the motors, past their 5500 rpm. The wheels drive them; "
                "no current is needed for that.",
            ),
            Option(
                text="there would be too much pull at that speed",
                reason="Even without any current there is a danger. Which?",
            ),
            Option(text="the pack could not deliver the current", reason="The danger is there with the pedal up, too."),
        ),
    ),
    Choice(
        id="parking.11",
        objective=RULE_GOAL,
        depth="Why",
        text="The road-speed sensor is lost while driving in drive. What should the table do when low is asked for?",
        choices=(
            Option(
                text="grant it: no speed is seen, so the car stands",
                reason="A lost sensor does not say zero. It says nothing.",
            ),
            Option(
                text="refuse it: the speed is not known",
                right=True,
                reason="What is not known meets no condition; losing a sensor must never add torque or allow a step.",
            ),
            Option(
                text="switch everything off at once", reason="Losing all pull on a motorway is a danger of its own."
            ),
        ),
    ),
    Choice(
        id="parking.13",
        objective=BACK_GOAL,
        depth="Why",
        text="A gearbox holds low by a band that winds itself on while the motors drive forward. Now contactors turn "
        "the motors round, and the car drives backward in low. At the same pressure, what does the band hold?",
        choices=(
            Option(text="as much as forward", reason="Which way does the drum now pull the band's free end?"),
            Option(
                text="less than forward",
                right=True,
                reason="The drum now unwinds the band, so friction works against the piston in place of helping it.",
            ),
            Option(text="more than forward", reason="Look which way the drum pulls the band: on to itself, or off?"),
        ),
    ),
    Choice(
        id="parking.14",
        objective=RULE_GOAL,
        depth="Shop",
        text="The search finds no broken rule in your table. All sensors tell the truth, and the controller "
        "does what the table says. Which of these can still happen?",
        choices=(
            Option(
                text="low is entered at motorway speed",
                reason="Every state was tried, motorway speed among them. What kind of thing did it never see?",
            ),
            Option(
                text="a welded contact leaves current on",
                right=True,
                reason="The search looks at the table. Wires, contacts, sensors and software are not in it. "
                "Were a sensor wrong, the other two could happen as well.",
            ),
            Option(
                text="it starts while the lever is in drive",
                reason="A rule is about just that, and it was tried in every state. What is not in a table at all?",
            ),
        ),
    ),
    Prediction(
        id="parking.p3",
        objective=RULE_GOAL,
        depth="Shop",
        text="You drive at medium speed, pedal down, brake off, and ask for reverse. How many of the table's "
        "conditions does that break?",
    ),
]


def _back(torque: float, reverse_ratio: float, final: float, radius: float) -> float:
    return float(
        reverse.reverse_pull(
            torque, reverse_ratio=reverse_ratio, final_ratio=final, efficiency=1.0, wheel_radius=radius
        )
    )

"""Exercises on reversed motors and on faults."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.hydraulics.words import TROUBLE
from evlib.hydraulics.handover import RULE

TROUBLES: list[Exercise] = [
    Choice(
        id="hydraulics.10",
        objective=TROUBLE,
        depth="Shop",
        text="To back up, somebody swaps the two wires of the motors' field windings, so that they turn backward. The "
        "speed switch counts pulses and does not see direction. What happens once the input turns faster than the "
        "switch-off speed?",
        choices=(
            Option(
                text="The electric pump is turned off, and the internal pump gives nothing: the clutches let go.",
                right=True,
                reason=f"Turned backward, the internal pump draws oil out of the line, and the switch takes it for "
                f"driving. {RULE}",
            ),
            Option(
                text="The internal pump feeds the clutches as it does forwards, because it turns just as fast.",
                reason="A gear pump has an inlet and an outlet. Think what happens when its gears turn the other way.",
            ),
            Option(
                text="The electric pump stays on, because the switch reads no forward speed.",
                reason="This switch counts pulses. Do pulses differ forward and backward?",
            ),
            Option(
                text="The regulator opens, because there is too much pressure.",
                reason="For that, one of the pumps would have to give more than before. Which one would?",
            ),
        ),
    ),
    Choice(
        id="hydraulics.11",
        objective=TROUBLE,
        depth="Shop",
        text="Pressure at rest is as it should be, and so it is on a long road. But crawling in low just above the "
        "switch-off speed, the gauge reads a tenth less than last year. At the pedal you notice nothing. Which fault "
        "fits best?",
        choices=(
            Option(
                text="The check valve no longer shuts, and oil runs back.",
                right=True,
                reason="At rest the pump feeds through the valve anyway; fast, the internal pump has plenty; between, "
                "a gauge shows it. While what is left is above what the torque needs, nothing slips.",
            ),
            Option(
                text="The electric pump's fuse has blown.",
                reason="What would the gauge show at rest, with the motors standing?",
            ),
            Option(
                text="The speed sensor has lost its signal, and reads nil at all speeds.",
                reason="With no speed read, in which state does the switch keep the electric pump?",
            ),
            Option(
                text="The pressure hose has burst.",
                reason="How long would there be pressure at rest, and how long would the oil last?",
            ),
        ),
    ),
]

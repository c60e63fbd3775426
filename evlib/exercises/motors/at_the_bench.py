"""Motors with the hands: a meter with several ranges, and the order in which rotation is proved."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.motors.words import AMPS, FOUR, POWER, TURN, VOLTS
from evlib.exercises.number import Draw, Slip, Step
from evlib.exercises.order import Before, Order, Stage
from evlib.exercises.reading import Dial, Reading
from evlib.ground.quantity import Quantity

SCALE = Quantity("s", "", "what the pointer shows on the scale", low=0)
METER = Dial(name="direct current", unit="", numbered=(0, 10, 20, 30, 40, 50), parts=5, quantity=SCALE)

AT_THE_BENCH: list[Exercise] = [
    Reading(
        id="motors.14",
        objective=FOUR,
        depth="Shop",
        text="On the bench a machine runs at {volts}. The current goes through the meter that you see. Its range "
        "switch stands at {range}: that is the current at the end of the scale. What power does the machine take?",
        dial=METER,
        pointer="shown",
        given={
            "volts": Draw(VOLTS, "24 V", "48 V", "2 V"),
            "range": Draw(AMPS, "100 A", "500 A", "100 A"),
            "shown": METER.draw("12", "49"),
        },
        answer=POWER,
        right=lambda volts, range, shown: volts * (range / 50) * shown,
        steps=(
            Step("each", "range / 50", "A", lambda range: range / 50),
            Step("current", "what the pointer shows x that", "A", lambda shown, each: shown * each),
            Step("power", "volts x amps", "W", lambda volts, current: volts * current),
        ),
        slips=(
            Slip(
                "range left out",
                lambda volts, shown: volts * shown,
                "The scale's last number and the range differ. How many amps is one unit of the scale?",
            ),
            Slip(
                "range for reading",
                lambda volts, range: volts * range,
                "The range is what would flow with the pointer at the end. Where does it stand?",
            ),
            Slip(
                "a small space for one",
                lambda volts, range, shown: volts * range / 50 * METER.counted(shown, 1),
                "How much lies between two numbers of the scale, and how many equal spaces share it?",
            ),
        ),
        teacher="Begin a measurement in the largest range, and go down: the pointer then never hits its stop.",
    ),
    Order(
        id="motors.15",
        objective=TURN,
        depth="Shop",
        text="Two machines are to be coupled face to face. In which order do you settle and prove how each of them "
        "turns?",
        stages=(
            Stage(name="paper", text="Settle on paper which way each machine must turn, seen at its own drive end."),
            Stage(name="connect", text="Connect armature and field for that rotation; nothing is fed yet."),
            Stage(name="strap", text="Strap the machine down, its shaft bare and the guard in place."),
            Stage(name="tap", text="Feed it 12 V for one second, a second person at the switch."),
            Stage(name="compare", text="Compare the turn with the table, and mark an arrow on the housing."),
            Stage(name="couple", text="Join the two shafts."),
        ),
        rules=(
            Before(
                first="strap",
                later="tap",
                hint="In the first instant hundreds of amps kick the machine round. What holds it then?",
            ),
            Before(
                first="compare",
                later="couple",
                hint="Joined, two machines that want to turn opposite ways fight, "
                "and you do not see which one is wrong. What must you know of each one first?",
            ),
            Before(
                first="paper", later="connect", hint="Leads can be joined two ways. What tells you which one is wanted?"
            ),
            Before(
                first="connect",
                later="tap",
                hint="Which way it turns hangs on how its windings are joined. Are they, when the current comes?",
            ),
            Before(first="tap", later="compare", hint="Has anything turned yet that could be looked at?"),
        ),
        why="Strapping down and connecting may change places. "
        "Paper first, then what holds the machine, then one second of current; what is joined is proved already.",
        teacher="All of it is done for both machines.",
    ),
]

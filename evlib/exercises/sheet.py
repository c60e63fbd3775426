"""Lesson 7: reading a review, and deciding what to change."""

from __future__ import annotations

import math

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.order import Before, Order, Stage
from evlib.gearing.traction import tractive_effort
from evlib.ground.checks import Check
from evlib.ground.quantity import Quantity

FORCE = Quantity("F", "N", "force", above=0)
TORQUE = Quantity("T", "N m", "torque", above=0)
RADIUS = Quantity("r", "m", "loaded radius of the wheel", above=0)
RATIO = Quantity("i", "", "ratio", above=0)
MARGIN = Quantity("m", "", "margin", shown={"SI": "percent", "shop": "percent"})
TIME = Quantity("t", "s", "time to the target speed", above=0)

READ = "read a review: say which check governs, and by what margin"
CHANGE = "say what one change does to the other checks"
CHOOSE = "choose a build on a map and on a front, and say what it costs"
SURE = "say how sure a margin is, and which measurement helps most"
HAND = "hand over a build: defend a change, and say what its sheet does not tell"

EXERCISES: list[Exercise] = [
    Number(
        id="sheet.1",
        objective=READ,
        depth="Shop",
        text="A check on the tyres says: demand {demand}, capacity {capacity}. What is its margin, in per cent, to "
        "three figures?",
        given={
            "demand": Draw(FORCE, "6000 N", "9000 N", "250 N"),
            "capacity": Draw(FORCE, "10000 N", "13000 N", "250 N"),
        },
        answer=MARGIN,
        right=lambda demand, capacity: Check("tyres", "sheet", demand, capacity, "N").margin,
        steps=(
            Step("spare", "capacity - demand", "N", lambda demand, capacity: capacity - demand),
            Step("margin", "spare / demand", "", lambda spare, demand: spare / demand),
        ),
        slips=(
            Slip(
                "part of the capacity",
                lambda demand, capacity: (capacity - demand) / capacity,
                "Per cent of what? A margin is measured against what is demanded.",
            ),
            Slip(
                "ratio for margin",
                lambda demand, capacity: capacity / demand,
                "That is how many times the demand there is. How much is there beyond the demand?",
            ),
        ),
    ),
    Number(
        id="sheet.2",
        objective=CHANGE,
        depth="Shop",
        text="Low gear is {low}, the final drive {final}, and the wheel's radius {radius}. The motors give {torque} at "
        "the gearbox. What pull is there at the tyres, leaving losses out?",
        given={
            "torque": Draw(TORQUE, "280 N m", "420 N m", "10 N m"),
            "low": Draw(RATIO, "1.70", "1.90", "0.02"),
            "final": Draw(RATIO, "3.1", "4.1", "0.1"),
            "radius": Draw(RADIUS, "290 mm", "330 mm", "5 mm"),
        },
        answer=FORCE,
        right=lambda torque, low, final, radius: tractive_effort(
            torque, gear_ratio=low, final_drive_ratio=final, wheel_radius=radius, efficiency=1.0
        ),
        steps=(
            Step("at_wheels", "torque x low x final", "N m", lambda torque, low, final: torque * low * final),
            Step("pull", "at_wheels / radius", "N", lambda at_wheels, radius: at_wheels / radius),
        ),
        slips=(
            Slip(
                "diameter for radius",
                lambda torque, low, final, radius: torque * low * final / (2 * radius),
                "Which arm does the road push on: from where to where is the radius measured?",
            ),
            Slip(
                "one ratio left out",
                lambda torque, low, final, radius: torque * final / radius,
                "The torque passes through two reductions on its way to the wheel.",
            ),
            Slip(
                "ratio upside down",
                lambda torque, low, final, radius: torque / (low * final) / radius,
                "A reduction slows the wheel down. What does it do to torque?",
            ),
        ),
    ),
    Choice(
        id="sheet.3",
        objective=CHANGE,
        depth="Shop",
        text="You fit a final drive with a larger ratio, and change nothing else. Which pair of checks moves in "
        "opposite directions?",
        choices=(
            Option(
                text="The steepest start gets better, and the downshift over-speed gets worse.",
                right=True,
                reason="More reduction means more pull at the tyre, and more motor turns at every road speed.",
            ),
            Option(
                text="The steepest start gets better, and so does the top speed that the motors' limit allows.",
                reason="What happens to motor speed at one road speed when the reduction grows?",
            ),
            Option(
                text="The insulation gets worse, and the precharge gets better.",
                reason="Does either of these know what turns behind the gearbox?",
            ),
            Option(
                text="None: the gearbox evens it out.",
                reason="The gearbox has its own fixed ratios; does it know about the axle?",
            ),
        ),
    ),
    Choice(
        id="sheet.4",
        objective=HAND,
        depth="Shop",
        text="A sheet counts 60 checks passed, none failed, 4 not known. What does that tell you?",
        choices=(
            Option(
                text="That 60 sums came out on these numbers, and 4 were not made.",
                right=True,
                reason="A sheet is arithmetic on what it was told. Much is never looked at: its last part lists that.",
            ),
            Option(
                text="That the vehicle may go on the road once the 4 are filled in.",
                reason="Who decides about the road, and who looks at the brakes, the steering and the axle loads?",
            ),
            Option(
                text="That the 4 are unimportant, or they would have been asked for.",
                reason="A missing value is missing whether it matters or not. What waits for it?",
            ),
            Option(
                text="That the numbers put in were right.",
                reason="A check believes what it is told. What if the pack's resistance was a guess?",
            ),
        ),
    ),
    Free(
        id="sheet.5",
        objective=HAND,
        depth="Why",
        text="Take the quarry pickup. Choose one value to change, so that one failed check comes out. Say which, why "
        "this one and not another, and what gets worse.",
        guide=(
            "names the failed check and its demand and capacity",
            "changes a value that this check depends on, by an amount that is enough",
            "names at least one other check that the change moves, with its new margin",
            "gives a reason that speaks of cost, effort or another check, and not of taste",
        ),
        model="An answer reads like this: launch in low fails, the band is asked for more than it holds at rest. I "
        "lower the motor current to 520 A, because it costs a minute and mends main pressure, grip and a shaft "
        "too. The steepest start falls from +42 % to +13 %. A larger pump would cost money and mend one check only.",
    ),
    Choice(
        id="sheet.6",
        objective=CHOOSE,
        depth="Shop",
        text="Four builds, by time to 60 km/h and by their smallest margin. A: 8.2 s, 4 %. B: 8.9 s, 12 %. C: 9.1 s, "
        "10 %. D: 9.6 s, 18 %. Which of them is not on the front?",
        choices=(
            Option(
                text="Build C",
                right=True,
                reason="B is quicker and has more margin too, so nobody would choose C.",
            ),
            Option(text="Build A", reason="Its margin is small. But is any other build quicker?"),
            Option(
                text="Build B",
                reason="Look for a build that is both quicker than it and has more margin. Is there one?",
            ),
            Option(text="Build D", reason="It is the slowest. But does any other have as much margin?"),
        ),
    ),
    Number(
        id="sheet.7",
        objective=CHOOSE,
        depth="Why",
        text="Two builds stand next to each other on a front. One reaches the target speed in {quick} with a margin of "
        "{thin}, the other in {slow} with {thick}. On the straight line between them, how many seconds does a margin "
        "of 10 % more cost?",
        given={
            "quick": Draw(TIME, "7.8 s", "8.8 s", "0.1 s"),
            "slow": Draw(TIME, "9.4 s", "10.6 s", "0.1 s"),
            "thin": Draw(MARGIN, "4 %", "8 %", "1 %"),
            "thick": Draw(MARGIN, "14 %", "22 %", "1 %"),
        },
        answer=TIME,
        right=lambda quick, slow, thin, thick: 0.10 * (slow - quick) / (thick - thin),
        steps=(
            Step("gained", "margin of the slow one - margin of the quick one", "", lambda thin, thick: thick - thin),
            Step("lost", "its time - the other's time", "s", lambda quick, slow: slow - quick),
            Step("price", "lost x 10 % / gained", "s", lambda gained, lost: 0.10 * lost / gained),
        ),
        slips=(
            Slip(
                "whole difference",
                lambda quick, slow, thin, thick: slow - quick,
                "That is what the whole step costs. How much margin does the whole step bring?",
            ),
            Slip(
                "whole time over whole margin",
                lambda quick, slow, thin, thick: 0.10 * slow / thick,
                "What changes from one build to the other? Take differences of both.",
            ),
            Slip(
                "upside down",
                lambda quick, slow, thin, thick: 0.10 * (thick - thin) / (slow - quick),
                "Seconds are asked for. What must be divided by what, so that seconds come out?",
            ),
        ),
    ),
    Number(
        id="sheet.8",
        objective=SURE,
        depth="Why",
        text="Two values move a margin, each by itself. One standard deviation of the first moves it by {first}, one "
        "of the second by {second}. What is the scatter of the margin, as one standard deviation?",
        given={
            "first": Draw(MARGIN, "3 %", "6 %", "0.5 %"),
            "second": Draw(MARGIN, "7 %", "12 %", "0.5 %"),
        },
        answer=MARGIN,
        right=lambda first, second: math.hypot(first, second),
        steps=(
            Step("squares", "first² + second²", "", lambda first, second: first**2 + second**2),
            Step("scatter", "root of squares", "", lambda squares: squares**0.5),
        ),
        slips=(
            Slip(
                "added up",
                lambda first, second: first + second,
                "Both at their worst at once is rare. How do two independent deviations add?",
            ),
            Slip(
                "the larger one only",
                lambda first, second: second,
                "The smaller one counts too, if less than you may think.",
            ),
            Slip(
                "root forgotten",
                lambda first, second: first**2 + second**2,
                "What you have is the variance, in squares. Which step brings it back to per cent?",
            ),
        ),
    ),
    Choice(
        id="sheet.9",
        objective=SURE,
        depth="Shop",
        text="A margin scatters by 10 %. Of its variance one guess makes 70 %, a second guess 20 %, and a measured "
        "value 10 %. You have time for one measurement. Which, and why?",
        choices=(
            Option(
                text="The first guess: without it little more than half of the scatter is left.",
                right=True,
                reason="The root of what is left, 30 % of the variance, is 0.55.",
            ),
            Option(
                text="The measured value, because measured values are easiest to measure again.",
                reason="How much of the scatter would go, at the very best?",
            ),
            Option(
                text="The second guess, because the first is too large to be mended.",
                reason="What makes a share large: how far off the value may be, or whether it can be measured?",
            ),
            Option(
                text="None: the check passes as stated.",
                reason="It passes on the values as stated. How sure are they?",
            ),
        ),
    ),
    Order(
        id="sheet.10",
        objective=HAND,
        depth="Shop",
        text="From a build that fails to a car that is handed over. Put the steps in order.",
        stages=(
            Stage(name="cause", text="Read the review, and find the values that several failed checks share."),
            Stage(name="change", text="Choose changes, and look at what each does to the other checks."),
            Stage(name="measure", text="Measure the guesses that a thin margin hangs on."),
            Stage(name="cut", text="Cut metal and order parts."),
            Stage(name="commission", text="Commission with a qualified person, reading by reading."),
            Stage(name="inspect", text="Let the inspector see the car and the sheet."),
        ),
        rules=(
            Before(
                first="measure", later="cut", hint="What has been cut cannot be put back. What must be sure by then?"
            ),
            Before(
                first="cause",
                later="change",
                hint="A change made before anybody knows why something fails mends what, exactly?",
            ),
            Before(
                first="change", later="measure", hint="Which guesses matter depends on the build. Is it chosen yet?"
            ),
            Before(first="cut", later="commission", hint="Can something be tried out that has not been made?"),
            Before(first="commission", later="inspect", hint="The inspector will ask for readings. Are there any yet?"),
        ),
        why="Paper first, then the tape, then the saw; and the road last, when others have looked.",
    ),
    Prediction(
        id="sheet.p2",
        objective=CHOOSE,
        depth="Shop",
        text="The pickup stands at 4.1 and 900 A. Which way must its point move on the map, up or down, left or right, "
        "until no check fails? Which check will stop you on each side?",
    ),
    Prediction(
        id="sheet.p3",
        objective=SURE,
        depth="Shop",
        text="The van's handover margin hangs on pumps, leakage and braking. Which one value would you measure first?",
    ),
    Prediction(
        id="sheet.p1",
        objective=CHANGE,
        depth="Shop",
        text="The final drive goes from 3.7 to 4.1. Name one check that gets better and one that gets worse.",
    ),
]

"""Lesson 7: reading a review, and deciding what to change."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.gearing.traction import tractive_effort
from evlib.ground.checks import Check
from evlib.ground.quantity import Quantity

FORCE = Quantity("F", "N", "force", above=0)
TORQUE = Quantity("T", "N m", "torque", above=0)
RADIUS = Quantity("r", "m", "loaded radius of the wheel", above=0)
RATIO = Quantity("i", "", "ratio", above=0)
MARGIN = Quantity("m", "", "margin", shown={"SI": "percent", "shop": "percent"})

READ = "read a review: say which check governs, and by what margin"
CHANGE = "say what one change does to the other checks"
DEFEND = "defend a change, with what it costs"
MISSING = "say what a sheet does not tell you"

EXERCISES: list[Exercise] = [
    Number(
        id="sheet.1",
        objective=READ,
        depth="Shop",
        text="A check on the tyres says: demand {demand}, capacity {capacity}. What is its margin, in per cent?",
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
        objective=MISSING,
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
        objective=DEFEND,
        depth="Why",
        text="Take the quarry pickup. Choose one value to change, so that one failed check comes out. Say which, why "
        "this one and not another, and what gets worse.",
        guide=(
            "names the failed check and its demand and capacity",
            "changes a value that this check depends on, by an amount that is enough",
            "names at least one other check that the change moves, with its new margin",
            "gives a reason that speaks of cost, effort or another check, and not of taste",
        ),
        model="An answer reads like this: the steepest start fails. I raise the final drive, because it lifts the pull "
        "without more current in the clutches. The downshift over-speed margin shrinks, so I lower the speed at which "
        "low may be chosen. A new final drive costs a day; more launch current would cost clutch plates.",
    ),
    Prediction(
        id="sheet.p1",
        objective=CHANGE,
        depth="Shop",
        text="The final drive goes from 3.7 to 4.1. Name one check that gets better and one that gets worse.",
    ),
]

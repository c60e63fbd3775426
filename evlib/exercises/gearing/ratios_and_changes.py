"""Exercises on ratios, the set, pull, the change of gear and the map."""

from __future__ import annotations

from math import atan, degrees, pi, sin

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.gearing import planetary, shift
from evlib.gearing import quantities as q
from evlib.gearing.inertia import reflected_mass
from evlib.gearing.traction import constant_power_time, shaft_speed, tractive_effort
from evlib.ground.quantity import Quantity
from evlib.ground.road import GRAVITY, grade_force

SHAFT = Quantity("n", "rad/s", "speed of the motors", low=0)
PULL = Quantity("F", "N", "force at the tyres", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
ROTOR = Quantity("J", "kg m2", "moment of inertia", low=0)
RATIO = Quantity("i", "", "ratio", above=0)
MASS = Quantity("m", "kg", "mass", low=0)
HEAT = Quantity("E", "J", "heat in the clutch", low=0)
SPEED = Quantity("v", "m/s", "road speed", low=0)
TIME = Quantity("t", "s", "time", low=0)
POWER = Quantity("P", "W", "power", low=0)

PULL_GOAL = "work out motor speed and pull at the tyres from ratios and tyre radius"
SET_GOAL = "find a planetary set's ratios, and what its band and clutches hold, from tooth counts"
LIMIT_GOAL = "say whether pull, grip or motor speed limits a start, a climb and the top speed"
SPIN_GOAL = "reckon what spinning rotors weigh on the road, and what they cost in a change of gear"
CHOOSE_GOAL = "choose a low ratio and a final drive on a map, and say what each target costs"

DIAMETER = "Torque and speed act at the tyre's radius: from the ground to the wheel's centre, not across the tyre."
BOTH = "Two reductions lie between motor and wheel in low: both count, one after the other."
WHICH_WAY = (
    "A reduction makes the motors turn faster than the wheels: ask first whether the number must grow or shrink."
)


def _low(input_sun: float, low_sun: float) -> float:
    """The library's low ratio of a two-sun set; short planets as large as the input sun, as such sets are made."""
    train = planetary.two_sun_set(
        input_sun, low_sun=low_sun, short_planet=input_sun, long_planet=18, ring=low_sun + 2 * input_sun
    )
    return float(planetary.solve(train, driven="input sun", output="carrier", held=("low sun",)).ratio)


def _ring_holds(torque: float, input_sun: float, ring: float) -> float:
    short = input_sun
    train = planetary.two_sun_set(
        input_sun, low_sun=ring - 2 * short, short_planet=short, long_planet=18, ring=ring
    )  # fmt: skip
    gear = planetary.solve(train, driven="input sun", output="carrier", held=("ring",), input_torque=torque)
    return abs(float(gear.hold["ring"]))


def _upshift_heat(inertia: float, before: float, ratio: float) -> float:
    radius, final = 0.30, 3.70  # any pair will do: only the shaft speed counts
    road = before / ratio * radius / final
    change = shift.upshift(
        road, low_ratio=ratio, final_drive_ratio=final, wheel_radius=radius, input_inertia=inertia, clutch_torque=1.0
    )
    return float(change.energy)


RATIOS_AND_CHANGES: list[Exercise] = [
    Number(
        id="gearing.1",
        objective=PULL_GOAL,
        depth="Shop",
        text="In low ({low}) with a final drive of {final} and a loaded tyre radius of {radius}, how fast do the "
        "motors turn at {speed}?",
        given={
            "speed": Draw(q.RoadSpeed, "30 km/h", "70 km/h", "2 km/h"),
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "final": Draw(RATIO, "3.20", "4.40", "0.10"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
        },
        answer=SHAFT,
        right=lambda speed, low, final, radius: shaft_speed(
            speed, gear_ratio=low, final_drive_ratio=final, wheel_radius=radius
        ),
        steps=(
            Step("ratio", "low x final drive", "", lambda low, final: low * final),
            Step("wheel", "road speed / tyre radius", "rad/s", lambda speed, radius: speed / radius),
            Step("motor", "wheel x ratio", "rad/s", lambda wheel, ratio: wheel * ratio),
        ),
        slips=(
            Slip("diameter for radius", lambda speed, low, final, radius: speed * low * final / radius / 2, DIAMETER),
            Slip("low gear left out", lambda speed, low, final, radius: speed * final / radius, BOTH),
            Slip("ratio upside down", lambda speed, low, final, radius: speed / radius / (low * final), WHICH_WAY),
        ),
        teacher="Ask for the wheel's speed first, then for the size of the answer, before any multiplication.",
    ),
    Number(
        id="gearing.2",
        objective=PULL_GOAL,
        depth="Shop",
        text="The motors give {torque} at the gearbox input. With low {low}, final drive {final}, tyre radius {radius} "
        "and {efficiency} coming through, what is the steady pull at the tyres?",
        given={
            "torque": Draw(TORQUE, "240 N m", "420 N m", "10 N m"),
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "final": Draw(RATIO, "3.20", "4.40", "0.10"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
            "efficiency": Draw(q.Efficiency, "86 %", "93 %", "1 %"),
        },
        answer=PULL,
        right=lambda torque, low, final, radius, efficiency: tractive_effort(
            torque, gear_ratio=low, final_drive_ratio=final, wheel_radius=radius, efficiency=efficiency
        ),
        steps=(
            Step("ratio", "low x final drive", "", lambda low, final: low * final),
            Step("axle", "torque x ratio x efficiency", "N m",
                 lambda torque, ratio, efficiency: torque * ratio * efficiency),
            Step("pull", "axle torque / tyre radius", "N", lambda axle, radius: axle / radius),
        ),
        slips=(
            Slip("losses left out", lambda torque, low, final, radius, efficiency: torque * low * final / radius,
                 "Not all of the torque comes through the gears."),
            Slip("losses twice", lambda torque, low, final, radius, efficiency:
                 torque * low * final * efficiency**2 / radius,
                 "The share that comes through is given for gearbox and axle together: use it once."),
            Slip("diameter for radius", lambda torque, low, final, radius, efficiency:
                 torque * low * final * efficiency / radius / 2, DIAMETER),
            Slip("low gear left out", lambda torque, low, final, radius, efficiency:
                 torque * final * efficiency / radius, BOTH),
        ),
    ),
    Number(
        id="gearing.3",
        objective=LIMIT_GOAL,
        depth="Why",
        text="How hard does a vehicle of {mass} pull back along a road of {grade} grade? (Rolling left out.)",
        given={"mass": Draw(MASS, "1200 kg", "2400 kg", "50 kg"), "grade": Draw(q.Grade, "16 %", "30 %", "1 %")},
        answer=PULL,
        right=lambda mass, grade: grade_force(mass, grade=grade),
        steps=(
            Step("angle", "arctan(grade)", "rad", lambda grade: atan(grade)),
            Step("weight", "mass x 9.80665 m/s2", "N", lambda mass: mass * GRAVITY),
            Step("pull", "weight x sin(angle)", "N", lambda weight, angle: weight * sin(angle)),
        ),
        slips=(
            Slip("mass taken for weight", lambda mass, grade: mass * sin(atan(grade)),
                 "A kilogram is not a newton: the road feels the weight."),
            Slip("grade taken as degrees", lambda mass, grade: mass * GRAVITY * sin(grade * 100 * pi / 180),
                 "Per cent of grade are not degrees: 100 % is a slope of one in one."),
            Slip("cosine for sine", lambda mass, grade: mass * GRAVITY / (1 + grade**2) ** 0.5,
                 "On a level road this force must vanish; does yours?"),
        ),
        teacher=f"On 20 % the angle is {degrees(atan(0.2)):.1f} degrees, and the grade itself would be 2 % too much.",
    ),
    Number(
        id="gearing.4",
        objective=SET_GOAL,
        depth="Shop",
        text="In a two-sun set the input sun has {input_sun} teeth and the low sun, which the band holds in low, "
        "{low_sun}. The carrier drives out. What is the low ratio?",
        given={"input_sun": Draw(q.Teeth, "26", "34", "1"), "low_sun": Draw(q.Teeth, "18", "24", "1")},
        answer=RATIO,
        right=_low,
        steps=(
            Step("teeth", "low sun / input sun", "", lambda low_sun, input_sun: low_sun / input_sun),
            Step("ratio", "1 + that", "", lambda teeth: 1 + teeth),
        ),
        slips=(
            Slip("the one left out", lambda input_sun, low_sun: low_sun / input_sun,
                 "The planets roll around the held sun and carry the carrier with them: that turn is missing."),
            Slip("upside down", lambda input_sun, low_sun: 1 + input_sun / low_sun,
                 "Which sun is driven, and which is held? The held one stands above the line."),
        ),
    ),
    Number(
        id="gearing.5",
        objective=SET_GOAL,
        depth="Why",
        text="The same kind of set in reverse: the ring of {ring} teeth is held, the input sun has {input_sun}, the "
        "carrier drives out backwards. The motors give {torque}. What torque must the reverse clutch hold?",
        given={
            "torque": Draw(TORQUE, "120 N m", "380 N m", "10 N m"),
            "ring": Draw(q.Teeth, "76", "84", "2"),
            "input_sun": Draw(q.Teeth, "25", "29", "1"),
        },
        answer=TORQUE,
        right=_ring_holds,
        steps=(
            Step("ratio", "ring / input sun - 1", "", lambda ring, input_sun: ring / input_sun - 1),
            Step("output", "torque x ratio, backwards", "N m", lambda torque, ratio: torque * ratio),
            Step("held", "output torque + input torque", "N m", lambda output, torque: output + torque),
        ),
        slips=(
            Slip("output torque", lambda torque, ring, input_sun: torque * (ring / input_sun - 1),
                 "The output turns backwards, so the case feels output and input torque together."),
            Slip("as in low", lambda torque, ring, input_sun: torque * (ring / input_sun - 2),
                 "In low the case feels the difference of output and input; which is it when the output turns back?"),
            Slip("input torque", lambda torque, ring, input_sun: torque,
                 "A clutch that holds a member to the case does not carry the input torque alone."),
        ),
        teacher="Reverse holds the most of all: the reason why launch current in reverse has its own limit.",
    ),
    Number(
        id="gearing.6",
        objective=SPIN_GOAL,
        depth="Why",
        text="Rotors of {inertia} in all turn {low} x {final} times as fast as the wheels, on tyres of {radius}. "
        "How many kilograms do they add while the vehicle accelerates? (Losses left out.)",
        given={
            "inertia": Draw(ROTOR, "0.20 kg m2", "0.40 kg m2", "0.02 kg m2"),
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "final": Draw(RATIO, "3.20", "4.40", "0.10"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
        },
        answer=MASS,
        right=lambda inertia, low, final, radius: reflected_mass(
            inertia, total_ratio=low * final, wheel_radius=radius
        ),
        steps=(
            Step("ratio", "low x final drive", "", lambda low, final: low * final),
            Step("turns", "ratio / tyre radius", "1/m", lambda ratio, radius: ratio / radius),
            Step("mass", "inertia x that squared", "kg", lambda inertia, turns: inertia * turns**2),
        ),
        slips=(
            Slip("not squared", lambda inertia, low, final, radius: inertia * low * final / radius,
                 "Energy goes with the square of the speed: the ratio counts twice."),
            Slip("low gear left out", lambda inertia, low, final, radius: inertia * (final / radius) ** 2, BOTH),
            Slip("diameter for radius", lambda inertia, low, final, radius: inertia * (low * final / radius / 2) ** 2,
                 DIAMETER),
        ),
    ),
    Number(
        id="gearing.7",
        objective=SPIN_GOAL,
        depth="Why",
        text="The box changes up from {low} to direct while the rotors ({inertia} in all) turn at {before}; the "
        "current is cut. How much heat does the direct clutch swallow?",
        given={
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "inertia": Draw(ROTOR, "0.20 kg m2", "0.40 kg m2", "0.02 kg m2"),
            "before": Draw(SHAFT, "2600 rpm", "4000 rpm", "50 rpm"),
        },
        answer=HEAT,
        right=lambda low, inertia, before: _upshift_heat(inertia, before, low),
        steps=(
            Step("after", "speed before / low ratio", "rad/s", lambda before, low: before / low),
            Step("slip", "before - after", "rad/s", lambda before, after: before - after),
            Step("heat", "inertia x slip squared / 2", "J", lambda inertia, slip: inertia * slip**2 / 2),
        ),
        slips=(
            Slip("all that the rotors lose", lambda low, inertia, before:
                 inertia * (before**2 - (before / low) ** 2) / 2,
                 "The rotors give up more than that, but a part of it pushes the vehicle: only the slip makes heat."),
            Slip("rpm for rad/s", lambda low, inertia, before:
                 inertia * ((before - before / low) * 30 / pi) ** 2 / 2,
                 "Energy needs rad/s: a turn is 2 pi radians and a minute 60 seconds."),
            Slip("the half left out", lambda low, inertia, before: inertia * (before - before / low) ** 2,
                 "While it slips, the slip falls evenly to nothing: its mean is what counts."),
        ),
    ),
    Number(
        id="gearing.8",
        objective=LIMIT_GOAL,
        depth="Shop",
        text="The motors must not turn faster than {limit}. With low {low}, final drive {final} and a tyre radius of "
        "{radius}, above which road speed must nobody be able to select low?",
        given={
            "limit": Draw(SHAFT, "4500 rpm", "6000 rpm", "100 rpm"),
            "low": Draw(RATIO, "1.60", "2.00", "0.02"),
            "final": Draw(RATIO, "3.20", "4.40", "0.10"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
        },
        answer=SPEED,
        right=lambda limit, low, final, radius: limit
        / shaft_speed(1.0, gear_ratio=low, final_drive_ratio=final, wheel_radius=radius),
        steps=(
            Step("ratio", "low x final drive", "", lambda low, final: low * final),
            Step("wheel", "motor limit / ratio", "rad/s", lambda limit, ratio: limit / ratio),
            Step("road", "wheel x tyre radius", "m/s", lambda wheel, radius: wheel * radius),
        ),
        slips=(
            Slip("rpm for rad/s", lambda limit, low, final, radius: limit * 30 / pi / (low * final) * radius,
                 "Speed times radius needs rad/s: a turn is 2 pi radians and a minute 60 seconds."),
            Slip("low gear left out", lambda limit, low, final, radius: limit / final * radius, BOTH),
            Slip("diameter for radius", lambda limit, low, final, radius: 2 * limit / (low * final) * radius, DIAMETER),
        ),
        place="desk",
    ),
    Number(
        id="gearing.9",
        objective=PULL_GOAL,
        depth="Why",
        text="With the right gear at every speed a vehicle of {mass} could use {power} at its tyres all the way. "
        "How long would it need from rest to {speed}, road load left out?",
        given={
            "mass": Draw(MASS, "1200 kg", "2400 kg", "50 kg"),
            "power": Draw(POWER, "60 kW", "120 kW", "5 kW"),
            "speed": Draw(SPEED, "60 km/h", "100 km/h", "5 km/h"),
        },
        answer=TIME,
        right=lambda mass, power, speed: constant_power_time(speed, mass=mass, power=power),
        steps=(
            Step("energy", "mass x speed squared / 2", "J", lambda mass, speed: mass * speed**2 / 2),
            Step("time", "energy / power", "s", lambda energy, power: energy / power),
        ),
        slips=(
            Slip("the half left out", lambda mass, power, speed: mass * speed**2 / power,
                 "Kinetic energy has a factor that is missing here."),
            Slip("km/h for m/s", lambda mass, power, speed: mass * (speed * 3.6) ** 2 / (2 * power),
                 "Speed must be in metres a second before it is squared."),
            Slip("not squared", lambda mass, power, speed: mass * speed / (2 * power),
                 "Energy goes with the square of the speed."),
        ),
    ),
    Choice(
        id="gearing.10",
        objective=SET_GOAL,
        depth="Why",
        text="Why has a two-speed box of this kind a second sun?",
        choices=(
            Option(text="With three members, two shafts leave one to hold: one ratio besides direct", right=True,
                   reason="Direct holds nothing, it locks two members. Low and reverse must each hold another one."),
            Option(text="One sun alone could not carry the torque of two motors",
                   reason="The teeth's strength is a matter of width and module, not of how many ratios there are."),
            Option(text="The second sun drives the oil pump while the vehicle stands",
                   reason="Nothing in the set turns at rest; that is what the electric pump is for."),
            Option(text="Two suns halve the speed of the planets on their pins",
                   reason="Look at the pin speeds in the table: they follow from the ratio, not from that."),
        ),
    ),
    Choice(
        id="gearing.11",
        objective=CHOOSE_GOAL,
        depth="Shop",
        text="On the map your design just misses the steepest start, and the table says that grip governs. What "
        "helps?",
        choices=(
            Option(text="More weight on the driven axle, or better tyres", right=True,
                   reason="Where grip governs, only load on the driven tyres and their grip move the limit."),
            Option(text="A low gear with a larger ratio",
                   reason="It brings more pull to tyres that already let go."),
            Option(text="A larger final drive ratio, up to 4.6 or so",
                   reason="It brings more pull to tyres that already let go."),
            Option(text="More motor current, as far as the limit",
                   reason="The motors already give more than the tyres can pass on."),
        ),
    ),
    Number(
        id="gearing.12",
        objective=CHOOSE_GOAL,
        depth="Shop",
        text="The vehicle is to reach {top} in direct. The motors may turn at {limit} at most, the tyre radius is "
        "{radius}. What is the largest final drive ratio that allows it?",
        given={
            "top": Draw(SPEED, "90 km/h", "140 km/h", "5 km/h"),
            "limit": Draw(SHAFT, "4500 rpm", "6000 rpm", "100 rpm"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "5 mm"),
        },
        answer=RATIO,
        right=lambda top, limit, radius: limit
        / shaft_speed(top, gear_ratio=1.0, final_drive_ratio=1.0, wheel_radius=radius),
        steps=(
            Step("wheel", "top speed / tyre radius", "rad/s", lambda top, radius: top / radius),
            Step("ratio", "motor limit / wheel", "", lambda limit, wheel: limit / wheel),
        ),
        slips=(
            Slip("rpm over rad/s", lambda top, limit, radius: limit * 30 / pi * radius / top,
                 "Both speeds of a ratio must be in the same unit: a turn is 2 pi radians and a minute 60 seconds."),
            Slip("diameter for radius", lambda top, limit, radius: 2 * limit * radius / top, DIAMETER),
            Slip("upside down", lambda top, limit, radius: top / radius / limit, WHICH_WAY),
            Slip("km/h for m/s", lambda top, limit, radius: limit * radius / (top * 3.6),
                 "Road speed must be in metres a second before it is divided by metres."),
        ),
        teacher="On the map this is the upright line: it does not care about the low ratio at all. Ask why.",
    ),
    Prediction(
        id="gearing.p1",
        objective=LIMIT_GOAL,
        depth="Shop",
        text="The van gets a final drive ratio a quarter larger (4.60 in place of 3.70). Which limits move, and which "
        "way: steepest start, top speed, grip?",
    ),
    Prediction(
        id="gearing.p2",
        objective=SPIN_GOAL,
        depth="Shop",
        text="You change up at 30 km/h instead of 55 km/h. Does the run-up to 60 km/h get slower, and by how much?",
    ),
    Prediction(
        id="gearing.p3",
        objective=CHOOSE_GOAL,
        depth="Shop",
        text="You load half a tonne. How much of the map is still shaded, and which target has taken the most?",
    ),
]  # fmt: skip

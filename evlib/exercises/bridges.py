"""The bridges: ten small things from school, in the words of the shop. ``.3`` is a self-check, ``.3b`` practice."""

from __future__ import annotations

from math import asin, atan, cos, pi, radians, sin, sqrt

from evlib.exercises.base import Exercise
from evlib.exercises.free import Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground.quantity import Quantity
from evlib.ground.road import GRAVITY, Grade, Mass, grade_force, slope_angle
from evlib.ground.units import STANDARD_ATMOSPHERE

RESISTANCE = Quantity("R", "ohm", "resistance", low=0, shown={"SI": "mohm", "shop": "mohm"})
LENGTH = Quantity("x", "m", "length", low=0)
SPEED = Quantity("ω", "rad/s", "speed", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
POWER = Quantity("P", "W", "power", low=0)
RATIO = Quantity("i", "", "reduction", above=0)
SHARE = Quantity("s", "", "share", low=0, high=1, shown={"SI": "percent", "shop": "percent"})
GAUGE = Quantity("p", "Pa", "gauge pressure", kind="gauge")
ABSOLUTE = Quantity("pa", "Pa", "absolute pressure", low=0, kind="absolute")
FORCE = Quantity("F", "N", "force", low=0)
VOLTS = Quantity("U", "V", "voltage", low=0)
AMPS = Quantity("I", "A", "current", low=0)
CHARGE = Quantity("Q", "C", "charge", low=0)
ENERGY = Quantity("E", "J", "energy", low=0, shown={"SI": "kWh", "shop": "kWh"})
JOULES = Quantity("E", "J", "energy", low=0, shown={"SI": "MJ", "shop": "MJ"})
ANGLE = Quantity("θ", "rad", "angle")
ROAD_SPEED = Quantity("v", "m/s", "road speed", low=0)
TIME = Quantity("t", "s", "time", above=0)
ACCELERATION = Quantity("a", "m/s2", "acceleration")

PREFIX = "Milli means a thousandth: ask whether the number must get smaller or larger, and by how many places."
TURNS = "Speed must be in radians a second before you multiply: one turn is 2 pi radians, a minute is 60 seconds."
CIRCLE = "The area of a circle takes the radius, which is half the bore, squared, times pi."

UNITS: list[Exercise] = [
    Number(
        id="bridges.1",
        objective="change a value from one unit or prefix to another",
        depth="Shop",
        text="A field winding measures {resistance}. Write that in ohm.",
        given={"resistance": Draw(RESISTANCE, "12 mohm", "48 mohm", "1 mohm")},
        answer=RESISTANCE,
        unit="ohm",
        right=lambda resistance: resistance,
        steps=(Step("ohms", "resistance in mohm / 1000", "ohm", lambda resistance: resistance),),
        slips=(
            Slip("multiplied by a thousand", lambda resistance: resistance * 1e6, PREFIX),
            Slip("milli as a hundredth", lambda resistance: resistance * 10, PREFIX),
            Slip("milli as a millionth", lambda resistance: resistance / 1000, PREFIX),
        ),
        teacher="Let them say the size first: larger or smaller number? Then move the point.",
    ),
    Number(
        id="bridges.1b",
        objective="change a value from one unit or prefix to another",
        depth="Shop",
        text="A feeler blade of {gap} just fits the gap (1 thou is a thousandth of an inch). How many mm is that?",
        given={"gap": Draw(LENGTH, "12 thou", "48 thou", "1 thou")},
        answer=LENGTH,
        unit="mm",
        right=lambda gap: gap,
        steps=(Step("millimetres", "gap in thou / 1000 x 25.4 mm", "m", lambda gap: gap),),
        slips=(
            Slip("thou as a thousandth of a mm", lambda gap: gap / 25.4, "A thou is a part of an inch, not of a mm."),
            Slip("inch to mm upside down", lambda gap: gap / 25.4**2, "One inch is more than one mm: 25.4 of them."),
        ),
    ),
    Number(
        id="bridges.2",
        objective="turn rpm into rad/s and back",
        depth="Shop",
        text="A motor's tachometer shows {speed}. What is that in rad/s?",
        given={"speed": Draw(SPEED, "1500 rpm", "5400 rpm", "100 rpm")},
        answer=SPEED,
        unit="rad/s",
        right=lambda speed: speed,
        steps=(Step("angular", "speed in rpm x 2 pi / 60", "rad/s", lambda speed: speed),),
        slips=(
            Slip(
                "rpm left as it is",
                lambda speed: speed * 60 / (2 * pi),
                "That number is still in rpm: one turn is 2 pi radians, and a minute has 60 seconds.",
            ),
            Slip("turns a second", lambda speed: speed / (2 * pi), "Those are turns a second; a turn is 2 pi radians."),
            Slip("minutes forgotten", lambda speed: speed * 60, "Those are radians a minute; a second is wanted."),
        ),
        teacher="Rule of thumb to offer afterwards, not before: rad/s is a little more than a tenth of rpm.",
    ),
    Number(
        id="bridges.2b",
        objective="turn rpm into rad/s and back",
        depth="Shop",
        text="A calculation gives {speed}. What will the tachometer show, in rpm?",
        given={"speed": Draw(SPEED, "160 rad/s", "560 rad/s", "10 rad/s")},
        answer=SPEED,
        unit="rpm",
        right=lambda speed: speed,
        steps=(Step("tachometer", "speed in rad/s x 60 / (2 pi)", "rad/s", lambda speed: speed),),
        slips=(
            Slip(
                "factor upside down",
                lambda speed: speed * (2 * pi / 60) ** 2,
                "A shaft makes more turns in a minute than radians in a second: your factor is upside down.",
            ),
            Slip("seconds forgotten", lambda speed: speed / 60, "Those are turns a second; a minute is wanted."),
            Slip("turn forgotten", lambda speed: speed * 2 * pi, "Those are radians a minute; turns are wanted."),
        ),
    ),
    Number(
        id="bridges.3",
        objective="find power from torque and speed",
        depth="Shop",
        text="A motor pair gives {torque} at {speed}. What power is that?",
        given={
            "torque": Draw(TORQUE, "110 N m", "390 N m", "10 N m"),
            "speed": Draw(SPEED, "1200 rpm", "3900 rpm", "100 rpm"),
        },
        answer=POWER,
        right=lambda torque, speed: torque * speed,
        steps=(Step("power", "torque x speed in rad/s", "W", lambda torque, speed: torque * speed),),
        slips=(
            Slip("rpm for rad/s", lambda torque, speed: torque * speed * 60 / (2 * pi), TURNS),
            Slip("turns a second for rad/s", lambda torque, speed: torque * speed / (2 * pi), TURNS),
            Slip(
                "divided",
                lambda torque, speed: torque / speed,
                "Power grows with torque and with speed: one of them must not be divided by the other.",
            ),
        ),
    ),
    Number(
        id="bridges.3b",
        objective="find power from torque and speed",
        depth="Why",
        text="The shaft into a gearbox carries {power} at {speed}. What torque is that?",
        given={
            "power": Draw(POWER, "21 kW", "79 kW", "1 kW"),
            "speed": Draw(SPEED, "1200 rpm", "3900 rpm", "100 rpm"),
        },
        answer=TORQUE,
        right=lambda power, speed: power / speed,
        steps=(Step("torque", "power / speed in rad/s", "N m", lambda power, speed: power / speed),),
        slips=(
            Slip("rpm for rad/s", lambda power, speed: power / speed * 2 * pi / 60, TURNS),
            Slip("turns a second for rad/s", lambda power, speed: power / speed * 2 * pi, TURNS),
            Slip(
                "multiplied",
                lambda power, speed: power * speed,
                "At the same power a faster shaft needs less torque: rearrange power = torque x speed.",
            ),
        ),
    ),
    Number(
        id="bridges.4",
        objective="work with ratios and per cent",
        depth="Shop",
        text="A gearbox with a reduction of {ratio} : 1 takes in {torque} and loses {loss} of the power. "
        "What torque comes out?",
        given={
            "ratio": Draw(RATIO, "1.5", "3.8", "0.1"),
            "torque": Draw(TORQUE, "110 N m", "390 N m", "10 N m"),
            "loss": Draw(SHARE, "5 %", "12 %", "1 %"),
        },
        answer=TORQUE,
        right=lambda ratio, torque, loss: torque * ratio * (1 - loss),
        steps=(
            Step("ideal", "torque x reduction", "N m", lambda ratio, torque: torque * ratio),
            Step("out", "that x (1 - loss)", "N m", lambda ideal, loss: ideal * (1 - loss)),
        ),
        slips=(
            Slip(
                "ratio upside down",
                lambda ratio, torque, loss: torque / ratio * (1 - loss),
                "A reduction makes the shaft slower and the torque larger: your ratio is upside down.",
            ),
            Slip(
                "loss forgotten",
                lambda ratio, torque, loss: torque * ratio,
                "That would be a gearbox that loses nothing.",
            ),
            Slip(
                "loss added",
                lambda ratio, torque, loss: torque * ratio * (1 + loss),
                "A loss cannot make the torque larger.",
            ),
            Slip(
                "only the loss",
                lambda ratio, torque, loss: torque * ratio * loss,
                "That is the part which is lost; what is left is wanted.",
            ),
        ),
    ),
    Number(
        id="bridges.4b",
        objective="work with ratios and per cent",
        depth="Shop",
        text="Under load a motor slows from {before} to {after}. By how many per cent has the speed fallen?",
        given={
            "before": Draw(SPEED, "3000 rpm", "3900 rpm", "100 rpm"),
            "after": Draw(SPEED, "2000 rpm", "2600 rpm", "100 rpm"),
        },
        answer=SHARE,
        right=lambda before, after: (before - after) / before,
        steps=(
            Step("fall", "speed before - speed after", "rad/s", lambda before, after: before - after),
            Step("share", "fall / speed before", "", lambda fall, before: fall / before),
        ),
        slips=(
            Slip(
                "part of the new value",
                lambda before, after: (before - after) / after,
                "Per cent of what? A fall is measured against the value before it.",
            ),
            Slip("what is left", lambda before, after: after / before, "That is what is left; the fall is wanted."),
        ),
    ),
    Number(
        id="bridges.5",
        objective="find force from pressure and area, and tell gauge from absolute pressure",
        depth="Shop",
        text="Oil at {pressure} (gauge) pushes on a round piston of {bore} bore. With what force?",
        given={
            "pressure": Draw(GAUGE, "410 kPa", "980 kPa", "10 kPa"),
            "bore": Draw(LENGTH, "24 mm", "66 mm", "2 mm"),
        },
        answer=FORCE,
        right=lambda pressure, bore: pressure * pi / 4 * bore**2,
        steps=(
            Step("area", "pi x (bore / 2)^2", "m2", lambda bore: pi * (bore / 2) ** 2),
            Step("force", "pressure x area", "N", lambda pressure, area: pressure * area),
        ),
        slips=(
            Slip("diameter for radius", lambda pressure, bore: pressure * pi * bore**2, CIRCLE),
            Slip(
                "square, not round", lambda pressure, bore: pressure * bore**2, "That is the force on a square piston."
            ),
            Slip("radius not squared", lambda pressure, bore: pressure * pi * bore / 2, CIRCLE),
            Slip(
                "absolute for gauge",
                lambda pressure, bore: (pressure + STANDARD_ATMOSPHERE) * pi / 4 * bore**2,
                "Air presses on the other side of the piston too: use the gauge pressure alone.",
            ),
        ),
    ),
    Number(
        id="bridges.5b",
        objective="find force from pressure and area, and tell gauge from absolute pressure",
        depth="Shop",
        text="A gauge on the pump line shows {pressure}. What is the absolute pressure at sea level? "
        "(The air presses with 101.3 kPa, which is 14.7 psi. Write psia or kPa.)",
        given={"pressure": Draw(GAUGE, "55 psi", "120 psi", "5 psi")},
        answer=ABSOLUTE,
        right=lambda pressure: pressure + STANDARD_ATMOSPHERE,
        steps=(
            Step(
                "absolute",
                "gauge pressure + pressure of the air",
                "Pa",
                lambda pressure: pressure + STANDARD_ATMOSPHERE,
            ),
        ),
        slips=(
            Slip(
                "gauge left as it is",
                lambda pressure: pressure,
                "A gauge in open air shows zero; an absolute one does not.",
            ),
            Slip(
                "subtracted",
                lambda pressure: pressure - STANDARD_ATMOSPHERE,
                "Absolute pressure counts from empty space, so it is larger than what the gauge shows.",
            ),
        ),
    ),
]

ELECTRIC: list[Exercise] = [
    Number(
        id="bridges.6",
        objective="use volts, amps, ohms and watts together",
        depth="Shop",
        text="A pack of {volts} sends {amps} through cables and joints of {resistance} in all. "
        "How much power do the cables and joints turn into heat?",
        given={
            "volts": Draw(VOLTS, "120 V", "320 V", "10 V"),
            "amps": Draw(AMPS, "160 A", "480 A", "10 A"),
            "resistance": Draw(RESISTANCE, "6 mohm", "19 mohm", "1 mohm"),
        },
        answer=POWER,
        right=lambda amps, resistance: amps**2 * resistance,
        steps=(
            Step("lost", "current x resistance", "V", lambda amps, resistance: amps * resistance),
            Step("heat", "volts lost x current", "W", lambda lost, amps: lost * amps),
        ),
        slips=(
            Slip(
                "all of the pack's power",
                lambda volts, amps: volts * amps,
                "That is all that the pack gives; only the volts lost in the cables heat the cables.",
            ),
            Slip(
                "volts lost for watts",
                lambda amps, resistance: amps * resistance,
                "Current times resistance is volts; one more step makes it watts.",
            ),
            Slip(
                "volts squared over ohms",
                lambda volts, resistance: volts**2 / resistance,
                "Those volts are the pack's, not the volts across the cables.",
            ),
            Slip(
                "current not squared, halved",
                lambda amps, resistance: amps**2 * resistance / 2,
                "Nothing is halved here: heat is current squared times resistance.",
            ),
        ),
    ),
    Number(
        id="bridges.6b",
        objective="use volts, amps, ohms and watts together",
        depth="Shop",
        text="A motor draws {amps}. Between pack and motor you measure a drop of {drop}. "
        "What is the resistance between them?",
        given={
            "amps": Draw(AMPS, "160 A", "480 A", "10 A"),
            "drop": Draw(VOLTS, "1.2 V", "6.4 V", "0.1 V"),
        },
        answer=RESISTANCE,
        right=lambda amps, drop: drop / amps,
        steps=(Step("resistance", "volts lost / current", "ohm", lambda amps, drop: drop / amps),),
        slips=(
            Slip("upside down", lambda amps, drop: amps / drop, "Ohms are volts for each amp, not amps for each volt."),
            Slip("multiplied", lambda amps, drop: amps * drop, "Volts times amps is watts; ohms are wanted."),
        ),
    ),
    Number(
        id="bridges.7",
        objective="turn watt-hours into joules, and charge into energy",
        depth="Shop",
        text="A pack holds {energy}. How many MJ is that?",
        given={"energy": Draw(ENERGY, "11 kWh", "54 kWh", "1 kWh")},
        answer=JOULES,
        unit="MJ",
        right=lambda energy: energy,
        steps=(Step("joules", "energy in kWh x 3.6", "J", lambda energy: energy),),
        slips=(
            Slip(
                "divided",
                lambda energy: energy / 3.6**2,
                "A kWh is 1000 W for 3600 s, which is more than a million joules: the number must grow.",
            ),
            Slip("minutes for an hour", lambda energy: energy / 60, "An hour has 60 minutes, each with 60 seconds."),
            Slip(
                "kWh left as it is", lambda energy: energy / 3.6, "A watt for an hour is not a joule: how many seconds?"
            ),
        ),
    ),
    Number(
        id="bridges.7b",
        objective="turn watt-hours into joules, and charge into energy",
        depth="Shop",
        text="A pack of {volts} has a charge of {charge}. How much energy is that?",
        given={
            "volts": Draw(VOLTS, "110 V", "330 V", "10 V"),
            "charge": Draw(CHARGE, "60 Ah", "190 Ah", "10 Ah"),
        },
        answer=ENERGY,
        right=lambda volts, charge: volts * charge,
        steps=(Step("energy", "volts x charge", "J", lambda volts, charge: volts * charge),),
        slips=(
            Slip(
                "hours forgotten",
                lambda volts, charge: volts * charge / 3600,
                "Volts times amp-hours gives watt-hours: joules would need seconds.",
            ),
            Slip("volts forgotten", lambda charge: charge, "Amp-hours alone say nothing of energy: at what voltage?"),
            Slip(
                "divided",
                lambda volts, charge: volts / charge * 3600**2,
                "More charge is more energy: do not divide by it.",
            ),
        ),
    ),
]

ROAD: list[Exercise] = [
    Number(
        id="bridges.8",
        objective="turn a grade in per cent into an angle and a pull",
        depth="Why",
        text="A ramp has a grade of {grade}: so much rise for each metre along the level. What is its angle?",
        given={"grade": Draw(Grade, "20 %", "35 %", "1 %")},
        answer=ANGLE,
        right=slope_angle,
        steps=(Step("angle", "arctangent of (grade / 100)", "rad", lambda grade: atan(grade)),),
        slips=(
            Slip(
                "per cent as degrees",
                lambda grade: radians(grade * 100),
                "Per cent are not degrees: 100 % is 45 degrees.",
            ),
            Slip(
                "share of a right angle",
                lambda grade: grade * pi / 2,
                "Half of a right angle is 100 %, and the angle does not grow evenly with the grade.",
            ),
            Slip(
                "share of half a right angle",
                lambda grade: grade * pi / 4,
                "You know one point, 100 % is 45 degrees, but the angle does not grow evenly with the grade.",
            ),
            Slip(
                "sine for tangent",
                lambda grade: asin(grade),
                "A grade is rise over the level distance, not over the distance along the road.",
            ),
        ),
    ),
    Number(
        id="bridges.8b",
        objective="turn a grade in per cent into an angle and a pull",
        depth="Why",
        text="A vehicle of {mass} stands on a grade of {grade}. With what force does it pull down the slope?",
        given={
            "mass": Draw(Mass, "1150 kg", "2450 kg", "50 kg"),
            "grade": Draw(Grade, "26 %", "40 %", "1 %"),
        },
        answer=FORCE,
        right=lambda mass, grade: grade_force(mass, grade=grade),
        steps=(
            Step("sine", "grade / square root of (1 + grade^2)", "", lambda grade: grade / sqrt(1 + grade**2)),
            Step("pull", "mass x 9.81 x sine", "N", lambda mass, sine: mass * GRAVITY * sine),
        ),
        slips=(
            Slip(
                "grade for sine",
                lambda mass, grade: mass * GRAVITY * grade,
                "Close, but a steep grade is not its own sine: go by way of the angle.",
            ),
            Slip(
                "cosine for sine",
                lambda mass, grade: mass * GRAVITY * cos(atan(grade)),
                "That is how hard the vehicle presses on the road; the pull along it is wanted.",
            ),
            Slip(
                "mass for weight",
                lambda mass, grade: mass * sin(atan(grade)),
                "Kilograms are not newtons: where is the pull of the earth?",
            ),
            Slip(
                "per cent as degrees",
                lambda mass, grade: mass * GRAVITY * sin(radians(grade * 100)),
                "Per cent are not degrees: 100 % is 45 degrees.",
            ),
        ),
    ),
    Number(
        id="bridges.9",
        objective="read a value from a graph and from a log",
        depth="Shop",
        text="A log says: at 10 s the speed is {first}, {time} later it is {second}. "
        "What was the acceleration in between, in m/s²?",
        given={
            "first": Draw(ROAD_SPEED, "8 km/h", "22 km/h", "2 km/h"),
            "second": Draw(ROAD_SPEED, "42 km/h", "68 km/h", "2 km/h"),
            "time": Draw(TIME, "3 s", "7 s", "1 s"),
        },
        answer=ACCELERATION,
        right=lambda first, second, time: (second - first) / time,
        steps=(
            Step("gain", "second speed - first speed", "m/s", lambda first, second: second - first),
            Step("acceleration", "gain in m/s / time", "m/s2", lambda gain, time: gain / time),
        ),
        slips=(
            Slip(
                "km/h for m/s",
                lambda first, second, time: (second - first) * 3.6 / time,
                "The log is in km/h; divide by 3.6 to get m/s.",
            ),
            Slip(
                "difference forgotten",
                lambda second, time: second / time,
                "It did not start from rest: how much speed was gained?",
            ),
            Slip(
                "clock for time between",
                lambda first, second, time: (second - first) / (10 + time),
                "The clock is not the time between the two rows.",
            ),
            Slip(
                "upside down",
                lambda first, second, time: time / (second - first),
                "Acceleration is the speed gained for each second, not seconds for each m/s.",
            ),
        ),
    ),
    Number(
        id="bridges.9b",
        objective="read a value from a graph and from a log",
        depth="Why",
        text="On a graph the pack's voltage falls in a straight line, from {rest} at no current to {loaded} at {amps}. "
        "The slope of the line is the pack's resistance. How large is it?",
        given={
            "rest": Draw(VOLTS, "300 V", "330 V", "5 V"),
            "loaded": Draw(VOLTS, "240 V", "280 V", "5 V"),
            "amps": Draw(AMPS, "300 A", "450 A", "50 A"),
        },
        answer=RESISTANCE,
        right=lambda rest, loaded, amps: (rest - loaded) / amps,
        steps=(
            Step("fall", "volts at rest - volts under load", "V", lambda rest, loaded: rest - loaded),
            Step("slope", "fall / current", "ohm", lambda fall, amps: fall / amps),
        ),
        slips=(
            Slip("height for slope", lambda loaded, amps: loaded / amps, "A slope is a fall over a run, not a height."),
            Slip("height at rest", lambda rest, amps: rest / amps, "A slope is a fall over a run, not a height."),
            Slip(
                "upside down",
                lambda rest, loaded, amps: amps / (rest - loaded),
                "Ohms are volts for each amp: fall over run, not run over fall.",
            ),
        ),
    ),
    Number(
        id="bridges.10",
        objective="carry plus-minus and tolerance through a sum",
        depth="Shop",
        text="A bore is {depth} deep, plus or minus {play}. A hub of {hub}, plus or minus {spread}, goes into it. "
        "In the worst case, what is the smallest gap left behind the hub?",
        given={
            "depth": Draw(LENGTH, "43.0 mm", "44.0 mm", "0.5 mm"),
            "play": Draw(LENGTH, "0.3 mm", "0.5 mm", "0.1 mm"),
            "hub": Draw(LENGTH, "41.0 mm", "42.0 mm", "0.5 mm"),
            "spread": Draw(LENGTH, "0.1 mm", "0.2 mm", "0.1 mm"),
        },
        answer=LENGTH,
        right=lambda depth, play, hub, spread: (depth - play) - (hub + spread),
        steps=(
            Step("nominal", "depth - hub", "m", lambda depth, hub: depth - hub),
            Step("worst", "both tolerances together", "m", lambda play, spread: play + spread),
            Step("smallest", "nominal gap - both tolerances", "m", lambda nominal, worst: nominal - worst),
        ),
        slips=(
            Slip(
                "tolerances forgotten",
                lambda depth, hub: depth - hub,
                "That is the gap on the drawing; now the worst case.",
            ),
            Slip(
                "largest gap",
                lambda depth, play, hub, spread: depth - hub + play + spread,
                "That is the largest gap: which way must each part be off to leave the least?",
            ),
            Slip(
                "tolerances subtracted",
                lambda depth, play, hub, spread: depth - hub - (play - spread),
                "One part's error does not make up for the other's: in the worst case both eat into the gap.",
            ),
            Slip(
                "one tolerance only",
                lambda depth, play, hub: depth - hub - play,
                "Both parts can be off at once.",
            ),
            Slip(
                "other tolerance only",
                lambda depth, hub, spread: depth - hub - spread,
                "Both parts can be off at once.",
            ),
        ),
    ),
    Number(
        id="bridges.10b",
        objective="carry plus-minus and tolerance through a sum",
        depth="Shop",
        text="A gauge that goes to {span} is good to plus or minus {accuracy} of its full span. It shows {reading}. "
        "How low may the true pressure be?",
        given={
            "span": Draw(GAUGE, "200 psi", "300 psi", "50 psi"),
            "accuracy": Draw(SHARE, "3 %", "5 %", "1 %"),
            "reading": Draw(GAUGE, "70 psi", "120 psi", "5 psi"),
        },
        answer=GAUGE,
        right=lambda span, accuracy, reading: reading - accuracy * span,
        steps=(
            Step("band", "accuracy x span", "Pa", lambda span, accuracy: accuracy * span),
            Step("low", "reading - band", "Pa", lambda reading, band: reading - band),
        ),
        slips=(
            Slip(
                "per cent of the reading",
                lambda accuracy, reading: reading * (1 - accuracy),
                "Per cent of what? The gauge is good to a share of its full span, wherever the needle stands.",
            ),
            Slip(
                "high for low",
                lambda span, accuracy, reading: reading + accuracy * span,
                "That is how high it may be.",
            ),
        ),
    ),
]

PREDICTED: list[Exercise] = [
    Prediction(
        id="bridges.p1",
        objective="find power from torque and speed",
        depth="Shop",
        text="A motor holds its torque while its speed doubles. What happens to its power?",
    ),
]

EXERCISES: list[Exercise] = [*UNITS, *ELECTRIC, *ROAD, *PREDICTED]

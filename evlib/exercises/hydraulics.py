"""The hydraulics lesson's exercises: pressure at rest, clutches and bands, launch, handover, 12 V, faults."""

from __future__ import annotations

from math import expm1, pi

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.ground import wire
from evlib.ground.quantity import Quantity
from evlib.hydraulics import clutch, handover, launch, line, rest
from evlib.hydraulics import quantities as q

PRESSURE = Quantity("p", "Pa", "gauge pressure", kind="gauge")
FORCE = Quantity("F", "N", "force", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
SPEED = Quantity("n", "rad/s", "input speed", low=0)
DROP = Quantity("ΔV", "V", "voltage drop", low=0)
NUMBER = Quantity("Re", "", "Reynolds number", low=0)
FLOW = Quantity("Q", "m3/s", "flow", low=0)
FACES = q.Faces
ANGLE = Quantity("θ", "rad", "wrap angle", above=0, shown={"SI": "deg", "shop": "deg"})

REST = "find the pressure at rest from a pump curve and a leakage"
HOLD = "find what a clutch of plates holds, and what a band holds"
LAUNCH = "find the largest torque and current at launch that a pressure allows, in low and in reverse"
HANDOVER = "find the speed at which the internal pump takes over, and set the switch"
TROUBLE = "say what reversed motors, and each fault, do to the pressure"
SUPPLY = "size the line, the fuse and the wire of the electric pump"

CROSS = (
    "Pressure stands where what the pump gives equals what the gearbox takes. Write both flows for the same pressure."
)
BOTH = "Both fall against the pump at once: the steepness of its own curve and that of the leakage add up."
RING = "The oil presses on a ring: take the inner circle's area off the outer one's."
HALF = "The area of a circle takes half its diameter, squared, times pi."
SPRING = "What is left to press on the plates? Something pushes the piston back all the time."


def _rest(free_flow: float, rated_flow: float, rated_pressure: float, seal_leak: float, test: float) -> float:
    found = rest.rest_point(
        free_flow=free_flow, rated_flow=rated_flow, rated_pressure=rated_pressure, rated_voltage=13.5,
        terminal_voltage=13.5, slip_share=0.0, pump_relief_pressure=1e7, cracking_pressure=0.0, check_loss=0.0,
        line_bore=0.1, line_length=0.0, line_fittings=0.0, viscosity=1e-5, density=850.0, thinning=1.0,
        leak_test_pressure=test, seal_leak=seal_leak, valve_body_leak=0.0, open_feed=0.0, internal_slip=0.0,
        clearance_growth=1.0, back_flow="open", regulator_set=5e6, regulator_override=1e6, displacement=1e-5,
    )  # fmt: skip
    return float(found.pressure)


def _force(pressure: float, outer: float, inner: float, spring: float) -> float:
    area = clutch.piston_area(outer, inner_diameter=inner)
    return float(clutch.apply_force(pressure, area=area, return_spring_force=spring, spinning_force=0.0))


def _plates(force: float, faces: float, outer: float, inner: float) -> float:
    return float(
        clutch.plate_torque(
            force, friction=0.12, faces=faces, outer_diameter=outer, inner_diameter=inner, contact="uniform wear"
        )
    )


def _band(force: float, wrap: float, drum: float) -> float:
    return float(
        clutch.band_capacity(
            force, friction=0.12, wrap_angle=wrap, drum_diameter=drum, lever_ratio=1.0, sense="energising"
        )
    )


def _drop(area: float, length: float, current: float) -> float:
    ohms = wire.resistance_per_metre(area, temperature=293.15, stranding_factor=1.0)
    return float(2 * length * ohms * current)


EXERCISES: list[Exercise] = [
    Number(
        id="hydraulics.1",
        objective=REST,
        depth="Shop",
        text="An electric pump gives {free_flow} against no pressure and {rated_flow} against {rated_pressure}; "
        "between "
        "them its curve is straight. The gearbox leaks {seal_leak} at {test}, and in proportion to pressure. What "
        "pressure does the pump hold at rest?",
        given={
            "free_flow": Draw(q.FreeFlow, "8 L/min", "12 L/min", "0.5 L/min"),
            "rated_flow": Draw(q.RatedFlow, "4 L/min", "6 L/min", "0.5 L/min"),
            "rated_pressure": Draw(q.RatedPressure, "600 kPa", "800 kPa", "50 kPa"),
            "seal_leak": Draw(q.SealLeak, "3 L/min", "5 L/min", "0.5 L/min"),
            "test": Draw(q.TestPressure, "400 kPa", "500 kPa", "50 kPa"),
        },
        answer=PRESSURE,
        right=_rest,
        steps=(
            Step(
                "fall",
                "(free flow - rated flow) / rated pressure",
                "m3/s/Pa",
                lambda free_flow, rated_flow, rated_pressure: (free_flow - rated_flow) / rated_pressure,
            ),
            Step("leak", "leakage / test pressure", "m3/s/Pa", lambda seal_leak, test: seal_leak / test),
            Step(
                "pressure", "free flow / (fall + leak)", "Pa", lambda free_flow, fall, leak: free_flow / (fall + leak)
            ),
        ),
        slips=(
            Slip("the pump's rating", lambda rated_pressure: rated_pressure, CROSS),
            Slip(
                "no leakage",
                lambda free_flow, rated_flow, rated_pressure: free_flow * rated_pressure / (free_flow - rated_flow),
                CROSS,
            ),
            Slip("a curve that does not fall", lambda free_flow, seal_leak, test: free_flow * test / seal_leak, BOTH),
        ),
        teacher="Have them sketch both lines first: flow upwards, pressure to the right.",
    ),
    Number(
        id="hydraulics.2",
        objective=HOLD,
        depth="Shop",
        text="A clutch piston is a ring of {outer} outside and {inner} inside. Main pressure is {pressure}, the return "
        "springs push back with {spring}. With what force does it press the plates?",
        given={
            "pressure": Draw(q.Pressure, "400 kPa", "900 kPa", "50 kPa"),
            "outer": Draw(q.PistonOuter, "130 mm", "160 mm", "5 mm"),
            "inner": Draw(q.PistonInner, "70 mm", "90 mm", "5 mm"),
            "spring": Draw(q.SpringForce, "600 N", "1000 N", "50 N"),
        },
        answer=FORCE,
        right=_force,
        steps=(
            Step("area", "pi/4 x (outer² - inner²)", "m2", lambda outer, inner: pi / 4 * (outer**2 - inner**2)),
            Step("push", "pressure x area", "N", lambda pressure, area: pressure * area),
            Step("force", "push - spring", "N", lambda push, spring: push - spring),
        ),
        slips=(
            Slip("spring left out", lambda pressure, outer, inner: pressure * pi / 4 * (outer**2 - inner**2), SPRING),
            Slip(
                "spring added",
                lambda pressure, outer, inner, spring: pressure * pi / 4 * (outer**2 - inner**2) + spring,
                SPRING,
            ),
            Slip("whole circle", lambda pressure, outer, spring: pressure * pi / 4 * outer**2 - spring, RING),
            Slip(
                "diameter for radius",
                lambda pressure, outer, inner, spring: pressure * pi * (outer**2 - inner**2) - spring,
                HALF,
            ),
        ),
    ),
    Number(
        id="hydraulics.3",
        objective=HOLD,
        depth="Shop",
        text="A clutch has {faces} friction faces, lined from {inner} to {outer} in diameter, friction 0.12 while it "
        "slips. "
        "It is pressed with {force}. Its lining is worn in, so take the middle of the ring as its radius. What "
        "torque does "
        "it hold?",
        given={
            "force": Draw(q.ApplyForce, "3000 N", "7000 N", "500 N"),
            "faces": Draw(FACES, "8", "14", "2"),
            "outer": Draw(q.FaceOuter, "140 mm", "160 mm", "5 mm"),
            "inner": Draw(q.FaceInner, "110 mm", "125 mm", "5 mm"),
        },
        answer=TORQUE,
        right=_plates,
        steps=(
            Step("radius", "(outer + inner) / 4", "m", lambda outer, inner: (outer + inner) / 4),
            Step(
                "torque",
                "faces x 0.12 x force x radius",
                "N m",
                lambda faces, force, radius: faces * 0.12 * force * radius,
            ),
        ),
        slips=(
            Slip(
                "diameter for radius",
                lambda faces, force, outer, inner: faces * 0.12 * force * (outer + inner) / 2,
                "Torque is force times radius. Is what you took a radius?",
            ),
            Slip(
                "plates for faces",
                lambda faces, force, outer, inner: faces / 2 * 0.12 * force * (outer + inner) / 4,
                "Every lined plate rubs on both its sides; the faces are already counted here.",
            ),
            Slip(
                "one face",
                lambda force, outer, inner: 0.12 * force * (outer + inner) / 4,
                "The same force goes through the whole pack: each face holds its share of torque, and they add up.",
            ),
            Slip(
                "no friction factor",
                lambda faces, force, outer, inner: faces * force * (outer + inner) / 4,
                "The force presses; only a part of it drags. Which number says how large a part?",
            ),
        ),
    ),
    Number(
        id="hydraulics.4",
        objective=LAUNCH,
        depth="Shop",
        text="At rest the reverse clutch can hold {capacity}. In reverse it has to hold {multiple} times the input "
        "torque. What "
        "is the largest input torque that you may ask for at launch in reverse?",
        given={
            "capacity": Draw(q.HeldTorque, "500 N m", "900 N m", "20 N m"),
            "multiple": Draw(q.HeldMultiple, "2.6", "3.0", "0.02"),
        },
        answer=TORQUE,
        right=lambda capacity, multiple: float(launch.input_torque_held(capacity, held_multiple=multiple)),
        steps=(Step("torque", "capacity / multiple", "N m", lambda capacity, multiple: capacity / multiple),),
        slips=(
            Slip(
                "multiplied",
                lambda capacity, multiple: capacity * multiple,
                "The clutch holds more than the input gives. So must the input torque be larger or smaller than its "
                "capacity?",
            ),
            Slip(
                "ratio for multiple",
                lambda capacity, multiple: capacity / (multiple - 1),
                "The gear ratio is what the output gets. The case holds output and input together: use the clutch's "
                "multiple.",
            ),
            Slip(
                "not divided",
                lambda capacity: capacity,
                "That is the torque at the clutch. How many times the input torque does the clutch see?",
            ),
        ),
        teacher="The ring is held against output plus input: that is why its multiple is one more than the ratio.",
    ),
    Number(
        id="hydraulics.5",
        objective=HOLD,
        depth="Why",
        text="A servo pulls a band with {force} where the drum drags it away from the servo (energising). The drum "
        "is {drum} in "
        "diameter, the band touches it over {wrap}, friction is 0.12. What torque does it hold?",
        given={
            "force": Draw(q.ApplyForce, "2000 N", "4500 N", "100 N"),
            "wrap": Draw(ANGLE, "280 deg", "330 deg", "10 deg"),
            "drum": Draw(q.DrumDiameter, "140 mm", "180 mm", "5 mm"),
        },
        answer=TORQUE,
        right=_band,
        steps=(
            Step("exponent", "0.12 x wrap angle in radians", "", lambda wrap: 0.12 * wrap),
            Step("gain", "e^exponent - 1", "", lambda exponent: expm1(exponent)),
            Step(
                "torque", "force x gain x drum diameter / 2", "N m", lambda force, gain, drum: force * gain * drum / 2
            ),
        ),
        slips=(
            Slip(
                "overrunning",
                lambda force, wrap, drum: -force * expm1(-0.12 * wrap) * drum / 2,
                "Which end does the servo pull, the slack one or the tight one? Look at which way the drum drags.",
            ),
            Slip(
                "tight side alone",
                lambda force, wrap, drum: force * (expm1(0.12 * wrap) + 1) * drum / 2,
                "Both ends pull on the drum, against each other. What is left over turns it.",
            ),
            Slip(
                "diameter for radius",
                lambda force, wrap, drum: force * expm1(0.12 * wrap) * drum,
                "Torque is force times radius. Is what you took a radius?",
            ),
        ),
    ),
    Number(
        id="hydraulics.6",
        objective=HANDOVER,
        depth="Shop",
        text="At the pressure that launch needs, seals and valve body take {taken} and the internal pump slips "
        "{slip}. It moves "
        "{displacement} in each turn. From which input speed does it carry that pressure alone?",
        given={
            "taken": Draw(q.SealLeak, "2 L/min", "4 L/min", "0.2 L/min"),
            "slip": Draw(q.InternalSlip, "1.5 L/min", "3 L/min", "0.1 L/min"),
            "displacement": Draw(q.Displacement, "12 cm3", "20 cm3", "1 cm3"),
        },
        answer=SPEED,
        right=lambda taken, slip, displacement: float(
            handover.handover_speed(
                5e5,
                displacement=displacement,
                internal_slip=slip,
                clearance_growth=1.0,
                seal_leak=taken,
                valve_body_leak=0.0,
                open_feed=0.0,
                leak_test_pressure=5e5,
                thinning=1.0,
            )
        ),
        steps=(
            Step("flow", "taken + slip", "m3/s", lambda taken, slip: taken + slip),
            Step(
                "speed", "2 pi x flow / displacement", "rad/s", lambda flow, displacement: 2 * pi * flow / displacement
            ),
        ),
        slips=(
            Slip(
                "slip left out",
                lambda taken, displacement: 2 * pi * taken / displacement,
                "Not all that the pump moves arrives: some goes back through its own clearances.",
            ),
            Slip(
                "slip taken off",
                lambda taken, slip, displacement: 2 * pi * abs(taken - slip) / displacement,
                "The pump must cover what is taken and what slips back. Do these help or hinder each other?",
            ),
            Slip(
                "rpm for rad/s",
                lambda taken, slip, displacement: (taken + slip) / displacement,
                "Flow over displacement gives turns in a second or in a minute. Say which, and write that unit.",
            ),
        ),
        teacher="In litres and minutes: L/min over cm3 a turn, times 1000, is rpm.",
    ),
    Number(
        id="hydraulics.7",
        objective=HANDOVER,
        depth="Why",
        text="The internal pump hands over at {handover_speed}. You brake with {braking}; gear and axle together "
        "turn the input "
        "{ratio} times for each turn of a wheel of {radius} radius. From switch to full pressure the electric pump "
        "takes "
        "{delay}. At which input speed must the switch turn it on?",
        given={
            "handover_speed": Draw(q.SwitchOnSpeed, "280 rpm", "400 rpm", "10 rpm"),
            "braking": Draw(q.Deceleration, "4 m/s2", "8 m/s2", "0.5 m/s2"),
            "ratio": Draw(q.OverallRatio, "5.5", "7.5", "0.25"),
            "radius": Draw(q.WheelRadius, "280 mm", "340 mm", "10 mm"),
            "delay": Draw(q.SpinUpTime, "0.1 s", "0.3 s", "0.05 s"),
        },
        answer=SPEED,
        right=lambda handover_speed, braking, ratio, radius, delay: float(
            handover.switch_on_needed(
                handover_speed,
                input_deceleration=handover.input_deceleration(braking, overall_ratio=ratio, wheel_radius=radius),
                switch_delay=0.0,
                spin_up_time=delay,
            )
        ),
        steps=(
            Step(
                "slowing", "braking x ratio / radius", "rad/s2", lambda braking, ratio, radius: braking * ratio / radius
            ),
            Step("lost", "slowing x delay", "rad/s", lambda slowing, delay: slowing * delay),
            Step("speed", "handover speed + lost", "rad/s", lambda handover_speed, lost: handover_speed + lost),
        ),
        slips=(
            Slip(
                "below handover",
                lambda handover_speed, braking, ratio, radius, delay: abs(
                    handover_speed - braking * ratio / radius * delay
                ),
                "While the pump spins up the input goes on slowing down. Must the switch act earlier or later?",
            ),
            Slip(
                "ratio upside down",
                lambda handover_speed, braking, ratio, radius, delay: handover_speed + braking / ratio / radius * delay,
                "Does the input turn faster or slower than the wheels? Then it also slows down faster or slower.",
            ),
            Slip(
                "wheel for input",
                lambda handover_speed, braking, radius, delay: handover_speed + braking / radius * delay,
                "That is how fast the wheel slows down. The switch sits at the gearbox input.",
            ),
            Slip(
                "handover alone",
                lambda handover_speed: handover_speed,
                "At that speed the pump must already be up. What happens in the time that it takes?",
            ),
        ),
    ),
    Number(
        id="hydraulics.8",
        objective=SUPPLY,
        depth="Shop",
        text="The pump draws {current} through a copper wire of {area}, {length} from battery to pump and as long "
        "back. Copper at "
        "20 °C has 0.01724 ohm for a metre of 1 mm². How many volts are lost?",
        given={
            "area": Draw(q.WireArea, "2.5 mm2", "6 mm2", "0.5 mm2"),
            "length": Draw(q.WireLength, "2 m", "5 m", "0.5 m"),
            "current": Draw(q.RatedCurrent, "12 A", "24 A", "1 A"),
        },
        answer=DROP,
        right=_drop,
        steps=(
            Step(
                "resistance",
                "0.01724 x 2 x length / area in mm²",
                "ohm",
                lambda length, area: 0.017241e-6 * 2 * length / area,
            ),
            Step("drop", "current x resistance", "V", lambda current, resistance: current * resistance),
        ),
        slips=(
            Slip(
                "one way",
                lambda current, length, area: current * 0.017241e-6 * length / area,
                "The current has to come back too.",
            ),
            Slip(
                "area times length",
                lambda current, length, area: current * 0.017241e-6 * 2 * length * area * 1e12,
                "A thicker wire has less resistance: is the area above or below the line?",
            ),
        ),
    ),
    Number(
        id="hydraulics.9",
        objective=SUPPLY,
        depth="Deep",
        text="{flow} of oil with {viscosity} run through a hose of {bore} bore. What is the Reynolds number, which "
        "says whether "
        "the flow is laminar?",
        given={
            "flow": Draw(q.Flow, "4 L/min", "9 L/min", "0.5 L/min"),
            "bore": Draw(Quantity("D", "m", "bore", above=0), "6.4 mm", "12.8 mm", "0.8 mm"),
            "viscosity": Draw(q.KinematicViscosity, "8 cSt", "40 cSt", "2 cSt"),
        },
        answer=NUMBER,
        right=lambda flow, bore, viscosity: float(line.reynolds(flow, bore=bore, viscosity=viscosity)),
        steps=(
            Step("area", "pi/4 x bore²", "m2", lambda bore: pi / 4 * bore**2),
            Step("speed", "flow / area", "m/s", lambda flow, area: flow / area),
            Step("number", "speed x bore / viscosity", "", lambda speed, bore, viscosity: speed * bore / viscosity),
        ),
        slips=(
            Slip(
                "radius for bore",
                lambda flow, bore, viscosity: 2 * flow / (pi * bore * viscosity),
                "The number is made with the whole bore, not with half of it.",
            ),
            Slip(
                "radius for diameter in the area",
                lambda flow, bore, viscosity: flow / (pi * bore * viscosity),
                "The area of a circle takes half its diameter, squared, times pi.",
            ),
        ),
    ),
    Choice(
        id="hydraulics.10",
        objective=TROUBLE,
        depth="Shop",
        text="To back up, somebody swaps the motors' field leads, so that they turn backwards. The speed switch "
        "counts pulses and "
        "does not see direction. What happens once the input turns faster than the switch-off speed?",
        choices=(
            Option(
                text="The electric pump is turned off, and the internal pump gives nothing: the clutches let go.",
                right=True,
                reason="Turned backwards, the internal pump draws oil out of the line, and the switch takes it for "
                "driving.",
            ),
            Option(
                text="The internal pump feeds the clutches as it does forwards, because it turns just as fast.",
                reason="A gear pump has an inlet and an outlet. Think what happens when its gears turn the other way.",
            ),
            Option(
                text="The electric pump stays on, because the switch reads no forward speed.",
                reason="This switch counts pulses. Do pulses differ forwards and backwards?",
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
        text="Pressure at rest is as it should be, and it is right on a long road. But on a slow climb in low, just "
        "above the "
        "switch-off speed, pressure is too low. Which fault fits best?",
        choices=(
            Option(
                text="The check valve no longer shuts, and oil runs back.",
                right=True,
                reason="At rest the pump feeds through the valve anyway; fast, the internal pump has plenty; "
                "between, it shows.",
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
    Free(
        id="hydraulics.12",
        objective=TROUBLE,
        depth="Why",
        text="In reverse your build may ask for less torque at launch than in low. Name two remedies, and for each "
        "what it costs "
        "or what it does not solve.",
        guide=(
            "names a limit of current at low speed, and that a steep start in reverse becomes weaker, 1 mark",
            "names more pressure (larger pump, tighter box, check valve behind the internal pump) or more plates, 1 "
            "mark",
            "says that the pressure switch forbids drive but adds no capacity, or another true cost, 1 mark",
        ),
        model="Limit the motor current until the internal pump has taken over: it costs nothing, but a steep start "
        "in reverse "
        "becomes weaker. A larger pump raises pressure at rest: it draws more current and may only feed the leak. "
        "More plates "
        "hold more at the same pressure: the gearbox must be opened.",
    ),
    Prediction(
        id="hydraulics.p1",
        objective=LAUNCH,
        depth="Shop",
        text="The gears of the internal pump are worn: its clearances have grown to 1.4 times. By how much will the "
        "torque that "
        "reverse holds at launch fall?",
    ),
    Prediction(
        id="hydraulics.p2",
        objective=HANDOVER,
        depth="Shop",
        text="You set the switch-on speed to 200 rpm and brake hard to a stop. What will the pressure do?",
    ),
]

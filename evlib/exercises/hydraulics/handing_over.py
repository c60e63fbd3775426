"""Exercises on the handover between the pumps."""

from __future__ import annotations

from math import pi

from evlib.exercises.base import Exercise
from evlib.exercises.free import Prediction
from evlib.exercises.hydraulics.words import HANDOVER, HANDOVER_SPEED, SLIP, SPEED, TAKEN
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.hydraulics import handover
from evlib.hydraulics import quantities as q

HANDING_OVER: list[Exercise] = [
    Number(
        id="hydraulics.6",
        objective=HANDOVER,
        depth="Shop",
        text="At the pressure that launch needs, seals and valve body take {taken} and the internal pump slips "
        "{slip}. It moves {displacement} in each turn. From which input speed does it carry that pressure alone?",
        given={
            "taken": Draw(TAKEN, "2 L/min", "4 L/min", "0.2 L/min"),
            "slip": Draw(SLIP, "1.5 L/min", "3 L/min", "0.1 L/min"),
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
        depth="Shop",
        text="The internal pump hands over at {handover_speed}. You brake with {braking}; gear and axle together "
        "turn the input {ratio} times for each turn of a wheel of {radius} radius. From switch to full pressure the "
        "electric pump takes {delay}. At which input speed must the switch turn it on?",
        given={
            "handover_speed": Draw(HANDOVER_SPEED, "280 rpm", "400 rpm", "10 rpm"),
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
    Prediction(
        id="hydraulics.p2",
        objective=HANDOVER,
        depth="Shop",
        text="You set the switch-on speed to 200 rpm and brake hard to a stop. How low will pressure fall, in per cent "
        "of what full launch torque needs? Would a foot on the pedal just then slip the band?",
    ),
]

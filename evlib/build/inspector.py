"""What an inspector asks: what the build can answer is computed, the rest stands as an open question."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.build.checks.safety.charge import discharge_time
from evlib.build.protection import full_volts, loop_answer
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.safety import servo, shock

TRIAL_SPEED = 50 / 3.6  # m/s; a speed at which speedometers are tried
SHOWN_MORE, SHOWN_SHARE = (
    4 / 3.6,
    0.1,
)  # m/s, and part of the speed, by which one may show too much: UN R39, from memory

HIGH = "yes: warning symbol on boxes and covers, orange cables"


@dataclasses.dataclass(frozen=True)
class Found:
    """One computed answer: what it is, its value in SI (or words), its unit."""

    words: str
    value: Any
    unit: str = ""
    kind: str = ""


@dataclasses.dataclass(frozen=True)
class Item:
    """One thing that an inspector asks: the checks that answer it, what else is computed, and what stays open."""

    name: str
    checks: tuple[str, ...]
    found: tuple[Found, ...]
    open: str


def inspector_page(b: View) -> list[Item]:
    """The page, item by item. What cannot be computed is said in place of a number."""
    return [Item(name, checks, _answers(make, b), question) for name, checks, make, question in _ITEMS]


def _answers(make: Callable[[View], tuple[Found, ...]] | None, b: View) -> tuple[Found, ...]:
    if make is None:
        return ()
    try:
        return make(b)
    except NotKnown as missing:
        return (Found("not computed", str(missing)),)
    except DoesNotApply as why:
        return (Found("does not apply", str(why)),)


def _axles(b: View) -> tuple[Found, ...]:
    load = np.asarray(b.vehicle.mass) * np.array([1 - b.vehicle.rear_axle_share, b.vehicle.rear_axle_share])
    plates = b.protection.plates
    return (
        Found("left for load on the front axle", float(plates.front_axle_plate - load[0]), "kg"),
        Found("left for load on the rear axle", float(plates.rear_axle_plate - load[1]), "kg"),
    )


def _servo(b: View) -> tuple[Found, ...]:
    part = b.protection.brake_servo
    room = {"reservoir_volume": part.reservoir_volume}
    left = servo.vacuum_after(part.servo_stops, full_vacuum=part.full_vacuum, stroke_volume=part.stroke_volume, **room)
    back = servo.pump_time(part.full_vacuum, start_vacuum=left, pump_flow=part.vacuum_pump_flow, **room)
    return (
        Found(f"vacuum after {part.servo_stops:.0f} full stops, pump dead", float(left), "Pa", "pressure difference"),
        Found("pump brings it back in", float(back), "s"),
    )


def _steering(b: View) -> tuple[Found, ...]:
    return (
        Found(
            "front axle load, with which the effort goes", float(b.vehicle.mass * (1 - b.vehicle.rear_axle_share)), "kg"
        ),
    )


def _speedometer(b: View) -> tuple[Found, ...]:
    turns = TRIAL_SPEED / b.vehicle.wheel_radius * b.final_drive.final_drive_ratio
    most = TRIAL_SPEED * (1 + SHOWN_SHARE) + SHOWN_MORE
    return (
        Found("propeller shaft at 50 km/h", float(turns), "rad/s"),
        Found("the needle at a true 50 km/h: at least", TRIAL_SPEED, "m/s"),
        Found("and at most", most, "m/s"),
    )


def _reverse(b: View) -> tuple[Found, ...]:
    by = {
        "gearbox": "the gearbox's own switch still sees reverse",
        "contactors": "the gearbox never sees reverse: the reversing contactors must switch the lamp",
        "inverter": "the gearbox never sees reverse: the inverter or the selector must switch the lamp",
    }
    return (Found(f"this build reverses by {b.parking.reverse_by}", by[b.parking.reverse_by]),)


def _disconnect(b: View) -> tuple[Found, ...]:
    answer = loop_answer(b)
    return (
        Found("ways out by hand left with the worst single fault", f"{answer.ways_left}"),
        Found("controller below 60 V after", float(np.asarray(discharge_time(b))), "s"),
    )


def _labels(b: View) -> tuple[Found, ...]:
    volts = float(np.asarray(full_volts(b)))
    high = bool(shock.above_voltage_limit(volts, kind="DC"))
    return (
        Found("full pack", volts, "V"),
        Found("counts as high voltage (above 60 V DC, UN R100)", HIGH if high else "no: it can burn all the same"),
    )


_ITEMS: tuple[tuple[str, tuple[str, ...], Callable[[View], tuple[Found, ...]] | None, str], ...] = (
    ("Axle loads against plates", ("front axle load", "rear axle load"), _axles,
     "Weigh each axle on level ground. Are the tyres rated for it? Do springs and headlamps still stand right?"),
    ("Brake-servo vacuum", ("brake-servo vacuum",), _servo,
     "Does a warning come on before the vacuum is gone? Does the pump run whenever the vehicle can move?"),
    ("Steering assistance", (), _steering,
     "What drives it now? How heavy is the wheel when that stops on the road, and is there a warning?"),
    ("Speedometer", (), _speedometer, "What does it show on a measured kilometre? What drives it now?"),
    ("Reverse lamp", (), _reverse, "Does it light in reverse and in no other position?"),
    ("Pack fixing", ("pack fixing, along", "pack fixing, across"), None,
     "Which rule holds here in place of 20 g and 8 g? Do the forces go into the frame? Who worked it out?"),
    ("Disconnect within reach", ("single-fault freedom",), _disconnect,
     "Can the driver reach it with the belt on? Can a rescuer find it from outside, and read what it is?"),
    ("Cable clearance to the propeller shaft", ("cable clearance",), None,
     "Measured with wheels hanging and loaded? Is there a guard that holds the cable when a clip breaks?"),
    ("Labels", (), _labels, "On every box, cover and charging inlet? Is a rescue sheet where rescuers look for it?"),
)  # fmt: skip

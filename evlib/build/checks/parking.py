"""Checks of the parking topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from evlib.build.brakes import brake_force
from evlib.build.gears import gear_ratios, geared_efficiency, has, low_rotating, start_torque
from evlib.build.launch import pressure_needed, rest_pressure
from evlib.build.park_line import (
    NOSES,
    Nose,
    drop_in,
    grade_gripped,
    hardest_catch,
    hold_torque,
    line_limits,
    line_strength,
    lock_ratio,
    longest_way,
    standing_load,
    taken_up,
)
from evlib.build.registry import check, stated
from evlib.build.reverse import needed_back, pull_back, pull_factor
from evlib.build.selector_rules import meant, proof, rules_held
from evlib.build.slowing import OPEN_QUESTION, braking_force, motor_drag
from evlib.build.view import View, derived
from evlib.ground import units
from evlib.ground.checks import Check, Working
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number
from evlib.ground.road import grade_force, rolling_force
from evlib.parking import handbrake, hill_start, park_lock
from evlib.parking.selector import RULES

STATICS = "forces and moments on a car that stands on a slope"
RULE = "target of this project: each holds alone on the grade that 49 CFR 571.135 tests the parking brake on"


@derived
def slope_pull(b: View) -> Number:
    """Force along the road on the grade that park lock and handbrake must each hold [N]."""
    return grade_force(b.vehicle.mass, grade=b.parking.hold_grade)


@check("park lock", topic="parking")
def park_lock_strength(b: View) -> Check:
    """Torque on the toothed wheel when it takes the car up on the hold grade, against the weakest part behind it."""
    up, down = (taken_up(b, nose) for nose in NOSES)
    return Check(
        "park lock", "parking", hardest_catch(b), line_strength(b), "N m",
        working=Working("T_h = m g sin(theta) r / i_p holds it at rest; it first falls free through a = 2 pi / z + b: "
                        "T = T_h + sqrt(T_h^2 + 2 k T_h a), at most T_skid = mu N r / i_p; against the weakest part, "
                        "each counted at the toothed wheel",
                        {**_falls(b), "T, nose up": (up.torque, "N m"), "T, nose down": (down.torque, "N m"),
                         **{part: (limit, "N m") for part, limit in line_limits(b).items()}},
                        (hardest_catch(b), "N m")),
        source="energy of the car that falls on to the pawl, without damping; " + RULE,
        advice="a stronger weakest part (pawl, pin, propeller shaft, final drive, axle shafts or wheel studs), more "
        "teeth or less play; handbrake first, then park, so that nothing falls",
        target=0.2,
    )  # fmt: skip


def _falls(b: View) -> dict[str, tuple[Any, str]]:
    """The numbers of a car that falls on to the pawl."""
    lock = b.parking.park_lock
    skids = {f"T_skid, nose {nose}": (taken_up(b, nose).skid, "N m") for nose in NOSES}
    return {"m g sin(theta)": (slope_pull(b), "N"), "r": (b.vehicle.wheel_radius, "m"), "i_p": (lock_ratio(b), ""),
            "z": (lock.park_teeth, ""), "b": (lock.park_backlash, "rad"), "k": (lock.park_stiffness, "N m/rad"),
            "T_h": (hold_torque(b), "N m"), **skids}  # fmt: skip


@check("park drop-in speed", topic="parking")
def park_drop_in(b: View) -> Check:
    """Road speed up to which the selector lets park in, against the speed up to which the pawl drops in."""
    lock, let_in = b.parking.park_lock, b.parking.selector.reverse_speed_limit
    numbers: dict[str, tuple[Any, str]] = {"let in up to": (let_in, "m/s")}
    for symbol, name, unit in (("maker's value", "park_engage_speed", "m/s"), ("g", "park_gap_angle", "rad"),
                               ("t_d", "pawl_time", "s")):  # fmt: skip
        if lock.known(name):
            numbers[symbol] = (getattr(lock, name), unit)
    return Check(
        "park drop-in speed", "parking", let_in, drop_in(b), "m/s",
        working=Working("lower of the maker's value and v = r / i_p g / t_d",
                        {**numbers, "r": (b.vehicle.wheel_radius, "m"), "i_p": (lock_ratio(b), "")},
                        (drop_in(b), "m/s")),
        source="geometry and time of the pawl's fall; the maker's value. Do not try it out",
        advice="a lower setting for reverse and park: above this speed the pawl rattles over the teeth and wears them",
    )  # fmt: skip


def _park_grip(b: View, nose: Nose) -> Check:
    load = standing_load(b, b.vehicle.driven_axle, nose)
    holds = park_lock.grip_hold(
        b.parking.worse_grip, better_grip=b.vehicle.grip, axle_load=load, differential="open"
    )  # fmt: skip
    return Check(
        "", "parking", slope_pull(b), holds, "N",
        working=Working("F = 2 min(mu_w, mu) N / 2: twice the worse wheel",
                        {"mu_w": (b.parking.worse_grip, ""), "mu": (b.vehicle.grip, ""),
                        "N": (load, "N")}, (holds, "N")),
        source=STATICS + ", open differential; " + RULE,
        advice="through an open differential the worse wheel decides: handbrake as well, chocks on ice, and never jack "
        "a driven wheel with park alone",
    )  # fmt: skip


@check("park grip, nose up", topic="parking")
def park_grip_up(b: View) -> Check:
    """Grip that park lock can use with the nose up, against the slope's pull."""
    return _park_grip(b, "up")


@check("park grip, nose down", topic="parking")
def park_grip_down(b: View) -> Check:
    """Grip that park lock can use with the nose down, against the slope's pull."""
    return _park_grip(b, "down")


@check("roll before park holds", topic="parking")
def roll_before_hold(b: View) -> Check:
    """How far the car may roll before it stands on the pawl, against what is allowed."""
    return Check(
        "roll before park holds", "parking", longest_way(b), b.parking.park_lock.park_roll_allowed, "m",
        working=Working("s = r / i_p (a + T / k + E / (T_skid - T_h)); a = 2 pi / z + b; T as in park lock; where the "
                        "tyres skid E = T_h (a + T / k) - T^2 / (2 k) is left to rub away, else E = 0; the longer way",
                        {**_falls(b), **{f"s, nose {nose}": (np.minimum(taken_up(b, nose).way, 100.0), "m")
                                         for nose in NOSES}}, (longest_way(b), "m")),
        source="geometry and energy, without damping, on the vehicle's grip; 49 CFR 571.114 allows 150 mm, on 10 % "
        "(from memory)",
        advice="more teeth on the park wheel, less play in the joints; handbrake first, then park: so nothing falls",
    )  # fmt: skip


def _handbrake(b: View, nose: Nose) -> Check:
    brakes = brake_force(b)[0 if nose == "up" else 1]
    load = standing_load(b, b.parking.handbrake.handbrake_axle, nose)
    grip = np.multiply(b.vehicle.grip, load)
    return Check(
        "", "parking", slope_pull(b), np.minimum(brakes, grip), "N",
        working=Working("F = min(2 T_b / r, mu N)", {"hand": (b.parking.handbrake.hand_force, "N"),
                        "2 T_b / r": (brakes, "N"), "mu N": (grip, "N")}, (np.minimum(brakes, grip), "N")),
        source="drum and disc brakes after Shigley; 49 CFR 571.135 S7.12: 20 %, both ways, at most 400 N "
        "by hand, at full mass (here: the mass as driven)",
        advice="adjust shoes and cables, renew linings, a longer lever; brakes are a legal matter: licensed inspection",
        target=0.2,
    )  # fmt: skip


@check("handbrake, nose up", topic="parking")
def handbrake_up(b: View) -> Check:
    """The handbrake alone, nose up, at the hand-force limit, against the slope's pull."""
    return _handbrake(b, "up")


@check("handbrake, nose down", topic="parking")
def handbrake_down(b: View) -> Check:
    """The handbrake alone, nose down, at the hand-force limit, against the slope's pull."""
    return _handbrake(b, "down")


@derived
def start_pull(b: View) -> Number:
    """Pull at the tyres in the lowest gear once the ramp is over [N]."""
    total = np.multiply(gear_ratios(b).low, b.final_drive.final_drive_ratio)
    return np.asarray(np.multiply(start_torque(b), total) * eta_back(b) / b.vehicle.wheel_radius)


@derived
def turning_share(b: View) -> Number:
    """Everything that turns in the lowest gear counted as extra mass, over the car's mass."""
    return np.asarray(np.minimum(np.divide(low_rotating(b).driven, b.vehicle.mass), 2.0))


@derived
def hill_pull(b: View) -> Number:
    """Force down the hill of the hill start [N]: the slope, less what the tyres resist."""
    grade = b.parking.hill_start.hill_grade
    rolling = rolling_force(b.vehicle.mass, rolling_coefficient=b.vehicle.rolling_coefficient, grade=grade)
    return np.subtract(grade_force(b.vehicle.mass, grade=grade), rolling)


@check("rollback at a hill start", topic="parking")
def rollback(b: View) -> Check:
    """How far the car rolls back between brake and pull, against what is allowed."""
    start = b.parking.hill_start
    share = turning_share(b)
    roll = hill_start.rollback(
        start_pull(b),
        grade=start.hill_grade,
        mass=b.vehicle.mass,
        rolling_coefficient=b.vehicle.rolling_coefficient,
        pull_delay=start.pull_delay,
        pull_rise=start.pull_rise,
        rotating_share=share,
    )
    roll = np.minimum(roll, 100.0)  # a car that is never caught is shown as 100 m
    return Check(
        "rollback at a hill start", "parking", roll, start.rollback_allowed, "m",
        working=Working("dv/dt = (F(t) - F_g) / (m (1 + lambda)); F from 0 at t_0 to F_p at t_0 + t_r; F_g: slope less "
                        "tyres; lambda: turning parts counted as extra mass, over the car's",
                        {"G": (start.hill_grade, ""), "F_g": (hill_pull(b), "N"), "F_p": (start_pull(b), "N"),
                         "t_0": (start.pull_delay, "s"), "t_r": (start.pull_rise, "s"), "m": (b.vehicle.mass, "kg"),
                         "lambda": (share, "")}, (roll, "m")),
        source="equation of motion; the allowance is a target of this project",
        advice="a quicker ramp, pressure up before the brake goes, or start with the handbrake; hold with the brake, "
        "never with the pedal",
    )  # fmt: skip


@check("reverse pull", topic="parking")
def reverse_pull(b: View) -> Check:
    """Force needed to back up the steepest drive, against the pull backwards."""
    back = pull_back(b)
    return Check(
        "reverse pull", "parking", needed_back(b), back.pull, "N",
        working=Working("F = min(T_motors, T_held) i i_final eta / r; where T_motors is more, only with less current",
                        {"T_motors": (back.given, "N m"), "T_held": (_or_words(back.held), "N m"),
                         "i": (back.ratio, ""),
                         "i_final": (b.final_drive.final_drive_ratio, ""), "eta": (eta_back(b), ""),
                         "r": (b.vehicle.wheel_radius, "m")},
                        (back.pull, "N")),
        source="torque balance; what the gearbox holds from the pressure at rest",
        advice="more pressure at rest for what holds reverse, a higher launch setting in reverse if it holds, "
        "or turn round before the steep drive",
        target=0.2,
    )  # fmt: skip


def eta_back(b: View) -> Number:
    """Part of the torque that gearbox and final drive pass on."""
    return np.asarray(np.multiply(geared_efficiency(b), b.final_drive.final_drive_efficiency))


def _or_words(torque: Any) -> Any:
    """What the gearbox holds, or words where no clutch has to hold."""
    return "no clutch in the way" if np.all(np.isinf(torque)) else torque


@check("reverse pressure", topic="parking")
def reverse_pressure(b: View) -> Check:
    """Pressure that going backwards needs, against the pressure at rest, oil hot.

    By the gearbox: to back up the steepest drive; how much the controller lets the motors give is *launch in reverse*.
    With the motors turned round nothing else watches that, so low must hold all that they give backward.
    """
    way = b.parking.reverse_by
    if way != "gearbox" and not has(b, "gearbox"):
        raise DoesNotApply(f"this build reverses by {way}, without a change-speed gearbox: no clutch has to hold")
    if not has(b, "hydraulics"):
        raise DoesNotApply("hydraulics is declared as not fitted: no pressure holds reverse")
    torque = np.divide(needed_back(b), pull_factor(b, way))
    numbers: dict[str, tuple[Any, str]] = {"F": (needed_back(b), "N"), "T": (torque, "N m")}
    words = "T = F r / (i i_final eta); pressure at which the reverse clutch or band just holds T"
    gear: Literal["low", "reverse"] = "reverse"
    if way != "gearbox":
        gear, torque = "low", np.maximum(torque, pull_back(b).given)
        numbers["T_motors"] = (pull_back(b).given, "N m")
        words = "T = F r / (i i_final eta); pressure at which low, turned backward, holds the larger of T and T_motors"
    needed = pressure_needed(b, gear, input_torque=torque, driving=way == "gearbox")
    return Check(
        "reverse pressure", "parking", needed, rest_pressure(b, gear), "Pa",
        working=Working(words, numbers, (needed, "Pa")),
        source="torque balance; friction of clutch or band, sliding", kind="gauge",
        advice="a larger electric pump or less leakage; what the regulator adds in reverse helps only if the pump can "
        "reach it; where the motors give more than is held it slips and burns: less current, or reverse by the gearbox",
        target=0.2,
    )  # fmt: skip


@check("selector rules", topic="parking")
def selector_rules(b: View) -> Check:
    """Rules of the selector table that hold in every state that can be reached, with this build's speeds."""
    s, m, held = b.parking.selector, meant(b), rules_held(b)
    advice = "a lower setting for low or for reverse; then search again"
    states: Any = "as many as for one build"
    if np.ndim(held) == 0:
        found = proof(b)
        states = str(found.states)
        advice = "; ".join([advice, *(broken.text() for broken in found.broken[:1])])
    return Check(
        "selector rules", "parking", np.full(np.shape(held), float(len(RULES)))[()], held, "",
        working=Working("rules that hold in every reachable state; too fast for low: v i_low i_f / r above w_max",
                        {"states": (states, ""), "walking ends at": (s.reverse_speed_limit, "m/s"),
                         "medium ends at": (s.low_speed_limit, "m/s"), "motors then, in low": (m.shaft_medium, "rad/s"),
                         "w_max": (b.machine.speed_limit, "rad/s")}, (held, "")),
        source="search of every state of the course's own selector table; it proves the table, not wiring, sensors, "
        "software or hardware, and not another table that you fit",
        advice=advice,
        kind="count",
        target=0.0,  # a rule holds or it does not: there is no margin to want
    )  # fmt: skip


def _held(b: View, nose: Nose) -> Number:
    brakes = handbrake.grade_held(brake_force(b)[NOSES.index(nose)], mass=b.vehicle.mass)
    return np.multiply(100, np.minimum(brakes, grade_gripped(b, b.parking.handbrake.handbrake_axle, nose)))


@stated("steepest grade held by the handbrake, nose up", group="Parking and reverse", unit="percent")
def held_up(b: View) -> Number:
    """Grade held at the hand-force limit [per cent]: by the brakes, or by the tyres' grip on that grade."""
    return _held(b, "up")


@stated("steepest grade held by the handbrake, nose down", group="Parking and reverse", unit="percent")
def held_down(b: View) -> Number:
    """Grade held at the hand-force limit [per cent]: by the brakes, or by the tyres' grip on that grade."""
    return _held(b, "down")


@stated("pull backwards from rest", group="Parking and reverse", unit="N")
def stated_pull_back(b: View) -> Number:
    """Pull at the tyres going backwards."""
    return pull_back(b).pull


@stated("going backwards by", group="Parking and reverse")
def stated_way(b: View) -> str:
    """The way it reverses, and which way the internal pump then turns."""
    way = b.parking.reverse_by
    pump = "turns its own way" if way == "gearbox" else "turns backward and draws the clutches empty"
    return f"{way}; an internal pump {pump}"


@stated("braking by the motors at 40 km/h, pedal up", group="Parking and reverse")
def stated_slowing(b: View) -> str:
    """What the motors themselves do to slow the car: friction alone, or regeneration where the machine allows it."""
    ratios = gear_ratios(b)
    if b.machine.kind == "ac":
        most = _newtons(braking_force(b, gear_ratio=ratios.direct))
        return f"regeneration, up to {most} at the tyres; less into a full or cold pack"
    low, direct = (_newtons(motor_drag(b, gear_ratio=ratio)) for ratio in (ratios.low, ratios.direct))
    return f"no current, friction alone: {low} in low, {direct} in direct, at the tyres"


def _newtons(force: Any) -> str:
    if np.ndim(force):
        raise DoesNotApply("words, made for one build and not for a column of them")
    return units.show(float(force), "N")


@stated("open question for your inspector", group="Parking and reverse")
def stated_question(b: View) -> str:
    """What a rule asks and this build does not plainly give."""
    return OPEN_QUESTION["several gears" if has(b, "gearbox") else "one gear"]

"""The commissioning card of a build, in its order: every number is computed from the build, and changes with it."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from evlib.build import line
from evlib.build.brakes import brake_force
from evlib.build.checks.hydraulics.pressure import pressure_switch
from evlib.build.checks.motors import turns
from evlib.build.checks.safety.charge import discharge_time, precharge_circuit
from evlib.build.launch import Gear, handover_needed, hot_oil, rest_at
from evlib.build.protection import dead_wait, freed_line, full_volts, shutdown_circuit
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.road import grade_force
from evlib.motors import unloaded
from evlib.safety import precharge
from evlib.safety.commissioning import (
    CardLine,
    around,
    closing_line,
    insulation_lines,
    judge_all,
    loop_lines,
    precharge_line,
    trip_line,
    weld_lines,
)

BATTERY = 12.0  # V; a starter battery, for proving rotation
GENTLE = 0.10  # grade on which park and handbrake are tried; 49 CFR 571.114 tries park on 10 % (from memory)
POSITIONS: tuple[tuple[str, Gear], ...] = (
    ("park or neutral", "low"), ("low", "low"), ("direct", "direct"), ("reverse", "reverse"),
)  # fmt: skip


def card(b: View) -> tuple[list[CardLine], list[str]]:
    """The lines of the card in their order, and what could not be put on it and why."""
    lines: list[CardLine] = []
    left_out: list[str] = []
    for name, make in _PARTS:
        try:
            lines += make(b)
        except (NotKnown, DoesNotApply) as why:
            left_out.append(f"{name}: {why}")
    return lines, left_out


def read_back(b: View, readings: Mapping[int, str]) -> list[tuple[int, CardLine, float, str]]:
    """Readings as they were written down, with units, by the card's line: number, line, SI value, what it says."""
    lines, _ = card(b)
    for number in readings:
        if not 1 <= number <= len(lines):
            raise ValueError(f"line {number} is not on the card; it has lines 1 to {len(lines)}")
    values = {n: units.read(text, lines[n - 1].unit, kind=lines[n - 1].kind) for n, text in readings.items()}
    return [(n, lines[n - 1], values[n], words) for n, words in judge_all(lines, readings=values).items()]


def _rotation(b: View) -> list[CardLine]:
    """Each machine's rotation, proved uncoupled on a 12 V battery before the two are joined."""
    line.only_series(b)
    pair, made = turns(b), []
    machine: dict[str, Any] = {
        "magnetisation": line.magnetisation(b), "winding_resistance": line.warm_resistance(b),
        "brush_drop": b.machine.brush_drop, **line.losses_arguments(b),
    }  # fmt: skip
    top = float(np.asarray(unloaded.no_load_speed(BATTERY, **machine)))
    reached = float(np.asarray(unloaded.speed_from_rest(
        1.0, volts=BATTERY, rotor_inertia=b.machine.rotor_inertia, **machine)))  # fmt: skip
    for name, side in (("First", pair.first), ("Second", pair.second)):
        made.append(CardLine(
            f"{name} machine, uncoupled, 12 V for one second: {side.seen_from_drive_end} at its drive end "
            f"({side.connection})",
            "two machines that work against each other break the sleeve or the gearbox pump",
            reached, 0.4 * reached, top, "rad/s", "it turns the other way, hardly turns, or sparks",
            place="bench, energised"))  # fmt: skip
    return made


def _insulation(b: View) -> list[CardLine]:
    part = b.protection.insulation
    return list(insulation_lines(float(np.asarray(full_volts(b))), ohm_per_volt=part.ohm_per_volt,
                                 leak_positive=part.leak_positive, leak_negative=part.leak_negative))  # fmt: skip


def _loop(b: View) -> list[CardLine]:
    circuit = shutdown_circuit(b)
    return loop_lines([line.name for line in circuit.lines if line.kind == "switch"])


def _weld(b: View) -> list[CardLine]:
    """With one contactor alone its partner pole is joined for good, and there is no weld check."""
    if b.protection.shutdown.contactor_poles != "both poles":
        raise DoesNotApply("one pole has no contactor, so a weld of the other joins the pack at once")
    return weld_lines(float(np.asarray(full_volts(b))))


def _precharge(b: View) -> list[CardLine]:
    part, volts = b.protection.precharge, float(np.asarray(full_volts(b)))
    reached = float(precharge.voltage_after(part.precharge_wait, pack_voltage=volts, **precharge_circuit(b)))
    rises = float(precharge.time_to_difference(float(np.exp(-1)), **precharge_circuit(b)))
    if not np.isfinite(rises):
        raise DoesNotApply("against so small a discharge resistor the voltage never gets to 63 %")
    return [precharge_line(rises),
            closing_line(volts, reached=reached, difference=part.precharge_closing_difference)]  # fmt: skip


def _discharge(b: View) -> list[CardLine]:
    wait = float(np.asarray(dead_wait(b)))
    return [around("Switched off, time to 60 V at the controller",
                   why=f"proves the resistor; begin proving dead after {units.show(wait, 's')}, five time constants",
                   expected=float(np.asarray(discharge_time(b))), spread=0.25, unit="s",
                   stop_if="the voltage stays")]  # fmt: skip


def _pressure(b: View) -> list[CardLine]:
    made = []
    for position, gear in POSITIONS:
        pressure = float(np.asarray(rest_at(b, hot_oil(b), gear=gear).pressure))
        made.append(_not_below(pressure_wanted(b), around(
            f"Pressure, selector in {position}: oil hot, electric pump on, motors still",
            why="at rest the clutches hold by this alone", expected=pressure, spread=0.15, unit="Pa",
            stop_if="it falls while you watch")))  # fmt: skip
    return made


def pressure_wanted(b: View) -> float:
    """The pressure [Pa] at rest below which work stops: what launch needs, and what the pressure switch is set to."""
    guards = b.hydraulics.switch.pressure_switch == "inhibits drive"
    return max(_where_known(lambda: pressure_switch(b).demand),
               _where_known(lambda: b.hydraulics.switch.inhibit_pressure if guards else 0.0))  # fmt: skip


def _where_known(make: Callable[[], Any]) -> float:
    """A limit that may narrow a band; none (zero) where the build does not say enough for it."""
    try:
        return float(np.asarray(make()))
    except (NotKnown, DoesNotApply):
        return 0.0


def _not_below(least: float, line_: CardLine) -> CardLine:
    """A line whose band does not reach below what other pages ask for; said where not even the expected value does."""
    if line_.low >= least:
        return line_
    if line_.expected >= least:
        return dataclasses.replace(line_, low=least)
    told = units.show(line_.expected, line_.unit, kind=line_.kind)
    return dataclasses.replace(
        line_, expected=least, low=least, high=least + (line_.high - line_.expected),
        stop_if=f"it is below that, as this build works out ({told}): mend it first; or {line_.stop_if}",
    )  # fmt: skip


def _handover(b: View) -> list[CardLine]:
    speed = float(b.hydraulics.switch.switch_off_speed)
    least = max(_where_known(lambda: handover_needed(b, "low")), _where_known(lambda: handover_needed(b, "reverse")),
                _where_known(lambda: b.hydraulics.switch.switch_on_speed))  # fmt: skip
    return [_not_below(least, around("Handover, electric pump off, speed rising",
                                     why="the box's own pump must have taken over", expected=speed, spread=0.1,
                                     unit="rad/s", stop_if="pressure dips as it switches"))]  # fmt: skip


def _trip(b: View) -> list[CardLine]:
    trip, release = b.protection.overspeed_trip, float(b.protection.contactor.contactor_release_time)
    takes = float(trip.detection_delay) + release
    most = max(float(np.asarray(freed_line(b).delay)) + release, 0.0)
    return [
        trip_line(float(trip.trip_speed)),
        CardLine("Over-speed, from trip speed on the generator to current off",
                 "after longer a freed motor is past its limit", min(takes, most), 0.0, most, "s",
                 "it is longer than that, or differs from try to try"),
    ]  # fmt: skip


def _park(b: View) -> list[CardLine]:
    allowed = float(b.parking.park_lock.park_roll_allowed)
    return [CardLine("Park, roll when the brake is let go on a gentle grade, chocks a hand's width away",
                     "the pawl must drop and hold", allowed / 2, 0.0, allowed, "m",
                     "it ratchets, or rolls on")]  # fmt: skip


def _handbrake(b: View) -> list[CardLine]:
    pull = float(np.asarray(grade_force(b.vehicle.mass, grade=GENTLE)))
    holds = min(float(np.asarray(force)) for force in brake_force(b))
    needed = float(b.parking.handbrake.hand_force) * pull / holds
    task = f"Handbrake, lever force that just holds on {100 * GENTLE:.0f} % in neutral, chocks a hand's width away"
    return [around(task, why="motors that freewheel hold nothing", expected=needed, spread=0.3, unit="N",
                   stop_if="it takes much more, or one wheel alone holds")]  # fmt: skip


_PARTS: tuple[tuple[str, Callable[[View], list[CardLine]]], ...] = (
    ("rotation", _rotation), ("insulation", _insulation), ("shutdown loop", _loop),
    ("weld check", _weld), ("precharge", _precharge), ("discharge", _discharge),
    ("pressure at each position", _pressure), ("handover", _handover), ("over-speed trip", _trip), ("park", _park),
    ("handbrake", _handbrake),
)  # fmt: skip

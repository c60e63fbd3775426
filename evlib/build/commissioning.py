"""The commissioning card of a build: every number on it is computed from the build, and changes with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from evlib.build import line
from evlib.build.checks.motors import turns
from evlib.build.launch import rest_hot
from evlib.build.protection import full_volts
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.motors import series, unloaded
from evlib.safety import shock
from evlib.safety.commissioning import CardLine, around, insulation_lines, precharge_line, trip_line

BATTERY = 12.0  # V; a starter battery, for proving rotation


def card(b: View) -> tuple[list[CardLine], list[str]]:
    """The lines of the card in their order, and what could not be put on it and why."""
    lines: list[CardLine] = []
    left_out: list[str] = []
    for name, make in _PARTS:
        try:
            lines += make(b)
        except NotKnown as missing:
            left_out.append(f"{name}: {missing}")
        except DoesNotApply as reason:
            left_out.append(f"{name}: {reason}")
    return lines, left_out


def _rotation(b: View) -> list[CardLine]:
    """Each machine's rotation, proved uncoupled on a 12 V battery before the two are joined."""
    line.only_series(b)
    pair, made = turns(b), []
    machine: dict[str, Any] = {
        "magnetisation": line.magnetisation(b), "winding_resistance": line.warm_resistance(b),
        "brush_drop": b.machine.brush_drop, **line.losses_arguments(b),
    }  # fmt: skip
    top = float(np.asarray(unloaded.no_load_speed(BATTERY, **machine)))
    tap = unloaded.runaway(
        series.stall_current(BATTERY, winding_resistance=b.machine.winding_resistance, brush_drop=b.machine.brush_drop),
        start_speed=0.0, volts=BATTERY, speed_limit=0.99 * top, rotor_inertia=b.machine.rotor_inertia, **machine,
    )  # fmt: skip
    reached = float(np.interp(1.0, tap.time, tap.speed))
    for name, side in (("First", pair.first), ("Second", pair.second)):
        made.append(CardLine(
            f"{name} machine, uncoupled, 12 V for one second: {side.seen_from_drive_end} at its drive end "
            f"({side.connection})",
            "two machines that work against each other break the sleeve or the gearbox pump", reached, 0.0, top,
            "rad/s", "it turns the other way, or sparks"))  # fmt: skip
    return made


def _insulation(b: View) -> list[CardLine]:
    part = b.protection.insulation
    return list(insulation_lines(float(np.asarray(full_volts(b))), ohm_per_volt=part.ohm_per_volt,
                                 leak_positive=part.leak_positive, leak_negative=part.leak_negative))  # fmt: skip


def _precharge(b: View) -> list[CardLine]:
    part = b.protection.precharge
    return [precharge_line(part.precharge_resistance, link_capacitance=part.link_capacitance)]


def _discharge(b: View) -> list[CardLine]:
    time = shock.discharge_time(
        full_volts(b),
        end_voltage=shock.DC_LIMIT,
        discharge_resistance=b.protection.discharge.discharge_resistance,
        link_capacitance=b.protection.precharge.link_capacitance,
    )
    return [around("Switched off, time to 60 V at the controller", why="tells when to begin proving dead",
                   expected=float(time), spread=0.25, unit="s", stop_if="the voltage stays")]  # fmt: skip


def _pressure(b: View) -> list[CardLine]:
    pressure = float(np.asarray(rest_hot(b).pressure))
    return [around("Pressure at rest, oil hot, in low", why="the clutches hold the launch by this alone",
                   expected=pressure, spread=0.15, unit="Pa", stop_if="it falls while you watch")]  # fmt: skip


def _handover(b: View) -> list[CardLine]:
    speed = float(b.hydraulics.switch.switch_off_speed)
    return [around("Handover, electric pump off, speed rising", why="the box's own pump must have taken over",
                   expected=speed, spread=0.1, unit="rad/s", stop_if="pressure dips as it switches")]  # fmt: skip


def _trip(b: View) -> list[CardLine]:
    return [trip_line(float(b.protection.overspeed_trip.trip_speed))]


def _park(b: View) -> list[CardLine]:
    allowed = float(b.parking.park_lock.park_roll_allowed)
    return [CardLine("Park, roll when the brake is let go on a gentle grade, chocks a hand's width away",
                     "the pawl must drop and hold", allowed / 2, 0.0, allowed, "m",
                     "it ratchets, or rolls on")]  # fmt: skip


_PARTS: tuple[tuple[str, Callable[[View], list[CardLine]]], ...] = (
    ("rotation", _rotation), ("insulation", _insulation), ("precharge", _precharge), ("discharge", _discharge),
    ("pressure at rest", _pressure), ("handover", _handover), ("over-speed trip", _trip), ("park", _park),
)  # fmt: skip

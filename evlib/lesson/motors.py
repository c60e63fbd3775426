"""What the cells of the motors lesson call: short sentences in, small tables and sentences out."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build import line, machine_heat
from evlib.build.checks.motors import turns
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.quantity import result
from evlib.ground.shown import Shown
from evlib.ground.units import GAS_ZERO_C
from evlib.lesson.parts import table
from evlib.motors import bench, brushes, commutator, controller, fit, pack, pair, series, unloaded
from evlib.motors.envelope import envelope
from evlib.motors.magnetisation import Froelich, Magnetisation, Tabulated

RPM = np.pi / 30


@result
class OneMachine:
    """One series machine of the build, windings at 75 °C: its curve and its constants, in SI."""

    magnetisation: Magnetisation
    winding_resistance: float
    brush_drop: float
    drags: dict[str, Any]

    @property
    def feed(self) -> dict[str, Any]:
        """What the voltage law asks for."""
        return {
            "magnetisation": self.magnetisation, "winding_resistance": self.winding_resistance,
            "brush_drop": self.brush_drop,
        }  # fmt: skip


def one_machine(build: Build) -> OneMachine:
    """One of the build's machines, warm."""
    b = View(build.parts)
    line.only_series(b)
    return OneMachine(
        line.magnetisation(b), float(line.warm_resistance(b)), float(b.machine.brush_drop), line.losses_arguments(b)
    )  # fmt: skip


def paper_machine() -> OneMachine:
    """The machine of the lesson's paper sum, whatever build is chosen: the text's own constants, windings at 75 °C."""
    drags = {"friction_torque": 1.5, "windage_coefficient": 1e-5, "iron_conductance": 0.04}
    warm = float(series.warm_resistance(0.012, winding_temperature=line.WARM))
    return OneMachine(Froelich(0.0016, 300.0), warm, 2.0, drags)


def torque(machine: OneMachine, *, current: float, speed: float = 0.0) -> float:
    """Shaft torque [N m] at a current [A] and a speed [rad/s]."""
    return float(series.torque(current, speed=speed, magnetisation=machine.magnetisation, **machine.drags))


def current(machine: OneMachine, *, torque: float, speed: float = 0.0) -> float:
    """Current [A] for a shaft torque [N m] at a speed [rad/s]."""
    return float(series.current_for_torque(torque, speed=speed, magnetisation=machine.magnetisation, **machine.drags))


def volts(machine: OneMachine, *, current: float, speed: float) -> float:
    """Voltage [V] for a current [A] at a speed [rad/s]."""
    return float(series.volts_needed(current, speed=speed, **machine.feed))


def point(machine: OneMachine, *, volts: float, current: float) -> series.Point:
    """Torque, speed, power, efficiency and losses at a voltage [V] and a current [A]."""
    return series.at_volts_and_amps(volts, current=current, **{**machine.feed, **machine.drags})


def say(what: str, value: float, unit: str) -> None:
    """Print one line: what, the value in both systems of units."""
    print(f"{what}: {both(value, unit)}")


# --- the machine --------------------------------------------------------------------------------------------------
def data(name: str) -> Path:
    """A file of this topic that comes with the course."""
    return Path(sys.modules["evlib"].__file__ or "").resolve().parents[1] / "data" / "motors" / name


def bench_table(name: str = "orchard_bench.csv") -> bench.BenchTable:
    """A bench table that comes with the course, or the path of your own."""
    return bench.read_bench_table(name if Path(name).is_file() else data(name))


def fitted(sheet: bench.BenchTable, **held: float) -> fit.Fit:
    """The machine's constants from its bench table."""
    return fit.fit_machine(sheet, held=held)


def constants_table(found: fit.Fit, sheet: bench.BenchTable | None = None) -> Shown:
    """Fitted constants with their 95 % intervals, and the reading that fits worst (its number, if given its sheet)."""
    look = {
        "mutual_inductance": ("L, the mutual inductance", 1e3, "mH"),
        "winding_resistance": ("R, the winding's resistance", 1e3, "mohm"),
        "saturation_current": ("I_s, the saturation current", 1.0, "A"),
        "brush_drop": ("brush drop", 1.0, "V"), "friction_torque": ("friction torque", 1.0, "N m"),
    }  # fmt: skip
    rows = []
    for name, (words, scale, unit) in look.items():
        c = found.constants[name]
        shown = [units.figures(v * scale) for v in (c.value, c.low, c.high)]
        sure = c.held or f"{shown[1]} to {shown[2]} {unit}"
        rows.append((words, f"{shown[0]} {unit}", sure))
    verdict = "is off: measure it again" if found.is_off else "fits worst, but no worse than chance"
    where = f"line {found.worst_line} of the file"
    if sheet is not None:
        where = f"number {int(np.flatnonzero(np.asarray(sheet.line) == found.worst_line)[0]) + 1}, {where}"
    rows.append(("worst reading", where, verdict))
    return table(("constant", "value", "95 % interval"), rows)


def points_table(build: Build, *, volts: float, currents: tuple[float, ...]) -> Shown:
    """The four answers at one voltage over several currents."""
    machine = one_machine(build)
    p = point(machine, volts=volts, current=np.array(currents))  # type: ignore[arg-type]
    columns = (p.current, p.speed, p.torque, p.mechanical_power, p.efficiency)
    rows = [
        (f"{i:.0f} A", f"{w / RPM:.0f} rpm", both(t, "N m"), both(power, "W"), f"{100 * e:.0f} %")
        for i, w, t, power, e in zip(*(np.asarray(c) for c in columns), strict=True)
    ]
    return table(("current", "speed", "torque", "shaft power", "efficiency"), rows)


def losses_table(build: Build, *, volts: float, current: float) -> Shown:
    """Where the electrical power goes."""
    p = point(one_machine(build), volts=volts, current=current)
    lost = p.losses
    parts = (("into the terminals", p.electrical_power), ("copper", lost.copper), ("brushes", lost.brushes),
             ("iron", lost.iron), ("bearings and brush friction", lost.friction), ("windage", lost.windage),
             ("out at the shaft", p.mechanical_power))  # fmt: skip
    rows = [(name, f"{float(v):.0f} W", f"{100 * float(v) / float(p.electrical_power):.1f} %") for name, v in parts]
    return table(("where", "power", "share"), rows)


def book_speed(*, amps: float) -> float:
    """Speed [rad/s] of a textbook's 500 V, 0.6 ohm motor, from its table of torques, used as it stands."""
    curve = Tabulated(bench.read_magnetisation(data("traction_motor_torque.csv")))
    return float(series.speed_at(amps, volts=500.0, magnetisation=curve, winding_resistance=0.6, brush_drop=0.0))


# --- pack and controller ------------------------------------------------------------------------------------------
def loaded_volts(*, rest: float, ohms: float, current: float) -> float:
    """Voltage under load [V]."""
    return float(pack.sagged_volts(current, open_volts=rest, pack_resistance=ohms))


def chopper_table(build: Build, *, rpm: tuple[float, ...]) -> Shown:
    """Motor amps and pack amps at full motor current over speed."""
    b = View(build.parts)
    e = envelope(np.array(rpm) * RPM, **line.envelope_arguments(b))
    columns = (e.volts, e.current, e.duty, e.pack_volts, e.pack_current)
    rows = [
        (f"{n:.0f} rpm", f"{v:.1f} V", f"{i:.0f} A", f"{100 * d:.0f} %", f"{u:.0f} V", f"{ib:.1f} A")
        for n, v, i, d, u, ib in zip(rpm, *(np.asarray(c) for c in columns), strict=True)
    ]
    return table(("speed", "one machine", "motor amps", "duty", "pack under load", "pack amps"), rows)


LAYOUTS = (("series pair, one controller", "series", "one for all"),
           ("parallel pair, one controller", "parallel", "one for all"),
           ("one controller each", "parallel", "one each"))  # fmt: skip


def wirings_table(build: Build) -> Shown:
    """What the same controller and pack give with the machines joined in three ways."""
    b = View(build.parts)
    base, rows = line.envelope_arguments(b), []
    speeds = np.linspace(0.0, float(b.machine.speed_limit), 241)
    for name, wiring, arrangement in LAYOUTS:
        shared = controller.layout(b.machine.machine_count, wiring=wiring, arrangement=arrangement)  # type: ignore[arg-type]
        e = envelope(speeds, **{**base, "in_series": shared.in_series, "in_parallel": shared.in_parallel,
                                "controllers": shared.controllers})  # fmt: skip
        top = int(np.argmax(e.power))
        rows.append((name, f"{np.asarray(e.current)[0]:.0f} A", both(float(np.asarray(e.torque)[0]), "N m"),
                     both(float(np.asarray(e.power)[top]), "W"),
                     both(float(np.asarray(e.torque)[-1]), "N m")))  # fmt: skip
    return table(("joined as", "each at rest", "torque at rest", "largest power", "torque at speed limit"), rows)


def sag_table(build: Build) -> Shown:
    """Largest power of the machines over charge and cold, with the sag and the limit there."""
    b = View(build.parts)
    speeds, rows = np.linspace(0.0, float(b.machine.speed_limit), 241), []
    for charge, celsius in ((0.9, 25.0), (0.5, 25.0), (0.1, 25.0), (0.5, -10.0), (0.1, -10.0)):
        case = line.envelope_arguments(b, state_of_charge=charge, pack_temperature=celsius + GAS_ZERO_C)
        e = envelope(speeds, **case)
        top = int(np.argmax(e.power))
        volts = float(np.asarray(e.pack_volts)[top])
        rest = float(np.asarray(case["open_volts"]))
        rows.append((f"{100 * charge:.0f} %", f"{celsius:.0f} °C", both(float(np.asarray(e.power)[top]), "W"),
                     f"{rest - volts:.0f} V of {rest:.0f} V", str(np.asarray(e.governing)[top])))  # fmt: skip
    return table(("charge", "cells at", "largest power", "sag there", "limit there"), rows)


def say_half_limit(build: Build) -> str:
    """What halving the motor-current limit does to torque at rest and to the largest power."""
    b = View(build.parts)
    base = line.envelope_arguments(b)
    speeds = np.linspace(0.0, float(b.machine.speed_limit), 241)
    whole = envelope(speeds, **base)
    half = envelope(speeds, **{**base, "motor_current_limit": base["motor_current_limit"] / 2})
    rest = float(np.asarray(half.torque)[0] / np.asarray(whole.torque)[0])
    power = float(np.max(half.power) / np.max(whole.power))
    return (
        f"With half the motor amps the torque at rest falls to {100 * rest:.0f} % of what it was, the largest power "
        f"to {100 * power:.0f} %."
    )


# --- how long -----------------------------------------------------------------------------------------------------
def minutes(build: Build, *, current: float) -> float:
    """Minutes from the hottest air until the winding limit, turning at half the speed limit; infinite if never."""
    b = View(build.parts)
    line.only_series(b)
    return float(machine_heat.seconds_to_limit(b, current, machine_heat.half_speed(b))) / 60


def say_minutes(build: Build, *, before: float, after: float) -> str:
    """Minutes at two currents."""
    first, second = minutes(build, current=before), minutes(build, current=after)
    return (
        f"{before:.0f} A: {first:.0f} minutes. {after:.0f} A: {second:.1f} minutes, {100 * second / first:.0f} % of it."
    )


def duty_table(build: Build) -> Shown:
    """Currents of one machine by duty type, at half its speed limit."""
    b = View(build.parts)
    speed = machine_heat.half_speed(b)
    rows = [("S1, for ever", f"{float(machine_heat.continuous_current(b, speed)):.0f} A")]
    for text, seconds in (("S2, one hour from cold", 3600.0), ("S2, five minutes from cold", 300.0)):
        rows.append((text, f"{float(machine_heat.short_time_current(b, seconds, speed)):.0f} A"))
    rows.append(("S3, 25 % of ten-minute cycles", f"{machine_heat.cyclic_current(b, 0.25, 600.0, speed):.0f} A"))
    return table(("duty type", "current in one machine"), rows)


def stall_table(build: Build, *, currents: tuple[float, ...]) -> Shown:
    """How long the bars under the brushes bear a current at standstill, beside the winding's minutes while turning."""
    b = View(build.parts)
    line.only_series(b)
    rows = []
    for amps in currents:
        bars = float(commutator.stall_time_allowed(
            amps, stall_current=b.machine.stall_current, stall_time=b.machine.stall_time))  # fmt: skip
        winding = minutes(build, current=amps)
        rows.append((f"{amps:.0f} A", f"{np.floor(10 * bars + 1e-6) / 10:.1f} s",
                     f"{winding:.1f} min" if np.isfinite(winding) else "no limit"))  # fmt: skip
    turning = f"winding, turning at {machine_heat.half_speed(b) / RPM:.0f} rpm"
    return table(("current", "bars, at standstill", turning), rows)


# --- rotation, brushes --------------------------------------------------------------------------------------------
def rotation_table(build: Build) -> Shown:
    """What each of the two machines needs."""
    b = View(build.parts)
    both_of = turns(b)
    facing = (b.machine.first_drive_end_faces, b.machine.second_drive_end_faces)
    rows = []
    for name, end, r in (("first", facing[0], both_of.first), ("second", facing[1], both_of.second)):
        rows.append((name, str(end), r.seen_from_drive_end, r.connection,
                     r.brush_shift_seen_from_commutator_end, "yes" if r.advance_suits else "no"))  # fmt: skip
    header = ("machine", "drive end faces", "turns, seen there", "connection", "brush shift, seen at the commutator",
              "advance suits")  # fmt: skip
    return table(header, rows)


def light_table(build: Build, *, volts: tuple[float, ...]) -> Shown:
    """How fast one uncoupled machine is after one second, and where it would level off, on a battery's volts."""
    b, m = View(build.parts), one_machine(build)
    rows = []
    for each in volts:
        second = unloaded.speed_from_rest(
            1.0, volts=each, rotor_inertia=b.machine.rotor_inertia, **m.feed, **m.drags)  # fmt: skip
        top = float(unloaded.no_load_speed(each, **m.feed, **m.drags))
        rows.append((f"{each:.0f} V", f"{float(second) / RPM:.0f} rpm", f"{top / RPM:.0f} rpm",
                     f"{100 * top / float(b.machine.speed_limit):.0f} % of the limit"))  # fmt: skip
    return table(("uncoupled, at", "after one second", "left on", "that is"), rows)


def brush_card(*, length: float, least: float, wear: float) -> Shown:
    """A maintenance card for one machine with four brushes of 8 cm2 a side, 200 A and 3000 rpm as its usual day."""
    card = brushes.maintenance_card(
        200.0, speed=3000 * RPM, brush_area=8e-4, brushes_per_polarity=4, brush_pressure=30e3, brush_friction=0.2,
        commutator_radius=0.07, brush_length=length, brush_length_least=least, brush_wear=wear,
    )  # fmt: skip
    density = float(card.current_density) / 1e4
    verdict = "good" if density <= USUAL_DENSITY else "too much: more brush area, or less current"
    rows = [
        ("current density", f"200 A / (4 x 8 cm²) = {density:.1f} A/cm²",
         f"{verdict}; {USUAL_DENSITY:.0f} A/cm² for hours is common practice"),
        ("spring balance reads", f"30 kPa x 8 cm² = {both(float(card.spring_force), 'N')}",
         "good within a tenth of it, all brushes alike"),
        ("running hours left", f"{float(card.hours_left):.0f} h",
         "good" if float(card.hours_left) > float(card.check_every) else "order brushes now"),
        ("measure again after", f"{float(card.check_every):.0f} h", "a fifth of what is left, 200 h at most"),
    ]  # fmt: skip
    return table(("what", "value", "good or bad"), rows)


USUAL_DENSITY = 10.0  # A/cm2 of brush face for hours; common practice, no source


def say_mismatch(build: Build, *, mismatch: float, current: float, speed: float) -> str:
    """Heat of the two windings, in series and in parallel."""
    feed = one_machine(build).feed
    inside = {"speed": speed, "flux_mismatch": mismatch, **feed}
    rows = pair.series_share(current, **inside), pair.parallel_share(2 * current, **inside)
    return (
        f"In series both windings warm alike (ratio {float(rows[0].heat_ratio):.2f}). In parallel the weaker first "
        f"machine carries {float(rows[1].first_current):.0f} A of {2 * current:.0f} A and is heated "
        f"{float(rows[1].heat_ratio):.2f} times as much."
    )


def on_paper(name: str) -> Shown:
    """A derivation, line by line: speed_torque_law, largest_power_of_a_source, torque_exponent, largest_ripple_duty."""
    from evlib.motors import on_paper as paper

    made = {function.__name__: function for function in paper.ALL}
    if name not in made:
        raise ValueError(f"name: {name!r}; there are: {', '.join(made)}")
    steps = made[name]().steps
    return table(("step", "equation"), [(words, f"{eq.lhs} = {eq.rhs}") for words, eq in steps])

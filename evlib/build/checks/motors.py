"""Checks of the motors topic on a build, and the figures of it that the sheet states."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build import line, machine_heat
from evlib.build.gears import gear_ratios, has, run_to_target, shaft_per_road
from evlib.build.registry import check, stated
from evlib.build.view import View, derived
from evlib.ground.checks import Check, Working
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number
from evlib.ground.road import STANDARD_AIR, grade_force, road_load
from evlib.motors import commutator, controller, heat, pack, rotation
from evlib.motors.envelope import Envelope

HOUR = 3600.0  # s
POWER = "power balance at the controller"
LUMPS = "two-lump thermal network; duty type S2 of IEC 60034-1"


@derived
def pack_demand(b: View) -> Number:
    """Pack current that the controllers can ask for [A]: their setting, or all their motor amps at full duty."""
    if b.machine.kind == "ac":
        return np.asarray(b.controller.controller_pack_current_limit)
    setting = np.multiply(line.layout(b).controllers, b.controller.controller_pack_current_limit)
    amps = np.multiply(line.layout(b).controllers, b.controller.motor_current_limit)
    return np.asarray(np.minimum(setting, amps * b.controller.duty_limit / b.controller.controller_efficiency))


@check("motor current", topic="motors")
def motor_current(b: View) -> Check:
    """What the controller sends through each machine, against what its brushes carry for about a minute."""
    line.only_series(b)
    shared = line.layout(b).in_parallel
    each = np.divide(b.controller.motor_current_limit, shared)
    return Check(
        "motor current", "motors", each, b.machine.brush_current_limit, "A",
        working=Working("I = I_m / machines side by side",
                        {"I_m": (b.controller.motor_current_limit, "A"), "machines side by side": (shared, "")},
                        (each, "A")),
        source="brush face area times the grade's current density",
        advice="turn the controller's motor-current limit down to what the brushes carry",
    )  # fmt: skip


@check("pack current", topic="motors")
def pack_current(b: View) -> Check:
    """The most that the controllers can draw, against what the pack may give."""
    asked = pack_demand(b)
    asks: dict[str, tuple[Any, str]] = {}
    if b.machine.kind == "series":  # an AC machine's inverter has a pack-current setting only
        asks = {"I_m": (b.controller.motor_current_limit, "A"), "largest duty": (b.controller.duty_limit, ""),
                "efficiency": (b.controller.controller_efficiency, "")}  # fmt: skip
    return Check(
        "pack current", "motors", asked, b.pack.pack_current_limit, "A",
        working=Working("I_b = controllers x the smaller of I_cp and I_m x largest duty / efficiency",
                        {"I_cp": (b.controller.controller_pack_current_limit, "A"), **asks}, (asked, "A")),
        source=POWER,
        advice="set the controller's pack-current limit below the pack's; cells in parallel raise the pack's",
    )  # fmt: skip


@check("cut-off", topic="motors")
def cut_off(b: View) -> Check:
    """The lowest pack voltage allowed, against the voltage under the largest current drawn."""
    rest, ohms = line.open_volts(b), line.pack_resistance(b)
    drawn = np.minimum(pack_demand(b), b.pack.pack_current_limit)
    sagged = pack.sagged_volts(drawn, open_volts=rest, pack_resistance=ohms)
    return Check(
        "cut-off", "motors", line.cut_off_volts(b), sagged, "V",
        working=Working("U = U_0 - R_b I_b", {"U_0": (rest, "V"), "R_b": (ohms, "ohm"), "I_b": (drawn, "A")},
                        (sagged, "V")),
        source="Ohm's law",
        advice="less pack current, a warmer or fuller pack, cells in parallel, or thicker links",
        target=0.05,
    )  # fmt: skip


@check("bar volts", topic="motors")
def bar_volts(b: View) -> Check:
    """Mean voltage between commutator bars with a full pack at rest, against its limit."""
    line.only_series(b)
    shared = line.layout(b).in_series
    full = np.multiply(b.pack.cell_open_voltage.y[-1], b.pack.cells_in_series)
    each = full * b.controller.duty_limit / shared
    mean = commutator.bar_volts(each, commutator_bars=b.machine.commutator_bars, poles=b.machine.poles)
    return Check(
        "bar volts", "motors", mean, b.machine.bar_volts_limit, "V",
        working=Working("U between bars = (U full x largest duty / machines in series) x poles / bars",
                        {"U full": (full, "V"), "largest duty": (b.controller.duty_limit, ""),
                         "machines in series": (shared, ""), "poles": (b.machine.poles, ""),
                         "bars": (b.machine.commutator_bars, "")}, (mean, "V")),
        source="15 V mean without compensating winding: common practice, no source; the maker first",
        advice="fewer cells, machines in series, or a lower duty limit: bars that flash over burn in one second",
    )  # fmt: skip


@check("speed limit", topic="motors")
def speed_limit(b: View) -> Check:
    """The fastest that the machines turn in normal use, against the maker's limit."""
    top = np.multiply(shaft_per_road(b, gear_ratios(b).direct), b.targets.top_speed)
    numbers: dict[str, tuple[Any, str]] = {"w at top speed": (top, "rad/s")}
    if has(b, "gearbox") and b.gearbox.known("upshift_speed"):
        low = np.multiply(shaft_per_road(b, gear_ratios(b).low), b.gearbox.upshift_speed)
        numbers["w at the change up"] = (low, "rad/s")
        top = np.maximum(top, low)
    return Check(
        "speed limit", "motors", top, b.machine.speed_limit, "rad/s",
        working=Working("w = road speed x ratio of all gears / wheel radius, the larger", numbers, (top, "rad/s")),
        source="the maker's speed limit",
        advice="a smaller final drive ratio, an earlier change up, a lower top speed; and an over-speed trip in any "
        "case",
    )  # fmt: skip


@check("stall hold", topic="motors")
def stall_hold(b: View) -> Check:
    """How long the driver holds on the pedal, against how long the bars under the brushes bear that current."""
    line.only_series(b)
    force = grade_force(b.vehicle.mass, grade=b.targets.start_grade)
    torque = force / shaft_per_road(b, gear_ratios(b).low)
    amps = line.motor_current_for(b, torque, 0.0)
    allowed = commutator.stall_time_allowed(
        amps, stall_current=b.machine.stall_current, stall_time=b.machine.stall_time
    )  # fmt: skip
    return Check(
        "stall hold", "motors", b.targets.hold_time, allowed, "s",
        working=Working("t = t_st (I_st / I)^2, I for the T that holds the hill in low",
                        {"T": (torque, "N m"), "I": (amps, "A"), "I_st": (b.machine.stall_current, "A"),
                         "t_st": (b.machine.stall_time, "s")}, (allowed, "s")),
        source="adiabatic heating of the bars under the brushes, I^2 t",
        advice="hold with the brake, never with the pedal: no winding sensor sees these bars; a lower gear helps",
        target=0.2,
    )  # fmt: skip


@check("winding after an hour's climb", topic="motors")
def winding_climb(b: View) -> Check:
    """Winding temperature after an hour of the target climb in direct, the hotter gear, against its limit."""
    line.only_series(b)
    per_road = shaft_per_road(b, gear_ratios(b).direct)
    force = road_load(
        b.targets.climb_speed, mass=b.vehicle.mass, rolling_coefficient=b.vehicle.rolling_coefficient,
        rolling_speed_term=b.vehicle.rolling_speed_term, drag_coefficient=b.vehicle.drag_coefficient,
        frontal_area=b.vehicle.frontal_area, density=STANDARD_AIR, grade=b.targets.climb_grade,
    )  # fmt: skip
    drive = np.multiply(b.final_drive.final_drive_efficiency, b.gearbox.direct_efficiency if has(b, "gearbox") else 1.0)
    torque, speed = force / per_road / drive, np.multiply(per_road, b.targets.climb_speed)
    amps = line.motor_current_for(b, torque, speed)
    hot = _after(b, HOUR, amps, line.frame_loss(b, amps, speed))
    return _winding(
        "winding after an hour's climb", b, hot,
        {"grade": (np.multiply(100, b.targets.climb_grade), "percent"), "road speed": (b.targets.climb_speed, "m/s"),
         "w in direct": (speed, "rad/s"), "force at the wheels": (force, "N"), "T, all machines": (torque, "N m"),
         "I in each": (amps, "A"), "t": (HOUR, "s")},
        "climb in low, slower, or with more air through the machines; fit a winding sensor that the controller obeys",
    )  # fmt: skip


@check("winding after a run-up", topic="motors")
def winding_run_up(b: View) -> Check:
    """Winding temperature after one run-up at full motor current, against its limit."""
    line.only_series(b)
    shared = line.layout(b).in_parallel
    amps = np.minimum(np.divide(b.controller.motor_current_limit, shared), b.machine.brush_current_limit)
    # The frame as hot as at the speed limit all the way: too much rather than too little.
    time = np.minimum(run_to_target(b).time, HOUR)
    hot = _after(b, time, amps, line.frame_loss(b, amps, b.machine.speed_limit))
    return _winding(
        "winding after a run-up", b, hot,
        {"I all the way": (amps, "A"), "frame heated as at": (b.machine.speed_limit, "rad/s"), "t": (time, "s")},
        "a lower motor-current limit, or pauses between run-ups: this is one of them from the hottest air",
    )  # fmt: skip


def _after(b: View, time: Any, amps: Any, other: Any) -> Number:
    air = b.targets.hottest_air
    return heat.temperatures_after(
        time, current=amps, other_loss=other, air_temperature=air, start_winding=air, start_frame=air,
        **machine_heat.body(b),
    ).winding  # fmt: skip


def _winding(name: str, b: View, hot: Any, numbers: dict[str, tuple[Any, str]], advice: str) -> Check:
    """Rise above the hottest air against the rise allowed: a margin in per cent of a temperature means nothing."""
    air = b.targets.hottest_air
    rise, allowed = np.asarray(hot) - air, np.asarray(b.machine.winding_limit) - air
    return Check(
        name, "motors", rise, allowed, "K", kind="difference",
        working=Working("rise = Θ_w - Θ_a, two lumps", {**numbers, "Θ_a": (air, "K"), "Θ_w": (hot, "K")},
                        (rise, "K difference")),
        source=LUMPS, advice=advice,
    )  # fmt: skip


@check("capacitor ripple", topic="motors")
def capacitor_ripple(b: View) -> Check:
    """The most ripple that the link capacitors see, against what they carry."""
    line.only_series(b)
    worst = controller.largest_ripple(
        b.controller.motor_current_limit, lowest_duty=0.0, highest_duty=b.controller.duty_limit
    )  # fmt: skip
    return Check(
        "capacitor ripple", "motors", worst, b.controller.ripple_current_limit, "A",
        working=Working("I_c = I_m sqrt(D (1 - D)), worst at D = 1/2",
                        {"I_m": (b.controller.motor_current_limit, "A")}, (worst, "A")),
        source="root mean square of a chopped current",
        advice="more or better capacitors close to the switches, or a lower motor-current limit",
    )  # fmt: skip


@derived
def turns(b: View) -> rotation.PairRotation:
    """Which way each of two machines must turn, and how it is joined."""
    if np.any(np.asarray(b.machine.machine_count) != 2):
        raise DoesNotApply("this is about two machines on one line")
    return rotation.opposed(
        pump_turns=b.machine.pump_turns, first_drive_end_faces=b.machine.first_drive_end_faces,
        second_drive_end_faces=b.machine.second_drive_end_faces, standard_rotation=b.machine.standard_rotation,
        first_advanced_for=b.machine.first_advanced_for, second_advanced_for=b.machine.second_advanced_for,
    )  # fmt: skip


@check("brush advance", topic="motors")
def brush_advance(b: View) -> Check:
    """Machines whose brushes are advanced for the other rotation: none may be."""
    line.only_series(b)
    pair = turns(b)
    wrong = float(sum(machine.advance_suits is False for machine in (pair.first, pair.second)))
    say = {"clockwise": "cw", "counter-clockwise": "ccw"}
    return Check(
        "brush advance", "motors", wrong, 0.0, "",
        working=Working("the line turns one way; each drive end sees it from its own side",
                        {"pump": (b.machine.pump_turns, ""), "first": (say[pair.first.seen_from_drive_end], ""),
                         "second": (say[pair.second.seen_from_drive_end], ""),
                         "first set for": (b.machine.first_advanced_for, ""),
                         "second set for": (b.machine.second_advanced_for, "")}, (wrong, "")),
        source="rotation as in IEC 60034-8; a motor's brushes are advanced against its rotation",
        advice="move the brush ring of the machine that turns against its setting, before it is coupled; then prove "
        "each machine's rotation on a low-voltage supply",
    )  # fmt: skip


# --- stated figures -----------------------------------------------------------------------------------------------
SPEEDS = np.linspace(0.0, 1.0, 121)


@derived
def whole_envelope(b: View) -> Envelope:
    """The envelope of one build over its speeds, from standstill to the limit."""
    return line.line_envelope(b, SPEEDS * np.asarray(b.machine.speed_limit))


def _at_peak(b: View, name: str) -> Any:
    found = whole_envelope(b)
    return np.asarray(getattr(found, name))[int(np.argmax(found.power))]


@stated("torque at rest, all machines", group="Predicted figures", unit="N m")
def torque_stated(b: View) -> Any:
    """At the gearbox input, limits of controller, pack and brushes kept."""
    return line.torque_at_rest(b)


@stated("largest shaft power", group="Predicted figures", unit="W")
def power_stated(b: View) -> Any:
    """All machines, at the build's state of charge."""
    return float(_at_peak(b, "power"))


@stated("speed of largest power", group="Predicted figures", unit="rad/s")
def power_speed_stated(b: View) -> Any:
    """Where the envelope peaks."""
    return float(_at_peak(b, "speed"))


@stated("pack voltage at largest power", group="Predicted figures", unit="V")
def power_volts_stated(b: View) -> Any:
    """Sagged."""
    return float(_at_peak(b, "pack_volts"))


@stated("limit at largest power", group="Predicted figures")
def power_limit_stated(b: View) -> Any:
    """The word for it."""
    return str(_at_peak(b, "governing"))


def _machine_words(machine: rotation.Rotation) -> str:
    return (
        f"turns {machine.seen_from_drive_end} seen at its drive end; {machine.connection}; brushes shifted "
        f"{machine.brush_shift_seen_from_commutator_end} seen at the commutator"
    )


@stated("first machine", group="Predicted figures")
def first_stated(b: View) -> Any:
    """Rotation, connection, brushes."""
    line.only_series(b)
    return _machine_words(turns(b).first)


@stated("second machine", group="Predicted figures")
def second_stated(b: View) -> Any:
    """Rotation, connection, brushes."""
    line.only_series(b)
    return _machine_words(turns(b).second)

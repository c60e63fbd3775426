"""The handover between the pumps: switch speed, hysteresis, direction."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.build.checks.hydraulics.pressure import launch_pressure
from evlib.build.gears import gear_ratios
from evlib.build.launch import GEARS, handover_full, handover_needed, main_pressure, pressure_needed
from evlib.build.line import torque_at_rest
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.hydraulics import handover

Turns = Literal["forward", "backward"]


@check("handover margin", topic="hydraulics")
def handover_margin(b: View) -> Check:
    """Switch-on speed that braking hard in low needs, against the one that is set."""
    h = b.hydraulics
    carried = np.maximum(handover_needed(b, "low"), handover_needed(b, "reverse"))
    overall = np.multiply(gear_ratios(b).low, b.final_drive.final_drive_ratio)
    slowing = handover.input_deceleration(
        h.switch.hardest_braking, overall_ratio=overall, wheel_radius=b.vehicle.wheel_radius
    )  # fmt: skip
    times = {"switch_delay": h.switch.switch_delay, "spin_up_time": h.electric_pump.spin_up_time}
    needed = handover.switch_on_needed(carried, input_deceleration=slowing, **times)
    return Check(
        "handover margin", "hydraulics", needed, h.switch.switch_on_speed, "rad/s",
        working=Working("n_on = n_handover + α (t_switch + t_pump)",
                        {"n_handover": (carried, "rad/s"), "α": (slowing, "rad/s2"),
                         "t_switch": (h.switch.switch_delay, "s"), "t_pump": (h.electric_pump.spin_up_time, "s")},
                        (needed, "rad/s")),
        source="flow balance; constant deceleration",
        advice="raise the switch-on speed; about 500 rpm is common practice, but a worn pump and thin oil need more",
    )  # fmt: skip


@check("handover at full torque", topic="hydraulics")
def handover_at_full_torque(b: View) -> Check:
    """Speed from which the internal pump alone carries full torque, against that from which the electric one is off.

    Launch limits may be gone there. Full torque in reverse needs far more pressure than launch does, so that the
    handover at launch's pressure says nothing of it. Braking is not in it: below this speed the limits are back.
    """
    full = torque_at_rest(b)
    speeds = {gear: handover_full(b, gear) for gear in GEARS}
    carried = np.maximum.reduce(np.broadcast_arrays(*speeds.values()))
    return Check(
        "handover at full torque", "hydraulics", carried, b.hydraulics.switch.switch_on_speed, "rad/s",
        working=Working("n = 2π (leakage(p) + slip(p)) / d, the highest of all gears",
                        {"p in reverse": (pressure_needed(b, "reverse", input_torque=full), "Pa"),
                         "T": (full, "N m"), **{f"in {gear}": (n, "rad/s") for gear, n in speeds.items()}},
                        (carried, "rad/s")),
        source="flow balance; force balance of band and clutch",
        advice="raise the switch-on speed, or keep the launch limit up to the speed that full torque needs; let the "
        "limit come back when the input slows down below it",
    )  # fmt: skip


@check("switch hysteresis", topic="hydraulics")
def switch_hysteresis(b: View) -> Check:
    """Switch-on speed against switch-off speed: a switch that does both at one speed chatters."""
    switch = b.hydraulics.switch
    return Check(
        "switch hysteresis", "hydraulics", switch.switch_on_speed, switch.switch_off_speed, "rad/s",
        working=Working("n_off over n_on", {"n_on": (switch.switch_on_speed, "rad/s")},
                        (switch.switch_off_speed, "rad/s")),
        source="common practice, no source", target=handover.GAP,
        advice="set the switch-off speed at least a tenth above the switch-on speed, more for a rough speed signal",
    )  # fmt: skip


@check("direction", topic="hydraulics")
def direction(b: View) -> Check:
    """Pressure that reverse needs against what can be counted on while backing up above the switch-off speed."""
    way = b.parking.reverse_by
    turns: Turns = "forward" if way == "gearbox" else "backward"
    there = handover.backing_pressure(main_pressure(b, "reverse"), pump_turns=turns)
    return Check(
        "direction", "hydraulics", launch_pressure(b, "reverse"), there, "Pa",
        working=Working("main pressure while the internal pump turns forward; nothing while it turns backward",
                        {"reverse by": (way, ""), "internal pump": (f"turns {turns}", "")}, (there, "Pa")),
        source="a gear pump turned backward draws from its outlet; common practice, no source", kind="gauge",
        advice=f"{handover.RULE} An outlet valve at the internal pump and a switch that sees direction do not make up "
        "for it: all would hang on the electric pump alone, and the internal pump would run starved",
    )  # fmt: skip

"""Checks of the cables in use: how warm they run, and what they lose."""

from __future__ import annotations

import numpy as np

from evlib.build.line import open_volts
from evlib.build.protection import cable_after, cable_steady, motor_peak, pack_peak
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.safety import cables

HEAT = "heat balance of one cable in still air; a printed table or the maker's value comes first"


def _steady(cable: View) -> Check:
    settled, ambient = cable_steady(cable), cable.cable_ambient
    rise = np.minimum(np.subtract(settled, ambient), 1e4)
    return Check(
        "", "safety", rise, np.subtract(cable.insulation_limit, ambient), "K", kind="difference",
        working=Working("I^2 R'(T) = h pi D (T - T_a)", {"I": (cable.steady_current, "A"), "T_a": (ambient, "K"),
                        "A": (np.multiply(cable.conductor_area, 1e6), "mm2")}, (rise, "K difference")),
        source=HEAT,
        advice="thicker cable, a cooler run, or insulation for more heat; against a printed ampacity table this reads "
        "up to a tenth too cool, so keep that in hand",
        target=0.25,
    )  # fmt: skip


@check("pack cable temperature", topic="safety")
def pack_cable_temperature(b: View) -> Check:
    """Rise of the pack cable at its steady current, against what its insulation stands."""
    return _steady(b.protection.pack_cable)


@check("motor cable temperature", topic="safety")
def motor_cable_temperature(b: View) -> Check:
    """Rise of the motor cable at its steady current, against what its insulation stands."""
    return _steady(b.protection.motor_cable)


@check("motor loop at launch", topic="safety")
def motor_loop(b: View) -> Check:
    """Rise of the motor cable at full motor current for its longest time, against what its insulation stands."""
    cable, peak = b.protection.motor_cable, motor_peak(b)
    start = np.minimum(cable_steady(cable), 1300.0)
    rise = np.subtract(cable_after(cable, current=peak, time=cable.peak_time, start=start), cable.cable_ambient)
    return Check(
        "motor loop at launch", "safety", rise, np.subtract(cable.insulation_limit, cable.cable_ambient), "K",
        kind="difference",
        working=Working("c A dT/dt = I^2 R'(T) - h pi D (T - T_a), from the steady temperature",
                        {"I": (peak, "A"), "t": (cable.peak_time, "s"), "T_start": (start, "K")},
                        (rise, "K difference")),
        source="heat balance; the pack's fuse never sees motor current, so nothing else protects this cable",
        advice="thicker motor cables, or a shorter time at full motor current",
        target=0.2,
    )  # fmt: skip


@check("pack cable drop", topic="safety")
def pack_cable_drop(b: View) -> Check:
    """Voltage lost in the pack cable both ways at the largest pack current, against what is allowed."""
    cable = b.protection.pack_cable
    drop = cables.loop_drop(
        pack_peak(b), area=cable.conductor_area, length=cable.cable_length, stranding_factor=cable.stranding_factor,
        temperature=cable.insulation_limit, joint_resistance=cable.joint_resistance, joint_count=cable.joint_count,
    )  # fmt: skip
    allowed = np.multiply(cable.allowed_drop, open_volts(b))
    return Check(
        "pack cable drop", "safety", drop, allowed, "V",
        working=Working("V = I (2 R' l + n R_j)", {"I": (pack_peak(b), "A"), "l": (cable.cable_length, "m"),
                        "n": (cable.joint_count, ""), "R_j": (cable.joint_resistance, "ohm")}, (drop, "V")),
        source="Ohm's law; IEC 60028 copper; the allowance is common practice, no source",
        advice="clean and tighten joints first, then a thicker or shorter cable",
    )  # fmt: skip

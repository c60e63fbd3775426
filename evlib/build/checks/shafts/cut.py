"""Checks of the cut plan: engagement, room, the gap cold, warming and warm, the axial lock."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.shafts import cut_plan, dudley

TOPIC = "shafts"


@check("spline engagement", topic=TOPIC)
def spline_engagement(b: View) -> Check:
    """Engagement that strength asks for, against what is left with the sleeve at its worst float."""
    s, e = coupling.sleeve_strength(b), coupling.engagement(b)
    working = Working(
        "Le needed = Le S / Sa, the larger of shear and compression; Le left by overlap",
        {"Le": (e.least, "m"), "far": (e.far_worst, "m"), "near": (e.near_worst, "m")},
        (s.needed, "m"),
    )
    return Check(
        "spline engagement", TOPIC, s.needed, e.least, "m", working, dudley.SOURCE,
        "Keep the sleeve with rings so that it wanders less; a longer sleeve; cut less off.",
    )  # fmt: skip


@check("sleeve room", topic=TOPIC)
def sleeve_room(b: View) -> Check:
    """The sleeve between the two steps."""
    sleeve = b.coupling.sleeve
    far, near, face = b.coupling.far_shaft.step_height, b.coupling.near_shaft.step_height, b.coupling.cut.face_distance
    room = face - far - near
    working = Working("room = Df - hs1 - hs2", {"Df": (face, "m"), "hs1": (far, "m"), "hs2": (near, "m")}, (room, "m"))
    return Check(
        "sleeve room", TOPIC, sleeve.sleeve_length, room, "m", working, "geometry",
        "Shorten the sleeve, or lengthen the flange ring.", target=0.01,
    )  # fmt: skip


def _gap_check(name: str, b: View, closing: Any, advice: str) -> Check:
    _ = b.coupling.sleeve
    gap, tolerances, measured = coupling.cold_gap(b)
    cut, far, near = b.coupling.cut, b.coupling.far_shaft.end_float, b.coupling.near_shaft.end_float
    demand = closing + far + near + tolerances + cut.gap_reserve
    working = Working(
        "needed = x + f1 + f2 + tolerances + reserve",
        {"x": (closing, "m"), "f1": (far, "m"), "f2": (near, "m"), "tolerances": (tolerances, "m"),
         "reserve": (cut.gap_reserve, "m"), "the gap is": ("measured" if measured else "as planned", "")},
        (demand, "m"),
    )  # fmt: skip
    return Check(name, TOPIC, demand, gap, "m", working, "linear expansion; worst-case stack", advice)


@check("gap fully warm", topic=TOPIC)
def gap_warm(b: View) -> Check:
    """The gap between the shaft ends when everything has reached its temperature."""
    g = coupling.closing(b)
    return _gap_check("gap fully warm", b, np.maximum(g.final, 0.0), "Shim the flange or take a little more off.")


@check("gap while warming", topic=TOPIC)
def gap_warming(b: View) -> Check:
    """The gap at its least on the way: the armature leads, the frame follows."""
    g = coupling.closing(b)
    return _gap_check(
        "gap while warming", b, g.worst,
        "Shim the flange or take a little more off; locate each rotor at its coupling end.",
    )  # fmt: skip


@check("axial lock", topic=TOPIC)
def axial_lock(b: View) -> Check:
    """Growth that a loaded spline pushes into the bearings, each rotor pushed into its own motor when the torque comes.

    Neither shock nor application factor: a shock is over before anything has grown, so it adds nothing to the push.
    """
    part = b.coupling.sleeve
    geometry, torque = coupling.geometry(b), coupling.one_torque(b)
    force = dudley.lock_force(torque, base_diameter=geometry.base_diameter, friction=part.spline_friction)
    closing = coupling.closing(b).worst
    ends = (b.coupling.far_shaft, b.coupling.near_shaft)
    thrust = cut_plan.locked_thrust(force, closing=closing)
    capacity = np.minimum(ends[0].bearing_thrust, ends[1].bearing_thrust)
    working = Working(
        "F = mu T / rb if anything grows (x > 0): no end float is counted on",
        {"mu": (part.spline_friction, ""), "T": (torque, "N m"), "Db": (geometry.base_diameter, "m"),
         "x": (closing, "m")},
        (thrust, "N"),
    )  # fmt: skip
    return Check(
        "axial lock", TOPIC, thrust, capacity, "N", working, "equilibrium of an involute tooth",
        "Grease and a sliding fit; end float helps only where the rotor happens to lie. The gap does not help.",
    )  # fmt: skip

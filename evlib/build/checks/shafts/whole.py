"""Checks of the whole line: its torsional mode, its length, its weight."""

from __future__ import annotations

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.shafts import package, torsion, vibration

TOPIC = "shafts"


@check("torsional mode", topic=TOPIC)
def torsional_mode(b: View) -> Check:
    """The first torsional mode of the two rotors against the pulses at the speed limit."""
    _ = b.coupling.sleeve
    inertia = b.machine.rotor_inertia
    stiffness = torsion.torsional_stiffness(
        b.coupling.rotor_distance, shaft_diameter=b.coupling.near_shaft.shaft_diameter
    )  # fmt: skip
    mode = vibration.two_mass_frequency(stiffness, first_inertia=inertia, second_inertia=inertia)
    pulses = b.coupling.excitation_order * b.machine.speed_limit
    working = Working(
        "w = sqrt(2 k / J), k = G J0 / L",
        {"k": (stiffness, "N m/rad"), "J": (inertia, "kg m2"), "order": (b.coupling.excitation_order, "")},
        (mode, "rad/s"),
    )
    return Check(
        "torsional mode", TOPIC, pulses, mode, "rad/s", working, "two inertias on one shaft",
        "A shorter or thicker shaft between the rotors, or a lower speed limit.",
    )  # fmt: skip


@check("line length", topic=TOPIC)
def line_length(b: View) -> Check:
    """The whole line against the room under the floor."""
    room = b.coupling.package.package_room
    line = coupling.length(b)
    working = Working(
        "L = sum of the parts, tail room included", {"bare": (line.bare, "m")}, (line.whole, "m")
    )  # fmt: skip
    return Check(
        "line length", TOPIC, line.whole, room, "m", working, "addition",
        "Shorter flange ring or adapter; a short splined input in place of a long one; move the cross-member.",
        target=0.01,
    )  # fmt: skip


@check("line weight", topic=TOPIC)
def line_weight(b: View) -> Check:
    """Machines, gearbox and coupling against what the mounts may carry."""
    part = b.coupling.package
    total = coupling.line_mass(b)
    working = Working(
        "m = n m_machine + m_gearbox + m_coupling",
        {"n": (b.machine.machine_count, ""), "m_machine": (b.machine.machine_mass, "kg")},
        (total, "kg"),
    )
    moment = package.overhung_moment(total, distance=coupling.length(b).bare / 2)
    advice = f"Mounts at both ends; about {float(np.max(moment)):.0f} N m would hang on one end alone."
    return Check("line weight", TOPIC, total, part.mount_capacity, "kg", working, "addition", advice)

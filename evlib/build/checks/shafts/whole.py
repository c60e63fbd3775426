"""Checks of the whole line: its torsional mode, its length, its weight."""

from __future__ import annotations

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.shafts import package

TOPIC = "shafts"


@check("torsional mode", topic=TOPIC)
def torsional_mode(b: View) -> Check:
    """The first torsional mode of rotors and gearbox input against the pulses at the speed limit."""
    chain, mode = coupling.chain(b), coupling.first_mode(b)
    pulses = b.coupling.excitation_order * b.machine.speed_limit
    put_in = {"k1": (chain.between, "N m/rad"), "J": (chain.rotor, "kg m2")}
    equation, source = "w = sqrt(2 k1 / J), k = G J0 / L", "two inertias on one shaft"
    if chain.gearbox_input is not None:
        put_in |= {"k2": (chain.to_gearbox, "N m/rad"), "J3": (chain.gearbox_input, "kg m2")}
        equation = "w^4 - w^2 (2 k1 / J + k2 (1/J + 1/J3)) + k1 k2 (2 J + J3) / (J^2 J3) = 0, the smaller; k = G J0 / L"
        source = "three inertias in a chain"
    working = Working(equation, {**put_in, "order": (b.coupling.excitation_order, "")}, (mode, "rad/s"))
    return Check(
        "torsional mode", TOPIC, pulses, mode, "rad/s", working, source,
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
        "Shorter flange ring; an input that reaches in, so that a short adapter does; move the cross-member.",
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
    hangs = f"about {float(np.max(moment)):.0f} N m would hang on one end alone"
    advice = f"Mounts at both ends; {hangs} (its weight taken at half of the bare length)."
    return Check("line weight", TOPIC, total, part.mount_capacity, "kg", working, "addition", advice)

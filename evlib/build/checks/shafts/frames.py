"""Checks of the bolted rings that keep the frames from turning."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.shafts import bolts

TOPIC = "shafts"


def _grip(name: str, part: Any, torque: Any, who: str) -> Check:
    clamp = bolts.preload(
        part.tightening_torque, bolt_diameter=part.bolt_diameter, nut_factor=part.nut_factor,
        preload_scatter=part.preload_scatter,
    )  # fmt: skip
    held = bolts.friction_torque(
        clamp.least, bolt_count=part.bolt_count, bolt_circle=part.bolt_circle, face_friction=part.face_friction
    )  # fmt: skip
    working = Working(
        "T = mu n F (1 - s) Dc / 2, F = Tt / (K d)",
        {"mu": (part.face_friction, ""), "n": (part.bolt_count, ""), "F least": (clamp.least, "N"),
         "Dc": (part.bolt_circle, "m")},
        (held, "N m"),
    )  # fmt: skip
    return Check(
        name, TOPIC, torque, held, "N m", working, "face friction; preload by Shigley 9th ed., equation 8-27",
        f"It holds {who}. Clean dry faces, more or larger bolts, dowels as the reserve.", target=0.5,
    )  # fmt: skip


def _bolt_strength(name: str, part: Any) -> Check:
    clamp = bolts.preload(
        part.tightening_torque, bolt_diameter=part.bolt_diameter, nut_factor=part.nut_factor,
        preload_scatter=part.preload_scatter,
    )  # fmt: skip
    area = bolts.stress_area(part.bolt_diameter, bolt_pitch=part.bolt_pitch)
    proof = 0.9 * area * bolts.proof_stress(part.bolt_diameter, bolt_class=part.bolt_class)
    strip = bolts.strip_force(
        part.thread_engagement, bolt_diameter=part.bolt_diameter, bolt_pitch=part.bolt_pitch,
        thread_shear_strength=part.thread_shear_strength,
    )  # fmt: skip
    capacity = np.minimum(proof, strip)
    working = Working(
        "F most = Tt (1 + s) / (K d); smaller of 0.9 As Sp and the tapped thread",
        {"Tt": (part.tightening_torque, "N m"), "0.9 As Sp": (proof, "N"), "thread": (strip, "N")},
        (clamp.most, "N"),
    )
    return Check(
        name, TOPIC, clamp.most, capacity, "N", working, "ISO 898-1; ISO 68-1 profile",
        "More thread in the aluminium or a steel insert; a torque that suits the class.", target=0.05,
    )  # fmt: skip


@check("flange grip", topic=TOPIC)
def flange_grip(b: View) -> Check:
    """The ring between the two frames against the far machine's torque."""
    return _grip("flange grip", b.coupling.flange, coupling.line(b).middle_flange, "the far machine's frame")


@check("flange bolts", topic=TOPIC)
def flange_bolts(b: View) -> Check:
    """Bolts and threads of the ring between the frames, at the most that the wrench can give."""
    return _bolt_strength("flange bolts", b.coupling.flange)


@check("adapter grip", topic=TOPIC)
def adapter_grip(b: View) -> Check:
    """The adapter against both machines' torque."""
    return _grip("adapter grip", b.coupling.adapter, coupling.line(b).adapter, "both frames")


@check("adapter bolts", topic=TOPIC)
def adapter_bolts(b: View) -> Check:
    """Bolts and threads of the adapter, at the most that the wrench can give."""
    return _bolt_strength("adapter bolts", b.coupling.adapter)

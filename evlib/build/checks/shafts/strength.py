"""Checks of strength: shafts, the sleeve's spline by each mode, the key."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.shafts import dudley, fatigue, key, torsion

TOPIC = "shafts"


@check("shaft stress", topic=TOPIC)
def shaft_stress(b: View) -> Check:
    """Static yield of the section that carries both machines."""
    line, part = coupling.line(b), b.coupling.gearbox_joint
    shear = torsion.shear_stress(line.gearbox_input, shaft_diameter=part.joint_diameter)
    stress = torsion.equivalent_stress(0.0, torsion_stress=shear)
    working = Working(
        "s = sqrt(3) 16 T / (pi d^3)",
        {"T": (line.gearbox_input, "N m"), "d": (part.joint_diameter, "m")},
        (stress, "Pa"),
    )
    return Check(
        "shaft stress", TOPIC, stress, part.joint_yield, "Pa", working,
        "Gere, equation 3-12; von Mises", "A thicker or harder input shaft, or a lower motor-current limit.",
    )  # fmt: skip


@check("shaft at the sleeve", topic=TOPIC)
def shaft_at_the_sleeve(b: View) -> Check:
    """Static yield of the weaker of the two shaft ends in the sleeve: each carries one machine."""
    _ = b.coupling.sleeve
    torque, ends = coupling.line(b).sleeve, (b.coupling.far_shaft, b.coupling.near_shaft)
    stresses = [
        torsion.equivalent_stress(
            0.0,
            torsion_stress=torsion.shear_stress(torque, shaft_diameter=e.shaft_diameter, shaft_bore=e.shaft_bore),
        )
        for e in ends
    ]
    demand, capacity = coupling.worse([(s, e.shaft_yield) for s, e in zip(stresses, ends, strict=True)])
    working = Working("s = sqrt(3) 16 T d / (pi (d^4 - d0^4)), the weaker end", {"T": (torque, "N m")}, (demand, "Pa"))
    return Check(
        "shaft at the sleeve", TOPIC, demand, capacity, "Pa", working, "Gere, equation 3-12; von Mises",
        "The stock shaft is what it is: lower the motor-current limit or soften the launch.",
    )  # fmt: skip


@check("shaft fatigue", topic=TOPIC)
def shaft_fatigue(b: View) -> Check:
    """Launches from nothing to full torque on the notched input shaft, against Goodman's line for that many."""
    line, part = coupling.line(b), b.coupling.gearbox_joint
    shear = torsion.shear_stress(line.gearbox_input, shaft_diameter=part.joint_diameter)
    half = torsion.equivalent_stress(0.0, torsion_stress=shear) / 2
    endurance = fatigue.endurance_limit(part.joint_ultimate, diameter=part.joint_diameter)
    strength = fatigue.fatigue_strength(
        b.coupling.launch_cycles, endurance=endurance, ultimate=part.joint_ultimate
    )  # fmt: skip
    used = part.joint_notch * half / strength + half / part.joint_ultimate
    working = Working(
        "u = Kt sa / Sf + sm / Su, sa = sm = s / 2",
        {"Kt": (part.joint_notch, ""), "sa": (half, "Pa"), "Sf": (strength, "Pa"), "Su": (part.joint_ultimate, "Pa")},
        (used, ""),
    )
    return Check(
        "shaft fatigue", TOPIC, used, 1.0, "", working,
        "Goodman; Shigley 9th ed., chapter 6", "Round the notch more, polish it, or soften the launch.",
    )  # fmt: skip


def _stress_check(name: str, b: View, demand: Any, capacity: Any, working: Working, advice: str) -> Check:
    return Check(name, TOPIC, demand, capacity, "Pa", working, dudley.SOURCE, advice)


@check("spline roots", topic=TOPIC)
def spline_roots(b: View) -> Check:
    """Shear of the shaft under its spline's roots, with Dudley's factors."""
    s = coupling.sleeve_strength(b)
    working = Working(
        "Ss = 16 T Dre Ka / (pi (Dre^4 - d0^4) Kf), the weaker shaft",
        {"T": (s.torque, "N m"), "Ka": (s.application, ""), "Kf": (s.fatigue, "")},
        (s.roots, "Pa"),
    )
    return _stress_check("spline roots", b, s.roots, s.roots_allowed, working, "Harder steel, or less torque.")


@check("spline tooth shear", topic=TOPIC)
def spline_tooth_shear(b: View) -> Check:
    """Shear across the teeth at the worst engagement."""
    s = coupling.sleeve_strength(b)
    working = Working(
        "Ss = 4 T Ka Km / (D N Le t Kf)",
        {"T": (s.torque, "N m"), "Ka": (s.application, ""), "Km": (s.load, ""), "Le": (s.engagement, "m"),
         "Kf": (s.fatigue, "")},
        (s.shear, "Pa"),
    )  # fmt: skip
    return _stress_check(
        "spline tooth shear", b, s.shear, s.shear_allowed, working, "More engagement, truer flanges, harder steel."
    )


@check("spline compression", topic=TOPIC)
def spline_compression(b: View) -> Check:
    """Compression on the teeth at the worst engagement: fixed or flexible, as declared."""
    s = coupling.sleeve_strength(b)
    equation = "Sc = 2 T Km Ka / (9 D N Le h Kf)" if s.fit == "fixed" else "Sc = 2 T Km Ka / (D N Le h Kw)"
    working = Working(
        f"{s.fit}: {equation}",
        {"T": (s.torque, "N m"), "Ka": (s.application, ""), "Km": (s.load, ""), "Le": (s.engagement, "m"),
         "K life": (s.life, "")},
        (s.compression, "Pa"),
    )  # fmt: skip
    return _stress_check(
        "spline compression", b, s.compression, s.compression_allowed, working,
        "More engagement, truer flanges, harder steel, grease; or a fit that is truly fixed.",
    )  # fmt: skip


@check("sleeve burst", topic=TOPIC)
def sleeve_burst(b: View) -> Check:
    """Tension in the sleeve's wall."""
    s = coupling.sleeve_strength(b)
    working = Working(
        "St = (Ka Km (S1 + S3) + S2) / Kf",
        {"S1": (s.burst.radial, "Pa"), "S2": (s.burst.spin, "Pa"), "S3": (s.burst.bending, "Pa")},
        (s.burst.total, "Pa"),
    )
    return _stress_check(
        "sleeve burst", b, s.burst.total, s.burst_allowed, working, "A thicker wall or harder steel in the sleeve."
    )


@check("hub key", topic=TOPIC)
def key_strength(b: View) -> Check:
    """The key of a hub: crushing or shear, whichever is nearer its limit; factor of two wanted."""
    part = b.coupling.key
    if part.key_carries == "pump":
        torque: Any = b.coupling.shock_factor * b.coupling.gearbox_joint.pump_drive_torque
    else:
        line = coupling.line(b)
        torque = line.sleeve if part.key_carries == "one machine" else line.gearbox_input
    s = key.key_stress(
        torque, shaft_diameter=part.key_shaft_diameter, key_width=part.key_width,
        key_height=part.key_height, key_length=part.key_length, key_count=part.key_count,
    )  # fmt: skip
    weaker = np.minimum(part.key_yield, part.hub_yield)
    demand, capacity = coupling.worse([(s.shear, part.key_yield / math.sqrt(3)), (s.crush, weaker)])
    working = Working(
        "F = 2 T / (d n); shear F / (w L), crushing 2 F / (h L)",
        {"T": (torque, "N m"), "shear": (s.shear, "Pa"), "crushing": (s.crush, "Pa")},
        (demand, "Pa"),
    )
    return Check(
        "hub key", TOPIC, demand, capacity, "Pa", working, "Shigley 9th ed., section 7-7",
        "A longer key, two keys, or a spline.", target=1.0,
    )  # fmt: skip

"""Checks of the shafts topic on a build: strength of the line, the cut plan, bolts, the gearbox joint, the package."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.errors import DoesNotApply
from evlib.shafts import bolts, cut_plan, dudley, fatigue, joint, key, package, torsion, vibration

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
        "shaft fatigue", TOPIC, used, np.ones_like(used) if np.ndim(used) else 1.0, "", working,
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


@check("key", topic=TOPIC)
def key_strength(b: View) -> Check:
    """A key's crushing or shear, whichever is nearer its limit; factor of two wanted."""
    part = b.coupling.key
    torque = coupling.line(b).sleeve
    s = key.key_stress(
        torque, shaft_diameter=b.coupling.far_shaft.shaft_diameter, key_width=part.key_width,
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
        "key", TOPIC, demand, capacity, "Pa", working, "Shigley 9th ed., section 7-7",
        "A longer key, two keys, or a spline.", target=1.0,
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
    """Growth that a loaded spline pushes into the bearings."""
    part = b.coupling.sleeve
    geometry, torque = coupling.geometry(b), coupling.one_torque(b)
    force = dudley.lock_force(torque, base_diameter=geometry.base_diameter, friction=part.spline_friction)
    closing = coupling.closing(b).worst
    ends = (b.coupling.far_shaft, b.coupling.near_shaft)
    thrust = cut_plan.locked_thrust(
        force, closing=closing, far_float=ends[0].end_float, near_float=ends[1].end_float
    )  # fmt: skip
    capacity = np.minimum(ends[0].bearing_thrust, ends[1].bearing_thrust)
    working = Working(
        "F = mu T / rb if x > f1 + f2, else none",
        {"mu": (part.spline_friction, ""), "T": (torque, "N m"), "Db": (geometry.base_diameter, "m"),
         "x": (closing, "m")},
        (thrust, "N"),
    )  # fmt: skip
    return Check(
        "axial lock", TOPIC, thrust, capacity, "N", working, "equilibrium of an involute tooth",
        "Grease, a sliding fit, and end float: the gap alone does not help while torque holds the spline.",
    )  # fmt: skip


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


@check("input spline", topic=TOPIC)
def input_spline(b: View) -> Check:
    """Compression on the gearbox input's spline, which carries both machines."""
    part, c = b.coupling.gearbox_joint, b.coupling
    fixed = part.joint_fit == "fixed"
    life = dudley.fatigue_factor(c.launch_cycles) if fixed else dudley.wear_factor(c.spline_revolutions)
    torque = coupling.both_torque(b)
    stress = dudley.tooth_compression(
        torque, spline_teeth=part.joint_teeth, spline_module=part.joint_module, engagement=part.joint_engagement,
        fit=part.joint_fit, application_factor=c.application_factor, life_factor=life,
    )  # fmt: skip
    allowed = dudley.allowable(part.joint_steel, mode="compression", tooth_form="straight")
    working = Working(
        f"{part.joint_fit}: Sc = 2 T Ka / ({'9 ' if fixed else ''}D N Le h K)",
        {"T": (torque, "N m"), "Le": (part.joint_engagement, "m"), "K": (life, "")},
        (stress, "Pa"),
    )
    return _stress_check(
        "input spline", b, stress, allowed, working, "More engagement: a longer adapter hub, or a truly fixed fit."
    )


def _pump(b: View) -> View:
    part: View = b.coupling.gearbox_joint
    if part.pump_drive == "no pump":
        raise DoesNotApply("this gearbox has no internal pump")
    return part


@check("pump drive", topic=TOPIC)
def pump_drive(b: View) -> Check:
    """Strength of what turns the gearbox's internal pump; a factor of two is wanted."""
    part = _pump(b)
    torque = part.pump_drive_torque
    if part.pump_drive == "splined hub":
        shear = torsion.shear_stress(torque, shaft_diameter=part.pump_hub_diameter, shaft_bore=part.pump_hub_bore)
        stress, equation = (
            torsion.equivalent_stress(0.0, torsion_stress=shear),
            "s = sqrt(3) 16 T d / (pi (d^4 - d0^4))",
        )
    else:
        s = joint.tang_stress(
            torque, tang_count=part.tang_count, tang_radius=part.tang_radius, tang_width=part.tang_width,
            tang_depth=part.tang_depth, tang_engagement=part.tang_engagement,
        )  # fmt: skip
        stress = np.maximum(torsion.equivalent_stress(s.bending, torsion_stress=s.shear), s.bearing)
        equation = "F = T / (n r); s = sqrt((3 F Lt / (h w^2))^2 + 3 (F / (w h))^2), or bearing F / (h Lt)"
    working = Working(equation, {"T": (torque, "N m")}, (stress, "Pa"))
    return Check(
        "pump drive", TOPIC, stress, part.pump_hub_yield, "Pa", working, "beam theory; von Mises",
        "Tangs wider or more of them; check that all bear.", target=1.0,
    )  # fmt: skip


@check("pump gear clearance", topic=TOPIC)
def pump_gear_clearance(b: View) -> Check:
    """Axial clearance between hub and pump gear when hot."""
    part = _pump(b)
    grow = coupling.growth_to_pump(b)
    left = joint.pump_gap(part.pump_depth, hub_reach=part.hub_reach, hub_float=part.hub_float, growth=grow)
    working = Working(
        "c = dp - rh - f - dL",
        {"dp": (part.pump_depth, "m"), "rh": (part.hub_reach, "m"), "f": (part.hub_float, "m"), "dL": (grow, "m")},
        (left, "m"),
    )
    return Check(
        "pump gear clearance", TOPIC, part.pump_clearance, left, "m", working, "geometry",
        "Shorten the hub: a hub that bottoms breaks the pump on the first start.", target=0.05,
    )  # fmt: skip


@check("pilot run-out", topic=TOPIC)
def pilot_runout(b: View) -> Check:
    """Run-out of the hub in the pump's bush."""
    part = _pump(b)
    offset = joint.pilot_offset(part.pilot_runout)
    working = Working("e = ro / 2", {"ro": (part.pilot_runout, "m")}, (offset, "m"))
    return Check(
        "pilot run-out", TOPIC, part.pilot_runout, part.pilot_limit, "m", working, "the gearbox's manual",
        "Move the adapter on its dowels until the dial is within the limit; then pin it.",
    )  # fmt: skip


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

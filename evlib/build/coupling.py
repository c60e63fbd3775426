"""What the build says about its shafts, put together with its machines: torques, engagement, growth, length."""

from __future__ import annotations

import math
from typing import Any, Literal

import numpy as np

from evlib.build.line import torque_at_rest
from evlib.build.registry import stated
from evlib.build.view import View, derived
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number, result
from evlib.shafts import cut_plan, dudley, growth, joint, package, spline, torsion, vibration
from evlib.shafts.tables import STEEL_EXPANSION


def worse(pairs: list[tuple[Any, Any]]) -> tuple[Any, Any]:
    """Of several (demand, capacity), the one with the least capacity for its demand, element by element."""
    demand, capacity = pairs[0]
    for other_demand, other_capacity in pairs[1:]:
        take = np.asarray(other_capacity) * demand < np.asarray(capacity) * other_demand
        demand, capacity = np.where(take, other_demand, demand), np.where(take, other_capacity, capacity)
    return demand[()] if isinstance(demand, np.ndarray) else demand, (
        capacity[()] if isinstance(capacity, np.ndarray) else capacity
    )


@derived
def both_torque(b: View) -> Number:
    """Most torque of all machines together, at standstill [N m]."""
    return torque_at_rest(b)


@derived
def one_torque(b: View) -> Number:
    """Most torque of one machine, at standstill [N m]."""
    return np.asarray(both_torque(b) / b.machine.machine_count)[()]


@derived
def line(b: View) -> torsion.LineTorque:
    """Torque along the line with shock."""
    if not getattr(b.coupling._thing, "fitted", True):
        raise DoesNotApply("coupling is declared as not fitted")
    one, both = one_torque(b), both_torque(b)
    return torsion.line_torque(one, near_torque=both - one, shock_factor=b.coupling.shock_factor)


def pressure_angle(b: View) -> float:
    """The spline's pressure angle [rad], from the words of the standard."""
    return math.radians(float(b.coupling.sleeve.spline_angle.removesuffix(" deg")))


@derived
def geometry(b: View) -> spline.SplineGeometry:
    """The sleeve's spline."""
    s = b.coupling.sleeve
    return spline.spline_geometry(
        s.spline_teeth, spline_module=s.spline_module, pressure_angle=pressure_angle(b), root_form=s.root_form,
        standard=s.spline_standard,
    )  # fmt: skip


@derived
def engagement(b: View) -> cut_plan.SleeveEngagement:
    """Spline in engagement on each shaft."""
    s, far, near = b.coupling.sleeve, b.coupling.far_shaft, b.coupling.near_shaft
    return cut_plan.sleeve_engagement(
        b.coupling.cut.face_distance,
        far_cut=far.cut_length, near_cut=near.cut_length, sleeve_length=s.sleeve_length, sleeve_kept=s.sleeve_kept,
        sleeve_float=0.0 if s.sleeve_kept == "steps" else s.sleeve_float, sleeve_chamfer=s.sleeve_chamfer,
        far_chamfer=far.shaft_chamfer, near_chamfer=near.shaft_chamfer, far_step=far.step_height,
        near_step=near.step_height, far_spline_start=far.spline_start, near_spline_start=near.spline_start,
    )  # fmt: skip


@result
class SleeveStrength:
    """Every mode of the sleeve's spline [Pa], what each may bear, and the factors."""

    torque: Any
    fit: str
    application: Any
    load: Any
    fatigue: Any
    life: Any
    engagement: Any
    roots: Any
    roots_allowed: Any
    shear: Any
    shear_allowed: Any
    compression: Any
    compression_allowed: Any
    burst: Any
    burst_allowed: Any
    needed: Any


@derived
def sleeve_strength(b: View) -> SleeveStrength:
    """Strength of the sleeve's spline by Dudley, at its worst engagement, in the weaker of the steels.

    Shock is in the application factor here; the shock factor of the shafts does not come on top.
    """
    s, c, ends = b.coupling.sleeve, b.coupling, (b.coupling.far_shaft, b.coupling.near_shaft)
    torque, g = one_torque(b), geometry(b)
    fit, form = s.spline_fit, s.tooth_form
    length = np.maximum(engagement(b).least, 1e-4)  # a tenth of a millimetre stands for none: fails, without infinities
    application = c.application_factor
    load = dudley.load_factor(s.misalignment, engagement=length, fit=fit)
    life_f = dudley.fatigue_factor(c.launch_cycles)
    life = life_f if fit == "fixed" else dudley.wear_factor(c.spline_revolutions)
    teeth = {"spline_teeth": s.spline_teeth, "spline_module": s.spline_module, "engagement": length}
    shear = dudley.tooth_shear(
        torque, application_factor=application, load_factor=load, fatigue_factor=life_f, **teeth
    )  # fmt: skip
    pressed = dudley.tooth_compression(
        torque, fit=fit, root_form=s.root_form, application_factor=application, load_factor=load, life_factor=life,
        **teeth,
    )  # fmt: skip
    burst = dudley.hub_burst(
        torque, pressure_angle=pressure_angle(b), sleeve_diameter=s.sleeve_diameter, internal_major=g.internal_major,
        running_speed=b.machine.speed_limit, application_factor=application, load_factor=load, fatigue_factor=life_f,
        **teeth,
    )  # fmt: skip
    steels = [s.sleeve_steel, *(e.shaft_steel for e in ends)]
    may = {
        mode: min(float(dudley.allowable(steel, mode=mode, tooth_form=form)) for steel in steels)
        for mode in ("shear", "compression")
    }
    roots, roots_allowed = worse(
        [
            (
                dudley.shear_under_roots(
                    torque, root_diameter=e.shaft_diameter, shaft_bore=e.shaft_bore,
                    application_factor=application, fatigue_factor=life_f,
                ),
                dudley.allowable(e.shaft_steel, mode="shear", tooth_form=form),
            )
            for e in ends
        ]
    )  # fmt: skip
    needed = np.maximum(
        dudley.engagement_needed(shear, engagement=length, allowed=may["shear"]),
        dudley.engagement_needed(pressed, engagement=length, allowed=may["compression"]),
    )
    return SleeveStrength(
        torque, fit, application, load, life_f, life, length, roots, roots_allowed, shear, may["shear"], pressed,
        may["compression"], burst, dudley.allowable(s.sleeve_steel, mode="tension", tooth_form=form), needed,
    )  # fmt: skip


@result
class Closing:
    """How far growth closes the gap [m]: fully warm, and at the worst moment on the way, with that moment [s]."""

    armature: Any
    frame: Any
    final: Any
    worst: Any
    time: Any


@derived
def closing(b: View) -> Closing:
    """Growth of both machines and of the flange ring toward and away from the gap."""
    _ = b.coupling.sleeve  # one machine alone has no gap
    cut = b.coupling.cut
    one = [
        growth.machine_growth(
            end.cut_length, located_bearing=end.located_bearing, bearing_span=end.bearing_span,
            bearing_depth=end.bearing_depth, armature_rise=cut.armature_rise, frame_rise=cut.frame_rise,
        )
        for end in (b.coupling.far_shaft, b.coupling.near_shaft)
    ]  # fmt: skip
    ring = cut.flange_expansion * cut.face_distance * cut.frame_rise
    armature, frame = one[0].armature + one[1].armature, one[0].frame + one[1].frame + ring
    worst = growth.worst_closing(
        armature, frame_growth=frame, armature_time=cut.armature_time, frame_time=cut.frame_time
    )  # fmt: skip
    return Closing(armature, frame, armature - frame, worst.closing, worst.time)


def cold_gap(b: View) -> tuple[Any, Any, bool]:
    """The cold gap with each rotor pushed into its own motor [m], its tolerances [m], and whether it was measured."""
    cut = b.coupling.cut
    if cut.known("measured_gap"):
        return cut.measured_gap, 0.0 * np.asarray(cut.measured_gap), True
    gap = cut.face_distance - b.coupling.far_shaft.cut_length - b.coupling.near_shaft.cut_length
    return gap, cut.face_tolerance + 2 * cut.cut_tolerance, False


@derived
def growth_to_pump(b: View) -> Number:
    """How far the near machine's shaft grows toward the gearbox's pump [m], at the worst moment.

    Located at the coupling end, the whole armature grows the other way: toward the pump.
    """
    near, cut, part = b.coupling.near_shaft, b.coupling.cut, b.coupling.gearbox_joint
    other: Literal["coupling end", "far end"] = "far end" if near.located_bearing == "coupling end" else "coupling end"
    reach = part.hub_reach + b.coupling.package.adapter_length
    g = growth.machine_growth(
        reach, located_bearing=other, bearing_span=near.bearing_span, bearing_depth=near.bearing_depth,
        armature_rise=cut.armature_rise, frame_rise=cut.frame_rise,
    )  # fmt: skip
    adapter = STEEL_EXPANSION * b.coupling.package.adapter_length * cut.frame_rise
    worst = growth.worst_closing(
        g.armature, frame_growth=g.frame + adapter, armature_time=cut.armature_time, frame_time=cut.frame_time
    )  # fmt: skip
    return worst.closing


@result
class Chain:
    """The line as rotors on springs: far rotor, near rotor, gearbox input [kg m2]; shafts between them [N m/rad]."""

    rotor: Any
    gearbox_input: Any
    between: Any
    to_gearbox: Any


@derived
def chain(b: View) -> Chain:
    """What swings on what. Without a gearbox the third inertia is None: the two rotors alone."""
    _ = b.coupling.sleeve  # one machine alone has no shaft between rotors
    joint_part = b.coupling.gearbox_joint
    between = torsion.torsional_stiffness(
        b.coupling.rotor_distance, shaft_diameter=b.coupling.near_shaft.shaft_diameter
    )  # fmt: skip
    try:
        third: Any = b.gearbox.gearbox_input_inertia
    except DoesNotApply:
        return Chain(b.machine.rotor_inertia, None, between, None)
    to_box = torsion.torsional_stiffness(joint_part.joint_length, shaft_diameter=joint_part.joint_diameter)
    return Chain(b.machine.rotor_inertia, third, between, to_box)


@derived
def first_mode(b: View) -> Number:
    """The first torsional mode of the line [rad/s]."""
    c = chain(b)
    if c.gearbox_input is None:
        return vibration.two_mass_frequency(c.between, first_inertia=c.rotor, second_inertia=c.rotor)
    return vibration.three_mass_frequency(
        c.between, outer_stiffness=c.to_gearbox, first_inertia=c.rotor, second_inertia=c.rotor,
        third_inertia=c.gearbox_input,
    )  # fmt: skip


@derived
def length(b: View) -> package.LineLength:
    """The line's length; one machine alone has neither far machine nor flange ring."""
    p = b.coupling.package
    alone = np.all(np.asarray(b.machine.machine_count) == 1)
    return package.line_length(
        p.near_machine_length, far_machine_length=0.0 if alone else p.far_machine_length,
        ring_length=0.0 if alone else b.coupling.cut.face_distance, adapter_length=p.adapter_length,
        gearbox_length=p.gearbox_length, tail_allowance=p.tail_allowance,
    )  # fmt: skip


@derived
def line_mass(b: View) -> Number:
    """Mass of machines, gearbox and coupling [kg]; a fixed reduction without gearbox counts with the coupling."""
    try:
        box: Any = b.gearbox.gearbox_mass
    except DoesNotApply:
        box = 0.0
    return np.asarray(b.machine.machine_count * b.machine.machine_mass + box + b.coupling.package.coupling_mass)[()]


@derived
def verdict(b: View) -> cut_plan.CutVerdict:
    """What to do with the pair, from the gap that was measured."""
    cut = b.coupling.cut
    spare = engagement(b).least - sleeve_strength(b).needed
    return cut_plan.cut_verdict(
        cut.measured_gap, far_float=b.coupling.far_shaft.end_float, near_float=b.coupling.near_shaft.end_float,
        closing=closing(b).worst, gap_reserve=cut.gap_reserve, shim_room=cut.shim_room, engagement_spare=spare,
    )  # fmt: skip


@derived
def lines(b: View) -> cut_plan.CutLines:
    """The cut lines for the gap that the build plans."""
    cut, far, near = b.coupling.cut, b.coupling.far_shaft, b.coupling.near_shaft
    return cut_plan.cut_lines(
        cut.face_distance, gap=cut.face_distance - far.cut_length - near.cut_length,
        far_projection=far.shaft_projection, near_projection=near.shaft_projection, far_step=far.step_height,
        near_step=near.step_height,
    )  # fmt: skip


@stated("cut line, far shaft, from the face", group="Cut plan", unit="m")
def _far_face(b: View) -> Any:
    return b.coupling.sleeve and b.coupling.far_shaft.cut_length


@stated("cut line, far shaft, from the step", group="Cut plan", unit="m")
def _far_step(b: View) -> Any:
    return b.coupling.sleeve and b.coupling.far_shaft.cut_length - b.coupling.far_shaft.step_height


@stated("cut line, near shaft, from the face", group="Cut plan", unit="m")
def _near_face(b: View) -> Any:
    return b.coupling.sleeve and b.coupling.near_shaft.cut_length


@stated("cut line, near shaft, from the step", group="Cut plan", unit="m")
def _near_step(b: View) -> Any:
    return b.coupling.sleeve and b.coupling.near_shaft.cut_length - b.coupling.near_shaft.step_height


@stated("spline left in the worst place", group="Cut plan", unit="m")
def _left(b: View) -> Any:
    return engagement(b).least


@stated("gap closed by growth, at most", group="Cut plan", unit="m")
def _closed(b: View) -> Any:
    return b.coupling.sleeve and closing(b).worst


@stated("verdict on the pair as measured", group="Cut plan")
def _verdict(b: View) -> Any:
    return verdict(b).action


@stated("pump hub may reach past the face", group="Cut plan", unit="m")
def _hub(b: View) -> Any:
    part = b.coupling.gearbox_joint
    if part.pump_drive == "no pump":
        raise DoesNotApply("this gearbox has no internal pump")
    return joint.hub_reach_wanted(
        part.pump_depth, pump_clearance=part.pump_clearance, hub_float=part.hub_float, growth=growth_to_pump(b)
    )  # fmt: skip


@stated("most torque through the sleeve, shock included", group="Predicted figures", unit="N m")
def _sleeve_torque(b: View) -> Any:
    return b.coupling.sleeve and line(b).sleeve


@stated("most torque at the gearbox input, shock included", group="Predicted figures", unit="N m")
def _input_torque(b: View) -> Any:
    return line(b).gearbox_input

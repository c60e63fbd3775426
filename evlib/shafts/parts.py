"""What a build says about its shafts: the coupling between the machines and the joint to the gearbox.

*Near* is the machine bolted to the gearbox, *far* the one behind it. Torque of the far machine passes through the
sleeve and the near machine's shaft; from there on the shaft carries both.
"""

from __future__ import annotations

from typing import Literal

from evlib.ground.quantity import part
from evlib.shafts import quantities as q

Steel = Literal[
    "steel 160-200 HB", "steel 230-260 HB", "steel 33-38 HRC", "surface hardened 48-53 HRC", "case hardened 58-63 HRC"
]
BoltClass = Literal["8.8", "9.8", "10.9", "12.9"]


@part
class Shaft:
    """One machine's shaft, the end that goes into the sleeve."""

    shaft_diameter: q.ShaftDiameter | None = None
    shaft_bore: q.ShaftBore | None = None
    shaft_yield: q.YieldStrength | None = None
    shaft_ultimate: q.UltimateStrength | None = None
    shaft_steel: Steel | None = None
    shaft_notch: q.StressRaiser | None = None
    shaft_projection: q.ShaftProjection | None = None
    step_height: q.StepHeight | None = None
    spline_start: q.SplineStart | None = None
    shaft_chamfer: q.Chamfer | None = None
    cut_length: q.CutLength | None = None
    located_bearing: Literal["coupling end", "far end"] | None = None
    end_float: q.EndFloat | None = None
    bearing_span: q.BearingSpan | None = None
    bearing_depth: q.BearingDepth | None = None
    bearing_thrust: q.BearingThrust | None = None


@part
class Sleeve:
    """The internally splined sleeve that joins the two shafts. *Fixed* or *flexible* must be declared.

    Fixed: the splined parts do not move on one another (tight fit, piloted both sides). Flexible: they slide or rock
    with every turn, so wear decides. The compression that a spline stands differs several-fold between the two.
    """

    fitted: bool = True
    spline_standard: Literal["inch", "metric"] | None = None
    spline_teeth: q.SplineTeeth | None = None
    spline_module: q.SplineModule | None = None
    spline_angle: Literal["30 deg", "37.5 deg", "45 deg"] | None = None  # pressure angle
    root_form: Literal["flat", "fillet"] | None = None
    spline_fit: Literal["fixed", "flexible"] | None = None
    tooth_form: Literal["straight", "crowned"] | None = None
    sleeve_steel: Steel | None = None
    sleeve_length: q.SleeveLength | None = None
    sleeve_diameter: q.SleeveDiameter | None = None
    sleeve_chamfer: q.Chamfer | None = None
    sleeve_float: q.SleeveFloat | None = None
    sleeve_kept: Literal["steps", "rings", "set screws"] | None = None
    misalignment: q.Misalignment | None = None
    spline_friction: q.Friction | None = None


@part
class Key:
    """A parallel key in place of, or beside, a spline; what it carries must be said."""

    fitted: bool = True
    key_carries: Literal["one machine", "both machines", "pump"] | None = None
    key_shaft_diameter: q.ShaftDiameter | None = None
    key_width: q.KeyWidth | None = None
    key_height: q.KeyHeight | None = None
    key_length: q.KeyLength | None = None
    key_count: q.KeyCount | None = None
    key_yield: q.YieldStrength | None = None
    hub_yield: q.YieldStrength | None = None


@part
class CutPlan:
    """Where the shafts are cut, how warm the parts become, and what was measured afterwards."""

    face_distance: q.FaceDistance | None = None
    face_tolerance: q.FaceTolerance | None = None
    cut_tolerance: q.CutTolerance | None = None
    cutter_width: q.CutterWidth | None = None
    gap_reserve: q.GapReserve | None = None
    measured_gap: q.MeasuredGap | None = None
    shim_room: q.ShimRoom | None = None
    armature_rise: q.ArmatureRise | None = None
    frame_rise: q.FrameRise | None = None
    armature_time: q.ArmatureTime | None = None
    frame_time: q.FrameTime | None = None
    flange_expansion: q.FlangeExpansion | None = None


@part
class Flange:
    """A ring of bolts between two faces: what keeps a frame from turning."""

    fitted: bool = True
    bolt_count: q.BoltCount | None = None
    bolt_diameter: q.BoltDiameter | None = None
    bolt_pitch: q.BoltPitch | None = None
    bolt_class: BoltClass | None = None
    bolt_circle: q.BoltCircle | None = None
    tightening_torque: q.TighteningTorque | None = None
    nut_factor: q.NutFactor | None = None
    preload_scatter: q.PreloadScatter | None = None
    face_friction: q.FaceFriction | None = None
    thread_engagement: q.ThreadEngagement | None = None
    thread_shear_strength: q.ThreadShearStrength | None = None


@part
class GearboxJoint:
    """From the near machine to the gearbox: the splined input, and the hub that turns the internal pump.

    Without a converter something else must turn the pump: a hub with tangs, flats or a spline on the same shaft.
    """

    fitted: bool = True
    joint_diameter: q.ShaftDiameter | None = None
    joint_yield: q.YieldStrength | None = None
    joint_ultimate: q.UltimateStrength | None = None
    joint_notch: q.StressRaiser | None = None
    joint_steel: Steel | None = None
    joint_teeth: q.SplineTeeth | None = None
    joint_module: q.SplineModule | None = None
    joint_engagement: q.Engagement | None = None
    joint_length: q.JointLength | None = None
    joint_fit: Literal["fixed", "flexible"] | None = None
    pump_drive: Literal["tangs", "flats", "splined hub", "no pump"] | None = None
    pump_drive_torque: q.PumpDriveTorque | None = None
    tang_count: q.TangCount | None = None
    tang_width: q.TangWidth | None = None
    tang_depth: q.TangDepth | None = None
    tang_engagement: q.TangEngagement | None = None
    tang_radius: q.TangRadius | None = None
    pump_hub_yield: q.YieldStrength | None = None
    pump_hub_diameter: q.HubDiameter | None = None
    pump_hub_bore: q.HubBore | None = None
    pump_depth: q.PumpDepth | None = None
    hub_reach: q.HubReach | None = None
    pump_clearance: q.PumpClearance | None = None
    hub_float: q.EndFloat | None = None
    pilot_runout: q.PilotRunout | None = None
    pilot_limit: q.PilotLimit | None = None


@part
class AdapterPlate:
    """The plate between machine and gearbox as it is cut: outline, pilot bore, and one bolt circle for each side."""

    fitted: bool = True
    plate_diameter: q.PlateDiameter | None = None
    plate_thickness: q.PlateThickness | None = None
    pilot_bore: q.PilotBore | None = None
    machine_circle: q.BoltCircle | None = None
    machine_holes: q.HoleCount | None = None
    machine_hole: q.HoleDiameter | None = None
    machine_first_hole: q.FirstHole | None = None
    gearbox_circle: q.BoltCircle | None = None
    gearbox_holes: q.HoleCount | None = None
    gearbox_hole: q.HoleDiameter | None = None
    gearbox_first_hole: q.FirstHole | None = None


@part
class Package:
    """How long and how heavy the line becomes, against the room there is."""

    far_machine_length: q.FarMachineLength | None = None
    near_machine_length: q.NearMachineLength | None = None
    adapter_length: q.AdapterLength | None = None
    gearbox_length: q.GearboxLength | None = None
    tail_allowance: q.TailAllowance | None = None
    package_room: q.PackageRoom | None = None
    coupling_mass: q.CouplingMass | None = None
    mount_capacity: q.LineMass | None = None


@part
class Coupling:
    """Everything that carries torque from the two armatures to the gearbox, and what holds the frames together."""

    fitted: bool = True
    shock_factor: q.ShockFactor | None = None
    launch_cycles: q.LaunchCycles | None = None
    application_factor: q.ApplicationFactor | None = None
    spline_revolutions: q.SplineRevolutions | None = None
    rotor_distance: q.RotorDistance | None = None
    excitation_order: q.ExcitationOrder | None = None
    far_shaft: Shaft | None = None
    near_shaft: Shaft | None = None
    sleeve: Sleeve | None = None
    key: Key | None = None
    cut: CutPlan | None = None
    flange: Flange | None = None
    adapter: Flange | None = None
    gearbox_joint: GearboxJoint | None = None
    plate: AdapterPlate | None = None
    package: Package | None = None

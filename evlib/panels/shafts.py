"""The shafts lessons' panels: torque and stress along the line, the spline, the cut plan."""

from __future__ import annotations

import dataclasses
import math
import typing
from typing import Any

import numpy as np

from evlib.build import coupling, drawings
from evlib.build.gears import gear_ratios
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import shafts as figures
from evlib.figures.shafts import GAP, STRESS, CutPicture, LinePicture, SplinePicture
from evlib.ground import units
from evlib.panels.panel import Panel, Table, Twin, amount, choice, quantity
from evlib.shafts import cut_plan, dudley, growth, package, torsion
from evlib.shafts import quantities as q
from evlib.shafts import spline as geometry
from evlib.shafts.parts import Steel
from evlib.shafts.tables import ALUMINIUM_EXPANSION, STEEL_EXPANSION

SECTIONS = ("far shaft", "sleeve", "near, in", "near, out", "gearbox in")
STEELS = typing.get_args(Steel)
TORQUE_ONE = dataclasses.replace(figures.TORQUE, text="torque of one machine", symbol="T1")
LENGTH = figures.PLACE


def _torques(build: Build) -> tuple[float, float]:
    """Most torque of the far and of the near machine, at standstill [N m]."""
    view = View(build.parts)
    one, both = float(coupling.one_torque(view)), float(coupling.both_torque(view))
    return one, both - one


# --- torque along the line -------------------------------------------------------------------------------------


@dataclasses.dataclass(frozen=True)
class LineResult(LinePicture):
    """The picture, and what holds the frames back [N m]: flange ring, adapter, and the mounts in low."""

    ring: float
    adapter: float
    mounts: float
    sizes: tuple[float, ...]  # outside diameter of each section [m]
    sleeve_bore: float
    low_ratio: float


def line_result(
    low_ratio: float, *, far_torque: float, near_torque: float, shock_factor: float, shaft_diameter: float,
    joint_diameter: float, sleeve: tuple[float, float],
) -> LineResult:  # fmt: skip
    """Torque and surface stress of every section, and what holds the frames; sleeve: outside, and bore at the roots."""
    line = torsion.line_torque(
        far_torque, near_torque=near_torque, shock_factor=shock_factor, gear_ratio=low_ratio
    )  # fmt: skip
    torques = (line.far_shaft, line.sleeve, line.near_entry, line.near_exit, line.gearbox_input)
    sizes = (shaft_diameter, sleeve[0], shaft_diameter, joint_diameter, joint_diameter)
    stresses = [torsion.shear_stress(t, shaft_diameter=d) for t, d in zip(torques, sizes, strict=True)]
    stresses[1] = torsion.shear_stress(torques[1], shaft_diameter=sleeve[0], shaft_bore=sleeve[1])  # a tube
    held = (float(line.middle_flange), float(line.adapter), float(line.mounts))
    return LineResult(SECTIONS, tuple(map(float, torques)), tuple(map(float, stresses)), *held, sizes, sleeve[1],
                      low_ratio)  # fmt: skip


def line_twin(result: LineResult, *, system: str = "SI") -> Twin:
    """The torque line in words."""
    one, both = result.torques[1], result.torques[-1]
    worst = int(np.argmax(result.stresses))
    said = [units.show(t, "N m", system=system) for t in (one, both)]
    stress = STRESS.show(result.stresses[worst], system=system)
    rows = tuple(
        (name, amount(size, LENGTH), amount(torque, figures.TORQUE), amount(tau, STRESS))
        for name, size, torque, tau in zip(result.sections, result.sizes, result.torques, result.stresses, strict=True)
    )
    bore = ("bore of the sleeve, a tube", amount(result.sleeve_bore, LENGTH), "", "")
    low = f"mounts, in low (× {result.low_ratio:.2f})"
    holders = (("ring between the frames", result.ring), ("adapter", result.adapter), (low, result.mounts))
    held = tuple((f"held back by {name}", "", amount(torque, figures.TORQUE), "") for name, torque in holders)
    return Twin(
        alt=f"Two rows of steps along the line. Torque: {said[0]} as far as the near machine, {said[1]} behind it. "
        f"Stress is highest in section '{result.sections[worst]}', {stress}.",
        sentence=f"The sleeve carries one machine, {said[0]}; the gearbox input carries both, {said[1]}; the highest "
        f"stress is {stress}, in section '{result.sections[worst]}'.",
        table=Table(("section", "diameter", "torque", "shear stress"), (*rows, bore, *held)),
    )


def line_panel(build: Build) -> Panel:
    """Torque and stress along the line."""
    far, near = _torques(build)
    low = float(gear_ratios(View(build.parts)).low)
    tube = (build.value("coupling.sleeve.sleeve_diameter"), float(coupling.geometry(View(build.parts)).internal_major))

    def compute(**values: float) -> LineResult:
        return line_result(low, sleeve=tube, **values)

    return Panel(
        id="shafts.line",
        title="Torque and stress along the line",
        controls=(
            quantity("far_torque", q.FarTorque, far),
            quantity("near_torque", q.NearTorque, near),
            quantity("coupling.shock_factor", q.ShockFactor, build.value("coupling.shock_factor")),
            quantity(
                "coupling.far_shaft.shaft_diameter", q.ShaftDiameter, build.value("coupling.far_shaft.shaft_diameter")
            ),
            quantity(
                "coupling.gearbox_joint.joint_diameter", q.ShaftDiameter,
                build.value("coupling.gearbox_joint.joint_diameter"),
            ),
        ),
        compute=compute,
        draw=figures.line_torque,
        twin=line_twin,
        size=(6.4, 5.0),
        layout=(2, 1),
        room=0.03,
        probe="far_torque",
    )  # fmt: skip


# --- the spline ------------------------------------------------------------------------------------------------

MODES = ("sleeve wall, tension", "compression, fixed", "compression, flexible", "teeth, shear", "shaft roots, shear")


def spline_result(
    launches: float, *, turns: float, torque: float, spline_teeth: float, spline_module: float, engagement: float,
    application_factor: float, sleeve_steel: Any, spline_fit: str, wall: float, running_speed: float,
) -> SplinePicture:  # fmt: skip
    """Every way of failing at this torque, as a share of what the steel may bear.

    ``wall`` is the sleeve's, as a share of the pitch diameter: so teeth and module scale the sleeve along.
    """
    angle = math.radians(30)
    g = geometry.spline_geometry(spline_teeth, spline_module=spline_module, pressure_angle=angle, root_form="fillet")
    outside = float(g.internal_major) + 2 * wall * float(g.pitch_diameter)
    shaft = geometry.external_outline(g, teeth=int(spline_teeth), points=5)
    inner = dataclasses.replace(g, external_major=g.internal_major, external_minor=g.internal_minor)
    bore = geometry.external_outline(inner, teeth=int(spline_teeth), points=5)
    kf, kw = dudley.fatigue_factor(launches), dudley.wear_factor(turns)
    common: dict[str, Any] = {
        "spline_teeth": spline_teeth, "spline_module": spline_module, "engagement": engagement,
        "application_factor": application_factor,
    }  # fmt: skip
    hub = dudley.hub_burst(
        torque, pressure_angle=angle, sleeve_diameter=outside, internal_major=g.internal_major,
        running_speed=running_speed, fatigue_factor=kf, **common,
    )  # fmt: skip
    stresses = (
        ("tension", hub.total),
        ("compression", dudley.tooth_compression(torque, fit="fixed", life_factor=kf, **common)),
        ("compression", dudley.tooth_compression(torque, fit="flexible", life_factor=kw, **common)),
        ("shear", dudley.tooth_shear(torque, fatigue_factor=kf, **common)),
        ("shear", dudley.shear_under_roots(
            torque, root_diameter=g.external_minor, application_factor=application_factor, fatigue_factor=kf)),
    )  # fmt: skip
    used = tuple(
        float(stress / dudley.allowable(sleeve_steel, mode=mode, tooth_form="straight"))  # type: ignore[arg-type]
        for mode, stress in stresses
    )
    return SplinePicture(shaft.x, shaft.y, bore.x, bore.y, outside / 2, MODES, used, spline_fit)


def spline_twin(result: SplinePicture) -> Twin:
    """The spline in words; only the declared fit counts."""
    other = "compression, flexible" if result.declared == "fixed" else "compression, fixed"
    counted = [(used, mode) for mode, used in zip(result.modes, result.used, strict=True) if mode != other]
    worst, mode = max(counted)
    fixed, flexible = result.used[1], result.used[2]
    holds = "holds by these figures" if worst <= 1 else "is asked for more than its steel may bear"
    rows = tuple((m, f"{100 * u:.0f} %", "" if m != other else "not this fit")
                 for m, u in zip(result.modes, result.used, strict=True))  # fmt: skip
    return Twin(
        alt=f"Left: section through shaft and sleeve with true involute teeth. Right: five bars; the longest that "
        f"counts is {mode}, {100 * worst:.0f} per cent of what the steel may bear.",
        sentence=f"Declared {result.declared}, it {holds}: {mode} comes first at {100 * worst:.0f} %. Flexible asks "
        f"{flexible / fixed:.1f} times the compression of fixed.",
        table=Table(("way of failing", "used", "note"), rows),
    )


def spline_panel(build: Build) -> Panel:
    """Teeth, pitch, length, hardness; fixed or flexible."""
    get = build.value
    engaged = float(coupling.engagement(View(build.parts)).least)
    launches, turns = get("coupling.launch_cycles"), get("coupling.spline_revolutions")
    g = coupling.geometry(View(build.parts))
    wall = float((get("coupling.sleeve.sleeve_diameter") - g.internal_major) / 2 / g.pitch_diameter)
    spin = get("machine.speed_limit")

    def compute(**values: Any) -> SplinePicture:
        return spline_result(launches, turns=turns, wall=wall, running_speed=spin, **values)

    return Panel(
        id="shafts.spline",
        title="The spline and its ways of failing",
        controls=(
            quantity("torque", dataclasses.replace(TORQUE_ONE, slider=(50.0, 600.0)), _torques(build)[0]),
            quantity("coupling.sleeve.spline_teeth", q.SplineTeeth, get("coupling.sleeve.spline_teeth")),
            quantity("coupling.sleeve.spline_module", q.SplineModule, get("coupling.sleeve.spline_module")),
            quantity("engagement", q.Engagement, engaged),
            quantity("coupling.application_factor", q.ApplicationFactor, get("coupling.application_factor")),
            choice("coupling.sleeve.sleeve_steel", STEELS, start=get("coupling.sleeve.sleeve_steel"), label="steel"),
            choice("coupling.sleeve.spline_fit", ("flexible", "fixed"), start=get("coupling.sleeve.spline_fit")),
        ),
        compute=compute,
        draw=figures.spline,
        twin=spline_twin,
        size=(6.8, 3.9),
        layout=(1, 2),
        room=0.04,
        probe="torque",
    )  # fmt: skip


# --- the cut plan ----------------------------------------------------------------------------------------------


@dataclasses.dataclass(frozen=True)
class CutResult(CutPicture):
    """The picture, and what is said beneath it."""

    closing: float
    final_gap: float
    worst_gap: float
    minutes: float
    chance: float
    action: str
    amount: float


def cut_result(
    build: Build, *, measured_gap: float, end_float: float, located: str, armature_rise: float, frame_rise: float,
    flange: str,
) -> CutResult:  # fmt: skip
    """The gap from cold to warm, and what to do."""
    get = build.value
    cut, far, near, sleeve = (get(f"coupling.{name}") for name in ("cut", "far_shaft", "near_shaft", "sleeve"))
    ends = {"both at the coupling end": ("coupling end", "coupling end"), "one of each": ("coupling end", "far end"),
            "both at the far end": ("far end", "far end")}[located]  # fmt: skip
    grown = [
        growth.machine_growth(
            part.cut_length, located_bearing=end, bearing_span=part.bearing_span,  # type: ignore[arg-type]
            bearing_depth=part.bearing_depth, armature_rise=armature_rise, frame_rise=frame_rise,
        )
        for part, end in zip((far, near), ends, strict=True)
    ]  # fmt: skip
    metal = ALUMINIUM_EXPANSION if flange == "aluminium" else STEEL_EXPANSION
    armature = float(grown[0].armature + grown[1].armature)
    frame = float(grown[0].frame + grown[1].frame + metal * cut.face_distance * frame_rise)
    pace: dict[str, Any] = {"frame_growth": frame, "armature_time": cut.armature_time, "frame_time": cut.frame_time}
    times = np.linspace(0.0, 4 * 3600.0, 121)
    gaps = measured_gap - 2 * end_float - growth.gap_closing(times, armature_growth=armature, **pace)
    closing = float(growth.worst_closing(armature, **pace).closing)
    chance = cut_plan.touch_chance(
        measured_gap, closing=closing, far_float=end_float, near_float=end_float, closing_spread=0.15, draws=5000
    )
    view = View(build.parts)
    held = coupling.engagement(view)
    verdict = cut_plan.cut_verdict(
        measured_gap, far_float=end_float, near_float=end_float, closing=closing, gap_reserve=cut.gap_reserve,
        shim_room=cut.shim_room, engagement_spare=held.least - coupling.sleeve_strength(view).needed,
    )  # fmt: skip
    shift = (cut.face_distance - far.cut_length - near.cut_length - measured_gap) / 2
    far_cut, near_cut = far.cut_length + shift, near.cut_length + shift
    start = (far_cut + cut.face_distance - near_cut - sleeve.sleeve_length) / 2
    radius = sleeve.spline_module * (sleeve.spline_teeth + 1) / 2
    worst = int(np.argmin(gaps))
    return CutResult(
        face_distance=cut.face_distance, far_cut=far_cut, near_cut=near_cut, far_step=far.step_height,
        near_step=near.step_height, sleeve_start=start, sleeve_length=sleeve.sleeve_length, shaft_radius=radius,
        sleeve_radius=sleeve.sleeve_diameter / 2, engagement=float(held.least), times=times, gaps=np.asarray(gaps),
        reserve=cut.gap_reserve, closing=closing,
        final_gap=measured_gap - 2 * end_float - max(armature - frame, 0.0),
        worst_gap=measured_gap - 2 * end_float - closing,
        minutes=float(times[worst]) / 60, chance=chance.chance, action=str(verdict.action),
        amount=float(verdict.amount),
    )  # fmt: skip


def cut_twin(result: CutResult, *, system: str = "SI") -> Twin:
    """The cut plan in words."""
    left, closing = (GAP.show(v, system=system) for v in (result.worst_gap, result.closing))
    by = f" by {GAP.show(result.amount, system=system)}" if result.action in ("shim", "take off more") else ""
    rows = (
        ("far shaft stands out", amount(result.far_cut, LENGTH, digits=4)),
        ("near shaft stands out", amount(result.near_cut, LENGTH, digits=4)),
        ("gap closed by growth, at most", amount(result.closing, GAP)),
        ("gap left at the worst, floats deducted", amount(result.worst_gap, GAP)),
        ("gap left fully warm, after many hours", amount(result.final_gap, GAP)),
        ("chance of touching when hot", f"{100 * result.chance:.1f} %"),
        ("verdict", result.action + by),
    )
    return Twin(
        alt=f"Above: two shaft ends in a sleeve between two faces, to scale. Below: the gap falls from "
        f"{GAP.show(float(result.gaps[0]), system=system)} cold to {left} after about {result.minutes:.0f} minutes.",
        sentence=f"Growth closes {closing}; {left} is left at the worst; the shafts touch in {100 * result.chance:.1f} "
        f"% of draws; verdict: {result.action}{by}.",
        table=Table(("what", "value"), rows),
    )


def cut_panel(build: Build) -> Panel:
    """The joint to scale, and the gap cold, warming and warm."""
    get = build.value
    ends = [get("coupling.far_shaft.located_bearing"), get("coupling.near_shaft.located_bearing")]
    options = ("both at the coupling end", "one of each", "both at the far end")

    def compute(**values: Any) -> CutResult:
        return cut_result(build, **values)

    return Panel(
        id="shafts.cut",
        title="The cut plan: cold, warming, warm",
        controls=(
            quantity("coupling.cut.measured_gap", q.MeasuredGap, get("coupling.cut.measured_gap")),
            quantity("end_float", q.EndFloat, get("coupling.far_shaft.end_float")),
            quantity("coupling.cut.armature_rise", q.ArmatureRise, get("coupling.cut.armature_rise")),
            quantity("coupling.cut.frame_rise", q.FrameRise, get("coupling.cut.frame_rise")),
            choice("located", options, start=options[ends.count("far end")], label="located bearings"),
            choice("flange", ("aluminium", "steel"), label="flange ring"),
        ),
        compute=compute,
        draw=figures.cut_plan,
        twin=cut_twin,
        size=(6.8, 6.2),
        layout=(2, 1),
        room=0.15,
        probe="measured_gap",
    )


# --- package ---------------------------------------------------------------------------------------------------


@dataclasses.dataclass(frozen=True)
class SideResult(figures.SidePicture):
    """The picture, and the masses of its parts [kg]."""

    masses: tuple[float, ...]

    @property
    def total(self) -> float:
        """Length of everything, room behind included [m]."""
        return self.starts[-1] + self.lengths[-1]


def side_result(build: Build) -> SideResult:
    """The line of a build with its centre of gravity."""
    row = drawings.line_parts(build)
    middles = [start + length / 2 for start, length in zip(row.starts, row.lengths, strict=True)]
    centre = package.centre_of_gravity(list(row.masses), places=middles)
    return SideResult(row.names, row.starts, row.lengths, row.heights, row.room, centre, row.masses)


def side_twin(result: SideResult, *, system: str = "SI") -> Twin:
    """The side view in words."""
    spare = result.room - result.total
    total, room, left = (LENGTH.show(v, system=system, digits=4) for v in (result.total, result.room, abs(spare)))
    weight = units.show(sum(result.masses), "kg", system=system)
    centre = LENGTH.show(result.centre, system=system)
    rows = tuple(
        (name, amount(length, LENGTH), units.show(mass, "kg", system=system))
        for name, length, mass in zip(result.names, result.lengths, result.masses, strict=True)
    )
    word = f"{left} to spare" if spare >= 0 else f"{left} too long"
    return Twin(
        alt=f"Boxes in a row, to scale: {', '.join(result.names)}; together {total} where there is {room}.",
        sentence=f"The line is {total} long where there is {room}: {word}. It weighs {weight}, and its centre of "
        f"gravity is {centre} from the back of the room behind it.",
        table=Table(("part", "length", "mass"), rows),
    )


def side_panel(build: Build) -> Panel:
    """The line from the side, to scale, against the room under the floor."""

    def compute(**values: Any) -> SideResult:
        places = {f"coupling.package.{n}" if n != "face_distance" else "coupling.cut.face_distance": v
                  for n, v in values.items()}  # fmt: skip
        return side_result(build.changed(places))

    names = ("far_machine_length", "near_machine_length", "adapter_length", "gearbox_length", "package_room")
    declared = {"far_machine_length": q.FarMachineLength, "near_machine_length": q.NearMachineLength,
                "adapter_length": q.AdapterLength, "gearbox_length": q.GearboxLength,
                "package_room": q.PackageRoom}  # fmt: skip
    return Panel(
        id="shafts.package",
        title="What fits under the floor",
        controls=(
            *(quantity(f"coupling.package.{n}", declared[n], build.value(f"coupling.package.{n}")) for n in names),
            quantity("coupling.cut.face_distance", q.FaceDistance, build.value("coupling.cut.face_distance")),
        ),
        compute=compute,
        draw=figures.side_view,
        twin=side_twin,
        size=(7.2, 3.9),
        room=0.02,
        probe="adapter_length",
    )

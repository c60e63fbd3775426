"""The labelled drawings of the shafts lessons, each to the build's own sizes and with its text twin."""

from __future__ import annotations

from typing import Any

from evlib.build import coupling, drawings
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import shafts_drawings as figures
from evlib.figures.shafts import PLACE
from evlib.panels.markup import show
from evlib.panels.panel import Table, Twin
from evlib.shafts.tables import INCH


def show_cutaway(build: Build) -> None:
    """The joint cut open, with every size that the lesson works out."""
    b = View(build.parts)
    cut, far, near, sleeve = b.coupling.cut, b.coupling.far_shaft, b.coupling.near_shaft, b.coupling.sleeve
    g = coupling.geometry(b)
    start = (far.cut_length + cut.face_distance - near.cut_length - sleeve.sleeve_length) / 2
    held = (max(start + sleeve.sleeve_chamfer, far.spline_start), far.cut_length - far.shaft_chamfer)
    picture = figures.CutawayPicture(
        face_distance=cut.face_distance, far_cut=far.cut_length, near_cut=near.cut_length, far_step=far.step_height,
        near_step=near.step_height, far_start=far.spline_start, near_start=near.spline_start, sleeve_start=start,
        sleeve_length=sleeve.sleeve_length, sleeve_radius=sleeve.sleeve_diameter / 2,
        shaft_radius=float(g.external_major) / 2, root_radius=far.shaft_diameter / 2, held=held,
    )  # fmt: skip
    gap = cut.face_distance - far.cut_length - near.cut_length
    rows = (
        ("Df", "faces apart, flange ring between them", cut.face_distance),
        ("c far", "far shaft stands out of its face", far.cut_length),
        ("c near", "near shaft stands out of its face", near.cut_length),
        ("hs", "step stands out of the face", far.step_height),
        ("c - hs", "far shaft, from the step", far.cut_length - far.step_height),
        ("gap", "between the shaft ends", gap),
        ("Ls", "sleeve", sleeve.sleeve_length),
        ("Lm", "spline that holds, sleeve in the middle", held[1] - held[0]),
    )
    _show(
        figures.cutaway, picture, title="The joint cut open",
        alt="Section along the axis. Left and right a machine with its face and a step round the shaft; between the "
        "faces a flange ring with bolts. A shaft comes out of each face; a gap is between their ends in the middle. "
        "A sleeve with teeth inside covers both ends. Arrows give the lengths in the table; thin lines point to "
        "step and gap.",
        sentence=f"Lengths are to scale: {_mm(cut.face_distance)} from face to face hold two shaft ends and a gap of "
        f"{_mm(gap, 3)}. Ring and bolts stand further out than drawn.",
        rows=rows, size=(8.2, 6.4),
    )  # fmt: skip


def show_hub(build: Build) -> None:
    """The hub in the gearbox's front, cut open."""
    b = View(build.parts)
    part, adapter = b.coupling.gearbox_joint, b.coupling.package.adapter_length
    picture = figures.HubPicture(
        adapter=adapter, pump_depth=part.pump_depth, hub_reach=part.hub_reach, tang_engagement=part.tang_engagement,
        hub_radius=part.pump_hub_diameter / 2, bore_radius=part.pump_hub_bore / 2, shaft_radius=part.joint_diameter / 2,
    )  # fmt: skip
    rows = (
        ("l3", "adapter, motor face to housing face", adapter),
        ("dp", "housing face to the bottom of the pump's drive", part.pump_depth),
        ("rh", "hub reaches past the housing's face", part.hub_reach),
        ("dp - rh", "left when cold, near rotor pushed away from the gearbox", part.pump_depth - part.hub_reach),
        ("Lt", "tangs in the pump gear", part.tang_engagement),
    )
    _show(
        figures.hub_joint, picture, title="The hub in the gearbox, cut open",
        alt="Section along the axis. The hub is a tube on the motors' shaft. It passes the adapter and the gearbox's "
        "bush, and its tangs turn the pump gear. It ends short of the bottom of the drive. The gearbox's own input "
        "shaft goes through it. Arrows give each length in the table.",
        sentence=f"The hub ends {_mm(part.pump_depth - part.hub_reach, 3)} short of the bottom when cold. Lengths are "
        "to scale; bush, housing and gear are a sketch.",
        rows=rows, size=(7.6, 5.2),
    )  # fmt: skip


def show_plate(build: Build) -> None:
    """The adapter plate as the cutter gets it."""
    p = View(build.parts).coupling.plate
    cuts = tuple((c.x, c.y, c.diameter, c.layer) for c in drawings.plate_cuts(build))
    picture = figures.PlatePicture(cuts, p.machine_circle, p.gearbox_circle)
    rows = (
        ("outline", "diameter", p.plate_diameter), ("pilot", "bore that centres it", p.pilot_bore),
        ("machine side", f"{p.machine_holes:.0f} holes on a circle of", p.machine_circle),
        ("machine hole", "diameter", p.machine_hole),
        ("gearbox side", f"{p.gearbox_holes:.0f} holes on a circle of", p.gearbox_circle),
        ("gearbox hole", "diameter", p.gearbox_hole), ("plate", "thickness", p.plate_thickness),
    )  # fmt: skip
    _show(
        figures.plate, picture, title="The adapter plate", head="cut",
        alt="A round plate with a large bore in its middle and two circles of holes: the inner one for the machine, "
        "the outer one for the gearbox.",
        sentence=f"The plate is {_mm(p.plate_diameter)} across with a pilot bore of {_mm(p.pilot_bore, 5)}; the DXF "
        "holds the same circles at full size.",
        rows=rows, size=(7.6, 4.4),
    )  # fmt: skip


def show_dials(build: Build) -> None:
    """Where the dial stands for offset and for angle, with this build's two readings."""
    b = View(build.parts)
    circle, angle = b.coupling.flange.bolt_circle, b.coupling.sleeve.misalignment
    rim = b.coupling.gearbox_joint.pilot_limit
    picture = figures.DialPicture(rim / 2, angle, circle)
    rows = (
        ("rim", "hub at the pump's bush: full reading at most", rim),
        ("rim, halved", "offset of the hub's axis", rim / 2),
        ("face", "motors: the dial runs on a circle of", circle),
        ("face reading", "at this build's angle", angle * circle),
    )  # fmt: skip
    _show(
        figures.dials, picture, title="Two places for a dial", head="dial",
        alt="Two sketches of a pair of flanges. Left: one flange sits higher, and a dial on its rim sees it. Right: "
        "one flange stands at an angle, and a dial on its face sees it.",
        sentence="Any two flanges; both errors are drawn much too large. On the rim you see the offset twice; on the "
        "face you see the angle times the diameter.",
        rows=rows, size=(7.6, 3.9), layout=(1, 2),
    )  # fmt: skip


def _mm(value: Any, digits: int = 4) -> str:
    return PLACE.show(float(value), digits=digits)


def _size(value: Any) -> str:
    """Hundredths of a millimetre, as a drawing says them; below a millimetre thousandths, and thou."""
    if value < 1e-3:
        return f"{1000 * value:.3f} mm ({value / INCH * 1000:.1f} thou)"
    return f"{1000 * value:.2f} mm ({value / INCH:.3f} in)"


def _show(
    draw: Any, picture: Any, *, title: str, alt: str, sentence: str, rows: Any, head: str = "mark", **look: Any
) -> None:
    made = tuple((mark, what, _size(v)) for mark, what, v in rows)
    show(draw, picture, Twin(alt=alt, sentence=sentence, table=Table((head, "what", "size"), made)), title=title,
         room=0.03, **look)  # fmt: skip

"""Drawings that leave the computer: the adapter plate for a cutter (DXF), and the line's side view (SVG, PDF)."""

from __future__ import annotations

import io
import math
from typing import Any

from evlib.build import coupling
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.ground.quantity import result

LAYERS = {"outline": 7, "pilot": 1, "machine_holes": 5, "gearbox_holes": 3, "centre_lines": 8, "text": 8}  # colour no.


@result
class Hole:
    """A round cut: centre [m], diameter [m], and the layer of the drawing it stands on."""

    x: float
    y: float
    diameter: float
    layer: str


def plate_cuts(build: Build) -> list[Hole]:
    """Every round cut of the adapter plate, outline first. ValueError where holes meet each other or an edge."""
    p = View(build.parts).coupling.plate
    cuts = [Hole(0.0, 0.0, p.plate_diameter, "outline"), Hole(0.0, 0.0, p.pilot_bore, "pilot")]
    for side in ("machine", "gearbox"):
        circle, count, size, first = (
            getattr(p, f"{side}_{name}") for name in ("circle", "holes", "hole", "first_hole")
        )  # fmt: skip
        for i in range(int(count)):
            angle = first + 2 * math.pi * i / count
            cuts.append(Hole(circle / 2 * math.cos(angle), circle / 2 * math.sin(angle), size, f"{side}_holes"))
    _apart(cuts)
    return cuts


def _apart(cuts: list[Hole]) -> None:
    """No hole may run into another, into the bore, or out of the plate: a millimetre of metal at least."""
    least = 0.001
    outline, bore, *holes = cuts
    for i, one in enumerate(holes):
        out = math.hypot(one.x, one.y)
        if out + one.diameter / 2 > outline.diameter / 2 - least or out - one.diameter / 2 < bore.diameter / 2 + least:
            raise ValueError(
                f"{one.layer}: a hole at {out * 1000:.1f} mm from the centre runs into an edge of the plate"
            )
        for other in holes[i + 1 :]:
            if math.hypot(one.x - other.x, one.y - other.y) < (one.diameter + other.diameter) / 2 + least:
                raise ValueError(f"{one.layer} and {other.layer}: two holes run into each other; turn one circle")


def adapter_dxf(build: Build) -> str:
    """The adapter plate as DXF text, in millimetres, full size, one layer for each kind of cut."""
    from ezdxf.filemanagement import new

    drawing = new("R2010", units=4)  # 4: millimetres
    for name, colour in LAYERS.items():
        drawing.layers.add(name, color=colour)
    space = drawing.modelspace()
    cuts = plate_cuts(build)
    for cut in cuts:
        space.add_circle((cut.x * 1000, cut.y * 1000), cut.diameter * 500, dxfattribs={"layer": cut.layer})
    reach = cuts[0].diameter * 500 + 10
    for start, end in (((-reach, 0), (reach, 0)), ((0, -reach), (0, reach))):
        space.add_line(start, end, dxfattribs={"layer": "centre_lines"})
    p = View(build.parts).coupling.plate
    note = f"{build.name}: adapter plate, {p.plate_thickness * 1000:g} mm thick, seen from the machine; mm, full size"
    space.add_text(note, height=4, dxfattribs={"layer": "text"}).set_placement((-reach, -reach - 8))
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue()


@result
class LineParts:
    """The line as boxes in a row: name, start [m], length [m], height [m], mass [kg]; and the room there is [m]."""

    names: tuple[str, ...]
    starts: tuple[float, ...]
    lengths: tuple[float, ...]
    heights: tuple[float, ...]
    masses: tuple[float, ...]
    room: float


def line_parts(build: Build) -> LineParts:
    """Every part of the line with its place, from the tail allowance to the gearbox's output flange."""
    b = View(build.parts)
    p = b.coupling.package
    alone = b.machine.machine_count == 1
    machine, box = b.machine.machine_mass, coupling.line_mass(b) - b.machine.machine_count * b.machine.machine_mass
    joint = p.coupling_mass
    rows: list[tuple[str, Any, float, Any]] = [("room behind", p.tail_allowance, 0.10, 0.0)]
    if not alone:
        rows += [("far machine", p.far_machine_length, 0.25, machine),
                 ("flange ring", b.coupling.cut.face_distance, 0.22, joint / 2)]  # fmt: skip
    rows += [("near machine", p.near_machine_length, 0.25, machine),
             ("adapter", p.adapter_length, 0.30, joint / (1 if alone else 2)),
             ("gearbox", p.gearbox_length, 0.30, box - joint)]  # fmt: skip
    starts, at = [], 0.0
    for _, length, _, _ in rows:
        starts.append(at)
        at += float(length)
    names, lengths, heights, masses = zip(*rows, strict=True)
    return LineParts(
        names, tuple(starts), tuple(map(float, lengths)), heights, tuple(map(float, masses)), float(p.package_room)
    )

"""The sheet's drawings, each with its text twin: the line in its room, the joint, the adapter plate, the protections.

They are strokes in millimetres of paper, not figures: the line and the plate print to a stated scale, the joint at full
size. What they draw is computed elsewhere, as for the lessons' figures.
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from evlib.build import cut_card
from evlib.build.drawings import line_parts, plate_cuts
from evlib.build.protection import pack_peak, short_circuits
from evlib.build.safety_cases import ProtectionCase, protection_case
from evlib.build.schema import Build
from evlib.build.sheet.svg import BLUE, GREEN, GREY, INK, METAL, PALE, PART, RED, Drawing
from evlib.build.sheet.words import both, cut_size
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.quantity import Array
from evlib.shafts.package import centre_of_gravity

WIDEST = 176.0  # mm of paper between the margins, on A4 and on Letter
SCALES = (1, 2, 3, 4, 5, 10, 15, 20, 25, 50, 100)


@dataclasses.dataclass(frozen=True)
class Picture:
    """A drawing as markup, one computed sentence, and its table: head and rows."""

    svg: str
    sentence: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def _scale(length: float, *, room: float) -> int:
    """The smallest of the usual scales at which a length [m] fits into a room on paper [mm]."""
    return next((scale for scale in SCALES if 1000 * length / scale <= room), SCALES[-1])


def _mm(metres: float) -> str:
    return f"{1000 * metres:.1f}".removesuffix(".0")


def package_drawing(build: Build) -> Picture:
    """The line from the side in its room, to scale, each part numbered and dimensioned. Raises NotKnown."""
    row = line_parts(build)
    total = row.starts[-1] + row.lengths[-1]
    scale = _scale(max(total, row.room), room=WIDEST - 12)
    middles = [start + length / 2 for start, length in zip(row.starts, row.lengths, strict=True)]
    centre = centre_of_gravity(list(row.masses), places=middles)

    def at(metres: float) -> float:
        return 6 + 1000 * metres / scale

    tall = 1000 * max(row.heights) / scale
    axis = 24 + tall / 2
    made = Drawing(max(at(max(total, row.room)) + 6, 150), axis + tall / 2 + 17)  # 150: room for the words below
    for i, (start, length, height) in enumerate(zip(row.starts, row.lengths, row.heights, strict=True)):
        half = 500 * height / scale
        made.box(at(start), axis - half, 1000 * length / scale, 2 * half, fill=PALE if i == 0 else (METAL, PART)[i % 2],
                 dash="1.5 1" if i == 0 else "")  # fmt: skip
        made.text(at(middles[i]), axis + half + 1.2, str(i + 1), weight="bold")
        made.dimension(at(start), at(start + length), 19 - 7 * (i % 2), _mm(length))
    over = total > row.room
    made.dimension(at(0), at(row.room), made.height - 4.5, f"room there is {_mm(row.room)}, line {_mm(total)}",
                   colour=RED if over else GREEN)  # fmt: skip
    made.circle(at(centre), axis, 1.4, fill=INK)
    made.line(((at(centre) - 3, axis), (at(centre) + 3, axis)))
    made.line(((at(centre), axis - 3), (at(centre), axis + 3)))
    made.line(((6, 2), (56, 2)), width=0.5)
    for x in (6, 56):
        made.line(((x, 1), (x, 3)))
    made.text(58, 1, f"{50 * scale:g} mm at 1 : {scale}; 50 mm on paper if printed at full size", anchor="start")
    left = both(abs(row.room - total), "m")
    alt = (
        f"Boxes in a row from the side, 1 to {scale}: {', '.join(f'{i} {n}' for i, n in enumerate(row.names, 1))}; "
        f"together {_mm(total)} mm where there are {_mm(row.room)} mm."
    )
    rows = tuple(
        (str(i), name, both(length, "m"), both(start, "m"), both(mass, "kg") if mass else "")
        for i, (name, length, start, mass) in enumerate(
            zip(row.names, row.lengths, row.starts, row.masses, strict=True), 1
        )
    )
    sentence = (
        f"The line is {both(total, 'm')} long where there is {both(row.room, 'm')}: {left} "
        f"{'too long' if over else 'to spare'}. It weighs {both(sum(row.masses), 'kg')}; its centre of gravity (cross) "
        f"is {both(centre, 'm')} from the back of the room behind it. Sizes in mm; heights are a sketch."
    )
    return Picture(made.svg(alt), sentence, ("no.", "part", "length", "starts at", "mass"), rows)


def joint_drawing(build: Build) -> Picture:
    """The upper half of the joint at full size: faces, shaft ends as they are to be cut, sleeve. Raises NotKnown."""
    b = View(build.parts)
    sleeve, far, near = b.coupling.sleeve, b.coupling.far_shaft, b.coupling.near_shaft
    apart, cut = 1000 * float(b.coupling.cut.face_distance), cut_card.planned(b)
    far_cut, near_cut = 1000 * float(cut.far_from_face), 1000 * float(cut.near_from_face)
    long, radius = 1000 * float(sleeve.sleeve_length), 500 * float(sleeve.sleeve_diameter)
    shaft = 500 * float(sleeve.spline_module * (sleeve.spline_teeth + 1))
    scale = _scale((apart + 44) / 1000, room=WIDEST)
    body, high = 14.0, 1.45 * radius
    made = Drawing((apart + 2 * body) / scale + 16, high / scale + 17)

    def box(x0: float, x1: float, y0: float, y1: float, fill: str) -> None:
        made.box(8 + (x0 + body) / scale, 12 + y0 / scale, (x1 - x0) / scale, (y1 - y0) / scale, fill=fill)

    def x(place: float) -> float:
        return 8 + (place + body) / scale

    start = (far_cut + apart - near_cut - long) / 2
    box(-body, 0, 0, high, PALE)
    box(apart, apart + body, 0, high, PALE)
    for x0, x1 in ((0.0, 1000 * float(far.step_height)), (apart - 1000 * float(near.step_height), apart)):
        box(x0, x1, shaft, 1.2 * radius, PALE)
    box(-body, far_cut, 0, shaft, METAL)
    box(apart - near_cut, apart + body, 0, shaft, METAL)
    box(start, start + long, shaft, radius, PART)
    made.line(((x(-body) - 4, 12), (x(apart + body) + 4, 12)), colour=GREY, dash="5 1.5 1 1.5")
    made.text(x(start + long / 2), 12 + (shaft + radius) / 2 / scale - 1, "sleeve")
    made.text(x(far_cut / 2), 12 + shaft / 2 / scale, "far shaft")
    made.text(x(apart - near_cut / 2), 12 + shaft / 2 / scale, "near shaft")
    made.dimension(x(0), x(far_cut), 7, f"{far_cut:.2f}")
    made.dimension(x(apart - near_cut), x(apart), 7, f"{near_cut:.2f}")
    made.dimension(x(0), x(apart), 16 + high / scale, f"faces {apart:.2f}")
    gap = apart - far_cut - near_cut
    alt = (
        f"Upper half of the joint, 1 to {scale}: far shaft {far_cut:.2f} mm from its face, near shaft {near_cut:.2f} "
        f"mm, sleeve {long:.1f} mm over both, faces {apart:.2f} mm apart."
    )
    size = "At full size" if scale == 1 else f"1 to {scale}"
    sentence = f"{size}; the gap of {gap:.2f} mm between the shafts is planned."
    if b.coupling.cut.known("measured_gap"):
        sentence += f" {1000 * float(b.coupling.cut.measured_gap):.2f} mm was measured."
    return Picture(made.svg(alt), " ".join([*cut_card.stops(b), sentence]), (), ())


def plate_drawing(build: Build) -> Picture:
    """The adapter plate seen from the machine, to scale, with its circles of holes. Raises NotKnown, ValueError."""
    p = View(build.parts).coupling.plate
    cuts = plate_cuts(build)
    scale = _scale(cuts[0].diameter, room=85)
    across = 1000 * cuts[0].diameter / scale
    made = Drawing(across + 8, across + 8)
    middle = 4 + across / 2
    for cut in cuts:
        made.circle(middle + 1000 * cut.x / scale, middle + 1000 * cut.y / scale, 500 * cut.diameter / scale,
                    fill=PALE if cut.layer == "outline" else "#ffffff",
                    dash="1 0.6" if cut.layer == "gearbox_holes" else "")  # fmt: skip
    for ends in (((1, middle), (across + 7, middle)), ((middle, 1), (middle, across + 7))):
        made.line(ends, colour=GREY, dash="5 1.5 1 1.5", width=0.2)
    rows = [
        ("outline", "1", cut_size(p.plate_diameter), ""),
        ("pilot bore", "1", cut_size(p.pilot_bore), ""),
    ]
    for name, words in (("machine", "machine's holes (drawn full)"), ("gearbox", "gearbox's holes (dashed)")):
        circle, first = getattr(p, f"{name}_circle"), math.degrees(getattr(p, f"{name}_first_hole"))
        rows.append((words, f"{getattr(p, f'{name}_holes'):.0f}", cut_size(getattr(p, f"{name}_hole")),
                     f"on {cut_size(circle)}, first at {first:g}°"))  # fmt: skip
    thick = both(p.plate_thickness, "m")
    alt = (
        f"Adapter plate, 1 to {scale}: a ring of {_mm(p.plate_diameter)} mm with a bore of {_mm(p.pilot_bore)} mm, "
        f"{p.machine_holes:.0f} holes on {_mm(p.machine_circle)} mm and {p.gearbox_holes:.0f} on "
        f"{_mm(p.gearbox_circle)} mm."
    )
    sentence = f"Adapter plate, {thick} thick, seen from the machine, 1 : {scale}; angles count from the right, "
    return Picture(made.svg(alt), sentence + "anticlockwise.", ("cut", "number", "diameter", "where"), tuple(rows))


def protection_of(build: Build) -> ProtectionCase:
    """Fuse, contactor and cable of a build on one chart. Raises NotKnown, ValueError."""
    b = View(build.parts)
    part, shorts = b.protection, short_circuits(b)
    return protection_case(
        float(part.contactor.contactor_breaking_current),
        contactor_release_time=float(part.contactor.contactor_release_time),
        conductor_area=float(part.pack_cable.conductor_area), curve=part.fuse.fuse_curve,
        arcing_time=float(part.fuse.fuse_arcing_time), minimum=float(part.fuse.fuse_minimum_breaking),
        smallest=float(np.asarray(shorts.smallest)), largest=float(np.asarray(shorts.largest)),
        insulation_limit=float(part.pack_cable.insulation_limit),
        short_circuit_limit=float(part.pack_cable.short_circuit_limit),
    )  # fmt: skip


def protection_chart(build: Build) -> Picture:
    """Time over current, both logarithmic: fuse, cable, contactor, peak and the shorts. Raises NotKnown, ValueError."""
    case, peak = protection_of(build), float(np.asarray(pack_peak(View(build.parts))))
    first, last = 10 ** math.floor(math.log10(min(peak, case.current[0]))), 2e4
    low, high = 1e-3, 1e3
    left, bottom, wide, tall = 16.0, 34.0, 140.0, 84.0
    made = Drawing(left + wide + 8, bottom + tall + 6)

    def x(current: float) -> float:
        return left + wide * math.log(current / first) / math.log(last / first)

    def y(time: float) -> float:
        return bottom + tall * math.log(min(max(time, low), high) / low) / math.log(high / low)

    def curve(times: Array, colour: str, dash: str, width: float) -> None:
        inside = (times >= low) & (times <= high) & (case.current <= last)
        made.line([(x(i), y(t)) for i, t in zip(case.current[inside], times[inside], strict=True)],
                  colour=colour, dash=dash, width=width)  # fmt: skip

    for decade in range(-3, 4):
        made.line(((left, y(10.0**decade)), (left + wide, y(10.0**decade))), colour="#c8c8c8", width=0.15)
        made.text(left - 1.5, y(10.0**decade) - 1, f"{10.0**decade:g}", anchor="end")
    for current in (c * first for c in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000) if c * first <= last):
        made.line(((x(current), bottom), (x(current), bottom + tall)), colour="#c8c8c8", width=0.15)
        made.text(x(current), bottom - 4.2, f"{current:g}")
    made.text(left + wide / 2, bottom - 9, "current I [A]")
    made.text(left - 12, bottom + tall + 2.5, "time t [s]", anchor="start")
    if case.open_band:
        made.box(x(case.lower), bottom, x(case.upper) - x(case.lower), tall, fill="#f3c9b0")
    made.box(left, bottom, wide, tall)
    curve(case.cable, GREEN, "4 1 1 1", 0.5)
    curve(case.melting, BLUE, "0.8 0.8", 0.4)
    curve(case.clearing, BLUE, "", 0.6)
    made.line(((left, y(case.release)), (x(min(case.breaking, last)), y(case.release))), colour=RED, dash="3 1.5",
              width=0.6)  # fmt: skip
    marks = ((peak, INK, "2 0.8"), (case.smallest, GREY, "0.6 0.9"), (case.largest, GREY, "5 1 0.6 1"))
    for current, colour, dash in marks:
        if first <= current <= last:
            made.line(((x(current), bottom), (x(current), bottom + tall)), colour=colour, dash=dash, width=0.45)
    key = (
        ("fuse clears", BLUE, ""), ("fuse melts", BLUE, "0.8 0.8"), ("cable stands", GREEN, "4 1 1 1"),
        ("contactor opens", RED, "3 1.5"), ("pack peak", INK, "2 0.8"), ("least short", GREY, "0.6 0.9"),
        ("largest short", GREY, "5 1 0.6 1"),
    )  # fmt: skip
    for i, (words, colour, dash) in enumerate(key):
        at, height = left + 36 * (i % 4), 15 - 6 * (i // 4)
        made.line(((at, height + 1), (at + 9, height + 1)), colour=colour, dash=dash, width=0.6)
        made.text(at + 10, height, words, anchor="start")
    if case.open_band:
        made.box(left + 108, 8.6, 9, 3, fill="#f3c9b0")
        made.text(left + 118, 9, "forbidden band", anchor="start")
    return _protection_words(case, peak, made)


def _protection_words(case: ProtectionCase, peak: float, made: Drawing) -> Picture:
    """The chart's sentence, alternative text and table."""
    lower, upper, least = (units.show(v, "A") for v in (case.lower, case.upper, case.smallest))
    stands = units.show(float(np.interp(case.smallest, case.current, case.cable)), "s")
    band = "open" if case.open_band else "closed"
    if case.open_band:
        sentence = f"The forbidden band is open, {lower} to {upper}: there the contactor parts first, on more than it "
        sentence += "can break."
    else:
        sentence = f"The forbidden band is closed: from {upper} the fuse is quicker, and the contactor breaks up to "
        sentence += f"{units.show(case.breaking, 'A')}."
    alt = (
        f"Time over current, both logarithmic. The fuse's curve falls from left to right, the cable's limit lies over "
        f"it; the contactor opens after {units.show(case.release, 's')}, up to {units.show(case.breaking, 'A')}. The "
        f"forbidden band is {band}."
    )
    rows = (
        ("pack current, at most", units.show(peak, "A")),
        ("fuse breaks from", units.show(case.minimum, "A")),
        ("least short, cold and low", least),
        ("fuse clears the least short in", _time(case.smallest, case.current, case.clearing)),
        ("cable stands the least short for", stands),
        ("fuse is quicker than the contactor from", upper),
        ("contactor breaks up to", units.show(case.breaking, "A")),
        ("contactor opens after", units.show(case.release, "s")),
        ("largest short, hot and full", units.show(case.largest, "A")),
    )
    return Picture(made.svg(alt), sentence, ("on the chart", "value"), rows)


def _time(current: float, currents: Array, times: Array) -> str:
    """A time read off a curve, where the curve reaches."""
    if not currents[0] <= current <= currents[-1]:
        return "outside the fuse's curve"
    seconds = float(np.exp(np.interp(math.log(current), np.log(currents), np.log(times))))
    return "no end" if not math.isfinite(seconds) else units.show(seconds, "s")

"""The card that goes to the bench: cut lines in large numbers, both units, and room for what was measured."""

from __future__ import annotations

import html
from typing import Any

from evlib.build import coupling
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.shafts import joint
from evlib.shafts.tables import INCH

STYLE = """
body{font:11pt/1.35 "DejaVu Sans",Verdana,sans-serif;color:#1c1c1c;margin:0 auto;max-width:46rem;padding:1rem}
h1{font-size:1.5rem;margin:0}h2{font-size:1.05rem;margin:.7rem 0 .2rem;border-bottom:2px solid}
table{border-collapse:collapse;width:100%}td,th{border:1px solid #777;padding:.2rem .5rem;text-align:left}
.n{font-size:1.45rem;font-weight:700;white-space:nowrap}.room{width:22%}.c{border:2px solid;padding:.1rem .7rem}
p{margin:.25rem 0}@media print{body{padding:0;font-size:10pt}}@page{margin:12mm}
"""
CAUTIONS = (
    "Turn the shaft slowly for marking or cutting from a low-voltage, current-limited supply, never from the pack. "
    "Guard it. No gloves, no loose sleeves. Cover brushes and bearings: grinding dust kills both.",
    "Eye protection, and a mask for the dust. The wheel must be rated for its speed. A lathe is the better way.",
    "The motors are heavy and they pinch when they go together: hoist, guide pins, hands off the faces. Two people.",
    "Two people check every number on this card before the first cut. A cut cannot be undone.",
)


def cut_card(build: Build) -> str:
    """The cut card of a build, as one self-contained page. Raises NotKnown where a value is missing."""
    b = View(build.parts)
    lines, cut = coupling.lines(b), b.coupling.cut
    planned = cut.face_distance - lines.far_from_face - lines.near_from_face
    held, closing = coupling.engagement(b), coupling.closing(b).worst
    floats = b.coupling.far_shaft.end_float + b.coupling.near_shaft.end_float
    least = closing + floats + cut.gap_reserve
    cuts = (
        ("Far shaft, from the face", lines.far_from_face), ("Far shaft, from the step", lines.far_from_step),
        ("Near shaft, from the face", lines.near_from_face), ("Near shaft, from the step", lines.near_from_step),
    )  # fmt: skip
    checks = (
        ("Faces apart, once flanged", cut.face_distance), ("Gap planned, rotors pushed home", planned),
        ("Gap, at least: growth + both floats + reserve", least), ("Sleeve must not wander more than", _float(b, held)),
        ("Comes off the far shaft", lines.far_off), ("Comes off the near shaft", lines.near_off),
        ("The cutter takes this much, on the waste side of the line", cut.cutter_width),
    )  # fmt: skip
    body = [
        f"<h1>Cut card: {html.escape(build.name)}</h1>",
        f'<div class="c">{"".join(f"<p>{line}</p>" for line in CAUTIONS)}</div>',
        "<h2>Cut lines (the finished end)</h2>", _table(cuts),
        "<h2>Check before and after</h2>", _table(checks),
        "<h2>After the cut: push both shafts home by hand, measure, write down</h2>",
        _blank(("gap measured", "less both floats", "less growth", "what is left")),
        "<p>Less than the reserve: shim the flange, or take off more. Too little spline: reject.</p>",
        "<p>Cut by: ______________________ Checked by: ______________________ Date: ______________</p>",
    ]  # fmt: skip
    return _page(f"Cut card: {build.name}", body)


def hub_card(build: Build) -> str:
    """The card of the gearbox joint: how far the pump's hub may reach, as one self-contained page."""
    b = View(build.parts)
    part = b.coupling.gearbox_joint
    grown = coupling.growth_to_pump(b)
    wanted = joint.hub_reach_wanted(
        part.pump_depth, pump_clearance=part.pump_clearance, hub_float=part.hub_float, growth=grown
    )  # fmt: skip
    rows = (
        ("Housing face to the bottom of the pump's drive", part.pump_depth), ("Hub may reach past the face", wanted),
        ("Hub reaches now", part.hub_reach), ("Clearance wanted, hot", part.pump_clearance),
        ("Growth toward the pump, at most", grown), ("Shaft's end float", part.hub_float),
        ("Run-out at the bush, full dial reading, at most", part.pilot_limit),
    )  # fmt: skip
    body = [
        f"<h1>Hub card: {html.escape(build.name)}</h1>",
        '<div class="c"><p>A hub that bottoms breaks the pump on the first start. Never draw the gearbox up to the '
        "motor with its bolts: if it does not go home by hand, something is in the way.</p></div>",
        "<h2>Sizes</h2>", _table(rows),
        "<h2>Measured</h2>", _blank(("depth to the drive", "hub reach", "run-out", "goes home by hand?")),
        "<p>Cut by: ______________________ Checked by: ______________________ Date: ______________</p>",
    ]  # fmt: skip
    return _page(f"Hub card: {build.name}", body)


def _float(b: View, held: Any) -> Any:
    return held.room if b.coupling.sleeve.sleeve_kept == "steps" else b.coupling.sleeve.sleeve_float


def _table(rows: tuple[tuple[str, Any], ...]) -> str:
    cells = "".join(
        f'<tr><th scope="row">{html.escape(name)}</th><td class="n">{float(v) * 1000:.2f} mm</td>'
        f'<td class="n">{float(v) / INCH:.4f} in</td><td class="room"></td></tr>'
        for name, v in rows
    )
    head = '<th scope="col">what</th><th scope="col">mm</th><th scope="col">inch</th><th scope="col">measured</th>'
    return f"<table><thead><tr>{head}</tr></thead><tbody>{cells}</tbody></table>"


def _blank(names: tuple[str, ...]) -> str:
    head = "".join(f'<th scope="col">{name}</th>' for name in names)
    room = "<td>&nbsp;<br>&nbsp;</td>" * len(names)
    return f"<table><thead><tr>{head}</tr></thead><tbody><tr>{room}</tr></tbody></table>"


def _page(title: str, body: list[str]) -> str:
    start = f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>'
    return f"{start}<style>{STYLE}</style></head><body><main>\n" + "\n".join(body) + "\n</main></body></html>\n"

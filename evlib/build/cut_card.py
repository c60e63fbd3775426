"""The card that goes to the bench: cut lines in large numbers, both units, and room for what was measured."""

from __future__ import annotations

import html
from collections.abc import Callable
from typing import Any

from evlib.build import coupling
from evlib.build.changes import title
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.shafts import joint
from evlib.shafts.cut_plan import CutLines
from evlib.shafts.tables import INCH

# What the cards look like, alone and on the build sheet.
CARD_STYLE = """
.n{font-size:1.45rem;font-weight:700;white-space:nowrap}.room{width:22%}.c{border:2px solid;padding:.1rem .7rem}
.stop{border:4px solid #8c1c13;padding:.3rem .7rem;margin:.5rem 0;font-weight:700;break-inside:avoid}
"""
STYLE = """
body{font:11pt/1.35 "DejaVu Sans",Verdana,sans-serif;color:#1c1c1c;margin:0 auto;max-width:46rem;padding:1rem}
h1{font-size:1.5rem;margin:0}h2{font-size:1.05rem;margin:.7rem 0 .2rem;border-bottom:2px solid}
table{border-collapse:collapse;width:100%}td,th{border:1px solid #777;padding:.2rem .5rem;text-align:left}
p{margin:.25rem 0}@media print{body{padding:0;font-size:9.5pt;line-height:1.28}}@page{margin:10mm}
"""
_Row = tuple[str, Callable[[], Any]]  # what it is, and how it is worked out
CAUTIONS = (
    "Turn the shaft slowly for marking or cutting from a low-voltage, current-limited supply, never from the pack. "
    "Guard it. No gloves, no loose sleeves. Cover brushes and bearings: grinding dust kills both.",
    "Eye protection, and a mask for the dust. The wheel must be rated for its speed. A lathe is the better way.",
    "The motors are heavy and they pinch when they go together: hoist, guide pins, hands off the faces. Two people.",
    "Two people check every number on this card before the first cut. A cut cannot be undone.",
)


def cut_card(build: Build) -> str:
    """The cut card of a build, as one self-contained page. Raises NotKnown where a value is missing."""
    return _page(f"Cut card: {title(build)}", cut_body(build, blanks=False, heading="h1"))


def hub_card(build: Build) -> str:
    """The card of the gearbox joint: how far the pump's hub may reach, as one self-contained page."""
    return _page(f"Hub card: {title(build)}", hub_body(build, blanks=False, heading="h1"))


def cut_body(build: Build, *, blanks: bool = True, heading: str = "h3") -> list[str]:
    """The cut card as pieces of a page. With ``blanks`` a value that is not known is a line to fill in.

    Raises DoesNotApply where there is no sleeve, and NotKnown without ``blanks``.
    """
    b = View(build.parts)
    _ = b.coupling.sleeve  # one machine alone has nothing to cut
    rows: tuple[_Row, ...] = (
        ("Far shaft, from the face", lambda: planned(b).far_from_face),
        ("Far shaft, from the step", lambda: planned(b).far_from_step),
        ("Near shaft, from the face", lambda: planned(b).near_from_face),
        ("Near shaft, from the step", lambda: planned(b).near_from_step),
    )
    checks: tuple[_Row, ...] = (
        ("Faces apart, once flanged", lambda: b.coupling.cut.face_distance),
        ("Gap planned, each rotor pushed into its motor", lambda: _gap_planned(b)),
        ("Gap, at least: growth + both floats + reserve", lambda: _gap_least(b)),
        ("Sleeve must not wander more than", lambda: _float(b, coupling.engagement(b))),
        ("Comes off the far shaft", lambda: planned(b).far_off),
        ("Comes off the near shaft", lambda: planned(b).near_off),
        ("The cutter takes this much, on the waste side of the line", lambda: b.coupling.cut.cutter_width),
    )
    below = _below(heading)
    return [
        f"<{heading}>Cut card: {html.escape(title(build))}</{heading}>",
        f'<div class="c">{"".join(f"<p>{line}</p>" for line in CAUTIONS)}</div>',
        *(f'<p class="stop">{html.escape(words)}</p>' for words in stops(b)),
        f"<{below}>Cut lines (the finished end)</{below}>", _table(rows, blanks), _as_built(b),
        f"<{below}>Check before and after</{below}>", _table(checks, blanks),
        f"<{below}>After the cut: push each rotor into its motor, measure, write down</{below}>",
        _blank(("gap measured", "less both floats", "less growth", "what is left")),
        "<p>Less than the reserve: shim the flange, or take off more. Too little spline: reject.</p>",
        "<p>Cut by: ______________________ Checked by: ______________________ Date: ______________</p>",
    ]  # fmt: skip


def hub_body(build: Build, *, blanks: bool = True, heading: str = "h3") -> list[str]:
    """The hub card as pieces of a page; as :func:`cut_body`. Raises DoesNotApply where there is no internal pump."""
    b = View(build.parts)
    part = b.coupling.gearbox_joint
    if part.known("pump_drive") and part.pump_drive == "no pump":
        raise DoesNotApply("this gearbox has no internal pump")
    rows: tuple[_Row, ...] = (
        ("Housing face to the bottom of the pump's drive", lambda: part.pump_depth),
        ("Hub may reach past the face", lambda: joint.hub_reach_wanted(
            part.pump_depth, pump_clearance=part.pump_clearance, hub_float=part.hub_float,
            growth=coupling.growth_to_pump(b))),
        ("Hub reaches now", lambda: part.hub_reach), ("Clearance wanted, hot", lambda: part.pump_clearance),
        ("Growth toward the pump, at most", lambda: coupling.growth_to_pump(b)),
        ("Shaft's end float", lambda: part.hub_float),
        ("Run-out at the bush, full dial reading, at most", lambda: part.pilot_limit),
    )  # fmt: skip
    below = _below(heading)
    return [
        f"<{heading}>Hub card: {html.escape(title(build))}</{heading}>",
        '<div class="c"><p>A hub that bottoms breaks the pump on the first start. Never draw the gearbox up to the '
        "motor with its bolts: if it does not go home by hand, something is in the way.</p></div>",
        f"<{below}>Sizes</{below}>", _table(rows, blanks),
        f"<{below}>Measured</{below}>", _blank(("depth to the drive", "hub reach", "run-out", "goes home by hand?")),
        "<p>Cut by: ______________________ Checked by: ______________________ Date: ______________</p>",
    ]  # fmt: skip


def _below(heading: str) -> str:
    return f"h{int(heading[1]) + 1}"


def planned(b: View) -> CutLines:
    """The cut lines that the build states, each shaft its own. Raises ValueError where a shaft is too short."""
    far, near = b.coupling.far_shaft, b.coupling.near_shaft
    for name, end in (("far", far), ("near", near)):
        if end.shaft_projection < end.cut_length:
            raise ValueError(f"{name} shaft: it is shorter than its cut line, {1000 * float(end.cut_length):.2f} mm")
    return CutLines(far.cut_length, near.cut_length, far.cut_length - far.step_height, near.cut_length
                    - near.step_height, far.shaft_projection - far.cut_length,
                    near.shaft_projection - near.cut_length)  # fmt: skip


def _gap_planned(b: View) -> Any:
    found = planned(b)
    return b.coupling.cut.face_distance - found.far_from_face - found.near_from_face


def stops(b: View) -> list[str]:
    """Why nobody may cut to these lines: the gap they leave is too small, or is not the gap that was measured."""
    return [words for make in (_too_narrow, _not_as_measured) if (words := _tried(make, b))]


def _tried(make: Callable[[View], str], b: View) -> str:
    try:
        return make(b)
    except (NotKnown, DoesNotApply, ValueError):  # ValueError: values that do not fit together
        return ""


def _too_narrow(b: View) -> str:
    short = float(_gap_least(b) - _gap_planned(b))
    if short <= 0:
        return ""
    return f"Do not cut to these lines yet: the gap planned is {short * 1000:.2f} mm less than it must be."


def _not_as_measured(b: View) -> str:
    cut = b.coupling.cut
    plan = float(_gap_planned(b))
    if not cut.known("measured_gap") or abs(cut.measured_gap - plan) <= cut.face_tolerance + 2 * cut.cut_tolerance:
        return ""
    return (
        f"Do not cut to these lines: they leave a gap of {plan * 1000:.2f} mm, and {cut.measured_gap * 1000:.2f} mm "
        "was measured on the pair. One of the two is out of date: correct the build file first."
    )


def _as_built(b: View) -> str:
    """What was measured on a pair that is cut already, beside the lines that it was cut to."""

    def words(v: View) -> str:
        if not v.coupling.cut.known("measured_gap"):
            return ""
        gap, least = float(v.coupling.cut.measured_gap), float(_gap_least(v))
        what = "cut nothing more off it" if gap >= least else "it must not run like this"
        return (
            f"<p><b>This pair is cut and measured: a gap of {gap * 1000:.2f} mm, where at least {least * 1000:.2f} mm "
            f"must be: {what}.</b></p>"
        )

    return _tried(words, b)


def _gap_least(b: View) -> Any:
    floats = b.coupling.far_shaft.end_float + b.coupling.near_shaft.end_float
    return coupling.closing(b).worst + floats + b.coupling.cut.gap_reserve


def _float(b: View, held: Any) -> Any:
    return held.room if b.coupling.sleeve.sleeve_kept == "steps" else b.coupling.sleeve.sleeve_float


def _table(rows: tuple[_Row, ...], blanks: bool) -> str:
    cells = "".join(
        f'<tr><th scope="row">{html.escape(name)}</th>{_sizes(make, blanks)}<td class="room"></td></tr>'
        for name, make in rows
    )
    head = '<th scope="col">what</th><th scope="col">mm</th><th scope="col">inch</th><th scope="col">measured</th>'
    return f"<table><thead><tr>{head}</tr></thead><tbody>{cells}</tbody></table>"


def _sizes(make: Callable[[], Any], blanks: bool) -> str:
    """A size in both units; lines to fill in where it is not known."""
    try:
        value = float(make())
    except (NotKnown, ValueError):  # ValueError: values that do not fit together
        if not blanks:
            raise
        return '<td class="n">______ mm</td><td class="n">______ in</td>'
    return f'<td class="n">{value * 1000:.2f} mm</td><td class="n">{value / INCH:.4f} in</td>'


def _blank(names: tuple[str, ...]) -> str:
    head = "".join(f'<th scope="col">{name}</th>' for name in names)
    room = "<td>&nbsp;<br>&nbsp;</td>" * len(names)
    return f"<table><thead><tr>{head}</tr></thead><tbody><tr>{room}</tr></tbody></table>"


def _page(title: str, body: list[str]) -> str:
    start = f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>'
    start += f"<style>{STYLE}{CARD_STYLE}</style></head><body><main>\n"
    return start + "\n".join(body) + "\n</main></body></html>\n"

"""What only the shafts lessons show: a key beside the spline, the verdict on what was measured, the cards."""

from __future__ import annotations

from typing import Any

from evlib.build import coupling
from evlib.build.cut_card import cut_card, hub_card
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.folder import folder, write_atomically
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.shafts import cut_plan, dudley, key, tables, torsion

STRESS = {"SI": "MPa", "shop": "psi"}
KEY_STEEL = 350e6  # Pa; yield of bright key steel, catalogue value


def key_beside_spline(build: Build) -> Shown:
    """A standard key beside the build's spline on the far shaft: one torque, one length, one factor for shock."""
    b = View(build.parts)
    mine, part = coupling.sleeve_strength(b), b.coupling.far_shaft
    plain, diameter, length = coupling.one_torque(b), part.shaft_diameter, coupling.engagement(b).least
    torque = plain * mine.application
    size = key.metric_key(diameter)
    s = key.key_stress(
        torque, shaft_diameter=diameter, key_width=size.width, key_height=size.height, key_length=length
    )  # fmt: skip
    teeth = _teeth(build)
    sides = dudley.tooth_compression(torque, fit="flexible", root_form=b.coupling.sleeve.root_form, **teeth)
    shear = dudley.tooth_shear(torque, **teeth)
    bare = torsion.shear_stress(torque, shaft_diameter=diameter)
    screw = key.screw_torque(8000.0, shaft_diameter=diameter)
    same = f"{float(plain):.1f} N m × Ka {float(mine.application):g} = {float(torque):.0f} N m"
    yields = _share(s.crush, KEY_STEEL)
    rows = (
        ("size", f"{1000 * size.width:.0f} × {1000 * size.height:.0f} mm, one", f"{teeth['spline_teeth']:.0f} teeth"),
        ("torque, the same", same, same),
        ("length that holds, the same", f"{1000 * float(length):.1f} mm", f"{1000 * float(length):.1f} mm"),
        ("pressure on the sides, nothing else in it", _stress(s.crush), _stress(sides)),
        ("shear, nothing else in it", _stress(s.shear), _stress(shear)),
        ("if nothing can move: used", f"{yields} of the yield of its steel", _fixed(build)),
        ("if it rocks or slides: used", "not made for it: it hammers loose", _flexible(build)),
        ("shaft beneath, Ka in it: stress × raiser", _raised(bare, tables.KEYSEAT_TORSION),
         _raised(bare, part.shaft_notch)),
        ("set screw of 8 kN alone", f"holds {screw:.0f} N m of {float(torque):.0f} N m", ""),
    )  # fmt: skip
    return table(("what", "key", "spline"), rows)


def _raised(stress: Any, raiser: float) -> str:
    return f"{_stress(stress)} × {raiser:g} = {_stress(stress * raiser)}"


def _teeth(build: Build) -> dict[str, Any]:
    b = View(build.parts)
    part = b.coupling.sleeve
    return {"spline_teeth": part.spline_teeth, "spline_module": part.spline_module,
            "engagement": coupling.engagement(b).least}  # fmt: skip


def _with(build: Build, fit: str) -> coupling.SleeveStrength:
    return coupling.sleeve_strength(View(build.changed({"coupling.sleeve.spline_fit": fit}).parts))


def _fixed(build: Build) -> str:
    s = _with(build, "fixed")
    return f"{_share(s.compression, s.compression_allowed)} by the handbook's formula for fixed"


def _flexible(build: Build) -> str:
    s = _with(build, "flexible")
    return f"{_share(s.compression, s.compression_allowed)} by the formula for flexible"


def factor_table(build: Build) -> Shown:
    """From the bare pressure to the flexible and the fixed compression, factor by factor, each with its origin."""
    b = View(build.parts)
    c, part, teeth = b.coupling, b.coupling.sleeve, _teeth(build)
    bare = dudley.tooth_compression(coupling.one_torque(b), fit="flexible", root_form=part.root_form, **teeth)
    rocks, tight = _with(build, "flexible"), _with(build, "fixed")
    angle, wide = 1000 * part.misalignment, 1000 * float(teeth["engagement"])
    rows = (
        ("pressure, all factors 1", "", _stress(bare),
         f"{float(coupling.one_torque(b)):.1f} N m on {wide:.1f} mm, as by hand above"),
        ("× application", "Ka", f"{float(c.application_factor):g}", "table II: an even motor, light shock behind it"),
        ("× load distribution", "Km", f"{float(rocks.load):.2f}", f"table IV: {angle:.1f} mm/m, {wide:.0f} mm wide"),
        ("÷ wear life, flexible", "Kw", f"{float(rocks.life):.3f}", f"table VI: {c.spline_revolutions:,.0f} turns"),
        ("= flexible", "", _stress(rocks.compression), "equation 4"),
        ("or ÷ fatigue life, fixed", "Kf", f"{float(tight.life):.2f}",
         f"table III: {c.launch_cycles:,.0f} launches, torque one way"),
        ("and ÷ 9, fixed", "", "9", "equation 5, as the handbook has it"),
        ("= fixed", "", _stress(tight.compression), f"Km is {float(tight.load):g} there"),
        ("the steel may bear", "", _stress(rocks.compression_allowed),
         "table V, for the weakest steel of sleeve and shafts"),
        ("used", "", f"{_share(rocks.compression, rocks.compression_allowed)} flexible, "
         f"{_share(tight.compression, tight.compression_allowed)} fixed", ""),
    )  # fmt: skip
    return table(("step", "symbol", "value", "where it comes from"), rows)


def dudley_tables() -> Shown:
    """The handbook's tables behind the factors, in full."""
    shocks = ("even", "light shock", "intermittent", "heavy")
    wide = tuple(f"{1000 * tables.INCH * inches:.0f} mm wide" for inches in tables.FACE_WIDTHS)
    strengths = ("shear", "pressure, straight", "pressure, crowned", "tension")
    made = (
        table(("Ka (table II), drive", *shocks),
              [(name, *(f"{v:g}" for v in row)) for name, row in tables.APPLICATION.items()]),
        table(("Km (table IV), angle", *wide),
              [(f"{1000 * angle:g} mm/m", *(f"{v:g}" for v in row))
               for angle, row in zip(tables.MISALIGNMENTS, tables.LOAD_DISTRIBUTION, strict=True)]),
        table(("Kf (table III), launches", "torque one way", "torque both ways"),
              [(f"{cycles:,.0f}", f"{one:g}", f"{turned:g}") for cycles, one, turned in tables.FATIGUE_LIFE]),
        table(("turns", "Kw (table VI)"), [(f"{turns:,.0f}", f"{factor:g}") for turns, factor in tables.WEAR_LIFE]),
        table(("the steel may bear (I, V, VII)", *strengths),
              [(name, *(f"{v / 1e6:.1f} MPa" for v in (s.shear, s.straight, s.crowned, s.tension)))
               for name, s in tables.SPLINE_STEEL.items()]),
    )  # fmt: skip
    return Shown("\n\n".join(map(repr, made)), "".join(each._repr_html_() for each in made))


def gap_ways(build: Build) -> Shown:
    """The gap that is left when hot, added up in three ways: as planned with its tolerances, and as measured."""
    b = View(build.parts)
    cut, far, near = b.coupling.cut, b.coupling.far_shaft, b.coupling.near_shaft
    closing = float(coupling.closing(b).worst)
    planned = cut.face_distance - far.cut_length - near.cut_length
    rows = []
    for name, gap, face, each in (("as planned", planned, cut.face_tolerance, cut.cut_tolerance),
                                  ("as measured", cut.measured_gap, 0.0, 0.0)):  # fmt: skip
        common = {"far_float": far.end_float, "near_float": near.end_float, "face_tolerance": face,
                  "cut_tolerance": each}  # fmt: skip
        stack = cut_plan.gap_left(gap, closing=closing, **common)
        drawn = cut_plan.touch_chance(gap, closing=closing, closing_spread=0.15, **common)
        rows.append((name, small(gap), small(stack.worst), small(stack.square_root), small(drawn.one_in_hundred),
                     f"{100 * drawn.chance:.1f} %"))  # fmt: skip
    head = ("gap cold", "is", "hot, all at their worst", "hot, root sum square", "hot, 1 draw in 100 has less",
            "draws that touch")  # fmt: skip
    return table(head, rows)


def lock_table(build: Build) -> Shown:
    """What a locked spline pushes into the bearings of this build, by where the rotors lie when the torque comes."""
    b = View(build.parts)
    far, near = b.coupling.far_shaft, b.coupling.near_shaft
    closing, floats = coupling.closing(b).worst, far.end_float + near.end_float
    force = dudley.lock_force(
        coupling.one_torque(b), base_diameter=coupling.geometry(b).base_diameter,
        friction=b.coupling.sleeve.spline_friction,
    )  # fmt: skip
    careful = cut_plan.locked_thrust(force, closing=closing)
    lucky = cut_plan.locked_thrust(force, closing=closing, far_float=far.end_float, near_float=near.end_float)
    rows = (
        ("growth that must go somewhere", small(closing)),
        ("end floats of both rotors", small(floats)),
        ("pushed, none of the float free (the check)", both(careful, "N")),
        ("pushed, all of the float free", both(lucky, "N")),
        ("the weaker located bearing may carry", both(min(far.bearing_thrust, near.bearing_thrust), "N")),
    )
    return table(("what", "value"), rows)


def small(value: Any) -> str:
    """A gap, float or growth, in millimetres and in thousandths of an inch."""
    return f"{units.figures(1000 * float(value))} mm ({float(value) / tables.INCH * 1000:.1f} thou)"


def measured(build: Build, gap: str) -> Shown:
    """The verdict on the pair, for a gap measured with each rotor pushed into its motor, as text with its unit."""
    value = units.read(gap, "m")
    found: cut_plan.CutVerdict = coupling.verdict(View(build.changed({"coupling.cut.measured_gap": value}).parts))
    by = f" by {small(found.amount)}" if found.action in ("shim", "take off more") else ""
    by += ", or the next thicker that is sold" if found.action == "shim" else ""
    rows = [
        ("gap measured", small(value)),
        ("gap that is really there, floats deducted", small(found.true_gap)),
        ("gap needed for growth and reserve", small(found.gap_needed)),
        ("verdict", found.action + by),
    ]  # fmt: skip
    return table(("what", "value"), rows)


def write_cards(build: Build) -> None:
    """Write the cut card and the hub card into your own folder."""
    path = folder() / "sheets"
    path.mkdir(exist_ok=True)
    write_atomically(path / "cut_card.html", cut_card(build))
    write_atomically(path / "hub_card.html", hub_card(build))
    print("Written: sheets/cut_card.html and sheets/hub_card.html in your own folder. Each prints on one page.")


def _stress(value: Any) -> str:
    return units.show(float(value), "Pa", shown=STRESS)


def _share(value: Any, allowed: Any) -> str:
    return f"{100 * float(value) / float(allowed):.0f} %"


def say_shock(build: Build, *, shock: float) -> str:
    """What a shock factor makes of the torques, in one sentence."""
    torques = coupling.line(View(build.changed({"coupling.shock_factor": shock}).parts))
    now = coupling.line(View(build.parts))
    return (
        f"The sleeve goes from {both(now.sleeve, 'N m')} to {both(torques.sleeve, 'N m')}, the gearbox input from "
        f"{both(now.gearbox_input, 'N m')} to {both(torques.gearbox_input, 'N m')}: each by the same factor."
    )


def say_fit(build: Build) -> str:
    """What the other declaration makes of the compression, in one sentence."""
    stresses = {
        fit: coupling.sleeve_strength(View(build.changed({"coupling.sleeve.spline_fit": fit}).parts)).compression
        for fit in ("flexible", "fixed")
    }
    times = float(stresses["flexible"]) / float(stresses["fixed"])
    return f"Flexible {_stress(stresses['flexible'])}, fixed {_stress(stresses['fixed'])}: {times:.1f} times less."


def say_located(build: Build, *, end: str) -> str:
    """What gap is left when both rotors are located at one end, in one sentence."""
    changes = {f"coupling.{side}_shaft.located_bearing": end for side in ("far", "near")}
    b = View(build.changed(changes).parts)
    left = b.coupling.cut.measured_gap - b.coupling.far_shaft.end_float - b.coupling.near_shaft.end_float
    left = float(left - coupling.closing(b).worst)
    minutes = float(coupling.closing(b).time) / 60
    word = f"{small(left)} are left" if left >= 0 else f"The shafts press on each other by {small(-left)}"
    return f"{word} at the worst, {minutes:.0f} minutes after a cold start, floats deducted."

"""What only the shafts lessons show: a key beside the spline, the verdict on what was measured, the cards."""

from __future__ import annotations

import math
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
from evlib.shafts import dudley, key, tables, torsion
from evlib.shafts.cut_plan import CutVerdict

STRESS = {"SI": "MPa", "shop": "psi"}
KEY_STEEL = 350e6  # Pa; yield of bright key steel, catalogue value


def key_beside_spline(build: Build) -> Shown:
    """A standard key and the build's spline, both on the far shaft, for the torque of one machine with shock."""
    b = View(build.parts)
    mine = coupling.sleeve_strength(b)
    torque, part = coupling.line(b).sleeve, b.coupling.far_shaft
    diameter = part.shaft_diameter
    size = key.metric_key(diameter)
    length = coupling.engagement(b).least
    s = key.key_stress(
        torque, shaft_diameter=diameter, key_width=size.width, key_height=size.height, key_length=length
    )  # fmt: skip
    bare = torsion.shear_stress(torque, shaft_diameter=diameter)
    screw = key.screw_torque(8000.0, shaft_diameter=diameter)
    rows = (
        ("key, standard size", f"{1000 * size.width:.0f} x {1000 * size.height:.0f} x {1000 * length:.0f} mm", ""),
        ("key, crushing on its side", _stress(s.crush), _share(s.crush, KEY_STEEL)),
        ("key, shear", _stress(s.shear), _share(s.shear, KEY_STEEL / math.sqrt(3))),
        ("shaft at the keyseat, raiser 3.0", _stress(tables.KEYSEAT_TORSION * bare), "fatigue starts here"),
        (f"spline, compression, {mine.fit}", _stress(mine.compression),
         _share(mine.compression, mine.compression_allowed)),
        ("spline, tooth shear", _stress(mine.shear), _share(mine.shear, mine.shear_allowed)),
        ("set screw of 8 kN", f"holds {both(screw, 'N m')}", f"asked: {both(torque, 'N m')}"),
    )  # fmt: skip
    return table(("what", "size or stress", "of what it may bear"), rows)


def fixed_or_flexible(build: Build) -> Shown:
    """The compression on the build's spline, declared either way."""
    b = View(build.parts)
    part, c, held = b.coupling.sleeve, b.coupling, coupling.engagement(b).least
    lives = {"flexible": dudley.wear_factor(c.spline_revolutions), "fixed": dudley.fatigue_factor(c.launch_cycles)}
    allowed = coupling.sleeve_strength(b).compression_allowed
    rows = []
    for fit in ("flexible", "fixed"):
        stress = dudley.tooth_compression(
            coupling.one_torque(b), spline_teeth=part.spline_teeth, spline_module=part.spline_module, engagement=held,
            fit=fit, application_factor=c.application_factor, life_factor=lives[fit],
        )  # fmt: skip
        rows.append((fit, _stress(stress), _stress(allowed), _share(stress, allowed)))
    return table(("declared", "compression, factors in", "the steel may bear", "used"), rows)


def measured(build: Build, gap: str) -> Shown:
    """The verdict on the pair, for a gap measured with both shafts pushed home by hand, as text with its unit."""
    value = units.read(gap, "m")
    found: CutVerdict = coupling.verdict(View(build.changed({"coupling.cut.measured_gap": value}).parts))
    by = f" by {both(found.amount, 'm')}" if found.action in ("shim", "take off more") else ""
    rows = [
        ("gap measured", both(value, "m")),
        ("gap that is really there, floats deducted", both(found.true_gap, "m")),
        ("gap needed for growth and reserve", both(found.gap_needed, "m")),
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
    word = f"{both(left, 'm')} are left" if left >= 0 else f"The shafts press on each other by {both(-left, 'm')}"
    return f"{word} at the worst, {minutes:.0f} minutes after a cold start, floats deducted."

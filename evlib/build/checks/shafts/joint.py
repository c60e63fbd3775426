"""Checks of the gearbox joint: the input spline, the pump's drive, its clearance, its centring."""

from __future__ import annotations

import numpy as np

from evlib.build import coupling
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.errors import DoesNotApply
from evlib.shafts import dudley, joint, torsion

TOPIC = "shafts"


@check("input spline", topic=TOPIC)
def input_spline(b: View) -> Check:
    """Compression on the gearbox input's spline, which carries both machines."""
    part, c = b.coupling.gearbox_joint, b.coupling
    fixed = part.joint_fit == "fixed"
    life = dudley.fatigue_factor(c.launch_cycles) if fixed else dudley.wear_factor(c.spline_revolutions)
    torque = coupling.both_torque(b)
    stress = dudley.tooth_compression(
        torque, spline_teeth=part.joint_teeth, spline_module=part.joint_module, engagement=part.joint_engagement,
        fit=part.joint_fit, application_factor=c.application_factor, life_factor=life,
    )  # fmt: skip
    allowed = dudley.allowable(part.joint_steel, mode="compression", tooth_form="straight")
    working = Working(
        f"{part.joint_fit}: Sc = 2 T Ka / ({'9 ' if fixed else ''}D N Le h K)",
        {"T": (torque, "N m"), "Le": (part.joint_engagement, "m"), "K": (life, "")},
        (stress, "Pa"),
    )
    return Check(
        "input spline", TOPIC, stress, allowed, "Pa", working, dudley.SOURCE,
        "More engagement: a longer adapter hub, or a truly fixed fit.",
    )  # fmt: skip


def _pump(b: View) -> View:
    part: View = b.coupling.gearbox_joint
    if part.pump_drive == "no pump":
        raise DoesNotApply("this gearbox has no internal pump")
    return part


@check("pump drive", topic=TOPIC)
def pump_drive(b: View) -> Check:
    """Strength of what turns the gearbox's internal pump; a factor of two is wanted."""
    part = _pump(b)
    torque = part.pump_drive_torque
    if part.pump_drive == "splined hub":
        shear = torsion.shear_stress(torque, shaft_diameter=part.pump_hub_diameter, shaft_bore=part.pump_hub_bore)
        stress, equation = (
            torsion.equivalent_stress(0.0, torsion_stress=shear),
            "s = sqrt(3) 16 T d / (pi (d^4 - d0^4))",
        )
    else:
        s = joint.tang_stress(
            torque, tang_count=part.tang_count, tang_radius=part.tang_radius, tang_width=part.tang_width,
            tang_depth=part.tang_depth, tang_engagement=part.tang_engagement,
        )  # fmt: skip
        stress = np.maximum(torsion.equivalent_stress(s.bending, torsion_stress=s.shear), s.bearing)
        equation = "F = T / (n r); s = sqrt((3 F Lt / (h w^2))^2 + 3 (F / (w h))^2), or bearing F / (h Lt)"
    working = Working(equation, {"T": (torque, "N m")}, (stress, "Pa"))
    return Check(
        "pump drive", TOPIC, stress, part.pump_hub_yield, "Pa", working, "beam theory; von Mises",
        "Tangs wider or more of them; check that all bear.", target=1.0,
    )  # fmt: skip


@check("hub clearance", topic=TOPIC)
def hub_clearance(b: View) -> Check:
    """Axial clearance between the hub and the bottom of the pump's drive when hot."""
    part = _pump(b)
    grow = coupling.growth_to_pump(b)
    left = joint.pump_gap(part.pump_depth, hub_reach=part.hub_reach, hub_float=part.hub_float, growth=grow)
    working = Working(
        "c = dp - rh - f - dL",
        {"dp": (part.pump_depth, "m"), "rh": (part.hub_reach, "m"), "f": (part.hub_float, "m"), "dL": (grow, "m")},
        (left, "m"),
    )
    return Check(
        "hub clearance", TOPIC, part.pump_clearance, left, "m", working, "geometry",
        "Shorten the hub: a hub that bottoms breaks the pump on the first start.", target=0.05,
    )  # fmt: skip


@check("pilot run-out", topic=TOPIC)
def pilot_runout(b: View) -> Check:
    """Run-out of the hub in the pump's bush."""
    part = _pump(b)
    offset = joint.pilot_offset(part.pilot_runout)
    working = Working("e = ro / 2", {"ro": (part.pilot_runout, "m")}, (offset, "m"))
    return Check(
        "pilot run-out", TOPIC, part.pilot_runout, part.pilot_limit, "m", working, "the gearbox's manual",
        "Move the adapter on its dowels until the dial is within the limit; then pin it.",
    )  # fmt: skip

"""Shafts: sums done by another way, number by number, and dimensional homogeneity."""

import math

import numpy as np
import pytest

from evlib.shafts import bolts, cut_plan, dudley, growth, joint, key, package, torsion

near = pytest.approx


# --- by another way, number by number --------------------------------------------------------------------------


def test_worst_gap_by_trying_every_corner():
    """Every tolerance at either end, every rotor at either end of its float: the smallest gap of all of them."""
    gap, closing, floats, face, cut = 0.9e-3, 0.2e-3, (0.08e-3, 0.12e-3), 0.05e-3, 0.07e-3
    left = cut_plan.gap_left(
        gap, closing=closing, far_float=floats[0], near_float=floats[1], face_tolerance=face, cut_tolerance=cut
    )  # fmt: skip
    corners = [
        gap - closing - a * floats[0] - b * floats[1] + c * face + d * cut + e * cut
        for a in (0, 1) for b in (0, 1) for c in (-1, 1) for d in (-1, 1) for e in (-1, 1)
    ]  # fmt: skip
    assert left.worst == near(min(corners))
    # each cause alone, then together: squares add up, and two cuts are two causes
    none = {"far_float": 0.0, "near_float": 0.0, "face_tolerance": 0.0, "cut_tolerance": 0.0}
    alone = [
        gap - closing - cut_plan.gap_left(gap, closing=closing, **{**none, name: value}).square_root
        for name, value in (("face_tolerance", face), ("cut_tolerance", cut))
    ]
    assert alone == near([face, math.sqrt(2) * cut])
    middle = gap - closing - sum(floats) / 2
    both = math.sqrt((floats[0] / 2) ** 2 + (floats[1] / 2) ** 2 + alone[0] ** 2 + alone[1] ** 2)
    assert left.square_root == near(middle - both)


def test_verdict_by_hand():
    """0.35 mm measured, floats 0.12 and 0.08, growth 0.15, reserve 0.10: nothing left, 0.10 short."""
    v = cut_plan.cut_verdict(
        0.35e-3, far_float=0.12e-3, near_float=0.08e-3, closing=0.15e-3, gap_reserve=0.10e-3, shim_room=0.3e-3,
        engagement_spare=5e-3,
    )  # fmt: skip
    assert (v.true_gap, v.gap_needed) == near((0.15e-3, 0.25e-3))
    assert (v.action, v.amount) == ("shim", near(0.10e-3))


def test_friction_of_a_ring_bolt_by_bolt():
    """Each bolt's friction acts along its circle: force vectors summed as moments about the axis."""
    count, circle, clamp, mu = 7, 0.19, 15e3, 0.14
    angle = 2 * math.pi * np.arange(count) / count
    place = circle / 2 * np.column_stack([np.cos(angle), np.sin(angle)])
    force = mu * clamp * np.column_stack([-np.sin(angle), np.cos(angle)])
    moment = np.sum(place[:, 0] * force[:, 1] - place[:, 1] * force[:, 0])
    held = bolts.friction_torque(clamp, bolt_count=count, bolt_circle=circle, face_friction=mu)
    assert held == near(moment)


def test_tang_as_a_beam():
    """M c / I of a cantilever loaded at half its length; shear and bearing over their own areas."""
    torque, count, radius, width, depth, reach = 18.0, 3, 0.021, 0.009, 0.0045, 0.007
    s = joint.tang_stress(
        torque, tang_count=count, tang_radius=radius, tang_width=width, tang_depth=depth, tang_engagement=reach
    )  # fmt: skip
    force = torque / count / radius
    inertia = depth * width**3 / 12
    assert s.bending == near(force * reach / 2 * (width / 2) / inertia)
    assert s.shear * width * depth == near(force)
    assert s.bearing * depth * reach == near(force)


def test_pump_gap_and_the_hub_that_keeps_it():
    """30.0 - 27.0 - 0.3 - 0.2 = 2.5 mm; the hub cut for that clearance reaches 27.0 mm again."""
    left = joint.pump_gap(0.0300, hub_reach=0.0270, hub_float=0.0003, growth=0.0002)
    assert left == near(0.0025)
    assert joint.hub_reach_wanted(0.0300, pump_clearance=left, hub_float=0.0003, growth=0.0002) == near(0.0270)


def test_overhung_weight():
    """80 kg, 0.20 m out, at 9.80665 m/s2: 156.9 N m."""
    assert package.overhung_moment(80, distance=0.20) == near(156.906, abs=0.001)


def test_centre_of_gravity_balances():
    masses, places = [80.0, 7.5, 60.0], [0.2, 0.5, 1.1]
    centre = package.centre_of_gravity(masses, places=places)
    assert sum(m * (x - centre) for m, x in zip(masses, places, strict=True)) == near(0, abs=1e-12)


def test_preload_and_its_scatter():
    """T = K F d back again; the scatter lies evenly about the mean."""
    p = bolts.preload(36.0, bolt_diameter=0.010, nut_factor=0.18, preload_scatter=0.3)
    assert 0.18 * p.mean * 0.010 == near(36.0)
    assert (p.least + p.most) / 2 == near(p.mean)
    assert (p.most - p.least) / (2 * p.mean) == near(0.3)


# --- size does not matter: dimensional homogeneity -------------------------------------------------------------

SPLINE = {"spline_teeth": 18, "spline_module": 0.002, "engagement": 0.02}


def _scaled(values, size):
    """Lengths grow by ``size``, torques by its cube: every stress must stay as it was."""
    power = {"spline_teeth": 0, "torque": 3, "pressure_angle": 0, "running_speed": -1, "tang_count": 0, "key_count": 0}
    return {name: value * size ** power.get(name, 1) for name, value in values.items()}


STRESSES = {
    "shear": (torsion.shear_stress, {"torque": 300.0, "shaft_diameter": 0.03, "shaft_bore": 0.01}),
    "teeth": (dudley.tooth_shear, {"torque": 200.0, **SPLINE}),
    "roots": (dudley.shear_under_roots, {"torque": 200.0, "root_diameter": 0.032}),
    "compression": (
        lambda **v: dudley.tooth_compression(fit="flexible", **v), {"torque": 200.0, **SPLINE},
    ),
    "hub": (
        lambda **v: dudley.hub_burst(**v).total,
        {"torque": 200.0, **SPLINE, "pressure_angle": 0.5236, "sleeve_diameter": 0.055, "internal_major": 0.0396,
         "running_speed": 500.0},
    ),
    "key": (
        lambda **v: key.key_stress(**v).crush,
        {"torque": 200.0, "shaft_diameter": 0.03, "key_width": 0.008, "key_height": 0.007, "key_length": 0.03},
    ),
    "tang": (
        lambda torque, **v: joint.tang_stress(torque, **v).bending,
        {"torque": 15.0, "tang_count": 2, "tang_radius": 0.022, "tang_width": 0.010, "tang_depth": 0.004,
         "tang_engagement": 0.008},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", STRESSES)
@pytest.mark.parametrize("size", [0.5, 1.7])
def test_a_model_of_another_size_has_the_same_stress(name, size):
    """All lengths by one factor, torque by its cube, speed by its inverse (same rim speed): the stress stays."""
    function, values = STRESSES[name]
    assert function(**_scaled(values, size)) == near(function(**values), rel=1e-9)


def test_lengths_grow_with_lengths():
    """Growth, gap and engagement are lengths: all of them scale alike."""
    for size in (0.5, 2.0):
        small, large = (
            growth.machine_growth(
                0.03 * s, located_bearing="far end", bearing_span=0.2 * s, bearing_depth=0.02 * s, armature_rise=90,
                frame_rise=40,
            )
            for s in (1.0, size)
        )  # fmt: skip
        assert (large.armature, large.frame) == near((size * small.armature, size * small.frame))
        one, other = (
            cut_plan.sleeve_engagement(
                0.08 * s, far_cut=0.039 * s, near_cut=0.038 * s, sleeve_length=0.05 * s, sleeve_kept="rings",
                sleeve_float=0.002 * s, sleeve_chamfer=0.001 * s, far_chamfer=0.001 * s, near_chamfer=0.001 * s,
            )
            for s in (1.0, size)
        )  # fmt: skip
        assert (other.least, other.room) == near((size * one.least, size * one.room))


def test_more_metal_is_never_worse():
    """A thicker wall, a longer overlap and a thicker shaft each lower their stress."""
    wall = dudley.hub_burst(
        200.0, pressure_angle=0.5236, sleeve_diameter=np.linspace(0.045, 0.09, 20), internal_major=0.0396, **SPLINE
    )
    assert (np.diff(wall.total) < 0).all()
    longer = dudley.tooth_compression(
        200.0, spline_teeth=18, spline_module=0.002, engagement=np.linspace(0.005, 0.05, 20), fit="flexible"
    )
    assert (np.diff(longer) < 0).all()
    assert (np.diff(torsion.shear_stress(200.0, shaft_diameter=np.linspace(0.02, 0.06, 20))) < 0).all()

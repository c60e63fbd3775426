"""Shafts: errors, shapes, and columns that equal their single values."""

import dataclasses
import math

import numpy as np
import pytest

from evlib.ground.errors import OutOfRange
from evlib.shafts import bolts, cut_plan, dudley, fatigue, fits, growth, joint, key, parts, spline, tables, torsion
from evlib.shafts import vibration as vib

near = pytest.approx


def test_a_coupling_reads_shop_units():
    c = parts.Coupling(cut={"face_distance": "3 in", "measured_gap": "20 thou"}, sleeve={"spline_module": "1/16 in"})
    assert c.cut.face_distance == near(0.0762)
    assert c.cut.measured_gap == near(0.508e-3)
    assert c.sleeve.spline_module == near(0.0254 / 16)
    assert c.far_shaft is None


@pytest.mark.parametrize(
    ("values", "word"),
    [({"sleeve": {"spline_teeth": 17.5}}, "whole number"), ({"sleeve": {"spline_fit": "loose"}}, "fixed"),
     ({"shock_factor": 0.5}, "at least 1"), ({"cut": {"face_distance": "3 kg"}}, "kg")],
)  # fmt: skip
def test_a_wrong_coupling_says_what_is_allowed(values, word):
    with pytest.raises(ValueError, match=word):
        parts.Coupling(**values)


@pytest.mark.parametrize(
    "call",
    [
        lambda: dudley.fatigue_factor(1e8),
        lambda: dudley.wear_factor(1e3),
        lambda: dudley.load_factor(0.001, engagement=0.2),
        lambda: dudley.load_factor(0.009, engagement=0.02),
        lambda: key.inch_key_width(0.0254 * 4),
        lambda: key.inch_key_width(0.0254 * 0.25),
        lambda: key.metric_key(0.012),
        lambda: key.metric_key(0.080),
        lambda: fits.standard_tolerance(0.003, grade=6),
        lambda: fits.standard_tolerance(0.2, grade=6),
        lambda: bolts.proof_stress(0.045, bolt_class="8.8"),
        lambda: fatigue.endurance_limit(800e6, diameter=0.002),
        lambda: fatigue.notch_factor(2.0, notch_radius=0.001, ultimate=300e6),
        lambda: fatigue.cycles_to_failure(800e6, endurance=300e6, ultimate=800e6),
    ],
)
def test_outside_a_table_is_refused(call):
    """Nothing is clamped or extrapolated in silence."""
    with pytest.raises(ValueError, match=r"outside|allowed"):
        call()


def test_out_of_range_names_its_source():
    with pytest.raises(OutOfRange, match="ISO 898-1"):
        bolts.proof_stress(0.045, bolt_class="8.8")


@pytest.mark.parametrize(
    ("call", "word"),
    [
        (lambda: torsion.shear_stress(10, shaft_diameter=0.02, shaft_bore=0.02), "shaft_bore"),
        (lambda: torsion.shear_stress(math.nan, shaft_diameter=0.02), "torque"),
        (lambda: torsion.shear_stress(10, shaft_diameter=-0.02), "shaft_diameter"),
        (lambda: key.groove_raiser(0.02, groove_radius=0.01), "groove_radius"),
        (lambda: spline.spline_geometry(20, spline_module=0.002, pressure_angle=0.45, root_form="flat"), "allowed"),
        (lambda: spline.spline_geometry(20.5, spline_module=0.002, pressure_angle=0.52, root_form="flat"), "whole"),
        (lambda: cut_plan.tolerance_stack([1.0], [0.1, 0.2]), "tolerances"),
        (lambda: vib.torsional_modes([1.0], stiffnesses=[]), "stiffnesses"),
        (lambda: vib.torsional_modes([1.0, 0.0], stiffnesses=[1.0]), "more than 0"),
        (lambda: vib.whirl([1.0], places=[0.9], span=0.8, shaft_diameter=0.03), "bearings"),
        (lambda: fatigue.damage([1.0], lives=[0.0]), "life"),
        (lambda: fatigue.reversing_equivalent(1e6, mean=900e6, ultimate=800e6), "mean"),
    ],
)
def test_nonsense_is_refused_by_name(call, word):
    with pytest.raises(ValueError, match=word):
        call()


def test_a_shaft_too_short_to_be_cut():
    with pytest.raises(ValueError, match="near_projection"):
        cut_plan.cut_lines(0.0762, gap=0.0005, far_projection=0.09, near_projection=0.03)


def test_a_sleeve_without_a_wall():
    with pytest.raises(ValueError, match="no wall"):
        dudley.hub_burst(
            100, spline_teeth=18, spline_module=0.002, pressure_angle=math.radians(30), engagement=0.02,
            sleeve_diameter=0.039, internal_major=0.040,
        )  # fmt: skip


def test_the_fit_must_be_declared():
    with pytest.raises(TypeError, match="fit"):
        dudley.tooth_compression(100, spline_teeth=18, spline_module=0.002, engagement=0.02)


def test_boundaries_of_the_verdict():
    """At each edge: a gap that just suffices goes; a shim as thick as the room is still a shim; spline to the last."""
    args = {"far_float": 0.0, "near_float": 0.0, "closing": 1e-4, "gap_reserve": 1e-4, "shim_room": 3e-4}
    decide = lambda gap, spare: cut_plan.cut_verdict(gap, engagement_spare=spare, **args).action  # noqa: E731
    assert decide(2e-4, 0.0) == "go"
    assert decide(2e-4, -1e-6) == "reject"
    assert decide(-1e-4, 3e-4) == "shim"
    assert decide(-1.01e-4, 5e-4) == "take off more"
    assert decide(-1e-4, 2.9e-4) == "reject"


@pytest.mark.parametrize(("closing", "thrust"), [(2e-4, 0.0), (2.0001e-4, 1800.0), (0.0, 0.0)])
def test_lock_bites_only_past_the_float(closing, thrust):
    found = cut_plan.locked_thrust(1800.0, closing=closing, far_float=1e-4, near_float=1e-4)
    assert found == thrust


COLUMN = np.array([50.0, 190.0, 400.0])
CASES = {
    "shear": lambda t: torsion.shear_stress(t, shaft_diameter=0.03),
    "line": lambda t: torsion.line_torque(t, near_torque=190, shock_factor=1.5, gear_ratio=1.76),
    "hub": lambda t: dudley.hub_burst(
        t, spline_teeth=18, spline_module=0.002, pressure_angle=math.radians(30), engagement=0.02,
        sleeve_diameter=0.055, internal_major=0.0396, running_speed=500,
    ),
    "key": lambda t: key.key_stress(t, shaft_diameter=0.03, key_width=0.008, key_height=0.007, key_length=0.03),
    "lock": lambda t: dudley.lock_force(t, base_diameter=0.031, friction=0.15),
    "stub": lambda t: growth.machine_growth(
        t / 1e4, located_bearing="far end", bearing_span=0.3, bearing_depth=0.02, armature_rise=90, frame_rise=40
    ),
    "worst": lambda t: growth.worst_closing(t / 1e6, frame_growth=2e-4, armature_time=1200, frame_time=5400),
    "verdict": lambda t: cut_plan.cut_verdict(
        t / 1e6, far_float=5e-5, near_float=5e-5, closing=1e-4, gap_reserve=5e-5, shim_room=1e-4,
        engagement_spare=1e-3,
    ),
    "tang": lambda t: joint.tang_stress(
        t / 10, tang_count=2, tang_radius=0.022, tang_width=0.01, tang_depth=0.004, tang_engagement=0.008
    ),
    "preload": lambda t: bolts.preload(t, bolt_diameter=0.01, nut_factor=0.18, preload_scatter=0.3),
    "tolerance": lambda t: fits.standard_tolerance(t / 4000, grade=7),
    "metric key": lambda t: key.metric_key(t / 8000 + 0.012),
    "load factor": lambda t: dudley.load_factor(t / 1e5, engagement=0.03),
    "margins": lambda t: fatigue.fatigue_margin(
        t * 1e5, mean=1e8, endurance=250e6, ultimate=800e6, yield_strength=600e6
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_column_equals_its_single_values(name):
    function = CASES[name]
    column = function(COLUMN)
    singles = [function(float(value)) for value in COLUMN]
    fields = [f.name for f in dataclasses.fields(column)] if dataclasses.is_dataclass(column) else [None]
    for field in fields:
        whole = getattr(column, field) if field else column
        parts_of_it = [getattr(s, field) if field else s for s in singles]
        assert all(isinstance(value, float | str) for value in parts_of_it)
        spread = np.broadcast_to(whole, COLUMN.shape)
        if isinstance(parts_of_it[0], str):
            assert list(spread) == parts_of_it
        else:
            assert spread == near(parts_of_it)


def test_keys_at_the_edge_of_a_step():
    """Up to and including: 30 mm still takes the 8 mm key, 30.1 takes the 10 (ISO 773, from memory)."""
    assert key.metric_key(0.030).width == near(0.008)
    assert key.metric_key(0.0301).width == near(0.010)


def test_every_steel_of_the_part_has_a_row():
    import typing

    assert set(typing.get_args(parts.Steel)) == set(tables.SPLINE_STEEL)
    assert set(typing.get_args(parts.BoltClass)) == set(tables.PROOF_STRESS) == set(tables.TENSILE_STRENGTH)

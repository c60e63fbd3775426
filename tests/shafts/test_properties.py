"""Shafts: balances, limits, monotonicity, round trips and independent methods."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.shafts import bolts, cut_plan, dudley, fatigue, growth, key, spline, torsion
from evlib.shafts import vibration as vib

near = pytest.approx
fast = settings(max_examples=40, deadline=None)
torques = st.floats(1, 2000)
diameters = st.floats(0.012, 0.1)


# --- torsion ---------------------------------------------------------------------------------------------------


@fast
@given(torques, diameters, st.floats(0, 0.9))
def test_stress_carries_the_torque(torque, diameter, share):
    """Integrating the shear over the section gives the torque back: an independent way to J."""
    bore = share * diameter
    tau = torsion.shear_stress(torque, shaft_diameter=diameter, shaft_bore=bore)
    r = np.linspace(bore / 2, diameter / 2, 4001)
    stress = tau * r / (diameter / 2)
    assert np.trapezoid(stress * 2 * math.pi * r**2, r) == near(torque, rel=1e-4)


@fast
@given(st.floats(1, 500), diameters, st.floats(0, 0.9))
def test_bending_carries_the_moment(moment, diameter, share):
    """Summing stress times lever over the section, ring by ring, gives the moment back."""
    bore = share * diameter
    top = torsion.bending_stress(moment, shaft_diameter=diameter, shaft_bore=bore)
    r = np.linspace(bore / 2, diameter / 2, 4001)
    ring = math.pi * r**3 * top / (diameter / 2)  # y^2 round a ring of radius r sums to pi r^3
    assert np.trapezoid(ring, r) == near(moment, rel=1e-4)


@fast
@given(torques, torques, st.floats(1, 3), st.floats(-4, 4))
def test_line_balances(far, close, shock, ratio):
    """Every section's torque is held by the frames behind it, and the mounts hold what leaves the gearbox."""
    line = torsion.line_torque(far, near_torque=close, shock_factor=shock, gear_ratio=ratio)
    assert line.sleeve == line.far_shaft == line.near_entry == line.middle_flange == near(shock * far)
    assert line.near_exit == line.gearbox_input == line.adapter == near(shock * (far + close))
    assert line.mounts == near(line.adapter * abs(ratio))


def test_torque_behind_inertia_of_two_rotors():
    """Two rotors speeding up alone (nothing behind): what is left behind both is nothing."""
    acceleration = 2 * 190 / (2 * 0.12)
    one = torsion.torque_behind_inertia(190, inertia=0.12, acceleration=acceleration)
    assert 190 + one - 0.12 * acceleration == near(0, abs=1e-9)


@fast
@given(st.floats(0, 500e6), st.floats(0, 500e6))
def test_von_mises_from_principal_stresses(bending, shear):
    """The equivalent stress from the two principal stresses of Mohr's circle."""
    centre, radius = bending / 2, torsion.largest_shear(bending, torsion_stress=shear)
    first, second = centre + radius, centre - radius
    expected = math.sqrt(first**2 - first * second + second**2)
    assert torsion.equivalent_stress(bending, torsion_stress=shear) == near(expected, rel=1e-9, abs=1e-3)


# --- spline ----------------------------------------------------------------------------------------------------


@fast
@given(st.floats(0.01, 1.3))
def test_inverse_involute_round_trip(angle):
    assert spline.inverse_involute(spline.involute(angle)) == near(angle, rel=1e-9)


def _touch(outline_radius, outline_angle, centre):
    """Distance from a pin's centre to a flank given in polar form."""
    x, y = outline_radius * np.cos(outline_angle), outline_radius * np.sin(outline_angle)
    return float(np.min(np.hypot(x - centre, y)))


@pytest.mark.parametrize("teeth", [16, 17, 24, 36])
def test_pins_touch_the_true_flanks(teeth):
    """A pin where the formula puts it touches the involute flanks, found by brute force over a drawn flank."""
    module, angle, pin = 0.002, math.radians(30), 0.0038
    pitch_r = module * teeth / 2
    base_r = pitch_r * math.cos(angle)
    thickness = math.pi * module / 2
    radii = np.linspace(base_r, pitch_r * 1.3, 400_001)
    inv = np.tan(np.arccos(base_r / radii)) - np.arccos(base_r / radii)
    # external: the space is centred at angle 0; its flank stands half a space off at the pitch circle
    flank = (math.pi * module - thickness) / 2 / pitch_r - (math.tan(angle) - angle) + inv
    m = spline.over_pins(
        teeth, spline_module=module, pressure_angle=angle, tooth_width=thickness, pin_diameter=pin
    )  # fmt: skip
    even = teeth % 2 == 0
    centre = (m - pin) / 2 / (1 if even else math.cos(math.pi / 2 / teeth))
    assert _touch(radii, flank, centre) == near(pin / 2, rel=1e-5)
    # internal: the space narrows outward from the pitch circle
    flank = thickness / 2 / pitch_r + (math.tan(angle) - angle) - inv
    m = spline.between_pins(
        teeth, spline_module=module, pressure_angle=angle, space_width=thickness, pin_diameter=0.0034
    )  # fmt: skip
    centre = (m + 0.0034) / 2 / (1 if even else math.cos(math.pi / 2 / teeth))
    assert _touch(radii, flank, centre) == near(0.0034 / 2, rel=1e-5)


def test_outline_is_a_tooth_wide_at_the_pitch_circle():
    """Measured on the drawn outline: tooth width at the pitch circle, diameters, and as many teeth as asked for."""
    g = spline.spline_geometry(18, spline_module=0.002, pressure_angle=math.radians(30), root_form="fillet")
    line = spline.external_outline(g, teeth=18, points=400)
    r, a = np.hypot(line.x, line.y), np.unwrap(np.arctan2(line.x, line.y))
    assert (r.min() * 2, r.max() * 2) == near((g.external_minor, g.external_major), rel=1e-9)
    above = r > g.pitch_diameter / 2
    starts = np.flatnonzero(~above[:-1] & above[1:])
    assert len(starts) == 18
    first, last = starts[0], np.flatnonzero(above[:-1] & ~above[1:])[0]
    assert (a[last] - a[first]) * g.pitch_diameter / 2 == near(g.tooth_width, rel=2e-2)


COMMON = {"spline_teeth": 18, "spline_module": 0.002}


@fast
@given(torques, st.floats(0.01, 0.06))
def test_engagement_needed_meets_the_allowable(torque, length):
    """At the engagement that is called for, each stress equals what is allowed."""
    for stress in (
        lambda le: dudley.tooth_shear(torque, engagement=le, **COMMON),
        lambda le: dudley.tooth_compression(torque, engagement=le, fit="flexible", **COMMON),
    ):
        allowed = 5 * stress(length)
        needed = dudley.engagement_needed(stress(length), engagement=length, allowed=allowed)
        assert stress(needed) == near(allowed)


@pytest.mark.parametrize("launches", [1e3, 1e4, 1e5, 1e6])
def test_fixed_and_flexible_differ_several_fold(launches):
    """The declaration matters: at the same torque a flexible spline is asked several times as much."""
    kf, kw = dudley.fatigue_factor(launches), dudley.wear_factor(5e8)
    fixed = dudley.tooth_compression(200, engagement=0.02, fit="fixed", life_factor=kf, **COMMON)
    flexible = dudley.tooth_compression(200, engagement=0.02, fit="flexible", life_factor=kw, **COMMON)
    assert flexible / fixed == near(9 * kf / kw)
    assert flexible > 3 * fixed


def test_life_factors_fall_with_life():
    cycles, turns = np.geomspace(1e3, 1e7, 50), np.geomspace(1e4, 1e10, 50)
    assert (np.diff(dudley.fatigue_factor(cycles)) < 0).all()
    assert (np.diff(dudley.wear_factor(turns)) < 0).all()
    both = dudley.fatigue_factor(cycles, reversed_load=True)
    assert (both <= dudley.fatigue_factor(cycles) + 1e-12).all()


def test_load_factor_rises_and_begins_at_one():
    angles, widths = np.linspace(0, 0.008, 41), np.array([[0.005], [0.0127], [0.03], [0.1]])
    factor = dudley.load_factor(angles, engagement=widths)
    assert factor.shape == (4, 41)
    assert factor[:, 0] == near(1.0)
    assert (np.diff(factor, axis=1) >= -1e-12).all()
    assert (np.diff(factor, axis=0) >= -1e-12).all()


@fast
@given(torques, st.floats(0.05, 0.3))
def test_lock_force_by_work(torque, friction):
    """The teeth's normal forces at the base radius make the torque; friction times their sum is the axial force."""
    base = 0.0312
    normal = torque / (base / 2)
    assert dudley.lock_force(torque, base_diameter=base, friction=friction) == near(friction * normal)


# --- growth and cut plan ---------------------------------------------------------------------------------------

positives = st.floats(1e-5, 2e-3)
times = st.floats(100, 20_000)


@fast
@given(positives, positives, times, times)
def test_worst_closing_is_the_largest_of_the_curve(armature, frame, ta, tb):
    """Closed form against a fine scan of the curve."""
    worst = growth.worst_closing(armature, frame_growth=frame, armature_time=ta, frame_time=tb)
    scan = growth.gap_closing(
        np.concatenate([[0.0], np.geomspace(1, 1e6, 6000)]), armature_growth=armature, frame_growth=frame,
        armature_time=ta, frame_time=tb,
    )  # fmt: skip
    assert worst.closing == near(max(scan.max(), 0.0), rel=1e-4, abs=1e-9)
    assert worst.closing >= scan.max() - 1e-12
    if 0 < worst.time < 1e6:
        at = growth.gap_closing(
            worst.time, armature_growth=armature, frame_growth=frame, armature_time=ta, frame_time=tb
        )  # fmt: skip
        assert at == near(worst.closing, rel=1e-9)


def test_frame_that_keeps_step_closes_nothing():
    """Same growth, same time constant: the gap never closes. Equal times: no division by nothing."""
    assert growth.worst_closing(3e-4, frame_growth=3e-4, armature_time=900, frame_time=900).closing == 0.0
    ahead = growth.worst_closing(5e-4, frame_growth=3e-4, armature_time=900, frame_time=900)
    assert ahead.closing == near(2e-4)
    assert ahead.time == math.inf


def test_locating_at_the_coupling_end_leaves_only_the_stub():
    """With one temperature and one metal, only what stands outside the face grows past it."""
    same = {"bearing_span": 0.3, "bearing_depth": 0.02, "armature_rise": 60, "frame_rise": 60}
    for end in ("coupling end", "far end"):
        g = growth.machine_growth(
            0.04, located_bearing=end, shaft_expansion=1.17e-5, frame_expansion=1.17e-5, **same
        )  # fmt: skip
        assert g.armature - g.frame == near(1.17e-5 * 60 * 0.04)


SLEEVE = {
    "sleeve_chamfer": 0.001, "far_chamfer": 0.001, "near_chamfer": 0.0015, "far_step": 0.0127, "near_step": 0.010,
    "far_spline_start": 0.013, "near_spline_start": 0.012,
}  # fmt: skip


@fast
@given(st.floats(0.03, 0.045), st.floats(0.03, 0.037), st.floats(0.02, 0.06), st.floats(0, 0.004))
def test_engagement_by_counting_slices(far, close, length, wander):
    """Engagement against an independent count of thin slices along the axis, sleeve centred and moved both ways."""
    face = 0.0762
    e = cut_plan.sleeve_engagement(
        face, far_cut=far, near_cut=close, sleeve_length=length, sleeve_kept="rings", sleeve_float=wander, **SLEEVE
    )
    x = np.arange(0, face, 1e-6) + 5e-7
    on_far = (x > 0.013) & (x < far - 0.001)
    on_near = (x < face - 0.012) & (x > face - close + 0.0015)
    middle = (far + face - close) / 2
    counted = []
    for shift in (0.0, wander / 2, -wander / 2):
        held = np.abs(x - middle - shift) < length / 2 - 0.001
        counted.append((np.sum(on_far & held) * 1e-6, np.sum(on_near & held) * 1e-6))
    assert (e.far, e.near) == near(counted[0], abs=3e-6)
    assert e.far_worst == near(min(c[0] for c in counted), abs=3e-6)
    assert e.near_worst == near(min(c[1] for c in counted), abs=3e-6)
    assert e.least == min(e.far_worst, e.near_worst)


def test_sleeve_kept_by_steps_wanders_over_the_room():
    e = cut_plan.sleeve_engagement(
        0.0762, far_cut=0.0378, near_cut=0.0378, sleeve_length=0.046, sleeve_kept="steps", far_step=0.0127,
        near_step=0.0127,
    )  # fmt: skip
    assert e.room == near(0.0762 - 2 * 0.0127 - 0.046)
    assert e.far - e.far_worst == near(e.room / 2)


def test_worst_is_below_root_sum_square():
    left = cut_plan.gap_left(
        0.5e-3, closing=0.1e-3, far_float=0.1e-3, near_float=0.05e-3, face_tolerance=0.05e-3, cut_tolerance=0.1e-3
    )
    assert left.worst < left.square_root < 0.4e-3


def test_touch_chance_against_the_normal_law():
    """Without float the gap is normal: the chance is the closed-form tail."""
    sigma = 0.1e-3 / 3 * math.sqrt(2)
    for gap_sigmas in (0.5, 1.0, 2.0):
        found = cut_plan.touch_chance(
            0.2e-3 + gap_sigmas * sigma, closing=0.2e-3, far_float=0, near_float=0, cut_tolerance=0.1e-3, draws=100_000
        )
        expected = 0.5 * math.erfc(gap_sigmas / math.sqrt(2))
        assert found.chance == near(expected, abs=5 * found.standard_error + 1e-4)


def test_touch_chance_of_two_floats_is_a_triangle():
    """Only the two floats vary, evenly: their sum is triangular, so its middle is exceeded half the time."""
    found = cut_plan.touch_chance(0.3e-3, closing=0.2e-3, far_float=0.1e-3, near_float=0.1e-3, draws=100_000)
    assert found.chance == near(0.5, abs=0.01)
    found = cut_plan.touch_chance(0.35e-3, closing=0.2e-3, far_float=0.1e-3, near_float=0.1e-3, draws=100_000)
    assert found.chance == near(0.125, abs=0.01)


@fast
@given(st.floats(-2e-4, 1.5e-3), st.floats(0, 2e-4), st.floats(0, 5e-4), st.floats(0, 6e-3))
def test_doing_what_the_verdict_says_makes_it_go(gap, end_float, closing, spare):
    """After the shim or the cut of the amount given, the verdict is go; a reject has too little spline for it."""
    given_values = {
        "far_float": end_float, "near_float": end_float, "closing": closing, "gap_reserve": 1e-4, "shim_room": 3e-4
    }  # fmt: skip
    v = cut_plan.cut_verdict(gap, engagement_spare=spare, **given_values)
    if v.action == "reject":
        assert spare < v.amount + 2e-8
    else:
        again = cut_plan.cut_verdict(gap + v.amount, engagement_spare=max(spare - v.amount, 0.0), **given_values)
        assert again.action == "go"
        assert (v.action == "shim") == (0 < v.amount <= 3e-4 + 1e-9)


# --- bolts, key, fatigue, vibration ----------------------------------------------------------------------------


def test_enough_thread_means_that_the_bolt_breaks_first():
    le = bolts.engagement_for_strength(0.012, bolt_pitch=0.00175, bolt_class="10.9", thread_shear_strength=120e6)
    strip = bolts.strip_force(le, bolt_diameter=0.012, bolt_pitch=0.00175, thread_shear_strength=120e6)
    assert strip == near(1040e6 * bolts.stress_area(0.012, bolt_pitch=0.00175))


def test_nut_factor_is_friction_and_lead():
    """Without friction all that is left is the lead: K = p / (2 pi d)."""
    k = bolts.nut_factor(0.012, bolt_pitch=0.00175, thread_friction=0.0, head_friction=0.0)
    assert k == near(0.00175 / (2 * math.pi * 0.012))


def test_overhang_pull_of_a_ring_of_bolts():
    """Against the bolts one by one: pulls grow evenly with height over the ring's diameter."""
    count, circle, moment = 8, 0.2, 400.0
    heights = circle / 2 * np.cos(2 * math.pi * np.arange(count) / count)
    pulls = moment * heights / np.sum(heights**2)
    assert bolts.bolt_pull_of_overhang(moment, bolt_count=count, bolt_circle=circle) == near(pulls.max())


@fast
@given(torques, diameters)
def test_key_length_and_stress_agree(torque, diameter):
    need = key.key_length_needed(
        torque, shaft_diameter=diameter, key_width=0.008, key_height=0.007, shear_strength=2e8, yield_strength=4e8
    )
    for length, field, strength in ((need.shear, "shear", 2e8), (need.crush, "crush", 4e8)):
        if length <= 0.3:
            found = key.key_stress(
                torque, shaft_diameter=diameter, key_width=0.008, key_height=0.007, key_length=length
            )  # fmt: skip
            assert getattr(found, field) == near(strength)


def test_fatigue_rules_in_their_order():
    """Soderberg is the most careful; Goodman next; Gerber the least of the three, for any mean stress."""
    n = fatigue.fatigue_margin(
        80e6, mean=np.linspace(1e6, 400e6, 50), endurance=250e6, ultimate=800e6, yield_strength=600e6
    )
    assert (n.soderberg <= n.goodman + 1e-12).all()
    assert (n.goodman <= n.gerber + 1e-12).all()
    assert (n.soderberg <= n.asme_elliptic + 1e-12).all()


def test_each_rule_meets_its_own_line():
    """Scaling both stresses by the factor found lands on the rule's line."""
    a, m, se, su, sy = 90e6, 120e6, 250e6, 800e6, 600e6
    n = fatigue.fatigue_margin(a, mean=m, endurance=se, ultimate=su, yield_strength=sy)
    assert n.gerber * a / se + (n.gerber * m / su) ** 2 == near(1)
    assert (n.asme_elliptic * a / se) ** 2 + (n.asme_elliptic * m / sy) ** 2 == near(1)
    assert n.goodman * a / se + n.goodman * m / su == near(1)


def test_life_line_passes_its_two_ends():
    """0.9 Su at a thousand cycles, Se at a million; below it, no end."""
    args = {"endurance": 300e6, "ultimate": 800e6}
    assert fatigue.cycles_to_failure(720e6, **args) == near(1e3, rel=1e-6)
    assert fatigue.cycles_to_failure(300.001e6, **args) == near(1e6, rel=1e-3)
    assert fatigue.cycles_to_failure(300e6, **args) == math.inf
    assert fatigue.damage([500.0], lives=[1e3]) == 0.5


def test_three_inertias_by_holzer():
    """Modes against Holzer's table: the torque left over at the last inertia is nothing at each frequency."""
    j, k = [0.12, 0.12, 0.05], [3e4, 5e4]
    modes = vib.torsional_modes(j, stiffnesses=k)
    assert modes.frequencies[0] == 0.0
    for w in modes.frequencies[1:]:
        angle, torque = 1.0, 0.0
        for place, inertia in enumerate(j):
            torque += inertia * w**2 * angle
            if place < 2:
                angle -= torque / k[place]
        assert torque / (j[0] * w**2) == near(0.0, abs=1e-6)


def test_whirl_bounds_hold():
    """Rayleigh is never below, Dunkerley never above the exact one."""
    for places in ([0.1, 0.5], [0.3, 0.35], [0.05, 0.75]):
        w = vib.whirl([20.0, 30.0], places=places, span=0.8, shaft_diameter=0.03)
        assert w.dunkerley <= w.exact * (1 + 1e-9)
        assert w.exact <= w.rayleigh * (1 + 1e-9)

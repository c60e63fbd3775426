"""Shrink fits, three inertias in a chain, cut lines rounded: published values and second ways of working."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.shafts import cut_plan, shrink
from evlib.shafts import vibration as vib

near = pytest.approx
fast = settings(max_examples=40, deadline=None)


def test_pressure_bhavikatti():
    """Bhavikatti, Strength of Materials, example 8.8.17: radii 150, 200, 250 mm, 0.1 mm radial, 200 GPa: 12.30 MPa."""
    fit = shrink.shrink_fit(
        2 * 0.1e-3, shaft_diameter=0.400, hub_diameter=0.500, shaft_bore=0.300, shaft_modulus=200e9, hub_modulus=200e9
    )
    assert fit.pressure / 1e6 == near(12.30, abs=0.006)


@pytest.mark.parametrize(("bore", "shaft_e", "shaft_n"), [(0.0, 207e9, 0.3), (0.020, 207e9, 0.3), (0.012, 70e9, 0.33)])
def test_pressure_by_finite_differences(bore, shaft_e, shaft_n):
    """A second way: u'' + u'/r - u/r^2 = 0 on a grid in both parts, free outside, joined by the interference."""
    size, out, interference, hub_e, hub_n = 0.035, 0.060, 40e-6, 207e9, 0.3
    points = 1500

    def radial(r0, r1, modulus, poisson, *, loaded_inside):
        """Displacement of the loaded edge [m] for a unit pressure on it, from the field solved numerically."""
        r = np.linspace(max(r0, 1e-7), r1, points)
        h = r[1] - r[0]
        a, rhs = np.zeros((points, points)), np.zeros(points)
        for i in range(1, points - 1):
            a[i, i - 1 : i + 2] = (
                1 / h**2 - 1 / (2 * h * r[i]),
                -2 / h**2 - 1 / r[i] ** 2,
                1 / h**2 + 1 / (2 * h * r[i]),
            )
        stiff = modulus / (1 - poisson**2)  # plane stress: sr = stiff (u' + n u / r)
        one_sided = np.array([-1.5, 2.0, -0.5]) / h
        a[0, :3] += stiff * one_sided
        a[0, 0] += stiff * poisson / r[0]
        a[-1, -3:] += -stiff * one_sided[::-1]
        a[-1, -1] += stiff * poisson / r[-1]
        if r0 == 0:  # the middle of a solid shaft does not move
            a[0], a[0, 0] = 0.0, 1.0
        rhs[0 if loaded_inside else -1] = -1.0
        return np.linalg.solve(a, rhs)[0 if loaded_inside else -1]

    hub = radial(size / 2, out / 2, hub_e, hub_n, loaded_inside=True)
    shaft = radial(bore / 2, size / 2, shaft_e, shaft_n, loaded_inside=False)
    expected = interference / 2 / (hub - shaft)
    found = shrink.shrink_fit(
        interference, shaft_diameter=size, hub_diameter=out, shaft_bore=bore, shaft_modulus=shaft_e, hub_modulus=hub_e,
        shaft_poisson=shaft_n, hub_poisson=hub_n,
    )  # fmt: skip
    assert found.pressure == near(expected, rel=2e-3)


def test_thin_hub_is_a_stretched_ring():
    """A thin ring on a stiff shaft: p = E i t / (2 r^2), the ring's pull over the radius."""
    size, wall, interference = 0.1, 0.0005, 20e-6
    fit = shrink.shrink_fit(interference, shaft_diameter=size, hub_diameter=size + 2 * wall, shaft_modulus=1e12)
    mean = (size + wall) / 2
    assert fit.pressure == near(207e9 * interference * wall / (2 * mean**2), rel=0.02)
    assert fit.hub_hoop == near(fit.pressure * mean / wall, rel=0.02)


@fast
@given(st.floats(1e-6, 1e-4), st.floats(0.015, 0.08), st.floats(1.2, 3.0), st.floats(0.0, 0.8))
def test_ring_pulls_balance(interference, size, ratio, share):
    """The hoop stress summed over the hub's wall holds the pressure on its bore: 2 s t = p d."""
    out = size * ratio
    fit = shrink.shrink_fit(interference, shaft_diameter=size, hub_diameter=out, shaft_bore=share * size)
    r = np.linspace(size / 2, out / 2, 20_001)
    at_edge = fit.hub_hoop / (1 + (out / size) ** 2)  # hoop goes as 1 + (D / 2 r)^2
    pull = np.trapezoid(at_edge * (1 + (out / (2 * r)) ** 2), r)
    assert 2 * pull == near(fit.pressure * size, rel=1e-6)
    assert fit.shaft_hoop < 0 < fit.hub_hoop


def test_friction_adds_up_round_the_shaft():
    """Torque by summing friction over small patches of the shaft's surface."""
    pressure, size, length, friction = 60e6, 0.035, 0.04, 0.12
    patches = 360
    area = math.pi * size / patches * length
    by_patches = sum(friction * pressure * area * size / 2 for _ in range(patches))
    assert shrink.shrink_torque(pressure, shaft_diameter=size, hub_length=length, friction=friction) == near(by_patches)


def test_a_warm_hub_goes_over():
    """Warmed by what is asked for, the bore has grown past the shaft by the clearance."""
    warm = shrink.shrink_warming(35e-6, clearance=30e-6, shaft_diameter=0.035)
    bore = (0.035 - 35e-6) * (1 + 11.7e-6 * warm)
    assert bore - 0.035 == near(30e-6, rel=3e-3)


@pytest.mark.parametrize(
    ("change", "words"), [({"hub_diameter": 0.03}, "hub_diameter"), ({"shaft_bore": 0.04}, "shaft_bore")]
)
def test_no_wall_no_fit(change, words):
    with pytest.raises(ValueError, match=words):
        shrink.shrink_fit(3e-5, **{"shaft_diameter": 0.035, "hub_diameter": 0.06, **change})


@fast
@given(*(st.floats(1e3, 1e6) for _ in range(2)), *(st.floats(0.002, 2.0) for _ in range(3)))
def test_three_inertias_as_the_matrix_says(k1, k2, j1, j2, j3):
    """The quadratic's root against the eigenvalues of the chain; and below the two rotors alone."""
    found = vib.three_mass_frequency(
        k1, outer_stiffness=k2, first_inertia=j1, second_inertia=j2, third_inertia=j3
    )  # fmt: skip
    assert found == near(vib.torsional_modes([j1, j2, j3], stiffnesses=[k1, k2]).frequencies[1], rel=1e-6)
    assert found <= vib.two_mass_frequency(k1, first_inertia=j1, second_inertia=j2) * (1 + 1e-9)


@fast
@given(st.floats(0.01, 0.2), st.sampled_from([1e-5, 5e-5, 1e-4, 5e-4]))
def test_rounded_cut_is_never_longer(cut, step):
    """Never longer than the line (by more than a millionth of the step), never a whole step shorter, on the scale."""
    found = float(cut_plan.rounded_cut(cut, step=step))
    assert -2e-6 * step <= cut - found < step
    assert found / step == near(round(found / step), abs=1e-6)


def test_rounding_down_leaves_gap():
    """37.84 mm read in tenths: 37.8 on both sides, so the gap grows by 0.08 mm; up would take 0.12 mm from it."""
    each = cut_plan.rounded_cut(0.03784, step=1e-4)
    assert 0.0762 - 2 * each == near(0.60e-3, abs=1e-9)
    with pytest.raises(ValueError, match="step"):
        cut_plan.rounded_cut(0.03784, step=0.0)

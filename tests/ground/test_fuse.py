"""Fuses: a curve read both ways, and the currents that a fuse melts at but cannot break."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.ground import fuse
from evlib.ground.errors import OutOfRange
from evlib.ground.tables import Curve

# An invented partial-range fuse of 400 A. Points on straight lines in logarithms are made by hand.
CURVE = Curve(x=np.array([800.0, 1200.0, 2000.0, 4000.0]), y=np.array([100.0, 5.0, 0.3, 0.01]), logarithmic=True)
REST = dict(curve=CURVE, arcing_time=0.008)


def test_between_points_it_is_a_power_law():
    # Halfway in the logarithm of current, halfway in the logarithm of time: geometric means, by hand.
    assert fuse.melting_time(np.sqrt(1200 * 2000), curve=CURVE) == pytest.approx(np.sqrt(5 * 0.3), rel=1e-9)


def test_above_the_last_point_the_melting_integral_is_constant():
    # IEC 60269-1: below 10 ms a fuse is stated by I²t.
    assert fuse.melting_time(8000.0, curve=CURVE) * 8000**2 == pytest.approx(0.01 * 4000**2)


def test_below_the_first_point_it_does_not_melt():
    assert fuse.melting_time(799.0, curve=CURVE) == np.inf
    assert fuse.melting_time(800.0, curve=CURVE) == pytest.approx(100.0)
    with pytest.raises(OutOfRange):
        fuse.melting_current(101.0, curve=CURVE)


@settings(max_examples=40, deadline=None)
@given(st.floats(810, 20_000))
def test_read_both_ways(current):
    assert fuse.melting_current(fuse.melting_time(current, curve=CURVE), curve=CURVE) == pytest.approx(current, 1e-6)


@settings(max_examples=40, deadline=None)
@given(st.floats(800, 20_000), st.floats(1.01, 2))
def test_more_current_is_quicker(current, factor):
    slow, quick = (fuse.clearing_time(i, **REST) for i in (current, current * factor))
    assert quick < slow


def test_let_through_of_a_limiting_fuse_is_the_makers_value():
    assert fuse.let_through(9000.0, clearing_integral=250e3, **REST) == 250e3
    # At 1200 A: 5 s melting and 8 ms arcing, by hand.
    assert fuse.let_through(1200.0, clearing_integral=250e3, **REST) == pytest.approx(1200**2 * 5.008)
    assert fuse.let_through(500.0, clearing_integral=250e3, **REST) == np.inf


@pytest.mark.parametrize(("current", "melts", "breaks"), [(700, 0, 0), (1000, 1, 0), (1500, 1, 1), (60_000, 1, 0)])
def test_melting_is_not_breaking(current, melts, breaks):
    got = fuse.answer(float(current), minimum=1500.0, capacity=50e3, **REST)
    assert (got.melts, got.breaks) == (melts, breaks)


def test_columns_equal_singles():
    currents = np.array([500.0, 900.0, 3000.0, 10_000.0])
    assert fuse.melting_time(currents, curve=CURVE) == pytest.approx(
        [fuse.melting_time(float(i), curve=CURVE) for i in currents]
    )
    assert fuse.answer(currents, minimum=1500.0, capacity=50e3, **REST).breaks.tolist() == [0, 0, 1, 1]

"""Belt friction against a textbook brake, an independent integration, and its limits."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from evlib.ground import belt
from evlib.ground.units import factor

LBF, INCH, PSI = factor("lbf", "N"), factor("in", "m"), factor("psi", "Pa")


def test_band_brake_of_a_textbook():
    # Mott, Machine Elements in Mechanical Design, 4th ed., Ex 22-10: 25 psi, r 6 in, w 2 in, 0.25, 225 deg:
    # 300 and 112 lbf, 1128 lbf in.
    tight = 300 * LBF
    assert belt.lining_pressure(tight, band_width=2 * INCH, drum_radius=6 * INCH) == pytest.approx(25 * PSI, rel=1e-9)
    slack = tight / belt.tension_ratio(np.deg2rad(225), friction=0.25)
    assert slack == pytest.approx(112 * LBF, rel=0.005)
    for pull, sense in ((slack, "energising"), (tight, "overrunning")):
        torque = belt.band_torque(pull, wrap_angle=np.deg2rad(225), friction=0.25, drum_radius=6 * INCH, sense=sense)
        assert torque == pytest.approx(1128 * LBF * INCH, rel=0.005)


def test_capstan_one_turn():
    # Round a bollard: mu 0.3, one full turn holds 6.59 times; two turns 43.4 times. Closed form e^(2 pi mu); the
    # pair of values is from memory of any statics text.
    assert belt.tension_ratio(2 * np.pi, friction=0.3) == pytest.approx(6.59, rel=0.001)
    assert belt.tension_ratio(4 * np.pi, friction=0.3) == pytest.approx(43.4, rel=0.001)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.05, 0.4), st.floats(1.0, 6.2), st.floats(0.05, 0.2))
def test_against_the_force_balance_of_each_small_piece(friction, wrap, radius):
    # dT/dtheta = mu T, integrated numerically, gives both senses.
    tension = solve_ivp(lambda angle, pull: friction * pull, (0, wrap), [1.0], rtol=1e-10, atol=1e-12).y[0, -1]
    energising = belt.band_torque(1.0, wrap_angle=wrap, friction=friction, drum_radius=radius, sense="energising")
    overrunning = belt.band_torque(1.0, wrap_angle=wrap, friction=friction, drum_radius=radius, sense="overrunning")
    assert energising == pytest.approx((tension - 1) * radius, rel=1e-7)
    assert overrunning == pytest.approx((1 - 1 / tension) * radius, rel=1e-7)
    assert energising / overrunning == pytest.approx(tension, rel=1e-7)


@pytest.mark.parametrize("sense", ["energising", "overrunning"])
def test_round_trip_and_columns(sense):
    wrap = np.array([3.0, 4.0, 5.5])
    pull = np.array([0.0, 500.0, 2000.0])
    common = {"wrap_angle": wrap, "friction": 0.12, "drum_radius": 0.09, "sense": sense}
    torque = belt.band_torque(pull, **common)
    assert belt.band_pull(torque, **common) == pytest.approx(pull)
    single = belt.band_torque(2000.0, wrap_angle=5.5, friction=0.12, drum_radius=0.09, sense=sense)
    assert isinstance(single, float) and single == pytest.approx(torque[2])


def test_without_friction_it_holds_nothing():
    common = {"wrap_angle": 5.0, "friction": 0.0, "drum_radius": 0.1, "sense": "energising"}
    assert belt.band_torque(1000.0, **common) == 0.0
    assert belt.band_pull(10.0, **common) == np.inf
    assert belt.band_pull(0.0, **common) == 0.0


def test_nonsense_is_refused():
    with pytest.raises(ValueError, match="sense"):
        belt.band_torque(1.0, wrap_angle=1.0, friction=0.1, drum_radius=0.1, sense="sideways")
    with pytest.raises(ValueError, match="wrap_angle"):
        belt.tension_ratio(float("nan"), friction=0.1)

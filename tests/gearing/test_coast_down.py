"""Coast-down: the fit finds what an independent integrator put in; bad logs are refused with their line."""

from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from evlib.gearing import algebra, coast_down

G = 9.80665
TRUE = dict(crr=0.0128, cda=0.78, slope=0.003, wind=1.5)
DATA = Path(__file__).parents[2] / "data" / "gearing"


def made_run(direction, *, noise=0.03, seed=1, start=28.0, seconds=70, crv=0.0, wind=0.0):
    """A run by scipy's integrator, written separately from the code under test, with noise on the speed."""

    def rate(t, y):
        v = y[0]
        air = 0.6 * TRUE["cda"] * (v + wind * direction) * abs(v + wind * direction)
        slope = np.sin(np.arctan(TRUE["slope"] * direction))
        return [-(1500 * G * (TRUE["crr"] + crv * v + slope) + air) / 1540]

    time = np.arange(0.0, seconds, 0.5)
    speed = solve_ivp(rate, (0, seconds), [start], t_eval=time, rtol=1e-10, atol=1e-10).y[0]
    speed = speed + noise * np.random.default_rng(seed).standard_normal(len(time))
    return coast_down.CoastRun(time, speed, direction)


def test_two_directions_find_drag_and_slope():
    found = coast_down.fit([made_run(1.0), made_run(-1.0, seed=2)], mass=1500.0, rotating=40.0, density=1.2)
    for name, true in (("rolling_coefficient", TRUE["crr"]), ("drag_area", TRUE["cda"]), ("grade", TRUE["slope"])):
        assert abs(found.values[name] - true) < 2 * found.half_width[name]
        assert found.half_width[name] < 0.05 * abs(true)
    assert found.scatter == pytest.approx(0.03, rel=0.15)


def test_without_noise_it_is_exact():
    runs = [made_run(1.0, noise=0.0), made_run(-1.0, noise=0.0)]
    found = coast_down.fit(runs, mass=1500.0, rotating=40.0, density=1.2)
    assert found.rolling_coefficient == pytest.approx(TRUE["crr"], rel=1e-5)
    assert found.drag_area == pytest.approx(TRUE["cda"], rel=1e-5)


def test_wind_is_told_apart_too():
    runs = [made_run(1.0, wind=TRUE["wind"]), made_run(-1.0, seed=2, wind=TRUE["wind"])]
    unknown = ("rolling_coefficient", "drag_area", "grade", "headwind")
    found = coast_down.fit(runs, mass=1500.0, rotating=40.0, density=1.2, unknown=unknown)
    for name, true in (("drag_area", TRUE["cda"]), ("headwind", TRUE["wind"])):
        assert abs(found.values[name] - true) < 2 * found.half_width[name]


def test_intervals_cover_as_often_as_they_say():
    hits = 0
    for seed in range(40):
        runs = [made_run(1.0, seed=2 * seed), made_run(-1.0, seed=2 * seed + 1)]
        found = coast_down.fit(runs, mass=1500.0, rotating=40.0, density=1.2)
        hits += abs(found.drag_area - TRUE["cda"]) < found.half_width["drag_area"]
    assert hits >= 33  # 38 expected; fewer than 33 of 40 has a chance below 1 in 100 at 95 %


def test_one_direction_cannot_tell_slope_from_rolling():
    with pytest.raises(ValueError, match="both directions"):
        coast_down.fit([made_run(1.0)], mass=1500.0)
    alone = coast_down.fit([made_run(1.0)], mass=1500.0, rotating=40.0, density=1.2,
                           unknown=("rolling_coefficient", "drag_area"))  # fmt: skip
    # the slope of 0.3 % is taken for rolling resistance: wrong by just that
    assert alone.rolling_coefficient == pytest.approx(TRUE["crr"] + TRUE["slope"], rel=0.02)


def test_what_is_not_to_be_found_must_be_known():
    runs = [made_run(1.0, noise=0.0), made_run(-1.0, noise=0.0)]
    with pytest.raises(ValueError, match="drag_area is neither"):
        coast_down.fit(runs, mass=1500.0, unknown=("rolling_coefficient", "grade"))
    found = coast_down.fit(runs, mass=1500.0, rotating=40.0, density=1.2, unknown=("rolling_coefficient", "grade"),
                           known={"drag_area": TRUE["cda"]})  # fmt: skip
    assert found.rolling_coefficient == pytest.approx(TRUE["crr"], rel=1e-5)
    simple = coast_down.fit(runs, mass=1500.0, rotating=40.0, density=1.2, unknown=("rolling_coefficient", "grade"),
                            known={"drag_area": 0.0})  # fmt: skip
    assert simple.scatter > 20 * found.scatter + 0.2  # the simpler model misses, and says so


def test_coasting_without_air_is_uniform():
    v = coast_down.coast_speed(np.linspace(0, 30, 7), start=12.0, mass=1000.0, rotating=50.0,
                               rolling_coefficient=0.012, drag_area=0.0)  # fmt: skip
    np.testing.assert_allclose(v, 12.0 - 0.012 * G * 1000 / 1050 * np.linspace(0, 30, 7), rtol=1e-12)
    assert coast_down.coast_speed(np.array([0.0, 500.0]), start=5.0, mass=1000.0, rolling_coefficient=0.02,
                                  drag_area=0.7)[-1] == 0.0  # fmt: skip


def log(rows, heading="time [s],speed [km/h]"):
    return "\n".join([heading, *(f"{t},{v}" for t, v in rows)])


GOOD = [(t, 100 - t) for t in range(20)]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (GOOD[:10] + [(t + 15, v) for t, v in GOOD[10:]], "line 12: a gap"),
        (GOOD[:10] + [(8.5, 90)] + GOOD[11:], "line 12: the clock"),
        (GOOD[:10] + [(t, 100 - 5 * t + 40) for t in range(10, 16)], "line 13: .*brakes"),
        (GOOD[:10] + [(t, 90 + 5 * (t - 9)) for t in range(10, 16)], "line 12: .*motors"),
        (GOOD[:10] + [("x", 90)], "line 12: 'x,90' is not a time"),
        (GOOD[:10] + [("nan", 90)], "line 12: .*finite"),
        (GOOD[:5], "5 lines are too few"),
        ([(t, -1.0) for t in range(12)], "line 2: the speed is negative"),
    ],
)
def test_bad_logs_are_refused_with_their_line(rows, words):
    with pytest.raises(coast_down.LogProblem, match=words):
        coast_down.read_run(log(rows), direction=1.0)


@pytest.mark.parametrize(
    ("text", "words"), [("", "empty"), ("a\n1", "two columns"), ("time [kg],speed\n0,1", "line 1")]
)
def test_bad_headings_are_refused(text, words):
    with pytest.raises(coast_down.LogProblem, match=words):
        coast_down.read_run(text, direction=1.0)


def test_units_stand_in_the_heading():
    mph = coast_down.read_run(log([(t, 60.0) for t in range(10)], "time [s],speed [mph]"), direction=1.0)
    assert mph.speed[0] == pytest.approx(60 * 0.44704)
    plain = coast_down.read_run(log([(t, 20.0) for t in range(10)], "t,v"), direction=-1.0)
    assert plain.speed[0] == 20.0


def test_the_lessons_logs_say_what_the_build_says():
    runs = [coast_down.read_run((DATA / name).read_text(encoding="utf-8"), direction=way)
            for name, way in (("coast_down_out.csv", 1.0), ("coast_down_back.csv", -1.0))]  # fmt: skip
    found = coast_down.fit(runs, mass=1650.0, rotating=47.0, rolling_speed_term=0.0002, density=1.2)
    assert abs(found.rolling_coefficient - 0.013) < 2 * found.half_width["rolling_coefficient"]
    assert abs(found.drag_area - 0.76) < 2 * found.half_width["drag_area"]


def test_algebra_gives_the_formulas():
    import sympy

    z_in, z_low, z_s = sympy.symbols("z_in z_low z_s", positive=True)
    found = algebra.low_and_reverse()
    assert sympy.simplify(found["low"] - (1 + z_low / z_in)) == 0
    assert sympy.simplify(found["reverse"] - (1 - (z_low + 2 * z_s) / z_in)) == 0
    inertia, ratio, radius = sympy.symbols("J i r", positive=True)
    assert sympy.simplify(algebra.reflected() - inertia * (ratio / radius) ** 2) == 0

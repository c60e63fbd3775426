"""Errors that say what is allowed, shapes, and columns that equal singles."""

import numpy as np
import pytest

from evlib.gearing import driveline, inertia, planetary, shift, teeth, traction
from evlib.gearing.parts import FinalDrive, Gearbox, Vehicle
from evlib.ground import road
from evlib.ground.errors import OutOfRange


def test_parts_read_text_with_units():
    van = Vehicle(mass="1650 kg", rear_axle_share="52 %", wheelbase="8.53 ft", grip=0.8)
    assert van.rear_axle_share == pytest.approx(0.52)
    assert van.wheelbase == pytest.approx(2.6, abs=0.001)
    assert Gearbox(upshift_speed="60 km/h").upshift_speed == pytest.approx(16.667, abs=0.001)
    assert FinalDrive(propeller_rating="1000 lbf ft").propeller_rating == pytest.approx(1355.8, abs=0.1)


@pytest.mark.parametrize("bad", [{"mass": "-5 kg"}, {"mass": float("nan")}, {"rear_axle_share": 1.2}, {"mass": "3 m"},
                                 {"driven_axle": "up"}, {"colour": "red"}])  # fmt: skip
def test_nonsense_is_refused(bad):
    with pytest.raises(ValueError):
        Vehicle(**bad)


def test_teeth_are_whole():
    with pytest.raises(ValueError, match=r"28.5 was given; allowed: .*a whole number"):
        Gearbox(input_sun_teeth=28.5)
    with pytest.raises(ValueError, match="even"):
        planetary.simple_set(20, ring=35)
    with pytest.raises(ValueError, match="common axis"):
        planetary.two_sun_set(28, low_sun=23, short_planet=28, long_planet=18, ring=80)


def test_a_set_that_is_not_fixed_says_so():
    two = planetary.two_sun_set(28, low_sun=23, short_planet=28, long_planet=18, ring=79)
    with pytest.raises(ValueError, match="hold or lock more"):
        planetary.solve(two, driven="input sun", output="carrier")
    with pytest.raises(ValueError, match="hold or lock fewer"):
        planetary.solve(two, driven="input sun", output="carrier", held=("ring", "low sun"))
    with pytest.raises(ValueError, match="this set has"):
        planetary.solve(two, driven="engine", output="carrier", held=("ring",))
    with pytest.raises(ValueError, match="not fixed"):
        planetary.solve(two, driven="input sun", output="carrier", held=("input sun",))


def test_columns_of_tooth_counts_equal_singles():
    low = np.array([20.0, 22.0, 24.0])
    many = planetary.solve(
        planetary.two_sun_set(29, low_sun=low, short_planet=29, long_planet=18, ring=low + 58),
        driven="input sun", output="carrier", held=("ring",), input_torque=np.array([10.0, 20.0, 30.0]),
    )  # fmt: skip
    for k in range(3):
        one = planetary.solve(
            planetary.two_sun_set(29, low_sun=low[k], short_planet=29, long_planet=18, ring=low[k] + 58),
            driven="input sun", output="carrier", held=("ring",), input_torque=10.0 * (k + 1),
        )  # fmt: skip
        assert many.ratio[k] == pytest.approx(one.ratio)
        assert many.hold["ring"][k] == pytest.approx(one.hold["ring"])
        assert many.pin_speed("long planet")[k] == pytest.approx(one.pin_speed("long planet"))
        assert isinstance(one.ratio, float)


def test_an_axle_that_lifts_is_refused():
    with pytest.raises(OutOfRange, match="rear axle"):
        road.axle_loads(1000.0, rear_axle_share=0.5, wheelbase=1.0, cg_height=1.0, acceleration=8.0)


@pytest.mark.parametrize(
    ("function", "given"),
    [
        (road.air_density, {"temperature": 290.0, "altitude": 200.0}),
        (road.axle_loads, {"mass": 1500.0, "rear_axle_share": 0.5, "wheelbase": 2.5, "cg_height": 0.5}),
        (traction.tractive_effort, {"torque": 300.0, "gear_ratio": 1.8, "final_drive_ratio": 3.7, "wheel_radius": 0.3}),
        (traction.accelerating, {"tractive": 5000.0, "resistance": 300.0, "mass": 1500.0}),
        (traction.grip_force, {"mass": 1500.0, "grip": 0.8, "driven_axle": "rear", "rear_axle_share": 0.5,
                               "wheelbase": 2.5, "cg_height": 0.5}),
        (inertia.reflected_mass, {"inertia": 0.2, "total_ratio": 6.0, "wheel_radius": 0.3}),
        (shift.left_on, {"motor_torque": 300.0, "input_inertia": 0.2, "time": 0.15}),
        (driveline.joint_ripple, {"joint_angle": 0.1}),
        (teeth.simple_layout, {"sun": 30.0, "planet": 20.0, "planet_count": 3}),
    ],
)  # fmt: skip
def test_scalars_in_floats_out_and_nan_refused(function, given):
    first = next(name for name, value in given.items() if isinstance(value, float))
    once = function(**given)
    values = [once] if isinstance(once, float) else [getattr(once, f) for f in once.__dataclass_fields__]
    assert all(isinstance(v, float | bool) for v in values)
    twice = function(**{**given, first: np.array([given[first]] * 2)})
    columns = [twice] if isinstance(twice, np.ndarray) else [getattr(twice, f) for f in twice.__dataclass_fields__]
    for value, column in zip(values, columns, strict=True):
        if np.shape(column):
            np.testing.assert_allclose(np.asarray(column, float), float(value), rtol=1e-12)
    with pytest.raises(ValueError):
        function(**{**given, first: float("nan")})
    with pytest.raises(TypeError):
        function(**given, nonsense=1.0)

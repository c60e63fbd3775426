"""Gearing against values from outside the project: handbooks, regulations, textbook examples."""

import numpy as np
import pytest

from evlib.gearing import driveline, planetary, shift, teeth, traction
from evlib.ground import road
from evlib.ground.units import read

LB, FT, MPH = 0.45359237, 0.3048, 0.44704  # NIST SP 811
LBF = 4.4482216152605
SLUG_FT3 = LBF / FT / FT**3  # slug/ft3 in kg/m3: 1 slug = 1 lbf s2/ft


# --- road load ------------------------------------------------------------------------------------------------------


def test_grade_geometry():
    # published.md: geometry, 20 %, 1200 kg
    assert np.degrees(road.slope_angle(0.20)) == pytest.approx(11.310, abs=0.001)
    assert road.grade_force(1200.0, grade=0.20) == pytest.approx(2307.9, rel=1e-4)


def test_standard_atmosphere():
    # ISO 2533 / U.S. Standard Atmosphere 1976 tables: 0 m, 1000 m, 2000 m, 5000 m (from memory)
    for height, kelvin, density in ((0, 288.15, 1.225), (1000, 281.65, 1.1116), (2000, 275.15, 1.0065),
                                    (5000, 255.65, 0.7361)):  # fmt: skip
        assert road.air_density(kelvin, altitude=float(height)) == pytest.approx(density, rel=5e-4)


def test_density_at_five_thousand_feet():
    # Mannering and Washburn, Principles of Highway Engineering and Traffic Analysis, table 2.1 as used in its maximum
    # grade example: 0.002045 slug/ft3 at 5000 ft; 41.2 F there (secondary: a page that quotes the example)
    density = road.air_density(read("41.2 °F", "K", kind="reading"), altitude=5000 * FT)
    assert density / SLUG_FT3 == pytest.approx(0.002045, rel=0.003)


def test_road_load_and_steepest_grade_at_seventy():
    # same example: 2000 lb car, CD 0.40, 20 ft2, 70 mi/h, rolling 0.01 (1 + V/147), V in ft/s; 86.22 lb of air,
    # 33.97 lb of rolling, 255 lb of tractive effort: grade 0.067 (small-angle in the book)
    speed, density = 70 * MPH, 0.002045 * SLUG_FT3
    air = road.air_force(speed, drag_coefficient=0.40, frontal_area=20 * FT**2, density=density)
    assert air / LBF == pytest.approx(86.22, rel=0.001)
    rolling = road.rolling_force(2000 * LB, rolling_coefficient=0.01, rolling_speed_term=0.01 / 147 / FT, speed=speed)
    assert rolling / LBF == pytest.approx(33.97, rel=0.001)
    at_speed = 0.01 * (1 + 70 * 5280 / 3600 / 147)
    climb = traction.steepest_grade(255 * LBF, mass=2000 * LB, air=air, rolling_coefficient=at_speed, grip=0.9,
                                    driven_axle="all", rear_axle_share=0.5, wheelbase=2.5, cg_height=0.5)  # fmt: skip
    assert climb.grade == pytest.approx((255 - 86.22 - 33.97) / 2000, rel=0.005)
    assert climb.governs == "pull"


def test_rolling_on_three_surfaces():
    # lecture tables, secondary: car on concrete 0.015, medium-hard soil 0.08, sand 0.30 of its weight
    for coefficient in (0.015, 0.08, 0.30):
        force = road.rolling_force(1000.0, rolling_coefficient=coefficient)
        assert force == pytest.approx(coefficient * 9806.65)


def test_drag_only_top_speed():
    # published.md: 30 kW, 1.2 kg/m3, CdA 0.7 m2 gives 149.4 km/h
    v = np.linspace(1.0, 60.0, 5000)
    load = road.air_force(v, drag_coefficient=0.35, frontal_area=2.0, density=1.2)
    top = traction.top_speed(v, pull=30_000.0 / v, load=load)
    assert top.speed * 3.6 == pytest.approx(149.4, rel=5e-4)
    assert top.limited_by == "pull meets road load"


# --- grip -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("axle", "expected"), [("all", 7.848), ("rear", 3.7371), ("front", 4.0593)])
def test_greatest_acceleration_by_drive(axle, expected):
    # Beer and Johnston, Vector Mechanics for Engineers, 8th ed., Prob. 16.6: wheelbase 2.5 m, centre of gravity 0.5 m
    # high, 1.0 m behind the front wheels, friction 0.80, g = 9.81 m/s2
    force = traction.grip_force(1000.0, grip=0.80, driven_axle=axle, rear_axle_share=0.4, wheelbase=2.5, cg_height=0.5)
    assert force / 1000.0 * 9.81 / road.GRAVITY == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(("axle", "degrees"), [("rear", 10.18), ("front", 17.17), ("all", 26.57)])
def test_steepest_grade_by_drive(axle, degrees):
    # homework answer on a public physics forum, checked there by a second reader: 15 kN car, friction 0.5, wheelbase
    # 2.675 m, centre of gravity 0.875 m behind the front wheels and 0.475 m high
    steepest = traction.steepest_grade(1e5, mass=15_000 / road.GRAVITY, grip=0.5, driven_axle=axle,
                                       rear_axle_share=0.875 / 2.675, wheelbase=2.675, cg_height=0.475,
                                       rolling_coefficient=0.0)  # fmt: skip
    assert np.degrees(np.arctan(steepest.grade)) == pytest.approx(degrees, abs=0.01)
    assert steepest.governs == "grip"


# --- planetary sets -------------------------------------------------------------------------------------------------


def test_planetary_train_of_the_theory_of_machines():
    # Khurmi, Theory of Machines, Ex 13.6: ring 72 held, sun 32, arm 18 rpm: sun +58.5, planet -46.8 rpm
    train = planetary.simple_set(32, ring=72)
    assert train.teeth["planet"] == 20
    speeds = planetary.solve(train, driven="carrier", output="sun", held=("ring",), input_speed=18.0).speed
    assert speeds["sun"] == pytest.approx(58.5)
    assert speeds["planet"] == pytest.approx(-46.8)


def test_simple_set_by_choice_of_members():
    # trade bulletin on gear ratios: ring 34, sun 20: 2.700, 1.588, 0.630, 0.370
    def ratio(driven, output, held):
        return planetary.solve(planetary.simple_set(20, ring=34), driven=driven, output=output, held=(held,)).ratio

    assert ratio("sun", "carrier", "ring") == pytest.approx(2.700, abs=5e-4)
    assert ratio("ring", "carrier", "sun") == pytest.approx(1.588, abs=5e-4)
    assert ratio("carrier", "ring", "sun") == pytest.approx(0.630, abs=5e-4)
    assert ratio("carrier", "sun", "ring") == pytest.approx(0.370, abs=5e-4)


def test_compound_train_with_a_small_difference():
    # Shigley, 8th ed., Prob. 13-16: 1200 rpm x 3/304 = 11.84 rpm. That fraction is 1 - 301/304 = 1 - (z1 z3)/(z2 z4)
    # of a stepped planet between two suns: 43 x 7 / (38 x 8), with the counts multiplied to real gears
    train = planetary.Train(
        meshes=(planetary.Mesh("fixed sun", "planet a", "carrier"), planetary.Mesh("out sun", "planet b", "carrier")),
        teeth={"fixed sun": 43.0, "planet a": 38.0, "planet b": 21.0, "out sun": 24.0},
        joined=(("planet a", "planet b"),),
    )
    turned = planetary.solve(train, driven="carrier", output="out sun", held=("fixed sun",), input_speed=1200.0)
    assert turned.speed["out sun"] == pytest.approx(11.84, abs=0.005)


FOUR_SETS = planetary.Train(
    meshes=tuple(
        mesh
        for n in (1, 2, 3, 4)
        for mesh in (
            planetary.Mesh(f"S{n}", f"planet {n}", f"C{n}"),
            planetary.Mesh(f"planet {n}", f"R{n}", f"C{n}", internal=True),
        )
    ),
    teeth={"S1": 16.0, "S2": 18.0, "S3": 20.0, "S4": 25.0, "R1": 64.0, "R2": 63.0, "R3": 70.0, "R4": 50.0,
           **{f"planet {n}": 20.0 for n in (1, 2, 3, 4)}},  # planets are idlers: their counts do not matter
    joined=(("S2", "S3"), ("C1", "R2"), ("R1", "C2"), ("R1", "R3"), ("R1", "S4"), ("C3", "C4")),
)  # fmt: skip


@pytest.mark.parametrize(("held", "ratio"), [("R3", 4.5), ("S1", 1.471), ("R4", -6.000)])
def test_four_sets_coupled_to_one_gearbox(held, ratio):
    # Jindal, Machine Design, Ex 29-1, p. 749: suns 16, 18, 20, 25, rings 64, 63, 70, 50; first 4.5, third 1.471,
    # reverse -6.000. How the sets are coupled is read from the equations of its solution.
    gear = planetary.solve(FOUR_SETS, driven="S3", output="C3", held=(held,), input_torque=100.0)
    assert gear.ratio == pytest.approx(ratio, abs=5e-4)
    assert gear.hold[held] == pytest.approx(100.0 * (ratio - 1), abs=0.05)  # all outside torques add up to nothing


def test_torques_of_a_simple_set():
    # Modelica Standard Library 4, Rotational.Components.IdealPlanetary: with ratio = z_ring / z_sun,
    # tau_ring = ratio tau_sun and tau_carrier = -(1 + ratio) tau_sun
    held = planetary.solve(planetary.simple_set(30, ring=78), driven="sun", output="carrier", held=("ring",))
    assert held.torque["ring"] == pytest.approx(78 / 30)
    assert held.torque["carrier"] == pytest.approx(-(1 + 78 / 30))


def test_common_low_ratios_can_be_built():
    # common practice, no source: sets of this kind come with a low of 1.76 or 1.82, reverse of about the same
    for wanted in (1.76, 1.82):
        found = teeth.find_two_sun_sets(wanted, tolerance=0.005)
        assert any(choice.planet_count == 3 for choice in found)
        for choice in found:
            assert choice.low_ratio == pytest.approx(wanted, rel=0.005)
            assert choice.reverse_ratio == pytest.approx(wanted, rel=0.005)
            assert choice.ring == choice.low_sun + 2 * choice.short_planet
            assert (choice.input_sun + choice.low_sun) % choice.planet_count == 0
            assert (choice.low_sun + choice.ring) % choice.planet_count == 0


# --- gear and wheel change, clutch, joint ---------------------------------------------------------------------------


def test_gear_and_wheel_change():
    # Chakrabarti, Soni, Gupta, Bhatnagar, Power System Engineering, 2nd ed., Ex 6.5: ratio 72/23 to 75/20 and wheel
    # 101.6 to 106.7 cm: speed x 0.87669, force x 1.14066
    old = dict(gear_ratio=1.0, final_drive_ratio=72 / 23, wheel_radius=0.508)
    new = dict(gear_ratio=1.0, final_drive_ratio=75 / 20, wheel_radius=0.5335)
    force = traction.tractive_effort(100.0, **new) / traction.tractive_effort(100.0, **old)
    speed = traction.shaft_speed(20.0, **old) / traction.shaft_speed(20.0, **new)
    assert force == pytest.approx(1.14066, rel=1e-4)
    assert speed == pytest.approx(0.87669, rel=1e-4)


def test_heat_when_a_clutch_joins_two_rotors():
    # public worked answer to a theory-of-machines problem: 800 kg at 260 mm and 1350 kg at 225 mm radius of gyration,
    # 1250 and 600 rpm: 92.90 rad/s together, 69 948 J lost
    lost = shift.slip_energy(800 * 0.26**2, inertia_driven=1350 * 0.225**2, speed_driving=1250 * np.pi / 30,
                             speed_driven=600 * np.pi / 30)  # fmt: skip
    assert lost == pytest.approx(69_947.66, rel=5e-4)


def test_universal_joint():
    # public worked answer: 25 degrees, 100 rad/s: 110.3 and 90.63 rad/s (cos 25 deg = 0.9063)
    ripple = driveline.joint_ripple(np.radians(25.0))
    assert 100 * ripple.high == pytest.approx(110.3, abs=0.05)
    assert 100 * ripple.low == pytest.approx(90.63, abs=0.005)

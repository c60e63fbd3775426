"""Parking where it meets other topics: the selector on a build, reverse pressure, slowing, the pictures' cases."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from evlib.build import selector_rules, slowing
from evlib.build.file import find_build, read_build
from evlib.build.gears import gear_ratios, has
from evlib.build.launch import input_torque_allowed
from evlib.build.parking_cases import back_case, brake_case, torques_back, ways_back
from evlib.build.review import review
from evlib.build.sheet import sheet
from evlib.build.view import View
from evlib.ground.tables import Curve
from evlib.motors.magnetisation import Froelich, Tabulated
from evlib.parking import selector

MACHINE = dict(magnetisation=Froelich(0.0016, 300.0), winding_resistance=0.015, brush_drop=2.0)


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


def view(build):
    return View(build.parts)


def parking(build):
    return review(build, topics=("parking",), figures=False)


# --- the selector's rules on a build ------------------------------------------------------------------------------
def test_the_settings_decide_which_speeds_are_too_fast(sound):
    # Kinematics by hand: low 1.7586 x 3.70 on 0.30 m turns the motors 21.69 rad per metre; 5500 rpm is 576 rad/s,
    # so 26.6 m/s or 95.6 km/h. A brisk walk is 1.5 m/s, 5.4 km/h (our own limit).
    b = view(sound)
    ratio = float(gear_ratios(b).low) * 3.70 / 0.30
    just = 5500 * np.pi / 30 / ratio * 3.6
    for low, broken in ((just - 1, 0), (just + 1, 2)):
        check = parking(sound.changed({"parking.selector.low_speed_limit": f"{low} km/h"})).check("selector rules")
        assert check.demand - check.capacity == broken
    for walk, verdict in ((5.3, "pass"), (5.5, "fail")):
        check = parking(sound.changed({"parking.selector.reverse_speed_limit": f"{walk} km/h"})).check("selector rules")
        assert check.verdict == verdict


def test_a_broken_rule_comes_with_its_way_on_the_sheet(sound):
    fast = sound.changed({"parking.selector.low_speed_limit": "120 km/h"})
    assert "ask for drive &gt; the car gets faster" in sheet(fast, today="2026-11-25")
    assert "low is never entered too fast" in parking(fast).check("selector rules").advice


def test_a_column_of_builds_is_searched_once_for_each_answer(sound, monkeypatch):
    # 1,000 builds, at most eight different searches, and each row as if it stood alone.
    asked = []
    real = selector.prove

    def counted(table, too_fast):
        asked.append(too_fast)
        return real(table, too_fast)

    monkeypatch.setattr(selector_rules, "prove", counted)
    chance = np.random.default_rng(3)
    low, walk = chance.uniform(5, 40, 1000), chance.uniform(0.5, 3, 1000)
    paths = {"parking.selector.low_speed_limit": low, "parking.selector.reverse_speed_limit": walk}
    together = parking(sound.changed(paths)).check("selector rules").capacity
    assert len(asked) == len(set(asked)) <= 8
    assert set(np.unique(together)) == {10.0, 12.0, 13.0, 15.0} or len(np.unique(together)) >= 3
    for row in (0, 17, 500, 999):
        alone = parking(sound.changed({path: float(values[row]) for path, values in paths.items()}))
        assert alone.check("selector rules").capacity == together[row]


def test_a_setting_for_low_below_that_for_reverse_is_no_hole(sound):
    # Medium is then empty, and low is let in up to where walking ends.
    meant = selector_rules.speeds_meant(30.0, low_speed_limit=2.0, shaft_per_road=21.7, speed_limit=576.0)
    assert meant.shaft_medium == meant.shaft_walking == pytest.approx(651.0)
    assert meant.walking_low and meant.medium_low and meant.walking_reverse


def test_the_shipped_table_is_the_one_in_data():
    file = Path(__file__).parents[2] / "data" / "parking" / "selector.toml"
    assert selector_rules.shipped() == selector.read_table(file)


# --- reverse ------------------------------------------------------------------------------------------------------
def test_reverse_pressure_is_where_the_held_torque_just_backs_up(sound):
    check = parking(sound).check("reverse pressure")
    held = input_torque_allowed(view(sound), "reverse", pressure=check.demand)
    pull = held * float(gear_ratios(view(sound)).reverse) * 3.70 * 0.95 * 0.96 / 0.30  # torque balance by hand
    grade = np.arctan(0.18)
    assert pull == pytest.approx(1650 * 9.80665 * (np.sin(grade) + 0.013 * np.cos(grade)), rel=1e-3)


@pytest.mark.parametrize("way", ["contactors", "inverter"])
def test_motors_that_give_more_backward_than_low_holds_fail(sound, way):
    # Nothing limits them there: 0.7 x 381 N m or 381 N m against the 228 N m of an unwound band. The same with a band
    # that winds itself on backward: it then holds exp(0.12 x 320 deg) = 1.955 times as much, 446 N m.
    built = sound.changed({"parking.reverse_by": way})
    check = parking(built).check("reverse pressure")
    assert check.verdict == "fail" and "slips and burns" in check.advice
    held = input_torque_allowed(view(built), "low", pressure=check.demand, driving=False)
    assert held == pytest.approx(381 * (0.7 if way == "contactors" else 1.0), rel=1e-3)
    turned = built.changed({"hydraulics.low.band_sense": "overrunning"})
    held = input_torque_allowed(view(turned), "low", pressure=check.capacity, driving=False)
    assert held == pytest.approx(446.4, abs=0.1)
    assert parking(turned).check("reverse pressure").verdict != "fail"


def test_low_turned_backward_unwinds_its_band(sound):
    # Capstan both ways (statics of belts): wound on it holds exp(mu theta) - 1, unwound 1 - exp(-mu theta); so the
    # ratio is exp(mu theta), here 0.12 over 320 degrees.
    torques = torques_back(view(sound))
    forward = float(input_torque_allowed(view(sound), "low", pressure=torques["inverter"].pressure))
    assert forward / torques["inverter"].held == pytest.approx(np.exp(0.12 * np.radians(320)), rel=1e-6)
    assert torques["inverter"].used == torques["inverter"].held < torques["inverter"].given


def test_common_practice_the_handbrake_backs_up_park(sound):
    # Common practice, no source: where ice under one wheel lets park slip, the handbrake, outside the differential,
    # still holds by itself.
    found = parking(sound.changed({"parking.worse_grip": 0.1}))
    assert {found.check(f"park grip, nose {nose}").verdict for nose in ("up", "down")} == {"fail"}
    assert {found.check(f"handbrake, nose {nose}").verdict for nose in ("up", "down")} == {"pass"}


def test_cases_of_the_deep_panels_by_hand():
    # Forces along the road by hand: 1500 kg on 20 % pull 2884.9 N (sine of 11.31 degrees).
    case = brake_case(0.20, mass=1500.0, up_per_newton=10.0, down_per_newton=6.0, grip_up=5000.0, grip_down=2000.0,
                      limit=400.0, grade_up=0.51, grade_down=0.13)  # fmt: skip
    assert case.slope == pytest.approx(2884.9, rel=1e-4)
    assert case.needed_up == pytest.approx(288.49, rel=1e-4) and case.needed_down is None
    assert case.up.max() == 5000.0 and case.down.max() == 2000.0
    assert case.held_up == pytest.approx(np.tan(np.arcsin(4000 / (1500 * 9.80665))), rel=1e-9)
    assert case.held_down == 0.13  # the tyres let go before the brake does: tan(arcsin(2400 / 14710)) is 0.165


def test_the_grade_held_takes_the_axles_load_on_that_grade(sound):
    # Two leading shoes hold 9600 N nose down, more than grip. On 35.12 % the rear axle carries
    # 16181 x (0.94351 x 0.52 - 0.33133 x 0.60 / 2.60) = 6701 N, 0.8 of it is 5361 N, and the slope pulls
    # 16181 x 0.33133: the same. On 40 % it pulls 6010 N and the tyres hold 5141 N.
    built = sound.changed({"parking.handbrake.handbrake_kind": "two leading drum"})
    (held,) = [f for f in review(built, topics=("parking",), figures=True).stated if f.name.endswith("nose down")]
    assert held.value == pytest.approx(35.12, abs=0.01)


def test_steepest_reverse_is_where_pull_and_need_meet(sound):
    ways = ways_back(view(sound))
    case = back_case(0.18, mass=1650.0, rolling_coefficient=0.013, ways=ways)
    for way, steepest in zip(case.ways, case.steepest, strict=True):
        slope = np.arctan(steepest)
        need = 1650.0 * 9.80665 * (np.sin(slope) + 0.013 * np.cos(slope))
        assert need == pytest.approx(way.pull, rel=1e-3)


# --- slowing ------------------------------------------------------------------------------------------------------
def test_resistor_for_a_braked_series_machine_fossee_3472_39_19():
    # FOSSEE textbook companion 3472, example 39.19 (a power-system text, utilisation of motors): a series machine
    # braked on a resistor at 312.5 N m and 500 rpm; its curve gives 345 V at 47.5 A there; armature and field 1 ohm.
    # Printed: 6.26 ohm.
    speed = 500 * 2 * np.pi / 60
    # The points at 20 and 100 A are ours: only that the curve bends matters here.
    k = Tabulated(Curve(x=np.array([0.0, 20.0, 47.5, 100.0]), y=np.array([0.0, 220.0, 345.0, 450.0]) / speed))
    got = slowing.resistor_for(47.5, speed=speed, magnetisation=k, winding_resistance=1.0, brush_drop=0.0)
    assert got == pytest.approx(6.26, abs=0.005)
    assert float(k.at(47.5)) * 47.5 == pytest.approx(312.5, rel=0.003)
    back = slowing.braked_current(speed, brake_resistance=got, magnetisation=k, winding_resistance=1.0, brush_drop=0.0)
    assert back == pytest.approx(47.5, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.floats(60, 550), st.floats(0.01, 1.0))
def test_self_excitation_has_its_critical_speed(speed, ohms):
    # Closed form for Froelich's curve without brush drop: I = I_s (L w / R - 1), nothing below w = R / L.
    machine = {**MACHINE, "brush_drop": 0.0}
    got = slowing.braked_current(speed, brake_resistance=ohms, **machine)
    expected = 300.0 * (0.0016 * speed / (ohms + 0.015) - 1)
    if expected < 5000.0:
        assert got == pytest.approx(max(expected, 0.0), abs=3.0 if expected < 3 else 1e-3)


def test_the_braked_current_is_where_a_coil_settles():
    # Independent route: the field coil's own equation of build-up, L di/dt = k(I) w - V_b - R I, integrated.
    def rate(_t, y):
        return [(MACHINE["magnetisation"].at(y[0]) * 250.0 - 2.0 - 0.23 * y[0]) / 1e-3]

    end = solve_ivp(rate, (0, 2), [60.0], rtol=1e-9, atol=1e-9).y[0, -1]
    assert slowing.braked_current(250.0, brake_resistance=0.215, **MACHINE) == pytest.approx(end, rel=1e-5)


@settings(max_examples=20, deadline=None)
@given(st.floats(200, 500), st.floats(120, 400))  # lower down the two solutions meet, and none is left
def test_resistor_and_current_are_inverse(speed, current):
    ohms = slowing.resistor_for(current, speed=speed, **MACHINE)
    assert slowing.braked_current(speed, brake_resistance=ohms, **MACHINE) == pytest.approx(current, rel=1e-6)
    # and power balances: what the shaft gives goes into brushes, winding and resistor
    into = float(MACHINE["magnetisation"].at(current)) * current * speed
    assert into == pytest.approx(2.0 * current + (0.015 + ohms) * current**2)


@settings(max_examples=20, deadline=None)
@given(st.floats(100, 500), st.floats(50, 400), st.floats(20, 200))
def test_plugging_takes_more_resistance_and_the_packs_power_too(speed, current, volts):
    ohms = slowing.plug_resistor_for(current, speed=speed, supply_volts=volts, **MACHINE)
    k = float(MACHINE["magnetisation"].at(current))
    # Power balance: from the shaft and from the supply, into brushes, winding and resistor.
    into = k * current * speed + volts * current
    assert into == pytest.approx(2.0 * current + (0.015 + ohms) * current**2)
    assert ohms > volts / current - 0.1


def test_a_current_that_no_short_circuit_makes_is_refused():
    with pytest.raises(ValueError, match="short circuit"):
        slowing.resistor_for(400.0, speed=5.0, **MACHINE)


def test_ways_to_slow_balance_their_power(sound):
    for way in slowing.ways_to_slow(view(sound), current=200.0):
        drag = slowing.motor_drag(view(sound), gear_ratio=gear_ratios(view(sound)).low)
        taken_in = way.force * slowing.RULE_SPEED + max(way.from_pack, 0.0)
        assert taken_in == pytest.approx(way.heat + drag * slowing.RULE_SPEED, rel=1e-6), way.way


def test_a_series_machine_gives_nothing_back_and_an_ac_machine_does(sound):
    assert all(way.from_pack >= 0 for way in slowing.ways_to_slow(view(sound), current=200.0))
    (only,) = slowing.ways_to_slow(view(read_build(find_build("college_hatch"))), current=200.0)
    assert only.way == "regeneration" and only.from_pack < 0
    assert -only.from_pack == pytest.approx(0.90 * only.force * slowing.RULE_SPEED)


def test_drag_of_motors_without_current_is_power_over_speed(sound):
    b = view(sound)
    ratio = float(gear_ratios(b).low)
    shaft = 40 / 3.6 * ratio * 3.70 / 0.30
    watts = 2 * (b.machine.friction_torque * shaft + b.machine.windage_coefficient * shaft**3)
    assert slowing.motor_drag(b, gear_ratio=ratio) == pytest.approx(watts / (40 / 3.6))


def test_low_holds_less_while_the_wheels_drive(sound):
    # The same capstan as above, at main pressure.
    from evlib.build.launch import main_pressure

    b = view(sound)
    driving = input_torque_allowed(b, "low", pressure=main_pressure(b, "low"))
    assert slowing.low_holds_back(b) == pytest.approx(driving / np.exp(0.12 * np.radians(320)), rel=1e-6)


@pytest.mark.parametrize("name", ["orchard_van", "quarry_pickup", "college_hatch"])
def test_the_open_question_stands_on_every_sheet(name):
    # 49 CFR 571.102 S3.1.2, read in the Code of Federal Regulations (2002, 2005, 2024): "In vehicles having more than
    # one forward transmission gear ratio, one forward drive position shall provide a greater degree of engine braking
    # than the highest speed transmission ratio at vehicle speeds below 40 kilometers per hour (25 miles per hour)".
    build = read_build(find_build(name))
    page = sheet(build, today="2026-11-25")
    assert "open question for your inspector" in page and "571.102 S3.1.2" in page and "40 km/h" in page
    assert ("one forward ratio" in page) != has(view(build), "gearbox")
    assert pytest.approx(slowing.RULE_SPEED) == 40 / 3.6 and pytest.approx(slowing.RULE_SPEED, rel=0.01) == 25 * 0.44704


# --- park lock ----------------------------------------------------------------------------------------------------
def test_drop_in_takes_the_lower_of_the_makers_value_and_the_sum(sound):
    # Kinematics by hand: the gap of 0.15 rad passes in 12 ms at 12.5 rad/s; over 3.70, on 0.30 m: 1.0135 m/s
    check = parking(sound).check("park drop-in speed")
    assert check.demand == pytest.approx(3 / 3.6) and check.capacity == pytest.approx(1.0135, abs=5e-5)
    slower = parking(sound.changed({"parking.park_lock.park_engage_speed": "3.3 km/h"})).check("park drop-in speed")
    assert slower.capacity == pytest.approx(3.3 / 3.6)
    at_wheels = parking(sound.changed({"parking.park_lock.park_place": "after final drive",
                                       "parking.park_lock.park_engage_speed": "20 km/h"}))  # fmt: skip
    assert at_wheels.check("park drop-in speed").capacity == pytest.approx(3.75)


def test_a_slower_pawl_alone_fails_the_drop_in(sound):
    # 20 ms in place of 12: 0.608 m/s or 2.19 km/h, less than the 3 km/h up to which park is let in.
    check = parking(sound.changed({"parking.park_lock.pawl_time": "20 ms"})).check("park drop-in speed")
    assert check.verdict == "fail" and check.capacity * 3.6 == pytest.approx(2.189, abs=1e-3)


def test_the_weakest_part_decides_park_lock(sound):
    # By hand at the park wheel: wheel studs 2 x 5 x 42 kN x 0.12 x 57 mm / 3.70 = 776.4 N m, final drive 3000 / 3.70
    # = 810.8 N m; a propeller shaft of 700 is weaker; at the wheels there is only the pawl (1392 N m), both
    # axle shafts, 2 x 1600 N m, and the studs, 2873 N m.
    def strength(changes):
        return parking(sound.changed(changes)).check("park lock").capacity

    assert strength({}) == pytest.approx(776.4, abs=0.05)
    assert strength({"final_drive.stud_clamp": "60 kN"}) == pytest.approx(810.8, abs=0.05)
    assert strength({"final_drive.propeller_rating": "700 N m"}) == pytest.approx(700)
    assert strength({"final_drive.axle_shaft_rating": "1000 N m"}) == pytest.approx(2 * 1000 / 3.70)
    assert strength({"parking.park_lock.park_place": "after final drive"}) == pytest.approx(1392.2, abs=0.1)


def test_what_park_lock_feels_when_it_takes_the_car_up(sound):
    # By hand: it falls (2 pi / 18 + 5 deg) x 0.30 / 3.70 = 35.4 mm and arrives at 0.369 m/s; by twist alone
    # 257.3 + sqrt(257.3^2 + 2 x 5000 x 257.3 x 0.4363) = 1348 N m, but the tyres skid first: the rear axle carries
    # 8983 N nose up, 7518 N nose down, x 0.80 x 0.30 / 3.70.
    found = parking(sound)
    assert found.check("park lock").demand == pytest.approx(0.80 * 8983 * 0.30 / 3.70, rel=1e-3)
    hard = sound.changed({"vehicle.grip": 2.0})
    assert parking(hard).check("park lock").demand == pytest.approx(1347.7, abs=0.5)
    # Nose down they skid at 487.7 N m: 257.3 x (0.4363 + 0.0975) - 487.7 x 0.0975 / 2 = 113.6 J are left, rubbed away
    # by 6015 - 3173 = 2842 N in 40.0 mm, after 43.3 mm.
    assert found.check("roll before park holds").demand == pytest.approx(0.0833, abs=1e-4)


def test_a_longer_fall_is_felt_and_rolled(sound):
    few = parking(sound.changed({"parking.park_lock.park_teeth": 9, "vehicle.grip": 2.0}))
    many = parking(sound.changed({"vehicle.grip": 2.0}))
    for name in ("park lock", "roll before park holds"):
        assert few.check(name).demand > many.check(name).demand
    icy = parking(sound.changed({"vehicle.grip": 0.35})).check("roll before park holds")
    assert icy.demand == 100.0 and icy.verdict == "fail"

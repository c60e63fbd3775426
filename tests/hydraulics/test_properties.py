"""Balances, limits, round trips and second methods."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from evlib.hydraulics import clutch, handover, heat, launch, line, oil, pump, rest, slip, supply, valve

REST = {
    "leak_test_pressure": 5e5, "seal_leak": 1e-5, "valve_body_leak": 2.5e-5, "open_feed": 0.0, "free_flow": 1.5e-4,
    "rated_flow": 1.0e-4, "rated_pressure": 7e5, "rated_voltage": 13.5, "terminal_voltage": 12.8, "slip_share": 0.4,
    "pump_relief_pressure": 1.2e6, "cracking_pressure": 15e3, "check_loss": 2e4, "line_bore": 9.5e-3,
    "line_length": 1.2, "line_fittings": 6.0, "viscosity": 8e-6, "density": 800.0, "thinning": 1.4,
    "internal_slip": 2e-5, "clearance_growth": 1.05, "back_flow": "open", "regulator_set": 7.5e5,
    "regulator_override": 4e4, "displacement": 16e-6,
}  # fmt: skip


@pytest.fixture
def at_rest():
    return dict(REST)


few = settings(max_examples=25, deadline=None)
PLATES = {
    "held_multiple": 2.76, "friction": 0.12, "friction_faces": 12, "face_outer_diameter": 0.155,
    "face_inner_diameter": 0.125, "piston_outer_diameter": 0.16, "piston_inner_diameter": 0.098,
    "return_spring_force": 800.0,
}  # fmt: skip
BAND = {
    "held_multiple": 0.76, "friction": 0.12, "wrap_angle": 5.6, "drum_diameter": 0.15, "lever_ratio": 1.8,
    "piston_outer_diameter": 0.075, "piston_inner_diameter": 0.0, "return_spring_force": 350.0,
}  # fmt: skip


# -- pressure at rest --------------------------------------------------------------------------------------------
@few
@given(st.floats(0.5, 3), st.floats(1, 1.5), st.floats(10, 14), st.floats(0, 4e-5),
       st.sampled_from(["open", "outlet valve"]))  # fmt: skip
def test_every_crossing_balances(thinning, growth, volts, feed, back):
    given_ = {**REST, "thinning": thinning, "clearance_growth": growth, "terminal_voltage": volts,
              "open_feed": feed, "back_flow": back}  # fmt: skip
    found = rest.rest_point(**given_)
    out = found.through_seals + found.through_orifices + found.through_internal_pump + found.through_regulator
    assert out == pytest.approx(found.flow, rel=1e-9)
    assert 0 <= found.pressure < found.pump_pressure
    assert (found.through_internal_pump > 0) == (back == "open")


def test_crossing_by_another_root_search(at_rest):
    # The same balance written over pressure and solved by scipy's Brent search, with the hose by Hagen-Poiseuille's or
    # Colebrook's factor through line_loss at the flow.
    lost = (at_rest["free_flow"] - at_rest["rated_flow"]) / at_rest["rated_pressure"] * (0.6 + 0.4 * 1.4)

    def balance(pressure):
        test = at_rest["leak_test_pressure"]
        leak = at_rest["seal_leak"] * 1.4 * pressure / test + at_rest["valve_body_leak"] * np.sqrt(pressure / test)
        leak += at_rest["internal_slip"] * 1.05**3 * 1.4 * pressure / test
        spill = max(pressure - 7.5e5, 0) * 16e-6 * 1000 / 60 / 4e4
        flow = leak + spill
        hose = line.line_loss(flow, bore=9.5e-3, length=1.2, fittings=6.0, viscosity=8e-6, density=800.0)
        outlet = pressure + hose + 15e3 + 2e4 * (flow / at_rest["free_flow"]) ** 2
        return at_rest["free_flow"] * 12.8 / 13.5 - lost * outlet - flow

    assert rest.rest_point(**at_rest).pressure == pytest.approx(brentq(balance, 1.0, 1.2e6), rel=1e-9)


def test_flow_to_pressure_is_the_crossing_backwards(at_rest, leak):
    found = rest.rest_point(**{**at_rest, "regulator_set": 4e6})
    again = rest.pressure_for(
        found.flow, internal_slip=at_rest["internal_slip"], clearance_growth=1.05, thinning=1.4, **leak
    )  # fmt: skip
    assert again == pytest.approx(found.pressure, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "less", "more"),
    [("thinning", 1.0, 2.0), ("clearance_growth", 1.0, 1.4), ("seal_leak", 0, 2e-5), ("valve_body_leak", 0, 4e-5),
     ("open_feed", 0, 3e-5), ("internal_slip", 0, 4e-5), ("cracking_pressure", 0, 5e4), ("line_length", 0, 5)],
)  # fmt: skip
def test_what_lowers_pressure_at_rest(at_rest, name, less, more):
    high = rest.rest_point(**{**at_rest, name: less})
    low = rest.rest_point(**{**at_rest, name: more})
    assert low.pressure < high.pressure


def test_regulator_takes_over_above_its_set_point(at_rest):
    tight = {**at_rest, "internal_slip": 0, "seal_leak": 0, "valve_body_leak": 1e-6}
    found = rest.rest_point(**tight)
    assert at_rest["regulator_set"] < found.pressure < at_rest["regulator_set"] + at_rest["regulator_override"]
    assert found.through_regulator > 0.9 * found.flow
    below = rest.rest_point(**{**tight, "regulator_set": 2e6})
    assert below.through_regulator == 0 and below.pump_pressure == pytest.approx(1.2e6)  # its relief valve holds it


def test_dead_pump_holds_nothing(at_rest):
    found = rest.rest_point(**{**at_rest, "terminal_voltage": 0.0})
    assert found.pressure == 0 and found.flow == 0


def test_shut_off_and_line_in_place_meet_the_point_at_rest(at_rest):
    found = rest.rest_point(**at_rest)
    stall = pump.stall_pressure(1.5e-4, rated_flow=1e-4, rated_pressure=7e5, rated_voltage=13.5, terminal_voltage=12.8,
                                slip_share=0.4, thinning=1.4)  # fmt: skip
    shut = rest.shut_off_pressure(stall, pump_relief_pressure=1.2e6, cracking_pressure=15e3)
    free = rest.free_flow_in_place(found.flow, rest_pressure=found.pressure, shut_off=shut)
    assert shut == 1.185e6
    assert free * (1 - found.pressure / shut) == pytest.approx(found.flow)


# -- pumps -------------------------------------------------------------------------------------------------------
def test_pump_curve_passes_its_two_points_and_its_stall():
    curve = {"free_flow": 1.5e-4, "rated_flow": 1e-4, "rated_pressure": 7e5, "rated_voltage": 13.5, "slip_share": 0.4}
    at = {**curve, "terminal_voltage": 13.5, "thinning": 1.0}
    assert pump.electric_flow(0.0, **at) == pytest.approx(1.5e-4)
    assert pump.electric_flow(7e5, **at) == pytest.approx(1e-4)
    for volts, thin in ((13.5, 1.0), (10.0, 1.0), (12.0, 2.5)):
        now = {**curve, "terminal_voltage": volts, "thinning": thin}
        stall = pump.stall_pressure(now.pop("free_flow"), **now)
        assert pump.electric_flow(stall * 0.999, free_flow=1.5e-4, **now) > 0
        assert pump.electric_flow(stall * 1.001, free_flow=1.5e-4, **now) == 0


@few
@given(st.floats(0, 1e6), st.floats(0.1, 5), st.floats(1, 1.5))
def test_internal_pump_backwards_never_gives(pressure, thinning, growth):
    box = {"displacement": 16e-6, "internal_slip": 2e-5, "leak_test_pressure": 5e5, "clearance_growth": growth,
           "thinning": thinning, "pressure": pressure}  # fmt: skip
    assert pump.internal_flow(-50.0, **box) < 0
    assert pump.internal_flow(0.0, **box) <= 0
    ahead, still, back = (pump.internal_flow(n, **box) for n in (50.0, 0.0, -50.0))
    assert ahead - still == pytest.approx(still - back)


# -- clutches and bands ------------------------------------------------------------------------------------------
@few
@given(st.floats(0.11, 0.3), st.floats(0.02, 0.1))
def test_even_wear_holds_less_than_even_pressure(outer, inner):
    worn = clutch.mean_radius(outer, inner_diameter=inner, contact="uniform wear")
    new = clutch.mean_radius(outer, inner_diameter=inner, contact="uniform pressure")
    assert inner / 2 < worn < new < outer / 2
    # The even-pressure radius is the integral of r over the ring's area; done numerically.
    r = np.linspace(inner / 2, outer / 2, 4001)
    assert new == pytest.approx(np.trapezoid(r * r, r) / np.trapezoid(r, r), rel=1e-6)


@few
@given(st.floats(1e5, 2e6))
def test_hold_and_need_are_inverse(pressure):
    assert launch.plates_need(launch.plates_hold(pressure, **PLATES), **PLATES) == pytest.approx(
        max(pressure, 800 / clutch.piston_area(0.16, inner_diameter=0.098))
    )
    for sense in ("energising", "overrunning"):
        torque = launch.band_holds(pressure, sense=sense, **BAND)
        least = 350 / clutch.piston_area(0.075, inner_diameter=0.0)
        assert launch.band_needs(torque, sense=sense, **BAND) == pytest.approx(max(pressure, least))


def test_no_torque_is_held_before_the_spring_is_overcome():
    area = clutch.piston_area(0.16, inner_diameter=0.098)
    at_spring = 800.0 / area
    assert launch.plates_hold(at_spring * 0.999, **PLATES) == 0
    assert launch.plates_hold(at_spring * 1.001, **PLATES) > 0


def test_energising_band_against_overrunning_one():
    # Trade fact: they differ by more than two to one (common practice, no source). The ratio is exp(friction x wrap),
    # so for a band of 320 degrees it holds above a friction of 0.124: at the sticking value of paper (0.14) it is met,
    # at the sliding value that the sizing uses (0.12) it is 1.95. Both are told here; neither input was moved.
    def ratio(friction):
        band = {**BAND, "friction": friction}
        return launch.band_holds(6e5, sense="energising", **band) / launch.band_holds(6e5, sense="overrunning", **band)

    assert ratio(0.14) > 2
    assert ratio(0.12) == pytest.approx(2, rel=0.05) and ratio(0.12) < 2


def test_reverse_governs_where_one_size_of_clutch_is_fitted():
    # With the same clutch, what it allows goes inversely as what it holds: the ring of a 1.76 set holds 2.76, the low
    # sun 0.76 times the input torque.
    low = launch.plates_hold(6e5, **{**PLATES, "held_multiple": 0.76})
    assert low / launch.plates_hold(6e5, **PLATES) == pytest.approx(2.76 / 0.76)


def test_spinning_oil_drags_a_clutch_only_without_enough_spring():
    ring = {"outer_diameter": 0.13, "inner_diameter": 0.08, "oil_inlet_radius": 0.035, "density": 800.0}
    force = clutch.spinning_oil_force(500.0, **ring)
    assert clutch.drags_when_released(500.0, return_spring_force=force * 1.01, **ring) == 0
    assert clutch.drags_when_released(500.0, return_spring_force=force * 0.9, **ring) == pytest.approx(force * 0.1)
    assert clutch.spinning_oil_force(1000.0, **ring) == pytest.approx(4 * force)
    assert clutch.spinning_oil_force(500.0, **{**ring, "oil_inlet_radius": 0.065}) == 0  # oil never reaches the piston


# -- handover ----------------------------------------------------------------------------------------------------
@few
@given(st.floats(1e5, 1.2e6), st.floats(0.3, 3), st.floats(1, 1.4))
def test_at_handover_speed_the_pump_gives_exactly_the_leakage(pressure, thinning, growth):
    box = {"internal_slip": 2e-5, "clearance_growth": growth, "leak_test_pressure": 5e5, "thinning": thinning}
    leaks = {"seal_leak": 1e-5, "valve_body_leak": 2.5e-5, "open_feed": 0.0}
    speed = handover.handover_speed(pressure, displacement=16e-6, **box, **leaks)
    net = pump.internal_flow(speed, pressure=pressure, displacement=16e-6, **box)
    lost = pump.leakage(pressure, leak_test_pressure=5e5, thinning=thinning, **leaks)
    assert net == pytest.approx(lost, rel=1e-9)


def test_more_torque_hands_over_later(leak):
    box = {"displacement": 16e-6, "internal_slip": 2e-5, "clearance_growth": 1.05, "thinning": 1.4, **leak}
    needs = [launch.plates_need(torque, **PLATES) for torque in (100.0, 200.0, 300.0)]
    speeds = handover.handover_speed(np.array(needs), **box)
    assert np.all(np.diff(speeds) > 0)


def test_switch_speed_leaves_the_pump_time_to_come_up():
    on = handover.switch_on_needed(30.0, input_deceleration=130.0, switch_delay=0.03, spin_up_time=0.12)
    # Going down from there at that rate, after delay and spin-up the speed is just the handover speed.
    assert on - 130.0 * 0.15 == pytest.approx(30.0)


# -- lines, oil, valves ------------------------------------------------------------------------------------------
@few
@given(st.floats(1e-6, 2e-3), st.floats(5e-6, 5e-4))
def test_line_loss_rises_with_flow_and_falls_with_bore(flow, viscosity):
    bores = np.array([6.4e-3, 9.5e-3, 12.7e-3])
    shared = {"length": 1.2, "fittings": 4.0, "viscosity": viscosity, "density": 820.0}
    loss = line.line_loss(flow, bore=bores, **shared)
    assert np.all(np.diff(loss) < 0)
    assert np.all(line.line_loss(flow * 1.05, bore=bores, **shared) > loss)


def test_friction_factor_has_no_jump():
    number = np.array([2299.999, 2300.001, 3999.999, 4000.001])
    factor = line.friction_factor(number, relative_roughness=1e-4)
    assert factor[0] == pytest.approx(factor[1], rel=1e-5)
    assert factor[2] == pytest.approx(factor[3], rel=1e-5)


def test_suction_flow_is_the_one_that_leaves_the_allowed_pressure():
    shared = {"bore": 15.9e-3, "length": 0.6, "fittings": 3.0, "lift": 0.1, "viscosity": 1e-3, "density": 870.0,
              "air_pressure": 101325.0}  # fmt: skip
    flow = line.largest_suction_flow(80e3, **shared)
    assert line.inlet_pressure(flow, **shared) == pytest.approx(80e3, rel=1e-6)
    assert line.largest_suction_flow(80e3, **{**shared, "lift": 2.9}) == 0
    # Nearly all of the loss here is laminar: Hagen and Poiseuille by hand, 101325 - 853 - 80000 Pa left to lose.
    spare = 101325 - 870 * 9.80665 * 0.1 - 80e3
    assert flow == pytest.approx(spare * np.pi * 15.9e-3**4 / (128 * 1e-3 * 870 * 0.6), rel=0.03)


@few
@given(st.floats(253.15, 393.15))
def test_oil_thins_and_swells_with_heat(temperature):
    grades = {"viscosity_40": 34e-6, "viscosity_100": 7.4e-6}
    assert oil.viscosity(temperature + 5, **grades) < oil.viscosity(temperature, **grades)
    assert oil.density(temperature + 5, density_15=850) < oil.density(temperature, density_15=850)
    assert oil.thinning(temperature, reference_temperature=temperature, **grades) == pytest.approx(1)


def test_viscosity_returns_its_two_given_points():
    grades = {"viscosity_40": 34e-6, "viscosity_100": 7.4e-6}
    assert oil.viscosity(313.15, **grades) == pytest.approx(34e-6)
    assert oil.viscosity(373.15, **grades) == pytest.approx(7.4e-6)


def test_emptying_time_against_integration():
    from scipy.integrate import solve_ivp

    run = solve_ivp(lambda t, p: -1e-10 * p / 2e-11, (0, 1), [6e5], rtol=1e-10, dense_output=True)
    time = valve.emptying_time(6e5, end_pressure=2e5, compliance=2e-11, leak_slope=1e-10)
    assert run.sol(time)[0] == pytest.approx(2e5, rel=1e-6)


def test_accumulator_compliance_is_the_slope_of_its_gas_law():
    def oil_taken(pressure):
        return 1e-4 * (1 - ((4e5 + 101325) / (pressure + 101325)) ** (1 / 1.4))

    slope = (oil_taken(6e5 + 1) - oil_taken(6e5 - 1)) / 2
    got = valve.accumulator_compliance(1e-4, charge_pressure=4e5, pressure=6e5, exponent=1.4)
    assert got == pytest.approx(slope, rel=1e-6)
    assert valve.accumulator_compliance(1e-4, charge_pressure=4e5, pressure=3e5, exponent=1.4) == 0


# -- slip --------------------------------------------------------------------------------------------------------
def test_slip_rises_while_short_and_is_taken_back():
    # 100 N m asked, 60 held for a second, then 140 held: 40/0.4 = 100 rad/s up, and as long to come down again.
    t = np.array([0, 1.0, 1.0 + 1e-9, 2.0, 3.0])
    held = np.array([60.0, 60.0, 140.0, 140.0, 140.0])
    run = slip.slip(t, asked=100.0, held=held, inertia=0.4)
    assert run.speed[1] == pytest.approx(100.0)
    assert run.speed[3] == pytest.approx(0.0, abs=1e-6) and run.speed[4] == 0
    # Triangle: 60 x 50 J while it rises, 140 x 50 J while it falls.
    assert run.energy[-1] == pytest.approx(60 * 50 + 140 * 50)


def test_engaging_energy_without_drive_is_the_kinetic_energy():
    # Two turning masses, one of them the vehicle: all of J w^2/2 goes into the lining; half the capacity left: double.
    assert slip.engaging_energy(100.0, inertia=0.4, drive_torque=0.0, held=200.0) == pytest.approx(0.5 * 0.4 * 1e4)
    assert slip.engaging_energy(100.0, inertia=0.4, drive_torque=100.0, held=200.0) == pytest.approx(0.4 * 1e4)
    assert slip.engaging_energy(100.0, inertia=0.4, drive_torque=200.0, held=200.0) == np.inf


def test_engaging_time_and_energy_agree():
    # Constant torque: energy = torque x mean slip x time; the mean of a straight fall is half.
    given = {"inertia": 0.4, "drive_torque": 60.0, "held": 200.0}
    time, energy = slip.engaging_time(120.0, **given), slip.engaging_energy(120.0, **given)
    assert energy == pytest.approx(200.0 * 60.0 * time)
    assert slip.engaging_time(120.0, inertia=0.4, drive_torque=200.0, held=200.0) == np.inf
    assert slip.engaging_time(0.0, inertia=0.4, drive_torque=200.0, held=200.0) == 0


def test_dips_are_found_at_their_ends():
    t = np.linspace(0, 10, 11)
    pressure = np.where((t > 2) & (t < 6), 3e5, 6e5)
    found = slip.dips(t, pressure=pressure, needed=4.5e5, longer_than=0.0)
    assert len(found) == 1
    assert (found[0].start, found[0].end) == (2.5, 5.5)
    assert found[0].lowest == pytest.approx(3 / 4.5)
    assert slip.dips(t, pressure=pressure, needed=4.5e5, longer_than=4.0) == []
    assert slip.dips(t, pressure=6e5, needed=4.5e5, longer_than=0.0) == []


# -- 12 V --------------------------------------------------------------------------------------------------------
def test_inrush_heat_against_a_sum_of_small_pieces():
    t = np.linspace(0, 0.12, 200001)
    current = 15 + 55 * np.exp(-3 * t / 0.12)
    expected = np.trapezoid(current**2, t)
    assert supply.inrush_heat(70.0, running_current=15.0, spin_up_time=0.12) == pytest.approx(expected, rel=1e-6)


def test_fuse_stands_what_the_standard_says_at_its_points():
    # ISO 8820-3, shortest opening times (from memory): 0.15 s at twice, 0.04 s at 3.5 times the rating.
    assert supply.blade_fuse_stands(50.0, fuse_rating=25.0) == pytest.approx(50.0**2 * 0.15)
    assert supply.blade_fuse_stands(87.5, fuse_rating=25.0) == pytest.approx(87.5**2 * 0.04)
    assert supply.blade_fuse_stands(33.0, fuse_rating=25.0) == np.inf
    assert supply.blade_fuse_stands(300.0, fuse_rating=25.0) == pytest.approx(150.0**2 * 0.02)


# -- heat --------------------------------------------------------------------------------------------------------
def test_pump_heat_is_flow_times_pressure():
    flow = pump.internal_flow(300.0, pressure=0.0, displacement=16e-6, internal_slip=2e-5, leak_test_pressure=5e5,
                              clearance_growth=1.0, thinning=1.0)  # fmt: skip
    assert heat.pump_heat(300.0, pressure=7e5, displacement=16e-6) == pytest.approx(valve.oil_power(flow, pressure=7e5))


def test_oil_warms_as_the_integrated_balance_says():
    from scipy.integrate import solve_ivp

    power, air, conductance, stored = 640.0, 303.15, 16.0, 6 * 2000.0 + 50 * 500.0
    run = solve_ivp(lambda t, y: (power - conductance * (y - air)) / stored, (0, 40000), [air], rtol=1e-9,
                    dense_output=True)  # fmt: skip
    end = heat.steady_oil_temperature(power, air_temperature=air, conductance=conductance)
    assert run.y[0, -1] == pytest.approx(end, rel=1e-6)
    when = heat.warming_time(0.8, oil_mass=6, metal_mass=50, conductance=conductance)
    assert run.sol(when)[0] == pytest.approx(air + 0.8 * (end - air), rel=1e-6)


# -- running -----------------------------------------------------------------------------------------------------
ELSEWHERE = {
    "pump_relief_pressure", "check_loss", "line_bore", "line_length", "line_fittings", "viscosity", "density",
}  # fmt: skip
RUNNING = {name: value for name, value in REST.items() if name not in ELSEWHERE}


def test_running_at_no_speed_is_rest_without_the_small_losses():
    at_rest = rest.rest_point(**{**REST, "check_loss": 0.0, "line_length": 0.0, "line_fittings": 0.0})
    assert rest.running_pressure(0.0, electric_on=True, **RUNNING) == pytest.approx(at_rest.pressure, rel=1e-9)


def test_running_without_the_electric_pump_meets_the_handover_speed():
    # Handover asks for the speed at a pressure, running for the pressure at a speed: one is the other's inverse.
    leaks = {k: RUNNING[k] for k in ("seal_leak", "valve_body_leak", "open_feed", "leak_test_pressure", "internal_slip",
                                     "clearance_growth", "thinning", "displacement")}  # fmt: skip
    for pressure in (2e5, 4e5, 7e5):
        speed = handover.handover_speed(pressure, **leaks)
        assert rest.running_pressure(speed, electric_on=False, **RUNNING) == pytest.approx(pressure, rel=1e-9)


def test_running_backwards_empties_an_open_circuit_but_not_a_closed_one():
    assert rest.running_pressure(-150.0, electric_on=True, **RUNNING) == 0
    closed = {**RUNNING, "back_flow": "outlet valve"}
    standing = rest.running_pressure(0.0, electric_on=True, **closed)
    assert rest.running_pressure(-150.0, electric_on=True, **closed) == pytest.approx(standing)


# -- found by breaking formulas on purpose -----------------------------------------------------------------------
def test_oil_that_enters_outside_the_pistons_inner_edge_presses_only_from_there():
    radius = np.linspace(0.055, 0.07, 20001)  # inlet at 55 mm, ring from 45 to 70 mm
    pressure = 830.0 * 300.0**2 * (radius**2 - 0.055**2) / 2
    expected = np.trapezoid(pressure * 2 * np.pi * radius, radius)
    got = clutch.spinning_oil_force(
        300.0, outer_diameter=0.14, inner_diameter=0.09, oil_inlet_radius=0.055, density=830.0
    )  # fmt: skip
    assert got == pytest.approx(expected, rel=1e-6)


def test_input_slows_with_the_wheels():
    # From 20 m/s to rest at 5 m/s2 takes 4 s; wheels of 0.3 m turn 66.67 rad/s at first, the input 6.5 times that.
    rate = handover.input_deceleration(5.0, overall_ratio=6.5, wheel_radius=0.3)
    assert rate * 4.0 == pytest.approx(6.5 * 20.0 / 0.3)

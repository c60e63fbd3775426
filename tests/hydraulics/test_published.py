"""Hydraulics against values from outside the project; source beside each number."""

import math

import fluids
import numpy as np
import pytest

from evlib.ground.units import factor
from evlib.hydraulics import clutch, line, oil, pump, rest, valve

PSI, INCH, LBF = factor("psi", "Pa"), factor("in", "m"), factor("lbf", "N")
GPM, FOOT = factor("US gal/min", "m3/s"), factor("ft", "m")


def test_reynolds_number_of_a_textbook():
    # Esposito, Fluid Power, Ex 4.1: 100 cSt, 10 ft/s in a 1 in pipe: 774.
    flow = 10 * FOOT * math.pi / 4 * INCH**2
    assert line.reynolds(flow, bore=INCH, viscosity=100e-6) == pytest.approx(774, rel=0.005)


def test_laminar_loss_of_a_textbook():
    # Esposito, Fluid Power, Ex 4.1 and 4.3: the same line, SG 0.9, 100 ft long: 60 psi.
    flow = 10 * FOOT * math.pi / 4 * INCH**2
    loss = line.line_loss(flow, bore=INCH, length=20.0, fittings=0, viscosity=100e-6, density=0.9 * 1000)
    assert loss * (100 * FOOT / 20.0) == pytest.approx(60 * PSI, rel=0.01)


@pytest.mark.parametrize(("litres", "number", "kilopascal"), [(4, 222.8, 11.22), (8, 445.6, 22.44), (15, 835.5, 42.07)])
def test_laminar_hose(litres, number, kilopascal):
    # fluids 1.3.1 and Hagen-Poiseuille: 9.525 mm bore, 40 cSt, 850 kg/m3.
    flow = litres / 60e3
    assert line.reynolds(flow, bore=9.525e-3, viscosity=40e-6) == pytest.approx(number, rel=0.001)
    loss = line.line_loss(flow, bore=9.525e-3, length=1, fittings=0, viscosity=40e-6, density=850)
    assert loss == pytest.approx(kilopascal * 1e3, rel=0.001)
    hagen = 128 * 40e-6 * 850 * flow / (math.pi * 9.525e-3**4)
    assert loss == pytest.approx(hagen, rel=1e-9)


def test_friction_factor_of_the_reference_library():
    # fluids 1.3.1, Colebrook: Re 1e5, e/D 1e-3: 0.0221745; and over a range of both, computed there at test time.
    assert line.friction_factor(1e5, relative_roughness=1e-3) == pytest.approx(0.0221745, rel=1e-5)
    for number in (4000.0, 2e4, 1e6, 1e8):
        for roughness in (0.0, 1e-5, 1e-3, 0.05):
            expected = fluids.friction.Colebrook(number, roughness)
            assert line.friction_factor(number, relative_roughness=roughness) == pytest.approx(expected, rel=2e-5)
    for number in (1.0, 500.0, 2000.0):
        expected = fluids.friction.friction_laminar(number)
        assert line.friction_factor(number, relative_roughness=0.001) == pytest.approx(expected)


def test_line_with_fittings_in_turbulent_flow():
    # fluids 1.3.1 at test time: K of the pipe plus K of the fittings, dP from them.
    flow, bore, viscosity, density = 60 / 60e3, 9.5e-3, 8e-6, 820.0
    speed = flow / (math.pi / 4 * bore**2)
    number = fluids.core.Reynolds(V=speed, D=bore, nu=viscosity)
    pipe = fluids.K_from_f(fluids.friction.Colebrook(number, 1.5e-6 / bore), L=2.0, D=bore)
    expected = fluids.dP_from_K(pipe + 7.5, rho=density, V=speed)
    got = line.line_loss(flow, bore=bore, length=2.0, fittings=7.5, viscosity=viscosity, density=density)
    assert number > 4000
    assert got == pytest.approx(expected, rel=1e-4)


def test_hydraulic_power_of_a_textbook():
    # Esposito, Fluid Power, Ex 8.2: 1000 psi at 20 US gal/min: 11.7 hp.
    assert valve.oil_power(20 * GPM, pressure=1000 * PSI) == pytest.approx(11.7 * factor("hp", "W"), rel=0.005)


def test_relief_valve_of_a_textbook():
    # Esposito, Fluid Power, Ex 8.1: area 0.75 in2, spring 2500 lbf/in, compressed 0.20 in shut and 0.10 in more at full
    # flow (compressions recalled, from memory): cracks at 667 psi, full flow at 1000 psi.
    given = {"area": 0.75 * INCH**2, "spring_rate": 2500 * LBF / INCH}
    assert valve.valve_pressure(compression=0.20 * INCH, **given) == pytest.approx(667 * PSI, rel=0.005)
    assert valve.valve_pressure(compression=0.30 * INCH, **given) == pytest.approx(1000 * PSI, rel=0.005)
    # The pressure override again as a shim: 0.10 in are worth 333 psi.
    assert valve.shim_for(333.3 * PSI, **given) == pytest.approx(0.10 * INCH, rel=0.005)


def test_orifice_share_follows_the_textbook_orifice():
    # Esposito, Fluid Power, Ex 8.4: 1 in, C 0.8, 100 psi, SG 0.9: 252 US gal/min. The leakage law scales from its test
    # point as that orifice does: at 25 psi half of it.
    area = math.pi / 4 * INCH**2
    flow = 0.8 * area * math.sqrt(2 * 100 * PSI / 900)
    assert flow == pytest.approx(252 * GPM, rel=0.005)
    small = flow / 1000  # within the limits of a gearbox
    shared = {"seal_leak": 0, "open_feed": 0, "leak_test_pressure": 100 * PSI, "thinning": 5.0}
    assert pump.leakage(25 * PSI, valve_body_leak=small, **shared) == pytest.approx(252 * GPM / 2000, rel=0.005)


def test_viscosity_of_the_standards_worked_example():
    # ASTM D341 worked example: 32 cSt at 40 C, 5.4 at 100 C: A 9.5259, B 3.7449; 8.5 cSt at 80 C. It takes
    # T = t + 273 and not 273.15, which moves A and B by up to 0.05 %.
    found = oil.viscosity_line(32e-6, viscosity_100=5.4e-6)
    assert found.a == pytest.approx(9.5259, rel=0.001)
    assert found.b == pytest.approx(3.7449, rel=0.001)
    assert oil.viscosity(353.15, viscosity_40=32e-6, viscosity_100=5.4e-6) == pytest.approx(8.5e-6, rel=0.005)


def test_density_against_the_tables_slope():
    # Petroleum measurement tables give lubricating oil of 860 kg/m3 about 0.63 kg/m3 less for each kelvin near 15 C
    # (API MPMS 11.1, from memory): 25 K down from 15 C is close to +15.7 kg/m3.
    assert oil.density(288.15, density_15=860) == 860
    assert oil.density(313.15, density_15=860) == pytest.approx(860 - 0.63 * 25, rel=0.0005)


def test_disc_clutch_of_a_textbook():
    # Jindal, Machine Design, Ex 22-5: 15 kW at 1400 rpm, six faces, 80/50 mm radii, 0.25, uniform pressure:
    # 102.31 N m, 1031 N, 0.084 MPa.
    torque = 15e3 / (1400 * math.pi / 30)
    assert torque == pytest.approx(102.31, rel=0.0005)
    force = clutch.plate_force(
        torque, friction=0.25, faces=6, outer_diameter=0.160, inner_diameter=0.100, contact="uniform pressure"
    )  # fmt: skip
    assert force == pytest.approx(1031, rel=0.005)
    area = clutch.lining_area(0.160, inner_diameter=0.100, faces=1)
    assert force / area == pytest.approx(0.084e6, rel=0.005)


def test_ring_friction_of_a_textbook():
    # 5000 N, 0.25, 300/225 mm, uniform wear, both sides: 164.06 N m for one face (textbook problem).
    one = clutch.plate_torque(
        5000, friction=0.25, faces=1, outer_diameter=0.300, inner_diameter=0.225, contact="uniform wear"
    )  # fmt: skip
    assert one == pytest.approx(164.06, rel=0.0005)


def test_band_of_a_textbook():
    # Mott, Machine Elements, 4th ed., Ex 22-10: r 6 in, 0.25, 225 deg, slack end 112 lbf: 1128 lbf in.
    torque = clutch.band_capacity(
        112.5 * LBF, friction=0.25, wrap_angle=math.radians(225), drum_diameter=12 * INCH, lever_ratio=1.0,
        sense="energising",
    )  # fmt: skip
    assert torque == pytest.approx(1128 * LBF * INCH, rel=0.005)


def test_pressure_in_turning_oil_is_a_forced_vortex():
    # Any fluid text: p(r) = rho w^2 (r^2 - r0^2)/2; the force on a ring is its integral, done here numerically.
    speed, density = 300.0, 830.0
    radius = np.linspace(0.045, 0.07, 20001)
    pressure = density * speed**2 * (radius**2 - 0.03**2) / 2
    expected = np.trapezoid(pressure * 2 * np.pi * radius, radius)
    got = clutch.spinning_oil_force(
        speed, outer_diameter=0.14, inner_diameter=0.09, oil_inlet_radius=0.03, density=density
    )  # fmt: skip
    assert got == pytest.approx(expected, rel=1e-6)


def test_crossing_of_two_straight_lines():
    # Closed form: Q0 (1 - p/p0) = g p, so p = Q0 / (Q0/p0 + g).
    given = dict(
        free_flow=1.5e-4, rated_flow=0.9e-4, rated_pressure=6e5, rated_voltage=13.5, terminal_voltage=13.5,
        slip_share=0.4, pump_relief_pressure=9e6, cracking_pressure=0, check_loss=0, line_bore=0.1, line_length=0,
        line_fittings=0, viscosity=1e-5, density=850, thinning=1, leak_test_pressure=5e5, seal_leak=2e-5,
        valve_body_leak=0, open_feed=0, internal_slip=2e-5, clearance_growth=1.2, back_flow="open",
        regulator_set=5e6, regulator_override=1e5, displacement=18e-6,
    )  # fmt: skip
    slope = (2e-5 + 2e-5 * 1.2**3) / 5e5
    assert rest.rest_point(**given).pressure == pytest.approx(1.5e-4 / (1e-10 + slope), rel=1e-9)

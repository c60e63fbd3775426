"""Dimensional homogeneity: measured in other units of length, mass and time, the same gearbox gives the same result."""

import pytest

from evlib.hydraulics import clutch, handover, launch, line, pump, rest, valve

LENGTH, MASS, TIME = 1.13, 1.07, 0.94  # the new units, mildly other than the old: all stays within declared limits
PRESSURE, FLOW = MASS / (LENGTH * TIME**2), LENGTH**3 / TIME
FORCE, TORQUE = MASS * LENGTH / TIME**2, MASS * LENGTH**2 / TIME**2
SCALE = {
    "pressure": PRESSURE, "flow": FLOW, "length": LENGTH, "volume": LENGTH**3, "viscosity": LENGTH**2 / TIME,
    "density": MASS / LENGTH**3, "speed": 1 / TIME, "force": FORCE, "torque": TORQUE, "none": 1.0,
    "compliance": LENGTH**3 / PRESSURE, "power": TORQUE / TIME, "area": LENGTH**2, "time": TIME,
}  # fmt: skip

CASES = {
    "rest": (lambda **g: rest.rest_point(**g).pressure, "pressure", {
        "free_flow": (1.5e-4, "flow"), "rated_flow": (1e-4, "flow"), "rated_pressure": (7e5, "pressure"),
        "rated_voltage": (13.5, "none"), "terminal_voltage": (12.8, "none"), "slip_share": (0.4, "none"),
        "pump_relief_pressure": (1.5e6, "pressure"), "cracking_pressure": (1.5e4, "pressure"),
        "check_loss": (2e4, "pressure"), "line_bore": (9.5e-3, "length"), "line_length": (1.2, "length"),
        "line_fittings": (6.0, "none"), "viscosity": (3e-5, "viscosity"), "density": (800.0, "density"),
        "thinning": (1.4, "none"), "leak_test_pressure": (5e5, "pressure"), "seal_leak": (1e-5, "flow"),
        "valve_body_leak": (2.5e-5, "flow"), "open_feed": (1e-6, "flow"), "internal_slip": (2e-5, "flow"),
        "clearance_growth": (1.05, "none"), "regulator_set": (4e6, "pressure"),
        "regulator_override": (4e4, "pressure"), "displacement": (16e-6, "volume"),
    }, {"back_flow": "open"}),
    "line loss": (line.line_loss, "pressure", {
        "flow": (1e-4, "flow"), "bore": (9.5e-3, "length"), "length": (1.2, "length"), "fittings": (4.0, "none"),
        "viscosity": (3e-5, "viscosity"), "density": (820.0, "density"),
    }, {}),
    "handover": (handover.handover_speed, "speed", {
        "pressure": (5e5, "pressure"), "displacement": (16e-6, "volume"), "internal_slip": (2e-5, "flow"),
        "clearance_growth": (1.1, "none"), "seal_leak": (1e-5, "flow"), "valve_body_leak": (2e-5, "flow"),
        "open_feed": (1e-6, "flow"), "leak_test_pressure": (5e5, "pressure"), "thinning": (1.3, "none"),
    }, {}),
    "plates": (launch.plates_hold, "torque", {
        "pressure": (6e5, "pressure"), "held_multiple": (2.76, "none"), "friction": (0.12, "none"),
        "friction_faces": (12.0, "none"), "face_outer_diameter": (0.155, "length"),
        "face_inner_diameter": (0.125, "length"), "piston_outer_diameter": (0.16, "length"),
        "piston_inner_diameter": (0.098, "length"), "return_spring_force": (800.0, "force"),
    }, {}),
    "band": (launch.band_holds, "torque", {
        "pressure": (6e5, "pressure"), "held_multiple": (0.76, "none"), "friction": (0.12, "none"),
        "wrap_angle": (5.6, "none"), "drum_diameter": (0.15, "length"), "lever_ratio": (1.8, "none"),
        "piston_outer_diameter": (0.075, "length"), "piston_inner_diameter": (0.0, "length"),
        "return_spring_force": (350.0, "force"),
    }, {"sense": "overrunning"}),
    "turning oil": (clutch.spinning_oil_force, "force", {
        "speed": (300.0, "speed"), "outer_diameter": (0.14, "length"), "inner_diameter": (0.09, "length"),
        "oil_inlet_radius": (0.03, "length"), "density": (830.0, "density"),
    }, {}),
    "internal pump": (pump.internal_flow, "flow", {
        "speed": (60.0, "speed"), "pressure": (5e5, "pressure"), "displacement": (16e-6, "volume"),
        "internal_slip": (2e-5, "flow"), "leak_test_pressure": (4e5, "pressure"), "clearance_growth": (1.1, "none"),
        "thinning": (1.3, "none"),
    }, {}),
    "bleed-down": (valve.emptying_time, "time", {
        "pressure": (6e5, "pressure"), "end_pressure": (3e5, "pressure"), "compliance": (2e-11, "compliance"),
        "leak_slope": (1e-10, "flow over pressure"),
    }, {}),
}  # fmt: skip
SCALE["flow over pressure"] = FLOW / PRESSURE


@pytest.mark.parametrize("name", CASES)
def test_other_units_give_the_same_gearbox(name):
    function, kind, given, words = CASES[name]
    plain = function(**{key: value for key, (value, _) in given.items()}, **words)
    scaled = function(**{key: value * SCALE[of] for key, (value, of) in given.items()}, **words)
    assert plain > 0
    assert scaled == pytest.approx(plain * SCALE[kind], rel=1e-9)

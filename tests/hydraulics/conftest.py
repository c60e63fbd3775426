"""A gearbox of plain numbers, invented, that the tests of this topic share."""

import pytest

LEAK = {
    "leak_test_pressure": 5e5, "seal_leak": 1e-5, "valve_body_leak": 2.5e-5, "open_feed": 0.0,
}  # fmt: skip
DRIVE = {
    **LEAK, "free_flow": 1.3e-4, "shut_off_pressure": 1.1e6, "displacement": 16e-6, "internal_slip": 2e-5,
    "clearance_growth": 1.05, "back_flow": "open", "thinning": 1.4, "regulator_set": 7.5e5, "regulator_override": 4e4,
    "compliance": 2e-11, "start_pressure": 0.0, "on_speed": 60.0, "off_speed": 72.0, "switch_delay": 0.03,
    "spin_up_time": 0.12, "sees_direction": "no",
}  # fmt: skip


@pytest.fixture
def leak():
    return dict(LEAK)


@pytest.fixture
def drive():
    return dict(DRIVE)

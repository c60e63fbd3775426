"""The right answers of the bridges, computed again from the numbers that the learner reads.

Each line is closed form on the shown numbers, with constants from outside: NIST SP 811 appendix B (25.4 mm to the inch
exactly; psi 6894.757 Pa; standard atmosphere 101 325 Pa) and ISO 80000-3 (standard gravity 9.80665 m/s2).
"""

import math

import pytest

from evlib.exercises.marker import mark
from evlib.exercises.register import find
from evlib.ground.checks import Check

PSI = 6894.757293
CODES = [f"Q{i % 10}-{i:03d}" for i in range(60)]

# id: (answer as the learner would type it, from the shown numbers)
BY_HAND = {
    "bridges.1": lambda milliohm: (milliohm / 1000, "ohm"),
    "bridges.1b": lambda thou: (thou * 0.0254, "mm"),
    "bridges.2": lambda rpm: (rpm * math.tau / 60, "rad/s"),
    "bridges.2b": lambda radians: (radians * 60 / math.tau, "rpm"),
    "bridges.3": lambda torque, rpm: (torque * rpm / 9549.2966, "kW"),
    "bridges.3b": lambda kilowatt, rpm: (9549.2966 * kilowatt / rpm, "N m"),
    "bridges.4": lambda ratio, torque, loss: (torque * ratio * (100 - loss) / 100, "N m"),
    "bridges.4b": lambda before, after: (100 - 100 * after / before, "%"),
    "bridges.5": lambda kilopascal, bore: (kilopascal * math.pi * bore**2 / 4000, "N"),
    "bridges.5b": lambda psi: ((psi * PSI + 101_325) / PSI, "psia"),
    "bridges.6": lambda volts, amps, milliohm: (amps * amps * milliohm / 1e6, "kW"),
    "bridges.6b": lambda amps, drop: (1000 * drop / amps, "mohm"),
    "bridges.7": lambda kilowatt_hours: (3.6 * kilowatt_hours, "MJ"),
    "bridges.7b": lambda volts, amp_hours: (volts * amp_hours / 1000, "kWh"),
    "bridges.8": lambda per_cent: (math.degrees(math.atan2(per_cent, 100)), "deg"),
    "bridges.8b": lambda mass, per_cent: (mass * 9.80665 * per_cent / math.hypot(per_cent, 100), "N"),
    "bridges.9": lambda first, second, time: ((second - first) / 3.6 / time, "m/s2"),
    "bridges.9b": lambda rest, loaded, amps: (1000 * (rest - loaded) / amps, "mohm"),
    "bridges.10": lambda depth, play, hub, spread: (depth - hub - play - spread, "mm"),
    "bridges.10b": lambda span, accuracy, reading: (reading - span * accuracy / 100, "psi"),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_bridges_by_hand(name):
    exercise = find(name)
    for code in CODES:
        shown = [float(text.split("\u00a0")[0]) for text in exercise.case(code).shown.values()]
        value, unit = BY_HAND[name](*shown)
        assert mark(exercise, f"{value!r} {unit}", code=code).verdict == "right", (code, shown)
        off = f"{value * 1.03!r} {unit}"
        assert mark(exercise, off, code=code).verdict != "right", (code, off)


def test_every_bridge_is_computed_by_hand():
    from evlib.exercises.number import Number
    from evlib.exercises.register import of_topic

    assert set(BY_HAND) == {e.id for e in of_topic("bridges").values() if isinstance(e, Number)}


def test_margin_of_a_check():
    """360 over 300 is 20 % more than is demanded: arithmetic."""
    assert Check("sleeve", "start", 300, 360, "N m").margin == pytest.approx(0.2)
    case = find("start.11").case("A1-1")
    demand, capacity = (float(text.split("\u00a0")[0]) for text in case.shown.values())
    assert case.right == pytest.approx(capacity / demand - 1)

"""Parking against values from outside the project."""

from pathlib import Path

import numpy as np
import pytest

from evlib.ground import road
from evlib.parking import handbrake, park_lock, reverse, roll_away, selector

TABLE = selector.read_table(Path(__file__).parents[2] / "data" / "parking" / "selector.toml")


def test_grade_geometry():
    # 20 % is 11.310 degrees; 1200 kg: 2307.9 N with the sine. Geometry.
    assert park_lock.lock_torque(0.20, mass=1200.0, wheel_radius=1.0, lock_ratio=1.0) == pytest.approx(2307.9, abs=0.05)
    assert handbrake.grade_held(2307.9, mass=1200.0) == pytest.approx(0.20, rel=1e-4)


@pytest.mark.parametrize(("side", "torque"), [("leading", 366.0), ("trailing", 162.0)])
def test_internal_shoe_brake_shigley_example_16_2(side, torque):
    # Shigley, Mechanical Engineering Design, Ex 16-2 (from memory): drum 300 mm, width 32 mm, f 0.32, 1000 kPa, shoes
    # from 0 to 126 degrees, pivots 112 mm and 50 mm from the centre lines, force at 100 mm: F 2.28 kN, 366 and 162 N m.
    got = handbrake.shoe_torque(2280.0, side=side, lining_friction=0.32, drum_radius=0.150,
                                pivot_radius=float(np.hypot(0.112, 0.050)), shoe_arm=0.212, shoe_start=0.0,
                                shoe_end=float(np.radians(126)))  # fmt: skip
    assert got == pytest.approx(torque, rel=0.005)


def test_internal_shoe_brake_shigley_problem_16_1():
    # Same book, Prob. 16-1, data and answer as quoted in public solutions (secondary): drum 300 mm, R 125 mm, width
    # 40 mm, f 0.28, 2.2 kN on each shoe, 120 degrees: largest pressure 734 kPa, on the leading shoe. Its torque from
    # that pressure: f p b r^2 (cos 0 - cos 120) / sin 90. Lever arm 2 R cos 30 (figure, from memory).
    from_pressure = 0.28 * 734e3 * 0.040 * 0.150**2 * 1.5
    got = handbrake.shoe_torque(2200.0, side="leading", lining_friction=0.28, drum_radius=0.150, pivot_radius=0.125,
                                shoe_arm=float(2 * 0.125 * np.cos(np.pi / 6)), shoe_start=0.0,
                                shoe_end=float(np.radians(120)))  # fmt: skip
    assert got == pytest.approx(from_pressure, rel=0.005)


@pytest.mark.parametrize(("axle", "sign"), [("rear", -1), ("front", +1)])
def test_steepest_grade_with_one_axle_braked(axle, sign):
    # Closed form of vehicle statics, nose up: tan(phi) = mu a / (L - mu h) for the rear axle, a the distance of the
    # centre of gravity from the *other* axle; + for the front (Jazar, Vehicle Dynamics, parking on an inclined road).
    mu, length, height, share_rear, mass = 0.6, 2.6, 0.6, 0.52, 1650.0
    arm = length * (share_rear if axle == "rear" else 1 - share_rear)
    steepest = mu * arm / (length + sign * mu * height)
    load = park_lock.axle_load(mass, axle=axle, nose="up", grade=steepest, rear_axle_share=share_rear,
                               wheelbase=length, cg_height=height)  # fmt: skip
    assert mu * load == pytest.approx(road.grade_force(mass, grade=steepest), rel=1e-9)


def test_hold_rules():
    # 49 CFR 571.135 S7.12: 20 %, both ways, 5 min, 400 N by hand, 500 N by foot.
    rule = handbrake.RULES["49 CFR 571.135 S7.12"]
    assert all(word in rule for word in ("20 %", "both ways", "5 min", "400 N", "500 N", "neutral"))
    assert handbrake.HAND_LIMIT == 400.0
    # Park by itself on 10 %, at most 150 mm: 49 CFR 571.114 (from memory); read in a national reprint of its test,
    # Technical Standards Document 114 S6.2.2 (h): up and down a 10 per cent grade, no more than 150 mm.
    assert all(word in handbrake.RULES["49 CFR 571.114"] for word in ("10 %", "150 mm"))
    assert "not a rule" in handbrake.RULES["this project"]


def test_lever_order_and_start_of_49_cfr_571_102():
    # S3.1.1 neutral between forward and reverse; S3.1.1.1 park at the end, beside reverse; S3.1.3 no start in a drive
    # position (read in the Code of Federal Regulations, 2004 to 2024).
    assert TABLE.order == ("park", "reverse", "neutral", "low", "drive")
    parked = selector.State()
    assert [p for p in selector.POSITIONS if TABLE.starts(parked._replace(position=p))] == ["park", "neutral"]
    for order, broken in (
        (("reverse", "park", "neutral", "low", "drive"), 1),
        (("park", "neutral", "reverse", "low", "drive"), 2),
        (("park", "reverse", "low", "neutral", "drive"), 1),
        (("drive", "low", "neutral", "reverse", "park"), 0),
    ):
        assert sum(rule(order) for rule in selector.ORDER_RULES.values()) == broken, order


def test_swapping_the_supply_does_not_reverse_a_series_machine():
    # Any text on DC machines: torque goes with the product of both currents.
    kw = dict(mutual_inductance=1e-3)
    forward = reverse.electrical_torque(300.0, field_current=300.0, **kw)
    assert reverse.electrical_torque(-300.0, field_current=-300.0, **kw) == forward > 0
    assert reverse.electrical_torque(-300.0, field_current=300.0, **kw) == -forward
    assert reverse.electrical_torque(300.0, field_current=-300.0, **kw) == -forward


def test_common_practice_a_stopped_motor_holds_nothing():
    # Common practice, no source: motors freewheel, so park matters. A stopped engine in gear would have held it.
    free, engine = (
        roll_away.roll_acceleration(0.05, mass=1650.0, rolling_coefficient=0.013, hold_back=f) for f in (0.0, 800.0)
    )
    assert free > 0 == engine


def test_common_practice_the_gearbox_reverse_spares_contactors():
    # Common practice, no source: the box's own reverse spares reversing contactors, keeps the brushes' advance right
    # and the internal pump turning its own way.
    torques = {"gearbox": reverse.Torques(250.0, 300.0, 6e5), "contactors": reverse.Torques(266.0, 230.0, 6e5),
               "inverter": reverse.Torques(380.0, 230.0, 6e5)}  # fmt: skip
    rows = {
        row.way: row
        for row in reverse.three_ways(torques, input_speed_limit=576.0, low_ratio=1.76, reverse_ratio=1.76,
                                      final_ratio=3.7, efficiency=0.93, wheel_radius=0.30)
    }  # fmt: skip
    assert [rows[w].internal_pump_delivers for w in ("gearbox", "contactors", "inverter")] == [True, False, False]
    assert not any("contact" in part or "brush" in part for part in rows["gearbox"].parts)
    assert any("brush" in part for part in rows["contactors"].parts)
    by_hand = 250.0 * 1.76 * 3.7 * 0.93 / 0.30  # the smaller of what is given and what is held
    assert rows["gearbox"].pull == pytest.approx(by_hand)
    assert rows["contactors"].pull == rows["inverter"].pull == pytest.approx(by_hand * 230 / 250)

"""Results of a build where parking and safety meet other topics: pull backwards, the card, the pictures' cases."""

import numpy as np
import pytest

from evlib.build.commissioning import card
from evlib.build.file import find_build, read_build
from evlib.build.parking_cases import hold_case, roll_case, ways_back
from evlib.build.protection import runaway_ways, short_circuits
from evlib.build.reverse import BRUSH_PART, pull_back
from evlib.build.review import review
from evlib.build.safety_cases import insulation_case, protection_case, runaway_case
from evlib.build.view import View
from evlib.ground.tables import Curve
from evlib.safety.commissioning import judge


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


def view(build):
    return View(build.parts)


def test_pull_backwards_by_hand(sound):
    # Torque balance, worked out here: T x 2.76 x ... the ratio is that of the build's own teeth.
    back = pull_back(view(sound))
    by_hand = back.input_torque * back.ratio * 3.70 * 0.95 * 0.96 / 0.30
    assert back.pull == pytest.approx(by_hand)
    assert back.input_torque == min(back.given, back.held)


def test_reverse_by_contactors_loses_what_the_brushes_lose(sound):
    changed = pull_back(view(sound.changed({"parking.reverse_by": "contactors"})))
    inverter = pull_back(view(sound.changed({"parking.reverse_by": "inverter"})))
    assert changed.given == pytest.approx(BRUSH_PART * inverter.given) and BRUSH_PART < 1
    assert changed.held == inverter.held


def test_the_gearbox_reverses_in_its_own_ratio(sound):
    measured = {"gearbox.input_sun_teeth": None, "gearbox.low_ratio": 2.4, "gearbox.reverse_ratio": 1.9}
    assert pull_back(view(sound.changed(measured))).ratio == pytest.approx(1.9)
    assert pull_back(view(sound.changed({**measured, "parking.reverse_by": "inverter"}))).ratio == pytest.approx(2.4)


def test_two_leading_shoes_hold_a_car_better_nose_down(sound):
    # Nose up it wants to roll backward, and both shoes trail: the weaker way.
    found = review(sound.changed({"parking.handbrake.handbrake_kind": "two leading drum", "vehicle.grip": 1.5}))
    up, down = (found.check(f"handbrake, nose {nose}").capacity for nose in ("up", "down"))
    assert up < 0.6 * down


def test_weak_pressure_takes_the_pull_backwards(sound):
    weak = sound.changed(
        {"hydraulics.electric_pump.rated_flow": "2.5 L/min", "hydraulics.electric_pump.free_flow": "4 L/min"}
    )
    assert pull_back(view(weak)).pull < pull_back(view(sound)).pull


def test_ways_back_that_a_build_cannot_have_are_left_out(sound):
    assert [row.way for row in ways_back(view(sound))] == ["gearbox", "contactors", "inverter"]
    assert [row.way for row in ways_back(view(read_build(find_build("college_hatch"))))] == ["inverter"]


def test_short_circuits_by_hand(sound):
    short = short_circuits(view(sound))
    hot = 96 * 0.50e-3 * np.exp(2500 * (1 / 318.15 - 1 / 298.15))
    assert short.largest == pytest.approx(96 * 3.40 / hot)
    cold = 96 * 0.50e-3 * np.exp(2500 * (1 / 263.15 - 1 / 298.15)) * (1 + (0.05 / 0.2) ** 2) + 0.012
    run = 2 * 2.6 * 1.02 * 1.7241e-8 * (1 + 0.00393 * 25) / 67.43e-6
    assert short.smallest == pytest.approx(96 * 3.205 / (cold + run), rel=1e-4)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("protection.precharge.precharge_resistance", 150.0), ("protection.discharge.discharge_resistance", 12e3),
        ("protection.insulation.leak_positive", 90e3), ("protection.overspeed_trip.trip_speed", 430.0),
        ("hydraulics.switch.switch_off_speed", 80.0), ("hydraulics.leakage.seal_leak", "1.5 L/min"),
        ("parking.park_lock.park_roll_allowed", 0.1),
    ],
)  # fmt: skip
def test_every_line_of_the_card_changes_with_the_build(sound, path, value):
    before, after = (card(view(b))[0] for b in (sound, sound.changed({path: value})))
    moved = [
        old.task for old, new in zip(before, after, strict=True) if (old.expected, old.high) != (new.expected, new.high)
    ]
    assert moved, path
    for line in before:
        assert judge(line, reading=line.expected) == "in its band"


def test_the_card_says_what_it_leaves_out(sound):
    lines, left_out = card(view(sound.changed({"protection.precharge.precharge_resistance": None})))
    assert any("precharge_resistance" in why for why in left_out)
    assert all("63 %" not in line.task for line in lines)


def test_roll_case_never_reaches_where_it_is_held():
    case = roll_case(0.10, hold_back=5000.0, mass=1650.0, rolling_coefficient=0.013)
    assert case.held_length is None and case.free_length is not None and case.held.max() == 0


def test_hold_case_finds_the_grade_where_park_lets_go():
    given = dict(worse_grip=0.4, grip=0.8, mass=1500.0, rear_axle_share=0.5, wheelbase=2.5, cg_height=0.5,
                 driven_axle="rear", handbrake_axle="rear", brake_up=1e5, brake_down=1e5, strength=1e6)  # fmt: skip
    case = hold_case(0.2, **given)
    for held, sign in ((case.held_up, -1), (case.held_down, 1)):  # tan(phi) = mu a / (L -+ mu h): statics, closed form
        assert held == pytest.approx(0.4 * 1.25 / (2.5 + sign * 0.4 * 0.5), abs=2e-4)


def test_insulation_case_is_judged_on_both_values():
    case = insulation_case(350.0, leak_positive=45e3, leak_negative=45e3, meter_resistance=1e7, ohm_per_volt=100.0)
    assert case.smaller_leak == pytest.approx(45e3) and case.both == pytest.approx(22.5e3) and case.asked == 35e3
    assert case.by_sum < case.smaller_leak


def test_protection_case_opens_with_a_slow_contactor():
    curve = Curve(x=np.array([900.0, 1450.0, 3000.0]), y=np.array([100.0, 1.0, 0.01]), logarithmic=True)
    given = dict(conductor_area=67e-6, curve=curve, arcing_time=0.006, minimum=1200.0, smallest=1800.0, largest=11e3,
                 insulation_limit=398.0, short_circuit_limit=523.0)  # fmt: skip
    assert protection_case(1500.0, contactor_release_time=0.030, **given).open_band
    assert not protection_case(1e4, contactor_release_time=0.030, **given).open_band
    slow, quick = (protection_case(1500.0, contactor_release_time=t, **given).upper for t in (0.2, 0.03))
    assert slow < quick  # a slow release gives the fuse more time


def test_runaway_case_at_steady_torque_is_the_closed_form():
    speeds = np.linspace(0, 600, 4)
    case = runaway_case(400.0, detection_delay=0.05, contactor_release_time=0.03, rotor_inertia=0.12, machine_count=2.0,
                        other_inertia=0.0, speeds=speeds, torques=np.full(4, 240.0), limit=576.0)  # fmt: skip
    assert case.window == pytest.approx(0.24 * 176 / 240)
    assert case.speed_off == pytest.approx(400 + 240 * 0.08 / 0.24)


def test_the_runaway_panel_shows_each_way_to_lose_the_load(sound):
    from evlib.panels.safety import runaway_panel

    panel = runaway_panel(sound)
    found = panel.compute(**panel.start)
    assert [way.name for way in found.ways] == ["neutral", "broken coupler", "stuck controller, in neutral"]
    for way in found.ways:  # the torque of the trip speed, held, is the careful rule: never a longer window than this
        careful = runaway_ways(view(sound))[way.name].delay + 0.030
        assert careful < way.window < 1.5 * careful
    assert all(name in panel.say(found).table.plain() for name in ("neutral", "broken coupler", "stuck controller"))

"""Parking: errors, shapes and files."""

import time
from pathlib import Path

import numpy as np
import pytest

from evlib.ground.errors import OutOfRange
from evlib.parking import handbrake, hill_start, park_lock, reverse, roll_away, selector
from evlib.parking.parts import Parking

FILE = Path(__file__).parents[2] / "data" / "parking" / "selector.toml"
TABLE = selector.read_table(FILE)
SHOE = dict(drum_radius=0.11, pivot_radius=0.085, shoe_arm=0.17, shoe_start=0.35, shoe_end=2.4)


def test_a_build_file_s_text_becomes_parts():
    made = Parking(
        hold_grade="20 %",
        park_lock={"park_teeth": 18, "park_radius": "45 mm", "park_backlash": "5 deg", "pawl_pin_strength": "200 MPa"},
        handbrake={"hand_force": "400 N", "handbrake_kind": "disc", "fitted": False},
    )
    assert made.hold_grade == pytest.approx(0.2)
    assert made.park_lock.park_backlash == pytest.approx(np.radians(5))
    assert made.park_lock.pawl_pin_strength == pytest.approx(200e6)
    assert made.handbrake.fitted is False and made.selector is None


@pytest.mark.parametrize(
    "wrong", [{"park_teeth": 18.5}, {"park_radius": "-1 mm"}, {"park_place": "roof"}, {"teeth": 1}]
)
def test_nonsense_in_a_part_is_refused(wrong):
    with pytest.raises(ValueError, match=next(iter(wrong))):
        Parking(park_lock=wrong)


def test_a_shoe_that_grabs_is_refused():
    with pytest.raises(OutOfRange, match="grab"):
        handbrake.shoe_torque(1000.0, side="leading", lining_friction=0.79, **SHOE)
    assert handbrake.shoe_torque(1000.0, side="trailing", lining_friction=0.79, **SHOE) > 0
    with pytest.raises(ValueError, match="shoe_end"):
        handbrake.shoe_torque(1000.0, side="leading", lining_friction=0.3, **{**SHOE, "shoe_end": 0.3})


def test_refusals():
    with pytest.raises(ValueError, match="side"):
        handbrake.shoe_torque(1000.0, side="upper", lining_friction=0.3, **SHOE)
    with pytest.raises(ValueError, match="contacts"):
        reverse.field_state({"A", "Z"})
    with pytest.raises(ValueError, match="nose"):
        park_lock.axle_load(1650.0, axle="rear", nose="left", grade=0.2, rear_axle_share=0.5, wheelbase=2.6,
                            cg_height=0.6)  # fmt: skip
    with pytest.raises(TypeError, match="misspelt"):
        roll_away.rolled(1.0, grade=0.1, mass=1650.0, rolling_coefficient=0.01, misspelt=1.0)


def test_columns_equal_singles():
    grades, pulls = np.array([0.0, 0.1, 0.2]), np.array([4000.0, 2000.0, 2000.0])
    kw = dict(mass=1650.0, rolling_coefficient=0.013, pull_delay=0.2, pull_rise=0.4)
    column = hill_start.rollback(pulls, grade=grades, **kw)
    assert column == pytest.approx(
        [hill_start.rollback(float(p), grade=float(g), **kw) for p, g in zip(pulls, grades, strict=True)]
    )
    assert column[0] == 0 and column[2] == np.inf
    loads = park_lock.axle_load(1650.0, axle="rear", nose="down", grade=grades, rear_axle_share=0.5, wheelbase=2.6,
                                cg_height=0.6)  # fmt: skip
    assert loads.shape == (3,) and loads[0] > loads[2]
    held = park_lock.grip_hold(np.array([0.1, 0.9]), better_grip=0.8, axle_load=8000.0, differential="open")
    assert held == pytest.approx([800.0, 6400.0])


def test_the_whole_search_takes_less_than_two_seconds():
    selector.prove.cache_clear()
    start = time.process_time()
    selector.prove(TABLE)
    assert time.process_time() - start < 2.0


def test_why_a_request_is_refused():
    rolling = selector.State(on="on", position="drive", speed="fast")
    assert TABLE.why_refused(rolling, "reverse").startswith(("brake", "speed")) or "speed is fast" in (
        TABLE.why_refused(rolling, "reverse")
    )
    assert TABLE.why_refused(rolling, "low") == "speed is fast, wanted medium or rest or walking"
    assert TABLE.why_refused(rolling._replace(lost="speed"), "low").startswith("speed is unknown")
    assert TABLE.why_refused(rolling, "neutral") == ""


def test_zero_current_interlock_boundaries():
    assert reverse.may_change_over(5.0, shaft_speed=1.0)
    assert not reverse.may_change_over(5.1, shaft_speed=0.0)
    assert not reverse.may_change_over(0.0, shaft_speed=-1.1)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x = [", "not a TOML"),
        ("", "order"),
        ('order = ["park","reverse","neutral","low","drive"]\n[[enter]]\nto = "moon"', "moon"),
        ('order = ["park","reverse","neutral","low","drive"]\n[[enter]]\nto = "low"\nsped = ["rest"]', "sped"),
        ('order = ["park","reverse","neutral","low","drive"]\n[[enter]]\nto = "low"\nspeed = ["warp"]', "warp"),
        ('order = ["park","reverse","neutral","low","drive"]\n[[current]]\nallowed = "some"', "some"),
    ],
)
def test_a_bad_table_is_one_sentence(tmp_path, text, words):
    path = tmp_path / "table.toml"
    path.write_text(text)
    with pytest.raises(ValueError, match=words):
        selector.read_table(path)

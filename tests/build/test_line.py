"""The line on a build: paper arithmetic, columns against singles, AC, and what is said where it does not apply."""

import numpy as np
import pytest

from evlib.build import line
from evlib.build.commissioning import card
from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.view import View
from evlib.ground.errors import DoesNotApply, NotKnown

VAN = read_build(find_build("orchard_van"))


def view(**changes):
    return View(VAN.changed({key.replace("__", "."): value for key, value in changes.items()}).parts)


def test_torque_at_rest_is_two_machines_at_the_motor_current_limit():
    # 600 A in each of two machines: k = 1.6 mH x 600 / (1 + 600/300) = 0.32 V s; 192 N m less 1.5 of friction.
    assert line.torque_at_rest(view()) == pytest.approx(2 * (0.32 * 600 - 1.5))
    half = line.torque_at_rest(view(machine__wiring="parallel"))  # 300 A each: k = 0.24 V s
    assert half == pytest.approx(2 * (0.24 * 300 - 1.5))


def test_supply_of_the_van_on_paper():
    # 96 cells at 50 %: between 3.28 V (40 %) and 3.30 V (60 %); 96 x 0.5 mohm and 12 mohm of links; 96 x 2.5 V.
    assert line.open_volts(view()) == pytest.approx(96 * 3.29)
    assert line.pack_resistance(view()) == pytest.approx(0.060)
    assert line.cut_off_volts(view()) == pytest.approx(240.0)
    two = line.pack_resistance(view(pack__cells_in_parallel=2))
    assert two == pytest.approx(0.024 + 0.012)


def test_warm_resistance_is_at_75_degrees():
    assert line.warm_resistance(view()) == pytest.approx(0.012 * (1 + 0.00393 * 55))


def test_current_for_the_lines_torque_comes_back_as_torque():
    amps = float(line.motor_current_for(view(), 200.0, 150.0))
    k = 0.0016 * amps / (1 + amps / 300)
    one = k * amps - 1.5 - 1e-5 * 150**2 - 0.04 * k**2 * 150
    assert 2 * one == pytest.approx(200.0, rel=1e-9)
    assert line.motor_current_for(view(), -50.0, 0.0) == pytest.approx(line.motor_current_for(view(), 0.0, 0.0))


def test_a_measured_curve_is_used_in_place_of_the_two_constants():
    amps = np.linspace(0.0, 1000.0, 401)
    curve = {
        "x": amps.tolist(),
        "y": (0.0016 * amps / (1 + amps / 300)).tolist(),
        "source": "the same curve, in points",
    }
    measured = view(machine__magnetisation_curve=curve, machine__mutual_inductance="9 mH")
    speeds = np.array([50.0, 300.0, 500.0])
    by_points, by_law = (np.asarray(line.line_envelope(b, speeds).torque) for b in (measured, view()))
    assert by_points == pytest.approx(by_law, rel=1e-3)


def test_columns_of_builds_against_speeds_equal_single_builds():
    cells, limit = np.array([80.0, 96.0, 110.0]), np.array([500.0, 600.0, 700.0])
    both = view(pack__cells_in_series=cells, controller__motor_current_limit=limit)
    speeds = np.array([0.0, 250.0, 450.0])
    together = line.line_envelope(both, speeds[:, None])
    assert np.shape(together.torque) == (3, 3)
    for i in range(3):
        one = view(pack__cells_in_series=float(cells[i]), controller__motor_current_limit=float(limit[i]))
        alone = line.line_envelope(one, speeds)
        assert np.asarray(together.torque)[:, i] == pytest.approx(np.asarray(alone.torque), rel=1e-12)
        assert list(np.asarray(together.governing)[:, i]) == list(np.asarray(alone.governing))


def test_an_ac_build_keeps_its_inverters_pack_limit():
    b = View(read_build(find_build("college_hatch")).parts)
    e = line.line_envelope(b, np.array([100.0, 500.0]))
    assert list(e.governing) == ["constant torque", "constant power"]
    assert np.asarray(e.torque)[0] == pytest.approx(220.0)
    with pytest.raises(DoesNotApply, match="no series winding"):
        line.motor_current_for(b, 100.0, 0.0)
    with pytest.raises(DoesNotApply):
        line.envelope_arguments(b)


def test_what_is_missing_is_named():
    with pytest.raises(NotKnown, match="saturation_current"):
        line.magnetisation(View(VAN.changed({"machine.saturation_current": None}).parts))


def test_the_sheet_states_how_each_machine_is_joined():
    said = {figure.name: figure.value for figure in review(VAN, topics=("motors",)).stated}
    # The first drive end faces the gearbox, so it sees the pump's clockwise turn as counter-clockwise, which is the
    # maker's own; the second faces the front and needs its armature exchanged.
    assert (
        said["first machine"].startswith("turns counter-clockwise")
        and "as the maker's diagram" in said["first machine"]
    )
    assert said["second machine"].startswith("turns clockwise") and "exchanged" in said["second machine"]
    assert said["limit at largest power"] == "pack amps"
    assert said["pack voltage at largest power"] == pytest.approx(96 * 3.29 - 0.060 * 400)


def test_the_commissioning_card_begins_with_each_machines_rotation():
    lines, _ = card(view())
    first, second = lines[:2]
    assert "counter-clockwise at its drive end (as the maker's diagram)" in first.task
    assert "second: clockwise at its drive end (armature exchanged, any interpoles with it)" in second.task
    # 10 V of back-EMF at most: at the level-off speed k w + R I = 10 V, with a current that just covers friction.
    amps = float(line.motor_current_for(view(), 0.0, first.high))
    k = 0.0016 * amps / (1 + amps / 300)
    assert k * first.high + amps * line.warm_resistance(view()) == pytest.approx(10.0, rel=1e-4)
    assert 0 < first.expected < first.high
    turned = card(view(machine__pump_turns="counter-clockwise"))[0]
    assert "second: clockwise" in turned[0].task and "exchanged" in turned[0].task

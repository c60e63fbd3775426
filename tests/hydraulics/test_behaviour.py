"""Errors, shapes, columns against singles, direction: how the functions answer, whatever the numbers."""

import dataclasses
import importlib
import inspect
import typing

import numpy as np
import pytest

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import quantities
from evlib.hydraulics import clutch, handover, oil, pump
from evlib.hydraulics.parts import Hydraulics

MODULES = ("oil", "line", "pump", "rest", "clutch", "launch", "handover", "valve", "slip", "supply", "heat")
SERIES = {"dips", "slip"}  # take a run in time, not columns of builds
# Pairs that a random draw could put the wrong way round.
FIRST_LARGER = [
    ("viscosity_40", "viscosity_100"), ("free_flow", "rated_flow"), ("outer_diameter", "inner_diameter"),
    ("face_outer_diameter", "face_inner_diameter"), ("piston_outer_diameter", "piston_inner_diameter"),
    ("off_speed", "on_speed"), ("pressure", "end_pressure"), ("shut_off", "rest_pressure"),
]  # fmt: skip


def calculations():
    found = []
    for name in MODULES:
        module = importlib.import_module(f"evlib.hydraulics.{name}")
        for function_name, function in inspect.getmembers(module, inspect.isfunction):
            own = function.__module__ == module.__name__ and hasattr(function, "__wrapped__")
            if own and function_name not in SERIES:
                found.append(pytest.param(function, id=f"{name}.{function_name}"))
    return found


def drawn(function, n, seed=0):
    """A column of n for each declared quantity within its slider; a choice for each Literal."""
    rng = np.random.default_rng(seed)
    values = {}
    hints = typing.get_type_hints(function.__wrapped__)
    declared = quantities(function)
    for name in inspect.signature(function).parameters:
        if name in declared:
            low, high = declared[name].slider
            column = rng.uniform(low, high, n)
            values[name] = np.round(column) if declared[name].whole else column
        elif typing.get_origin(hints[name]) is typing.Literal:
            values[name] = typing.get_args(hints[name])[0]
        elif hints[name] is bool:
            values[name] = True
        else:
            raise AssertionError(f"{name}: neither a quantity nor a choice")
    for larger, smaller in FIRST_LARGER:
        if larger in values and smaller in values:
            values[smaller] = np.minimum(values[smaller], values[larger] * 0.8)
    return values


def as_dict(value):
    return dataclasses.asdict(value) if dataclasses.is_dataclass(value) else {"": value}


@pytest.mark.parametrize("function", calculations())
def test_columns_are_singles(function):
    columns = drawn(function, 4)
    together = as_dict(function(**columns))
    for i in range(4):
        alone = as_dict(function(**{k: float(v[i]) if isinstance(v, np.ndarray) else v for k, v in columns.items()}))
        for name, value in alone.items():
            assert type(value) is float, name
            assert np.broadcast_to(together[name], 4)[i] == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize("function", calculations())
def test_nonsense_is_refused_by_name(function):
    values = {k: float(v[0]) if isinstance(v, np.ndarray) else v for k, v in drawn(function, 1).items()}
    for name in quantities(function):
        for wrong in (float("nan"), float("inf"), "12"):
            with pytest.raises(ValueError, match=name):
                function(**{**values, name: wrong})
    with pytest.raises(TypeError):
        function(**values, no_such_argument=1)


@pytest.mark.parametrize("function", calculations())
def test_docstring_has_its_parts(function):
    text = inspect.getdoc(function)
    assert ">>>" in text and "Source:" in text and "Gives" in text, function.__name__


def test_a_ring_inside_out_is_refused():
    with pytest.raises(ValueError, match="inner_diameter"):
        clutch.mean_radius(0.1, inner_diameter=0.12, contact="uniform wear")
    with pytest.raises(ValueError, match="inner_diameter"):
        clutch.piston_area(0.1, inner_diameter=0.1)


def test_a_pump_that_gains_with_pressure_is_refused():
    with pytest.raises(ValueError, match="rated_flow"):
        pump.stall_pressure(1e-4, rated_flow=1.1e-4, rated_pressure=5e5, rated_voltage=13.5, terminal_voltage=12,
                            slip_share=0.4, thinning=1)  # fmt: skip


def test_oil_too_thin_for_the_short_form_is_out_of_range():
    with pytest.raises(OutOfRange, match="D341"):
        oil.viscosity(453.15, viscosity_40=2.5e-6, viscosity_100=1.1e-6)
    with pytest.raises(ValueError, match="viscosity_100"):
        oil.viscosity_line(5e-6, viscosity_100=6e-6)


@pytest.mark.parametrize(("speed", "was_on", "wanted"), [
    (59.9, False, 1.0), (60.0, False, 0.0), (66.0, False, 0.0), (66.0, True, 1.0), (72.0, True, 1.0), (72.1, True, 0.0),
])  # fmt: skip
def test_switch_at_its_boundaries(speed, was_on, wanted):
    got = handover.pump_wanted(speed, was_on=was_on, on_speed=60.0, off_speed=72.0, sees_direction="yes")
    assert got == wanted
    blind = handover.pump_wanted(-speed, was_on=was_on, on_speed=60.0, off_speed=72.0, sees_direction="no")
    assert blind == wanted


def test_a_switch_without_hysteresis_is_refused():
    with pytest.raises(ValueError, match="off_speed"):
        handover.pump_wanted(50.0, was_on=True, on_speed=60.0, off_speed=60.0, sees_direction="no")


def test_direction():
    assert handover.backing_pressure(1.1e6, pump_turns="forward") == 1.1e6
    assert handover.backing_pressure(1.1e6, pump_turns="backward") == 0
    assert handover.backing_pressure(np.array([1.1e6, 9e5]), pump_turns="backward").tolist() == [0, 0]


def test_switch_off_is_a_tenth_or_twice_the_ripple_above_switch_on():
    # Common practice, no source: a tenth above; a signal that wavers by 2 and 3 rad/s.
    assert handover.switch_off_least(68.0, ripple=2.0) == pytest.approx(74.8)
    assert handover.switch_off_least(40.0, ripple=3.0) == pytest.approx(46.0)


def test_parts_read_the_trade_units():
    box = Hydraulics(
        electric_pump={"rated_pressure": "100 psi"}, line={"line_bore": "dash 6"}, supply={"pump_wire_area": "AWG 10"},
        internal_pump={"displacement": "16 cc/rev"}, switch={"switch_on_speed": "500 rpm"},
    )  # fmt: skip
    assert box.electric_pump.rated_pressure == pytest.approx(689475.7, rel=1e-6)  # NIST SP 811
    assert box.line.line_bore == 9.5e-3
    assert box.supply.pump_wire_area == pytest.approx(5.261e-6, rel=1e-4)  # ASTM B258
    assert box.internal_pump.displacement == pytest.approx(16e-6)
    assert box.switch.switch_on_speed == pytest.approx(52.36, rel=1e-4)
    with pytest.raises(ValueError, match="low"):
        Hydraulics(low={"holds_by": "magnet"})

"""Quantities, parts and calculations: limits, columns, messages."""

from typing import Annotated, Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from evlib.ground.checks import Check, Working
from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, Quantity, calculation, part, quantities, result
from evlib.ground.solve import bisect
from evlib.ground.tables import Curve, CurveOf

Length = Annotated[Number, Quantity("L", "m", "length of the bar", above=0, high=2, slider=(0.1, 1))]
Count = Annotated[Number, Quantity("n", "", "number of bars", low=1, high=9, whole=True)]


@part
class Bar:
    """A bar."""

    length: Length | None = None
    count: Count | None = None
    end: Literal["round", "square"] | None = None


@calculation
def area(length: Length, *, end: Literal["round", "square"] = "round") -> Number:
    """Give length squared."""
    return np.square(length)


def test_a_part_reads_text_numbers_and_columns():
    assert Bar(length="15 in").length == pytest.approx(0.381)
    assert Bar(length=0.5).length == 0.5
    assert Bar(length=["10 mm", 0.02]).length == pytest.approx([0.01, 0.02])
    assert Bar().length is None


@pytest.mark.parametrize("bad", ["5 kg", 3, 0, float("nan"), float("inf"), True, [0.1, 3.0], [], {}, "1 m m"])
def test_a_part_refuses_nonsense(bad):
    with pytest.raises(ValidationError):
        Bar(length=bad)


def test_messages_name_what_was_given_and_allowed():
    with pytest.raises(ValueError, match="length: 3000 mm was given; allowed: more than 0 mm and at most 2000 mm"):
        area(3.0)
    with pytest.raises(ValueError, match="length: nan was given"):
        area(float("nan"))
    with pytest.raises(ValueError, match="end: 'flat' was given; allowed: 'round', 'square'"):
        area(1.0, end="flat")
    with pytest.raises(TypeError):
        area(1.0, ned="round")
    with pytest.raises(ValidationError, match="10 was given; allowed: at least 1 and at most 9"):
        Bar(count=10)
    with pytest.raises(ValidationError):
        Bar(count=2.5)


def test_huge_integers_are_refused():
    with pytest.raises(ValueError):
        Quantity("x", "", "anything").number(10**400)


@given(st.floats(0.001, 2))
def test_scalars_give_plain_floats_and_columns_columns(length):
    one = area(length)
    assert type(one) is float
    assert area(np.array([length, length])) == pytest.approx([one, one])


def test_a_result_holds_plain_floats():
    @result
    class Two:
        a: Number
        b: Number

    @calculation
    def two(length: Length) -> Two:
        return Two(np.sqrt(length), np.asarray(length) * 2)

    assert type(two(0.25).a) is float
    assert type(two(0.25).b) is float


def test_declarations_are_found():
    assert quantities(area)["length"] is quantities(Bar)["length"]


def test_a_curve_is_never_read_outside_its_ends():
    curve = Curve(x=np.array([1.0, 2.0]), y=np.array([10.0, 30.0]), source="the toy", name="toy")
    assert curve.at(1.5) == 20.0
    assert curve.inverse(20.0) == 1.5
    assert curve.at(np.array([1.0, 2.0])) == pytest.approx([10.0, 30.0])
    for bad in (0.99, 2.01, float("nan")):
        with pytest.raises(OutOfRange, match="toy"):
            curve.at(bad)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ({"x": [1], "y": [1]}, "two or more"),
        ({"x": [0.1, 0.2], "y": [1]}, "pairs"),
        ({"x": [0.2, 0.1], "y": [1, 2]}, "rise"),
        ({"x": [0.1, 0.2], "y": [1, 2]}, "falling"),
        ({"x": "a", "y": [1, 2]}, "wanted"),
        ([], "wanted"),
        ({"x": [0.1, 0.2], "y": [2, 1], "z": 1}, "wanted"),
    ],
)
def test_bad_curves(points, words):
    declared = CurveOf("toy curve", x=Quantity("x", "m", "x"), y=Quantity("y", "m", "y"), shape="falling")
    with pytest.raises(ValueError, match=words):
        declared.accept(points)


@pytest.mark.parametrize(
    ("demand", "capacity", "verdict"),
    [(1.0, 1.2, "pass"), (1.0, 1.1, "pass"), (1.0, 1.05, "marginal"), (1.0, 1.0, "marginal"), (1.0, 0.999, "fail"),
     (0.0, 0.0, "pass"), (0.0, -1.0, "fail"), (1.0, float("nan"), "fail"), (-1.0, 0.0, "pass")],
)  # fmt: skip
def test_verdicts(demand, capacity, verdict):
    assert Check("c", "t", demand, capacity, "m").verdict == verdict
    column = Check("c", "t", np.array([demand]), np.array([capacity]), "m")
    assert list(column.verdict) == [verdict]


def test_working_shows_the_numbers():
    working = Working("A = L^2", {"L": (0.5, "m")}, (0.25, "m2"))
    assert working.text() == "A = L^2: L = 500 mm; gives 0.250 m²"


@given(st.floats(-5, 5))
def test_bisection_against_a_closed_form(target):
    root = bisect(lambda x: x**3 - target, low=-3.0, high=3.0)
    assert float(root) == pytest.approx(np.cbrt(target), abs=1e-9)
    falling = bisect(lambda x: target - x**3, low=-3.0, high=3.0)
    assert float(falling) == pytest.approx(np.cbrt(target), abs=1e-9)


def test_bisection_says_where_there_is_no_root():
    assert np.isnan(bisect(lambda x: x + np.array([0.0, 9.0]), low=-1.0, high=1.0)).tolist() == [False, True]

"""Tables that the shafts topic reads, against the standards' own formulas and against sums added by hand."""

import itertools
import math

import pytest

from evlib.shafts import key, tables

near = pytest.approx
STEPS = list(itertools.pairwise(tables.SIZE_STEPS))
FORMULAS = {
    "f": lambda d: -5.5 * d**0.41,
    "g": lambda d: -2.5 * d**0.34,
    "h": lambda d: 0.0,
    "k": lambda d: 0.6 * d ** (1 / 3),
    "n": lambda d: 5 * d**0.34,
}


@pytest.mark.parametrize("letter", FORMULAS)
@pytest.mark.parametrize("step", range(len(STEPS)))
def test_fundamental_deviations_follow_the_standards_formulas(letter, step):
    """ISO 286-1: f -5.5 D^0.41, g -2.5 D^0.34, k +0.6 D^(1/3), n +5 D^0.34 (D geometric mean, mm), then rounded."""
    low, high = STEPS[step]
    expected = FORMULAS[letter](math.sqrt(low * high))
    assert tables.SHAFT_DEVIATION[letter][step] == near(expected, abs=max(0.8, 0.04 * abs(expected)))


@pytest.mark.parametrize("step", range(len(STEPS)))
def test_m_and_p_follow_the_tolerances(step):
    """ISO 286-1: m is IT7 less IT6; p is IT7 plus 0 to 5 micrometre."""
    six, seven = (tables.STANDARD_TOLERANCE[grade][step] for grade in (6, 7))
    assert tables.SHAFT_DEVIATION["m"][step] == seven - six
    assert 0 <= tables.SHAFT_DEVIATION["p"][step] - seven <= 5


def test_bolt_strengths_pinned():
    """ISO 898-1:2013: a class says its own tensile strength (first figure x 100) and its yield's share (second)."""
    for name, (small, large) in tables.TENSILE_STRENGTH.items():
        first, second = map(int, name.split("."))
        assert 100 * first <= small <= large <= 1.05 * 100 * first
        proof = tables.PROOF_STRESS[name]
        assert 0.88 < proof[0] / (small * second / 10) < 0.96  # proof stress lies a little under the yield
        assert 0.88 < proof[1] / (large * second / 10) < 0.96
    assert [sum(p) for p in zip(*tables.PROOF_STRESS.values(), strict=True)] == [3030.0, 3050.0]


@pytest.mark.parametrize(
    ("shaft", "width"), [(3 / 8, 3 / 32), (1 / 2, 1 / 8), (5 / 8, 3 / 16), (7 / 8, 3 / 16), (2.5, 5 / 8), (3.0, 3 / 4)]
)
def test_the_other_inch_keys(shaft, width):
    """ASME B17.1, square keys (from memory; Shigley's table 7-6 lists the same steps)."""
    assert key.inch_key_width(shaft * 0.0254) / 0.0254 == near(width)


@pytest.mark.parametrize(
    ("shaft", "width", "height", "depth"),
    [(16, 5, 5, 3), (28, 8, 7, 4), (35, 10, 8, 5), (48, 14, 9, 5.5), (60, 18, 11, 7)],
)
def test_metric_keys(shaft, width, height, depth):
    """ISO 773 / DIN 6885-1 (from memory); the key stands a little more than half in the shaft."""
    found = key.metric_key(shaft / 1000)
    assert (found.width * 1000, found.height * 1000, found.shaft_depth * 1000) == near((width, height, depth))
    assert 0.5 < found.shaft_depth / found.height < 0.66


def test_metric_key_table_pinned():
    """Sums of the printed columns: widths 109, heights 76, depths 46.5 mm (added by hand)."""
    assert [sum(column) for column in zip(*tables.METRIC_KEYS, strict=True)][1:] == [109, 76, 46.5]


def test_expansions_are_the_handbooks():
    """Handbook: steel 11 to 12.5, grey iron 10 to 11, aluminium alloys 21 to 24 millionths per kelvin."""
    assert 11e-6 < tables.STEEL_EXPANSION < 12.5e-6
    assert 10e-6 < tables.CAST_IRON_EXPANSION < 11e-6
    assert 21e-6 < tables.ALUMINIUM_EXPANSION < 24e-6

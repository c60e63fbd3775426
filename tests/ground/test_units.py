"""The unit reader and writer against NIST SP 811, ASTM B258, and the ways people write numbers."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evlib.ground import units

# NIST SP 811 (2008), appendix B.8: factors for units listed alphabetically.
NIST = [
    ("1 lbf ft", "N m", 1.3558179483314),
    ("1 hp", "W", 745.69987158227022),
    ("1 psi", "Pa", 6894.757293168),
    ("1 mph", "m/s", 0.44704),
    ("1 US gal/min", "m3/s", 3.785411784e-3 / 60),
    ("1 lbf", "N", 4.4482216152605),
    ("1 in", "m", 0.0254),
    ("1 lb", "kg", 0.45359237),
    ("1 metric hp", "W", 735.49875),
    ("1 cSt", "m2/s", 1e-6),
    ("1 kWh", "J", 3.6e6),
    ("1 rpm", "rad/s", 2 * math.pi / 60),
    ("1 imp gal", "m3", 4.54609e-3),
    ("1 bar", "Pa", 1e5),
]


@pytest.mark.parametrize(("text", "unit", "expected"), NIST)
def test_nist(text, unit, expected):
    assert units.read(text, unit) == pytest.approx(expected, rel=1e-12)


WRITTEN = [
    ("1 1/2 in", "m", "", 0.0381),
    ("1½ in", "m", "", 0.0381),
    ("1 ½ in", "m", "", 0.0381),
    ("1-1/2 in", "m", "", 0.0381),
    ("½ in", "m", "", 0.0127),
    ("3/8 in", "m", "", 0.009525),
    ('3/8"', "m", "", 0.009525),
    ("1,200", "", "", 1200.0),
    ("1,200.5", "", "", 1200.5),
    ("1.200,5", "", "", 1200.5),
    ("1,234,567", "", "", 1234567.0),
    ("1 200 kg", "kg", "", 1200.0),
    ("0,5", "", "", 0.5),
    ("0,125", "", "", 0.125),
    ("12,75", "", "", 12.75),
    ("−3 mm", "m", "", -0.003),
    ("1e3 kg", "kg", "", 1000.0),
    ("20 %", "", "", 0.2),
    ("90 ft-lb", "N m", "", 122.023615),
    ("90 lb ft", "N m", "", 122.023615),
    ("90 lbf ft", "N m", "", 122.023615),
    ("15 W/m2 K", "W/m2 K", "", 15.0),
    ("20 N m/rad", "N m/rad", "", 20.0),
    ("11.7e-6 1/K", "1/K", "", 11.7e-6),
    ("5 thou", "m", "", 127e-6),
    ("160 Ah", "C", "", 576000.0),
    ("212 °F", "K", "reading", 373.15),
    ("100 °C", "K", "reading", 373.15),
    ("100 degC", "K", "reading", 373.15),
    ("18 °F", "K", "difference", 10.0),
    ("10 K", "K", "difference", 10.0),
    ("0 psig", "Pa", "absolute", 101325.0),
    ("14.695948775 psia", "Pa", "gauge", 0.0),
    ("85 psi", "Pa", "gauge", 586054.37),
    ("dash 6", "m", "hose", 0.0095),
    ("-6", "m", "hose", 0.0095),
]


@pytest.mark.parametrize(("text", "unit", "kind", "expected"), WRITTEN)
def test_ways_of_writing(text, unit, kind, expected):
    assert units.read(text, unit, kind=kind) == pytest.approx(expected, rel=1e-7, abs=1e-3 if unit == "Pa" else 1e-12)


# ASTM B258, areas computed from its diameter rule: 4/0, 2/0, 2, 10 (mm2).
@pytest.mark.parametrize(("text", "area"), [("4/0", 107.22), ("2/0 AWG", 67.43), ("AWG 2", 33.63), ("10 AWG", 5.261)])
def test_wire_sizes(text, area):
    assert units.read(text, "m2", kind="wire") * 1e6 == pytest.approx(area, rel=2e-4)


ASKED = [
    ("3 gal", "m3", "", "imperial"),
    ("3 gpm", "m3/s", "", "imperial"),
    ("2 tons", "kg", "", "which ton"),
    ("85 psi", "Pa", "absolute", "gauge or absolute"),
    ("1.2.3", "", "", "three digits"),
    ("5 kg", "m", "", "not one of"),
    ("5 blah", "m", "", "not one of"),
    ("nan", "", "", "begin with a number"),
    ("inf m", "m", "", "begin with a number"),
    ("", "m", "", "empty"),
    ("2/0 in", "m", "", "zero"),
    ("7/0", "m2", "wire", "4/0"),
    ("dash 7", "m", "hose", "dash sizes"),
    ("1e400 m", "m", "", "power of ten"),
    ("20 bar", "K", "reading", "temperature"),
    ("x" * 200, "m", "", "characters"),
]


@pytest.mark.parametrize(("text", "unit", "kind", "words"), ASKED)
def test_asks_rather_than_guesses(text, unit, kind, words):
    with pytest.raises(units.UnitProblem, match=words):
        units.read(text, unit, kind=kind)


@given(
    st.text(max_size=90), st.sampled_from(["m", "K", "Pa", "N m", ""]), st.sampled_from(["", "wire", "hose", "gauge"])
)
def test_any_text_is_read_or_refused(text, unit, kind):
    try:
        assert math.isfinite(units.read(text, unit, kind=kind))
    except units.UnitProblem as problem:
        assert "\n" not in str(problem)


SHOWN = [unit for unit in units.SHOWN if unit != "K"] + ["ohm", "V", "A", "kg m2", "W/K"]


@given(st.floats(1e-3, 1e6), st.sampled_from(SHOWN), st.sampled_from(["SI", "shop"]))
def test_what_is_shown_reads_back(value, unit, system):
    shown = units.show(value, unit, system=system, digits=9)
    if "e" not in shown.split()[0]:
        assert units.read(shown, unit) == pytest.approx(value, rel=1e-7)


def test_temperature_is_shown_as_reading_or_difference():
    assert units.show(373.15, "K", kind="reading", system="shop") == "212 °F"
    assert units.show(10.0, "K", kind="difference") == "10.0 K"
    assert units.show(10.0, "K", kind="difference", system="shop") == "18.0 °F"


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (1234.6, "1235"), (0.00012345, "0.000123"), (999.96, "1000"), (1e-9, "1.00e-09")]
)
def test_figures(value, text):
    assert units.figures(value) == text


@pytest.mark.parametrize(
    ("text", "unit"), [("50 Hz", "rad/s"), ("3 kHz", "rad/s"), ("300 rpm", "Hz"), ("50 rad/s", "Hz")]
)
def test_a_frequency_is_not_a_shaft_speed(text, unit):
    """A radian is a plain number to the library of units: without a guard 50 Hz would read as 50 rad/s."""
    with pytest.raises(units.UnitProblem, match="is not one of"):
        units.read(text, unit)

"""Wire against standards, closed forms and an independent integration."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from evlib.ground import units, wire
from evlib.ground.errors import OutOfRange

CABLE = dict(diameter=0.0165, stranding_factor=1.02, ambient=313.15)


@pytest.mark.parametrize(("gauge", "area"), [(-3, 107.22), (-1, 67.43), (2, 33.63), (10, 5.261)])
def test_gauge_areas_astm_b258(gauge, area):
    assert wire.gauge_area(gauge) * 1e6 == pytest.approx(area, rel=5e-4)


def test_the_unit_reader_and_the_wire_table_are_one():
    assert units.read("2/0", "m2", kind="wire") == pytest.approx(wire.gauge_area(-1))


@pytest.mark.parametrize(("area", "value"), [(10, 1.91), (25, 0.780), (50, 0.386), (95, 0.206)])
def test_class_5_iec_60228(area, value):
    assert wire.standard_resistance(area * 1e-6, stranding="class 5") * 1e3 == pytest.approx(value)


def test_iec_60228_columns_are_pinned_by_their_sums():
    # Sums of the columns as printed in a cable maker's reprint of IEC 60228 (secondary), worked out by hand.
    assert sum(wire.IEC_60228["class 2"].values()) == pytest.approx(32.7305, abs=1e-9)
    assert sum(wire.IEC_60228["class 5"].values()) == pytest.approx(35.3241, abs=1e-9)


@pytest.mark.parametrize(("gauge", "value"), [(4, 1.010), (0, 0.400), (-3, 0.199)])
def test_resistance_at_75_c_nec_chapter_9_table_8(gauge, value):
    # NEC chapter 9 table 8, stranded uncoated copper, 75 °C (secondary); a stranded wire's lay adds 2 %.
    got = wire.resistance_per_metre(wire.gauge_area(gauge), temperature=348.15, stranding_factor=1.02)
    assert got * 1e3 == pytest.approx(value, rel=0.006)


@pytest.mark.parametrize("area", [25, 35, 50, 70, 95, 120])
def test_class_5_agrees_with_its_stated_stranding_factor(area):
    # The how-text says 1.12 for metric flexible cable; IEC 60228 class 5 gives 1.11 to 1.14.
    ours = wire.resistance_per_metre(area * 1e-6, temperature=293.15, stranding_factor=1.12)
    assert ours == pytest.approx(wire.standard_resistance(area * 1e-6, stranding="class 5"), rel=0.02)


def test_copper_20_to_120_c():
    ratio = [wire.resistance_per_metre(5e-5, temperature=t, stranding_factor=1.0) for t in (293.15, 393.15)]
    assert ratio[1] / ratio[0] == pytest.approx(1.393, rel=5e-4)  # (234.5 + 120) / 254.5, handbook constants


@pytest.mark.parametrize(("start", "end", "k"), [(90, 250, 143.1), (70, 160, 115.0)])
def test_withstand_iec_60364_5_54(start, end, k):
    assert wire.withstand_factor(start + 273.15, end=end + 273.15) / 1e6 == pytest.approx(k, rel=0.005)


def test_conductor_area_iec_60364_5_54_example():
    assert wire.withstand_area(12_000.0, time=0.02, factor=143e6) * 1e6 == pytest.approx(11.87, rel=1e-3)


@pytest.mark.parametrize(("gauge", "diameter", "amps"),
                         [(4, 8.2, 140), (2, 9.7, 190), (0, 12.3, 260), (-1, 13.5, 300), (-3, 16.3, 405)])  # fmt: skip
def test_ampacity_against_nec_table_310_17(gauge, diameter, amps):
    # NEC table 310.17, one copper conductor in free air, 90 °C, 30 °C air (from memory); outer diameters of common
    # 90 °C building wire in mm (from memory). The band: the table rounds down and allows for less than ideal air,
    # so a clean heat balance reads high, by up to a tenth; never low.
    got = wire.ampacity(363.15, area=wire.gauge_area(gauge), diameter=diameter / 1e3, stranding_factor=1.02,
                        ambient=303.15)  # fmt: skip
    assert 1.0 <= got / amps <= 1.12


@settings(max_examples=25, deadline=None)
@given(st.floats(50, 700), st.floats(2e-5, 1.2e-4))
def test_ampacity_is_the_inverse_of_the_steady_temperature(current, area):
    hot = wire.steady_temperature(current, area=area, **CABLE)
    if 330 < hot < 590:
        assert wire.ampacity(hot, area=area, **CABLE) == pytest.approx(current, rel=1e-3)


def test_without_current_the_cable_is_as_warm_as_the_air():
    assert wire.steady_temperature(0.0, area=67e-6, **CABLE) == pytest.approx(313.15, abs=0.01)
    assert wire.steady_temperature(20_000.0, area=10e-6, **CABLE) == np.inf


def test_heating_follows_an_independent_integration():
    area, current, start = 67.43e-6, 600.0, 333.15
    h = wire.surface_coefficient(0.0165, surface=373.15, ambient=313.15, emissivity=0.9)

    def rate(_t, temperature):
        # written out with IEC 60028's constants, not with the library's function
        resistance = 1.02 * 1.7241e-8 / area * (1 + 0.00393 * (temperature - 293.15))
        return (current**2 * resistance - h * np.pi * 0.0165 * (temperature - 313.15)) / (3.45e6 * area)

    solved = solve_ivp(rate, (0, 120), [start], rtol=1e-9, atol=1e-9).y[0, -1]
    got = wire.temperature_after(120.0, current=current, area=area, start=start, **CABLE)
    assert got == pytest.approx(solved, rel=1e-6)


def test_short_heating_is_the_adiabatic_withstand():
    k = wire.withstand_factor(363.15, end=523.15)
    seconds = wire.withstand_time(8000.0, area=67e-6, factor=k)
    got = wire.temperature_after(seconds, current=8000.0, area=67e-6, start=363.15, diameter=0.0165,
                                 stranding_factor=1.0, ambient=363.15)  # fmt: skip
    assert seconds < 5
    assert got - 363.15 == pytest.approx(160, rel=0.03)  # heat leaving makes it a little less


@settings(max_examples=25, deadline=None)
@given(st.floats(1, 2000), st.floats(0.2, 10))
def test_drop_is_two_ways_and_linear(current, length):
    kw = dict(area=5e-5, temperature=320.0, stranding_factor=1.1)
    both = wire.drop_both_ways(current, length=length, **kw)
    one_way = current * length * wire.resistance_per_metre(5e-5, temperature=320.0, stranding_factor=1.1)
    assert both == pytest.approx(2 * one_way)
    assert wire.drop_both_ways(2 * current, length=length, **kw) == pytest.approx(2 * both)


def test_refusals():
    with pytest.raises(OutOfRange, match="IEC 60228"):
        wire.standard_resistance(60e-6, stranding="class 5")
    with pytest.raises(OutOfRange, match="no heat leaving"):
        wire.withstand_area(1000.0, time=6.0, factor=143e6)
    with pytest.raises(ValueError, match="higher than before"):
        wire.withstand_factor(400.0, end=400.0)
    with pytest.raises(ValueError, match="gauge"):
        wire.gauge_area(2.5)


def test_columns_equal_singles():
    currents, areas = np.array([100.0, 300.0, 500.0]), np.array([3e-5, 6e-5, 9e-5])
    column = wire.steady_temperature(currents, area=areas, **CABLE)
    singles = [wire.steady_temperature(float(c), area=float(a), **CABLE) for c, a in zip(currents, areas, strict=True)]
    assert column == pytest.approx(singles, rel=1e-12)
    column = wire.temperature_after(30.0, current=currents, area=areas, start=320.0, **CABLE)
    singles = [
        wire.temperature_after(30.0, current=float(c), area=float(a), start=320.0, **CABLE)
        for c, a in zip(currents, areas, strict=True)
    ]
    assert column == pytest.approx(singles, rel=1e-12)

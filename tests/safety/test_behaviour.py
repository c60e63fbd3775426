"""Safety: errors, shapes, files, and the card."""

import numpy as np
import pytest

from evlib.ground.tables import Curve
from evlib.safety import commissioning, faults, insulation, precharge, shock, shutdown
from evlib.safety.parts import Protection

CURVE = Curve(x=np.array([800.0, 4000.0]), y=np.array([100.0, 0.01]), logarithmic=True)


def test_a_build_file_s_text_becomes_parts():
    made = Protection(
        fuse={"fuse_rating": "400 A", "fuse_curve": {"x": ["800 A", "4 kA"], "y": ["100 s", "10 ms"]}},
        pack_cable={"conductor_area": "2/0", "cable_length": "3 m", "cable_ambient": "60 °C"},
        precharge={"link_capacitance": "3000 uF", "precharge_wait": "1500 ms"},
        contactor={"fitted": False},
    )
    assert made.pack_cable.conductor_area * 1e6 == pytest.approx(67.43, abs=0.01)
    assert made.pack_cable.cable_ambient == pytest.approx(333.15)
    assert made.precharge.link_capacitance == pytest.approx(3e-3)
    assert made.insulation is None and made.contactor.fitted is False
    assert made.fuse.fuse_curve.at(4000.0) == pytest.approx(0.01)


@pytest.mark.parametrize("value", ["-5 kohm", "3 A", float("nan"), "0 ohm", True])
def test_nonsense_in_a_part_is_refused(value):
    with pytest.raises(ValueError, match="precharge_resistance"):
        Protection(precharge={"precharge_resistance": value})


def test_a_reading_that_does_not_fall_is_refused():
    for wrong in (280.0, 300.0):
        with pytest.raises(ValueError, match="must fall"):
            insulation.smaller_leak(280.0, second_reading=wrong, pack_voltage=350.0, test_resistance=35e3)
        with pytest.raises(ValueError, match="must fall"):
            insulation.smaller_leak_by_sum(280.0, second_reading=wrong, other_reading=70.0, test_resistance=35e3)


def test_refusals():
    with pytest.raises(ValueError, match="less than the pack voltage"):
        precharge.measured_time_constant(0.3, reading=350.0, pack_voltage=350.0)
    with pytest.raises(ValueError, match="arcing time"):
        faults.opening_band(1000.0, release_time=0.008, curve=CURVE, arcing_time=0.008, largest_current=5000.0)
    with pytest.raises(ValueError, match="kind"):
        shock.above_voltage_limit(100.0, kind="three-phase")


def test_columns_equal_singles():
    leaks = np.array([1e4, 1e5, 1e6])
    got = insulation.readings(350.0, leak_positive=leaks, leak_negative=1e5, test_resistance=35e3, meter_resistance=1e7)
    single = insulation.readings(350.0, leak_positive=1e4, leak_negative=1e5, test_resistance=35e3,
                                 meter_resistance=1e7)  # fmt: skip
    assert got.second.shape == (3,) and got.second[0] == pytest.approx(single.second)
    assert got.larger_is_negative.tolist() == [1, 1, 0]
    band = faults.opening_band(np.array([500.0, 3500.0]), release_time=0.05, curve=CURVE, arcing_time=0.008,
                               largest_current=5000.0)  # fmt: skip
    assert band.width[0] > 0 and band.width[1] == 0


@pytest.mark.parametrize(
    ("now", "later", "words"),
    [(0.632, 0.993, "as expected"), (0.0, 0.0, "no voltage"), (1.0, 1.0, "full at once"), (0.55, 0.8, "goes flat"),
     (0.4, 0.96, "too slow"), (0.45, 0.95, "too slow"), (0.30, 0.83, "too slow"),
     (0.57, 0.798, "goes flat"), (0.85, 0.999, "too fast")],
)  # fmt: skip
def test_precharge_curve_is_read(now, later, words):
    assert precharge.diagnose(now, part_later=later, expected=0.632).startswith(words)


@pytest.mark.parametrize(
    ("volts", "words"), [(0, "no weld"), (17.4, "no weld"), (17.6, "partly"), (332, "partly"), (333, "welded")]
)
def test_weld_check_at_its_boundaries(volts, words):
    assert shutdown.weld_check(volts, pack_voltage=350.0).startswith(words)
    with pytest.raises(ValueError, match="allowed"):
        shutdown.weld_check(-5.0, pack_voltage=350.0)


def test_card_lines_follow_the_build():
    line = commissioning.precharge_line(0.3)
    assert (line.low, line.expected, line.high) == pytest.approx((0.24, 0.3, 0.36))
    assert commissioning.judge(line, reading=0.36) == "in its band"
    assert commissioning.judge(line, reading=0.37).startswith("outside")
    assert commissioning.judge(line, reading=300.0).startswith("impossible")
    assert commissioning.judge(line, reading=-0.3).startswith("impossible")
    vehicle, smaller, both = commissioning.insulation_lines(
        350.0, ohm_per_volt=100.0, leak_positive=50e3, leak_negative=50e3
    )
    assert vehicle.place == "vehicle, dead" and commissioning.judge(vehicle, reading=34e3).startswith("outside")
    assert commissioning.judge(smaller, reading=36e3) == "in its band"
    assert commissioning.judge(both, reading=25e3).startswith("outside")
    assert "no limit" in smaller.text()
    with pytest.raises(ValueError, match="inside its band"):
        commissioning.CardLine("x", "y", 1.0, 2.0, 3.0, "V", "z")


@pytest.mark.parametrize(
    ("text", "words"),
    [("not = [toml", "not a TOML"), ("", "no \\[\\[line\\]\\]"),
     ('[[line]]\nfrom="a"\nto="b"\nname="n"\nkind="rope"', "kind"),
     ('[[line]]\nfrom="a"\nto="b"\nname="n"\nkind="contact"\ncoil="ghost"', "ghost"),
     ('[[line]]\nfrom="a"\nto="b"\nname="n"\nkind="wire"\ncolour="red"', "colour")],
)  # fmt: skip
def test_a_bad_circuit_file_is_one_sentence(tmp_path, text, words):
    path = tmp_path / "loop.toml"
    path.write_text(text)
    with pytest.raises(ValueError, match=words):
        shutdown.read_circuit(path)

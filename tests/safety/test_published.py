"""Safety against values from outside the project."""

import numpy as np
import pytest

from evlib.safety import faults, hands, insulation, motor_loop, precharge, shock

R_O = 40_000.0


def test_high_voltage_limits():
    # UN R100 (01 series) 2.17 and 49 CFR 571.305 S4: above 60 V DC, or above 30 V AC.
    assert [shock.above_voltage_limit(v, kind="DC") for v in (59.9, 60.0, 60.1)] == [0, 0, 1]
    assert [shock.above_voltage_limit(v, kind="AC") for v in (30.0, 30.1)] == [0, 1]


@pytest.mark.parametrize(("voltage", "microfarad"), [(400.0, 2.5), (144.0, 19.29)])
def test_capacitance_of_the_energy_option(voltage, microfarad):
    # 0.2 J: UN R100 and 49 CFR 571.305, option after a crash.
    got = shock.capacitance_for_energy(shock.ENERGY_OPTION, voltage=voltage)
    assert got * 1e6 == pytest.approx(microfarad, rel=5e-4)
    assert shock.stored_energy(voltage, link_capacitance=got) == pytest.approx(0.2)


def test_discharge_in_five_seconds():
    # Closed form, t = RC ln(400/60).
    got = shock.discharge_resistor(5.0, start_voltage=400.0, end_voltage=60.0, link_capacitance=1e-3)
    assert got == pytest.approx(2636, rel=5e-4)


def test_hazard_levels_of_a_national_laboratory():
    # A national laboratory's electrical safety page: DC 100 V and 40 mA, capacitor 100 V and 10 J, battery arc
    # 100 V and 500 A.
    assert [(v, second) for v, second, _ in shock.HAZARD_LEVELS.values()] == [(100, 0.040), (100, 10), (100, 500)]


@pytest.mark.parametrize(("constants", "per_cent"), [(1, 63.2), (2, 86.5), (3, 95.0), (4, 98.2), (5, 99.3)])
def test_charging_a_capacitor(constants, per_cent):
    # Any text on circuits.
    got = precharge.voltage_after(0.3 * constants, pack_voltage=100.0, precharge_resistance=100.0,
                                  link_capacitance=3e-3)  # fmt: skip
    assert got == pytest.approx(per_cent, abs=0.05)


@pytest.mark.parametrize(("ohm_per_volt", "volt", "ohm"), [(100.0, 400.0, 40e3), (500.0, 400.0, 200e3)])
def test_insulation_asked(ohm_per_volt, volt, ohm):
    # UN R100 5.1.3: 100 ohm/V for DC buses, 500 ohm/V for AC and joined; 100 ohm/V is 10 mA.
    assert insulation.required(volt, ohm_per_volt=ohm_per_volt) == ohm
    assert insulation.leak_current(volt, leak=ohm) == pytest.approx(1 / ohm_per_volt)


def kirchhoff(pack, leak_p, leak_n, meter, extra):
    """Voltage from the negative pole to the chassis, from the node equation alone: an independent route."""
    conductance_n = 1 / leak_n + 1 / meter + (1 / extra if extra else 0)
    conductance_p = 1 / leak_p
    return pack * conductance_p / (conductance_p + conductance_n)


@pytest.mark.parametrize("meter", [1e5, 1e6, 1e7, 1e12])
def test_voltmeter_method_finds_the_smaller_leak_whatever_the_meter(meter):
    # Formula and steps: UN R100 annex on measuring insulation resistance, step four (read); readings are made from
    # the node equation above.
    pack, leak_p, leak_n = 400.0, 60e3, 300e3
    v1, v1_loaded = kirchhoff(pack, leak_p, leak_n, meter, None), kirchhoff(pack, leak_p, leak_n, meter, R_O)
    got = insulation.smaller_leak(v1, second_reading=v1_loaded, pack_voltage=pack, test_resistance=R_O)
    assert got == pytest.approx(60e3, rel=1e-9)


def test_the_form_with_the_sum_reads_low_with_a_real_meter():
    # 49 CFR 571.305 as first written (from memory): Ri = Ro (1 + V2/V1) (V1 - V1')/V1'. With a meter that draws
    # nothing both forms agree.
    pack, leak_p, leak_n = 400.0, 60e3, 300e3
    found = []
    for meter in (1e5, 1e6, 1e7, 1e12):
        v1 = kirchhoff(pack, leak_p, leak_n, meter, None)
        v2 = kirchhoff(pack, leak_n, leak_p, meter, None)
        loaded = kirchhoff(pack, leak_p, leak_n, meter, R_O)
        found.append(insulation.smaller_leak_by_sum(v1, second_reading=loaded, other_reading=v2, test_resistance=R_O))
    assert found == sorted(found)
    assert found[-1] == pytest.approx(60e3, rel=1e-5)
    assert found[0] < 0.8 * 60e3


def test_rim_stress():
    # Mechanical Engineer's Data Handbook: 7850 kg/m3 at 100 m/s.
    assert hands.ring_stress(100.0) / 1e6 == pytest.approx(78.5, rel=1e-3)
    assert hands.disc_stress(100.0) / 1e6 == pytest.approx(32.4, rel=2e-3)


def test_chopper_trades_volts_for_amps():
    # Closed form: 144 V, duty 0.25, 500 A in the motor: 125 A from the pack, 18 kW on both sides.
    got = motor_loop.pack_current(500.0, motor_voltage=36.0, pack_voltage=144.0)
    assert got == pytest.approx(125.0)
    assert got * 144 == pytest.approx(18e3)
    assert motor_loop.motor_current_at_fuse(125.0, motor_voltage=36.0, pack_voltage=144.0) == pytest.approx(500.0)


def test_root_mean_square_of_a_duty():
    # Power System Engineering, 2nd ed., Ex 1.26, in two parts: 100 for 10 min, 60 for 8, nothing for 9: 69.07.
    both = motor_loop.root_mean_square(100.0, steady_current=60.0, peak_share=10 / 18)
    assert motor_loop.root_mean_square(both, steady_current=0.0, peak_share=18 / 27) == pytest.approx(69.07, rel=1e-4)


def test_closing_a_short_through_inductance():
    # RL closed form, any text: 63.2 % of the final current after one time constant.
    kw = dict(open_voltage=350.0, pack_resistance=0.06, circuit_resistance=0.01)
    tau = faults.time_constant(70e-6, pack_resistance=0.06, circuit_resistance=0.01)
    assert tau == pytest.approx(1e-3)
    assert faults.current_after(tau, loop_inductance=70e-6, **kw) == pytest.approx(5000 * (1 - np.exp(-1)))


@pytest.mark.parametrize(("start", "end", "k"), [(90, 250, 143.0), (70, 160, 115.0)])
def test_cable_withstand_is_k_squared_s_squared(start, end, k):
    # IEC 60364-5-54 tables A.54.2 to A.54.4: k 143 and 115 A s^0.5/mm2.
    got = faults.cable_withstand(50e-6, start=start + 273.15, end=end + 273.15)
    assert np.sqrt(got) / 50 == pytest.approx(k, rel=0.005)

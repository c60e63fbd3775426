"""Safety: balances, limits, two routes to one answer, and brute force against the fault search."""

import itertools
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.stats import norm

from evlib.ground import fuse
from evlib.ground.tables import Curve
from evlib.safety import cables, faults, insulation, overspeed, precharge, shock, shutdown

CONTACTS = (shutdown.POSITIVE, shutdown.NEGATIVE, shutdown.PRECHARGE)
CIRCUIT = shutdown.read_circuit(Path(__file__).parents[2] / "data" / "safety" / "shutdown.toml")
CURVE = Curve(x=np.array([800.0, 1200.0, 2000.0, 4000.0]), y=np.array([100.0, 5.0, 0.3, 0.01]), logarithmic=True)
LEAK = st.floats(1e3, 1e7)


@settings(max_examples=60, deadline=None)
@given(LEAK, LEAK, st.floats(1e5, 1e9), st.floats(5e3, 1e6))
def test_both_leaks_come_back_from_the_readings(leak_p, leak_n, meter, extra):
    got = insulation.readings(350.0, leak_positive=leak_p, leak_negative=leak_n, test_resistance=extra,
                              meter_resistance=meter)  # fmt: skip
    small = insulation.smaller_leak(got.larger, second_reading=got.second, pack_voltage=350.0, test_resistance=extra)
    assert small == pytest.approx(min(leak_p, leak_n), rel=1e-6)
    large = insulation.larger_leak(got.larger, smaller=small, pack_voltage=350.0, meter_resistance=meter)
    if max(leak_p, leak_n) < meter:  # far above the meter's own resistance it is lost in rounding
        assert large == pytest.approx(max(leak_p, leak_n), rel=1e-4)
    assert got.larger + got.smaller < 350.0


@settings(max_examples=40, deadline=None)
@given(LEAK, LEAK)
def test_parallel_value_is_between_half_and_the_whole_of_the_smaller(leak_p, leak_n):
    both = insulation.parallel_value(leak_p, leak_negative=leak_n)
    assert min(leak_p, leak_n) / 2 <= both * (1 + 1e-12) and both <= min(leak_p, leak_n)


def test_monte_carlo_spread_follows_the_error_law():
    # Independent route: first-order propagation of three independent errors, written out.
    pack, leak_p, leak_n, extra, e = 350.0, 36e3, 500e3, 35e3, 0.002
    true = insulation.readings(pack, leak_positive=leak_p, leak_negative=leak_n, test_resistance=extra,
                               meter_resistance=1e7)  # fmt: skip
    first, second = pack / true.larger, pack / true.second
    sigma = extra * e * np.sqrt((second - first) ** 2 * 2 + second**2 + first**2)
    found = insulation.meter_spread(true, pack_voltage=pack, test_resistance=extra, accuracy=e, asked=35.9e3,
                                    tries=20000)  # fmt: skip
    assert found.high - found.low == pytest.approx(2 * 1.645 * sigma, rel=0.05)
    assert found.share_below == pytest.approx(norm.cdf((35.9e3 - 36e3) / sigma), abs=0.02)


def test_precharge_energy_balance_and_independent_integration():
    volts, ohms, farads = 350.0, 100.0, 3e-3

    def rate(_t, y):
        current = (volts - y[0]) / ohms
        return [current / farads, current**2 * ohms, current * volts]

    solved = solve_ivp(rate, (0, 10 * ohms * farads), [0.0, 0.0, 0.0], rtol=1e-9, atol=1e-9).y[:, -1]
    heat = precharge.pulse_energy(volts, link_capacitance=farads)
    assert solved[1] == pytest.approx(heat, rel=1e-5)
    assert solved[2] == pytest.approx(heat + shock.stored_energy(volts, link_capacitance=farads), rel=1e-4)
    t = precharge.time_to_difference(0.05, precharge_resistance=ohms, link_capacitance=farads)
    assert precharge.voltage_after(t, pack_voltage=volts, precharge_resistance=ohms, link_capacitance=farads) == (
        pytest.approx(0.95 * volts)
    )
    assert precharge.measured_time_constant(t, reading=0.95 * volts, pack_voltage=volts) == pytest.approx(0.3)


@pytest.mark.parametrize("start", [0.0, 145.0])
@pytest.mark.parametrize("discharge", [8200.0, 3000.0])
def test_a_discharge_resistor_divides_the_precharge(discharge, start):
    volts, ohms, farads = 326.4, 100.0, 3e-3

    def rate(_t, y):
        current = (volts - y[0]) / ohms
        return [(current - y[0] / discharge) / farads, current**2 * ohms]

    def little_missing(_t, y):
        return y[0] - 0.95 * volts

    little_missing.terminal = False
    solved = solve_ivp(rate, (0, 1.5), [start, 0.0], rtol=1e-10, atol=1e-10, events=little_missing)
    circuit = {"precharge_resistance": ohms, "link_capacitance": farads, "load_resistance": discharge}
    given = {**circuit, "pack_voltage": volts, "start_voltage": start}
    assert precharge.voltage_after(1.5, **given) == pytest.approx(solved.y[0, -1], rel=1e-7)
    assert precharge.heat_until(1.5, **given) == pytest.approx(solved.y[1, -1], rel=1e-6)
    if not start:
        took = precharge.time_to_difference(0.05, **circuit)
        assert took == pytest.approx(solved.t_events[0][0], rel=1e-6)
    # In the end two resistors in a row: V R_d / (R_d + R), by Ohm's law.
    amps = volts / (ohms + discharge)
    assert precharge.voltage_after(60.0, **given) == pytest.approx(amps * discharge)


def test_against_too_small_a_discharge_resistor_precharge_never_ends():
    circuit = {"precharge_resistance": 100.0, "link_capacitance": 3e-3}
    times = precharge.time_to_difference(0.05, load_resistance=np.array([1500.0, 1901.0, 1e9]), **circuit)
    assert times[0] == np.inf and np.isfinite(times[1])  # 1900 / 2000 is 95 %
    assert times[2] == pytest.approx(0.3 * np.log(20))


def test_charging_up_and_emptying_are_mirror_images():
    t = shock.discharge_time(350.0, end_voltage=60.0, discharge_resistance=3300.0, link_capacitance=3e-3)
    left = 350.0 - precharge.voltage_after(t, pack_voltage=350.0, precharge_resistance=3300.0, link_capacitance=3e-3)
    assert left == pytest.approx(60.0)
    assert shock.discharge_time(50.0, end_voltage=60.0, discharge_resistance=3300.0, link_capacitance=3e-3) == 0


def test_current_rise_by_integration():
    kw = dict(open_voltage=350.0, pack_resistance=0.06, circuit_resistance=0.01, loop_inductance=30e-6)
    solved = solve_ivp(lambda _t, i: (350.0 - 0.07 * i) / 30e-6, (0, 1e-3), [0.0], rtol=1e-9, atol=1e-9).y[0, -1]
    assert faults.current_after(1e-3, **kw) == pytest.approx(solved, rel=1e-6)
    assert faults.current_after(10.0, **kw) == pytest.approx(
        faults.prospective_current(350.0, pack_resistance=0.06, circuit_resistance=0.01)
    )


def test_opening_band_against_brute_force():
    band = faults.opening_band(1000.0, release_time=0.030, curve=CURVE, arcing_time=0.008, largest_current=5000.0)
    currents = np.arange(500.0, 5000.0, 1.0)
    slow = fuse.clearing_time(currents, curve=CURVE, arcing_time=0.008) > 0.030
    bad = currents[slow & (currents > 1000.0)]
    assert band.lower == pytest.approx(bad[0], abs=2) and band.upper == pytest.approx(bad[-1], abs=2)
    closed = faults.opening_band(6000.0, release_time=0.030, curve=CURVE, arcing_time=0.008, largest_current=5000.0)
    assert closed.width == 0


@settings(max_examples=30, deadline=None)
@given(st.floats(1.5e-5, 1.2e-4), st.floats(1300, 9000))
def test_cable_peak_and_withstand_say_the_same(area, current):
    kw = dict(curve=CURVE, arcing_time=0.008, clearing_integral=2e5)
    through = fuse.let_through(current, **kw)
    peak = faults.cable_peak_temperature(current, area=area, start=363.15, **kw)
    stands = faults.cable_withstand(area, start=363.15, end=523.15)
    assert (peak <= 523.15) == (through <= stands)


def test_a_fuse_that_does_not_melt_protects_no_cable():
    peak = faults.cable_peak_temperature(700.0, curve=CURVE, arcing_time=0.008, clearing_integral=2e5, area=67e-6,
                                         start=363.15)  # fmt: skip
    assert peak == 1e6


@settings(max_examples=30, deadline=None)
@given(st.floats(20, 800), st.floats(0.05, 0.5), st.floats(300, 500))
def test_overspeed_delay_spends_exactly_the_window(torque, inertia, trip):
    kw = dict(rotor_inertia=inertia, trip_speed=trip)
    delay = overspeed.longest_delay(torque, speed_limit=576.0, release_time=0.02, **kw)
    if delay >= 0:
        assert overspeed.speed_when_off(torque, detection_delay=delay, release_time=0.02, **kw) == pytest.approx(576.0)
    solved = brentq(lambda t: trip + torque * t / inertia - 576.0, 0, 1e4)
    assert delay == pytest.approx(solved - 0.02, abs=1e-6)


def test_loop_drop_adds_joints():
    kw = dict(area=67e-6, length=3.0, stranding_factor=1.02, temperature=343.15)
    joints = cables.loop_drop(450.0, joint_resistance=1e-4, joint_count=6.0, **kw) - cables.loop_drop(450.0, **kw)
    assert joints == pytest.approx(450.0 * 6e-4)


# --- the fault search against brute force ----------------------------------------------------------------------------
def by_hand(demand, stuck, touched):
    """The shipped circuit as one boolean sentence, written from the drawing and not from the search."""
    high = ["key off", "crash", "cover open", "leak", "over-speed", "oil pressure lost"]
    names = ["key", "inertia switch", "interlock line", "insulation monitor relay", "over-speed relay",
             "pressure relay"]  # fmt: skip
    closed = [d != demand or n == stuck for d, n in zip(high, names, strict=True)]
    low = demand != "emergency" or stuck == "emergency switch"
    rail, point = touched
    feed = all(closed)
    if rail == "12 V" and point.startswith("loop"):
        feed = all(closed[int(point[-1]) :])
    to_ground = low or (rail == "ground" and point == "return")
    blown = False
    if rail == "ground" and point.startswith("loop"):
        blown = all(closed[: int(point[-1])])
        feed = feed and not blown
    if rail == "12 V" and point == "return":
        blown = low
    energised = feed and to_ground and not blown
    if rail == "ground" and point.startswith("loop") and not blown:
        energised = False  # cut upstream of the touch: nothing feeds the coils
    if rail == "12 V" and point == "return" and not low:
        energised = False
    positive = energised or stuck in ("positive contactor", "precharge relay")
    negative = energised or stuck == "negative contactor"
    return positive + negative


@pytest.mark.parametrize("demand", ["", *CIRCUIT.demands])
def test_every_single_fault_by_brute_force(demand):
    stuck = ["", "key", "inertia switch", "interlock line", "insulation monitor relay", "over-speed relay",
             "pressure relay", "emergency switch", "positive contactor", "negative contactor",
             "precharge relay"]  # fmt: skip
    touched = [("", ""), *itertools.product(("12 V", "ground"), [f"loop {n}" for n in range(1, 7)] + ["return"])]
    cases = [(s, ("", "")) for s in stuck] + [("", t) for t in touched[1:]]
    rails = {"12 V": shutdown.SUPPLY, "ground": shutdown.GROUND}
    for s, (rail, point) in cases:
        fault = shutdown.Fault("", closed=s, bridge=(rails[rail], point) if rail else None)
        assert CIRCUIT.poles_joined(demand=demand, fault=fault) == by_hand(demand, s, (rail, point)), (s, rail, point)
    assert len(CIRCUIT.faults()) == len(cases) - 1  # nothing is left out of the search


def test_shipped_circuit_by_hand_always_has_a_way_out():
    assert shutdown.no_way_out(CIRCUIT, by_hand=("key off", "emergency")) == []
    assert CIRCUIT.poles_joined() == 2
    assert all(not f.poles_joined for f in shutdown.explore_faults(CIRCUIT) if f.fault == shutdown.HEALTHY)


def test_a_worse_drawing_is_found_out():
    moved = [line if line.name != "emergency switch" else shutdown.Line("spare link", "return", "ground", "wire")
             for line in CIRCUIT.lines]  # fmt: skip
    key = next(line for line in moved if line.name == "key")
    moved[moved.index(key)] = shutdown.Line("key", "supply", "loop 0", "switch", ("key off",))
    moved.append(shutdown.Line("emergency switch", "loop 0", "loop 1", "switch", ("emergency",)))
    worse = shutdown.Circuit(tuple(moved))
    found = shutdown.no_way_out(worse, by_hand=("key off", "emergency"))
    assert "12 V touches loop 1" in [fault.words for fault in found]


# --- the weld check ----------------------------------------------------------------------------------------------
WELDS = [(), *[(c,) for c in CONTACTS], *itertools.combinations(CONTACTS, 2), CONTACTS]


@pytest.mark.parametrize("welded", WELDS)
@pytest.mark.parametrize("step", range(9))
def test_what_the_controller_sees_by_the_voltage_of_nodes(step, welded):
    """Node voltages of the floating pack with its contacts, solved as resistors: the second method."""
    closed = {*[*shutdown.ON_SEQUENCE, *shutdown.OFF_SEQUENCE][step].closed, *welded}
    volts, big, small = 300.0, 1e12, 1e-3
    plus = 1 / (small if "positive contactor" in closed else 100.0 if "precharge relay" in closed else big)
    minus = 1 / (small if "negative contactor" in closed else big)
    load = 1 / 8200.0  # the discharge resistor across the controller
    # unknowns: the controller's plus, the pack's minus; reference: the controller's minus
    matrix = np.array([[plus + load, -plus], [-plus, plus + minus]])
    right = np.array([plus * volts, -plus * volts])
    bus = np.linalg.solve(matrix, right)[0]
    sees = shutdown.controller_sees(closed)
    assert (bus > 0.5 * volts) == (sees != "nothing")
    if sees != "nothing":
        assert (bus > 0.995 * volts) == (sees == "full at once")


def test_each_single_weld_is_found_before_precharge_begins():
    found = {}
    for contact in CONTACTS:
        for number, step in enumerate(shutdown.ON_SEQUENCE[:3], 1):
            if shutdown.controller_sees(step.closed, welded=[contact]) != shutdown.controller_sees(step.closed):
                found[contact] = number, step.seen
                break
    assert {contact: number for contact, (number, _) in found.items()} == dict(zip(CONTACTS, (2, 3, 2), strict=True))
    for contact, (_, seen) in found.items():  # the words of that step name what it finds
        assert f"{contact.removesuffix(' contactor')} welded" in seen


def test_all_open_finds_two_welds_and_no_single_one():
    assert all(shutdown.controller_sees((), welded=[contact]) == "nothing" for contact in CONTACTS)
    assert shutdown.controller_sees((), welded=CONTACTS[:2]) == "full at once"


def test_the_drawing_names_the_contacts_of_the_weld_check():
    assert {line.name for line in CIRCUIT.lines if line.kind == "contact"} == set(CONTACTS)

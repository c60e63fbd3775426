"""Motors: balances, limits, monotonicity, round trips, and a second method for each result."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from evlib.ground.runaway import climb, time_to_speed_limit
from evlib.ground.tables import Curve
from evlib.motors import (
    ac,
    brushes,
    commutator,
    controller,
    duty,
    envelope,
    heat,
    pack,
    pair,
    ratings,
    rotation,
    series,
    shunt,
    unloaded,
)
from evlib.motors.bench import BenchTable
from evlib.motors.fit import FITTED, fit_machine
from evlib.motors.magnetisation import Froelich, Tabulated, current_for_constant, saturating

QUICK = settings(max_examples=40, deadline=None)
K = Froelich(0.0016, 300.0)
TABLE = Tabulated(Curve(x=np.array([0.0, 100, 300, 600, 1000]), y=np.array([0.0, 0.12, 0.24, 0.32, 0.36])))
CURVES = pytest.mark.parametrize("k", [K, TABLE], ids=["saturating", "measured"])
DRAG = {"friction_torque": 1.5, "windage_coefficient": 1e-5, "iron_conductance": 0.04}
FEED = {"winding_resistance": 0.012, "brush_drop": 2.0}
amps = st.floats(1.0, 950.0)
speeds = st.floats(1.0, 570.0)


def machine(k=K):
    return {"magnetisation": k, **FEED, **DRAG}


# --- the series machine -------------------------------------------------------------------------------------------
@CURVES
@QUICK
@given(current=amps, speed=speeds)
def test_electrical_power_is_mechanical_power_and_each_loss(k, current, speed):
    volts = series.volts_needed(current, speed=speed, magnetisation=k, **FEED)
    p = series.at_volts_and_amps(volts, current=current, **machine(k))
    lost = p.losses.copper + p.losses.brushes + p.losses.friction + p.losses.windage + p.losses.iron
    assert p.electrical_power == pytest.approx(p.mechanical_power + lost, rel=1e-12)
    assert min(p.losses.copper, p.losses.brushes, p.losses.friction, p.losses.windage, p.losses.iron) >= 0
    assert p.efficiency < 1


@CURVES
@QUICK
@given(current=amps, speed=speeds)
def test_round_trips(k, current, speed):
    volts = series.volts_needed(current, speed=speed, magnetisation=k, **FEED)
    assert series.speed_at(current, volts=volts, magnetisation=k, **FEED) == pytest.approx(speed, rel=1e-9)
    assert series.current_at(speed, volts=volts, magnetisation=k, **FEED) == pytest.approx(current, rel=1e-9)
    torque = series.torque(current, speed=speed, magnetisation=k, **DRAG)
    if torque > 0:
        back = series.current_for_torque(torque, speed=speed, magnetisation=k, **DRAG)
        assert back == pytest.approx(current, rel=1e-9)


@QUICK
@given(current=amps)
def test_magnetisation_round_trip_and_ends(current):
    k = saturating(current, mutual_inductance=0.0016, saturation_current=300.0)
    back = current_for_constant(k, mutual_inductance=0.0016, saturation_current=300.0)
    assert back == pytest.approx(current, rel=1e-9)
    assert k < 0.0016 * 300.0
    assert k < 0.0016 * current


def test_saturation_halves_the_flux_per_ampere_at_its_current():
    assert saturating(300.0, mutual_inductance=0.0016, saturation_current=300.0) == pytest.approx(0.0016 * 300 / 2)
    assert saturating(0.0, mutual_inductance=0.0016, saturation_current=300.0) == 0.0


@CURVES
def test_monotone(k):
    current = np.linspace(1, 950, 200)
    assert (np.diff(series.torque(current, speed=200.0, magnetisation=k, **DRAG)) > 0).all()
    assert (np.diff(series.volts_needed(current, speed=200.0, magnetisation=k, **FEED)) > 0).all()
    assert (np.diff(series.current_at(np.linspace(300, 570, 200), volts=100.0, magnetisation=k, **FEED)) < 0).all()
    assert (np.diff(series.current_at(400.0, volts=np.linspace(3, 140, 99), magnetisation=k, **FEED)) > 0).all()


def test_no_current_stall_and_no_load():
    assert series.volts_needed(0.0, speed=300.0, magnetisation=K, **FEED) == 0.0
    assert series.torque(0.0, speed=0.0, magnetisation=K, **DRAG) == -1.5
    assert series.current_at(300.0, volts=1.9, magnetisation=K, **FEED) == 0.0
    at_rest = series.current_at(0.0, volts=14.0, magnetisation=K, **FEED)
    assert at_rest == pytest.approx(1000.0, rel=1e-12)  # 12 V over 12 mohm
    assert at_rest == pytest.approx(series.stall_current(14.0, **FEED), rel=1e-12)


def test_current_at_agrees_with_a_root_finder():
    for speed, volts in itertools.product((5.0, 150.0, 500.0), (10.0, 80.0, 140.0)):
        found = series.current_at(speed, volts=volts, magnetisation=K, **FEED)
        independent = brentq(lambda i: 0.0016 * i / (1 + i / 300) * speed + 0.012 * i + 2 - volts, 0, 1e5, xtol=1e-11)  # noqa: B023
        assert found == pytest.approx(independent, rel=1e-9)


def test_dimensions():
    # The same machine in units of a metre, kilogram, second and ampere that are a, b, c and d times as large.
    m, kg, s, a = 1.3, 0.7, 1.2, 0.5
    joule, volt = kg * m**2 / s**2, kg * m**2 / s**3 / a
    p = series.at_volts_and_amps(75.0, current=400.0, **machine())
    q = series.at_volts_and_amps(
        75.0 / volt, current=400.0 / a,
        magnetisation=Froelich(0.0016 / (volt * s / a), 300.0 / a), winding_resistance=0.012 / (volt / a),
        brush_drop=2.0 / volt, friction_torque=1.5 / joule, windage_coefficient=1e-5 / (joule * s**2),
        iron_conductance=0.04 / (a / volt),
    )  # fmt: skip
    assert q.speed * (1 / s) == pytest.approx(p.speed, rel=1e-12)
    assert q.torque * joule == pytest.approx(p.torque, rel=1e-12)
    assert q.efficiency == pytest.approx(p.efficiency, rel=1e-12)


# --- pack and controller ------------------------------------------------------------------------------------------
@QUICK
@given(volts=st.floats(48, 450), ohms=st.floats(0.03, 0.3), share=st.floats(0, 0.999))
def test_pack_current_gives_back_its_power_and_is_the_smaller_root(volts, ohms, share):
    best = pack.largest_power(volts, pack_resistance=ohms)
    power = share * best.power
    current = pack.current_for_power(power, open_volts=volts, pack_resistance=ohms)
    again = pack.power_at(current, open_volts=volts, pack_resistance=ohms)
    assert again == pytest.approx(power, rel=1e-9, abs=1e-6)
    assert current <= best.current
    for other in (0.9, 1.1):
        assert pack.power_at(other * best.current, open_volts=volts, pack_resistance=ohms) < best.power


def test_supply_limit_names_the_first_of_three():
    base = {"pack_resistance": 0.06, "pack_current_limit": 450.0, "cut_off_volts": 240.0}
    first = pack.supply_limit(316.0, **base)
    assert first.current == 450.0
    low = pack.supply_limit(252.0, **base)
    assert low.current == pytest.approx(200.0)
    assert low.volts == pytest.approx(240.0)
    half = pack.supply_limit(316.0, pack_resistance=0.6, pack_current_limit=450.0, cut_off_volts=100.0)
    assert half.current == pytest.approx(316 / 1.2)
    assert pack.supply_limit(239.0, **base).current == 0.0


def test_pack_resistance_in_the_cold_and_when_empty():
    base = {"cells_in_series": 96, "cells_in_parallel": 2, "link_resistance": 0.0,
            "resistance_temperature_constant": 2500.0}  # fmt: skip
    warm = pack.pack_resistance(0.001, pack_temperature=298.15, state_of_charge=0.5, **base)
    assert warm == pytest.approx(0.048)  # 96 cells of 1 mohm, two abreast
    cold = pack.pack_resistance(0.001, pack_temperature=268.15, state_of_charge=0.5, **base)
    assert cold / warm == pytest.approx(np.exp(2500 * (1 / 268.15 - 1 / 298.15)))
    assert pack.pack_resistance(0.001, pack_temperature=298.15, state_of_charge=0.0, **base) == pytest.approx(2 * warm)
    at = [pack.pack_resistance(0.001, pack_temperature=298.15, state_of_charge=s, **base) for s in (0.1, 0.2, 0.3)]
    assert at[0] > at[1] == at[2] == warm


def test_energy_of_a_flat_pack_is_charge_times_volts():
    flat = Curve(x=np.array([0.0, 1.0]), y=np.array([3.2, 3.2]))
    found = pack.stored_energy(160 * 3600.0, cell_open_voltage=flat, cells_in_series=96, cells_in_parallel=1)
    assert found == pytest.approx(160 * 3600 * 96 * 3.2)


@QUICK
@given(duty=st.floats(0.01, 1.0), current=st.floats(1, 1000), volts=st.floats(48, 400))
def test_chopper_against_a_sampled_wave(duty, current, volts):
    wave = np.where((np.arange(20_000) + 0.5) / 20_000 < duty, current, 0.0)
    c = controller.chopper(duty, pack_volts=volts, motor_current=current)
    assert c.input_mean == pytest.approx(wave.mean(), abs=1e-4 * current)
    assert c.input_rms == pytest.approx(np.sqrt(np.mean(wave**2)), abs=1e-2 * current)
    assert c.capacitor_rms == pytest.approx(np.std(wave), abs=1e-2 * current)
    assert c.input_rms**2 == pytest.approx(c.pack_current**2 + c.capacitor_rms**2, rel=1e-9)
    assert volts * c.pack_current == pytest.approx(c.motor_volts * current, rel=1e-12)


def test_largest_ripple_is_the_largest_over_the_span():
    for low, high in ((0.05, 0.3), (0.2, 0.9), (0.6, 1.0)):
        span = np.linspace(low, high, 2001)
        seen = controller.chopper(span, pack_volts=300.0, motor_current=600.0).capacitor_rms.max()
        assert controller.largest_ripple(600.0, lowest_duty=low, highest_duty=high) == pytest.approx(seen, rel=1e-6)


# --- the envelope -------------------------------------------------------------------------------------------------
SYSTEM = {
    **machine(), "brush_current_limit": 700.0, "speed_limit": 576.0, "in_series": 2, "in_parallel": 1,
    "controllers": 1, "motor_current_limit": 600.0, "controller_pack_current_limit": 500.0, "duty_limit": 1.0,
    "controller_efficiency": 0.97, "open_volts": 316.0, "pack_resistance": 0.06, "pack_current_limit": 400.0,
    "cut_off_volts": 240.0,
}  # fmt: skip
LAYOUTS = {"series pair": (2, 1, 1), "parallel pair": (1, 2, 1), "one each": (1, 1, 2)}
W = np.linspace(0.0, 576.0, 97)


@pytest.mark.parametrize("name", LAYOUTS)
@pytest.mark.parametrize(
    ("volts", "ohms", "most"), [(316.0, 0.06, 1.0), (250.0, 0.12, 0.85), (316.0, 0.5, 1.0), (120.0, 0.04, 0.7)]
)
def test_envelope_keeps_every_limit_and_touches_one(name, volts, ohms, most):
    n_s, n_p, n_c = LAYOUTS[name]
    case = {**SYSTEM, "in_series": n_s, "in_parallel": n_p, "controllers": n_c, "open_volts": volts,
            "pack_resistance": ohms, "cut_off_volts": 0.7 * volts, "duty_limit": most}  # fmt: skip
    e = envelope.envelope(W, **case)
    close = 1 + 1e-6
    supply = min(400.0, 500.0 * n_c)
    assert (n_p * e.current <= 600.0 * close).all()
    assert (e.current <= 700.0 * close).all()
    assert (e.pack_current <= supply * close).all()
    assert (e.pack_volts >= 0.7 * volts / close).all()
    assert (n_s * e.volts <= most * e.pack_volts * close).all()
    touched = {
        "motor amps": n_p * e.current / 600.0, "brushes": e.current / 700.0, "pack amps": e.pack_current / supply,
        "cut-off": 0.7 * volts / e.pack_volts, "volts": n_s * e.volts / e.pack_volts / most,
        "largest power": 2 * e.pack_current * ohms / volts,
    }  # fmt: skip
    for i, word in enumerate(e.governing):
        assert touched[word][i] == pytest.approx(1.0, rel=1e-5), (W[i], word)
    # Power out of the pack, less the controllers' loss, is what the machines take in.
    assert n_s * n_p * n_c * e.volts * e.current == pytest.approx(0.97 * e.pack_volts * e.pack_current, rel=1e-9)


def test_envelope_against_a_search_by_brute_force():
    for speed in (50.0, 300.0, 520.0):
        best = 0.0
        for current in np.linspace(1, 700, 7000):
            volts = 0.0016 * current / (1 + current / 300) * speed + 0.012 * current + 2.0
            power = 2 * volts * current / 0.97
            inside = 316.0**2 - 4 * 0.06 * power
            if inside < 0:
                continue
            drawn = (316.0 - np.sqrt(inside)) / 0.12
            if current <= 600 and drawn <= 400 and 316 - 0.06 * drawn >= 240 and 2 * volts <= 316 - 0.06 * drawn:
                best = current
        assert envelope.envelope(speed, **SYSTEM).current == pytest.approx(best, abs=0.11)


def test_one_controller_for_both_or_one_each_changes_the_answer():
    at_rest = {
        name: envelope.envelope(0.0, **{**SYSTEM, "in_series": s, "in_parallel": p, "controllers": c}).torque
        for name, (s, p, c) in LAYOUTS.items()
    }
    one = series.torque(600.0, speed=0.0, magnetisation=K, **DRAG)
    half = series.torque(300.0, speed=0.0, magnetisation=K, **DRAG)
    assert at_rest["series pair"] == pytest.approx(2 * one)
    assert at_rest["one each"] == pytest.approx(2 * one)
    assert at_rest["parallel pair"] == pytest.approx(2 * half)
    assert at_rest["series pair"] / at_rest["parallel pair"] > 2.5


def test_layouts():
    assert vars(controller.layout(2, wiring="series", arrangement="one for all")) == {
        "in_series": 2, "in_parallel": 1, "controllers": 1}  # fmt: skip
    assert vars(controller.layout(2, wiring="parallel", arrangement="one for all")) == {
        "in_series": 1, "in_parallel": 2, "controllers": 1}  # fmt: skip
    assert vars(controller.layout(2, wiring="series", arrangement="one each")) == {
        "in_series": 1, "in_parallel": 1, "controllers": 2}  # fmt: skip


def test_envelope_over_the_speed_limit_gives_nothing_and_says_why():
    e = envelope.envelope(np.array([576.0, 576.1]), **SYSTEM)
    assert list(e.governing) == ["volts", "speed limit"]
    assert e.torque[0] > 0 == e.torque[1]


def test_envelope_falls_with_speed_and_rises_with_charge():
    assert (np.diff(envelope.envelope(W, **SYSTEM).torque) <= 1e-9).all()
    free = {**SYSTEM, "pack_current_limit": 2000.0, "controller_pack_current_limit": 2000.0}
    powers = [np.max(envelope.envelope(W, **{**free, "open_volts": u}).power) for u in (260.0, 300.0, 340.0)]
    assert powers[0] < powers[1] < powers[2]


def test_ac_envelope_has_its_three_regions_and_the_pack_caps_its_power():
    machine = {"machine_count": 1, "peak_torque": 200.0, "base_speed": 300.0, "pull_out_speed": 600.0,
               "ac_efficiency": 0.9, "speed_limit": 1200.0, "pack_resistance": 0.1, "cut_off_volts": 240.0}  # fmt: skip
    free = ac.ac_envelope(np.array([100.0, 400.0, 1000.0]), open_volts=320.0, pack_current_limit=300.0, **machine)
    assert list(free.governing) == ["constant torque", "constant power", "pull-out"]
    assert free.torque == pytest.approx([200.0, 150.0, 200.0 * 300 * 600 / 1000**2])
    held = ac.ac_envelope(400.0, open_volts=320.0, pack_current_limit=100.0, **machine)
    assert held.governing == "pack amps"
    assert held.power == pytest.approx(100 * (320 - 10) * 0.9)
    low = ac.ac_envelope(400.0, open_volts=250.0, pack_current_limit=300.0, **machine)
    assert low.governing == "cut-off"
    assert low.pack_volts == pytest.approx(240.0)


def test_ac_braking_takes_the_smaller():
    machine = {"machine_count": 2, "regeneration_torque": 80.0, "peak_torque": 200.0, "base_speed": 300.0,
               "pull_out_speed": 600.0}  # fmt: skip
    assert ac.ac_braking(100.0, **machine) == pytest.approx(160.0)
    assert ac.ac_braking(1200.0, **machine) == pytest.approx(2 * 200 * 300 * 600 / 1200**2)


@QUICK
@given(speed=st.floats(1, 400))
def test_regeneration_balances(speed):
    r = shunt.regeneration(speed, volts=90.0, back_emf_constant=1.0, armature_resistance=0.1, brush_drop=2.0)
    assert r.torque * speed == pytest.approx(r.returned_power + 0.1 * r.current**2 + 2.0 * r.current, rel=1e-9)
    assert (r.current > 0) == (speed > 92.0)


# --- heat ---------------------------------------------------------------------------------------------------------
BODY = {
    "winding_resistance": 0.012, "other_loss": 300.0, "air_temperature": 308.15, "winding_heat_capacity": 5800.0,
    "frame_heat_capacity": 27e3, "winding_conductance": 30.0, "frame_conductance": 25.0,
}  # fmt: skip
STEADY = {key: value for key, value in BODY.items() if "capacity" not in key}
COLD = {"start_winding": 308.15, "start_frame": 308.15}


def integrate(current, seconds, start=(308.15, 308.15), limit=None, other=300.0):
    def slope(_, x):
        copper = 0.012 * current**2 * (1 + 0.00393 * (x[0] - 293.15))
        across = 30.0 * (x[0] - x[1])
        return [(copper - across) / 5800.0, (other + across - 25.0 * (x[1] - 308.15)) / 27e3]

    def reached(_, x):
        return x[0] - limit

    reached.terminal = True
    events = None if limit is None else reached
    return solve_ivp(slope, (0, seconds), start, rtol=1e-9, atol=1e-9, events=events)


@pytest.mark.parametrize("current", [0.0, 150.0, 300.0, 700.0])
@pytest.mark.parametrize("start", [(308.15, 308.15), (400.0, 320.0), (310.0, 360.0)])
def test_temperatures_against_integration(current, start):
    found = heat.temperatures_after(900.0, current=current, start_winding=start[0], start_frame=start[1], **BODY)
    slow = integrate(current, 900.0, start)
    assert [found.winding, found.frame] == pytest.approx(list(slow.y[:, -1]), rel=1e-6)


@pytest.mark.parametrize(("current", "start"), [(350.0, (308.15, 308.15)), (600.0, (308.15, 308.15)),
                                                (400.0, (380.0, 330.0)), (305.0, (424.0, 330.0))])  # fmt: skip
def test_time_to_limit_against_integration(current, start):
    found = heat.time_to_limit(current, winding_limit=428.15, start_winding=start[0], start_frame=start[1], **BODY)
    slow = integrate(current, 1e5, start, limit=428.15)
    assert found == pytest.approx(slow.t[-1], rel=1e-5)


def test_time_to_limit_sees_a_winding_that_overshoots_and_falls_again():
    # Frame far too hot, winding cool: the winding passes the limit on the frame's heat and would settle below it.
    found = heat.time_to_limit(50.0, winding_limit=350.0, start_winding=310.0, start_frame=420.0, **BODY)
    slow = integrate(50.0, 1e5, (310.0, 420.0), limit=350.0)
    assert found == pytest.approx(slow.t[-1], rel=1e-5)
    assert heat.temperatures_after(1e6, current=50.0, start_winding=310.0, start_frame=420.0, **BODY).winding < 350.0


def test_time_to_limit_at_its_ends():
    forever = heat.continuous_current(428.15, **STEADY)
    assert heat.time_to_limit(0.999 * forever, winding_limit=428.15, **COLD, **BODY) == np.inf
    assert heat.time_to_limit(1.001 * forever, winding_limit=428.15, **COLD, **BODY) < np.inf
    hot = {"start_winding": 428.15, "start_frame": 400.0}
    assert heat.time_to_limit(100.0, winding_limit=428.15, **hot, **BODY) == 0.0
    settled = heat.temperatures_after(1e7, current=forever, **COLD, **BODY)
    assert settled.winding == pytest.approx(428.15, rel=1e-9)


def test_shortest_time_is_what_an_uncooled_winding_needs():
    # A body whose resistance does not change and that cools through next to nothing: integrate I^2 R.
    shortest = heat.shortest_time(500.0, winding_rise=60.0, winding_resistance=0.012, winding_heat_capacity=5800.0)
    assert shortest * 500.0**2 * 0.012 == pytest.approx(60.0 * 5800.0)
    cooled = heat.time_to_limit(500.0, winding_limit=368.15, **COLD, **BODY)
    assert shortest / 1.35 < cooled  # 1.35: copper is warmer than 20 C and its resistance higher by up to a third
    assert heat.shortest_time(0.0, winding_rise=1.0, winding_resistance=0.1, winding_heat_capacity=1.0) == np.inf


def test_time_to_limit_falls_with_current():
    times = heat.time_to_limit(np.linspace(320, 2000, 60), winding_limit=428.15, **COLD, **BODY)
    assert np.isfinite(times).all()
    assert (np.diff(times) < 0).all()


@pytest.mark.parametrize("seconds", [60.0, 300.0, 3600.0])
def test_short_time_current_just_reaches_the_limit(seconds):
    current = heat.short_time_current(seconds, winding_limit=428.15, **BODY)
    slow = integrate(current, seconds)
    assert slow.y[0, -1] == pytest.approx(428.15, abs=1e-3)


def test_short_time_current_tends_to_the_continuous_one():
    forever = heat.continuous_current(428.15, **STEADY)
    assert heat.short_time_current(2e6, winding_limit=428.15, **BODY) == pytest.approx(forever, rel=1e-6)


def test_cyclic_peak_against_many_integrated_cycles():
    peak = heat.cyclic_peak(400.0, duty_fraction=0.3, cycle_time=600.0, **BODY)
    x = (308.15, 308.15)
    for _ in range(25):
        loaded = integrate(400.0, 180.0, x).y[:, -1]
        x = integrate(0.0, 420.0, loaded, other=0.0).y[:, -1]
    assert [peak.winding, peak.frame] == pytest.approx(list(loaded), abs=0.02)


def test_cyclic_peak_without_rest_is_the_steady_state():
    peak = heat.cyclic_peak(250.0, duty_fraction=1.0, cycle_time=600.0, **BODY)
    steady = heat.temperatures_after(1e7, current=250.0, **COLD, **BODY)
    assert [peak.winding, peak.frame] == pytest.approx([steady.winding, steady.frame], rel=1e-9)


def test_rms_of_a_finely_sampled_sine_and_of_steps():
    t = np.linspace(0, 1, 4001)
    assert duty.rms_of_log(t, current=np.abs(100 * np.sin(2 * np.pi * t))) == pytest.approx(100 / np.sqrt(2), rel=1e-5)
    corners, fine = np.array([0.0, 1.0, 1.5, 4.0]), np.linspace(0.0, 4.0, 200_001)
    amps = np.array([0.0, 300.0, 50.0, 200.0])
    sampled = np.sqrt(np.mean(np.interp(fine, corners, amps) ** 2))
    assert duty.rms_of_log(corners, current=amps) == pytest.approx(sampled, rel=1e-4)
    uneven = np.sort(np.random.default_rng(1).uniform(0, 1, 50))
    assert duty.rms_of_log(uneven, current=np.full(50, 7.0)) == pytest.approx(7.0, rel=1e-12)


def test_two_lumps_come_back_from_their_own_ratings():
    case = {key: BODY[key] for key in ("winding_resistance", "other_loss", "air_temperature")}
    forever = heat.continuous_current(428.15, winding_conductance=30.0, frame_conductance=25.0, **case)
    hour, five = (heat.short_time_current(t, winding_limit=428.15, **BODY) for t in (3600.0, 300.0))
    found = ratings.two_lumps(continuous_current=forever, hour_current=hour, five_minute_current=five,
                              winding_limit=428.15, winding_mass=5800.0 / 385.0, **case)  # fmt: skip
    assert found.frame_heat_capacity == pytest.approx(27e3, rel=1e-4)
    assert found.winding_conductance == pytest.approx(30.0, rel=1e-4)
    assert found.frame_conductance == pytest.approx(25.0, rel=1e-4)


# --- commutator, rotation, brushes --------------------------------------------------------------------------------
@QUICK
@given(current=st.floats(1, 2000))
def test_stall_limits_are_each_others_inverse_and_keep_i2t(current):
    limit = {"stall_current": 300.0, "stall_time": 10.0}
    seconds = commutator.stall_time_allowed(current, **limit)
    assert commutator.stall_current_allowed(seconds, **limit) == pytest.approx(current, rel=1e-9)
    assert current**2 * seconds == pytest.approx(300.0**2 * 10.0, rel=1e-9)


def test_bar_volts_sum_to_the_volts_between_brushes():
    one = commutator.bar_volts(150.0, commutator_bars=57, poles=4)
    assert one * 57 / 4 == pytest.approx(150.0)
    assert commutator.volts_for_bar_limit(one, commutator_bars=57, poles=4) == pytest.approx(150.0)


def spin(direction):
    """Angular velocity along +x for a turn as seen by somebody who looks along +x: clockwise is positive."""
    return np.array([1.0, 0, 0]) if direction == "clockwise" else np.array([-1.0, 0, 0])


@pytest.mark.parametrize("pump", ["clockwise", "counter-clockwise"])
@pytest.mark.parametrize("faces", ["gearbox", "front"])
@pytest.mark.parametrize("standard", ["clockwise", "counter-clockwise"])
def test_rotation_against_vectors(pump, faces, standard):
    # The line lies along x, front at -x, gearbox at +x; the pump is seen by somebody at the front who looks to +x.
    omega = spin(pump)
    looks = (
        np.array([-1.0, 0, 0]) if faces == "gearbox" else np.array([1.0, 0, 0])
    )  # at the drive end, into the machine
    seen = "clockwise" if omega @ looks > 0 else "counter-clockwise"
    r = rotation.rotation(pump, drive_end_faces=faces, standard_rotation=standard)
    assert r.seen_from_drive_end == seen
    assert r.seen_from_commutator_end != seen
    assert r.armature_against_field == (seen != standard)
    # Brushes are advanced against rotation, so the shift is opposite to what the commutator end sees, and the same
    # word as the drive end sees.
    assert r.brush_shift_seen_from_commutator_end == seen


def test_two_machines_face_to_face_turn_oppositely_as_each_sees_itself():
    both = rotation.opposed(pump_turns="clockwise", first_drive_end_faces="gearbox", second_drive_end_faces="front",
                            standard_rotation="clockwise", first_advanced_for="clockwise",
                            second_advanced_for="clockwise")  # fmt: skip
    assert both.first.seen_from_drive_end != both.second.seen_from_drive_end
    assert both.first.armature_against_field != both.second.armature_against_field
    assert [both.first.advance_suits, both.second.advance_suits] == [False, True]
    alike = rotation.opposed(pump_turns="clockwise", first_drive_end_faces="gearbox",
                             second_drive_end_faces="gearbox", standard_rotation="clockwise")  # fmt: skip
    assert alike.first.connection == alike.second.connection


def test_brush_card():
    c = brushes.maintenance_card(200.0, speed=300.0, brush_area=8e-4, brushes_per_polarity=4, brush_pressure=30e3,
                                 brush_friction=0.2, commutator_radius=0.07, brush_length=0.020,
                                 brush_length_least=0.016, brush_wear=0.008e-3 / 3600)  # fmt: skip
    assert c.hours_left == pytest.approx(500.0)  # 4 mm at 8 micrometres an hour
    assert c.check_every == pytest.approx(100.0)
    assert c.friction_power == pytest.approx(8 * 24.0 * 0.2 * 300.0 * 0.07)
    assert brushes.hours_left(0.015, brush_length_least=0.016, brush_wear=1e-9) == 0.0


# --- two on one shaft ---------------------------------------------------------------------------------------------
@CURVES
@QUICK
@given(total=st.floats(20, 1500), speed=st.floats(5, 500), mismatch=st.floats(-0.15, 0.15))
def test_parallel_share_obeys_kirchhoff(k, total, speed, mismatch):
    if total > k.largest_current:
        return
    s = pair.parallel_share(total, speed=speed, flux_mismatch=mismatch, magnetisation=k, **FEED)
    assert s.first_current + s.second_current == pytest.approx(total, rel=1e-9)
    assert s.first_volts == pytest.approx(s.second_volts, rel=1e-6)
    if mismatch > 1e-6:
        assert s.first_current > s.second_current  # the weaker takes more
        assert s.heat_ratio > 1


def test_series_share_evens_the_heat_and_parallel_does_not():
    even = pair.series_share(400.0, speed=300.0, flux_mismatch=0.05, magnetisation=K, **FEED)
    assert even.heat_ratio == pytest.approx(1.0)
    assert even.second_volts - even.first_volts == pytest.approx(0.05 * K.at(400.0) * 300.0)
    uneven = pair.parallel_share(800.0, speed=300.0, flux_mismatch=0.05, magnetisation=K, **FEED)
    assert uneven.heat_ratio > 1.2


# --- runaway ------------------------------------------------------------------------------------------------------
def test_climb_is_exact_for_steady_and_for_linearly_falling_torque():
    w = np.linspace(100.0, 500.0, 9)
    steady = climb(w, torque=np.full(9, 20.0), rotor_inertia=0.1)
    assert steady[-1] == pytest.approx(
        time_to_speed_limit(20.0, rotor_inertia=0.1, start_speed=100.0, speed_limit=500.0)
    )
    falling = climb(w, torque=60.0 - 0.1 * w, rotor_inertia=0.1)
    # J dw/dt = a - b w: t = J/b ln((a - b w0) / (a - b w1))
    assert falling[-1] == pytest.approx(0.1 / 0.1 * np.log(50.0 / 10.0), rel=1e-9)


def test_runaway_against_integration():
    case = {"volts": 150.0, "rotor_inertia": 0.12, **machine()}
    r = unloaded.runaway(400.0, start_speed=150.0, speed_limit=576.0, **case)

    def slope(_, w):
        i = min(400.0, series.current_at(float(w[0]), volts=150.0, magnetisation=K, **FEED))
        return [series.torque(i, speed=float(w[0]), magnetisation=K, **DRAG) / 0.12]

    def limit(_, w):
        return w[0] - 576.0

    limit.terminal = True
    slow = solve_ivp(slope, (0, 5), [150.0], events=limit, rtol=1e-8, max_step=0.01)
    assert r.time_to_limit == pytest.approx(slow.t[-1], rel=1e-3)
    assert r.current[0] == 400.0 > r.current[-1]
    assert r.levels_off_at > 576.0


def test_runaway_that_levels_off_below_the_limit_never_reaches_it():
    r = unloaded.runaway(400.0, start_speed=10.0, volts=12.0, speed_limit=576.0, rotor_inertia=0.12, **machine())
    assert r.time_to_limit == np.inf
    assert r.levels_off_at < 576.0


def test_no_load_speed_balances_torque():
    speed = unloaded.no_load_speed(150.0, **machine())
    current = series.current_at(speed, volts=150.0, magnetisation=K, **FEED)
    assert series.torque(current, speed=speed, magnetisation=K, **DRAG) == pytest.approx(0.0, abs=1e-6)


# --- a machine from its test sheet --------------------------------------------------------------------------------
TRUE = {"mutual_inductance": 0.0016, "saturation_current": 300.0, "winding_resistance": 0.013, "brush_drop": 2.0,
        "friction_torque": 1.8}  # fmt: skip
LOADS = np.array([60.0, 80, 100, 130, 160, 200, 250, 300, 350, 400, 450, 500, 550, 600])


TWO_VOLTAGES = np.tile([24.0, 72.0], 7)


def sheet(seed, *, volts_noise, torque_noise, volts=TWO_VOLTAGES):
    """A bench table made by formulas written out here, with scatter."""
    random = np.random.default_rng(seed)
    k = TRUE["mutual_inductance"] * LOADS / (1 + LOADS / TRUE["saturation_current"])
    speed = (volts - TRUE["winding_resistance"] * LOADS - TRUE["brush_drop"]) / k
    torque = k * LOADS - TRUE["friction_torque"] + random.normal(0, torque_noise, LOADS.shape)
    volts = volts + random.normal(0, volts_noise, LOADS.shape)
    return BenchTable("bench", "simulated", LOADS, torque, speed, volts, np.arange(len(LOADS)) + 4.0)


def test_intervals_cover_the_truth_as_often_as_they_say():
    inside = {name: 0 for name in FITTED}
    called_off = 0
    for seed in range(200):
        fit = fit_machine(sheet(seed, volts_noise=0.1, torque_noise=0.5))
        for name, value in TRUE.items():
            inside[name] += fit.constants[name].low <= value <= fit.constants[name].high
        called_off += fit.is_off
    assert all(0.90 <= count / 200 <= 0.99 for count in inside.values()), inside
    assert called_off <= 8  # about 1 in 100 by chance


def test_fit_without_scatter_gives_the_truth():
    fit = fit_machine(sheet(0, volts_noise=0.0, torque_noise=0.0))
    for name, value in TRUE.items():
        assert fit.constants[name].value == pytest.approx(value, rel=1e-6)


def test_resistance_and_brush_drop_that_cannot_be_told_apart():
    one_voltage = sheet(3, volts_noise=0.3, torque_noise=0.8, volts=np.full(14, 72.0))
    fit = fit_machine(one_voltage)
    assert fit.constants["brush_drop"].value == 2.0
    assert "cannot tell it from the resistance" in fit.report
    low, high = fit.constants["winding_resistance"].low, fit.constants["winding_resistance"].high
    assert low < 0.013 < high


def test_a_row_that_is_off_is_named():
    for row in (6, 9, 12):
        bad = sheet(7, volts_noise=0.1, torque_noise=0.5)
        bad.torque[row] *= 1.10
        fit = fit_machine(bad)
        assert fit.is_off
        assert fit.worst_line == row + 4


# --- on paper -----------------------------------------------------------------------------------------------------
def test_derivations_equal_the_library():
    from evlib.motors import on_paper

    straight = Froelich(0.0016, 1e9, 1e9)
    law = on_paper.speed_torque_law()
    i = 200.0
    torque = series.torque(i, speed=0.0, magnetisation=straight, friction_torque=0.0, windage_coefficient=0.0,
                           iron_conductance=0.0)  # fmt: skip
    speed = series.speed_at(i, volts=100.0, magnetisation=straight, winding_resistance=0.012, brush_drop=0.0)
    assert law.function(100.0, torque, 0.012, 0.0016) == pytest.approx(speed, rel=1e-6)
    most = on_paper.largest_power_of_a_source()
    assert most.function(144.0, 0.1) == pytest.approx(pack.largest_power(144.0, pack_resistance=0.1).power)
    assert "U_0/2" in str(most.steps[2][1]).replace(" ", "")
    exponent = on_paper.torque_exponent()
    for current in (1.0, 300.0, 5000.0):
        step = 1e-5
        up, down = (current * (1 + s) * K.at(current * (1 + s)) for s in (step, -step))
        assert exponent.function(current, 300.0) == pytest.approx(np.log(up / down) / (2 * step), rel=1e-4)
    assert exponent.function(1e-9, 300.0) == pytest.approx(2.0)
    ripple = on_paper.largest_ripple_duty()
    assert ripple.function(600.0) == pytest.approx(controller.largest_ripple(600.0, lowest_duty=0.1, highest_duty=0.9))


# --- light running, interpoles ------------------------------------------------------------------------------------
@pytest.mark.parametrize("volts", [6.0, 12.0, 24.0])
@pytest.mark.parametrize("seconds", [0.2, 1.0, 2.0])
def test_speed_from_rest_against_integration(volts, seconds):
    from scipy.optimize import brentq

    def slope(_, w):
        w = w[0]

        # V - 2 = k w + R I with k = L I / (1 + I/I_s), by a root search of its own
        def gap(i):
            return 0.0016 * i / (1 + i / 300.0) * w + 0.0146 * i - (volts - 2.0)

        amps = brentq(gap, 0.0, 5000.0, xtol=1e-10)
        k = 0.0016 * amps / (1 + amps / 300.0)
        return [(k * amps - 1.5 - 1e-5 * w**2 - 0.04 * k**2 * w) / 0.12]

    slow = solve_ivp(slope, (0, seconds), [0.0], rtol=1e-8, atol=1e-8).y[0, -1]
    feed = {"winding_resistance": 0.0146, "brush_drop": 2.0}
    found = unloaded.speed_from_rest(seconds, volts=volts, rotor_inertia=0.12, magnetisation=K, **feed, **DRAG)
    assert found == pytest.approx(slow, rel=2e-3)


def test_a_machine_that_cannot_start_stays_at_rest():
    feed = {"winding_resistance": 0.0146, "brush_drop": 2.0}
    assert unloaded.speed_from_rest(1.0, volts=2.0, rotor_inertia=0.12, magnetisation=K, **feed, **DRAG) == 0.0


def test_interpoles_go_with_the_armature():
    """A motor's interpole has the polarity of the main pole behind it (from memory, any text on DC machines).

    So walk over the four connections: the turn follows from field times armature, the wanted interpole from the pole
    behind, and the interpole that is there from whether it was exchanged.
    """
    for field in (1, -1):
        for armature in (1, -1):
            turn = field * armature  # +1: the way that the diagram turns it
            poles = {-1: -field, 1: field}  # main poles on both sides of the interpole; behind is the side -turn
            wanted = poles[-turn]
            as_made = -1  # on the diagram: field +1, turn +1, so the pole behind is -1
            assert wanted == as_made * armature, "exchanged with the armature, whatever the field does"
    for wanted_turn in ("clockwise", "counter-clockwise"):
        said = rotation.rotation("clockwise", drive_end_faces="front", standard_rotation=wanted_turn)
        assert ("interpoles" in said.connection) == said.armature_against_field == (wanted_turn != "clockwise")

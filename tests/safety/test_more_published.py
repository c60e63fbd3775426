"""Arc, body current, hands, brake servo and shutdown loops: against values from outside, and by a second route."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from evlib.safety import arc, body, hands, loop, servo, shutdown

CAL = 4.184e4  # J/m2 in one cal/cm2


# --- arc ----------------------------------------------------------------------------------------------------------
def test_incident_energy_on_paper():
    # NFPA 70E, informative annex D (from memory): 0.01 V I_arc t / D^2, I_arc half of the bolted fault. On paper:
    # 0.01 x 350 x 5000 x 0.1 / 45^2 = 0.864 cal/cm2; three times that in a box.
    given = dict(prospective_current=10_000.0, arc_time=0.1, distance=0.45)
    assert arc.incident_energy(350.0, **given) / CAL == pytest.approx(0.8642, rel=1e-3)
    assert arc.incident_energy(350.0, box_factor=3.0, **given) / CAL == pytest.approx(2.593, rel=1e-3)


def test_the_published_factor_is_the_most_power_spread_over_a_sphere():
    # Independent route: V I_bf / 4 for the time, over 4 pi D^2. The standard rounds 0.0095 up to 0.01.
    power = arc.most_power(350.0, prospective_current=10_000.0)
    sphere = power * 0.1 / (4 * np.pi * 0.45**2)
    published = arc.incident_energy(350.0, prospective_current=10_000.0, arc_time=0.1, distance=0.45)
    assert sphere == pytest.approx(published, rel=0.06) and sphere < published


def test_no_arc_voltage_draws_more_than_half_the_source_s():
    # Brute force over the arc's voltage: P = U (V - U) / R.
    found = minimize_scalar(lambda u: -u * (350.0 - u) / 0.035, bounds=(0, 350), method="bounded")
    assert -found.fun == pytest.approx(arc.most_power(350.0, prospective_current=350.0 / 0.035), rel=1e-6)
    assert found.x == pytest.approx(175.0, rel=1e-4)


def test_the_method_ends_at_its_limit():
    with pytest.raises(ValueError, match="1000 V"):
        arc.incident_energy(np.array([400.0, 1001.0]), prospective_current=1e4, arc_time=0.1, distance=0.45)


def test_an_arc_burns_until_the_integrated_current_is_gone():
    def rate(_t, i):
        return [(350.0 - 0.07 * i[0] - 500.0) / 70e-6]

    def gone(_t, i):
        return i[0]

    gone.terminal = True
    solved = solve_ivp(rate, (0, 1), [400.0], events=gone, rtol=1e-9, atol=1e-9, max_step=1e-5)
    kw = dict(circuit_resistance=0.07, loop_inductance=70e-6)
    assert arc.time_to_break(400.0, source_voltage=350.0, arc_voltage=500.0, **kw) == pytest.approx(
        solved.t_events[0][0], rel=1e-5
    )
    assert np.isinf(arc.time_to_break(400.0, source_voltage=350.0, arc_voltage=300.0, **kw))


def test_a_magnet_pulls_the_arc_in_when_the_current_is_turned_round():
    kw = dict(flux_density=0.05, arc_length=0.01)
    assert arc.blow_out_force(400.0, **kw) == pytest.approx(0.2)  # B I l by hand
    assert arc.blow_out_force(-400.0, **kw) == -arc.blow_out_force(400.0, **kw)
    assert "stop until known" in arc.polarity("yes", current_comes_back=True)
    assert arc.polarity("yes", current_comes_back=False).startswith("polarised: join it as marked")
    assert arc.polarity("no", current_comes_back=False).startswith("not polarised")


# --- body ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("milliamps", "kind", "words"),
    [(1.9, "DC", "seldom"), (2.0, "DC", "felt"), (29.0, "DC", "felt"), (31.0, "DC", "cramp"), (150.0, "DC", "stop"),
     (0.4, "AC", "seldom"), (0.5, "AC", "felt"), (5.0, "AC", "let go"), (40.0, "AC", "stop")],
)  # fmt: skip
def test_bands_of_body_current(milliamps, kind, words):
    # IEC 60479-1, two seconds and more (from memory): DC 2 and about 150 mA, AC 0.5, 5 and 40 mA.
    assert words in body.band(milliamps / 1e3, kind=kind)


def test_the_rule_s_leak_keeps_a_body_under_10_mA():
    # UN R100: 100 ohm/V is 10 mA whatever the voltage; the body's own resistance makes it a little less.
    for volts in (60.0, 144.0, 400.0):
        through = body.current_through_body(volts, leak=100.0 * volts, body_resistance=1000.0)
        assert 0.008 < through < 0.010 or volts < 100
        assert through < 0.010
    with pytest.raises(ValueError, match="current"):
        body.band(-0.001, kind="DC")


# --- weights, wheels, hands ---------------------------------------------------------------------------------------
@pytest.mark.parametrize(("millimetres", "rpm"), [(115, 13_300), (125, 12_250), (230, 6_650)])
def test_speeds_printed_on_cutting_wheels(millimetres, rpm):
    # Printed on wheels for 80 m/s (EN 12413, from memory): rounded to fifty.
    got = hands.largest_speed(80.0, wheel_diameter=millimetres / 1e3) * 30 / np.pi
    assert got == pytest.approx(rpm, rel=0.004)
    assert hands.rim_speed(got * np.pi / 30, wheel_diameter=millimetres / 1e3) == pytest.approx(80.0)


@pytest.mark.parametrize(("degrees", "factor"), [(60, 1.155), (45, 1.414), (30, 2.000)])
def test_sling_angle_factors(degrees, factor):
    # Load angle factors of slings, ASME B30.9 (from memory): leg tension over its share of the weight.
    share = 160.0 * 9.80665 / 2
    got = hands.leg_tension(160.0, leg_angle=np.radians(degrees), leg_count=2.0)
    assert got / share == pytest.approx(factor, rel=5e-4)


def test_supports_balance():
    far = hands.far_support(235.0, overhang=0.4, span=1.1)
    near = 235.0 * 9.80665 - far
    assert near * 0.4 == pytest.approx(far * (1.1 - 0.4))  # moments about the centre of mass
    assert hands.stand_moment(80.0, overhang=0.2) == pytest.approx(80 * 9.80665 * 0.2)


@pytest.mark.parametrize(("cell", "cells"), [(3.65, 16), (4.2, 14), (3.0, 20), (60.0, 1)])
def test_a_pack_in_pieces_below_60_volts(cell, cells):
    got = hands.cells_below_limit(cell, limit=60.0)
    assert got == cells and got * cell <= 60.0 < (got + 1) * cell


# --- brake servo --------------------------------------------------------------------------------------------------
def test_vacuum_stop_by_stop():
    # Boyle at one temperature, one stop after the other: p (Vr + Vs) = p Vr + pa Vs.
    pressure = 101_325.0 - 70e3
    for stops in range(1, 6):
        pressure = (pressure * 5.0 + 101_325.0 * 1.2) / 6.2
        left = servo.vacuum_after(float(stops), full_vacuum=70e3, reservoir_volume=5e-3, stroke_volume=1.2e-3)
        assert left == pytest.approx(101_325.0 - pressure)


def test_pump_down_by_integration():
    t = servo.pump_time(70e3, start_vacuum=30e3, reservoir_volume=5e-3, pump_flow=1e-3)
    solved = solve_ivp(lambda _t, p: [-1e-3 * p[0] / 5e-3], (0, t), [101_325.0 - 30e3], rtol=1e-9, atol=1e-6)
    assert solved.y[0, -1] == pytest.approx(101_325.0 - 70e3, rel=1e-5)
    assert servo.pump_time(30e3, start_vacuum=40e3, reservoir_volume=5e-3, pump_flow=1e-3) == 0
    with pytest.raises(ValueError, match="outside air"):
        servo.pump_time(85e3, start_vacuum=30e3, reservoir_volume=5e-3, pump_flow=1e-3, air_pressure=80e3)


@settings(max_examples=30, deadline=None)
@given(st.floats(1e-3, 2e-2), st.floats(2e-4, 4e-3), st.floats(4e4, 9e4))
def test_more_reservoir_never_leaves_less(volume, stroke, full):
    kw = dict(full_vacuum=full, stroke_volume=stroke)
    small, large = (servo.vacuum_after(3.0, reservoir_volume=v, **kw) for v in (volume, 2 * volume))
    assert 0 < small < large < full


# --- the shutdown loop of a build ---------------------------------------------------------------------------------
PLACES = ("before the coils", "after the coils", "not in the loop")
GUARDS = tuple(field for field, _, _ in loop.GUARDS)


def has_way_out(key, emergency, poles, fault):
    """Whether key or emergency switch still disconnects: from the electrician's rules, without any graph.

    A pole opens when its coil is dead and its contact not welded. A coil is dead when a switch between it and its rail
    is open and no touch feeds it from behind, or when the 12 V fuse has blown.
    """
    kind, what = fault
    before = [n for n, p in (("key", key), ("emergency switch", emergency)) if p == "before the coils"]
    order = before + [name for field, name, _ in loop.GUARDS]
    after = [n for n, p in (("key", key), ("emergency switch", emergency)) if p == "after the coils"]
    for asked in ("key", "emergency switch"):
        opens = {name: not (name == asked and not (kind == "stuck" and what == name)) for name in order + after}
        fed, earthed, blown = all(opens[n] for n in order), all(opens[n] for n in after), False
        if kind == "12 V feed":  # a touch behind the first `what` switches
            fed = all(opens[n] for n in order[what:])
        if kind == "ground feed":
            blown = all(opens[n] for n in order[:what])
            fed = False
        if kind == "12 V return":  # `what` switches lie between this point and ground
            blown = all(opens[n] for n in after[:what])
            earthed = False if what == len(after) else earthed  # the coils then have 12 V on both sides
        if kind == "ground return":
            earthed = all(opens[n] for n in after[what:])
        live = fed and earthed and not blown
        plus = live or what in ("positive contactor", "precharge relay")
        minus = live or poles == "positive pole" or what == "negative contactor"
        if not (plus and minus):
            return True
    return False


@pytest.mark.parametrize(("key", "emergency"), list(itertools.product(PLACES, PLACES)))
@pytest.mark.parametrize("poles", ["both poles", "positive pole"])
def test_ways_out_by_brute_force(key, emergency, poles):
    made = loop.shutdown_loop(key=key, emergency=emergency, contactors=poles, guards=GUARDS)
    names = [line.name for line in made.lines if line.kind == "switch"]
    feed = [n for n, p in (("key", key), ("emergency switch", emergency)) if p == "before the coils"]
    count, back = len(feed) + len(GUARDS), [key, emergency].count("after the coils")
    cases = {f"{n} stays closed": ("stuck", n) for n in names}
    cases |= {f"{n} welded": ("weld", n) for n in ("positive contactor", "precharge relay", "negative contactor")
              if n != "negative contactor" or poles == "both poles"}  # fmt: skip
    cases |= {f"{v} touches loop {n}": (f"{v} feed", n) for v in ("12 V", "ground") for n in range(1, count + 1)}
    cases |= {f"{v} touches return {n}": (f"{v} return", n) for v in ("12 V", "ground") for n in range(1, back + 1)}
    assert set(cases) == {fault.words for fault in made.faults()}
    expected = {words for words, fault in cases.items() if not has_way_out(key, emergency, poles, fault)}
    ways, none_left = loop.fewest_ways_out(made)
    assert set(none_left) == expected
    assert (ways == 0) == bool(expected)


def test_the_shipped_drawing_is_the_sound_build_s_loop():
    from pathlib import Path

    drawn = shutdown.read_circuit(Path(__file__).parents[2] / "data" / "safety" / "shutdown.toml")
    stated = loop.shutdown_loop(key="before the coils", emergency="after the coils", contactors="both poles",
                                guards=GUARDS)  # fmt: skip

    def tried(circuit):  # points are named apart in the two, so only what breaks is compared
        return {(f.demand, f.fault.closed, f.poles_joined) for f in shutdown.explore_faults(circuit) if f.fault.closed}

    assert tried(drawn) == tried(stated)
    assert len(drawn.faults()) == len(stated.faults())
    with pytest.raises(ValueError, match="guards"):
        loop.shutdown_loop(key="before the coils", emergency="after the coils", contactors="both poles", guards=("x",))

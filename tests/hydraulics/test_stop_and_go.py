"""The simulation against closed forms, against an independent fine-step run, and its balances."""

import time

import numpy as np
import pytest

from evlib.hydraulics.stop_and_go import stop_and_go

# Laminar leakage only and no spin-up: then every stretch between events is an exponential.
LINEAR = {
    "leak_test_pressure": 5e5, "seal_leak": 2e-5, "valve_body_leak": 0.0, "open_feed": 0.0, "free_flow": 1.3e-4,
    "shut_off_pressure": 1.1e6, "displacement": 16e-6, "internal_slip": 3e-5, "clearance_growth": 1.0,
    "back_flow": "open", "thinning": 1.0, "regulator_set": 5e6, "regulator_override": 4e4, "compliance": 4e-11,
    "start_pressure": 0.0, "on_speed": 60.0, "off_speed": 72.0, "switch_delay": 0.0, "spin_up_time": 1e-6,
    "sees_direction": "no",
}  # fmt: skip
SLOPE = (2e-5 + 3e-5) / 5e5  # of all leakage
PUMP_SLOPE = 1.3e-4 / 1.1e6
REST = 1.3e-4 / (PUMP_SLOPE + SLOPE)  # two straight lines cross
TAU = 4e-11 / (PUMP_SLOPE + SLOPE)


def test_filling_is_the_exponential():
    run = stop_and_go(np.array([0.0, 2.0]), speeds=np.array([0.0, 0.0]), **LINEAR)
    for t in (0.05, 0.2, 0.5, 1.9):
        assert run.at([t])[0] == pytest.approx(REST * (1 - np.exp(-t / TAU)), rel=1e-3)


def test_regulator_opens_when_the_closed_form_says():
    level = 0.6 * REST
    run = stop_and_go(np.array([0.0, 2.0]), speeds=np.array([0.0, 0.0]), **{**LINEAR, "regulator_set": level})
    opened = [event.time for event in run.events if event.name == "regulator opens"]
    assert opened == pytest.approx([-TAU * np.log(1 - 0.6)], rel=1e-4)


def test_pump_dies_and_pressure_decays():
    # The speed rises through the switch-off speed at a known instant; then only leakage, and the internal pump.
    times, speeds = np.array([0.0, 3.0, 6.0]), np.array([0.0, 0.0, 144.0])
    run = stop_and_go(times, speeds=speeds, **{**LINEAR, "switch_delay": 0.25})
    off = [event.time for event in run.events if event.name == "relay off"]
    assert off == pytest.approx([3.0 + 72.0 / 144.0 * 3.0 + 0.25], abs=1e-6)
    # A ramp into a first-order lag: p = (q/g)(t - tau + tau exp(-t/tau)) + p0 exp(-t/tau), from the shutting of the
    # check valve on. Compare half a second after it shut.
    shut = [event.time for event in run.events if event.name == "check shuts"][-1]
    decay, rate = 4e-11 / SLOPE, 16e-6 / (2 * np.pi) * 48.0
    level = run.at([shut])[0]
    later = 0.5
    base = 16e-6 / (2 * np.pi) * 48.0 * (shut - 3.0)
    expected = (level - base / SLOPE) * np.exp(-later / decay) + base / SLOPE
    expected += rate / SLOPE * (later - decay + decay * np.exp(-later / decay))
    assert run.at([shut + later])[0] == pytest.approx(expected, rel=1e-4)


def fine_steps(times, speeds, given, fills=(), step=2e-5):
    """An independent run: explicit steps with plain ifs, small enough that they do no harm. Pressure every 10 ms."""
    c = given
    test = c["leak_test_pressure"]
    slip = c["internal_slip"] * c["clearance_growth"] ** 3 * c["thinning"] / test
    seal = c["seal_leak"] * c["thinning"] / test
    root = (c["valve_body_leak"] + c["open_feed"]) / test**0.5
    regulator = c["displacement"] * 1000 / 60 / c["regulator_override"]
    p, u, relay, wanted, since, out = c["start_pressure"], 1.0, True, True, -1.0, []
    fills = list(fills)
    steps = round(times[-1] / step)
    n_all = np.interp(np.arange(steps + 1) * step, times, speeds)
    felt_all = n_all if c["sees_direction"] == "yes" else np.abs(n_all)
    for i in range(steps + 1):
        t, n, felt = i * step, n_all[i], felt_all[i]
        if i % round(0.01 / step) == 0:
            out.append((t, max(p, 0.0)))
        if fills and t >= fills[0][0]:
            p -= fills.pop(0)[1] / c["compliance"]
        if wanted and felt > c["off_speed"]:
            wanted, since = False, t
        elif not wanted and felt < c["on_speed"]:
            wanted, since = True, t
        if relay != wanted and t >= since + c["switch_delay"]:
            relay = wanted
        u = min(max(u + (1 if relay else -1) * step / c["spin_up_time"], 0.0), 1.0)
        gauge = max(p, 0.0)
        electric = max(c["free_flow"] * (u - gauge / c["shut_off_pressure"]), 0.0)
        internal = c["displacement"] * n / 6.283185307179586 - slip * gauge
        if c["back_flow"] == "outlet valve":
            internal = max(internal, 0.0)
        net = electric + internal - seal * gauge - root * gauge**0.5 - regulator * max(gauge - c["regulator_set"], 0.0)
        if p <= 0:
            net = max(electric + internal, 0.0)
        p += net / c["compliance"] * step
    return np.array(out)


@pytest.mark.parametrize("back", ["open", "outlet valve"])
def test_against_fine_steps(drive, back):
    times = np.array([0.0, 1.0, 2.0, 3.5, 4.2, 5.0, 6.0, 7.0])
    speeds = np.array([0.0, 0.0, 150.0, 150.0, 0.0, 0.0, -90.0, 0.0])
    given = {**drive, "back_flow": back}
    fills = [(0.405, 1.5e-5), (2.505, 1.0e-5)]  # between two samples
    expected = fine_steps(times, speeds, given, fills)
    run = stop_and_go(times, speeds=speeds, fill_times=(0.405, 2.505), fill_volumes=(1.5e-5, 1.0e-5), **given)
    got = run.at(np.minimum(expected[:, 0], times[-1]))
    # Within 0.5 % of the highest pressure everywhere, and of itself away from switching instants.
    got = np.maximum(got, 0.0)
    apart = np.abs(got - expected[:, 1])
    assert apart.max() < 0.005 * expected[:, 1].max()
    settled = expected[:, 1] > 1e5
    assert np.quantile(apart[settled] / expected[settled, 1], 0.98) < 0.005
    assert run.volume_error < 1e-9


def traffic(seed=3, length=600.0):
    """Ten minutes of town, invented: stop, pull away, roll, brake."""
    rng = np.random.default_rng(seed)
    times, speeds = [0.0], [0.0]
    while times[-1] < length:
        top = rng.uniform(60, 300)
        legs = ((rng.uniform(2, 15), 0), (rng.uniform(3, 8), top), (rng.uniform(2, 15), top), (rng.uniform(2, 6), 0))
        for lasts, speed in legs:
            times.append(times[-1] + lasts)
            speeds.append(speed)
    return np.array(times), np.array(speeds)


def test_ten_minutes_of_town_in_under_a_third_of_a_second(drive):
    times, speeds = traffic()
    took = []
    for _ in range(3):
        start = time.process_time()
        run = stop_and_go(times, speeds=speeds, **drive)
        took.append(time.process_time() - start)
    assert run.volume_error < 1e-9
    stops = int(np.sum((speeds[1:] == 0) & (speeds[:-1] > drive["off_speed"])))
    assert run.switchings() == 2 * stops  # off once and on once for each stop from above; no chatter
    assert min(took) < 0.3


def test_volumes_balance_at_every_instant(drive):
    times, speeds = traffic(length=60.0)
    run = stop_and_go(times, speeds=speeds, fill_times=(5.0, 20.0), fill_volumes=(2e-5, 1e-5), **drive)
    electric, internal, leaked, regulated, filled = run.volumes.T
    stored = drive["compliance"] * run.run.state[:, 0]
    assert electric + internal == pytest.approx(leaked + regulated + filled + stored, abs=1e-9 * electric[-1])


def test_hysteresis_too_small_for_a_jittering_signal_chatters(drive):
    # A speed that wavers by 8 rad/s around the switching speed: switchings with 2 rad/s of hysteresis, none with 12.
    times = np.arange(0, 20.01, 0.5)
    speeds = 66.0 + 4.0 * np.where(np.arange(times.size) % 2 == 0, 1, -1)
    narrow = stop_and_go(times, speeds=speeds, **{**drive, "on_speed": 65.0, "off_speed": 67.0})
    wide = stop_and_go(times, speeds=speeds, **{**drive, "on_speed": 60.0, "off_speed": 72.0})
    assert narrow.switchings() >= 38
    assert wide.switchings() == 0


def test_a_switch_blind_to_direction_loses_pressure_backing_up(drive):
    # Motors reversed electrically: the internal pump turns backwards. Blind: both pumps stop, pressure goes. Seeing:
    # the electric pump stays on.
    times, speeds = np.array([0.0, 2.0, 3.0, 8.0]), np.array([0.0, 0.0, -150.0, -150.0])
    blind = stop_and_go(times, speeds=speeds, **drive)
    seeing = stop_and_go(times, speeds=speeds, **{**drive, "sees_direction": "yes", "back_flow": "outlet valve"})
    assert blind.pressure[-1] == 0
    assert seeing.switchings() == 0 and seeing.pressure[-1] > 5e5


def test_open_internal_pump_turned_backwards_draws_the_circuit_empty(drive):
    # Even with the electric pump on, 150 rad/s backwards draws 16e-6/2pi x 150 = 3.8e-4 m3/s, more than the pump gives.
    times, speeds = np.array([0.0, 2.0, 3.0, 8.0]), np.array([0.0, 0.0, -150.0, -150.0])
    run = stop_and_go(times, speeds=speeds, **{**drive, "sees_direction": "yes"})
    assert run.pressure[-1] == 0


def test_lost_sensor_keeps_the_pump_on(drive):
    times, speeds = np.array([0.0, 2.0, 5.0, 8.0]), np.array([0.0, 0.0, 300.0, 0.0])
    assert stop_and_go(times, speeds=speeds, sensor="lost", **drive).switchings() == 0


def test_a_short_dropout_starts_the_pump_and_stops_it_again(drive):
    times, speeds = np.array([0.0, 2.0, 5.0, 8.0]), np.array([0.0, 0.0, 300.0, 300.0])
    run = stop_and_go(times, speeds=speeds, dropouts=[(6.0, 6.4)], **drive)
    named = [
        (event.name, event.time) for event in run.events if event.name in ("slow", "relay on", "fast", "relay off")
    ]
    assert [name for name, _ in named] == ["fast", "relay off", "slow", "relay on", "fast", "relay off"]
    assert [time for _, time in named[2:]] == pytest.approx([6.0, 6.03, 6.4, 6.43], abs=1e-6)
    quiet = stop_and_go(times, speeds=speeds, dropouts=[(6.0, 6.02)], **drive)  # shorter than the relay's delay
    assert quiet.switchings() == 1


def test_check_valve_stuck_open_leaks_back_once_the_pump_is_off(drive):
    times, speeds = np.array([0.0, 2.0, 4.0, 9.0]), np.array([0.0, 0.0, 80.0, 80.0])
    sound = stop_and_go(times, speeds=speeds, **drive)
    stuck = stop_and_go(times, speeds=speeds, check_valve="stuck open", **drive)
    assert stuck.pressure[-1] < sound.pressure[-1]
    assert sound.at([1.9]) == pytest.approx(stuck.at([1.9]), rel=1e-6)


def test_late_pump_dips_and_early_pump_does_not(drive):
    # Braking to a stop: with a switch at 15 rad/s and a slow relay pressure falls before the pump is up.
    times, speeds = np.array([0.0, 3.0, 3.8, 6.0]), np.array([200.0, 200.0, 0.0, 0.0])
    start = {**drive, "start_pressure": 7.5e5}
    late = stop_and_go(times, speeds=speeds, **{**start, "on_speed": 15.0, "off_speed": 25.0, "switch_delay": 0.3})
    early = stop_and_go(times, speeds=speeds, **start)
    rest = early.pressure[-1]
    assert late.pressure[late.time > 3].min() < 0.5 * rest
    assert early.pressure[early.time > 3].min() > 0.95 * rest


def test_bad_sequences_are_refused(drive):
    with pytest.raises(ValueError, match="rising"):
        stop_and_go(np.array([0.0, 0.0]), speeds=np.array([0.0, 0.0]), **drive)
    with pytest.raises(ValueError, match="off_speed"):
        stop_and_go(np.array([0.0, 1.0]), speeds=np.array([0.0, 0.0]), **{**drive, "off_speed": 50.0})

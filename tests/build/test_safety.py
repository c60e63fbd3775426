"""Safety on a build: columns, the shutdown loop, the card and the inspector's page."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from evlib.build.brakes import brake_force
from evlib.build.commissioning import card, read_back
from evlib.build.file import find_build, read_build
from evlib.build.inspector import inspector_page
from evlib.build.protection import freed_line, runaway_ways
from evlib.build.review import review
from evlib.build.sheet import sheet
from evlib.build.view import View


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


def view(build):
    return View(build.parts)


# --- what a column does ------------------------------------------------------------------------------------------
def test_a_fuse_curve_too_short_for_one_design_of_a_column_fails_that_design_only(sound):
    # 100 s is the curve's longest time; a design that asks for more is not covered by it.
    times = np.array([60.0, 150.0, 30.0])
    found = review(sound.changed({"protection.pack_cable.peak_time": times}), figures=False, topics=("safety",))
    made = found.check("fuse at peak current")
    assert made.verdict.tolist() == ["pass", "fail", "pass"]
    for row in (0, 2):
        alone = review(sound.changed({"protection.pack_cable.peak_time": float(times[row])}), topics=("safety",))
        assert alone.check("fuse at peak current").capacity == pytest.approx(made.capacity[row])
    alone = review(sound.changed({"protection.pack_cable.peak_time": 150.0}), topics=("safety",))
    assert alone.check("fuse at peak current").verdict == "not known"
    assert "100" in alone.check("fuse at peak current").reason


def test_a_contactor_quicker_than_the_arc_fails_its_own_design_only(sound):
    times = np.array([0.030, 0.005, 0.050])  # the fuse arcs for 6 ms
    name = "contactor and fuse, opening band"
    made = review(sound.changed({"protection.contactor.contactor_release_time": times}), topics=("safety",)).check(name)
    assert made.verdict.tolist()[1] == "fail" and np.isnan(made.demand[1])
    for row in (0, 2):
        path = {"protection.contactor.contactor_release_time": float(times[row])}
        assert review(sound.changed(path), topics=("safety",)).check(name).demand == pytest.approx(made.demand[row])


def test_a_column_of_builds_has_one_loop_and_one_answer(sound):
    column = sound.changed({"vehicle.mass": np.linspace(1500.0, 1800.0, 1000)})
    assert review(column, topics=("safety",)).check("single-fault freedom").capacity == 1.0
    worse = column.changed({"protection.shutdown.contactor_poles": "positive pole"})
    found = review(worse, topics=("safety",)).check("single-fault freedom")
    assert found.verdict == "fail"
    assert "positive contactor welded" in found.working.text()


# --- runaway -----------------------------------------------------------------------------------------------------
def test_three_ways_to_lose_the_load(sound):
    ways = runaway_ways(view(sound))
    assert list(ways) == ["neutral", "broken coupler", "stuck controller, in neutral"]
    rise = (5500 - 4600) * 2 * np.pi / 60
    for way in ways.values():  # Newton's law, by hand
        assert way.delay == pytest.approx(way.inertia * rise / way.torque - 0.030)
    assert ways["broken coupler"].torque == pytest.approx(ways["neutral"].torque / 2)
    assert ways["broken coupler"].inertia == 0.12
    # Failed full on, by the voltage law of two in series: V = 2 (k w + R) I + 4 V, with k = L Is I / (Is + I) / I.
    volts, speed, ohms = 96 * 3.40, 4600 * np.pi / 30, 2 * 0.012 * (1 + 0.00393 * 55)
    cells = 96 * 0.5e-3 + 0.012
    amps = np.linspace(1, 5000, 500_000)
    flux = 1.60e-3 * 300 * amps / (300 + amps)
    current = np.interp(0, 2 * flux * speed + (ohms + cells) * amps + 4 - volts, amps)
    k = 1.60e-3 * 300 / (300 + current) * current  # volts for each rad/s
    drag = 1.5 + 1e-5 * speed**2 + 0.04 * (k * speed) ** 2 / speed  # friction, windage, iron
    assert ways["stuck controller, in neutral"].torque == pytest.approx(2 * (k * current - drag), rel=0.005)
    assert freed_line(view(sound)).delay == min(way.delay for way in ways.values())


def test_an_inverter_cannot_fail_full_on():
    hatch = read_build(find_build("college_hatch")).changed(
        {"protection.overspeed_trip.fitted": True, "protection.overspeed_trip.trip_speed": "9000 rpm"}
    )
    assert list(runaway_ways(view(hatch))) == ["neutral"]


# --- the card ----------------------------------------------------------------------------------------------------
def test_the_card_is_in_its_order(sound):
    lines, left_out = card(view(sound))
    order = ("First machine", "Second machine", "Insulation, vehicle side", "Insulation, pack side, smaller",
             "Insulation, pack side, both", "Loop, all closed",
             "Loop, key", "Loop, inertia switch", "Loop, interlock line", "Loop, insulation monitor",
             "Loop, over-speed relay", "Loop, pressure relay", "Loop, emergency switch", "Weld check, all open",
             "Weld check, negative", "Weld check, precharge", "Precharge, time",
             "Precharge, voltage", "Switched off", "Pressure, selector in park or neutral", "Pressure, selector in low",
             "Pressure, selector in direct", "Pressure, selector in reverse", "Handover", "Over-speed trip",
             "Over-speed, from", "Park", "Handbrake")  # fmt: skip
    assert left_out == []
    assert len(lines) == len(order)
    for line, begins in zip(lines, order, strict=True):
        assert line.task.startswith(begins)
        assert (
            line.why
            and line.stop_if
            and line.place in ("vehicle", "vehicle, dead", "vehicle, 12 V only", "bench, energised")
        )


def test_at_the_card_s_lever_force_the_handbrake_just_holds(sound):
    line = card(view(sound))[0][-1]
    at = sound.changed({"parking.handbrake.hand_force": line.expected})
    pull = 1650 * 9.80665 * np.sin(np.arctan(0.10))
    assert min(brake_force(view(at))) == pytest.approx(pull, rel=1e-6)


def test_a_trip_that_is_too_slow_does_not_widen_its_own_band(sound):
    slow = view(sound.changed({"protection.overspeed_trip.detection_delay": 0.3}))
    number = next(n for n, line in enumerate(card(slow)[0], 1) if line.task.startswith("Over-speed, from"))
    assert read_back(slow, {number: "330 ms"})[0][3].startswith("outside")


def test_readings_are_judged_one_by_one_and_against_each_other(sound):
    b = view(sound)
    readings = {1: "0 rpm", 4: "180 kohm", 5: "240 kohm", 17: "0.31 s", 18: "400 V", 19: "90 s", 20: "675 kPa",
                28: "34 lbf"}  # fmt: skip
    said = {number: words for number, _, _, words in read_back(b, readings)}
    assert said[4] == said[17] == said[20] == said[28] == "in its band"
    assert said[5].startswith("impossible") and "line 4" in said[5]
    assert said[18].startswith("impossible") and "333 V" in said[18]
    assert said[19].startswith("outside") and said[1].startswith("outside")
    assert read_back(b, {5: "110 kohm"})[0][3] == "in its band"
    with pytest.raises(ValueError, match="lines 1 to 28"):
        read_back(b, {29: "1 s"})
    with pytest.raises(ValueError, match="ohm"):
        read_back(b, {4: "5 V"})


def test_each_part_of_the_loop_stands_on_the_card_and_only_what_is_wired(sound):
    bare = sound.changed({"protection.shutdown.pressure_relay": "not in the loop"})
    tasks = [line.task for line in card(view(bare))[0]]
    assert len(tasks) == 27 and not any("pressure relay" in task for task in tasks)
    one = sound.changed({"protection.shutdown.contactor_poles": "positive pole"})
    lines, left_out = card(view(one))
    assert not any("Weld" in line.task for line in lines) and any("weld check" in why for why in left_out)


def test_a_live_coil_or_a_full_controller_is_no_slip_of_the_meter(sound):
    # 12 V where nothing is expected is more than ten times the band, and is just what the line is there to find.
    said = [words for *_, words in read_back(view(sound), {7: "12.4 V", 15: "326 V", 16: "3 V", 8: "120 V"})]
    assert [words.split(":")[0].split(" ")[0] for words in said] == ["outside", "impossible", "outside", "in"]


# --- the inspector's page ----------------------------------------------------------------------------------------
def test_the_inspector_s_page_by_hand(sound):
    page = {item.name: item for item in inspector_page(view(sound))}
    axles = page["Axle loads against plates"].found
    assert [f.value for f in axles] == pytest.approx([980 - 0.48 * 1650, 1180 - 0.52 * 1650])
    turns, least, most = (f.value for f in page["Speedometer"].found)
    assert turns * 30 / np.pi == pytest.approx(50 / 3.6 / 0.30 * 3.70 * 60 / (2 * np.pi))
    assert (least * 3.6, most * 3.6) == pytest.approx((50, 59))  # UN R39 (from memory): 10 % and 4 km/h
    assert page["Brake-servo vacuum"].found[0].value == pytest.approx(70e3 * (5 / 6.2) ** 3)
    assert all(item.open.endswith("?") for item in page.values())
    assert "yes" in page["Labels"].found[1].value
    low = inspector_page(view(sound.changed({"pack.cells_in_series": 16})))
    assert "no" in next(item for item in low if item.name == "Labels").found[1].value


def test_what_the_inspector_s_page_cannot_compute_it_says(sound):
    page = inspector_page(view(sound.changed({"protection.plates.front_axle_plate": None})))
    assert "front_axle_plate" in page[0].found[0].value
    bare = inspector_page(view(sound.changed({"protection.brake_servo.fitted": False})))
    assert bare[1].found[0].words == "does not apply"


def test_both_cards_stand_on_the_sheet(sound):
    text = sheet(sound, today="2026-11-25")
    assert all(line.stop_if.replace("'", "&#39;") in text for line in card(view(sound))[0])
    assert all(item.open.replace("'", "&#39;") in text for item in inspector_page(view(sound)))
    assert "front axle load: 792 kg (1746 lb) against 980 kg (2161 lb), pass" in text


# --- currents too small for a fuse, and a resistor on a short ----------------------------------------------------
COLD = 96 * 0.50e-3 * np.exp(2500 * (1 / 263.15 - 1 / 298.15)) * (1 + (0.05 / 0.2) ** 2) + 0.012  # ohm, cold and low
RUN = 2 * 2.6 * 1.02 * 1.7241e-8 * (1 + 0.00393 * 25) / 67.43e-6  # ohm, pack cable out and back at 45 °C
RUN += 10 * 0.10e-3  # its joints
LOW = 96 * 3.205  # V, nearly empty


def test_half_of_the_least_short_by_hand(sound):
    # A load draws the most from a source at half of its short-circuit current: any text on circuits.
    ohms = COLD + RUN
    amps = np.linspace(0, LOW / ohms, 200_001)
    most = amps[np.argmax(amps * (LOW - amps * ohms))]
    made = review(sound, topics=("safety",)).check("fuse on a cold arc")
    assert made.capacity == pytest.approx(most, rel=1e-4)
    # 2 s less 6 ms of arcing, read off the curve between 690 A at 10 s and 905 A at 1 s, log over log
    share = np.log(10 / 1.994) / np.log(10)
    assert made.demand == pytest.approx(690 * (905 / 690) ** share, rel=1e-6)
    partial = review(sound.changed({"protection.fuse.fuse_minimum_breaking": 900.0}), topics=("safety",))
    assert partial.check("fuse on a cold arc").demand == 900.0


def test_stalled_full_on_by_the_voltage_law(sound):
    windings = 2 * 0.012 * (1 + 0.00393 * 55)  # copper at 75 °C, two in series
    made = review(sound, topics=("safety",)).check("fuse at stalled motors")
    assert made.capacity == pytest.approx((LOW - 4.0) / (COLD + RUN + windings), rel=1e-4)
    rise = review(sound, topics=("safety",)).check("motor cable, stalled full on").demand
    seconds = 0.1 * (1250 / made.capacity) ** (np.log(10) / np.log(1.5)) + 0.006  # the curve's last stretch
    copper = 3.45e6 * 95e-6  # J/K m; IEC 60364-5-54 volumetric heat
    made_heat = made.capacity**2 * 1.12 * 1.7241e-8 * (1 + 0.00393 * 105) / 95e-6
    lost = (8 + 10) * np.pi * 0.020 * 65  # W/m; about 8 by convection, 10 by radiation at 125 °C in air of 60 °C
    assert rise == pytest.approx((made_heat - lost) * seconds / copper, rel=0.02)


def test_two_machines_side_by_side_halve_the_windings(sound):
    side = sound.changed({"machine.wiring": "parallel"})
    made = review(side, topics=("safety",)).check("fuse at stalled motors")
    assert made.capacity == pytest.approx((LOW - 2.0) / (COLD + RUN + 0.012 * (1 + 0.00393 * 55) / 2), rel=1e-4)


def test_the_discharge_resistor_divides_the_precharge(sound):
    def rate(_t, y):  # Kirchhoff's current law at the capacitor, stepped through time: the second method
        return [((326.4 - y[0]) / 100 - y[0] / 8200) / 3e-3, (326.4 - y[0]) ** 2 / 100]

    solved = solve_ivp(rate, (0, 1.5), [0.0, 0.0], rtol=1e-10, atol=1e-10, dense_output=True)
    made = review(sound, topics=("safety",))
    assert solved.sol(made.check("precharge time").demand)[0] == pytest.approx(0.95 * 326.4, rel=1e-6)
    assert made.check("precharge energy").demand == pytest.approx(solved.y[1, -1], rel=1e-6)
    small = sound.changed({"protection.discharge.discharge_resistance": "1.5 kohm"})  # 1500/1600 is 93.75 %
    never = review(small, topics=("safety",)).check("precharge time")
    assert never.verdict == "fail" and "never" in never.working.text()
    lines, left_out = card(view(sound.changed({"protection.discharge.discharge_resistance": "150 ohm"})))
    assert any("63 %" in why for why in left_out) and not any("Precharge" in line.task for line in lines)


def test_a_resistor_on_a_short_takes_what_ohm_and_joule_say(sound):
    made = review(sound, topics=("safety",)).check("precharge into a short")
    assert made.demand == pytest.approx(326.4 * (326.4 / 100) * 0.3)  # volts x amps x seconds
    blind = review(sound.changed({"protection.precharge.precharge_give_up": "1.5 s"}), topics=("safety",))
    assert blind.check("precharge into a short").demand == pytest.approx(1598, rel=1e-3)
    assert review(sound.changed({"protection.precharge.precharge_give_up": None}), topics=("safety",)).check(
        "precharge into a short").verdict == "not known"  # fmt: skip

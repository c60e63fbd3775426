"""Balances, limits and independent methods: what must hold whatever the numbers are."""

import itertools

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evlib.gearing import driveline, inertia, planetary, set_picture, shift, teeth, traction
from evlib.ground import road

counts = st.integers(12, 60)
CENTRAL = {
    "simple": ("sun", "ring", "carrier"),
    "double": ("sun", "ring", "carrier"),
    "two-sun": ("input sun", "low sun", "ring", "carrier"),
}


def any_set(kind, a, b, c, d):
    if kind == "simple":
        return planetary.simple_set(a, ring=a + 2 * b)
    if kind == "double":
        return planetary.double_planet_set(a, inner_planet=b, outer_planet=c, ring=a + b + c + d)
    return planetary.two_sun_set(a, low_sun=b, short_planet=c, long_planet=d, ring=b + 2 * c)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(sorted(CENTRAL)), counts, counts, counts, counts, st.randoms(use_true_random=False))
def test_power_balances_in_any_set(kind, a, b, c, d, random):
    train = any_set(kind, a, b, c, d)
    driven, output, held = random.sample(CENTRAL[kind], 3)
    try:
        gear = planetary.solve(train, driven=driven, output=output, held=(held,), input_speed=100.0, input_torque=50.0)
    except ValueError:
        # a real dead point: output or input would not move at all (e.g. equal suns); nothing to balance
        assume(False)
    assert gear.torque[driven] * 100.0 == 50.0 * 100.0
    power = sum(gear.torque[name] * gear.speed[name] for name in train.members)
    size = max(5000.0, max(abs(gear.torque[name] * gear.speed[name]) for name in train.members))
    assert abs(power) <= 1e-12 * size
    outside = sum(gear.torque[name] for name in train.members)  # what the case feels: all torques add up to nothing
    assert abs(outside) <= 1e-11 * max(abs(t) for t in gear.torque.values())
    for mesh in train.meshes:  # each mesh rolls: pitch-line speeds agree, seen from the carrier
        first = train.teeth[mesh.first] * (gear.speed[mesh.first] - gear.speed[mesh.carrier])
        second = train.teeth[mesh.second] * (gear.speed[mesh.second] - gear.speed[mesh.carrier])
        assert first == pytest.approx(second if mesh.internal else -second, abs=1e-8 * (1 + abs(first)))


@settings(max_examples=60, deadline=None)
@given(counts, counts, counts, counts)
def test_two_sun_set_against_its_closed_forms(a, b, c, d):
    train = planetary.two_sun_set(a, low_sun=b, short_planet=c, long_planet=d, ring=b + 2 * c)
    ring = b + 2 * c
    assume(ring != a)
    low = planetary.solve(train, driven="input sun", output="carrier", held=("low sun",))
    back = planetary.solve(train, driven="input sun", output="carrier", held=("ring",))
    direct = planetary.solve(train, driven="input sun", output="carrier", locked=(("input sun", "low sun"),))
    assert low.ratio == pytest.approx(1 + b / a)  # Willis by hand
    assert back.ratio == pytest.approx(1 - ring / a)
    assert direct.ratio == pytest.approx(1.0)
    # by torque balance on the whole set: held = output - input
    assert low.hold["low sun"] == pytest.approx(b / a)
    assert back.hold["ring"] == pytest.approx(-ring / a)
    assert abs(direct.hold["input sun + low sun"]) == pytest.approx(b / (a + b))
    assert all(direct.pin_speed(name) == pytest.approx(0.0, abs=1e-9) for name in train.planets)
    if a == c:
        assert back.ratio == pytest.approx(-low.ratio)


def test_low_and_reverse_agree_only_where_the_short_planet_equals_the_input_sun():
    for short in (27, 28, 29):
        train = planetary.two_sun_set(28, low_sun=23, short_planet=short, long_planet=18, ring=23 + 2 * short)
        low, back = (planetary.solve(train, driven="input sun", output="carrier", held=(m,)).ratio
                     for m in ("low sun", "ring"))  # fmt: skip
        assert (abs(low + back) < 1e-9) == (short == 28)


def test_three_members_cannot_give_low_and_reverse_between_the_same_shafts():
    for (driven, output), ratios in teeth.three_member_ratios(20, large=34).items():
        assert len(ratios) == 1, (driven, output)


@settings(max_examples=60, deadline=None)
@given(st.integers(12, 50), st.integers(12, 40), st.integers(2, 6))
def test_assembly_of_a_simple_set(sun, planet, count):
    # the rule of any text: (sun + ring) / n is whole
    train = planetary.simple_set(sun, ring=sun + 2 * planet)
    assert planetary.assembles(train, planet_count=count) == ((2 * sun + 2 * planet) % count == 0)


@settings(max_examples=40, deadline=None)
@given(st.integers(18, 35), st.integers(17, 30), st.integers(18, 35), st.integers(2, 4))
def test_assembly_of_a_two_sun_set(a, b, c, count):
    train = planetary.two_sun_set(a, low_sun=b, short_planet=c, long_planet=18, ring=b + 2 * c)
    assert planetary.assembles(train, planet_count=count) == ((a + b) % count == 0 and (2 * b + 2 * c) % count == 0)


def test_assembly_by_laying_out_the_teeth():
    # independent: place the planets and check each mesh's tooth phase directly, planet by planet
    def fits(sun, planet, n):
        ring = sun + 2 * planet
        for k in range(n):
            at = 2 * np.pi * k / n
            # with the sun's tooth on the x axis, the planet at angle `at` needs rotation so that its space meets it;
            # the ring's phase there must then be the same for every k (all in teeth, modulo 1)
            planet_phase = sun * at / (2 * np.pi)
            ring_phase = (planet_phase + ring * at / (2 * np.pi)) % 1.0
            if min(ring_phase, 1 - ring_phase) > 1e-9:
                return False
        return True

    for sun in range(18, 30):
        for n in (2, 3, 4, 5):
            train = planetary.simple_set(sun, ring=sun + 40)
            assert planetary.assembles(train, planet_count=n) == fits(sun, 20, n)


def test_layout_pins_lie_at_their_centre_distances():
    # independent: coordinates, then distances
    layout = teeth.two_sun_layout(29, low_sun=22, short_planet=29, long_planet=18, planet_count=3)
    short = np.array([layout.radius, 0.0])
    long = layout.second_radius * np.array([np.cos(layout.angle), np.sin(layout.angle)])
    assert np.hypot(*(short - long)) == pytest.approx((29 + 18) / 2)
    assert np.hypot(*long) == pytest.approx((29 + 18) / 2)
    turn = np.radians(120)
    after = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ short
    gaps = [
        np.hypot(*(after - long)) - 23.5 - 2,
        np.hypot(*(after - short)) - 29 - 2,
        np.hypot(*long) - (22 + 18) / 2 - 2,
        80 / 2 - np.hypot(*long) - 9 - 2,
    ]
    assert layout.gap == pytest.approx(min(gaps))


def test_planets_that_would_touch_have_a_negative_gap():
    assert (
        teeth.simple_layout(18, planet=40, planet_count=5).gap
        < 0
        < teeth.simple_layout(18, planet=40, planet_count=2).gap
    )


def test_the_search_finds_what_trying_every_count_finds():
    found = {(c.input_sun, c.low_sun, c.short_planet, c.planet_count)
             for c in teeth.find_two_sun_sets(1.80, tolerance=0.03, reverse_ratio=1.80, largest_ring=84)}  # fmt: skip
    tried = set()
    for i, s, p in itertools.product(range(17, 43), repeat=3):
        ring = s + 2 * p
        near = abs((1 + s / i) / 1.80 - 1) <= 0.03 and abs((ring / i - 1) / 1.80 - 1) <= 0.03
        if not near or ring > 84:
            continue
        for n in (2, 3, 4, 5, 6):
            train = planetary.two_sun_set(i, low_sun=s, short_planet=p, long_planet=18, ring=ring)
            if planetary.assembles(train, planet_count=n) and any(
                teeth.two_sun_layout(i, low_sun=s, short_planet=p, long_planet=z, planet_count=n).gap >= 0.5
                for z in range(17, 43)
            ):
                tried.add((i, s, p, n))
    assert found == tried and len(tried) > 5


def test_the_picture_turns_as_the_members_do():
    still = set_picture.set_picture(29, low_sun=22, short_planet=29, long_planet=17, planet_count=3, gear="low")
    turned = set_picture.set_picture(
        29, low_sun=22, short_planet=29, long_planet=17, planet_count=3, gear="low", input_turn=1.2
    )
    for before, after in zip(still.circles, turned.circles, strict=True):
        assert after.angle - before.angle == pytest.approx(1.2 * still.solution.speed[before.name])
        if "planet" in before.name:  # planets are carried round by the carrier
            moved = np.angle(complex(after.x, after.y) / complex(before.x, before.y))
            assert moved == pytest.approx(1.2 * 29 / 51)  # the carrier turns 1 / (1 + 22/29) as fast
            assert np.hypot(after.x, after.y) == pytest.approx(np.hypot(before.x, before.y))
    touching = {c.name: c for c in still.circles if c.name.endswith("sun")}
    for planet in (c for c in still.circles if c.name == "short planet"):  # pitch circles touch: low sun and ring
        assert np.hypot(planet.x, planet.y) == pytest.approx(touching["low sun"].radius + planet.radius)
        assert np.hypot(planet.x, planet.y) + planet.radius == pytest.approx(still.size)


# --- grip and pull --------------------------------------------------------------------------------------------------

vehicle = st.fixed_dictionaries(
    dict(mass=st.floats(700, 3500), grip=st.floats(0.1, 1.0), rear_axle_share=st.floats(0.3, 0.7),
         wheelbase=st.floats(2.0, 3.5), cg_height=st.floats(0.3, 0.9))
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(vehicle, st.sampled_from(["rear", "front"]), st.floats(-0.2, 0.3))
def test_at_the_grip_limit_the_axle_load_times_grip_is_the_force(car, axle, grade):
    force = traction.grip_force(**dict(car), driven_axle=axle, grade=grade)
    acceleration = force / car["mass"] - road.GRAVITY * np.sin(np.arctan(grade))
    shape = {k: car[k] for k in ("mass", "rear_axle_share", "wheelbase", "cg_height")}
    loads = road.axle_loads(**shape, grade=grade, acceleration=float(acceleration))
    if loads.front > 1e-6 * loads.rear:
        assert force == pytest.approx(car["grip"] * getattr(loads, axle), rel=1e-9)
    else:  # the front axle lifts before the tyres slip
        assert force <= car["grip"] * loads.rear * (1 + 1e-9)
    assert loads.front + loads.rear == pytest.approx(car["mass"] * road.GRAVITY * np.cos(np.arctan(grade)))


def test_the_front_axle_lifts_before_the_tyres_slip():
    # very high and short: the limit is where the front load is zero, F = (1 - w_r) W L / h
    force = traction.grip_force(1000.0, grip=1.9, driven_axle="rear", rear_axle_share=0.6, wheelbase=1.0, cg_height=1.0)
    assert force == pytest.approx(0.4 * 9806.65)


@settings(max_examples=60, deadline=None)
@given(vehicle, st.floats(500, 9000), st.floats(0.0, 0.05), st.floats(0, 300))
def test_steepest_grade_balances_the_forces(car, pull, rolling, air):
    steep = traction.steepest_grade(pull, driven_axle="all", rolling_coefficient=rolling, air=air, **car)
    assume(steep.by_pull < 10 and abs(steep.grade) < 1)
    load = road.road_load(0.0, mass=car["mass"], rolling_coefficient=rolling, drag_coefficient=0.0, frontal_area=0.0,
                          grade=float(steep.grade)) + air  # fmt: skip
    grip = car["grip"] * car["mass"] * road.GRAVITY * np.cos(np.arctan(steep.grade))
    assert load == pytest.approx(min(pull, grip), rel=1e-7)


def test_force_at_the_tyre_is_less_than_the_tractive_effort_by_what_the_rotors_take():
    moving = traction.accelerating(8000.0, resistance=300.0, mass=1600.0, driven_mass=200.0, dragged_mass=20.0)
    assert moving.tyre_force == pytest.approx(300 + 1620 * moving.acceleration)  # Newton for what is downstream
    assert 8000 - moving.tyre_force == pytest.approx(200 * moving.acceleration)


def test_static_tractive_effort_would_report_false_wheelspin():
    # a case where the steady pull exceeds the grip and the tyre force while accelerating does not
    grip = traction.grip_force(1650.0, grip=0.8, driven_axle="rear", rear_axle_share=0.52, wheelbase=2.6, cg_height=0.6)
    moving = traction.accelerating(8600.0, resistance=210.0, mass=1650.0, driven_mass=145.0, dragged_mass=22.0)
    assert 8600 > grip > moving.tyre_force


def test_reflected_inertia_is_kinetic_energy():
    ratio, radius, j = 6.5, 0.31, 0.24
    v = 13.0
    assert inertia.reflected_mass(j, total_ratio=ratio, wheel_radius=radius) * v**2 / 2 == pytest.approx(
        j * (v * ratio / radius) ** 2 / 2
    )


def test_wheels_are_driven_or_dragged():
    given_ = dict(gear_ratio=1.8, final_drive_ratio=4.0, wheel_radius=0.25, propeller_inertia=0.02, wheel_inertia=4.0)
    rear, every = (inertia.rotating_mass(0.24, driven_axle=axle, **given_) for axle in ("rear", "all"))
    assert (rear.driven_wheels, rear.dragged) == pytest.approx((32.0, 32.0))  # 4 / 0.25^2 = 64 kg, half and half
    assert (every.driven_wheels, every.dragged) == pytest.approx((64.0, 0.0))
    whole = (0.24 * (1.8 * 4 / 0.25) ** 2 + 0.02 * (4 / 0.25) ** 2 + 64.0) * 10.0**2 / 2  # J, by each part's own speed
    spin = [0.24 * (10 / 0.25 * 7.2) ** 2 / 2, 0.02 * (10 / 0.25 * 4) ** 2 / 2, 4.0 * (10 / 0.25) ** 2 / 2]
    assert whole == pytest.approx(sum(spin))
    assert (every.driven + every.dragged) * 50.0 == pytest.approx(sum(spin))


def test_heat_of_an_overlap_is_an_upper_bound():
    # independent: current on for the first 40 ms of a slip under a clutch of 700 N m, stepped
    j, clutch, motor, w, after, heat, t, dt = 0.26, 700.0, 250.0, 331.0, 188.0, 0.0, 0.0, 1e-6
    while w > after:
        heat += clutch * (w - after) * dt
        w -= (clutch - (motor if t < 0.04 else 0.0)) / j * dt
        t += dt
    bound = j * (331.0 - 188.0) ** 2 / 2 + shift.overlap_energy(
        motor, speed_before=331.0, speed_after=188.0, overlap=0.04
    )
    assert j * (331.0 - 188.0) ** 2 / 2 < heat < bound
    assert bound < 1.35 * heat


def test_studs_hold_by_friction_at_their_circle():
    # by hand: 6 studs x 50 kN x 0.15 = 45 kN of friction at 60 mm
    held = driveline.stud_capacity(50_000.0, stud_count=6, stud_circle_radius=0.060, hub_friction=0.15)
    assert held == pytest.approx(2700.0)


def test_clamp_force_from_tightening():
    # F = T / (K d) with K = 0.2 (Shigley, 9th ed., table 8-15, plain studs): 100 N m on 12 mm gives 41.7 kN
    assert driveline.clamp_from_torque(100.0, stud_diameter=0.012) == pytest.approx(41_667, rel=1e-3)


def test_top_speed_finds_the_last_crossing_and_the_motors_limit():
    v = np.linspace(0, 50, 51)
    two = traction.top_speed(
        np.stack([v, v]), pull=np.stack([3000 - 50 * v, 3000 + 0 * v]), load=np.stack([v * 20] * 2)
    )
    assert two.speed == pytest.approx([3000 / 70, 50.0])
    assert list(two.at_limit) == [False, True]
    assert list(two.limited_by) == ["pull meets road load", "motor speed"]
    assert traction.top_speed(v, pull=0 * v, load=v + 100).speed == 0.0


# --- changing gear --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("motor_torque", [0.0, 200.0])
def test_upshift_energy_by_stepping_through_the_slip(motor_torque):
    # independent: integrate the slipping clutch in small steps
    got = shift.upshift(17.0, low_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3, input_inertia=0.26,
                        motor_torque=motor_torque, clutch_torque=500.0)  # fmt: skip
    w, end, heat, t, dt = got.before, got.after, 0.0, 0.0, 1e-6
    while w > end:
        heat += 500.0 * (w - end) * dt
        w -= (500.0 - motor_torque) / 0.26 * dt
        t += dt
    assert got.energy == pytest.approx(heat, rel=1e-4)
    assert got.slip_time == pytest.approx(t, abs=2e-6)


def test_upshift_through_the_planetary_set_itself_gives_the_same_heat():
    # independent: torque of the direct clutch between input sun and low sun, slip as their speed difference
    a, b = 29.0, 22.0
    share = b / (a + b)  # of the rotor torque, in the clutch
    j, carrier = 0.26, 200.0
    w, heat, dt = carrier * (1 + b / a), 0.0, 1e-6
    clutch = 500.0 * share
    while w > carrier:
        low_sun = carrier - (a / b) * (w - carrier)
        heat += clutch * (w - low_sun) * dt
        w -= clutch / share / j * dt
    got = shift.upshift(carrier * 0.3 / 3.7, low_ratio=1 + b / a, final_drive_ratio=3.7, wheel_radius=0.3,
                        input_inertia=j, clutch_torque=500.0)  # fmt: skip
    assert got.energy == pytest.approx(heat, rel=1e-4)


def test_a_clutch_weaker_than_the_motors_never_locks():
    got = shift.upshift(17.0, low_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3, input_inertia=0.26,
                        motor_torque=500.0, clutch_torque=500.0)  # fmt: skip
    assert got.energy == np.inf and got.slip_time == np.inf


def test_upshift_is_the_two_inertia_clutch_with_a_very_heavy_vehicle():
    got = shift.upshift(
        17.0, low_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3, input_inertia=0.26, clutch_torque=400.0
    )
    heavy = shift.slip_energy(0.26, inertia_driven=1e6, speed_driving=got.before, speed_driven=got.after)
    assert got.energy == pytest.approx(heavy, rel=1e-5)


def test_left_on_current_and_downshift():
    assert shift.left_on(300.0, input_inertia=0.30, time=0.15) == pytest.approx(150.0)  # T t / J by hand
    down = shift.downshift_speed(20.0, low_ratio=1.8, final_drive_ratio=4.0, wheel_radius=0.3)
    assert down == pytest.approx(480.0)
    assert shift.plate_rise(960.0, steel_mass=2.0) == pytest.approx(1.0)


# --- driveline ------------------------------------------------------------------------------------------------------


def test_joint_ratio_averages_to_one_turn_per_turn():
    beta = np.radians(12.0)
    angle = np.linspace(0, 2 * np.pi, 20001)
    ratio = driveline.joint_ratio(angle, joint_angle=beta)
    assert np.trapezoid(ratio, angle) == pytest.approx(2 * np.pi, rel=1e-9)
    ripple = driveline.joint_ripple(beta)
    assert (ratio.max(), ratio.min()) == pytest.approx((ripple.high, ripple.low))
    assert ripple.ripple == pytest.approx(np.tan(beta) * np.sin(beta))


def test_joint_ratio_against_the_angle_relation():
    # tan(driven) = tan(driving) / cos(beta) where the driving fork starts in the plane of both shafts... differentiated
    beta, a, h = np.radians(20.0), 0.7, 1e-6
    driven = lambda x: np.arctan2(np.sin(x), np.cos(x) * np.cos(beta))  # noqa: E731
    slope = (driven(a + h) - driven(a - h)) / (2 * h)
    assert driveline.joint_ratio(a, joint_angle=beta) == pytest.approx(slope, rel=1e-6)


def test_driveline_power_is_kept_without_losses():
    torque = driveline.driveline_torque(300.0, gear_ratio=1.8, final_drive_ratio=4.1)
    assert torque.final_drive / (1.8 * 4.1) == pytest.approx(300.0)
    assert torque.axle_shaft * 2 == pytest.approx(torque.final_drive)
    lossy = driveline.driveline_torque(300.0, gear_ratio=1.8, final_drive_ratio=4.1, gear_efficiency=0.9,
                                       final_drive_efficiency=0.8)  # fmt: skip
    assert lossy.final_drive == pytest.approx(0.72 * torque.final_drive)


# --- road -----------------------------------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 60), st.floats(-0.3, 0.3), st.floats(-15, 15))
def test_road_load_is_the_sum_of_its_parts(speed, grade, wind):
    car = dict(drag_coefficient=0.4, frontal_area=2.1)
    whole = road.road_load(speed, mass=1400.0, rolling_coefficient=0.012, rolling_speed_term=0.0003, grade=grade,
                           density=1.1, headwind=wind, **car)  # fmt: skip
    parts = (
        road.rolling_force(1400.0, rolling_coefficient=0.012, rolling_speed_term=0.0003, speed=speed, grade=grade)
        + road.air_force(speed, density=1.1, headwind=wind, **car)
        + road.grade_force(1400.0, grade=grade)
    )
    assert whole == pytest.approx(parts, rel=1e-12, abs=1e-9)


def test_a_following_wind_faster_than_the_vehicle_pushes():
    assert road.air_force(5.0, drag_coefficient=0.4, frontal_area=2.0, headwind=-10.0) < 0
    assert road.air_force(5.0, drag_coefficient=0.4, frontal_area=2.0, headwind=-5.0) == 0


def test_hot_high_air_is_thin():
    assert road.air_density(308.15, altitude=2000.0) < road.air_density(273.15, altitude=2000.0) < 1.1

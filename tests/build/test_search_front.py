"""The front against brute force, and the few builds that were kept against an integrator written out separately."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from scipy.integrate import solve_ivp

from evlib.build.cycle import named_cycle
from evlib.build.file import find_build, read_build
from evlib.build.gears import drive
from evlib.build.search.found import MARGIN
from evlib.build.search.front import choose, front, front_picture, not_beaten, simulate
from evlib.build.search.plan import plan
from evlib.build.search.run import run
from evlib.build.view import View

TIME, TOP = "time to the target speed", "top speed"
G = 9.80665
VAN, HATCH = (read_build(find_build(name)) for name in ("orchard_van", "college_hatch"))
AXES = {
    "final_drive.final_drive_ratio": ("3.2", "4.6"),
    "controller.motor_current_limit": ("450 A", "700 A"),
    "vehicle.mass": ("1400 kg", "1800 kg"),
}


@pytest.fixture(scope="module")
def found():
    return run(plan(VAN, AXES, builds=1500, keep=(TIME, TOP)))


# --- the front ------------------------------------------------------------------------------------------------------


def by_brute_force(costs):
    """Every row against every other one, as the definition has it."""
    good = []
    for mine in costs:
        beaten = any((other <= mine).all() and (other < mine).any() for other in costs)
        good.append(not beaten)
    return good


@settings(max_examples=200, deadline=None)
@given(arrays.arrays(float, st.tuples(st.integers(0, 24), st.integers(2, 4)), elements=st.integers(-4, 4).map(float)))
def test_what_nothing_beats_is_what_brute_force_says(costs):
    # small whole numbers, so that ties and equal rows are common
    assert not_beaten(costs).tolist() == by_brute_force(costs)


def test_a_line_of_trade_offs_is_all_front_and_a_dominated_cloud_is_not():
    # closed form: on x^2 + y^2 = 1 in the first quadrant no point beats another; all of larger radius are beaten
    angle = np.linspace(0, np.pi / 2, 200)
    circle = np.column_stack([np.cos(angle), np.sin(angle)])
    far = 1.5 * circle[5:-5:5]
    kept = not_beaten(np.vstack([2 - circle, far + 2]))
    assert kept[:200].all() and not kept[200:].any()


def test_a_hundred_thousand_builds_are_sorted_in_a_moment():
    import time

    costs = np.random.default_rng(3).random((100_000, 2))
    began = time.perf_counter()
    good = not_beaten(costs)
    assert time.perf_counter() - began < 2
    some = np.concatenate([np.flatnonzero(good), np.arange(0, 100_000, 997)])
    for row in some:  # each against all the others
        beaten = ((costs <= costs[row]).all(axis=1) & (costs < costs[row]).any(axis=1)).any()
        assert good[row] == (not beaten)


@pytest.mark.parametrize("aims", [
    {TIME: "least", MARGIN: "most"}, {TOP: "most", "vehicle.mass": "most"},
    {TIME: "least", TOP: "most", MARGIN: "most"},
])  # fmt: skip
def test_the_front_of_a_search_is_brute_forces(found, aims):
    one = front(found, aims)
    sign = np.array([1.0 if way == "least" else -1.0 for way in aims.values()])
    table = np.column_stack([found.column(name) for name in aims])[found.feasible]
    good = by_brute_force(table * sign)
    assert sorted(one.rows.tolist()) == sorted(found.rows[found.feasible][good].tolist())
    assert one.among == found.feasible.sum() and len(one.rows) > 1
    assert (np.diff(one.values[:, 0]) >= 0).all()
    for row, values in zip(one.rows, one.values, strict=True):
        assert values.tolist() == [found.column(name)[row] for name in aims]


def test_without_a_build_on_which_nothing_fails_all_are_sorted_and_it_is_said():
    worst = read_build(find_build("quarry_pickup"))
    tried = run(plan(worst, AXES, builds=200, keep=(TIME,)))
    assert not tried.feasible.any()
    picture = front_picture(tried, {TIME: "least", MARGIN: "most"})
    assert not picture.free and picture.among > 150 and picture.failed


def test_a_picture_of_a_front_shows_the_present_build_and_walks_along(found):
    picture = front_picture(found, {TIME: "least", MARGIN: "most"}, kept=[3, 9])
    assert picture.kept[:, 0] == pytest.approx(found.column(TIME)[[3, 9]])
    assert picture.kept[:, 1] == pytest.approx(100 * found.column(MARGIN)[[3, 9]])
    first, last = choose(found, picture, 0.0), choose(found, picture, 1.0)
    assert (first.row, last.row) == (picture.rows[0], picture.rows[-1])
    assert first.point[0] == picture.line[0, 0] < last.point[0]
    assert dict((name, now) for name, _, now in first.words)["vehicle.mass"] == "1650 kg"


@pytest.mark.parametrize(("aims", "said"), [
    ({TIME: "least"}, "aims: 1 were given; allowed: two or more"),
    ({TIME: "small", TOP: "most"}, "'small' was given; allowed: 'least', 'most'"),
    ({TIME: "least", "standing 400 m": "least"}, "standing 400 m: this search did not keep it; there are"),
])  # fmt: skip
def test_what_is_wrong_with_aims_is_said(found, aims, said):
    with pytest.raises(ValueError, match=said):
        front(found, aims)


def test_a_list_has_no_least():
    tried = run(plan(VAN, AXES | {"machine.wiring": ["series", "parallel"]}, builds=16, keep=(TIME,)))
    with pytest.raises(ValueError, match=r"machine\.wiring: a list of alternatives has no least or most"):
        front(tried, {"machine.wiring": "least", TIME: "least"})


# --- kept builds, driven --------------------------------------------------------------------------------------------


def by_integrator(build):
    """A build from rest in time steps: seconds to its target, and over 400 m. The motors' curve alone is ours."""
    say = build.value
    d = drive(View(build.parts))
    mass, radius = say("vehicle.mass"), say("vehicle.wheel_radius")
    final, behind = say("final_drive.final_drive_ratio"), say("final_drive.final_drive_efficiency")
    boxed = say("gearbox.fitted") is not False
    if boxed:  # a two-sun set, ring held for reverse, low sun held for low: 1 + low sun / input sun (series of planets)
        gears = (1 + say("gearbox.low_sun_teeth") / say("gearbox.input_sun_teeth"), 1.0)
        through = (say("gearbox.geared_efficiency") * behind, say("gearbox.direct_efficiency") * behind)
        inertia = say("gearbox.gearbox_input_inertia") + say("machine.machine_count") * say("machine.rotor_inertia")
        change, pause = say("gearbox.upshift_speed"), say("gearbox.change_time")
    else:
        gears, through, change, pause = (1.0,), (behind,), np.inf, 0.0
        inertia = say("machine.machine_count") * say("machine.rotor_inertia")
    wheels = say("vehicle.wheel_inertia") / radius**2
    propeller = say("final_drive.propeller_inertia") * (final / radius) ** 2 * behind
    lever, rear = say("vehicle.cg_height") / say("vehicle.wheelbase"), say("vehicle.rear_axle_share")
    mu, roll = say("vehicle.grip"), say("vehicle.rolling_coefficient")
    if say("vehicle.driven_axle") == "rear":
        grip = mu * mass * G * (rear - roll * lever) / (1 - mu * lever)
    else:
        grip = mu * mass * G * (1 - rear + roll * lever) / (1 + mu * lever)
    air = 1.225 / 2 * say("vehicle.drag_coefficient") * say("vehicle.frontal_area")

    def load(v):
        return mass * G * (roll + say("vehicle.rolling_speed_term") * v) + air * v * v

    def rate(gear):
        ratio = gears[gear] * final / radius
        driven = inertia * ratio**2 * through[gear] + propeller + wheels / 2

        def slope(_, y):
            force = np.interp(y[0] * ratio, d.shaft_speed, d.torque) * ratio * through[gear]
            free = (force - load(y[0])) / (mass + wheels / 2 + driven)
            return [min(free, (grip - load(y[0])) / (mass + wheels / 2)), y[0]]

        return slope

    def until(slope, state, what, end, span=200.0):
        def there(_, y):
            return y[what] - end

        there.terminal = True
        gone = solve_ivp(slope, (0, span), state, events=there, rtol=1e-8, atol=1e-8, max_step=0.1)
        return gone.t[-1], gone.y[:, -1]

    def coasting(_, y):
        return [-load(y[0]) / (mass + wheels + propeller), y[0]]

    low, state = until(rate(0), [0.0, 0.0], 0, min(change, say("targets.speed") if not boxed else change))
    if boxed:
        _, state = until(coasting, state, 1, np.inf, pause)
    to_speed, _ = until(rate(-1), state, 0, say("targets.speed"))
    to_400, _ = until(rate(-1), state, 1, 400.0)
    return low + pause + (to_speed if boxed else 0.0), low + pause + to_400


def test_kept_builds_drive_as_an_integrator_says(found):
    one = front(found, {TIME: "least", MARGIN: "most"})
    for kept in simulate(found, [one.rows[0], one.rows[len(one.rows) // 2], one.rows[-1]]):
        to_speed, to_400 = by_integrator(found.build(kept.row))
        assert kept.time == pytest.approx(to_speed, rel=2e-4)
        assert kept.standing == pytest.approx(to_400, rel=2e-4)
        assert kept.time == pytest.approx(found.column(TIME)[kept.row], rel=1e-9)
        assert kept.failed == () == found.failing(kept.row)


def test_kept_builds_on_a_cycle_cost_what_an_integrator_says():
    # one fixed ratio, efficiencies as constants, and U I - R I^2 = P: the energy as an initial value problem, second
    # by second, where the library takes each step's middle
    axes = {"final_drive.final_drive_ratio": ("5", "6"), "vehicle.mass": ("1100 kg", "1300 kg")}
    tried = run(plan(HATCH, axes, builds=8, keep=(TIME,)))
    trace = named_cycle("village")
    for kept in simulate(tried, [1, 6]):
        say = tried.build(kept.row).value
        assert kept.follows
        to_speed, to_400 = by_integrator(tried.build(kept.row))
        assert (kept.time, kept.standing) == pytest.approx((to_speed, to_400), rel=5e-4)
        radius, mass = say("vehicle.wheel_radius"), say("vehicle.mass")
        behind = say("final_drive.final_drive_efficiency")
        ratio = say("final_drive.final_drive_ratio") / radius
        spun = say("machine.machine_count") * say("machine.rotor_inertia") * ratio**2 * behind
        spun += say("vehicle.wheel_inertia") / radius**2
        volts = 100 * np.interp(0.5, [0.4, 0.6], [3.28, 3.30])
        ohms = 100 * 0.6e-3 * np.exp(2500 * (1 / 293.15 - 1 / 298.15)) + 0.015

        def drawn(t, y, trace=trace, mass=mass, spun=spun, behind=behind, say=say, volts=volts, ohms=ohms):
            at = min(max(int(np.searchsorted(trace.time, t, side="right")) - 1, 0), len(trace.time) - 2)
            slope = (trace.speed[at + 1] - trace.speed[at]) / (trace.time[at + 1] - trace.time[at])
            v = trace.speed[at] + slope * (t - trace.time[at])
            if v <= 0 and slope <= 0:
                return [0.0]
            road = mass * G * (0.012 + 0.0002 * v) + 1.225 / 2 * 0.33 * 1.9 * v * v
            power = max(road + (mass + spun) * slope, 0.0) * v / behind / say("machine.ac.ac_efficiency")
            return [volts * (volts - np.sqrt(volts**2 - 4 * ohms * power)) / (2 * ohms)]

        energy = 0.0
        for start, end in zip(trace.time[:-1], trace.time[1:], strict=True):
            energy += solve_ivp(drawn, (start, end - 1e-9), [0.0], rtol=1e-6, atol=1.0, max_step=0.5).y[0, -1]
        assert kept.per_metre == pytest.approx(energy / np.trapezoid(trace.speed, trace.time), rel=5e-3)

"""Monte Carlo: against closed forms, seeded, and what one measurement narrows."""

import math
import statistics

import numpy as np
import pytest

from evlib.build.chance import ASSUMED, CUT, at_share, chances, draw, explained, measurements, random_shares
from evlib.build.chance import share_and_error as share_of
from evlib.build.file import find_build, read_build
from evlib.build.schema import Build, Origin
from evlib.build.spread import spreads, standard_deviation, tornado
from evlib.ground.checks import FAIL

NORMAL = statistics.NormalDist()


@pytest.fixture(scope="module")
def van():
    return read_build(find_build("orchard_van"))


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


def spread_of(build, path, share):
    return Build(build.parts, {**build.origins, path: Origin(source="guess", spread=share)})


def one(found, name):
    return next(each for each in found if each.name == name)


# --- the chance, against a difference of two independent normal values ----------------------------------------------
@pytest.mark.parametrize("limit", [395.0, 430.0, 445.0, 470.0])
def test_the_chance_of_two_normal_values_is_the_closed_form(van, limit):
    """Pack current: what the controller is set to, X, against what the pack allows, Y. P(X <= Y) = phi(d / s)."""
    drawn, allowed = "controller.controller_pack_current_limit", "pack.pack_current_limit"
    build = spread_of(spread_of(van.changed({drawn: limit, allowed: 450.0}), drawn, 0.04), allowed, 0.03)
    found = chances(build, names=("pack current",), draws=4000, seed=7)[0]
    closed = NORMAL.cdf((450.0 - limit) / math.hypot(0.04 * limit, 0.03 * 450.0))
    # The draws are cut at three standard deviations, which moves a chance by less than 0.003.
    assert found.chance == pytest.approx(closed, abs=4 * found.standard_error + 0.003)
    assert found.standard_error == pytest.approx(math.sqrt(closed * (1 - closed) / 4000), rel=0.25, abs=2e-4)


def test_the_band_of_the_margin_is_the_closed_form_of_a_ratio(van):
    """Capacitor ripple is half the controller's current at worst: margin = 2 R / I - 1, a ratio of two normals.

    P(2 R / I - 1 <= m) = P(2 R - (1 + m) I <= 0): again one normal value, so 0.05 and 0.95 can be asked of it.
    """
    ripple, current = "controller.ripple_current_limit", "controller.motor_current_limit"
    build = spread_of(spread_of(van.changed({ripple: 330.0, current: 600.0}), ripple, 0.05), current, 0.04)
    found = chances(build, names=("capacitor ripple",), draws=8000, seed=3)[0]
    for margin, share in ((found.low, 0.05), (found.high, 0.95)):
        middle, scatter = 2 * 330.0 - (1 + margin) * 600.0, math.hypot(2 * 0.05 * 330.0, (1 + margin) * 0.04 * 600.0)
        assert NORMAL.cdf(-middle / scatter) == pytest.approx(share, abs=0.012)


def test_the_same_seed_gives_the_same_chances_and_another_one_others(van):
    first, again, other = (chances(van, names=("grip", "pressure switch"), draws=500, seed=seed) for seed in (5, 5, 6))
    told = [[(each.name, each.chance, each.low) for each in found] for found in (first, again, other)]
    assert told[0] == told[1]
    assert told[0] != told[2]


def test_a_values_draws_do_not_depend_on_which_others_are_drawn():
    alone = random_shares(["vehicle.mass"], draws=50, seed=2)["vehicle.mass"]
    beside = random_shares(["pack.cell_resistance", "vehicle.mass"], draws=50, seed=2)["vehicle.mass"]
    assert (alone == beside).all()


def test_the_standard_error_is_how_far_chances_of_many_seeds_scatter(van):
    found = [chances(van, names=("grip",), draws=100, seed=seed)[0] for seed in range(25)]
    scatter = statistics.stdev(each.chance for each in found)
    assert scatter == pytest.approx(statistics.mean(each.standard_error for each in found), rel=0.4)


def test_a_build_of_guesses_has_wider_chances_than_a_measured_one(van):
    def all_from(source):
        return Build(van.parts, {**van.origins, **{path: Origin(source=source) for path in spreads(van)}})

    names = ("grip", "launch in low", "time to speed", "pack current", "steepest start", "wheel stud torque")
    guessed, measured = (
        {c.name: c for c in chances(all_from(source), names=names, draws=200)} for source in ("guess", "measured")
    )
    for name in names:
        wide, narrow = (found[name].high - found[name].low for found in (guessed, measured))
        assert wide > 5 * narrow  # 15 % against 1 %
    unsure = [sum(0.01 < each.chance < 0.99 for each in found.values()) for found in (guessed, measured)]
    assert unsure[0] > unsure[1]
    assert guessed["grip"].guesses
    assert measured["grip"].guesses == ()


def test_a_build_without_spreads_has_no_chance_but_its_verdicts(van):
    nothing = {path: Origin(source="measured", spread=0.0) for path in spreads(van)}
    sure = Build(van.parts, {**van.origins, **nothing})
    with pytest.raises(ValueError, match="no value of this build has a spread"):
        chances(sure)


def test_failed_for_good_is_under_and_sure_is_over_never_none_and_all(pickup):
    found = chances(pickup, names=("pack current", "line length", "grip", "motor current"), draws=2000)
    assert one(found, "pack current").text == "under 0.15 %"  # three in 2,000: common practice for no event in n
    assert one(found, "line length").text == "over 99.85 %"
    assert {each.verdict for each in found if each.chance == 0} == {FAIL}
    assert share_of(0, 1000)[1] > 0
    assert "independent" in ASSUMED or "by itself" in ASSUMED


def test_draws_have_the_declared_spread_and_stay_within_limits(van):
    build = spread_of(van, "vehicle.drag_coefficient", 0.15)
    column = draw(build, random_shares(["vehicle.drag_coefficient"], draws=20000, seed=1))["vehicle.drag_coefficient"]
    stated = build.value("vehicle.drag_coefficient")
    assert np.mean(column) == pytest.approx(stated, rel=0.005)
    # A normal cut at three keeps 1 - 2 * 3 phi(3) / (2 Phi(3) - 1) of its variance.
    kept = 1 - 2 * CUT * NORMAL.pdf(CUT) / (2 * NORMAL.cdf(CUT) - 1)
    assert np.std(column) / stated == pytest.approx(0.15 * math.sqrt(kept), rel=0.02)
    assert np.abs(column / stated - 1).max() <= 0.15 * CUT * (1 + 1e-9)


@pytest.mark.parametrize("share", [0.02, 0.3, 0.5, 0.9])
def test_a_share_of_a_uniform_and_of_a_normal_value(share):
    wide = at_share(np.array([share]), low=-9, high=9, shape="uniform")[0]
    assert wide == pytest.approx(math.sqrt(3) * (2 * share - 1))
    normal = at_share(np.array([share]), low=-9, high=9)[0]
    assert normal == pytest.approx(NORMAL.inv_cdf(share), abs=0.05)


def test_wishes_rules_counts_and_curves_have_no_spread(van):
    for path in ("targets.start_grade", "coupling.flange.bolt_count", "pack.cell_open_voltage", "machine.wiring"):
        assert standard_deviation(van.changed({path: van.value(path)}), path) == 0.0
    unsaid = van.changed({"vehicle.mass": 1600.0})  # where it comes from is not stated: as it usually comes
    assert standard_deviation(unsaid, "vehicle.mass") == 0.01


# --- the tornado ----------------------------------------------------------------------------------------------------
def test_the_bars_of_a_tornado_are_single_reviews_at_two_standard_deviations(van):
    from evlib.build.review import review

    made = tornado(van, "grip")
    assert [bar.effect for bar in made.bars] == sorted((bar.effect for bar in made.bars), reverse=True)
    for bar in made.bars[:6]:
        deviation = standard_deviation(van, bar.path) * van.value(bar.path)
        assert bar.low_value == pytest.approx(van.value(bar.path) - 2 * deviation)
        for value, margin in ((bar.low_value, bar.at_low), (bar.high_value, bar.at_high)):
            alone = review(van.changed({bar.path: value}), figures=False, topics=("gearing",)).check("grip")
            assert margin == pytest.approx(alone.margin, rel=1e-9)


def test_a_ripple_tornado_is_the_one_drawn_by_hand(van):
    """Margin 2 R / I - 1 with R = 330 A +- 10 % and I = 600 A +- 8 %: two standard deviations each."""
    ripple, current = "controller.ripple_current_limit", "controller.motor_current_limit"
    build = spread_of(spread_of(van.changed({ripple: 330.0, current: 600.0}), ripple, 0.05), current, 0.04)
    bars = {bar.path: bar for bar in tornado(build, "capacitor ripple").bars}
    assert bars[ripple].at_low == pytest.approx(2 * 297.0 / 600.0 - 1)
    assert bars[ripple].at_high == pytest.approx(2 * 363.0 / 600.0 - 1)
    assert bars[current].at_low == pytest.approx(660.0 / 552.0 - 1)
    assert bars[current].at_high == pytest.approx(660.0 / 648.0 - 1)


def test_bad_names_are_one_sentence(van):
    with pytest.raises(ValueError, match="'no such check' is no check"):
        tornado(van, "no such check")
    hatch = read_build(find_build("college_hatch"))
    with pytest.raises(ValueError, match="launch in low: has no number on this build"):
        measurements(hatch, "launch in low")


# --- which measurement ----------------------------------------------------------------------------------------------
def test_the_gain_of_a_measurement_is_the_closed_form_of_a_linear_margin(van):
    """Margin Y / X - 1 with X nearly exact: all of the variance is Y's; measured, a share of (1 - (1 / 6)^2) goes."""
    drawn, allowed = "controller.controller_pack_current_limit", "pack.pack_current_limit"
    build = spread_of(spread_of(van, drawn, 0.02), allowed, 0.06)
    ratio = (0.06 / 0.02) ** 2  # of the two variances, to first order
    found = measurements(build, "pack current", draws=8000)
    assert [each.path for each in found] == [allowed, drawn]
    assert found[0].gain == pytest.approx((1 - (0.01 / 0.06) ** 2) * ratio / (ratio + 1), abs=0.03)
    assert found[1].gain == pytest.approx((1 - (0.01 / 0.02) ** 2) / (ratio + 1), abs=0.03)
    assert found[0].after == pytest.approx(found[0].scatter * math.sqrt(1 - found[0].gain))


@pytest.mark.parametrize("share", [0.015, 0.02, 0.05])
def test_what_a_measurement_leaves_of_one_values_scatter_is_that_of_a_measured_value(van, share):
    """All of the variance is one value's: measured, its standard deviation of 1 % is what is left of it."""
    drawn, allowed = "controller.controller_pack_current_limit", "pack.pack_current_limit"
    build = spread_of(spread_of(van, drawn, 0.0), allowed, share)
    (found,) = measurements(build, "pack current", draws=8000)
    assert found.after / found.scatter == pytest.approx(0.01 / share, abs=0.03)


def test_a_value_that_is_measured_well_gains_nothing(van):
    drawn, allowed = "controller.controller_pack_current_limit", "pack.pack_current_limit"
    build = spread_of(spread_of(van, drawn, 0.01), allowed, 0.06)
    assert [each.path for each in measurements(build, "pack current")] == [allowed]


def test_what_is_explained_sees_a_bend_and_takes_off_chance():
    """y = x^2 with a normal x is explained whole by x, though it does not correlate with it at all."""
    x, other = np.random.default_rng(4).standard_normal((2, 8000))
    assert explained(x, x**2) > 0.9
    assert explained(other, x**2) < 0.01
    assert explained(x, x + other) == pytest.approx(0.5, abs=0.03)

"""A chunk of a search beside the same builds reviewed one by one, over random quantities and random alternatives."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.schema import declared
from evlib.build.search.found import Found
from evlib.build.search.piece import piece
from evlib.build.search.plan import Span, plan
from evlib.build.search.run import run
from evlib.ground.checks import FAIL
from evlib.ground.quantity import quantity_of

BUILDS = {name: read_build(find_build(name)) for name in ("orchard_van", "college_hatch", "quarry_pickup")}
SIDES = ("demand", "capacity", "margin")


def movable(build):
    """Every number of the build that takes any value within a span of its own; counts stand in the lists below."""
    for path, hint in declared().items():
        quantity, value = quantity_of(hint), build.value(path)
        if quantity and quantity.slider and not quantity.whole and isinstance(value, float):
            yield path


PATHS = {name: list(movable(build)) for name, build in BUILDS.items()}
PUMP = "hydraulics.electric_pump."
LISTS = {
    "gearset": {"short": {"gearbox.input_sun_teeth": 29, "gearbox.low_sun_teeth": 22},
                "long": {"gearbox.input_sun_teeth": 31, "gearbox.low_sun_teeth": 24}},
    "pump": {"small": {PUMP + "free_flow": "7 L/min", PUMP + "rated_flow": "4 L/min"},
             "as built": {}, "large": {PUMP + "free_flow": "12 L/min"}},
    "wiring": {"series": {"machine.wiring": "series"}, "parallel": {"machine.wiring": "parallel"}},
}  # fmt: skip


def hold_alike(build, axes, seed, rows=3):
    """Every check of a few builds of a chunk, as columns and alone. Returns how many checks were compared."""
    checks = plan(build, axes).checks
    keep = tuple(f"{side} of {name}" for name in checks for side in SIDES)
    made = plan(build, axes, builds=16, seed=seed, keep=keep)
    found = Found(made, None)
    for number in range(len(made.chunks)):
        found.add(number, piece(made, number))
    columns = {name: found.column(name) for name in keep}
    compared = 0
    for row in np.random.default_rng(seed).choice(made.rows, rows, replace=False):
        alone = {check.name: check for check in review(found.build(int(row)), figures=False).checks}
        for name, check in alone.items():
            sides = [columns[f"{side} of {name}"][row] for side in SIDES]
            if check.demand is None or np.isnan(check.margin):
                assert np.isnan(sides[2]), (name, sides, check.reason)
                said_nothing = check.demand is None and (not check.missing or name in made.unmade)
                assert (name in found.failing(int(row))) is not said_nothing, name
                continue
            want = (float(check.demand), float(check.capacity), float(check.margin))
            assert sides[:2] == pytest.approx(want[:2], rel=1e-9, abs=1e-300), (name, made.words(int(row)))
            near_zero = 1e-9 * (1 + abs(want[1] / want[0])) if want[0] else 0.0  # the margin is a difference
            assert sides[2] == pytest.approx(want[2], rel=1e-9, abs=near_zero), (name, made.words(int(row)))
            if want[2] == 0 or abs(want[2]) > 1e-9:
                assert (name in found.failing(int(row))) == (check.verdict == FAIL), name
            compared += 1
    return compared


@settings(max_examples=14, deadline=None)
@given(name=st.sampled_from(list(BUILDS)), data=st.data(), seed=st.integers(0, 999))
def test_columns_are_the_single_builds_to_1e_9(name, data, seed):
    paths = data.draw(st.lists(st.sampled_from(PATHS[name]), min_size=2, max_size=6, unique=True))
    assert hold_alike(BUILDS[name], dict.fromkeys(paths), seed) > 100


def test_so_are_alternatives_in_columns_and_in_blocks():
    build = BUILDS["orchard_van"]
    made = plan(build, {"pack.cell_resistance": None, **LISTS})
    assert [axis.name for axis in made.blocks] == ["gearset", "wiring"] and [a.name for a in made.lists] == ["pump"]
    assert hold_alike(build, {"pack.cell_resistance": None, **LISTS}, seed=3) > 200
    assert sum(isinstance(axis, Span) for axis in made.axes) == 1


def test_builds_that_contradict_themselves_leave_the_others_of_their_chunk_alone():
    # a bore as wide as its shaft, a sleeve thinner than its spline: refused one by one, so refused as a column too
    axes = {"coupling.far_shaft.shaft_bore": (0, 0.05), "coupling.sleeve.sleeve_diameter": (0.03, 0.1)}
    found = run(plan(BUILDS["orchard_van"], axes, builds=64, keep=("margin of spline engagement",)))
    engagement = found.column("margin of spline engagement")
    assert 10 < np.isnan(engagement).sum() < 54
    assert hold_alike(BUILDS["orchard_van"], axes, seed=5, rows=12) > 800

"""Safety on a build: columns, the shutdown loop, the card and the inspector's page."""

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.review import review


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


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

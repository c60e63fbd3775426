"""Each number of a build as a column by itself, beside plain numbers: what a search over a few quantities meets."""

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.gears import run_to_target, standing_400
from evlib.build.registry import CHECKS, evaluate
from evlib.build.review import load, review
from evlib.build.schema import declared
from evlib.build.view import View
from evlib.ground.quantity import quantity_of

load()


def numbers(build):
    """Paths of the build's plain numbers that may be a little more or less."""
    for path, hint in declared().items():
        quantity, value = quantity_of(hint), build.value(path)
        if quantity is None or quantity.whole or not isinstance(value, float) or value == 0:
            continue
        inside = max(quantity.low, quantity.above) < value * 0.995 < min(quantity.high, quantity.below)
        if inside:
            yield path


@pytest.mark.parametrize("name", ["orchard_van", "college_hatch"])
def test_one_column_beside_plain_numbers_is_reviewed_as_the_single_builds_are(name):
    build = read_build(find_build(name))
    needs = {check.name: set(check.needs) for check in review(build, figures=False).checks if check.demand is not None}
    compared = 0
    for path in numbers(build):
        column = build.value(path) * np.array([0.995, 1.0])
        asking = [CHECKS[check] for check, read in needs.items() if path in read]
        together = View(build.changed({path: column}).parts)
        alone = View(build.changed({path: float(column[0])}).parts)
        for spec in asking:
            many, one = evaluate(spec, together), evaluate(spec, alone)
            assert many.demand is not None, (path, spec.name, many.reason)
            for whole, single in ((many.demand, one.demand), (many.capacity, one.capacity)):
                assert np.broadcast_to(whole, 2)[0] == pytest.approx(float(single), rel=1e-9), (path, spec.name)
            compared += 1
    assert compared > 300


@pytest.mark.parametrize("path", ["gearbox.change_time", "gearbox.direct_efficiency", "gearbox.geared_efficiency"])
def test_a_run_up_takes_one_leg_as_a_column(path):
    build = read_build(find_build("orchard_van"))
    column = build.value(path) * np.array([0.98, 1.0])
    together = View(build.changed({path: column}).parts)
    for k in (0, 1):
        alone = View(build.changed({path: float(column[k])}).parts)
        assert run_to_target(together).time[k] == pytest.approx(run_to_target(alone).time, rel=1e-12)
        assert standing_400(together).time[k] == pytest.approx(standing_400(alone).time, rel=1e-12)

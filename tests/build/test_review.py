"""The review: columns equal singles, planted faults are found and only they, absence is said."""

import tomllib
from pathlib import Path

import numpy as np
import pytest

from evlib.build.file import find_build, parse_build, read_build
from evlib.build.registry import CHECKS, STATED
from evlib.build.review import load, review
from evlib.build.schema import declared
from evlib.ground.checks import FAIL, MARGINAL, NOT_APPLICABLE, NOT_KNOWN, PASS
from evlib.ground.quantity import quantity_of

load()
FAULTS = {}
for file in sorted((Path(__file__).parent / "faults").glob("*.toml")):
    FAULTS.update(tomllib.loads(file.read_text(encoding="utf-8")))
BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")
ROWS = 1000


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


def verdicts(build):
    return {check.name: check.verdict for check in review(build, figures=False).checks}


def test_every_check_of_the_sound_build_is_made_and_passes(sound):
    found = review(sound)
    wrong = {c.name: (c.verdict, c.reason or c.margin) for c in found.checks if c.verdict not in (PASS, MARGINAL)}
    assert wrong == {}
    assert [(figure.name, figure.reason) for figure in found.stated if figure.value is None] == []


def test_every_check_has_a_planted_fault():
    assert sorted(FAULTS) == sorted(CHECKS)


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_a_planted_fault_fails_its_check_and_its_stated_consequences_only(name, sound):
    fault = FAULTS[name]
    found = verdicts(sound.changed(fault["changes"]))
    failed = {check for check, verdict in found.items() if verdict in (FAIL, NOT_KNOWN)}
    assert found[name] == FAIL
    assert failed == {name, *fault.get("also", [])}


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_a_check_says_how_it_came_about(name, sound):
    check = review(sound, figures=False).check(name)
    assert check.working is not None
    assert check.source
    assert check.advice
    assert check.needs
    assert set(check.needs) <= set(declared())
    assert check.working.text()


def test_a_missing_value_is_named_with_how_to_get_it(sound):
    for name in CHECKS:
        check = review(sound, figures=False).check(name)
        known = [path for path in check.needs if quantity_of(declared()[path]) is not None]
        if known:
            found = review(sound.changed({known[0]: None}), figures=False).check(name)
            assert found.verdict in (NOT_KNOWN, PASS, MARGINAL)  # some values have a stated stand-in
            if found.verdict == NOT_KNOWN:
                assert found.missing == (known[0],)


def spread_columns(build, rows, seed):
    """Each positive number of a build as a column within a few per cent of it."""
    chance = np.random.default_rng(seed)
    changes = {}
    for path, hint in declared().items():
        quantity, value = quantity_of(hint), build.value(path)
        if quantity is None or quantity.whole or not isinstance(value, float) or value == 0:
            continue
        column = value * (1 + 0.02 * chance.uniform(-1, 1, rows))
        low, high = max(quantity.low, quantity.above), min(quantity.high, quantity.below)
        if (column > low).all() and (column < high).all():
            changes[path] = column
    return changes


@pytest.mark.parametrize("name", BUILDS)
def test_a_thousand_builds_as_one_column_equal_the_single_ones(name):
    build = read_build(find_build(name))
    columns = spread_columns(build, ROWS, seed=7)
    together = review(build.changed(columns), figures=False)
    for row in (0, 1, 499, 998, 999):
        alone = review(build.changed({path: float(column[row]) for path, column in columns.items()}), figures=False)
        for check in alone.checks:
            other = together.check(check.name)
            if check.demand is None:
                assert other.demand is None, (check.name, other.reason)
                continue
            assert other.demand is not None, (check.name, other.reason)
            for one, many in ((check.demand, other.demand), (check.capacity, other.capacity)):
                assert one == pytest.approx(float(np.broadcast_to(many, ROWS)[row]), rel=1e-9), check.name
            assert check.verdict == np.broadcast_to(other.verdict, ROWS)[row]


def test_the_faulty_build_fails_for_findable_reasons():
    found = verdicts(read_build(find_build("quarry_pickup")))
    assert sum(verdict == FAIL for verdict in found.values()) >= 3
    assert NOT_KNOWN not in found.values()


def test_an_ac_machine_on_a_fixed_reduction_is_reviewed_too():
    found = review(read_build(find_build("college_hatch")))
    counts = found.counts
    assert counts[NOT_APPLICABLE] >= 10
    assert counts[FAIL] == counts[NOT_KNOWN] == 0
    assert counts[PASS] + counts[MARGINAL] >= 10


def test_a_build_with_one_section_is_reviewed_as_far_as_it_goes():
    found = review(parse_build('[vehicle]\nmass = "900 kg"'))
    assert found.counts[FAIL] == 0
    assert found.counts[NOT_KNOWN] == len(CHECKS)
    assert all(check.missing for check in found.checks)
    assert len(found.stated) == len(STATED)

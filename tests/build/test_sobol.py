"""Sobol indices against published values, and against what can be worked out by hand."""

import math

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.schema import Build, Origin
from evlib.build.sobol import indices, sobol
from evlib.build.spread import spreads

SPAN = (-math.pi, math.pi)


def ishigami(x):
    return np.sin(x["x1"]) + 7 * np.sin(x["x2"]) ** 2 + 0.1 * x["x3"] ** 4 * np.sin(x["x1"])


# Ishigami and Homma (1990), a = 7, b = 0.1, as tabulated in Saltelli et al., Global Sensitivity Analysis, The Primer.
PUBLISHED = {"x1": (0.3139, 0.5576), "x2": (0.4424, 0.4424), "x3": (0.0, 0.2437)}


def test_the_ishigami_function_has_its_published_indices():
    found = {each.name: each for each in indices(ishigami, dict.fromkeys(PUBLISHED, SPAN), base=4096)}
    for name, (first, total) in PUBLISHED.items():
        assert found[name].first == pytest.approx(first, abs=0.015)
        assert found[name].total == pytest.approx(total, abs=0.015)
        assert abs(found[name].first - first) <= found[name].first_within + 1e-3
    assert list(found) == ["x1", "x2", "x3"]  # the largest total first


def test_a_sum_has_the_indices_of_its_variances_and_no_more_together():
    def total(x):
        return 3 * x["a"] + 1 * x["b"] + 1000.0

    found = {each.name: each for each in indices(total, {"a": (0, 1), "b": (0, 1)}, base=1024)}
    for name, share in (("a", 0.9), ("b", 0.1)):
        assert found[name].first == pytest.approx(share, abs=0.01)
        assert found[name].total == pytest.approx(share, abs=0.01)


def test_the_pack_currents_indices_are_those_of_a_ratio_of_two_values():
    """Margin Y / X - 1: to first order the relative variances share it, 0.06^2 to 0.03^2, which is 0.8 to 0.2."""
    van = read_build(find_build("orchard_van"))
    drawn, allowed = "controller.controller_pack_current_limit", "pack.pack_current_limit"
    origins = van.origins | {path: Origin(source="measured", spread=0.0) for path in spreads(van)}
    origins |= {drawn: Origin(spread=0.03, source="guess"), allowed: Origin(spread=0.06, source="guess")}
    found = sobol(Build(van.parts, origins), "pack current")
    assert [each.name for each in found] == [allowed, drawn]
    assert found[0].first == pytest.approx(0.8, abs=0.03)
    assert found[1].first == pytest.approx(0.2, abs=0.03)


def test_of_a_real_check_no_first_index_is_above_its_total_and_they_do_not_sum_to_more_than_one():
    found = sobol(read_build(find_build("orchard_van")), "grip", base=256)
    assert sum(each.first for each in found) < 1 + sum(each.first_within for each in found)
    for each in found:
        assert each.first <= each.total + each.first_within + each.total_within
    assert found[0].name == "vehicle.grip"  # the guess among measured values


def test_bad_input_is_one_sentence():
    with pytest.raises(ValueError, match="base: 500 was given; allowed: a power of two"):
        indices(ishigami, dict.fromkeys(PUBLISHED, SPAN), base=500)
    with pytest.raises(ValueError, match="does not vary"):
        indices(lambda x: np.ones(len(x["a"])), {"a": (0, 1)})
    with pytest.raises(ValueError, match="give no number"):
        indices(lambda x: np.where(x["a"] > 0.5, np.nan, x["a"]), {"a": (0, 1)})
    sure = read_build(find_build("orchard_van"))
    nothing = {path: Origin(source="measured", spread=0.0) for path in spreads(sure)}
    sure = Build(sure.parts, sure.origins | nothing)
    with pytest.raises(ValueError, match="no value with a spread moves it"):
        sobol(sure, "grip")

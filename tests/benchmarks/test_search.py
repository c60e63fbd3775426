"""A search, small, measured in one run on one machine, printed, and held to a coarse guard. ``pytest -s`` shows it."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

SPEC = importlib.util.spec_from_file_location("evlib_search_benchmark", Path(__file__).with_name("search.py"))
assert SPEC and SPEC.loader
search = importlib.util.module_from_spec(SPEC)
sys.modules["evlib_search_benchmark"] = search
SPEC.loader.exec_module(search)


def test_columns_are_many_times_quicker_than_a_loop_and_no_less_exact():
    """The aim is 100,000 reviews within 10 s on two cores; a busy machine still keeps 40 s of processor."""
    found = search.speed(8192, compared=4)
    print("\n" + found.text())
    assert found.processor < 40
    assert found.loop_review > 50 * found.processor
    seconds, error = found.loop_solve_ivp[1e-6]
    assert seconds > 20 * found.processor
    assert found.error_columns < 2e-4 and error < 2e-4  # both are right, so the times may be compared


def test_memory_is_flat():
    """Four times the builds in no more memory than a few chunks' worth: a build held whole would be a megabyte."""
    few, many = search.memory(8_192), search.memory(32_768)
    print(f"\n8 192 builds: {few[0]:.1f} s, {few[1]:.0f} MB at most; 32 768: {many[0]:.1f} s, {many[1]:.0f} MB at most")
    assert many[1] < few[1] + 30


def test_what_bounds_a_search_is_said():
    told = search.profile(1024)
    print("\n" + "\n".join(f"{100 * share:5.1f} %  {name}" for name, share in told[:6]))
    assert abs(sum(share for _, share in told) - 1) < 1e-9
    assert told[0][1] > 2 / len(told)

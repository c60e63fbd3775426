"""Measured in one run on one machine, printed, and held to a coarse guard. ``pytest -s`` shows the figures."""

from __future__ import annotations

import importlib.util
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

HERE = Path(__file__).parent
SPEC = importlib.util.spec_from_file_location("evlib_latency", HERE / "latency.py")
assert SPEC and SPEC.loader
latency = importlib.util.module_from_spec(SPEC)
sys.modules["evlib_latency"] = latency
SPEC.loader.exec_module(latency)


@pytest.mark.browser
def test_a_panel_takes_at_most_half_the_time_of_plain_interact():
    """The aim is a quarter; half is what a busy machine still has to keep."""
    import lab

    if not lab.chromium():
        pytest.skip("no Chromium found: install it, or set EVLIB_CHROMIUM")
    found = latency.measure()
    print("\n" + found.text())
    assert len(found.panel) == len(found.interact) == latency.PRESSES
    assert found.ratio <= 0.5


def seconds(code: str) -> float:
    """Median time of three fresh interpreters, less that of an empty one."""

    def once(text: str) -> float:
        began = time.perf_counter()
        subprocess.run([sys.executable, "-c", text], check=True, cwd=latency.ROOT)
        return time.perf_counter() - began

    return statistics.median(once(code) for _ in range(3)) - statistics.median(once("pass") for _ in range(3))


def test_imports_are_light():
    """Printed; held are the modules that must not come along, which no busy machine changes."""
    for name in ("evlib", "evlib.panels.panel", "evlib.figures.scene"):
        print(f"\nimport {name}: {seconds(f'import {name}'):.2f} s", end="")
    heavy = {"matplotlib", "ipywidgets", "anywidget", "sympy", "scipy"}
    for name in ("evlib", "evlib.panels.panel", "evlib.figures.base", "evlib.figures.scene", "evlib.panels.controls"):
        code = f"import sys, {name}; print(sorted({heavy} & set(sys.modules)))"
        told = subprocess.run(
            [sys.executable, "-c", code], check=True, cwd=latency.ROOT, capture_output=True, text=True
        )
        assert told.stdout.strip() == "[]", f"import {name} brings {told.stdout}"

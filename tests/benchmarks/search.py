"""How long thousands of reviews take, beside a plain loop, with both errors; their memory; and what bounds them.

``python -m tests.benchmarks.search`` prints it for 10^3 to 10^5 builds, ``... search large`` also for 10^6.
"""

from __future__ import annotations

import dataclasses
import importlib.util
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np

from evlib.build import gears
from evlib.build.file import find_build, read_build
from evlib.build.registry import CHECKS, evaluate
from evlib.build.review import review
from evlib.build.search import plan as planning
from evlib.build.search import run as running
from evlib.build.search.plan import Plan, plan
from evlib.build.search.run import run
from evlib.build.view import View

ROOT = Path(__file__).parents[2]
SPEC = importlib.util.spec_from_file_location("evlib_run_up_benchmark", Path(__file__).with_name("run_up.py"))
assert SPEC and SPEC.loader
run_up = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(run_up)

TIME = "time to the target speed"
AXES = {
    "final_drive.final_drive_ratio": ("3.2", "4.6"), "controller.motor_current_limit": ("450 A", "700 A"),
    "vehicle.mass": ("1400 kg", "1800 kg"), "vehicle.wheel_radius": ("0.28 m", "0.33 m"),
}  # fmt: skip
FINE = 16  # times as many points on the motors' curve for the reference


def searched(builds: int) -> Plan:
    """The search that is measured: four quantities of the sound build, one result kept."""
    return plan(read_build(find_build("orchard_van")), AXES, builds=builds, keep=(TIME,))


@dataclasses.dataclass
class Speed:
    """Seconds for 100,000 reviews: by the clock and of processor, by columns; and in a plain loop."""

    builds: int
    clock: float
    processor: float
    loop_review: float
    error_columns: float
    loop_solve_ivp: dict[float, tuple[float, float]]  # by tolerance: seconds, and error; the largest of those compared

    def text(self) -> str:
        """As printed."""
        times = "\n".join(
            f"  solve_ivp, rtol {rtol:.0e}, for each: {seconds:.0f} s, {seconds / self.processor:.0f} times; "
            f"error {error:.1e}"
            for rtol, (seconds, error) in self.loop_solve_ivp.items()
        )
        return (
            f"100 000 reviews, from {self.builds}: {self.clock:.1f} s by the clock, {self.processor:.1f} s of processor"
            f", {running.HERE} threads\n  the run-up's error against a fine reference {self.error_columns:.1e}\n"
            f"plain loop for 100 000, load of the machine {os.getloadavg()[0]:.1f}:\n"
            f"  a review for each: {self.loop_review:.0f} s, {self.loop_review / self.processor:.0f} times\n{times}"
        )


def speed(builds: int, *, compared: int = 6) -> Speed:
    """Time a search, and a few of its builds in a plain loop; both run-ups against one fine reference."""
    run(searched(64))  # everything imported
    made = searched(builds)
    began, worked = time.perf_counter(), time.process_time()
    found = run(made)
    clock, processor = time.perf_counter() - began, time.process_time() - worked
    rows = np.linspace(0, made.rows - 1, compared).astype(int)
    columns, loop = [], {rtol: (0.0, 0.0) for rtol in (1e-3, 1e-6)}
    reviewed = 0.0
    for row in rows:
        build = found.build(int(row))
        began = time.process_time()
        review(build, figures=False)
        reviewed += time.process_time() - began
        change, target = build.value("gearbox.upshift_speed"), build.value("targets.speed")
        with mock.patch.object(gears, "POINTS", FINE * (gears.POINTS - 1) + 1):
            fine = gears.drive(View(build.parts))
        exact = run_up.by_steps(fine, change, rtol=1e-9, step=0.05, speed=target)
        columns.append(abs(found.column(TIME)[row] / exact - 1))
        for rtol, (spent, worst) in loop.items():
            began = time.process_time()
            steps = run_up.by_steps(gears.drive(View(build.parts)), change, rtol=rtol, speed=target)
            spent += time.process_time() - began
            loop[rtol] = (spent, max(worst, abs(steps / exact - 1)))
    each = 1e5 / compared
    return Speed(
        made.rows, clock * 1e5 / made.rows, processor * 1e5 / made.rows, reviewed * each, float(max(columns)),
        {rtol: (spent * each, float(worst)) for rtol, (spent, worst) in loop.items()},
    )  # fmt: skip


def memory(builds: int) -> tuple[float, float]:
    """Seconds and peak memory [MB] of a search in a process of its own, its chunks saved in a folder."""
    with tempfile.TemporaryDirectory() as scratch:
        told = subprocess.run(
            [sys.executable, __file__, "one", str(builds), scratch], check=True, capture_output=True, text=True,
            cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)},
        ).stdout  # fmt: skip
    seconds, peak = json.loads(told)
    return float(seconds), float(peak)


def one(builds: int, folder: str) -> None:
    """Run one search and print seconds and peak memory."""
    import resource

    run(searched(64))
    began = time.perf_counter()
    found = run(searched(builds), folder=Path(folder) / "s")
    spent = time.perf_counter() - began
    good = sum(int(np.sum(~(p["failed"].any(axis=1) | p["unknown"].any(axis=1)))) for p in map(found.piece, found.done))
    assert found.complete and 0 < good < found.count
    scale = 1e6 if sys.platform == "darwin" else 1e3
    print(json.dumps([spent, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / scale]))


def profile(rows: int = planning.CHUNK) -> list[tuple[str, float]]:
    """The checks that take longest in one chunk, by share; what several need is counted where it is first needed."""
    made = searched(rows)
    fixed, columns = made.changes(0)
    view = View(made.build.changed({**fixed, **columns}).parts)
    spent = []
    with np.errstate(divide="ignore", invalid="ignore"):
        for name, check in CHECKS.items():
            began = time.process_time()
            evaluate(check, view)
            spent.append((name, time.process_time() - began))
    whole = sum(seconds for _, seconds in spent)
    return sorted(((name, seconds / whole) for name, seconds in spent), key=lambda pair: -pair[1])


def chunks(builds: int = 16_384) -> list[tuple[int, int, float, float]]:
    """Chunk size, threads, and seconds for 100,000 reviews by the clock and of processor."""
    from evlib.build.search import store

    found = []
    for size in (512, 1024, 2048, 4096, 8192):
        for threads in (1, 2):
            with (
                mock.patch.object(planning, "CHUNK", size), mock.patch.object(store, "CHUNK", size),
                mock.patch.object(running, "HERE", threads),
            ):  # fmt: skip
                made = searched(builds)
                began, worked = time.perf_counter(), time.process_time()
                run(made)
                found.append((size, threads, (time.perf_counter() - began) * 1e5 / builds,
                              (time.process_time() - worked) * 1e5 / builds))  # fmt: skip
    return found


def main(words: list[Any]) -> None:
    """Measure and print."""
    if words[:1] == ["one"]:
        one(int(words[1]), words[2])
        return
    print(speed(100_000).text())
    print("\nbuilds      seconds   us a build   peak memory")
    for builds in (1_000, 10_000, 100_000, *([1_000_000] if "large" in words else [])):
        seconds, peak = memory(builds)
        print(f"{builds:9_d}  {seconds:8.2f}   {1e6 * seconds / builds:10.1f}   {peak:8.0f} MB", flush=True)
    print("\nchunk  threads  seconds for 100 000: clock, processor")
    for size, threads, clock, processor in chunks():
        print(f"{size:5d}  {threads:7d}  {clock:8.1f}  {processor:8.1f}")
    print("\nwhat a chunk's time goes to")
    for name, share in profile()[:8]:
        print(f"{100 * share:5.1f} %  {name}")


if __name__ == "__main__":
    main(sys.argv[1:])

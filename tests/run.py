"""Every stage of ``python3 start.py test``: its time, what failed, and what was not run."""

from __future__ import annotations

import dataclasses
import os
import shutil
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NEED_BROWSER = ("tests/browser", "tests/benchmarks")
ROUND_TRIP = "tests/course/test_nbgrader.py"


@dataclasses.dataclass
class Counts:
    """How many checks of a stage, or of all, went how."""

    passed: int = 0
    failed: int = 0
    skipped: int = 0

    def __add__(self, other: Counts) -> Counts:
        return Counts(self.passed + other.passed, self.failed + other.failed, self.skipped + other.skipped)

    def __str__(self) -> str:
        return f"{self.passed} passed, {self.failed} failed, {self.skipped} skipped"


def main() -> int:
    """Run all stages, one after the other; 0 only if nothing failed."""
    chromium = find_chromium()
    lines: list[str] = []
    not_run: list[str] = []
    total = Counts()
    for name, command, folder in stages(sys.executable):
        if not (ROOT / folder).exists():
            not_run.append(f"{name} (no folder {folder})")
        elif folder in NEED_BROWSER and not chromium:
            not_run.append(f"{name} (no Chromium found: install it, or name its path in EVLIB_CHROMIUM)")
        else:
            print(f"\n==== {name} ====", flush=True)
            began = time.monotonic()
            counts = run(command, chromium)
            lines.append(f"{name}: {counts} in {time.monotonic() - began:.1f} s")
            total += counts
            print(lines[-1], flush=True)
    print("\n".join(["", "==== all ====", *lines, "", str(total)]))
    if not_run:
        print("Not run: " + "; ".join(not_run))
    return 1 if total.failed else 0


def stages(python: str) -> list[tuple[str, list[str], str]]:
    """Every stage: its name, its command, and the folder without which it is not run."""
    run = [python, "-m"]
    test = [*run, "pytest", "-q", "-p", "no:cacheprovider"]
    side_by_side = ["-n", "2", "--dist", "loadfile"]
    floors = "import sys; from importlinter.cli import lint_imports_command as check; sys.exit(check())"
    nbval = ["--nbval", "--nbval-current-env", "--nbval-sanitize-with", "tests/notebooks/sanitize.cfg"]
    edition = [python, "tests/course/run_edition.py"]
    apart = [f"--ignore={place}" for place in (*NEED_BROWSER, ROUND_TRIP)]
    return [
        ("ruff check", [*run, "ruff", "check", "."], "."),
        ("ruff format", [*run, "ruff", "format", "--check", "."], "."),
        ("types", [*run, "mypy", "--strict", "evlib"], "evlib"),
        ("floors", [python, "-c", floors], "evlib"),
        ("doctests", [*test, "--doctest-modules", "evlib"], "evlib"),
        ("tests", [*test, "tests", *side_by_side, *apart], "tests"),
        ("notebooks for learners", [*edition, "learner", *test, *nbval, *side_by_side], "notebooks"),
        ("notebooks with solutions", [*edition, "solution", *test, *nbval, *side_by_side], "notebooks"),
        ("nbgrader", [*test, ROUND_TRIP], ".venv/nbgrader"),
        ("browser tests", [*test, "tests/browser"], "tests/browser"),
        ("benchmarks", [*test, "-s", "tests/benchmarks"], "tests/benchmarks"),
    ]


def run(command: list[str], chromium: str) -> Counts:
    """Run one stage; pytest's counts are read from its report, any other tool counts as one check."""
    with tempfile.TemporaryDirectory() as scratch:
        report = Path(scratch) / "report.xml"
        extra = ["--junitxml", str(report)] if "pytest" in command else []
        environment = {**os.environ, "EVLIB_CHROMIUM": chromium}
        status = subprocess.call([*command, *extra], cwd=ROOT, env=environment)
        return count(status, report)


def count(status: int, report: Path) -> Counts:
    """Passed, failed and skipped. A bad exit status is a failure even if the report shows none."""
    counts = Counts()
    if report.exists():
        for suite in ElementTree.parse(report).getroot().iter("testsuite"):
            tests, failures, errors, skipped = (
                int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped")
            )
            bad = failures + errors
            counts += Counts(max(0, tests - bad - skipped), bad, skipped)
    elif status == 0:
        counts = Counts(passed=1)
    if status and not counts.failed:
        counts.failed = 1
    return counts


def find_chromium() -> str:
    """The path of a Chromium, or nothing."""
    names = [os.environ.get("EVLIB_CHROMIUM", ""), "chromium", "chromium-browser", "google-chrome", "chrome", "msedge"]
    names += [f"/Applications/{name}.app/Contents/MacOS/{name}" for name in ("Chromium", "Google Chrome")]
    for base in ("ProgramFiles", "ProgramFiles(x86)", "LocalAppData"):
        for name in ("Chromium", "Google/Chrome"):
            names.append(str(Path(os.environ.get(base, "/nowhere"), name, "Application", "chrome.exe")))
    return next((found for name in names if name and (found := shutil.which(name))), "")


if __name__ == "__main__":
    sys.exit(main())

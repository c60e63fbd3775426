"""The test command's own honesty: what it counts, what it says was not run, and what its exit status is."""

import importlib.util
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def run():
    spec = importlib.util.spec_from_file_location("run", ROOT / "tests" / "run.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules["run"] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    yield module
    del sys.modules["run"]


MIXED = """
import pytest
def test_good(): pass
def test_good_too(): pass
def test_bad(): assert False
@pytest.mark.skip
def test_skipped(): pass
@pytest.fixture
def broken(): raise OSError
def test_error(broken): pass
"""


def pytest_stage(folder, text):
    folder.mkdir()
    (folder / "test_it.py").write_text(text)
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", str(folder), str(folder)]
    return ("stage", [*command, "-c", os.devnull], ".")


def tool(status):
    return ("tool", [sys.executable, "-c", f"raise SystemExit({status})"], ".")


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        (MIXED, (2, 2, 1)),
        ("def test_a(): pass\n", (1, 0, 0)),
        ("import no_such_module\n", (0, 1, 0)),  # does not load
        ("", (0, 1, 0)),  # no test at all is a failure
        ("import os\ndef test_a(): os._exit(3)\n", (0, 1, 0)),  # dies without a report
    ],
)
def test_pytest_is_counted(run, tmp_path, text, counts):
    _, command, _ = pytest_stage(tmp_path / "t", text)
    assert run.run(command, "") == run.Counts(*counts)


@pytest.mark.parametrize("status", [0, 1, 2, -9])
def test_a_tool_is_one_check(run, status):
    _, command, _ = tool(status)
    assert run.run(command, "") == run.Counts(passed=int(status == 0), failed=int(status != 0))


def test_the_closing_line_counts_all_and_one_failure_is_enough(run, tmp_path, monkeypatch, capfd):
    stages = [tool(0), pytest_stage(tmp_path / "a", MIXED), tool(1)]
    monkeypatch.setattr(run, "stages", lambda _: stages)
    assert run.main() == 1
    lines = capfd.readouterr().out.splitlines()
    assert lines[-1] == "3 passed, 3 failed, 1 skipped"
    assert sum(bool(re.fullmatch(r"(tool|stage): \d+ passed, .* in \d+\.\d s", line)) for line in lines) == 6
    stages.pop()
    stages[1] = pytest_stage(tmp_path / "b", "def test_a(): pass\n")
    assert run.main() == 0
    assert capfd.readouterr().out.splitlines()[-1] == "2 passed, 0 failed, 0 skipped"


def test_without_chromium_the_last_line_says_what_was_not_run(run, monkeypatch, capfd):
    monkeypatch.setattr(run, "find_chromium", lambda: "")
    real = run.stages(sys.executable)
    names = [stage for stage in real if stage[2] in run.NEED_BROWSER]
    assert {folder for _, _, folder in names} == {"tests/browser", "tests/benchmarks"}
    monkeypatch.setattr(run, "stages", lambda _: [tool(0), *names])
    monkeypatch.setattr(run, "ROOT", ROOT)
    assert run.main() == 0
    *_, counts, last = capfd.readouterr().out.splitlines()
    assert counts == "1 passed, 0 failed, 0 skipped"
    assert last.startswith("Not run: browser tests (no Chromium found: install it") and "benchmarks (" in last


def test_chromium_is_found_by_its_variable(run, tmp_path, monkeypatch):
    fake = tmp_path / "browser"
    fake.write_text("#!/bin/sh\n")
    fake.chmod(0o755)
    monkeypatch.setenv("EVLIB_CHROMIUM", str(fake))
    assert run.find_chromium() == str(fake)
    monkeypatch.setenv("EVLIB_CHROMIUM", "")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert run.find_chromium() == ""
    fake.rename(tmp_path / "chromium-browser")
    assert run.find_chromium() == str(tmp_path / "chromium-browser")


GOOD = [
    "browser tests: 9 passed, 0 failed, 0 skipped in 80.0 s",
    "benchmarks: 2 passed, 0 failed, 0 skipped in 9.0 s",
    "nbgrader: 1 passed, 0 failed, 0 skipped in 40.0 s",
]


@pytest.mark.skipif(not shutil.which("bash"), reason="the script is for Debian")
@pytest.mark.parametrize(
    ("said", "status", "expected"),
    [
        (GOOD, 0, 0),
        (GOOD, 1, 1),
        ([GOOD[0].replace("0 skipped", "1 skipped"), *GOOD[1:]], 0, 1),
        ([GOOD[0].replace("9 passed", "0 passed"), *GOOD[1:]], 0, 1),
        ([GOOD[0], GOOD[2], "Not run: benchmarks (no Chromium found: install it)"], 0, 1),
        ([*GOOD[:2], "Not run: nbgrader (no folder .venv/nbgrader)"], 0, 1),
        ([], 0, 1),
    ],
)
def test_a_new_machines_run_fails_if_a_browser_test_did_not_run(tmp_path, said, status, expected):
    (tmp_path / "python3").write_text(
        "#!/bin/bash\n" + f'[ "$*" = "start.py test" ] || exit 9\ncat {tmp_path}/said\nexit {status}\n'
    )
    (tmp_path / "chromium").write_text("#!/bin/bash\n")
    (tmp_path / "said").write_text("".join(line + "\n" for line in said))
    for name in ("python3", "chromium"):
        (tmp_path / name).chmod(0o755)
    environment = {**os.environ, "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}", "CI": "true"}
    ended = subprocess.run(["bash", ".ci/run"], cwd=ROOT, env=environment, capture_output=True, text=True)
    assert ended.returncode == expected, ended.stdout + ended.stderr

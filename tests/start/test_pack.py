"""A packed folder sets itself up with the network refused: the whole pinned set, for real."""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def refuse_network(command):
    """The command in a place without any network, where the system lets us make one."""
    cut = ["unshare", "--map-root-user", "--net"]
    if shutil.which("unshare") and subprocess.run([*cut, "true"], capture_output=True).returncode == 0:
        return cut + command
    return command


@pytest.mark.slow
def test_pack_then_set_up_without_network(tmp_path, no_pip_settings_later):
    packed = tmp_path / "packed for college"
    done = subprocess.run(
        [sys.executable, "start.py", "pack", str(packed)], cwd=ROOT, env=os.environ, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert not [p for p in packed.rglob("*") if p.name in (".git", ".venv", "__pycache__")]
    no_pip_settings_later()
    nowhere = dict.fromkeys(("HTTP_PROXY", "HTTPS_PROXY", "http_proxy", "https_proxy"), "http://127.0.0.1:9")
    environment = {**os.environ, **nowhere, "EVLIB_FOLDER": str(tmp_path / "learner")}
    environment.pop("PYTHONPATH", None)  # start.py test sets it, and the packed folder must stand alone

    def check():
        began = time.monotonic()
        command = refuse_network([sys.executable, "start.py", "check"])
        ended = subprocess.run(command, cwd=packed, env=environment, capture_output=True, text=True)
        assert ended.returncode == 0, ended.stdout + ended.stderr
        return ended.stdout, time.monotonic() - began

    first, _ = check()
    assert "Installing about" in first and "Checked" in first
    second, seconds = check()
    assert "Installing" not in second and "Checked" in second and seconds < 10
    python = str(packed / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python"))
    where = subprocess.check_output(
        [python, "-c", "import evlib; print(evlib.__file__)"], cwd="/", env=environment, text=True
    )
    assert Path(where.strip()).parent == packed / "evlib"

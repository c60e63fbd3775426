"""Opening the lessons for real: this machine only, its token asked for, copies in the learner's folder."""

import contextlib
import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import psutil
import pytest

ROOT = Path(__file__).resolve().parents[2]
PLAIN = urllib.request.build_opener(urllib.request.ProxyHandler({}))


def status(address):
    try:
        return PLAIN.open(address, timeout=5).status
    except urllib.error.HTTPError as refused:
        return refused.code
    except OSError:
        return None


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    """`start.py --here` at work: its port, the learner's folder, and what it printed so far."""
    scratch = tmp_path_factory.mktemp("open")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "start.py", "--here", "--no-browser", "--port", str(port)]
    environment = {**os.environ, "EVLIB_FOLDER": str(scratch / "learner"), "JUPYTER_RUNTIME_DIR": str(scratch / "run")}
    with (scratch / "log").open("w") as log:
        server = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=log, stderr=log, start_new_session=True)
    end = time.monotonic() + 90
    while status(f"http://127.0.0.1:{port}/api") != 200:
        assert server.poll() is None and time.monotonic() < end, (scratch / "log").read_text()
        time.sleep(0.2)
    time.sleep(0.5)
    yield port, scratch / "learner", scratch / "log"
    with contextlib.suppress(ProcessLookupError):
        os.killpg(server.pid, signal.SIGINT)
    assert server.wait(30) == 0, "Ctrl-C must end it well, without a question"


def token(log):
    return re.search(r"token=(\w+)", log.read_text())[1]


def test_the_token_is_asked_for(opened):
    port, _, log = opened
    assert len(token(log)) >= 32
    assert status(f"http://127.0.0.1:{port}/api/contents") == 403
    assert status(f"http://127.0.0.1:{port}/api/contents?token={token(log)}") == 200


def test_only_this_machine_can_reach_it(opened):
    port, _, _ = opened
    listening = [c.laddr.ip for c in psutil.net_connections("tcp") if c.status == "LISTEN" and c.laddr.port == port]
    assert listening == ["127.0.0.1"]


def test_lessons_are_copies_in_the_learners_folder(opened):
    port, learner, log = opened
    address = f"http://127.0.0.1:{port}/api/contents/lessons?token={token(log)}"
    shown = {entry["name"] for entry in json.load(PLAIN.open(address, timeout=5))["content"]}
    assert shown == {path.name for path in (ROOT / "notebooks").glob("*.ipynb")}
    assert str(learner) in log.read_text()


def test_it_opens_at_lesson_0(opened):
    port, _, log = opened
    assert (ROOT / "notebooks" / "00_start_here.ipynb").exists()
    page = PLAIN.open(f"http://127.0.0.1:{port}/?token={token(log)}", timeout=5)
    assert page.url.partition("?")[0].endswith("/lab/tree/lessons/00_start_here.ipynb")


def test_what_is_printed_is_for_people(opened):
    _, _, log = opened
    lines = log.read_text().splitlines()
    assert lines[-1] == "To end, press Ctrl-C here."
    assert len(lines) == 4 and lines[0].startswith("Checked with a panel: "), lines


def test_the_kernel_connection_does_not_wait(start):
    from jupyter_server.services.kernels.connection.base import BaseKernelWebsocketConnection
    from traitlets.utils.importstring import import_item

    command = start.lab("python", Path("folder"), 8888, True)
    chosen = [item.partition("=")[2] for item in command if "kernel_websocket_connection_class" in item]
    assert len(chosen) == 1 and issubclass(import_item(chosen[0]), BaseKernelWebsocketConnection)

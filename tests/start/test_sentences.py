"""Everything that can go wrong at the start is one plain sentence that says what to do."""

import ast
import errno
import os
import re
import shutil
import socket
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = (ROOT / "start.py").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("version", "word"), [((2, 7, 18), "old"), ((3, 6, 9), "old"), ((3, 10, 99), "old"), ((3, 14, 0), "new")]
)
def test_python_too_old_or_too_new(start, refused, version, word):
    sentence = refused(start.refuse_version, version)
    assert f"Python {version[0]}.{version[1]}, which is too {word}: install Python 3.11, 3.12 or 3.13" in sentence


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 12, 1), (3, 13, 99)])
def test_python_that_is_supported(start, version):
    start.refuse_version(version)


def test_both_ends_are_those_of_the_project(start):
    wanted = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["requires-python"]
    assert wanted == ">={}.{},<{}.{}".format(*start.LOWEST, *start.TOO_NEW)


def test_an_old_python_can_read_the_file_and_gets_the_sentence_first():
    tree = ast.parse(SOURCE)
    newer = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.AsyncFunctionDef, ast.Match, ast.Nonlocal)
    found = [node.lineno for node in ast.walk(tree) if isinstance(node, newer)]
    for node in ast.walk(tree):
        if isinstance(node, ast.List | ast.Tuple) and any(isinstance(item, ast.Starred) for item in node.elts):
            found.append(node.lineno)
    for function in [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]:
        arguments = [*function.args.args, *function.args.kwonlyargs]
        if function.returns or function.args.kwonlyargs or any(argument.annotation for argument in arguments):
            found.append(function.lineno)
    assert found == [], "Python 2.7 or 3.5 cannot read these lines of start.py"
    before = SOURCE[: SOURCE.index("\nrefuse_version(sys.version_info)")]
    assert re.findall(r"^(?:import|from) .*", before, re.MULTILINE) == [
        "from __future__ import print_function",
        "import sys",
    ]


def test_only_the_standard_library_is_imported():
    tree = ast.parse(SOURCE)
    names = {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    names |= {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    assert {name.partition(".")[0] for name in names} <= set(sys.stdlib_module_names) | {"evlib"}


def test_no_venv_module(clone, refused, monkeypatch):
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    sentence = refused(clone.main, ["check"])
    assert "no venv module: install it" in sentence and "sudo apt install python3-venv" in sentence
    assert not clone.VENV.exists()


def test_a_port_in_use_stops_before_anything_is_installed(clone, refused):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        sentence = refused(clone.main, ["--port", str(port)])
    assert f"Port {port} is in use" in sentence and "python3 start.py --port" in sentence
    assert not clone.VENV.exists()


def test_without_a_wish_a_free_port_is_found(start, monkeypatch):
    port = start.free_port(None)
    with socket.socket() as other:
        other.bind(("127.0.0.1", port))
        other.listen()
        assert start.free_port(None) != port


@pytest.mark.parametrize("port", ["0", "80", "65536", "-1"])
def test_a_port_that_cannot_be_used(start, refused, port):
    assert f"Port {port} cannot be used" in refused(start.main, [f"--port={port}"])


def test_no_room_on_the_disk(clone, refused, monkeypatch):
    usage = shutil.disk_usage("/")
    monkeypatch.setattr(clone.shutil, "disk_usage", lambda _: usage._replace(free=3e8))
    assert "The disk has 0.3 GB free, and 1.2 GB are needed" in refused(clone.main, ["check"])
    assert not clone.VENV.exists()


@pytest.mark.parametrize(
    ("code", "words"), [(errno.ENOSPC, "The disk is full"), (errno.EACCES, "could not be written")]
)
def test_a_disk_that_fills_up_or_is_locked_on_the_way(clone, refused, monkeypatch, code, words):
    def fails(_):
        raise OSError(code, os.strerror(code), "/somewhere")

    monkeypatch.setattr(clone, "make_venv", lambda: fails(0))
    assert words in refused(clone.main, ["check"])


# Lines as pip 23 to 26 print them; the first from a disk of 20 MB, the others from the cases that they name.
PIP_SAYS = {
    "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device": "The disk is full",
    "OSError: [WinError 112] There is not enough space on the disk": "The disk is full",
    "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.": "not the one that was pinned",
    "WARNING: Retrying (Retry(total=4, connect=None)) after connection broken by 'NewConnectionError("
    "'<pip._vendor.urllib3.connection.HTTPSConnection object>: Failed to establish a new connection: "
    "[Errno -3] Temporary failure in name resolution')': /simple/numpy/\n"
    "ERROR: Could not find a version that satisfies the requirement numpy==2.4.6 (from versions: none)\n"
    "ERROR: No matching distribution found for numpy==2.4.6": "could not be downloaded",
    "WARNING: Retrying (Retry(total=0)) after connection broken by 'ProxyError('Cannot connect to proxy.', "
    "NewConnectionError())': /simple/": "could not be downloaded",
    "SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED] certificate verify failed: unable to get "
    "local issuer certificate'))": "certificate was not accepted",
    "ERROR: No matching distribution found for scipy==1.17.1": "for this machine was found (scipy)",
    "ERROR: Could not install packages due to an OSError: [Errno 13] Permission denied: '/x'": "could not be written",
}


@pytest.mark.parametrize("said", PIP_SAYS)
def test_what_pip_says_becomes_one_sentence(start, said):
    assert PIP_SAYS[said] in start.explain(said)


def test_what_nobody_foresaw_names_the_log(clone, refused):
    fake = clone.HERE / "fake_pip"
    fake.write_text("#!/bin/sh\necho 'something new'\nexit 3\n")
    fake.chmod(0o755)
    clone.VENV.mkdir()
    sentence = refused(clone.pip, fake, "install", clone.PINS)
    assert str(clone.VENV / "install.log") in sentence
    assert (clone.VENV / "install.log").read_text() == "something new\n"


def test_a_learners_folder_that_cannot_be_made(filled, refused, monkeypatch, tmp_path):
    (tmp_path / "file").write_text("")
    filled.main(["check"])
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path / "file" / "mine"))
    assert "set EVLIB_FOLDER to the path of a folder" in refused(filled.main, [])


def test_a_server_that_ends_by_itself(filled, refused, tmp_path):
    (filled.HERE / "notebooks").mkdir()
    sentence = refused(filled.main, ["--no-browser"])  # the small clone has no JupyterLab
    log = tmp_path / "learner" / ".jupyter" / "server.log"
    assert "JupyterLab ended by itself" in sentence and str(log) in sentence
    assert "No module named jupyterlab" in log.read_text()

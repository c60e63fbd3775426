#!/usr/bin/env python3
"""Sets up and opens the lessons, with nothing but Python: ``python3 start.py`` (Windows: ``py start.py``).

The first start makes ``.venv`` beside this file and installs the pinned packages; later starts take seconds.
Needs only the standard library. Its syntax stays old on purpose (no f-strings, no annotations), so that a Python
that is too old can still read this file and say so in one sentence.
"""

from __future__ import print_function

import sys

LOWEST, TOO_NEW = (3, 11), (3, 14)  # pyproject.toml's requires-python; a test holds the two alike


def refuse_version(version):
    """End with one sentence if this Python is not one that the pinned packages support."""
    if not LOWEST <= tuple(version[:2]) < TOO_NEW:
        sys.exit(
            "This is Python {}.{}, which is too {}: install Python 3.11, 3.12 or 3.13 and start with that one, "
            "for example `python3.12 start.py` (Windows: `py -3.12 start.py`).".format(
                version[0], version[1], "old" if tuple(version[:2]) < LOWEST else "new"
            )
        )


refuse_version(sys.version_info)

import argparse
import hashlib
import os
import re
import secrets
import shutil
import socket
import subprocess
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
WHEELS = HERE / "wheels"  # only in a folder made by `start.py pack`
PACKED_FOR = "packed-for.txt"
PINS = HERE / "requirements.txt"
TEST_PINS = HERE / "requirements-test.txt"
PAGE = "/lab/tree/lessons/00_start_here.ipynb"  # where JupyterLab opens
ROOM = {PINS: 1.2e9, TEST_PINS: 1.6e9}  # free bytes wanted for an installation, downloads included
PACK_ROOM = 0.5e9
LEFT_OUT = (".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", ".ipynb_checkpoints", "wheels")  # of a pack

# What pip says of one package, and what it says when it fails, and what we say then: the first that is found counts.
ONE_PACKAGE = re.compile(r"(?:Collecting|Requirement already satisfied:|Processing \S*[/\\]) ?([\w.-]+?)[-=]=?\d")
TROUBLE = (
    (r"No space left|WinError 112|Errno 28|not enough space", "The disk is full: free 2 GB and start again."),
    (
        r"DO NOT MATCH THE HASHES",
        "A downloaded package is not the one that was pinned: start again; if it happens again, do not trust the "
        "network or the mirror that you use.",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED|SSLError",
        "The network's certificate was not accepted: set the date and time right, or ask who runs the network for its "
        "certificate file and name it with `python3 -m pip config set global.cert FILE`.",
    ),
    (
        r"ProxyError|NewConnectionError|NameResolutionError|ConnectTimeout|ConnectionError|ConnectionReset"
        r"|ReadTimeout|Max retries|Network is unreachable|HTTP error|Could not fetch URL",
        "The packages could not be downloaded, because the network or its proxy did not answer: connect to the "
        "internet (behind a proxy set HTTPS_PROXY) and start again, or use a folder made by `start.py pack`.",
    ),
    (
        r"No matching distribution|Could not find a version",
        "No ready-made package for this machine was found ({package}): use a 64-bit Python 3.11, 3.12 or 3.13 on "
        "Linux, macOS or Windows, and look whether pip's own settings (`python3 -m pip config list`) are right.",
    ),
    (
        r"Permission denied|Access is denied|WinError 5|Read-only file system|Errno 13|Errno 30",
        "Files could not be written: close other programs that use the lessons, put this folder where you may write, "
        "and start again.",
    ),
)


def main(arguments=None):
    """Do what the command line asks; the exit status is 0 only if all went well."""
    parser = argparse.ArgumentParser(prog="start.py", description="Set up and open the lessons.")
    parser.add_argument(
        "command",
        nargs="?",
        default="open",
        choices=["open", "check", "test", "lessons", "pack", "teach"],
        help="open: set up and open the lessons (if nothing is said); check: set up only; test: run all tests; "
        "lessons: run all notebooks anew and save them; pack: make a folder that installs without network; "
        "teach: make a folder with the teacher's pack",
    )
    parser.add_argument("folder", nargs="?", type=Path, help="the new folder that `pack` or `teach` makes")
    parser.add_argument("--learners", type=int, default=30, help="worksheets that `teach` makes (30 if not said)")
    parser.add_argument("--lessons", nargs="+", help="lessons that `teach` is about, such as 01 03b (all if not said)")
    parser.add_argument("--port", type=int, help="open JupyterLab on this port")
    parser.add_argument("--no-browser", action="store_true", help="print the address, open no browser")
    parser.add_argument("--here", action="store_true", help="use this Python and its packages (conda), no .venv")
    options = parser.parse_args(arguments)
    if (options.command in ("pack", "teach")) != (options.folder is not None):
        parser.error("`pack` and `teach` need the name of a new folder, and only these take one")
    try:
        return globals()["do_" + options.command](options)
    except KeyboardInterrupt:
        sys.exit("Stopped. Start again to go on.")
    except OSError as problem:
        sys.exit(explain(str(problem)) or "{}".format(problem))


def do_open(options):
    """Set up, bring the lessons to the learner's folder, open JupyterLab there."""
    from evlib.ground.folder import copy_lessons, folder

    port = free_port(options.port)
    python = ready(options, PINS)
    mine = folder()
    copied = copy_lessons(HERE / "notebooks", mine / "lessons")
    for name in copied.beside:
        print("You changed {}, so it stays as it is; its new version lies beside it.".format(name))
    token, log = secrets.token_hex(24), mine / ".jupyter" / "server.log"
    log.parent.mkdir(exist_ok=True)
    environment = dict(os.environ, PYTHONPATH=with_clone(), JUPYTER_CONFIG_DIR=str(log.parent), JUPYTER_TOKEN=token)
    print("Your files are in {}.".format(mine))
    print("The lessons open in your browser; if not, open http://127.0.0.1:{}{}?token={}".format(port, PAGE, token))
    print("To end, press Ctrl-C here.", flush=True)
    with log.open("w") as said:
        command = lab(python, mine, port, options.no_browser)
        server = subprocess.Popen(command, env=environment, cwd=str(mine), stdout=said, stderr=subprocess.STDOUT)
        while True:
            try:
                status = server.wait()
                break
            except KeyboardInterrupt:  # JupyterLab got it too, and ends by itself
                continue
    if status:
        sys.exit("JupyterLab ended by itself: {} says why.".format(log))
    return 0


def lab(python, folder, port, no_browser):
    """The command that opens JupyterLab: this machine only, with its token, lesson 0, kernel messages not delayed."""
    command = [str(python), "-m", "jupyterlab", "--ServerApp.answer_yes=True"]
    command += ["--ServerApp.ip=127.0.0.1", "--ServerApp.port={}".format(port), "--ServerApp.port_retries=0"]
    command += ["--ServerApp.root_dir={}".format(folder), "--LabApp.default_url=" + PAGE]
    command += ["--ServerApp.kernel_websocket_connection_class=evlib.panels.server.NoDelayConnection"]
    command += ["--no-browser"] if no_browser else []
    return command + (["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else [])


def do_check(options):
    """Set up, and work one panel without a browser."""
    ready(options, PINS)
    return 0


def do_test(options):
    """Run every check and test; the stages are in tests/run.py. nbgrader is set up first, in a place of its own."""
    return with_test_tools(options, "tests/course/nbgrader_set_up.py") or with_test_tools(options, "tests/run.py")


def do_lessons(options):
    """Run all notebooks anew and save them normalised."""
    return with_test_tools(options, "tests/notebooks/normalise.py")


def with_test_tools(options, script):
    """Run a script of the project with the test packages, and with a learner's folder that is thrown away."""
    python = ready(options, TEST_PINS)
    with tempfile.TemporaryDirectory() as scratch:
        mine = dict(EVLIB_FOLDER=str(Path(scratch) / "learner"), JUPYTER_CONFIG_DIR=str(Path(scratch) / "jupyter"))
        environment = dict(os.environ, PYTHONPATH=with_clone(), **mine)
        return subprocess.call([str(python), script], cwd=str(HERE), env=environment)


def do_teach(options):
    """Make the teacher's pack: plan, slides, a worksheet for each learner, and the key."""
    line = [str(ready(options, PINS)), "-m", "evlib.course", "pack", str(options.folder)]
    line += ["--learners", str(options.learners)] + (["--lessons"] + options.lessons if options.lessons else [])
    return subprocess.call(line, env=dict(os.environ, PYTHONPATH=with_clone()))


def do_pack(options):
    """Make a folder with the project and its packages for a machine like this one."""
    target = options.folder.expanduser().resolve()
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        sys.exit("{} exists already: name a new folder.".format(target))
    if target == HERE or HERE in target.parents:
        sys.exit("{} lies inside the project: name a folder elsewhere.".format(target))
    python = make_venv()
    target.mkdir(parents=True, exist_ok=True)
    refuse_full_disk(target, PACK_ROOM)
    shutil.copytree(str(HERE), str(target), ignore=shutil.ignore_patterns(*LEFT_OUT), dirs_exist_ok=True)
    wheels = target / WHEELS.name
    pip(python, "download", TEST_PINS, "--dest", str(wheels))
    (wheels / PACKED_FOR).write_text(this_machine(python) + "\n", encoding="utf-8")
    print("{} is packed for {}. On a like machine: `python3 start.py` in it.".format(target, this_machine(python)))
    return 0


def ready(options, pins):
    """The Python that has the packages: of ``.venv``, made and filled where needed; or this one with ``--here``."""
    if options.here:
        verify(sys.executable)
        return Path(sys.executable)
    stamp = VENV / (pins.stem + ".stamp")
    wanted = hashlib.sha256(pins.read_bytes() + str(HERE).encode()).hexdigest()
    if venv_python().exists() and stamp.exists() and stamp.read_text() == wanted:
        if options.command == "check":
            verify(venv_python())
        return venv_python()
    refuse_full_disk(HERE, ROOM[pins])
    began = time.monotonic()
    python = make_venv()
    refuse_other_machine(python)
    pip(python, "install", pins)
    settle(python)
    verify(python)
    stamp.write_text(wanted)
    print("Set up in {:.0f} s.".format(time.monotonic() - began))
    return python


def venv_python():
    """The Python of ``.venv``, whether it is there or not."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def make_venv():
    """``.venv`` with a pip; made anew only if its Python does not run."""
    python = venv_python()
    if python.exists() and succeeds([str(python), "-m", "pip", "--version"]):
        return python
    try:
        import ensurepip  # noqa: F401 - Debian leaves it out; without it a venv has no pip
        import venv
    except ImportError:
        sys.exit(
            "This Python has no venv module: install it (Debian and Ubuntu: `sudo apt install python3-venv`) "
            "and start again."
        )
    print("Making .venv ...", flush=True)
    try:
        venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt", clear=VENV.exists()).create(str(VENV))
    except subprocess.CalledProcessError as problem:
        sys.exit(
            explain(str(problem.output or ""))
            or "Python could not make .venv: install Python's venv module anew, delete {} and start again.".format(VENV)
        )
    return python


def pip(python, command, pins, *more):
    """Run pip with progress shown; proxies and pip's own settings hold. Ends with one sentence if it fails."""
    total = len(re.findall(r"^[A-Za-z0-9].*==", pins.read_text(encoding="utf-8"), re.MULTILINE))
    verb = "Downloading" if command == "download" else "Installing"
    print("{} about {} packages; the first time this takes a few minutes.".format(verb, total), flush=True)
    line = [str(python), "-m", "pip", command, "--require-hashes", "--only-binary", ":all:", "--no-input"]
    line += ["--disable-pip-version-check", "--progress-bar", "off", "-r", str(pins)] + list(more)
    if WHEELS.is_dir():
        line += ["--no-index", "--find-links", str(WHEELS)]
    environment = dict(os.environ, PIP_USER="0", PYTHONIOENCODING="utf-8")
    log = VENV / "install.log"
    kept, count = [], 0
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=environment) as process:
        for raw in process.stdout:
            text = raw.decode("utf-8", "replace").rstrip()
            kept.append(text)
            found = ONE_PACKAGE.match(text)
            if found:
                count += 1
                show("{:4d}  {}".format(count, found.group(1)), always=count % 10 == 0)
            elif text.startswith("Installing collected"):
                show("      putting them in place", always=True)
            elif text.startswith("WARNING: Retrying"):
                show("      the network does not answer; trying again", always=True)
    log.write_text("\n".join(kept) + "\n", encoding="utf-8")
    if process.returncode:
        said = explain("\n".join(kept))
        sys.exit(said or "The packages could not be installed: {} says why; delete .venv and start again.".format(log))


def show(text, always):
    """One line of progress: in place on a terminal; in a file only now and then."""
    if sys.stdout.isatty():
        print("\r{:60.60s}\r".format(text), end="", flush=True)
    elif always:
        print(text, flush=True)


def explain(said):
    """One plain sentence for what went wrong, or nothing."""
    for pattern, sentence in TROUBLE:
        if re.search(pattern, said):
            package = re.search(r"(?:No matching distribution found for|satisfies the requirement) ([\w.-]+)", said)
            return sentence.format(package=package.group(1) if package else "see .venv/install.log")
    return ""


def settle(python):
    """Put the clone on the path of ``.venv``, and switch off JupyterLab's question about news."""
    write = (
        "import pathlib, sys, sysconfig; "
        "path = pathlib.Path(sysconfig.get_path('purelib'), 'evlib.pth'); "
        "path.write_text(sys.argv[1] + '\\n', encoding=None if sys.version_info < (3, 13) else 'utf-8')"
    )
    subprocess.check_call([str(python), "-c", write, str(HERE)])
    settings = VENV / "share" / "jupyter" / "lab" / "settings"
    settings.mkdir(parents=True, exist_ok=True)
    quiet = '{"@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": false}}\n'
    (settings / "overrides.json").write_text(quiet, encoding="utf-8")


def verify(python):
    """Work a real panel without a browser; ends with one sentence if that fails."""
    tried = subprocess.run(
        [str(python), "-c", VERIFY],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=dict(os.environ, PYTHONPATH=with_clone()),
    )
    said = tried.stdout.decode("utf-8", "replace").strip()
    if tried.returncode:
        last = said.splitlines()[-1] if said else "it said nothing"
        sys.exit("The set-up is not whole ({}): delete .venv and start again.".format(last))
    print(said, flush=True)


VERIFY = """
from evlib.panels.bridges import power_panel
from evlib.panels.markup import panel_html
page, said = panel_html(power_panel())
assert "data:image/png" in page
print("Checked with a panel: " + said.splitlines()[1])
"""


def with_clone():
    """PYTHONPATH with the clone first, so that ``evlib`` is found with ``--here`` too."""
    return os.pathsep.join([str(HERE)] + [p for p in [os.environ.get("PYTHONPATH", "")] if p])


def succeeds(command):
    """Whether a command runs and ends well."""
    try:
        return subprocess.call(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0
    except OSError:
        return False


def free_port(wanted):
    """The wanted port, or the first free one from 8888 on; ends with one sentence if it is in use."""
    if wanted is not None and not 1024 <= wanted <= 65535:
        sys.exit("Port {} cannot be used: give one from 1024 to 65535.".format(wanted))
    for port in [wanted] if wanted is not None else range(8888, 8988):
        with socket.socket() as door:
            if os.name != "nt":
                door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                door.bind(("127.0.0.1", port))
                return port
            except OSError:
                continue
    sys.exit(
        "Port {} is in use: close the program that uses it (perhaps these lessons, opened before), or choose another "
        "with `python3 start.py --port 9000`.".format(wanted or "8888 and the hundred after it")
    )


def refuse_full_disk(folder, room):
    """End with one sentence if the disk has too little room."""
    free = shutil.disk_usage(str(folder)).free
    if free < room:
        sys.exit(
            "The disk has {:.1f} GB free, and {:.1f} GB are needed: free some and start again.".format(
                free / 1e9, room / 1e9
            )
        )


def this_machine(python):
    """What wheels depend on: system, processor, Python."""
    ask = "import platform as p; print(p.system(), p.machine(), 'Python', '.'.join(p.python_version_tuple()[:2]))"
    return subprocess.check_output([str(python), "-c", ask]).decode().strip()


def refuse_other_machine(python):
    """End with one sentence if this folder was packed for another kind of machine."""
    if (WHEELS / PACKED_FOR).exists():
        made, this = (WHEELS / PACKED_FOR).read_text(encoding="utf-8").strip(), this_machine(python)
        if made != this:
            shutil.rmtree(str(VENV), ignore_errors=True)  # made a moment ago, with the wrong Python
            sys.exit(
                "This folder is packed for {}, and this is {}: start it with that Python, or pack it anew on a "
                "machine like this one.".format(made, this)
            )


if __name__ == "__main__":
    sys.exit(main())

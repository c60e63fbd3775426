"""One JupyterLab, one browser, and the few moves that browser tests make in them."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update",
]  # fmt: skip
_reach = urllib.request.build_opener(urllib.request.ProxyHandler({}))  # this machine, past any proxy
WIDE, NARROW = (1400, 1000), (900, 1000)


def chromium() -> str:
    """Path of a Chromium, or nothing."""
    names = [os.environ.get("EVLIB_CHROMIUM", ""), "chromium", "chromium-browser", "google-chrome", "chrome", "msedge"]
    return next((found for name in names if name and (found := shutil.which(name))), "")


def notebook(cells: list[str]) -> str:
    """A notebook with these code cells."""
    made = [{"cell_type": "code", "id": f"cell-{n}", "metadata": {}, "execution_count": None, "outputs": [],
             "source": cell} for n, cell in enumerate(cells)]  # fmt: skip
    spec = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    return json.dumps({"cells": made, "metadata": spec, "nbformat": 4, "nbformat_minor": 5})


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextlib.contextmanager
def jupyterlab(folder: Path, home: Path, *, no_delay: bool = True) -> Iterator[str]:
    """A JupyterLab on ``folder``; gives its address with the token. ``home`` holds settings and the learner's files."""
    port, token = free_port(), "browser-tests"
    path = os.pathsep.join(filter(None, [str(ROOT), str(ROOT / "tests" / "panels"), os.environ.get("PYTHONPATH", "")]))
    environment = {
        **os.environ, "PYTHONPATH": path, "EVLIB_FOLDER": str(home / "learner"), "IPYTHONDIR": str(home / "ipython"),
        "JUPYTER_CONFIG_DIR": str(home / "config"), "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"), "JUPYTERLAB_SETTINGS_DIR": str(home / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(home / "workspaces"),
    }  # fmt: skip
    command = [
        sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", f"--port={port}", "--ip=127.0.0.1",
        f"--IdentityProvider.token={token}", f"--ServerApp.root_dir={folder}", "--ServerApp.port_retries=0",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
    ]  # fmt: skip
    if no_delay:
        command.append("--ServerApp.kernel_websocket_connection_class=evlib.panels.server.NoDelayConnection")
    run_cells_settings(home)
    with (home / "lab.log").open("w") as log:
        server = subprocess.Popen(command, env=environment, cwd=folder, stdout=log, stderr=subprocess.STDOUT)
    try:
        address = f"http://127.0.0.1:{port}"
        wait_for(lambda: _answers(f"{address}/api/status?token={token}"), 90, f"JupyterLab; see {home / 'lab.log'}")
        yield f"{address}/lab?token={token}"
    finally:
        server.terminate()
        try:
            server.wait(15)
        except subprocess.TimeoutExpired:
            server.kill()


def run_cells_settings(home: Path) -> None:
    """Lab's settings for tests: no news, and every cell in the page (elsewhere cells out of sight may not be)."""
    wanted = {
        "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
        "notebook-extension/tracker": {"windowingMode": "none"},
    }
    for name, values in wanted.items():
        path = home / "settings" / "@jupyterlab" / f"{name}.jupyterlab-settings"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(values))


def _answers(address: str) -> bool:
    try:
        with _reach.open(address, timeout=2):
            return True
    except OSError:
        return False


def wait_for(happens: Any, seconds: float, what: str) -> Any:
    """Ask again until it happens; gives the first true answer."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = happens()
        if found:
            return found
        time.sleep(0.1)
    raise TimeoutError(f"not within {seconds} s: {what}")


def before_first_run(path: Path) -> None:
    """Take outputs and prompt numbers out of a copied notebook: then a number means that a cell ran here.

    Saved numbers may be drawn after one has looked for them, so looking and clearing in the page comes too early.
    """
    book = json.loads(path.read_text(encoding="utf-8"))
    for cell in book["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    path.write_text(json.dumps(book), encoding="utf-8")


class Notebook:
    """An open notebook in the page."""

    def __init__(self, page: Any, address: str, name: str, *, kernel: bool = True) -> None:
        self.page = page
        self.address = address
        self.name = name
        base, _, query = address.partition("?")
        page.goto(f"{base}/tree/{name}?{query}&reset")
        page.wait_for_selector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Cell", timeout=60_000)
        if kernel:
            wait_for(self.ready, 90, "a kernel that waits for work")

    def ready(self) -> bool:
        """Has it a kernel, and is that idle? Only the server knows: the page says idle before there is one.

        On a busy machine Lab asks which kernel is wanted, before it knows of any; it is told.
        """
        for dialog in self.page.query_selector_all(".jp-Dialog .jp-mod-accept"):
            dialog.click()
        return any(session["kernel"]["execution_state"] == "idle" for session in self.sessions())

    def sessions(self) -> list[dict[str, Any]]:
        """This notebook's sessions, as the server knows them."""
        base, _, query = self.address.partition("/lab?")
        with _reach.open(f"{base}/api/sessions?{query}") as answer:
            return [session for session in json.load(answer) if session["path"] == self.name]

    def run_all(self, seconds: float = 120) -> None:
        """Run every cell. Asking too early is lost without a word, so ask until a prompt number shows."""
        end = time.monotonic() + seconds
        while time.monotonic() < end and not any(mark.strip("[]: ") for mark in self.prompts()):
            self.menu("Run", "Run All Cells")
            with contextlib.suppress(TimeoutError):
                wait_for(lambda: any(mark.strip("[]: ") for mark in self.prompts()), 5, "a prompt number")
        wait_for(self.finished, end - time.monotonic(), "all cells have a number")

    def menu(self, menu: str, item: str) -> None:
        """Choose an item of the menu bar by its words."""
        self.page.click(f'.lm-MenuBar-item:has-text("{menu}")')
        self.page.click(f'.lm-Menu-item:has(.lm-Menu-itemLabel:text-is("{item}"))')

    def close(self) -> None:
        """End its kernel, so that kernels do not pile up."""
        base, _, query = self.address.partition("/lab?")
        for session in self.sessions():
            order = urllib.request.Request(f"{base}/api/sessions/{session['id']}?{query}", method="DELETE")
            _reach.open(order).close()

    def restart(self) -> None:
        """Restart the kernel, and say yes."""
        self.menu("Kernel", "Restart Kernel…")
        self.page.click(".jp-Dialog button.jp-mod-accept")

    def kernel_dies(self) -> None:
        """Restart the kernel behind the page's back: nothing is clicked, so the cursor stays where it is."""
        base, _, query = self.address.partition("/lab?")
        for session in self.sessions():
            place = f"{base}/api/kernels/{session['kernel']['id']}/restart?{query}"
            _reach.open(urllib.request.Request(place, data=b"", method="POST")).close()

    def prompts(self) -> list[str]:
        """The prompts of the code cells, as ``[3]:``."""
        return list(self.page.evaluate(
            "() => [...document.querySelectorAll('.jp-NotebookPanel:not(.lm-mod-hidden) .jp-CodeCell')]"
            ".filter(c => (c.querySelector('.cm-content')?.textContent || '').trim())"
            ".map(c => c.querySelector('.jp-InputPrompt')?.textContent || '')"))  # fmt: skip

    def finished(self) -> bool:
        """Has every cell that is drawn run to its end?"""
        marks = [mark.strip("[]: ") for mark in self.prompts()]
        return bool(marks) and all(mark.isdigit() for mark in marks) and self.page.evaluate(
            "() => document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden) .jp-Notebook-ExecutionIndicator')"
            "?.dataset.status !== 'busy'")  # fmt: skip


def picture(page: Any, path: Path, width: int) -> None:
    """A screenshot of the whole open notebook: the window is made as tall as it is."""
    tall = page.evaluate(
        "() => { const w = document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden) .jp-WindowedPanel-outer');"
        " return w ? w.scrollHeight : 1000; }"
    )
    page.set_viewport_size({"width": width, "height": min(int(tall) + 150, 16_000)})
    page.wait_for_timeout(500)
    page.screenshot(path=str(path))

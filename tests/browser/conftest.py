"""One JupyterLab and one Chromium for all browser tests."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import lab

NOTEBOOKS = lab.ROOT / "notebooks"


def pytest_collection_modifyitems(items):
    """Everything in this folder needs a browser; without one it is skipped, and says so."""
    here = Path(__file__).parent
    for item in items:
        if here in Path(item.fspath).parents:
            item.add_marker(pytest.mark.browser)
            if not lab.chromium():
                item.add_marker(pytest.mark.skip(reason="no Chromium found: install it, or set EVLIB_CHROMIUM"))


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    """A copy of the notebooks."""
    copied = tmp_path_factory.mktemp("lab") / "notebooks"
    shutil.copytree(NOTEBOOKS, copied, ignore=shutil.ignore_patterns(".ipynb_checkpoints"))
    for path in copied.glob("*.ipynb"):
        lab.before_first_run(path)
    return copied


@pytest.fixture(scope="session")
def address(folder, tmp_path_factory):
    """The address of the one JupyterLab."""
    with lab.jupyterlab(folder, tmp_path_factory.mktemp("home")) as found:
        yield found


@pytest.fixture(scope="session")
def browser():
    """The one Chromium."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as tool:
        started = tool.chromium.launch(executable_path=lab.chromium(), args=lab.FLAGS)
        yield started
        started.close()


@pytest.fixture
def page(browser):
    """A page of its own for each test."""
    opened = new_page(browser)
    yield opened
    opened.context.close()


def new_page(browser):
    """A page that may reach this machine only; what goes wrong in it is kept in ``page.errors``."""
    context = browser.new_context(viewport={"width": lab.WIDE[0], "height": lab.WIDE[1]})
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened = context.new_page()
    here = ("http://127.0.0.1", "file:", "data:", "blob:")
    opened.route(lambda url: not url.startswith(here), lambda route: route.abort())
    opened.errors = []
    opened.on("pageerror", lambda error: opened.errors.append(str(error)))
    opened.on("console", lambda said: opened.errors.append(said.text) if "anywidget" in said.text else None)
    return opened


@pytest.fixture(scope="session")
def screenshots():
    """Where screenshots of the lessons go: the folder named by EVLIB_SCREENSHOTS, or nowhere."""
    named = os.environ.get("EVLIB_SCREENSHOTS", "")
    if not named:
        return None
    made = Path(named)
    made.mkdir(parents=True, exist_ok=True)
    return made

"""Every lesson in a browser: run whole, its panels moved by keyboard, axe, without a kernel, exported."""

from __future__ import annotations

import json
import subprocess
import sys

import checks
import lab
import pytest

NAMES = sorted(path.name for path in (lab.ROOT / "notebooks").glob("*.ipynb"))
ALL_LIVE = (
    "() => document.querySelectorAll('.evlib-mount').length"
    " === document.querySelectorAll('.evlib-live:not([hidden]) > *').length"
)
OURS = ".evlib-panel, .evlib-static, .evlib-picture, .evlib-box, .evlib-mount"


@pytest.mark.parametrize("name", NAMES)
def test_a_lesson_runs_and_its_panels_move(name, page, address, screenshots):
    book = lab.Notebook(page, address, name)
    book.run_all(240)
    lab.wait_for(lambda: page.evaluate(ALL_LIVE), 60, "every mount has its live part")
    assert page.evaluate(checks.ERRORS) == []
    for panel in checks.panels(page):
        panel.scroll_into_view_if_needed()
        before, after = checks.move_probe(page, panel)
        for part in ("picture", "alt", "sentence", "table"):
            assert before[part] != after[part], f"{panel.get_attribute('data-panel')}: the {part} did not follow"
    assert page.evaluate(ALL_LIVE), "a mount stayed without its live part"
    assert checks.axe_findings(page, OURS) == []
    for width, height in (lab.WIDE, lab.NARROW):
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_timeout(300)
        assert checks.sticking_out(page) == []
        if screenshots:
            lab.picture(page, screenshots / f"{name.removesuffix('.ipynb')}_{width}.png", width)
    assert page.errors == []
    book.close()


@pytest.mark.parametrize("name", NAMES)
def test_a_lesson_without_a_kernel_shows_its_pictures_and_no_error(name, page, address, folder):
    copy = folder / f"still_{name}"
    book = json.loads((lab.ROOT / "notebooks" / name).read_text(encoding="utf-8"))
    pictures = json.dumps(book).count("data:image/png;base64,")
    book["metadata"] = {}  # nothing to choose a kernel by
    copy.write_text(json.dumps(book), encoding="utf-8")
    lab.Notebook(page, address, copy.name, kernel=False)
    page.click('.jp-Dialog button:has-text("No Kernel")')
    page.wait_for_timeout(1500)
    assert page.evaluate(checks.ERRORS) == []
    assert page.evaluate(checks.PICTURES) == [True] * pictures
    assert page.locator(".evlib-static").count() == page.locator(".evlib-static:visible").count()
    assert checks.axe_findings(page, OURS) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_lesson_exported_and_opened_offline_shows_its_pictures(name, page, tmp_path):
    source = lab.ROOT / "notebooks" / name
    pictures = source.read_text(encoding="utf-8").count("data:image/png;base64,")
    command = [sys.executable, "-m", "nbconvert", "--to", "html", "--output-dir", str(tmp_path), str(source)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    (made,) = tmp_path.glob("*.html")
    page.goto(made.as_uri(), wait_until="domcontentloaded")
    page.wait_for_timeout(500)
    assert page.evaluate(checks.ERRORS) == []
    assert page.evaluate(checks.PICTURES) == [True] * pictures

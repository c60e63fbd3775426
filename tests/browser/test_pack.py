"""The teacher's pack in a browser: nothing fetched, axe finds nothing, nothing reaches out of the paper."""

from __future__ import annotations

import re
import shutil
import subprocess

import checks
import pytest

from evlib.course.__main__ import main

NAMES = ["index", "plan", "competences", "workshop_safety", "slides/04_hydraulics", "slides/07_build_sheet",
         "key/wrong_answers", "key/marking", "key/answers_03b_shafts_truth", "worksheets/01_motors",
         "prints/pictures"]  # fmt: skip
WIDER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def pack(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pack") / "K1"
    assert main(["pack", str(folder), "--learners", "2"]) == 0
    return folder


@pytest.mark.parametrize("name", NAMES)
def test_a_page_of_the_pack_is_accessible_and_stays_within_its_window(name, pack, browser, screenshots):
    page = browser.new_page(viewport={"width": 1000, "height": 800})
    refused = []
    page.route("**/*", lambda route: route.continue_() if route.request.url.startswith((pack.as_uri(), "data:"))
               else (refused.append(route.request.url), route.abort()))  # fmt: skip
    page.goto((pack / f"{name}.html").as_uri())
    page.evaluate(checks.axe_source())
    assert checks.axe_findings(page, "body") == []
    assert page.evaluate(checks.PICTURES) == [True] * (pack / f"{name}.html").read_text().count("data:image/png")
    assert page.evaluate(WIDER) <= 0 and refused == []
    if screenshots:
        page.screenshot(path=screenshots / f"pack_{name.replace('/', '_')}.png")
    page.close()


def test_every_slide_prints_on_one_sheet(pack, browser, tmp_path):
    page = browser.new_page()
    page.goto((pack / "slides" / "04_hydraulics.html").as_uri())
    made = tmp_path / "slides.pdf"
    page.pdf(path=made, prefer_css_page_size=True, print_background=True)
    slides = page.locator("section").count()
    page.close()
    assert slides > 15
    assert len(re.findall(rb"/Type\s*/Page\b", made.read_bytes())) == slides
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", "-layout", str(made), "-"], capture_output=True, text=True, check=True
        ).stdout
        assert [f"{number} of {slides}" in sheet for number, sheet in enumerate(text.split("\f")[:slides], 1)] == [
            True
        ] * slides

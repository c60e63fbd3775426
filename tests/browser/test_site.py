"""The lessons as pages, opened from a disk with every network refused: on a phone, on a desk, on paper."""

from __future__ import annotations

import re

import checks
import lab
import pytest

from evlib.course.__main__ import main

PHONE, DESK = (360, 740), (1200, 900)
NAMES = ["index", *sorted(path.stem for path in (lab.ROOT / "notebooks").glob("*.ipynb"))]
# By how much the page is wider than the window, and what is wider, but for what moves sideways within itself.
STICKING = """
() => document.documentElement.scrollWidth <= window.innerWidth ? [] : [
  document.documentElement.scrollWidth - window.innerWidth, ...[...document.querySelectorAll("body *")]
  .filter((e) => e.getBoundingClientRect().right > window.innerWidth + 1 && !e.parentElement.closest(".wide, pre"))
  .map((e) => e.outerHTML.slice(0, 160))]
"""
UNREACHED = """
() => [...document.querySelectorAll(".wide, pre")]
  .filter((e) => e.scrollWidth > e.clientWidth + 1 && e.tabIndex < 0).map((e) => e.textContent.slice(0, 80))
"""
AXE = """
async () => (await axe.run(document, {resultTypes: ["violations"]})).violations
  .flatMap((v) => v.nodes.map((n) => v.id + ": " + n.html.slice(0, 160)))
"""


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    made = tmp_path_factory.mktemp("site") / "lessons"
    assert main(["site", str(made)]) == 0
    return made


@pytest.fixture
def opened(browser, place):
    """Opens a page; whatever it asks for that is not a file of this folder or inside the page is refused and kept."""
    context = browser.new_context()
    page = context.new_page()
    page.refused, page.said, asked = [], [], []

    def decide(route):
        address = route.request.url
        asked.append(address)
        if address.startswith((place.as_uri(), "data:")):
            route.continue_()
        else:
            page.refused.append(address)
            route.abort()

    page.route("**/*", decide)
    page.on("console", lambda said: page.said.append(said.text))
    page.on("pageerror", lambda error: page.said.append(str(error)))

    def go(name, size):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.goto((place / f"{name}.html").as_uri())
        assert any(address.endswith(f"{name}.html") for address in asked), "the refusal saw no request at all"
        return page

    yield go
    context.close()


@pytest.mark.parametrize("name", NAMES)
def test_a_page_opens_from_the_disk_and_asks_for_nothing_else(name, opened, place, screenshots):
    for label, size in (("phone", PHONE), ("desk", DESK)):
        page = opened(name, size)
        for fold in page.query_selector_all("details:not([open])"):
            fold.evaluate("fold => { fold.open = true }")
        assert page.evaluate(checks.PICTURES) == [True] * (place / f"{name}.html").read_text().count("data:image/png")
        assert page.evaluate(STICKING) == []
        assert page.evaluate(UNREACHED) == []
        if size == PHONE:
            page.evaluate(checks.axe_source())
            assert page.evaluate(AXE) == []
        if screenshots:
            page.screenshot(path=screenshots / f"site_{name}_{label}.png")
    assert page.refused == [] and page.said == []


def test_a_reader_goes_from_the_index_through_a_lesson_and_on_by_keyboard(opened):
    page = opened("index", PHONE)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the text"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/00_start_here.html")
    fold = page.locator("summary", has_text="Solution of start.11").first
    hidden = page.locator("details", has=page.locator("summary", has_text="Solution of start.11")).locator("p").first
    assert not hidden.is_visible()
    fold.focus()
    page.keyboard.press("Enter")
    assert hidden.is_visible() and "Answer:" in hidden.inner_text()
    page.locator("nav.last a", has_text="Next").click()
    page.wait_for_url("**/00b_bridges.html")


def test_the_formula_is_drawn(opened):
    page = opened("07_build_sheet", PHONE)
    line, fraction = (page.locator(tag).first.bounding_box() for tag in ("math mtext", "math mfrac"))
    assert fraction["height"] > 1.6 * line["height"], "numerator and denominator stand one above the other"


def test_a_page_prints_with_why_open_and_solutions_folded(opened):
    page = opened("01_motors", DESK)
    assert len(re.findall(rb"/Type ?/Page\b", page.pdf(format="A4"))) > 10
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 900})  # the width of A4 between its margins
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert page.locator("nav").first.is_hidden() and page.locator("details.code").first.is_hidden()
    why = page.locator("details", has=page.locator("summary", has_text=re.compile("^Why$"))).first
    solved = page.locator("details", has=page.locator("summary", has_text="Solution of motors.1")).first
    tall, low = (fold.bounding_box()["height"] for fold in (why, solved))
    assert tall > 2 * low, "why is read on paper too; a solution stays folded"

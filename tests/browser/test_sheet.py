"""The build sheet as a page and as print: pages counted, nothing sticks out, axe finds nothing, on A4 and Letter."""

from __future__ import annotations

import re

import checks
import pytest

from evlib.build.changes import changed_by, changes_of
from evlib.build.file import blank, find_build, parse_build, read_build
from evlib.build.sheet import sheet

PAPER = {"A4": (595, 842), "Letter": (612, 792)}  # points
MARGIN = 14 / 25.4 * 96  # the sheet's own margin at the sides in CSS pixels
BUILDS = ["orchard_van", "quarry_pickup", "college_hatch", "blank", "long names", "changed"]

# What reaches out of the page's width, or out of its drawing; and words of a drawing that lie on each other.
STICKING = """
() => {
  const out = [];
  const wide = document.documentElement.clientWidth + 1;
  for (const part of document.querySelectorAll("main *")) {
    const box = part.getBoundingClientRect();
    if (box.width && (box.right > wide || box.left < -1)) out.push("off the page: " + part.outerHTML.slice(0, 90));
  }
  for (const cell of document.querySelectorAll("td, th, p, li"))
    if (cell.scrollWidth > cell.clientWidth + 1) out.push("too wide: " + cell.outerHTML.slice(0, 90));
  for (const picture of document.querySelectorAll("svg")) {
    const frame = picture.getBoundingClientRect();
    const words = [...picture.querySelectorAll("text")].map((text) => [text.textContent, text.getBoundingClientRect()]);
    for (const [text, box] of words)
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
        out.push("out of its drawing: " + text);
    for (const [i, [text, a]] of words.entries())
      for (const [other, b] of words.slice(i + 1))
        if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3)
          out.push("on each other: " + text + " / " + other);
  }
  return out;
}
"""  # noqa: E501


def build_of(name):
    if name == "blank":
        return parse_build(blank())
    if name == "changed":
        return changed_by(read_build(find_build("quarry_pickup")), changes_of("quarry_pickup"))
    if name == "long names":
        return parse_build(f"[build]\nname = '{'Wonderful ' * 12}'\nnote = '{'word ' * 120}'\n")
    return read_build(find_build(name))


@pytest.fixture(scope="module")
def sheets():
    return {name: sheet(build_of(name)) for name in BUILDS}


@pytest.fixture(params=BUILDS)
def written(request, page, sheets, tmp_path, screenshots):
    path = tmp_path / "sheet.html"
    path.write_text(sheets[request.param], encoding="utf-8")
    page.goto(path.as_uri())
    if screenshots:
        page.screenshot(path=screenshots / f"sheet_{request.param.replace(' ', '_')}.png", full_page=True)
    return page


def pages(pdf):
    return len(re.findall(rb"/Type ?/Page\b", pdf))


def as_print(page, paper):
    """The page as it is laid out for print, at the width between the margins."""
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    width, height = PAPER[paper]
    page.set_viewport_size({"width": int(width * 96 / 72 - 2 * MARGIN), "height": height})


@pytest.mark.parametrize("written", ["quarry_pickup", "college_hatch", "blank"], indirect=True)
def test_axe_finds_nothing_on_it(written):
    written.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    assert checks.axe_findings(written, "body") == []


@pytest.mark.parametrize("paper", PAPER)
def test_it_prints_on_fewer_than_thirty_pages_the_summary_on_one(written, paper):
    width, height = PAPER[paper]
    pdf = written.pdf(format=paper)
    boxes = set(re.findall(rb"/MediaBox ?\[([^\]]*)\]", pdf))
    assert boxes
    for box in boxes:
        _, _, right, top = map(float, box.split())
        assert (right, top) == pytest.approx((width, height), abs=1)
    assert 8 < pages(pdf) < 30
    # The summary fills one page, and what follows it begins another.
    written.emulate_media(media="print")
    assert written.evaluate("getComputedStyle(document.querySelector('#summary + section')).breakBefore") == "page"
    written.evaluate("for (const s of document.querySelectorAll('main > section')) s.hidden = s.id !== 'summary'")
    assert pages(written.pdf(format=paper)) == 1


@pytest.mark.parametrize("paper", PAPER)
def test_nothing_sticks_out_or_lies_on_each_other(written, paper):
    as_print(written, paper)
    assert written.evaluate(STICKING) == []


def test_nothing_sticks_out_on_a_small_screen(written):
    written.set_viewport_size({"width": 700, "height": 900})
    assert [line for line in written.evaluate(STICKING) if line.startswith(("off the page", "too wide"))] == []


def test_printed_every_check_is_open_and_on_screen_only_what_failed(page, sheets, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text(sheets["quarry_pickup"], encoding="utf-8")
    page.goto(path.as_uri())
    shut = "[...document.querySelectorAll('details.check')].filter((fold) => !fold.open).length"
    failed = (
        "document.querySelectorAll('details.check:has(summary .fail), details.check:has(summary .marginal)').length"
    )
    of_all = page.evaluate("document.querySelectorAll('details.check').length")
    assert page.evaluate(shut) == of_all - page.evaluate(failed) > 0
    page.evaluate(f"addEventListener('beforeprint', () => {{ window.shut = {shut}; }})")
    page.pdf(format="A4")
    assert page.evaluate("window.shut") == 0
    assert page.evaluate(shut) == of_all - page.evaluate(failed)  # afterwards as before
    anchor = page.evaluate("[...document.querySelectorAll('details.check')].find((fold) => !fold.open).id")
    page.goto(f"{path.as_uri()}#{anchor}")
    assert page.evaluate(f"document.getElementById('{anchor}').open")  # a link opens what it leads to


def test_without_a_script_everything_is_open(browser, sheets, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text(sheets["orchard_van"], encoding="utf-8")
    context = browser.new_context(java_script_enabled=False)
    plain = context.new_page()
    plain.goto(path.as_uri())
    assert plain.locator("details.check").count() == plain.locator("details.check[open]").count() > 50
    context.close()


def test_every_page_has_the_name_and_the_version_and_no_date(page, sheets, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text(sheets["orchard_van"], encoding="utf-8")
    page.goto(path.as_uri())
    rule = page.evaluate(
        "[...document.styleSheets[0].cssRules].filter((r) => r instanceof CSSPageRule).map((r) => r.cssText).join(' ')"
    )
    assert "Build sheet: Orchard van" in rule and "counter(pages)" in rule
    assert re.search(r'content: "evlib \d+\.\d+\.\d+"', rule) and not re.search(r"\d{4}-\d\d-\d\d", rule)


def test_a_fixed_paper_wins_over_the_printer_s(page, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text(sheet(build_of("blank"), paper="Letter"), encoding="utf-8")
    page.goto(path.as_uri())
    pdf = page.pdf(format="A4", prefer_css_page_size=True)
    for box in re.findall(rb"/MediaBox ?\[([^\]]*)\]", pdf):
        assert tuple(map(float, box.split()))[2:] == pytest.approx(PAPER["Letter"], abs=1)

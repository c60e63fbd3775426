"""The build sheet as a page and as print: nothing sticks out, axe finds nothing, A4 and Letter both come out."""

from __future__ import annotations

import re

import checks
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.sheet import sheet

PAPER = {"A4": (595, 842), "Letter": (612, 792)}  # points
MARGIN = 14 / 25.4 * 96  # the sheet's own margin in CSS pixels


@pytest.fixture(params=["orchard_van", "quarry_pickup", "college_hatch"])
def written(request, page, tmp_path, screenshots):
    path = tmp_path / "sheet.html"
    path.write_text(sheet(read_build(find_build(request.param))), encoding="utf-8")
    page.goto(path.as_uri())
    if screenshots:
        page.screenshot(path=screenshots / f"sheet_{request.param}.png", full_page=True)
    return page


def test_axe_finds_nothing_on_it(written):
    assert checks.axe_findings(written, "body") == []


@pytest.mark.parametrize("paper", PAPER)
def test_it_prints(written, paper):
    width, height = PAPER[paper]
    pdf = written.pdf(format=paper)
    boxes = set(re.findall(rb"/MediaBox ?\[([^\]]*)\]", pdf))
    assert boxes
    for box in boxes:
        _, _, right, top = map(float, box.split())
        assert (right, top) == pytest.approx((width, height), abs=1)
    written.emulate_media(media="print")
    written.set_viewport_size({"width": int(width * 96 / 72 - 2 * MARGIN), "height": height})
    assert written.evaluate("document.documentElement.scrollWidth <= window.innerWidth")

"""The cut card and the hub card: each prints on one page of A4 and of Letter, and axe finds nothing."""

from __future__ import annotations

import re

import checks
import pytest

from evlib.build.cut_card import cut_card, hub_card
from evlib.build.file import find_build, read_build

CARDS = {"cut_card": cut_card, "hub_card": hub_card}


@pytest.fixture(params=[(name, build) for name in CARDS for build in ("orchard_van", "quarry_pickup")])
def written(request, page, tmp_path, screenshots):
    name, build = request.param
    path = tmp_path / "card.html"
    path.write_text(CARDS[name](read_build(find_build(build))), encoding="utf-8")
    page.goto(path.as_uri())
    if screenshots:
        page.screenshot(path=screenshots / f"{name}_{build}.png", full_page=True)
    return page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_card_prints_on_one_page(written, paper):
    pdf = written.pdf(format=paper)
    assert len(re.findall(rb"/Type ?/Page\b", pdf)) == 1


def test_axe_finds_nothing_on_a_card(written):
    assert checks.axe_findings(written, "body") == []

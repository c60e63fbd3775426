"""The lesson on choosing, its short calls: what they say is what the review says, in words and as a page."""

import re
from html.parser import HTMLParser

import pytest

from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.schema import Build, Origin
from evlib.build.spread import spreads
from evlib.lesson import choose
from evlib.panels.choose import moves_panel

VOID = {"img", "br", "hr"}


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


@pytest.fixture(scope="module")
def van():
    return read_build(find_build("orchard_van"))


class Nesting(HTMLParser):
    """Whether every tag is closed where it was opened, and how many folds there are."""

    def __init__(self, page):
        super().__init__()
        self.open, self.folds = [], 0
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        if tag not in VOID:
            self.open.append(tag)
        self.folds += tag == "details"

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_the_review_opens_every_check_and_says_the_worst_in_words(pickup):
    shown = choose.review(pickup, rows=5, mend=1)
    made = [check for check in review(pickup, figures=False).checks if check.verdict != "does not apply"]
    page, text = shown._repr_html_(), repr(shown)
    assert Nesting(page).folds == len(made) + 1  # and one fold around the others
    for check in made[:5]:
        assert check.name in text
    places = [page.index(f"<strong>{check.name.replace(chr(39), '&#x27;')}</strong>") for check in made]
    assert places == sorted(places)  # governing checks first
    assert review(pickup, figures=False).summary in text
    assert "would each do it alone" in text
    assert page.count('class="fail"') == sum(check.verdict == "fail" for check in made)


def test_a_bar_is_as_long_as_its_margin(pickup):
    page = choose.review(pickup, rows=200, mend=0)._repr_html_()
    for check in review(pickup, figures=False).checks:
        if check.name in ("pack current", "bar volts"):  # -40 %, and marginal
            bar = re.search(rf"left:(\d+)%;width:(\d+)%[^/]*/i><b[^/]*/b></span><strong>{check.name}<", page)
            left, width = map(int, bar.groups())
            assert width == round(50 * min(1, abs(check.margin)))
            assert left == (50 if check.margin >= 0 else 50 - width)


def test_what_is_not_known_says_what_is_missing(pickup):
    build = pickup.changed({"controller.ripple_current_limit": None})
    assert "Not known: controller.ripple_current_limit" in choose.review(build, mend=0)._repr_html_()


def test_repairs_and_a_plan_read_as_tables(pickup):
    assert "500 A" in repr(choose.mend(pickup, "pack current"))
    said = repr(choose.plan(pickup))
    assert re.search(r"\d+ checks failed, after these \d+ changes \d+:", said)
    assert "not the best of all" in said


def test_a_sound_build_needs_no_plan(van):
    assert repr(choose.plan(van)) == "No single setting or part leaves fewer checks failing."


def test_chances_say_what_they_assume(van):
    said = repr(choose.chances(van, draws=300))
    assert "drawn by itself from a normal distribution" in said
    assert "no better than the spreads" in said
    assert re.search(r"\d+ % ± \d", said)


def test_what_to_measure_first_is_the_guess_among_measured_values(van):
    said = repr(choose.measure(van, "grip"))
    assert "measure this first: grip of the tyre" in said
    sure = Build(van.parts, {**van.origins, **{path: Origin(source="measured") for path in spreads(van)}})
    assert "as sure as a measured one already" in repr(choose.measure(sure, "grip"))


def test_sobol_says_how_sure_it_is(van):
    said = repr(choose.sobol(van, "grip"))
    assert said.splitlines()[1].startswith("grip of the tyre")
    assert "half of a 95 % interval" in said


def test_two_versions_of_one_build_are_told_apart(pickup):
    said = repr(choose.compare(pickup, pickup.changed({"controller.motor_current_limit": "510 A"}), rows=3))
    assert said.index("with another verdict") < said.index("values that differ")
    assert "Quarry pickup, first" in said
    assert "as delivered" in repr(
        choose.compare(pickup, pickup.changed({"vehicle.mass": 2000.0}), names=("as delivered", "light"))
    )


@pytest.mark.parametrize("name", ["quarry_pickup", "college_hatch"])
def test_the_panel_stands_on_every_shipped_build_and_moves_as_a_review_does(name):
    build = read_build(find_build(name))
    panel = moves_panel(build)
    for check in panel.controls[0].options:
        moved = panel.compute(check=check, value="the second", deviations=-1.0)
        bar = moved.tornado.bars[1]
        alone = review(build.changed({bar.path: moved.value}), figures=False).check(check)
        assert moved.margin == pytest.approx(alone.margin, rel=1e-9)
        assert moved.value < build.value(bar.path)


def test_the_panel_takes_checks_by_name_and_refuses_what_does_not_move(van):
    assert moves_panel(van, "grip", "time to speed").controls[0].options == ("grip", "time to speed")
    with pytest.raises(ValueError, match="selector rules: fewer than 3 values"):
        moves_panel(van, "selector rules")
    with pytest.raises(ValueError, match="'gripp' is no check"):
        moves_panel(van, "gripp")

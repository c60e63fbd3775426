"""The build sheet: one file, everything on it, no promise in it."""

import html.parser
import re

import pytest

from evlib.build.__main__ import main
from evlib.build.file import find_build, parse_build, read_build
from evlib.build.review import NOT_REVIEWED, review
from evlib.build.sheet import CAUTIONS, both, margin_text, sheet

BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")


class Reader(html.parser.HTMLParser):
    """Gathers text, ids, links and outside addresses, and sees that tags close in order."""

    VOID = frozenset({"meta", "link", "br", "img", "hr", "input"})

    def __init__(self):
        super().__init__()
        self.text, self.ids, self.links, self.outside, self.open = [], set(), set(), [], []

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.ids.add(given.get("id"))
        if tag == "a":
            self.links.add(given["href"])
        self.outside += [v for k, v in given.items() if k in ("src", "href") and not str(v).startswith(("#", "data:"))]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


def read(page):
    reader = Reader()
    reader.feed(page)
    assert reader.open == []
    reader.words = " ".join(" ".join(reader.text).split())
    return reader


@pytest.fixture(scope="module", params=BUILDS)
def case(request):
    build = read_build(find_build(request.param))
    return build, review(build), read(sheet(build, today="2026-11-25"))


def test_it_is_one_file_whose_links_lead_somewhere(case):
    _, _, page = case
    assert page.outside == []
    assert {link.removeprefix("#") for link in page.links} <= page.ids


def test_every_check_stands_on_it_with_its_working(case):
    _, found, page = case
    assert found.summary in page.words
    for check in found.checks:
        assert check.name in page.words
        if check.working is not None:
            assert " ".join(check.working.text().split()) in page.words


def test_it_lists_cautions_figures_and_what_is_not_reviewed(case):
    build, found, page = case
    assert build.name in page.words
    assert "2026-11-25" in page.words
    for words in (*CAUTIONS, *NOT_REVIEWED, *(figure.name for figure in found.stated)):
        assert words in page.words


def test_it_never_calls_a_build_safe_or_passed(case):
    _, _, page = case
    assert not re.search(r"\b(is|are) safe\b|build passes|build has passed", page.words, re.IGNORECASE)


def test_exit_status_tells_all_passed_some_failed_and_bad_file_apart(tmp_path, capsys):
    out = tmp_path / "sheet.html"
    assert main(["sheet", "orchard_van", "-o", str(out)]) == 0
    assert main(["sheet", "quarry_pickup", "-o", str(out)]) == 1
    part = tmp_path / "part.toml"
    part.write_text('[vehicle]\nmass = "900 kg"\n')
    assert main(["review", str(part)]) == 1
    assert "not known" in capsys.readouterr().out


def test_a_name_from_outside_is_text_not_markup():
    page = sheet(parse_build('[build]\nname = "<script>alert(1)</script>"\n'))
    assert "<script>alert" not in page
    assert "&lt;script&gt;" in page


def test_guesses_are_listed():
    page = read(sheet(parse_build('[vehicle]\nmass = { value = "900 kg", from = "guess", spread = "10 %" }\n')))
    assert "vehicle.mass 900 kg guess" in page.words


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.0381, "m", "38.1 mm (1.50 in)"),
        (400.0, "A", "400 A"),
        ("none", "", "none"),
        (10.0, "K difference", "10.0 K (18.0 °F)"),
    ],
)
def test_both_systems(value, unit, text):
    assert both(value, unit) == text


@pytest.mark.parametrize(
    ("margin", "text"),
    [(0.123, "+12 %"), (-0.5, "-50 %"), (float("inf"), "nothing asked"), (None, ""), (25.0, "over 2500 %")],
)
def test_margins_in_words(margin, text):
    assert margin_text(margin) == text

"""The lessons as pages: what is in them, where their links lead, formulas; tests/browser/test_site.py opens them."""

import html
import re
from html.parser import HTMLParser

import pytest

from evlib.course.__main__ import main
from evlib.course.editions import lesson_files, read, source, tags
from evlib.course.site import pages
from evlib.course.site_formula import mathml
from evlib.course.site_text import Page, output

NAMES = [path.stem for path in lesson_files()]
VOID = {"meta", "link", "img", "br", "hr", "input", "wbr"}


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Every page, as the command writes it."""
    place = tmp_path_factory.mktemp("site") / "out"
    assert main(["site", str(place)]) == 0
    return {path.name: path.read_text(encoding="utf-8") for path in place.iterdir()}


class Read(HTMLParser):
    """What is looked at in a page: ids, links, addresses that are fetched, pictures, and that every tag is closed."""

    def __init__(self, text):
        super().__init__()
        self.ids, self.links, self.fetched, self.pictures, self.open = [], [], [], [], []
        self.feed(text)
        assert self.open == [], self.open

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        self.open += [tag] if tag not in VOID else []
        self.ids += [attrs["id"]] if "id" in attrs else []
        self.links += [attrs["href"]] if tag == "a" else []
        self.fetched += [attrs[name] for name in ("src", "srcset", "data", "poster") if name in attrs]
        self.fetched += [tag] if tag in ("script", "link", "iframe", "object") else []
        self.pictures += [attrs] if tag == "img" else []

    def handle_endtag(self, tag):
        if tag not in VOID:
            assert self.open and self.open[-1] == tag, f"</{tag}> closes <{self.open[-1:]}> at {self.getpos()}"
            self.open.pop()


def test_there_is_a_page_for_every_lesson_and_an_index(made):
    assert set(made) == {"index.html", *(f"{name}.html" for name in NAMES)}
    for name in NAMES:
        assert made["index.html"].count(f'href="{name}.html"') == 1


def test_every_link_and_anchor_leads_somewhere(made):
    read_pages = {name: Read(text) for name, text in made.items()}
    inside = 0
    for name, page in read_pages.items():
        assert len(page.ids) == len(set(page.ids)), f"{name}: the same anchor twice"
        for link in page.links:
            file, _, anchor = link.partition("#")
            assert "ipynb" not in link
            if "://" not in link:
                assert not file or file in made, f"{name}: {link}"
                assert not anchor or anchor in read_pages[file or name].ids, f"{name}: {link}"
                inside += 1
    assert inside > 150


def test_nothing_is_fetched_and_every_picture_is_inside_with_its_words(made):
    for name, text in made.items():
        page = Read(text)
        assert [each for each in page.fetched if not each.startswith("data:image/png;base64,")] == []
        assert not re.search(r"url\(|@import|on(?:load|click)=", text)
        assert all(len(picture["alt"]) > 20 for picture in page.pictures), name


@pytest.mark.parametrize("name", NAMES)
def test_a_page_has_all_that_the_lesson_says(made, name):
    text = html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", made[f"{name}.html"])))
    book = read(next(path for path in lesson_files() if path.stem == name))
    pictures = 0
    for cell in book["cells"]:
        if "teacher" in tags(cell):
            continue
        for words in re.findall(r"^#+ (.+)$", source(cell), re.MULTILINE) if cell["cell_type"] == "markdown" else []:
            assert words in text
        for each in cell.get("outputs", []):
            shown = "".join(each.get("data", {}).get("text/html", ""))
            pictures += shown.count("data:image/png")
            for sentence in re.findall(r"</figure><p>(.*?)</p>", shown):  # the text twin of a picture
                assert html.unescape(sentence) in text
    assert made[f"{name}.html"].count("data:image/png") == pictures
    assert "For teachers" not in text and "Run this cell for a box" not in text
    assert "course code DEMO-0" in text


@pytest.mark.parametrize("name", [name for name in NAMES if name != "00c_words"])
def test_solutions_are_there_and_folded(made, name):
    folds = re.findall(r"<details[^>]*><summary>Solution of", made[f"{name}.html"])
    assert folds and set(folds) == {"<details><summary>Solution of"}


def test_a_lesson_that_shows_an_error_is_refused():
    cell = {"cell_type": "code", "id": "a", "metadata": {}, "source": "1 / 0",
            "outputs": [{"output_type": "error", "evalue": "division by zero"}]}  # fmt: skip
    title = {"cell_type": "markdown", "id": "b", "metadata": {}, "source": "# 9 Trial"}
    with pytest.raises(ValueError, match="09_trial: a cell shows an error: division by zero"):
        pages([("09_trial", {"cells": [title, cell]})])


def test_text_is_text_and_not_markup():
    shown = output({"output_type": "stream", "text": ["a < b & c\n"]})
    assert "a &lt; b &amp; c" in shown
    assert "&lt;script&gt;" in Page().markdown("    <script>\n")


def test_two_headings_of_one_name_get_two_anchors():
    page = Page()
    page.markdown("## By hand\n\n## By hand\n\n## A & B\n")
    assert [anchor for _, anchor, _ in page.headings] == ["By-hand", "By-hand-2", "A-&-B"]


@pytest.mark.parametrize(
    ("tex", "wanted"),  # by hand, from the MathML Core specification's elements (from memory)
    [
        (r"\frac{a - 1}{2}", "<mfrac><mrow><mi>a</mi><mo>−</mo><mn>1</mn></mrow><mrow><mn>2</mn></mrow></mfrac>"),
        (r"I_s^2", "<msubsup><mi>I</mi><mi>s</mi><mn>2</mn></msubsup>"),
        (r"I^2_s", "<msubsup><mi>I</mi><mi>s</mi><mn>2</mn></msubsup>"),
        (r"\sqrt{x} \le \Theta", "<msqrt><mrow><mi>x</mi></mrow></msqrt><mo>≤</mo><mi>Θ</mi>"),
        (r"\text{a < b} = 0.5", "<mtext>a &lt; b</mtext><mo>=</mo><mn>0.5</mn>"),
    ],
)
def test_formulas_become_mathml(tex, wanted):
    assert mathml(tex, block=False) == f"<math>{wanted}</math>"
    assert mathml(tex, block=True) == f'<math display="block">{wanted}</math>'


@pytest.mark.parametrize("tex", [r"\int x", r"\frac{a}", "{a", "a}", "^2", r"\begin{array}"])
def test_a_formula_that_cannot_be_shown_is_refused_in_one_sentence(tex):
    with pytest.raises(ValueError, match=r"^The formula .* cannot be shown: .*\.$"):
        mathml(tex, block=True)

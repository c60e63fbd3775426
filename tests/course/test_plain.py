"""Plain language: short sentences on the main path, no word of the trade or abbreviation that nothing explains."""

from __future__ import annotations

import re

import pytest

from evlib.course import glossary, plain
from evlib.exercises.register import everything

LESSONS = sorted(glossary.LESSONS.glob("*.ipynb"))
NAMES = [path.stem for path in LESSONS]
TEXT = {path.stem: plain.main_path(path) for path in LESSONS}
lessons = pytest.mark.parametrize("name", NAMES)


def too_long(text: str) -> list[str]:
    return [sentence for sentence in plain.sentences(text) if len(plain.words(sentence)) > plain.LONGEST]


@lessons
def test_no_sentence_of_a_main_path_is_too_long(name):
    assert TEXT[name], "nothing was read"
    assert [long for block in TEXT[name] for long in too_long(block)] == []


def test_no_sentence_of_an_exercise_is_too_long():
    said = {exercise.id: [*plain.simple(exercise.text).split("\n")] for exercise in everything()}
    assert len(said) > 90
    assert {name: long for name, lines in said.items() for line in lines for long in too_long(line)} == {}


@lessons
def test_every_abbreviation_is_written_out_in_the_glossary(name):
    met = {found for block in TEXT[name] for found in plain.abbreviations(block)}
    assert sorted(met - set(glossary.abbreviations())) == []


@pytest.mark.parametrize("word", glossary.words(), ids=lambda word: word.term)
def test_a_word_of_the_trade_is_explained_where_it_comes_first(word):
    def explains(name: str, there: str) -> bool:
        return any(there in block for block in TEXT[name])

    assert word.lesson in NAMES
    assert any(word.pattern.search(block) for block in TEXT[word.lesson]), f"{word.lesson} does not use it"
    assert explains(word.lesson, word.there), f"{word.lesson} does not say: {word.there}"
    before = dict(word.before)
    for name in NAMES[: NAMES.index(word.lesson)]:
        used = [block for block in TEXT[name] if word.pattern.search(block)]
        if used and name not in word.ignore:
            assert name in before, f"{name} uses {word.term!r} before {word.lesson} explains it: {used[0][:200]}"
            assert explains(name, before[name]), f"{name} does not say: {before[name]}"


def test_the_glossary_says_things_shortly():
    for word in glossary.words():
        assert too_long(word.says) == [] and word.says.endswith(".")


@lessons
def test_every_word_of_a_main_path_is_plain_or_in_the_glossary(name):
    common = set((glossary.DATA / "plain_words.txt").read_text(encoding="utf-8").split())
    listed = [word.pattern for word in glossary.words()]
    unknown: dict[str, str] = {}
    for block in TEXT[name]:
        rest = block
        for pattern in listed:
            rest = pattern.sub(" ", rest)
        for word in plain.words(rest):
            if not plain.abbreviations(word) and not plain.is_among(word, common):
                unknown.setdefault(word, block[:120])
    assert unknown == {}, "explain each in the lesson and put it into words.toml; or, an everyday word: plain_words.txt"


# -- the reader itself ---------------------------------------------------------------------------------------------
def test_sentences_and_words_are_counted_as_a_reader_would():
    text = "It holds 3.5 bar, e.g. 4 when hot. Does it? Yes: *Then* go on; nothing else."
    assert plain.sentences(text) == [
        "It holds 3.5 bar, e.g. 4 when hot.",
        "Does it?",
        "Yes:",
        "*Then* go on; nothing else.",
    ]
    assert plain.words("The pump's check-valve, 3 of them.") == ["The", "pump's", "check-valve", "of", "them"]
    assert plain.abbreviations("DXF and kW, DC-DC, UN-R13 and MPa") == ["DXF", "DC-DC", "UN"]


def test_what_is_not_on_the_main_path_is_left_out(tmp_path):
    import nbformat

    made = nbformat.v4.new_notebook()
    made.cells = [
        nbformat.v4.new_markdown_cell("# Title\n\nOpen **words** here, [a link](x.html), $x^2$ and `code`."),
        nbformat.v4.new_markdown_cell("Folded: <details><summary>Why</summary>hidden</details>"),
        nbformat.v4.new_markdown_cell("Answer", metadata={"tags": ["solution"]}),
        nbformat.v4.new_markdown_cell(
            "## Deep: algebra\n\nderivation\n\n## Recap\n\n| a | b c |\n|---|---|\n| d | e |"
        ),
        nbformat.v4.new_markdown_cell("## Sources\n\n- a book"),
    ]
    path = tmp_path / "x.ipynb"
    nbformat.write(made, path)
    assert plain.main_path(path) == [
        "Title",
        "Open words here, a link, x and x.",
        "Folded:",
        "Recap",
        "a",
        "b c",
        "d",
        "e",
    ]


def test_a_plain_word_is_known_in_its_usual_forms():
    common = {"stop", "try", "make", "slow"}
    for word in ("stops", "stopped", "stopping", "Tries", "making", "slowly", "slower", "stop's"):
        assert plain.is_among(word, common), word
    for word in ("spline", "stope", "king"):
        assert not plain.is_among(word, common), word


def test_quantities_are_listed_once_each_with_a_lesson():
    listed = glossary.quantities()
    keys = [(meant.quantity.symbol, meant.quantity.text) for meant in listed]
    assert len(keys) == len(set(keys)) > 400
    assert {meant.lesson for meant in listed} == set(glossary.TOPICS.values())
    shown = glossary.quantities_table()
    assert repr(shown).count("\n") == len(listed)
    for part in re.findall(r'href="([^"]+)"', shown._repr_html_()):
        assert (glossary.LESSONS / part).is_file()

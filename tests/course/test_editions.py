"""The two editions: what is in them and what is not, for every lesson. That they run is the stage "notebooks"."""

import json
import re

import pytest

from evlib.course.__main__ import main
from evlib.course.editions import edition, lesson_files, read, source, tags

NAMES = [path.name for path in lesson_files()]
TAUGHT = [name for name in NAMES if name != "00c_words.ipynb"]  # that one is looked things up in: nothing to solve


@pytest.fixture(scope="module")
def books(tmp_path_factory):
    """Every lesson of both editions, with solutions folded and out, as the command writes them."""
    place, found = tmp_path_factory.mktemp("editions"), {}
    for kind in ("folded", "out"):
        assert main(["editions", str(place / kind), "--solutions", kind]) == 0
        for name in NAMES:
            found[kind, name] = read(place / kind / "learner" / name)
            found["open", name] = read(place / kind / "solution" / name)
        assert sorted(path.name for path in (place / kind).glob("*/*")) == sorted(NAMES * 2)
    return found


def said(book):
    """All that a notebook says, its outputs included."""
    parts = []
    for cell in book["cells"]:
        parts.append(source(cell))
        for output in cell.get("outputs", []):
            parts += ["".join(output.get("text", "")), *("".join(text) for text in output.get("data", {}).values())]
    return "\n".join(parts)


@pytest.mark.parametrize("name", TAUGHT)
def test_every_lesson_has_notes_and_solutions_to_begin_with(name):
    text = said(read(next(path for path in lesson_files() if path.name == name)))
    assert "For teachers" in text and "Solution of" in text


@pytest.mark.parametrize("kind", ["folded", "out"])
@pytest.mark.parametrize("name", NAMES)
def test_learners_get_no_teachers_notes(books, name, kind):
    text = said(books[kind, name])
    assert "teacher" not in [mark for cell in books[kind, name]["cells"] for mark in tags(cell)]
    assert "For teachers" not in text and "**Watch for" not in text


@pytest.mark.parametrize("name", TAUGHT)
def test_solutions_are_folded_or_out(books, name):
    folded, out = said(books["folded", name]), said(books["out", name])
    assert folded.count("<details><summary>Solution of") >= 1 and "<details open" not in folded
    for trace in ("Solution of", "## Solutions", "solution(", "Answer: "):
        assert trace not in out, trace


@pytest.mark.parametrize("name", TAUGHT)
def test_the_solution_edition_has_all_open_and_the_notes_in(books, name):
    text = said(books["open", name])
    folds = re.findall(r"<details[^>]*><summary>(?:Solution of|For teachers)", text)
    assert folds and all(fold.startswith("<details open>") for fold in folds)
    assert "**Solution edition**" in source(books["open", name]["cells"][1])
    calls = [source(cell) for cell in books["open", name]["cells"] if cell["cell_type"] == "code" and tags(cell)]
    assert all(call.endswith("opened=True)") for call in calls if call.startswith("solution("))
    assert "They are folded" not in text and "Keep it to yourself" in text


@pytest.mark.parametrize("name", NAMES)
def test_an_edition_changes_nothing_else(books, name):
    given = {cell["id"]: cell for cell in read(next(path for path in lesson_files() if path.name == name))["cells"]}
    marked = {identity for identity, cell in given.items() if {"teacher", "solution"} & set(tags(cell))}
    for kind in ("folded", "out", "open"):
        cells = {cell["id"]: cell for cell in books[kind, name]["cells"]}
        assert {identity for identity in given if identity not in cells} <= marked
        assert {identity: cell for identity, cell in cells.items() if identity in given and identity not in marked} == {
            identity: cell for identity, cell in given.items() if identity not in marked
        }
        assert [identity for identity in given if identity in cells] == [each for each in cells if each in given]
        assert set(cells) - set(given) == ({"solution-edition"} if kind == "open" else set())


def test_the_source_is_not_changed_by_making_an_edition():
    book = read(lesson_files()[0])
    before = json.dumps(book)
    edition(book, solutions="open")
    assert json.dumps(book) == before


def test_a_folder_that_holds_something_is_left_as_it_is(tmp_path, capsys):
    (tmp_path / "mine.txt").write_text("my work")
    assert main(["editions", str(tmp_path)]) == 2
    assert capsys.readouterr().err == f"{tmp_path}: exists already, and is left as it is; name a new folder\n"
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_a_stop_half_way_leaves_nothing(tmp_path, monkeypatch):
    monkeypatch.setattr("evlib.course.editions.edition", lambda *_, **__: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        main(["editions", str(tmp_path / "out")])
    assert list(tmp_path.iterdir()) == []

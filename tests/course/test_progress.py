"""What a learner sees of what is done: sums by hand, and the page that is written."""

import html
import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from invented import hand_in, right, slip

from evlib.course.__main__ import main
from evlib.course.lessons import lessons
from evlib.course.progress import PRIVATE, done, progress
from evlib.exercises import answers
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.register import find

CODE = "K7-204"


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    answers.keep_code(CODE)
    return tmp_path


def lesson(number):
    return next(one for one in lessons() if one.number == number)


def test_each_objective_says_what_is_done_and_what_is_left(own_folder):
    """Of hydraulics: 1 right at once; 15 right at the second try; 13 wrong; 12 kept, for a person to mark."""
    hand_in(own_folder, CODE, ("hydraulics.1", right("hydraulics.1", CODE)),
            ("hydraulics.15", slip("hydraulics.15", CODE)), ("hydraulics.15", right("hydraulics.15", CODE)),
            ("hydraulics.13", slip("hydraulics.13", CODE)), ("hydraulics.12", right("hydraulics.12", CODE)),
            ("hydraulics.p1", "it falls"))  # fmt: skip
    found = {one.objective: one for one in done(lesson("04"), answers.load(CODE)[0])}
    rest = found[find("hydraulics.1").objective]
    assert (set(rest.done), rest.first, rest.left) == ({"hydraulics.1", "hydraulics.15"}, ("hydraulics.1",), ())
    launch, handover = found[find("hydraulics.12").objective], found[find("hydraulics.13").objective]
    assert launch.done == ("hydraulics.12",) and launch.first == ()
    assert handover.done == () and "hydraulics.13" in handover.left
    said = repr(progress("hydraulics"))
    assert f"3 of {len(lesson('04').exercises)} exercises done, 1 of 2 predictions made" in said
    assert "a person reads them: hydraulics.12" in said and f"Course code {CODE}" in said
    row = next(line for line in said.splitlines() if line.startswith(rest.objective))
    assert re.split(r"\s{2,}", row)[1:] == ["2 of 2", "1", "nothing"]


def test_all_lessons_together_add_up(own_folder):
    hand_in(own_folder, CODE, ("start.12", right("start.12", CODE)), ("shafts.18", right("shafts.18", CODE)))
    total = sum(len(one.exercises) for one in lessons())
    said = repr(progress())
    # 3c has one objective with one exercise: shafts.18 makes it whole
    assert f"2 of {total} exercises done; 1 of {sum(len(one.objectives) for one in lessons())} objectives" in said
    assert all(f"Lesson {one.title}" in said for one in lessons())


def test_one_topic_may_have_several_lessons_and_what_is_no_lesson_is_said():
    assert repr(progress("shafts")).count("Lesson 3") == 4
    assert "There is no lesson 'wibble'; there are: 00_start_here" in repr(progress("wibble"))


def test_the_page_is_written_and_says_that_it_is_private(own_folder, capsys):
    assert main(["progress"]) == 0 and "To hand in" not in (own_folder / "progress.html").read_text(encoding="utf-8")
    capsys.readouterr()
    hand_in(own_folder, CODE, ("start.12", right("start.12", CODE)))
    assert main(["progress"]) == 0
    page = (own_folder / "progress.html").read_text(encoding="utf-8")
    assert "progress.html is written" in capsys.readouterr().out
    assert html.escape(PRIVATE) in page and "no name, no time of day" in page and CODE in page
    assert f"give your teacher a copy of this file: <code>{own_folder}/answers-{CODE}.json</code>" in page
    assert page.count("<h1>") == 1 and '<html lang="en">' in page and "<script" not in page
    assert main(["progress", "-o", str(own_folder / "none" / "x.html")]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_a_damaged_file_is_said_on_the_page(own_folder):
    answers.path_of(CODE).write_text("{")
    assert "could not be read; it is kept as" in repr(progress("00_start"))
    assert (own_folder / f"answers-{CODE} (unreadable 1).json").exists()


def test_nobody_has_done_anything_with_the_demonstration_numbers(own_folder):
    answers.keep_code(DEMONSTRATION)
    said = repr(progress("01"))
    assert f"Course code {DEMONSTRATION}" in said and "0 of" in said

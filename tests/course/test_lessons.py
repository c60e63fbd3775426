"""What the lessons promise, and what they ask: read from the notebooks as a learner meets them."""

import json

import pytest

from evlib.course.lessons import NOTEBOOKS, lessons

ALL = lessons()
WORDS = {"00c_words"}  # to look things up in, with nothing to learn by heart: it has no objectives


def test_every_notebook_is_a_lesson_with_a_title_and_objectives():
    assert {lesson.name for lesson in ALL} == {path.stem for path in NOTEBOOKS.glob("*.ipynb")} - WORDS
    for lesson in ALL:
        assert lesson.objectives and lesson.title != lesson.name, lesson.name


@pytest.mark.parametrize("lesson", ALL, ids=lambda lesson: lesson.name)
def test_every_objective_has_an_exercise_in_its_own_lesson(lesson):
    assert [objective for objective in lesson.objectives if not lesson.serving(objective)] == []


@pytest.mark.parametrize("lesson", ALL, ids=lambda lesson: lesson.name)
def test_every_exercise_serves_an_objective_of_the_lesson_that_asks_it(lesson):
    assert [one.id for one in lesson.exercises if one.objective not in lesson.objectives] == []


def test_objectives_and_questions_are_read_from_the_cells(tmp_path):
    cells = [
        {"cell_type": "markdown", "source": ["# 9 Trial\n", "When you are through, you can\n", "- lift *it*;\n",
                                             "- set it\n", "  down.\n", "\n", "- no objective\n"]},
        {"cell_type": "code", "source": 'ask("start.1")\nask("nothing.7")\npredict( "start.p1")\noutcome("start.2")'},
    ]  # fmt: skip
    (tmp_path / "09b_words.ipynb").write_text(json.dumps({"cells": cells[1:]}), encoding="utf-8")
    (tmp_path / "09_trial.ipynb").write_text(json.dumps({"cells": cells}), encoding="utf-8")
    (found,) = lessons(tmp_path)
    assert (found.number, found.title) == ("09", "9 Trial")
    assert found.objectives == ("lift *it", "set it down")
    assert found.asked == ("start.1", "start.p1") and found.predictions == ("start.p1",)
    assert [one.id for one in found.exercises] == ["start.1"]

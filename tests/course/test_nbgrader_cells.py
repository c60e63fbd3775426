"""An assignment before nbgrader sees it, without nbgrader: what is written, what its cells do, what is refused."""

import os
import re
import subprocess
import sys

import pytest

from evlib.course.__main__ import main
from evlib.course.assignment import assignment, right_text, total
from evlib.course.editions import lesson_files, read, source
from evlib.course.lessons import lessons
from evlib.exercises.free import Free, Prediction
from evlib.exercises.marker import mark
from evlib.exercises.register import everything, find

LESSONS = {lesson.name: lesson for lesson in lessons() if lesson.objectives}
NEEDED = {"grade", "solution", "locked", "schema_version", "task", "grade_id", "cell_type"}  # nbgrader's third schema


@pytest.fixture(scope="module")
def books():
    """Every lesson as an assignment."""
    return {path.stem: assignment(read(path)) for path in lesson_files()}


def graded(book):
    return {cell["metadata"]["nbgrader"]["grade_id"]: cell for cell in book["cells"] if "nbgrader" in cell["metadata"]}


@pytest.mark.parametrize("name", LESSONS)
def test_every_exercise_has_its_cells_in_nbgraders_form(books, name):
    cells, lesson = graded(books[name]), LESSONS[name]
    wanted = {f"answer-{one.id.replace('.', '-')}" for one in lesson.exercises}
    wanted |= {f"points-{one.id.replace('.', '-')}" for one in lesson.exercises if not isinstance(one, Free)}
    assert set(cells) == wanted and lesson.exercises
    for identity, cell in cells.items():
        said = cell["metadata"]["nbgrader"]
        assert set(said) >= NEEDED and said["schema_version"] == 3 and said["cell_type"] == cell["cell_type"]
        assert re.fullmatch(r"[\w-]+", identity) and said["grade_id"] == cell["id"]
        assert said["solution"] is identity.startswith("answer") is not said["locked"]
        assert said["grade"] is ("points" in said)
        assert source(cell).count("### BEGIN") == source(cell).count("### END") == 1
    assert total(books[name]) == sum(
        len(one.guide) if isinstance(one, Free) else {"Shop": 1, "Why": 2, "Deep": 3}[one.depth]
        for one in lesson.exercises
    )


@pytest.mark.parametrize("name", LESSONS)
def test_an_assignment_shows_no_solution_and_leads_nowhere_else(books, name):
    book = books[name]
    texts = [re.sub(r"### BEGIN.*?### END", "", source(cell), flags=re.DOTALL) for cell in book["cells"]]
    said = "\n".join(texts)
    for trace in ("solution(", "For teachers", ".ipynb", "1 mark:", "A model answer"):
        assert trace not in said, trace
    assert all(not cell.get("outputs") for cell in book["cells"])
    assert len({cell["id"] for cell in book["cells"]}) == len(book["cells"])
    code = "\n".join(source(cell) for cell in book["cells"] if cell["cell_type"] == "code")
    assert code.index("begin(") < code.index("from evlib.exercises")
    assert "from evlib.exercises" not in code.partition("import answer, ask, handed_in")[2], (
        "the lesson's `ask` is back"
    )


@pytest.mark.parametrize("exercise", everything(), ids=lambda each: each.id)
def test_an_exercise_names_an_answer_that_is_right(exercise):
    if not isinstance(exercise, Free | Prediction):
        for code in ("DEMO-0", "K7-204"):
            assert mark(exercise, right_text(exercise, code), code=code).verdict == "right"


def test_the_command_writes_a_course_folder(tmp_path, capsys):
    assert main(["assignment", str(tmp_path / "college"), "03d", "07_build_sheet"]) == 0
    made = sorted(str(path.relative_to(tmp_path / "college")) for path in (tmp_path / "college").rglob("*.*"))
    assert made == [
        "nbgrader_config.py",
        "source/03d_shafts_gearbox_joint/03d_shafts_gearbox_joint.ipynb",
        "source/07_build_sheet/07_build_sheet.ipynb",
    ]
    assert "nbgrader generate_assignment 07_build_sheet" in capsys.readouterr().out


def test_a_lesson_that_is_not_there_is_one_sentence(tmp_path, capsys):
    assert main(["assignment", str(tmp_path / "college"), "03d", "99"]) == 2
    said = capsys.readouterr().err
    assert said.startswith("There is no lesson '99'; there are: 00, 00b, ") and said.endswith(".\n")
    assert list(tmp_path.iterdir()) == []


def test_what_has_no_exercises_is_no_assignment(tmp_path, capsys):
    assert main(["assignment", str(tmp_path / "college"), "00c"]) == 2
    assert capsys.readouterr().err == "00c_words has no exercises, so it cannot be an assignment.\n"


def run(code, tmp_path):
    """Some cells in a fresh Python whose own folder may not be written; what they print."""
    mine = tmp_path / "mine"
    before = "from evlib.course.assignment_cells import answer, ask, begin, handed_in, points\n"
    done = subprocess.run(
        [sys.executable, "-c", before + code], env={**os.environ, "EVLIB_FOLDER": str(mine)},
        capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert not mine.exists(), "somebody's own folder was written into"
    return done.stdout


def test_cells_mark_by_the_course_code_and_keep_nothing(tmp_path):
    code, name = "K7-204", "start.11"  # what is spare, in per cent of what is demanded
    said = find(name).asked(code).replace("\u00a0", " ")
    demand, capacity = (float(number) for number in re.findall(r"(\d+) N m", said))
    right = f"{100 * (capacity - demand) / demand:.3g}"
    tries = [f"{right} %", right, "1 %", "", "no number"]
    told = run(
        f"""print(begin({code!r}))
ask({name!r})
for text in {tries!r}:
    print(repr(answer({name!r}, text)))
    handed_in({name!r})
    print("given", points({name!r}, of=2))
print(begin("L2-311"))
print("given", points({name!r}, of=2))
""",
        tmp_path,
    )
    assert "Course code K7-204" in told
    given = [float(number) for number in re.findall(r"given (\S+)", told)]
    assert given == [2, 1, 0, 0, 0, 0], "all; half without its unit; none; and another code forgets what was typed"
    counts = (told.count("your answer is in"), told.count("no answer yet that can be read"))
    assert counts == (6, 4), "three and two, each as a page and as text"


@pytest.mark.parametrize("bad", ["", "Anna", "K7", "../x-1"])
def test_a_bad_course_code_is_one_sentence_and_the_lesson_goes_on(tmp_path, bad):
    told = run(
        f"print(begin({bad!r}))\nanswer('start.12', 'a')\nprint(points('start.12', of=1) in (0.0, 1.0))", tmp_path
    )
    first, *_, last = told.splitlines()
    assert "is not a course code" in first and first.endswith("the numbers are those of DEMO-0.") and last == "True"


def test_a_run_that_did_not_begin_still_writes_to_nobodys_folder(tmp_path):
    right = right_text(find("sheet.4"), "DEMO-0")
    assert run(f"answer('sheet.4', {right!r})\nprint(points('sheet.4', of=1))", tmp_path) == "1.0\n"

"""nbgrader takes a lesson as an assignment: made, handed in three times, marked, the marks and the feedback read.

nbgrader runs in a place of its own (tests/course/nbgrader_set_up.py); the notebooks run on this project's Python.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from evlib.course.__main__ import main
from evlib.exercises.register import find

ROOT = Path(__file__).resolve().parents[2]
NBGRADER = ROOT / ".venv" / "nbgrader" / ("Scripts" if os.name == "nt" else "bin")
LESSON = "00_start_here"  # it has a number, choices, an order and free text, and runs in seconds
ANNE, BEN = "K7-204", "L2-311"  # two course codes; nobody's
MARKS = """
import json
from nbgrader.api import Gradebook
with Gradebook("sqlite:///gradebook.db") as book:
    found = {}
    for handed in book.assignment_submissions("00_start_here"):
        grades = [grade for notebook in handed.notebooks for grade in notebook.grades]
        found[handed.student.id] = {g.name: [g.auto_score, g.max_score, g.needs_manual_grade] for g in grades}
    print(json.dumps(found))
"""

pytestmark = pytest.mark.skipif(
    not NBGRADER.exists(), reason="nbgrader is not there: run tests/course/nbgrader_set_up.py, or `start.py test`"
)


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A course folder, and a function that runs nbgrader there with this project's Python as its kernel."""
    place = tmp_path_factory.mktemp("college")
    assert main(["assignment", str(place / "course"), "00"]) == 0
    kernel = [sys.executable, "-m", "ipykernel", "install", "--prefix", str(place)]  # as the README says
    subprocess.run(kernel, check=True, capture_output=True, timeout=60)
    environment = {
        **os.environ, "PATH": f"{NBGRADER}{os.pathsep}{os.environ['PATH']}", "PYTHONPATH": str(ROOT),
        "JUPYTER_PATH": str(place / "share" / "jupyter"), "EVLIB_FOLDER": str(place / "teacher"),
        "JUPYTER_CONFIG_DIR": str(place / "config"), "IPYTHONDIR": str(place / "ipython"),
    }  # fmt: skip

    def run(*words):
        done = subprocess.run([str(NBGRADER / words[0]), *words[1:]], cwd=place / "course", env=environment,
                              capture_output=True, text=True, timeout=300)  # fmt: skip
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout + done.stderr

    return place, run


def letters(name, code, *beginnings):
    """The letters of the options that begin so."""
    options = find(name).options(code)
    return " ".join(next(letter for letter, text in options if text.startswith(words)) for words in beginnings)


def margin(code):
    """By hand: what is spare, in per cent of what is demanded."""
    demand, capacity = map(float, re.findall(r"(\d+) N m", find("start.11").asked(code).replace("\u00a0", " ")))
    return f"{100 * (capacity - demand) / demand:.3g}"


def right(code):
    """Right answers; the sentence is a person's to mark. The order: EN 50110-1, from memory."""
    return {
        "start.11": f"{margin(code)} %",
        "start.12": letters("start.12", code, "An electric pump"),
        "start.13": letters("start.13", code, "Parts on the bench are live"),
        "start.15": letters("start.15", code, "Key off", "Your own padlock", "Wait", "Try the meter on a source",
                            "Measure", "Try the meter on the known source once more", "Take the cover off"),
    }  # fmt: skip


HANDED_IN = {
    "right": (ANNE, right(ANNE), "Torque goes from both motors through the gearbox to the wheels."),
    "wrong": (
        BEN,
        {
            "start.11": margin(BEN),  # the right number, its unit forgotten
            "start.12": letters("start.12", BEN, "A spring in each clutch"),
            "start.15": letters("start.15", BEN, "Take the cover off", "Key off", "Your own padlock", "Wait", "Measure",
                                "Try the meter on a source", "Try the meter on the known source once more"),
        },
        None,
    ),
    "copied": (BEN, right(ANNE), None),  # a neighbour's answers: other numbers, and options in another order
}  # fmt: skip
# By the rule that is in the README: one point for each exercise of the depth Shop, half of it for a wrong unit.
EXPECTED = {"right": [1, 1, 1, 1], "wrong": [0.5, 0, 0, 0]}


def hand_in(place, student, code, answers, sentence):
    """Fill in the released notebook as a learner does, and put it where nbgrader collects."""
    book = json.loads((place / "course" / "release" / LESSON / f"{LESSON}.ipynb").read_text(encoding="utf-8"))
    left = dict(answers)
    for cell in book["cells"]:
        text = "".join(cell["source"])
        cell["source"] = re.sub(r'^begin\("DEMO-0"\)', f'begin("{code}")', text, flags=re.MULTILINE)
        name = re.match(r'answer\("([\w.]+)", ""\)', text)
        if name and name[1] in left:
            cell["source"] = text.replace('""', json.dumps(left.pop(name[1])), 1)
        if sentence and "YOUR ANSWER HERE" in text:
            cell["source"] = text.replace("YOUR ANSWER HERE", sentence)
    assert not left
    target = place / "course" / "submitted" / student / LESSON / f"{LESSON}.ipynb"
    target.parent.mkdir(parents=True)
    target.write_text(json.dumps(book), encoding="utf-8")


def test_the_round_trip(course):
    place, run = course
    said = run("nbgrader", "validate", f"source/{LESSON}/{LESSON}.ipynb")
    assert "Success" in said and "fail" not in said.lower(), "the teacher's own version gets full marks"
    run("nbgrader", "generate_assignment", LESSON)
    released = (place / "course" / "release" / LESSON / f"{LESSON}.ipynb").read_text(encoding="utf-8")
    for secret in ("BEGIN SOLUTION", "HIDDEN", "points(", "1 mark:", "model answer", "NotImplementedError"):
        assert secret not in released, secret
    for student, handed in HANDED_IN.items():
        hand_in(place, student, *handed)
    run("nbgrader", "autograde", LESSON)
    marks = json.loads(run("python", "-c", MARKS))
    for student, wanted in EXPECTED.items():
        given = [marks[student][f"points-start-{number}"] for number in (11, 12, 13, 15)]
        assert given == [[score, 1, False] for score in wanted], student
        left = [marks[student][f"points-start-{number}"] for number in range(1, 11)]
        assert left == [[0, 1, False]] * 10, "the ten of the gate were left blank"
    assert marks["copied"]["points-start-11"][0] == 0, "a neighbour's numbers"
    free, points = marks["right"]["answer-start-14"], len(find("start.14").guide)
    assert free == [None, points, True], "a person marks the sentence"
    assert marks["wrong"]["answer-start-14"] == [0, points, False], "nothing was written"

    run("nbgrader", "generate_feedback", LESSON)
    pages = {student: (place / "course" / "feedback" / student / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
             for student in HANDED_IN}  # fmt: skip
    assert f"Score: 4.0 / {14 + points}.0" in pages["right"] and f"Score: 0.5 / {14 + points}.0" in pages["wrong"]
    assert ANNE in pages["right"] and "write its unit too" in pages["wrong"], "the hint is in the feedback"
    teacher = place / "teacher"
    assert not teacher.exists() or list(teacher.iterdir()) == [], "marking writes nothing into the marker's own folder"

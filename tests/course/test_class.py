"""A teacher collects answer files: what is counted, what is left out and how that is said, and that nothing is lost."""

import csv
import html
import io
import json
import re
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))

from invented import hand_in, right, slip

from evlib.course import class_table
from evlib.course.__main__ import main
from evlib.course.class_counts import count
from evlib.course.class_files import LARGEST, collect, tidy
from evlib.course.class_page import MOST, class_page
from evlib.course.lessons import lessons
from evlib.exercises import answers
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.register import find
from evlib.figures import base
from evlib.figures.course import DARKEST, Bars, Grid, draw_grid, draw_slips

GOOD = {"form": 1, "code": "K7-204", "answers": {}, "predictions": {}}


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "collected"
    made.mkdir()
    return made


def table(folder, name):
    """A written table as dictionaries, read as a spreadsheet reads it."""
    return list(csv.DictReader(io.StringIO((folder / name).read_text(encoding="utf-8-sig"))))


def put(folder, name, kept):
    text = kept if isinstance(kept, bytes) else json.dumps(kept).encode()
    (folder / name).write_bytes(text)
    return folder / name


# ---- counting, against a list kept by hand


def test_a_class_is_counted_as_it_answered(folder, tmp_path, capsys):
    """Four learners, each try written down here; the sums beside them are by hand."""
    a, b, c, d = "A1-1", "B2-2", "C3-3", "D4-4"
    hand_in(folder, a, ("motors.1", right("motors.1", a)), ("motors.14", slip("motors.14", a)), ("motors.p1", "more"))
    hand_in(folder, b, ("motors.1", slip("motors.1", b)), ("motors.1", slip("motors.1", b)),
            ("motors.1", right("motors.1", b)), ("motors.14", slip("motors.14", b)),
            ("motors.14", right("motors.14", b)))  # fmt: skip
    hand_in(folder, c, ("motors.1", slip("motors.1", c)), ("start.14", "=1+1 the motors turn the gearbox"))
    hand_in(folder, d, ("motors.15", slip("motors.15", d)), ("motors.15", right("motors.15", d)))
    before = {path: path.read_bytes() for path in folder.iterdir()}
    out = tmp_path / "out"
    assert main(["class", str(folder), "-o", str(out)]) == 0
    assert f"{out} is written for 4 learners. Open class.html first." in capsys.readouterr().out
    assert {path: path.read_bytes() for path in folder.iterdir()} == before, "files are only read"

    learners = {row["code"]: row for row in table(out, "class.csv")}
    assert list(learners) == [a, b, c, d]
    done = next(name for name in learners[a] if name.startswith("done"))
    motors = next(name for name in learners[a] if name.startswith("lesson 01"))
    assert [learners[code][done] for code in (a, b, c, d)] == ["1", "2", "1", "1"]
    assert [learners[code]["right at first"] for code in (a, b, c, d)] == ["1", "0", "0", "0"]
    assert [learners[code]["tries"] for code in (a, b, c, d)] == ["2", "5", "2", "2"]
    assert [learners[code]["predictions"] for code in (a, b, c, d)] == ["1", "0", "0", "0"]
    assert [learners[code][motors] for code in (a, b, c, d)] == ["1", "2", "0", "1"]
    assert [learners[code]["motors.1"] for code in (a, b, c, d)] == ["right at try 1", "right at try 3",
                                                                     "not yet, tries: 1", ""]  # fmt: skip
    assert learners[c]["start.14"] == "kept" and learners[d]["motors.15"] == "right at try 2"

    exercises = {row["exercise"]: row for row in table(out, "exercises.csv") if row["objective"]}
    one = exercises["motors.1"]
    assert (one["tried"], one["right at first"], one["done"], one["mean tries"]) == ("3", "1", "2", "1.7")
    assert (one["slip"], one["learners with the slip"]) == (find("motors.1").slips[0].name, "2")
    assert (exercises["motors.14"]["tried"], exercises["motors.14"]["learners with the slip"]) == ("2", "2")
    assert exercises["start.14"]["marked by"] == "a person" and exercises["hydraulics.1"]["tried"] == "0"
    rows = [row for row in table(out, "objectives.csv") if row["objective"] == find("motors.1").objective]
    assert len(rows) == 1 and rows[0]["exercises"].split() == ["motors.1", "motors.2", "motors.14", "motors.11"]
    assert rows[0]["learners who tried"] == "3" and rows[0]["learners who have all done"] == "0"
    assert rows[0]["learners with the slip"] == "2"

    page = (out / "class.html").read_text(encoding="utf-8")
    assert "=1+1 the motors turn the gearbox" in page and "start.14: 1 to mark" in page
    assert "Lesson 1 Motors" in page and "Lesson 4 Hydraulics" not in page


def test_thirty_learners_are_one_table(folder, tmp_path):
    codes = [f"K{n % 10}-{1000 + n}" for n in range(30)]
    for n, code in enumerate(codes):
        hand_in(folder, code, *[(name, right(name, code)) for name in ("bridges.1", "bridges.2")[: n % 3]],
                ("gearing.13", slip("gearing.13", code)))  # fmt: skip
    out = tmp_path / "out"
    assert main(["class", str(folder), "-o", str(out)]) == 0
    rows = table(out, "class.csv")
    assert [row["code"] for row in rows] == sorted(codes)
    assert sum(row["bridges.1"] == "right at try 1" for row in rows) == 20
    assert sum(row["bridges.2"] == "right at try 1" for row in rows) == 10
    gearing = [row for row in table(out, "exercises.csv") if row["exercise"] == "gearing.13"]
    assert sum(int(row["learners with the slip"]) for row in gearing) == 30
    page = (out / "class.html").read_text(encoding="utf-8")
    assert page.count("<img") == 2 and all(alt.strip() for alt in re.findall(r'<img alt="([^"]*)"', page))


# ---- what is left out


HOSTILE = {
    "empty.json": (b"", "does not read as JSON text"),
    "half.json": (b'{"form": 1, "code": "K7-', "does not read as JSON text"),
    "deep.json": (b"[" * 200_000, "does not read as JSON text"),
    "latin.json": ("é".encode("latin-1"), "does not read as JSON text"),
    "number.json": (b"1" + b"0" * 5000, "does not read as JSON text"),
    "list.json": (b"[]", "is JSON, but no answer file"),
    "other.json": (b'{"name": "Anna"}', "is JSON, but no answer file"),
    "later.json": ({**GOOD, "form": 2}, "is of form 2, from another version; this one reads form 1"),
    "true.json": ({**GOOD, "form": True}, "is of form True"),
    "long.json": ({**GOOD, "form": "x" * 9000}, "is of form 'xxxx"),
    "named.json": ({**GOOD, "code": "Anna"}, "holds no course code"),
    "nocode.json": ({**GOOD, "code": ["K7-204"]}, "holds no course code"),
    "demo.json": ({**GOOD, "code": DEMONSTRATION}, "demonstration numbers"),
    "list of answers.json": ({**GOOD, "answers": []}, "is damaged: its answers"),
    "no text.json": ({**GOOD, "answers": {"motors.1": [{"text": 5, "verdict": "right", "slip": ""}]}}, "is damaged"),
    "no try.json": ({**GOOD, "answers": {"motors.1": "right"}}, "is damaged"),
    "prediction.json": ({**GOOD, "predictions": {"motors.p1": 7}}, "is damaged"),
    "marks.xlsx": (b"PK", "is no answer file, whose name ends in .json"),
    "<b>&\x1b[31m.json": (b"{", "does not read"),
}


def test_each_file_that_cannot_be_used_gets_one_sentence_and_the_others_count(folder, tmp_path, capsys):
    for name, (kept, _) in HOSTILE.items():
        put(folder, name, kept)
    (folder / "link.json").symlink_to("/dev/zero")
    (folder / ".hidden.json").write_text("{")
    (folder / "inner").mkdir()
    hand_in(folder / "inner", "K7-204", ("motors.1", right("motors.1", "K7-204")))
    with (folder / "large.json").open("wb") as file:
        file.truncate(LARGEST + 1)
    out = tmp_path / "out"
    assert main(["class", str(folder), "-o", str(out)]) == 1
    said = capsys.readouterr()
    lines = said.err.splitlines()
    wanted = {**{name: words for name, (_, words) in HOSTILE.items()}, "link.json": "is a link or a device",
              "large.json": "has 20 MB; an answer file has at most 20 MB"}  # fmt: skip
    assert len(lines) == len(wanted)
    for name, words in wanted.items():
        found = [line for line in lines if line.startswith(f"{tidy(name)}: ")]
        assert len(found) == 1 and words in found[0] and found[0].endswith("."), (name, found)
        assert len(found[0]) < 200 and "\x1b" not in found[0]
    assert f"written for 1 learner; {len(wanted)} files left out" in said.out
    page = (out / "class.html").read_text(encoding="utf-8")
    assert all(html.escape(line) in page for line in lines) and "<b>&" not in page
    assert [row["code"] for row in table(out, "class.csv")] == ["K7-204"]
    assert all((folder / name).exists() for name in HOSTILE), "nothing is lost"


def test_a_code_that_comes_twice_counts_once_and_is_said(folder):
    code = "K7-204"
    full = hand_in(folder, code, ("motors.1", right("motors.1", code)), ("motors.2", right("motors.2", code)))
    kept = json.loads(full.read_text())
    put(folder, "answers-K7-204 (1).json", kept)
    put(folder, "a earlier.json", {**kept, "answers": {"motors.1": kept["answers"]["motors.1"]}})
    put(folder, "z other computer.json", {**kept, "answers": {"motors.3": kept["answers"]["motors.1"]}})
    found = collect(folder)
    assert [sheet.code for sheet in found.sheets] == [code]
    assert set(found.sheets[0].tries) == {"motors.1", "motors.2"}
    assert sorted(found.left_out) == [
        "a earlier.json: has the code K7-204, as answers-K7-204 (1).json has; that one holds more, and is used.",
        "answers-K7-204.json: is the same as answers-K7-204 (1).json, which is used.",
        "z other computer.json: has the code K7-204, as answers-K7-204 (1).json has; that one holds more, and lacks "
        "motors.3, and is used.",
    ]


def test_what_a_file_says_about_itself_is_not_believed(folder):
    code = "K7-204"
    path = hand_in(folder, code, ("motors.1", slip("motors.1", code)))
    kept = json.loads(path.read_text())
    kept["answers"]["motors.1"][0] |= {"verdict": "right", "slip": '=HYPERLINK("x")'}
    kept["answers"]["no.\x1b7"] = kept["answers"]["motors.1"]
    put(folder, path.name, kept)
    found = collect(folder)
    assert found.sheets[0].verdicts("motors.1") == ("slip",)
    assert found.sheets[0].slips("motors.1") == {find("motors.1").slips[0].name}
    assert len(found.remarks) == 2 and found.left_out == ()
    assert "motors.1 came out otherwise" in found.remarks[0]
    assert "no.?7 does not belong to this version" in found.remarks[1]


def test_a_file_with_a_mark_of_its_encoding_is_read(folder):
    path = hand_in(folder, "K7-204", ("motors.1", "5 rpm"))
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert len(collect(folder).sheets) == 1


def test_a_file_that_may_not_be_read_is_said(folder, monkeypatch):
    def refuse(path):
        raise PermissionError(13, "Permission denied")

    put(folder, "shut.json", GOOD)
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert collect(folder).left_out == ("shut.json: could not be read (Permission denied).",)


def test_no_folder_and_no_files_and_a_folder_in_use_are_said(folder, tmp_path, capsys):
    assert main(["class", str(tmp_path / "none"), "-o", str(tmp_path / "out")]) == 2
    assert "there is no such folder" in capsys.readouterr().err
    assert main(["class", str(folder), "-o", str(tmp_path / "out")]) == 2
    assert "no answer file in it that could be used" in capsys.readouterr().err
    hand_in(folder, "K7-204", ("motors.1", "5 rpm"))
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine.txt").write_text("mine")
    assert main(["class", str(folder), "-o", str(tmp_path / "out")]) == 2
    assert "exists already" in capsys.readouterr().err
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["mine.txt"]


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_cell_is_taken_for_a_formula(cell):
    (row,) = list(csv.reader(io.StringIO(class_table._csv([[cell, "plain"]]))))
    assert row[0] == f"'{cell}" and row[1] == "plain"


def test_the_fullest_file_that_the_boxes_write_is_not_too_large():
    """Fifty tries of the longest text that is typed by hand (a page), for every exercise that is asked."""
    names = {one.id for lesson in lessons() for one in lesson.exercises}
    assert len(names) * answers.KEEP * 2000 <= LARGEST


# ---- pictures


def test_the_grid_shows_each_number_where_it_belongs():
    grid = Grid(("K1-1", "K2-2"), ("00", "01", "02"), ((0.0, 0.5, 1.0), (0.25, 0.0, 0.75)))
    _, axes = base.figure()
    base.call_draw(draw_grid, grid, axes)
    placed = {text.get_position(): text.get_text() for text in axes[0].texts}
    assert [placed.get((x + 0.5, 0.5)) for x in range(3)] == [None, "50", "100"]
    assert [placed.get((x + 0.5, 1.5)) for x in range(3)] == ["25", None, "75"]
    assert [placed[(x + 0.5, -0.5)] for x in range(3)] == ["00", "01", "02"]


def test_numbers_on_the_darkest_field_can_be_read():
    """WCAG 2.2, 1.4.3: 4.5 to 1. Luminance as defined there, for ink on the blue laid over white."""

    def luminance(colour):
        parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour]
        return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]

    rgb = lambda text: np.array([int(text[at : at + 2], 16) / 255 for at in (1, 3, 5)])  # noqa: E731
    field = 1 - DARKEST * (1 - rgb(base.COLOURS["blue"]))
    assert (luminance(field) + 0.05) / (luminance(rgb(base.INK)) + 0.05) >= 4.5


def test_the_bars_are_as_long_as_the_counts():
    _, axes = base.figure()
    base.call_draw(draw_slips, Bars(("motors.1: a" * 9, "b"), (7, 3)), axes)
    assert [bar.get_width() for bar in axes[0].patches] == [7, 3]
    assert [text.get_text()[:2].strip() for text in axes[0].texts] == ["7", "3"]
    assert axes[0].texts[0].get_text().endswith("…") and "learners" in axes[0].get_xlabel()


def test_a_large_class_gets_several_pictures_and_each_is_small(folder):
    for n in range(MOST + 1):
        hand_in(folder, f"ABCDEFG{n % 10}-1234567{n // 10}", ("bridges.1", "5 ohm"))
    collected = collect(folder)
    made = class_page(count(collected.sheets, lessons()), collected)
    sizes = [len(data) * 3 / 4 for data in re.findall(r"base64,([A-Za-z0-9+/=]+)", made)]
    assert len(sizes) == 3 or (len(sizes) == 2 and "No slip was recognised" in made)
    assert max(sizes) <= base.LARGEST_PNG

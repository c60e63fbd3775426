"""Builds side by side: what differs, verdict changes first; the same from the command line."""

import subprocess
import sys

import pytest

from evlib.build.__main__ import main
from evlib.build.compare import compare, listed, moved
from evlib.build.file import find_build, read_build
from evlib.build.review import review


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


@pytest.fixture(scope="module")
def turned_down(pickup):
    return pickup.changed({"controller.motor_current_limit": "510 A"})


def test_two_versions_differ_in_what_was_changed_and_in_nothing_else(pickup, turned_down):
    found = compare((pickup, turned_down), figures=False)
    assert [(each.path, each.values) for each in found.values] == [
        ("controller.motor_current_limit", ("900 A", "510 A"))
    ]


def test_every_changed_verdict_is_there_and_comes_first_the_worse_ones_ahead(pickup, turned_down):
    found = compare((pickup, turned_down), figures=False)
    then, now = ({c.name: c.verdict for c in review(b, figures=False).checks} for b in (pickup, turned_down))
    changed = [line.name for line in found.checks if line.verdict_changed]
    assert set(changed) == {name for name in then if then[name] != now[name]}
    assert [line.name for line in found.checks][: len(changed)] == changed
    order = [line.worse for line in found.checks[: len(changed)]]
    assert order == sorted(order, reverse=True)
    assert next(line for line in found.checks if line.name == "steepest start").worse
    # By hand: the brushes allow 750 A, in series they carry what the controller gives: 750 / 510 - 1 and 750 / 900 - 1.
    line = next(line for line in found.checks if line.name == "motor current")
    assert [check.margin for check in line.checks] == pytest.approx([-0.1667, 0.4706], abs=1e-4)
    assert line.shift == pytest.approx(0.4706 + 0.1667, abs=2e-4)


def test_the_figures_that_a_change_moves_are_there_and_the_others_are_not(pickup, turned_down):
    names = {each.words for each in compare((pickup, turned_down)).figures}
    assert "time to the target speed" in names
    assert "standing 400 m" in names
    assert not {"full gap to leave", "top speed"} & names  # the current limit rules neither


def test_a_build_beside_itself_differs_in_nothing(pickup):
    found = compare((pickup, pickup))
    assert (found.values, found.checks, found.figures) == ((), (), ())
    assert found.sentence == "The builds state the same values."
    assert listed(found, ("one", "two")) == ()


def test_what_is_not_stated_differs_from_what_is(pickup):
    found = compare((pickup, pickup.changed({"vehicle.mass": None})), figures=False)
    assert found.values[0].values == ("2300 kg (5071 lb)", "not stated")  # 2300 over 0.45359237
    assert next(line for line in found.checks if line.name == "grip").checks[1].verdict == "not known"


def test_a_curve_and_a_choice_differ_too(pickup):
    curve = {"x": ["0 %", "100 %"], "y": ["2.9 V", "3.4 V"]}
    found = compare((pickup, pickup.changed({"pack.cell_open_voltage": curve, "machine.wiring": "parallel"})))
    assert [each.path for each in found.values] == ["pack.cell_open_voltage", "machine.wiring"]
    assert found.values[0].values[0].startswith("curve of 8 points")
    assert found.values[0].values[1].startswith("curve of 2 points")


def test_three_and_four_builds_and_no_more(pickup):
    van, hatch = (read_build(find_build(name)) for name in ("orchard_van", "college_hatch"))
    found = compare((pickup, van, hatch), figures=False)
    assert {len(line.checks) for line in found.checks} == {3}
    without = [line for line in found.checks if "does not apply" in [check.verdict for check in line.checks]]
    assert found.checks[0] not in without  # that a part is not fitted comes after what both have
    for builds in ((pickup,), (pickup, van, hatch, pickup, van)):
        with pytest.raises(ValueError, match=r"builds: \d were given; allowed: 2 to 4"):
            compare(builds)


def test_tables_say_how_many_rows_they_leave_out(pickup, turned_down):
    found = compare((pickup, turned_down))
    short = listed(found, ("as delivered", "turned down"), most=2)
    assert short[0].header == ("check", "as delivered", "turned down")
    assert all(len(table.rows) <= 2 for table in short)
    count = sum(line.verdict_changed for line in found.checks)
    assert short[0].title == f"checks with another verdict (the first 2 of {count})"


def test_two_for_a_lessons_cell_are_the_same_lines(pickup, turned_down):
    pairs = moved(pickup, turned_down)
    lines = compare((pickup, turned_down), figures=False).checks
    assert [(pair.before.name, pair.verdict_changed) for pair in pairs] == [(x.name, x.verdict_changed) for x in lines]


# --- the command line -----------------------------------------------------------------------------------------------
def test_compare_prints_tables_and_gives_1_where_a_check_fails(capsys):
    assert main(["compare", "quarry_pickup", "orchard_van"]) == 1
    said = capsys.readouterr().out
    assert said.index("checks with another verdict") < said.index("values that differ")
    assert "orchard_van: " in said
    assert "checks passed" in said


def test_compare_gives_0_where_every_check_passed(capsys):
    assert main(["compare", "orchard_van", "orchard_van"]) == 0
    assert capsys.readouterr().out.startswith("The builds state the same values.")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["compare", "orchard_van"], "builds: 1 given; allowed: 2 to 4"),
        (["compare", *["orchard_van"] * 5], "builds: 5 given; allowed: 2 to 4"),
        (["compare", "orchard_van", "no_such_van"], "no build of that name; there are:"),
        (["compare", "orchard_van", "quary_pickup"], "did you mean quarry_pickup?"),
        (["repair", "orchard_van", "--check", "grap"], "--check: 'grap' is no check; the command review lists them"),
        (["repair", "no_such_van"], "no build of that name"),
    ],
)
def test_bad_input_is_one_sentence_and_status_2(words, said, capsys):
    assert main(words) == 2
    told = capsys.readouterr()
    assert said in told.err
    assert told.out == ""
    assert "Traceback" not in told.err


def test_repair_prints_the_smallest_changes(capsys):
    assert main(["repair", "quarry_pickup", "--check", "pack current"]) == 1
    said = capsys.readouterr().out
    assert "500 A  270 A" in said  # 300 A that the pack allows, over 1.1, rounded to a setting
    assert main(["repair", "orchard_van"]) == 0


def test_a_reader_that_stops_reading_gets_no_traceback():
    words = [sys.executable, "-m", "evlib.build", "compare", "quarry_pickup", "college_hatch"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        running.stdout.close()
        assert running.stderr.read() == b""

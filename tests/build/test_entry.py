"""A build filled in value by value: saved at once or refused in one sentence, and nothing lost."""

import os
import subprocess
import sys
import tomllib

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evlib.build.entry import enter, entries, own_build, sections_of
from evlib.build.file import BadBuild, find_build, read_build
from evlib.build.schema import declared
from evlib.ground.quantity import quantity_of


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    return own_build("my_van")


def test_a_new_build_is_blank_and_opened_again_as_it_was_left(mine):
    assert all(row.typed == "" for row in entries(mine, *sections_of("vehicle", "pack", "hydraulics")))
    enter(mine, "vehicle.mass", "3100 lb", source="measured")
    assert own_build("my_van") == mine
    build = read_build(mine)
    assert build.vehicle.mass == pytest.approx(3100 * 0.45359237)  # the pound of 1959, exact
    assert build.origins["vehicle.mass"].source == "measured"


@pytest.mark.parametrize("name", ["", "../up", "Big", "a b", "x" * 41, "-x", "a/b", "é"])
def test_a_bad_name_is_refused_in_one_sentence(tmp_path, monkeypatch, name):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    with pytest.raises(ValueError, match="allowed: small letters"):
        own_build(name)
    assert not list(tmp_path.rglob("*.toml"))


def test_every_value_that_a_build_can_hold_is_asked_for_once(mine):
    rows = entries(mine, *sections_of(*{place.split(".")[0] for place in declared()}))
    assert [row.path for row in rows] == list(declared())
    for row in rows:
        assert row.words
        quantity = quantity_of(declared()[row.path])
        if quantity is not None and row.kind == "number":
            assert row.how == quantity.how and (row.typical != "") == (quantity.slider is not None)


@pytest.mark.parametrize("name", ["orchard_van", "quarry_pickup", "college_hatch"])
def test_a_build_typed_in_value_by_value_is_that_build(tmp_path, monkeypatch, name):
    """Everything that a shipped file states can be typed into the form, and gives the same numbers."""
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    source, mine = find_build(name), own_build("copy")
    given = read_build(source)
    sections = sections_of(*(part for part in tomllib.loads(source.read_text(encoding="utf-8"))))
    rows = [row for row in entries(source, *sections) if row.typed]
    rows = rows[:: max(1, len(rows) // 40)]  # about forty of them: each is a whole file written and forced to the disk
    for row in rows:
        typed = row.typed
        if row.kind == "number" and typed.replace(".", "").replace("e-", "").isdigit():  # a plain SI number in the file
            quantity = quantity_of(declared()[row.path])
            typed += f" {quantity.unit}" if quantity.unit else ""
            typed = f"{float(typed) * 100:g} %" if quantity.shown_unit() == "percent" else typed
        enter(mine, row.path, typed, source=row.source or "guess")
    made = read_build(mine)
    for row in rows:
        mine_now, theirs = made.value(row.path), given.value(row.path)
        if row.kind == "points":
            assert (mine_now.x.tolist(), mine_now.y.tolist()) == (theirs.x.tolist(), theirs.y.tolist()), row.path
        else:
            assert mine_now == (pytest.approx(theirs, rel=1e-12) if isinstance(theirs, float) else theirs), row.path


REFUSED = [
    ("vehicle.mass", "1400", "no unit; write for example 1400 kg"),
    ("vehicle.mass", "-3 kg", "allowed: more than 0 kg"),
    ("vehicle.mass", "3 m", "is not one of kg, lb"),
    ("vehicle.mass", "heavy", "does not begin with a number"),
    ("vehicle.driven_axle", "reer", "allowed: rear, front, all"),
    ("pack.cells_in_series", "96.5", "a whole number"),
    ("pack.cell_open_voltage", "0 %, 2.8 V\n50 % 3.2 V", "line 2"),
    ("pack.cell_open_voltage", "50 %, 2.8 V\n10 %, 3.4 V", "x must rise"),
    ("pack.cell_open_voltage", "0 %, 2.8 V\n50 %, 3.4", "no unit"),
    ("protection.pack_cable.conductor_area", "70", "no unit"),
    ("hydraulics.fitted", "perhaps", "allowed: yes, no"),
    ("vehicle.wings", "2", "no such value"),
]


@pytest.mark.parametrize(("place", "typed", "said"), REFUSED)
def test_nonsense_is_refused_and_the_file_stays_as_it_was(mine, place, typed, said):
    enter(mine, "vehicle.mass", "1400 kg")
    before = mine.read_bytes()
    with pytest.raises(ValueError, match=r"^[^\n]*$") as told:
        enter(mine, place, typed)
    assert said in str(told.value)
    assert mine.read_bytes() == before
    assert list(mine.parent.iterdir()) == [mine]


def test_an_unknown_source_is_refused(mine):
    with pytest.raises(ValueError, match="allowed: measured, catalogue, guess"):
        enter(mine, "vehicle.mass", "1400 kg", source="the internet")


def test_a_wire_size_says_its_unit_by_itself(mine):
    enter(mine, "protection.pack_cable.conductor_area", "2/0")
    assert read_build(mine).protection.pack_cable.conductor_area == pytest.approx(67.43e-6, rel=1e-3)  # ASTM B258


def test_an_emptied_box_is_not_known_again(mine):
    enter(mine, "vehicle.mass", "1400 kg")
    assert enter(mine, "vehicle.mass", "  ").typed == ""
    assert read_build(mine).value("vehicle.mass") is None


def test_a_note_in_the_file_stays_when_the_value_is_typed_anew(mine):
    mine.write_text('# mine\n[vehicle]\nmass = { value = "1400 kg", from = "guess", note = "from the papers" }\n')
    row = enter(mine, "vehicle.mass", "1450 kg", source="measured")
    assert (row.note, row.source) == ("from the papers", "measured")
    assert mine.read_text().startswith("# mine")


def test_a_file_with_a_mistake_is_never_written_over(mine):
    mine.write_text("[vehicle]\nmass = 'heavy'\n")
    with pytest.raises(BadBuild):
        enter(mine, "vehicle.mass", "1400 kg")
    assert "heavy" in mine.read_text()


def test_nothing_is_lost_when_the_program_dies(tmp_path):
    """A process is killed without warning after two answers: both are in the file."""
    program = (
        "import os; from evlib.build.entry import own_build, enter; p = own_build('x');"
        "enter(p, 'vehicle.mass', '1400 kg'); enter(p, 'pack.cells_in_series', '96'); os.kill(os.getpid(), 9)"
        if os.name == "posix"
        else "import os; from evlib.build.entry import own_build, enter; p = own_build('x');"
        "enter(p, 'vehicle.mass', '1400 kg'); enter(p, 'pack.cells_in_series', '96'); os._exit(9)"
    )
    subprocess.run([sys.executable, "-c", program], env={**os.environ, "EVLIB_FOLDER": str(tmp_path)}, check=False)
    build = read_build(tmp_path / "builds" / "x.toml")
    assert (build.vehicle.mass, build.pack.cells_in_series) == (1400.0, 96.0)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(typed=st.text(max_size=60), place=st.sampled_from([p for p in declared() if not p.startswith("build.")]))
def test_whatever_is_typed_is_saved_or_refused(mine, typed, place):
    try:
        enter(mine, place, typed)
    except ValueError as error:
        assert str(error).strip() and "Traceback" not in str(error)
    read_build(mine)

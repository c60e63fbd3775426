"""The set-up check: all works here; each thing that does not says so in its row, with what to do."""

import pytest

from evlib.lesson import setup


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    return tmp_path


def test_all_works_and_nothing_is_left_behind(own_folder):
    said = repr(setup.check_setup())
    assert said.count("works") == len(setup.PROBES) and "does not" not in said
    assert list(own_folder.iterdir()) == []


@pytest.mark.parametrize("broken", range(len(setup.PROBES)))
@pytest.mark.parametrize("how", ["false", "raises"])
def test_what_does_not_work_says_what_to_do(monkeypatch, broken, how):
    def fail():
        if how == "raises":
            raise ImportError("no module named wibble")
        return False

    rows = list(setup.PROBES)
    what, _, advice = rows[broken]
    rows[broken] = (what, fail, advice)
    monkeypatch.setattr(setup, "PROBES", tuple(rows))
    said = repr(setup.check_setup())
    assert said.count("does not work") == 1 and advice in said
    assert ("wibble" in said) == (how == "raises")


def test_a_folder_that_cannot_be_written_is_told(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path / "file" / "below"))
    assert "set EVLIB_FOLDER" in repr(setup.check_setup())


@pytest.mark.parametrize(("version", "good"), [((3, 10), False), ((3, 11), True), ((3, 13), True), ((3, 14), False)])
def test_pythons(monkeypatch, version, good):
    monkeypatch.setattr(setup.sys, "version_info", version)
    assert setup._python() is good

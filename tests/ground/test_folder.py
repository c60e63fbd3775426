"""The learner's folder: outside the clone, written whole or not at all, and nothing of the learner's ever lost."""

import ast
import json
import os
import sys
from pathlib import Path

import pytest

from evlib.ground import folder as module
from evlib.ground.folder import copy_lessons, folder, write_atomically


def notebook(*sources, outputs=()):
    cells = [{"cell_type": "code", "source": [s], "outputs": list(outputs), "metadata": {}} for s in sources]
    return json.dumps({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5})


@pytest.fixture
def places(tmp_path):
    clone, mine = tmp_path / "clone", tmp_path / "mine"
    clone.mkdir()
    (clone / "01_a.ipynb").write_text(notebook("first"))
    copy_lessons(clone, mine)
    return clone, mine


def everything(mine):
    return {p.relative_to(mine).as_posix(): p.read_text() for p in mine.rglob("*") if p.is_file() and p.name[0] != "."}


def test_the_folder_is_the_variables_or_in_the_home_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path / "a" / "b"))
    assert folder() == tmp_path / "a" / "b" and folder().is_dir()
    monkeypatch.setenv("EVLIB_FOLDER", "  ")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert folder() == tmp_path / module.NAME and folder().is_dir()


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path / "file"))
    with pytest.raises(OSError, match=r"^Your folder .*file cannot be made .*: set EVLIB_FOLDER .*\.$"):
        folder()


def test_only_the_standard_library_is_imported():
    tree = ast.parse(Path(module.__file__).read_text())
    names = {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    names |= {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    assert {name.partition(".")[0] for name in names} <= set(sys.stdlib_module_names)


def test_writing_leaves_the_whole_text_and_nothing_else(tmp_path):
    path = tmp_path / "build.toml"
    write_atomically(path, "mass = 'µ'\n")
    write_atomically(path, "second\n")
    assert path.read_bytes() == b"second\n"
    assert [p.name for p in tmp_path.iterdir()] == ["build.toml"]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_write_that_fails_keeps_the_old_text(tmp_path, monkeypatch, step):
    path = tmp_path / "build.toml"
    write_atomically(path, "old\n")

    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(*((os, "fsync", full) if step == "fsync" else (Path, "replace", full)))
    with pytest.raises(OSError, match="No space"):
        write_atomically(path, "new\n")
    assert path.read_text() == "old\n"
    assert [p.name for p in tmp_path.iterdir()] == ["build.toml"]


@pytest.mark.skipif(os.name != "posix", reason="permissions are POSIX's")
def test_permissions_are_kept_and_a_new_file_is_like_any_other(tmp_path):
    (tmp_path / "plain").write_text("")
    write_atomically(tmp_path / "new", "text")
    assert (tmp_path / "new").stat().st_mode == (tmp_path / "plain").stat().st_mode
    (tmp_path / "new").chmod(0o640)
    write_atomically(tmp_path / "new", "text")
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o640


@pytest.mark.skipif(os.name != "posix", reason="links need no rights on POSIX only")
def test_a_link_stays_a_link(tmp_path):
    (tmp_path / "real").write_text("old")
    (tmp_path / "link").symlink_to("real")
    write_atomically(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink() and (tmp_path / "real").read_text() == "new"


def test_lessons_are_copied_once_and_a_second_time_does_nothing(places):
    clone, mine = places
    before = everything(mine)
    assert before == {"01_a.ipynb": notebook("first")}
    assert copy_lessons(clone, mine) == module.Copied()
    assert everything(mine) == before


def test_an_unmodified_copy_is_refreshed(places):
    clone, mine = places
    (clone / "01_a.ipynb").write_text(notebook("second"))
    assert copy_lessons(clone, mine).refreshed == ("01_a.ipynb",)
    assert everything(mine) == {"01_a.ipynb": notebook("second")}


def test_a_copy_that_was_only_run_is_refreshed_and_the_run_one_kept(places):
    clone, mine = places
    ran = notebook("first", outputs=[{"output_type": "stream", "name": "stdout", "text": ["85 N m"]}])
    (mine / "01_a.ipynb").write_text(ran)
    assert copy_lessons(clone, mine) == module.Copied()
    for version in ("second", "third"):
        (clone / "01_a.ipynb").write_text(notebook(version))
        copy_lessons(clone, mine)
    assert everything(mine) == {"01_a.ipynb": notebook("third"), "earlier/01_a.ipynb": ran}


def test_a_modified_copy_is_never_touched_and_the_new_one_lies_beside_it(places):
    clone, mine = places
    changed = notebook("first", "my own cell")
    (mine / "01_a.ipynb").write_text(changed)
    assert copy_lessons(clone, mine) == module.Copied()
    (clone / "01_a.ipynb").write_text(notebook("second"))
    assert copy_lessons(clone, mine).beside == ("01_a.ipynb",)
    assert everything(mine) == {"01_a.ipynb": changed, "01_a (new version).ipynb": notebook("second")}
    assert copy_lessons(clone, mine) == module.Copied()
    (clone / "01_a.ipynb").write_text(notebook("third"))
    assert copy_lessons(clone, mine).beside == ("01_a.ipynb",)
    assert everything(mine) == {"01_a.ipynb": changed, "01_a (new version).ipynb": notebook("third")}


def test_a_new_version_that_was_changed_too_is_kept_and_one_thrown_away_stays_away(places):
    clone, mine = places
    (mine / "01_a.ipynb").write_text(notebook("mine"))
    (clone / "01_a.ipynb").write_text(notebook("second"))
    copy_lessons(clone, mine)
    (mine / "01_a (new version).ipynb").write_text(notebook("mine too"))
    (clone / "01_a.ipynb").write_text(notebook("third"))
    copy_lessons(clone, mine)
    assert everything(mine) == {
        "01_a.ipynb": notebook("mine"),
        "01_a (new version).ipynb": notebook("mine too"),
        "01_a (new version 2).ipynb": notebook("third"),
    }
    (mine / "01_a (new version 2).ipynb").unlink()
    assert copy_lessons(clone, mine) == module.Copied()
    (clone / "01_a.ipynb").write_text(notebook("fourth"))
    copy_lessons(clone, mine)
    assert everything(mine)["01_a (new version 2).ipynb"] == notebook("fourth")


def test_a_deleted_lesson_comes_back(places):
    clone, mine = places
    (mine / "01_a.ipynb").unlink()
    assert copy_lessons(clone, mine).new == ("01_a.ipynb",)


@pytest.mark.parametrize("record", [None, "", "not json", "[]", '{"01_a.ipynb": 3}', '{"01_a.ipynb": {"bytes": "x"}}'])
def test_without_a_readable_record_every_differing_file_is_the_learners(places, record):
    clone, mine = places
    if record is None:
        (mine / module.RECORD).unlink()
    else:
        (mine / module.RECORD).write_text(record)
    (clone / "01_a.ipynb").write_text(notebook("second"))
    copy_lessons(clone, mine)
    assert everything(mine) == {"01_a.ipynb": notebook("first"), "01_a (new version).ipynb": notebook("second")}


def test_a_damaged_copy_is_the_learners(places):
    clone, mine = places
    (mine / "01_a.ipynb").write_text('{"cells": [')
    (clone / "01_a.ipynb").write_text(notebook("second"))
    copy_lessons(clone, mine)
    assert everything(mine)["01_a.ipynb"] == '{"cells": ['


def test_hidden_files_and_tools_are_not_copied(places):
    clone, mine = places
    for name in (".hidden.ipynb", "tool.py"):
        (clone / name).write_text("")
    (clone / "drawing.svg").write_text("<svg/>")
    assert copy_lessons(clone, mine).new == ("drawing.svg",)


def test_a_stop_half_way_leaves_the_old_copy(places, monkeypatch):
    clone, mine = places
    (clone / "01_a.ipynb").write_text(notebook("second"))

    def full(source, target):
        Path(target).write_text("hal")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.shutil, "copyfile", full)
    with pytest.raises(OSError, match="No space"):
        copy_lessons(clone, mine)
    monkeypatch.undo()
    assert everything(mine) == {"01_a.ipynb": notebook("first")}
    copy_lessons(clone, mine)
    assert everything(mine) == {"01_a.ipynb": notebook("second")}

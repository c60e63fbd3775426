"""The learner's own folder: builds, answers and lesson copies live there, outside the clone, and nothing is lost.

An update of the project replaces the clone; it never touches this folder except through :func:`copy_lessons`.
Standard library only, because ``start.py`` calls it before anything is installed.
"""

from __future__ import annotations

import contextlib
import dataclasses
import hashlib
import json
import os
import shutil
import tempfile
from pathlib import Path

VARIABLE = "EVLIB_FOLDER"
NAME = "my-ev-lessons"
RECORD = ".given.json"  # which version of each lesson was given, so that a learner's change can be told from ours
PRIVATE = (".py", ".cfg")  # beside the lessons in the clone, but not for the learner


def folder() -> Path:
    """The learner's folder: what the variable ``EVLIB_FOLDER`` says, else ``my-ev-lessons`` in the home folder.

    It is made if it is missing. Raises ``OSError`` with one plain sentence if that cannot be done.
    """
    chosen = os.environ.get(VARIABLE, "").strip()
    path = Path(chosen).expanduser().absolute() if chosen else Path.home() / NAME
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        reason = problem.strerror or problem
        raise OSError(
            f"Your folder {path} cannot be made ({reason}): set {VARIABLE} to the path of a folder where you may write."
        ) from problem
    return path


def write_atomically(path: Path, content: str | bytes) -> None:
    """Write a file, of text or of bytes, so that at every moment either the old or the new one is there whole.

    The content goes to a temporary file in the same folder, is forced to the disk, and then takes the old file's name.
    A link is followed; the old file's permissions are kept.
    """
    path = path.resolve()
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, name)
        elif os.name == "posix":
            mask = os.umask(0)
            os.umask(mask)
            Path(name).chmod(0o666 & ~mask)
        Path(name).replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


@dataclasses.dataclass(frozen=True)
class Copied:
    """What :func:`copy_lessons` did, by file name: ``new``, ``refreshed``, and ``beside`` (learner's file kept)."""

    new: tuple[str, ...] = ()
    refreshed: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()


def copy_lessons(source: Path, target: Path) -> Copied:
    """Bring the lessons in ``source`` into the learner's folder ``target``, and lose nothing of the learner's.

    - A lesson that is missing is copied.
    - A copy whose cells are as they were given is refreshed. If it had been run, the run copy is moved to
      ``earlier/`` first, since its outputs are the learner's.
    - A copy that the learner changed is never touched; the new version is put beside it, once, as
      ``NAME (new version).ipynb``. Thrown away, that one does not come back until there is something newer.
    """
    target.mkdir(parents=True, exist_ok=True)
    given = _read_record(target / RECORD)
    done: dict[str, list[str]] = {"new": [], "refreshed": [], "beside": []}
    for lesson in sorted(source.iterdir()):
        if lesson.is_file() and not lesson.name.startswith(".") and lesson.suffix not in PRIVATE:
            how = _bring(lesson, lesson.name, target, given)
            if how:
                done[how].append(lesson.name)
    write_atomically(target / RECORD, json.dumps(given, indent=1, sort_keys=True) + "\n")
    return Copied(**{how: tuple(names) for how, names in done.items()})


def _bring(lesson: Path, name: str, target: Path, given: dict[str, dict[str, str]]) -> str:
    """Copy or refresh one lesson as ``name``, or put it beside a changed one. Returns what was done."""
    mine, offered, record = target / name, _mark(lesson), given.get(name)
    beside = name != lesson.name
    if not mine.exists():
        if beside and record is not None and record["bytes"] == offered["bytes"]:
            return ""  # the learner had this version and has thrown it away
        _put(lesson, mine)
        given[name] = offered
        return "beside" if beside else "new"
    present = _mark(mine)
    if present["bytes"] == offered["bytes"]:
        given[name] = offered
        return ""
    if record is not None and record["bytes"] == offered["bytes"]:
        return ""  # changed by the learner, and there is nothing newer
    if record is not None and record["cells"] == present["cells"]:
        if record["bytes"] != present["bytes"]:
            _keep(mine, target / "earlier")
        _put(lesson, mine)
        given[name] = offered
        return "beside" if beside else "refreshed"
    return _bring(lesson, _next(name), target, given)


def _next(name: str) -> str:
    """``a.ipynb``, then ``a (new version).ipynb``, then ``a (new version 2).ipynb`` and so on."""
    path = Path(name)
    stem, found, rest = path.stem.rpartition(" (new version")
    if not found:
        return f"{path.stem} (new version){path.suffix}"
    number = int(rest.rstrip(")") or 1) + 1
    return f"{stem} (new version {number}){path.suffix}"


def _put(lesson: Path, path: Path) -> None:
    """Copy one file so that a stop half-way leaves the old one."""
    part = path.with_name(f".{path.name}.part")
    try:
        shutil.copyfile(lesson, part)
        part.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise


def _keep(path: Path, folder: Path) -> None:
    folder.mkdir(exist_ok=True)
    path.rename(_free(folder, path.stem, path.suffix))


def _free(folder: Path, stem: str, suffix: str) -> Path:
    """A name that no file has yet."""
    path, number = folder / f"{stem}{suffix}", 2
    while path.exists():
        path, number = folder / f"{stem} {number}{suffix}", number + 1
    return path


def _mark(path: Path) -> dict[str, str]:
    """Digests of a file: of its bytes, and of what a notebook's cells say without their outputs."""
    content = path.read_bytes()
    whole = hashlib.sha256(content).hexdigest()
    try:
        cells = [[cell["cell_type"], "".join(cell["source"])] for cell in json.loads(content)["cells"]]
        said = hashlib.sha256(json.dumps(cells).encode()).hexdigest()
    except (ValueError, KeyError, TypeError):
        said = whole  # not a notebook, or a broken one: only the same bytes are the same
    return {"bytes": whole, "cells": said}


def _read_record(path: Path) -> dict[str, dict[str, str]]:
    """What was given before. A missing or damaged record means that nothing is known to be ours."""
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
        return {str(name): {"bytes": str(m["bytes"]), "cells": str(m["cells"])} for name, m in record.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}

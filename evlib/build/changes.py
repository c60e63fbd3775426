"""Changes to a build that are kept in a file of their own: a build file in which only stands what differs."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build.file import read_build
from evlib.build.schema import Build, declared

SHIPPED = Path(__file__).parents[2] / "data" / "builds" / "changes"


@dataclasses.dataclass(frozen=True)
class Change:
    """One value that differs: its path, what it was, what it is, and the note that says why."""

    path: str
    before: Any
    after: Any
    note: str


def changes_of(name: str) -> Build:
    """The changes that come with the course under this name. Raises ``ValueError`` naming those there are."""
    path = SHIPPED / f"{name}.toml"
    if path.parent != SHIPPED or not path.is_file():
        raise ValueError(
            f"changes: {name[:40]!r} was given; there are: {', '.join(sorted(p.stem for p in SHIPPED.glob('*')))}"
        )
    return read_build(path)


def changed_by(build: Build, changes: Build) -> Build:
    """The build with every value that the changes state; where each comes from goes with it."""
    stated = {path: value for path in declared() if (value := changes.value(path)) is not None}
    made = build.changed(stated)
    origins = {path: changes.origins[path] for path in stated if path in changes.origins}
    return Build(made.parts, {**made.origins, **origins}, made.base)


def differences(build: Build, changes: Build) -> tuple[Change, ...]:
    """What the changes change on this build, in the file's order; what is as it was is left out."""
    return tuple(each for each in _differing(build, changes) if each.after is not None)


def made_on(build: Build) -> tuple[Change, ...]:
    """What was changed on a build since it was read, in the file's order; nothing where it is as it was read."""
    return tuple(_differing(build.base, build)) if build.base is not None else ()


def title(build: Build) -> str:
    """What a page about a build is headed: a changed one does not go by the name of the one it was made from."""
    return f"{build.name}, changed" if made_on(build) else build.name


def _differing(build: Build, changes: Build) -> Iterator[Change]:
    for path in declared():
        before, after = build.value(path), changes.value(path)
        if not _same(before, after):
            origin = changes.origins.get(path)
            yield Change(path, before, after, origin.note if origin else "")


def _same(one: Any, other: Any) -> bool:
    if hasattr(other, "x"):  # a curve
        return one is not None and np.array_equal(one.x, other.x) and np.array_equal(one.y, other.y)
    return bool(np.array_equal(one, other)) if isinstance(one, np.ndarray) else bool(np.all(one == other))

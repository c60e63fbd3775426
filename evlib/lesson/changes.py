"""What a lesson shows of the changes that a workshop made to a build, and the build that they make."""

from __future__ import annotations

from evlib.build.changes import changed_by, changes_of
from evlib.build.schema import Build
from evlib.build.sheet.listed import changed
from evlib.ground.shown import Shown
from evlib.lesson.parts import table


def listed(build: Build, name: str) -> Shown:
    """Every value that the named changes change: what it was, what it is, and why; the same rows as on the sheet."""
    return table(("value", "was", "is", "why"), changed(made(build, name)))


def made(build: Build, name: str) -> Build:
    """The build after the named changes."""
    return changed_by(build, changes_of(name))

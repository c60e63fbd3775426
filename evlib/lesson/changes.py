"""What a lesson shows of the changes that a workshop made to a build, and the build that they make."""

from __future__ import annotations

from evlib.build.changes import changed_by, changes_of, differences
from evlib.build.schema import Build, declared
from evlib.build.sheet.words import value_text
from evlib.ground.quantity import quantity_of
from evlib.ground.shown import Shown
from evlib.lesson.parts import table


def listed(build: Build, name: str) -> Shown:
    """Every value that the named changes change: what it was, what it is, and why."""
    rows = []
    for each in differences(build, changes_of(name)):
        quantity = quantity_of(declared()[each.path])
        words = quantity.text if quantity else each.path.rpartition(".")[2].replace("_", " ")
        before = "not known" if each.before is None else value_text(each.before, quantity)
        rows.append(
            (
                words,
                before.partition(" (invented")[0],
                value_text(each.after, quantity).partition(" (inv")[0],
                each.note,
            )
        )
    return table(("value", "was", "is", "why"), rows)


def made(build: Build, name: str) -> Build:
    """The build after the named changes."""
    return changed_by(build, changes_of(name))

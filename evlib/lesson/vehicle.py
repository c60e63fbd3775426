"""The learner's own vehicle: filled in value by value, reviewed while most of it is not known; what to find next."""

from __future__ import annotations

import collections
from pathlib import Path

from evlib.build.entry import own_build
from evlib.build.file import read_build
from evlib.build.review import TOPICS, Review, review
from evlib.build.schema import Build, Parts, curve_of, declared
from evlib.build.sheet.words import value_text
from evlib.ground.checks import FAIL, MARGINAL, NOT_APPLICABLE, NOT_KNOWN, PASS
from evlib.ground.quantity import quantity_of
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.panels import form

ROWS = 6  # of values to find out next: more is no plan


def my_build(name: str) -> Path:
    """Your own build file, made blank the first time; what is in it stays. Raises ``ValueError`` for a bad name."""
    path = own_build(name)
    print(f"Your build: builds/{path.name} in your own folder. {form.Form(path, *Parts.__annotations__).counts()}")
    return path


def fill_in(mine: Path, *parts: str) -> None:
    """Boxes for the named parts of your build; every answer is saved at once."""
    form.fill_in(mine, *parts)


def read(mine: Path) -> Build:
    """Your build as the file has it now."""
    return read_build(mine)


def only(build: Build, *parts: str) -> Build:
    """A build of which nothing but these parts is known: how a half-known vehicle looks."""
    return Build(Parts(**{name: getattr(build.parts, name) for name in ("build", *parts)}), build.origins)


def so_far(build: Build) -> Shown:
    """How many checks can be made by now, topic by topic."""
    found = review(build, figures=False)
    rows = []
    for topic in TOPICS:
        counts = collections.Counter(check.verdict for check in found.topic(topic))
        made = counts[PASS] + counts[MARGINAL] + counts[FAIL]
        rows.append((topic, str(made), str(counts[FAIL]), str(counts[NOT_KNOWN]), str(counts[NOT_APPLICABLE])))
    shown = table(("topic", "checks made", "of these failed", "not known", "do not apply"), rows)
    return Shown(f"{found.summary}.\n{shown!r}", f"<p>{found.summary}.</p>{shown._repr_html_()}")


def made(build: Build) -> int:
    """How many checks have all their values."""
    return sum(check.verdict in (PASS, MARGINAL, FAIL) for check in review(build, figures=False).checks)


def find_next(build: Build, topic: str = "") -> Shown:
    """The missing values that hold up most checks, and how to get each; of one topic, or of all."""
    found = review(build, topics=(topic,) if topic else TOPICS, figures=False)
    order = waiting(found)
    if not order:
        return Shown("No value is missing.", "<p>No value is missing.</p>")
    rows = []
    for path, (held, alone) in order[:ROWS]:
        rows.append((_words(path), path.rsplit(".", 1)[0], _how(path), str(held), str(alone)))
    return table(("find out", "part", "how", "checks that wait for it", "and for nothing else"), rows)


def waiting(found: Review) -> list[tuple[str, tuple[int, int]]]:
    """Missing values with how many checks wait for each, and how many wait for it alone; the most useful first."""
    held: collections.Counter[str] = collections.Counter()
    alone: collections.Counter[str] = collections.Counter()
    for check in found.checks:
        held.update(check.missing)
        if len(check.missing) == 1:
            alone.update(check.missing)
    both = {path: (held[path], alone[path]) for path in held}
    return sorted(both.items(), key=lambda item: (-item[1][1], -item[1][0], item[0]))


def guesses(build: Build) -> Shown:
    """The guesses in failed or marginal checks, those in most of them first: measure these before you change a part."""
    found = review(build, figures=False)
    tight = [check for check in found.checks if check.verdict in (FAIL, MARGINAL)]
    in_them: dict[str, list[str]] = {}
    for check in tight:
        for path in sorted(check.needs):
            if build.origins.get(path) is not None and build.origins[path].source == "guess":
                in_them.setdefault(path, []).append(check.name)
    if not in_them:
        words = "No failed or marginal check hangs on a guess."
        return Shown(words, f"<p>{words}</p>")
    order = sorted(in_them.items(), key=lambda item: (-len(item[1]), item[0]))[:ROWS]
    rows = [
        (_words(path), value_text(build.value(path), quantity_of(declared()[path])), str(len(names)), names[0])
        for path, names in order
    ]
    return table(("guess", "value", "failed or marginal checks with it in", "the tightest of them"), rows)


def _words(path: str) -> str:
    """What a value is, in words."""
    found = quantity_of(declared()[path]) or curve_of(declared()[path])
    return found.text if found else path.rsplit(".", 1)[-1].replace("_", " ")


def _how(path: str) -> str:
    """How to find a value out."""
    found = quantity_of(declared()[path]) or curve_of(declared()[path])
    return (found.how if found else "") or "say which it is"

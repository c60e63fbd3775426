"""The pieces that stand in the same place in every lesson."""

from __future__ import annotations

import html
from collections.abc import Sequence
from typing import Any

from evlib.build.compare import Moved, moved
from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.schema import Build, declared
from evlib.build.sheet import both, margin_text, sheet, side_text
from evlib.ground.checks import NOT_APPLICABLE, Check
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.folder import folder, write_atomically
from evlib.ground.quantity import Quantity, quantity_of
from evlib.ground.shown import Shown
from evlib.panels.twin import Table


def start(name: str) -> Build:
    """Choose the build that this lesson works on: a name that comes with the course, your own, or a path.

    From here on a library error in this notebook reads as one sentence.
    """
    _speak_plainly()
    build = read_build(find_build(name))
    invented = " (invented)" if build.parts.build and build.parts.build.invented else ""
    print(f"This lesson works on: {build.name}{invented}.")
    return build


def numbers(build: Build, *main: str) -> Shown:
    """The numbers of this build: the named ones as a table, the others of the same parts folded beneath."""
    sections = dict.fromkeys(path.rsplit(".", 1)[0] for path in main)
    others = [
        path
        for path, hint in declared().items()
        if path.rsplit(".", 1)[0] in sections and path not in main and quantity_of(hint)
    ]
    others = [path for path in others if build.value(path) is not None]
    header = ("symbol", "what", "value")
    shown = table(header, [_number_row(build, path) for path in main])
    if not others:
        return shown
    folded = table(header, [_number_row(build, path) for path in others])
    return Shown(repr(shown), shown._repr_html_() + _folded("the other numbers of these parts", folded._repr_html_()))


def value(build: Build, path: str) -> Any:
    """One value of the build, in SI. Raises :class:`NotKnown` in one sentence where the build does not state it."""
    found = build.value(path)
    if found is None:
        quantity = quantity_of(declared()[path]) if path in declared() else None
        raise NotKnown(path, quantity.how if quantity else "")
    return found


def agree(what: str, *, by_hand: float, library: float, unit: str = "", within: float = 0.005) -> None:
    """Compare paper arithmetic with the library, and stop where they differ by more than ``within``."""
    off = abs(by_hand - library) / max(abs(library), 1e-300)
    hand, computed = both(by_hand, unit), both(library, unit)
    if not off <= within:
        raise AssertionError(f"{what}: {hand} by hand, {computed} by the library; they differ by {100 * off:.1f} %")
    print(f"{what}: {hand} by hand, {computed} by the library: they agree within {100 * within:g} %.")


def checks(build: Build, topic: str, *names: str) -> Shown:
    """The lesson's checks on this build: governing first, each with its working and what to do.

    With ``names`` only these; the others of the topic are counted.
    """
    made = review(build, topics=(topic,), figures=False).checks
    unknown = set(names) - {check.name for check in made}
    if unknown:
        raise ValueError(f"No check of {topic} is called {', '.join(sorted(unknown))}.")
    found = [check for check in made if not names or check.name in names]
    rows = [_check_row(check) for check in found if check.verdict != NOT_APPLICABLE]
    shown = table(("check", "demand", "capacity", "margin", "verdict"), rows)
    detail = "".join(_working(check) for check in found)
    shares = f"{len(found)} of {len(made)}" if names else str(len(made))
    counts = f"{shares} checks of this topic; the tool counts them, it does not pass the build."
    page = shown._repr_html_() + _folded("working, sources and what to do", detail)
    return Shown(f"{shown!r}\n{counts}", f"{page}<p>{counts}</p>")


def compare(before: Build, after: Build) -> Shown:
    """What a change does: every check whose verdict changed or whose margin moved, before and after."""
    rows = [
        (pair.after.name, margin_text(pair.before.margin), margin_text(pair.after.margin), _change(pair))
        for pair in moved(before, after)
    ]
    if not rows:
        return Shown("No check moved.", "<p>No check moved.</p>")
    return table(("check", "margin before", "margin after", "verdict"), rows)


def worst(build: Build, *, rows: int = 8) -> Shown:
    """The checks that govern a build: failed ones first, then the smallest margins."""
    found = review(build, figures=False)
    made = [check for check in found.checks if check.demand is not None]
    if not made:
        return Shown(f"{found.summary}.", f"<p>{found.summary}.</p>")
    shown = table(("check", "demand", "capacity", "margin", "verdict"), [_check_row(check) for check in made[:rows]])
    return Shown(f"{found.summary}.\n{shown!r}", f"<p>{found.summary}.</p>{shown._repr_html_()}")


def write_sheet(build: Build, name: str = "build_sheet.html") -> None:
    """Write the build sheet into your own folder, whole or not at all."""
    path = folder() / "sheets" / name
    path.parent.mkdir(exist_ok=True)
    write_atomically(path, sheet(build))
    print(f"Written: sheets/{name} in your own folder. Open it in a browser; it prints on A4 and Letter.")


def _change(pair: Moved) -> str:
    return f"{pair.before.verdict}, now {pair.after.verdict}" if pair.verdict_changed else str(pair.after.verdict)


def table(header: Sequence[str], rows: Sequence[Sequence[str]]) -> Shown:
    """A small table, as HTML and as text."""
    made = Table(tuple(header), tuple(tuple(row) for row in rows))
    return Shown(made.plain(), made.html())


def _folded(summary: str, inside: str) -> str:
    return f"<details><summary>{summary}</summary>{inside}</details>"


def _number_row(build: Build, path: str) -> tuple[str, str, str]:
    quantity = quantity_of(declared()[path]) or Quantity("", "", path.rsplit(".", 1)[-1].replace("_", " "))
    found = build.value(path)
    if found is None:
        text = "not known" + (f": {quantity.how}" if quantity.how else "")
    elif isinstance(found, str):
        text = found
    elif quantity.whole:
        text = quantity.show(found)
    else:
        text = both(found, quantity.unit, kind=quantity.kind, shown=quantity.shown)
    return quantity.symbol, quantity.text, text


def _check_row(check: Check) -> tuple[str, ...]:
    if check.demand is None:
        return check.name, "", "", "", f"{check.verdict}: {', '.join(check.missing)}"
    demand, capacity = (side_text(check, side) for side in (check.demand, check.capacity))
    return check.name, demand, capacity, margin_text(check.margin), check.verdict


def _working(check: Check) -> str:
    lines = [f"<p><b>{html.escape(check.name)}</b> ({check.verdict})"]
    lines += [html.escape(check.working.text())] if check.working else []
    lines += [f"What to do: {html.escape(check.advice)}"] if check.advice else []
    lines += [f"Source: {html.escape(check.source)}"] if check.source else []
    lines += [html.escape(check.reason)] if check.reason else []
    return "<br>".join(lines) + "</p>"


def _speak_plainly() -> None:
    """Let library errors print as one sentence in this notebook, in place of a traceback."""
    try:
        from IPython import get_ipython
    except ImportError:
        return
    shell = get_ipython()
    if shell is None:
        return

    def say(self: Any, kind: Any, error: BaseException, trace: Any, tb_offset: Any = None) -> None:
        words = str(error.args[0]) if isinstance(error, KeyError) and error.args else str(error)
        print(f"That did not work. {words}")

    shell.set_custom_exc((ValueError, NotKnown, DoesNotApply, AssertionError), say)

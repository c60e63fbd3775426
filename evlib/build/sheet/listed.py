"""What the sheet lists of a build and its review: checks, figures, values, guesses, what is not known, two cards."""

from __future__ import annotations

import math
import re
from typing import Any

from evlib.build.changes import made_on
from evlib.build.commissioning import card
from evlib.build.inspector import inspector_page
from evlib.build.review import Review
from evlib.build.schema import Build, declared
from evlib.build.sheet.words import (
    both,
    cut_size,
    few,
    in_short,
    margin_text,
    side_text,
    spread_text,
    value_text,
    wants,
)
from evlib.build.spread import words as in_words
from evlib.build.view import View
from evlib.ground.checks import NOT_KNOWN, Check
from evlib.ground.quantity import quantity_of

# Where a length is a size that somebody cuts or checks: a third figure would round it away.
CUT_PLACES = tuple(f"coupling.{name}" for name in ("far_shaft", "near_shaft", "sleeve", "cut", "gearbox_joint"))
MUCH = 10.0  # a margin of more is no better news: thousands of per cent say nothing
_KILO = {"ohm": {"SI": "kohm", "shop": "kohm"}}  # insulation is read in thousands


def check_row(check: Check, *, scale: float = 1.0) -> dict[str, Any]:
    """A check as the sheet shows it. The bar runs from the middle: left where the margin is below zero.

    ``scale`` is the margin at the bar's ends.
    """
    margin = check.margin
    share = 0.0 if margin is None else 50 * max(-1.0, min(1.0, margin / scale))
    return {
        "check": check,
        "demand": side_text(check, check.demand),
        "capacity": side_text(check, check.capacity),
        "margin": margin_text(margin if margin is None or margin == math.inf else min(margin, MUCH)),
        "wanted": f"{100 * float(check.target):.0f} %",
        "bar_from": round(50 + min(share, 0.0)),
        "bar_wide": max(round(abs(share)), 1),
        "working": check.working.text() if check.working else "",
        "missing": few(check.missing, most=6),
        "anchor": check.name.replace(" ", "-").replace(",", ""),
    }


def card_rows(build: Build) -> list[tuple[str, ...]]:
    """The commissioning card, line by line: number, task, place, expected, band, why, stop if.

    A reason that is the one of the line above is not said again: the room goes to what is read.
    """
    rows: list[tuple[str, ...]] = []
    last = ""
    for number, line in enumerate(card(View(build.parts))[0], 1):
        expected, low, high = (
            both(value, line.unit, kind=line.kind, shown=_KILO.get(line.unit)) if math.isfinite(value) else "no limit"
            for value in (line.expected, line.low, line.high)
        )
        why, last = ("as above" if line.why == last else line.why), line.why
        rows.append((str(number), line.task, line.place, expected, f"{low} to {high}", why, line.stop_if))
    return rows


def inspector_rows(build: Build, found: Review) -> list[tuple[str, list[str], str]]:
    """The inspector's page: what is asked, what the build answers, what stays open."""
    rows = []
    for item in inspector_page(View(build.parts)):
        answers = [in_short(found.check(name)) for name in item.checks]
        answers += [f"{answer.words}: {both(answer.value, answer.unit, kind=answer.kind)}" for answer in item.found]
        rows.append((item.name, answers, item.open))
    return rows


def groups(found: Review) -> list[tuple[str, list[tuple[str, str]]]]:
    """Group by group, the figures that the review states."""
    made: dict[str, list[tuple[str, str]]] = {}
    for figure in found.stated:
        cut = (figure.group, figure.unit) == ("Cut plan", "m")
        if figure.value is None:
            text = wants(figure.reason)
        else:
            text = cut_size(figure.value) if cut else both(figure.value, figure.unit)
        made.setdefault(figure.group, []).append((figure.name, text))
    return list(made.items())


def sections(build: Build) -> list[tuple[str, list[tuple[str, str, str]]]]:
    """Section by section, each stated value with where it comes from."""
    made: dict[str, list[tuple[str, str, str]]] = {}
    new = {each.path for each in made_on(build)}
    for path, hint in declared().items():
        value = build.value(path)
        if value is None or path.startswith("build."):
            continue
        place, name = path.rsplit(".", 1)
        if name == "fitted" and value is True:
            continue
        quantity = quantity_of(hint)
        origin = build.origins.get(path)
        change = ["CHANGED"] if path in new else []
        told = [origin.source, spread_text(origin.spread), origin.note] if origin else []
        words = ", ".join(filter(None, [*change, *told]))
        label = quantity.text if quantity else name.replace("_", " ")
        made.setdefault(place, []).append((label, _put_in(path, value), words))
    return list(made.items())


def _put_in(path: str, value: Any) -> str:
    """A value of the build file as the sheet shows it: a size that is cut without rounding a hundredth away."""
    quantity = quantity_of(declared()[path])
    cut = path.rpartition(".")[0] in CUT_PLACES and quantity is not None and quantity.unit == "m"
    return cut_size(value) if cut else value_text(value, quantity)


def changed(build: Build) -> list[tuple[str, str, str, str]]:
    """What was changed on the build since it was read: the value in words, what it was, what it is, and why."""
    rows = []
    for each in made_on(build):
        was, now = ("not known" if v is None else _put_in(each.path, v).partition(" (invented")[0]
                    for v in (each.before, each.after))  # fmt: skip
        what = "your wish: " if each.path.startswith("targets.") else ""  # asking less is not a part that is mended
        rows.append((what + in_words(each.path), was, now, each.note))
    return rows


def guesses(build: Build) -> list[tuple[str, str, str]]:
    """Values that are guesses, or whose origin the file does not state."""
    known, new = declared(), {each.path for each in made_on(build)}
    rows = []
    for path, origin in build.origins.items():
        if origin.source in ("measured", "catalogue") or build.value(path) is None or path.startswith("targets."):
            continue
        quantity = quantity_of(known[path])
        if quantity is not None and (origin.source or not quantity.whole):  # a count needs no origin
            given = origin.text if re.search("[A-Za-z%°]", origin.text) else value_text(build.value(path), quantity)
            source = "guess" if origin.source else "not stated"
            rows.append((path, given, f"changed, {source}" if path in new else source))
    return rows


def waiting(found: Review) -> dict[str, list[str]]:
    """Values that are missing, and the checks that wait for each; the value that holds up most comes first."""
    made: dict[str, list[str]] = {}
    for check in found.checks:
        if check.verdict == NOT_KNOWN:
            for path in check.missing:
                made.setdefault(path, []).append(check.name)
    return dict(sorted(made.items(), key=lambda item: (-len(item[1]), item[0])))


def how_to(path: str) -> str:
    """How a value is got, as its quantity declares it."""
    quantity = quantity_of(declared().get(path))
    return quantity.how if quantity else ""

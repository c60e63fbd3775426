"""What the learner moves when choosing: which value moves a check's margin, and how far."""

from __future__ import annotations

import functools
from collections.abc import Callable

import numpy as np

from evlib.build.review import review
from evlib.build.schema import Build, declared
from evlib.build.sheet import margin_text
from evlib.build.sheet.words import value_text
from evlib.build.spread import Tornado, outcome, standard_deviation, tornado
from evlib.figures import choose as figures
from evlib.figures.choose import DEVIATIONS, MOST, Moves
from evlib.ground.checks import FAIL, MARGINAL, PASS
from evlib.ground.quantity import quantity_of
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity

PLACES = ("the longest", "the second", "the third")
SPAN = "A bar is two standard deviations each way, as the build declares them, one value at a time."
CHECKS = 6  # to choose from: the governing ones that a spread moves


def moves_panel(build: Build, *names: str) -> Panel:
    """What moves what: choose a check, see which values move its margin, and move one of the three longest bars.

    ``names`` are the checks to choose from; without them the governing checks whose margin a spread moves.
    """
    drawn = functools.cache(lambda name: tornado(build, name))
    checks = names or tuple(_governing(build, drawn))
    if not checks:
        raise ValueError("no check of this build has a margin that a spread moves; state more values")
    for name in checks:
        if len(drawn(name).bars) < len(PLACES):
            raise ValueError(f"{name}: fewer than {len(PLACES)} values with a spread move it on this build")

    def compute(*, check: str, value: str, deviations: float) -> Moves:
        made = drawn(check)
        place = PLACES.index(value)
        path = made.bars[place].path
        stated = float(build.value(path))
        moved = stated + deviations * standard_deviation(build, path) * abs(stated)
        moved = min(max(moved, made.bars[place].low_value), made.bars[place].high_value)
        margin = float(np.asarray(outcome(build.changed({path: moved}), check).value))
        return Moves(made, place, deviations, moved, margin)

    return Panel(
        id="choose.moves",
        title="What moves what",
        controls=(
            choice("check", checks, label="check"),
            choice("value", PLACES, label="bar to move"),
            quantity("deviations", DEVIATIONS, 0.0),
        ),
        compute=compute,
        draw=figures.tornado,
        twin=functools.partial(_twin, build),
        probe="deviations",
        size=(6.4, 4.4),
        room=0.04,
    )


def _governing(build: Build, drawn: Callable[[str], Tornado]) -> list[str]:
    found: list[str] = []
    for check in review(build, figures=False).checks:
        if len(found) < CHECKS and check.margin is not None and np.isfinite(check.margin):
            made = drawn(check.name)
            ends = [end for bar in made.bars[:MOST] for end in (bar.at_low, bar.at_high)]
            if len(made.bars) >= len(PLACES) and max(map(abs, ends)) < 10:
                found.append(check.name)
    return found


def _twin(build: Build, result: Moves) -> Twin:
    made, bar = result.tornado, result.bars[result.place]
    said = _shown(bar.path, result.value)
    now = margin_text(result.margin)
    crossing = [each for each in made.bars if min(each.at_low, each.at_high) < 0]
    fails = f"{len(crossing)} of {len(made.bars)} values can make it fail alone." if made.here >= 0 else (
        "It fails as stated.")  # fmt: skip
    alt = (
        f"Bars of the margin of {made.name}, longest first: {figures.short(result.bars[0].words)}, then "
        f"{figures.short(result.bars[1].words)}. A diamond on bar {result.place + 1} at {now}."
    )
    sentence = f"{made.name}: {margin_text(made.here)} as stated; with {figures.short(bar.words)} at {said} it is {now}"
    rows = tuple(
        (f"{place + 1} {each.words}", _shown(each.path, each.low_value), _per_cent(each.at_low),
         _shown(each.path, each.high_value), _per_cent(each.at_high), _source(build, each.path))
        for place, each in enumerate(result.bars)
    )  # fmt: skip
    header = ("value", "low end", "margin at low", "high end", "margin at high", "from")
    moved = (f"{result.place + 1} moved", said, _per_cent(result.margin), "", "", _verdict(result))
    said_all = f"{sentence} ({_verdict(result)}). {fails} {SPAN}"
    return Twin(alt=alt, sentence=said_all, table=Table(header, (*rows, moved)))


def _per_cent(margin: float) -> Amount:
    return Amount(100 * margin, "percent", digits=2)


def _verdict(result: Moves) -> str:
    if not result.margin >= 0:
        return FAIL
    return PASS if result.margin >= (result.tornado.target or 0.0) else MARGINAL


def _source(build: Build, path: str) -> str:
    origin = build.origins.get(path)
    return (origin.source if origin else "") or "not stated"


def _shown(path: str, value: float) -> str:
    return value_text(value, quantity_of(declared()[path]))

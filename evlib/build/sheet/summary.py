"""The first page: what the build is, how many checks, which govern, what is open, and which guesses it hangs on."""

from __future__ import annotations

import dataclasses
import textwrap
from typing import Any

from evlib.build import cut_card
from evlib.build.changes import made_on, title
from evlib.build.review import Review
from evlib.build.schema import Build, declared
from evlib.build.sheet.listed import check_row, how_to, waiting
from evlib.build.sheet.owner import handbrake_short
from evlib.build.sheet.words import both, margin_text, said, value_text
from evlib.build.spread import tornado, words
from evlib.build.view import View
from evlib.ground.checks import FAIL, MARGINAL, NOT_APPLICABLE, NOT_KNOWN, PASS, Check
from evlib.ground.quantity import quantity_of

WORST, GUESSES, OPEN = 9, 5, 5  # so many of each fit on the page
SPARE = 3  # so many more checks fit where nothing is wanted
SCALES = (0.05, 0.1, 0.25, 0.5, 1.0)  # ends of the margins' bars
WATCHED = 12  # governing checks whose guesses are tried
FIGURES = ("torque at rest, all machines", "largest shaft power", "time to the target speed", "top speed",
           "steepest start")  # fmt: skip


@dataclasses.dataclass(frozen=True)
class Governing:
    """A guess, and what its span does to the margin that it moves most."""

    path: str
    what: str
    given: str
    check: str
    low: float
    high: float
    target_crossed: bool

    @property
    def span(self) -> str:
        """The margin at both ends of the guess's span, the smaller first."""
        return f"{margin_text(min(self.low, self.high))} to {margin_text(max(self.low, self.high))}"


def about(build: Build) -> str:
    """What the build is, in a few words; blanks where the file does not say."""
    b = View(build.parts)

    def machines(v: View) -> str:
        kind = {"series": "series-wound direct-current", "ac": "alternating-current"}[v.machine.kind]
        return f"{v.machine.machine_count:.0f}, {kind}"

    fixed = getattr(build.parts.gearbox, "fitted", True) is False
    box = "none, a fixed reduction" if fixed else said(b, lambda v: f"{v.gearbox.arrangement}, two speeds")
    series, parallel, each = (said(b, f"pack.{name}") for name in ("cells_in_series", "cells_in_parallel",
                                                                   "cell_capacity"))  # fmt: skip
    return (
        f"Mass: {said(b, 'vehicle.mass')}. Driven axle: {said(b, 'vehicle.driven_axle')}. Machines: "
        f"{said(b, machines)}. Gearbox: {box}. Cells: {series} in series, {parallel} in parallel, each {each}. "
        f"Final drive: {said(b, 'final_drive.final_drive_ratio')}. Motor current, at most: "
        f"{said(b, 'controller.motor_current_limit')}."
    )


def stops(build: Build, found: Review) -> list[str]:
    """What must be read before anything else: pages of this sheet that forbid something, whatever the checks say."""
    b = View(build.parts)
    return [*(f"Cut card: {each}" for each in cut_card.stops(b)), *filter(None, [handbrake_short(b, found)])]


def _note(build: Build) -> str:
    """The file's own note, or, on a changed build, of which the file says nothing, how many values were changed."""
    changes = made_on(build)
    if changes:
        return f"Changed from \u201c{build.name}\u201d in {len(changes)} values."
    return (build.parts.build.note if build.parts.build else "") or ""


def governing_guesses(build: Build, found: Review) -> list[Governing]:
    """The guesses that move the governing margins most, those that carry one across its target first.

    Each is put to both ends of its span, alone, through the same checks; a guess stated as exact moves nothing.
    """
    best: dict[str, Governing] = {}
    for check in [c for c in found.checks if c.demand is not None][:WATCHED]:
        for bar in _bars(build, check):
            origin = build.origins.get(bar.path)
            if origin is None or origin.source in ("measured", "catalogue"):
                continue
            target = 0.0 if min(bar.at_low, bar.at_high) < 0 <= max(bar.at_low, bar.at_high) else float(check.target)
            crossed = min(bar.at_low, bar.at_high) < target <= max(bar.at_low, bar.at_high)
            quantity = quantity_of(declared()[bar.path])
            given = value_text(build.value(bar.path), quantity)
            here = Governing(
                bar.path,
                textwrap.shorten(words(bar.path), 56, placeholder=" ..."),
                given,
                check.name,
                bar.at_low,
                bar.at_high,
                crossed,
            )
            old = best.get(bar.path)
            if old is None or _weight(here) > _weight(old):
                best[bar.path] = here
    return sorted(best.values(), key=_weight, reverse=True)


def _weight(guess: Governing) -> tuple[bool, float]:
    return guess.target_crossed, abs(guess.high - guess.low)


def _bars(build: Build, check: Check) -> Any:
    try:
        return tornado(build, check.name).bars
    except ValueError:  # a check whose margin has no end, or which cannot be made at the ends of a span
        return ()


def summary(build: Build, found: Review) -> dict[str, Any]:
    """Everything that the page shows."""
    counts, wanted, guesses = found.counts, waiting(found), governing_guesses(build, found)
    worst = [check for check in found.checks if check.demand is not None]
    forbidden = stops(build, found)
    most = WORST + (0 if wanted or forbidden else SPARE)
    shown, others = worst[:most], worst[most:]
    widest = max((abs(check.margin) for check in shown), default=1.0)
    scale = next((each for each in SCALES if widest <= each), SCALES[-1])
    stated = {figure.name: figure for figure in found.stated}
    return {
        "name": textwrap.shorten(title(build), 70, placeholder=" ..."),
        "note": textwrap.shorten(_note(build), 160, placeholder=" ..."),
        "about": about(build),
        "stops": forbidden,
        "counts": (("passed", counts[PASS] + counts[MARGINAL], f"{counts[MARGINAL]} of them marginal"),
                   ("failed", counts[FAIL], ""), ("not known", counts[NOT_KNOWN], ""),
                   ("do not apply", counts[NOT_APPLICABLE], "")),
        "figures": [(name, "" if stated[name].value is None else both(stated[name].value, stated[name].unit))
                    for name in FIGURES],
        "worst": [check_row(check, scale=scale) for check in shown],
        "scale": f"-{100 * scale:.0f} % to +{100 * scale:.0f} %",
        "more": len(others), "more_marginal": sum(check.verdict == MARGINAL for check in others),
        "more_failed": sum(check.verdict == FAIL for check in others),
        "guesses": guesses[:GUESSES], "more_guesses": max(len(guesses) - GUESSES, 0),
        "wanted": [(path, textwrap.shorten(how_to(path), 60, placeholder=" ..."), len(names))
                   for path, names in list(wanted.items())[:OPEN]],
        "more_wanted": max(len(wanted) - OPEN, 0),
    }  # fmt: skip

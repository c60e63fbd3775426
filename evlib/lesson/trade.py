"""What the lesson on choosing calls: a search with its bar, what fails, the front, and the few builds that are driven.

``found = trade.search(build, {"final_drive.final_drive_ratio": ("3.2", "4.6"), "vehicle.mass": None})``
"""

from __future__ import annotations

import html
import re
import uuid
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import numpy as np

from evlib.build.schema import Build
from evlib.build.search.found import MARGIN, Found, meaning, of_build
from evlib.build.search.front import Front, simulate
from evlib.build.search.front import front as front_of
from evlib.build.search.plan import Alternatives, Plan, plan
from evlib.build.search.run import Engine, run
from evlib.build.search.run import reload as found_in
from evlib.build.sheet import both
from evlib.ground.folder import folder
from evlib.ground.quantity import Array
from evlib.ground.shown import Shown
from evlib.lesson.parts import table

KEEP = ("time to the target speed", "top speed", "steepest start")
AIMS = {KEEP[0]: "least", MARGIN: "most"}
NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")


def search(build: Build, axes: Mapping[str, Any], *, builds: int = 100_000, how: str = "sample", seed: int = 1,
           keep: tuple[str, ...] = KEEP, name: str = "", client: Engine | None = None) -> Found:  # fmt: skip
    """Review thousands of builds, with a bar; the notebook's stop button ends it, and what is done is kept.

    ``axes`` as for :func:`evlib.build.search.plan.plan`. ``name``: saved under it in your own folder, so that a search
    that was stopped goes on, and one that is done is there at once. ``client``: a Dask client that works on it.
    """
    made = plan(build, axes, builds=builds, how=how, seed=seed, keep=keep)
    place = _place(name) if name else None
    bar = _Bar(made)
    found = run(made, folder=place, client=client, progress=bar.moved)
    bar.done()
    print(summary(found))
    return found


def reload(build: Build, name: str) -> Found:
    """A search that was saved, as far as it went."""
    found = found_in(_place(name), build)
    print(summary(found))
    return found


def summary(found: Found) -> str:
    """What a search has found, in two sentences. It never says that a build passes."""
    if not found.count:
        return f"Stopped before the first builds were done: 0 of {found.plan.rows:,}."
    stopped = "" if found.complete else f" of {found.plan.rows:,}: stopped, and what is done is kept"
    good, made = int(found.feasible.sum()), found.fails()
    often = made and f" What fails most often is {made[0].check}, on {100 * made[0].builds / found.count:.1f} %."
    share = f"{100 * good / found.count:.1f} %"
    return f"Reviewed {found.count:,} builds{stopped}. On {good:,} of them ({share}) no check fails.{often or ''}"


def fails(found: Found, *, rows: int = 8) -> Shown:
    """The checks that fail, the most often failing first, and on how many builds each is the only one."""
    each = [(one.check, f"{100 * one.builds / found.count:.1f} %", f"{100 * one.alone / found.count:.1f} %")
            for one in found.fails()[:rows]]  # fmt: skip
    return table(("check", "fails on", "fails alone on"), each)


def front(found: Found, aims: Mapping[str, str] | None = None) -> Front:
    """The builds that no other one beats in every aim; of all builds where each has a check that fails."""
    wanted = AIMS if aims is None else aims
    return front_of(found, wanted, feasible=bool(found.feasible.any()))


def along(one: Front, count: int = 3) -> list[int]:
    """A few builds spread along a front, by their row numbers: both ends, and between them."""
    if count < 1:
        raise ValueError(f"count: {count} was given; allowed: 1 or more")
    if not len(one.rows):
        return []
    places = np.unique(np.linspace(0, len(one.rows) - 1, count).round().astype(int))
    return [int(one.rows[place]) for place in places]


def front_table(found: Found, one: Front, *, rows: int = 8) -> Shown:
    """Builds along a front: what each aim comes to, and what was chosen for it; the present build for comparison."""
    chosen = [list(one.rows).index(row) for row in along(one, rows)]
    made = [(str(one.rows[k]), *_told(found, one, one.values[k]), *found.plan.words(int(one.rows[k])).values())
            for k in chosen]  # fmt: skip
    now = np.array([of_build(found.plan, name) for name in one.aims])
    made.append(("as it is", *_told(found, one, now), *(found.plan.now(axis.name) for axis in found.plan.axes)))
    names = [meaning(found.plan.build, axis.name).text if not isinstance(axis, Alternatives) else axis.name
             for axis in found.plan.axes]  # fmt: skip
    return table(("build", *one.aims, *names), made)


def _told(found: Found, one: Front, values: Array) -> list[str]:
    return ["not known" if np.isnan(value) else meaning(found.plan.build, name).show(float(value))
            for name, value in zip(one.aims, values, strict=True)]  # fmt: skip


def driven(found: Found, rows: Iterable[int], *, cycle: str = "village") -> Shown:
    """The few builds that were kept, simulated in time: run-up, standing 400 m and a cycle; and what fails on each."""
    made = [
        (str(one.row), _seconds(one.time), _seconds(one.standing), f"{one.per_metre / 3.6:.0f} Wh/km",
         both(one.range, "m", shown={"SI": "km", "shop": "mi"}), "yes" if one.follows else "no",
         ", ".join(one.failed) or "none")
        for one in simulate(found, rows, cycle=cycle)
    ]  # fmt: skip
    header = ("build", "to the target speed", "standing 400 m", f"{cycle} cycle", "range on it", "follows it", "fails")
    return table(header, made)


def _seconds(value: float) -> str:
    return f"{value:.2f} s" if np.isfinite(value) else "not reached"


def _place(name: str) -> Path:
    if not NAME.fullmatch(name):
        raise ValueError(
            f"name: {name[:40]!r} was given; allowed: small letters, digits, - and _, at most 40, such as first_look"
        )
    return folder() / "searches" / name


class _Bar:
    """The bar of a search, where a kernel shows it. When it ends, what stands there is what stood there first."""

    def __init__(self, made: Plan) -> None:
        from evlib.panels.markup import in_kernel

        self.first = f"{made.rows:,} builds to review."
        self.mark = f"evlib-search-{uuid.uuid4().hex[:8]}" if in_kernel() else ""
        self._show(f"<p>{self.first}</p>", self.first, update=False)

    def moved(self, found: Found) -> None:
        """Show how far it is."""
        done, rows = found.count, found.plan.rows
        text = f"{done:,} of {rows:,} builds reviewed. The stop button ends it and keeps what is done."
        bar = f'<progress aria-label="builds reviewed" value="{done}" max="{rows}"></progress>'
        self._show(f"<p>{bar} {html.escape(text)}</p>", text, update=True)

    def done(self) -> None:
        """Take the bar away."""
        self._show(f"<p>{self.first}</p>", self.first, update=True)

    def _show(self, markup: str, text: str, *, update: bool) -> None:
        if self.mark:
            from IPython.display import display

            display({"text/html": markup, "text/plain": text}, raw=True, display_id=self.mark,
                    update=update)  # type: ignore[no-untyped-call]  # fmt: skip

"""What the learner moves among thousands of builds: the map over two quantities, and the front of a search."""

from __future__ import annotations

import dataclasses
import functools
import itertools
from collections.abc import Iterable, Mapping
from typing import Any

from evlib.build.schema import Build, declared
from evlib.build.search.found import MARGIN, Found
from evlib.build.search.front import FrontCase, choose, front_picture
from evlib.build.search.plan import plan, quantity_at
from evlib.build.search.run import run
from evlib.build.search.trade_map import FURTHEST, LEVELS, TradeCase, at_point, near_point
from evlib.build.search.trade_map import trade_map as review_map
from evlib.figures import trade as figures
from evlib.ground.quantity import Quantity, quantity_of
from evlib.panels.controls import QuantityControl
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity

AXES = ("final_drive.final_drive_ratio", "controller.motor_current_limit", "vehicle.mass", "vehicle.wheel_radius")
RESULTS = ("time to the target speed", "top speed", "steepest start")
AIMS = {RESULTS[0]: "least", MARGIN: "most", RESULTS[1]: "most"}
WAYS = {"least": "least", "most": "largest"}  # how an aim reads in a sentence
PLACE = Quantity("p", "", "place along the front", low=0, high=1, slider=(0, 1), shown={"SI": "%", "shop": "%"})
FEW = 4096  # builds of the small search that a front is drawn of where none was made
PERCENT = "percent"
NAMED = 3  # failed checks that a sentence names


def trade_map(build: Build, spans: Mapping[str, Any] | None = None, *, results: tuple[str, ...] = ()) -> Panel:
    """The trade-off map of a build over two quantities: contours of a result, limits of checks, and your point.

    ``spans`` as for a search: ``{"vehicle.mass": ("1400 kg", "2000 kg"), "pack.cell_resistance": None}``. Without it:
    final drive and motor current around the build's own.
    """
    first, second = _controls(build, spans)
    names = results or (*RESULTS, MARGIN)
    picture = review_map(build, {first.path: first.span, second.path: second.span}, names)

    def compute(**moved: Any) -> TradeCase:
        return at_point(build, picture, moved["result"], x=moved[first.name], y=moved[second.name])

    def coarse(**moved: Any) -> TradeCase:
        return near_point(build, picture, moved["result"], x=moved[first.name], y=moved[second.name])

    return Panel(
        id="trade.map",
        title="Trade-off map",
        controls=(first, second, choice("result", names, label="grey lines: equal")),
        compute=compute,
        coarse=coarse,
        coarse_note=f"nearest of {LEVELS} by {LEVELS} builds while you move",
        draw=figures.trade_map,
        twin=map_twin,
        room=0.34,
        size=(7.2, 4.4),
        probe=first.name,
    )


def _controls(build: Build, spans: Mapping[str, Any] | None) -> tuple[QuantityControl, QuantityControl]:
    if spans is None:
        stated = [path for path in AXES if isinstance(build.value(path), float)]
        spans = {path: _around(build, path) for path in (stated + [path for path in AXES if path not in stated])[:2]}
    if len(spans) != 2:
        raise ValueError(f"map: {len(spans)} quantities were given; allowed: two")
    first, second = (_control(build, path, span) for path, span in spans.items())
    return first, second


def _around(build: Build, path: str) -> tuple[float, float] | None:
    """Half to one and a half of the build's own value, as far as that is usual; None where it is not known."""
    value, usual = build.value(path), getattr(quantity_of(declared()[path]), "slider", None)
    if not isinstance(value, float) or usual is None:
        return None
    return max(0.5 * value, min(usual[0], value)), min(1.5 * value, max(usual[1], value))


def _control(build: Build, path: str, span: Any) -> QuantityControl:
    """A slider over the span; the build's own value widens it."""
    found = quantity_at(path)
    if found is None or found.whole:
        raise ValueError(f"{path}: it takes no value between two others; allowed on a map: a quantity that does")
    if span is not None:
        if not isinstance(span, tuple) or len(span) != 2:
            raise ValueError(f"{path}: {span!r} was given; allowed: None, or a pair of ends")
        try:
            low, high = (float(found.accept(end)) for end in span)
        except ValueError as error:
            raise ValueError(f"{path}: {error}") from None
        if not low < high:
            raise ValueError(f"{path}: from {found.show(low)} to {found.show(high)} was given; allowed: rising")
        found = dataclasses.replace(found, slider=(low, high))
    return quantity(path, found, build.value(path))


def map_twin(result: TradeCase, *, system: str = "SI") -> Twin:
    """The map in words: the build at the point, what fails there, and how much of the map is open."""
    picture, here = result.picture, _here(result, system)
    share = f"{100 * picture.share:.0f} %"
    value = "not known" if result.value is None else Amount(result.value, result.unit, result.kind)
    rows: list[tuple[Any, ...]] = [(result.result, value, ""), ("checks that fail", str(len(result.failed)), "")]
    limits = {name: str(number) for number, name in enumerate(picture.limits, 1)}
    for name, margin in result.governing:
        told = "cannot be made" if margin <= -FURTHEST else Amount(100 * margin, PERCENT)
        note = "fails all over this map" if name in picture.never else "fails" if margin < 0 else ""
        rows.append((f"margin: {name}", told, ", ".join(filter(None, [note, _line(limits.get(name))]))))
    never = f" {_count(len(picture.never), 'check fails', 'checks fail')} all over it." if picture.never else ""
    near = "" if result.exact else "Near here: "
    return Twin(
        alt=f"Map of builds. A point at {here}, where {_count(len(result.failed), 'check fails', 'checks fail')}. "
        f"Numbered lines: where one check is just met. Shaded, {share}: none of the others fails. Grey lines: equal "
        f"{result.result}.",
        sentence=f"{near}{here}: {_failed(result)}. Shaded: {share} of the map.{never}",
        table=Table(("what", "this build", "note"), tuple(rows)),
    )


def _here(result: TradeCase, system: str) -> str:
    told = []
    for path, value in ((result.picture.across, result.x), (result.picture.up, result.y)):
        found = quantity_of(declared()[path])
        assert found is not None
        told.append(f"{found.text} {found.show(value, system=system)}")
    return " and ".join(told)


def _line(number: str | None) -> str:
    return f"line {number}" if number else ""


def _failed(result: TradeCase) -> str:
    count = len(result.failed)
    if not count:
        return f"none of {result.made} checks fails"
    order = [name for name, _ in result.governing if name in result.failed]
    named = ", ".join(order[:NAMED])
    more = f" and {count - NAMED} more" if count > NAMED else ""
    return f"{count} of {result.made} checks fail: {named}{more}" if count > 1 else f"{named} fails, of {result.made}"


def _count(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


# --- the front ------------------------------------------------------------------------------------------------------


def front_panel(build: Build, found: Found | None = None, *, aims: Mapping[str, str] | None = None,
                kept: Iterable[int] = ()) -> Panel:  # fmt: skip
    """The front of a search over two aims, and one build on it to look at; with more aims, one chooses the pair.

    ``aims``: results by name, each ``least`` or ``most``. ``kept``: builds to mark, by their row numbers. Without a
    search, a small one over final drive, motor current and mass is made.
    """
    if found is None:
        stated = [path for path in AXES if isinstance(build.value(path), float)][:3]
        found = run(plan(build, {path: _around(build, path) for path in stated}, builds=FEW, keep=RESULTS))
    searched, rows = found, tuple(kept)
    wanted = AIMS if aims is None else dict(aims)
    if len(wanted) < 2:
        raise ValueError(f"aims: {len(wanted)} were given; allowed: two or more")
    pairs = {f"{one} and {other}": {one: wanted[one], other: wanted[other]}
             for one, other in itertools.combinations(wanted, 2)}  # fmt: skip

    @functools.cache
    def picture(pair: str) -> FrontCase:
        return front_picture(searched, pairs[pair], kept=rows)

    first = next(iter(pairs))
    picture(first)  # what is wrong with the aims is said now

    def compute(*, place: float, pair: str = first) -> FrontCase:
        return choose(searched, picture(pair), place)

    return Panel(
        id="trade.front",
        title="Front",
        controls=(
            quantity("place", PLACE, 0.5),
            *((choice("pair", tuple(pairs), label="aims"),) if len(pairs) > 1 else ()),
        ),
        compute=compute,
        draw=figures.front,
        twin=front_twin,
        room=0.34,
        size=(7.2, 4.4),
        probe="place",
    )


def front_twin(result: FrontCase, *, system: str = "SI") -> Twin:
    """The front in words: the chosen build, what it is made of, and how it stands to the present one."""
    amounts = [Amount(value, *unit) for value, unit in zip(result.point, result.units, strict=True)]
    told = [amount.show(system=system) for amount in amounts]
    aims = " and ".join(f"{WAYS[way]} {name}" for name, way in zip(result.aims, result.ways, strict=True))
    now: list[Any] = ["not known", "not known"]
    if len(result.present):
        now = [Amount(float(value), *unit) for value, unit in zip(result.present[0], result.units, strict=True)]
    rows: list[tuple[Any, ...]] = [(name, amount, before)
                                   for name, amount, before in zip(result.aims, amounts, now, strict=True)]  # fmt: skip
    rows += [(_name(path), words, before) for path, words, before in result.words]
    fails = ", ".join(result.failed[:NAMED]) + (f" and {len(result.failed) - NAMED} more" if len(result.failed) > NAMED
                                                else "")  # fmt: skip
    rows.append(("checks that fail", fails or "none", ""))
    whose = "on which no check fails" if result.free else "each with a check that fails"
    return Twin(
        alt=f"Builds by {result.aims[0]} and {result.aims[1]}. A line along the {len(result.line)} that no other beats "
        f"in both; the chosen one has {told[0]} and {told[1]}.",
        sentence=f"Build {result.row}: {told[0]} and {told[1]}. It is one of {len(result.line)} that no other beats in "
        f"both ({aims}), of {result.among:,} {whose}.",
        table=Table(("what", "chosen build", "as it is"), tuple(rows)),
    )


def _name(path: str) -> str:
    found = quantity_of(declared().get(path))
    return found.text if found else path


__all__ = ["front_panel", "trade_map"]

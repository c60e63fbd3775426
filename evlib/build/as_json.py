"""A reviewed build as JSON: values, where they come from, checks with their working, and stated figures.

All numbers are SI. A number that is not finite does not exist in JSON: it becomes ``null`` with a reason beside it.
What stands in the file is laid down in ``data/schema/build_sheet.schema.json``.
"""

from __future__ import annotations

import datetime
import json
import math
from typing import Any

import numpy as np

import evlib
from evlib.build.review import NOT_REVIEWED, Review, review
from evlib.build.schema import Build, Origin, curve_of, declared
from evlib.ground.checks import Check
from evlib.ground.quantity import quantity_of
from evlib.ground.tables import Curve

FORMAT = "evlib build sheet"
VERSION = 1  # of the format; raised when a reader of the old one would go wrong
NOTHING_ASKED = "infinite: nothing is asked"
NOTHING_THERE = "infinite: nothing is asked, and there is less than nothing"
NO_NUMBER = "this check has no number: see its verdict"


def build_json(build: Build, *, today: str | None = None) -> str:
    """The build and its review as JSON text. Raises ``ValueError`` for a column of builds."""
    return json.dumps(build_data(build, today=today), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def build_data(build: Build, *, today: str | None = None) -> dict[str, Any]:
    """The same as plain data. ``today`` is the date it states (ISO), the present day where not given."""
    found = review(build)
    if any(np.ndim(check.demand) for check in found.checks if check.demand is not None):
        raise ValueError("build: a column of builds was given; allowed: one build at a time")
    about = build.parts.build
    return {
        "format": FORMAT,
        "format_version": VERSION,
        "written_by": f"evlib {evlib.__version__}",
        "worked_out_on": today or datetime.date.today().isoformat(),
        "build": {
            "name": build.name,
            "note": about.note if about else None,
            "date": about.date if about else None,
            "invented": about.invented if about else None,
        },
        "summary": found.summary,
        "counts": found.counts,
        "values": _values(build),
        "checks": [_check(check) for check in found.checks],
        "figures": _figures(found),
        "not_reviewed": list(NOT_REVIEWED),
    }


def number(value: Any, unit: str = "", *, reason: str = "") -> dict[str, Any]:
    """A number with its SI unit, or ``null`` with the reason why there is none."""
    if value is None:
        return {"value": None, "unit": unit, "reason": reason or "not known"}
    plain = float(value)
    if math.isfinite(plain):
        return {"value": plain, "unit": unit}
    words = "no number" if math.isnan(plain) else "infinite" if plain > 0 else "infinite, below zero"
    return {"value": None, "unit": unit, "reason": reason or words}


def _values(build: Build) -> dict[str, Any]:
    """Every value that the build states, by its dotted path, in the file's order."""
    stated: dict[str, Any] = {}
    for path, hint in declared().items():
        value = build.value(path)
        if value is None or path.startswith("build."):
            continue
        origin = build.origins.get(path, Origin())
        quantity = quantity_of(hint)
        stated[path] = {
            "value": _value(value),
            "unit": quantity.unit if quantity and not curve_of(hint) else None,
            "as_given": origin.text or None,
            "from": origin.source or None,
            "spread": origin.spread,
            "note": origin.note or None,
        }
    return stated


def _value(value: Any) -> Any:
    if isinstance(value, Curve):
        return {"x": value.x.tolist(), "y": value.y.tolist(), "source": value.source}
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, list | tuple):
        return [_value(item) for item in value]
    return value


def _check(check: Check) -> dict[str, Any]:
    why = ", ".join(check.missing) or check.reason
    margin = check.margin
    infinite = "" if margin is None or math.isfinite(margin) else NOTHING_ASKED if margin > 0 else NOTHING_THERE
    return {
        "name": check.name,
        "topic": check.topic,
        "verdict": check.verdict,
        "demand": number(check.demand, check.unit, reason="" if check.demand is not None else why or NO_NUMBER),
        "capacity": number(check.capacity, check.unit, reason="" if check.capacity is not None else why or NO_NUMBER),
        "margin": number(margin, "", reason=infinite or why),
        "target_margin": number(check.target),
        "working": _working(check),
        "source": check.source or None,
        "advice": check.advice or None,
        "needs": list(check.needs),
        "missing": list(check.missing),
        "reason": check.reason or None,
    }


def _working(check: Check) -> dict[str, Any] | None:
    if check.working is None:
        return None
    value, unit = check.working.result
    return {
        "equation": check.working.equation,
        "numbers": {symbol: _either(value, unit) for symbol, (value, unit) in check.working.numbers.items()},
        "result": None if value is None else _either(value, unit),
        "text": check.working.text(),
    }


def _either(value: Any, unit: str) -> Any:
    return value if isinstance(value, str) else number(value, unit)


def _figures(found: Review) -> list[dict[str, Any]]:
    rows = []
    for figure in found.stated:
        value: Any = figure.value
        given = value if isinstance(value, str) else number(value, figure.unit, reason=figure.reason)
        rows.append({"name": figure.name, "group": figure.group, "figure": given, "needs": list(figure.needs)})
    return rows

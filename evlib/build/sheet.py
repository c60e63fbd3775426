"""The build sheet: one self-contained HTML file that prints on A4 and Letter."""

from __future__ import annotations

import datetime
import math
from pathlib import Path
from typing import Any

import evlib
from evlib.build.commissioning import card
from evlib.build.inspector import inspector_page
from evlib.build.review import NOT_REVIEWED, Review, review
from evlib.build.schema import Build, declared
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.checks import NOT_APPLICABLE, NOT_KNOWN, Check
from evlib.ground.quantity import quantity_of
from evlib.ground.tables import Curve

CAUTIONS = (
    "Local codes, the makers of the parts and licensed persons decide. This sheet is arithmetic on the numbers given "
    "to it; it is no inspection and no permission.",
    "A traction pack can kill, arc and burn. Work with two people, locked out, discharged and proved dead with a meter "
    "that was proved before and after; rated gloves; no jewellery.",
    "A series motor that loses its load destroys itself. Never energise one uncoupled from the pack.",
    "A stopped motor holds nothing. Chock the wheels; nobody stands downhill.",
    "Oil under pressure is hot and can pass through skin. Test with the wheels off the ground and blocked.",
)


def sheet(build: Build, *, today: str | None = None) -> str:
    """The build sheet as HTML text. ``today`` is the date it states (ISO), the present day where not given."""
    import jinja2

    loader = jinja2.FileSystemLoader(Path(__file__).parent)
    environment = jinja2.Environment(loader=loader, autoescape=True, trim_blocks=True, lstrip_blocks=True)
    found = review(build)
    return environment.get_template("sheet.html.j2").render(
        build=build,
        summary=found.summary,
        checks=[_row(check) for check in found.checks if check.verdict != NOT_APPLICABLE],
        does_not_apply=[check for check in found.checks if check.verdict == NOT_APPLICABLE],
        groups=_groups(found),
        sections=_sections(build),
        guesses=_guesses(build),
        not_known=_not_known(found),
        cautions=CAUTIONS,
        card=card_rows(build),
        left_out=card(View(build.parts))[1],
        inspector=inspector_rows(build, found),
        not_reviewed=NOT_REVIEWED,
        version=evlib.__version__,
        today=today or datetime.date.today().isoformat(),
    )


def both(value: Any, unit: str, *, kind: str = "", shown: Any = None) -> str:
    """A value in both systems of units, ``1230 N m (909 lbf ft)``; once where they are the same."""
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    kind = "difference" if unit == "K difference" else kind
    unit = unit.removesuffix(" difference")
    si, shop = (units.show(float(value), unit, kind=kind, system=system, shown=shown) for system in ("SI", "shop"))
    return si if si == shop else f"{si} ({shop})"


def side_text(check: Check, side: Any) -> str:
    """A check's demand or capacity in both systems of units; in the check's own words where it has no end."""
    if check.kind == "count" and side is not None:
        return f"{float(side):.0f}"
    return check.endless if side == math.inf else both(side, check.unit, kind=check.kind)


def _row(check: Check) -> dict[str, Any]:
    margin = check.margin
    return {
        "check": check,
        "demand": side_text(check, check.demand),
        "capacity": side_text(check, check.capacity),
        "margin": margin_text(margin),
        "bar": 0 if margin is None else round(50 * (1 + max(-1.0, min(1.0, margin)))),
        "working": check.working.text() if check.working else "",
        "anchor": check.name.replace(" ", "-"),
    }


def margin_text(margin: float | None) -> str:
    """A margin in words: ``+12 %``, or what an infinite one means."""
    if margin is None:
        return ""
    if math.isinf(margin):
        return "nothing asked" if margin > 0 else "nothing there"
    if abs(margin) >= 10:
        return f"over {int(abs(margin)) * 100} %" if margin > 0 else f"under -{int(abs(margin)) * 100} %"
    return f"{100 * margin:+.0f} %"


_KILO = {"ohm": {"SI": "kohm", "shop": "kohm"}}  # insulation is read in thousands


def card_rows(build: Build) -> list[tuple[str, ...]]:
    """The commissioning card, line by line: number, task, place, expected, band, why, stop if."""
    rows: list[tuple[str, ...]] = []
    for number, line in enumerate(card(View(build.parts))[0], 1):
        expected, low, high = (
            both(value, line.unit, kind=line.kind, shown=_KILO.get(line.unit)) if math.isfinite(value) else "no limit"
            for value in (line.expected, line.low, line.high)
        )
        rows.append((str(number), line.task, line.place, expected, f"{low} to {high}", line.why, line.stop_if))
    return rows


def inspector_rows(build: Build, found: Review) -> list[tuple[str, list[str], str]]:
    """The inspector's page: what is asked, what the build answers, what stays open."""
    rows = []
    for item in inspector_page(View(build.parts)):
        answers = [_in_short(found.check(name)) for name in item.checks]
        answers += [f"{answer.words}: {both(answer.value, answer.unit, kind=answer.kind)}" for answer in item.found]
        rows.append((item.name, answers, item.open))
    return rows


def _in_short(check: Check) -> str:
    """A check in one line."""
    if check.demand is None:
        return f"{check.name}: {check.verdict}" + (f" ({', '.join(check.missing)})" if check.missing else "")
    demand, capacity = (side_text(check, side) for side in (check.demand, check.capacity))
    return f"{check.name}: {demand} against {capacity}, {check.verdict}"


def _groups(found: Review) -> list[tuple[str, list[tuple[str, str]]]]:
    groups: dict[str, list[tuple[str, str]]] = {}
    for figure in found.stated:
        text = both(figure.value, figure.unit) if figure.value is not None else f"not known: {figure.reason}"
        groups.setdefault(figure.group, []).append((figure.name, text))
    return list(groups.items())


def _sections(build: Build) -> list[tuple[str, list[tuple[str, str, str]]]]:
    """Section by section, each stated value with where it comes from."""
    sections: dict[str, list[tuple[str, str, str]]] = {}
    for path, hint in declared().items():
        value = build.value(path)
        if value is None or path.startswith("build."):
            continue
        place, name = path.rsplit(".", 1)
        if name == "fitted" and value is True:
            continue
        quantity = quantity_of(hint)
        origin = build.origins.get(path)
        words = ", ".join(filter(None, (origin.source, _spread(origin.spread), origin.note))) if origin else ""
        label = quantity.text if quantity else name.replace("_", " ")
        sections.setdefault(place, []).append((label, _value_text(value, quantity), words))
    return list(sections.items())


def _value_text(value: Any, quantity: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Curve):
        return f"curve of {len(value.x)} points" + (f" ({value.source})" if value.source else "")
    if isinstance(value, list | tuple):
        return ", ".join(_value_text(item, quantity) for item in value)
    if quantity is None or isinstance(value, str):
        return str(value)
    if quantity.whole:
        return f"{value:.0f}"
    return both(value, quantity.unit, kind=quantity.kind, shown=quantity.shown)


def _spread(spread: float | None) -> str:
    return "" if spread is None else f"± {units.figures(100 * spread, 2)} %"


def _guesses(build: Build) -> list[tuple[str, str, str]]:
    """Values that are guesses, or whose origin the file does not state."""
    known = declared()
    rows = []
    for path, origin in build.origins.items():
        if origin.source in ("measured", "catalogue") or build.value(path) is None or path.startswith("targets."):
            continue
        quantity = quantity_of(known[path])
        if quantity is not None and (origin.source or not quantity.whole):  # a count needs no origin
            rows.append((path, origin.text, "guess" if origin.source else "origin not stated"))
    return rows


def _not_known(found: Review) -> list[tuple[str, list[str]]]:
    """What is missing, and which checks wait for it."""
    waiting: dict[str, list[str]] = {}
    for check in found.checks:
        if check.verdict == NOT_KNOWN:
            for path in check.missing:
                waiting.setdefault(path, []).append(check.name)
    hints = declared()
    return [
        (f"{path} ({quantity.how})" if (quantity := quantity_of(hints.get(path))) and quantity.how else path, names)
        for path, names in sorted(waiting.items())
    ]

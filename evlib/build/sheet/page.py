"""The build sheet: one self-contained HTML file that prints on A4 and Letter."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from pathlib import Path

import evlib
from evlib.build import cut_card
from evlib.build.changes import made_on, title
from evlib.build.commissioning import card
from evlib.build.review import NOT_REVIEWED, Review, review
from evlib.build.schema import Build
from evlib.build.sheet.listed import (
    card_rows,
    changed,
    check_row,
    groups,
    guesses,
    how_to,
    inspector_rows,
    sections,
    waiting,
)
from evlib.build.sheet.owner import owner_page
from evlib.build.sheet.pictures import (
    Picture,
    joint_drawing,
    package_drawing,
    plate_drawing,
    protection_chart,
)
from evlib.build.sheet.settings import bench_card, hydraulic_card, protections_card
from evlib.build.sheet.summary import summary
from evlib.build.sheet.upkeep import maintenance_card, parts_list
from evlib.build.sheet.words import BLANK, few
from evlib.build.view import View
from evlib.ground.checks import FAIL, NOT_APPLICABLE, NOT_KNOWN
from evlib.ground.errors import DoesNotApply, NotKnown

PAPERS = ("A4", "Letter")
CAUTIONS = (
    "Local codes, the makers of the parts and licensed persons decide. This sheet is arithmetic on the numbers given "
    "to it; it is no inspection and no permission.",
    "A traction pack can kill, arc and burn. Work with two people, locked out, discharged and proved dead with a meter "
    "that was proved before and after; rated gloves; no jewellery.",
    "A series motor that loses its load destroys itself. Never energise one uncoupled from the pack.",
    "A stopped motor holds nothing. Chock the wheels; nobody stands downhill.",
    "Oil under pressure is hot and can pass through skin. Test with the wheels off the ground and blocked.",
)


def sheet(build: Build, *, today: str | None = None, paper: str = "") -> str:
    """The build sheet as HTML text.

    ``today`` is the date it states (ISO), the present day where not given. ``paper`` fixes the sheet to ``A4`` or
    ``Letter``; left out, it takes the paper that is chosen where it is printed, and fits both. Raises ``ValueError``.
    """
    import jinja2

    if paper and paper not in PAPERS:
        raise ValueError(f"paper: {paper!r} was given; allowed: {', '.join(PAPERS)}")
    loader = jinja2.FileSystemLoader(Path(__file__).parent)
    environment = jinja2.Environment(loader=loader, autoescape=True, trim_blocks=True, lstrip_blocks=True)
    found, b = review(build), View(build.parts)
    settings, pressures, oils = hydraulic_card(b)
    missing = waiting(found)
    return environment.get_template("sheet.html.j2").render(
        build=build,
        first=summary(build, found),
        changed=changed(build),
        summary=found.summary,
        troubles={topic: trouble(found, topic) for topic in ("shafts", "hydraulics", "safety")},
        unready=unready(found),
        cut=_pieces(lambda: cut_card.cut_body(build)),
        hub=_pieces(lambda: cut_card.hub_body(build)),
        joint=drawn(joint_drawing, build),
        package=drawn(package_drawing, build),
        plate=drawn(plate_drawing, build),
        settings=settings,
        pressures=pressures,
        oils=oils,
        bench=bench_card(b),
        protections=protections_card(b),
        chart=drawn(protection_chart, build),
        card=card_rows(build),
        left_out=card(View(build.parts))[1],
        maintenance=maintenance_card(b),
        parts=parts_list(b, changed=[each.path for each in made_on(build)]),
        owner=owner_page(b, found),
        inspector=inspector_rows(build, found),
        groups=groups(found),
        made=[check_row(check) for check in found.checks if check.verdict not in (NOT_APPLICABLE, NOT_KNOWN)],
        unmade=[check_row(check) for check in found.checks if check.verdict == NOT_KNOWN],
        does_not_apply=_by_reason(found),
        guesses=guesses(build),
        wanted=[(path, how_to(path), few(names)) for path, names in missing.items()],
        sections=sections(build),
        cautions=CAUTIONS,
        not_reviewed=NOT_REVIEWED,
        blank=BLANK,
        card_style=cut_card.CARD_STYLE,
        css_name=css_text(title(build)[:70]),
        paper=paper,
        version=evlib.__version__,
        today=today or datetime.date.today().isoformat(),
    )


def trouble(found: Review, topic: str) -> str:
    """What a card's reader must know first: the checks of its topic that failed or cannot be made; nothing else."""
    checks = found.topic(topic)
    failed = [check.name for check in checks if check.verdict == FAIL]
    unknown = [check.name for check in checks if check.verdict == NOT_KNOWN]
    words = [f"failed: {', '.join(failed)}; mend these first"] if failed else []
    words += [f"{len(unknown)} checks of this topic are not known"] if unknown else []
    return "; ".join(words) + "." if words else ""


def unready(found: Review) -> str:
    """What stands over the driver's page while checks failed or are not known; nothing where none did."""
    failed, unknown = found.counts[FAIL], found.counts[NOT_KNOWN]
    if not failed and not unknown:
        return ""
    return f"{failed} checks failed and {unknown} are not known: this page is not to be handed to anyone yet."


def drawn(draw: Callable[[Build], Picture], build: Build) -> Picture | str:
    """A drawing, or the sentence that says why there is none."""
    try:
        return draw(build)
    except NotKnown as missing:
        return f"Not drawn: {missing}."
    except DoesNotApply as why:
        return f"Does not apply to this build: {why}."
    except ValueError as why:  # a plate whose holes meet, a fuse curve that does not reach
        return f"Not drawn: {why}."


def _pieces(make: Callable[[], list[str]]) -> dict[str, str]:
    """A card made as pieces of a page, or why it does not apply."""
    try:
        return {"page": "\n".join(make()), "why": ""}
    except DoesNotApply as why:
        return {"page": "", "why": str(why)}


def _by_reason(found: Review) -> list[tuple[str, list[str]]]:
    """Checks that do not apply, gathered by why."""
    made: dict[str, list[str]] = {}
    for check in found.checks:
        if check.verdict == NOT_APPLICABLE:
            made.setdefault(check.reason, []).append(check.name)
    return list(made.items())


def css_text(text: str) -> str:
    """Text for a CSS string: all but plain letters, digits and spaces by number, so that it cannot end the string."""
    return re.sub(r"[^A-Za-z0-9 ]", lambda found: f"\\{ord(found[0]):x} ", text)

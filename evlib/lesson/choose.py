"""What the lesson on choosing calls: the review opened up, what mends it, what is sure about it, and comparisons."""

from __future__ import annotations

import html
from collections.abc import Sequence

from evlib.build import chance, repair
from evlib.build import sobol as of_variance
from evlib.build.compare import compare as of_builds
from evlib.build.compare import listed
from evlib.build.repair import HEADER, Repairs, cells
from evlib.build.review import review as made_on
from evlib.build.schema import Build
from evlib.build.sheet import margin_text, side_text
from evlib.build.spread import words
from evlib.ground.checks import FAIL, NOT_APPLICABLE, Check
from evlib.ground.shown import Shown
from evlib.lesson.parts import table

ON_PAPER = (
    "A change mends nothing before it is made and measured. Look at what fails with it, and ask who makes the part "
    "whether it may be changed."
)


PLACES = ("first", "second", "third", "fourth")


def review(build: Build, *, rows: int = 12, mend: int = 3) -> Shown:
    """The review, governing checks first: margins as bars, each opening to its working; the worst with what mends it.

    The first ``rows`` checks stand open to view, the others in one fold; for the worst ``mend`` failed ones the
    smallest changes are worked out.
    """
    found = made_on(build, figures=False)
    mended = {each.check: each for each in repair.repairs(build, rows=mend)}
    checks = [check for check in found.checks if check.verdict != NOT_APPLICABLE]
    first, others = checks[:rows], checks[rows:]
    page = "".join(_opening(check, mended.get(check.name)) for check in first)
    if others:
        page += f"<details><summary>the other {len(others)} checks</summary>"
        page += "".join(_opening(check, None) for check in others) + "</details>"
    lines = [f"{found.summary}.", repr(table(("check", "margin", "verdict"), [_short(check) for check in first]))]
    for each in mended.values():
        lines += ["", repr(_repairs(each))]
    lines += ["", ON_PAPER] if mended else []
    note = f"<p>{ON_PAPER}</p>" if mended else ""
    return Shown("\n".join(lines), f'{STYLE}<div class="evlib-review"><p>{found.summary}.</p>{page}{note}</div>')


def mend(build: Build, name: str, *, most: int = 4) -> Shown:
    """The smallest changes that lift one check's margin to its target, and what else each does."""
    return _repairs(repair.repair(build, name, most=most))


def plan(build: Build) -> Shown:
    """One change after another, each on the build that the ones before it made: one way, on paper."""
    made = repair.plan(build)
    if not made.steps:
        return _said("No single setting or part leaves fewer checks failing.")
    rows = [(str(number), *cells(step)[:3], str(step.gain)) for number, step in enumerate(made.steps, 1)]
    shown = table(("step", *HEADER[:3], "fewer failing"), rows)
    left = ", ".join(made.left) or "none"
    counts = made.before.counts[FAIL], made.after.counts[FAIL]
    said = f"{counts[0]} checks failed, after these {len(rows)} changes {counts[1]}: {left}."
    return _with(shown, said, f"This is one way, found step by step, and not the best of all. {ON_PAPER}")


def chances(build: Build, *, rows: int = 8, draws: int = chance.DRAWS) -> Shown:
    """The chance that each check passes, when values are only as sure as the build says; the least sure of them."""
    found = chance.chances(build, draws=draws)
    unsure = [each for each in found if 0 < each.chance < 1]
    never, always = (sum(each.chance == share for each in found) for share in (0, 1))
    listed_rows = [
        (each.name, margin_text(each.margin), each.text, f"{margin_text(each.low)} to {margin_text(each.high)}",
         ", ".join(words(path) for path in each.guesses[:2]) or "no guess")
        for each in unsure[:rows]
    ]  # fmt: skip
    shown = table(
        ("check", "margin as stated", "chance that it passes", "margin, 9 of 10 draws", "hangs on"), listed_rows
    )
    said = (
        f"{len(unsure)} checks pass in some of {draws} draws and not in others; {always} pass in every draw, "
        f"{never} in none.",
        chance.ASSUMED,
        "A chance is no better than the spreads: a guess that is wrong by more is not in it.",
    )
    return _with(shown, *said)


def measure(build: Build, name: str, *, rows: int = 4) -> Shown:
    """Which one measurement would narrow a check's margin most."""
    found = chance.measurements(build, name)
    if not found:
        return _said(f"{name}: every value that moves it is as sure as a measured one already.")
    rows_shown = [
        (each.words, each.source, _scatter(each.scatter), _scatter(each.after), f"{100 * each.gain:.0f} %")
        for each in found[:rows]
    ]
    shown = table(("measure", "from now", "scatter now", "scatter then", "variance that goes"), rows_shown)
    said = f"{name}: measure this first: {found[0].words}. Scatter is one standard deviation of the margin, on average."
    return _with(shown, said, chance.ASSUMED)


def sobol(build: Build, name: str, *, rows: int = 5) -> Shown:
    """Which part of a margin's variance each value makes: alone, and with all it does together with others."""
    found = of_variance.sobol(build, name)
    rows_shown = [
        (each.words, _index(each.first, each.first_within), _index(each.total, each.total_within))
        for each in found[:rows]
    ]
    shown = table(("value", "alone", "together with others"), rows_shown)
    alone = min(1.0, sum(each.first for each in found))
    said = (
        f"{name}: alone the values make about {100 * alone:.0f} % of the variance; the rest comes of several together."
    )
    return _with(shown, said, "Each ± is half of a 95 % interval.")


def compare(*builds: Build, names: Sequence[str] = (), rows: int = 8) -> Shown:
    """Two to four builds side by side, or two versions of one: what differs, and what that does."""
    found = of_builds(builds)
    heads = tuple(names) or tuple(build.name for build in builds)
    if len(set(heads)) < len(heads):
        heads = tuple(f"{name}, {PLACES[place]}" for place, name in enumerate(heads))
    text, page = [found.sentence], [f"<p>{html.escape(found.sentence)}</p>"]
    for each in listed(found, heads, most=rows):
        shown = table(each.header, each.rows)
        text += ["", each.title, repr(shown)]
        page.append(f"<p><strong>{html.escape(each.title)}</strong></p>{shown._repr_html_()}")
    return Shown("\n".join(text), "".join(page))


# --- pieces ---------------------------------------------------------------------------------------------------------
STYLE = """<style>
.evlib-review details { border-bottom: 1px solid #ddd; padding: 2px 0; }
.evlib-review summary { cursor: pointer; }
.evlib-review .bar { display: inline-block; position: relative; width: 160px; height: 0.8em; margin: 0 0.6em;
  border: 1px solid #6b6b6b; background: #fff; vertical-align: middle; print-color-adjust: exact; }
.evlib-review .bar i { position: absolute; top: 0; bottom: 0; background: #0072b2; }
.evlib-review .bar i.fail { background: repeating-linear-gradient(45deg, #c04a00 0 4px, #fff 4px 6px); }
.evlib-review .bar b { position: absolute; top: -2px; bottom: -2px; width: 2px; background: #222; }
.evlib-review .inside { margin: 0.3em 0 0.6em 1.2em; }
@media print { .evlib-review details::details-content { content-visibility: visible; block-size: auto; } }
</style>"""


def _opening(check: Check, mended: Repairs | None) -> str:
    """One check: its bar and verdict, and what is inside when it is opened."""
    margin = check.margin
    said = f"{check.verdict}, margin {margin_text(margin)}" if margin is not None else check.verdict
    inside = []
    if check.demand is not None:
        inside.append(f"Asked: {side_text(check, check.demand)}; there is: {side_text(check, check.capacity)}.")
    inside += [check.working.text()] if check.working else []
    inside += [f"What to do: {check.advice}"] if check.advice else []
    inside += [f"Source: {check.source}"] if check.source else []
    inside += [check.reason or f"Not known: {', '.join(check.missing)}"] if check.demand is None else []
    body = "".join(f"<p>{html.escape(line)}</p>" for line in inside)
    body += _repairs(mended)._repr_html_() if mended else ""
    summary = f"{_bar(margin, check)}<strong>{html.escape(check.name)}</strong>: {html.escape(said)}"
    return f'<details><summary>{summary}</summary><div class="inside">{body}</div></details>'


def _bar(margin: float | None, check: Check) -> str:
    """The margin as a bar from the middle, cut off at one hundred per cent. The words beside it say the same."""
    if margin is None:
        return '<span class="bar" aria-hidden="true"></span>'
    length = 50 * min(1.0, abs(margin))
    left = 50.0 if margin >= 0 else 50 - length
    look = ' class="fail"' if check.verdict == FAIL else ""
    return (
        f'<span class="bar" aria-hidden="true"><i{look} style="left:{left:.0f}%;width:{length:.0f}%"></i>'
        '<b style="left:50%"></b></span>'
    )


def _short(check: Check) -> tuple[str, str, str]:
    missing = f": {', '.join(check.missing)}" if check.missing else ""
    return check.name, margin_text(check.margin), f"{check.verdict}{missing}"


def _scatter(deviation: float) -> str:
    return f"± {100 * deviation:.1f} %"


def _repairs(found: Repairs) -> Shown:
    if not found.found:
        return _said(f"{found.sentence} Two changes together may, or asking less.")
    return _with(table(HEADER, [cells(each) for each in found.found]), found.sentence)


def _index(share: float, within: float) -> str:
    return f"{100 * max(share, 0.0):.0f} % ± {100 * within:.0f} %"


def _said(text: str) -> Shown:
    return Shown(text, f"<p>{html.escape(text)}</p>")


def _with(shown: Shown, *sentences: str) -> Shown:
    """A table with sentences beneath it."""
    page = "".join(f"<p>{html.escape(each)}</p>" for each in sentences)
    return Shown("\n".join([repr(shown), *sentences]), shown._repr_html_() + page)

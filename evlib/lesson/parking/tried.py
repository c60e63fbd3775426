"""What the parking lesson's panels say at other settings, for who cannot move them; and the selector table in words."""

from __future__ import annotations

import html
from collections.abc import Sequence

import numpy as np

from evlib.build import selector_rules
from evlib.build.brakes import kinds
from evlib.build.parking_cases import roll_case
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.panels.parking import handbrake_panel, hold_panel, reverse_panel, selector_panel
from evlib.parking.selector import POSITIONS, VALUES, Condition, State


def rolled_on(build: Build, *, grades: Sequence[float] = (0.03, 0.05, 0.10, 0.20), hold_back: float = 800.0) -> Shown:
    """What the panel of rolling away says on other grades."""
    b = View(build.parts)
    cases = [roll_case(grade, hold_back=hold_back, mass=float(b.vehicle.mass),
                       rolling_coefficient=float(b.vehicle.rolling_coefficient)) for grade in grades]  # fmt: skip

    def seconds(value: float | None) -> str:
        return "never" if value is None else units.show(value, "s")

    return table(
        ("grade", "one car length, freewheeling", f"the same, held back by {hold_back:g} N", "speed after 6 s"),
        [(f"{100 * c.grade:g} %", seconds(c.free_length), seconds(c.held_length), units.show(c.speed_after, "m/s"))
         for c in cases],
    )  # fmt: skip


def gripped(build: Build, *, grips: Sequence[float] = (0.8, 0.55, 0.4, 0.2, 0.1)) -> Shown:
    """What the panel of park lock says with other grips under the worse wheel."""
    panel = hold_panel(build)
    rows = []
    for grip in grips:
        case = panel.compute(**{**panel.start, "worse_grip": grip})
        at = [float(np.interp(case.asked, case.grade, force)) for force in (case.park_up, case.park_down)]
        pull = float(np.interp(case.asked, case.grade, case.pull))
        holds = "both ways" if min(at) >= pull else "nose up only" if at[0] >= pull else (
            "nose down only" if at[1] >= pull else "neither way")  # fmt: skip
        rows.append((f"{grip:g}", *(units.show(force, "N") for force in at), holds))
    asked = f"holds {100 * case.asked:.3g} % ({units.show(pull, 'N')})"
    return table(("grip of the worse wheel", "park holds, nose up", "nose down", asked), rows)


def braked(build: Build) -> Shown:
    """What the handbrake's panel says of each kind of brake that the build has the measures for, dry and oily."""
    panel, b = handbrake_panel(build), View(build.parts)
    dry = float(b.parking.handbrake.lining_friction)
    rows = []
    for kind in kinds(b):
        chosen = {"handbrake_kind": kind} if "handbrake_kind" in panel.start else {}
        for lining in (dry, 0.4 * dry):
            case = panel.compute(**{**panel.start, **chosen, "lining_friction": lining})
            rows.append((kind, f"{lining:.2f}", f"{100 * case.held_up:.3g} %", f"{100 * case.held_down:.3g} %"))
    return table(("brake", "friction of the lining", "holds, nose up", "holds, nose down"), rows)


def pressed(build: Build, *, pressures: Sequence[float] = (600e3, 400e3, 200e3)) -> Shown:
    """What the panel of going backwards says at lower pressures at rest."""
    panel = reverse_panel(build)
    if "rest_pressure" not in panel.start:
        said = f"{build.name} has no clutch in the way: pressure decides nothing here."
        return Shown(said, f"<p>{html.escape(said)}</p>")
    cases = [panel.compute(**{**panel.start, "rest_pressure": pressure}) for pressure in pressures]
    needs = units.show(cases[0].needed_here, "N")
    return table(
        ("pressure at rest", *(f"{way.way} pulls" for way in cases[0].ways)),
        [(units.show(pressure, "Pa", kind="gauge"),
          *(f"{units.show(way.pull, 'N')}, {'enough' if way.pull >= case.needed_here else 'too little'}"
            for way in case.ways)) for pressure, case in zip(pressures, cases, strict=True)]
        + [("needed", *([needs] * len(cases[0].ways)))],
    )  # fmt: skip


ASKED: tuple[tuple[str, dict[str, str]], ...] = (
    ("low", {"position": "drive", "speed": "medium", "pedal": "down", "brake": "off"}),
    ("low", {"position": "drive", "speed": "fast", "pedal": "up", "brake": "off"}),
    ("low", {"position": "drive", "speed": "medium", "pedal": "up", "brake": "off", "lost": "speed"}),
    ("reverse", {"position": "drive", "speed": "walking", "pedal": "up", "brake": "on"}),
    ("reverse", {"position": "neutral", "speed": "rest", "pedal": "up", "brake": "on", "pressure": "low"}),
    ("drive", {"position": "park", "speed": "rest", "pedal": "up", "brake": "off"}),
    ("drive", {"position": "park", "speed": "rest", "pedal": "up", "brake": "on", "plug": "in"}),
    ("drive", {"position": "neutral", "speed": "rest", "pedal": "down", "brake": "off"}),
    ("park", {"position": "drive", "speed": "medium", "pedal": "up", "brake": "on"}),
    ("park", {"position": "drive", "speed": "rest", "pedal": "up", "brake": "on", "lost": "speed"}),
)


def requests(build: Build) -> Shown:
    """What the selector's panel answers to some requests."""
    panel = selector_panel(build)
    rows = []
    for asked, situation in ASKED:
        case = panel.compute(**{**panel.start, **{"plug": "out", "pressure": "good", "lost": "none"}, **situation,
                                "asked": asked})  # fmt: skip
        words = ", ".join(
            [situation["position"], f"speed {situation['speed']}", f"pedal {situation['pedal']}",
             f"brake {situation['brake']}", *(f"{name} {situation[name]}" for name in ("plug", "pressure")
                                              if name in situation),
             *(["speed sensor lost"] if "lost" in situation else [])]
        )  # fmt: skip
        rows.append((words, asked, "granted" if case.granted else f"refused: {case.why}"))
    return table(("you are in", "you ask for", "answer"), rows)


HEADINGS = {"on": "key"}


def _cells(condition: Condition, names: Sequence[str]) -> list[str]:
    """What a condition wants of each named field, in words; "any" where it does not matter."""
    wanted = {State._fields[field]: allowed for field, allowed in condition}
    return [
        "any" if wanted.get(name, frozenset(VALUES[name])) >= set(VALUES[name])
        else " or ".join(value for value in VALUES[name] if value in wanted[name])
        for name in names
    ]  # fmt: skip


def selector_table() -> Shown:
    """The course's selector table as it is searched: which position may be entered, and when current is allowed."""
    rules = selector_rules.shipped()
    names = ("speed", "pedal", "brake", "plug", "on", "pressure")
    enter = sorted(rules.enter, key=lambda line: POSITIONS.index(line[0]))
    entered = table(
        ("to enter", "from", *(HEADINGS.get(name, name) for name in names)),
        [(to, " or ".join(p for p in POSITIONS if p in before) or "any", *_cells(wanted, names))
         for to, before, wanted in enter],
    )  # fmt: skip
    every = set.intersection(*(set(wanted) for _, wanted in rules.current))  # what all lines ask alike
    own = ("position", "speed", "brake", "pack")
    common = " and ".join(
        f"{HEADINGS.get(State._fields[field], State._fields[field])} {' or '.join(sorted(allowed))}"
        for field, allowed in sorted(every, key=lambda item: item[0])
    )
    current = table(
        ("motor current", "selector in", *own[1:]),
        [(level, *_cells(tuple(set(wanted) - every), own)) for level, wanted in rules.current],
    )
    start = ", ".join(f"{name} {words}" for name in ("position", "pedal", "plug")
                      for words in _cells(rules.start, (name,)))  # fmt: skip
    lever = f"Order of the selector: {', '.join(rules.order)}. The key switches on with: {start}."
    needs = f"Motor current needs, besides, {common}. The first line that is met counts; none met, no current."
    return Shown(
        f"{lever}\n{entered!r}\n\n{needs}\n{current!r}",
        f"<p>{lever}</p>{entered._repr_html_()}<p>{needs}</p>{current._repr_html_()}",
    )

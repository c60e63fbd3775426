"""What every panel is held to, whatever it shows: ``hold_to_rules(panel)``, for the toy and for each lesson's."""

from __future__ import annotations

import dataclasses
import itertools
import tomllib
from typing import Any

import numpy as np
import pytest

from evlib.figures import base, scene
from evlib.panels.controls import Button, Choice, QuantityControl
from evlib.panels.markup import panel_html
from evlib.panels.panel import Panel, Session, corners


def numbers(thing: Any, path: str = "result") -> list[tuple[str, np.ndarray]]:
    """Every number inside a result, by where it stands."""
    if isinstance(thing, bool | str) or thing is None:
        return []
    if isinstance(thing, int | float | np.ndarray | np.generic):
        array = np.asarray(thing)
        return [(path, array.astype(float))] if array.dtype.kind in "fiu" else []
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        inside = [(field.name, getattr(thing, field.name)) for field in dataclasses.fields(thing)]
    elif isinstance(thing, dict):
        inside = list(thing.items())
    elif isinstance(thing, list | tuple):
        inside = list(enumerate(thing))
    else:
        return []
    return [found for name, value in inside for found in numbers(value, f"{path}.{name}")]


def draw(panel: Panel, values: dict[str, Any], system: str = "SI") -> tuple[Any, Any]:
    """A fresh figure of one case, and its result."""
    result = panel.compute(**values)
    figure, axes = base.figure(size=panel.size, layout=panel.layout, room=panel.room)
    base.call_draw(panel.draw, result, axes, system=system)
    return figure, result


def outside(figure: Any) -> str:
    """Which text sticks out of the picture, if any."""
    scene.harvest(figure)
    renderer = figure.canvas.get_renderer()
    width, height = figure.bbox.size
    for axes in figure.axes:
        box = axes.get_tightbbox(renderer)
        if box is not None and (box.x0 < -1 or box.y0 < -1 or box.x1 > width + 1 or box.y1 > height + 1):
            return f"something reaches to {box.extents.round()} in a picture of {width} by {height}"
    return ""


def overlapping(figure: Any) -> list[tuple[str, str]]:
    """Pairs of texts inside the axes that lie on each other."""
    renderer = figure.canvas.get_renderer()
    texts = [(t.get_text(), t.get_window_extent(renderer)) for axes in figure.axes for t in axes.texts if t.get_text()]
    found = []
    for (one, a), (other, b) in itertools.combinations(texts, 2):
        wide, high = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        if wide > 2 and high > 0.35 * min(a.height, b.height):
            found.append((one, other))
    return found


def known(result: Any, framed: set[Any]) -> bool:
    """Whether an equal result was there before; notes it. A result with arrays in it never counts as known."""
    try:
        before = result in framed
        framed.add(result)
    except TypeError:
        return False
    return before


def hold_to_rules(panel: Panel) -> None:
    """Every corner and the middle; the words; the probe; the kept picture; the case."""
    session = Session(panel)
    cases = list(corners(panel))
    looked_at = {0, 1, 2, len(cases) // 3, 2 * len(cases) // 3, len(cases) - 1}  # drawing costs more than computing
    framed: set[Any] = set()  # picture and words follow from the result alone, so an equal result is framed once
    for number, values in enumerate(cases):
        result = panel.compute(**values)
        for path, array in numbers(result):
            assert np.isfinite(array).all(), f"{panel.id}: {path} is not finite at {values}"
        twin = panel.say(result, system="SI")
        assert twin.alt != twin.sentence and len(twin.alt) < 400 and len(twin.sentence) < 300
        if number not in looked_at and known(result, framed):
            continue
        session.values = dict(values)
        kept = session.frame()
        assert kept["problem"] == "", f"{panel.id} at {values}: {kept['problem']}"
        if number in looked_at:
            figure, _ = draw(panel, values)
            assert kept["scene"] == scene.harvest(figure).message(), f"{panel.id}: kept picture differs at {values}"
            assert not outside(figure), f"{panel.id} at {values}: {outside(figure)}"
    figure, _ = draw(panel, panel.start)
    assert overlapping(figure) == [], f"{panel.id}: labels lie on each other"
    for axes in figure.axes:
        if axes.axison:
            assert axes.get_xlabel() and axes.get_ylabel(), f"{panel.id}: every axis has its quantity and unit"
    shop, result = draw(panel, panel.start, system="shop")
    assert not outside(shop), f"{panel.id} in shop units: {outside(shop)}"
    panel.say(result, system="shop")
    if panel.coarse:
        panel.say(panel.coarse(**panel.start))
    check_probe(panel)
    check_case(panel)
    markup, text = panel_html(panel)
    assert "<img alt=" in markup and len(markup) < 100_000 and panel.title in text


def check_probe(panel: Panel) -> None:
    """A move of the probe changes picture, alternative text and text twin."""
    session = Session(panel)
    name = panel.probe or panel.controls[0].name
    before = session.receive({"kind": "set", "set": {k: {"text": v} for k, v in panel.probe_start.items()}})
    assert before["problems"] == {} and before["problem"] == ""
    control = session.controls[name]
    if isinstance(control, QuantityControl):
        step = before["controls"][name]["step"]
        change: dict[str, Any] = {"step": step + 5 if step + 5 <= control.steps else step - 5}
    elif isinstance(control, Choice):
        change = {"option": next(option for option in control.options if option != control.start)}
    else:
        change = {"press": 1}
    after = session.receive({"kind": "set", "set": {name: change}})
    for part in ("scene", "alt", "sentence", "table"):
        assert before[part] != after[part], f"{panel.id}: moving {name} leaves the {part} as it was"


def check_case(panel: Panel) -> None:
    """The case is TOML, and what it says is read back as the values."""
    for values in (panel.start, *itertools.islice(corners(panel), 2, 6)):
        told = tomllib.loads(panel.case(values))
        for control in panel.controls:
            if "." not in control.path or isinstance(control, Button):
                continue
            found: Any = told
            for word in control.path.split("."):
                found = found[word]
            if isinstance(control, QuantityControl):
                assert control.quantity.accept(found) == pytest.approx(values[control.name], rel=1e-4, abs=1e-9)
            else:
                assert found == values[control.name]

"""Each lesson's panels, at every corner of their sliders: functions of ``evlib.panels.<topic>`` that give a Panel."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import time
import typing

import pytest
import toy_panel
from every import hold_to_rules

import evlib.panels
from evlib.panels.panel import Panel, Session

HOUSE = {"controls", "live", "markup", "panel", "server", "twin"}


def makers():
    """Every function of a topic's module that gives a panel."""
    for module in pkgutil.iter_modules(evlib.panels.__path__):
        if module.name in HOUSE:
            continue
        loaded = importlib.import_module(f"evlib.panels.{module.name}")
        for name, function in inspect.getmembers(loaded, inspect.isfunction):
            if function.__module__ == loaded.__name__ and typing.get_type_hints(function).get("return") is Panel:
                yield f"{module.name}.{name}", function


def made(maker) -> Panel:
    """The panel, of the sound build where it takes one."""
    wanted = list(inspect.signature(maker).parameters)
    if not wanted:
        return maker()
    from evlib.build.file import find_build, read_build

    return maker(read_build(find_build("orchard_van")))


PANELS = dict(makers())


@pytest.mark.parametrize("name", PANELS)
def test_a_lessons_panel_is_held_to_the_rules(name):
    hold_to_rules(made(PANELS[name]))


def test_panels_have_names_of_their_own():
    ids = [made(maker).id for maker in PANELS.values()]
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("name", PANELS)
def test_a_panel_follows_the_drag_within_30_ms_or_has_a_coarse_answer(name):
    panel = made(PANELS[name])
    function = panel.coarse or panel.compute
    times = []
    for _ in range(5):
        began = time.perf_counter()
        function(**panel.start)
        times.append(time.perf_counter() - began)
    assert min(times) < 0.030


@pytest.mark.parametrize("takes_long", [False, True])
def test_the_toy_panel_is_held_to_the_rules(takes_long):
    hold_to_rules(toy_panel.panel(takes_long=takes_long) if not takes_long else quick_corners(toy_panel.panel()))


def quick_corners(panel: Panel) -> Panel:
    """The panel with a coarse answer, its full one without the waiting."""
    import dataclasses

    return dataclasses.replace(panel, coarse=toy_panel.coarse)


def test_the_rules_can_be_broken():
    import dataclasses

    import numpy as np

    whole = toy_panel.panel()
    good = dataclasses.replace(
        whole,
        controls=whole.controls[:3]
        + (dataclasses.replace(whole.controls[3], options=("alone",)),)
        + whole.controls[4:],
    )

    def endless(**values):
        return dataclasses.replace(toy_panel.compute(**values), here=np.inf)

    def mute(result):
        return dataclasses.replace(toy_panel.twin(result), sentence="always the same")

    def wide(result, axes):
        toy_panel.draw(result, axes)
        axes.text(1.3, 0.5, "far out of the picture", transform=axes.transAxes)

    def on_top(result, axes):
        toy_panel.draw(result, axes)
        for word in ("one", "two"):
            axes.text(0.5, 0.5, word, transform=axes.transAxes)

    def sticky(result, axes):
        toy_panel.draw(result, axes)
        if result.torque < 0:
            axes.set_xticks([100])

    for broken, words in (
        (dataclasses.replace(good, compute=endless), "not finite"),
        (dataclasses.replace(good, twin=mute), "leaves the sentence"),
        (dataclasses.replace(good, draw=wide), "reaches to"),
        (dataclasses.replace(good, draw=on_top), "lie on each other"),
        (dataclasses.replace(good, draw=sticky), "kept picture differs"),
    ):
        with pytest.raises((AssertionError, OverflowError), match=words):
            hold_to_rules(broken)


def test_a_session_is_ready_for_any_panel():
    assert Session(toy_panel.panel()).frame()["held"] is False

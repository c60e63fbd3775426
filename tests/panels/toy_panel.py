"""A panel with every kind of control, for the tests of panels: heat in a resistance. Nothing of a lesson in it."""

from __future__ import annotations

import time
from typing import Annotated, Any

import numpy as np

from evlib.figures import base
from evlib.ground.quantity import Number, Quantity, calculation, result
from evlib.panels.panel import Amount, Panel, Table, Twin, button, choice, quantity

Current = Annotated[Number, Quantity("I", "A", "current", low=0, high=2000, slider=(0, 600))]
Resistance = Annotated[
    Number, Quantity("R", "ohm", "resistance", above=0, high=10, slider=(0.001, 0.1), scale="log", shown={"SI": "mohm"})
]
Torque = Annotated[Number, Quantity("T", "N m", "torque", low=-2000, high=2000, slider=(-300, 300))]


@result
class Heat:
    """Heat against current, and at one current."""

    current: Any
    heat: Any
    at: float
    here: float
    torque: float
    pressed: int
    pieces: int


@calculation
def heat(current: Current, *, resistance: Resistance) -> Number:
    """Heat in a resistance: P = I^2 R."""
    return current**2 * resistance


def compute(*, current: float, winding_resistance: float, torque: float, wiring: str, more: int) -> Heat:
    """The curve up to 600 A, and the point."""
    factor = {"in series": 2.0, "in parallel": 0.5, "alone": 1.0}[wiring]
    span = np.linspace(0.0, 600.0, 400)
    return Heat(span, heat(span, resistance=winding_resistance * factor), current,
                heat(current, resistance=winding_resistance * factor), torque, more, 400)  # fmt: skip


def slow(**values: Any) -> Heat:
    """As above, but it takes a while."""
    time.sleep(0.15)
    return compute(**values)


def coarse(**values: Any) -> Heat:
    """As above, of 12 points."""
    full = compute(**values)
    return Heat(full.current[::33], full.heat[::33], full.at, full.here, full.torque, full.pressed, 12)


def draw(found: Heat, axes: Any) -> None:
    """Four curves, an area, a point, a note."""
    for share in (1.0, 0.75, 0.5, 0.25):
        axes.plot(found.current, found.heat * share / 1e3, label=f"{share:.0%} of it")
    axes.fill_between(found.current, 0, found.heat / 4e3, color=base.PALE)
    axes.plot([found.at], [found.here / 1e3], marker="o", linestyle="none", color=base.INK, label="_here")
    axes.axvline(found.at, color=base.GREY, linewidth=1, linestyle=":")
    axes.text(20, 0.85 * max(found.heat[-1] / 1e3, 1e-6), f"pressed {found.pressed}", color=base.GREY)
    axes.set(xlabel="current I [A]", ylabel="heat P [kW]", xlim=(0, 600))
    base.label_lines(axes)


def twin(found: Heat) -> Twin:
    """The heat in words."""
    here = Amount(found.here, "W")
    return Twin(
        alt=f"Four curves of heat rising with the square of current; {here.show()} at {found.at:.3g} A.",
        sentence=f"At {found.at:.3g} A the resistance turns {here.show()} into heat ({found.pieces} points).",
        table=Table(("what", "value"), (("heat", here), ("at full current", Amount(float(found.heat[-1]), "W")),
                                        ("torque typed", Amount(found.torque, "N m")))),
    )  # fmt: skip


def panel(name: str = "toy.heat", *, takes_long: bool = False, known: bool = True) -> Panel:
    """The panel; ``takes_long`` gives the one with a coarse answer."""
    return Panel(
        id=name,
        title="Heat in a resistance",
        controls=(
            quantity("toy.current", Current, 300.0),
            quantity("machine.winding_resistance", Resistance, 0.02 if known else None),
            quantity("targets.torque", Torque, "90 lbf ft"),
            choice("machine.wiring", ("alone", "in series", "in parallel")),
            button("more", "Press me"),
        ),
        compute=slow if takes_long else compute,
        coarse=coarse if takes_long else None,
        draw=draw,
        twin=twin,
        probe="current",
        probe_start={"winding_resistance": "10 mohm"},
    )

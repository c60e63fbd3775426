"""The first panel a learner meets: torque times speed is power."""

from __future__ import annotations

import numpy as np

from evlib.figures.bridges import POWER, SPEED, Chain, Line, PowerCase, chain, power_line, voltage_line
from evlib.ground import units
from evlib.ground.quantity import Quantity
from evlib.panels.markup import show
from evlib.panels.panel import Panel, Table, Twin, amount, quantity

TORQUE = Quantity("T", "N m", "torque on the shaft", low=0, high=2000, slider=(20, 400))
SHAFT_SPEED = Quantity("n", "rad/s", "speed of the shaft", low=0, high=1000, slider=(0, 575))


def compute(*, torque: float, speed: float) -> PowerCase:
    """Power at this torque, over all speeds and at one."""
    speeds = np.linspace(0.0, 575.0, 60)
    return PowerCase(torque, speed, torque * speed, speeds, torque * speeds)


def twin(result: PowerCase, *, system: str = "SI") -> Twin:
    """The picture in words."""
    power, speed = amount(result.power, POWER), amount(result.speed, SPEED)
    torque = amount(result.torque, TORQUE)
    said = {name: each.show(system=system) for name, each in (("P", power), ("n", speed), ("T", torque))}
    double = units.show(2 * result.power, "W", system=system)
    return Twin(
        alt=f"A straight line from zero: power over speed at {said['T']}; a point at {said['n']} and {said['P']}.",
        sentence=f"{said['T']} at {said['n']} is {said['P']}; twice the speed would be {double}.",
        table=Table(("what", "value"), (("torque", torque), ("speed", speed), ("power", power))),
    )


def power_panel() -> Panel:
    """Torque and speed move, power follows."""
    return Panel(
        id="bridges.power",
        title="Torque times speed is power",
        controls=(quantity("torque", TORQUE, "200 N m"), quantity("speed", SHAFT_SPEED, "2000 rpm")),
        compute=compute,
        draw=power_line,
        twin=twin,
        probe="speed",
    )


def show_line(*, rest: float, loaded: float, amps: float) -> None:
    """The picture of exercise bridges.9b: a pack's voltage falling in a straight line."""
    table = Table(("current", "voltage"), (("0 A", f"{rest:.0f} V"), (f"{amps:.0f} A", f"{loaded:.0f} V")))
    alt = f"A straight line falls from {rest:.0f} V at 0 A to {loaded:.0f} V at {amps:.0f} A."
    said = "The slope of a line is its fall over its run; read both at the ends of the line, where the error is least."
    show(voltage_line, Line(rest, loaded, amps), Twin(alt=alt, sentence=said, table=table), title="Pack voltage")


PARTS = (
    ("pack", "stores the energy; many cells in series"),
    ("controller", "gives the motors as much current as the pedal asks for"),
    ("motor 1", "turns current into torque; series-wound, direct current"),
    ("motor 2", "the same again, on the same shaft line: a splined sleeve joins the two"),
    ("gearbox", "two speeds, no torque converter; park and reverse come from it"),
    ("final drive", "turns the torque to the wheels and makes it larger"),
    ("tyres", "push on the road, as far as they grip"),
)


def show_chain() -> None:
    """The picture of lesson 0: the parts in the order in which power passes them."""
    names = tuple(name for name, _ in PARTS)
    pump = "electric pump: oil pressure while the shaft stands"
    alt = "Seven boxes in a row: " + ", ".join(names) + f". Below the gearbox, joined to it: {pump}."
    said = (
        "Power goes from left to right; the electric pump keeps the clutches of the gearbox applied when nothing turns."
    )
    rows = (*PARTS, ("electric pump", "keeps oil pressure on the clutches while the shaft stands"))
    draw = Twin(alt=alt, sentence=said, table=Table(("part", "what it is for"), rows))
    show(chain, Chain(names, pump, names.index("gearbox")), draw, title="From pack to road", size=(6.8, 1.8), room=0.02)

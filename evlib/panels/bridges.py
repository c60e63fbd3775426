"""The first panel a learner meets: torque times speed is power."""

from __future__ import annotations

import numpy as np

from evlib.figures.bridges import POWER, SPEED, PowerCase, power_line
from evlib.ground import units
from evlib.ground.quantity import Quantity
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

"""Quantities that the shafts exercises give and ask for."""

from __future__ import annotations

import dataclasses

from evlib.ground.quantity import Quantity

TORQUE = Quantity("T", "N m", "torque", low=0)
FACTOR = Quantity("K", "", "factor", low=0)
LENGTH = Quantity("x", "m", "length")
SMALL = Quantity("g", "m", "small length", shown={"SI": "mm", "shop": "thou"})
STRESS = Quantity("s", "Pa", "stress", shown={"SI": "MPa", "shop": "psi"})
COUNT = Quantity("N", "", "number", low=0, whole=True)
RISE = Quantity("dT", "K", "temperature rise", kind="difference")
FORCE = Quantity("F", "N", "force", low=0)
RADIUS = "Look at which of the two the formula wants, the diameter or the radius, and to which power."


def length(text: str) -> Quantity:
    """A length by the name that the solution calls it."""
    return dataclasses.replace(LENGTH, text=text)


def small(text: str) -> Quantity:
    """A small length, in mm or thousandths of an inch."""
    return dataclasses.replace(SMALL, text=text)

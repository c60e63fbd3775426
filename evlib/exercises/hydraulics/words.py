"""Quantities, objectives and hints that the hydraulics exercises share."""

from __future__ import annotations

from evlib.ground.quantity import Quantity

PRESSURE = Quantity("p", "Pa", "gauge pressure", kind="gauge")
FORCE = Quantity("F", "N", "force", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
SPEED = Quantity("n", "rad/s", "input speed", low=0)
DROP = Quantity("ΔV", "V", "voltage drop", low=0)
NUMBER = Quantity("Re", "", "Reynolds number", low=0)
ANGLE = Quantity("θ", "rad", "wrap angle", above=0, shown={"SI": "deg", "shop": "deg"})
BORE = Quantity("D", "m", "bore", above=0)
FREE_FLOW = Quantity("Q0", "m3/s", "flow against no pressure", above=0)
RATED_FLOW = Quantity("Qr", "m3/s", "flow against the rated pressure", above=0)
RATED_PRESSURE = Quantity("pr", "Pa", "rated pressure", above=0, kind="gauge")
LEAK = Quantity("Ql", "m3/s", "leakage of the gearbox", above=0)
TEST_PRESSURE = Quantity("pt", "Pa", "pressure of the leakage test", above=0, kind="gauge")
TAKEN = Quantity("Q", "m3/s", "what seals and valve body take", above=0)
SLIP = Quantity("Qi", "m3/s", "slip of the internal pump", above=0)
HANDOVER_SPEED = Quantity("n", "rad/s", "handover speed", above=0)

REST = "find the pressure at rest from a pump curve and a leakage"
HOLD = "find what a clutch of plates holds, and what a band holds"
LAUNCH = "find the largest torque and current at launch that a pressure allows, in low and in reverse"
HANDOVER = "find the speed at which the internal pump takes over, and set the switch"
TROUBLE = "say what reversed motors, and each fault, do to the pressure"
SUPPLY = "size the line, the fuse and the wire of the electric pump"

RADIUS = "Torque is force times radius. Is what you took a radius?"

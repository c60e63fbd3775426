"""What the bridges' exercises draw and ask for."""

from __future__ import annotations

from evlib.ground.quantity import Quantity

RESISTANCE = Quantity("R", "ohm", "resistance", low=0, shown={"SI": "mohm", "shop": "mohm"})
LENGTH = Quantity("x", "m", "length", low=0)
SPEED = Quantity("ω", "rad/s", "speed", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
POWER = Quantity("P", "W", "power", low=0)
RATIO = Quantity("i", "", "reduction", above=0)
SHARE = Quantity("s", "", "share", low=0, high=1, shown={"SI": "percent", "shop": "percent"})
GAUGE = Quantity("p", "Pa", "gauge pressure", kind="gauge")
ABSOLUTE = Quantity("pa", "Pa", "absolute pressure", low=0, kind="absolute")
FORCE = Quantity("F", "N", "force", low=0)
VOLTS = Quantity("U", "V", "voltage", low=0)
AMPS = Quantity("I", "A", "current", low=0)
CHARGE = Quantity("Q", "C", "charge", low=0)
ENERGY = Quantity("E", "J", "energy", low=0, shown={"SI": "kWh", "shop": "kWh"})
JOULES = Quantity("E", "J", "energy", low=0, shown={"SI": "MJ", "shop": "MJ"})
ANGLE = Quantity("θ", "rad", "angle")
ROAD_SPEED = Quantity("v", "m/s", "road speed", low=0)
TIME = Quantity("t", "s", "time", above=0)
ACCELERATION = Quantity("a", "m/s2", "acceleration")

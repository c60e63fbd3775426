"""Quantities, objectives and hints that the safety exercises share."""

from __future__ import annotations

from evlib.ground.quantity import Quantity

VOLTS = Quantity("V", "V", "voltage", above=0)
CHARGE = Quantity("C", "F", "capacitance", above=0, shown={"SI": "µF", "shop": "µF"})
OHMS = Quantity("R", "ohm", "resistance", above=0)
KILO = Quantity("R", "ohm", "resistance", above=0, shown={"SI": "kohm", "shop": "kohm"})
MILLI = Quantity("R", "ohm", "resistance", above=0, shown={"SI": "mohm", "shop": "mohm"})
AMPS = Quantity("I", "A", "current", above=0)
SECONDS = Quantity("t", "s", "time", low=0)
TIMES = Quantity("k", "", "how many times", above=0)
AREA = Quantity("A", "m2", "copper area", above=0, shown={"SI": "mm2", "shop": "mm2"})
LENGTH = Quantity("l", "m", "length one way", above=0, shown={"SI": "m", "shop": "ft"})
SHAFT = Quantity("n", "rad/s", "speed", low=0)
INERTIA = Quantity("J", "kg m2", "inertia of all rotors", above=0)
TORQUE = Quantity("T", "N m", "torque", above=0)
MASS = Quantity("m", "kg", "mass", above=0)
FORCE = Quantity("F", "N", "force", above=0)
ANGLE = Quantity("b", "rad", "angle to the level", above=0, shown={"SI": "deg", "shop": "deg"})
WHEEL = Quantity("D", "m", "diameter of the wheel", above=0)
RIM = Quantity("v", "m/s", "speed of the rim", above=0, shown={"SI": "m/s", "shop": "m/s"})
GRAVITIES = Quantity("k", "", "how many times gravity", above=0)
DELAY = Quantity("t", "s", "time", low=0, shown={"SI": "ms", "shop": "ms"})
HEAT = Quantity("W", "J", "heat", low=0, shown={"SI": "J", "shop": "J"})

READ_GOAL = "work out insulation, precharge and discharge, and judge a reading"
AGREE_GOAL = "check that fuse, cable and contactor agree from the coldest short to the hottest"
SPEED_GOAL = "work out how long over-speed detection may take, and find the single fault that leaves a pack connected"
HANDS_GOAL = "work out what lifting, a cutting wheel and the pack's fixing must stand, and what an inspector will ask"
CARD_GOAL = "judge a commissioning card, and say when to stop"

K_RUBBER = 143e6  # A s^0.5/m2, copper from 90 to 250 °C; IEC 60364-5-54
BOTH_WAYS = "Current goes out through one cable and comes back through another: both lose voltage."
LOGARITHM = "Emptying is no straight line: the voltage falls by the same part in the same time."

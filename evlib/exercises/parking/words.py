"""Quantities, objectives and hints that several parking exercises use."""

from __future__ import annotations

from evlib.ground.quantity import Quantity

MASS = Quantity("m", "kg", "mass of the car", above=0)
RADIUS = Quantity("r", "m", "tyre radius", above=0)
RATIO = Quantity("i", "", "ratio", above=0)
GRADE = Quantity("G", "", "grade", low=0, shown={"SI": "percent", "shop": "percent"})
TORQUE = Quantity("T", "N m", "torque", low=0)
FORCE = Quantity("F", "N", "force along the road", low=0)
SECONDS = Quantity("t", "s", "time", low=0)
METRES = Quantity("s", "m", "distance", low=0, shown={"SI": "m", "shop": "ft"})
TEETH = Quantity("z", "", "teeth", low=4, whole=True)
TURN = Quantity("b", "rad", "free turn", low=0)
GRIP = Quantity("mu", "", "grip", low=0)

LOCK_GOAL = "work out how a car rolls away, what park lock must hold, and how far it rolls first"
WHEEL_GOAL = "say which wheel decides through an open differential, nose up and nose down"
HAND_GOAL = "follow the handbrake's force from hand to road, each way"
BACK_GOAL = "compare three ways of going backwards, and say which way each turns the pump"
START_GOAL = "work out how far a car rolls back at a hill start"
RULE_GOAL = "read a selector table, and say why a request is refused"

SINE = "The grade is rise over run. What pulls along the road is the sine of the slope's angle, not the grade itself."
WHERE = "Ask where the toothed wheel sits: what lies between it and the wheels multiplies or divides the torque."

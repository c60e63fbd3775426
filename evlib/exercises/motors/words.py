"""The lesson's objectives and the quantities that its exercises ask about."""

from evlib.ground.quantity import Quantity

AMPS = Quantity("I", "A", "current", low=0)
VOLTS = Quantity("V", "V", "voltage", low=0)
SPEED = Quantity("w", "rad/s", "shaft speed", low=0)
TORQUE = Quantity("T", "N m", "torque", low=0)
POWER = Quantity("P", "W", "power", low=0)
RESISTANCE = Quantity("R", "ohm", "resistance", low=0, shown={"SI": "mohm", "shop": "mohm"})
CONSTANT = Quantity("k", "V s", "back-EMF over speed", low=0)
SHARE = Quantity("e", "", "efficiency", low=0, high=1, shown={"SI": "percent", "shop": "percent"})
TIME = Quantity("t", "s", "time", low=0)
INDUCTANCE = Quantity("L", "H", "mutual inductance", low=0, shown={"SI": "mH", "shop": "mH"})
CAPACITY = Quantity("C", "J", "heat for each kelvin", low=0, shown={"SI": "J", "shop": "J"})
RISE = Quantity("dt", "K", "temperature rise", low=0, kind="difference")
COUNT = Quantity("n", "", "number", low=1, whole=True)

FOUR = "find torque, speed, power and efficiency of a machine from volts and amps"
SAG = "find how far a pack sags, what it can give, and what the controller draws from it"
LIMITS = "say which limit governs at a speed, for one controller or two, in series or in parallel"
LONG = "say how long a current may flow, while turning and while standing still"
TURN = "settle rotation, connection and brushes of each machine, and prove them before coupling"

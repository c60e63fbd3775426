"""Arcs of direct current: heat at a distance by the maximum-power method, opening under load, and blow-out magnets.

Information only: incident energy by this method is never used here to choose protective equipment.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

CALORIE = 4.184  # J, thermochemical
METHOD_LIMIT = 1000.0  # V; the method is given for systems of up to 1000 V of direct current (NFPA 70E, from memory)
LONGEST_EXPOSURE = 2.0  # s; often taken as the time in which a person who can has stepped back (IEEE 1584, from memory)

ArcTime = Annotated[Number, Quantity("t_a", "s", "time that the arc burns", low=0, high=60, slider=(0.01, 2))]
Distance = Annotated[
    Number, Quantity("D", "m", "distance from the arc", above=0, high=10, slider=(0.2, 1), how="to face and chest")
]
BoxFactor = Annotated[
    Number,
    Quantity("m", "", "what a box that opens to one side multiplies it by", low=1, high=3, slider=(1, 3),
             how="1 in the open, 3 in a box"),
]  # fmt: skip
ArcVoltage = Annotated[Number, Quantity("U_a", "V", "voltage of the arc", above=0, high=5000, slider=(20, 1000))]
FluxDensity = Annotated[
    Number, Quantity("B", "T", "flux density of the blow-out magnet", low=-5, high=5, slider=(-0.2, 0.2))
]
SignedCurrent = Annotated[
    Number, Quantity("I", "A", "current, positive as marked on the contactor", low=-1e5, high=1e5, slider=(-500, 500))
]
ArcLength = Annotated[Number, Quantity("l", "m", "length of the arc", above=0, high=1, slider=(0.001, 0.03))]


@calculation
def most_power(open_voltage: q.PackVoltage, *, prospective_current: q.Current) -> Number:
    """The most power that an arc can draw from a source: at half of its voltage and half of its short-circuit current.

    P = V I_bf / 4

    open_voltage [V], prospective_current of a dead short there [A]. Gives [W].

    >>> most_power(350.0, prospective_current=10_000.0)
    875000.0

    Source: the maximum-power theorem; any text on circuits.
    """
    return np.multiply(open_voltage, prospective_current) / 4


@calculation
def incident_energy(open_voltage: q.PackVoltage, *, prospective_current: q.Current, arc_time: ArcTime,
                    distance: Distance, box_factor: BoxFactor = 1.0) -> Number:  # fmt: skip
    """Heat of a direct-current arc on each area at a distance, by the maximum-power method.

    E = 0.01 m V I_arc t / D^2 in cal/cm2 with D in cm, I_arc = I_bf / 2

    open_voltage [V] up to 1000, prospective_current [A], arc_time [s], distance [m], box_factor [1]. Gives [J/m2]. It
    takes the most that the source can give, in all directions alike: a real arc gives less, a jet of it more in one
    direction. Light, blast, metal drops and fumes are not in it. Information only.

    >>> round(incident_energy(350.0, prospective_current=10_000.0, arc_time=0.1, distance=0.45) / 41840, 2)
    0.86

    Source: NFPA 70E, informative annex D, after Doan 2010 (from memory).
    """
    if np.any(np.asarray(open_voltage) > METHOD_LIMIT):
        raise ValueError(f"open_voltage: the maximum-power method is given up to {METHOD_LIMIT:g} V")
    arc_current = np.asarray(prospective_current) / 2
    centimetres = 100 * np.asarray(distance)
    calories = 0.01 * np.asarray(box_factor) * open_voltage * arc_current * arc_time / np.square(centimetres)
    found: Number = calories * CALORIE * 1e4
    return found


@calculation
def time_to_break(current: q.Current, *, source_voltage: q.PackVoltage, arc_voltage: ArcVoltage,
                  circuit_resistance: q.CircuitResistance, loop_inductance: q.LoopInductance) -> Number:  # fmt: skip
    """How long an arc burns between contacts that open under load.

    t = L / R ln(1 + R I / (U_a - V)), from L di/dt = V - R i - U_a

    current before opening [A], source_voltage [V] in that state (no-load), arc_voltage [V] (held steady),
    circuit_resistance of all the loop, load included [ohm], loop_inductance [H]. Gives [s]; infinite where the arc's
    voltage does not exceed the source's: then the arc does not go out by itself.

    >>> round(time_to_break(400.0, source_voltage=350.0, arc_voltage=500.0, circuit_resistance=0.07,
    ...                     loop_inductance=70e-6) * 1e6)
    171

    Source: integration of the loop's equation; any text on switchgear.
    """
    margin = np.subtract(arc_voltage, source_voltage)
    fall = np.multiply(circuit_resistance, current)
    with np.errstate(divide="ignore", invalid="ignore"):
        time = np.divide(loop_inductance, circuit_resistance) * np.log1p(fall / margin)
    return np.where(margin > 0, time, np.inf)


@calculation
def blow_out_force(current: SignedCurrent, *, flux_density: FluxDensity, arc_length: ArcLength) -> Number:
    """Force by which a blow-out magnet drives an arc: outwards where positive, into the contacts where negative.

    F = B I l

    current, positive as marked [A], flux_density [T], arc_length [m]. Gives [N]. With the current the wrong way round
    the same magnet pulls the arc in, and a polarised contactor breaks far less than its rating. A charger or a machine
    that gives current back sends it the other way: then both directions must be within the maker's figures.

    >>> [blow_out_force(current, flux_density=0.05, arc_length=0.01) for current in (400.0, -400.0)]
    [0.2, -0.2]

    Source: Lorentz's force; any text on physics.
    """
    return np.multiply(np.multiply(current, flux_density), arc_length)


def polarity(polarised: str, *, current_comes_back: bool) -> str:
    """What to look at in a contactor's polarity, in words.

    >>> polarity("no", current_comes_back=True)
    'not polarised: it breaks alike both ways, up to its breaking current'
    """
    if polarised == "no":
        return "not polarised: it breaks alike both ways, up to its breaking current"
    if current_comes_back:
        return "polarised, and current comes back: ask the maker what it breaks the wrong way round; stop until known"
    return "polarised: join it as marked, plus side to the pack; reversed, its magnet pulls the arc in"

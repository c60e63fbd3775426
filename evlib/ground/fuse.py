"""Fuses: the time-current curve as declared, melting against clearing, and the currents that a fuse cannot break."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation, result
from evlib.ground.tables import Curve, CurveOf

FuseRating = Annotated[
    Number,
    Quantity("I_n", "A", "rated current of the fuse", above=0, high=5000, slider=(50, 800), how="read it on the fuse"),
]
FuseVoltageRating = Annotated[
    Number,
    Quantity("V_n", "V", "DC voltage that the fuse can break", above=0, high=3000, slider=(60, 1000),
             how="read the DC rating on the fuse; an AC rating is no DC rating"),
]  # fmt: skip
FuseBreakingCapacity = Annotated[
    Number,
    Quantity("I_max", "A", "largest current that the fuse can break at its DC rating", above=0, high=1e6,
             slider=(5e3, 1e5), scale="log", how="read it in the fuse's data sheet"),
]  # fmt: skip
FuseMinimumBreaking = Annotated[
    Number,
    Quantity("I_min", "A", "smallest current that the fuse can break", above=0, high=1e5, slider=(100, 3000),
             how="read it in the fuse's data sheet: a full-range fuse breaks all that melts it, a partial-range one "
             "does not"),
]  # fmt: skip
FuseTimeConstant = Annotated[
    Number,
    Quantity("tau_n", "s", "largest L/R of the circuit at which the DC rating holds", above=0, high=1,
             slider=(1e-3, 0.06), shown={"SI": "ms", "shop": "ms"}, how="read it in the fuse's data sheet"),
]  # fmt: skip
FuseResistance = Annotated[
    Number,
    Quantity("R_f", "ohm", "resistance of the fuse", above=0, high=0.1, slider=(1e-4, 2e-3), scale="log",
             shown={"SI": "mohm", "shop": "mohm"}, how="its power loss at rated current over the current squared"),
]  # fmt: skip
ClearingIntegral = Annotated[
    Number,
    Quantity("W_c", "A2 s", "clearing I²t at the rated voltage, largest of the series", above=0, high=1e12,
             slider=(1e4, 1e6), scale="log", how="read the clearing (not the melting) value in the data sheet"),
]  # fmt: skip
ArcingTime = Annotated[
    Number,
    Quantity("t_arc", "s", "longest arcing time after melting", low=0, high=1, slider=(0.001, 0.02),
             shown={"SI": "ms", "shop": "ms"}, spread="guess", how="the gap between the melting and clearing curves"),
]  # fmt: skip
FuseCurrent = Annotated[
    Number, Quantity("I", "A", "current in the fuse", low=0, high=1e6, slider=(100, 20_000), scale="log")
]
MeltTime = Annotated[
    Number, Quantity("t_m", "s", "melting time", above=0, high=1e6, slider=(0.01, 100), scale="log",
                     shown={"SI": "s", "shop": "s"}),
]  # fmt: skip
FuseCurve = Annotated[
    Curve,
    CurveOf(
        "melting time against current of the fuse",
        x=Quantity("I", "A", "current in the fuse", above=0, high=1e6),
        y=Quantity("t_m", "s", "melting time", above=0, high=1e6),
        shape="falling",
        logarithmic=True,
        how="pick six points off the maker's curve, from about 100 s down to 10 ms",
    ),
]
SHORTEST_READ = 0.01  # s; below about 10 ms a fuse is given by its melting integral, not by its curve (IEC 60269-1)


@calculation
def melting_time(current: FuseCurrent, *, curve: FuseCurve) -> Number:
    """Time until the element melts at a steady current, read from the declared curve.

    log t linear in log I between the points; above the last point t = t_last (I_last / I)^2

    current [A], curve of melting time [s] against current [A]. Gives [s]; infinite below the curve's first current:
    "does not melt within the curve". Above the last point no heat leaves the element, so its I²t is constant.
    Makers allow ±8 to 10 % on the current; the curve is for a cold fuse in free air.

    >>> curve = Curve(x=np.array([400.0, 2000.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> round(melting_time(4000.0, curve=curve), 4), melting_time(300.0, curve=curve)
    (0.0025, inf)

    Source: IEC 60269-1 for how curves and integrals are given.
    """
    x, y = curve.x, curve.y
    asked = np.asarray(current, float)
    read = np.exp(np.interp(np.log(np.clip(asked, x[0], x[-1])), np.log(x), np.log(y)))
    beyond = np.maximum(asked / x[-1], 1.0) ** -2
    found: Number = np.where(asked < x[0], np.inf, read * beyond)
    return found


@calculation
def melting_current(time: MeltTime, *, curve: FuseCurve) -> Number:
    """Steady current that melts the element in a time: the curve read the other way.

    time [s], curve. Gives [A]. A time longer than the curve's first raises :class:`OutOfRange`; a shorter one than
    its last follows I²t = constant, as in :func:`melting_time`.

    >>> curve = Curve(x=np.array([400.0, 2000.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> round(melting_current(0.0025, curve=curve)), round(melting_current(100.0, curve=curve))
    (4000, 400)
    """
    asked = np.asarray(time, float)
    short = np.minimum(asked / curve.y[-1], 1.0)
    within: Number = curve.inverse(np.maximum(asked, curve.y[-1])) / np.sqrt(short)
    return within


@calculation
def clearing_time(current: FuseCurrent, *, curve: FuseCurve, arcing_time: ArcingTime) -> Number:
    """Time until the current is broken: melting and then arcing.

    t_c = t_m + t_arc

    current [A], curve, arcing_time [s]. Gives [s]; infinite where the element does not melt. True only between the
    smallest and the largest current that the fuse can break: see :func:`can_break`.

    >>> curve = Curve(x=np.array([400.0, 2000.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> round(clearing_time(2000.0, curve=curve, arcing_time=0.008), 4)
    0.018
    """
    return melting_time(current, curve=curve) + arcing_time


@calculation
def let_through(current: FuseCurrent, *, curve: FuseCurve, arcing_time: ArcingTime,
                clearing_integral: ClearingIntegral) -> Number:  # fmt: skip
    """The I²t that the fuse lets through to the cable behind it.

    I^2 (t_m + t_arc) for t_m of 10 ms and more, but at least W_c; W_c for less

    current [A] prospective, curve, arcing_time [s], clearing_integral [A2 s]. Gives [A2 s]; infinite where the
    element does not melt. Under 10 ms the fuse limits the current, so I²t from the prospective current would be far
    too high and the maker's clearing value counts.

    >>> curve = Curve(x=np.array([400.0, 2000.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> let_through(9000.0, curve=curve, arcing_time=0.008, clearing_integral=90e3)
    90000.0

    Source: IEC 60269-1.
    """
    melting = melting_time(current, curve=curve)
    with np.errstate(invalid="ignore"):
        slow = np.square(current) * (np.asarray(melting) + arcing_time)
    return np.where(melting >= SHORTEST_READ, np.maximum(slow, clearing_integral), clearing_integral)


@result
class FuseAnswer:
    """What a fuse does at a current: times [s], and whether the current lies where it can break."""

    melting: Number
    clearing: Number
    melts: Number
    above_minimum: Number
    within_capacity: Number

    @property
    def breaks(self) -> Number:
        """1 where it melts and can break the current, else 0."""
        return self.melts * self.above_minimum * self.within_capacity


@calculation
def answer(current: FuseCurrent, *, curve: FuseCurve, arcing_time: ArcingTime, minimum: FuseMinimumBreaking,
           capacity: FuseBreakingCapacity) -> FuseAnswer:  # fmt: skip
    """What the fuse does at a current: melts or not, and breaks or goes on arcing.

    current [A], curve, arcing_time [s], minimum and capacity [A] breaking currents. Between the current that melts
    it and its minimum breaking current, a partial-range fuse melts *and does not break*: it arcs, and burns.

    >>> curve = Curve(x=np.array([400.0, 2000.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> got = answer(600.0, curve=curve, arcing_time=0.008, minimum=1200.0, capacity=20e3)
    >>> got.melts, got.above_minimum, got.breaks
    (1.0, 0.0, 0.0)
    """
    melting = melting_time(current, curve=curve)
    return FuseAnswer(
        melting=melting,
        clearing=np.asarray(melting) + arcing_time,
        melts=np.where(np.isfinite(melting), 1.0, 0.0),
        above_minimum=np.where(np.asarray(current) >= minimum, 1.0, 0.0),
        within_capacity=np.where(np.asarray(current) <= capacity, 1.0, 0.0),
    )

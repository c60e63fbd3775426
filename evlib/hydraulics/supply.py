"""The 12 V side: what the pump's start asks of its fuse, and whether the battery side keeps up."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.hydraulics import quantities as q

# Shortest opening times of blade fuses [s] by multiples of their rating: ISO 8820-3 (from memory).
BLADE_MULTIPLES = np.array([1.35, 1.6, 2.0, 3.5, 6.0])
BLADE_SHORTEST = np.array([0.75, 0.25, 0.15, 0.04, 0.02])


@calculation
def inrush_heat(
    inrush_current: q.InrushCurrent, *, running_current: q.RatedCurrent, spin_up_time: q.SpinUpTime
) -> Number:
    """What a starting pump puts through its fuse: the integral of current squared above its running value.

    I²t = ∫ i² dt over the start, i = I + (Iin - I) exp(-3 t/tup), from 0 to tup

    inrush_current and running_current [A], spin_up_time [s]. Gives [A2 s]. The current dies away as the motor gathers
    speed: three time constants within the spin-up time. The winding's inductance, which blunts the peak, is left out.

    >>> round(inrush_heat(70.0, running_current=15.0, spin_up_time=0.12), 1)
    150.1

    Source: closed form of the integral.
    """
    run, more = np.asarray(running_current), np.asarray(inrush_current) - running_current
    tau = np.asarray(spin_up_time) / 3
    steady, cross = run**2 * spin_up_time, 2 * run * more * tau * (1 - np.exp(-3))
    return np.asarray(steady + cross + more**2 * tau / 2 * (1 - np.exp(-6)))


@calculation
def blade_fuse_stands(inrush_current: q.InrushCurrent, *, fuse_rating: q.FuseRating) -> Number:
    """What a blade fuse stands at a current without opening: current squared times its shortest opening time.

    I² t(I/Ifu), t read between standard points on logarithmic scales

    inrush_current and fuse_rating [A]. Gives [A2 s]; without limit below 1.35 times the rating, where it holds for
    longer than any start; above 6 times as at 6 times. Fuse cold and new: repeated starts weaken one that runs close.

    >>> round(blade_fuse_stands(70.0, fuse_rating=25.0), 1)
    332.0

    Source: ISO 8820-3, shortest opening times (from memory).
    """
    multiple = np.asarray(inrush_current) / fuse_rating
    within = np.clip(multiple, BLADE_MULTIPLES[0], BLADE_MULTIPLES[-1])
    shortest = np.exp(np.interp(np.log(within), np.log(BLADE_MULTIPLES), np.log(BLADE_SHORTEST)))
    # Beyond the last point no heat leaves the element: its I²t stays what it is there.
    current = np.minimum(np.asarray(inrush_current), BLADE_MULTIPLES[-1] * np.asarray(fuse_rating))
    return np.asarray(np.where(multiple < BLADE_MULTIPLES[0], np.inf, current**2 * shortest))


@calculation
def hours_on_battery(capacity: q.BatteryCharge, *, current: q.RatedCurrent, usable_share: q.OnShare) -> Number:
    """Time for which a 12 V battery alone feeds the pump after its charger has failed.

    t = s C / I

    capacity [C], current drawn with everything else that is on [A], usable_share of its charge [1]. Gives [s]. Losing
    12 V loses the clutches at the next stop.

    >>> hours_on_battery(45 * 3600, current=27, usable_share=0.5) / 60
    50.0

    Source: charge over current.
    """
    return np.asarray(np.asarray(usable_share) * capacity / current)

"""What a machine's ratings say about its cooling: from a continuous, a one-hour and a five-minute current.

A continuous rating fixes the whole path of the heat and nothing else. A one-hour and a five-minute rating add two
times. That is three numbers for four unknowns: how the path divides between winding-to-frame and frame-to-air, and two
heat capacities. The winding's mass gives the fourth; without it the two-lump model is not to be had, and says so.
"""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import calculation, result
from evlib.motors.heat import short_time_current
from evlib.motors.quantities import (
    AirTemperature,
    Current,
    OtherLoss,
    WindingLimit,
    WindingMass,
    WindingResistance,
)
from evlib.motors.series import COPPER_COEFFICIENT, TWENTY_C

COPPER_HEAT = 385.0  # J/kg K; handbook value near 25 C


@result
class TwoLumps:
    """The two-lump model that reproduces the three ratings."""

    winding_heat_capacity: float
    frame_heat_capacity: float
    winding_conductance: float
    frame_conductance: float


@calculation
def whole_path(
    continuous_current: Current,
    *,
    winding_limit: WindingLimit,
    winding_resistance: WindingResistance,
    air_temperature: AirTemperature,
) -> float:
    """What a continuous rating alone says: kelvin of winding rise per watt of copper loss, all losses laid on copper.

    r = (T_m - T_a) / (R I^2), R at T_m

    continuous_current: I [A]; winding_limit: T_m [K]; winding_resistance: R_20 [ohm]; air_temperature: T_a [K].

    >>> round(whole_path(226.6, winding_limit=428.15, winding_resistance=0.012, air_temperature=298.15), 4)
    0.1378

    Source: steady heat balance.
    """
    warm = winding_resistance * (1.0 + COPPER_COEFFICIENT * (winding_limit - TWENTY_C))
    return float((winding_limit - air_temperature) / (warm * continuous_current**2))


@calculation
def two_lumps(
    *,
    continuous_current: Current,
    hour_current: Current,
    five_minute_current: Current,
    winding_limit: WindingLimit,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    winding_mass: WindingMass | None,
) -> TwoLumps:
    """The two-lump model from three ratings and the winding's mass.

    C_w = 385 m_w;  G_fa from the continuous current, C_f from the one-hour current and G_wf from the five-minute
    current, by two nested root searches

    continuous_current, hour_current, five_minute_current [A], all reaching winding_limit [K] from air_temperature
    [K]; winding_resistance: R_20 [ohm]; other_loss into the frame [W], the same at all three; winding_mass: copper
    [kg], None if not known: then ValueError, since three ratings cannot give four constants. ValueError too where no
    two-lump machine has these ratings.

    Source: two-lump network; ratings as duty types S1 and S2 of IEC 60034-1.
    """
    from scipy.optimize import brentq

    if winding_mass is None:
        raise ValueError(
            "winding_mass: not known; three ratings give the whole heat path and two times, not four constants. "
            "Weigh the copper of a stripped machine, or work it out from wire size and turns"
        )
    if not continuous_current < hour_current < five_minute_current:
        raise ValueError("hour_current: a shorter rating must be the larger current: continuous < hour < five minutes")
    capacity = COPPER_HEAT * float(winding_mass)
    rise = float(winding_limit - air_temperature)
    copper = float(winding_resistance * (1 + COPPER_COEFFICIENT * (winding_limit - TWENTY_C)) * continuous_current**2)

    def frame_conductance(winding: float) -> float:
        return float((other_loss + copper) / (rise - copper / winding))

    # fmt: off
    def carried(seconds: float, winding: float, frame: float) -> float:
        return float(
            short_time_current(
                seconds, winding_limit=winding_limit, winding_resistance=winding_resistance, other_loss=other_loss,
                air_temperature=air_temperature, winding_heat_capacity=capacity, frame_heat_capacity=frame,
                winding_conductance=winding, frame_conductance=frame_conductance(winding),
            )
        )
    # fmt: on

    def frame_capacity(winding: float) -> float:
        def gap(log_frame: float) -> float:
            return carried(3600.0, winding, float(np.exp(log_frame))) - float(hour_current)

        low, high = float(np.log(1e2)), float(np.log(9e6))
        if gap(low) > 0:
            return float(np.exp(low))
        if gap(high) < 0:
            return float(np.exp(high))
        return float(np.exp(brentq(gap, low, high, xtol=1e-10)))

    def gap5(log_winding: float) -> float:
        winding = float(np.exp(log_winding))
        return carried(300.0, winding, frame_capacity(winding)) - float(five_minute_current)

    # From a frame cooled without limit (all of the rise between winding and frame) to windings at frame temperature.
    least = float(np.log(copper / (rise - (float(other_loss) + copper) / 5e3)))
    most = float(np.log(copper / rise * 300.0))
    if gap5(least) * gap5(most) > 0:
        raise ValueError(
            "five_minute_current: no two-lump machine with this copper mass has these three ratings; "
            "check the mass, the limit temperature and that all three were taken from cold"
        )
    winding = float(np.exp(brentq(gap5, least, most, xtol=1e-9)))
    frame = frame_capacity(winding)
    if abs(carried(3600.0, winding, frame) - float(hour_current)) > 1e-6 * float(hour_current):
        raise ValueError("hour_current: no two-lump machine with this copper mass has these three ratings")
    return TwoLumps(capacity, frame, winding, frame_conductance(winding))

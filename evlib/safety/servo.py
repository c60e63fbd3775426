"""Brake servo without an engine: how far its vacuum goes, and how long an electric pump takes to bring it back."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

AirPressure = Annotated[
    Number,
    Quantity("p_a", "Pa", "pressure of the outside air", above=0, high=120e3, slider=(70e3, 105e3),
             kind="pressure difference", shown={"SI": "kPa", "shop": "inHg"}),
]  # fmt: skip
SEA_LEVEL = 101_325.0  # Pa; ISO 2533. Up a mountain there is less vacuum to be had: a tenth less for each 900 m or so


@calculation
def vacuum_after(stops: q.ServoStops, *, full_vacuum: q.FullVacuum, reservoir_volume: q.ReservoirVolume,
                 stroke_volume: q.StrokeVolume) -> Number:  # fmt: skip
    """Vacuum that is left after some full stops while nothing pumps.

    v = v_0 (V_r / (V_r + V_s))^n

    stops n [1], full_vacuum below the outside air [Pa], reservoir_volume with the servo's own vacuum side [m3],
    stroke_volume of outside air that one full stop lets in [m3]. Gives [Pa] below the outside air. Temperature steady;
    a leak is not in it.

    >>> round(vacuum_after(3.0, full_vacuum=70e3, reservoir_volume=5e-3, stroke_volume=1.2e-3))
    36714

    Source: mixing of two amounts of air at one temperature.
    """
    left = np.divide(reservoir_volume, np.add(reservoir_volume, stroke_volume))
    return full_vacuum * left**stops


@calculation
def pump_time(vacuum: q.FullVacuum, *, start_vacuum: q.LeastVacuum, reservoir_volume: q.ReservoirVolume,
              pump_flow: q.VacuumPumpFlow, air_pressure: AirPressure = SEA_LEVEL) -> Number:  # fmt: skip
    """Time in which a pump of steady suction brings a reservoir from one vacuum to a deeper one.

    t = V / S ln((p_a - v_0) / (p_a - v_1))

    vacuum v_1 wanted, start_vacuum v_0 [Pa below the outside air], reservoir_volume [m3], pump_flow S at its inlet
    [m3/s], air_pressure [Pa]. Gives [s]; 0 where the start is already as deep. A real pump fades towards its deepest
    vacuum, so it is slower.

    >>> round(pump_time(70e3, start_vacuum=36.7e3, reservoir_volume=5e-3, pump_flow=1e-3), 1)
    3.6

    Source: dp/dt = -S p / V; any text on vacuum.
    """
    if np.any(np.asarray(vacuum) >= air_pressure):
        raise ValueError("vacuum: must be less than the pressure of the outside air")
    ratio = np.divide(np.subtract(air_pressure, start_vacuum), np.subtract(air_pressure, vacuum))
    return np.divide(reservoir_volume, pump_flow) * np.log(np.maximum(ratio, 1.0))

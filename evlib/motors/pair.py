"""Two machines on one shaft that are not quite alike: how series and parallel share current, torque and heat.

On one shaft both turn at the same speed. In electrical series they carry the same current, so a mismatch shows in
volts. In parallel they see the same volts, so it shows in current, and steeply: only R I and the slope of the
magnetisation curve hold the stronger machine's neighbour back.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.ground.solve import bisect
from evlib.motors.magnetisation import Magnetisation
from evlib.motors.quantities import (
    BrushDrop,
    Current,
    FluxMismatch,
    Speed,
    Volts,
    WindingResistance,
)


@result
class Share:
    """What each of two machines takes; the second is the one with the stronger flux."""

    first_current: Number
    second_current: Number
    first_volts: Number
    second_volts: Number
    first_torque: Number  # electromagnetic: k I
    second_torque: Number
    first_copper: Number
    second_copper: Number

    @property
    def heat_ratio(self) -> Number:
        """Copper loss of the first over that of the second."""
        return np.asarray(np.asarray(self.first_copper) / np.asarray(self.second_copper))


@calculation
def series_share(
    current: Current,
    *,
    speed: Speed,
    flux_mismatch: FluxMismatch,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Share:
    """How two machines in electrical series share volts and torque at a current and a speed.

    V_1 = k w + R I + V_b;  V_2 = (1 + d) k w + R I + V_b

    current: I, the same in both [A]; speed: w [rad/s]; flux_mismatch: d, by how much the second's k is larger;
    magnetisation: curve of the first; winding_resistance: R [ohm]; brush_drop: V_b [V]. Equal copper loss, always.

    >>> from evlib.motors.magnetisation import Froelich
    >>> s = series_share(400.0, speed=200.0, flux_mismatch=0.05, magnetisation=Froelich(0.0016, 300.0),
    ...                  winding_resistance=0.012, brush_drop=2.0)
    >>> round(s.second_torque / s.first_torque, 6), s.first_copper == s.second_copper
    (1.05, True)

    Source: Kirchhoff's laws.
    """
    k = magnetisation.at(np.asarray(current, float))
    strong = k * (1.0 + np.asarray(flux_mismatch))
    drop = winding_resistance * np.asarray(current) + brush_drop
    copper = winding_resistance * np.square(current)
    out = np.broadcast_arrays(
        current, current, k * speed + drop, strong * speed + drop, k * current, strong * current, copper, copper
    )
    return Share(*out)


@calculation
def parallel_share(
    current: Current,
    *,
    speed: Speed,
    flux_mismatch: FluxMismatch,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Share:
    """How two machines in parallel share a total current at a speed.

    k(I_1) w + R I_1 = (1 + d) k(I_2) w + R I_2,  I_1 + I_2 = I, solved by bisection

    current: I, both together [A]; speed: w [rad/s]; flux_mismatch: d, by how much the second's k is larger;
    magnetisation: curve of the first; winding_resistance: R [ohm]; brush_drop: V_b, alike [V]. Series fields each in
    their own branch. The machine with the weaker flux takes more.

    >>> from evlib.motors.magnetisation import Froelich
    >>> s = parallel_share(800.0, speed=200.0, flux_mismatch=0.0, magnetisation=Froelich(0.0016, 300.0),
    ...                    winding_resistance=0.012, brush_drop=2.0)
    >>> round(s.first_current, 6), round(s.second_current, 6)
    (400.0, 400.0)

    Source: Kirchhoff's laws.
    """
    total, stronger = np.asarray(current, float), 1.0 + np.asarray(flux_mismatch, float)

    def unequal(first: Any) -> Any:
        second = total - first
        return (magnetisation.at(first) - stronger * magnetisation.at(second)) * speed + winding_resistance * (
            first - second
        )

    shape = np.broadcast(total, stronger, np.asarray(speed), np.asarray(winding_resistance)).shape
    high = np.broadcast_to(total, shape)
    first = bisect(unequal, low=np.zeros(shape), high=high)
    second = high - first
    k1, k2 = magnetisation.at(first), stronger * magnetisation.at(second)
    out = np.broadcast_arrays(
        first, second, k1 * speed + winding_resistance * first + brush_drop,
        k2 * speed + winding_resistance * second + brush_drop, k1 * first, k2 * second,
        winding_resistance * np.square(first), winding_resistance * np.square(second),
    )  # fmt: skip
    return Share(*out)


@calculation
def changeover_speed(
    current: Current,
    *,
    volts: Volts,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Number:
    """Speed at which a series pair at full volts has none left for a current: where one would change to parallel.

    w = (V/2 - R I - V_b) / k(I)

    current: I in each [A]; volts: V across the pair [V]; magnetisation, winding_resistance [ohm], brush_drop [V]:
    one machine. At changeover each machine's voltage doubles: without a controller that first brings the duty to a
    half, the current would jump; contactors must change with no current flowing.

    >>> from evlib.motors.magnetisation import Froelich
    >>> round(changeover_speed(400.0, volts=280.0, magnetisation=Froelich(0.0016, 300.0),
    ...                        winding_resistance=0.012, brush_drop=2.0), 1)
    485.6

    Source: Kirchhoff's voltage law; series-parallel control, any text on traction.
    """
    back_emf = np.asarray(volts) / 2.0 - winding_resistance * np.asarray(current) - brush_drop
    return np.asarray(np.maximum(back_emf, 0.0) / magnetisation.at(current))

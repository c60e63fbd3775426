"""The motor loop: its current is not the pack's, so the pack's fuse does not protect its cables."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from evlib.ground.fuse import FuseCurrent
from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

ChopperEfficiency = Annotated[
    Number,
    Quantity(
        "eta", "", "efficiency of the controller", above=0, high=1, slider=(0.9, 1), shown={"SI": "%", "shop": "%"}
    ),
]


@calculation
def pack_current(motor_current: q.MotorCurrent, *, motor_voltage: q.MotorVoltage, pack_voltage: q.PackVoltage,
                 efficiency: ChopperEfficiency = 1.0) -> Number:  # fmt: skip
    """Pack current that goes with a motor current: a chopper trades volts for amps.

    I_b = V_m I_m / (eta V)

    motor_current [A], motor_voltage [V], pack_voltage [V], efficiency [1]. Gives [A], the mean behind the
    controller's capacitor.

    >>> round(pack_current(600.0, motor_voltage=15.0, pack_voltage=300.0), 1)
    30.0
    """
    return motor_voltage * motor_current / (efficiency * pack_voltage)


@calculation
def motor_current_at_fuse(fuse_current: FuseCurrent, *, motor_voltage: q.MotorVoltage, pack_voltage: q.PackVoltage,
                          efficiency: ChopperEfficiency = 1.0) -> Number:  # fmt: skip
    """Motor current that flows when the pack fuse carries a current.

    I_m = eta V I_b / V_m

    fuse_current [A], motor_voltage, pack_voltage [V], efficiency [1]. Gives [A]. With stalled motors the voltage is
    a few volts, and the fuse would let thousands of amps flow in the motor cables: only the controller's limit
    stands in the way, and a controller that fails is short-circuited full on.

    >>> round(motor_current_at_fuse(400.0, motor_voltage=15.0, pack_voltage=300.0))
    8000
    """
    return efficiency * pack_voltage * fuse_current / motor_voltage


@calculation
def root_mean_square(peak_current: q.PeakCurrent, *, steady_current: q.SteadyCurrent, peak_share: q.Fraction) -> Number:
    """The steady current that heats a cable as much as two currents by turns.

    I = sqrt(s I_p^2 + (1 - s) I_s^2)

    peak_current, steady_current [A], peak_share: part of the time at the peak [1]. Gives [A]. For turns that are
    short against the cable's time constant of some minutes.

    >>> round(root_mean_square(600.0, steady_current=150.0, peak_share=0.1), 1)
    237.2
    """
    return np.sqrt(peak_share * np.square(peak_current) + (1 - peak_share) * np.square(steady_current))


@calculation
def failed_on_current(pack_voltage: q.PackVoltage, *, motor_resistance: q.Resistance, pack_resistance: q.PackResistance,
                      circuit_resistance: q.CircuitResistance) -> Number:  # fmt: skip
    """Current at standstill when the controller has failed full on.

    I = V / (R_m + R_b + R_c)

    pack_voltage [V]; motor_resistance of all machines in the loop, pack_resistance, circuit_resistance [ohm]. Gives
    [A]. Now pack fuse and motor cables do carry the same current, and the fuse must melt at it.

    >>> round(failed_on_current(307.0, motor_resistance=0.03, pack_resistance=0.06, circuit_resistance=0.01))
    3070
    """
    return pack_voltage / (motor_resistance + pack_resistance + circuit_resistance)

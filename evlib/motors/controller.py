"""The controller: a chopper between pack and machines. Motor amps are not pack amps; power balances, amps do not."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.motors.quantities import ControllerEfficiency, Current, Duty, MachineCount, OpenVolts


@result
class Chopper:
    """Currents and power of a lossless chopper with steady motor current."""

    motor_volts: Number
    input_mean: Number
    input_rms: Number
    pack_current: Number
    capacitor_rms: Number
    power: Number


@result
class Layout:
    """How the machines share controllers: n_s in series times n_p in parallel on each of n_c controllers."""

    in_series: Number
    in_parallel: Number
    controllers: Number


@calculation
def chopper(duty: Duty, *, pack_volts: OpenVolts, motor_current: Current) -> Chopper:
    """What a chopper passes on: mean and root-mean-square input current, and what the link capacitor carries.

    V_m = D U;  mean input D I_m;  rms input sqrt(D) I_m;  capacitor rms I_m sqrt(D (1 - D));  P = V_m I_m

    duty: D [1]; pack_volts: U at the controller [V]; motor_current: I_m, steady [A]. No losses. With a link
    capacitor the pack sees the mean and the capacitor the ripple; without one the pack sees the chopped current.

    >>> c = chopper(0.25, pack_volts=144.0, motor_current=500.0)
    >>> c.input_mean, c.input_rms, round(c.capacitor_rms, 1), c.power
    (125.0, 250.0, 216.5, 18000.0)

    Source: mean and root mean square of a rectangular wave; any text on power electronics.
    """
    part = np.asarray(duty, float)
    amps = np.asarray(motor_current, float)
    volts = part * pack_volts
    return Chopper(
        motor_volts=volts, input_mean=part * amps, input_rms=np.sqrt(part) * amps, pack_current=part * amps,
        capacitor_rms=np.sqrt(part * (1.0 - part)) * amps, power=volts * amps,
    )  # fmt: skip


@calculation
def largest_ripple(motor_current: Current, *, lowest_duty: Duty, highest_duty: Duty) -> Number:
    """The most that the link capacitor must carry while duty moves between two values.

    I_c = I_m sqrt(D (1 - D)), largest at D = 1/2

    motor_current: I_m at the controller's terminals [A]; lowest_duty, highest_duty [1]. Half the motor current if
    the span holds one half.

    >>> largest_ripple(600.0, lowest_duty=0.05, highest_duty=0.9)
    300.0

    Source: the chopper's balance, largest value by calculus.
    """
    low, high = np.minimum(lowest_duty, highest_duty), np.maximum(lowest_duty, highest_duty)
    worst = np.clip(0.5, low, high)
    return np.asarray(np.asarray(motor_current) * np.sqrt(worst * (1.0 - worst)))


@calculation
def layout(
    machine_count: MachineCount,
    *,
    wiring: Literal["series", "parallel"],
    arrangement: Literal["one for all", "one each"],
) -> Layout:
    """How the machines sit on their controllers.

    one each: n_s = n_p = 1, n_c = n;  one for all, series: n_s = n;  one for all, parallel: n_p = n

    machine_count: n; wiring: how machines on one controller are joined (without effect when each has its own);
    arrangement: controllers. One controller sends a series pair its full current twice over, a parallel pair half
    each: with the same controller, several times the torque at low speed, at half the volts each.

    >>> layout(2, wiring="series", arrangement="one for all").in_series
    2.0

    Source: series and parallel connection.
    """
    n, one = np.asarray(machine_count, float), np.ones_like(np.asarray(machine_count, float))
    if arrangement == "one each":
        return Layout(one, one, n)
    return Layout(n, one, one) if wiring == "series" else Layout(one, n, one)


@calculation
def pack_current_of(
    motor_current: Current,
    *,
    motor_volts: OpenVolts,
    pack_volts: OpenVolts,
    controller_efficiency: ControllerEfficiency,
) -> Number:
    """Pack current that a controller draws for a motor current at a motor voltage.

    I_b = V_m I_m / (e_c U)

    motor_current: I_m [A]; motor_volts: V_m [V]; pack_volts: U under load [V]; controller_efficiency: e_c [1].

    >>> round(pack_current_of(500.0, motor_volts=36.0, pack_volts=144.0, controller_efficiency=1.0), 6)
    125.0

    Source: power balance.
    """
    return np.asarray(motor_volts) * motor_current / (np.asarray(controller_efficiency) * pack_volts)

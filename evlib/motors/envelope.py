"""The envelope: the most torque that the machines together give at each speed, and which limit governs there.

For machines of one kind, n_s in series times n_p in parallel on each of n_c controllers, current I in each machine:

    controller's motor amps      n_p I <= I_m
    brushes                      I <= I_br
    pack amps, cut-off           n_c n_s n_p V I / e_c <= P_b, with P_b = I_b (U_0 - R_b I_b) at the pack's first limit
    volts                        n_s V <= D_m U, with the pack sagged by what it then gives
    speed limit                  w <= w_m

with V = k(I) w + R I + V_b. The smallest current governs; torque follows from it.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.ground.solve import bisect
from evlib.motors.magnetisation import Magnetisation
from evlib.motors.pack import current_for_power, supply_limit
from evlib.motors.quantities import (
    BrushCurrentLimit,
    BrushDrop,
    ControllerCount,
    ControllerEfficiency,
    ControllerPackCurrentLimit,
    CutOffVolts,
    DutyLimit,
    FrictionTorque,
    InParallel,
    InSeries,
    IronConductance,
    MotorCurrentLimit,
    OpenVolts,
    PackCurrentLimit,
    PackResistance,
    Speed,
    SpeedLimit,
    WindageCoefficient,
    WindingResistance,
)
from evlib.motors.series import _loop_current, lost_torque

LIMITS = ("motor amps", "brushes", "volts", "pack amps", "cut-off", "largest power", "speed limit")


@result
class Envelope:
    """The most that the machines give at each speed: all of them together, except where it says one machine."""

    speed: Number
    torque: Number
    power: Number
    current: Number  # one machine
    volts: Number  # one machine
    pack_current: Number
    pack_volts: Number
    duty: Number
    efficiency: Number  # pack's terminals to shaft
    governing: Any  # a word of LIMITS for each speed


@calculation
def envelope(
    speed: Speed,
    *,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
    brush_current_limit: BrushCurrentLimit,
    speed_limit: SpeedLimit,
    in_series: InSeries,
    in_parallel: InParallel,
    controllers: ControllerCount,
    motor_current_limit: MotorCurrentLimit,
    controller_pack_current_limit: ControllerPackCurrentLimit,
    duty_limit: DutyLimit,
    controller_efficiency: ControllerEfficiency,
    open_volts: OpenVolts,
    pack_resistance: PackResistance,
    pack_current_limit: PackCurrentLimit,
    cut_off_volts: CutOffVolts,
) -> Envelope:
    """Largest torque of the machines together at each speed, and which limit governs.

    I = smallest of I_m / n_p, I_br, I(volts), I(pack); T = n (k I - T_f - c_w w^2 - G_i k^2 w)

    speed: w [rad/s]; magnetisation: curve of k, one machine; winding_resistance: warm [ohm]; brush_drop [V];
    friction_torque [N m]; windage_coefficient [N m s2]; iron_conductance [1/ohm]; brush_current_limit: I_br [A];
    speed_limit: w_m [rad/s]; in_series, in_parallel, controllers: n_s, n_p, n_c; motor_current_limit: I_m of one
    controller [A]; controller_pack_current_limit: of one controller [A]; duty_limit: D_m [1]; controller_efficiency:
    e_c [1]; open_volts: U_0 [V]; pack_resistance: R_b [ohm]; pack_current_limit: I_p [A]; cut_off_volts: U_c [V].
    Steady; machines alike; inductance and temperature rise left out. Above the speed limit nothing is given. Torque
    is zero where the current that the limits leave does not cover the losses.

    >>> from evlib.motors.magnetisation import Froelich
    >>> e = envelope(100.0, magnetisation=Froelich(0.00165, 300.0), winding_resistance=0.012, brush_drop=2.0,
    ...     friction_torque=1.0, windage_coefficient=1e-5, iron_conductance=0.01, brush_current_limit=900.0,
    ...     speed_limit=576.0, in_series=2, in_parallel=1, controllers=1, motor_current_limit=600.0,
    ...     controller_pack_current_limit=500.0, duty_limit=1.0, controller_efficiency=0.97, open_volts=316.0,
    ...     pack_resistance=0.06, pack_current_limit=450.0, cut_off_volts=240.0)
    >>> e.governing, round(e.torque, 1), round(e.pack_current, 1)
    ('motor amps', 393.6, 170.7)

    Source: the equations above; any text on traction drives.
    """
    machines = np.multiply(in_series, in_parallel) * controllers
    supply_amps = np.minimum(pack_current_limit, np.multiply(controller_pack_current_limit, controllers))
    supply = supply_limit(
        open_volts, pack_resistance=pack_resistance, pack_current_limit=supply_amps, cut_off_volts=cut_off_volts
    )
    by_power = _current_for_share(
        speed,
        np.asarray(supply.power) * controller_efficiency / machines,
        magnetisation,
        winding_resistance,
        brush_drop,
    )
    by_volts = _current_at_full_duty(
        speed, duty_limit, np.multiply(in_parallel, controllers) / np.asarray(controller_efficiency), in_series,
        open_volts, pack_resistance, magnetisation, winding_resistance, brush_drop,
    )  # fmt: skip
    by_amps = np.multiply(motor_current_limit, 1.0) / in_parallel
    current, governing = _smallest(by_amps, brush_current_limit, by_volts, by_power, supply)
    running = np.asarray(speed) <= speed_limit
    current = np.where(running, current, 0.0)
    governing = np.where(running, governing, "speed limit")
    k = magnetisation.at(current)
    each = k * current - lost_torque(k, speed, friction_torque, windage_coefficient, iron_conductance)
    torque = np.where(running, np.maximum(each, 0.0), 0.0) * machines
    volts = np.where(current > 0, k * speed + winding_resistance * current + brush_drop, 0.0)
    taken = machines * volts * current / controller_efficiency
    pack_current = np.asarray(current_for_power(taken, open_volts=open_volts, pack_resistance=pack_resistance))
    pack_volts = open_volts - pack_resistance * pack_current
    with np.errstate(divide="ignore", invalid="ignore"):
        efficiency = np.where(taken > 0, torque * speed / taken, 0.0)
        duty = np.where(pack_volts > 0, in_series * volts / pack_volts, 0.0)
    out = np.broadcast_arrays(
        speed, torque, torque * speed, current, volts, pack_current, pack_volts, duty, efficiency, governing
    )
    return Envelope(*out)


def _current_for_share(speed: Any, share: Any, magnetisation: Magnetisation, resistance: Any, drop: Any) -> Array:
    """I for which (k w + R I + V_b) I is one machine's share of the power [A]; infinite beyond the curve's end."""
    speed, share = np.asarray(speed, float), np.asarray(share, float)
    # Power exceeds R I^2 and V_b I, so these bound the current from above; without either, the curve's end does.
    with np.errstate(divide="ignore", invalid="ignore"):
        most = np.minimum(np.sqrt(share / np.asarray(resistance)) + 1.0, magnetisation.largest_current)

    def excess(amps: Array) -> Any:
        return (magnetisation.at(amps) * speed + resistance * amps + drop) * amps - share

    found = bisect(excess, low=np.zeros_like(most), high=most, steps=52)
    return np.where(np.isnan(found), np.inf, found)  # beyond the curve's end: not what governs, or at() will say so


def _current_at_full_duty(
    speed: Any, duty: Any, share: Any, in_series: Any, rest: Any, ohms: Any, magnetisation: Magnetisation,
    winding: Any, drop: Any,
) -> Array:  # fmt: skip
    """I at which the sagged pack has no more volts to give; no limit where its largest power comes first.

    At duty D the pack gives D I n_p n_c / e_c, so each machine sees the pack behind a resistance that stands for the
    sag of all. A crossing past half the rest voltage is on the wrong side of the largest power: less duty gives as
    much there.
    """
    sag = np.square(duty) * ohms * share / in_series
    at_rest = np.maximum(np.multiply(duty, rest) / in_series - drop, 0.0)
    current = _loop_current(speed, at_rest, magnetisation, np.asarray(winding) + sag)
    past_half = 2.0 * np.asarray(ohms) * duty * share * current > rest
    return np.where(past_half | np.isnan(current), np.inf, current)


def _smallest(amps: Any, brushes: Any, volts: Any, power: Any, supply: Any) -> tuple[Array, Any]:
    """The smallest current and the word for it."""
    pack_first = np.where(
        np.asarray(supply.by_pack_amps) <= np.minimum(supply.by_cut_off, supply.by_largest_power),
        "pack amps",
        np.where(np.asarray(supply.by_cut_off) <= supply.by_largest_power, "cut-off", "largest power"),
    )
    amps, brushes, volts, power, pack_first = np.broadcast_arrays(amps, brushes, volts, power, pack_first)
    current = np.minimum(np.minimum(amps, brushes), np.minimum(volts, power))
    words = np.select(
        [amps <= current, brushes <= current, volts <= current], ["motor amps", "brushes", "volts"], default=""
    )
    return current, np.where(words == "", pack_first, words)

"""A series machine that loses its load: less torque is asked, so it speeds up, and its limit is not far away."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Number, calculation, result
from evlib.ground.runaway import climb
from evlib.ground.solve import bisect
from evlib.motors.magnetisation import Magnetisation
from evlib.motors.quantities import (
    BrushDrop,
    Current,
    FrictionTorque,
    IronConductance,
    RotorInertia,
    Speed,
    SpeedLimit,
    Time,
    Volts,
    WindageCoefficient,
    WindingResistance,
)
from evlib.motors.series import _loop_current, lost_torque, stall_current

FASTEST = 20_000.0  # rad/s; beyond anything that stays in one piece


@result
class Runaway:
    """How one machine's speed climbs after the load is lost."""

    time: Array
    speed: Array
    current: Array
    torque: Array
    time_to_limit: float  # infinite where the machine levels off below its limit
    levels_off_at: float  # no-load speed at these volts [rad/s]


def _free_torque(speed: Any, held: Any, left: Any, magnetisation: Magnetisation, ohms: Any, drags: Any) -> Any:
    # Beyond a measured curve's end the volts drive more than is held, so what is held stands.
    current = np.fmin(np.fmin(held, _loop_current(speed, left, magnetisation, ohms)), magnetisation.largest_current)
    k = magnetisation.at(current)
    return current, k * current - lost_torque(k, speed, *drags)


@calculation
def no_load_speed(
    volts: Volts,
    *,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Number:
    """Speed at which an unloaded series machine levels off at a voltage, if it lived so long.

    k I = T_f + c_w w^2 + G_i k^2 w with V = k w + R I + V_b, by bisection on w

    volts: V at one machine [V]; magnetisation, winding_resistance [ohm], brush_drop [V], friction_torque [N m],
    windage_coefficient [N m s2], iron_conductance [1/ohm]: one machine. Remanence, which would hold it a little
    lower, is ignored. Infinite where nothing drags.

    >>> from evlib.motors.magnetisation import Froelich
    >>> w = no_load_speed(150.0, magnetisation=Froelich(0.0016, 300.0), winding_resistance=0.012, brush_drop=2.0,
    ...                   friction_torque=1.5, windage_coefficient=1e-5, iron_conductance=0.04)
    >>> w > 1.5 * 576  # the maker allows 576 rad/s
    True

    Source: torque balance; "a series motor must not be started without load" of any text on DC machines.
    """
    left = np.maximum(np.asarray(volts, float) - brush_drop, 0.0)
    drags = (friction_torque, windage_coefficient, iron_conductance)

    def gap(speed: Array) -> Any:
        return _free_torque(speed, np.inf, left, magnetisation, winding_resistance, drags)[1]

    found = bisect(gap, low=np.zeros_like(left), high=np.full_like(left, FASTEST))
    return np.where(np.isnan(found), np.where(left > 0, np.inf, 0.0), found)


@calculation
def speed_from_rest(
    time: Time,
    *,
    volts: Volts,
    rotor_inertia: RotorInertia,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Number:
    """Speed of an unloaded series machine, a time after a stiff low voltage is put on it at rest.

    J dw/dt = k I - T_f - c_w w^2 - G_i k^2 w with V = k w + R I + V_b, from w = 0

    time: t [s]; volts: V, low enough for the current at rest to lie on the curve [V]; rotor_inertia: J [kg m2]; the
    rest as in no_load_speed. Counted up to 99 % of the speed at which it levels off. Source and leads give as much
    as is asked: a real battery gives less. One machine at a time.

    >>> from evlib.motors.magnetisation import Froelich
    >>> w = speed_from_rest(1.0, volts=12.0, rotor_inertia=0.12, magnetisation=Froelich(0.0016, 300.0),
    ...     winding_resistance=0.0146, brush_drop=2.0, friction_torque=1.5, windage_coefficient=1e-5,
    ...     iron_conductance=0.04)
    >>> round(w * 30 / np.pi, -2)
    1000.0

    Source: Newton's law for rotation and the machine's equations.
    """
    machine: dict[str, Any] = {
        "magnetisation": magnetisation, "winding_resistance": winding_resistance, "brush_drop": brush_drop,
        "friction_torque": friction_torque, "windage_coefficient": windage_coefficient,
        "iron_conductance": iron_conductance,
    }  # fmt: skip
    top = float(np.asarray(no_load_speed(volts, **machine)))
    if top == 0.0:
        return np.zeros_like(np.asarray(time, float))
    run = runaway(
        stall_current(volts, winding_resistance=winding_resistance, brush_drop=brush_drop), start_speed=0.0,
        volts=volts, speed_limit=0.99 * top, rotor_inertia=rotor_inertia, **machine,
    )  # fmt: skip
    return np.asarray(np.interp(time, run.time, run.speed))


@calculation
def runaway(
    current: Current,
    *,
    start_speed: Speed,
    volts: Volts,
    speed_limit: SpeedLimit,
    rotor_inertia: RotorInertia,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Runaway:
    """Speed against time of one machine that loses its load at a current, up to its speed limit.

    J dw/dt = k I - T_f - c_w w^2 - G_i k^2 w,  I the smaller of what the controller holds and what the volts drive

    current: held by the controller until the volts run out [A]; start_speed [rad/s]; volts: the most there are for
    one machine [V]; speed_limit [rad/s]; rotor_inertia: J of what still turns, per machine [kg m2]; magnetisation,
    winding_resistance [ohm], brush_drop [V], friction_torque [N m], windage_coefficient [N m s2], iron_conductance
    [1/ohm]: one machine. The pedal stays where it was; inductance ignored. One machine at a time, no columns.

    >>> from evlib.motors.magnetisation import Froelich
    >>> r = runaway(400.0, start_speed=200.0, volts=150.0, speed_limit=576.0, rotor_inertia=0.12,
    ...     magnetisation=Froelich(0.0016, 300.0), winding_resistance=0.012, brush_drop=2.0, friction_torque=1.5,
    ...     windage_coefficient=1e-5, iron_conductance=0.04)
    >>> 0.4 < r.time_to_limit < 0.6
    True

    Source: Newton's law for rotation and the machine's equations.
    """
    if current > magnetisation.largest_current:
        raise OutOfRange("current", current, 0.0, magnetisation.largest_current, "the magnetisation curve")
    if start_speed >= speed_limit:
        raise ValueError("start_speed: it is not below the speed limit")
    speeds = np.linspace(float(start_speed), float(speed_limit), 401)
    left = max(float(volts) - float(brush_drop), 0.0)
    drags = (friction_torque, windage_coefficient, iron_conductance)
    amps, torques = _free_torque(speeds, float(current), left, magnetisation, winding_resistance, drags)
    times = climb(speeds, torque=torques, rotor_inertia=rotor_inertia)
    rest = no_load_speed(
        volts, magnetisation=magnetisation, winding_resistance=winding_resistance, brush_drop=brush_drop,
        friction_torque=friction_torque, windage_coefficient=windage_coefficient, iron_conductance=iron_conductance,
    )  # fmt: skip
    return Runaway(times, speeds, amps, torques, float(times[-1]), float(rest))

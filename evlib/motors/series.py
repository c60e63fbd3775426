"""The series machine: torque, speed, power and efficiency from volts and amps, and each of these the other way.

Motor equations, one machine, steady direct current:

    V = k w + R I + V_b        k = k(I), the magnetisation curve
    T = k I - (T_f + c_w w^2 + G_i k^2 w)

so that V I = T w + R I^2 + V_b I + (T_f w + c_w w^3) + G_i (k w)^2 : electrical power in is mechanical power out and
each loss. Inductance, armature reaction and the ripple of the chopper's current are ignored.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Number, calculation, result
from evlib.ground.solve import bisect
from evlib.motors.magnetisation import Froelich, Magnetisation
from evlib.motors.quantities import (
    BrushDrop,
    Current,
    FrictionTorque,
    IronConductance,
    Speed,
    Torque,
    Volts,
    WindageCoefficient,
    WindingResistance,
    WindingTemperature,
)

COPPER_COEFFICIENT = 0.00393  # 1/K at 20 C, annealed copper; IEC 60228, IEC 60028
TWENTY_C = 293.15  # K


@result
class Losses:
    """Where the electrical power that is not mechanical goes, one machine [W]."""

    copper: Number
    brushes: Number
    friction: Number
    windage: Number
    iron: Number

    @property
    def total(self) -> Number:
        """All of them [W]."""
        return self.copper + self.brushes + self.friction + self.windage + self.iron


@result
class Point:
    """One machine at work: SI, a value or a column each."""

    volts: Number
    current: Number
    speed: Number
    torque: Number
    mechanical_power: Number
    electrical_power: Number
    efficiency: Number
    losses: Losses


@calculation
def warm_resistance(winding_resistance: WindingResistance, *, winding_temperature: WindingTemperature) -> Number:
    """Winding resistance at a temperature, from that at 20 °C.

    R = R_20 (1 + 0.00393 (t - 20 C))

    winding_resistance: R_20 [ohm]; winding_temperature: t [K]. Copper, -50 to 250 °C; carbon brushes left out.

    >>> round(warm_resistance(0.010, winding_temperature=393.15), 5)
    0.01393

    Source: IEC 60228 (0.00393 per kelvin at 20 °C).
    """
    return np.asarray(winding_resistance) * (1.0 + COPPER_COEFFICIENT * (np.asarray(winding_temperature) - TWENTY_C))


@calculation
def losses(
    current: Current,
    *,
    speed: Speed,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Losses:
    """Each loss of one machine at a current and a speed.

    copper R I^2, brushes V_b I, friction T_f w, windage c_w w^3, iron G_i (k w)^2

    current: I [A]; speed: w [rad/s]; magnetisation: curve of k; winding_resistance: R, warm [ohm]; brush_drop: V_b
    [V]; friction_torque: T_f [N m]; windage_coefficient: c_w [N m s2]; iron_conductance: G_i [1/ohm]. Friction is
    taken as zero at standstill. Stray load loss is inside the fitted iron loss.

    >>> k = Froelich(0.00165, 300.0)
    >>> lost = losses(400.0, speed=200.0, magnetisation=k, winding_resistance=0.012, brush_drop=2.0,
    ...               friction_torque=1.0, windage_coefficient=1e-5, iron_conductance=0.01)
    >>> round(lost.copper), round(lost.brushes), round(lost.iron)
    (1920, 800, 32)

    Source: loss split as in IEC 60034-2-1.
    """
    back_emf = magnetisation.at(current) * speed
    each = (
        winding_resistance * np.square(current),
        brush_drop * np.asarray(current),
        friction_torque * np.asarray(speed),
        windage_coefficient * np.power(speed, 3.0),
        iron_conductance * np.square(back_emf),
    )
    return Losses(*np.broadcast_arrays(*each))


@calculation
def torque(
    current: Current,
    *,
    speed: Speed,
    magnetisation: Magnetisation,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Number:
    """Shaft torque of one machine at a current and a speed.

    T = k I - (T_f + c_w w^2 + G_i k^2 w)

    current: I [A]; speed: w [rad/s]; magnetisation: curve of k; friction_torque: T_f [N m]; windage_coefficient:
    c_w [N m s2]; iron_conductance: G_i [1/ohm]. Negative where the losses exceed what the current makes.

    >>> round(torque(600.0, speed=0.0, magnetisation=Froelich(0.00165, 300.0), friction_torque=1.0,
    ...              windage_coefficient=1e-5, iron_conductance=0.01), 6)
    197.0

    Source: electromechanical balance, any text on DC machines.
    """
    k = magnetisation.at(current)
    return np.asarray(k * current - lost_torque(k, speed, friction_torque, windage_coefficient, iron_conductance))


def lost_torque(k: Any, speed: Any, friction: Any, windage: Any, iron: Any) -> Any:
    """T_f + c_w w^2 + G_i k^2 w [N m]."""
    return friction + windage * np.square(speed) + iron * np.square(k) * speed


@calculation
def volts_needed(
    current: Current,
    *,
    speed: Speed,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Number:
    """Voltage at one machine's terminals for a current at a speed.

    V = k w + R I + V_b

    current: I [A]; speed: w [rad/s]; magnetisation: curve of k; winding_resistance: R, warm [ohm]; brush_drop: V_b
    [V], asked for as soon as any current flows.

    >>> round(volts_needed(600.0, speed=200.0, magnetisation=Froelich(0.00165, 300.0), winding_resistance=0.012,
    ...                    brush_drop=2.0), 6)
    75.2

    Source: Kirchhoff's voltage law; any text on DC machines.
    """
    drop = np.where(np.asarray(current) > 0, brush_drop, 0.0)
    return np.asarray(magnetisation.at(current) * speed + winding_resistance * np.asarray(current) + drop)


@calculation
def speed_at(
    current: Current,
    *,
    volts: Volts,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Number:
    """Speed of one machine that takes a current at a voltage.

    w = (V - R I - V_b) / k

    current: I [A], more than 0; volts: V [V]; magnetisation: curve of k; winding_resistance: R, warm [ohm];
    brush_drop: V_b [V]. Raises ValueError where the volts do not even drive this current at standstill.

    >>> round(speed_at(600.0, volts=75.2, magnetisation=Froelich(0.00165, 300.0), winding_resistance=0.012,
    ...                brush_drop=2.0), 6)
    200.0

    Source: Kirchhoff's voltage law; any text on DC machines.
    """
    amps = np.asarray(current, float)
    if (amps <= 0).any():
        raise ValueError("current: 0 A was given; without current a series machine has no definite speed")
    back_emf = np.asarray(volts) - winding_resistance * amps - brush_drop
    if (back_emf < 0).any():
        bad = float(np.broadcast_to(volts, back_emf.shape)[back_emf < 0].flat[0])
        raise ValueError(f"volts: {bad:g} V was given; the stalled machine needs more than that for this current")
    return np.asarray(back_emf / magnetisation.at(amps))


@calculation
def stall_current(volts: Volts, *, winding_resistance: WindingResistance, brush_drop: BrushDrop) -> Number:
    """Current of one machine that stands still at a voltage.

    I = (V - V_b) / R

    volts: V [V]; winding_resistance: R, warm [ohm]; brush_drop: V_b [V]. Zero where the volts do not exceed the drop.

    >>> round(stall_current(120.0, winding_resistance=0.2, brush_drop=2.0), 6)
    590.0

    Source: Kosow, Electric Machinery and Transformers, 2nd ed., Ex 4-12.
    """
    return np.maximum(np.asarray(volts) - brush_drop, 0.0) / winding_resistance


@calculation
def current_at(
    speed: Speed,
    *,
    volts: Volts,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Number:
    """Current that one machine takes at a speed and a voltage.

    V = k(I) w + R I + V_b, solved for I

    speed: w [rad/s]; volts: V [V]; magnetisation: curve of k; winding_resistance: R, warm [ohm]; brush_drop: V_b
    [V]. A quadratic for the saturating curve, bisection for a measured one. Zero where V does not exceed V_b.

    >>> round(current_at(200.0, volts=75.2, magnetisation=Froelich(0.00165, 300.0), winding_resistance=0.012,
    ...                  brush_drop=2.0), 6)
    600.0

    Source: Kirchhoff's voltage law; any text on DC machines.
    """
    left = np.maximum(np.asarray(volts, float) - brush_drop, 0.0)
    return _within(_loop_current(speed, left, magnetisation, winding_resistance), "current", magnetisation)


def _loop_current(speed: Any, volts: Any, magnetisation: Magnetisation, resistance: Any) -> Array:
    """I for which k(I) w + R I = V, the brush drop taken off; NaN where it lies beyond a measured curve's end."""
    speed, volts = np.asarray(speed, float), np.asarray(volts, float)
    if isinstance(magnetisation, Froelich):
        # (V - R I)(1 + I/I_s) = L w I  gives  (R/I_s) I^2 + (R + L w - V/I_s) I - V = 0, one positive root.
        a = resistance / np.asarray(magnetisation.saturation_current)
        b = resistance + magnetisation.mutual_inductance * speed - volts / magnetisation.saturation_current
        root = np.sqrt(b * b + 4.0 * a * volts)
        return np.asarray(np.where(b > 0, 2.0 * volts / (root + b), (root - b) / (2.0 * a)))
    high = np.minimum(volts / np.asarray(resistance) + 1.0, magnetisation.largest_current)
    return bisect(lambda amps: magnetisation.at(amps) * speed + resistance * amps - volts, low=0.0, high=high)


def _within(found: Array, name: str, magnetisation: Magnetisation) -> Array:
    if np.isnan(found).any():
        end = magnetisation.largest_current
        raise OutOfRange(name, "the one asked for", 0.0, end, "the magnetisation curve")
    return found


@calculation
def current_for_torque(
    torque: Torque,
    *,
    speed: Speed,
    magnetisation: Magnetisation,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Number:
    """Current that gives a shaft torque at a speed.

    k I - G_i k^2 w = T + T_f + c_w w^2, solved for I by bisection

    torque: T at the shaft [N m]; speed: w [rad/s]; magnetisation: curve of k; friction_torque: T_f [N m];
    windage_coefficient: c_w [N m s2]; iron_conductance: G_i [1/ohm]. Raises OutOfRange beyond the curve's end.

    >>> round(current_for_torque(197.0, speed=0.0, magnetisation=Froelich(0.00165, 300.0), friction_torque=1.0,
    ...                          windage_coefficient=1e-5, iron_conductance=0.01), 6)
    600.0

    Source: the torque equation turned round.
    """
    wanted = np.asarray(torque, float) + friction_torque + windage_coefficient * np.square(speed)

    def excess(amps: Array) -> Any:
        k = magnetisation.at(amps)
        return k * amps - iron_conductance * np.square(k) * speed - wanted

    found = bisect(excess, low=0.0, high=magnetisation.largest_current)
    return _within(found, "current for this torque", magnetisation)


@calculation
def at_volts_and_amps(
    volts: Volts,
    *,
    current: Current,
    magnetisation: Magnetisation,
    winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
    friction_torque: FrictionTorque,
    windage_coefficient: WindageCoefficient,
    iron_conductance: IronConductance,
) -> Point:
    """Torque, speed, mechanical power and efficiency of one machine at a voltage and a current.

    w = (V - R I - V_b) / k;  T = k I - (T_f + c_w w^2 + G_i k^2 w);  efficiency = T w / (V I)

    volts: V [V]; current: I [A], more than 0; magnetisation: curve of k; winding_resistance: R, warm [ohm];
    brush_drop: V_b [V]; friction_torque: T_f [N m]; windage_coefficient: c_w [N m s2]; iron_conductance: G_i
    [1/ohm]. Efficiency is negative where the losses exceed the drive.

    >>> p = at_volts_and_amps(75.2, current=600.0, magnetisation=Froelich(0.00165, 300.0), winding_resistance=0.012,
    ...                       brush_drop=2.0, friction_torque=1.0, windage_coefficient=1e-5, iron_conductance=0.01)
    >>> round(p.speed, 3), round(p.torque, 2), round(p.efficiency, 3)
    (200.0, 196.38, 0.87)

    Source: electromechanical balance, any text on DC machines.
    """
    speed = speed_at(
        current, volts=volts, magnetisation=magnetisation, winding_resistance=winding_resistance, brush_drop=brush_drop
    )
    return _point(
        np.asarray(volts), current, speed, magnetisation, winding_resistance, brush_drop, friction_torque,
        windage_coefficient, iron_conductance,
    )  # fmt: skip


def _point(
    volts: Any, current: Any, speed: Any, magnetisation: Magnetisation, resistance: Any, drop: Any, friction: Any,
    windage: Any, iron: Any,
) -> Point:  # fmt: skip
    shaft = torque(
        current, speed=speed, magnetisation=magnetisation, friction_torque=friction, windage_coefficient=windage,
        iron_conductance=iron,
    )  # fmt: skip
    lost = losses(
        current, speed=speed, magnetisation=magnetisation, winding_resistance=resistance, brush_drop=drop,
        friction_torque=friction, windage_coefficient=windage, iron_conductance=iron,
    )  # fmt: skip
    mechanical, electrical = np.asarray(shaft) * speed, np.asarray(volts) * current
    with np.errstate(divide="ignore", invalid="ignore"):
        efficiency = np.where(electrical > 0, mechanical / electrical, 0.0)
    return Point(volts, current, speed, shaft, mechanical, electrical, efficiency, lost)

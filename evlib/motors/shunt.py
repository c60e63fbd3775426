"""Shunt and separately excited DC machines: the field has its own supply, so k does not depend on armature current."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.motors.quantities import (
    ArmatureResistance,
    BackEmfConstant,
    BrushDrop,
    Conductors,
    Current,
    FieldResistance,
    FluxPerPole,
    ParallelPaths,
    Poles,
    RotationalLoss,
    Speed,
    Volts,
)


@result
class ShuntPoint:
    """A shunt machine at work."""

    armature_current: Number
    back_emf: Number
    speed: Number
    inside_torque: Number
    shaft_torque: Number
    mechanical_power: Number
    efficiency: Number


@result
class Braking:
    """A separately excited machine that is driven and feeds back; current and power are positive into the supply."""

    current: Number
    torque: Number
    returned_power: Number


@calculation
def winding_constant(
    flux_per_pole: FluxPerPole, *, conductors: Conductors, poles: Poles, parallel_paths: ParallelPaths
) -> Number:
    """Back-EMF over speed, from the winding.

    k = Z 2p F / (2 pi a)

    flux_per_pole: F [Wb]; conductors: Z; poles: 2p; parallel_paths: a.

    >>> round(winding_constant(0.02, conductors=500, poles=4, parallel_paths=2), 4)
    3.1831

    Source: EMF equation of a DC machine; any text.
    """
    turns = np.asarray(conductors) * np.asarray(poles) / (2.0 * np.pi * np.asarray(parallel_paths))
    return np.asarray(turns * flux_per_pole)


@calculation
def shunt_point(
    line_current: Current,
    *,
    volts: Volts,
    back_emf_constant: BackEmfConstant,
    armature_resistance: ArmatureResistance,
    field_resistance: FieldResistance,
    brush_drop: BrushDrop,
    rotational_loss: RotationalLoss,
) -> ShuntPoint:
    """Speed, torque and efficiency of a shunt motor that takes a line current.

    I_a = I - V / R_f;  E = V - R_a I_a - V_b;  w = E / k;  T = k I_a - P_r / w

    line_current: I [A]; volts: V [V]; back_emf_constant: k at this field [V s]; armature_resistance: R_a [ohm];
    field_resistance: R_f [ohm]; brush_drop: V_b [V]; rotational_loss: P_r [W]. Armature reaction ignored.
    ValueError where the line current does not even feed the field.

    >>> p = shunt_point(14.0, volts=250.0, back_emf_constant=3.1831, armature_resistance=0.25,
    ...                 field_resistance=125.0, brush_drop=0.0, rotational_loss=300.0)
    >>> round(p.speed * 30 / np.pi), round(p.efficiency, 4)
    (741, 0.7611)

    Source: Kirchhoff's laws; worked as in FOSSEE textbook companion 1445, EX8.16.
    """
    armature = np.asarray(line_current) - np.asarray(volts) / field_resistance
    emf = np.asarray(volts) - armature_resistance * armature - brush_drop
    if (armature <= 0).any() or (emf <= 0).any():
        raise ValueError("line_current: it leaves no armature current, or no back-EMF, at these volts")
    speed = emf / back_emf_constant
    inside = np.asarray(back_emf_constant) * armature
    shaft = inside - np.asarray(rotational_loss) / speed
    out = shaft * speed
    return ShuntPoint(armature, emf, speed, inside, shaft, out, out / (np.asarray(volts) * line_current))


@calculation
def regeneration(
    speed: Speed,
    *,
    volts: Volts,
    back_emf_constant: BackEmfConstant,
    armature_resistance: ArmatureResistance,
    brush_drop: BrushDrop,
) -> Braking:
    """What a separately excited machine gives back when it is driven above its balance speed.

    I = (k w - V_b - V) / R_a;  T = k I;  returned V I

    speed: w [rad/s]; volts: V of the supply [V]; back_emf_constant: k at this field [V s]; armature_resistance: R_a
    [ohm]; brush_drop: V_b [V]. Zero below the balance speed. A series machine does not do this: without armature
    current it has no field, and with reversed current its field reverses too and both sides become a short circuit.

    >>> r = regeneration(100.0, volts=90.0, back_emf_constant=1.0, armature_resistance=0.1, brush_drop=2.0)
    >>> round(r.current, 6), round(r.returned_power, 6)
    (80.0, 7200.0)

    Source: Kirchhoff's voltage law; any text on DC machines.
    """
    spare = np.asarray(back_emf_constant) * speed - brush_drop - volts
    current = np.maximum(spare, 0.0) / armature_resistance
    return Braking(current, np.asarray(back_emf_constant) * current, np.asarray(volts) * current)

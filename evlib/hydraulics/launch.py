"""Launch: what input torque a pressure lets you ask for, and the pressure that a torque needs."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.belt import Sense
from evlib.ground.quantity import Number, calculation
from evlib.hydraulics import clutch
from evlib.hydraulics import quantities as q

HoldsBy = Literal["plates", "band"]


@calculation
def input_torque_held(capacity: q.HeldTorque, *, held_multiple: q.HeldMultiple) -> Number:
    """Largest torque at the gearbox input that a clutch or band can react.

    T = Th / k

    capacity of the clutch or band [N m], held_multiple (what it holds over input torque, from the gear set) [1]. Gives
    [N m], without limit where it holds nothing.

    >>> round(input_torque_held(580.0, held_multiple=2.76), 1)
    210.1

    Source: torque balance of the gear set.
    """
    with np.errstate(divide="ignore"):
        return np.where(np.asarray(held_multiple) > 0, np.asarray(capacity) / held_multiple, np.inf)


@calculation
def plates_hold(
    pressure: q.Pressure, *, held_multiple: q.HeldMultiple, friction: q.Friction, friction_faces: q.Faces,
    face_outer_diameter: q.FaceOuter, face_inner_diameter: q.FaceInner, piston_outer_diameter: q.PistonOuter,
    piston_inner_diameter: q.PistonInner, return_spring_force: q.SpringForce,
) -> Number:  # fmt: skip
    """Largest input torque that a clutch of plates allows at a pressure, the drum not turning.

    T = n μ (p A - Fs) Rm / k, Rm = (Ro + Ri)/2

    pressure [Pa], held_multiple and friction (size on the dynamic one) [1], friction_faces [1], diameters [m],
    return_spring_force [N]. Gives [N m]. Worn-in lining (uniform wear).

    >>> shape = dict(friction=0.12, friction_faces=10, face_outer_diameter=0.15, face_inner_diameter=0.12,
    ...     piston_outer_diameter=0.15, piston_inner_diameter=0.10, return_spring_force=1000)
    >>> round(plates_hold(6e5, held_multiple=2.76, **shape), 1)
    143.5

    Source: Jindal, Machine Design, chapter 22.
    """
    area = clutch.piston_area(piston_outer_diameter, inner_diameter=piston_inner_diameter)
    force = clutch.apply_force(pressure, area=area, return_spring_force=return_spring_force, spinning_force=0.0)
    held = clutch.plate_torque(
        force, friction=friction, faces=friction_faces, outer_diameter=face_outer_diameter,
        inner_diameter=face_inner_diameter, contact="uniform wear",
    )  # fmt: skip
    return input_torque_held(held, held_multiple=held_multiple)


@calculation
def plates_need(
    input_torque: q.InputTorque, *, held_multiple: q.HeldMultiple, friction: q.Friction, friction_faces: q.Faces,
    face_outer_diameter: q.FaceOuter, face_inner_diameter: q.FaceInner, piston_outer_diameter: q.PistonOuter,
    piston_inner_diameter: q.PistonInner, return_spring_force: q.SpringForce,
) -> Number:  # fmt: skip
    """Pressure that a clutch of plates needs for an input torque: the inverse of :func:`plates_hold`.

    p = (k T / (n μ Rm) + Fs) / A

    input_torque [N m], the rest as :func:`plates_hold`. Gives [Pa].

    >>> shape = dict(friction=0.12, friction_faces=10, face_outer_diameter=0.15, face_inner_diameter=0.12,
    ...     piston_outer_diameter=0.15, piston_inner_diameter=0.10, return_spring_force=1000)
    >>> round(plates_need(143.46, held_multiple=2.76, **shape), -3)
    600000.0

    Source: as :func:`plates_hold`.
    """
    area = clutch.piston_area(piston_outer_diameter, inner_diameter=piston_inner_diameter)
    force = clutch.plate_force(
        np.asarray(input_torque) * held_multiple, friction=friction, faces=friction_faces,
        outer_diameter=face_outer_diameter, inner_diameter=face_inner_diameter, contact="uniform wear",
    )  # fmt: skip
    return clutch.pressure_for_force(force, area=area, return_spring_force=return_spring_force, spinning_force=0.0)


@calculation
def band_holds(
    pressure: q.Pressure, *, held_multiple: q.HeldMultiple, friction: q.Friction, wrap_angle: q.WrapAngle,
    drum_diameter: q.DrumDiameter, lever_ratio: q.LeverRatio, sense: Sense, piston_outer_diameter: q.PistonOuter,
    piston_inner_diameter: q.PistonInner, return_spring_force: q.SpringForce,
) -> Number:  # fmt: skip
    """Largest input torque that a band allows at a pressure.

    T = i (p A - Fs) r (exp(μ θ) - 1) / k energising; (1 - exp(-μ θ)) instead when overrunning

    pressure [Pa], held_multiple and friction (size on the dynamic one) [1], wrap_angle [rad], drum_diameter and piston
    diameters [m], lever_ratio [1], return_spring_force [N]. Gives [N m].

    >>> shape = dict(friction=0.12, wrap_angle=5.6, drum_diameter=0.16, lever_ratio=1.5, piston_outer_diameter=0.07,
    ...     piston_inner_diameter=0.0, return_spring_force=300)
    >>> round(band_holds(6e5, held_multiple=0.76, sense="energising", **shape))
    304

    Source: Euler and Eytelwein; see :mod:`evlib.ground.belt`.
    """
    area = clutch.piston_area(piston_outer_diameter, inner_diameter=piston_inner_diameter)
    force = clutch.apply_force(pressure, area=area, return_spring_force=return_spring_force, spinning_force=0.0)
    held = clutch.band_capacity(
        force, friction=friction, wrap_angle=wrap_angle, drum_diameter=drum_diameter, lever_ratio=lever_ratio,
        sense=sense,
    )  # fmt: skip
    return input_torque_held(held, held_multiple=held_multiple)


@calculation
def band_needs(
    input_torque: q.InputTorque, *, held_multiple: q.HeldMultiple, friction: q.Friction, wrap_angle: q.WrapAngle,
    drum_diameter: q.DrumDiameter, lever_ratio: q.LeverRatio, sense: Sense, piston_outer_diameter: q.PistonOuter,
    piston_inner_diameter: q.PistonInner, return_spring_force: q.SpringForce,
) -> Number:  # fmt: skip
    """Pressure that a band needs for an input torque: the inverse of :func:`band_holds`.

    p = (k T / (i r (exp(μ θ) - 1)) + Fs) / A energising; (1 - exp(-μ θ)) instead when overrunning

    input_torque [N m], the rest as :func:`band_holds`. Gives [Pa].

    >>> shape = dict(friction=0.12, wrap_angle=5.6, drum_diameter=0.16, lever_ratio=1.5, piston_outer_diameter=0.07,
    ...     piston_inner_diameter=0.0, return_spring_force=300)
    >>> round(band_needs(303.85, held_multiple=0.76, sense="energising", **shape), -3)
    600000.0

    Source: as :func:`band_holds`.
    """
    area = clutch.piston_area(piston_outer_diameter, inner_diameter=piston_inner_diameter)
    force = clutch.band_force(
        np.asarray(input_torque) * held_multiple, friction=friction, wrap_angle=wrap_angle,
        drum_diameter=drum_diameter, lever_ratio=lever_ratio, sense=sense,
    )  # fmt: skip
    return clutch.pressure_for_force(force, area=area, return_spring_force=return_spring_force, spinning_force=0.0)

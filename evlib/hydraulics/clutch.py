"""What a clutch or a band holds at a pressure, and the pressure that a torque needs."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.belt import Sense, band_pull, band_torque
from evlib.ground.quantity import Array, Number, calculation
from evlib.hydraulics import quantities as q

Contact = Literal["uniform pressure", "uniform wear"]


@calculation
def mean_radius(outer_diameter: q.FaceOuter, *, inner_diameter: q.FaceInner, contact: Contact) -> Number:
    """Radius at which a lined ring's friction can be taken to act.

    uniform pressure: (2/3) (Ro³ - Ri³)/(Ro² - Ri²); uniform wear: (Ro + Ri)/2

    outer_diameter and inner_diameter [m]. Gives [m]. A new lining presses evenly; a worn-in one wears evenly, which
    holds less: size on that one.

    >>> round(mean_radius(0.16, inner_diameter=0.10, contact="uniform wear"), 4)
    0.065

    Source: any machine-design text; Jindal, Machine Design, chapter 22.
    """
    outer, inner = np.asarray(outer_diameter) / 2, np.asarray(inner_diameter) / 2
    if np.any(inner >= outer):
        raise ValueError(f"inner_diameter: {inner_diameter} m was given; allowed: less than outer, {outer_diameter} m")
    if contact == "uniform wear":
        return np.asarray((outer + inner) / 2)
    return np.asarray(2 / 3 * (outer**2 + outer * inner + inner**2) / (outer + inner))


@calculation
def piston_area(outer_diameter: q.PistonOuter, *, inner_diameter: q.PistonInner) -> Number:
    """Area on which oil presses a round or ring-shaped piston.

    A = π/4 (Dp² - dp²)

    outer_diameter and inner_diameter [m]. Gives [m2]. Friction of its seals is left out.

    >>> round(piston_area(0.1, inner_diameter=0.06) * 1e4, 2)
    50.27

    Source: geometry.
    """
    outer, inner = np.asarray(outer_diameter), np.asarray(inner_diameter)
    if np.any(inner >= outer):
        raise ValueError(f"inner_diameter: {inner_diameter} m was given; allowed: less than outer, {outer_diameter} m")
    return np.asarray(np.pi / 4 * (outer**2 - inner**2))


@calculation
def spinning_oil_force(
    speed: q.InputSpeed, *, outer_diameter: q.PistonOuter, inner_diameter: q.PistonInner,
    oil_inlet_radius: q.OilRadius, density: q.OilDensity,
) -> Number:  # fmt: skip
    """Force on a clutch piston from the oil that turns with its drum.

    F = (π ρ ω²/4) ((Ro² - r0²)² - (Rs² - r0²)²), Rs the larger of Ri and r0

    speed of the drum [rad/s], diameters of the piston and oil_inlet_radius [m], density [kg/m3]. Gives [N]. Oil at drum
    speed, the piston chamber full out from the inlet radius. It adds to apply force, and holds a released clutch on
    unless a check ball bleeds the chamber.

    >>> round(spinning_oil_force(314.16, outer_diameter=0.14, inner_diameter=0.09, oil_inlet_radius=0.03, density=830))
    948

    Source: integral of ρ ω² (r² - r0²)/2 over the ring; any fluid text, forced vortex.
    """
    outer, inner = np.asarray(outer_diameter) / 2, np.asarray(inner_diameter) / 2
    start = np.asarray(oil_inlet_radius)
    lower = np.maximum(inner, start)
    outside, within = np.maximum(outer**2 - start**2, 0.0), lower**2 - start**2
    return np.asarray(
        np.pi * density * np.asarray(speed) ** 2 / 4 * np.where(outer > lower, outside**2 - within**2, 0.0)
    )


@calculation
def apply_force(
    pressure: q.Pressure, *, area: q.PistonArea, return_spring_force: q.SpringForce, spinning_force: q.ApplyForce
) -> Number:
    """Force with which a piston presses once it has overcome its return spring; nil until it has.

    F = p A + Fω - Fs

    pressure [Pa], area [m2], return_spring_force and spinning_force (0 where the oil doesn't turn) [N]. Gives [N].

    >>> apply_force(5e5, area=8e-3, return_spring_force=900, spinning_force=0)
    3100.0

    Source: force balance.
    """
    return np.maximum(np.asarray(pressure) * area + spinning_force - return_spring_force, 0.0)


@calculation
def plate_torque(
    force: q.ApplyForce, *, friction: q.Friction, faces: q.Faces, outer_diameter: q.FaceOuter,
    inner_diameter: q.FaceInner, contact: Contact,
) -> Number:  # fmt: skip
    """Torque that a clutch of plates holds under a force.

    T = n μ F Rm

    force [N], friction [1], faces (two for each lined plate) [1], diameters [m]. Gives [N m]. Every face sees the whole
    force: what the splines' friction keeps back (a few per cent in a thick pack) is left out.

    >>> round(plate_torque(1031, friction=0.25, faces=6, outer_diameter=0.16, inner_diameter=0.10,
    ...     contact="uniform pressure"), 1)
    102.3

    Source: Jindal, Machine Design, Ex 22-5.
    """
    radius = np.asarray(mean_radius(outer_diameter, inner_diameter=inner_diameter, contact=contact))
    return np.asarray(faces * np.asarray(friction) * force * radius)


@calculation
def plate_force(
    torque: q.HeldTorque, *, friction: q.Friction, faces: q.Faces, outer_diameter: q.FaceOuter,
    inner_diameter: q.FaceInner, contact: Contact,
) -> Number:  # fmt: skip
    """Force that a clutch of plates needs for a torque: the inverse of :func:`plate_torque`.

    F = T / (n μ Rm)

    torque [N m], the rest as :func:`plate_torque`. Gives [N].

    >>> round(plate_force(102.31, friction=0.25, faces=6, outer_diameter=0.16, inner_diameter=0.10,
    ...     contact="uniform pressure"))
    1031

    Source: Jindal, Machine Design, Ex 22-5.
    """
    radius = np.asarray(mean_radius(outer_diameter, inner_diameter=inner_diameter, contact=contact))
    return np.asarray(np.asarray(torque) / (faces * np.asarray(friction) * radius))


@calculation
def band_capacity(
    force: q.ApplyForce, *, friction: q.Friction, wrap_angle: q.WrapAngle, drum_diameter: q.DrumDiameter,
    lever_ratio: q.LeverRatio, sense: Sense,
) -> Number:  # fmt: skip
    """Torque that a band holds on its drum under the servo's force.

    T = i F r (exp(μ θ) - 1) energising; T = i F r (1 - exp(-μ θ)) overrunning

    force of the servo [N], friction [1], wrap_angle [rad], drum_diameter [m], lever_ratio [1]. Gives [N m]. Energising:
    the drum drags the band away from the servo, as most low bands do when the motors drive; overrunning the same band
    holds less than half, so it slips first under electric braking.

    >>> round(band_capacity(2000, friction=0.13, wrap_angle=5.6, drum_diameter=0.16, lever_ratio=1.5,
    ...     sense="energising"))
    257

    Source: Euler and Eytelwein; see :mod:`evlib.ground.belt`.
    """
    return band_torque(
        np.asarray(force) * lever_ratio, wrap_angle=wrap_angle, friction=friction,
        drum_radius=np.asarray(drum_diameter) / 2, sense=sense,
    )  # fmt: skip


@calculation
def band_force(
    torque: q.HeldTorque, *, friction: q.Friction, wrap_angle: q.WrapAngle, drum_diameter: q.DrumDiameter,
    lever_ratio: q.LeverRatio, sense: Sense,
) -> Number:  # fmt: skip
    """Servo force that a band needs for a torque: the inverse of :func:`band_capacity`.

    F = T / (i r (exp(μ θ) - 1)) energising; F = T / (i r (1 - exp(-μ θ))) overrunning

    torque [N m], the rest as :func:`band_capacity`. Gives [N].

    >>> round(band_force(257.02, friction=0.13, wrap_angle=5.6, drum_diameter=0.16, lever_ratio=1.5,
    ...     sense="energising"))
    2000

    Source: as :func:`band_capacity`.
    """
    pull = band_pull(
        torque, wrap_angle=wrap_angle, friction=friction, drum_radius=np.asarray(drum_diameter) / 2, sense=sense
    )  # fmt: skip
    return np.asarray(np.asarray(pull) / lever_ratio)


@calculation
def pressure_for_force(
    force: q.ApplyForce, *, area: q.PistonArea, return_spring_force: q.SpringForce, spinning_force: q.ApplyForce
) -> Number:
    """Pressure at which a piston presses with a force: the inverse of :func:`apply_force`.

    p = (F + Fs - Fω) / A, not below nil

    force, return_spring_force and spinning_force [N], area [m2]. Gives [Pa].

    >>> pressure_for_force(3100, area=8e-3, return_spring_force=900, spinning_force=0)
    500000.0

    Source: force balance.
    """
    return np.asarray(np.maximum(np.asarray(force) + return_spring_force - spinning_force, 0.0) / area)


@calculation
def drags_when_released(
    speed: q.InputSpeed, *, outer_diameter: q.PistonOuter, inner_diameter: q.PistonInner,
    oil_inlet_radius: q.OilRadius, density: q.OilDensity, return_spring_force: q.SpringForce,
) -> Number:  # fmt: skip
    """Force with which turning oil still presses a clutch that was let go, without a bleed; nil if its spring wins.

    F = Fω - Fs

    Arguments as :func:`spinning_oil_force`, return_spring_force (at the released length it is a little less) [N].
    Gives [N]. A check ball in the drum empties the chamber and makes it nil.

    >>> drags_when_released(300.0, outer_diameter=0.14, inner_diameter=0.09, oil_inlet_radius=0.03, density=830,
    ...     return_spring_force=1200)
    0.0

    Source: force balance.
    """
    force = spinning_oil_force(
        speed, outer_diameter=outer_diameter, inner_diameter=inner_diameter, oil_inlet_radius=oil_inlet_radius,
        density=density,
    )  # fmt: skip
    return np.asarray(np.maximum(np.asarray(force) - return_spring_force, 0.0))


@calculation
def lining_area(outer_diameter: q.FaceOuter, *, inner_diameter: q.FaceInner, faces: q.Faces) -> Number:
    """Area of all the lined faces of a clutch, over which slip spreads its heat.

    A = n π/4 (Do² - Di²)

    diameters [m], faces [1]. Gives [m2]. Grooves are not taken off.

    >>> round(lining_area(0.16, inner_diameter=0.12, faces=10) * 1e4)
    880

    Source: geometry.
    """
    ring: Array = np.asarray(np.pi / 4 * (np.asarray(outer_diameter) ** 2 - np.asarray(inner_diameter) ** 2))
    return np.asarray(faces * ring)

"""Torsion of round shafts, and the torque that each section of the line carries."""

from __future__ import annotations

import math

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q

STEEL_SHEAR_MODULUS = 79.3e9  # Pa; handbook


@calculation
def polar_inertia(shaft_diameter: q.ShaftDiameter, *, shaft_bore: q.ShaftBore = 0.0) -> Number:
    """Polar second moment of area of a round section [m4].

    J = pi (d^4 - d0^4) / 32

    Arguments: shaft_diameter d [m]; shaft_bore d0 [m]. Round sections only.

    >>> round(polar_inertia(0.030) * 1e12)
    79522

    Source: Gere, Mechanics of Materials, section 3.3.
    """
    _bore_inside(shaft_bore, shaft_diameter)
    return math.pi * (shaft_diameter**4 - shaft_bore**4) / 32


@calculation
def shear_stress(torque: q.Torque, *, shaft_diameter: q.ShaftDiameter, shaft_bore: q.ShaftBore = 0.0) -> Number:
    """Shear stress at the surface of a round shaft [Pa].

    tau = 16 T d / (pi (d^4 - d0^4))

    Arguments: torque T [N m]; shaft_diameter d [m]; shaft_bore d0 [m]. Elastic; away from notches and ends: multiply
    by a stress raiser there.

    >>> round(shear_stress(380, shaft_diameter=0.032) / 1e6, 1)
    59.1

    Source: Gere, Mechanics of Materials, equation 3-12.
    """
    _bore_inside(shaft_bore, shaft_diameter)
    return 16 * torque * shaft_diameter / (math.pi * (shaft_diameter**4 - shaft_bore**4))


@calculation
def bending_stress(
    bending_moment: q.BendingMoment, *, shaft_diameter: q.ShaftDiameter, shaft_bore: q.ShaftBore = 0.0
) -> Number:
    """Bending stress at the surface of a round shaft [Pa].

    s = 32 M d / (pi (d^4 - d0^4))

    Arguments: bending_moment M [N m]; shaft_diameter d [m]; shaft_bore d0 [m]. Elastic; away from notches. On a shaft
    that turns under a moment that stands still, the stress swings fully with every turn.

    >>> round(bending_stress(100, shaft_diameter=0.035) / 1e6, 2)
    23.76

    Source: Gere, Mechanics of Materials, section 5.5.
    """
    _bore_inside(shaft_bore, shaft_diameter)
    return 32 * bending_moment * shaft_diameter / (math.pi * (shaft_diameter**4 - shaft_bore**4))


@calculation
def twist(
    torque: q.Torque,
    *,
    shaft_length: q.ShaftLength,
    shaft_diameter: q.ShaftDiameter,
    shaft_bore: q.ShaftBore = 0.0,
    shear_modulus: q.ShearModulus = STEEL_SHEAR_MODULUS,
) -> Number:
    """Angle by which a round shaft winds up [rad].

    theta = T L / (G J)

    Arguments: torque T [N m]; shaft_length L [m]; shaft_diameter d [m]; shaft_bore d0 [m]; shear_modulus G [Pa].
    Elastic, uniform.

    >>> round(math.degrees(twist(380, shaft_length=0.3, shaft_diameter=0.032)), 3)
    0.8

    Source: Gere, Mechanics of Materials, equation 3-15.
    """
    return torque * shaft_length / (shear_modulus * polar_inertia(shaft_diameter, shaft_bore=shaft_bore))


@calculation
def torsional_stiffness(
    shaft_length: q.ShaftLength,
    *,
    shaft_diameter: q.ShaftDiameter,
    shaft_bore: q.ShaftBore = 0.0,
    shear_modulus: q.ShearModulus = STEEL_SHEAR_MODULUS,
) -> Number:
    """Torque per radian of a round shaft [N m/rad].

    k = G J / L

    Arguments: shaft_length L [m]; shaft_diameter d [m]; shaft_bore d0 [m]; shear_modulus G [Pa].

    >>> round(torsional_stiffness(0.3, shaft_diameter=0.032))
    27211

    Source: Gere, Mechanics of Materials, section 3.3.
    """
    return shear_modulus * polar_inertia(shaft_diameter, shaft_bore=shaft_bore) / shaft_length


@calculation
def largest_shear(bending_stress: q.Stress, *, torsion_stress: q.Stress) -> Number:
    """Largest shear where bending and torsion meet at the surface [Pa].

    tau_max = sqrt((sigma / 2)^2 + tau^2)

    Arguments: bending_stress sigma [Pa]; torsion_stress tau [Pa]. Plane stress.

    >>> largest_shear(80e6, torsion_stress=30e6)
    50000000.0

    Source: Mohr's circle; any text.
    """
    return np.hypot(np.asarray(bending_stress, float) / 2, torsion_stress)


@calculation
def equivalent_stress(bending_stress: q.Stress, *, torsion_stress: q.Stress) -> Number:
    """Von Mises stress of bending with torsion [Pa]: what is compared with the yield strength.

    sigma_e = sqrt(sigma^2 + 3 tau^2)

    Arguments: bending_stress sigma [Pa]; torsion_stress tau [Pa].

    >>> round(equivalent_stress(0.0, torsion_stress=100e6) / 1e6, 1)
    173.2

    Source: Shigley 9th ed., equation 5-15.
    """
    return np.sqrt(np.asarray(bending_stress, float) ** 2 + 3.0 * np.asarray(torsion_stress, float) ** 2)


@result
class LineTorque:
    """Torque along the line, and what the frames must be held against [N m].

    ``far_shaft``, ``sleeve`` and ``near_entry`` carry one machine; ``near_exit`` and ``gearbox_input`` carry both.
    ``middle_flange`` holds the far frame; ``adapter`` holds both frames. ``mounts`` is what the vehicle holds.
    """

    far_shaft: Number
    sleeve: Number
    near_entry: Number
    near_exit: Number
    gearbox_input: Number
    middle_flange: Number
    adapter: Number
    mounts: Number


@calculation
def line_torque(
    far_torque: q.FarTorque,
    *,
    near_torque: q.NearTorque,
    shock_factor: q.ShockFactor = 1.0,
    gear_ratio: q.GearRatio = 1.0,
) -> LineTorque:
    """Torque in each section of the line, with shock, and the reactions on frames and mounts.

    sleeve: Ks T1; behind the near armature: Ks (T1 + T2); frames react the same; mounts: Ks (T1 + T2) |i|

    Arguments: far_torque T1 [N m]; near_torque T2 [N m]; shock_factor Ks; gear_ratio i of the gear in use. Rotor
    inertia is ignored: when the rotors speed up, part of the torque stays in them, so this is the stalled case, the
    largest. The frame reacts with the same torque the other way round. The gearbox is taken as lossless, its output
    turning the same way (for reverse the mounts see the same size, the other way).

    >>> line = line_torque(190, near_torque=190, shock_factor=1.5)
    >>> line.sleeve, line.gearbox_input
    (285.0, 570.0)

    Source: equilibrium of each section.
    """
    one = shock_factor * far_torque
    both = shock_factor * (far_torque + near_torque)
    mounts = both * np.abs(gear_ratio)
    return LineTorque(one, one, one, both, both, one, both, mounts)


@calculation
def torque_behind_inertia(torque: q.Torque, *, inertia: q.RotorInertia, acceleration: q.AngularAcceleration) -> Number:
    """Torque that is left behind a rotor while it speeds up [N m].

    T' = T - J a

    Arguments: torque T [N m]; inertia J [kg m2] up to the section; acceleration a [rad/s2]. Rigid line.

    >>> torque_behind_inertia(190, inertia=0.12, acceleration=500)
    130.0

    Source: Newton's second law for rotation.
    """
    return torque - inertia * acceleration


def _bore_inside(bore: Number, diameter: Number) -> None:
    if np.any(np.asarray(bore) >= np.asarray(diameter)):
        raise ValueError("shaft_bore: a bore as large as the shaft was given; allowed: less than the shaft diameter")

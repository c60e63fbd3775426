"""Torsional modes of a chain of inertias, and whirl of a shaft, against the running range."""

from __future__ import annotations

import math

import numpy as np

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.shafts import quantities as q

GRAVITY = 9.80665  # m/s2; standard


@result
class Modes:
    """Natural frequencies [rad/s], rising, and the shape of each (columns, largest 1)."""

    frequencies: Array
    shapes: Array


def torsional_modes(inertias: list[float], *, stiffnesses: list[float]) -> Modes:
    """Torsional modes of any chain of inertias joined by springs, free at both ends.

    K phi = w^2 J phi. The first is the rigid turning (0).

    Arguments: inertias [kg m2], n of them; stiffnesses [N m/rad], n - 1 between them. No damping.

    >>> [round(float(f), 3) for f in torsional_modes([1.0, 1.0], stiffnesses=[50.0]).frequencies]
    [0.0, 10.0]

    Source: any vibration text.
    """
    if len(inertias) < 2 or len(stiffnesses) != len(inertias) - 1:
        raise ValueError(
            f"stiffnesses: {len(stiffnesses)} were given; allowed: one fewer than the inertias, at least 1"
        )
    if min(inertias) <= 0 or min(stiffnesses) <= 0:
        raise ValueError("inertias and stiffnesses: each must be more than 0")
    j = np.array(inertias, dtype=float)
    springs = np.zeros((len(j), len(j)))
    for place, k in enumerate(stiffnesses):
        springs[place : place + 2, place : place + 2] += k * np.array([[1, -1], [-1, 1]])
    root = 1 / np.sqrt(j)
    values, vectors = np.linalg.eigh(root[:, None] * springs * root[None, :])
    shapes = root[:, None] * vectors
    shapes = shapes / shapes[np.abs(shapes).argmax(axis=0), np.arange(len(j))]
    values[0] = 0.0
    return Modes(np.sqrt(np.maximum(values, 0.0)), shapes)


@calculation
def two_mass_frequency(
    stiffness: q.TorsionStiffness, *, first_inertia: q.RotorInertia, second_inertia: q.RotorInertia
) -> Number:
    """Torsional natural frequency of two inertias on one shaft [rad/s].

    w = sqrt(k (J1 + J2) / (J1 J2))

    Arguments: stiffness k [N m/rad]; first_inertia J1, second_inertia J2 [kg m2].

    >>> two_mass_frequency(50.0, first_inertia=1.0, second_inertia=1.0)
    10.0

    Source: any vibration text.
    """
    return np.sqrt(stiffness * (1 / np.asarray(first_inertia) + 1 / np.asarray(second_inertia)))


@calculation
def three_mass_frequency(
    stiffness: q.TorsionStiffness,
    *,
    outer_stiffness: q.TorsionStiffness,
    first_inertia: q.RotorInertia,
    second_inertia: q.RotorInertia,
    third_inertia: q.RotorInertia,
) -> Number:
    """The lower torsional natural frequency of three inertias in a chain [rad/s].

    w^4 - w^2 (k1 (1/J1 + 1/J2) + k2 (1/J2 + 1/J3)) + k1 k2 (J1 + J2 + J3) / (J1 J2 J3) = 0, the smaller root

    Arguments: stiffness k1 [N m/rad] between the first and second, outer_stiffness k2 between the second and third;
    inertias J1, J2, J3 [kg m2]. Free at both ends, no damping. A third inertia never raises the first mode.

    >>> round(three_mass_frequency(50.0, outer_stiffness=50.0, first_inertia=1.0, second_inertia=1.0,
    ...                            third_inertia=1.0), 4)
    7.0711

    Source: any vibration text.
    """
    j1, j2, j3 = (np.asarray(v, float) for v in (first_inertia, second_inertia, third_inertia))
    k1, k2 = np.asarray(stiffness, float), np.asarray(outer_stiffness, float)
    half = (k1 * (1 / j1 + 1 / j2) + k2 * (1 / j2 + 1 / j3)) / 2
    rest = k1 * k2 * (j1 + j2 + j3) / (j1 * j2 * j3)
    lower: Array = np.sqrt(rest / (half + np.sqrt(np.maximum(half**2 - rest, 0.0))))  # this form does not cancel
    return lower


@result
class Whirl:
    """First whirling speed [rad/s] by three ways: exact for the lumped masses, Rayleigh (high), Dunkerley (low)."""

    exact: float
    rayleigh: float
    dunkerley: float


def whirl(
    masses: list[float],
    *,
    places: list[float],
    span: float,
    shaft_diameter: float,
    youngs_modulus: float = 207e9,
) -> Whirl:
    """First whirling speed of masses on a light shaft between two bearings.

    d_ij = b_j x_i (l^2 - b_j^2 - x_i^2) / (6 E I l) for x_i <= a_j; exact: the largest eigenvalue of d_ij m_j is 1/w^2

    Arguments: masses [kg]; places [m] from one bearing; span l [m]; shaft_diameter [m]; youngs_modulus [Pa]. Bearings
    that tilt freely and are stiff; soft bearings whirl earlier.

    >>> w = whirl([35 * 0.45359237, 55 * 0.45359237], places=[7 * 0.0254, 20 * 0.0254], span=31 * 0.0254,
    ...           shaft_diameter=0.0254, youngs_modulus=30e6 * 6894.757293)
    >>> w.dunkerley < w.exact < w.rayleigh
    True

    Source: Shigley 9th ed., section 7-6.
    """
    if len(masses) != len(places) or not masses:
        raise ValueError(f"places: {len(places)} were given for {len(masses)} masses; allowed: one each")
    if min(masses) <= 0 or min(places) <= 0 or max(places) >= span:
        raise ValueError("places: each must lie between the bearings, and each mass be more than 0")
    m, x = np.array(masses, float), np.array(places, float)
    stiff = 6 * youngs_modulus * math.pi * shaft_diameter**4 / 64 * span
    low, high = np.minimum(x[:, None], x[None, :]), np.maximum(x[:, None], x[None, :])
    rest = span - high
    flex = rest * low * (span**2 - rest**2 - low**2) / stiff
    sag = flex @ (m * GRAVITY)
    rayleigh = math.sqrt(GRAVITY * float(m @ sag) / float(m @ sag**2))
    dunkerley = 1 / math.sqrt(float(np.sum(np.diag(flex) * m)))
    root = np.sqrt(m)
    largest = float(np.linalg.eigvalsh(root[:, None] * flex * root[None, :])[-1])
    return Whirl(1 / math.sqrt(largest), rayleigh, dunkerley)

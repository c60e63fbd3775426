"""Strength for years: endurance of a notched shaft in bending and torsion, and launches to failure."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts.tables import INCH, PSI

KPSI = 1000 * PSI
SURFACE = {
    "ground": (1.58, -0.085),
    "machined": (4.51, -0.265),
    "hot rolled": (57.7, -0.718),
    "forged": (272.0, -0.995),
}
RELIABILITY = {"50 %": 1.0, "90 %": 0.897, "95 %": 0.868, "99 %": 0.814, "99.9 %": 0.753}
STRENGTH_SHARE = 0.9  # of the ultimate strength at a thousand cycles; steels up to about 480 MPa, less above


@calculation
def endurance_limit(
    ultimate: q.UltimateStrength,
    *,
    diameter: q.ShaftDiameter,
    surface: Literal["ground", "machined", "hot rolled", "forged"] = "machined",
    reliability: Literal["50 %", "90 %", "95 %", "99 %", "99.9 %"] = "99 %",
) -> Number:
    """Endurance limit of a steel shaft by Marin's factors [Pa].

    Se = ka kb ke Se', Se' = 0.5 Su (700 MPa above 1400 MPa), ka = a Su^b (MPa), kb = 1.24 d^-0.107 (mm, to 51 mm),
    1.51 d^-0.157 (to 254 mm)

    Arguments: ultimate Su [Pa]; diameter d [m]; surface; reliability. Room temperature; rotating bending, and torsion
    through the von Mises stress. OutOfRange outside 2.79 to 254 mm.

    >>> round(endurance_limit(105 * KPSI, diameter=1.1 * INCH) / KPSI, 1)
    29.2

    Source: Shigley 9th ed., section 6-9.
    """
    size = np.asarray(diameter) * 1000
    if ((size < 2.79) | (size > 254)).any():
        raise OutOfRange("diameter", f"{size} mm", 2.79, 254, "Shigley's size factor [mm]")
    megapascal = np.asarray(ultimate) / 1e6
    plain = np.minimum(0.5 * megapascal, 700.0)
    factor, power = SURFACE[surface]
    kb = np.where(size <= 51, 1.24 * size**-0.107, 1.51 * size**-0.157)
    return factor * megapascal**power * kb * RELIABILITY[reliability] * plain * 1e6


@calculation
def notch_factor(
    stress_raiser: q.StressRaiser,
    *,
    notch_radius: q.Radius,
    ultimate: q.UltimateStrength,
    load: Literal["bending", "torsion"] = "torsion",
) -> Number:
    """Fatigue stress raiser of a notch: a sharp notch costs less than its chart value says.

    Kf = 1 + (Kt - 1) / (1 + sqrt(a / r)), sqrt(a) a cubic in Su

    Arguments: stress_raiser Kt; notch_radius r [m]; ultimate Su [Pa]; load. Steels, 340 to 1700 MPa.

    >>> round(notch_factor(1.68, notch_radius=0.11 * INCH, ultimate=105 * KPSI, load="bending"), 2)
    1.58

    Source: Shigley 9th ed., equations 6-32 to 6-35.
    """
    kpsi = np.asarray(ultimate) / KPSI
    if ((kpsi < 49) | (kpsi > 250)).any():
        raise OutOfRange("ultimate", f"{kpsi} kpsi", 49, 250, "Neuber's constants, Shigley [kpsi]")
    start, first, second = (0.246, 3.08e-3, 1.51e-5) if load == "bending" else (0.190, 2.51e-3, 1.35e-5)
    root_a = start - first * kpsi + second * kpsi**2 - 2.67e-8 * kpsi**3
    return 1 + (stress_raiser - 1) / (1 + root_a / np.sqrt(np.asarray(notch_radius) / INCH))


@result
class FatigueMargin:
    """Factors of safety for endless life by four rules, and against the first yield."""

    goodman: Number
    gerber: Number
    asme_elliptic: Number
    soderberg: Number
    yielding: Number


@calculation
def fatigue_margin(
    alternating: q.Stress,
    *,
    mean: q.Stress,
    endurance: q.Stress,
    ultimate: q.UltimateStrength,
    yield_strength: q.YieldStrength,
) -> FatigueMargin:
    """Factors of safety of a shaft under alternating and mean von Mises stress.

    Goodman 1/n = sa/Se + sm/Su; Soderberg with Sy for Su; Gerber n sa/Se + (n sm/Su)^2 = 1;
    ASME elliptic (n sa/Se)^2 + (n sm/Sy)^2 = 1; yield n = Sy / (sa + sm)

    Arguments: alternating sa, mean sm [Pa], both with notch factors and not below zero; endurance Se [Pa]; ultimate
    Su, yield_strength Sy [Pa]. Soderberg is the most careful, Gerber fits test points.

    >>> n = fatigue_margin(100e6, mean=100e6, endurance=250e6, ultimate=800e6, yield_strength=600e6)
    >>> round(n.goodman, 3), round(n.soderberg, 3)
    (1.905, 1.765)

    Source: Shigley 9th ed., section 6-12.
    """
    a, m = np.maximum(np.asarray(alternating, float), 1e-9), np.maximum(np.asarray(mean, float), 1e-9)
    ratio = 2 * m * endurance / (ultimate * a)
    gerber = 0.5 * (ultimate / m) ** 2 * (a / endurance) * (ratio**2 / (1 + np.sqrt(1 + ratio**2)))
    return FatigueMargin(
        1 / (a / endurance + m / ultimate),
        gerber,
        1 / np.hypot(a / endurance, m / yield_strength),
        1 / (a / endurance + m / yield_strength),
        yield_strength / (a + m),
    )


@calculation
def cycles_to_failure(
    reversing_stress: q.Stress,
    *,
    endurance: q.Stress,
    ultimate: q.UltimateStrength,
    strength_share: q.StrengthFactor = STRENGTH_SHARE,
) -> Number:
    """Cycles that a steel stands at a fully reversing stress; infinite at or below the endurance limit.

    N = (s / a)^(1/b), a = (f Su)^2 / Se, b = -log10(f Su / Se) / 3

    Arguments: reversing_stress s [Pa]; endurance Se [Pa]; ultimate Su [Pa]; strength_share f at a thousand cycles.
    Valid from a thousand to a million cycles: above f Su it is OutOfRange.

    >>> n = cycles_to_failure(55 * KPSI, endurance=45 * KPSI, ultimate=90 * KPSI, strength_share=0.86)
    >>> round(n / 1000, 1)
    77.6

    Source: Shigley 9th ed., equations 6-13 to 6-16.
    """
    s = np.asarray(reversing_stress, float)
    top = np.asarray(strength_share * ultimate)
    if (s > top).any():
        raise OutOfRange("reversing_stress", float(s.max()), 0, float(np.min(top)), "the finite-life line (1e3 to 1e6)")
    a, b = top**2 / endurance, -np.log10(top / endurance) / 3
    with np.errstate(divide="ignore", over="ignore"):
        return np.where(s <= endurance, math.inf, (np.maximum(s, 1e-9) / a) ** (1 / b))


@calculation
def fatigue_strength(
    cycles: q.LaunchCycles,
    *,
    endurance: q.Stress,
    ultimate: q.UltimateStrength,
    strength_share: q.StrengthFactor = STRENGTH_SHARE,
) -> Number:
    """Fully reversing stress that a steel stands for a number of cycles [Pa].

    S = a N^b up to a million cycles, a and b as in :func:`cycles_to_failure`; the endurance limit beyond

    Arguments: cycles N (a thousand or more); endurance Se, ultimate Su [Pa]; strength_share f at a thousand cycles.

    >>> round(fatigue_strength(1e4, endurance=45 * KPSI, ultimate=90 * KPSI, strength_share=0.86) / KPSI, 1)
    64.6

    Source: Shigley 9th ed., equations 6-13 to 6-15.
    """
    top = np.asarray(strength_share * ultimate)
    power = -np.log10(top / endurance) / 3
    return np.where(np.asarray(cycles) >= 1e6, endurance, top**2 / endurance * np.asarray(cycles) ** power)


@calculation
def reversing_equivalent(alternating: q.Stress, *, mean: q.Stress, ultimate: q.UltimateStrength) -> Number:
    """The fully reversing stress that does the same harm as an alternating one upon a mean [Pa].

    s = sa / (1 - sm / Su)

    Arguments: alternating sa, mean sm [Pa]; ultimate Su [Pa]. Goodman's line.

    >>> reversing_equivalent(100e6, mean=400e6, ultimate=800e6)
    200000000.0

    Source: Shigley 9th ed., section 6-15.
    """
    if (np.asarray(mean) >= ultimate).any():
        raise ValueError("mean: as large as the ultimate strength was given; allowed: less than it")
    return alternating / (1 - np.asarray(mean) / ultimate)


def damage(counts: list[float], *, lives: list[float]) -> float:
    """Share of life used up by a spectrum of launches: one is the end (Miner).

    >>> damage([1000, 10000], lives=[10000, 100000])
    0.2

    Source: Miner's rule; Shigley 9th ed., section 6-15.
    """
    if len(counts) != len(lives) or any(life <= 0 for life in lives) or any(count < 0 for count in counts):
        raise ValueError("counts and lives: wanted one life, more than 0, for each count, not below 0")
    return sum(count / life for count, life in zip(counts, lives, strict=True))

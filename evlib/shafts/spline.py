"""Involute splines: geometry by the standards, pins, and the true tooth for a drawing. Strength is in ``dudley``."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts.tables import INCH, TOOTH_HEIGHTS


@result
class SplineGeometry:
    """Diameters and widths of an involute spline [m]. Basic sizes: tolerances and clearance come off these."""

    pitch_diameter: Number
    base_diameter: Number
    tooth_width: Number
    internal_major: Number
    external_major: Number
    internal_minor: Number
    external_minor: Number
    form_clearance: Number
    contact_height: Number


@calculation
def spline_geometry(
    spline_teeth: q.SplineTeeth,
    *,
    spline_module: q.SplineModule,
    pressure_angle: q.PressureAngle,
    root_form: Literal["flat", "fillet"],
    standard: Literal["inch", "metric"] = "inch",
) -> SplineGeometry:
    """Basic dimensions of an involute spline from its teeth and module.

    D = m N; Db = D cos(phi); s = pi m / 2; each other diameter m (N + a), a by standard, angle and root

    Arguments: spline_teeth N; spline_module m [m] (inch splines: 1 in / P); pressure_angle phi [rad]; root_form;
    standard. Form clearance 0.001 D, within 0.002 and 0.010 in. Contact height: 0.9 m flat root, 1.0 m fillet root
    (what Dudley takes). For inch splines of 16/32 and finer the standard has other external minor diameters: measure.
    OutOfRange for an angle or root that the tables here lack.

    >>> g = spline_geometry(36, spline_module=0.0254 / 16, pressure_angle=math.radians(30), root_form="fillet")
    >>> [round(d / 0.0254, 3) for d in (g.base_diameter, g.pitch_diameter, g.internal_major, g.internal_minor)]
    [1.949, 2.25, 2.362, 2.188]

    Source: ANSI B92.1 and ANSI B92.2M basic dimensions (secondary).
    """
    degrees = round(float(np.max(np.degrees(pressure_angle))) * 2) / 2
    if (standard, degrees, root_form) not in TOOTH_HEIGHTS:
        have = ", ".join(f"{s} {a:g} deg {r}" for s, a, r in TOOTH_HEIGHTS)
        raise ValueError(f"pressure_angle: {standard} {degrees:g} deg {root_form} was given; allowed: {have}")
    heights = TOOTH_HEIGHTS[standard, degrees, root_form]
    pitch = spline_module * spline_teeth
    clearance = np.clip(0.001 * np.asarray(pitch), 0.002 * INCH, 0.010 * INCH)
    contact = spline_module * (0.9 if root_form == "flat" else 1.0)
    return SplineGeometry(
        pitch_diameter=pitch,
        base_diameter=pitch * np.cos(pressure_angle),
        tooth_width=math.pi * spline_module / 2,
        internal_major=spline_module * (spline_teeth + heights[0]),
        external_major=spline_module * (spline_teeth + heights[1]),
        internal_minor=spline_module * (spline_teeth + heights[2]),
        external_minor=spline_module * (spline_teeth + heights[3]),
        form_clearance=clearance,
        contact_height=contact,
    )


def involute(angle: Number) -> Number:
    """The involute function [rad]: inv(a) = tan(a) - a.

    >>> round(involute(math.radians(30)), 6)
    0.053751
    """
    value = np.tan(angle) - np.asarray(angle)
    return float(value) if np.ndim(value) == 0 else value


def inverse_involute(value: Number) -> Number:
    """The angle whose involute is ``value`` [rad], by Newton from a cube-root start; 0 to about 80 degrees.

    >>> round(math.degrees(inverse_involute(involute(math.radians(37.5)))), 9)
    37.5
    """
    wanted = np.asarray(value, dtype=float)
    angle = np.minimum((3 * wanted) ** (1 / 3), 1.4)
    for _ in range(40):
        angle = np.clip(angle - (np.tan(angle) - angle - wanted) / np.maximum(np.tan(angle) ** 2, 1e-12), 1e-9, 1.55)
    return float(angle) if angle.ndim == 0 else angle


@calculation
def over_pins(
    spline_teeth: q.SplineTeeth,
    *,
    spline_module: q.SplineModule,
    pressure_angle: q.PressureAngle,
    tooth_width: q.CircularWidth,
    pin_diameter: q.PinDiameter,
) -> Number:
    """Measurement over two pins of an external spline [m].

    inv(phi_e) = t/D + inv(phi) + dw/Db - pi/N; M = Db / cos(phi_e) + dw (even), Db cos(90/N) / cos(phi_e) + dw (odd)

    Arguments: spline_teeth N; spline_module m [m]; pressure_angle phi [rad]; tooth_width t [m] on the pitch circle;
    pin_diameter dw [m]. Straight teeth.

    >>> m = over_pins(20, spline_module=0.002, pressure_angle=math.radians(30), tooth_width=math.pi * 1e-3,
    ...               pin_diameter=0.0036)
    >>> round(m * 1000, 3)
    45.263

    Source: ANSI B92.1, inspection formulas (secondary).
    """
    pitch = spline_module * spline_teeth
    base = pitch * np.cos(pressure_angle)
    angle = inverse_involute(
        tooth_width / pitch + involute(pressure_angle) + pin_diameter / base - math.pi / np.asarray(spline_teeth)
    )
    odd = np.asarray(spline_teeth) % 2 == 1
    return np.where(odd, np.cos(math.pi / 2 / np.asarray(spline_teeth)), 1.0) * base / np.cos(angle) + pin_diameter


@calculation
def between_pins(
    spline_teeth: q.SplineTeeth,
    *,
    spline_module: q.SplineModule,
    pressure_angle: q.PressureAngle,
    space_width: q.CircularWidth,
    pin_diameter: q.PinDiameter,
) -> Number:
    """Measurement between two pins of an internal spline [m].

    inv(phi_i) = s/D + inv(phi) - dw/Db; M = Db / cos(phi_i) - dw (even), Db cos(90/N) / cos(phi_i) - dw (odd)

    Arguments: spline_teeth N; spline_module m [m]; pressure_angle phi [rad]; space_width s [m] on the pitch circle;
    pin_diameter dw [m]. Straight teeth.

    >>> m = between_pins(36, spline_module=0.0254 / 16, pressure_angle=math.radians(30), space_width=0.0982 * 0.0254,
    ...                  pin_diameter=0.108 * 0.0254)
    >>> round(m / 0.0254, 4)
    2.0945

    Source: ANSI B92.1, inspection formulas (secondary).
    """
    pitch = spline_module * spline_teeth
    base = pitch * np.cos(pressure_angle)
    angle = inverse_involute(space_width / pitch + involute(pressure_angle) - pin_diameter / base)
    odd = np.asarray(spline_teeth) % 2 == 1
    return np.where(odd, np.cos(math.pi / 2 / np.asarray(spline_teeth)), 1.0) * base / np.cos(angle) - pin_diameter


@result
class Outline:
    """A closed line round a section [m]."""

    x: Array
    y: Array


def external_outline(geometry: SplineGeometry, *, teeth: int, points: int = 8) -> Outline:
    """The external spline's outline, flanks true involutes, for drawing.

    The flank runs from the larger of base and minor diameter to the major diameter; below that it goes straight to
    the root (the cutter's fillet is not drawn).
    """
    base, pitch = float(geometry.base_diameter) / 2, float(geometry.pitch_diameter) / 2
    tip, root = float(geometry.external_major) / 2, float(geometry.external_minor) / 2
    half = float(geometry.tooth_width) / pitch / 2 + involute(math.acos(base / pitch))
    radii = np.linspace(max(base * 1.0000001, root), tip, points)
    offsets = half - np.asarray(involute(np.arccos(np.minimum(base / radii, 1.0))))
    flank_r = np.concatenate([[root], radii])
    flank_a = np.concatenate([[offsets[0]], offsets])
    one_r = np.concatenate([flank_r, flank_r[::-1]])
    one_a = np.concatenate([-flank_a, flank_a[::-1]])
    centres = 2 * math.pi * np.arange(teeth) / teeth
    angle = (centres[:, None] + one_a[None, :]).ravel()
    radius = np.tile(one_r, teeth)
    angle, radius = np.append(angle, angle[0]), np.append(radius, radius[0])
    return Outline(radius * np.sin(angle), radius * np.cos(angle))

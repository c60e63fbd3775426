"""Keys, keyseats and set screws, to be held beside a spline on the same shaft."""

from __future__ import annotations

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts import tables


@result
class KeyStress:
    """Stresses of a parallel key [Pa]: shear through its width, crushing on half its height."""

    shear: Number
    crush: Number


@calculation
def key_stress(
    torque: q.Torque,
    *,
    shaft_diameter: q.ShaftDiameter,
    key_width: q.KeyWidth,
    key_height: q.KeyHeight,
    key_length: q.KeyLength,
    key_count: q.KeyCount = 1.0,
) -> KeyStress:
    """Shear and crushing of a parallel key.

    F = 2 T / (d n); shear = F / (w L); crushing = F / (h L / 2)

    Arguments: torque T [N m]; shaft_diameter d [m]; key_width w, key_height h, key_length L [m] (square ends);
    key_count n, equally loaded. Friction of the fit is ignored.

    >>> s = key_stress(190, shaft_diameter=0.03, key_width=0.008, key_height=0.007, key_length=0.036)
    >>> round(s.shear / 1e6, 1), round(s.crush / 1e6, 1)
    (44.0, 100.5)

    Source: Shigley 9th ed., section 7-7.
    """
    force = 2 * np.asarray(torque) / (shaft_diameter * np.asarray(key_count))
    return KeyStress(force / (key_width * key_length), 2 * force / (key_height * key_length))


@calculation
def key_length_needed(
    torque: q.Torque,
    *,
    shaft_diameter: q.ShaftDiameter,
    key_width: q.KeyWidth,
    key_height: q.KeyHeight,
    shear_strength: q.YieldStrength,
    yield_strength: q.YieldStrength,
    safety_factor: q.SafetyFactor = 1.0,
) -> KeyStress:
    """Key length that shear and that crushing ask for [m]; take the larger. Field ``shear`` and field ``crush``.

    L = n F / (w Ss); L = 2 n F / (h Sy)

    Arguments: torque T [N m]; shaft_diameter d [m]; key_width w, key_height h [m]; shear_strength Ss and
    yield_strength Sy [Pa] of the weaker of key, shaft and hub; safety_factor n.

    >>> need = key_length_needed(190, shaft_diameter=0.03, key_width=0.008, key_height=0.007, shear_strength=200e6,
    ...                          yield_strength=350e6, safety_factor=2)
    >>> round(need.shear * 1000, 1), round(need.crush * 1000, 1)
    (15.8, 20.7)

    Source: Shigley 9th ed., section 7-7.
    """
    force = 2 * np.asarray(torque) / shaft_diameter * safety_factor
    return KeyStress(force / (key_width * shear_strength), 2 * force / (key_height * yield_strength))


@calculation
def inch_key_width(shaft_diameter: q.ShaftDiameter) -> Number:
    """Standard square key of an inch shaft [m].

    Arguments: shaft_diameter [m]. OutOfRange outside 5/16 to 3 1/4 in.

    >>> inch_key_width(0.0254 * 1.125) / 0.0254
    0.25

    Source: ASME B17.1, as in Shigley 9th ed., table 7-6.
    """
    inches = np.asarray(shaft_diameter, dtype=float) / tables.INCH
    uppers = np.array([row[0] for row in tables.INCH_KEYS])
    widths = np.array([row[1] or np.nan for row in tables.INCH_KEYS])
    place = np.searchsorted(uppers * (1 + 1e-9), inches)
    if ((place < 1) | (place >= len(uppers))).any():
        raise OutOfRange("shaft_diameter", f"{inches} in", uppers[0], uppers[-1], "ASME B17.1 square keys [in]")
    return widths[place] * tables.INCH


@result
class MetricKey:
    """A metric parallel key [m]: width, height, depth of its seat in the shaft."""

    width: Number
    height: Number
    shaft_depth: Number


@calculation
def metric_key(shaft_diameter: q.ShaftDiameter) -> MetricKey:
    """Standard parallel key of a metric shaft.

    Arguments: shaft_diameter [m]. OutOfRange outside 12 to 75 mm.

    >>> metric_key(0.028).width
    0.008

    Source: ISO 773 / DIN 6885-1, from memory.
    """
    size = np.asarray(shaft_diameter, dtype=float) * 1000
    overs = np.array([row[0] for row in tables.METRIC_KEYS])
    if ((size <= overs[0]) | (size > tables.METRIC_KEY_END)).any():
        raise OutOfRange("shaft_diameter", f"{size} mm", overs[0], tables.METRIC_KEY_END, "ISO 773 [mm]")
    rows = np.array([row[1:] for row in tables.METRIC_KEYS])[np.searchsorted(overs, size) - 1]
    return MetricKey(rows[..., 0] / 1000, rows[..., 1] / 1000, rows[..., 2] / 1000)


@calculation
def screw_torque(screw_hold: q.ScrewHold, *, shaft_diameter: q.ShaftDiameter) -> Number:
    """Torque that a set screw holds [N m].

    T = F d / 2

    Arguments: screw_hold F [N]; shaft_diameter d [m]. A set screw keeps a sleeve in its place; it carries no drive.

    >>> screw_torque(1000, shaft_diameter=0.03)
    15.0

    Source: trade handbook practice.
    """
    return screw_hold * shaft_diameter / 2


@calculation
def groove_raiser(shaft_diameter: q.ShaftDiameter, *, groove_radius: q.Radius) -> Number:
    """Stress raiser in torsion of a semicircular groove along a round shaft, at the groove's bottom.

    Kts = (2 a - b) / a = 2 - b / a for the same twist; a shaft radius, b groove radius

    Arguments: shaft_diameter 2 a [m]; groove_radius b [m]. Exact for the same twist per length; the section's own
    loss of stiffness (small for a small groove) comes on top. Even the finest lengthwise scratch doubles the stress.

    >>> round(groove_raiser(0.028, groove_radius=0.0014), 3)
    1.9

    Source: Timoshenko and Goodier, Theory of Elasticity, torsion of a grooved shaft (from memory).
    """
    radius = np.asarray(shaft_diameter) / 2
    if (np.asarray(groove_radius) >= radius).any():
        raise ValueError("groove_radius: as large as the shaft was given; allowed: less than the shaft's radius")
    return 2 - groove_radius / radius

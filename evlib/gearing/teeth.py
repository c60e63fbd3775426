"""Tooth counts: where the members of a set lie, whether planets clear each other, and a search for a wanted ratio."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np

from evlib.gearing import quantities as q
from evlib.ground.quantity import Array, Number, calculation, result

ADDENDUM = 1.0  # tip beyond the pitch circle, in modules; ISO 53 basic rack


@result
class Layout:
    """Where planets lie, in modules and radians: pin circle radius, angle of the second planet after the first.

    ``gap`` is the smallest clearance between tip circles [modules]; negative where teeth of neighbours would meet.
    ``closes`` is false where the two planets of a pair cannot mesh each other at all.
    """

    radius: Number
    second_radius: Number
    angle: Number
    gap: Number
    closes: Any


@calculation
def simple_layout(sun: q.Teeth, *, planet: q.Teeth, planet_count: q.PlanetCount) -> Layout:
    """Pin circle and clearance of a simple set: radius (z_s + z_p) / 2, gap 2 R sin(pi / n) - z_p - 2, in modules.

    sun, planet [teeth], planet_count [1]. Standard tooth height, no profile shift.

    >>> layout = simple_layout(32, planet=20, planet_count=4)
    >>> layout.radius, round(layout.gap, 2)
    (26.0, 14.77)
    """
    radius = (sun + planet) / 2
    gap = np.where(planet_count > 1, 2 * radius * np.sin(np.pi / planet_count) - planet - 2 * ADDENDUM, np.inf)
    return Layout(radius=radius, second_radius=np.nan * radius, angle=np.nan * radius, gap=gap, closes=gap == gap)


@calculation
def two_sun_layout(input_sun: q.Teeth, *, low_sun: q.Teeth, short_planet: q.Teeth, long_planet: q.Teeth,
                   planet_count: q.PlanetCount) -> Layout:  # fmt: skip
    """Where short and long planets of a two-sun set lie, and the smallest gap between any two that must not touch.

    Short pins at R_s = (z_low + z_s)/2, long ones at R_l = (z_in + z_l)/2, and both apart by (z_s + z_l)/2: the
    triangle gives the angle between them. Gaps: short to short, long to long, long to the next pair's short, long to
    the low sun it passes over, long to the ring it passes under; tip circles, in modules.

    >>> layout = two_sun_layout(29, low_sun=22, short_planet=29, long_planet=18, planet_count=3)
    >>> layout.radius, round(float(np.degrees(layout.angle)), 1), round(layout.gap, 2)
    (25.5, 57.1, 0.11)
    """
    short_at, long_at = (low_sun + short_planet) / 2, (input_sun + long_planet) / 2
    apart = (short_planet + long_planet) / 2
    cosine = (short_at**2 + long_at**2 - apart**2) / (2 * short_at * long_at)
    closes = np.abs(cosine) <= 1
    angle = np.arccos(np.clip(cosine, -1, 1))
    pitch = 2 * np.pi / planet_count
    ring = low_sun + 2 * short_planet

    def chord(a: Number, b: Number, between: Number) -> Array:
        return np.asarray(np.sqrt(a**2 + b**2 - 2 * a * b * np.cos(between)))

    alone = np.where(planet_count > 1, 0.0, np.inf)
    gaps = [
        alone + chord(short_at, short_at, pitch) - short_planet - 2 * ADDENDUM,
        alone + chord(long_at, long_at, pitch) - long_planet - 2 * ADDENDUM,
        alone + chord(short_at, long_at, pitch - angle) - apart - 2 * ADDENDUM,
        long_at - (low_sun + long_planet) / 2 - 2 * ADDENDUM,
        ring / 2 - long_at - long_planet / 2 - 2 * ADDENDUM,
    ]
    gap = np.where(closes, np.minimum.reduce(np.broadcast_arrays(*gaps)), -np.inf)
    return Layout(radius=short_at, second_radius=long_at, angle=angle, gap=gap, closes=closes)


@result
class TwoSunChoice:
    """One set that assembles: tooth counts, planet pairs, its ratios, and its smallest gap [modules]."""

    input_sun: int
    low_sun: int
    short_planet: int
    long_planet: int
    ring: int
    planet_count: int
    low_ratio: float
    reverse_ratio: float
    gap: float


@calculation
def find_two_sun_sets(low_ratio: q.Ratio, *, tolerance: q.Tolerance = 0.005, reverse_ratio: q.Ratio | None = None,
                      smallest: q.Teeth = 17, largest_ring: q.Teeth = 90, smallest_gap: q.Gap = 0.5,
                      ) -> tuple[TwoSunChoice, ...]:  # fmt: skip
    """Every two-sun set whose low and reverse lie within a tolerance of the wanted ones, and that can be put together.

    low = 1 + z_low / z_in; reverse = z_ring / z_in - 1 (turning backwards); (z_in + z_low) / n and
    (z_low + z_ring) / n whole; gaps by :func:`two_sun_layout`. Nearest low first, then the smallest ring.

    low_ratio [1], tolerance [1] relative, reverse_ratio [1] as a size (the same as low if not given), smallest
    [teeth] on any gear (17 avoids undercut at 20 degrees), largest_ring [teeth], smallest_gap [modules].

    >>> best = find_two_sun_sets(1.76)[0]
    >>> best.input_sun, best.low_sun, best.ring, round(best.low_ratio, 3)
    (25, 19, 69, 1.76)
    """
    wanted_reverse = low_ratio if reverse_ratio is None else reverse_ratio
    low, top = int(smallest), int(largest_ring)
    z_in, z_low, z_short = np.meshgrid(*(np.arange(low, top // 2 + 1),) * 3, indexing="ij")
    z_ring = z_low + 2 * z_short
    first, back = 1 + z_low / z_in, z_ring / z_in - 1
    good = (np.abs(first / low_ratio - 1) <= tolerance) & (np.abs(back / wanted_reverse - 1) <= tolerance)
    good &= z_ring <= top
    found = []
    for i, s, p in zip(z_in[good], z_low[good], z_short[good], strict=True):
        ring = s + 2 * p
        for n in (6, 5, 4, 3, 2):
            if (i + s) % n or (s + ring) % n:
                continue
            longs = np.arange(float(low), top // 2 + 1)
            layout = two_sun_layout(i, low_sun=s, short_planet=p, long_planet=longs, planet_count=n)
            gaps = np.asarray(layout.gap)
            best = int(np.argmax(gaps))
            if gaps[best] >= smallest_gap:
                sizes = (int(i), int(s), int(p), int(longs[best]), int(ring), n)
                found.append(TwoSunChoice(*sizes, float(1 + s / i), float(ring / i - 1), float(gaps[best])))
    wanted = float(low_ratio)
    return tuple(sorted(found, key=lambda c: (round(abs(c.low_ratio / wanted - 1), 6), c.ring, -c.planet_count)))


def three_member_ratios(small: float, *, large: float) -> dict[tuple[str, str], list[tuple[str, float]]]:
    """Every ratio of a simple set, by (driven, output): which member is held, and the ratio.

    A set of three members has, between two given shafts, one member left to hold and so one ratio beside direct. It
    cannot give low *and* reverse between the same shafts: that takes a fourth member. Hence the second sun.

    >>> three_member_ratios(20, large=34)[("sun", "carrier")]
    [('ring', 2.7)]
    """
    from evlib.gearing.planetary import simple_set, solve

    train = simple_set(small, ring=large)
    members = ("sun", "ring", "carrier")
    found = {}
    for driven, output in itertools.permutations(members, 2):
        held = next(name for name in members if name not in (driven, output))
        found[driven, output] = [
            (held, round(float(solve(train, driven=driven, output=output, held=(held,)).ratio), 9))
        ]
    return found

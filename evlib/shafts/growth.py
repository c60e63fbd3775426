"""How shafts and frames grow as they warm, and how much of that closes the gap between two shaft ends."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts.tables import CAST_IRON_EXPANSION, STEEL_EXPANSION


@calculation
def expansion(length: q.ShaftLength, *, rise: q.Rise, coefficient: q.Expansion) -> Number:
    """Growth of a length with temperature [m].

    dL = a L dT

    Arguments: length L [m]; rise dT [K]; coefficient a [1/K].

    >>> round(expansion(0.1, rise=100, coefficient=11.7e-6) * 1000, 3)
    0.117

    Source: handbook; steel 11.7e-6, aluminium 23e-6 per kelvin.
    """
    return coefficient * length * rise


@result
class MachineGrowth:
    """One machine, fully warm [m]: how far its armature pushes the shaft's end out, and how far its frame follows."""

    armature: Number
    frame: Number


@calculation
def machine_growth(
    cut_length: q.CutLength,
    *,
    located_bearing: Literal["coupling end", "far end"],
    bearing_span: q.BearingSpan,
    bearing_depth: q.BearingDepth,
    armature_rise: q.ArmatureRise,
    frame_rise: q.FrameRise,
    shaft_expansion: q.ShaftExpansion = STEEL_EXPANSION,
    frame_expansion: q.FrameExpansion = CAST_IRON_EXPANSION,
) -> MachineGrowth:
    """Final growth of the shaft's end and of the face, both from the bearing that locates the rotor.

    armature: as dTa Ls; frame: af dTf Lf; located at the coupling end Lf = bd, at the far end Lf = bd + Lb; Ls = Lf + c

    Arguments: cut_length c [m] that stands out of the face; located_bearing; bearing_span Lb [m]; bearing_depth bd
    [m]; armature_rise dTa, frame_rise dTf [K]; shaft_expansion as, frame_expansion af [1/K]. The whole shaft is taken
    as warm as the armature, which is too much for the stub outside: an error to the careful side.

    >>> near = machine_growth(0.038, located_bearing="coupling end", bearing_span=0.3, bearing_depth=0.02,
    ...                       armature_rise=100, frame_rise=50)
    >>> far = machine_growth(0.038, located_bearing="far end", bearing_span=0.3, bearing_depth=0.02,
    ...                      armature_rise=100, frame_rise=50)
    >>> round(near.armature * 1000, 3), round(far.armature * 1000, 3)
    (0.068, 0.419)

    Source: linear expansion from the fixed point.
    """
    frame_length = np.asarray(bearing_depth) + (bearing_span if located_bearing == "far end" else 0.0)
    shaft_length = frame_length + cut_length
    return MachineGrowth(shaft_expansion * armature_rise * shaft_length, frame_expansion * frame_rise * frame_length)


@calculation
def gap_closing(
    time: q.Duration,
    *,
    armature_growth: q.Growth,
    frame_growth: q.Growth,
    armature_time: q.ArmatureTime,
    frame_time: q.FrameTime,
) -> Number:
    """How much of the gap is closed at a time after a cold start [m].

    x(t) = A (1 - exp(-t/ta)) - B (1 - exp(-t/tb))

    Arguments: time t [s]; armature_growth A [m], both shafts at their final rise; frame_growth B [m], both frames and
    the flange ring at theirs; armature_time ta, frame_time tb [s]. Each body warms as one lump with a steady load.

    >>> x = gap_closing(1800, armature_growth=0.8e-3, frame_growth=0.4e-3, armature_time=1200, frame_time=5400)
    >>> round(x * 1e3, 3)
    0.508

    Source: Newton's law of cooling for each body.
    """
    armature = armature_growth * (1 - np.exp(-np.asarray(time) / armature_time))
    return armature - frame_growth * (1 - np.exp(-np.asarray(time) / frame_time))


@result
class WorstClosing:
    """The largest closing of the gap [m] and the time after a cold start when it comes [s] (infinite: at the end)."""

    closing: Number
    time: Number


@calculation
def worst_closing(
    armature_growth: q.Growth, *, frame_growth: q.Growth, armature_time: q.ArmatureTime, frame_time: q.FrameTime
) -> WorstClosing:
    """The largest closing between a cold start and fully warm.

    x'(t) = 0 at t = ln(A tb / (B ta)) / (1/ta - 1/tb); compared with cold (0) and fully warm (A - B)

    Arguments: armature_growth A, frame_growth B [m]; armature_time ta, frame_time tb [s]. The armature leads while
    warming, so the worst moment usually lies on the way, not at the end.

    >>> worst = worst_closing(0.8e-3, frame_growth=0.4e-3, armature_time=1200, frame_time=5400)
    >>> round(worst.closing * 1e3, 3), round(worst.time / 60)
    (0.566, 57)

    Source: calculus on the two-body warming curve.
    """
    a, b, ta, tb = (np.asarray(v, float) for v in (armature_growth, frame_growth, armature_time, frame_time))
    with np.errstate(divide="ignore", invalid="ignore"):
        turn = np.log(a * tb / (b * ta)) / (1 / ta - 1 / tb)
        turn = np.where(np.isfinite(turn) & (turn > 0), turn, 0.0)
    on_the_way = a * -np.expm1(-turn / ta) - b * -np.expm1(-turn / tb)
    final = a - b
    largest = np.maximum(np.maximum(on_the_way, final), 0.0)
    time = np.where(largest <= 0, 0.0, np.where(final >= on_the_way, np.inf, turn))
    return WorstClosing(largest, time)

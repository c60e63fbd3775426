"""Package: how long and heavy the line becomes, and where its weight sits."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q

GRAVITY = 9.80665  # m/s2; standard


@result
class LineLength:
    """The line's length [m], with and without what must stay free behind it, and where each part begins."""

    bare: Number
    whole: Number
    near_machine_at: Number
    adapter_at: Number
    gearbox_at: Number


@calculation
def line_length(
    near_machine_length: q.NearMachineLength,
    *,
    far_machine_length: q.FarMachineLength = 0.0,
    ring_length: q.RingLength = 0.0,
    adapter_length: q.AdapterLength,
    gearbox_length: q.GearboxLength,
    tail_allowance: q.TailAllowance = 0.0,
) -> LineLength:
    """Length of the line, from the far machine's end to the gearbox's output flange.

    L = l1 + lf + l2 + l3 + l4 (bare); + l5 (whole)

    Arguments: body lengths l1 (far; 0 with one machine), l2 (near), flange ring lf, adapter l3, gearbox l4, room behind
    l5 [m].

    >>> line = line_length(0.40, far_machine_length=0.40, ring_length=0.076, adapter_length=0.03,
    ...                    gearbox_length=0.46)
    >>> round(line.bare, 3)
    1.366

    Source: addition.
    """
    near_at = far_machine_length + np.asarray(ring_length)
    adapter_at = near_at + near_machine_length
    gearbox_at = adapter_at + adapter_length
    bare = gearbox_at + gearbox_length
    return LineLength(bare, bare + tail_allowance, near_at, adapter_at, gearbox_at)


@calculation
def overhung_moment(mass: q.Mass, *, distance: q.ShaftLength) -> Number:
    """Bending moment of a weight that hangs from a face [N m].

    M = m g x

    Arguments: mass m [kg]; distance x [m] of its centre from the face.

    >>> round(overhung_moment(80, distance=0.2), 1)
    156.9

    Source: statics.
    """
    return mass * GRAVITY * np.asarray(distance)


def centre_of_gravity(masses: list[float], *, places: list[float]) -> float:
    """Where the weight of several parts acts [m].

    x = sum(m x) / sum(m)

    >>> centre_of_gravity([1.0, 3.0], places=[0.0, 1.0])
    0.75

    Source: statics.
    """
    if len(masses) != len(places) or sum(masses) <= 0 or min(masses) < 0:
        raise ValueError("masses: wanted one place for each mass, none below 0 and their sum more than 0")
    return float(np.dot(masses, places) / sum(masses))

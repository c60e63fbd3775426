"""The gearbox joint: what turns the internal pump without a converter, and how near the hub comes to it."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q


@result
class TangStress:
    """Stresses in a pump drive's tangs [Pa]: shear at the root, bending at the root, bearing on the side."""

    shear: Number
    bending: Number
    bearing: Number


@calculation
def tang_stress(
    pump_drive_torque: q.PumpDriveTorque,
    *,
    tang_count: q.TangCount,
    tang_radius: q.TangRadius,
    tang_width: q.TangWidth,
    tang_depth: q.TangDepth,
    tang_engagement: q.TangEngagement,
) -> TangStress:
    """Stresses in the tangs that turn the gearbox's internal pump.

    F = T / (n r); shear F / (w h); bending 3 F Lt / (h w^2); bearing F / (h Lt)

    Arguments: pump_drive_torque T [N m]; tang_count n; tang_radius r, tang_width w (along the rim), tang_depth h
    (radial), tang_engagement Lt (axial) [m]. Each tang is a short cantilever loaded at half its length, and all share
    alike: a pair out of true puts all on one, so keep a factor of two.

    >>> s = tang_stress(20, tang_count=2, tang_radius=0.022, tang_width=0.010, tang_depth=0.004, tang_engagement=0.008)
    >>> round(s.shear / 1e6, 1), round(s.bending / 1e6, 1), round(s.bearing / 1e6, 1)
    (11.4, 27.3, 14.2)

    Source: beam theory, any text.
    """
    force = np.asarray(pump_drive_torque) / (tang_count * np.asarray(tang_radius))
    bending = 3 * force * tang_engagement / (tang_depth * np.asarray(tang_width) ** 2)
    return TangStress(force / (tang_width * tang_depth), bending, force / (tang_depth * tang_engagement))


@calculation
def pump_gap(
    pump_depth: q.PumpDepth, *, hub_reach: q.HubReach, hub_float: q.EndFloat, growth: q.Growth = 0.0
) -> Number:
    """Axial clearance left between the hub's end and the bottom of the pump's drive [m].

    c = dp - rh - f - dL

    Arguments: pump_depth dp [m] from the housing's face to the bottom of the pump's drive; hub_reach rh [m] past the
    adapter's face, rotor pushed away from the gearbox; hub_float f [m]; growth dL [m] of the shaft toward the pump
    when hot. A hub that bottoms pushes the gear into its cover and breaks the pump on the first start.

    >>> round(pump_gap(0.030, hub_reach=0.0275, hub_float=0.0003, growth=0.0002) * 1000, 2)
    2.0

    Source: geometry.
    """
    return np.asarray(pump_depth) - hub_reach - hub_float - growth


@calculation
def hub_reach_wanted(
    pump_depth: q.PumpDepth, *, pump_clearance: q.PumpClearance, hub_float: q.EndFloat, growth: q.Growth = 0.0
) -> Number:
    """How far the hub may reach past the adapter's face [m]: the joint's own cut line.

    rh = dp - c - f - dL

    Arguments: as :func:`pump_gap`; pump_clearance c [m] wanted.

    >>> round(hub_reach_wanted(0.030, pump_clearance=0.002, hub_float=0.0003, growth=0.0002) * 1000, 2)
    27.5

    Source: geometry.
    """
    return np.asarray(pump_depth) - pump_clearance - hub_float - growth


@calculation
def pilot_offset(pilot_runout: q.PilotRunout) -> Number:
    """How far the hub's centre lies off the bush's [m]: half of the full dial reading.

    e = ro / 2

    Arguments: pilot_runout ro [m], full indicator reading over one turn.

    >>> pilot_offset(0.0001)
    5e-05

    Source: dial gauge practice.
    """
    return np.asarray(pilot_runout) / 2


@calculation
def misalignment_of_face(pilot_runout: q.PilotRunout, *, sweep_diameter: q.BoltCircle) -> Number:
    """Angle between two axes from a dial swept over a face [rad].

    a = atan(reading / D)

    Arguments: pilot_runout: full dial reading on the face [m]; sweep_diameter D [m] of the dial's circle.

    >>> round(misalignment_of_face(0.0002, sweep_diameter=0.2), 6)
    0.001

    Source: alignment practice.
    """
    return np.arctan(np.asarray(pilot_runout) / sweep_diameter)

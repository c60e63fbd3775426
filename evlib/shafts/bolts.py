"""The bolted flanges that keep the frames from turning: preload, face friction, threads in aluminium."""

from __future__ import annotations

import math

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts import tables
from evlib.shafts.parts import BoltClass


@calculation
def stress_area(bolt_diameter: q.BoltDiameter, *, bolt_pitch: q.BoltPitch) -> Number:
    """Stress area of a metric thread [m2].

    As = pi/4 (d - 0.9382 p)^2

    Arguments: bolt_diameter d [m]; bolt_pitch p [m].

    >>> round(stress_area(0.010, bolt_pitch=0.0015) * 1e6, 1)
    58.0

    Source: ISO 898-1.
    """
    return math.pi / 4 * (np.asarray(bolt_diameter) - 0.9382 * bolt_pitch) ** 2


@calculation
def proof_stress(bolt_diameter: q.BoltDiameter, *, bolt_class: BoltClass) -> Number:
    """Proof stress of a bolt's class [Pa]: the most that it takes without a lasting stretch.

    Arguments: bolt_diameter [m] (8.8 has a step at 16 mm); bolt_class. OutOfRange above 39 mm.

    >>> proof_stress(0.012, bolt_class="8.8") / 1e6
    580.0

    Source: ISO 898-1:2013.
    """
    if (np.asarray(bolt_diameter) > 0.039).any():
        raise OutOfRange("bolt_diameter", bolt_diameter, 0.0, 0.039, "ISO 898-1 [m]")
    small, large = tables.PROOF_STRESS[bolt_class]
    return np.where(np.asarray(bolt_diameter) <= 0.016, small, large) * 1e6


@calculation
def nut_factor(
    bolt_diameter: q.BoltDiameter,
    *,
    bolt_pitch: q.BoltPitch,
    thread_friction: q.Friction,
    head_friction: q.Friction,
) -> Number:
    """Nut factor from the frictions of thread and head.

    K = (d2 / 2d) (tan l + mu sec 30) / (1 - mu tan l sec 30) + 0.625 mu_c, d2 = d - 0.6495 p, tan l = p / (pi d2)

    Arguments: bolt_diameter d, bolt_pitch p [m]; thread_friction mu; head_friction mu_c (bearing at 1.25 d).

    >>> round(nut_factor(0.018, bolt_pitch=0.0025, thread_friction=0.15, head_friction=0.13), 3)
    0.183

    Source: Shigley 9th ed., equation 8-26.
    """
    pitch_diameter = np.asarray(bolt_diameter) - 0.6495 * bolt_pitch
    lead, secant = bolt_pitch / (math.pi * pitch_diameter), 1 / math.cos(math.radians(30))
    thread = (lead + thread_friction * secant) / (1 - thread_friction * lead * secant)
    return pitch_diameter / (2 * bolt_diameter) * thread + 0.625 * head_friction


@result
class Preload:
    """Preload of one bolt [N]: as meant, the least and the most that the scatter leaves."""

    mean: Number
    least: Number
    most: Number


@calculation
def preload(
    tightening_torque: q.TighteningTorque,
    *,
    bolt_diameter: q.BoltDiameter,
    nut_factor: q.NutFactor,
    preload_scatter: q.PreloadScatter = 0.0,
) -> Preload:
    """Preload that a tightening torque gives.

    F = T / (K d), times 1 - s and 1 + s

    Arguments: tightening_torque T [N m]; bolt_diameter d [m]; nut_factor K; preload_scatter s.

    >>> p = preload(45, bolt_diameter=0.010, nut_factor=0.18, preload_scatter=0.3)
    >>> round(p.mean), round(p.least)
    (25000, 17500)

    Source: Shigley 9th ed., equation 8-27.
    """
    mean = np.asarray(tightening_torque) / (nut_factor * np.asarray(bolt_diameter))
    return Preload(mean, mean * (1 - np.asarray(preload_scatter)), mean * (1 + np.asarray(preload_scatter)))


@calculation
def friction_torque(
    clamp_force: q.ClampForce, *, bolt_count: q.BoltCount, bolt_circle: q.BoltCircle, face_friction: q.FaceFriction
) -> Number:
    """Torque that a ring of bolts holds by the friction of its faces [N m].

    T = mu n F Dc / 2

    Arguments: clamp_force F [N] of one bolt (take the least); bolt_count n; bolt_circle Dc [m]; face_friction mu.
    Dowels and the bolts' own shear are left out: they are the reserve.

    >>> friction_torque(17500, bolt_count=8, bolt_circle=0.18, face_friction=0.15)
    1890.0

    Source: any machine design text.
    """
    return face_friction * bolt_count * clamp_force * bolt_circle / 2


@calculation
def ring_friction_torque(
    clamp_force: q.ClampForce, *, outer_radius: q.Radius, inner_radius: q.Radius, friction: q.Friction
) -> Number:
    """Torque that a ring pressed by one force passes by friction, worn-in [N m].

    T = mu F (ro + ri) / 2

    Arguments: clamp_force F [N]; outer_radius ro, inner_radius ri [m]; friction mu. Uniform wear, one face.

    >>> round(ring_friction_torque(5000, outer_radius=0.150, inner_radius=0.1125, friction=0.25), 2)
    164.06

    Source: any machine design text.
    """
    return friction * clamp_force * (outer_radius + inner_radius) / 2


@calculation
def strip_force(
    thread_engagement: q.ThreadEngagement,
    *,
    bolt_diameter: q.BoltDiameter,
    bolt_pitch: q.BoltPitch,
    thread_shear_strength: q.ThreadShearStrength,
) -> Number:
    """Force at which a tapped thread strips [N].

    F = Ss pi d (7/8) le', le' = le - 0.8 p: the tapped thread's root is 7/8 of the pitch wide at the bolt's diameter

    Arguments: thread_engagement le [m]; bolt_diameter d, bolt_pitch p [m]; thread_shear_strength Ss [Pa] of the tapped
    metal. Basic profile; 0.8 p comes off for the chamfer. Inserts: enter their outside diameter and pitch.

    >>> round(strip_force(0.020, bolt_diameter=0.010, bolt_pitch=0.0015, thread_shear_strength=120e6))
    62015

    Source: ISO 68-1 basic profile; allowance as VDI 2230 (from memory).
    """
    useful = np.maximum(np.asarray(thread_engagement) - 0.8 * np.asarray(bolt_pitch), 0.0)
    return thread_shear_strength * math.pi * bolt_diameter * 7 / 8 * useful


@calculation
def engagement_for_strength(
    bolt_diameter: q.BoltDiameter,
    *,
    bolt_pitch: q.BoltPitch,
    bolt_class: BoltClass,
    thread_shear_strength: q.ThreadShearStrength,
) -> Number:
    """Thread engagement at which the bolt breaks before the tapped metal strips [m].

    le = Su As / (Ss pi d 7/8) + 0.8 p

    Arguments: bolt_diameter d, bolt_pitch p [m]; bolt_class; thread_shear_strength Ss [Pa].

    >>> le = engagement_for_strength(0.010, bolt_pitch=0.0015, bolt_class="8.8", thread_shear_strength=120e6)
    >>> round(le * 1000, 1)
    15.3

    Source: ISO 898-1 tensile strength; the thread as in ``strip_force``.
    """
    small, large = tables.TENSILE_STRENGTH[bolt_class]
    strength = np.where(np.asarray(bolt_diameter) <= 0.016, small, large) * 1e6
    area = stress_area(bolt_diameter, bolt_pitch=bolt_pitch)
    return strength * area / (thread_shear_strength * math.pi * bolt_diameter * 7 / 8) + 0.8 * np.asarray(bolt_pitch)


@calculation
def bolt_pull_of_overhang(moment: q.BendingMoment, *, bolt_count: q.BoltCount, bolt_circle: q.BoltCircle) -> Number:
    """Pull on the most loaded bolt of a ring that holds an overhung weight [N].

    F = 4 M / (n Dc)

    Arguments: moment M [N m] of the overhung weight about the face; bolt_count n; bolt_circle Dc [m]. Tilting about the
    ring's diameter; the faces stay closed while this is below the least preload.

    >>> bolt_pull_of_overhang(400, bolt_count=8, bolt_circle=0.2)
    1000.0

    Source: Shigley 9th ed., section 8-12 (from memory).
    """
    return 4 * moment / (bolt_count * bolt_circle)

"""Strength of an involute spline by Dudley: what each way of failing asks, with every factor in, against its steel.

Each stress here already holds the application, load distribution and life factors, so it is compared straight with
the steel's allowable. *Fixed or flexible must be declared*: a flexible spline rocks and slides with every turn and is
limited by wear; a fixed one is not, and the formula divides its compression by nine.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Number, calculation, result
from evlib.shafts import quantities as q
from evlib.shafts import tables
from evlib.shafts.parts import Steel
from evlib.shafts.torsion import shear_stress

LEWIS_FACTOR = 1.5  # 30 degree internal spline tooth, Dudley
STEEL_DENSITY, STEEL_POISSON = 7850.0, 0.3  # kg/m3; handbook
SOURCE = "Dudley 1957, as in Machinery's Handbook"


@calculation
def fatigue_factor(launch_cycles: q.LaunchCycles, *, reversed_load: bool = False) -> Number:
    """Fatigue life factor Kf of a spline, from the number of torque cycles.

    Read between table points linearly in the logarithms. A cycle is one start and one stop, not a turn.

    Arguments: launch_cycles; reversed_load: torque both ways in full. OutOfRange outside 1e3 to 1e7.

    >>> fatigue_factor(1e5), fatigue_factor(1e5, reversed_load=True)
    (0.5, 0.4)

    Source: Dudley, table III.
    """
    column = 2 if reversed_load else 1
    return _log_read(launch_cycles, [(row[0], row[column]) for row in tables.FATIGUE_LIFE], "launch_cycles")


@calculation
def wear_factor(spline_revolutions: q.SplineRevolutions) -> Number:
    """Wear life factor Kw of a flexible spline, from the number of turns.

    Read between table points linearly in the logarithms.

    Arguments: spline_revolutions. OutOfRange outside 1e4 to 1e10.

    >>> wear_factor(1e8)
    1.0

    Source: Dudley, table VI.
    """
    return _log_read(spline_revolutions, list(tables.WEAR_LIFE), "spline_revolutions")


def _log_read(value: Number, points: list[tuple[float, float]], name: str) -> Array:
    from evlib.ground.tables import Curve

    x, y = np.array(points, dtype=float).T
    read = Curve(x=x, y=y, source=SOURCE, name=name, logarithmic=True).at(value)
    return np.asarray(read, dtype=float).round(12)


@calculation
def load_factor(
    misalignment: q.Misalignment, *, engagement: q.Engagement, fit: Literal["fixed", "flexible"] = "flexible"
) -> Number:
    """Load distribution factor Km of a spline: how much more its worst end carries when the shafts are not in line.

    Fixed: 1. Flexible: from the table, linearly between its points in the logarithm of the width.

    Arguments: misalignment [rad]; engagement (face width) [m]; fit. Below 0.001 rad it falls straight to 1 at none.
    Narrower than half an inch takes the half-inch row, which is larger than its own would be. OutOfRange above
    0.008 rad or 4 in.

    >>> load_factor(0.004, engagement=0.0254), load_factor(0.004, engagement=0.0254, fit="fixed")
    (1.5, 1.0)

    Source: Dudley, table IV.
    """
    angle, width = np.broadcast_arrays(np.asarray(misalignment, float), np.asarray(engagement, float) / tables.INCH)
    if fit == "fixed":
        return np.ones(angle.shape)
    if (width > tables.FACE_WIDTHS[-1] * (1 + 1e-9)).any():
        raise OutOfRange("engagement", f"{float(width.max()):.3g} in", 0.5, 4.0, SOURCE)
    steps = np.log2(tables.FACE_WIDTHS)
    at_width = np.log2(np.maximum(width, tables.FACE_WIDTHS[0]))
    table = np.array(((1, 1, 1, 1), *tables.LOAD_DISTRIBUTION), dtype=float)
    angles = np.array((0.0, *tables.MISALIGNMENTS))
    rows = np.stack([np.interp(at_width, steps, row) for row in table])
    upper = np.clip(np.searchsorted(angles, angle), 1, len(angles) - 1)
    share = (angle - angles[upper - 1]) / (angles[upper] - angles[upper - 1])
    below = np.take_along_axis(rows, (upper - 1)[None], axis=0)[0]
    above = np.take_along_axis(rows, upper[None], axis=0)[0]
    return np.asarray(below + share * (above - below))


@calculation
def shear_under_roots(
    torque: q.Torque,
    *,
    root_diameter: q.ShaftDiameter,
    shaft_bore: q.ShaftBore = 0.0,
    application_factor: q.ApplicationFactor = 1.0,
    fatigue_factor: q.FatigueFactor = 1.0,
) -> Number:
    """Shear stress in the shaft under the spline's roots, factors in [Pa].

    Ss = 16 T Dre Ka / (pi (Dre^4 - d0^4) Kf)

    Arguments: torque T [N m]; root_diameter Dre [m]; shaft_bore d0 [m]; application_factor Ka; fatigue_factor Kf.

    >>> round(shear_under_roots(190, root_diameter=0.032, application_factor=1.2, fatigue_factor=0.5) / 1e6, 1)
    70.9

    Source: Dudley, as in Machinery's Handbook, equations 1 and 2.
    """
    stress = shear_stress(torque, shaft_diameter=root_diameter, shaft_bore=shaft_bore)
    return stress * application_factor / fatigue_factor


@calculation
def tooth_shear(
    torque: q.Torque,
    *,
    spline_teeth: q.SplineTeeth,
    spline_module: q.SplineModule,
    engagement: q.Engagement,
    application_factor: q.ApplicationFactor = 1.0,
    load_factor: q.LoadFactor = 1.0,
    fatigue_factor: q.FatigueFactor = 1.0,
) -> Number:
    """Shear stress across the teeth at the pitch line, factors in [Pa].

    Ss = 4 T Ka Km / (D N Le t Kf), D = m N, t = the chord of pi m / 2

    Arguments: torque T [N m]; spline_teeth N; spline_module m [m]; engagement Le [m]; application_factor Ka;
    load_factor Km; fatigue_factor Kf. Half of the teeth are taken to carry (spacing errors).

    >>> round(tooth_shear(190, spline_teeth=18, spline_module=0.002, engagement=0.02) / 1e6, 1)
    18.7

    Source: Dudley, as in Machinery's Handbook, equation 3.
    """
    pitch = spline_module * spline_teeth
    chord = pitch * np.sin(math.pi / 2 / np.asarray(spline_teeth))
    return 4 * torque * application_factor * load_factor / (pitch * spline_teeth * engagement * chord * fatigue_factor)


@calculation
def tooth_compression(
    torque: q.Torque,
    *,
    spline_teeth: q.SplineTeeth,
    spline_module: q.SplineModule,
    engagement: q.Engagement,
    fit: Literal["fixed", "flexible"],
    root_form: Literal["flat", "fillet"] = "fillet",
    application_factor: q.ApplicationFactor = 1.0,
    load_factor: q.LoadFactor = 1.0,
    life_factor: q.WearFactor = 1.0,
) -> Number:
    """Compression on the sides of the teeth, factors in [Pa]. The fit must be declared.

    flexible: Sc = 2 T Km Ka / (D N Le h Kw); fixed: Sc = 2 T Km Ka / (9 D N Le h Kf)

    Arguments: torque T [N m]; spline_teeth N; spline_module m [m]; engagement Le [m]; fit; root_form (contact height
    h 0.9 m flat, 1.0 m fillet); application_factor Ka; load_factor Km; life_factor: Kw if flexible, Kf if fixed.

    >>> flexible = tooth_compression(190, spline_teeth=18, spline_module=0.002, engagement=0.02, fit="flexible")
    >>> fixed = tooth_compression(190, spline_teeth=18, spline_module=0.002, engagement=0.02, fit="fixed")
    >>> round(flexible / 1e6, 2), round(flexible / fixed, 6)
    (14.66, 9.0)

    Source: Dudley, as in Machinery's Handbook, equations 4 and 5.
    """
    height = spline_module * (0.9 if root_form == "flat" else 1.0)
    plain = 2 * torque * application_factor * load_factor / (spline_module * spline_teeth**2 * engagement * height)
    return plain / (life_factor * (9.0 if fit == "fixed" else 1.0))


@result
class HubStress:
    """Tension in the sleeve's wall [Pa]: by the radial load, by spin, by bending of its teeth, and all with factors."""

    radial: Number
    spin: Number
    bending: Number
    total: Number


@calculation
def hub_burst(
    torque: q.Torque,
    *,
    spline_teeth: q.SplineTeeth,
    spline_module: q.SplineModule,
    pressure_angle: q.PressureAngle,
    engagement: q.Engagement,
    sleeve_diameter: q.SleeveDiameter,
    internal_major: q.SleeveDiameter,
    running_speed: q.RunningSpeed = 0.0,
    application_factor: q.ApplicationFactor = 1.0,
    load_factor: q.LoadFactor = 1.0,
    fatigue_factor: q.FatigueFactor = 1.0,
) -> HubStress:
    """Bursting tension in the wall of an internal spline, factors in [Pa].

    S1 = T tan(phi) / (pi D tw L); S2 = rho w^2 ((3 + nu) Doi^2 + (1 - nu) Dri^2) / 16; S3 = 4 T / (D^2 Le Y);
    St = (Ka Km (S1 + S3) + S2) / Kf, with tw = (Doi - Dri) / 2

    Arguments: torque T [N m]; spline_teeth N; spline_module m [m]; pressure_angle phi [rad]; engagement Le [m] (taken
    for the wall's length too); sleeve_diameter Doi [m]; internal_major Dri [m]; running_speed w [rad/s];
    application_factor Ka; load_factor Km; fatigue_factor Kf. Steel; Y = 1.5, for 30 degree teeth.

    >>> s = hub_burst(190, spline_teeth=18, spline_module=0.002, pressure_angle=math.radians(30), engagement=0.02,
    ...               sleeve_diameter=0.055, internal_major=0.0396, running_speed=576)
    >>> round(s.total / 1e6, 1)
    27.6

    Source: Dudley, as in Machinery's Handbook, equations 6 to 9; S2 is the spinning ring of any text.
    """
    wall = (np.asarray(sleeve_diameter) - internal_major) / 2
    if (wall <= 0).any():
        raise ValueError("sleeve_diameter: no wall is left; allowed: more than the internal spline's major diameter")
    pitch = spline_module * spline_teeth
    radial = torque * np.tan(pressure_angle) / (math.pi * pitch * wall * engagement)
    ring = (3 + STEEL_POISSON) * sleeve_diameter**2 + (1 - STEEL_POISSON) * internal_major**2
    spin = STEEL_DENSITY * running_speed**2 * ring / 16
    bending = 4 * torque / (pitch**2 * engagement * LEWIS_FACTOR)
    total = (application_factor * load_factor * (radial + bending) + spin) / fatigue_factor
    return HubStress(radial, spin, bending, total)


@calculation
def allowable(
    steel: Steel, *, mode: Literal["shear", "compression", "tension"], tooth_form: Literal["straight", "crowned"]
) -> Number:
    """What a spline's steel may bear [Pa], by its state of hardness.

    Arguments: steel; mode; tooth_form (compression is higher on crowned teeth).

    >>> round(allowable("case hardened 58-63 HRC", mode="compression", tooth_form="straight") / 1e6, 1)
    34.5

    Source: Dudley, tables I, V and VII.
    """
    state = tables.SPLINE_STEEL[steel]
    if mode == "compression":
        return state.crowned if tooth_form == "crowned" else state.straight
    return state.shear if mode == "shear" else state.tension


@calculation
def engagement_needed(stress: q.Stress, *, engagement: q.Engagement, allowed: q.Stress) -> Number:
    """The engagement at which a stress that goes as 1/length would just reach what is allowed [m].

    Le' = Le S / Sa

    Arguments: stress S [Pa] at engagement Le [m]; allowed Sa [Pa]. For tooth shear and compression. The load factor
    is left as it was at Le, which errs to the long side when Le' is shorter.

    >>> engagement_needed(10e6, engagement=0.02, allowed=20e6)
    0.01

    Source: the formulas above.
    """
    return engagement * np.asarray(stress) / allowed


@calculation
def straight_sided_torque(
    compression: q.Stress,
    *,
    spline_teeth: q.SplineTeeth,
    major_diameter: q.ShaftDiameter,
    minor_diameter: q.ShaftDiameter,
    engagement: q.Engagement,
) -> Number:
    """Torque of a straight-sided spline at a given pressure on its teeth [N m].

    T = S N h rm L, h = (D - d) / 2, rm = (D + d) / 4

    Arguments: compression S [Pa]; spline_teeth N; major_diameter D [m]; minor_diameter d [m]; engagement L [m]. All
    teeth carry.

    >>> round(straight_sided_torque(6.895e6, spline_teeth=6, major_diameter=0.0254, minor_diameter=0.020574,
    ...                             engagement=0.0508), 1)
    58.3

    Source: any machine design text; SAE rates 1000 psi for sliding under load.
    """
    height = (np.asarray(major_diameter) - minor_diameter) / 2
    radius = (np.asarray(major_diameter) + minor_diameter) / 4
    return compression * spline_teeth * height * radius * engagement


@calculation
def lock_force(torque: q.Torque, *, base_diameter: q.ShaftDiameter, friction: q.Friction) -> Number:
    """Axial force that a loaded spline passes on before it slides [N].

    F = mu T / rb, rb = Db / 2, because the teeth press along the line of action, at the base circle's radius

    Arguments: torque T [N m]; base_diameter Db [m]; friction mu. Both ends of a sleeve pass the same force. A gap
    does not help: what grows is pushed into the bearings as long as the torque holds the spline.

    >>> round(lock_force(190, base_diameter=0.0312, friction=0.15))
    1827

    Source: equilibrium of an involute tooth with friction.
    """
    return friction * np.abs(torque) / (np.asarray(base_diameter) / 2)

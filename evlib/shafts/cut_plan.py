"""The cut plan: where to cut, what spline still holds, what gap is left, and what to do with what you measured."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.shafts import quantities as q


@result
class CutLines:
    """Where each shaft is cut [m]: from the face, from the step (what a caliper reaches), and what comes off."""

    far_from_face: Number
    near_from_face: Number
    far_from_step: Number
    near_from_step: Number
    far_off: Number
    near_off: Number


@calculation
def cut_lines(
    face_distance: q.FaceDistance,
    *,
    gap: q.Gap,
    far_projection: q.ShaftProjection,
    near_projection: q.ShaftProjection,
    far_step: q.StepHeight = 0.0,
    near_step: q.StepHeight = 0.0,
) -> CutLines:
    """The cut line on each shaft when the gap is to sit in the middle.

    c = (Df - g) / 2; from the step c - hs; comes off p - c

    Arguments: face_distance Df [m], faces apart once flanged; gap g [m] to be left cold; projections p [m] as they
    came; steps hs [m]. The finished end is the line: the cutter's width falls on the waste side. ValueError if a
    shaft is too short to be cut there.

    >>> lines = cut_lines(3 * 0.0254, gap=0.020 * 0.0254, far_projection=0.09, near_projection=0.09,
    ...                   far_step=0.0127, near_step=0.0127)
    >>> round(lines.far_from_face / 0.0254, 3), round(lines.far_from_step / 0.0254, 3)
    (1.49, 0.99)

    Source: geometry.
    """
    cut = (np.asarray(face_distance) - gap) / 2
    for name, projection in (("far_projection", far_projection), ("near_projection", near_projection)):
        if (np.asarray(projection) < cut - 1e-12).any():
            raise ValueError(f"{name}: shorter than the cut line; allowed: at least {float(np.max(cut)) * 1000:.2f} mm")
    return CutLines(cut, cut, cut - far_step, cut - near_step, far_projection - cut, near_projection - cut)


@calculation
def rounded_cut(cut_length: q.CutLength, *, step: q.Reading) -> Number:
    """A cut line rounded to what the tool can read, always down [m].

    c = step x floor(c / step)

    Arguments: cut_length c [m]; step [m], the finest that the tool reads. Down leaves the gap larger by a few
    hundredths, which costs as little spline. Up takes them from the gap, where the reserve is a tenth.

    >>> round(rounded_cut(0.03784, step=1e-4) * 1000, 2), round(rounded_cut(0.04375, step=5e-5) * 1000, 2)
    (37.8, 43.75)

    Source: geometry.
    """
    if (np.asarray(step) <= 0).any():
        raise ValueError("step: 0 or less was given; allowed: more than 0")
    return step * np.floor(np.asarray(cut_length) / step + 1e-6)  # a millionth of a step is rounding, not metal


@result
class SleeveEngagement:
    """Spline in engagement [m] on each shaft: sleeve in its middle, and sleeve wandered fully away from it.

    ``room`` is the length between the two steps less the sleeve: below zero it does not go in. ``least`` is the worst.
    """

    far: Number
    near: Number
    far_worst: Number
    near_worst: Number
    least: Number
    room: Number


@calculation
def sleeve_engagement(
    face_distance: q.FaceDistance,
    *,
    far_cut: q.CutLength,
    near_cut: q.CutLength,
    sleeve_length: q.SleeveLength,
    sleeve_kept: Literal["steps", "rings", "set screws"],
    sleeve_float: q.SleeveFloat = 0.0,
    sleeve_chamfer: q.Chamfer = 0.0,
    far_chamfer: q.Chamfer = 0.0,
    near_chamfer: q.Chamfer = 0.0,
    far_step: q.StepHeight = 0.0,
    near_step: q.StepHeight = 0.0,
    far_spline_start: q.SplineStart = 0.0,
    near_spline_start: q.SplineStart = 0.0,
) -> SleeveEngagement:
    """Spline engagement on each shaft, sleeve centred and at its worst float.

    overlap of [spline start, c - chamfer] with [sleeve end + chamfer, other end - chamfer], sleeve shifted by fs/2

    Arguments: face_distance Df; far_cut and near_cut c; sleeve_length Ls; sleeve_kept: by the *steps* alone (it
    wanders over the room between them), by *rings* or *set screws* (it stays within sleeve_float fs of the middle of
    the gap); chamfers; steps hs; spline starts, all [m]. Twist and tooth fit are not in it.

    >>> e = sleeve_engagement(0.0762, far_cut=0.03785, near_cut=0.03785, sleeve_length=0.046, sleeve_kept="rings",
    ...                       sleeve_float=0.001, sleeve_chamfer=0.001, far_chamfer=0.001, near_chamfer=0.001,
    ...                       far_step=0.0127, near_step=0.0127, far_spline_start=0.0127, near_spline_start=0.0127)
    >>> round(e.far * 1000, 2), round(e.least * 1000, 2), round(e.room * 1000, 2)
    (20.75, 20.25, 4.8)

    Source: geometry.
    """
    room = np.asarray(face_distance) - far_step - near_step - sleeve_length
    by_steps = sleeve_kept == "steps"
    middle = (far_step + face_distance - near_step) / 2 if by_steps else (far_cut + face_distance - near_cut) / 2
    half = np.maximum(room, 0.0) / 2 if by_steps else np.asarray(sleeve_float) / 2
    far_end, near_end = far_cut - np.asarray(far_chamfer), near_cut - np.asarray(near_chamfer)
    # seen from each face: the sleeve's near end lies at (own distance of the middle) - Ls/2, plus the float
    far_left = middle - sleeve_length / 2 + sleeve_chamfer
    near_left = face_distance - middle - sleeve_length / 2 + sleeve_chamfer
    longest = sleeve_length - 2 * np.asarray(sleeve_chamfer)

    def overlap(end: Number, left: Number, start: Number) -> Number:
        reach = np.minimum(end, left + longest) - np.maximum(left, start)
        return np.asarray(np.maximum(reach, 0.0))

    far = overlap(far_end, far_left, far_spline_start)
    near = overlap(near_end, near_left, near_spline_start)
    far_worst = np.minimum(far, overlap(far_end, far_left + half, far_spline_start))
    near_worst = np.minimum(near, overlap(near_end, near_left + half, near_spline_start))
    return SleeveEngagement(far, near, far_worst, near_worst, np.minimum(far_worst, near_worst), room)


@result
class GapStack:
    """The gap left when hot [m]: by the worst case, and by the root sum square of the tolerances."""

    worst: Number
    square_root: Number


@calculation
def gap_left(
    gap: q.Gap,
    *,
    closing: q.Growth,
    far_float: q.EndFloat,
    near_float: q.EndFloat,
    face_tolerance: q.FaceTolerance = 0.0,
    cut_tolerance: q.CutTolerance = 0.0,
) -> GapStack:
    """The least gap when hot, from a cold gap with each rotor pushed into its own machine.

    worst: g - x - f1 - f2 - tf - 2 tc; root sum square: g - x - (f1 + f2)/2 - sqrt((f1/2)^2 + (f2/2)^2 + tf^2 + 2 tc^2)

    Arguments: gap g [m] cold, each rotor pushed in; closing x [m] by growth; end floats f1, f2 [m]; face_tolerance tf,
    cut_tolerance tc [m] plus or minus (zero once g has been measured). Below zero the shafts push on each other.

    >>> left = gap_left(0.5e-3, closing=0.1e-3, far_float=0.1e-3, near_float=0.1e-3)
    >>> round(left.worst * 1000, 3), round(left.square_root * 1000, 3)
    (0.2, 0.229)

    Source: tolerance stacks, Shigley 9th ed., section 1-14.
    """
    f1, f2 = np.asarray(far_float), np.asarray(near_float)
    worst = gap - closing - f1 - f2 - face_tolerance - 2 * np.asarray(cut_tolerance)
    spread = np.sqrt(
        (f1 / 2) ** 2 + (f2 / 2) ** 2 + np.asarray(face_tolerance) ** 2 + 2 * np.asarray(cut_tolerance) ** 2
    )
    return GapStack(worst, gap - closing - (f1 + f2) / 2 - spread)


@result
class Stack:
    """A chain of sizes [m]: what is left over, its worst-case tolerance and its root-sum-square tolerance."""

    left: float
    worst: float
    square_root: float


def tolerance_stack(sizes: list[float], tolerances: list[float]) -> Stack:
    """A tolerance stack: sizes signed (plus adds to the gap, minus takes from it), each with its plus-or-minus.

    >>> s = tolerance_stack([1.0, -0.4, -0.5], [0.01, 0.02, 0.02])
    >>> round(s.left, 3), round(s.worst, 3), round(s.square_root, 3)
    (0.1, 0.05, 0.03)

    Source: Shigley 9th ed., section 1-14.
    """
    if len(sizes) != len(tolerances):
        raise ValueError(f"tolerances: {len(tolerances)} were given for {len(sizes)} sizes; allowed: one each")
    return Stack(sum(sizes), sum(map(abs, tolerances)), math.sqrt(sum(t * t for t in tolerances)))


@result
class TouchChance:
    """How often the shafts touch when hot, by drawing: the share, its standard error, and the gap met in 1 of 100."""

    chance: float
    standard_error: float
    one_in_hundred: float


def touch_chance(
    gap: float,
    *,
    closing: float,
    far_float: float,
    near_float: float,
    face_tolerance: float = 0.0,
    cut_tolerance: float = 0.0,
    closing_spread: float = 0.0,
    draws: int = 20_000,
    seed: int = 1,
) -> TouchChance:
    """Chance that the shafts touch when hot, by Monte Carlo.

    Tolerances are three standard deviations of a normal; each rotor lies anywhere within its float, evenly; the
    closing has the relative standard deviation ``closing_spread``.

    >>> touch_chance(1e-3, closing=0.1e-3, far_float=0.1e-3, near_float=0.1e-3).chance
    0.0
    """
    numbers = np.random.default_rng(seed)
    normal = numbers.standard_normal((4, draws))
    left = gap - closing * (1 + closing_spread * normal[0])
    left = left - (far_float * numbers.random(draws) + near_float * numbers.random(draws))
    left = left + face_tolerance / 3 * normal[1] + cut_tolerance / 3 * (normal[2] + normal[3])
    chance = float(np.mean(left <= 0))
    return TouchChance(chance, math.sqrt(chance * (1 - chance) / draws), float(np.percentile(left, 1)))


@result
class CutVerdict:
    """What to do with the pair as measured: ``action``, by how much [m], and the gap that is really there [m]."""

    action: str
    amount: Number
    true_gap: Number
    gap_needed: Number


@calculation
def cut_verdict(
    measured_gap: q.MeasuredGap,
    *,
    far_float: q.EndFloat,
    near_float: q.EndFloat,
    closing: q.Growth,
    gap_reserve: q.GapReserve,
    shim_room: q.ShimRoom,
    engagement_spare: q.Spare,
) -> CutVerdict:
    """What to do, from the gap as measured with each rotor pushed into its own machine.

    true gap = gm - f1 - f2; needed = x + gr; short = needed - true gap

    Arguments: measured_gap gm [m]; end floats f1, f2 [m] (the hand push takes them up, so they are deducted); closing
    x [m]; gap_reserve gr [m]; shim_room zs [m]; engagement_spare [m]: least engagement less what strength needs.

    go: not short, and enough spline. shim: short by no more than the shim room. take off more: short by more. reject:
    too little spline, now or after the shim or cut (either costs one side as much spline as it gives gap).

    >>> v = cut_verdict(0.5e-3, far_float=0.1e-3, near_float=0.1e-3, closing=0.1e-3, gap_reserve=0.1e-3,
    ...                 shim_room=0.3e-3, engagement_spare=5e-3)
    >>> v.action, round(v.true_gap * 1000, 3)
    ('go', 0.3)

    Source: geometry.
    """
    true_gap = np.asarray(measured_gap) - far_float - near_float
    needed = np.asarray(closing) + gap_reserve
    short = np.round(np.maximum(needed - true_gap, 0.0), 8)  # ten nanometres are rounding, not metal
    enough = np.round(np.asarray(engagement_spare) - short, 8) >= 0
    action = np.where(
        ~enough,
        "reject",
        np.where(short <= 0, "go", np.where(short <= np.round(shim_room, 8), "shim", "take off more")),
    )
    return CutVerdict(action, short, true_gap, needed)  # type: ignore[arg-type]


@calculation
def locked_thrust(
    lock_force: q.Thrust, *, closing: q.Growth, far_float: q.EndFloat = 0.0, near_float: q.EndFloat = 0.0
) -> Number:
    """Axial force that growth pushes into the bearings through a locked spline [N].

    F = F_lock where the closing is more than the floats that are free take up; else none

    Arguments: lock_force [N] of the loaded spline; closing x [m]; far_float, near_float [m]: float that is free in the
    direction of the push. Torque comes with the rotors anywhere in their float. At the worst each stands pushed into
    its machine, and none is free: so leave the floats at 0 to be careful. Shafts and frames are so stiff that a few
    thousandths of a millimetre reach the sliding force; so it is the friction that limits it. The gap does not enter.

    >>> locked_thrust(1800, closing=0.5e-3, far_float=0.1e-3, near_float=0.1e-3)
    1800.0

    Source: equilibrium.
    """
    free = np.asarray(far_float) + near_float
    return np.where(np.asarray(closing) > free, lock_force, 0.0)

"""What a shortage of pressure does: dips, slip, and the heat it leaves in each square centimetre of lining."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.hydraulics import quantities as q


@result
class Dip:
    """One stretch in which pressure lay below what the torque needed."""

    start: float  # [s]
    end: float  # [s]
    lowest: float  # pressure over pressure needed at the worst instant, 1 is enough


@result
class Slip:
    """Slip through a run: speed [rad/s], power [W] and energy so far [J] at the given times."""

    speed: Array
    power: Array
    energy: Array


@calculation
def dips(times: q.SeriesTime, *, pressure: q.Pressure, needed: q.Pressure, longer_than: q.SpinUpTime) -> list[Dip]:
    """Stretches in which pressure lies below the pressure needed.

    pressure < needed; the ends are found on straight lines between the samples

    times [s], pressure and needed [Pa] at these times; longer_than [s]: shorter dips are not told. Gives a list of
    :class:`Dip`. A dip that comes and goes between two samples is not seen.

    >>> dips(np.array([0.0, 1, 2, 3]), pressure=np.array([6e5, 4e5, 6e5, 6e5]), needed=5e5, longer_than=0)
    [Dip(start=0.5, end=1.5, lowest=0.8)]

    Source: definition.
    """
    t, p, n = (np.asarray(column, dtype=float) for column in np.broadcast_arrays(times, pressure, needed))
    spare = p - n
    short: NDArray[np.bool_] = spare < 0
    edges = np.flatnonzero(np.diff(short.astype(int)))
    crossing = [_cross(t, spare, int(i)) for i in edges]
    if short[0]:
        crossing.insert(0, float(t[0]))
    if short[-1]:
        crossing.append(float(t[-1]))
    found = []
    for start, end in zip(crossing[::2], crossing[1::2], strict=True):
        within = (t >= start) & (t <= end) & short
        lowest = float(np.min(p[within] / n[within])) if within.any() else 1.0
        if end - start >= float(longer_than):
            found.append(Dip(start, end, lowest))
    return found


def _cross(t: Array, spare: Array, i: int) -> float:
    return float(t[i] + (t[i + 1] - t[i]) * spare[i] / (spare[i] - spare[i + 1]))


@calculation
def slip(times: q.SeriesTime, *, asked: q.InputTorque, held: q.InputTorque, inertia: q.Inertia) -> Slip:
    """How far the motors run away from the gear train while the clutch can't hold what is asked, and the heat.

    J dω/dt = T - Th while ω > 0 or T > Th; power = Th ω

    times [s]; asked torque and the torque that the clutch holds, both at the gearbox input [N m]; inertia at the input
    [kg m2]. Gives speed of slip [rad/s], power [W] and energy so far [J]. Straight lines between samples; vehicle speed
    as if nothing slipped; friction taken at its dynamic value. The speed can't fall below nil: it is the integral less
    its lowest value so far (where that is below nil), which needs no ``if``.

    >>> run = slip(np.array([0.0, 1.0]), asked=np.array([100.0, 100.0]), held=np.array([60.0, 60.0]), inertia=0.4)
    >>> round(float(run.speed[-1]), 6), round(float(run.energy[-1]), 6)  # 40/0.4 rad/s; 60 x mean 50
    (100.0, 3000.0)

    Source: Newton's second law for turning; friction power = torque x slip speed.
    """
    t, a, h = (np.asarray(column, dtype=float) for column in np.broadcast_arrays(times, asked, held))
    surplus = (a - h) / inertia
    steps = np.diff(t)
    run = np.concatenate([[0.0], np.cumsum((surplus[1:] + surplus[:-1]) / 2 * steps)])
    speed = run - np.minimum(np.minimum.accumulate(run), 0.0)
    power = h * speed
    energy = np.concatenate([[0.0], np.cumsum((power[1:] + power[:-1]) / 2 * steps)])
    return Slip(speed, power, energy)


@calculation
def engaging_time(
    speed: q.InputSpeed, *, inertia: q.Inertia, drive_torque: q.InputTorque, held: q.InputTorque
) -> Number:
    """Time in which a clutch takes up a difference of speed: short is hard, long is hot.

    t = J ω / (Th - T)

    speed to be taken up [rad/s], inertia [kg m2], drive_torque left on and torque held, both at the input [N m]. Gives
    [s]; without limit where the clutch holds no more than is driven.

    >>> engaging_time(100.0, inertia=0.4, drive_torque=0, held=200)
    0.2

    Source: Newton's second law for turning.
    """
    spare = np.asarray(held, dtype=float) - drive_torque
    taken = np.asarray(inertia) * np.asarray(speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(taken == 0, 0.0, np.where(spare > 0, taken / np.where(spare > 0, spare, 1.0), np.inf))


@calculation
def engaging_energy(
    speed: q.InputSpeed, *, inertia: q.Inertia, drive_torque: q.InputTorque, held: q.InputTorque
) -> Number:
    """Heat in a clutch that brings a turning input to rest, or up to speed, against the torque still driving it.

    E = J ω² / 2 x Th / (Th - T)

    speed to be taken up [rad/s], inertia [kg m2], drive_torque left on and torque held, both at the input [N m]. Gives
    [J]; without limit where the clutch holds no more than is driven.

    >>> round(engaging_energy(100.0, inertia=0.4, drive_torque=0, held=200))
    2000

    Source: energy balance of two turning masses; any machine-design text on clutches.
    """
    spare = np.asarray(held, dtype=float) - drive_torque
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(spare > 0, held / np.where(spare > 0, spare, 1.0), np.inf)
        return np.where(np.asarray(speed) == 0, 0.0, inertia * np.asarray(speed) ** 2 / 2 * share)

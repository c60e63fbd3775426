"""Loads that come and go: root mean square of a history, and what heat does to insulation."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Array, Number, calculation
from evlib.motors.quantities import Time, WindingTemperature


@calculation
def rms_of_steps(current: Array, *, duration: Array) -> Number:
    """Root mean square of a load that moves in steps.

    I_rms = sqrt(sum(I_i^2 t_i) / sum(t_i))

    current: of each step, any unit (amps, or power for a machine of steady voltage); duration: of each step, any
    one unit. Says what warms a machine only where cycles are short against its time constants.

    >>> round(rms_of_steps(np.array([100.0, 0.0, 60.0, 0.0]), duration=np.array([10.0, 5.0, 8.0, 4.0])), 2)
    69.07

    Source: Chakrabarti et al., Power System Engineering, 2nd ed., Ex 1.26.
    """
    amps, spans = np.asarray(current, float), np.asarray(duration, float)
    if amps.shape != spans.shape or amps.ndim != 1 or not len(amps):
        raise ValueError("current: wanted a row of steps, with a duration for each")
    if not (np.isfinite(amps).all() and np.isfinite(spans).all() and (spans >= 0).all() and spans.sum() > 0):
        raise ValueError("duration: wanted finite values of at least 0, not all of them 0")
    return float(np.sqrt(np.sum(np.square(amps) * spans) / spans.sum()))


@calculation
def rms_of_log(time: Array, *, current: Array) -> Number:
    """Root mean square of a logged current, straight between its points.

    I_rms^2 = sum((I_i^2 + I_i I_{i+1} + I_{i+1}^2) / 3 * dt_i) / sum(dt_i)

    time: rising [s]; current: at each time [A]. Exact for straight segments, at any spacing.

    >>> round(rms_of_log(np.array([0.0, 3.0]), current=np.array([0.0, 300.0])), 4)
    173.2051

    Source: integral of the square of a straight line.
    """
    seconds, amps = np.asarray(time, float), np.asarray(current, float)
    if seconds.shape != amps.shape or seconds.ndim != 1 or len(seconds) < 2 or not (np.diff(seconds) > 0).all():
        raise ValueError("time: wanted a row of two or more rising times, with a current for each")
    if not (np.isfinite(amps).all() and np.isfinite(seconds).all()):
        raise ValueError("current: wanted finite values")
    before, after, span = amps[:-1], amps[1:], np.diff(seconds)
    squares = (np.square(before) + before * after + np.square(after)) / 3.0
    return float(np.sqrt(np.sum(squares * span) / span.sum()))


@calculation
def insulation_life(
    winding_temperature: WindingTemperature, *, class_temperature: WindingTemperature, class_life: Time
) -> Number:
    """Insulation life at a temperature: it halves for every 10 K above the class temperature.

    life = class_life * 2^((t_class - t) / 10 K)

    winding_temperature: t [K]; class_temperature: t_class [K]; class_life: life at t_class, in the unit wanted.
    A rule of thumb within about 30 K of the class temperature.

    >>> insulation_life(398.15, class_temperature=378.15, class_life=10.0)
    2.5

    Source: Kosow, Electric Machinery and Transformers, 2nd ed., Ex 13-1.
    """
    return class_life * np.exp2((np.asarray(class_temperature) - winding_temperature) / 10.0)

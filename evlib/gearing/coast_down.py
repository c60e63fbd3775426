"""Drag from a coast-down: the speed trace itself is fitted, never its derivative, which would drown in noise.

    (m + m_rot) dv/dt = -[ m g cos(th) (Crr + Crv v) + rho/2 CdA (v + w)|v + w| + m g sin(th) ]

Two runs in opposite directions over the same road tell slope and wind apart from drag: both change sign.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

import numpy as np

from evlib.gearing.log import LogProblem, check_clock, read_log
from evlib.ground.quantity import Array, result
from evlib.ground.road import GRAVITY, STANDARD_AIR

HARDEST_COASTING = 1.2  # m/s2; more than a heavy road load at 130 km/h: somebody braked
SHORTEST_RUN = 8  # lines
LONGEST_STEP = 1.0  # s; of the integration between two lines

Unknown = Literal["rolling_coefficient", "drag_area", "grade", "headwind"]


@result
class CoastRun:
    """One logged run: time [s] from its start, speed [m/s], and its direction, +1 out or -1 back."""

    time: Array
    speed: Array
    direction: float


@result
class CoastFit:
    """What the runs say: best values, 95 % half-widths, scatter of the speed [m/s], and the fitted traces."""

    values: dict[str, float]
    half_width: dict[str, float]
    scatter: float
    traces: tuple[Array, ...]
    runs: tuple[CoastRun, ...]

    @property
    def rolling_coefficient(self) -> float:
        """Rolling resistance coefficient at walking pace."""
        return self.values["rolling_coefficient"]

    @property
    def drag_area(self) -> float:
        """Drag coefficient times frontal area [m2]."""
        return self.values["drag_area"]


def read_run(text: str, *, direction: float) -> CoastRun:
    r"""Read a logged coast-down (see :func:`evlib.gearing.log.read_log`); braking and driving are refused too.

    >>> text = "time [s],speed [km/h]\n" + "\n".join(f"{t},{90 - t}" for t in range(12))
    >>> round(float(read_run(text, direction=1.0).speed[-1]), 3)
    21.944
    """
    found = read_log(text)
    time = check_run(found.time, speed=found.speed, lines=found.lines)
    return CoastRun(time - time[0], found.speed, direction)


def check_run(time: Array, *, speed: Array, lines: Sequence[int] | None = None) -> Array:
    """Refuse a run with gaps, clock jumps, braking or driving in it; gives the time back as it was.

    Raises :class:`LogProblem` naming the line.
    """
    where = list(lines) if lines is not None else list(range(1, len(time) + 1))
    if len(time) < SHORTEST_RUN:
        raise LogProblem(f"{len(time)} lines are too few to fit; at least {SHORTEST_RUN} are wanted")
    usual = check_clock(time, lines=where)
    if (speed < 0).any():
        raise LogProblem(f"line {where[int(np.argmax(speed < 0))]}: the speed is negative")
    # Judge over at least two seconds, so that the rounding of a speed log is not taken for braking.
    width = max(1, round(2.0 / usual))
    slowing = -(speed[width:] - speed[:-width]) / (time[width:] - time[:-width])
    if (slowing > HARDEST_COASTING).any():
        line, rate = _hardest(
            time, speed=speed, lines=where, first=int(np.argmax(slowing > HARDEST_COASTING)), width=width
        )
        raise LogProblem(f"line {line}: {rate:.1f} m/s2 is more than coasting: were the brakes on?")
    if (slowing < -0.3).any():
        first = int(np.argmax(slowing < -0.3))
        line, rate = _hardest(time, speed=-speed, lines=where, first=first, width=width)
        raise LogProblem(f"line {line}: the speed rises by {rate:.1f} m/s2: were the motors on?")
    return time


def _hardest(time: Array, *, speed: Array, lines: Sequence[int], first: int, width: int) -> tuple[int, float]:
    """The line of the hardest single step inside the first stretch that is too hard, and its rate [m/s2]."""
    steps = -np.diff(speed[first : first + width + 1]) / np.diff(time[first : first + width + 1])
    at = int(np.argmax(steps))
    return lines[first + at + 1], float(steps[at])


def coast_speed(time: Array, *, start: float, mass: float, rotating: float = 0.0, rolling_coefficient: float,
                drag_area: float, rolling_speed_term: float = 0.0, grade: float = 0.0, headwind: float = 0.0,
                density: float = STANDARD_AIR) -> Array:  # fmt: skip
    """Speed [m/s] at the times of a run, from its starting speed: classical Runge-Kutta between the lines.

    time [s] rising, start [m/s], mass [kg], rotating [kg] wheels and what turns with them, drag_area = Cd A [m2],
    rolling_speed_term [s/m], grade [1] uphill positive, headwind [m/s], density [kg/m3]. It stops at rest.

    >>> v = coast_speed(np.arange(3.0), start=20.0, mass=1000.0, rolling_coefficient=0.01, drag_area=0.0)
    >>> [round(float(x), 4) for x in v]  # constant 0.0981 m/s2
    [20.0, 19.9019, 19.8039]
    """
    angle = np.arctan(grade)
    steady = mass * GRAVITY * (np.cos(angle) * rolling_coefficient + np.sin(angle))
    rising = mass * GRAVITY * np.cos(angle) * rolling_speed_term
    air, whole = density / 2 * drag_area, mass + rotating

    def rate(v: float) -> float:
        through = v + headwind
        return float(-(steady + rising * v + air * through * abs(through)) / whole)

    speed = np.empty(len(time))
    v = speed[0] = start
    for k in range(1, len(time)):
        pieces = max(1, int(np.ceil((time[k] - time[k - 1]) / LONGEST_STEP)))
        h = float(time[k] - time[k - 1]) / pieces
        for _ in range(pieces):
            k1 = rate(v)
            k2 = rate(v + h / 2 * k1)
            k3 = rate(v + h / 2 * k2)
            v = max(0.0, v + h / 6 * (k1 + 2 * k2 + 2 * k3 + rate(v + h * k3)))
        speed[k] = v
    return speed


def fit(runs: Sequence[CoastRun], *, mass: float, rotating: float = 0.0, density: float = STANDARD_AIR,
        rolling_speed_term: float = 0.0, unknown: Sequence[Unknown] = ("rolling_coefficient", "drag_area", "grade"),
        known: Mapping[Unknown, float] | None = None) -> CoastFit:  # fmt: skip
    """Fit rolling coefficient and drag area (and slope, and wind) to logged runs; with 95 % intervals.

    Least squares on the speeds of all runs together; each run has its own starting speed. grade and headwind are
    those of the run out; the run back sees both with the other sign. Intervals: t times the standard error from the
    fit's Jacobian; they hold for scatter that is independent from line to line, and say nothing of a wrong model.

    runs: one or more; grade or headwind can only be found with runs in both directions. known: values of what is not
    to be found; grade and headwind are 0 where nothing is said, the other two must be said.
    Source: method of Thompson, The Vehicle Road Load Problem, EPA: fit the trace, not its derivative.
    """
    from scipy.optimize import least_squares
    from scipy.stats import t as student

    wanted = tuple(unknown)
    both_ways = len({run.direction for run in runs}) == 2
    if {"grade", "headwind"} & set(wanted) and not both_ways:
        raise ValueError("slope and wind can only be told from drag with runs in both directions")
    fixed: dict[str, float] = {"grade": 0.0, "headwind": 0.0}
    fixed.update({str(name): value for name, value in (known or {}).items()})
    for name in ("rolling_coefficient", "drag_area"):
        if name not in wanted and name not in fixed:
            raise ValueError(f"{name} is neither to be found nor known")
    guess: dict[str, float] = {"rolling_coefficient": 0.012, "drag_area": 0.7, "grade": 0.0, "headwind": 0.0}
    scale = {"rolling_coefficient": 0.01, "drag_area": 0.5, "grade": 0.005, "headwind": 1.0}
    first = [1.0 * guess[name] / scale[name] for name in wanted] + [float(run.speed[0]) / 10 for run in runs]

    def model(x: Array) -> list[Array]:
        named = dict(fixed)
        named.update({name: float(v) * scale[name] for name, v in zip(wanted, x, strict=False)})
        return [
            coast_speed(run.time, start=float(x[len(wanted) + k]) * 10, mass=mass, rotating=rotating, density=density,
                        rolling_coefficient=named["rolling_coefficient"], drag_area=named["drag_area"],
                        rolling_speed_term=rolling_speed_term, grade=named["grade"] * run.direction,
                        headwind=named["headwind"] * run.direction)
            for k, run in enumerate(runs)
        ]  # fmt: skip

    def off(x: Any) -> Any:
        return np.concatenate([trace - run.speed for trace, run in zip(model(np.asarray(x)), runs, strict=True)])

    found = least_squares(off, first, method="lm")
    freedom = len(found.fun) - len(found.x)
    variance = float(found.fun @ found.fun) / freedom
    jacobian = np.asarray(found.jac, dtype=float)
    spread = np.sqrt(np.diag(np.linalg.inv(jacobian.T @ jacobian)) * variance)
    width = float(student.ppf(0.975, freedom))
    return CoastFit(
        values={name: float(found.x[k]) * scale[name] for k, name in enumerate(wanted)},
        half_width={name: float(spread[k]) * scale[name] * width for k, name in enumerate(wanted)},
        scatter=float(np.sqrt(variance)), traces=tuple(model(found.x)), runs=tuple(runs),
    )  # fmt: skip

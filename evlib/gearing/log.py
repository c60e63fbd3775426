"""Logs of time and speed: read from text, refused with the line where something is wrong."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Array, result

LONGEST_GAP = 3.0  # times the usual time between two lines
MOST_LINES = 100_000


class LogProblem(ValueError):
    """A log that cannot be used, with the line of the file that says why."""


@result
class Log:
    """Time [s] and speed [m/s] line by line, and the lines of the file they stand in."""

    time: Array
    speed: Array
    lines: tuple[int, ...]


def read_log(text: str) -> Log:
    r"""Read a heading, then one ``time,speed`` a line; units may stand in the heading's brackets.

    ``time [s],speed [km/h]`` is the usual heading; without a unit, seconds and m/s are meant. Lines that begin with
    ``#`` are notes. What is not two finite numbers, a clock that stands still or jumps back, and gaps are refused.

    >>> log = read_log("time [s],speed [mph]\n0,0\n1,3.0\n2,5.9")
    >>> [round(float(v), 3) for v in log.speed]
    [0.0, 1.341, 2.638]
    """
    rows = [(n, row) for n, row in enumerate(csv.reader(io.StringIO(text)), 1) if row and not row[0].startswith("#")]
    if not rows:
        raise LogProblem("the log is empty")
    if len(rows) > MOST_LINES:
        raise LogProblem(f"{len(rows)} lines; at most {MOST_LINES} are read")
    (first, heading), body = rows[0], rows[1:]
    if len(heading) != 2:
        raise LogProblem(f"line {first}: a heading with two columns is wanted, as in 'time [s],speed [km/h]'")
    scale = (_scale(heading[0], "s", first), _scale(heading[1], "m/s", first))
    lines, time, speed = [], [], []
    for number, row in body:
        try:
            t, v = (float(cell) for cell in row)
        except ValueError:
            raise LogProblem(f"line {number}: {','.join(row)[:40]!r} is not a time and a speed") from None
        if not (np.isfinite(t) and np.isfinite(v)):
            raise LogProblem(f"line {number}: {','.join(row)[:40]!r} is not a finite time and speed")
        lines.append(number)
        time.append(t * scale[0])
        speed.append(v * scale[1])
    if len(time) < 2:
        raise LogProblem(f"{len(time)} lines are too few")
    check_clock(np.array(time), lines=lines)
    return Log(np.array(time), np.array(speed), tuple(lines))


def check_clock(time: Array, *, lines: Sequence[int]) -> float:
    """Refuse a clock that stands still, jumps back or leaves gaps; gives the usual time between two lines [s]."""
    step = np.diff(time)
    if (step <= 0).any():
        raise LogProblem(f"line {lines[int(np.argmax(step <= 0)) + 1]}: the clock stands still or jumps back")
    usual = float(np.median(step))
    if (step > LONGEST_GAP * usual).any():
        at = int(np.argmax(step > LONGEST_GAP * usual))
        raise LogProblem(f"line {lines[at + 1]}: a gap of {step[at]:.1f} s in the log; usual is {usual:.1f} s")
    return usual


def _scale(heading: str, unit: str, line: int) -> float:
    inside = heading[heading.find("[") + 1 : heading.find("]")] if "[" in heading and "]" in heading else ""
    if not inside:
        return 1.0
    try:
        return units.factor(inside.strip(), unit)
    except ValueError as problem:
        raise LogProblem(f"line {line}: {heading.strip()!r}: {problem}") from None

"""A pressure log read: dips, chatter, slow fills and late handovers, each with its time."""

from __future__ import annotations

import csv
import dataclasses
from pathlib import Path
from typing import Literal

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Array, result

COLUMNS = {"time": "s", "pressure": "Pa", "speed": "rad/s", "pump": ""}  # what a log must hold, and its SI unit
LARGEST = 5_000_000  # characters of a log that is read

Trouble = Literal["dip", "chatter", "slow fill", "late handover"]


@result
class Log:
    """A log: times [s], main pressure [Pa], input speed [rad/s], electric pump 1 or 0."""

    time: Array
    pressure: Array
    speed: Array
    pump: Array


@dataclasses.dataclass(frozen=True)
class Finding:
    """One trouble found in a log: what, from when, until when [s], and how bad in words."""

    trouble: Trouble
    start: float
    end: float
    words: str


def read_log(path: str | Path) -> Log:
    """Read a log from a CSV file whose head names each column with its unit.

    For example ``time [s],pressure [kPa],speed [rpm],pump``; lines that begin with ``#`` are remarks. Raises
    ``ValueError`` in one sentence: a column that is missing, a line that is no number, times that do not rise.
    """
    text = Path(path).read_text(encoding="utf-8-sig")
    if len(text) > LARGEST:
        raise ValueError(f"{Path(path).name}: {len(text)} characters; allowed are {LARGEST}")
    lines = [(number, line) for number, line in enumerate(text.splitlines(), start=1) if line and line[0] != "#"]
    rows = list(csv.reader(line for _, line in lines))
    if len(rows) < 3:
        raise ValueError(f"{Path(path).name}: a head and at least two lines of numbers are wanted")
    head, columns = _head(rows[0], Path(path).name), []
    for (number, _), row in zip(lines[1:], rows[1:], strict=True):
        try:
            values = [float(row[place]) * scale for place, scale in head]
        except (ValueError, IndexError):
            raise ValueError(f"{Path(path).name}, line {number}: {','.join(row)[:60]!r} is not numbers") from None
        if not np.isfinite(values).all():
            raise ValueError(f"{Path(path).name}, line {number}: a number is not finite")
        columns.append(values)
    time, pressure, speed, pump = np.array(columns).T
    if np.any(np.diff(time) <= 0):
        row_number = int(np.flatnonzero(np.diff(time) <= 0)[0]) + 2
        raise ValueError(f"{Path(path).name}, line {lines[row_number][0]}: time does not rise")
    return Log(time, pressure, speed, np.asarray(np.round(pump), dtype=float))


def _head(names: list[str], file: str) -> list[tuple[int, float]]:
    """For each wanted column its place and the factor to SI."""
    found = []
    for wanted, unit in COLUMNS.items():
        for place, name in enumerate(names):
            plain, _, rest = name.strip().partition("[")
            if plain.strip().lower() == wanted:
                given = rest.rstrip("] ").strip()
                if unit and not given:
                    raise ValueError(
                        f"{file}: the column {wanted!r} names no unit; write for example '{wanted} [{unit}]'"
                    )
                found.append((place, units.factor(given, unit) if unit else 1.0))
                break
        else:
            raise ValueError(f"{file}: no column {wanted!r}; it has {', '.join(names)}")
    return found


def findings(
    log: Log, *, needed: float, dip_longer: float = 0.05, chatter_within: float = 2.0, chatter_count: int = 4,
    fill_within: float = 0.5, settle: float = 0.3,
) -> list[Finding]:  # fmt: skip
    """All troubles in a log, in order of time.

    A *dip*: pressure below ``needed`` [Pa] for longer than ``dip_longer`` [s], the first fill left out. *Chatter*:
    ``chatter_count`` switchings of the pump within ``chatter_within`` [s]. A *slow fill*: from pump on, longer than
    ``fill_within`` [s] until ``needed`` is reached. A *late handover*: within ``settle`` [s] after the pump was
    switched off, pressure falls below ``needed``: the internal pump did not yet carry it.
    """
    found = _slow_fills(log, needed, fill_within) + _chatter(log, chatter_within, chatter_count)
    late = _late_handovers(log, needed, settle)
    slow = [(f.start, f.end) for f in found if f.trouble == "slow fill"] + [(f.start, f.end) for f in late]
    for start, end, lowest in _below(log, needed):
        covered = any(start <= until and end >= since for since, until in slow)
        if end - start > dip_longer and not covered and start > log.time[0]:
            found.append(Finding("dip", start, end, f"down to {100 * lowest / needed:.0f} % of what is needed"))
    return sorted(found + late, key=lambda finding: finding.start)


def _below(log: Log, needed: float) -> list[tuple[float, float, float]]:
    """Stretches below ``needed``: from, until, lowest pressure."""
    short = np.concatenate([[0], (log.pressure < needed).astype(int), [0]])
    starts, ends = np.flatnonzero(np.diff(short) == 1), np.flatnonzero(np.diff(short) == -1) - 1
    return [(float(log.time[i]), float(log.time[j]), float(log.pressure[i : j + 1].min()))
            for i, j in zip(starts, ends, strict=True)]  # fmt: skip


def _switchings(log: Log, change: float) -> Array:
    return np.asarray(log.time[1:][np.diff(log.pump) == change])


def _slow_fills(log: Log, needed: float, within: float) -> list[Finding]:
    found = []
    for start in _switchings(log, 1.0):
        later = (log.time >= start) & (log.pressure >= needed)
        until = float(log.time[later][0]) if later.any() else float(log.time[-1])
        if until - start > within:
            found.append(
                Finding("slow fill", float(start), until, f"{until - start:.2f} s from pump on to what is needed")
            )
    return found


def _chatter(log: Log, within: float, count: int) -> list[Finding]:
    times = np.sort(np.concatenate([_switchings(log, 1.0), _switchings(log, -1.0)]))
    found: list[Finding] = []
    for i in range(times.size - count + 1):
        if times[i + count - 1] - times[i] <= within:
            start = found.pop().start if found and times[i] <= found[-1].end else float(times[i])
            end = float(times[i + count - 1])
            many = int(np.count_nonzero((times >= start) & (times <= end)))
            found.append(Finding("chatter", start, end, f"{many} switchings in {end - start:.1f} s"))
    return found


def _late_handovers(log: Log, needed: float, settle: float) -> list[Finding]:
    found = []
    for off in _switchings(log, -1.0):
        after = (log.time >= off) & (log.time <= off + settle)
        before = log.pressure[log.time < off]
        if before.size and before[-1] >= needed and (log.pressure[after] < needed).any():
            stretch = [s for s in _below(log, needed) if s[1] >= off and s[0] <= off + settle]
            rpm = np.interp(off, log.time, log.speed) * 30 / np.pi
            words = f"pump off at {rpm:.0f} rpm: the internal pump was not up"
            found.append(Finding("late handover", float(off), stretch[0][1], words))
    return found

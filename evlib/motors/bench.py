"""A machine's test sheet: a bench table with units and provenance, read whole or refused with line and column."""

from __future__ import annotations

import csv
import dataclasses
import io
import math
from pathlib import Path

import numpy as np

from evlib.ground import units
from evlib.ground.quantity import Array
from evlib.ground.tables import Curve

COLUMNS = {"current": "A", "torque": "N m", "speed": "rad/s", "volts": "V"}
LARGEST = 1_000_000  # bytes


class BadSheet(ValueError):
    """A test sheet that cannot be used; the message names file, line and column."""


@dataclasses.dataclass(frozen=True, eq=False)
class BenchTable:
    """A bench table in SI, with the line that each row stands in and where the table comes from."""

    name: str
    source: str
    current: Array
    torque: Array
    speed: Array
    volts: Array
    line: Array


def read_bench_table(path: str | Path) -> BenchTable:
    """Read a bench table: comment lines with ``# source: ...``, a row of names, a row of units, then numbers.

    Names are current, torque, speed, volts, in any order. Every cell is a plain number in its column's unit. Blank,
    NaN, infinite, negative cells, units inside a cell, duplicate rows and missing columns raise :class:`BadSheet`.
    """
    return parse_bench_table(_text(Path(path)), name=Path(path).name)


def read_magnetisation(path: str | Path) -> Curve:
    """Read a published table of current and torque as a magnetisation curve, k = T / I, used without fitting.

    Same file form as a bench table, with the columns current and torque. The torque should be that inside the
    machine; from a shaft torque the curve comes out low by the lost torque over the current.
    """
    name = Path(path).name
    source, table, lines = _table(_text(Path(path)), name, {"current": "A", "torque": "N m"})
    order = np.argsort(table["current"])
    amps, k = table["current"][order], table["torque"][order] / table["current"][order]
    if not (np.diff(amps) > 0).all() or not (np.diff(k) >= 0).all():
        bad = int(lines[order][1:][(np.diff(amps) <= 0) | (np.diff(k) < 0)][0])
        raise BadSheet(f"{name}, line {bad}: torque per ampere falls there; a magnetisation curve only rises")
    return Curve(x=amps, y=k, source=source, name="magnetisation curve")


def parse_bench_table(text: str, *, name: str = "test sheet") -> BenchTable:
    """Read a bench table from text; see :func:`read_bench_table`."""
    source, table, lines = _table(text, name, COLUMNS)
    return BenchTable(name, source, table["current"], table["torque"], table["speed"], table["volts"], lines)


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST:
            raise BadSheet(f"{path.name}: larger than {LARGEST} bytes")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadSheet(f"{path.name}: not UTF-8 text") from None
    except OSError as error:
        raise BadSheet(f"{path.name}: cannot be read: {error.strerror}") from None


def _table(text: str, name: str, wanted: dict[str, str]) -> tuple[str, dict[str, Array], Array]:
    source = ""
    rows: list[tuple[int, list[str]]] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("#"):
            note = line.lstrip("# \t")
            source = note[len("source:") :].strip() if note.lower().startswith("source:") else source
        elif line.strip():
            try:
                rows.append((number, [cell.strip() for cell in next(csv.reader(io.StringIO(line), strict=True))]))
            except csv.Error as error:
                raise BadSheet(f"{name}, line {number}: {error}") from None
    if not source:
        raise BadSheet(f"{name}: no line '# source: ...'; say who measured this, where and when")
    if len(rows) < 2:
        raise BadSheet(f"{name}: wanted a row of names and a row of units")
    order = _names(name, *rows[0], wanted)
    factors = _factors(name, *rows[1], order, wanted)
    table, lines = _numbers(name, rows[2:], order, factors)
    return source, dict(zip(order, table.T, strict=True)), lines


def _names(name: str, line: int, cells: list[str], wanted: dict[str, str]) -> list[str]:
    order = [cell.lower() for cell in cells]
    if sorted(order) != sorted(wanted):
        raise BadSheet(f"{name}, line {line}: columns are {', '.join(cells)}; wanted {', '.join(wanted)}, each once")
    return order


def _factors(name: str, line: int, cells: list[str], order: list[str], wanted: dict[str, str]) -> list[float]:
    if len(cells) != len(order):
        raise BadSheet(f"{name}, line {line}: {len(cells)} units for {len(order)} columns")
    factors = []
    for key, unit in zip(order, cells, strict=True):
        try:
            if not unit:
                raise units.UnitProblem("no unit")
            factors.append(units.read(f"1 {unit}", wanted[key]))
        except ValueError as error:
            raise BadSheet(f"{name}, line {line}, column {key}: {error}; this line holds the units") from None
    return factors


def _numbers(
    name: str, rows: list[tuple[int, list[str]]], order: list[str], factors: list[float]
) -> tuple[Array, Array]:  # fmt: skip
    table: list[tuple[float, ...]] = []
    lines: list[int] = []
    seen: dict[tuple[float, ...], int] = {}
    for line, cells in rows:
        if len(cells) != len(order):
            raise BadSheet(f"{name}, line {line}: {len(cells)} cells, wanted {len(order)}")
        values = tuple(_cell(name, line, key, cell) * f for key, cell, f in zip(order, cells, factors, strict=True))
        if values in seen:
            raise BadSheet(f"{name}, line {line}: the same row as line {seen[values]}")
        seen[values] = line
        table.append(values)
        lines.append(line)
    if len(table) < 4:
        raise BadSheet(f"{name}: {len(table)} rows; wanted four or more")
    return np.array(table, dtype=float), np.array(lines, dtype=float)


def _cell(name: str, line: int, key: str, cell: str) -> float:
    where = f"{name}, line {line}, column {key}"
    if not cell:
        raise BadSheet(f"{where}: blank; leave the whole row out if it was not measured")
    try:
        value = float(cell)
    except ValueError:
        raise BadSheet(f"{where}: {cell!r} is not a plain number in the unit of the units row") from None
    if not math.isfinite(value):
        raise BadSheet(f"{where}: {cell} is not a finite number")
    if value < 0 or (value == 0 and key in ("current", "volts", "speed")):
        raise BadSheet(f"{where}: {cell} was given; allowed: {'at least 0' if key == 'torque' else 'more than 0'}")
    return value

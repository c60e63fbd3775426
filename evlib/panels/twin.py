"""The text twin of a picture: its alternative text, the computed result in one sentence, and a small table."""

from __future__ import annotations

import dataclasses
import html

from evlib.ground import units
from evlib.ground.quantity import Quantity


@dataclasses.dataclass(frozen=True)
class Amount:
    """A number in SI with its unit, shown in the learner's units; held cases are compared by it."""

    value: float
    unit: str
    kind: str = ""
    digits: int = 3

    def show(self, *, system: str = "SI") -> str:
        """As text with its unit."""
        return units.show(self.value, self.unit, kind=self.kind, system=system, digits=self.digits)

    def change(self, before: Amount, *, system: str = "SI") -> str:
        """What was added since ``before``, with its sign."""
        kind = "difference" if self.unit == "K" else self.kind
        text = dataclasses.replace(self, value=self.value - before.value, kind=kind).show(system=system)
        return text if text.startswith(("-", "0")) and self.value <= before.value else f"+{text}"


def amount(value: float, quantity: Quantity, *, digits: int = 3) -> Amount:
    """An amount of a declared quantity, which knows its unit and kind."""
    return Amount(float(value), quantity.unit, quantity.kind, digits)


Cell = str | Amount


@dataclasses.dataclass(frozen=True)
class Table:
    """A small table: the header names the columns, the first cell of each row names the row."""

    header: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.header):
                raise ValueError(f"row {row!r} has {len(row)} cells; the header has {len(self.header)}")

    def html(self, *, system: str = "SI") -> str:
        """As HTML with row and column headers."""
        return table_html(self.header, [[text(cell, system=system) for cell in row] for row in self.rows])

    def plain(self, *, system: str = "SI") -> str:
        """As lines of text."""
        rows = [list(self.header), *([text(cell, system=system) for cell in row] for row in self.rows)]
        widths = [max(len(row[column]) for row in rows) for column in range(len(self.header))]
        return "\n".join(
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
        )

    def differences(self, before: Table, *, system: str = "SI") -> list[list[str]]:
        """Rows [what, held, now, change] for each amount that both tables have and that differs."""
        held = {(str(row[0]), name): cell for row in before.rows for name, cell in zip(before.header, row, strict=True)}
        rows = []
        for row in self.rows:
            for name, cell in list(zip(self.header, row, strict=True))[1:]:
                old = held.get((str(row[0]), name))
                if not isinstance(cell, Amount) or not isinstance(old, Amount) or cell.value == old.value:
                    continue
                what = str(row[0]) if len(self.header) == 2 else f"{row[0]}, {name}"
                rows.append([what, old.show(system=system), cell.show(system=system), cell.change(old, system=system)])
        return rows


@dataclasses.dataclass(frozen=True)
class Twin:
    """What a picture says, in words: ``alt`` for who can't see it, ``sentence`` with the result, and a table."""

    alt: str
    sentence: str
    table: Table

    def __post_init__(self) -> None:
        for name in ("alt", "sentence"):
            if not getattr(self, name).strip():
                raise ValueError(f"{name} is empty; a picture owes its text")


def text(cell: Cell, *, system: str = "SI") -> str:
    """A cell as text."""
    return cell.show(system=system) if isinstance(cell, Amount) else cell


def table_html(header: tuple[str, ...], rows: list[list[str]]) -> str:
    """A table with scoped headers, so that a screen reader names row and column."""
    left = 'style="text-align:left"'
    head = "".join(f'<th scope="col" {left}>{html.escape(name)}</th>' if name else "<td></td>" for name in header)
    body = "".join(
        f'<tr><th scope="row" {left}>{html.escape(row[0])}</th>'
        + "".join(f"<td {left}>{html.escape(cell)}</td>" for cell in row[1:])
        + "</tr>"
        for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"

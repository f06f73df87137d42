"""Tables as data: cells in SI that every writer prints alike."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planform.design.units import KINDS, SI_UNIT


@dataclass(frozen=True)
class Quantity:
    """One value of a table in SI, its kind, and what the tolerances do to it."""

    value: float
    kind: str
    worst: float = 0.0


@dataclass(frozen=True)
class Words:
    """A sentence with values in it, at {0}, {1}, ..."""

    text: str
    values: tuple[Quantity, ...] = ()


Cell = str | Quantity | Words | None


@dataclass(frozen=True)
class SheetTable:
    """A table: a key, a title, column heads, rows of cells, and remarks under it."""

    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    remarks: tuple[str, ...] = ()

    def numeric(self, column: int) -> bool:
        """Whether a column holds values, which stand to the right."""
        return any(isinstance(row[column], Quantity) for row in self.rows)


Shown = Callable[[float, str], str]
"""A value [SI] of a kind as text in the reader's units."""


def to_csv(sheets: tuple[SheetTable, ...], shown: Shown) -> str:
    """Every value of the tables on a line of its own: in SI with its unit, and as it is read."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["table", "row", "column", "text", "value", "unit", "worst case", "as read"])
    for sheet in sheets:
        for k, row in enumerate(sheet.rows):
            for head, cell in zip(sheet.columns, row, strict=True):
                writer.writerows([sheet.key, k + 1, head, *line] for line in _csv(cell, shown))
    return out.getvalue()


def _csv(cell: Cell, shown: Shown) -> Iterator[tuple[str, str, str, str, str]]:
    if isinstance(cell, str):
        yield cell, "", "", "", ""
    elif isinstance(cell, Quantity):
        yield "", *_value(cell, shown)
    elif isinstance(cell, Words):
        for k, value in enumerate(cell.values):
            before = cell.text.split(f"{{{k}}}")[0]
            yield before.rsplit("}", 1)[-1].strip(" ;,"), *_value(value, shown)
        if not cell.values and cell.text:
            yield cell.text, "", "", "", ""


def _value(one: Quantity, shown: Shown) -> tuple[str, str, str, str]:
    worst = f"{one.worst:.6g}" if one.worst else ""
    return f"{one.value:.6f}", si_unit(one.kind), worst, shown(one.value, one.kind)


def si_unit(kind: str) -> str:
    """The SI unit of a cell's kind."""
    return SI_UNIT[KINDS.get(kind, kind)]

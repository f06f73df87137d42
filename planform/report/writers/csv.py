"""Tables as CSV: every value in SI with its unit, and as it is read."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence

from planform.design.told import said
from planform.design.units import KINDS, SI_UNIT
from planform.report.table import Cell, Noted, Quantity, Table, Words

ENDING = "csv"


def written(tables: Iterable[Table], system: str) -> str:
    """Every value of the tables on a line of its own: in SI with its unit, and as it is read."""
    lines: list[Sequence[object]] = [
        ("table", "row", "column", "text", "value", "unit", "worst case", "as read")
    ]
    for table in tables:
        for k, row in enumerate(table.rows):
            for head, cell in zip(table.columns, row, strict=True):
                lines += [(table.key, k + 1, head, *line) for line in _csv(cell, system)]
    return csv_text(lines)


def csv_text(lines: Iterable[Sequence[object]]) -> str:
    """Lines of cells as CSV, in which no text runs where a spreadsheet opens it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerows([_inert(c) if isinstance(c, str) else c for c in line] for line in lines)
    return out.getvalue()


_VALUE = re.compile(r"""[+-](?:\d+'-)?\d[\d ./]*(?:e[+-]?\d+|["']| ?[A-Za-z%°][A-Za-z0-9 %°]*)?""")


def _inert(text: str) -> str:
    """A cell that a spreadsheet shows and does not work out: values stay, formulas get a mark."""
    runs = text.startswith(("=", "+", "-", "@", "\t", "\r")) and not _VALUE.fullmatch(text)
    return f"'{text}" if runs else text


def _csv(cell: Cell, system: str) -> Iterator[tuple[str, str, str, str, str]]:
    if isinstance(cell, str):
        yield cell, "", "", "", ""
    elif isinstance(cell, Noted):
        yield "; ".join([cell.text, *cell.notes]), "", "", "", ""
    elif isinstance(cell, Quantity):
        yield "", *_value(cell, system)
    elif isinstance(cell, Words):
        for k, value in enumerate(cell.values):
            yield cell.before(k), *_value(value, system)
        if not cell.values and cell.text:
            yield cell.filled(()), "", "", "", ""


def _value(one: Quantity, system: str) -> tuple[str, str, str, str]:
    worst = f"{one.worst:.6g}" if one.worst else ""
    return f"{one.value:.6f}", si_unit(one.kind), worst, said(one.value, one.kind, system)


def si_unit(kind: str) -> str:
    """The SI unit of a cell's kind."""
    return SI_UNIT[KINDS.get(kind, kind)]

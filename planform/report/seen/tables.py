"""Tables of a look: cells as texts, each with the value that it is sorted by."""

from __future__ import annotations

from planform.report.record import Record
from planform.report.table import Cell, Quantity, Table, cell
from planform.report.table_html import colour_of


def table_look(table: Table, system: str) -> Record:
    """A table as a page takes it.

    system : one of 'ft-in', 'in', 'mm', 'm'
    """
    return {
        "title": table.title,
        "columns": table.columns,
        "rows": [[_cell(one, system) for one in row] for row in table.rows],
        "remarks": table.remarks,
    }


def _cell(one: Cell, system: str) -> Record:
    text = cell(one, system)
    found: Record = {"text": text, "value": one.value if isinstance(one, Quantity) else None}
    colour = colour_of(text)
    return found | {"verdict": colour} if colour else found

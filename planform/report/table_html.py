"""Tables as parts of a page."""

from __future__ import annotations

from html import escape

from planform.fit.verdict import Verdict
from planform.report.table import Table

COLOURS = (
    *((word.value, word.colour) for word in Verdict),
    ("inside", "fits"),
    ("inside only with care", "care"),
)
"""Words that stand in colour where a cell is just these."""


def to_html(table: Table, system: str) -> str:
    """The table with its title and its remarks; every text in it is escaped."""
    sides = [' class="n"' if table.numeric(k) else "" for k in range(len(table.columns))]
    heads = "".join(
        f"<th{side}>{escape(head)}</th>" for side, head in zip(sides, table.columns, strict=True)
    )
    rows = "".join(f"<tr>{_row(cells, sides)}</tr>\n" for cells in table.texts(system))
    remarks = "".join(f'<p class="soft">{escape(text)}</p>' for text in table.remarks)
    name = table.key.replace(" ", "-").replace(",", "")
    return (
        f'\n<div class="sheet" id="{escape(name)}"><h3>{escape(table.title)}</h3>\n'
        f"<table><thead><tr>{heads}</tr></thead><tbody>\n{rows}</tbody></table>\n{remarks}</div>\n"
    )


def _row(cells: list[str], sides: list[str]) -> str:
    return "".join(f"<td{side}>{_cell(text)}</td>" for text, side in zip(cells, sides, strict=True))


def _cell(text: str) -> str:
    colour = dict(COLOURS).get(text, "not" if text.startswith("outside") else "")
    inner = escape(text)
    return f'<span class="v {colour}">{inner}</span>' if colour else inner

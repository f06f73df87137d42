"""Tables as parts of a page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from planform.fit.verdict import Verdict
from planform.report.table import Cell, Noted, Table, cell

COLOURS = (
    *((word.value, word.colour) for word in Verdict),
    ("inside", "fits"),
    ("inside only with care", "care"),
)
"""Words that stand in colour where a cell is just these."""

WIDE = 4
"""From so many columns on, a row is stacked on a narrow screen, each value with its head."""


def to_html(table: Table, system: str, level: int = 3) -> str:
    """The table with its title and its remarks; every text in it is escaped.

    level : of the heading that its title is; 3 where it stands under one of the page
    """
    sides = [' class="n"' if table.numeric(k) else "" for k in range(len(table.columns))]
    heads = "".join(
        f"<th{side}>{escape(head)}</th>" if head else f"<td{side}></td>"
        for side, head in zip(sides, table.columns, strict=True)
    )
    wide = len(table.columns) >= WIDE
    labels = [
        f' data-head="{escape(head)}"' if wide and k and head else ""
        for k, head in enumerate(table.columns)
    ]
    opens = [f"<td{side}{label}>" for side, label in zip(sides, labels, strict=True)]
    rows = "".join(f"<tr>{_row(cells, opens, system)}</tr>\n" for cells in table.rows)
    minor = ' class="minor"' if level < 3 else ""
    title = f"<h{level}{minor}>{escape(table.title)}</h{level}>" if table.title else ""
    remarks = "".join(f'<p class="soft">{escape(text)}</p>' for text in table.remarks)
    kind = "sheet wide" if wide else "sheet"
    name = table.key.replace(" ", "-").replace(",", "")
    return (
        f'\n<div class="{kind}" id="{escape(name)}">{title}\n'
        f"<table><thead><tr>{heads}</tr></thead><tbody>\n{rows}</tbody></table>\n{remarks}</div>\n"
    )


def _row(cells: Sequence[Cell], opens: Sequence[str], system: str) -> str:
    pairs = zip(cells, opens, strict=True)
    return "".join(f"{start}{_cell(one, system)}</td>" for one, start in pairs)


def _cell(one: Cell, system: str) -> str:
    if isinstance(one, Noted):
        notes = "".join(f'<br><span class="soft">{escape(note)}</span>' for note in one.notes)
        return _text(one.text) + notes
    return _text(cell(one, system))


def colour_of(text: str) -> str:
    """The key of the colour of a cell that is just a verdict; empty for any other."""
    return dict(COLOURS).get(text, "not" if text.startswith("outside") else "")


def _text(text: str) -> str:
    colour = colour_of(text)
    inner = escape(text)
    return f'<span class="v {colour}">{inner}</span>' if colour else inner

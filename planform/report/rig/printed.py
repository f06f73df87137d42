"""The card on one printed side: the drawing, the readings with their boxes, the order of work."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from planform.report.printed.document import on_one_side
from planform.report.printed.pieces import (
    Beside,
    Blanks,
    Boxed,
    Flowing,
    HeadingText,
    Illustration,
    Listed,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.rig.bench import BenchRow, BenchSheet
from planform.report.rig.words import go_words, value_words

WIDTHS = (8.0, 62.0, 25.0, 27.0, 30.0, 30.0)
"""Of a reading's number, words, target, limits and boxes [mm]."""
HEADS = ("", "read", "set to", "GO", "read", "again")
TWICE = ("as it lies", "turned end for end")
ROW, SIGN = 8.0, 8.0
"""How high a box is, and a line to sign [mm]."""
HEIGHTS = (78.0, 66.0, 56.0, 48.0, 42.0)
"""How high the drawing may be, until all of it stands on one side [mm]."""
WIDTH, WIDEST = 182.0, 125.0
"""Of the page between its margins, and of a drawing that has the order of work beside it [mm]."""
SIGNED = (24.0, 40.0, 16.0, 32.0, 38.0, 32.0)


def rig_document(sheet: BenchSheet, paper: str | None) -> Printed:
    """The card: one side of paper, the drawing as large as that lets it be."""
    chosen = paper_of(paper, sheet.system)
    return on_one_side(
        Printed(sheet.title, tuple(_pieces(sheet, height)), sheet.system, chosen)
        for height in HEIGHTS
    )


def _pieces(sheet: BenchSheet, height: float) -> Iterator[Piece]:
    from planform import __version__

    yield Prose(" ".join((sheet.lead, *sheet.before)))
    order = (HeadingText("Order of work", 3), Listed(sheet.order, numbered=True))
    wide = height * sheet.drawing.size[0] / sheet.drawing.size[1]
    drawn = Illustration(sheet.drawing, "", height)
    if wide < WIDEST:
        yield Beside(((drawn,), order), shares=(wide, WIDTH - 5.0 - wide))
    else:
        yield drawn
        yield from order
    yield Blanks(
        tuple(_row(row, sheet.system) for row in sheet.rows),
        WIDTHS, head=HEADS, height=ROW, labels=frozenset({0}), strong=frozenset({0, 2}),
    )  # fmt: skip
    told = (*(() if sheet.shims is None else (sheet.shims,)), *sheet.tables)
    if told:
        yield Flowing(told)
    yield Boxed(sheet.cautions)
    yield Blanks(
        (("read by", "", "date", "", "person responsible", ""),), SIGNED, height=SIGN,
        labels=frozenset({0, 2, 4}),
    )  # fmt: skip
    date = datetime.date.today().isoformat()
    yield Prose(" ".join((*sheet.remarks, f"{date}, planform {__version__}.")), soft=True)


def _row(row: BenchRow, system: str) -> tuple[str, ...]:
    again = "" if row.twice else "–"
    target = value_words(row.target, row.kind, system)
    return (str(row.number), row.words, target, go_words(row, system), "", again)

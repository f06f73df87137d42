"""The card on one printed side: the drawing, the readings with their boxes, the order of work."""

from __future__ import annotations

import datetime
import re
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

WIDTHS = (11.0, 64.0, 23.0, 24.0, 30.0, 30.0)
"""Of a reading's number, words, target, limits and boxes [mm]."""
HEADS = ("", "read", "set to", "GO", "read; of a pair left", "end for end; right")
CHECKED = (26.0, 44.0, 26.0, 30.0, 56.0)
"""Of a limit, what sees it, how large that may be, a box for it, and the instruments [mm]."""
LIMITS = ("limit", "seen by", "GO", "comes to", "with")
ROW, SIGN = 8.0, 8.0
"""How high a box is, and a line to sign [mm]."""
HEIGHTS = (78.0, 66.0, 56.0, 48.0, 42.0)
"""How high the drawing may be, until all of it stands on one side [mm]."""
WIDTH, WIDEST = 182.0, 125.0
"""Of the page between its margins, and of a drawing that has the order of work beside it [mm]."""
SIGNED = (24.0, 40.0, 16.0, 32.0, 38.0, 32.0)


def rig_document(sheet: BenchSheet, paper: str | None) -> Printed:
    """The card: one side of paper, the drawing as large as that lets it be.

    Where the reasons of the steps find no room they are left to the page.
    """
    chosen = paper_of(paper, sheet.system)
    return on_one_side(
        Printed(sheet.title, tuple(_pieces(sheet, height, reasons)), sheet.system, chosen)
        for reasons in (True, False)
        for height in HEIGHTS
    )


def _pieces(sheet: BenchSheet, height: float, reasons: bool) -> Iterator[Piece]:
    from planform import __version__

    yield Prose(" ".join((sheet.lead, *sheet.before)))
    lines = sheet.reasoned if reasons else sheet.order
    order = (HeadingText("Order of work", 3), Listed(lines, numbered=True))
    wide = height * sheet.drawing.size[0] / sheet.drawing.size[1]
    drawn = Illustration(sheet.drawing, "", height)
    if wide < WIDEST:
        yield Beside(((drawn,), order), shares=(wide, WIDTH - 5.0 - wide))
    else:
        yield drawn
        yield from order
    yield Blanks(
        _rows(sheet.rows),
        WIDTHS, head=HEADS, height=ROW, labels=frozenset({0}), strong=frozenset({0, 2}),
    )  # fmt: skip
    if sheet.checks:
        rows = tuple((c.name, c.reading, c.go, "", c.seen) for c in sheet.checks)
        yield Blanks(rows, CHECKED, head=LIMITS, height=ROW, strong=frozenset({0, 2}))
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


def _rows(rows: tuple[BenchRow, ...]) -> tuple[tuple[str, ...], ...]:
    """The readings; left and right alike stand on one line, with a box for each."""
    out: list[tuple[str, ...]] = []
    done: set[int] = set()
    for row in rows:
        if row.number in done:
            continue
        twin = next((one for one in rows if _pair(row, one)), None)
        number, words = str(row.number), row.words
        if twin is not None:
            done.add(twin.number)
            number, words = f"{number}, {twin.number}", _both(words)
        boxes = ("", "" if row.twice or twin is not None else "–")
        out.append((number, words, row.target, row.short, *boxes))
    return tuple(out)


def _pair(left: BenchRow, right: BenchRow) -> bool:
    """Whether two readings are the same on the left and on the right, and each needs one box."""
    same = (left.target, left.short, left.instrument) == (
        right.target,
        right.short,
        right.instrument,
    )
    mirrored = re.sub(r"\bleft\b", "right", left.words)
    sided = mirrored != left.words and mirrored == right.words
    return same and sided and not (left.twice or right.twice)


def _both(words: str) -> str:
    return re.sub(r"\bleft\b", "left, right", words)

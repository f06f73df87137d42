"""The card on one printed side: the drawing, the readings with their boxes, the order of work."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from planform.report.printed.document import is_one_side, on_one_side
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
from planform.report.rig.bench import BenchCheck, BenchRow, BenchSheet
from planform.report.rig.sheet import TOGETHER, both_sides, swapped
from planform.report.rig.words import NO_LIMIT, SIGNS
from planform.report.table import Table

WIDTHS = (11.0, 64.0, 23.0, 24.0, 30.0, 30.0)
"""Of a reading's number, words, target, limits and boxes [mm]."""
HEADS = ("", "read", "set to", "GO", "read; of a pair left", "end for end; right")
LIMITS = ("limit", "seen by", "GO", "with")
CLAUSES = 2
"""Of the words on what can see a limit, on paper."""
ROW, SIGN = 8.0, 8.0
"""How high a box is, and a line to sign [mm]."""
SIZES = (
    *((height, True, 1.0) for height in (78.0, 64.0, 52.0)),
    *((height, False, 1.0) for height in (52.0, 44.0)),
    *((44.0, False, scale) for scale in (0.94, 0.88, 0.83, 0.78)),
)
"""How high the drawing is [mm], whether reasons are told, and how large all of it is, from the
roomiest on, until it stands on one side; boxes keep their height."""
GROWN = (2.2, 1.9, 1.65, 1.45, 1.3, 1.2, 1.1)
"""By how much the drawing grows into what is left free on that side, as far as it can."""
WIDTH, WIDEST = 182.0, 125.0
"""Of the page between its margins, and of a drawing that has the order of work beside it [mm]."""
SIGNED = (20.0, 36.0)


def rig_document(sheet: BenchSheet, paper: str | None) -> Printed:
    """The card: one side of paper, the drawing as large as that lets it be.

    Where the reasons of the steps find no room they are left to the page.
    """
    chosen = paper_of(paper, sheet.system)

    def laid(height: float, reasons: bool, scale: float) -> Printed:
        pieces = tuple(_pieces(sheet, height, reasons, scale))
        return Printed(sheet.title, pieces, sheet.system, chosen, scale=scale)

    height, reasons, scale = next((s for s in SIZES if is_one_side(laid(*s))), SIZES[-1])
    return on_one_side(laid(by * height, reasons, scale) for by in (*GROWN, 1.0))


def _pieces(sheet: BenchSheet, height: float, reasons: bool, scale: float) -> Iterator[Piece]:
    from planform import __version__

    yield Prose(" ".join((sheet.lead, *sheet.before)))
    lines = sheet.reasoned if reasons else sheet.order
    order = (HeadingText("Order of work", 3), Listed(lines, numbered=True))
    wide = height * sheet.drawing.size[0] / sheet.drawing.size[1]
    drawn = Illustration(sheet.drawing, "", height)
    if wide < WIDEST / scale:
        yield Beside(((drawn,), order), shares=(wide, WIDTH / scale - 5.0 - wide))
    else:
        yield drawn
        yield from order
    yield Prose(SIGNS, soft=True)
    yield Blanks(
        _rows(sheet.rows),
        WIDTHS, head=HEADS, height=ROW / scale, labels=frozenset({0}), strong=frozenset({0, 2}),
    )  # fmt: skip
    limits = tuple((c.name, c.reading, c.go, _short(c)) for c in sheet.checks if c.limited)
    if limits:
        yield Table("limits", "", LIMITS, limits)
    told = (*(() if sheet.shims is None else (sheet.shims,)), *sheet.tables)
    if told:
        yield Flowing(told)
    signed = Blanks(
        (("read by", ""), ("date", ""), ("responsible", "")), SIGNED, height=SIGN / scale
    )
    yield Beside(((Boxed(sheet.cautions),), (signed,)), shares=(2.2, 1.0))
    open_ones = tuple(c.name for c in sheet.checks if not c.limited)
    none = (f"No limit is given for {', '.join(open_ones)}.",) if open_ones else ()
    date = datetime.date.today().isoformat()
    yield Prose(" ".join((*none, *sheet.remarks, f"{date}, planform {__version__}.")), soft=True)


def _rows(rows: tuple[BenchRow, ...]) -> tuple[tuple[str, ...], ...]:
    """The readings; left and right alike stand on one line, with a box for each."""
    out: list[tuple[str, ...]] = []
    done: set[int] = set()
    for row in rows:
        if row.number in done:
            continue
        twin = next((one for one in rows if _pair(row, one)), None)
        number, words, target, short = str(row.number), row.words, row.target, row.short
        if twin is not None:
            done.add(twin.number)
            number, words = f"{number}, {twin.number}", both_sides(words)
            target = target if twin.target == target else f"{target}, {twin.target}"
            short = short if twin.short == short else TOGETHER
        boxes = ("", "" if row.twice or twin is not None else "–")
        out.append((number, words, target, short, *boxes))
    return tuple(out)


def _pair(left: BenchRow, right: BenchRow) -> bool:
    """Whether two readings are the same on the left and on the right, and each needs one box."""
    open_ones = {left.short, right.short} <= {NO_LIMIT, TOGETHER}
    same = left.instrument == right.instrument and (left.short == right.short or open_ones)
    size = left.target.lstrip("-") == right.target.lstrip("-")
    sided = left.words != right.words and swapped(left.words) == right.words
    return same and size and sided and not (left.twice or right.twice)


def _short(check: BenchCheck) -> str:
    """What can see a limit and what cannot, the first of each; the rest stands on the page."""
    return "; ".join(check.seen.split("; ")[:CLAUSES])

"""Tables and forms on paper: columns as wide as they need, heads again on every page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import accumulate
from typing import TYPE_CHECKING, Any

from planform.drawing.writers.embedded import MM
from planform.report.printed.looks import (
    BOLD,
    INK,
    LINE,
    PLAIN,
    SIZES,
    SOFT,
    in_colour,
    safe,
    style,
)
from planform.report.printed.pieces import LOWEST, NARROWEST, Blanks
from planform.report.table import Cell, Noted, Quantity, Table, cell
from planform.report.table_html import colour_of

if TYPE_CHECKING:
    from reportlab.platypus import Flowable, Paragraph

PAD = 2.4
"""Between a cell's words and its edge [pt]."""
TIGHT = 1.3
"""Over and under a cell's words [pt]."""
SPACE = "\u00a0"


@dataclass(frozen=True, eq=False)
class Rows:
    """What a table's rows are on paper, and how wide and high they are [pt].

    fixed : rows over the body, the title and the heads ; again : those on every page after
    """

    widths: Sequence[float]
    fixed: list[list[Any]]
    again: list[list[Any]]
    body: list[list[Any]]
    remarks: list[list[Any]]

    def high(self, row: Sequence[Any]) -> float:
        """The height of a row."""
        if len(row) == 1:
            parts = row[0] if isinstance(row[0], list) else [row[0]]
            wide = sum(self.widths) - 2 * PAD
            highs = [p.wrap(wide, 1e6)[1] + p.getSpaceBefore() + p.getSpaceAfter() for p in parts]
            return float(sum(highs)) + 2 * TIGHT + 1.0
        pairs = zip(row, self.widths, strict=True)
        return float(max(c.wrap(w - 2 * PAD, 1e6)[1] for c, w in pairs)) + 2 * TIGHT

    def made(self) -> Flowable:
        """All of it as one grid."""
        from reportlab.platypus import Table as Grid

        rows = [*self.fixed, *self.body, *self.remarks]
        spread = [[*row, *[""] * (len(self.widths) - len(row))] for row in rows]
        made = Grid(spread, colWidths=list(self.widths), hAlign="LEFT", splitInRow=1)
        top = len(self.fixed)
        looks: list[tuple[Any, ...]] = [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("LEFTPADDING", (0, 0), (-1, -1), PAD),
            ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
            ("LEFTPADDING", (0, 0), (0, -1), 0.0),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0.0),
            ("TOPPADDING", (0, 0), (-1, -1), TIGHT),
            ("BOTTOMPADDING", (0, 0), (-1, -1), TIGHT),
            ("LINEBELOW", (0, top), (-1, top + len(self.body) - 1), 0.35, LINE),
        ]
        if top:
            looks.append(("VALIGN", (0, top - 1), (-1, top - 1), "BOTTOM"))
            looks.append(("LINEBELOW", (0, top - 1), (-1, top - 1), 0.9, INK))
        if len(self.widths) > 1:
            spans = [k for k, row in enumerate(rows) if len(row) == 1]
            looks += [("SPAN", (0, k), (-1, k)) for k in spans]
        made.setStyle(looks)
        return made

    def parted(self, room: float) -> tuple[Rows, Rows] | None:
        """As many rows as a height takes, and the rest; None where too few would stand there."""
        heights = [self.high(row) for row in self.body]
        room -= sum(map(self.high, self.fixed)) + 1.0
        count = sum(1 for end in accumulate(heights) if end <= room)
        count = min(count, len(heights) - TOGETHER)
        if count < TOGETHER:
            return None
        first = replace(self, body=self.body[:count], remarks=[])
        return first, replace(self, fixed=self.again, body=self.body[count:])


TOGETHER = 2
"""Rows that stand on a page at least, under the heads or before the remarks."""


def rows_of(one: Table, system: str, width: float) -> Rows:
    """A table laid out on paper.

    width : of the page between its margins [pt]
    """
    numeric = [one.numeric(k) for k in range(len(one.columns))]
    texts = [[_whole(c, system) for c in row] for row in one.rows]
    wanted = [
        [_with_notes(c, text) for c, text in zip(row, said, strict=True)]
        for row, said in zip(one.rows, texts, strict=True)
    ]
    heads: list[list[Any]] = []
    if any(one.columns):
        pairs = zip(one.columns, numeric, strict=True)
        heads = [[_said(h, "head", right) for h, right in pairs]]
    title = [[_said(one.title, "table title")]] if one.title else []
    again = [[_said(f"{one.title}, continued", "soft")]] if one.title else []
    return Rows(
        column_widths(one.columns, wanted, width),
        [*title, *heads],
        [*again, *heads],
        [
            [_cell(c, t, right) for c, t, right in zip(row, said, numeric, strict=True)]
            for row, said in zip(one.rows, texts, strict=True)
        ],
        [[[_said(text, "soft") for text in one.remarks]]] if one.remarks else [],
    )


def _whole(one: Cell, system: str) -> str:
    """A cell's words; a value and its unit are not parted."""
    if isinstance(one, Noted):
        return one.text
    text = cell(one, system)
    if isinstance(one, Quantity):
        value, *bands = text.split(" ± ")
        return (
            " ±\N{NO-BREAK SPACE}".join([value, *bands])
            .replace(" ", SPACE)
            .replace(f"{SPACE}±", " ±")
        )
    return text


def _with_notes(one: Cell, text: str) -> str:
    """A cell's words and notes, a line each."""
    if colour_of(text):
        text = f"{SPACE}{text.replace(' ', SPACE)}{SPACE}"
    return "\n".join((text, *one.notes)) if isinstance(one, Noted) else text


def _said(text: str, name: str, right: bool = False) -> Paragraph:
    from reportlab.platypus import Paragraph

    return Paragraph(safe(text), style(name, right))


def _cell(one: Cell, text: str, right: bool) -> Paragraph:
    from reportlab.platypus import Paragraph

    colour = colour_of(text)
    inner = in_colour(text, colour) if colour else safe(text).replace("\n", "<br/>")
    if isinstance(one, Noted):
        notes = "".join(f'<br/><font color="{SOFT}">{safe(note)}</font>' for note in one.notes)
        inner += notes
    return Paragraph(inner, style("cell", right))


# --- widths ---


@cache
def _long(text: str, bold: bool) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    name, size = (BOLD, SIZES["head"][0]) if bold else (PLAIN, SIZES["cell"][0])
    if text.startswith(SPACE):  # a verdict stands in bold
        name = BOLD
    return float(stringWidth(text, name, size))


def column_widths(heads: Sequence[str], rows: Sequence[Sequence[str]], width: float) -> list[float]:
    """How wide the columns are [pt], together as wide as the page.

    Each is as wide as its longest word, and as near to its longest line as the others let it be.
    """
    least, most = [], []
    for k, head in enumerate(heads):
        lines = [line for row in rows for line in row[k].split("\n")]
        words = [word for line in lines for word in line.split(" ")]
        least.append(max(_wide(words, False), _wide(head.split(" "), True)) + 2 * PAD + 0.5)
        whole = min(_wide([head], True), 3 * least[-1])
        most.append(max(_wide(lines, False), whole) + 2 * PAD + 0.5)
    whole = sum(most)
    if whole <= width:
        return [one + (width - whole) / len(most) for one in most]
    floor = sum(least)
    if floor >= width:
        return [one * width / floor for one in least]
    return _grown(least, most, width - floor)


def _grown(least: list[float], most: list[float], room: float) -> list[float]:
    """Columns grown into the room: by the root of what each lacks, none beyond what it wants."""
    out = list(least)
    for _ in least:
        lacks = [high - wide for wide, high in zip(out, most, strict=True)]
        roots = sum(lack**0.5 for lack in lacks if lack > 0.01)
        if room < 0.01 or not roots:
            break
        steps = [min(lack, room * max(lack, 0.0) ** 0.5 / roots) for lack in lacks]
        out = [wide + step for wide, step in zip(out, steps, strict=True)]
        room -= sum(steps)
    return out


def _wide(texts: Sequence[str], bold: bool) -> float:
    return max((_long(text, bold) for text in texts), default=0.0)


# --- forms ---


def form(one: Blanks, width: float) -> Flowable:
    """A form with blanks; ValueError for a blank that no hand fits in."""
    from reportlab.platypus import Table as Grid

    asked = [w * MM for w in one.widths]
    wide = [w * width / sum(asked) for w in asked]
    blank = {k for row in one.rows for k, text in enumerate(row) if not text}
    if one.height < LOWEST or any(wide[k] < NARROWEST * MM for k in blank):
        raise ValueError(f"Expected blanks of {NARROWEST:g} mm by {LOWEST:g} mm, got {one.widths}")
    printed = [
        [_said(text, _form_style(one, k)) if text else "" for k, text in enumerate(row)]
        for row in one.rows
    ]
    head = [[_said(text, "head") for text in one.head]] if one.head else []
    title = [[_said(one.title, "table title"), *[""] * (len(wide) - 1)]] if one.title else []
    top = len(title) + len(head)
    heights = [None] * top + [max(one.height * MM, _needs(row, wide)) for row in printed]
    made = Grid(
        [*title, *head, *printed], colWidths=wide, rowHeights=heights, repeatRows=top,
        hAlign="LEFT", spaceBefore=5.0, spaceAfter=6.0,
    )  # fmt: skip
    looks: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("FONTNAME", (0, 0), (-1, -1), PLAIN),
        ("LEFTPADDING", (0, 0), (-1, -1), PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
        ("TOPPADDING", (0, 0), (-1, -1), TIGHT),
        ("BOTTOMPADDING", (0, 0), (-1, -1), TIGHT),
        ("GRID", (0, top), (-1, -1), 0.6, SOFT),
    ]
    if title:
        looks.append(("SPAN", (0, 0), (-1, 0)))
    made.setStyle(looks)
    return made


def _form_style(one: Blanks, column: int) -> str:
    """How the printed words of a column look."""
    return "strong" if column in one.strong else "head" if column in one.labels else "cell"


def _needs(row: Sequence[Any], widths: Sequence[float]) -> float:
    """How high a row's printed words are [pt]."""
    pairs = zip(row, widths, strict=True)
    highs = [one.wrap(w - 2 * PAD, 1e6)[1] for one, w in pairs if one]
    return max(highs, default=0.0) + 2 * TIGHT

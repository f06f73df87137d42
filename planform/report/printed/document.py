"""A printed document as PDF: numbered pages, bookmarks, embedded fonts, the same bytes twice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from io import BytesIO
from itertools import count
from typing import TYPE_CHECKING

from planform.drawing.drawing import Drawing
from planform.drawing.paper.letters import fitted, shown
from planform.drawing.paper.sizes import PAPERS
from planform.drawing.writers.embedded import MM, fonts
from planform.drawing.writers.pdf_drawing import DrawnVectors, jpeg
from planform.report.printed.looks import BOLD, MARGIN, PLAIN, RED, in_colour, safe, style
from planform.report.printed.pieces import (
    Beside,
    Blanks,
    Boxed,
    Flowing,
    HeadingText,
    Illustration,
    Listed,
    NewPage,
    Piece,
    Printed,
    Prose,
)
from planform.report.printed.tables import form, rows_of
from planform.report.table import Table
from planform.report.table_html import colour_of

if TYPE_CHECKING:
    from reportlab.platypus import Flowable, Paragraph

    from planform.drawing.writers.pdf_drawing import Vectors
    from planform.report.printed.flow import Numbered

GUTTER = 14.0
"""Between two columns [pt]."""


def pdf(one: Printed) -> bytes:
    """The content of the PDF file."""
    return _written(one)[0]


def on_one_side(some: Iterable[Printed]) -> Printed:
    """The first that takes one page; the last where none does.

    some : at least one, the roomiest first
    """
    for one in some:
        if is_one_side(one):
            break
    return one


def is_one_side(one: Printed) -> bool:
    """Whether it takes one page."""
    return _written(one)[1] == 1


def _written(one: Printed) -> tuple[bytes, int]:
    """The file, and how many pages it has."""
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    from planform.report.printed.flow import STAMPED, Head, Numbered

    fonts()
    paper = PAPERS[one.paper].upright
    wide, high, side = paper.width * MM, paper.height * MM, MARGIN * MM
    out = BytesIO()
    document = BaseDocTemplate(
        out, pagesize=(wide, high), invariant=1, initialFontName=PLAIN, pageCompression=1,
        title=shown(one.title), author="planform", creator="planform", lang="en",
    )  # fmt: skip
    room = (wide - 2 * side) / one.scale, (high - 2 * side) / one.scale
    frame = Frame(side / one.scale, side / one.scale, *room, 0, 0, 0, 0, id="page")
    words = fitted(shown(one.foot or one.title), 0.8 * (paper.width - 2 * MARGIN), 1.8)
    document.addPageTemplates(
        PageTemplate("page", [frame], onPage=partial(_footed, words, one.stamp, one.scale))
    )
    laid = _Laying(one.system, *room)
    head = Head(one.title, "title", None, STAMPED if one.stamp else 0.0)
    document.build([head, *laid.all(one.pieces)], canvasmaker=Numbered)
    return out.getvalue(), document.page


def _footed(words: str, stamp: str, scale: float, canvas: Numbered, document: object) -> None:
    canvas.words = words
    canvas.foot()
    if stamp and canvas.getPageNumber() == 1:
        canvas.stamp(stamp)
    if scale != 1.0:
        canvas.scale(scale, scale)


class _Laying:
    """Pieces to flowing parts; width, height : of a page between its margins [pt]."""

    def __init__(self, system: str, width: float, height: float) -> None:
        self.system, self.width, self.height = system, width, height
        self.keys = count(1)
        self.under: tuple[str, int] = ("", -1)

    def all(self, pieces: Sequence[Piece]) -> list[Flowable]:
        """The parts in order; a heading and what follows it are one."""
        from planform.report.printed.flow import Stack

        out: list[Flowable] = []
        heads: list[Flowable] = []
        for piece in pieces:
            parts = self._parts(piece)
            if isinstance(piece, HeadingText) or (isinstance(piece, Prose) and piece.leads):
                heads += parts
                continue
            if heads and parts:
                parts[0] = Stack([*heads, parts[0]])
                heads = []
            out += parts
        return [*out, *heads]

    def _parts(self, piece: Piece) -> list[Flowable]:
        from reportlab.platypus import PageBreakIfNotEmpty

        from planform.report.printed.flow import Head, TableSheet

        if isinstance(piece, HeadingText):
            mark = (f"part{next(self.keys)}", piece.level - 1) if piece.level < 3 else None
            if mark is not None:
                self.under = mark = (mark[0], min(mark[1], self.under[1] + 1))
            return [Head(piece.text, f"h{min(piece.level, 2)}", mark)]
        if isinstance(piece, Table):
            return [TableSheet(rows_of(piece, self.system, self.width))]
        if isinstance(piece, Blanks):
            return [form(piece, self.width)]
        if isinstance(piece, Prose | Listed | Boxed):
            return _told(piece, self.width)
        if isinstance(piece, NewPage):
            return [PageBreakIfNotEmpty()]
        if isinstance(piece, Beside):
            return [self._beside(piece)]
        if isinstance(piece, Flowing):
            return [self._flowing(piece)]
        return [self._figure(piece)]

    def _narrow(self, width: float) -> _Laying:
        """For a column so wide [pt]."""
        inner = _Laying(self.system, width, self.height)
        inner.keys, inner.under = self.keys, self.under
        return inner

    def _flowing(self, piece: Flowing) -> Flowable:
        from planform.report.printed.flow import Newspaper

        narrow = self._narrow(0.5 * (self.width - GUTTER))
        return Newspaper(narrow.all(piece.pieces), GUTTER)

    def _beside(self, piece: Beside) -> Flowable:
        from planform.report.printed.flow import SideBySide, Stack

        gap = piece.gap * MM
        shares = piece.shares or (1.0,) * (piece.of or len(piece.columns))
        each = (self.width - gap * (len(shares) - 1)) / sum(shares)
        widths = [each * share for share in shares]
        pairs = zip(piece.columns, widths, strict=False)
        columns = [Stack(self._narrow(wide).all(column)) for column, wide in pairs]
        return SideBySide(columns, gap, self.height, widths)

    def _figure(self, piece: Illustration) -> Flowable:
        from planform.report.printed.flow import Framed, Stack

        image: Vectors | bytes
        if isinstance(piece.shown, bytes):
            image, size = jpeg(piece.shown, self.width)
        else:
            image = DrawnVectors(piece.shown) if isinstance(piece.shown, Drawing) else piece.shown
            size = image.size
        across, up = size
        wide = min(self.width, piece.tallest * MM * across / up)
        parts: list[Flowable] = [Framed(image, wide, wide * up / across)]
        if piece.caption or piece.strong:
            parts.append(_prose(Prose(piece.caption, strong=piece.strong), "caption"))
        made = Stack(parts)
        made.alone = True
        return made


def _told(one: Prose | Listed | Boxed, width: float) -> list[Flowable]:
    """Words alone."""
    if isinstance(one, Prose):
        return [_prose(one)]
    if isinstance(one, Listed):
        return _listed(one.lines, numbered=one.numbered)
    return [_boxed(one, width)]


def _prose(one: Prose, name: str = "") -> Paragraph:
    """A paragraph; a verdict at its beginning stands in its colour."""
    from reportlab.platypus import Paragraph

    key = colour_of(one.strong)
    strong = in_colour(one.strong, key) if key else f'<font name="{BOLD}">{safe(one.strong)}</font>'
    inner = f"{strong} {safe(one.text)}" if one.strong else safe(one.text)
    return Paragraph(inner, style(name or ("soft" if one.soft else "body")))


def _listed(lines: Sequence[str], *, numbered: bool = False) -> list[Flowable]:
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    item = ParagraphStyle(
        "item", style("body"), leftIndent=13.0, bulletIndent=2.0, bulletFontName=PLAIN,
        bulletFontSize=style("body").fontSize, spaceBefore=0.5, spaceAfter=0.8,
    )  # fmt: skip
    return [
        Paragraph(safe(line), item, bulletText=f"{k + 1}." if numbered else "•")
        for k, line in enumerate(lines)
    ]


def _boxed(one: Boxed, width: float) -> Flowable:
    from reportlab.platypus import Table as Grid

    made = Grid([[part] for part in _listed(one.lines)], colWidths=[width], hAlign="LEFT",
                spaceBefore=5.0, spaceAfter=5.0)  # fmt: skip
    made.setStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("BOX", (0, 0), (-1, -1), 1.2, RED),
            ("TOPPADDING", (0, 0), (-1, -1), 0.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.0),
            ("TOPPADDING", (0, 0), (0, 0), 4.0),
            ("BOTTOMPADDING", (0, -1), (0, -1), 4.0),
        ]
    )
    return made

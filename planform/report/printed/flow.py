"""The flowing parts of a page that are our own; loads reportlab, so it is imported late."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Paragraph

from planform.drawing.paper.letters import shown
from planform.drawing.writers.embedded import MM
from planform.report.printed.looks import (
    BOLD,
    FOOT,
    LINE,
    MARGIN,
    PLAIN,
    RED,
    SIZES,
    SOFT,
    safe,
    style,
)

if TYPE_CHECKING:
    from planform.drawing.writers.pdf_drawing import Vectors
    from planform.report.printed.tables import Rows

WHOLE = 260.0
"""A table in a column is parted only where it is higher than this [pt]."""
SLACK = 14.0
"""Room kept over a part that is parted at the foot of a column [pt]."""
STAMPED = 110.0
"""Width of the stamp and the room beside it [pt]."""
TALLEST = 400.0
"""A row that is higher than this may be parted itself [pt]."""


class Numbered(Canvas):  # type: ignore[misc]
    """Pages that say at their foot which they are, and of how many.

    The foot of a page is filled in once it is known how many there are.
    """

    words = ""

    def foot(self) -> None:
        """Leave room for the foot of this page."""
        self.doForm(f"foot{self.getPageNumber()}")

    def stamp(self, word: str) -> None:
        """A word in white on red in the upper right corner."""
        wide, high = self._pagesize
        right, top = wide - MARGIN * MM, high - 8.0 * MM
        self.saveState()
        self.setFillColor(RED)
        self.roundRect(right - STAMPED + 6, top - 34, STAMPED - 6, 34, 4, stroke=0, fill=1)
        self.setFillColor("#ffffff")
        self.setFont(BOLD, 24)
        self.drawCentredString(right - (STAMPED - 6) / 2, top - 26, word)
        self.restoreState()

    def save(self) -> None:
        """Fill in every foot, and end the file."""
        pages = self.getPageNumber() - 1
        wide = self._pagesize[0]
        for number in range(1, pages + 1):
            self.beginForm(f"foot{number}", 0, 0, wide, MARGIN * MM)
            self.setStrokeColor(LINE)
            self.setLineWidth(0.5)
            self.line(MARGIN * MM, FOOT * MM + 9, wide - MARGIN * MM, FOOT * MM + 9)
            self.setFillColor(SOFT)
            self.setFont(PLAIN, SIZES["soft"][0])
            self.drawString(MARGIN * MM, FOOT * MM, self.words)
            self.drawRightString(wide - MARGIN * MM, FOOT * MM, f"{number} of {pages}")
            self.endForm()
        super().save()


class Head(Paragraph):  # type: ignore[misc]
    """A heading, a bookmark where it has a level."""

    def __init__(
        self, text: str, name: str, mark: tuple[str, int] | None, aside: float = 0.0
    ) -> None:
        own = ParagraphStyle(f"{name} head", style(name), rightIndent=aside)
        super().__init__(safe(text), own)
        self.words, self.mark = shown(text), mark

    def draw(self) -> None:
        """Put it down, and note where it is."""
        if self.mark is not None:
            key, level = self.mark
            self.canv.bookmarkHorizontal(key, 0, self.height)
            self.canv.addOutlineEntry(self.words, key, level)
        super().draw()


class Stack(Flowable):  # type: ignore[misc]
    """Parts over one another on one page; only the last of them may go on upon the next."""

    def __init__(self, parts: Sequence[Flowable]) -> None:
        super().__init__()
        self.parts = list(parts)
        self.spaceBefore = self.parts[0].getSpaceBefore()
        self.spaceAfter = self.parts[-1].getSpaceAfter()
        self.tops: list[tuple[float, float]] = []
        self.alone = False

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """How much room it takes [pt]."""
        self.tops, down, before = [], 0.0, None
        for part in self.parts:
            if before is not None:
                down += max(before.getSpaceAfter(), part.getSpaceBefore())
            high = part.wrapOn(self.canv, width, height)[1]
            self.tops.append((down, high))
            down, before = down + high, part
        self.width, self.height = width, down
        return width, down

    def split(self, width: float, height: float) -> list[Flowable]:
        """What stands on this page, and the rest; nothing where not even a start of it does."""
        self.wrap(width, height)
        last = self.parts[-1]
        pieces = last.splitOn(self.canv, width, height - self.tops[-1][0])
        if len(pieces) < 2:
            return []
        return [Stack([*self.parts[:-1], pieces[0]]), *pieces[1:]]

    def draw(self) -> None:
        """Put every part down."""
        for part, (down, high) in zip(self.parts, self.tops, strict=True):
            part.drawOn(self.canv, 0, self.height - down - high)


class SideBySide(Flowable):  # type: ignore[misc]
    """SideBySide side by side on one page; one under the other where they are higher than a page.

    gap : between them, page : the height of a page, widths : of those there is room for [pt]
    """

    def __init__(
        self, columns: Sequence[Stack], gap: float, page: float, widths: Sequence[float]
    ) -> None:
        super().__init__()
        self.columns, self.gap, self.page, self.widths = columns, gap, page, widths
        self.spaceBefore, self.spaceAfter = 3.0, 4.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """How much room they take [pt]."""
        pairs = zip(self.columns, self.widths, strict=False)
        self.highs = [one.wrapOn(self.canv, wide, height)[1] for one, wide in pairs]
        self.width, self.height = width, max(self.highs)
        return width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """One under the other where no page holds them."""
        if self.height <= self.page:
            return []
        return [part for column in self.columns for part in column.parts]

    def draw(self) -> None:
        """Put them down, their heads level."""
        left = 0.0
        for one, high, wide in zip(self.columns, self.highs, self.widths, strict=False):
            one.drawOn(self.canv, left, self.height - high)
            left += wide + self.gap


def _alone(part: Flowable) -> bool:
    """Whether a part says by itself what it is: a figure or a table."""
    return bool(getattr(part, "alone", False))


class Newspaper(Flowable):  # type: ignore[misc]
    """Parts in two columns about equally long; what a page does not hold goes on upon the next.

    gap : between the columns [pt]
    """

    def __init__(self, parts: Sequence[Flowable], gap: float) -> None:
        super().__init__()
        self.parts, self.gap = list(parts), gap
        self.spaceBefore, self.spaceAfter = 3.0, 4.0

    def _high(self, parts: Sequence[Flowable], each: float) -> float:
        return float(Stack(parts).wrapOn(self.canv, each, 1e6)[1]) if parts else 0.0

    def _laid(self, left: Sequence[Flowable], right: Sequence[Flowable], each: float) -> SideBySide:
        columns = [Stack(parts) for parts in (left, right) if parts]
        return SideBySide(columns, self.gap, 1e9, (each, each))

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """How much room both columns take [pt], as even as the parts let them be."""
        each = (width - self.gap) / 2.0
        cuts = range(1, len(self.parts) + 1)
        highs = [
            max(self._high(self.parts[:k], each), self._high(self.parts[k:], each)) for k in cuts
        ]
        k = 1 + highs.index(min(highs))
        self.laid = self._laid(self.parts[:k], self.parts[k:], each)
        self.width, self.height = width, self.laid.wrapOn(self.canv, width, height)[1]
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Both columns filled down to the foot of the page, and the rest."""
        each = (width - self.gap) / 2.0
        left, rest = self._filled(self.parts, each, height)
        if not left:
            return []
        right, rest = self._filled(rest, each, height)
        return [self._laid(left, right, each), *([Newspaper(rest, self.gap)] if rest else [])]

    def _filled(
        self, parts: Sequence[Flowable], each: float, height: float
    ) -> tuple[list[Flowable], list[Flowable]]:
        """The parts that a column takes, the last of them parted where it can be; the others.

        A later figure or table may stand where an earlier one finds no room.
        """
        k = 0
        while k < len(parts) and self._high(parts[: k + 1], each) <= height:
            k += 1
        taken, rest = list(parts[:k]), list(parts[k:])
        if rest and _alone(rest[0]):  # what stands by itself gives way
            for later in [one for one in rest[1:] if _alone(one)]:
                if self._high([*taken, later], each) <= height:
                    taken.append(later)
                    rest.remove(later)
        if rest:
            used = self._high(taken, each) + (SLACK if taken else 0.0)
            high = rest[0].wrapOn(self.canv, each, 1e6)[1]
            if _alone(rest[0]) and high < WHOLE:
                return taken, rest
            pieces = rest[0].splitOn(self.canv, each, height - used)
            if len(pieces) > 1:
                return [*taken, pieces[0]], [*pieces[1:], *rest[1:]]
        return taken, rest

    def draw(self) -> None:
        """Put both columns down."""
        self.laid.drawOn(self.canv, 0, 0)


class TableSheet(Flowable):  # type: ignore[misc]
    """A table with its title and remarks; parted, its heads stand again on the next page."""

    def __init__(self, rows: Rows) -> None:
        super().__init__()
        self.rows, self.alone = rows, True
        self.spaceBefore, self.spaceAfter = 5.0, 6.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """How much room it takes [pt]."""
        self.grid = self.rows.made()
        self.width, self.height = self.grid.wrapOn(self.canv, width, height)
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """What stands on this page, and the rest; nothing where it had better begin on the next."""
        for less in (0.0, 8.0, 24.0):  # heights of rows are reckoned, and may be a little off
            parted = self.rows.parted(height - less)
            if parted is not None:
                first, rest = (TableSheet(one) for one in parted)
                if first.wrapOn(self.canv, width, height)[1] <= height:
                    return [first, rest]
        if max(map(self.rows.high, self.rows.body), default=0.0) > TALLEST:
            return list(self.rows.made().splitOn(self.canv, width, height))
        return []

    def draw(self) -> None:
        """Put it down."""
        self.grid.drawOn(self.canv, 0, 0)


class Framed(Flowable):  # type: ignore[misc]
    """A drawing or a plot as vectors, or a picture, so wide and high [pt], with a thin edge."""

    def __init__(self, shown: Vectors | bytes, width: float, height: float) -> None:
        super().__init__()
        self.shown, self.width, self.height = shown, width, height

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """How much room it takes [pt]."""
        return self.width, self.height

    def draw(self) -> None:
        """Put it down."""
        if isinstance(self.shown, bytes):
            from io import BytesIO

            self.canv.drawImage(ImageReader(BytesIO(self.shown)), 0, 0, self.width, self.height)
        else:
            self.shown.lay(self.canv, self.width)
        self.canv.saveState()
        self.canv.setStrokeColor(LINE)
        self.canv.setLineWidth(0.5)
        self.canv.rect(0, 0, self.width, self.height)
        self.canv.restoreState()

"""What a printed document is made of, in the order it is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planform.drawing.drawing import Drawing
from planform.report.table import Table

if TYPE_CHECKING:
    from planform.drawing.writers.pdf_drawing import Vectors


@dataclass(frozen=True)
class HeadingText:
    """A heading, which begins with what follows it; the first two levels are bookmarks too."""

    text: str
    level: int = 1


@dataclass(frozen=True)
class Prose:
    """A paragraph.

    soft : small and grey, as a remark ; strong : its first words, in bold
    leads : stands on one page with what follows it
    """

    text: str
    soft: bool = False
    strong: str = ""
    leads: bool = False


@dataclass(frozen=True)
class Listed:
    """Lines of a list, each with a mark or its number before it."""

    lines: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True)
class Boxed:
    """Cautions: a list in a red box."""

    lines: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Illustration:
    """A drawing, a plot or a picture (PNG) with words under it.

    tallest : how high it may be at most [mm]
    strong : the first words under it, in bold
    """

    shown: Drawing | Vectors | bytes
    caption: str = ""
    tallest: float = 95.0
    strong: str = ""


@dataclass(frozen=True, eq=False)
class Beside:
    """SideBySide side by side, equally wide, kept on one page; what is higher than one is split.

    gap : between the columns [mm] ; of : how many there is room for, as many as there are where 0
    shares : how wide each is beside the others, where they are not alike
    """

    columns: tuple[tuple[Piece, ...], ...]
    gap: float = 5.0
    of: int = 0
    shares: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Flowing:
    """Narrow pieces in two columns, about equally long, as a newspaper has them."""

    pieces: tuple[Piece, ...]


@dataclass(frozen=True)
class Blanks:
    """A form: rows of cells; an empty text is a blank that a hand can fill in.

    head : over the columns; none where empty
    widths : of the columns [mm]; no blank is narrower than `NARROWEST`
    height : of a row [mm]
    labels : the columns that hold printed words ; strong : those in bold
    """

    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    title: str = ""
    head: tuple[str, ...] = ()
    height: float = 9.0
    labels: frozenset[int] = frozenset({0})
    strong: frozenset[int] = frozenset()


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a page of its own."""


Piece = (
    HeadingText
    | Prose
    | Listed
    | Boxed
    | Illustration
    | Beside
    | Flowing
    | Blanks
    | NewPage
    | Table
)

NARROWEST = 30.0
"""A blank is at least so wide [mm]."""
LOWEST = 8.0
"""And at least so high [mm]."""


@dataclass(frozen=True)
class Printed:
    """A document to be printed: its title and pieces.

    paper : 'A4' or 'letter' ; scale : of all that stands on it, 1 where letters have their size
    """

    title: str
    pieces: Sequence[Piece]
    system: str
    paper: str
    foot: str = ""
    """Words at the foot of every page, beside its number."""
    stamp: str = ""
    """A word in white on red at the head of the first page."""
    scale: float = 1.0


def paper_of(asked: str | None, system: str) -> str:
    """The paper asked for, else the one in use where these units are."""
    return asked or ("letter" if system in ("ft-in", "in") else "A4")

"""Any answer as a document to print: what it says, and its drawings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from planform.drawing.drawing import Drawing
from planform.report.printed.pieces import (
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
from planform.report.table import Table
from planform.report.words import CAUTIONS

TALL = 110.0
"""How high a drawing of an answer may be [mm]."""


def document_of(
    kind: str,
    said: Iterable[HeadingText | Table | str],
    contents: Iterable[object],
    notes: Mapping[str, Sequence[str]],
    system: str,
    paper: str | None,
) -> Printed:
    """The answer as it is said in a terminal, its drawings, what was asked and taken.

    kind : its title, where nothing is a heading in what is said ; contents : of its files
    notes : lists by their headings ; paper : 'A4', 'letter', or by the units where None
    """
    pieces: list[Piece] = [Prose(one) if isinstance(one, str) else one for one in said]
    first = next((one for one in pieces if isinstance(one, HeadingText)), None)
    if first is not None:
        pieces.remove(first)
    pieces.append(Boxed(CAUTIONS))
    pieces += _drawn(contents)
    for heading, lines in notes.items():
        if lines:
            pieces += [HeadingText(heading), Listed(tuple(lines))]
    title = kind.capitalize() if first is None else first.text
    return Printed(title, tuple(pieces), system, paper_of(paper, system))


def _drawn(contents: Iterable[object]) -> Iterator[Piece]:
    """Every drawing once, though it goes into several files."""
    drawings = {id(one): one for one in contents if isinstance(one, Drawing)}
    figures = tuple(Illustration(one, one.title, TALL) for one in drawings.values())
    if figures:
        yield HeadingText("Drawings")
        yield Flowing(figures) if len(figures) > 1 else figures[0]

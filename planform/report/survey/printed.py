"""A survey as a document to print."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping

from planform.design.told import counted, stage_title
from planform.drawing.drawing import Drawing
from planform.report.printed.pieces import (
    Boxed,
    HeadingText,
    Illustration,
    Listed,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.survey.picture import caption
from planform.report.survey.tables import (
    found_table,
    intervals_table,
    readings_table,
    sheet_tables,
)
from planform.report.survey.words import CAUTIONS, LATER, all_lines, method, remaining_line, verdict
from planform.study.surveyed import Surveyed

VIEW = 78.0
"""How high a picture may be [mm]."""


def survey_document(
    found: Surveyed, views: Mapping[str, Drawing], system: str, paper: str | None
) -> Printed:
    """The sheet; views : the pictures by name."""
    title = f"{found.drawn.airframe.design.name}: as built against as drawn"
    pieces = tuple(_pieces(found, views, system))
    return Printed(title, pieces, system, paper_of(paper, system))


def _pieces(found: Surveyed, views: Mapping[str, Drawing], system: str) -> Iterator[Piece]:
    from planform import __version__

    yield Prose("", strong=verdict(found, system))
    count = counted(len(found.readings), "reading").capitalize()
    date = datetime.date.today().isoformat()
    yield Prose(
        f"{count} of {found.source}, read at {found.drawn.title}. Written {date} by planform "
        f"{__version__}.",
        soft=True,
    )
    yield Boxed(CAUTIONS)
    yield Prose(remaining_line(found))
    table = found_table(found)
    if table is not None:
        yield table
    lists = list(all_lines(found, system))
    yield from _lists(one for one in lists if one[0] not in LATER)
    if views:
        yield HeadingText("Where it was read, and what is left")
        yield Prose(caption(found), soft=True)
    yield from (Illustration(one, one.title, VIEW) for one in views.values())
    sheet = found.sheet
    if sheet is not None:
        yield HeadingText("What it does: drawn and as built")
        standing = stage_title(sheet.stage, sheet.stance)
        yield Prose(
            f"At {standing}. ± is the worst case of the inputs' tolerances, those of the "
            "deviations among them.",
            soft=True,
        )
        yield from sheet_tables(sheet)
    yield from _lists(one for one in lists if one[0] in LATER)
    yield HeadingText("Readings and deviations in full")
    yield readings_table(found)
    every = intervals_table(found)
    if every is not None:
        yield every
    told = (*found.taken, *(() if sheet is None else sheet.taken))
    if told:
        yield HeadingText("Not given, and taken as", 2)
        yield Listed(told)
    yield HeadingText("How this was worked out", 2)
    yield Listed(method(found))


def _lists(some: Iterable[tuple[str, tuple[str, ...]]]) -> Iterator[Piece]:
    for heading, lines in some:
        yield HeadingText(heading, 2)
        yield Listed(lines)

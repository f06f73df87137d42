"""A part carried out by hand as a page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planform.design.models import Design
from planform.drawing.drawing import Drawing
from planform.report.carry.words import NOTES
from planform.report.page import drawn, markup, page, words_for
from planform.report.table import Table


def carry_page(
    design: Design,
    title: str,
    sheets: Sequence[Table],
    curve: str,
    drawings: Iterable[Drawing],
    system: str,
) -> str:
    """The page: what is needed, the doors, the part in each opening, and its curve."""
    return page(
        "carry.html",
        **words_for(system, 2),
        design=design,
        title=title,
        tables=sheets,
        curve=markup(curve),
        pictures=[drawn(one) for one in drawings],
        notes=NOTES,
    )

"""Parts on a trailer or in a container as a page."""

from __future__ import annotations

from collections.abc import Iterable

from planform.design.models import Design
from planform.drawing.drawing import Drawing
from planform.report.haul.tables import tables
from planform.report.haul.words import MIND, NOTES, headline
from planform.report.page import drawn, page, words_for
from planform.study.hauling import Haul


def haul_page(design: Design, found: Haul, drawings: Iterable[Drawing], system: str) -> str:
    """The page: the answer, its tables and the load from above and the side."""
    return page(
        "haul.html",
        **words_for(system, 2),
        design=design,
        carrier=found.carrier,
        headline=headline(found),
        tables=tables(found),
        pictures=[drawn(one) for one in drawings],
        notes=NOTES,
        mind=MIND,
    )

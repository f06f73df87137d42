"""A survey as one page: what was found first, then why, then what it does."""

from __future__ import annotations

from collections.abc import Mapping

from planform.design.told import counted, stage_title
from planform.drawing.drawing import Drawing
from planform.report.page import drawn, page, words_for
from planform.report.survey.picture import caption
from planform.report.survey.tables import (
    found_table,
    intervals_table,
    readings_table,
    sheet_tables,
)
from planform.report.survey.words import CAUTIONS, LATER, all_lines, method, remaining_line, verdict
from planform.study.surveyed import Surveyed


def survey_page(found: Surveyed, views: Mapping[str, Drawing], system: str) -> str:
    """The whole page; views : the pictures by name."""
    sheet, lists = found.sheet, list(all_lines(found, system))
    return page(
        "survey.html",
        **words_for(system) | {"cautions": CAUTIONS},
        design=found.drawn.airframe.design,
        verdict=verdict(found, system),
        count=counted(len(found.readings), "reading").capitalize(),
        source=found.source,
        title=found.drawn.title,
        as_built=bool(found.as_built),
        remaining=remaining_line(found),
        found=found_table(found),
        lists=[one for one in lists if one[0] not in LATER],
        later=[one for one in lists if one[0] in LATER],
        views=[(drawn(one), one.title) for one in views.values()],
        caption=caption(found) if views else "",
        standing="" if sheet is None else stage_title(sheet.stage, sheet.stance),
        sheets=() if sheet is None else sheet_tables(sheet),
        readings=readings_table(found),
        intervals=intervals_table(found),
        told=(*found.taken, *(() if sheet is None else sheet.taken)),
        method=method(found),
    )

"""Several aircraft in one hangar as a page."""

from __future__ import annotations

from planform.design.texts import file_name
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.fit.berth import Berth
from planform.fit.packing import Packing
from planform.report.packing.pictures import ways
from planform.report.packing.tables import tables
from planform.report.packing.words import MINDED, Spreads, headline, proofs, steps_in
from planform.report.page import drawn, page, words_for
from planform.report.words import CAUTIONS


def folder_of(berth: Berth) -> str:
    """The name of an aircraft's own folder."""
    return file_name(berth.number, berth.name)


def packing_page(found: Packing, spreads: Spreads, above: Drawing | None, system: str) -> str:
    """The page: the hall, the tables, and each one's way in."""
    rows = [
        {
            "berth": berth,
            "folder": folder_of(berth),
            "picture": drawn(way),
            "steps": steps_in(berth, system),
        }
        for berth, way in ways(found, system)
    ]
    return page(
        "packing.html",
        **words_for(system, 2) | {"cautions": [*MINDED, *CAUTIONS[2:]]},
        place=found.room.place,
        headline=headline(found),
        gap=said(found.gap, "length", system),
        over=said(found.over, "length", system),
        tables=tables(found, spreads),
        plan=drawn(above),
        rows=rows,
        proved=proofs(found),
    )

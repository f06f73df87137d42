"""The heights of every stage as drawings to one scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from planform.drawing.paper.frame import Title
from planform.drawing.paper.page import Page
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft, from_ahead
from planform.report.sheets.gallery import Captioned, gallery

TITLE = "Heights stage by stage"
TOLD = ("width", "height", "tip_height", "right_tip_height")
"""The dimensions that are kept."""


def heights_page(stages: Iterable[Aircraft], paper: PaperSize, title: Title, system: str) -> Page:
    """Each stage as it stands, from ahead, all to one scale."""
    views = []
    for one in stages:
        seen = from_ahead(one)
        told = tuple(w for w in seen.wanted if w.key in TOLD)
        views.append(Captioned(replace(seen, wanted=told), one.standing.title))
    return gallery(views, paper, scales_for(system), title)

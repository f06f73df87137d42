"""The aircraft seen from many sides: three-quarter views, from below, from behind."""

from __future__ import annotations

import numpy as np

from planform.drawing.lines.frames import FRAMES, UP, looking
from planform.drawing.paper.frame import Title
from planform.drawing.paper.marks import Array
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft, lines_of
from planform.report.sheets.gallery import Captioned, gallery

TITLE = "General views"

VIEWS = (
    ("three-quarter from ahead, left", looking(np.array([-1.0, -0.8, 0.55]), UP)),
    ("three-quarter from behind, right", looking(np.array([1.0, 0.8, 0.55]), UP)),
    ("from behind", FRAMES["behind"]),
    ("from below", FRAMES["below"]),
)


def views_page(aircraft: Aircraft, paper: PaperSize, title: Title) -> Page:
    """All the views on one page, to one scale; lengths are true in the last two alone."""
    views = [Captioned(_view(aircraft, name, frame), name) for name, frame in VIEWS]
    return gallery(views, paper, scales_for(aircraft.teller.system), title)


def _view(aircraft: Aircraft, name: str, frame: Array) -> Seen:
    flat = aircraft.points @ frame[:2].T
    marks = tuple(lines_of(aircraft, frame))
    return Seen(name, marks, flat.min(axis=0), flat.max(axis=0))

"""The aircraft seen from many sides: three-quarter views, from below, from behind."""

from __future__ import annotations

import numpy as np

from planform.drawing.paper.frame import Title
from planform.drawing.paper.marks import Array
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft, lines_of
from planform.report.sheets.gallery import Captioned, gallery

TITLE = "General views"

BELOW = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, -1.0]])
BEHIND = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])


def looking(aft: float, right: float, up: float) -> Array:
    """The picture's right, up and toward the eye as rows, for an eye in this direction."""
    eye = np.array([aft, right, up]) / np.linalg.norm([aft, right, up])
    across = np.cross([0.0, 0.0, 1.0], eye)
    across /= np.linalg.norm(across)
    return np.array([across, np.cross(eye, across), eye])


VIEWS = (
    ("three-quarter from ahead, left", looking(-1.0, -0.8, 0.55)),
    ("three-quarter from behind, right", looking(1.0, 0.8, 0.55)),
    ("from behind", BEHIND),
    ("from below", BELOW),
)


def views_page(aircraft: Aircraft, paper: PaperSize, title: Title) -> Page:
    """All the views on one page, to one scale; lengths are true in the last two alone."""
    views = [Captioned(_view(aircraft, name, frame), name) for name, frame in VIEWS]
    return gallery(views, paper, scales_for(aircraft.teller.system), title)


def _view(aircraft: Aircraft, name: str, frame: Array) -> Seen:
    flat = aircraft.points @ frame[:2].T
    marks = tuple(lines_of(aircraft.standing, frame))
    return Seen(name, marks, flat.min(axis=0), flat.max(axis=0))

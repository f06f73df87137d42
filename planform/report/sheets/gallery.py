"""Several views on one page to one scale, in rows, each with its caption."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from planform.design.problems import InputError, Problem
from planform.drawing.paper.frame import TITLE_HEIGHT, Title, bordered
from planform.drawing.paper.letters import fitted, shown, width
from planform.drawing.paper.marks import Box, Lettering, Mark
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen, at_scale, taken_at
from planform.drawing.paper.sizes import DrawingScale, PaperSize

GAP = 7.0
"""Free paper between two views with their dimensions [mm]."""
CAPTION = 2.2
HEAD = 5.5
"""Room for a caption under its view [mm]."""


@dataclass(frozen=True, eq=False)
class Captioned:
    """A view with the words under it."""

    seen: Seen
    words: str


@dataclass(frozen=True, eq=False)
class _Row:
    """Views side by side: their boxes from their own origins [mm]."""

    views: tuple[Captioned, ...]
    boxes: tuple[Box, ...]

    @property
    def widths(self) -> tuple[float, ...]:
        wide = (b[2] - b[0] for b in self.boxes)
        return tuple(
            max(w, min(70.0, width(v.words, CAPTION)))
            for w, v in zip(wide, self.views, strict=True)
        )

    @property
    def wide(self) -> float:
        return sum(self.widths) + GAP * (len(self.boxes) - 1)

    @property
    def foot(self) -> float:
        """How far the lowest box reaches below the views' common line."""
        return max(-b[1] for b in self.boxes)

    @property
    def high(self) -> float:
        return max(b[3] for b in self.boxes) + self.foot + HEAD


def gallery(
    views: Sequence[Captioned],
    paper: PaperSize,
    scales: Sequence[DrawingScale],
    title: Title,
) -> Page:
    """A page of views to the largest scale at which all go in; they share it.

    Raises InputError where no scale does.
    """
    left, bottom, right, top = paper.frame()
    room = (left + GAP, bottom + TITLE_HEIGHT + GAP, right - GAP, top - GAP)
    for scale in scales:
        rows = _rows(views, scale, room[2] - room[0])
        if rows is not None and _high(rows) <= room[3] - room[1]:
            return _page(rows, scale, paper, room, title)
    allowed = "the views do not fit at any scale; name a larger paper"
    raise InputError("sheet", [Problem("--paper", paper.name, allowed)])


def _high(rows: Sequence[_Row]) -> float:
    return sum(row.high for row in rows) + GAP * (len(rows) - 1)


def _rows(views: Sequence[Captioned], scale: DrawingScale, wide: float) -> tuple[_Row, ...] | None:
    """The views in rows no wider than this; None where one alone is wider."""
    rows: list[_Row] = []
    for view in views:
        box = taken_at(view.seen, scale)
        if box[2] - box[0] > wide:
            return None
        longer = _Row((*rows[-1].views, view), (*rows[-1].boxes, box)) if rows else None
        if longer is not None and longer.wide <= wide:
            rows[-1] = longer
        else:
            rows.append(_Row((view,), (box,)))
    return tuple(rows)


def _page(
    rows: Sequence[_Row], scale: DrawingScale, paper: PaperSize, room: Box, title: Title
) -> Page:
    marks: list[Mark] = [*bordered(paper, replace(title, scale=scale.words))]
    spare = (room[3] - room[1] - _high(rows)) / (len(rows) + 1)
    placed = []
    y = room[3]
    for row in rows:
        y -= spare + row.high
        extra = (room[2] - room[0] - row.wide) / (len(row.boxes) + 1)
        x = room[0]
        for view, box, wide in zip(row.views, row.boxes, row.widths, strict=True):
            x += extra
            at = np.array([x + 0.5 * (wide - box[2] + box[0]) - box[0], y + HEAD + row.foot])
            placed.append(at_scale(view.seen, scale, at))
            words = fitted(shown(view.words), wide + 0.8 * extra, CAPTION, bold=True)
            foot = np.array([x + 0.5 * wide, y + 1.5])
            marks.append(Lettering(foot, words, CAPTION, "middle", bold=True))
            x += wide + GAP
        y -= GAP
    return Page(title.drawing, paper, tuple(placed), tuple(marks))

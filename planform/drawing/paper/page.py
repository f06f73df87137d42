"""A page as data: views of things at a scale, and the marks of the sheet around them.

All is in millimetres on paper from its lower left corner, right and up. A view remembers where the
thing's own plane lies, so that a file that has both can hold the thing in true size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from planform.drawing.paper.dimension import DimensionLine
from planform.drawing.paper.marks import Array, Box, Mark
from planform.drawing.paper.sizes import DrawingScale, PaperSize

Drawable = Mark | DimensionLine


@dataclass(frozen=True, eq=False)
class PlacedView:
    """A thing drawn to a scale.

    at : array, shape (2,)    where the origin of the thing's plane lies [mm]
    box : what it takes of the page, words and dimensions included [mm]
    """

    name: str
    scale: DrawingScale
    at: Array
    box: Box
    drawn: tuple[Drawable, ...]

    def true(self, points: Array) -> Array:
        """Points of the page (..., 2) [mm] in the thing's own plane, in true size [m]."""
        return np.asarray((points - self.at) / self.scale.mm)


@dataclass(frozen=True, eq=False)
class Page:
    """One side of a sheet.

    title : what a list of pages calls it
    drawn : frame, title block, tables and words of the sheet itself
    """

    title: str
    paper: PaperSize
    views: tuple[PlacedView, ...] = ()
    drawn: tuple[Drawable, ...] = field(default=())

    def marks(self) -> Iterator[Mark]:
        """Every simple mark, those of the views first."""
        for view in self.views:
            yield from simple(view.drawn)
        yield from simple(self.drawn)


def simple(drawn: tuple[Drawable, ...]) -> Iterator[Mark]:
    """Marks and dimensions as simple marks."""
    for one in drawn:
        if isinstance(one, DimensionLine):
            yield from one.drawn()
        else:
            yield one

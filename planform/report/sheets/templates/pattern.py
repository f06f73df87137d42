"""A pattern: marks in true size in their own plane, and what is told of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.drawing.paper.marks import Array, Foot, Lettering, Mark, line
from planform.drawing.paper.tables import FactRow

MM = 1000.0
WORDS = 2.5
"""Height of capitals on a pattern [mm]."""
CROSS = 4.0
"""Half the length of a small cross [mm]."""


@dataclass(frozen=True, eq=False)
class Pattern:
    """What is cut out or held against the work.

    marks : in true size [mm]; the line to cut along has the pen 'outline'
    facts : what is told of it ; notes : how it is used, and what it does not know
    """

    title: str
    marks: tuple[Mark, ...]
    facts: tuple[FactRow, ...]
    notes: tuple[str, ...] = ()


def words(at: Array, text: str, foot: Foot = "start", capital: float = WORDS) -> Lettering:
    """Words on a pattern, their foot at a point [mm]."""
    return Lettering(np.asarray(at, float), text, capital, foot)


def cross(at: Array, pen: str = "register", half: float = CROSS) -> tuple[Mark, Mark]:
    """A small cross at a point [mm]."""
    x, y = np.asarray(at, float)
    return line([(x - half, y), (x + half, y)], pen), line([(x, y - half), (x, y + half)], pen)

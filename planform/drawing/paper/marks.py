"""The simple marks of a page: strokes, areas, circles and words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""

Foot = Literal["start", "middle", "end"]
"""Which point of the words' foot stands where the words are."""


@dataclass(frozen=True, eq=False)
class PenStroke:
    """A line through points, shape (n, 2); closed ones go back to the first."""

    points: Array
    pen: str
    closed: bool = False


@dataclass(frozen=True, eq=False)
class Area:
    """A filled area: rings, each shape (n, 2) and closed by itself; even-odd where they nest."""

    rings: tuple[Array, ...]
    fill: str
    pen: str | None = None


@dataclass(frozen=True, eq=False)
class Circle:
    """A circle, or a part of one from an angle on, counter-clockwise [rad].

    centre : array, shape (2,)
    """

    centre: Array
    radius: float
    pen: str
    start: float = 0.0
    sweep: float = 2.0 * np.pi

    @property
    def whole(self) -> bool:
        """Whether it goes all around."""
        return self.sweep >= 2.0 * np.pi - 1e-12

    def points(self, count: int = 72) -> Array:
        """Points along it, shape (n, 2)."""
        turns = self.start + np.linspace(0.0, self.sweep, max(2, count))
        return np.asarray(
            self.centre + self.radius * np.column_stack([np.cos(turns), np.sin(turns)])
        )


@dataclass(frozen=True, eq=False)
class Lettering:
    """One line of words, their foot at a point, shape (2,).

    capital : height of a capital letter [mm on paper], as ISO 3098 counts
    turn : counter-clockwise [rad]; words read from the bottom or the right alone
    """

    point: Array
    text: str
    capital: float
    foot: Foot = "middle"
    turn: float = 0.0
    bold: bool = False
    ink: str = "#000000"


Mark = PenStroke | Area | Circle | Lettering


def line(points: object, pen: str, closed: bool = False) -> PenStroke:
    """A stroke from anything that has the shape (n, 2)."""
    return PenStroke(np.asarray(points, float), pen, closed)


def rectangle(box: Box, pen: str) -> PenStroke:
    """The outline of a box."""
    left, bottom, right, top = box
    return line([(left, bottom), (right, bottom), (right, top), (left, top)], pen, closed=True)


def corners_of(words: Lettering) -> Array:
    """The corners of the box that words take, shape (4, 2) [mm], for words that stand in mm."""
    from planform.drawing.paper.letters import width

    wide = width(words.text, words.capital, words.bold)
    left = {"start": 0.0, "middle": -0.5, "end": -1.0}[words.foot] * wide
    down, up = -0.32 * words.capital, 1.1 * words.capital
    flat = np.array([(left, down), (left + wide, down), (left + wide, up), (left, up)])
    c, s = np.cos(words.turn), np.sin(words.turn)
    return np.asarray(words.point + flat @ np.array([[c, s], [-s, c]]))

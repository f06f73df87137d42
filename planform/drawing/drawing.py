"""A drawing as data: fills, lines, arcs, texts and dimensions, in metres on a sheet to scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planform.drawing.style import Kind

Array = NDArray[np.float64]

Anchor = Literal["start", "middle", "end"]
"""Which point of a text stands where the text is."""

END = 3.0
"""Radius of the dots at the ends of a dimension [px]."""


@dataclass(frozen=True, eq=False)
class Fill:
    """An area: outlines, each shape (n, 2) and closed by itself [m].

    Outlines that run round the other way than the first are holes.
    title : what it is, for who asks
    """

    rings: tuple[Array, ...]
    kind: Kind
    title: str = ""


@dataclass(frozen=True, eq=False)
class Line:
    """An open line through points, shape (n, 2) [m]."""

    points: Array
    kind: Kind


@dataclass(frozen=True, eq=False)
class Arc:
    """A part of a circle from an angle on, counter-clockwise; a whole one unless told.

    centre : array, shape (2,) [m]
    radius : [m]
    start, sweep : [rad]
    """

    centre: Array
    radius: float
    kind: Kind
    start: float = 0.0
    sweep: float = 2.0 * np.pi

    @property
    def whole(self) -> bool:
        """Whether it is a full circle."""
        return self.sweep >= 2.0 * np.pi

    def ends(self) -> Array:
        """Where it begins and where it ends, shape (2, 2) [m]."""
        angles = np.array([self.start, self.start + self.sweep])
        round_it = np.column_stack([np.cos(angles), np.sin(angles)])
        return np.asarray(self.centre + self.radius * round_it)


@dataclass(frozen=True, eq=False)
class Text:
    """Words on one line, their foot at a point, shape (2,) [m]."""

    point: Array
    words: str
    kind: Kind
    anchor: Anchor = "middle"


@dataclass(frozen=True, eq=False)
class Dimension:
    """A measured distance between two points, shape (2,) [m]; its words stand as a text by it.

    ends : the kind of the dots at both ends; None for none
    """

    start: Array
    end: Array
    words: str
    kind: Kind = "leader"
    ends: Kind | None = "end"

    def drawn(self, scale: float) -> tuple[Line | Arc, ...]:
        """The dimension in simpler marks, on a sheet of so many px a metre."""
        line = Line(np.array([self.start, self.end]), self.kind)
        if self.ends is None:
            return (line,)
        return (line, *(Arc(at, END / scale, self.ends) for at in (self.start, self.end)))


Mark = Fill | Line | Arc | Text | Dimension


@dataclass(frozen=True, eq=False)
class Drawing:
    """Marks on a sheet, the first at the bottom.

    low, high : the sheet's corners at the lower left and the upper right, shape (2,) [m]
    scale : px of the sheet for a metre of the thing drawn
    """

    title: str
    low: Array
    high: Array
    scale: float
    marks: tuple[Mark, ...]

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the sheet [px]."""
        width, height = (self.high - self.low) * self.scale
        return round(float(width)), round(float(height))

    def px(self, points: ArrayLike) -> Array:
        """Where points (..., 2) [m] lie on the sheet: right and down from its upper left [px]."""
        flat = np.asarray(points, float)[..., :2]
        corner = np.array([self.low[0], self.high[1]])
        return np.asarray((flat - corner) * [self.scale, -self.scale])


@dataclass(frozen=True, eq=False)
class Frame:
    """What is laid over the ground of a film, and how long it shows [ms]."""

    marks: tuple[Mark, ...]
    lasts: int


@dataclass(frozen=True, eq=False)
class Film:
    """A moving picture: frames over a ground that stays."""

    ground: Drawing
    frames: tuple[Frame, ...]

"""What is drawn of a thing in its own plane, put on a page at a scale."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from planform.drawing.paper.arranging import FIRST, ROW, Asked, Side, arranged, box_of
from planform.drawing.paper.dimension import FREE, Angular, Linear
from planform.drawing.paper.marks import Array, Box, Mark
from planform.drawing.paper.moved import shifted
from planform.drawing.paper.page import PlacedView
from planform.drawing.paper.quiet import points_along, quietest
from planform.drawing.paper.sizes import DrawingScale

ROWS = 4
"""How many rows off its points a straight dimension may stand, where the nearer ones are taken."""


@dataclass(frozen=True, eq=False)
class Wanted:
    """A dimension that is wanted beside a view: between two points of its plane, shape (2,) [m].

    side : of the view; None for one straight from point to point, beside them
    tail : its tolerance and where it comes from
    extra : how much farther off than its row its line shall stand [mm]
    """

    key: str
    value: float
    words: str
    start: Array
    end: Array
    side: Side | None
    tail: str = ""
    extra: float = 0.0


@dataclass(frozen=True, eq=False)
class WantedAngle:
    """An angle that is wanted at a point of the plane, shape (2,) [m], counter-clockwise [rad].

    radius : of its arc on paper [mm]
    """

    key: str
    value: float
    words: str
    centre: Array
    first: float
    sweep: float
    radius: float


@dataclass(frozen=True, eq=False)
class Seen:
    """A thing seen along one direction, in its own plane [m]: marks, and dimensions wanted.

    marks : sizes of words and circles of marks that stand for signs are in mm all the same
    low, high : corners of what dimensions stand around, shape (2,) [m]
    """

    name: str
    marks: tuple[Mark, ...]
    low: Array
    high: Array
    wanted: tuple[Wanted, ...] = ()
    angles: tuple[WantedAngle, ...] = ()

    @property
    def size(self) -> Array:
        """Width and height [m]."""
        return self.high - self.low


def at_scale(seen: Seen, scale: DrawingScale, at: Array) -> PlacedView:
    """The view on a page, the origin of its plane at a point [mm]."""
    dimensions, taken = _dimensions(seen, scale, at)
    marks = tuple(shifted(mark, at, scale.mm) for mark in seen.marks)
    angles = tuple(
        Angular(
            key=one.key, value=one.value, words=one.words, centre=at + scale.mm * one.centre,
            first=one.first, sweep=one.sweep, radius=one.radius,
        )
        for one in seen.angles
    )  # fmt: skip
    return PlacedView(seen.name, scale, at, taken, (*marks, *dimensions, *angles))


def taken_at(seen: Seen, scale: DrawingScale) -> Box:
    """What a view takes of paper at a scale, dimensions included, from its plane's origin [mm]."""
    return _dimensions(seen, scale, np.zeros(2))[1]


def _dimensions(seen: Seen, scale: DrawingScale, at: Array) -> tuple[tuple[Linear, ...], Box]:
    """The dimensions of a view in their places, and the box of view and dimensions [mm]."""

    def to_paper(points: Array) -> Array:
        return np.asarray(at + scale.mm * np.asarray(points, float))

    low, high = to_paper(seen.low), to_paper(seen.high)
    box = (float(low[0]), float(low[1]), float(high[0]), float(high[1]))
    asked = [
        Asked(
            one.key, one.value, one.words, one.tail, to_paper(one.start), to_paper(one.end),
            one.side, one.extra,
        )
        for one in seen.wanted
        if one.side is not None
    ]  # fmt: skip
    dimensions, taken = arranged(asked, box)
    straight: list[Linear] = []
    wanted = [one for one in seen.wanted if one.side is None]
    if wanted:
        met = points_along(shifted(mark, at, scale.mm) for mark in seen.marks)
        beside = [mark for one in dimensions for mark in one.drawn()]
        for one in wanted:
            others = (mark for each in straight for mark in each.drawn())
            met = np.concatenate([met, points_along([*beside, *others])])
            straight.append(quietest(list(_aligned(one, to_paper)), met))
    return (*dimensions, *straight), around((taken, *map(box_of, straight)))


def _aligned(one: Wanted, move: Callable[[Array], Array]) -> Iterator[Linear]:
    """A dimension straight from point to point, its line beside them, either side, near or far."""
    start, end = move(one.start), move(one.end)
    way = end - start
    along = way / max(float(np.linalg.norm(way)), 1e-9)
    across = np.array([-along[1], along[0]])
    sides: tuple[Literal["end", "start"], ...] = ("end", "start")
    for rows in range(ROWS):
        for sign, beyond in product((1.0, -1.0), sides):
            off = FIRST + ROW * rows + one.extra
            made = Linear(
                key=one.key, value=one.value, words=one.words, tail=one.tail, start=start,
                end=end, along=along, through=start + sign * off * across, beyond=beyond,
            )  # fmt: skip
            room = max(0.0, 0.5 * (made.length - made.wide) - FREE) if made.inside else 0.0
            yield made
            yield from (replace(made, shift=share * room) for share in (-0.5, 0.5, -1.0, 1.0))


def around(boxes: Iterable[Box]) -> Box:
    """The least box that holds these."""
    all_boxes = list(boxes)
    return (
        min(b[0] for b in all_boxes),
        min(b[1] for b in all_boxes),
        max(b[2] for b in all_boxes),
        max(b[3] for b in all_boxes),
    )


def margins(seen: Seen, scale: DrawingScale) -> tuple[float, float, float, float]:
    """How far dimensions reach past a view: to the left, below, to the right, above [mm]."""
    low, high = scale.mm * seen.low, scale.mm * seen.high
    left, bottom, right, top = taken_at(seen, scale)
    return (
        float(low[0]) - left,
        float(low[1]) - bottom,
        right - float(high[0]),
        top - float(high[1]),
    )

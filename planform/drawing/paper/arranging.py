"""Dimensions around a view, arranged: small ones inside big ones, values off the lines of others.

Dimensions on one side stand in rows. The shortest come first; each goes into the nearest row in
which it meets no other, no nearer to the view than a shorter one that it spans. Then each value
looks for a place on its line that no extension line of a row farther out runs through.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from planform.drawing.paper.dimension import FREE, LETTER, PAST, SMALL, Linear
from planform.drawing.paper.marks import Array, Box

Side = Literal["above", "below", "left", "right"]

FIRST = 6.5
"""From the view to the first row [mm]."""
ROW = LETTER + SMALL + 3.6
"""From row to row [mm]."""
APART = 2.0
"""Between two dimensions in a row, one of which runs past its ends [mm]."""
TOUCHING = 0.1
"""Two that end within so much of each other may stand in one row [mm]."""


@dataclass(frozen=True, eq=False)
class Asked:
    """A dimension that is wanted beside a view.

    start, end : arrays, shape (2,)   its features [mm on paper]
    extra : how much farther off than its row its line shall stand [mm]
    """

    key: str
    value: float
    words: str
    tail: str
    start: Array
    end: Array
    side: Side
    extra: float = 0.0

    @property
    def level(self) -> bool:
        """Whether its line runs across the page."""
        return self.side in ("above", "below")

    @property
    def run(self) -> tuple[float, float]:
        """Where it begins and ends along its line [mm]."""
        axis = 0 if self.level else 1
        a, b = sorted((float(self.start[axis]), float(self.end[axis])))
        return a, b


def arranged(asked: Sequence[Asked], box: Box) -> tuple[tuple[Linear, ...], Box]:
    """Every dimension in its place beside a view, and the box of view and dimensions together.

    box : of the view alone [mm]
    """
    out: list[Linear] = []
    left, bottom, right, top = box
    for side in ("above", "below", "left", "right"):
        mine = [one for one in asked if one.side == side]
        rows = _rows(mine)
        placed = [_placed(one, row, box) for one, row in rows]
        placed = [_cleared(one, placed, side, box) for one in placed]
        out += placed
        for one in placed:
            a, b, c, d = box_of(one)
            left, bottom, right, top = min(left, a), min(bottom, b), max(right, c), max(top, d)
    return tuple(out), (left, bottom, right, top)


def _rows(asked: Sequence[Asked]) -> list[tuple[Asked, int]]:
    """Each dimension with its row, counted from the view."""
    rows: list[tuple[float, float, int]] = []
    out = []
    for one in sorted(asked, key=lambda a: (round(a.run[1] - a.run[0], 3), a.run, a.key)):
        low, high = one.run
        most = max(_shape(one).reach())  # its words may come to stand at either end
        off = most + APART if most else -TOUCHING  # a chain of dimensions shares its ends
        taken = low - off, high + off
        row = 0
        for a, b, other in sorted(rows, key=lambda r: r[2]):
            if a < taken[1] and taken[0] < b and other >= row:
                row = other + 1
        rows.append((*taken, row))
        out.append((one, row))
    return out


def _shape(one: Asked, through: Array | None = None) -> Linear:
    along = np.array([1.0, 0.0]) if one.level else np.array([0.0, 1.0])
    start, end = one.start, one.end
    if start @ along > end @ along:
        start, end = end, start
    return Linear(
        key=one.key, value=one.value, words=one.words, tail=one.tail,
        start=start, end=end, along=along, through=one.start if through is None else through,
    )  # fmt: skip


def _placed(one: Asked, row: int, box: Box) -> Linear:
    off = FIRST + ROW * row + one.extra
    left, bottom, right, top = box
    through = {
        "above": (left, top + off),
        "below": (left, bottom - off),
        "left": (left - off, bottom),
        "right": (right + off, bottom),
    }[one.side]
    return _shape(one, np.array(through))


def _cleared(one: Linear, others: Sequence[Linear], side: Side, box: Box) -> Linear:
    """The dimension with its words where nothing else is wont to be.

    Off the extension lines of rows farther out; then not past the view where dimensions on its
    other sides stand; then near the middle.
    """
    axis = 0 if side in ("above", "below") else 1
    sign = 1.0 if side in ("above", "right") else -1.0
    mine = sign * float(one.through[1 - axis])
    lines = [
        float(point[axis])
        for other in others
        if sign * float(other.through[1 - axis]) > mine + 1e-6
        for point in (other.start, other.end)
    ]
    low, high = box[axis], box[axis + 2]

    def cost(option: Linear) -> tuple[float, int]:
        at, half = float(option.middle[axis]), 0.5 * option.wide + FREE
        past = max(0.0, low - (at - half)) + (max(0.0, at + half - high) if axis == 0 else 0.0)
        return past, sum(abs(at - x) < half for x in lines)

    best, least = one, (np.inf, 0)
    for option in _options(one):
        found = cost(option)
        if found < least:
            best, least = option, found
        if least == (0.0, 0):
            break
    return best


def _options(one: Linear) -> Iterator[Linear]:
    if not one.inside:
        yield one
        yield replace(one, beyond="start")
        return
    room = 0.5 * (one.length - one.wide) - FREE
    for step in np.linspace(0.0, max(room, 0.0), 9):
        yield replace(one, shift=float(step))
        yield replace(one, shift=-float(step))


def box_of(one: Linear) -> Box:
    """What a dimension takes beside its view, words included."""
    first, last = one.feet
    before, after = one.reach()
    unit = one.along
    ends = np.array([first - before * unit, last + after * unit])
    out = max(FREE + 1.2 * LETTER, PAST), max(FREE + 1.5 * SMALL, PAST)
    across = np.array([-unit[1], unit[0]])
    corners = np.concatenate([ends + out[0] * across, ends - out[1] * across])
    low, high = corners.min(axis=0), corners.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])

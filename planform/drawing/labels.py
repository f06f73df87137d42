"""Where words go on a drawing: beside what they name, over no aircraft, no wall and no words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom [px]."""

CELL = 3.0
"""Size of the cells in which a sheet is looked at [px]."""

PAD = 2.0
"""Kept free round words [px]."""

CLOSE = 12.0
"""Words farther than this from what they name get a line to it [px]."""

CROSSED = 1.0
"""What a cell of a line under words counts, as so many px farther off; assumption."""

LOOKED = 300
"""Places whose line to the point is looked at, nearest first."""


@dataclass(frozen=True)
class Found:
    """Where a label goes, and the end of the line from it to what it names; None where close."""

    box: Box
    leader: tuple[float, float] | None


class FreePaper:
    """What on a sheet words may not cover, and what they had better not, cell by cell.

    width, height : of the sheet [px]
    """

    def __init__(self, width: float, height: float) -> None:
        shape = int(np.ceil(height / CELL)), int(np.ceil(width / CELL))
        self.kept = np.zeros(shape, bool)
        self.lines = np.zeros(shape, bool)
        self.words = np.zeros(shape, bool)

    def grow(self, height: float) -> None:
        """Make the sheet so high [px], free at the bottom."""
        more = int(np.ceil(height / CELL)) - len(self.kept)
        for name in ("kept", "lines", "words"):
            setattr(self, name, np.pad(getattr(self, name), ((0, max(0, more)), (0, 0))))

    def keep_rings(self, rings: Iterable[Array]) -> None:
        """Keep words off the area of an outline (n, 2) with its holes [px]."""
        from PIL import Image, ImageDraw

        outer, *holes = rings
        image = Image.new("1", self.kept.shape[::-1], 0)
        draw = ImageDraw.Draw(image)
        for ring, ink in ((outer, 1), *((hole, 0) for hole in holes)):
            if len(ring) > 2:
                draw.polygon([(x / CELL, y / CELL) for x, y in ring], fill=ink, outline=1)
        self.kept |= np.asarray(image)

    def keep_line(self, points: Array, hard: bool = False) -> None:
        """Keep words off a line (n, 2) [px] where it can be helped, or for certain."""
        from PIL import Image, ImageDraw

        image = Image.new("1", self.kept.shape[::-1], 0)
        ImageDraw.Draw(image).line([(x / CELL, y / CELL) for x, y in points], fill=1)
        into = self.kept if hard else self.lines
        into |= np.asarray(image)

    def keep_box(self, box: Box) -> None:
        """Keep words and their lines off words that are there."""
        c, r, c1, r1 = _cells(box)
        self.words[max(r, 0) : r1 + 1, max(c, 0) : c1 + 1] = True

    def keep_dot(self, x: float, y: float, radius: float) -> None:
        """Keep words off a dot [px]."""
        c, r, c1, r1 = _cells((x - radius, y - radius, x + radius, y + radius))
        self.kept[max(r, 0) : r1 + 1, max(c, 0) : c1 + 1] = True

    def place(self, point: tuple[float, float], wide: float, high: float) -> Found | None:
        """The free place for words of this size nearest a point [px]; None where there is none.

        The place and the line to it are kept free from then on.
        """
        rows = int(np.ceil((high + 2.0 * PAD) / CELL))
        cols = int(np.ceil((wide + 2.0 * PAD) / CELL))
        over = _counted(self.kept | self.words, rows, cols)
        if over.size == 0:
            return None
        r, c = np.nonzero(over == 0)
        if len(r) == 0:
            return None
        near = np.column_stack(
            [
                np.clip(point[0], c * CELL, (c + cols) * CELL),
                np.clip(point[1], r * CELL, (r + rows) * CELL),
            ]
        )
        far = np.linalg.norm(near - np.array(point), axis=1)
        cost = far + CROSSED * _counted(self.lines, rows, cols)[r, c]
        first = np.argsort(cost, kind="stable")[:LOOKED]
        k = next((k for k in first if not self._crosses(near[k], point)), first[0])
        left, top = c[k] * CELL + PAD, r[k] * CELL + PAD
        box = (left, top, left + wide, top + high)
        self.keep_box(box)
        if far[k] <= CLOSE:
            return Found(box, None)
        end = float(near[k][0]), float(near[k][1])
        self.keep_line(np.array([end, point]), hard=True)
        return Found(box, end)

    def _crosses(self, end: Array, point: tuple[float, float]) -> bool:
        """Whether a line to a point runs over words."""
        share = np.linspace(0.02, 1.0, 40)[:, None]
        at = (end + share * (np.array(point) - end)) / CELL
        r = np.clip(at[:, 1].astype(int), 0, len(self.words) - 1)
        c = np.clip(at[:, 0].astype(int), 0, self.words.shape[1] - 1)
        return bool(self.words[r, c].any())


def _cells(box: Box) -> tuple[int, int, int, int]:
    left, top, right, bottom = (int(v // CELL) for v in box)
    return left, top, right, bottom


def _counted(cells: NDArray[np.bool_], rows: int, cols: int) -> NDArray[np.int64]:
    """How many of the cells are set in every window of so many rows and columns."""
    total = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1), np.int64)
    total[1:, 1:] = cells.cumsum(0).cumsum(1)
    if rows >= total.shape[0] or cols >= total.shape[1]:
        return np.zeros((0, 0), np.int64)
    return np.asarray(
        total[rows:, cols:] - total[:-rows, cols:] - total[rows:, :-cols] + total[:-rows, :-cols]
    )

"""A pattern in true size laid over as few pages as will do: turned, shifted, cut into windows.

Pages lie in a grid whose cells touch; each page prints its cell and a strip around it, so that two
neighbours share a strip. A cross stands on the edge between two cells, on both pages, with the same
number: one laid on the other joins them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planform.drawing.paper.marks import Array, Box, Mark
from planform.drawing.paper.moved import lines_of, path, turned
from planform.drawing.paper.sizes import PaperSize

MARGIN = 10.0
"""Free of all print around a page, which printers commonly leave (common practice) [mm]."""
FOOT = 26.0
"""Height of the strip with the name of the page and the check ruler [mm]."""
OVERLAP = 14.0
"""Width of the strip that two neighbours share [mm]."""
ANGLES = np.radians([0, *(a for k in range(5, 90, 5) for a in (k, -k))])
"""How a pattern is turned to take fewer pages; words then read from the bottom or the right."""
SHIFTS = 3
SAMPLE = 4.0
"""Distance of the points that tell which pages a line runs over [mm]."""
EDGE = 3.0
"""Between the pattern and the edge of what is printed, at least [mm]."""
MOST = 260
"""Pages of one pattern at most: more rows or columns than a hand sorts; assumption."""

Cell = tuple[int, int]
"""Column from the left and row from the top, from 0."""


class TooManyPages(ValueError):
    """A pattern that takes more pages than `MOST`."""


@dataclass(frozen=True)
class Cross:
    """A register mark: its number, where it stands on the pattern [mm], the cells that share it."""

    number: int
    at: tuple[float, float]
    cells: tuple[Cell, Cell]


@dataclass(frozen=True, eq=False)
class Tiling:
    """A pattern's marks as they lie, and the cells of the grid that print them.

    low : the lower left corner of the whole grid's print [mm of the pattern as it lies]
    columns, rows : of the grid ; cells : those that are printed, row by row
    """

    paper: PaperSize
    angle: float
    marks: tuple[Mark, ...]
    low: tuple[float, float]
    columns: int
    rows: int
    cells: tuple[Cell, ...]

    @property
    def window(self) -> tuple[float, float]:
        """Width and height that one page prints of the pattern [mm]."""
        return window_of(self.paper)

    def core(self, cell: Cell) -> Box:
        """The cell itself, of the pattern as it lies [mm]."""
        (wide, high), half = self.window, 0.5 * OVERLAP
        left = self.low[0] + half + cell[0] * (wide - OVERLAP)
        bottom = self.low[1] + half + (self.rows - 1 - cell[1]) * (high - OVERLAP)
        return left, bottom, left + wide - OVERLAP, bottom + high - OVERLAP

    def printed(self, cell: Cell) -> Box:
        """What its page prints: the cell with the strips it shares [mm]."""
        half = 0.5 * OVERLAP
        left, bottom, right, top = self.core(cell)
        return left - half, bottom - half, right + half, top + half

    def neighbours(self, cell: Cell) -> Iterator[Cell]:
        """The printed cells that share an edge with one."""
        column, row = cell
        for one in ((column - 1, row), (column + 1, row), (column, row - 1), (column, row + 1)):
            if one in self.cells:
                yield one

    @cached_property
    def crosses(self) -> tuple[Cross, ...]:
        """Every register mark: two on each shared edge, so that a page cannot turn on one."""
        found: list[tuple[tuple[float, float], tuple[Cell, Cell]]] = []
        for cell in self.cells:
            column, row = cell
            left, bottom, right, top = self.core(cell)
            if (column + 1, row) in self.cells:
                ends = ((right, bottom), (right, top))
                found += _on_edge(ends, (cell, (column + 1, row)))
            if (column, row + 1) in self.cells:
                ends = ((left, bottom), (right, bottom))
                found += _on_edge(ends, (cell, (column, row + 1)))
        return tuple(Cross(k + 1, *one) for k, one in enumerate(found))


def _on_edge(
    ends: tuple[tuple[float, float], tuple[float, float]], cells: tuple[Cell, Cell]
) -> list[tuple[tuple[float, float], tuple[Cell, Cell]]]:
    (a, b), (c, d) = ends
    return [((a + s * (c - a), b + s * (d - b)), cells) for s in (0.2, 0.8)]


def window_of(paper: PaperSize) -> tuple[float, float]:
    """Width and height that a page of this paper prints of a pattern [mm]."""
    return paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN - FOOT


def cell_name(cell: Cell) -> str:
    """As 'B3': the row from the top by its letter, the column from the left by its number."""
    column, row = cell
    letters = ""
    row += 1
    while row:
        row, left = divmod(row - 1, 26)
        letters = chr(ord("A") + left) + letters
    return f"{letters}{column + 1}"


def tiled(marks: tuple[Mark, ...], paper: PaperSize, *, turn: bool = True) -> Tiling:
    """The pattern over the fewest pages found: both ways of the paper, turned and shifted.

    marks : in true size [mm] ; turn : whether it may be turned
    Raises TooManyPages.
    """
    points = np.vstack([_sampled(path(one)) for one in lines_of(marks)])
    best: tuple[int, PaperSize, float, Array, tuple[int, int]] | None = None
    for angle in ANGLES if turn else ANGLES[:1]:
        c, s = np.cos(angle), np.sin(angle)
        lying = points @ np.array([[c, s], [-s, c]])
        for sheet in dict.fromkeys((paper.upright, paper)):
            found = _fewest(lying, sheet, best[0] if best else MOST + 1)
            if found is not None:
                best = (found[0], sheet, float(angle), *found[1:])
    if best is None:
        raise TooManyPages(f"more than {MOST} pages of {paper.name}")
    _, sheet, angle, low, (columns, rows) = best
    c, s = np.cos(angle), np.sin(angle)
    index = _cells(points @ np.array([[c, s], [-s, c]]) - low, sheet, (columns, rows))
    held = _linked({(int(x), int(y)) for x, y in index})
    cells = sorted(((x, rows - 1 - y) for x, y in held), key=lambda one: one[::-1])
    return Tiling(
        sheet,
        angle,
        tuple(turned(mark, angle) for mark in marks),
        (float(low[0]), float(low[1])),
        columns,
        rows,
        tuple(cells),
    )


def _fewest(
    points: Array, paper: PaperSize, under: int
) -> tuple[int, Array, tuple[int, int]] | None:
    """The fewest pages for points as they lie, and how; None where not fewer than so many."""
    window = np.array(window_of(paper))
    low, size = points.min(axis=0) - EDGE, np.ptp(points, axis=0) + 2.0 * EDGE
    pitch = window - OVERLAP
    counts = np.maximum(1, np.ceil((size - OVERLAP - 1e-9) / pitch)).astype(int)
    if counts.max() >= under and counts.max() > 1:
        return None
    slack = counts * pitch + OVERLAP - size
    grid = (int(counts[0]), int(counts[1]))
    best: tuple[int, Array, tuple[int, int]] | None = None
    steps = np.linspace(0.0, 1.0, SHIFTS + 1)
    for across in np.concatenate([[0.5], steps]):
        for up in np.concatenate([[0.5], steps]):
            start = low - slack * np.array([across, up])
            index = _cells(points - start, paper, grid)
            keys = np.unique(index[:, 0] * grid[1] + index[:, 1]).astype(int)
            if len(keys) >= under:
                continue
            pages = len(_linked({divmod(int(key), grid[1]) for key in keys}))
            if pages < under:
                under, best = pages, (pages, start, grid)
    return best


def _linked(cells: set[Cell]) -> set[Cell]:
    """The cells, and one more wherever two touch at a corner alone: they would turn on it."""
    out = set(cells)
    for column, row in sorted(cells):
        for aside in (1, -1):
            beside = {(column + aside, row), (column, row + 1)}
            if (column + aside, row + 1) in cells and not beside & out:
                out.add((column, row + 1))
    return out


def _cells(points: Array, paper: PaperSize, grid: tuple[int, int]) -> Array:
    """Column from the left and row from the bottom of the cell that holds each point."""
    pitch = np.array(window_of(paper)) - OVERLAP
    index = np.floor((points - 0.5 * OVERLAP) / pitch)
    return np.asarray(np.clip(index, 0, np.array(grid) - 1))


def _sampled(points: Array) -> Array:
    """Points along a line no farther apart than `SAMPLE`, its corners among them."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    found = [points[:1]]
    for a, b, step in zip(points[:-1], points[1:], steps, strict=True):
        count = max(1, int(np.ceil(step / SAMPLE)))
        found.append(a + (b - a) * (np.arange(1, count + 1) / count)[:, None])
    return np.vstack(found)

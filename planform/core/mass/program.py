"""Linear programs of a few unknowns, and the outline that a set of them casts on a plane.

Dense two-phase simplex with Bland's rule (R. G. Bland, "New finite pivoting rules for the simplex
method", Math. Oper. Res. 2 (1977)), which cannot go in circles. Meant for tens of unknowns.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

NOTHING = 1e-9
"""Share of a row's size that counts as nothing."""


@dataclass(frozen=True, eq=False)
class Region:
    """All x >= 0 with rows @ x <= bounds; shapes (k, n) and (k,). It must be bounded."""

    rows: Array
    bounds: Array

    def with_rows(self, rows: Array, bounds: Array) -> Region:
        """The region with more rows."""
        return Region(np.vstack([self.rows, rows]), np.concatenate([self.bounds, bounds]))

    def most(self, aim: Array) -> Array | None:
        """The x of the region for which aim @ x is greatest, shape (n,); None where there is none.

        Raises ValueError where it has no greatest value.
        """
        k, n = self.rows.shape
        size = np.maximum(np.abs(self.rows).max(axis=1, initial=0.0), np.abs(self.bounds))
        scale = np.where(size > 0.0, size, 1.0)
        table = np.column_stack([self.rows, np.eye(k), self.bounds]) / scale[:, None]
        table[:, n : n + k] = np.eye(k)
        basis = list(range(n, n + k))
        short = [i for i in range(k) if table[i, -1] < 0.0]
        if short:
            extra = np.zeros((k, len(short)))
            for j, i in enumerate(short):
                table[i] *= -1.0
                extra[i, j] = 1.0
                basis[i] = n + k + j
            table = np.column_stack([table[:, :-1], extra, table[:, -1]])
            cost = np.concatenate([np.zeros(n + k), -np.ones(len(short))])
            if _climb(table, basis, cost) < -NOTHING:
                return None
            _drive_out(table, basis, n + k)
            table = np.column_stack([table[:, : n + k], table[:, -1]])
        _climb(table, basis, np.concatenate([aim, np.zeros(k)]))
        x = np.zeros(n + k)
        for i, column in enumerate(basis):
            if column < n + k:
                x[column] = max(0.0, table[i, -1])
        return x[:n]


def _climb(table: Array, basis: list[int], cost: Array) -> float:
    """Pivot until the cost is greatest; returns it."""
    size = max(1.0, float(np.abs(cost).max(initial=0.0)))
    while True:
        gain = cost - cost[basis] @ table[:, :-1]
        better = np.flatnonzero(gain > NOTHING * size)
        if not len(better):
            return float(cost[basis] @ table[:, -1])
        column = int(better[0])
        up = table[:, column]
        rows = np.flatnonzero(up > NOTHING)
        if not len(rows):
            raise ValueError("expected a bounded region")
        ratio = table[rows, -1] / up[rows]
        least = rows[ratio <= ratio.min() + NOTHING * max(1.0, abs(float(ratio.min())))]
        _pivot(table, basis, int(min(least, key=lambda i: basis[i])), column)


def _pivot(table: Array, basis: list[int], row: int, column: int) -> None:
    table[row] /= table[row, column]
    rest = table[:, column].copy()
    rest[row] = 0.0
    table -= np.outer(rest, table[row])
    basis[row] = column


def _drive_out(table: Array, basis: list[int], columns: int) -> None:
    """Put true unknowns where helping ones are still in the basis, at nothing."""
    for i, held in enumerate(basis):
        if held >= columns:
            usable = np.flatnonzero(np.abs(table[i, :columns]) > NOTHING)
            if len(usable):
                _pivot(table, basis, i, int(usable[0]))


def outline(region: Region, plane: Array) -> list[Array]:
    """The x of the region that lie at the corners of its image plane @ x, round about once.

    plane : array, shape (2, n)
    Counter-clockwise from a corner with the greatest first coordinate; empty where nothing is in
    the region. Each side of the image is taken as found when nothing lies beyond it.
    """
    right = region.most(plane[0])
    if right is None:
        return []
    left = region.most(-plane[0])
    assert left is not None
    size = float(np.abs(plane @ np.column_stack([right, left])).max(initial=1.0))
    if float(plane[0] @ (right - left)) < 1e-9 * size:
        ends = [region.most(sign * plane[1]) for sign in (-1.0, 1.0)]
        return [end for end in ends if end is not None]
    upper = _beyond(region, plane, (right, left), size)
    lower = _beyond(region, plane, (left, right), size)
    return [right, *upper, left, *lower]


def _beyond(region: Region, plane: Array, way: tuple[Array, Array], size: float) -> list[Array]:
    """The corners to the right of the way from one x to another, in order."""
    a, b = way
    along = plane @ (b - a)
    normal = np.array([along[1], -along[0]])
    length = float(np.hypot(*normal))
    if length < 1e-9 * size:
        return []
    normal /= length
    found = region.most(normal @ plane)
    assert found is not None
    if float(normal @ plane @ (found - a)) < 1e-9 * size:
        return []
    before, after = (_beyond(region, plane, ends, size) for ends in ((a, found), (found, b)))
    return [*before, found, *after]

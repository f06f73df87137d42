"""Where words meet the fewest lines, among places to choose from: dimensions and labels."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from planform.drawing.paper.dimension import Linear
from planform.drawing.paper.marks import Array, Circle, Lettering, Mark, PenStroke, corners_of

STEP = 0.5
"""Between the points that stand for a line [mm]."""
FREE = 0.3
"""Kept round words [mm]."""


def points_along(marks: Iterable[Mark]) -> Array:
    """Points of lines and of the boxes that words take, `STEP` apart, shape (n, 2) [mm]."""
    lines = []
    for mark in marks:
        if isinstance(mark, PenStroke):
            lines.append(np.concatenate([mark.points, mark.points[:1]]) if mark.closed
                         else mark.points)  # fmt: skip
        elif isinstance(mark, Circle):
            lines.append(mark.points())
        elif isinstance(mark, Lettering):
            low, _, high, _ = corners = corners_of(mark)
            lines += [np.concatenate([corners, corners[:1]]), np.stack([low, high])]
    return np.concatenate([np.zeros((0, 2)), *map(_sampled, lines)])


def _sampled(points: Array) -> Array:
    """Points along a line [mm]."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    run = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.linspace(0.0, run[-1], max(2, int(run[-1] / STEP) + 1))
    return np.column_stack([np.interp(at, run, points[:, axis]) for axis in (0, 1)])


def met(words: Lettering, points: Array) -> int:
    """How many of these points, shape (n, 2) [mm], words lie on."""
    first, second, _, fourth = corners_of(words)
    inside = np.ones(len(points), dtype=bool)
    for way in (second - first, fourth - first):
        size = float(np.linalg.norm(way))
        along = (points - first) @ (way / size) if size > 0.0 else np.zeros(len(points))
        inside &= (along > -FREE) & (along < size + FREE)
    return int(inside.sum())


def quietest(options: Sequence[Linear], points: Array) -> Linear:
    """The dimension whose words meet the fewest of these points; of equal ones the first."""
    return min(options, key=lambda one: sum(
        met(mark, points) for mark in one.drawn() if isinstance(mark, Lettering)
    ))  # fmt: skip

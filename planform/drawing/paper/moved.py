"""Marks moved, turned and cut off at a box."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from planform.drawing.paper.marks import (
    Array,
    Box,
    Circle,
    Foot,
    Lettering,
    Mark,
    PenStroke,
    corners_of,
)


def turned(mark: Mark, angle: float) -> Mark:
    """A mark turned about the origin, counter-clockwise [rad]; words go on reading along it."""
    c, s = np.cos(angle), np.sin(angle)
    by = np.array([[c, s], [-s, c]])
    if isinstance(mark, PenStroke):
        return replace(mark, points=mark.points @ by)
    if isinstance(mark, Circle):
        return replace(mark, centre=mark.centre @ by, start=mark.start + angle)
    if isinstance(mark, Lettering):
        return _readable(replace(mark, point=mark.point @ by, turn=mark.turn + angle))
    return replace(mark, rings=tuple(ring @ by for ring in mark.rings))


def _readable(words: Lettering) -> Lettering:
    """Words that are read from the bottom or the right, where they stood."""
    if -0.5 * np.pi + 1e-6 < words.turn <= 0.5 * np.pi + 1e-6:
        return words
    up = np.array([-np.sin(words.turn), np.cos(words.turn)])
    feet: dict[Foot, Foot] = {"start": "end", "middle": "middle", "end": "start"}
    turn = words.turn + (np.pi if words.turn < 0.0 else -np.pi)
    return replace(words, point=words.point + words.capital * up, foot=feet[words.foot], turn=turn)


def shifted(mark: Mark, by: Array, scale: float = 1.0) -> Mark:
    """A mark so many times its size about the origin, then moved, by an array, shape (2,) [mm].

    Words only move; they keep their size.
    """
    if isinstance(mark, PenStroke):
        return replace(mark, points=by + scale * mark.points)
    if isinstance(mark, Circle):
        return replace(mark, centre=by + scale * mark.centre, radius=scale * mark.radius)
    if isinstance(mark, Lettering):
        return replace(mark, point=by + scale * mark.point)
    return replace(mark, rings=tuple(by + scale * ring for ring in mark.rings))


def path(mark: PenStroke | Circle) -> Array:
    """The points of a stroke or circle in turn, (n, 2); a closed one ends at its first."""
    if isinstance(mark, Circle):
        return mark.points(181)
    return np.vstack([mark.points, mark.points[:1]]) if mark.closed else mark.points


def lines_of(marks: Iterable[Mark]) -> Iterator[PenStroke | Circle]:
    """The strokes and circles among marks."""
    for mark in marks:
        if isinstance(mark, PenStroke | Circle):
            yield mark


def within(points: Array, box: Box, slack: float = 1e-6) -> bool:
    """Whether all points, shape (n, 2), lie in a box."""
    low, high = np.array(box[:2]), np.array(box[2:])
    return bool((points >= low - slack).all() and (points <= high + slack).all())


def cut_off(mark: PenStroke | Circle, box: Box) -> Iterator[PenStroke | Circle]:
    """What of a stroke or circle lies in a box; whole ones stay what they are."""
    points = path(mark)
    if within(points, box):
        yield mark
        return
    for run in inside_runs(points, box):
        yield PenStroke(run, mark.pen)


def inside_runs(points: Array, box: Box) -> Iterator[Array]:
    """The runs of a line through points that lie in a box, each shape (m, 2).

    Each piece is cut at the four sides by its parameter (Liang and Barsky, 1984, from memory).
    """
    start, way = points[:-1], np.diff(points, axis=0)
    enter, leave = np.zeros(len(way)), np.ones(len(way))
    for axis, low, high in ((0, box[0], box[2]), (1, box[1], box[3])):
        flat = np.abs(way[:, axis]) < 1e-12
        step = np.where(flat, 1.0, way[:, axis])
        at_low, at_high = (low - start[:, axis]) / step, (high - start[:, axis]) / step
        out = flat & ((start[:, axis] < low) | (start[:, axis] > high))
        enter = np.where(flat, enter, np.maximum(enter, np.minimum(at_low, at_high)))
        leave = np.where(flat, leave, np.minimum(leave, np.maximum(at_low, at_high)))
        leave = np.where(out, -1.0, leave)
    run: list[Array] = []
    for k in np.flatnonzero(leave > enter):
        first, last = start[k] + enter[k] * way[k], start[k] + leave[k] * way[k]
        if run and np.linalg.norm(run[-1] - first) > 1e-9:
            yield np.array(run)
            run = []
        run += [last] if run else [first, last]
    if run:
        yield np.array(run)


def words_within(words: Lettering, box: Box) -> Lettering:
    """Words moved as little as they must be to stand in a box."""
    corners = corners_of(words)
    low, high = corners.min(axis=0), corners.max(axis=0)
    back = np.minimum(np.array(box[2:]) - high, 0.0)
    by = np.maximum(np.array(box[:2]) - (low + back), 0.0) + back
    return replace(words, point=words.point + by)

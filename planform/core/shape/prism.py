"""Upright prisms over plan polygons, as closed meshes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.distance import segment_segment

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

ROUNDING = 1e-12
"""Share of the outline's size under which lengths are rounding; assumption."""


def _turn(a: Array, b: Array, c: Array) -> Array:
    """Twice the area of triangles a b c (..., 2), above zero where they turn left."""
    u, v = b - a, c - a
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def _check(outline: Array) -> None:
    """Raise ValueError, naming points from 1, unless the outline is simple and turns left."""
    count = len(outline)
    size = float(np.ptp(outline, axis=0).max())
    least = ROUNDING * size
    after = np.roll(outline, -1, axis=0)
    run = after - outline
    length = np.hypot(run[:, 0], run[:, 1])
    following = np.arange(1, count + 1) % count + 1
    if (length <= least).any():
        k = int(np.argmin(length))
        raise ValueError(
            f"Expected an outline without repeated points, got points {k + 1} and {following[k]}"
            " at one place"
        )
    onward = np.roll(run, -1, axis=0)
    turn = run[:, 0] * onward[:, 1] - run[:, 1] * onward[:, 0]
    back = (np.abs(turn) <= least * np.maximum(length, np.roll(length, -1))) & (
        (run * onward).sum(axis=1) < 0.0
    )
    if back.any():
        k = int(np.argmax(back))
        raise ValueError(f"Expected a simple outline, got one that turns back at {following[k]}")
    i, j = np.triu_indices(count, k=2)
    apart = (j + 1) % count != i
    i, j = i[apart], j[apart]
    start = np.column_stack([outline, np.zeros(count)])
    end = np.roll(start, -1, axis=0)
    gap = segment_segment(start[i], end[i], start[j], end[j])[0]
    if (gap <= least).any():
        k = int(np.argmin(gap))
        raise ValueError(
            f"Expected a simple outline, got edges {i[k] + 1}-{following[i[k]]} and"
            f" {j[k] + 1}-{following[j[k]]} that cross or touch"
        )
    if _turn(outline[0], outline, after).sum() < 0.0:
        raise ValueError("Expected a counter-clockwise outline, got a clockwise one")


def triangulated(outline: Array) -> Faces:
    """Triangles (n - 2, 3) of a simple polygon (n, 2) that winds counter-clockwise.

    Ears are cut off one after another, the best shaped first. Points along a straight side are
    corners of triangles too.
    """
    outline = np.asarray(outline, dtype=float)
    left = np.arange(len(outline))
    faces = []
    while len(left) > 3:
        ring = outline[left]
        before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
        area = _turn(before, ring, after)
        sides = (before - ring, ring - after, after - before)
        longest = np.max([np.hypot(s[:, 0], s[:, 1]) for s in sides], axis=0)
        shape = area / longest**2
        corners = before[:, None], ring[:, None], after[:, None]
        held = np.ones((len(left), len(left)), dtype=bool)
        for p, q in zip(corners, (*corners[1:], corners[0]), strict=True):
            held &= _turn(p, q, ring[None]) >= -ROUNDING * longest[:, None] ** 2
        own = np.arange(len(left))
        for shift in (-1, 0, 1):
            held[own, (own + shift) % len(left)] = False
        shape[held.any(axis=1)] = -np.inf
        k = int(np.argmax(shape))
        if shape[k] <= 0.0:
            raise ValueError("Expected a simple outline, got one too thin to be cut in triangles")
        faces.append([left[k - 1], left[k], left[(k + 1) % len(left)]])
        left = np.delete(left, k)
    faces.append(list(left))
    return np.array(faces, dtype=np.int64)


def prism(outline: Array, low: float, high: float) -> tuple[Array, Faces]:
    """Closed mesh of an upright prism.

    outline : array, shape (n, 2) [m], a simple polygon counter-clockwise, first point not repeated
    low, high : heights of bottom and top [m]
    Returns points (2 n, 3) [m], bottom then top, and faces (4 n - 4, 3) that wind outward.
    """
    outline = np.asarray(outline, dtype=float)
    if outline.ndim != 2 or outline.shape[1] != 2 or len(outline) < 3:
        raise ValueError(f"Expected outline with shape (n, 2), n from 3, got {outline.shape}")
    if not (np.isfinite(outline).all() and np.isfinite([low, high]).all()):
        raise ValueError("Expected finite numbers in a prism, got others")
    if high <= low:
        raise ValueError(f"Expected high above low, got {high:g} and {low:g}")
    _check(outline)
    count = len(outline)
    lid = triangulated(outline)
    points = np.concatenate(
        [np.column_stack([outline, np.full(count, height)]) for height in (low, high)]
    )
    here = np.arange(count)
    there = np.roll(here, -1)
    sides = np.concatenate(
        [
            np.column_stack([here, there, there + count]),
            np.column_stack([here, there + count, here + count]),
        ]
    )
    return points, np.concatenate([lid[:, ::-1], lid + count, sides])

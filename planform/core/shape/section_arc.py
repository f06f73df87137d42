"""The line in which an upright plane across a body cuts its skin, and pieces of that line."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.clip import section_segments

Array = NDArray[np.float64]


def halves_of_section(triangles: Array, station: float) -> tuple[Array, Array]:
    """The right and the left half of the skin at a station, each from its bottom up.

    triangles : array, shape (n, 3, 3) [m], of a closed mesh that one loop of a plane cuts
    Returns points (k, 2) and (m, 2): butt line and waterline [m]. Both halves share the lowest and
    the highest point over the middle of the section.
    Raises ValueError where the station is outside the mesh, or the section is not one loop.
    """
    segments = section_segments(triangles, 0, station)
    if not len(segments):
        raise ValueError("no skin at this station")
    after = {tuple(a): tuple(b) for a, b in segments}
    start = tuple(segments[0, 0])
    ring = [start]
    while (here := after.get(ring[-1])) is not None and here != start:
        ring.append(here)
        if len(ring) > len(segments):
            break
    if len(ring) != len(segments):
        raise ValueError("the skin at this station is not one closed line")
    points = np.array(ring)
    y, z = points.T
    if float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum()) < 0.0:
        points = points[::-1]
    return _split(points, 0.5 * float(y.min() + y.max()))


def _split(ring: Array, middle: float) -> tuple[Array, Array]:
    """A counter-clockwise ring parted where it crosses its middle, lowest and highest."""
    out: list[Array] = []
    for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        out.append(a)
        if (a[0] - middle) * (b[0] - middle) < 0.0:
            share = (middle - a[0]) / (b[0] - a[0])
            out.append(np.array([middle, a[1] + share * (b[1] - a[1])]))
    points = np.array(out)
    on = np.flatnonzero(points[:, 0] == middle)
    if len(on) < 2:
        raise ValueError("the skin at this station does not cross its middle")
    points = np.roll(points, -int(on[np.argmin(points[on, 1])]), axis=0)
    on = np.flatnonzero(points[:, 0] == middle)
    top = int(on[np.argmax(points[on, 1])])
    return points[: top + 1], np.concatenate([points[top:], points[:1]])[::-1]


def between(half: Array, lower: float, upper: float | None) -> Array:
    """The piece of half a section from one waterline up to another; None: up to its highest.

    half : array, shape (n, 2), from the lowest point up
    Raises ValueError, with what is there, where the half does not reach a waterline.
    """
    ends = float(half[:, 1].min()), float(half[:, 1].max())
    for level in (lower, upper):
        if level is not None and not ends[0] <= level <= ends[1]:
            raise ValueError(f"{ends[0]!r} {ends[1]!r}")
    start = _reach(half, lower)
    piece = np.concatenate([start[None], half[_after(half, lower) :]])
    if upper is None:
        return piece
    stop = _after(piece, upper)
    return np.concatenate([piece[:stop], _reach(piece, upper)[None]])


def _after(line: Array, level: float) -> int:
    """The first point of a line above a level; the last where none is."""
    above = np.flatnonzero(line[:, 1] > level)
    return int(above[0]) if len(above) else len(line) - 1


def _reach(line: Array, level: float) -> Array:
    """Where a line first rises over a level."""
    k = _after(line, level)
    if k == 0:
        return np.asarray(line[0])
    a, b = line[k - 1], line[k]
    if b[1] == a[1]:
        return np.asarray(b)
    share = np.clip((level - a[1]) / (b[1] - a[1]), 0.0, 1.0)
    return np.asarray(a + share * (b - a))


def spaced(line: Array, count: int) -> Array:
    """Points at even distances along a line (n, 2), shape (count, 2), its ends among them."""
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.linspace(0.0, along[-1], count)
    return np.stack([np.interp(at, along, line[:, k]) for k in (0, 1)], axis=1)


def farthest_off(points: Array, line: Array) -> float:
    """The greatest distance of points (n, 2) from a line (m, 2) [m]."""
    a, run = line[:-1], np.diff(line, axis=0)
    size = np.maximum((run**2).sum(axis=1), 1e-30)
    away = points[:, None] - a
    share = np.clip((away * run).sum(axis=2) / size, 0.0, 1.0)
    return float(np.linalg.norm(away - share[..., None] * run, axis=2).min(axis=1).max())

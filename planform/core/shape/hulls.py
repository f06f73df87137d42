"""Bodies: sections from cut to cut, straight or smooth, drawn around the true shape.

A section is a superellipse with its sides held apart by a straight flat, and the hull of that and a
keel under it. It is known by its support: how far it reaches along each of a body's directions.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.loft import Faces, Mesh, fan_cap, loft, oriented

Array = NDArray[np.float64]

BODY_SIDES = 32
STEPS = 16
"""Straight pieces from cut to cut of a smooth body."""
SAME = 1e-9
"""Corners of one section nearer than this are one [m]: rounding."""


@dataclass(frozen=True, eq=False)
class Columns:
    """What is written of a body's cuts, each an array, shape (n,) [m].

    boxiness : the superellipse's exponent; 2 is an ellipse, more is nearer to a rectangle
    flat_sides : height of the straight flat of both sides; none where left out
    keel : how far the keel stands under the round; none where left out
    flat_bottom : width of the keel's, or the bottom's, flat; none where left out
    """

    fs: Array
    half_width: Array
    bottom: Array
    top: Array
    boxiness: Array
    flat_sides: Array | float = 0.0
    keel: Array | float = 0.0
    flat_bottom: Array | float = 0.0

    def table(self) -> Array:
        """All columns side by side, shape (n, 8)."""
        given = [getattr(self, field.name) for field in fields(self)]
        return np.stack([np.broadcast_to(one, self.fs.shape) for one in given], axis=1)

    def smoothed(self) -> Columns:
        """The columns at `STEPS` places from cut to cut, on the monotone cubic through the cuts."""
        table = self.table()
        slope = monotone_slopes(table[:, 0], table[:, 1:])
        share = np.arange(STEPS)[:, None] / STEPS
        rows = []
        for k in range(len(table) - 1):
            step = float(table[k + 1, 0] - table[k, 0])
            value = _cubic(share, step, table[k : k + 2, 1:], slope[k : k + 2])
            rows.append(np.hstack([table[k, 0] + step * share, value]))
        return Columns(*np.vstack([*rows, table[-1:]]).T)


def _cubic(share: Array, step: float, value: Array, slope: Array) -> Array:
    """The cubic with two values and slopes, shape (2, c) each, at shares (k, 1): shape (k, c)."""
    s, r = share, 1.0 - share
    ends = (1.0 + 2.0 * s) * r * r * value[0] + (1.0 + 2.0 * r) * s * s * value[1]
    return np.asarray(ends + step * s * r * (r * slope[0] - s * slope[1]))


def monotone_slopes(x: Array, y: Array) -> Array:
    """Slopes of the cubic through points that rises and falls only where they do, shape (n, c).

    x : (n,), rising ; y : (n, c)
    Within: the harmonic mean of both neighbours' slopes, weighted by their lengths, and none where
    they differ in sign; at the ends the three-point formula, held to the same (F. N. Fritsch,
    J. Butland, SIAM J. Sci. Stat. Comput. 5, 1984, from memory).
    """
    h = np.diff(x)[:, None]
    d = np.diff(y, axis=0) / h
    if len(d) == 1:
        return np.vstack([d, d])
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    same = d[:-1] * d[1:] > 0.0
    before, after = np.where(same, d[:-1], 1.0), np.where(same, d[1:], 1.0)
    inner = np.where(same, (w1 + w2) / (w1 / before + w2 / after), 0.0)
    first = _end_slope(h[0], h[1], d[0], d[1])
    last = _end_slope(h[-1], h[-2], d[-1], d[-2])
    return np.vstack([first, inner, last])


def _end_slope(h0: Array, h1: Array, d0: Array, d1: Array) -> Array:
    slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    slope = np.where(slope * d0 <= 0.0, 0.0, slope)
    steep = (d0 * d1 < 0.0) & (np.abs(slope) > 3.0 * np.abs(d0))
    return np.asarray(np.where(steep, 3.0 * d0, slope))


def directions(columns: Columns, count: int = BODY_SIDES) -> Array:
    """Directions, shape (count, 2), in which a body's sections are bounded, counter-clockwise.

    They are those of a circle stretched by the body's width over its height, so that a flat section
    is bounded as closely as a round one. They hold the four axis directions.
    """
    aspect = float(2.0 * columns.half_width.mean() / (columns.top - columns.bottom).mean())
    angle = np.arange(count) * 2.0 * np.pi / count
    normal = np.stack([np.cos(angle), aspect * np.sin(angle)], axis=1)
    return np.asarray(normal / np.linalg.norm(normal, axis=1)[:, None])


def supports(row: Array, normal: Array, boxiness: float | None = None) -> Array:
    """How far one section reaches along each direction, from its round's middle, shape (k,) [m].

    row : (8,) as `Columns.table`; normal : array, shape (k, 2); boxiness : instead of its own
    The support width of a superellipse along (u, v) is (|a u|^q + |b v|^q)^(1/q), q = n/(n-1) (the
    dual norm); that of a sum is the sum, that of a hull the greatest.
    """
    _, half_width, bottom, top, own, flat, keel, width = row
    n = own if boxiness is None else boxiness
    q = n / (n - 1.0)
    half_height = 0.5 * (top - bottom - keel - flat)
    out = (np.abs(half_width * normal[:, 0]) ** q + np.abs(half_height * normal[:, 1]) ** q) ** (
        1.0 / q
    )
    if flat:
        out = out + 0.5 * flat * np.abs(normal[:, 1])
    if keel or width:
        under = half_height + 0.5 * flat + keel
        at_keel = 0.5 * width * np.abs(normal[:, 0]) - under * normal[:, 1]
        out = np.maximum(out, at_keel)
    return np.asarray(out)


def _ring(support: Array, normal: Array) -> Array:
    """The polygon, shape (n, 2), with these supports; neighbouring lines meet in its corners."""
    n1, h1 = np.roll(normal, -1, axis=0), np.roll(support, -1)
    det = normal[:, 0] * n1[:, 1] - normal[:, 1] * n1[:, 0]
    return np.stack(
        [
            (support * n1[:, 1] - h1 * normal[:, 1]) / det,
            (h1 * normal[:, 0] - support * n1[:, 0]) / det,
        ],
        axis=1,
    )


def outline(row: Array, normal: Array) -> Array:
    """The corners of one section bounded in directions, shape (n, 2) [m].

    Butt lines from its own middle, and waterlines.
    row : (8,) as `Columns.table`; normal : array, shape (n, 2), as `directions` gives them
    """
    ring = _ring(supports(row, normal), normal)
    return np.asarray(ring + np.array([0.0, 0.5 * (row[3] + row[2] + row[6])]))


def body(columns: Columns, bl: float) -> Mesh:
    """Mesh of a body, straight from station to station of its columns.

    All rings are bounded in the same directions, so every side facet is flat and holds the true
    straight loft inside.

    bl : butt line of the body's own middle plane [m]
    """
    normal = directions(columns)
    table = columns.table()
    rings = np.empty((len(table), BODY_SIDES, 3))
    for k, row in enumerate(table):
        ring = _ring(supports(row, normal), normal)
        rings[k, :, 0] = row[0]
        rings[k, :, 1] = bl + ring[:, 0]
        rings[k, :, 2] = 0.5 * (row[3] + row[2] + row[6]) + ring[:, 1]
    mesh = loft(rings, fan_cap(BODY_SIDES))
    cornered = bool((table[:, 6:] > 0.0).any())
    return _without_slivers(*mesh, BODY_SIDES) if cornered else mesh


def _without_slivers(points: Array, faces: Faces, size: int) -> Mesh:
    """The mesh with equal neighbours of a ring made one point, without the faces of no area."""
    rings = points.reshape(-1, size, 3)
    same = np.linalg.norm(rings - np.roll(rings, 1, axis=1), axis=2) < SAME
    own = np.arange(len(points)).reshape(-1, size)
    for k in range(1, size):
        own[:, k] = np.where(same[:, k], own[:, k - 1], own[:, k])
    round_the_end = same[:, 0][:, None] & (own == own[:, -1:])
    corners = np.where(round_the_end, own[:, :1], own).reshape(-1)[faces]
    a, b, c = corners.T
    whole = corners[(a != b) & (b != c) & (c != a)]
    kept, numbered = np.unique(whole, return_inverse=True)
    return oriented(points[kept], numbered.reshape(-1, 3).astype(np.int64))


def smooth_bulge(columns: Columns) -> float:
    """How far the smooth body stands outside the straight pieces between its stations at most [m].

    columns : of the cuts
    Between two stations each column is a cubic and stands off its chord by at most step^2 / 8 of
    its greatest second derivative, which is at an end. A section's reach is convex in its columns,
    and grows with the boxiness; so along each direction the excess is at most what the columns' own
    are worth there. Where two directions meet, a corner stands out by a little more.
    """
    table = columns.table()
    slope = monotone_slopes(table[:, 0], table[:, 1:])
    fine = columns.smoothed().table()
    normal = directions(columns.smoothed())
    u, v = np.abs(normal).T
    worst = 0.0
    for k in range(len(table) - 1):
        step = float(table[k + 1, 0] - table[k, 0])
        off = _off_chords(step, table[k : k + 2, 1:], slope[k : k + 2])
        for j in range(STEPS):
            width, low, high, _, flat, keel, floor = off[j]
            rows = fine[k * STEPS + j : k * STEPS + j + 2]
            boxy = float(rows[:, 4].max())
            more = max(
                float((supports(row, normal, boxy) - supports(row, normal)).max()) for row in rows
            )
            excess = (width + 0.5 * floor) * u + (low + high + flat + keel) * v
            worst = max(worst, more + float(excess.max()))
    turn = np.einsum("ij,ij->i", normal, np.roll(normal, -1, axis=0))
    return worst / float(np.sqrt(0.5 * (1.0 + turn.min())))


def _off_chords(step: float, value: Array, slope: Array) -> Array:
    """How far each column is off its chord at most in each of `STEPS` pieces, shape (STEPS, c)."""
    rise = (value[1] - value[0]) / step
    start = (6.0 * rise - 4.0 * slope[0] - 2.0 * slope[1]) / step
    end = (2.0 * slope[0] + 4.0 * slope[1] - 6.0 * rise) / step
    share = np.linspace(0.0, 1.0, STEPS + 1)[:, None]
    bend = np.abs(start + share * (end - start))
    return np.asarray(0.125 * (step / STEPS) ** 2 * np.maximum(bend[:-1], bend[1:]))

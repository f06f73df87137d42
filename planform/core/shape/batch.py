"""Measures of many half planforms at once: arrays in, arrays out, memory linear in the batch."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planform.core.shown import Brief, Shown, bracket

Array = NDArray[np.float64]

CHUNK = 4096
"""Variants worked on at a time; keeps the working memory small and in cache."""


@dataclass(frozen=True, eq=False, repr=False)
class Batch(Shown):
    """One value per variant, shape (k,): areas [m2], lengths [m].

    footprint_long, footprint_short : sides of the least-area rectangle round the plan outline of
        both halves, winglet tips included
    """

    area: Array
    aspect_ratio: Array
    mac: Array
    lemac: Array
    tip_height: Array
    footprint_long: Array
    footprint_short: Array

    def brief(self) -> Brief:
        """The least and the greatest of each measure, in SI."""
        units = {"area": " m2", "aspect_ratio": ""}
        rows = tuple(
            (one.name.replace("_", " "), _range(getattr(self, one.name), units.get(one.name, " m")))
            for one in fields(self)
        )
        return Brief(f"{len(self.area)} variants", rows)


def _range(values: Array, unit: str) -> str:
    """The least and the greatest of some values."""
    if not len(values):
        return ""
    low, high = (f"{end:.4g}{unit}" for end in (values.min(), values.max()))
    return bracket(low, high)


class Winglets(NamedTuple):
    """The winglets of k variants, each array of shape (k,).

    length, tip_chord : [m]; a length of 0 means none
    cant : from the vertical, outboard positive [rad]
    sweep : of the leading edge in the panel's plane [rad]
    """

    length: Array
    cant: Array
    sweep: Array
    tip_chord: Array


def measure_planforms(y: Array, x: Array, chord: Array, z: Array, winglets: Winglets) -> Batch:
    """Measure k variants of a mirrored wing with winglets.

    y, x, chord, z : array, shape (k, n)   butt lines from 0 outward, leading-edge stations, chords
        and heights of the sections [m]
    Raises ValueError where shapes differ.
    """
    y, x, chord, z = (np.asarray(a, float) for a in (y, x, chord, z))
    singles = [np.asarray(a, float) for a in winglets]
    k, n = y.shape
    if any(a.shape != (k, n) for a in (x, chord, z)) or any(a.shape != (k,) for a in singles):
        raise ValueError(f"expected shapes ({k}, {n}) for sections and ({k},) for winglets")
    out = np.empty((7, k))
    for start in range(0, k, CHUNK):
        part = slice(start, start + CHUNK)
        out[:, part] = _chunk(
            y[part], x[part], chord[part], z[part], Winglets(*(s[part] for s in singles))
        )
    return Batch(*out)


def _chunk(y: Array, x: Array, chord: Array, z: Array, winglets: Winglets) -> Array:
    length, cant, sweep, tip = winglets
    dy = np.diff(y, axis=1)
    c0, c1 = chord[:, :-1], chord[:, 1:]
    x0, x1 = x[:, :-1], x[:, 1:]
    half = (0.5 * (c0 + c1) * dy).sum(axis=1)
    mac = ((c0 * c0 + c0 * c1 + c1 * c1) * dy).sum(axis=1) / (3.0 * half)
    lemac = ((x0 * (2.0 * c0 + c1) + x1 * (c0 + 2.0 * c1)) * dy).sum(axis=1) / (6.0 * half)
    reach = length * np.sin(cant)
    aft = length * np.tan(sweep)
    tip_y, tip_x = y[:, -1] + reach, x[:, -1] + aft
    tip_z = z[:, -1] + length * np.cos(cant)
    there = length > 0.0
    tip_chord = np.where(there, tip, chord[:, -1])
    long, short = _least_rectangle(
        np.column_stack([x, tip_x, x + chord, tip_x + tip_chord]),
        np.column_stack([y, tip_y, y, tip_y]),
    )
    height = np.maximum(z.max(axis=1), tip_z)
    return np.stack(
        [2.0 * half, (2.0 * y[:, -1]) ** 2 / (2.0 * half), mac, lemac, height, long, short]
    )


def _least_rectangle(x: Array, y: Array) -> tuple[Array, Array]:
    """Least-area rectangles round mirrored points, shape (k, m): long and short sides, (k,).

    One side of a least rectangle lies along a side of the hull, which joins two of the points. All
    joins are tried: of two points on the same side, and of one with another's mirror image; the
    mirrored joins give the same rectangles mirrored. A point's width in a direction (c, s) over
    both halves is max(c x + |s| y) - min(c x - |s| y), as y is not negative.
    """
    m = x.shape[1]
    least = np.full(len(x), np.inf)
    long = np.zeros(len(x))
    short = np.zeros(len(x))
    for i in range(m):
        for j in range(i, m):
            dx = x[:, j] - x[:, i]
            for dy in (y[:, j] - y[:, i], y[:, j] + y[:, i]) if j > i else (2.0 * y[:, i],):
                size = np.hypot(dx, dy)
                # a join of no length has no direction: take the aircraft's own axis
                flat = size == 0.0
                c = np.where(flat, 1.0, dx / np.where(flat, 1.0, size))[:, None]
                s = np.where(flat, 0.0, np.abs(dy) / np.where(flat, 1.0, size))[:, None]
                cx, sy, sx, cy = c * x, s * y, s * x, np.abs(c) * y
                a = (cx + sy).max(axis=1) - (cx - sy).min(axis=1)
                b = (sx + cy).max(axis=1) - (sx - cy).min(axis=1)
                area = a * b
                better = area < least
                least = np.where(better, area, least)
                long = np.where(better, np.maximum(a, b), long)
                short = np.where(better, np.minimum(a, b), short)
    return long, short

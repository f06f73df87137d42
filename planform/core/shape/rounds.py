"""True superellipses of a body's sections, matched from section to section by their normals."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def quarters(table: Array, count: int) -> tuple[Array, Array]:
    """Points on the sections of a body without keel and flats, a quarter of each at a time.

    table : (rows, 8) as `Columns.table` of `hulls`
    Returns the parameter, shape (count,), and points (4, rows, count, 3) [m] with the body's
    own middle plane at BL 0, counter-clockwise as seen from behind. Points of one parameter have
    one normal in all rows, so that a straight line between them lies on the true straight loft.
    The normal of |y/a|^n + |z/b|^n = 1 rises by t^(n-1) a/b, t = (z/b)/(y/a): its gradient.
    """
    fs, half_width, bottom, top, boxiness = table.T[:5]
    half_height = 0.5 * (top - bottom)
    most = float(boxiness.max())
    flat = half_width / half_height
    usual = float(np.exp(np.log(flat).mean()))
    angle = 0.25 * np.pi * (1.0 - np.cos(np.linspace(0.0, np.pi, count)))
    with np.errstate(divide="ignore"):
        slope = (most - 1.0) * np.log(np.tan(angle[:-1]))
    way = np.exp((slope + np.log(usual / flat)[:, None]) / (boxiness[:, None] - 1.0))
    own = np.column_stack([np.arctan(way), np.full(len(table), 0.5 * np.pi)])
    c, s = np.cos(own), np.sin(own)
    c[:, -1] = 0.0
    n = boxiness[:, None]
    size = (c**n + s**n) ** (-1.0 / n)
    y, z = half_width[:, None] * c * size, half_height[:, None] * s * size
    middle = (0.5 * (top + bottom))[:, None]
    x = np.broadcast_to(fs[:, None], y.shape)
    first = [np.stack([x, a * y, middle + b * z], axis=-1) for a, b in SIGNS]
    return angle, np.stack([one if k % 2 == 0 else one[:, ::-1] for k, one in enumerate(first)])


SIGNS = ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0))

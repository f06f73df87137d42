"""NACA four-digit sections, in chords: x from the leading edge aft, y up.

Source of every formula: NACA Report 460 (Jacobs, Ward, Pinkerton, 1933), as also given by Abbott
and von Doenhoff, Theory of Wing Sections. The last coefficient is 0.1015 as published (a
trailing edge of 0.0105 t each side) or 0.1036, which closes it (common practice, no source).
"""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

POWERS = (0.5, 1.0, 2.0, 3.0, 4.0)
OPEN = (0.2969, -0.1260, -0.3516, 0.2843, -0.1015)
CLOSED = (0.2969, -0.1260, -0.3516, 0.2843, -0.1036)


def parse(name: str) -> tuple[float, float, float]:
    """Camber, its position and the thickness, in chords, of a name such as 'NACA 2412'."""
    found = re.fullmatch(r"NACA ?(\d)(\d)(\d\d)", name.strip(), re.IGNORECASE)
    if not found:
        raise ValueError("allowed: NACA and four digits, such as NACA 2412 or NACA 0012")
    camber, position, thickness = (int(digits) for digits in found.groups())
    if thickness < 1 or thickness > 40:
        raise ValueError("allowed: a thickness (last two digits) from 01 to 40 percent")
    if (camber == 0) != (position == 0):
        raise ValueError("allowed: camber and its position both 0, or both 1 to 9")
    return camber / 100.0, position / 10.0, thickness / 100.0


def half_thickness(x: Array, thickness: float, *, closed: bool) -> Array:
    """Half thickness at x, array of any shape [chords]."""
    terms = zip(CLOSED if closed else OPEN, POWERS, strict=True)
    return np.asarray(5.0 * thickness * sum(a * np.power(x, p) for a, p in terms))


def camber_line(x: Array, camber: float, position: float) -> tuple[Array, Array]:
    """Height and slope of the camber line at x, array of any shape [chords]."""
    x = np.asarray(x, float)
    if camber == 0.0:
        return np.zeros_like(x), np.zeros_like(x)
    ahead = x < position
    scale = np.where(ahead, camber / position**2, camber / (1.0 - position) ** 2)
    base = np.where(ahead, 0.0, 1.0 - 2.0 * position)
    return scale * (base + 2.0 * position * x - x * x), 2.0 * scale * (position - x)


def naca4(
    camber: float, position: float, thickness: float, n: int, *, closed: bool = True
) -> tuple[Array, Array]:
    """Upper and lower surface, each shape (n, 2), from the leading to the trailing edge.

    The n places along the chord are cosine spaced; with closed, the surfaces end in one point.
    """
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, n)))
    half = half_thickness(x, thickness, closed=closed)
    if closed:
        half[-1] = 0.0
    middle, slope = camber_line(x, camber, position)
    angle = np.arctan(slope)
    across = np.stack([-np.sin(angle), np.cos(angle)], axis=1) * half[:, None]
    line = np.stack([x, middle], axis=1)
    return line + across, line - across

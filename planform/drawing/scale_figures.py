"""Things of a known size that stand beside an aircraft for scale: a person, a car-sized box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.prism import prism
from planform.design.told import said
from planform.design.units import INCH

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

TALL = 68.0 * INCH
"""Height of the standing person [m], 5 ft 8 in: common practice, no source."""
CAR = (4.4, 1.8, 1.45)
"""Length, width and height of the car-sized box [m]: common practice, no source."""


@dataclass(frozen=True, eq=False)
class ScaleFigure:
    """A closed mesh that stands on the floor about the origin, faces outward.

    points : (n, 3) [m], heights over the floor ; faces : (m, 3)
    """

    name: str
    points: Array
    faces: Faces
    height: float

    def told(self, system: str) -> str:
        """What it is, with its size."""
        return f"{self.name}, {said(self.height, 'length', system)} high"


def person() -> ScaleFigure:
    """A standing person as stacked blocks: legs, hips, chest, arms, neck, head; looking ahead."""
    scale = TALL / 1.75
    blocks = (
        # height from, to; half depth, half width; middle to the right
        (0.00, 0.10, 0.13, 0.05, 0.10),
        (0.00, 0.10, 0.13, 0.05, -0.10),
        (0.10, 0.84, 0.07, 0.07, 0.10),
        (0.10, 0.84, 0.07, 0.07, -0.10),
        (0.84, 1.02, 0.11, 0.18, 0.0),
        (1.02, 1.46, 0.12, 0.20, 0.0),
        (0.80, 1.43, 0.05, 0.05, 0.26),
        (0.80, 1.43, 0.05, 0.05, -0.26),
        (1.46, 1.53, 0.06, 0.06, 0.0),
        (1.53, 1.75, 0.10, 0.08, 0.0),
    )
    points: list[Array] = []
    faces: list[Faces] = []
    for low, high, deep, wide, right in blocks:
        corners, sides = prism(_octagon(deep * scale, wide * scale), low * scale, high * scale)
        faces.append(sides + sum(map(len, points)))
        points.append(corners + np.array([0.0, right * scale, 0.0]))
    return ScaleFigure("standing person", np.concatenate(points), np.concatenate(faces), TALL)


def car() -> ScaleFigure:
    """A box as large as a car."""
    long, wide, high = CAR
    ring = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * (long / 2.0, wide / 2.0)
    return ScaleFigure("car-sized box", *prism(ring, 0.0, high), high)


def _octagon(deep: float, wide: float) -> Array:
    """An oblong with its corners cut, counter-clockwise, shape (8, 2) [m]."""
    cut = 0.4
    ring = [(1.0, -cut), (1.0, cut), (cut, 1.0), (-cut, 1.0)]
    ring += [(-x, -y) for x, y in ring]
    return np.array(ring) * (deep, wide)

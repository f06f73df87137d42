"""Two sets of points laid on each other: turned, shifted, and scaled where that is asked.

By the singular values of the mixed moments (Arun, Huang and Blostein, 1987; with the sign rule of
Umeyama, 1991). A set that is the other's mirror image is told, never turned inside out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array


@dataclass(frozen=True, eq=False)
class Rigid:
    """How one set of points lies on another: b = scale * turn @ a + shift + residual.

    turn : (3, 3), proper ; shift : (3,) ; residual : (n, 3) b less a laid on it
    mirrored : a mirror image of the set would lie on the other clearly nearer
    flat : the points lie in a plane or a line, so that a mirror image cannot be told
    """

    turn: Array
    shift: Array
    scale: float
    residual: Array
    mirrored: bool
    flat: bool

    def laid(self, points: Array) -> Array:
        """Points of the first set where they lie on the second, shape (n, 3)."""
        return np.asarray(self.scale * points @ self.turn.T + self.shift)

    @property
    def spread(self) -> float:
        """Root of the mean squared distance that is left."""
        return float(np.sqrt((self.residual**2).sum(axis=1).mean()))


FLAT = 1e-3
"""Thickness of a set over its length below which it counts as flat."""
CLEARLY = 0.5
"""A mirror image that leaves less than this share of what is left is told as one."""


def lay(a: Array, b: Array, weights: Array | None = None, *, scale: bool = False) -> Rigid:
    """How the points a lie on the points b, each shape (n, 3), in least squares.

    weights : (n,), all alike where None
    Raises ValueError for fewer than three points, or points on one line.
    """
    share = np.full(len(a), 1.0 / max(len(a), 1)) if weights is None else weights / weights.sum()
    if len(a) < 3:
        raise ValueError(f"{len(a)} points; allowed: three or more, not on one line")
    middle_a, middle_b = share @ a, share @ b
    own_a, own_b = a - middle_a, b - middle_b
    left, singular, right = np.linalg.svd((own_b * share[:, None]).T @ own_a)
    thick = np.linalg.svd(own_a * np.sqrt(share)[:, None], compute_uv=False)
    if thick[1] <= FLAT * thick[0]:
        raise ValueError("points on one line; allowed: three or more that span a triangle")
    flat = bool(thick[2] <= FLAT * thick[0])
    found = []
    for hand in (1.0, -1.0):
        sign = np.array([1.0, 1.0, hand * np.sign(np.linalg.det(left @ right))])
        turn = (left * sign) @ right
        size = float((singular * sign).sum() / (thick**2).sum()) if scale else 1.0
        rest = own_b - size * own_a @ turn.T
        found.append((turn, size, rest, float(share @ (rest**2).sum(axis=1))))
    turn, size, rest, off = found[0]
    mirrored = not flat and found[1][3] < CLEARLY**2 * off
    return Rigid(turn, middle_b - size * turn @ middle_a, size, rest, mirrored, flat)

"""Cubic splines through points, by their poles, as B-splines are handed to other programs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Spline:
    """A B-spline.

    poles : (n, ...) ; knots : (n + degree + 1,) each as often as it counts
    """

    poles: Array
    knots: Array
    degree: int

    def at(self, where: Array) -> Array:
        """Its points at parameters, shape (len(where), ...)."""
        return np.tensordot(basis(self.knots, self.degree, where), self.poles, axes=1)


def through(points: Array, at: Array) -> Spline:
    """The cubic through points, with its first two and its last two pieces one cubic each.

    points : (n, ...) ; at : (n,) their parameters, rising; fewer than four are joined straight
    The usual not-a-knot condition (C. de Boor, A Practical Guide to Splines, from memory).
    """
    if len(at) < 4:
        return Spline(points, np.concatenate([at[:1], at, at[-1:]]), 1)
    knots = np.concatenate([np.repeat(at[0], 4), at[2:-2], np.repeat(at[-1], 4)])
    weights = basis(knots, 3, at)
    flat = np.linalg.solve(weights, points.reshape(len(at), -1))
    poles: Array = np.asarray(flat, np.float64).reshape(points.shape)
    poles[0], poles[-1] = points[0], points[-1]
    return Spline(poles, knots, 3)


def basis(knots: Array, degree: int, at: Array) -> Array:
    """The B-splines of a degree at parameters, shape (len(at), len(knots) - degree - 1).

    The recursion of Cox and de Boor (from memory).
    """
    at = np.clip(at, knots[0], knots[-1])[:, None]
    last = np.searchsorted(knots, knots[-1], side="left") - 1
    k = np.clip(np.searchsorted(knots, at[:, 0], side="right") - 1, 0, last)
    out = np.zeros((len(at), len(knots) - 1))
    out[np.arange(len(at)), k] = 1.0
    for d in range(1, degree + 1):
        rise, fall = knots[d:-1] - knots[: -d - 1], knots[d + 1 :] - knots[1:-d]
        up = np.where(rise > 0.0, (at - knots[: -d - 1]) / np.where(rise > 0.0, rise, 1.0), 0.0)
        down = np.where(fall > 0.0, (knots[d + 1 :] - at) / np.where(fall > 0.0, fall, 1.0), 0.0)
        out = up * out[:, :-1] + down * out[:, 1:]
    return out

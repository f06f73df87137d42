"""Down to the bottom of a trough: the attitude near one in which a convex shape costs least.

The least width and height of a shape have a kink wherever a side of it lies flush, so the steepest
way down at one attitude soon runs into the next wall, and blind tries stall beside the bottom. Here
the slopes at several attitudes close by are taken together: the shortest vector among all their
mixtures leads down along the kinks, and where it is nil no way leads down (gradient sampling:
J. Burke, A. Lewis, M. Overton, SIAM J. Optim. 15 (2005) 751-779, from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

Cost = Callable[[Array, Array], Array]
"""What is to be least, of widths and heights across a way [m]."""

NEAR = 1e-3
"""Slopes are taken within this to begin with [rad], then closer and closer."""

CLOSEST = 1e-9
"""Down to this [rad]."""

SLOPES = 9
"""How many slopes are taken together: more than an attitude has ways to turn, by a wide margin."""

FLAT = 1e-7
"""A slope under this, of a cost by the radian, leads nowhere."""

MOST = 400
"""Steps at the most; about 20 are taken."""

REACH = 2.0 ** np.arange(12, -9, -1)
"""How far is looked along a way down, in parts of how near the slopes were taken."""

BIT = 1e-7
"""By this much a width or height is changed for what it costs [m]."""

PAIRS = np.array(list(combinations(range(SLOPES), 2)))
THREES = np.array(list(combinations(range(SLOPES), 3)))


def turns(quaternions: Array) -> Array:
    """Turns of quaternions (n, 4), of any length, shape (n, 3, 3)."""
    w, x, y, z = (quaternions / np.linalg.norm(quaternions, axis=-1)[:, None]).T
    rows = [
        [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
        [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
        [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
    ]
    return np.moveaxis(np.array(rows), -1, 0)


def shortest(vectors: Array) -> Array:
    """The shortest vector among all mixtures of `SLOPES` vectors (n, 3), shape (3,).

    It is on a corner, an edge or a face of what they span, or nil where that holds the origin.
    """
    a, b = (vectors[PAIRS[:, k]] for k in range(2))
    run = b - a
    share = -_dot(a, run) / np.maximum(_dot(run, run), np.finfo(float).tiny)
    found = [a + np.clip(share, 0.0, 1.0)[:, None] * run]
    a, b, c = (vectors[THREES[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    size = _dot(normal, normal)
    foot = normal * (_dot(a, normal) / np.maximum(size, np.finfo(float).tiny))[:, None]
    sides = ((a, b), (b, c), (c, a))
    inside = [_dot(np.cross(end - start, foot - start), normal) >= 0.0 for start, end in sides]
    found.append(foot[np.all(inside, axis=0) & (size > 0.0)])
    points = np.concatenate(found)
    least = points[int(np.argmin(_dot(points, points)))]
    held = float(np.min(vectors @ least)) <= 0.5 * float(least @ least)
    return np.zeros(3) if held else np.asarray(least)


def _dot(one: Array, two: Array) -> Array:
    return np.asarray((one * two).sum(axis=-1))


@dataclass(frozen=True, eq=False)
class Trough:
    """What a convex shape costs by its attitude.

    corners : shape (n, 3) [m] ; margin : how far the true shape may stand outside them [m]
    An attitude is a frame, shape (2, 3): level and up across the way, unit vectors.
    """

    corners: Array
    margin: float
    cost: Cost

    def costs(self, frames: Array) -> Array:
        """What attitudes (n, 2, 3) cost, shape (n,)."""
        size = np.ptp(frames @ self.corners.T, axis=-1) + 2.0 * self.margin
        return self.cost(size[:, 0], size[:, 1])

    def slopes(self, frames: Array) -> Array:
        """How the cost of attitudes (n, 2, 3) grows with turns about the axes, shape (n, 3)."""
        along = frames @ self.corners.T
        run = self.corners[along.argmax(axis=-1)] - self.corners[along.argmin(axis=-1)]
        wide, high = (_dot(frames, run) + 2.0 * self.margin).T
        by_width = (self.cost(wide + BIT, high) - self.cost(wide - BIT, high)) / (2.0 * BIT)
        by_height = (self.cost(wide, high + BIT) - self.cost(wide, high - BIT)) / (2.0 * BIT)
        arm = np.cross(frames, run)
        return np.asarray(by_width[:, None] * arm[:, 0] + by_height[:, None] * arm[:, 1])

    def bottom(self, frame: Array) -> Array:
        """The attitude (2, 3) that costs least down from this one, to about `CLOSEST` [rad]."""
        dice = np.random.default_rng(0)
        least, near = float(self.costs(frame[None])[0]), NEAR
        for _ in range(MOST):
            if near < CLOSEST:
                break
            about = dice.uniform(-near, near, (SLOPES, 3))
            about[0] = 0.0
            up = shortest(self.slopes(_turned(frame, about)))
            size = float(np.linalg.norm(up))
            if size > FLAT:
                tried = _turned(frame, -near * REACH[:, None] * up / size)
                found = self.costs(tried)
                best = int(found.argmin())
                if found[best] < least:
                    frame, least = tried[best], float(found[best])
                    continue
            near *= 0.1
        return frame


def _turned(frame: Array, about: Array) -> Array:
    """A frame turned a little about vectors (n, 3) [rad], shape (n, 2, 3)."""
    ones = np.ones((len(about), 1))
    return np.asarray(frame @ np.swapaxes(turns(np.concatenate([ones, 0.5 * about], 1)), -1, -2))

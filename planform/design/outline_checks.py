"""Checks of an outline of corners: corners twice, sides that touch or cross, no area."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from planform.design.problems import Problem

NEAR = 1e-3
"""Corners nearer than this to one another, or to another side, count as touching [m];
assumption."""


def check_outline(path: str, corners: list[tuple[float, float]]) -> Iterator[Problem]:
    """Problems of a plan outline: corners twice, sides that touch or cross, no area."""
    points = np.array([(float(x), float(y)) for x, y in corners])
    n = len(points)
    following = np.roll(points, -1, axis=0)
    along = following - points
    length = np.hypot(*along.T)
    if (length < NEAR).any():
        k = int(np.argmin(length))
        yield Problem(
            path,
            f"corners {k + 1} and {(k + 1) % n + 1} at one place",
            "allowed: each corner once, and the last one not again the first",
        )
        return
    for k in range(n):
        start, way = points[k], along[k] / length[k]
        off = points - start
        ahead, aside = off @ way, off @ np.array([-way[1], way[0]])
        met = (ahead > -NEAR) & (ahead < length[k] + NEAR) & (np.abs(aside) < NEAR)
        met[[k, (k + 1) % n]] = False
        if met.any():
            yield Problem(
                path,
                f"corner {int(np.argmax(met)) + 1} lies on the side after corner {k + 1}",
                "allowed: sides that meet at their own corners only",
            )
            return
        # sides whose ends are on either side of this one, and this one's of theirs
        other = np.roll(aside, -1)
        back = along[:, 0] * (start - points)[:, 1] - along[:, 1] * (start - points)[:, 0]
        front = back + along[:, 0] * along[k, 1] - along[:, 1] * along[k, 0]
        crossed = (aside * other < 0.0) & (back * front < 0.0)
        crossed[[k - 1, k, (k + 1) % n]] = False
        if crossed.any():
            yield Problem(
                path,
                f"sides {k + 1} and {int(np.argmax(crossed)) + 1} cross",
                "allowed: corners in order round the edge",
            )
            return
    area = float((points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]).sum())
    if abs(area) < NEAR * NEAR:
        yield Problem(path, f"{n} corners", "allowed: corners that enclose an area")
    elif area < 0.0 and path == "floor.outline":
        yield Problem(
            path, "corners clockwise", "allowed: corners counter-clockwise seen from above"
        )


def inside(corners: list[tuple[float, float]], x: float, y: float) -> bool:
    """Whether a point is within an outline."""
    odd = False
    for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            odd = not odd
    return odd

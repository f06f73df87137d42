"""Convex pieces of plan outlines, and outlines with fewer corners drawn from outside."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FLAT = 1e-12
"""A corner whose turn (twice its triangle's area [m2]) is within this is straight: rounding."""


def cross(a: Array, b: Array) -> float:
    """The plan cross product of two vectors, shape (2,)."""
    return float(a[0] * b[1] - a[1] * b[0])


def counter_clockwise(ring: Array) -> Array:
    """The ring (n, 2) turned counter-clockwise."""
    x, y = ring.T
    area = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
    return ring if area > 0.0 else ring[::-1].copy()


def drawn_out(ring: Array, most: float) -> Array:
    """The ring with fewer corners; its inside only grows, nowhere by more than `most` [m].

    ring : counter-clockwise about the material (clockwise for a hole), shape (n, 2)
    """
    points = [np.asarray(p) for p in ring]
    spent = [0.0] * len(points)
    changed = True
    while changed and len(points) > 4:
        changed = False
        k = 0
        while k < len(points) and len(points) > 4:
            n = len(points)
            before, at, after = points[k - 1], points[k], points[(k + 1) % n]
            base = after - before
            size = float(np.linalg.norm(base))
            turn = cross(at - before, after - at)
            sunk = abs(cross(base, at - before)) / size if size > 0.0 else 0.0
            reach = sunk + max(spent[k - 1], spent[k], spent[(k + 1) % n])
            if turn <= FLAT and reach <= most:
                spent[k - 1] = spent[(k + 1) % n] = reach
                del points[k], spent[k]
                changed = True
                continue
            met = _met(points[k - 1], at, after, points[(k + 2) % n])
            if met is not None:
                tip, out = met
                reach = out + max(spent[k], spent[(k + 1) % n])
                if reach <= most:
                    points[k], spent[k] = tip, reach
                    drop = (k + 1) % n
                    del points[drop], spent[drop]
                    changed = True
                    continue
            k += 1
    return np.array(points)


def _met(a: Array, b: Array, c: Array, d: Array) -> tuple[Array, float] | None:
    """Where the sides a-b and d-c meet beyond the side b-c, and how far outside it that is."""
    u, v = b - a, c - d
    if cross(u, c - b) <= FLAT or cross(c - b, -v) <= FLAT:
        return None
    turn = cross(u, v)
    if turn >= -FLAT:
        return None
    tip = b + u * (cross(c - b, v) / turn)
    side = c - b
    if float((tip - b) @ u) < 0.0:
        return None
    return tip, abs(cross(side, tip - b)) / float(np.linalg.norm(side))


def convex_pieces(triangles: Array) -> list[Array]:
    """Triangles that tile a region joined into fewer convex polygons, largest joins first.

    triangles : shape (n, 3, 2), any turn; neighbours share whole sides
    """
    rings: dict[int, list[int]] = {}
    corner: dict[tuple[float, float], int] = {}
    points: list[Array] = []

    def number(p: Array) -> int:
        key = (round(float(p[0]), 9), round(float(p[1]), 9))
        if key not in corner:
            corner[key] = len(points)
            points.append(p)
        return corner[key]

    owner: dict[tuple[int, int], int] = {}
    for k, triangle in enumerate(triangles):
        ring = [number(p) for p in counter_clockwise(triangle)]
        if len(set(ring)) < 3:
            continue
        rings[k] = ring
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            owner[a, b] = k
    shared = [(a, b) for a, b in owner if a < b and (b, a) in owner]
    shared.sort(key=lambda ab: -float(np.linalg.norm(points[ab[0]] - points[ab[1]])))
    for a, b in shared:
        left, right = owner[a, b], owner[b, a]
        if left == right:
            continue
        joined = _joined(rings[left], rings[right], a, b)
        if joined is None or not _convex([points[i] for i in joined]):
            continue
        rings[left] = joined
        for i, j in zip(joined, joined[1:] + joined[:1], strict=True):
            owner[i, j] = left
        del rings[right]
    return [_straightened(np.array([points[i] for i in ring])) for ring in rings.values()]


def _joined(one: list[int], two: list[int], a: int, b: int) -> list[int] | None:
    """Two rings joined across the side a-b (b-a in the second)."""
    i, j = one.index(a), two.index(b)
    head = one[i + 1 :] + one[: i + 1]  # from b round to a
    tail = two[j + 1 :] + two[: j + 1]  # from a round to b
    ring = head + tail[1:-1]
    return ring if len(set(ring)) == len(ring) else None


def _convex(ring: list[Array]) -> bool:
    n = len(ring)
    return all(
        cross(ring[(k + 1) % n] - ring[k], ring[(k + 2) % n] - ring[(k + 1) % n]) >= -FLAT
        for k in range(n)
    )


def _straightened(ring: Array) -> Array:
    """The ring without corners that do not turn."""
    before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
    u, v = ring - before, after - ring
    turn = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    kept = ring[turn > FLAT]
    return kept if len(kept) >= 3 else ring

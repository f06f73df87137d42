"""Compiled: how far convex pieces of an aircraft are from convex things, at poses and over boxes.

Everything is a plan question: pieces in their height ranges against the things of the same range.
A pose is x, y of the aircraft's pivot and its heading. Moving by (dx, dy) and turning by d moves no
point of a piece further than |(dx, dy)| + 2 rho sin(|d| / 2), rho being the piece's largest
distance from the pivot; the signed separation of two convex pieces changes by no more.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planform.core.compiled import compiled

WIDEST = 24
"""The most corners a piece or a thing may have here; what has more is cut before it comes here."""


class Planar(NamedTuple):
    """Aircraft pieces, things and which pairs of them can meet, as flat arrays.

    corners, normals : (n, 2)   of the pieces, about the pivot; outward unit normals
    first : (pieces + 1,)   where each piece's corners start
    reach : (pieces,)   largest distance from the pivot [m]
    middle, round_by : a circle about each piece
    thing_* : the same of the things, in place axes; keep : level clearance wanted to each [m]
    piece, thing : (pairs,)   which piece can meet which thing, sorted by piece
    """

    corners: np.ndarray
    normals: np.ndarray
    first: np.ndarray
    reach: np.ndarray
    middle: np.ndarray
    round_by: np.ndarray
    thing_corners: np.ndarray
    thing_normals: np.ndarray
    thing_first: np.ndarray
    thing_middle: np.ndarray
    thing_round_by: np.ndarray
    keep: np.ndarray
    piece: np.ndarray
    thing: np.ndarray


class Outside(NamedTuple):
    """What being outside means: the plan hull is `beyond` [m] off every piece of the floor.

    hull : (2n, 2)   the aircraft's plan hull about the pivot, then its outward normals
    floors, floor_normals, floor_first : convex pieces of the floor outline, as in `Planar`
    """

    hull: np.ndarray
    floors: np.ndarray
    floor_normals: np.ndarray
    floor_first: np.ndarray
    beyond: float


@compiled
def turned(source, a, b, s, c, x, y, out):
    """Corners a to b of `source` at a heading (sine s, cosine c) and place, into `out`."""
    for k in range(a, b):
        u, v = source[k, 0], source[k, 1]
        out[k - a, 0] = -s * u + c * v + x
        out[k - a, 1] = -c * u - s * v + y
    return b - a


@compiled
def _corner_to_sides(p, n, q, qa, qb):
    """Least squared distance of n corners p to the sides of the ring q[qa:qb]."""
    best = np.inf
    for k in range(qa, qb):
        m = k + 1 if k + 1 < qb else qa
        ax, ay = q[k, 0], q[k, 1]
        ux, uy = q[m, 0] - ax, q[m, 1] - ay
        size = ux * ux + uy * uy
        for i in range(n):
            wx, wy = p[i, 0] - ax, p[i, 1] - ay
            t = (wx * ux + wy * uy) / size
            t = 0.0 if t < 0.0 else (1.0 if t > 1.0 else t)
            dx, dy = wx - t * ux, wy - t * uy
            d = dx * dx + dy * dy
            if d < best:
                best = d
    return best


@compiled
def separation(p, pn, n, q, qn, qa, qb, enough):
    """Signed separation of two convex rings [m]; what is over `enough` may be told too small."""
    best = -np.inf
    for k in range(qa, qb):
        nx, ny = qn[k, 0], qn[k, 1]
        least = np.inf
        for i in range(n):
            d = (p[i, 0] - q[k, 0]) * nx + (p[i, 1] - q[k, 1]) * ny
            if d < least:
                least = d
        if least > best:
            best = least
    for k in range(n):
        nx, ny = pn[k, 0], pn[k, 1]
        least = np.inf
        for i in range(qa, qb):
            d = (q[i, 0] - p[k, 0]) * nx + (q[i, 1] - p[k, 1]) * ny
            if d < least:
                least = d
        if least > best:
            best = least
    if best <= 0.0 or best >= enough:
        return best
    one = _corner_to_sides(p, n, q, np.int64(qa), np.int64(qb))
    two = _corner_to_sides(q[qa:qb], np.int64(qb - qa), p, np.int64(0), n)
    return np.sqrt(min(one, two))


@compiled
def bounds(g, x, y, heading, shift, turn, cap, pairs, start, count, kept):
    """Lower and upper bound of the clearance over a box of poses, and the clearance at its middle.

    shift, turn : the largest shift [m] and turn [rad] from the middle within the box
    cap : clearances over this are not told apart [m]
    pairs[start:start + count] : the pairs to look at; those that matter go into `kept`
    Returns lower, upper, middle (each at most about cap), the number kept.
    """
    s, c = np.sin(heading), np.cos(heading)
    swing = 2.0 * np.sin(0.5 * min(turn, np.pi))
    lower = upper = middle = cap
    number = 0
    ring = np.empty((WIDEST, 2))
    ring_normals = np.empty((WIDEST, 2))
    n = 0
    last = -1
    for index in range(start, start + count):
        pair = pairs[index]
        i, j = g.piece[pair], g.thing[pair]
        room = shift + swing * g.reach[i]
        u, v = g.middle[i, 0], g.middle[i, 1]
        px, py = -s * u + c * v + x, -c * u - s * v + y
        dx, dy = px - g.thing_middle[j, 0], py - g.thing_middle[j, 1]
        keep = g.keep[j]
        far = cap + room + keep + g.round_by[i] + g.thing_round_by[j]
        if dx * dx + dy * dy > far * far:
            continue
        if i != last:
            from_, to = np.int64(g.first[i]), np.int64(g.first[i + 1])
            n = turned(g.corners, from_, to, s, c, x, y, ring)
            turned(g.normals, from_, to, s, c, 0.0, 0.0, ring_normals)
            last = i
        a, b = g.thing_first[j], g.thing_first[j + 1]
        enough = cap + room + keep
        apart = separation(ring, ring_normals, n, g.thing_corners, g.thing_normals, a, b, enough)
        apart -= keep
        if apart - room >= cap:
            continue
        kept[number] = pair
        number += 1
        if apart - room < lower:
            lower = apart - room
        if apart + room < upper:
            upper = apart + room
        if apart < middle:
            middle = apart
    return lower, upper, middle, number


@compiled
def off_floor(o, x, y, heading):
    """How far the aircraft's plan hull is outside [m]; below zero it is not."""
    s, c = np.sin(heading), np.cos(heading)
    n = len(o.hull) // 2
    ring = np.empty((n, 2))
    ring_normals = np.empty((n, 2))
    none = np.int64(0)
    turned(o.hull, none, n, s, c, x, y, ring)
    turned(o.hull, n, 2 * n, s, c, 0.0, 0.0, ring_normals)
    best = np.inf
    for k in range(len(o.floor_first) - 1):
        a, b = o.floor_first[k], o.floor_first[k + 1]
        apart = separation(ring, ring_normals, n, o.floors, o.floor_normals, a, b, np.inf)
        if apart < best:
            best = apart
    return best - o.beyond


@compiled
def witness(g, x, y, heading, shift, turn, pairs):
    """The pair that proves a box blocked: the least of separation and what the box may add."""
    s, c = np.sin(heading), np.cos(heading)
    swing = 2.0 * np.sin(0.5 * turn)
    ring = np.empty((WIDEST, 2))
    ring_normals = np.empty((WIDEST, 2))
    best, which = np.inf, -1
    for pair in pairs:
        i, j = g.piece[pair], g.thing[pair]
        from_, to = np.int64(g.first[i]), np.int64(g.first[i + 1])
        n = turned(g.corners, from_, to, s, c, x, y, ring)
        turned(g.normals, from_, to, s, c, 0.0, 0.0, ring_normals)
        a, b = g.thing_first[j], g.thing_first[j + 1]
        apart = separation(ring, ring_normals, n, g.thing_corners, g.thing_normals, a, b, np.inf)
        apart += shift + swing * g.reach[i] - g.keep[j]
        if apart < best:
            best, which = apart, pair
    return best, which


@compiled
def nearest_pair(g, x, y, heading, pairs):
    """The pair with the least clearance at a pose, and that clearance [m]."""
    return witness(g, x, y, heading, 0.0, 0.0, pairs)

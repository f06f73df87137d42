"""Compiled loops of the manoeuvre search: separations, bounds over pose boxes, routes, sweeps.

Everything is a plan question: convex pieces of the aircraft in their height ranges against convex
things. A pose is x, y of the aircraft's pivot and its heading. Moving by (dx, dy) and turning by d
moves no point of a piece further than |(dx, dy)| + 2 rho sin(|d| / 2), rho being the piece's
largest distance from the pivot; the signed separation of two convex pieces changes by no more.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planform.core.compiled import compiled

WIDEST = 24
"""The most corners a piece or a thing may have here; `cells.pack` cuts what has more."""


PARTLY = 1.0
"""What it costs a route to end in a box that is only partly outside."""

HOPELESS = 1e6
"""The cost of a leaf that is not decided and may not be split further."""


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
    one = _corner_to_sides(p, n, q, qa, qb)
    two = _corner_to_sides(q[qa:qb], qb - qa, p, 0, n)
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
            n = turned(g.corners, g.first[i], g.first[i + 1], s, c, x, y, ring)
            turned(g.normals, g.first[i], g.first[i + 1], s, c, 0.0, 0.0, ring_normals)
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
def nearest_pair(g, x, y, heading, pairs):
    """The pair with the least clearance at a pose, and that clearance [m]."""
    s, c = np.sin(heading), np.cos(heading)
    ring = np.empty((WIDEST, 2))
    ring_normals = np.empty((WIDEST, 2))
    best, which = np.inf, -1
    for pair in pairs:
        i, j = g.piece[pair], g.thing[pair]
        n = turned(g.corners, g.first[i], g.first[i + 1], s, c, x, y, ring)
        turned(g.normals, g.first[i], g.first[i + 1], s, c, 0.0, 0.0, ring_normals)
        a, b = g.thing_first[j], g.thing_first[j + 1]
        apart = separation(ring, ring_normals, n, g.thing_corners, g.thing_normals, a, b, np.inf)
        apart -= g.keep[j]
        if apart < best:
            best, which = apart, pair
    return best, which


@compiled
def outness(hull, x, y, heading, floors, floor_normals, floor_first):
    """How far the aircraft's plan hull is off the floor outline [m]; below zero it is over it."""
    s, c = np.sin(heading), np.cos(heading)
    n = len(hull) // 2
    ring = np.empty((n, 2))
    ring_normals = np.empty((n, 2))
    turned(hull, 0, n, s, c, x, y, ring)
    turned(hull, n, 2 * n, s, c, 0.0, 0.0, ring_normals)
    best = np.inf
    for k in range(len(floor_first) - 1):
        a, b = floor_first[k], floor_first[k + 1]
        apart = separation(ring, ring_normals, n, floors, floor_normals, a, b, np.inf)
        if apart < best:
            best = apart
    return best


class Tree(NamedTuple):
    """The boxes of pose space: a grid of roots, each split into eight again and again.

    level, ix, iy, it : how often split and which box of that level
    child : the first of eight children, -1 for a leaf
    lower, upper, middle : bounds and middle value of the clearance [m]
    out : 2 its middle is outside, 1 some pose may be, 0 none is
    pool, start, held : the pairs that matter in a box (and so in its children)
    size : [boxes in use, entries of the pool in use]
    grid : [nx, ny, nt]
    frame : [x0, y0, half width, half turn] of the roots
    """

    level: np.ndarray
    ix: np.ndarray
    iy: np.ndarray
    it: np.ndarray
    child: np.ndarray
    lower: np.ndarray
    upper: np.ndarray
    middle: np.ndarray
    out: np.ndarray
    start: np.ndarray
    held: np.ndarray
    pool: np.ndarray
    size: np.ndarray
    grid: np.ndarray
    frame: np.ndarray


@compiled
def centre_of(t, k):
    """Middle pose of a box and its half width [m] and half turn [rad]."""
    share = 1.0 / (1 << t.level[k])
    h, d = t.frame[2] * share, t.frame[3] * share
    x = t.frame[0] + (2 * t.ix[k] + 1) * h
    y = t.frame[1] + (2 * t.iy[k] + 1) * h
    return x, y, (2 * t.it[k] + 1) * d, h, d


@compiled
def fill(t, k, g, hull, floors, floor_normals, floor_first, beyond, cap, pairs, start, count, kept):
    """Work out the bounds of a box and store them; False when the pool is full."""
    x, y, heading, h, d = centre_of(t, k)
    shift = np.sqrt(2.0) * h
    lower, upper, middle, number = bounds(
        g, x, y, heading, shift, d, cap, pairs, start, count, kept
    )
    t.lower[k], t.upper[k], t.middle[k] = lower, upper, middle
    off = outness(hull, x, y, heading, floors, floor_normals, floor_first) - beyond
    reach = 0.0
    for i in range(len(hull) // 2):
        r = np.sqrt(hull[i, 0] ** 2 + hull[i, 1] ** 2)
        if r > reach:
            reach = r
    most = shift + 2.0 * np.sin(0.5 * d) * reach
    t.out[k] = 2 if off >= 0.0 else (1 if off + most >= 0.0 else 0)
    t.child[k] = -1
    used = t.size[1]
    if used + number > len(t.pool):
        return False
    for i in range(number):
        t.pool[used + i] = kept[i]
    t.start[k] = used
    t.held[k] = number
    t.size[1] = used + number
    return True


@compiled
def plant(t, g, hull, floors, floor_normals, floor_first, beyond, cap):
    """Work out every root; False when the arrays are full."""
    everything = np.arange(len(g.piece)).astype(np.int32)
    kept = np.empty(len(g.piece), np.int32)
    k = 0
    for ix in range(t.grid[0]):
        for iy in range(t.grid[1]):
            for it in range(t.grid[2]):
                t.level[k], t.ix[k], t.iy[k], t.it[k] = 0, ix, iy, it
                if not fill(
                    t,
                    k,
                    g,
                    hull,
                    floors,
                    floor_normals,
                    floor_first,
                    beyond,
                    cap,
                    everything,
                    0,
                    len(everything),
                    kept,
                ):
                    return False
                k += 1
    t.size[0] = k
    return True


@compiled
def split(t, k, g, hull, floors, floor_normals, floor_first, beyond, cap, kept):
    """Split a leaf into eight; False when the arrays are full (then nothing is changed)."""
    first = t.size[0]
    if first + 8 > len(t.level) or t.size[1] + 8 * t.held[k] > len(t.pool):
        return False
    for b in range(8):
        c = first + b
        t.level[c] = t.level[k] + 1
        t.ix[c] = 2 * t.ix[k] + (b & 1)
        t.iy[c] = 2 * t.iy[k] + ((b >> 1) & 1)
        t.it[c] = 2 * t.it[k] + (b >> 2)
        fill(
            t,
            c,
            g,
            hull,
            floors,
            floor_normals,
            floor_first,
            beyond,
            cap,
            t.pool,
            t.start[k],
            t.held[k],
            kept,
        )
    t.size[0] = first + 8
    t.child[k] = first
    return True


@compiled
def leaf_at(t, level, ix, iy, it):
    """The box that holds box (level, ix, iy, it) or is it: a leaf, or that inner box itself."""
    rx, ry, rt = ix >> level, iy >> level, it >> level
    k = (rx * t.grid[1] + ry) * t.grid[2] + rt
    down = level
    while down > 0 and t.child[k] >= 0:
        down -= 1
        bits = ((ix >> down) & 1) | (((iy >> down) & 1) << 1) | (((it >> down) & 1) << 2)
        k = t.child[k] + bits
    return k


@compiled
def leaf_of(t, x, y, heading):
    """The leaf that holds a pose; -1 outside the grid."""
    h, d = 2.0 * t.frame[2], 2.0 * t.frame[3]
    fx, fy = (x - t.frame[0]) / h, (y - t.frame[1]) / h
    ft = (heading / d) % t.grid[2]
    if fx < 0.0 or fy < 0.0 or fx >= t.grid[0] or fy >= t.grid[1]:
        return -1
    rx, ry, rt = int(fx), int(fy), min(int(ft), t.grid[2] - 1)
    k = (rx * t.grid[1] + ry) * t.grid[2] + rt
    fx, fy, ft = fx - rx, fy - ry, ft - rt
    while t.child[k] >= 0:
        fx, fy, ft = 2.0 * fx, 2.0 * fy, 2.0 * ft
        bx, by, bt = min(int(fx), 1), min(int(fy), 1), min(int(ft), 1)
        k = t.child[k] + (bx | (by << 1) | (bt << 2))
        fx, fy, ft = fx - bx, fy - by, ft - bt
    return k


@compiled
def neighbours(t, k, found, stack):
    """Leaves that share a face with leaf k, into `found`; returns how many."""
    number = 0
    level = t.level[k]
    wide, deep, round_about = t.grid[0] << level, t.grid[1] << level, t.grid[2] << level
    for face in range(6):
        axis, side = face >> 1, face & 1
        ix, iy, it = t.ix[k], t.iy[k], t.it[k]
        step = 1 if side else -1
        if axis == 0:
            ix += step
        elif axis == 1:
            iy += step
        else:
            it = (it + step) % round_about
        if ix < 0 or iy < 0 or ix >= wide or iy >= deep:
            continue
        top = leaf_at(t, level, ix, iy, it)
        if t.child[top] < 0:
            if number < len(found):
                found[number] = top
                number += 1
            continue
        stack[0] = top
        depth = 1
        near = 0 if side else 1
        while depth > 0:
            depth -= 1
            m = stack[depth]
            if t.child[m] < 0:
                if number < len(found):
                    found[number] = m
                    number += 1
                continue
            for b in range(8):
                if ((b >> axis) & 1) == near:
                    stack[depth] = t.child[m] + b
                    depth += 1
    return number


@compiled
def cost_of(t, k, c, deepest):
    """What it costs a route to go through a leaf: next to nothing where free, inf where blocked."""
    if t.upper[k] < c:
        return np.inf
    if t.lower[k] >= c:
        return 1e-3 / (1 << t.level[k])
    if t.level[k] >= deepest:
        return HOPELESS
    return 1.0 if t.middle[k] >= c else 3.0


@compiled
def _push(heap_cost, heap_box, n, cost, box):
    k = n
    while k > 0:
        up = (k - 1) >> 1
        if heap_cost[up] <= cost:
            break
        heap_cost[k], heap_box[k] = heap_cost[up], heap_box[up]
        k = up
    heap_cost[k], heap_box[k] = cost, box
    return n + 1


@compiled
def _pop(heap_cost, heap_box, n):
    n -= 1
    cost, box = heap_cost[n], heap_box[n]
    k = 0
    while True:
        c = 2 * k + 1
        if c >= n:
            break
        if c + 1 < n and heap_cost[c + 1] < heap_cost[c]:
            c += 1
        if heap_cost[c] >= cost:
            break
        heap_cost[k], heap_box[k] = heap_cost[c], heap_box[c]
        k = c
    heap_cost[k], heap_box[k] = cost, box
    return n


@compiled
def cheapest(t, home, c, deepest, cost_to, before):
    """The cheapest route of leaves from `home` to one that may be outside.

    To end in a leaf that is only partly outside costs more than to go on through free ones: else
    the edge of the outside would be cut finer and finer.

    Returns its last leaf (-1: there is none, -2: a leaf with too many neighbours) and its cost.
    before : each leaf's predecessor on the route to it
    """
    cost_to[: t.size[0]] = np.inf
    found = np.empty(1 << 17, np.int32)
    stack = np.empty(1 << 17, np.int32)
    heap_cost = np.empty(1 << 12)
    heap_box = np.empty(1 << 12, np.int32)
    own = cost_of(t, home, c, deepest)
    if own == np.inf:
        return -1, own
    cost_to[home] = own
    before[home] = -1
    size = _push(heap_cost, heap_box, 0, own, home)
    while size > 0:
        cost, k = heap_cost[0], heap_box[0]
        size = _pop(heap_cost, heap_box, size)
        if k < 0:
            return -k - 1, cost
        if cost > cost_to[k]:
            continue
        if t.out[k] == 2:
            return k, cost
        if t.out[k] == 1:
            if size + 1 >= len(heap_cost):
                heap_cost = np.append(heap_cost, np.empty_like(heap_cost))
                heap_box = np.append(heap_box, np.empty_like(heap_box))
            size = _push(heap_cost, heap_box, size, cost + PARTLY, -k - 1)
        number = neighbours(t, k, found, stack)
        if number == len(found):
            return -2, cost
        for m in range(number):
            v = found[m]
            step = cost_of(t, v, c, deepest)
            if cost + step < cost_to[v]:
                cost_to[v] = cost + step
                before[v] = k
                if size + 1 >= len(heap_cost):
                    heap_cost = np.append(heap_cost, np.empty_like(heap_cost))
                    heap_box = np.append(heap_box, np.empty_like(heap_box))
                size = _push(heap_cost, heap_box, size, cost + step, v)
    return -1, np.inf


@compiled
def along(move, share):
    """The pose of the pivot after a share of a move.

    move : [x, y, heading, dx, dy, turn, arc, cx, cy]; arc 0: straight, evenly turning; arc 1:
    about the point (cx, cy), headings clockwise
    """
    heading = move[2] + share * move[5]
    if move[6] == 0.0:
        return move[0] + share * move[3], move[1] + share * move[4], heading
    c, s = np.cos(share * move[5]), -np.sin(share * move[5])
    x, y = move[0] - move[7], move[1] - move[8]
    return move[7] + c * x - s * y, move[8] + s * x + c * y, heading


@compiled
def keeps(g, move, c, pairs, finest):
    """Whether a move keeps clearance c all along.

    Returns 1 yes, 0 no (a pose on the way has less), -1 not told apart at `finest` [m];
    the share of the way where it failed; the least clearance seen.
    """
    start = np.empty(64)
    size = np.empty(64)
    first = np.empty(64, np.int64)
    count = np.empty(64, np.int64)
    pool = np.empty(max(1, len(pairs)) * 66, np.int32)
    pool[: len(pairs)] = pairs
    if move[6] == 0.0:
        length = np.sqrt(move[3] ** 2 + move[4] ** 2)
    else:
        length = abs(move[5]) * np.sqrt((move[0] - move[7]) ** 2 + (move[1] - move[8]) ** 2)
    start[0], size[0], first[0], count[0] = 0.0, 1.0, 0, len(pairs)
    depth = 1
    least = np.inf
    kept = np.empty(max(1, len(pairs)), np.int32)
    while depth > 0:
        depth -= 1
        a, w, f, n = start[depth], size[depth], first[depth], count[depth]
        m = a + 0.5 * w
        x, y, heading = along(move, m)
        lower, _, middle, number = bounds(
            g, x, y, heading, 0.5 * w * length, 0.5 * w * abs(move[5]), c, pool, f, n, kept
        )
        if middle < least:
            least = middle
        if middle < c:
            return 0, m, least
        if lower >= c:
            continue
        if w * (length + abs(move[5])) < finest or depth + 2 >= 64:
            return -1, m, least
        end = f + n
        for i in range(number):
            pool[end + i] = kept[i]
        start[depth], size[depth], first[depth], count[depth] = a + 0.5 * w, 0.5 * w, end, number
        start[depth + 1], size[depth + 1] = a, 0.5 * w
        first[depth + 1], count[depth + 1] = end, number
        depth += 2
    return 1, 1.0, least


@compiled
def closed_in(t, home, c):
    """The leaves that are reached from `home` without entering a blocked one.

    Returns marks: 1 reached, 2 blocked and beside a reached one, 0 neither.
    """
    marks = np.zeros(t.size[0], np.int8)
    found = np.empty(1 << 17, np.int32)
    stack = np.empty(1 << 17, np.int32)
    queue = np.empty(t.size[0], np.int32)
    queue[0] = home
    marks[home] = 1
    head, tail = 0, 1
    while head < tail:
        k = queue[head]
        head += 1
        number = neighbours(t, k, found, stack)
        for m in range(number):
            v = found[m]
            if marks[v] != 0:
                continue
            if t.upper[v] < c:
                marks[v] = 2
            else:
                marks[v] = 1
                queue[tail] = v
                tail += 1
    return marks


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
        n = turned(g.corners, g.first[i], g.first[i + 1], s, c, x, y, ring)
        turned(g.normals, g.first[i], g.first[i + 1], s, c, 0.0, 0.0, ring_normals)
        a, b = g.thing_first[j], g.thing_first[j + 1]
        apart = separation(ring, ring_normals, n, g.thing_corners, g.thing_normals, a, b, np.inf)
        apart += shift + swing * g.reach[i] - g.keep[j]
        if apart < best:
            best, which = apart, pair
    return best, which

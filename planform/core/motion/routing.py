"""Compiled: the cheapest route of boxes to outside, kept up to date while boxes are cut.

After lifelong planning (Koenig, Likhachev, Furcy, Artificial Intelligence 155, 2004): a cut changes
what a few boxes cost, and only what hangs on them is gone over again.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planform.core.compiled import compiled
from planform.core.motion.box_tree import Tree, leaf_of, neighbours, split
from planform.core.motion.heap import pop, push

PARTLY = 1.0
"""What it costs a route to end in a box that is only partly outside."""

HOPELESS = 1e6
"""The cost of a leaf that is not decided and may not be split further."""

LOOKS, A_CUT = 1000, 10
"""Boxes that are gone over between two looks at the watch, 5 ms; a cut counts as so many."""

NEAR = 1 << 17
"""The most leaves beside one, or on a route, that are gone over at once."""

FOUND, SHUT, UNDECIDED, BUSY, LARGER, FULL = 0, 1, 2, 3, 4, 5
"""A route of free boxes; no route; only routes that may not be cut further; still at it; the arrays
must grow; the most boxes are in use."""


class Routing(NamedTuple):
    """What the routes from the start cost, for one clearance.

    told, cost : what it costs to come through a leaf, as it was told on and as it is now
    before : each leaf's predecessor on the cheapest route to it; -1 none
    heap_* : leaves where the two differ ; end_* : leaves that may be outside, by what it costs
    found, beside, stack, rough : room to work in
    counts : [length of heap, of ends, last leaf of the route, looks left, routes taken so far,
        boxes and entries of the pool that are needed]
    """

    told: np.ndarray
    cost: np.ndarray
    before: np.ndarray
    heap_cost: np.ndarray
    heap_box: np.ndarray
    end_cost: np.ndarray
    end_box: np.ndarray
    found: np.ndarray
    beside: np.ndarray
    stack: np.ndarray
    rough: np.ndarray
    counts: np.ndarray


def routing(t: Tree) -> Routing:
    """Nothing known yet, with room for all the boxes that the arrays of a tree can take."""
    boxes, near = len(t.level), NEAR
    heap = 2 * boxes + 2 * near
    return Routing(
        told=np.full(boxes, np.inf),
        cost=np.full(boxes, np.inf),
        before=np.full(boxes, -1, np.int32),
        heap_cost=np.empty(heap),
        heap_box=np.empty(heap, np.int32),
        end_cost=np.empty(boxes),
        end_box=np.empty(boxes, np.int32),
        found=np.empty(near, np.int32),
        beside=np.empty(near, np.int32),
        stack=np.empty(near, np.int32),
        rough=np.empty(near, np.int32),
        counts=np.zeros(7, np.int64),
    )


def larger(r: Routing, t: Tree) -> Routing:
    """The same with room for more."""
    more, used = routing(t), len(r.told)
    for name in ("told", "cost", "before"):
        getattr(more, name)[:used] = getattr(r, name)
    out = more._replace(counts=r.counts)
    for n, (cost, box) in enumerate((("heap_cost", "heap_box"), ("end_cost", "end_box"))):
        size = r.counts[n]
        longest = max(len(getattr(more, cost)), 2 * int(size) + len(more.found))
        for name in (cost, box):
            array = np.empty(longest, getattr(r, name).dtype)
            array[:size] = getattr(r, name)[:size]
            out = out._replace(**{name: array})
    return out


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
def differs(r, k):
    """Put a leaf on the heap where what it costs is not what was told on."""
    if r.told[k] != r.cost[k]:
        r.counts[0] = push(
            r.heap_cost, r.heap_box, r.counts[0], min(r.told[k], r.cost[k]), np.int64(k)
        )


@compiled
def reckon(t, r, k, home, c, deepest):
    """Work out anew what it costs to come through a leaf, from the leaves beside it."""
    own = cost_of(t, k, c, deepest)
    r.before[k] = -1
    r.cost[k] = own if k == home else np.inf
    if k != home and own < np.inf:
        best = np.inf
        number = neighbours(t, k, r.beside, r.stack)
        for m in range(number):
            v = r.beside[m]
            if r.told[v] < best:
                best = r.told[v]
                r.before[k] = v
        r.cost[k] = best + own
    differs(r, k)


@compiled
def settle(t, r, home, c, deepest):
    """Tell on what leaves cost until the cheapest end is known; returns FOUND, SHUT and so on."""
    while r.counts[3] > 0:
        while r.counts[1] > 0:
            e = r.end_box[0]
            extra = PARTLY if t.out[e] == 1 else 0.0
            if t.child[e] < 0 and r.told[e] == r.cost[e] and r.told[e] + extra == r.end_cost[0]:
                break
            r.counts[1] = pop(r.end_cost, r.end_box, r.counts[1])
        if r.counts[0] == 0:
            return FOUND if r.counts[1] > 0 else SHUT
        key, k = r.heap_cost[0], np.int64(r.heap_box[0])
        if t.child[k] >= 0 or r.told[k] == r.cost[k] or min(r.told[k], r.cost[k]) != key:
            r.counts[0] = pop(r.heap_cost, r.heap_box, r.counts[0])
            continue
        if r.counts[1] > 0 and r.end_cost[0] <= key:
            return FOUND
        number = neighbours(t, k, r.found, r.stack)
        if number == len(r.found):
            return UNDECIDED
        if r.counts[0] + number + 1 > len(r.heap_cost) or r.counts[1] + 1 > len(r.end_cost):
            return LARGER
        r.counts[3] -= 1
        r.counts[0] = pop(r.heap_cost, r.heap_box, r.counts[0])
        if r.told[k] > r.cost[k]:
            r.told[k] = r.cost[k]
            if t.out[k] > 0:
                extra = PARTLY if t.out[k] == 1 else 0.0
                r.counts[1] = push(r.end_cost, r.end_box, r.counts[1], r.told[k] + extra, k)
            for m in range(number):
                v = np.int64(r.found[m])
                through = r.told[k] + cost_of(t, v, c, deepest)
                if through < r.cost[v]:
                    r.cost[v] = through
                    r.before[v] = k
                    differs(r, v)
            continue
        r.told[k] = np.inf
        differs(r, k)
        for m in range(number):
            v = np.int64(r.found[m])
            if r.before[v] == k:
                reckon(t, r, v, home, c, deepest)
    return BUSY


@compiled
def cut(t, g, o, cap, r, k, start, c, deepest, kept):
    """Split a leaf and reckon its children, and what hung on it, anew."""
    number = neighbours(t, k, r.found, r.stack)
    split(t, k, g, o, cap, kept)
    home = leaf_of(t, start[0], start[1], start[2])
    for b in range(8):
        reckon(t, r, np.int64(t.child[k] + b), home, c, deepest)
    for m in range(number):
        v = np.int64(r.found[m])
        if r.before[v] == k:
            reckon(t, r, v, home, c, deepest)


@compiled
def advance(t, g, o, cap, r, start, c, deepest, most, kept):
    """Take the cheapest route and cut what is not decided on it, again and again.

    most : boxes that may be in use. Returns FOUND and so on, BUSY at a time to look at the watch.
    """
    r.counts[3] = LOOKS
    while True:
        home = leaf_of(t, start[0], start[1], start[2])
        answer = settle(t, r, home, c, deepest)
        if answer != FOUND:
            return answer
        end = np.int64(r.end_box[0])
        r.counts[2] = end
        number, pool, k = 0, t.size[1], end
        while k >= 0:
            if (t.lower[k] < c or (k == end and t.out[k] != 2)) and number < len(r.rough):
                r.rough[number] = k
                number += 1
                pool += 8 * t.held[k]
            k = np.int64(r.before[k])
        if number == 0:
            return FOUND
        if r.end_cost[0] >= HOPELESS:
            return UNDECIDED
        boxes = t.size[0] + 8 * number
        if boxes > most:
            return FULL
        r.counts[5], r.counts[6] = boxes, pool
        if boxes > len(t.level) or pool > len(t.pool):
            return LARGER
        r.counts[4] += 1
        while number > 0:
            number -= 1
            if r.counts[0] + len(r.found) > len(r.heap_cost):
                return LARGER
            cut(t, g, o, cap, r, np.int64(r.rough[number]), start, c, deepest, kept)
            r.counts[3] -= A_CUT

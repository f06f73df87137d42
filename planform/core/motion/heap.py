"""Compiled: a heap of costs and their items, the cheapest first, as two flat arrays."""

from __future__ import annotations

import numpy as np

from planform.core.compiled import compiled


@compiled
def twice(array):
    """The array with room for twice as many; what is behind is not told."""
    out = np.empty(2 * len(array), array.dtype)
    for k in range(len(array)):
        out[k] = array[k]
    return out


@compiled
def longer(cost, item):
    """The arrays of a heap, twice as long."""
    return twice(cost), twice(item)


@compiled
def push(cost, item, n, c, k):
    """Put item k of cost c into a heap of n that has room; returns how many there are then."""
    i = n
    while i > 0:
        up = (i - 1) >> 1
        if cost[up] <= c:
            break
        cost[i], item[i] = cost[up], item[up]
        i = up
    cost[i], item[i] = c, k
    return n + 1


@compiled
def pop(cost, item, n):
    """Take the cheapest, which stands first, out of a heap of n; returns how many are left."""
    n -= 1
    c, k = cost[n], item[n]
    i = 0
    while True:
        j = 2 * i + 1
        if j >= n:
            break
        if j + 1 < n and cost[j + 1] < cost[j]:
            j += 1
        if cost[j] >= c:
            break
        cost[i], item[i] = cost[j], item[j]
        i = j
    cost[i], item[i] = c, k
    return n

"""Compiled: pose space cut into boxes, what is known of each, and routes through them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planform.core.compiled import compiled
from planform.core.motion.planar import bounds, off_floor


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
def fill(t, k, g, o, cap, pairs, start, count, kept):
    """Work out the bounds of a box and store them; False when the pool is full."""
    x, y, heading, h, d = centre_of(t, k)
    shift = np.sqrt(2.0) * h
    lower, upper, middle, number = bounds(
        g, x, y, heading, shift, d, cap, pairs, start, count, kept
    )
    t.lower[k], t.upper[k], t.middle[k] = lower, upper, middle
    off = off_floor(o, x, y, heading)
    reach = 0.0
    for i in range(len(o.hull) // 2):
        r = np.sqrt(o.hull[i, 0] ** 2 + o.hull[i, 1] ** 2)
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
def plant(t, g, o, cap):
    """Work out every root; False when the arrays are full."""
    everything = np.arange(len(g.piece)).astype(np.int32)
    kept = np.empty(len(g.piece), np.int32)
    k, begin, end = np.int64(0), np.int64(0), np.int64(len(everything))  # one type, compiled once
    for ix in range(t.grid[0]):
        for iy in range(t.grid[1]):
            for it in range(t.grid[2]):
                t.level[k], t.ix[k], t.iy[k], t.it[k] = 0, ix, iy, it
                if not fill(t, k, g, o, cap, everything, begin, end, kept):
                    return False
                k += 1
    t.size[0] = k
    return True


@compiled
def split(t, k, g, o, cap, kept):
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
        fill(t, c, g, o, cap, t.pool, np.int64(t.start[k]), np.int64(t.held[k]), kept)
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
        k = np.int64(queue[head])
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

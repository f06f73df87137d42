"""Routes on an aircraft's own gear: rolling without side-slip, and turns about points of the axle.

A lattice of places and headings is searched for the fewest changes of direction and then the
shortest way. Each push is proved by a continuous sweep; not finding a route proves nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planform.core.compiled import compiled
from planform.core.motion.cells import Scene
from planform.core.motion.kernel import along, keeps, outness
from planform.core.motion.long_moves import long_moves, rolling

Array = NDArray[np.float64]

LATTICES = ((0.16, np.radians(3.0), 0.24), (0.08, np.radians(3.0), 0.24))
"""Places this far apart [m], headings this far apart [rad], and a push [m]; a turn has the length
of a push and is at least a heading. The coarse lattice is searched first; assumptions."""

SHUNT = 8.0
STEER = 1.0
"""What a change of direction, and another centre of turn, cost against a metre; assumptions."""

FOUND, THROUGH = "found", "no route on the lattice of pushes"
TOO_MANY = "the search ended at its limit of poses"
STOPPED = "the search ended before it was through; more time may find one"
"""How a search ends."""

MOST_CELLS = 80_000_000
"""Places and headings of a lattice, eight bytes each; in a wider room places are further apart.
Assumption."""

LOOK = 2000
"""Poses between two looks at whether the search may go on."""


@dataclass(frozen=True)
class Gear:
    """What the gear allows.

    axle : where the middle of the main axle stands from the pivot, floor axes (x aft) [m]
    offsets : centres of turn on the axle line, right of its middle [m]; the least possible ones
    """

    axle: float
    offsets: tuple[float, ...]


class _Grown(NamedTuple):
    """What a search has grown: its poses with their ancestry, and the heap of those still open."""

    seen: NDArray[np.int64]
    pose: NDArray[np.float64]
    parent: NDArray[np.int64]
    moved: NDArray[np.float64]
    way: NDArray[np.int64]
    total: NDArray[np.float64]
    done: NDArray[np.bool_]
    heap_cost: NDArray[np.float64]
    heap_item: NDArray[np.int64]
    poses: int
    open: int


@compiled
def _pushes(axle, offsets, x, y, heading, step, turn, out):
    """The pushes from a pose, as moves (see `along`): straight and about each centre."""
    s, c = np.sin(heading), np.cos(heading)
    n = 0
    for sign in (1.0, -1.0):
        out[n, :] = 0.0
        out[n, 0], out[n, 1], out[n, 2] = x, y, heading
        out[n, 3], out[n, 4] = sign * step * s, sign * step * c
        n += 1
    ax, ay = -s * axle + x, -c * axle + y
    for offset in offsets:
        angle = max(turn, min(step / max(abs(offset), 1e-6), 2.0 * turn))
        for sign in (1.0, -1.0):
            out[n, 0], out[n, 1], out[n, 2] = x, y, heading
            out[n, 3], out[n, 4], out[n, 5], out[n, 6] = 0.0, 0.0, sign * angle, 1.0
            out[n, 7], out[n, 8] = c * offset + ax, -s * offset + ay
            n += 1
    return n


@compiled
def _ahead(move, offset_index, offsets):
    """1 where a push rolls the axle's middle ahead, -1 astern, by its index in `_pushes`."""
    if offset_index < 2:
        return 1 if offset_index == 0 else -1
    k = (offset_index - 2) // 2
    sign = 1 if (offset_index - 2) % 2 == 0 else -1
    return sign if offsets[k] > 0.0 else -sign


@compiled
def _sift_in(cost, item, n, c, k):
    i = n
    while i > 0:
        up = (i - 1) >> 1
        if cost[up] <= c:
            break
        cost[i], item[i] = cost[up], item[up]
        i = up
    cost[i], item[i] = c, k


@compiled
def _sift_out(cost, item, n):
    c, k = cost[n - 1], item[n - 1]
    n -= 1
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


@compiled
def _to_go(aims, x, y):
    """About how far it is to the nearest point outside a door [m]."""
    best = np.inf
    for k in range(len(aims)):
        best = min(best, np.sqrt((aims[k, 0] - x) ** 2 + (aims[k, 1] - y) ** 2))
    return best


@compiled
def _search(
    g,
    hull,
    floors,
    floor_normals,
    floor_first,
    beyond,
    axle,
    offsets,
    c,
    low,
    grid,
    lattice,
    reach,
    pairs,
    aims,
    straights,
    grown,
    looks,
):
    """Expands `looks` poses; the goal's number (-1 not yet, -2 none left), its last run, the rest.

    A push costs what the farthest point of the aircraft may travel in it.
    """
    nx, ny, nt = grid
    place, turn, step = lattice
    seen, pose, parent, moved, way, total, done, heap_cost, heap_item, n, size = grown
    out = np.empty((2 + 2 * len(offsets), 9))
    goal, run_out = -1, 0.0
    while size > 0 and looks > 0:
        k = heap_item[0]
        size = _sift_out(heap_cost, heap_item, size)
        if done[k] != 0:
            continue
        done[k] = 1
        looks -= 1
        cost = total[k]
        x, y, heading = pose[k, 0], pose[k, 1], pose[k, 2]
        if outness(hull, x, y, heading, floors, floor_normals, floor_first) >= beyond:
            goal = k
            break
        tried = 0.0
        for run in straights:
            if way[k] * run < 0.0 or tried * run > 0.0:
                continue  # a change of direction; or a shorter run of that way met something
            out[0, :] = 0.0
            out[0, 0], out[0, 1], out[0, 2] = x, y, heading
            out[0, 3], out[0, 4] = run * np.sin(heading), run * np.cos(heading)
            ex, ey, eh = along(out[0], 1.0)
            off = outness(hull, ex, ey, eh, floors, floor_normals, floor_first)
            if off < beyond:
                continue
            tried = run
            if keeps(g, out[0], c, pairs, 1e-3)[0] == 1:
                goal, run_out = k, run
                break
        if goal >= 0:
            break
        count = _pushes(axle, offsets, x, y, heading, step, turn, out)
        for m in range(count):
            ahead = _ahead(out[m], m, offsets)
            ex, ey, eh = along(out[m], 1.0)
            ix, iy = int((ex - low[0]) / place), int((ey - low[1]) / place)
            if ex < low[0] or ey < low[1] or ix >= nx or iy >= ny:
                continue
            it = int(np.floor((eh % (2.0 * np.pi)) / turn + 0.5)) % nt
            cell = ((ix * ny + iy) * nt + it) * 2 + (1 if ahead > 0 else 0)
            if out[m, 6] == 0.0:
                length = step
            else:
                length = abs(out[m, 5]) * (reach + abs(offsets[(m - 2) // 2]))
            spent = cost + length
            if way[k] != 0 and way[k] != ahead:
                spent += SHUNT
            elif way[k] != 0 and moved[k] != m:
                spent += STEER
            old = seen[cell]
            if old >= 0 and (done[old] != 0 or total[old] <= spent + 1e-9):
                continue
            if keeps(g, out[m], c, pairs, 1e-3)[0] != 1:
                continue
            if n >= len(parent):
                pose = np.concatenate((pose, np.empty_like(pose)))
                parent = np.concatenate((parent, np.empty_like(parent)))
                moved = np.concatenate((moved, np.empty_like(moved)))
                way = np.concatenate((way, np.empty_like(way)))
                total = np.concatenate((total, np.empty_like(total)))
                done = np.concatenate((done, np.zeros_like(done)))
            pose[n, 0], pose[n, 1], pose[n, 2] = ex, ey, eh
            parent[n], way[n], total[n] = k, ahead, spent
            moved[n] = m
            done[n] = 0
            if old >= 0:
                done[old] = 1
            seen[cell] = n
            if size + 1 >= len(heap_cost):
                heap_cost = np.append(heap_cost, np.empty_like(heap_cost))
                heap_item = np.append(heap_item, np.empty_like(heap_item))
            _sift_in(heap_cost, heap_item, size, spent + 1.2 * _to_go(aims, ex, ey), n)
            size += 1
            n += 1
    if goal < 0 and size == 0:
        goal = -2
    grown = _Grown(seen, pose, parent, moved, way, total, done, heap_cost, heap_item, n, size)
    return goal, run_out, grown


def _sown(start: tuple[float, float, float], cells: int) -> _Grown:
    """A search that has only its first pose."""
    room = 1 << 14
    pose = np.empty((room, 3))
    pose[0] = start
    return _Grown(
        seen=np.full(cells, -1, np.int32),
        pose=pose,
        parent=np.full(room, -1, np.int32),
        moved=np.zeros(room, np.int8),
        way=np.zeros(room, np.int8),
        total=np.zeros(room),
        done=np.zeros(room, np.int8),
        heap_cost=np.zeros(room),
        heap_item=np.zeros(room, np.int32),
        poses=1,
        open=1,
    )


def roll_out(
    scene: Scene,
    start: tuple[float, float, float],
    gear: Gear,
    c: float,
    aims: Array,
    go_on: Callable[[int], bool],
    most: int = 1_500_000,
) -> tuple[list[Array] | None, str]:
    """Moves out on its own gear with clearance c [m], or None where no lattice finds any.

    aims : (n, 2)   points outside the doors that the search heads for
    go_on : told the poses grown so far, now and then; False ends the search
    Returns the moves (numbers of `kernel.along`) and how the search ended: FOUND, THROUGH,
    TOO_MANY (over `most` poses) or STOPPED (by `go_on`).
    """
    edge = 2.0 * scene.reach + scene.beyond + 1.0
    low = scene.floors.min(axis=0) - edge
    span = np.ptp(scene.floors, axis=0) + 2.0 * edge
    pairs = np.arange(len(scene.planar.piece), dtype=np.int32)
    longest = float(np.hypot(*np.ptp(scene.floors, axis=0))) + 2.0 * scene.reach
    lengths = np.arange(0.5, longest, 0.5)
    straights = np.concatenate([lengths, -lengths])
    offsets = np.array(gear.offsets)
    before = 0
    for lattice in LATTICES:
        place, turn, push = lattice
        turns = round(2.0 * np.pi / turn)
        place = max(place, float(np.sqrt(span.prod() * turns / MOST_CELLS)))
        lattice = (place, turn, push)
        grid = (*(int(np.ceil(s / place)) for s in span), turns)
        grown, goal, run = _sown(start, 2 * int(np.prod(grid))), -1, 0.0
        while goal == -1:
            if grown.poses > most:
                return None, TOO_MANY
            if not go_on(before + grown.poses):
                return None, STOPPED
            goal, run, grown = _search(
                scene.planar, scene.hull, scene.floors, scene.floor_normals, scene.floor_first,
                scene.beyond, gear.axle, offsets, c, low, grid, lattice, scene.reach, pairs,
                aims, straights, grown, LOOK,
            )  # fmt: skip
        if goal >= 0:
            found = _traced(gear, lattice, grown, goal, run)
            return _longer(scene, gear, found, c), FOUND
        before += grown.poses
    return None, THROUGH


def _longer(scene: Scene, gear: Gear, moves: list[Array], c: float) -> list[Array]:
    """Fewer and longer moves where they are proved and change direction no more often."""
    least = min(abs(offset) for offset in gear.offsets)
    found = long_moves(moves, gear.axle, least, lambda move: scene.keeps(move, c))
    return found if shunts(found, gear) <= shunts(moves, gear) else moves


def _traced(
    gear: Gear, lattice: tuple[float, float, float], grown: _Grown, goal: int, run: float
) -> list[Array]:
    """The pushes from the start to a pose, and straight on from it."""
    _, turn, step = lattice
    offsets = np.array(gear.offsets)
    chain: list[Array] = []
    out = np.empty((2 + 2 * len(offsets), 9))
    k = goal
    while grown.parent[k] >= 0:
        _pushes(gear.axle, offsets, *grown.pose[grown.parent[k]], step, turn, out)
        chain.append(out[grown.moved[k]].copy())
        k = int(grown.parent[k])
    chain = chain[::-1]
    if run != 0.0:
        x, y, heading = grown.pose[goal]
        ahead = np.array([run * np.sin(heading), run * np.cos(heading)])
        chain.append(np.array([x, y, heading, *ahead, 0.0, 0.0, 0.0, 0.0]))
    return _merged(chain)


def _merged(chain: list[Array]) -> list[Array]:
    """Pushes of the same kind, one after the other, as one move."""
    out: list[Array] = []
    for move in chain:
        last = out[-1] if out else None
        if last is not None and _same(last, move):
            last[3:6] += move[3:6]
        else:
            out.append(move.copy())
    return out


def _same(a: Array, b: Array) -> bool:
    if a[6] != b[6]:
        return False
    if a[6] == 0.0:
        return bool(a[3] * b[3] + a[4] * b[4] > 0.0)
    return bool(np.abs(a[7:] - b[7:]).max() < 1e-6 and a[5] * b[5] > 0.0)


def shunts(moves: list[Array], gear: Gear) -> int:
    """How often the direction of rolling changes."""
    ways = [rolling(move, gear.axle) for move in moves]
    return sum(1 for a, b in pairwise(ways) if a != b)

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
from planform.core.motion.cells import PlanProblem
from planform.core.motion.heap import longer, pop, push, twice
from planform.core.motion.long_moves import long_moves, rolling
from planform.core.motion.plan_moves import PlanMove, along, keeps
from planform.core.motion.planar import off_floor

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
    """What a search has grown: its poses with their ancestry, and the heap of those still open.

    seen : by the number of a cell, one more than the pose there; zero where there is none, so that
        cells where the search never comes take no memory
    """

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
def _push(axle, offsets, x, y, heading, step, turn, m):
    """The push of number m from a pose: two straight, then two about each centre."""
    s, c = np.sin(heading), np.cos(heading)
    sign = 1.0 if m % 2 == 0 else -1.0
    arc = m >= 2
    dx, dy, angle, cx, cy = 0.0, 0.0, 0.0, 0.0, 0.0
    if arc:
        offset = offsets[(m - 2) // 2]
        angle = sign * max(turn, min(step / max(abs(offset), 1e-6), 2.0 * turn))
        cx, cy = c * offset + (-s * axle + x), -s * offset + (-c * axle + y)
    else:
        dx, dy = sign * step * s, sign * step * c
    return PlanMove(x, y, heading, dx, dy, angle, arc, cx, cy)


@compiled
def _ahead(m, offsets):
    """1 where the push of number m rolls the axle's middle ahead, -1 astern."""
    sign = 1 if m % 2 == 0 else -1
    return sign if m < 2 or offsets[(m - 2) // 2] > 0.0 else -sign


@compiled
def _to_go(aims, x, y):
    """About how far it is to the nearest point outside a door [m]."""
    best = np.inf
    for k in range(len(aims)):
        best = min(best, np.sqrt((aims[k, 0] - x) ** 2 + (aims[k, 1] - y) ** 2))
    return best


@compiled
def _straight_out(g, o, c, pairs, straights, pose, way):
    """The shortest run straight on that ends outside with clearance c; zero where none does."""
    x, y, heading = pose
    tried = 0.0
    for run in straights:
        if way * run < 0.0 or tried * run > 0.0:
            continue  # a change of direction; or a shorter run of that way met something
        dx, dy = run * np.sin(heading), run * np.cos(heading)
        if off_floor(o, x + dx, y + dy, heading) < 0.0:
            continue
        tried = run
        move = PlanMove(x, y, heading, dx, dy, 0.0, False, 0.0, 0.0)
        if keeps(g, move, c, pairs, 1e-3)[0] == 1:
            return run
    return 0.0


@compiled
def _cell(grid, low, place, turn, x, y, heading):
    """The number of a pose's cell of the lattice; -1 off it."""
    nx, ny, nt = grid
    ix, iy = int((x - low[0]) / place), int((y - low[1]) / place)
    if x < low[0] or y < low[1] or ix >= nx or iy >= ny:
        return -1
    return (ix * ny + iy) * nt + int(np.floor((heading % (2.0 * np.pi)) / turn + 0.5)) % nt


@compiled
def _twice(pose, parent, moved, way, total, done):
    """The same arrays with room for twice as many poses."""
    poses = np.empty((2 * len(pose), 3))
    for k in range(len(pose)):
        for j in range(3):
            poses[k, j] = pose[k, j]
    return poses, twice(parent), twice(moved), twice(way), twice(total), twice(done)


@compiled
def _search(
    g, o, axle, offsets, c, low, grid, lattice, reach, pairs,
    aims, straights, grown, looks,
):  # fmt: skip
    """Expands `looks` poses; the goal's number (-1 not yet, -2 none left), its last run, the rest.

    A push costs what the farthest point of the aircraft may travel in it.
    """
    place, turn, step = lattice
    seen, pose, parent, moved, way, total, done, heap_cost, heap_item, n, size = grown
    goal, run_out = -1, 0.0
    while size > 0 and looks > 0:
        k = heap_item[0]
        size = pop(heap_cost, heap_item, size)
        if done[k] != 0:
            continue
        done[k] = 1
        looks -= 1
        cost = total[k]
        x, y, heading = pose[k, 0], pose[k, 1], pose[k, 2]
        if off_floor(o, x, y, heading) >= 0.0:
            goal = k
            break
        run_out = _straight_out(g, o, c, pairs, straights, (x, y, heading), way[k])
        if run_out != 0.0:
            goal = k
            break
        for m in range(2 + 2 * len(offsets)):
            move = _push(axle, offsets, x, y, heading, step, turn, m)
            ahead = _ahead(m, offsets)
            ex, ey, eh = along(move, 1.0)
            cell = _cell(grid, low, place, turn, ex, ey, eh)
            if cell < 0:
                continue
            cell = 2 * cell + (1 if ahead > 0 else 0)
            far = abs(move.turn) * (reach + abs(offsets[(m - 2) // 2])) if move.arc else step
            spent = cost + far
            if way[k] != 0 and way[k] != ahead:
                spent += SHUNT
            elif way[k] != 0 and moved[k] != m:
                spent += STEER
            old = seen[cell] - 1
            if old >= 0 and (done[old] != 0 or total[old] <= spent + 1e-9):
                continue
            if keeps(g, move, c, pairs, 1e-3)[0] != 1:
                continue
            if n >= len(parent):
                pose, parent, moved, way, total, done = _twice(
                    pose, parent, moved, way, total, done
                )
            pose[n, 0], pose[n, 1], pose[n, 2] = ex, ey, eh
            parent[n], way[n], total[n], moved[n], done[n] = k, ahead, spent, m, 0
            if old >= 0:
                done[old] = 1
            seen[cell] = n + 1
            hoped = spent + 1.2 * _to_go(aims, ex, ey)
            if size >= len(heap_cost):
                heap_cost, heap_item = longer(heap_cost, heap_item)
            size = push(heap_cost, heap_item, size, hoped, n)
            n += 1
    end = -2 if goal < 0 and size == 0 else goal
    grown = _Grown(seen, pose, parent, moved, way, total, done, heap_cost, heap_item, n, size)
    return end, run_out, grown


def _sown(start: tuple[float, float, float], cells: int) -> _Grown:
    """A search that has only its first pose."""
    room = 1 << 14
    pose = np.empty((room, 3))
    pose[0] = start
    return _Grown(
        seen=np.zeros(cells, np.int32),
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
    scene: PlanProblem,
    start: tuple[float, float, float],
    gear: Gear,
    c: float,
    aims: Array,
    go_on: Callable[[int], bool],
    most: int = 1_500_000,
) -> tuple[list[PlanMove] | None, str]:
    """Moves out on its own gear with clearance c [m], or None where no lattice finds any.

    aims : (n, 2)   points outside the doors that the search heads for
    go_on : told the poses grown so far, now and then; False ends the search
    Returns the moves (of the pivot) and how the search ended: FOUND, THROUGH,
    TOO_MANY (over `most` poses) or STOPPED (by `go_on`).
    """
    edge = 2.0 * scene.reach + scene.outside.beyond + 1.0
    low = scene.outside.floors.min(axis=0) - edge
    span = np.ptp(scene.outside.floors, axis=0) + 2.0 * edge
    pairs = np.arange(len(scene.planar.piece), dtype=np.int32)
    longest = float(np.hypot(*np.ptp(scene.outside.floors, axis=0))) + 2.0 * scene.reach
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
                scene.planar, scene.outside, gear.axle, offsets, c, low, grid, lattice,
                scene.reach, pairs, aims, straights, grown, LOOK,
            )  # fmt: skip
        if goal >= 0:
            found = _traced(gear, lattice, grown, goal, run)
            return _longer(scene, gear, found, c), FOUND
        before += grown.poses
    return None, THROUGH


def _longer(scene: PlanProblem, gear: Gear, moves: list[PlanMove], c: float) -> list[PlanMove]:
    """Fewer and longer moves where they are proved and change direction no more often."""
    least = min(abs(offset) for offset in gear.offsets)
    found = long_moves(moves, gear.axle, least, lambda move: scene.keeps(move, c))
    return found if shunts(found, gear) <= shunts(moves, gear) else moves


def _traced(
    gear: Gear, lattice: tuple[float, float, float], grown: _Grown, goal: int, run: float
) -> list[PlanMove]:
    """The pushes from the start to a pose, and straight on from it."""
    _, turn, step = lattice
    offsets = np.array(gear.offsets)
    chain: list[PlanMove] = []
    k = goal
    while grown.parent[k] >= 0:
        before = grown.pose[grown.parent[k]]
        chain.append(_push(gear.axle, offsets, *before, step, turn, int(grown.moved[k])))
        k = int(grown.parent[k])
    chain = chain[::-1]
    if run != 0.0:
        x, y, heading = map(float, grown.pose[goal])
        dx, dy = float(run * np.sin(heading)), float(run * np.cos(heading))
        chain.append(PlanMove(x, y, heading, dx, dy, 0.0))
    return _merged(chain)


def _merged(chain: list[PlanMove]) -> list[PlanMove]:
    """Pushes of the same kind, one after the other, as one move."""
    out: list[PlanMove] = []
    for move in chain:
        if out and _same(out[-1], move):
            last = out[-1]
            out[-1] = last._replace(
                dx=last.dx + move.dx, dy=last.dy + move.dy, turn=last.turn + move.turn
            )
        else:
            out.append(move)
    return out


def _same(a: PlanMove, b: PlanMove) -> bool:
    """Whether two moves are one push, gone on with."""
    if a.arc != b.arc:
        return False
    if not a.arc:
        return a.dx * b.dx + a.dy * b.dy > 0.0
    return bool(np.abs(a.centre - b.centre).max() < 1e-6 and a.turn * b.turn > 0.0)


def shunts(moves: list[PlanMove], gear: Gear) -> int:
    """How often the direction of rolling changes."""
    ways = [rolling(move, gear.axle) for move in moves]
    return sum(1 for a, b in pairwise(ways) if a != b)

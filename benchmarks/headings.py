"""The second method for the graded rooms: exact regions, one heading at a time.

Run: python -m benchmarks.headings ROOM... [--fine 0.1]   the greatest clearance, bracketed

At each of many headings, the places where the aircraft touches nothing are a region of the plan,
found exactly by shapely: the room less the sums of convex pieces, grown by the clearance. Pieces of
the regions of neighbouring headings that overlap are joined. Between two headings no point of the
aircraft moves farther than 2 R sin(step / 4) from where it is at the nearer one, so a chain of
pieces that keeps that much more is a way, and where no chain keeps that much less, there is none.
No loop, bound or outline of the search is used: manifold3d cuts the solids, shapely the outlines.
"""

from __future__ import annotations

import argparse
import time
from functools import cached_property
from typing import Any

import numpy as np
import shapely
import trimesh
from manifold3d import Manifold, Mesh64
from numpy.typing import NDArray

from benchmarks.answers import asked_rooms, loaded
from planform.fit.moves import Pose

Array = NDArray[np.float64]

ROUND = 16
"""Sides to a quarter of a circle where a region is grown."""


def outline(standing: Any, low: float, high: float) -> Any:
    """Plan outline of the solids between two heights."""
    flat = []
    for part in standing.parts:
        whole = trimesh.Trimesh(part.points, part.faces, process=True)
        mesh = Mesh64(np.array(whole.vertices), np.array(whole.faces, dtype=np.uint64))
        solid = Manifold(mesh).trim_by_plane((0.0, 0.0, 1.0), low)
        solid = solid.trim_by_plane((0.0, 0.0, -1.0), -high)
        rings = [shapely.polygons(ring) for ring in solid.project().to_polygons()]
        flat += [shapely.make_valid(ring) for ring in rings]
    return shapely.union_all(flat)


def convex(region: Any) -> list[Array]:
    """Triangles of a region, or its corners where it is convex."""
    out = []
    for polygon in shapely.get_parts(region):
        if polygon.area < 1e-10:
            continue
        whole = polygon.convex_hull
        if whole.area - polygon.area < 1e-9:
            parts = [whole]
        else:
            parts = shapely.get_parts(shapely.constrained_delaunay_triangles(polygon))
        out += [np.asarray(part.exterior.coords)[:-1, :2] for part in parts]
    return out


class Headings:
    """One aircraft in one room, at a number of headings."""

    def __init__(self, standing: Any, room: Any, count: int) -> None:
        hull = shapely.convex_hull(shapely.multipoints(standing.all_points()[:, :2]))
        self.pivot = np.asarray(shapely.minimum_bounding_circle(hull).centroid.coords)[0]
        corners = np.asarray(hull.exterior.coords)[:-1]
        self.reach = float(np.linalg.norm(corners - self.pivot, axis=1).max())
        self.count = count
        self.slack = 2.0 * self.reach * float(np.sin(np.pi / count / 2.0))
        self.pairs: list[tuple[Array, Array]] = []
        shapes: dict[tuple[float, float], list[Array]] = {}
        for thing in room.solid:
            band = thing.low, thing.high
            if band not in shapes:
                shapes[band] = [p - self.pivot for p in convex(outline(standing, *band))]
            for ring in convex(shapely.polygons(thing.outline)):
                self.pairs += [(piece, ring) for piece in shapes[band]]
        edge = self.reach + room.place.floor.thickness + 0.5
        low, high = room.floor.min(axis=0) - edge, room.floor.max(axis=0) + edge
        self.frame = shapely.box(*low, *high)
        spot = room.place.spots[0]
        start = Pose(float(spot.at[0]), float(spot.at[1]), float(spot.heading))
        self.start = shapely.Point(start.place(self.pivot[None])[0])
        turn = 2.0 * np.pi / count
        self.first = start.heading
        self.turns = self.first + turn * np.arange(count)

    @cached_property
    def blocked(self) -> list[Any]:
        """Where the pivot may not be, at each heading."""
        number = np.repeat(np.arange(len(self.pairs)), [len(p) * len(t) for p, t in self.pairs])
        out = []
        for heading in self.turns:
            turned = Pose(0.0, 0.0, float(heading))
            sums = [
                (ring[:, None] - turned.place(piece)[None]).reshape(-1, 2)
                for piece, ring in self.pairs
            ]
            hulls = shapely.convex_hull(shapely.multipoints(np.concatenate(sums), indices=number))
            out.append(shapely.union_all(hulls))
        return out

    def joined(self, c: float) -> bool:
        """Whether a chain of pieces leads out where every one keeps a clearance [m] at headings."""
        free = [
            shapely.get_parts(self.frame.difference(b.buffer(c, quad_segs=ROUND)))
            for b in self.blocked
        ]
        first = np.cumsum([0, *(len(f) for f in free)])
        over: list[NDArray[np.int64]] = []
        for k in range(self.count):
            here, there = free[k], free[(k + 1) % self.count]
            a, b = np.meshgrid(np.arange(len(here)), np.arange(len(there)), indexing="ij")
            meet = shapely.intersects(here[a], there[b])
            over.append(
                np.column_stack([first[k] + a[meet], first[(k + 1) % self.count] + b[meet]])
            )
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import connected_components

        edges = np.concatenate(over)
        size = int(first[-1])
        graph = coo_array((np.ones(len(edges)), edges.T), shape=(size, size))
        _, label = connected_components(graph, directed=False)
        rim = self.frame.exterior
        outside = shapely.intersects(np.concatenate(free), rim)
        home = np.flatnonzero(shapely.intersects(free[0], self.start))
        return bool(len(home)) and bool(np.isin(label[home], label[outside]).any())

    def bracket(self, low: float, high: float, close: float) -> tuple[float, float]:
        """The greatest clearance of any way out [m] between two proved values.

        low, high : where it is looked for, a way and none expected ; close : how far it is halved
        Grown arcs are drawn from inside, so a way keeps a little less. Raises ValueError where what
        is expected is not so.
        """
        low, high = low + self.slack, high - self.slack
        if not self.joined(low) or self.joined(high):
            message = "not a way at the lower and none at the higher clearance"
            raise ValueError(message)
        while high - low > close:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.joined(middle) else (low, middle)
        return low * float(np.cos(0.25 * np.pi / ROUND)) - self.slack, high + self.slack


def bracket(standing: Any, room: Any, most: float, fine: float) -> tuple[float, float]:
    """Greatest clearance of any way out [m] between two proved values, from 0 to `most`.

    fine : the last step from heading to heading [deg]
    """
    coarse = Headings(standing, room, round(90.0 / fine))
    low, high = coarse.bracket(-coarse.slack, most + coarse.slack, 0.5 * coarse.slack)
    last = Headings(standing, room, round(360.0 / fine))
    return last.bracket(low - 2.0 * last.slack, high + 2.0 * last.slack, 0.5 * last.slack)


def main() -> None:
    """Print what this method finds beside the table of answers."""
    parser = argparse.ArgumentParser()
    parser.add_argument("rooms", nargs="*")
    parser.add_argument("--fine", type=float, default=0.1)
    given = parser.parse_args()
    for answer in asked_rooms(given.rooms):
        standing, room = loaded(answer)
        began = time.perf_counter()
        low, high = bracket(standing, room, answer.high + 0.1, given.fine)
        print(
            f"{answer.room}: {low:.4f} to {high:.4f} m by headings, "
            f"{answer.low:.4f} to {answer.high:.4f} m in the table, "
            f"{time.perf_counter() - began:.0f} s",
            flush=True,
        )


if __name__ == "__main__":
    main()

"""What is outside the walls, as plan pieces over heights.

A way out ends where the whole aircraft is outside the walls. What stands there is in the way as
what stands in the room is, so that a way that cannot end there is none.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.design.doors import Door
from planform.design.outside import Apron, PowerLine
from planform.design.place import Place
from planform.fit.filled import Filled, along_line, obstacle, plan

Array = NDArray[np.float64]

EDGE = 0.02
"""Height of what stands for the edge of an apron [m]: wheels meet it, all else passes over it.
Assumption."""

EDGE_WIDTH = 0.1


def outside(place: Place) -> Iterator[Filled]:
    """All that stands or hangs outside."""
    around = place.outside
    if around is None:
        return
    for fence in around.fences:
        for ring in along_line(plan(fence.line), 0.5 * float(fence.thickness)):
            yield Filled(fence.name, ring, 0.0, float(fence.height))
    for thing in around.things:
        yield from obstacle(place, thing)
    doors = {door.name: door for door in place.doors}
    for apron in around.aprons:
        if apron.door in doors:  # a door that is taken to be shut is not there
            yield from _edges(place, apron, doors[apron.door])
    for line in around.power_lines:
        yield from _line(line)


def edge_name(door: str) -> str:
    """What the edge of the apron before a door is called."""
    return f"edge of the apron at {door}"


def _edges(place: Place, apron: Apron, door: Door) -> Iterator[Filled]:
    """The edges of an apron, from the outer side of the wall."""
    (x0, y0), (x1, y1) = place.floor.walls[door.wall]
    start, run = np.array([x0, y0]), np.array([x1 - x0, y1 - y0])
    along = run / np.linalg.norm(run)
    out = np.array([along[1], -along[0]])
    middle = start + (float(door.from_corner) + 0.5 * float(door.clear_width)) * along
    half, near = 0.5 * float(apron.width), place.floor.thickness
    far = near + float(apron.depth)

    def strip(a: float, b: float, c: float, d: float) -> Array:
        """Between two distances along the wall and two out of it."""
        return np.array([middle + s * along + t * out for s, t in ((a, d), (b, d), (b, c), (a, c))])

    wide = half + EDGE_WIDTH
    rings = [
        strip(-wide, -half, near, far + EDGE_WIDTH),
        strip(half, wide, near, far + EDGE_WIDTH),
        strip(-half, half, far, far + EDGE_WIDTH),
    ]
    jamb = 0.5 * float(door.clear_width) + EDGE_WIDTH
    if jamb > wide:  # a door wider than its apron has an edge before it on either side
        rings += [strip(-jamb, -wide, near, near + EDGE_WIDTH)]
        rings += [strip(wide, jamb, near, near + EDGE_WIDTH)]
    for ring in rings:
        yield Filled(edge_name(door.name), ring, 0.0, EDGE)


def _line(line: PowerLine) -> Iterator[Filled]:
    """All that is within the distance kept from a power line, and over it."""
    points, kept = plan(line.line), line.kept
    for k, ring in enumerate(along_line(points, kept)):
        if k in (0, len(points) - 2):  # the distance beyond its ends too
            a, b = points[k], points[k + 1]
            way = (b - a) / np.linalg.norm(b - a)
            ring = ring.copy()
            if k == 0:
                ring[[0, 3]] -= kept * way
            if k == len(points) - 2:
                ring[[1, 2]] += kept * way
        low = max(1e-3, float(line.height) - kept)
        yield Filled(f"space kept round {line.name}", ring, low, None, "kept off")

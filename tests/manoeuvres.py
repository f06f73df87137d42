"""Shapes in rooms of shapes, and whether they pass, for manoeuvres whose answer is known."""

from __future__ import annotations

import numpy as np
import shapely

from planform.core.motion.cells import NONE, WAY, Cells, scene
from planform.core.shape.convex import counter_clockwise

THICK = 2.0


def box(x0, x1, y0, y1):
    """A rectangle, counter-clockwise."""
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


def bar(length, width):
    """A rectangle about its middle, long from nose to tail; a segment where it has no width."""
    if width == 0.0:
        return np.array([[-0.5 * length, 0.0], [0.5 * length, 0.0]])
    return box(-0.5 * length, 0.5 * length, -0.5 * width, 0.5 * width)


def hull_of(pieces):
    """Convex hull of pieces, counter-clockwise."""
    points = np.concatenate(pieces)
    hull = shapely.convex_hull(shapely.multipoints(points))
    if hull.geom_type == "LineString":
        return np.asarray(hull.coords)
    return counter_clockwise(np.asarray(hull.exterior.coords)[:-1])


def cells_of(pieces, things, floors, start, cap=1.0):
    """The search for pieces (all at one height) among things from a pose over floors."""
    built = scene(
        [(0, p) for p in pieces], [(0, t, 0.0) for t in things], hull_of(pieces), floors, 0.1
    )
    return Cells(built, start, cap)


def passes(cells, c=0.0):
    """The proved answer; an open one is a failure."""
    answer = cells.decide(c).answer
    assert answer in (WAY, NONE)
    return answer == WAY

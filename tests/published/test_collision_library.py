"""The height-range method beside a general collision library (python-fcl, triangle trees).

Attitude and height fixed, an aircraft meets a prism where what it has in the prism's height range
meets the prism's outline (derived; the general library is the outside judge). Random tilted
solids, random convex things; a pose nearer than rounding to touching counts for neither side.
"""

from __future__ import annotations

import fcl
import numpy as np
import pytest
import shapely

from planform.airframe.outlines import band_outline
from planform.airframe.part import Part
from planform.core.shape.distance import contains, mesh_distance
from planform.core.shape.prism import prism
from planform.fit.moves import Pose
from tests.collision import tree

ROUNDING = 1e-6


def ring(rng, size):
    """A random outline, star-shaped about its middle, mostly with hollows."""
    count = int(rng.integers(4, 9))
    angle = np.sort(rng.random(count)) * 2.0 * np.pi
    if np.diff(np.append(angle, angle[0] + 2.0 * np.pi)).max() > 2.8:
        return ring(rng, size)
    radius = size * (0.4 + 0.6 * rng.random(count))
    return radius[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])


def solid(rng):
    """A prism with hollows, tilted any way, standing about 1 m over the floor."""
    points, faces = prism(ring(rng, 1.5), -0.4, 0.4)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    turn[:, 0] *= np.sign(np.linalg.det(turn))
    points = points @ turn.T + [0.0, 0.0, 1.0]
    return Part("solid", "solid", "body", points, faces)


def meets(one, other):
    """Whether two solids meet: their skins, as the general library finds it."""
    return bool(fcl.collide(one, other, fcl.CollisionRequest(), fcl.CollisionResult()))


def test_ranges_agree_with_the_general_library_on_random_prisms():
    rng = np.random.default_rng(20)
    both = {True: 0, False: 0}
    for _ in range(60):
        part = solid(rng)
        thing = shapely.convex_hull(shapely.multipoints(ring(rng, 1.0)))
        outline = np.asarray(thing.exterior.coords)[:-1][::-1]
        low = rng.uniform(-0.2, 1.6)
        high = low + rng.uniform(0.05, 1.2)
        fixed = prism(outline, low, high)
        region = band_outline(part, low, high)
        wall = tree(*fixed)
        for _ in range(8):
            pose = Pose(*rng.uniform(-2.5, 2.5, 2), rng.uniform(-np.pi, np.pi))
            there = shapely.transform(region, pose.place)
            apart = float(shapely.distance(there, thing)) if not region.is_empty else np.inf
            deep = float(there.intersection(thing).area) if apart == 0.0 else 0.0
            if apart < ROUNDING and deep < ROUNDING:
                continue
            moved = part.points.copy()
            moved[:, :2] = pose.place(part.points[:, :2])
            body = tree(moved, part.faces)
            hit = meets(body, wall) or _inside(moved, part.faces, *fixed)
            assert hit == (apart == 0.0)
            both[hit] += 1
    assert min(both.values()) > 80


def _inside(points, faces, other, other_faces):
    """Whether one of two solids whose skins do not meet lies within the other."""
    return bool(
        contains(points, faces, other[:1])[0] or contains(other, other_faces, points[:1])[0]
    )


def test_distances_agree_with_the_general_library():
    """Solids apart: the least distance of their skins, to a millionth of a metre."""
    rng = np.random.default_rng(21)
    seen = 0
    for _ in range(40):
        part = solid(rng)
        fixed = prism(ring(rng, 1.0) + rng.uniform(-4.0, 4.0, 2), 0.0, rng.uniform(0.3, 2.0))
        body, wall = tree(part.points, part.faces), tree(*fixed)
        if meets(body, wall):
            continue
        told = fcl.distance(body, wall, fcl.DistanceRequest(), fcl.DistanceResult())
        here = mesh_distance(part.points, part.faces, *fixed).distance
        assert here == pytest.approx(told, abs=1e-6)
        seen += 1
    assert seen > 15


def test_beside_a_wall_of_full_height_plan_distance_is_the_distance():
    """Where the thing fills every height, across the floor is the shortest way."""
    rng = np.random.default_rng(22)
    for _ in range(25):
        part = solid(rng)
        outline = np.array([[3.0, -4.0], [3.2, -4.0], [3.2, 4.0], [3.0, 4.0]])
        wall = tree(*prism(outline, -5.0, 5.0))
        told = fcl.distance(
            tree(part.points, part.faces), wall, fcl.DistanceRequest(), fcl.DistanceResult()
        )
        flat = shapely.distance(band_outline(part, -5.0, 5.0), shapely.polygons(outline))
        assert flat == pytest.approx(told, abs=2e-6)

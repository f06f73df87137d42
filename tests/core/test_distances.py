"""All the least distances at once: each the same as the one of its pair alone."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from planform.core.shape.distance import mesh_distance
from planform.core.shape.distances import nearest_of_all
from planform.core.shape.prism import prism

SIZES = st.integers(0, 2**32 - 1)


def ball(dice, middle, size):
    """A convex mesh of random corners, wound outward."""
    points = middle + size * dice.normal(size=(dice.integers(5, 12), 3))
    hull = ConvexHull(points)
    faces = hull.simplices.astype(np.int64)
    corners = points[faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    inward = np.einsum("ij,ij->i", normals, hull.equations[:, :3]) < 0.0
    faces[inward] = faces[inward][:, ::-1]
    return points, faces


def box(dice, middle, size):
    """A box along the axes, as walls are."""
    low, high = middle - size * dice.random(3) - 0.05, middle + size * dice.random(3) + 0.05
    ring = np.array([[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]])
    return prism(ring, float(low[2]), float(high[2]))


def bent(dice, middle, size):
    """A closed mesh that is not convex: two convex ones as one."""
    (one, faces), (other, more) = (ball(dice, middle + dice.normal(size=3), size) for _ in "ab")
    return np.concatenate([one, other]), np.concatenate([faces, more + len(one)])


@settings(max_examples=60, deadline=None)
@given(seed=SIZES)
def test_each_distance_is_that_of_the_pair_alone(seed):
    dice = np.random.default_rng(seed)
    firsts = [bent(dice, 3.0 * dice.normal(size=3), dice.choice([0.2, 1.0])) for _ in range(4)]
    makers = [dice.choice([ball, box]) for _ in range(4)]
    seconds = [make(dice, 3.0 * dice.normal(size=3), dice.choice([0.1, 2.0])) for make in makers]
    limit = float(dice.choice([0.5, 3.0, np.inf]))
    found = {(i, j): near for i, j, near in nearest_of_all(firsts, seconds, limit)}
    for i, first in enumerate(firsts):
        for j, second in enumerate(seconds):
            alone = mesh_distance(*first, *second, limit=limit)
            if alone.distance > limit:
                assert (i, j) not in found
                continue
            near = found[i, j]
            assert near.distance == pytest.approx(alone.distance, abs=1e-12)
            apart = np.linalg.norm(near.point_a - near.point_b)
            assert near.distance == pytest.approx(apart, abs=1e-9)


def test_one_inside_the_other_is_no_distance():
    dice = np.random.default_rng(1)
    small, large = ball(dice, np.zeros(3), 0.1), box(dice, np.zeros(3), 0.0)
    ring = np.array([[-3.0, -3.0], [3.0, -3.0], [3.0, 3.0], [-3.0, 3.0]])
    found = list(nearest_of_all([small], [prism(ring, -3.0, 3.0)], np.inf))
    assert [(i, j, near.distance) for i, j, near in found] == [(0, 0, 0.0)]
    assert [n.distance for _, _, n in nearest_of_all([prism(ring, -3.0, 3.0)], [large], 1.0)] == [0]


def test_of_nothing_there_are_no_distances():
    mesh = box(np.random.default_rng(2), np.zeros(3), 1.0)
    assert list(nearest_of_all([], [mesh], 1.0)) == list(nearest_of_all([mesh], [], 1.0)) == []


def test_many_things_go_in_groups(monkeypatch):
    monkeypatch.setattr("planform.core.shape.distances.BLOCK", 20)
    dice = np.random.default_rng(3)
    firsts = [bent(dice, dice.normal(size=3), 0.3) for _ in range(2)]
    seconds = [box(dice, 4.0 * dice.normal(size=3), 0.5) for _ in range(7)]
    found = {(i, j): near.distance for i, j, near in nearest_of_all(firsts, seconds, np.inf)}
    alone = {
        (i, j): mesh_distance(*a, *b).distance
        for i, a in enumerate(firsts)
        for j, b in enumerate(seconds)
    }
    assert found == pytest.approx(alone, abs=1e-12)

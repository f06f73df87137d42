"""Prisms over plan polygons: closed forms, shapely and trimesh beside them, and refusals."""

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.core.shape.prism import prism, triangulated
from tests.formulas import is_closed, mesh_area, mesh_centroid, mesh_volume

BOX = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])
HOOK = np.array([[0, 0], [4, 0], [4, 3], [3, 3], [3, 1], [1, 1], [1, 3], [0, 3.0]])
COMB = np.array(
    [
        *[[0, 0], [7, 0], [7, 3], [6, 3], [6, 1], [5, 1], [5, 3], [4, 3], [4, 1], [3, 1], [3, 3]],
        *[[2, 3], [2, 1], [1, 1], [1, 3], [0, 3.0]],
    ]
)
MIDPOINTS = np.array([[0, 0], [1, 0], [2, 0], [2, 1], [2, 2], [1, 2], [0, 2], [0, 1.0]])
SPIRAL = np.array(
    [
        [0, 0],
        [5, 0],
        [5, 5],
        [1, 5],
        [1, 2],
        [3, 2],
        [3, 3],
        [2, 3],
        [2, 4],
        [4, 4],
        [4, 1],
        [0, 1.0],
    ]
)
SHAPES = {"box": BOX, "hook": HOOK, "comb": COMB, "midpoints": MIDPOINTS, "spiral": SPIRAL}


def areas(outline, faces):
    a, b, c = outline[faces].transpose(1, 0, 2)
    return 0.5 * ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])


def check(outline, low=0.5, high=2.0):
    """All that must hold for the prism over any simple outline."""
    points, faces = prism(outline, low, high)
    count = len(outline)
    plan = shapely.Polygon(outline)
    assert points.shape == (2 * count, 3)
    assert faces.shape == (4 * count - 4, 3)
    assert is_closed(faces)
    assert np.array_equal(np.unique(faces), np.arange(2 * count))
    assert mesh_volume(points, faces) == pytest.approx(plan.area * (high - low))
    assert mesh_area(points, faces) == pytest.approx(2 * plan.area + plan.length * (high - low))
    centre = [plan.centroid.x, plan.centroid.y, 0.5 * (low + high)]
    assert mesh_centroid(points, faces) == pytest.approx(centre, abs=1e-9)
    lid = areas(np.asarray(outline), triangulated(outline))
    assert (lid > 0.0).all()
    assert lid.sum() == pytest.approx(plan.area)


@pytest.mark.parametrize("name", SHAPES)
def test_prisms_over_simple_outlines(name):
    check(SHAPES[name])
    check(np.roll(SHAPES[name], 3, axis=0))


@pytest.mark.parametrize("name", SHAPES)
def test_trimesh_finds_it_watertight(name):
    points, faces = prism(SHAPES[name], 0.0, 1.0)
    mesh = trimesh.Trimesh(points, faces, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(shapely.Polygon(SHAPES[name]).area)


def test_a_triangle_with_points_along_all_sides():
    corners = np.array([[0.0, 0.0], [6.0, 0.0], [1.0, 5.0]])
    share = np.array([0.0, 0.2, 0.5, 0.7])[:, None]
    sides = [
        a + share * (b - a) for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)
    ]
    check(np.concatenate(sides))


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 2**31), st.integers(3, 30), st.floats(-3.0, 3.0))
def test_star_shaped_outlines_in_any_place(number, count, turn):
    rng = np.random.default_rng(number)
    angle = turn + 2 * np.pi * (np.arange(count) + 0.8 * rng.random(count)) / count
    radius = 0.2 + 3.0 * rng.random(count)
    outline = radius[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    outline += rng.normal(size=2) * 20.0
    if shapely.Polygon(outline).is_valid and shapely.LinearRing(outline).is_ccw:
        check(outline)


@settings(deadline=None, max_examples=40)
@given(st.lists(st.integers(1, 5), min_size=1, max_size=8), st.integers(0, 20))
def test_stairs_with_points_in_line(heights, start):
    """Outlines on a grid, with many points in line and sides that face each other."""
    top = [(x + side, h) for x, h in enumerate(heights) for side in (0, 1)]
    outline = [*[(x, 0) for x in range(len(heights) + 1)], *top[::-1]]
    kept = [p for k, p in enumerate(outline) if p != outline[k - 1]]
    check(np.roll(np.array(kept, dtype=float), start, axis=0))


@pytest.mark.parametrize(
    ("outline", "words"),
    [
        ([[0, 0], [1, 0]], r"shape \(n, 2\), n from 3, got \(2, 2\)"),
        ([[0, 0, 0], [1, 0, 0], [0, 1, 0]], r"got \(3, 3\)"),
        ([[0, 0], [1, 0], [np.nan, 1]], "finite numbers"),
        ([[0, 0], [2, 2], [2, 0], [0, 2]], "edges 1-2 and 3-4 that cross or touch"),
        ([[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]], "edges 1-2 and 3-4 that cross or touch"),
        ([[0, 0], [0, 1], [1, 1], [1, 0]], "counter-clockwise outline, got a clockwise one"),
        ([[0, 0], [1, 0], [1, 0], [0, 1]], "got points 2 and 3 at one place"),
        ([[0, 0], [1, 0], [0, 1], [0, 0]], "got points 4 and 1 at one place"),
        ([[0, 0], [1, 0], [2, 0]], "turns back at"),
        ([[0, 0], [3, 0], [1, 0], [1, 1]], "turns back at 2"),
        ([[1, 1], [1, 1], [1, 1]], "at one place"),
    ],
)
def test_other_outlines_are_refused(outline, words):
    with pytest.raises(ValueError, match=words):
        prism(np.array(outline, dtype=float), 0.0, 1.0)


def test_heights_must_rise():
    with pytest.raises(ValueError, match="Expected high above low, got 1 and 1"):
        prism(BOX, 1.0, 1.0)
    with pytest.raises(ValueError, match="finite numbers"):
        prism(BOX, 0.0, np.inf)

"""Distances of meshes: closed forms, samples, SciPy, shapely and trimesh beside them; laws."""

import numpy as np
import pytest
import scipy.optimize
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from planform.core.shape import distance as module
from planform.core.shape.distance import (
    contains,
    edges_cross_triangles,
    mesh_distance,
    point_triangle,
    segment_segment,
    triangle_triangle,
)
from planform.core.shape.prism import prism

BOX = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
HOOK = np.array([[0, 0], [4, 0], [4, 3], [3, 3], [3, 1], [1, 1], [1, 3], [0, 3.0]])


def ball(scale=(1.0, 1.0, 1.0), shift=(0.0, 0.0, 0.0), fine=3):
    mesh = trimesh.creation.icosphere(subdivisions=fine)
    return np.array(mesh.vertices) * scale + shift, np.array(mesh.faces)


def rotation(rng):
    return trimesh.transformations.random_rotation_matrix(rng.random(3))[:3, :3]


def on_triangle(points, triangle, slack):
    """Whether points are on a triangle, by areas: those to the three sides add up to its own."""
    a, b, c = triangle
    whole = np.linalg.norm(np.cross(b - a, c - a))
    parts = sum(np.linalg.norm(np.cross(q - p, points - p)) for p, q in ((a, b), (b, c), (c, a)))
    return parts <= whole + slack


# Segments


@pytest.mark.parametrize(
    ("p0", "p1", "q0", "q1", "expected"),
    [
        ((-1, 0, 0), (1, 0, 0), (0, -1, 2), (0, 1, 2), 2.0),  # crossing in plan
        ((0, 0, 0), (1, 0, 0), (0, 3, 0), (1, 3, 0), 3.0),  # parallel, side by side
        ((0, 0, 0), (1, 0, 0), (4, 4, 0), (9, 4, 0), 5.0),  # parallel, end to end
        ((0, 0, 0), (1, 0, 0), (3, 0, 0), (2, 0, 0), 1.0),  # in line
        ((0, 0, 0), (2, 0, 0), (1, 0, 0), (3, 0, 0), 0.0),  # in line, overlapping
        ((0, 0, 0), (0, 0, 0), (-1, 2, 0), (1, 2, 0), 2.0),  # a point and a segment
        ((-1, 2, 0), (1, 2, 0), (0, 0, 0), (0, 0, 0), 2.0),  # a segment and a point
        ((1, 1, 1), (1, 1, 1), (1, 1, 4), (1, 1, 4), 3.0),  # two points
        ((0, 0, 0), (1, 0, 0), (2, 1, 0), (2, 5, 0), 2**0.5),  # corner to corner
    ],
)
def test_segments_in_closed_form(p0, p1, q0, q1, expected):
    gap, on_p, on_q = segment_segment(*(np.array(x, dtype=float) for x in (p0, p1, q0, q1)))
    assert gap == pytest.approx(expected)
    assert np.linalg.norm(on_p - on_q) == pytest.approx(expected)


@pytest.mark.parametrize("angle", [1e-3, 1e-6, 1e-9, 1e-12])
def test_segments_that_cross_at_a_very_small_angle_meet(angle):
    p0, p1 = np.array([-1.0, 0, 0]), np.array([1.0, 0, 0])
    run = np.array([np.cos(angle), np.sin(angle), 0.0])
    middle = np.array([0.3, 0.0, 0.0])
    assert segment_segment(p0, p1, middle - run, middle + run)[0] < 1e-15


def test_segments_broadcast():
    rng = np.random.default_rng(1)
    p, q = rng.normal(size=(4, 1, 2, 3)), rng.normal(size=(1, 5, 2, 3))
    gap, on_p, on_q = segment_segment(p[:, :, 0], p[:, :, 1], q[:, :, 0], q[:, :, 1])
    assert gap.shape == (4, 5)
    assert on_p.shape == on_q.shape == (4, 5, 3)
    one = segment_segment(p[2, 0, 0], p[2, 0, 1], q[0, 3, 0], q[0, 3, 1])
    assert gap[2, 3] == one[0]


coordinates = st.integers(-4, 4).map(lambda n: n / 2.0)
four_points = hnp.arrays(float, (4, 3), elements=coordinates)
three_points = hnp.arrays(float, (3, 3), elements=coordinates)
SHARES = np.linspace(0.0, 1.0, 41)


@settings(deadline=None)
@given(four_points)
def test_segments_are_never_farther_than_samples_of_them_nor_much_nearer(corners):
    p0, p1, q0, q1 = corners
    gap, on_p, on_q = segment_segment(p0, p1, q0, q1)
    p = p0 + SHARES[:, None] * (p1 - p0)
    q = q0 + SHARES[:, None] * (q1 - q0)
    sampled = np.linalg.norm(p[:, None] - q[None], axis=2).min()
    step = 0.5 / 40 * (np.linalg.norm(p1 - p0) + np.linalg.norm(q1 - q0))
    assert sampled - step - 1e-12 <= gap <= sampled + 1e-12
    assert np.linalg.norm(on_p - on_q) == pytest.approx(gap, abs=1e-12)
    for point, a, b in ((on_p, p0, p1), (on_q, q0, q1)):
        there = np.linalg.norm(point - a) + np.linalg.norm(point - b)
        assert there == pytest.approx(np.linalg.norm(b - a), abs=1e-7)
    assert segment_segment(q1, q0, p0, p1)[0] == pytest.approx(float(gap), abs=1e-12)


# Points and triangles


def test_point_and_triangle_in_closed_form():
    triangle = np.array([[0.0, 0, 0], [4, 0, 0], [0, 4, 0]])
    points = np.array([[1.0, 1, 2], [-3, -4, 0], [2, -1, 0], [4, 4, 0], [9, 0, 12]])
    gap, near = point_triangle(points, triangle)
    assert gap == pytest.approx([2, 5, 1, 8**0.5, 13])
    assert near == pytest.approx(np.array([[1, 1, 0], [0, 0, 0], [2, 0, 0], [2, 2, 0], [4, 0, 0]]))


def test_points_and_triangles_agree_with_trimesh():
    rng = np.random.default_rng(2)
    triangles, points = rng.normal(size=(500, 3, 3)), rng.normal(size=(500, 3)) * 2
    gap, near = point_triangle(points, triangles)
    assert near == pytest.approx(trimesh.triangles.closest_point(triangles, points), abs=1e-9)
    assert gap == pytest.approx(np.linalg.norm(near - points, axis=1))


@pytest.mark.parametrize("flat", [[[0, 0, 0], [2, 0, 0], [1, 0, 0]], [[0, 0, 0]] * 3])
def test_triangles_without_area_are_their_edges(flat):
    gap, near = point_triangle(np.array([0.0, 3.0, 4.0]), np.array(flat, dtype=float))
    assert gap == pytest.approx(5.0)
    assert near == pytest.approx([0.0, 0.0, 0.0])


def test_edges_through_triangles():
    triangle = np.array([[0.0, 0, 0], [4, 0, 0], [0, 4, 0]])
    start = np.array([[1.0, 1, -1], [1, 1, 1], [1, 1, 1], [3, 3, 1], [1, 1, 0]])
    end = np.array([[1.0, 1, 3], [1, 1, -1], [1, 1, 2], [3, 3, -1], [1, 1, 5]])
    crosses, at = edges_cross_triangles(start, end, triangle)
    assert crosses.tolist() == [True, True, False, False, False]
    assert at[:2] == pytest.approx(np.array([[1.0, 1, 0], [1, 1, 0]]))


# Pairs of triangles


def least_by_scipy(a, b):
    """Least distance as a convex quadratic programme in the shares of the corners."""

    def points(x):
        return a[0] + x[:2] @ (a[1:] - a[0]), b[0] + x[2:] @ (b[1:] - b[0])

    def square(x):
        p, q = points(x)
        return float(((p - q) ** 2).sum())

    result = scipy.optimize.minimize(
        square,
        np.full(4, 1 / 3),
        bounds=[(0.0, 1.0)] * 4,
        constraints=[
            {"type": "ineq", "fun": lambda x: 1.0 - x[0] - x[1]},
            {"type": "ineq", "fun": lambda x: 1.0 - x[2] - x[3]},
        ],
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 300},
    )
    return np.sqrt(result.fun)


def test_random_triangle_pairs_agree_with_minimisation():
    rng = np.random.default_rng(3)
    a = rng.normal(size=(60, 3, 3))
    b = (
        rng.normal(size=(60, 3, 3))
        + rng.normal(size=(60, 1, 3)) * np.repeat([0.0, 1.5], 30)[:, None, None]
    )
    gap, on_a, on_b = triangle_triangle(a, b)
    expected = np.array([least_by_scipy(*pair) for pair in zip(a, b, strict=True)])
    assert gap == pytest.approx(expected, abs=2e-5)
    assert 5 < (gap == 0.0).sum() < 55  # both kinds were met
    assert np.linalg.norm(on_a - on_b, axis=1) == pytest.approx(gap)
    for points, triangles in ((on_a, a), (on_b, b)):
        assert all(on_triangle(p, t, 1e-9) for p, t in zip(points, triangles, strict=True))


U, V = (x.ravel() for x in np.meshgrid(np.linspace(0, 1, 16), np.linspace(0, 1, 16)))
INNER = np.column_stack([1 - U - V, U, V])[U + V <= 1.0 + 1e-12]


@settings(deadline=None)
@given(three_points, three_points)
def test_triangles_on_a_grid_against_dense_samples(a, b):
    """Corners on a coarse grid: flat, equal, touching and parallel triangles are common here."""
    gap = float(triangle_triangle(a[None], b[None])[0][0])
    sampled = np.linalg.norm((INNER @ a)[:, None] - (INNER @ b)[None], axis=2).min()
    longest = max(np.linalg.norm(t - np.roll(t, 1, axis=0), axis=1).max() for t in (a, b))
    assert gap <= sampled + 1e-12
    assert gap >= sampled - 2 * longest / 15
    assert float(triangle_triangle(b[None], a[None])[0][0]) == pytest.approx(gap, abs=1e-12)


# Meshes


def test_boxes_in_closed_form():
    a = prism(BOX, 0.0, 1.0)
    for shift, expected in (((3, 0, 0), 2), ((4, 5, 0), 5), ((3, 3, 2), 3), ((0.2, 0.3, 5), 4)):
        near = mesh_distance(*a, a[0] + shift, a[1])
        assert near.distance == pytest.approx(expected)
        assert np.linalg.norm(near.point_a - near.point_b) == pytest.approx(expected)
        assert ((near.point_a >= 0.0) & (near.point_a <= 1.0)).all()


def test_touching_crossing_and_held_meshes_are_at_no_distance():
    a = prism(BOX, 0.0, 1.0)
    for shift in ((1, 0, 0), (1, 1, 1), (0.5, 0, 0), (0.5, 0.5, 0.5), (0, 0, 0)):
        assert mesh_distance(*a, a[0] + shift, a[1]).distance == 0.0
    inner = a[0] * 0.1 + 0.45
    for pair in ((*a, inner, a[1]), (inner, a[1], *a)):
        for limit in (np.inf, 0.01):
            near = mesh_distance(*pair, limit=limit)
            assert near.distance == 0.0
            assert ((near.point_a > 0.4) & (near.point_a < 0.6)).all()


@pytest.mark.parametrize("turn", range(4))
def test_aligned_boxes_that_overlap_after_a_turn(turn):
    """Faces in common planes, moved by rounding: still no distance."""
    rotate = rotation(np.random.default_rng(turn))
    a = prism(BOX, 0.0, 1.0)
    near = mesh_distance(a[0] @ rotate.T, a[1], (a[0] + [0.5, 0.0, 0.0]) @ rotate.T, a[1])
    assert near.distance == 0.0


def test_one_of_several_pieces_inside_is_found():
    room = prism(BOX * 10, 0.0, 10.0)
    one = prism(BOX, 0.0, 1.0)
    points = np.concatenate([one[0] + [20, 0, 0], one[0] + [4, 4, 4]])
    faces = np.concatenate([one[1], one[1] + 8])
    assert mesh_distance(points, faces, *room).distance == 0.0
    assert mesh_distance(points[:8], one[1], *room).distance == pytest.approx(10.0)


def test_a_thing_in_the_bay_of_a_hook_is_outside_it():
    hook = prism(HOOK, 0.0, 2.0)
    box = prism(BOX * 0.5 + [1.75, 2.0], 0.5, 1.5)
    assert mesh_distance(*box, *hook).distance == pytest.approx(0.75)


def test_two_balls():
    a = ball(fine=3)
    b = ball(shift=(3.0, 1.0, 0.5), fine=3)
    apart = np.linalg.norm([3.0, 1.0, 0.5]) - 2.0
    near = mesh_distance(*a, *b)
    assert apart <= near.distance <= apart + 0.02  # facets lie inside the balls


def test_mesh_distance_is_the_least_over_all_pairs(monkeypatch):
    """Every pair measured, without boxes or bounds; small blocks use every path of the search."""
    rng = np.random.default_rng(5)
    for block in (7, 5000):
        monkeypatch.setattr(module, "BLOCK", block)
        for _ in range(6):
            a = ball(scale=(1.0, 2.0, 0.2), fine=1)
            b = ball(scale=(0.5, 0.3, 1.0), fine=1)
            points = b[0] @ rotation(rng).T + rng.normal(size=3) * 2.0
            pairs = np.indices((len(a[1]), len(b[1]))).reshape(2, -1)
            every = triangle_triangle(a[0][a[1]][pairs[0]], points[b[1]][pairs[1]])[0].min()
            near = mesh_distance(*a, points, b[1])
            assert near.distance == pytest.approx(every, abs=1e-12)
            assert mesh_distance(points, b[1], *a).distance == pytest.approx(every, abs=1e-12)


def test_corners_nearest_to_a_convex_mesh_agree_with_trimesh():
    points, faces = ball(scale=(1.0, 3.0, 0.5))
    query = np.array([[2.0, 1.0, 1.0], [0.0, 0.0, 3.0], [-1.0, -3.0, 0.4]])
    tiny = prism(BOX * 1e-9, 0.0, 1e-9)
    expected = trimesh.proximity.closest_point_naive(
        trimesh.Trimesh(points, faces, process=False), query
    )[1]
    for point, gap in zip(query, expected, strict=True):
        near = mesh_distance(points, faces, tiny[0] + point, tiny[1])
        assert near.distance == pytest.approx(gap, abs=4e-9)


@pytest.mark.parametrize("number", range(8))
def test_upright_prisms_are_as_far_apart_as_their_plans_and_heights(number):
    rng = np.random.default_rng(number)
    angle = rng.random() * 6.0
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    plan = HOOK @ turn.T + rng.normal(size=2) * 6.0
    rise = rng.normal() * 3.0
    near = mesh_distance(*prism(HOOK, 0.0, 2.0), *prism(plan, rise, rise + 1.0))
    level = shapely.Polygon(HOOK).distance(shapely.Polygon(plan))
    upright = max(0.0, rise - 2.0, -(rise + 1.0))
    assert near.distance == pytest.approx(np.hypot(level, upright), abs=1e-12)


def test_a_limit_only_hides_what_is_beyond_it():
    a = prism(BOX, 0.0, 1.0)
    b = a[0] + [3.0, 0.0, 0.0]
    assert mesh_distance(*a, b, a[1], limit=2.0).distance == pytest.approx(2.0)
    beyond = mesh_distance(*a, b, a[1], limit=1.999)
    assert beyond.distance == np.inf
    assert np.isnan(beyond.point_a).all()
    assert np.isnan(beyond.point_b).all()


def test_a_mesh_without_faces_is_refused():
    with pytest.raises(ValueError, match="Expected two meshes with faces"):
        mesh_distance(*prism(BOX, 0.0, 1.0), np.zeros((0, 3)), np.zeros((0, 3), dtype=int))


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 2**31), st.floats(0.0, 5.0))
def test_rigid_motion_and_exchange_change_nothing(number, away):
    rng = np.random.default_rng(number)
    a, b = ball(scale=(2.0, 0.5, 0.1), fine=1), prism(HOOK, 0.0, 1.0)
    points = b[0] + rng.normal(size=3) * away
    near = mesh_distance(*a, points, b[1])
    rotate, shift = rotation(rng), rng.normal(size=3) * 20.0
    moved = mesh_distance(a[0] @ rotate.T + shift, a[1], points @ rotate.T + shift, b[1])
    assert moved.distance == pytest.approx(near.distance, abs=1e-10)
    other = mesh_distance(points, b[1], *a)
    assert other.distance == pytest.approx(near.distance, abs=1e-12)
    assert np.linalg.norm(near.point_a - near.point_b) == pytest.approx(near.distance, abs=1e-10)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 2**31))
def test_moving_by_a_step_changes_the_distance_by_no_more(number):
    rng = np.random.default_rng(number)
    a, b = ball(scale=(2.0, 0.5, 0.1), fine=1), prism(HOOK, 0.0, 1.0)
    start = b[0] + rng.normal(size=3) * 3.0
    step = rng.normal(size=3) * 0.3
    before = mesh_distance(*a, start, b[1]).distance
    after = mesh_distance(*a, start + step, b[1]).distance
    assert abs(after - before) <= np.linalg.norm(step) + 1e-12


# Inside


def test_inside_agrees_with_the_plan_of_a_prism():
    rng = np.random.default_rng(7)
    points, faces = prism(HOOK, 0.0, 2.0)
    query = rng.random((2000, 3)) * [5.0, 4.0, 3.0] - 0.5
    plan = shapely.contains_xy(shapely.Polygon(HOOK), query[:, 0], query[:, 1])
    expected = plan & (query[:, 2] > 0.0) & (query[:, 2] < 2.0)
    assert np.array_equal(contains(points, faces, query), expected)
    assert np.array_equal(contains(points, faces[:, ::-1], query), expected)
    assert 100 < expected.sum() < 1900


def test_inside_in_line_with_edges_and_corners():
    """Points level with corners and edges, where counting hits of a ray goes wrong."""
    points, faces = prism(BOX * 2, 0.0, 2.0)
    query = np.array([[1.0, 1, 1], [1, 1, 0.5], [0.5, 0.5, 0.5], [3, 1, 1], [-1, 0, 0], [2, 2, 3]])
    assert contains(points, faces, query).tolist() == [True, True, True, False, False, False]

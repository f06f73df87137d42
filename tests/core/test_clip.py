"""Cutting triangles, and sums over closed meshes: closed forms, laws, trimesh beside them."""

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.core.shape.clip import (
    clip_halfspace,
    clip_slab,
    section_segments,
)
from planform.core.shape.prism import prism
from planform.core.shape.slab import slab
from tests.formulas import is_closed, mesh_area, mesh_centroid, mesh_volume

SQUARE = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 3.0], [0.0, 3.0]])


def area(triangles):
    a, b, c = triangles.transpose(1, 0, 2)
    return 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)


def ball():
    mesh = trimesh.creation.icosphere(subdivisions=3)
    return np.array(mesh.vertices), np.array(mesh.faces)


def test_one_triangle_cut_at_half_height_leaves_a_quarter_and_three_quarters():
    triangle = np.array([[[0.0, 0.0, 0.0], [4.0, 0.0, 0.0], [0.0, 0.0, 2.0]]])
    above = clip_halfspace(triangle, 2, 1.0, "above")
    below = clip_halfspace(triangle, 2, 1.0, "below")
    assert area(above).sum() == pytest.approx(1.0)
    assert area(below).sum() == pytest.approx(3.0)
    assert above[:, :, 2].min() == 1.0
    assert below[:, :, 2].max() == 1.0


def test_the_winding_is_kept():
    points, faces = ball()
    normal = lambda t: np.cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0])  # noqa: E731
    for axis in range(3):
        pieces = clip_slab(points[faces], axis, -0.31, 0.47)
        outward = np.einsum("ij,ij->i", normal(pieces), pieces.mean(axis=1))
        assert (outward > 0.0).all()


def test_a_triangle_in_the_plane_is_kept_and_one_that_only_touches_is_dropped():
    flat = np.array([[[0.0, 0.0, 1.0], [1.0, 0.0, 1.0], [0.0, 1.0, 1.0]]])
    tip = np.array([[[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]])
    side = np.array([[[0.0, 0.0, 1.0], [1.0, 0.0, 1.0], [0.0, 1.0, 0.0]]])
    for keep in ("above", "below"):
        assert np.array_equal(clip_halfspace(flat, 2, 1.0, keep), flat)
    for triangle in (tip, side):
        assert len(clip_halfspace(triangle, 2, 1.0, "above")) == 0
        assert np.array_equal(clip_halfspace(triangle, 2, 1.0, "below"), triangle)


def test_a_corner_in_the_plane_makes_no_pieces_without_area():
    through = np.array([[[0.0, 0.0, 0.0], [1.0, 0.0, -1.0], [1.0, 0.0, 1.0]]])
    for turn in range(3):
        for keep in ("above", "below"):
            pieces = clip_halfspace(np.roll(through, turn, axis=1), 2, 0.0, keep)
            assert len(pieces) == 1
            assert area(pieces)[0] == pytest.approx(0.5)


def test_infinite_planes_keep_all_or_nothing():
    points, faces = ball()
    whole = points[faces]
    assert np.array_equal(clip_slab(whole, 1, -np.inf, np.inf), whole)
    assert len(clip_halfspace(whole, 1, np.inf, "above")) == 0
    assert clip_slab(whole, 0, 5.0, 6.0).shape == (0, 3, 3)
    assert clip_slab(np.empty((0, 3, 3)), 0, 0.0, 1.0).shape == (0, 3, 3)


def test_another_side_is_refused():
    with pytest.raises(ValueError, match="Expected keep as 'above' or 'below', got 'left'"):
        clip_halfspace(np.zeros((1, 3, 3)), 0, 0.0, "left")


triangles = st.lists(
    st.lists(st.integers(-3, 3).map(float), min_size=9, max_size=9), min_size=1, max_size=8
).map(lambda rows: np.array(rows).reshape(-1, 3, 3))


@settings(deadline=None)
@given(triangles, st.integers(0, 2), st.sampled_from([-2.0, -0.5, 0.0, 1.0, 1.7]))
def test_both_sides_add_up_to_the_whole(given_triangles, axis, value):
    level = given_triangles[:, :, axis]
    flat = (level == value).all(axis=1)  # in the plane: kept on both sides
    both = sum(
        area(clip_halfspace(given_triangles, axis, value, keep)).sum()
        for keep in ("above", "below")
    )
    assert both == pytest.approx(area(given_triangles).sum() + area(given_triangles[flat]).sum())


@settings(deadline=None)
@given(triangles, st.integers(0, 2), st.sampled_from([0.0, 0.25, 1.0]))
def test_a_mirrored_mesh_has_the_mirrored_pieces(given_triangles, axis, value):
    mirrored = given_triangles.copy()
    mirrored[:, :, axis] *= -1.0
    above = clip_halfspace(given_triangles, axis, value, "above")
    below = clip_halfspace(mirrored, axis, -value, "below")
    below[:, :, axis] *= -1.0
    assert above == pytest.approx(below)


def lengths(segments):
    return np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1).sum()


def enclosed(segments):
    (x0, y0), (x1, y1) = segments.transpose(1, 2, 0)
    return 0.5 * (x0 * y1 - x1 * y0).sum()


def closes(segments):
    """Each end point as often the start of a segment as the end of one, bit for bit."""
    start = sorted(map(tuple, segments[:, 0]))
    return start == sorted(map(tuple, segments[:, 1]))


@pytest.mark.parametrize(("axis", "size"), [(0, (3, 4)), (1, (2, 4)), (2, (2, 3))])
def test_sections_of_a_box(axis, size):
    points, faces = prism(SQUARE, 0.0, 4.0)
    for value in (0.0, 0.7, 1.0):  # at 0.0 the plane holds a whole face: its outline is the cut
        segments = section_segments(points[faces], axis, value)
        assert lengths(segments) == pytest.approx(2 * sum(size))
        assert abs(enclosed(segments)) == pytest.approx(size[0] * size[1])
        assert closes(segments)
    assert section_segments(points[faces], axis, points[:, axis].max()).shape == (0, 2, 2)


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("value", [0.0, 0.3, -0.8])
def test_sections_of_a_ball_agree_with_trimesh(axis, value):
    points, faces = ball()  # has corners exactly in the planes through its middle
    mesh = trimesh.Trimesh(points, faces, process=False)
    segments = section_segments(points[faces], axis, value)
    assert closes(segments)
    other = mesh.section(
        plane_origin=np.eye(3)[axis] * (value + 1e-9), plane_normal=np.eye(3)[axis]
    )
    assert lengths(segments) == pytest.approx(other.length, rel=1e-6)
    radius = np.sqrt(1.0 - value**2)
    assert lengths(segments) == pytest.approx(2 * np.pi * radius, rel=0.02)


@settings(deadline=None, max_examples=50)
@given(st.integers(0, 2), st.sampled_from([-0.9, 0.0, 1e-17, 0.25, 0.5]), st.integers(0, 9))
def test_sections_close_with_corners_on_and_beside_the_plane(axis, value, shake):
    rng = np.random.default_rng(shake)
    points, faces = ball()
    picked = rng.random(len(points)) < 0.3
    points[picked, axis] = np.round(points[picked, axis] * 4) / 4
    assert closes(section_segments(points[faces], axis, value))


def test_sums_of_a_box():
    points, faces = prism(SQUARE, 1.0, 5.0)
    assert mesh_volume(points, faces) == pytest.approx(24.0)
    assert mesh_area(points, faces) == pytest.approx(2 * (6 + 8 + 12))
    assert mesh_centroid(points, faces) == pytest.approx([1.0, 1.5, 3.0])
    assert mesh_volume(points, faces[:, ::-1]) == pytest.approx(-24.0)
    assert mesh_centroid(points, faces[:, ::-1]) == pytest.approx([1.0, 1.5, 3.0])


def test_sums_of_a_tetrahedron():
    points = np.array([[0.0, 0, 0], [1, 0, 0], [0, 2, 0], [0, 0, 3]])
    faces = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    assert mesh_volume(points, faces) == pytest.approx(1.0)
    assert mesh_centroid(points, faces) == pytest.approx([0.25, 0.5, 0.75])
    assert mesh_area(points, faces) == pytest.approx(1 + 1.5 + 3 + 3.5)


def test_sums_agree_with_trimesh():
    mesh = trimesh.creation.capsule(height=2.0, radius=0.4, count=[12, 12])
    mesh.apply_transform(trimesh.transformations.rotation_matrix(0.7, [1, 2, 3], [4, 5, 6]))
    points, faces = np.array(mesh.vertices), np.array(mesh.faces)
    assert mesh_volume(points, faces) == pytest.approx(mesh.volume)
    assert mesh_area(points, faces) == pytest.approx(mesh.area)
    assert mesh_centroid(points, faces) == pytest.approx(mesh.center_mass)


def test_a_cut_and_the_section_keep_the_volume():
    """The flux of (x, y, z) / 3 through the clipped part and its lid is the volume above."""
    points, faces = ball()
    pieces = clip_halfspace(points[faces], 2, 0.4, "above")
    part = np.einsum("ij,ij->i", pieces[:, 0], np.cross(pieces[:, 1], pieces[:, 2])).sum() / 6
    lid = abs(enclosed(section_segments(points[faces], 2, 0.4)))
    mesh = trimesh.Trimesh(points, faces, process=False)
    cap = mesh.slice_plane([0, 0, 0.4], [0, 0, 1])
    flux = np.einsum(
        "ij,ij->i", cap.triangles[:, 0], np.cross(*cap.triangles[:, 1:].swapaxes(0, 1))
    )
    assert part == pytest.approx(flux.sum() / 6)
    closed_form = np.pi * 0.6**2 * (3 - 0.6) / 3  # spherical cap of height 0.6
    assert part - lid * 0.4 / 3 == pytest.approx(closed_form, rel=0.02)


def test_a_mesh_without_volume_has_no_centre():
    points = np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0]])
    with pytest.raises(ValueError, match="closed mesh with a volume"):
        mesh_centroid(points, np.array([[0, 1, 2], [0, 2, 1]]))


def test_closed_means_each_edge_once_each_way():
    _, faces = prism(SQUARE, 0.0, 1.0)
    assert is_closed(faces)
    assert is_closed(faces[:, ::-1])
    assert not is_closed(faces[1:])
    assert not is_closed(np.concatenate([faces, faces[:1]]))
    turned = faces.copy()
    turned[3] = turned[3, ::-1]
    assert not is_closed(turned)
    assert not is_closed(np.concatenate([faces, [[0, 0, 1]]]))
    assert not is_closed(np.empty((0, 3), dtype=int))


@settings(max_examples=25)
@given(seed=st.integers(0, 2**32 - 1), step=st.sampled_from([0.0, 0.5, 1.0]))
def test_the_compiled_cut_gives_the_same_bits(seed, step):
    dice = np.random.default_rng(seed)
    triangles = dice.normal(size=(dice.integers(0, 12), 3, 3))
    ends = np.sort(dice.normal(size=2))
    if step:  # many corners in the planes
        triangles, ends = np.round(triangles / step) * step, np.round(ends / step) * step
    for axis in range(3):
        for low, high in (ends, (-np.inf, ends[0]), (ends[1], np.inf)):
            plain = clip_slab(triangles, axis, low, high)
            assert np.array_equal(slab(triangles, axis, float(low), float(high)), plain)

"""True line views against sight lines, and by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.part import Part
from planform.airframe.stance import stand_on
from planform.design.load import load
from planform.drawing.lines.line_view import line_view
from planform.drawing.lines.united import united
from tests.conftest import DESIGNS

FROM_ABOVE = np.eye(3)
FRAMES = {
    "above": FROM_ABOVE,
    "ahead": np.array([[0.0, -1, 0], [0, 0, 1], [-1, 0, 0]]),
    "aslant": np.linalg.qr(np.array([[1.0, 2, 3], [0, 1, 4], [5, 6, 0]]))[0],
}


def box(name, low, high):
    import trimesh

    mesh = trimesh.creation.box(bounds=[low, high])
    return Part(name, name, "hull", np.array(mesh.vertices), np.array(mesh.faces))


def hit(origin, toward, triangles):
    """How far along `toward` the nearest triangle lies; inf where none does (Moller-Trumbore)."""
    a = triangles[:, 0]
    one, two = triangles[:, 1] - a, triangles[:, 2] - a
    p = np.cross(toward, two)
    det = (one * p).sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        s = origin - a
        u = (s * p).sum(axis=1) / det
        q = np.cross(s, one)
        v = (toward * q).sum(axis=1) / det
        t = (two * q).sum(axis=1) / det
        within = (u > 1e-9) & (v > 1e-9) & (u + v < 1 - 1e-9)
        inside = (np.abs(det) > 1e-14) & within & (t > 1e-5)
    return np.min(t[inside], initial=np.inf)


def sampled(view, solid, frame, count, seed):
    """Points of lines told seen that something covers, and of hidden ones that nothing does."""
    points = solid.points @ frame.T
    corners = points[solid.faces]
    dice = np.random.default_rng(seed)
    wrong = []
    seen = [one for one in view.lines if one.kind != "hidden"]
    hidden = [one for one in view.lines if one.kind == "hidden"]
    for lines, free in ((seen, True), (hidden, False)):
        for _ in range(min(count, 3 * len(lines))):
            line = lines[dice.integers(len(lines))]
            k = dice.integers(len(line.points) - 1)
            share = dice.uniform(0.05, 0.95)
            at = line.points[k] + share * (line.points[k + 1] - line.points[k])
            depths = edge_depths(at, points, solid.faces)
            clear = [
                hit(np.array([*at, d]), np.array([0.0, 0.0, 1.0]), corners) == np.inf
                for d in depths
            ]
            if any(clear) != free and all(clear) == (not free):
                wrong.append((at, free))
    return wrong


def edge_depths(at, points, faces):
    """The depths of all edges of the mesh that run through a point of the picture."""
    pairs = np.unique(np.sort(faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1), axis=0)
    a, b = points[pairs[:, 0]], points[pairs[:, 1]]
    way = b[:, :2] - a[:, :2]
    size = (way**2).sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        t = ((at - a[:, :2]) * way).sum(axis=1) / size
    off = np.linalg.norm(a[:, :2] + t[:, None] * way - at, axis=1)
    on = (size > 0) & (off < 1e-7) & (t > -1e-9) & (t < 1 + 1e-9)
    return a[on, 2] + t[on] * (b[on, 2] - a[on, 2])


def length(view, *kinds):
    return sum(
        float(np.linalg.norm(np.diff(one.points, axis=0), axis=1).sum())
        for one in view.lines
        if one.kind in kinds
    )


def test_a_box_from_above_is_its_rim():
    view = line_view([box("a", (0, 0, 0), (2, 1, 3))], FROM_ABOVE)
    assert {one.kind for one in view.lines} == {"outline"}
    assert length(view, "outline") == pytest.approx(6.0, abs=1e-9)


def test_a_box_before_another_hides_what_lies_behind_it():
    far, near = box("far", (0, 0, 0), (2, 2, 1)), box("near", (1, 1, 2), (3, 3, 4))
    view = line_view([far, near], FROM_ABOVE, hidden=True)
    assert length(view, "outline") == pytest.approx(12.0, abs=1e-4)
    assert length(view, "edge") == pytest.approx(2.0, abs=1e-4)  # the near one over the far one
    behind = [one for one in view.lines if one.kind == "hidden" and one.part == "far"]
    assert sum(np.ptp(one.points, axis=0).sum() for one in behind) == pytest.approx(2.0, abs=1e-4)


def test_where_two_boxes_run_into_each_other_there_is_a_line():
    low, tall = box("low", (0, 0, 0), (4, 4, 1)), box("tall", (1, 1, 0.5), (3, 3, 2))
    view = line_view([low, tall], FRAMES["aslant"])
    joints = [one for one in view.lines if one.kind == "joint"]
    assert joints
    flat = np.concatenate([one.points for one in joints])
    ring = np.array([(1, 1, 1), (3, 1, 1), (3, 3, 1), (1, 3, 1)]) @ FRAMES["aslant"].T
    for point in flat:
        ends = np.stack([ring[:, :2], np.roll(ring[:, :2], -1, axis=0)], axis=1)
        way = ends[:, 1] - ends[:, 0]
        t = np.clip(((point - ends[:, 0]) * way).sum(axis=1) / (way**2).sum(axis=1), 0, 1)
        assert np.linalg.norm(ends[:, 0] + t[:, None] * way - point, axis=1).min() < 1e-9


def test_what_lies_inside_another_is_not_seen():
    outer, inner = box("outer", (0, 0, 0), (2, 2, 2)), box("inner", (0.5, 0.5, 0.5), (1, 1, 1))
    alone = line_view([outer], FRAMES["aslant"])
    both = line_view([outer, inner], FRAMES["aslant"])
    assert {one.part for one in both.lines} == {"outer"}
    assert length(both, "outline", "edge") == pytest.approx(length(alone, "outline", "edge"))


sizes = st.tuples(*[st.integers(4, 40).map(lambda k: k / 20)] * 3)
places = st.tuples(*[st.integers(-30, 30).map(lambda k: k / 20)] * 3)


@given(st.lists(st.tuples(places, sizes), min_size=2, max_size=5), st.integers(0, 9))
@settings(max_examples=20, deadline=None)
def test_lines_of_boxes_are_seen_along_their_sight_lines(boxes, seed):
    parts = [box(f"b{k}", np.array(at), np.array(at) + size) for k, (at, size) in enumerate(boxes)]
    frame = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))[0]
    frame = frame * np.sign(np.linalg.det(frame))
    solid = united(parts)
    view = line_view(solid, frame, hidden=True)
    assert sampled(view, solid, frame, 30, seed) == []


@pytest.mark.parametrize("frame", sorted(FRAMES))
def test_lines_of_the_demo_are_seen_along_their_sight_lines(frame):
    design = load(DESIGNS / "marram.toml")
    standing = stand_on(build(design), design.stages[-1])
    solid = united(standing.parts)
    assert solid.apart == ()
    matrix = FRAMES[frame] * np.sign(np.linalg.det(FRAMES[frame])) @ a_little_turned()
    view = line_view(solid, matrix, hidden=True)
    assert sampled(view, solid, matrix, 60, 3) == []


def a_little_turned():
    """So little that nothing lies edge on, where a sight line along it would tell nothing."""
    from scipy.spatial.transform import Rotation

    return Rotation.from_euler("xyz", [0.31, -0.27, 0.13], degrees=True).as_matrix()


def test_the_outline_of_a_view_is_the_rim_of_its_shadow():
    import shapely

    design = load(DESIGNS / "quillwort.toml")
    standing = stand_on(build(design), design.stages[-1])
    view = line_view(standing.parts, FRAMES["ahead"])
    solid = united(standing.parts)
    flat = (solid.points @ FRAMES["ahead"].T)[solid.faces][:, :, :2]
    shadow = shapely.union_all([shapely.polygons(one) for one in flat if area(one) > 1e-12])
    shadow = shadow.buffer(1e-6).buffer(-1e-6)  # slits of rounding between facets
    rim = drawn(view, "outline")
    assert shadow.boundary.difference(rim.buffer(1e-3)).length < 1e-3
    assert rim.difference(shadow.boundary.buffer(1e-3)).length < 1e-3


def drawn(view, *kinds):
    import shapely

    return shapely.union_all([shapely.linestrings(x.points) for x in view.lines if x.kind in kinds])


def area(corners):
    a, b = corners[1] - corners[0], corners[2] - corners[0]
    return abs(a[0] * b[1] - a[1] * b[0])


def test_a_mirrored_view_is_the_mirror_image():
    design = load(DESIGNS / "quillwort.toml")
    standing = stand_on(build(design), design.stages[0])
    left = np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]])
    right = np.array([[-1.0, 0, 0], [0, 0, 1], [0, 1, 0]])
    pair = [p for p in standing.parts if "canopy" not in p.name]
    import shapely

    every = ("outline", "edge", "joint")
    one, two = (drawn(line_view(pair, way), *every) for way in (left, right))
    one = shapely.transform(one, lambda points: points * [-1.0, 1.0])
    assert one.difference(two.buffer(1e-3)).length < 2e-3
    assert two.difference(one.buffer(1e-3)).length < 2e-3

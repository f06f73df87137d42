"""Sections by a plane against trimesh's, and what is seen behind the plane."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.part import Part
from planform.airframe.stance import stand_on
from planform.design.load import load
from planform.drawing.lines.cut import EYES, parts_within, rings_of, section, section_across
from planform.drawing.lines.frames import FRAMES
from tests.conftest import DESIGNS


def solid(name, mesh):
    return Part(name, name, "fuselage", np.array(mesh.vertices), np.array(mesh.faces))


def box(name, low, high):
    import trimesh

    return solid(name, trimesh.creation.box(bounds=[low, high]))


@pytest.fixture(scope="module")
def standing():
    design = load(DESIGNS / "marram.toml")
    return stand_on(build(design), design.stages[-1])


def by_trimesh(part, frame, at):
    """Segments of trimesh in the plane, shape (n, 2, 2), and their area by the facets' normals.

    Twice the area is the sum over the sides of their lengths times how far out they lie.
    """
    import trimesh

    mesh = part.trimesh()
    lines, faces = trimesh.intersections.mesh_plane(
        mesh, frame[2], at * frame[2], return_faces=True
    )
    flat = lines @ frame[:2].T
    normal = mesh.face_normals[faces] @ frame[:2].T
    out = (flat.mean(axis=1) * normal).sum(axis=1) / np.linalg.norm(normal, axis=1)
    return flat, 0.5 * float(out @ np.linalg.norm(flat[:, 1] - flat[:, 0], axis=1))


@pytest.mark.parametrize(
    ("what", "values"),
    [
        ("station", (1.83, 3.01, 5.47)),
        ("butt line", (0.013, 1.2, -3.1)),
        ("water line", (0.7, 0.93)),
    ],
)
def test_areas_of_sections_are_those_of_trimesh(standing, what, values):
    for value in values:
        cut = section_across(standing, what, value)
        assert cut.rings
        for part in (*standing.parts, *parts_within(standing)):
            mine = [ring for ring in cut.rings if ring.part == part.name]
            segments, area = by_trimesh(part, cut.frame, cut.at)
            assert sum(ring.area for ring in mine) == pytest.approx(area, abs=1e-9)
            if mine:
                lines = shapely.multilinestrings(shapely.linestrings(segments))
                points = shapely.points(np.concatenate([ring.points for ring in mine]))
                assert shapely.distance(points, lines).max() < 1e-9


def test_a_station_of_the_aircraft_is_cut_however_it_stands():
    design = load(DESIGNS / "quillwort.toml")
    kneeling = stand_on(build(design), design.stages[0])
    assert abs(kneeling.turn[0, 2]) > 0.1
    cut = section_across(kneeling, "station", 1.5)
    assert cut.rings
    for ring in cut.rings:
        points = np.column_stack([ring.points, np.full(len(ring.points), cut.at)]) @ cut.frame
        station = (points - kneeling.shift) @ kneeling.turn[:, 0]
        assert np.abs(station - 1.5).max() < 1e-12


def test_a_hole_is_told_against_the_clock():
    import trimesh

    tube = solid("tube", trimesh.creation.annulus(r_min=0.5, r_max=1.0, height=2.0, sections=64))
    cut = section([tube], np.eye(3), 0.1)
    areas = sorted(ring.area for ring in cut.rings)
    share = 32.0 * np.sin(2.0 * np.pi / 64)  # of a regular polygon of 64 sides
    assert areas == pytest.approx([-0.25 * share, share], abs=1e-9)


def test_a_plane_through_corners_and_faces_still_gives_closed_rings():
    cube = box("cube", (0, 0, 0), (1, 1, 1))
    aslant = np.linalg.qr(np.array([[1.0, 2, 3], [0, 1, 4], [5, 6, 0]]))[0]
    aslant = aslant * np.sign(np.linalg.det(aslant))
    diagonal = np.array([[0, 0, 1.0], [1, -1, 0], [1, 1, 0]])
    diagonal = diagonal / np.linalg.norm(diagonal, axis=1)[:, None]
    halved = section([cube], diagonal, np.sqrt(0.5))
    assert [ring.area for ring in halved.rings] == pytest.approx([np.sqrt(2.0)])
    assert [ring.area for ring in section([cube], np.eye(3), 1.0).rings] == pytest.approx([1.0])
    assert section([cube], np.eye(3), 0.0).rings == ()
    assert section([cube], aslant, 99.0).rings == ()


def test_a_surface_with_a_gap_is_named():
    cube = box("cube", (0, 0, 0), (1, 1, 1))
    torn = Part("torn", "torn", "fuselage", cube.points, cube.faces[1:])
    gaps = [section([torn], FRAMES[name], 0.5 * FRAMES[name][2].sum()).open for name in FRAMES]
    assert ("torn",) in gaps
    assert all(one in ((), ("torn",)) for one in gaps)


@given(st.integers(0, 10_000), st.floats(-0.9, 0.9))
@settings(max_examples=25)
def test_rings_of_any_hull_of_points_have_its_area(seed, at):
    import trimesh

    dice = np.random.default_rng(seed)
    hull = trimesh.convex.convex_hull(dice.normal(size=(30, 3)))
    rings = rings_of(np.array(hull.vertices), np.array(hull.faces), at)
    ends = hull.vertices[hull.edges_unique]
    above = ends[:, :, 2] >= at
    cut = ends[above[:, 0] != above[:, 1]]
    share = (at - cut[:, 0, 2]) / (cut[:, 1, 2] - cut[:, 0, 2])
    points = cut[:, 0, :2] + share[:, None] * (cut[:, 1, :2] - cut[:, 0, :2])
    wanted = shapely.MultiPoint(points).convex_hull.area if len(points) else 0.0
    assert sum(shapely.Polygon(ring).area for ring in rings) == pytest.approx(wanted, abs=1e-9)


def test_behind_the_plane_only_what_lies_there_is_seen(standing):
    cut = section_across(standing, "station", 5.47, beyond=True)
    names = {line.part for line in cut.beyond.lines}
    assert not names & {"nose", "right foreplane"}
    assert "right winglet" in names
    assert cut.beyond.apart == ()


def test_the_cut_outline_is_the_rim_of_all_rings_together(standing):
    for what, value in (("station", 5.47), ("butt line", 1.2), ("water line", 0.93)):
        cut = section_across(standing, what, value, beyond=True)
        whole = shapely.union_all([shapely.Polygon(ring.points) for ring in cut.rings])
        whole = whole.buffer(1e-6).buffer(-1e-6)
        lines = [shapely.LineString(x.points) for x in cut.beyond.lines if x.kind == "cut"]
        drawn = shapely.union_all(lines)
        assert whole.boundary.difference(drawn.buffer(1e-3)).length < 2e-3
        assert drawn.difference(whole.boundary.buffer(1e-3)).length < 2e-3


def test_a_cube_cut_in_half_shows_the_cube_behind_it():
    near, far = box("near", (0, 0, 0), (1, 1, 1)), box("far", (0.5, 0.5, -2), (3, 2, -1))
    view = section([near, far], np.eye(3), 0.5, beyond=True).beyond
    cut = [line for line in view.lines if line.kind == "cut"]
    seen = [line for line in view.lines if line.kind == "outline"]
    assert {line.part for line in cut} == {"near"}
    assert {line.part for line in seen} == {"far"}
    assert sum(shapely.LineString(x.points).length for x in cut) == pytest.approx(4.0)
    assert sum(shapely.LineString(x.points).length for x in seen) == pytest.approx(
        8.0 - 1.0, abs=1e-3
    )


def test_planes_are_looked_at_from_ahead_the_left_and_above():
    eyes = {name: tuple(frame[2]) for name, frame in EYES.items()}
    assert eyes == {
        "station": (-1.0, 0.0, 0.0),
        "butt line": (0.0, -1.0, 0.0),
        "water line": (0.0, 0.0, 1.0),
    }

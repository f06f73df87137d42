"""Scenes of the stills, held against measures and answers; strips of pictures."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

import planform as pf
from planform.drawing.framing import aim
from planform.drawing.outlooks import EYE_HEIGHT
from planform.drawing.scene import Camera, Scene, Solid, load, save
from planform.drawing.stills import heights_scene, room_stills, stages_tiles, way_tiles
from planform.drawing.strips import TILE, strip
from planform.fit.steps import steps_of
from planform.fit.straight import Straight
from planform.fit.swept import corners_of, plan_outline
from planform.study.judging import judged_way, searching
from planform.study.roll_out import USUAL
from tests.conftest import DESIGNS

SIZE = (1400, 900)


@pytest.fixture(scope="module")
def stood():
    return pf.stand_all(pf.build(pf.load(DESIGNS / "quillwort.toml")))


@pytest.fixture(scope="module")
def judged(stood):
    room = pf.build_room(pf.load_place(DESIGNS / "garden-shed.toml"))
    straight = Straight(stood[0], room, None)
    return judged_way(straight, searching(straight, None, USUAL, 20_000)), room


def test_the_leaders_of_heights_are_the_measures(stood):
    for standing in stood:
        scene = heights_scene(standing, "mm")
        tall = [float(x.end[2] - x.start[2]) for x in scene.leaders]
        assert max(tall) == pytest.approx(pf.standing_measures(standing)["height"], abs=1e-9)
        figure = next(s for s in scene.solids if s.name == "standing person")
        assert figure.points[:, 2].min() == pytest.approx(standing.floor)
        left = standing.all_points()[:, 1].min()
        assert figure.points[:, 1].max() < left


def test_every_stage_is_drawn_to_one_scale(stood):
    tiles = stages_tiles(stood, "mm")
    assert len(tiles) == len(stood)
    views = [aim(t.scene, t.scene.cameras[0], SIZE, parallel=True) for t in tiles]
    assert len({view.half for view in views}) == 1
    for standing, tile, view in zip(stood, tiles, views, strict=True):
        pixels = view.project(standing.all_points())
        assert (pixels > 0.0).all()
        assert (pixels < SIZE).all()
        assert standing.title in tile.words


def test_the_room_is_seen_from_where_people_stand(judged):
    answer, room = judged
    scenes = room_stills(answer, room, "mm")
    cameras = [scene.cameras[0] for scene in scenes]
    assert [camera.name for camera in cameras] == ["place", "above", "through-1", "inside"]
    for camera in cameras[2:]:
        assert camera.eye[2] == pytest.approx(EYE_HEIGHT)
    low, high = room.floor.min(axis=0), room.floor.max(axis=0)
    assert not (low < cameras[2].eye[:2]).all() or not (cameras[2].eye[:2] < high).all()
    assert ((low < cameras[3].eye[:2]) & (cameras[3].eye[:2] < high)).all()


def test_an_eye_of_its_own_sees_what_it_looks_at_in_the_middle():
    cube = np.array([[x, y, z] for x in (0.0, 1.0) for y in (0.0, 1.0) for z in (0.0, 1.0)])
    solid = Solid("cube", cube, np.array([[0, 1, 3]]), "#808080")
    eye, target = np.array([4.0, -3.0, 2.0]), np.array([0.5, 0.5, 0.5])
    up = np.array([0.0, 0.0, 1.0])
    camera = Camera("c", eye - target, up, False, "c", eye=eye, angle=np.radians(40.0))
    view = aim(Scene("s", (solid,), (), (camera,)), camera, SIZE, parallel=False)
    assert view.project(target[None])[0] == pytest.approx([700.0, 450.0])
    edge = view.frame[:, 1] * np.linalg.norm(eye - target) * np.tan(np.radians(20.0))
    assert view.project((target + edge)[None])[0] == pytest.approx([700.0, 0.0], abs=1e-9)
    assert view.toward_eye(target[None])[0] == pytest.approx(eye - target)


def test_a_scene_with_an_eye_and_an_extent_is_read_back(tmp_path):
    eye = np.array([1.0, 2.0, 3.0])
    camera = Camera("c", np.ones(3), np.array([0.0, 0, 1]), False, "c", eye=eye, angle=0.5)
    save(Scene("s", (), (), (camera,), extent=np.eye(3)), tmp_path / "s.npz")
    again = load(tmp_path / "s.npz")
    assert again.cameras[0].eye.tolist() == eye.tolist()
    assert again.cameras[0].angle == 0.5
    assert again.extent.tolist() == np.eye(3).tolist()


def test_the_way_out_is_shown_step_by_step(judged):
    answer, room = judged
    route = answer.way.route
    steps = steps_of(route, corners_of(plan_outline(answer.standing)))
    count = len(steps)
    tiles = way_tiles(answer, room, steps, [f"step {k}" for k in range(count)], "mm")
    assert tiles[0].words == "parked"
    assert [t.words for t in tiles if t.words.startswith(f"{count}. ")]
    last = tiles[-1].scene.solids[0].points
    wanted = route.poses[-1].place(answer.standing.parts[0].points)
    np.testing.assert_allclose(last, wanted, atol=1e-9)
    halves = {aim(t.scene, t.scene.cameras[0], SIZE, parallel=False).half for t in tiles}
    assert len(halves) == 1


def test_a_strip_holds_its_pictures_row_by_row():
    blank = io.BytesIO()
    Image.new("RGB", (70, 45), "#336699").save(blank, "PNG")
    found = Image.open(io.BytesIO(strip("title", [(blank.getvalue(), "a"), (blank.getvalue(), "b"),
                                                  (blank.getvalue(), "c")])))  # fmt: skip
    assert found.size[0] > 2 * TILE[0]
    assert found.size[1] > 2 * TILE[1]
    blue = np.all(np.asarray(found.convert("RGB")) == (0x33, 0x66, 0x99), axis=2).sum()
    assert blue == pytest.approx(3 * TILE[0] * TILE[1], rel=0.02)

"""Scenes: what they refuse, their file, and how they are framed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.drawing.framing import GLASS, aim, axes, plates
from planform.drawing.scene import Scene, Solid, load, save
from tests.report.scenes import BOX, ball, box, camera, leader, shop

SIZE = (1400, 900)


def test_scene_survives_its_file(tmp_path):
    scene = replace(shop(), title='Böx & "<co>"')
    save(scene, tmp_path / "scene.npz")
    again = load(tmp_path / "scene.npz")
    assert again.title == scene.title
    for a, b in zip(again.solids, scene.solids, strict=True):
        assert (a.name, a.colour, a.opacity) == (b.name, b.colour, b.opacity)
        assert np.array_equal(a.points, b.points)
        assert np.array_equal(a.faces, b.faces)
    for a, b in zip(again.leaders, scene.leaders, strict=True):
        assert (a.label, a.colour, *a.start, *a.end) == (b.label, b.colour, *b.start, *b.end)
    for a, b in zip(again.cameras, scene.cameras, strict=True):
        assert (a.name, a.title, a.parallel) == (b.name, b.title, b.parallel)
        assert (*a.direction, *a.up) == (*b.direction, *b.up)


def test_file_is_named_as_asked_and_holds_no_objects(tmp_path):
    save(shop(), tmp_path / "scene")
    assert [p.name for p in tmp_path.iterdir()] == ["scene"]
    with np.load(tmp_path / "scene", allow_pickle=False) as arrays:
        assert all(arrays[name].dtype != object for name in arrays.files)


def test_file_that_cannot_be_whole_is_not_left(tmp_path, monkeypatch):
    def stop(file, **arrays):
        file.write(b"half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(np, "savez", stop)
    with pytest.raises(OSError, match="No space"):
        save(shop(), tmp_path / "scene.npz")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Solid("s", np.zeros((4, 2)), BOX, "#000000"), r"points with shape \(n, 3\)"),
        (lambda: Solid("s", np.full((8, 3), np.nan), BOX, "#000000"), "finite points"),
        (lambda: Solid("s", np.zeros((7, 3)), BOX, "#000000"), "numbered within 7 points"),
        (lambda: box("s", (0, 0, 0), (1, 1, 1), 'red"/>'), "#rrggbb"),
        (lambda: box("s", (0, 0, 0), (1, 1, 1), opacity=0.0), "opacity above 0"),
        (lambda: camera("../up"), "camera name"),
        (lambda: camera(direction=(0.0, 0.0, -2.0)), "up across the direction"),
        (lambda: leader((0, 0), (1, 1, 1)), r"start with shape \(3,\)"),
        (lambda: Scene("s", (), (), (camera("a"), camera("a"))), "different names"),
    ],
)
def test_what_cannot_be_drawn_is_refused(make, words):
    with pytest.raises(ValueError, match=words):
        make()


@given(
    st.tuples(*[st.floats(-5, 5)] * 3).filter(lambda d: abs(d[0]) + abs(d[1]) > 0.1),
    st.booleans(),
    st.floats(0.3, 3.0),
)
def test_everything_lies_in_the_picture_and_fills_it(direction, parallel, shape):
    """All points are within the margins, and two opposite margins are touched."""
    scene = Scene(
        "s", (ball("b", (3, -2, 1), (2.0, 0.4, 0.6)),), (leader((3, 0, 1), (3, 1, 1)),), ()
    )
    size = (1000, round(1000 / shape))
    seen = aim(scene, camera(direction=direction), size, parallel=parallel)
    points = seen.project(np.concatenate([scene.solids[0].points, [[3, 0, 1], [3, 1, 1]]]))
    share = points / size
    assert share.min() >= 0.07 - 1e-6
    assert share.max() <= 0.93 + 1e-6
    ends = np.sort([*share.min(axis=0), *(1.0 - share.max(axis=0))])
    assert ends[1] == pytest.approx(0.07, abs=1e-6)


def test_perspective_shows_near_things_larger():
    scene = shop()
    seen = aim(scene, camera(), SIZE, parallel=False)
    near, far = np.array([[-3.0, 0, 0], [-3, 0, 1]]), np.array([[3.0, 0, 0], [3, 0, 1]])
    length = [np.linalg.norm(np.diff(seen.project(p), axis=0)) for p in (near, far)]
    assert length[0] > 1.1 * length[1]


def test_axes_are_right_handed():
    for shot in shop().cameras:
        right, up, eye = axes(shot).T
        assert np.cross(right, up) == pytest.approx(eye)
        assert np.cross(eye, shot.direction) == pytest.approx(np.zeros(3))
        assert up @ shot.up > 0.0


def test_a_huge_room_does_not_make_the_aircraft_tiny():
    hall = box("room", (-50, -50, -1), (50, 50, 9), "#9aa5a8", 0.1)
    body = ball("body", (0, 0, 0), (2.0, 0.5, 0.5))
    assert hall.opacity < GLASS
    seen = aim(Scene("s", (hall, body), (), ()), camera(direction=(0, -1, 0)), SIZE, parallel=True)
    wide = np.ptp(seen.project(body.points)[:, 0]) / SIZE[0]
    assert 0.3 < wide < 0.86


def test_labels_stay_off_their_leaders_and_each_other():
    ends = np.array([[[700, 450], [700, 480]], [[720, 450], [790, 450]], [[5, 5], [9, 5]]], float)
    places = plates(ends, ["1 ft 1 in winglet / wall", "2 ft", "3 in door side"], SIZE)
    boxes = [(x, y, x + w, y + h) for x, y, w, h in places]
    lines = [(*pair.min(axis=0), *pair.max(axis=0)) for pair in ends]
    for k, (x0, y0, x1, y1) in enumerate(boxes):
        assert 0 <= x0 < x1 <= SIZE[0]
        assert 0 <= y0 < y1 <= SIZE[1]
        for a0, b0, a1, b1 in boxes[:k] + lines:
            assert x1 < a0 or a1 < x0 or y1 < b0 or b1 < y0

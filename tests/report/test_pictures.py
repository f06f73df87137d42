"""Pictures of a design's own scenes, and what happens where rendering dies."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import time
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.drawing import pictures
from planform.drawing.scene import Scene, save
from planform.drawing.scenes import aircraft_scene, room_scene
from planform.drawing.vector import scene_drawing
from planform.drawing.writers import svg
from planform.fit.straight import judge_straight
from tests.conftest import ROOT
from tests.report.scenes import shop


@pytest.fixture
def standing(plain):
    return pf.stand_all(pf.build(design_from(plain)))[0]


def test_vector_picture_is_sound_and_small(standing, room):
    built = pf.build_room(place_from(room))
    answer = judge_straight(standing, built)
    scene = room_scene(answer, built, "mm")
    text = svg.text(scene_drawing(scene, scene.cameras[0]))
    assert ET.fromstring(text).tag.endswith("svg")
    assert len(text) < 1_000_000
    assert answer.least.thing in text


def test_no_gl_asked_for_draws_vectors(standing, tmp_path, monkeypatch):
    monkeypatch.setenv("PLANFORM_NO_GL", "1")
    made = pictures.render(aircraft_scene(standing), tmp_path)
    assert made.how == "vector"
    assert "PLANFORM_NO_GL" in made.remark
    assert {p.suffix for p in made.files.values()} == {".svg"}


@pytest.fixture
def stand_in(tmp_path, monkeypatch):
    """Makes a script the python that renders; returns a function of the script's lines."""
    monkeypatch.delenv("PLANFORM_NO_GL", raising=False)

    def put(lines):
        fake = tmp_path / "python"
        fake.write_text(f"#!/bin/sh\n{lines}\n")
        fake.chmod(0o755)
        monkeypatch.setattr(sys, "executable", str(fake))
        out = tmp_path / "out"
        out.mkdir()
        return out

    return put


def assert_vector_only(made, out):
    """Nothing but whole vector pictures in the folder."""
    assert made.how == "vector"
    assert made.remark.count("\n") == 0
    assert sorted(p.name for p in out.iterdir()) == sorted(p.name for p in made.files.values())
    for path in made.files.values():
        assert ET.parse(path).getroot().tag.endswith("svg")


@pytest.mark.parametrize("end", ["kill -SEGV $$", "kill -KILL $$", "exit 1", "exit 0"])
def test_a_dying_renderer_leaves_vector_pictures(standing, stand_in, end):
    """A python that dies by a signal, fails, or makes nothing, stands in for the renderer."""
    out = stand_in(end)
    made = pictures.render(aircraft_scene(standing), out)
    assert_vector_only(made, out)
    assert "GL library" in made.remark
    assert "apt-get install libegl1 libgl1-mesa-dri" in made.remark
    assert "libosmesa6, with VTK_DEFAULT_OPENGL_WINDOW=vtkOSOpenGLRenderWindow" in made.remark


def test_a_renderer_that_dies_half_way_leaves_no_png(stand_in):
    """$5 is the child's folder: -P -m planform_viewer SCENE FOLDER --size 1400x900."""
    out = stand_in('echo half > "$5/corner.png"\nkill -SEGV $$')
    assert_vector_only(pictures.render(shop(), out), out)


def test_osmesa_is_tried_before_giving_up(stand_in):
    out = stand_in(
        '[ "$VTK_DEFAULT_OPENGL_WINDOW" = vtkOSOpenGLRenderWindow ] || kill -SEGV $$\n'
        'for name in corner above; do echo picture > "$5/$name.png"; done'
    )
    made = pictures.render(shop(), out)
    assert (made.how, made.remark) == ("rendered", None)
    assert {p.name: p.read_text() for p in out.iterdir()} == {
        "corner.png": "picture\n",
        "above.png": "picture\n",
    }


def test_a_missing_pyvista_is_named(stand_in):
    out = stand_in(f"exit {pictures.NO_VIEWER}")
    made = pictures.render(shop(), out)
    assert_vector_only(made, out)
    assert "pip install pyvista" in made.remark


def test_a_renderer_that_hangs_is_ended(stand_in, monkeypatch):
    out = stand_in("exec sleep 60")
    monkeypatch.setattr(pictures, "LONGEST", 0.3)
    start = time.monotonic()
    run = pictures.start(shop(), out)
    made = run.finish()
    assert time.monotonic() - start < 10.0
    assert run.child.returncode is not None
    assert_vector_only(made, out)
    assert "longer" in made.remark


def test_no_python_at_all(tmp_path, monkeypatch):
    monkeypatch.delenv("PLANFORM_NO_GL", raising=False)
    monkeypatch.setattr(sys, "executable", "")
    made = pictures.render(shop(), tmp_path / "out")
    assert_vector_only(made, tmp_path / "out")


def test_a_run_given_up_ends_its_child(stand_in):
    out = stand_in("exec sleep 60")
    run = pictures.start(shop(), out)
    child, workshop = run.child, run.out.parent
    assert workshop.exists()
    del run
    gc.collect()
    assert child.returncode is not None
    assert not workshop.exists()
    assert list(out.iterdir()) == []


def test_cameras_of_one_name_are_refused(tmp_path):
    with pytest.raises(ValueError, match="different names"):
        pictures.start((shop(), shop()), tmp_path)


def viewer(*words, **env):
    """Run the viewer as a user does; returns code and stderr."""
    paths = os.pathsep.join([str(ROOT), str(ROOT / "viewer")])
    done = subprocess.run(
        [sys.executable, "-m", "planform_viewer", *map(str, words)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env={**os.environ, "PYTHONPATH": paths, **env},
    )
    return done.returncode, done.stderr


def test_viewer_says_in_one_line_what_is_wrong(tmp_path):
    (tmp_path / "bad.npz").write_bytes(b"not a scene")
    for given in ("bad.npz", "absent.npz"):
        code, err = viewer(tmp_path / given, tmp_path / "out")
        assert code == 2
        assert err.startswith("planform_viewer: not a scene")
        assert err.count("\n") == 1
    save(shop(), tmp_path / "scene.npz")
    code, err = viewer(tmp_path / "scene.npz", tmp_path / "out", "--size", "wide")
    assert code == 2
    assert "1400x900" in err
    assert not (tmp_path / "out").exists()


def test_viewer_keeps_the_noise_of_the_libraries(tmp_path):
    """No X server answers here; if the rendering works, stderr is empty all the same."""
    save(shop(), tmp_path / "scene.npz")
    code, err = viewer(tmp_path / "scene.npz", tmp_path / "out", "--size", "320x240", DISPLAY=":97")
    if code < 0:
        pytest.skip("no GL library on this machine")
    assert (code, err) == (0, "")
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["above.png", "corner.png"]


def test_rendered_where_it_can_be(tmp_path, monkeypatch):
    """PNG pictures that differ from one another and show the scene's own colours."""
    monkeypatch.delenv("PLANFORM_NO_GL", raising=False)
    scene = shop()
    made = pictures.render(
        Scene(scene.title, scene.solids[1:], (), scene.cameras), tmp_path, (320, 240)
    )
    if made.how == "vector":
        pytest.skip(made.remark)
    from PIL import Image

    shots = {name: np.asarray(Image.open(path).convert("RGB")) for name, path in made.files.items()}
    assert {s.shape for s in shots.values()} == {(240, 320, 3)}
    assert not np.array_equal(shots["corner"], shots["above"])
    for shot in shots.values():
        cream = shot[..., 0].astype(int) - shot[..., 2] > 8
        assert 0.01 < cream.mean() < 0.6
    assert sorted(p.name for p in tmp_path.iterdir()) == ["above.png", "corner.png"]

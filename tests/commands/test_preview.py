"""The preview command: one file by its ending, or a folder of all; refusals write nothing."""

from __future__ import annotations

import pytest

from tests.commands.test_commands import called
from tests.conftest import DESIGNS

QUILLWORT = DESIGNS / "quillwort.toml"


POD = ("--stage", "pod on its wheels")
"""A stage of few facets: its pictures are drawn soon."""
BEGIN = {
    "3mf": b"PK\x03\x04", "GLB": b"glTF", "obj": b"# Qu", "step": b"ISO-", "stl": b"plan",
    "png": b"\x89PNG",
}  # fmt: skip


@pytest.mark.parametrize("ending", BEGIN)
def test_one_file_by_its_ending(tmp_path, ending):
    path = tmp_path / "new" / f"m.{ending}"
    code, out, err = called("preview", QUILLWORT, "-o", path, *POD)
    assert code == 0
    assert f"pod on its wheels, kneeling: wrote {path}" in out
    assert ("Vector pictures were drawn instead" in err) == (ending == "png")
    assert [one.name for one in path.parent.iterdir()] == [path.name]
    first = path.read_bytes()
    assert first[:4] == BEGIN[ending]
    if ending == "png":
        assert "from ahead on the left" in out
    else:
        assert called("preview", QUILLWORT, "-o", path, *POD)[0] == 0
        assert path.read_bytes() == first


def test_views_and_axes(tmp_path):
    files = {
        "b.svg": ["--view", "above"],
        "a.obj": [], "b.obj": ["--axes", "floor"], "c.obj": ["--axes", "aircraft"],
    }  # fmt: skip
    for name, more in files.items():
        assert called("preview", QUILLWORT, "-o", tmp_path / name, *POD, *more)[0] == 0
    held = {name: (tmp_path / name).read_text(encoding="utf-8") for name in files}
    assert "from above" in held["b.svg"]
    assert held["a.obj"] == held["c.obj"] != held["b.obj"]


@pytest.mark.parametrize(("words", "told"), [
    (["-o", "x.xyz"], "x.xyz; allowed: .png, .svg, .3mf, .glb, .obj, .step, .stl; a name without"),
    (["-o", "x.stl", "--stage", "cmplete"], "no such name; names: 'pod on its wheels'"),
    (["-o", "x.stl", "--stance", "nowhere"], "stance: given 'nowhere'"),
    (["-o", "x.stl", "--axes", "body"], "--axes: given 'body'; allowed: aircraft, floor"),
    (["-o", "x.png", "--axes", "floor"], "this is for solids, leave it out"),
    (["-o", "x.png", "--view", "below"], "allowed: three-quarter, side, front, above"),
    (["-o", "x.stl", "--view", "side"], "this is for one picture"),
    (["-o", "x", "--view", "side"], "this is for one picture"),
    (["-o", "x.stl", "--curved"], "--curved: this is for one .step file; name it with -o"),
    (["-o", "x", "--curved"], "--curved: this is for one .step file; name it with -o"),
    (["-o", "/proc/planform/x.step"], "this file cannot be written"),
])  # fmt: skip
def test_preview_refuses_in_a_sentence_and_writes_nothing(tmp_path, monkeypatch, words, told):
    monkeypatch.chdir(tmp_path)
    code, out, err = called("preview", QUILLWORT, *words)
    assert (code, out) == (2, "")
    assert told in err
    assert not [*tmp_path.iterdir()]


def test_preview_leaves_a_folder_of_that_name_alone(tmp_path):
    (tmp_path / "x.stl").mkdir()
    code, _, err = called("preview", QUILLWORT, "-o", tmp_path / "x.stl")
    assert code == 2
    assert "this is a folder; name a file" in err
    assert not [*(tmp_path / "x.stl").iterdir()]


def test_curved_faces_without_their_package_are_refused_in_a_sentence(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("planform.cli.previewing.find_spec", lambda name: None)
    code, out, err = called("preview", QUILLWORT, "-o", "x.step", "--curved")
    assert (code, out) == (2, "")
    assert "--curved: this needs an optional package" in err
    assert "pip install 'planform[step]'" in err
    assert not [*tmp_path.iterdir()]


def test_curved_faces_by_the_command(tmp_path):
    pytest.importorskip("OCP", reason="curved STEP needs the optional extra planform[step]")
    path = tmp_path / "x.step"
    code, out, _ = called("preview", QUILLWORT, "-o", path, *POD, "--curved")
    assert code == 0
    assert "curved faces (AP242), millimetres; plane facets: canopy" in out
    assert b"AP242_MANAGED_MODEL_BASED_3D_ENGINEERING" in path.read_bytes()[:900]

"""The view command: a folder of stills, no window without a display, and what cannot be."""

from __future__ import annotations

from planform.report.swap import RECORD
from tests.commands.test_commands import called
from tests.conftest import DESIGNS

QUILLWORT, SHED = str(DESIGNS / "quillwort.toml"), str(DESIGNS / "garden-shed.toml")


def test_a_folder_of_stills(tmp_path):
    words = ("view", QUILLWORT, SHED, "--stage", "pod on its wheels", "-o", tmp_path / "out")
    code, out, err = called(*words)
    assert (code, err) == (0, "")
    names = {path.name for path in (tmp_path / "out").iterdir()} - {RECORD}
    single = ("place", "above", "through-1", "inside", "heights", "heights-ahead")
    assert names == {*(f"{one}.svg" for one in single), "stages.png", "way.png"}
    assert "PLANFORM_NO_GL" in out  # told why they are drawn


def test_without_a_place_there_is_no_room(tmp_path):
    code, _, _ = called("view", QUILLWORT, "-o", tmp_path / "out", "--show", "heights")
    assert code == 0
    names = {path.name for path in (tmp_path / "out").iterdir()} - {RECORD}
    assert names == {"heights.svg", "heights-ahead.svg"}


def test_what_cannot_be_is_told(tmp_path, monkeypatch):
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    for words, told in (
        ((QUILLWORT,), "no display here"),
        ((QUILLWORT, "-o", tmp_path / "o", "--show", "roof"), "names: room, heights, stages, way"),
        ((QUILLWORT, "-o", tmp_path / "o", "--show", "way"), "name a place file"),
        ((QUILLWORT, "-o", tmp_path / "o", "--spot", "bay"), "name a place file"),
        ((QUILLWORT, SHED, "-o", tmp_path / "o", "--stage", "complet"), "did you mean"),
    ):
        code, _, err = called("view", *words)
        assert code == 2, words
        assert told in err
        assert not (tmp_path / "o").exists()


def test_a_display_that_does_not_answer_is_told(monkeypatch):
    monkeypatch.setenv("DISPLAY", ":97")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    code, _, err = called("view", QUILLWORT)
    assert code == 2
    assert "the window could not be opened" in err
    assert "name a folder with -o" in err

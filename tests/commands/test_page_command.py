"""The page command: one file, and what cannot be in one sentence."""

from __future__ import annotations

import json
import re

import pytest

from tests.commands.test_commands import called
from tests.conftest import DESIGNS

QUILLWORT, SHED = str(DESIGNS / "quillwort.toml"), str(DESIGNS / "garden-shed.toml")


def look_in(path):
    text = path.read_text(encoding="utf-8")
    return json.loads(re.search(r'id="look">(.*?)</script>', text, re.S)[1])


def test_one_stage_in_a_place(tmp_path):
    target = tmp_path / "page.html"
    words = (QUILLWORT, SHED, "--stage", "pod on its wheels", "--units", "in", "-o", target)
    code, out, err = called("page", *words)
    assert (code, err) == (0, "")
    assert "needs no network" in out
    look = look_in(target)
    assert [stage["stage"] for stage in look["stages"]] == ["pod on its wheels"]
    assert look["units"] == "in"
    assert look["stages"][0]["verdict"]["word"] == "fits"
    assert list(tmp_path.iterdir()) == [target]


def test_every_stage_without_a_place(tmp_path):
    code, _, _ = called("page", QUILLWORT, "-o", tmp_path / "p.htm")
    assert code == 0
    assert len(look_in(tmp_path / "p.htm")["stages"]) == 3


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("-o", "page.pdf"), "ends in .html"),
        (("-o", "folder.html"), "this is a folder"),
        (("-o", "p.html", "--stage", "complet"), "did you mean"),
        (("-o", "p.html", "--stance", "geer"), "did you mean"),
        (("-o", "p.html", "--spot", "bay"), "name a place file"),
        (("-o", "p.html", "--workers", "0"), "--workers"),
        (("-o", "p.html", "--units", "feet"), "allowed"),
        (("-o", "/proc/p.html"), "cannot be written"),
    ],
)
def test_what_cannot_be_is_told(tmp_path, monkeypatch, words, told):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder.html").mkdir()
    code, _, err = called("page", QUILLWORT, *words)
    assert code == 2
    assert told in err
    assert [path.name for path in tmp_path.iterdir()] == ["folder.html"]

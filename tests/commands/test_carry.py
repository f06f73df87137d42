"""The command for a part carried out by hand, run as a user runs it."""

from __future__ import annotations

import json

from tests.commands.test_commands import DESIGNS, run

MARRAM, SHED = str(DESIGNS / "marram.toml"), str(DESIGNS / "boatshed.toml")


def test_table_curve_and_pictures(tmp_path):
    words = ("--part", "left wing", "--part", "left outer panel")
    code, out, _ = run("carry", MARRAM, SHED, *words, "-o", tmp_path / "out")
    assert code == 0
    assert "left wing and left outer panel, carried out" in out
    assert "sliding door" in out
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == {
        "carry.csv", "carry.html", "carry.json", "door-1.png", "door-1.svg",
        "least-opening.png", "least-opening.svg", "roll.svg",
    }  # fmt: skip
    answer = json.loads((tmp_path / "out" / "carry.json").read_text())
    assert len(answer["curve"]) == 36
    assert answer["doors"][0]["answer"] == "passes"


def test_wrong_parts_are_one_message(tmp_path):
    code, out, err = run("carry", MARRAM, "--part", "canpy", "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert "did you mean 'canopy'" in err
    assert not (tmp_path / "out").exists()
    code, _, err = run("carry", MARRAM)
    assert code == 2
    assert "--part: given none; allowed: wing" in err

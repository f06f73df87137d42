"""The command for a part carried out by hand, run as a user runs it."""

from __future__ import annotations

import json
import re

from tests.commands.test_commands import DESIGNS, called, names_in

MARRAM, SHED = str(DESIGNS / "marram.toml"), str(DESIGNS / "boatshed.toml")


def test_table_curve_and_pictures(tmp_path):
    words = ("--part", "left wing + left outer panel")
    code, out, _ = called("carry", MARRAM, SHED, *words, "-o", tmp_path / "out")
    assert code == 0
    assert "left wing and left outer panel, carried out" in out
    assert "sliding door" in out
    names = names_in(tmp_path / "out")
    assert names == {
        "carry.csv", "carry.html", "carry.json", "door-1.png", "door-1.svg",
        "least-opening.png", "least-opening.svg", "roll.svg",
    }  # fmt: skip
    answer = json.loads((tmp_path / "out" / "carry.json").read_text())
    assert len(answer["curve"]) == 36
    assert answer["doors"][0]["answer"] == "passes"


def test_a_door_inside_the_tolerances_is_told(tmp_path):
    words = ("--part", "left outer panel + left winglet")
    _, out, _ = called("carry", MARRAM, "--json", *words)
    wide, high = (v["value"] for v in json.loads(out)["ways"][0]["least_opening"])
    shed = tmp_path / "shed.toml"
    text = (DESIGNS / "garden-shed.toml").read_text()
    clear = f'clear_width = "{wide + 0.002:.4f} m ± 5 mm (measured)"'
    text = re.sub("clear_width = .*", clear, text)
    shed.write_text(re.sub("clear_height = .*", f'clear_height = "{high + 0.01:.4f} m"', text))
    code, out, _ = called("carry", MARRAM, shed, *words, "--json")
    (door,) = json.loads(out)["doors"]
    assert code == 0
    assert door["inside_tolerance"]
    assert 0.0 <= door["to_spare_a_side"]["value"] < door["tolerance"]["worst_case"]
    called("carry", MARRAM, shed, *words, "-o", tmp_path / "out")
    assert "than is wanted; tolerances may turn it" in (tmp_path / "out" / "carry.html").read_text()


def test_wrong_parts_are_one_message(tmp_path):
    code, out, err = called("carry", MARRAM, "--part", "canpy", "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert "did you mean 'canopy'" in err
    assert not (tmp_path / "out").exists()
    code, _, err = called("carry", MARRAM)
    assert code == 2
    assert "--part: given none; allowed: wing" in err


def test_several_pieces_are_told_how_to_be_joined():
    code, out, err = called("carry", MARRAM, "--part", "left wing", "--part", "left winglet")
    assert (code, out) == (2, "")
    assert "--part: given 2 pieces; allowed: one piece" in err
    assert "--part 'left wing + left winglet'" in err

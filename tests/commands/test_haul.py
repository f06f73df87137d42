"""The command that loads parts on a carrier, run as a user runs it."""

from __future__ import annotations

import json

from tests.commands.test_commands import DESIGNS, called, names_in

MARRAM, TRAILER = str(DESIGNS / "marram.toml"), str(DESIGNS / "flat-trailer.toml")
PIECES = ("--part", "left outer panel+left winglet", "--part", "foreplane")


def test_places_limits_and_drawings(tmp_path):
    code, out, _ = called("haul", MARRAM, TRAILER, *PIECES, "-o", tmp_path / "out")
    assert code == 0
    assert "a place for each piece was found and checked" in out
    assert "load on the hitch, most" in out
    names = names_in(tmp_path / "out")
    assert names == {
        "haul.csv", "haul.html", "haul.json", "plan.png", "plan.svg", "side.png", "side.svg",
    }  # fmt: skip
    answer = json.loads((tmp_path / "out" / "haul.json").read_text())
    assert answer["verdict"] == "fits"
    assert len(answer["places"]) == 2


def test_wrong_input_is_one_message(tmp_path):
    for words, told in (
        ((MARRAM, TRAILER, "--part", "canpy"), "did you mean 'canopy'"),
        ((MARRAM, MARRAM, "--part", "canopy"), "a carrier file is wanted here"),
        ((MARRAM, TRAILER), "--part: given none"),
    ):
        code, out, err = called("haul", *words, "-o", tmp_path / "out")
        assert (code, out) == (2, "")
        assert told in err
        assert not (tmp_path / "out").exists()


def test_check_takes_a_carrier():
    code, out, _ = called("check", TRAILER)
    assert code == 0
    assert "good" in out

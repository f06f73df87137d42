"""The command that packs several aircraft, run as a user runs it."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest

from tests.commands.test_commands import DESIGNS, called, names_in

HALL, BARN = str(DESIGNS / "long-hall.toml"), str(DESIGNS / "barn.toml")
MARRAM, QUILLWORT = str(DESIGNS / "marram.toml"), str(DESIGNS / "quillwort.toml")


def test_two_go_in_with_one_surface_over_another(tmp_path):
    words = ("--gap", "3 in", "--over", "2 in", "--json", "-o", tmp_path / "out")
    code, out, err = called("pack", HALL, MARRAM, QUILLWORT, *words)
    answer = json.loads(out)
    assert code == 0
    assert answer["answer"].startswith("found and proved")
    assert [one["name"] for one in answer["order_in"]] == ["Marram", "Quillwort 2"]
    assert answer["between"][0]["over"]
    assert len(answer["flat_tyres"]) == 6
    said = err.splitlines()
    assert "Marram, place 1" in said
    assert all(one != other for one, other in pairwise(said))
    names = names_in(tmp_path / "out")
    assert names >= {"packing.html", "packing.json", "plan.svg", "plan.png", "1-marram"}
    own = names_in(tmp_path / "out" / "2-quillwort-2")
    assert own >= {"route.html", "helpers-card.html", "floor-marks.csv", "roll-out.gif"}


def test_an_earlier_stage_is_packed_as_it_stands():
    words = ("--stage", "Marram: engine hung, canopy up", "--gap", "3 in", "--over", "2 in")
    code, out, _ = called("pack", HALL, MARRAM, *words, "--json")
    (one,) = json.loads(out)["order_in"]
    assert code == 0
    assert (one["stage"], one["stance"]) == ("engine hung, canopy up", "dolly")


def test_too_much_is_not_found(tmp_path):
    code, out, _ = called("pack", str(DESIGNS / "garden-shed.toml"), MARRAM, "--gap", "3 in")
    assert code == 1
    assert "cannot be" in out or "not found" in out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((HALL, QUILLWORT, "--gap", "0 in"), "allowed: more than zero, as '6 in'"),
        ((HALL, QUILLWORT, "--gap", "-1 in"), "--gap"),
        ((HALL, QUILLWORT, "--over", "2"), "no unit"),
        ((HALL, *([QUILLWORT] * 7)), "allowed: up to 6"),
        ((HALL, QUILLWORT, "--stage", "complete"), "an aircraft and its stage"),
        ((HALL, QUILLWORT, "--stage", "Marram: complete"), "names: Quillwort 2"),
        ((HALL, QUILLWORT, "--stage", "Quillwort 2: hull"), "no such name"),
        ((HALL, MARRAM, *(2 * ("--stage", "Marram: complete"))), "one stage for each aircraft"),
        ((HALL, HALL), "long-hall.toml"),
        ((HALL, QUILLWORT, "--units", "yards"), "allowed: ft-in"),
    ],
)
def test_wrong_input_is_one_message(words, told, tmp_path):
    code, out, err = called("pack", *words, "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert told in err
    assert not (tmp_path / "out").exists()

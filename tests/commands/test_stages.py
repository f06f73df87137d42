"""Several places at once, guidance and tolerances, as the commands tell them.

Each stage is judged once in each place, and the commands print what was found in all their ways.
"""

from __future__ import annotations

import json
from functools import cache

import pytest

from planform.design import load as reading
from planform.study import side_by_side
from tests.commands.test_commands import MARRAM, SHED, called

HALL = """
format = "planform place 1"
name = "Hall"
units = "m"
floor = { width = "20 m", depth = "14 m" }
ceiling = { height = "6 m" }
clearances = { walls = "0.1 m", ceiling = "0.1 m", door_sides = "0.1 m", door_head = "0.1 m" }
[[doors]]
name = "door"
wall = "front"
from_corner = "2 m"
clear_width = "16 m"
clear_height = "4 m"
[[spots]]
name = "middle"
at = ["10 m", "6 m"]
heading = "180 deg"
"""


@pytest.fixture(scope="module", autouse=True)
def _judged_once():
    found = {}
    in_parts = side_by_side.answer_in_parts

    def once(standing, room, spot=None):
        key = (standing.title, room.place.name, spot)
        if key not in found:
            found[key] = list(in_parts(standing, room, spot))
        return iter(found[key])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(side_by_side, "answer_in_parts", once)
        patch.setattr(side_by_side, "WORTH", float("inf"))  # what is kept is kept here
        patch.setattr(reading, "load", cache(reading.load))  # the same stages every time
        yield


@pytest.fixture
def hall(tmp_path):
    """A place that everything comes out of with one push."""
    path = tmp_path / "hall.toml"
    path.write_text(HALL)
    return path


def test_fit_tells_the_four_stages_apart():
    code, out, _ = called("fit", MARRAM, SHED, "--stage", "all", "--json")
    answer = json.loads(out)
    assert code == 1
    assert [s["verdict"] for s in answer["stages"]] == [
        "fits",
        "fits",
        "fits only with care",
        "does not fit",
    ]
    assert answer["last_chances"][0]["last_stage_that_comes_out"] == "engine hung, canopy up"
    code, out, _ = called("fit", MARRAM, SHED, "--stage", "hull on its wheels")
    assert (code, "LAST CHANCE" in out) == (0, False)


def test_every_stage_in_two_places_and_the_last_chance(hall):
    code, out, _ = called("fit", MARRAM, SHED, hall, "--stage", "all")
    assert code == 1
    assert "LAST CHANCE is “engine hung, canopy up”. Take it out before “complete”" in out
    assert "Hall: comes out at the last stage" in out
    assert "[for good: outer panels and" in out
    assert out.count("LAST CHANCE") == 2  # in its cell, and as the sentence
    code, out, _ = called("fit", MARRAM, hall, SHED, "--json", "--stage", "all")
    answer = json.loads(out)
    assert (code, answer["answer"]) == (1, "stages")
    last = answer["stages"][3]
    assert last["permanent"] == "outer panels and winglets bonded on"
    doors = [cell["out"] for cell in last["places"]]
    assert [door["verdict"] for door in doors] == ["fits", "does not fit"]
    assert doors[1]["check"] == "way out"
    assert doors[1]["gap"]["value"] < 0.0
    large, shed = answer["last_chances"]
    assert large["no_longer_out_from"] is None
    assert shed["last_stage_that_comes_out"] == "engine hung, canopy up"
    assert shed["before_the_step_to"] == "complete"


def test_without_a_stage_the_complete_aircraft_is_told_in_each_place(hall):
    code, out, _ = called("fit", MARRAM, SHED, hall)
    assert code == 1
    assert "complete, gear" in out
    assert "engine hung" not in out
    assert "LAST CHANCE" not in out  # that is of all stages
    assert "taken: stage: “complete”, with every part on" in out
    assert "--stage all shows all 4" in out


def test_what_goes_with_one_place_only_is_refused_with_several(hall):
    code, out, err = called("fit", MARRAM, SHED, hall, "--spot", "bay", "--stance", "gear")
    assert (code, out) == (2, "")
    assert "--stance: given 'gear'; allowed with one place" in err
    assert "--spot" in err
    code, _, err = called("fit", MARRAM, SHED, SHED)
    assert code == 2
    assert "each place once" in err


def test_fit_tells_worst_case_99_per_cent_and_what_to_measure_next():
    _, out, _ = called("fit", MARRAM, SHED, "--stage", "engine hung, canopy up")
    assert "99 %" in out
    assert "Measure next, for “to things that hang or stand”: bottom of “chain hoist”" in out
    _, out, _ = called("fit", MARRAM, SHED, "--stage", "engine hung, canopy up", "--json")
    stage = json.loads(out)["stages"][0]
    check = next(c for c in stage["checks"] if c["key"] == "obstacle")
    band = check["tolerance"]
    assert 0.0 < band["within_99"] < band["worst_case"]
    assert band["could_turn"]
    built = band["worst_corner_built_again"]["gap"]["value"]
    assert abs(check["gap"]["value"] - band["worst_case"] - built) < 1e-9
    first = stage["measure_next"]["checks"][0]["readings"][0]
    assert first["input"] == "Boat shed: obstacles[1].bottom"
    assert first["worst_case"]["value"] < band["worst_case"]


@pytest.mark.parametrize("command", ["measure", "balance"])
@pytest.mark.parametrize("also", [(), ("--stage", "all")])
def test_a_stage_that_is_not_there_is_refused_beside_all_too(command, also):
    code, out, err = called(command, MARRAM, *also, "--stage", "nix")
    assert (code, out) == (2, "")
    assert "nix" in err

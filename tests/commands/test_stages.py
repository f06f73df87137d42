"""Several places at once, guidance and tolerances, through the real command."""

from __future__ import annotations

import json

from tests.commands.test_commands import MARRAM, SHED, called, run
from tests.conftest import DESIGNS

BARN = str(DESIGNS / "barn.toml")


def test_every_stage_in_two_places_and_the_last_chance():
    code, out, _ = run("fit", MARRAM, SHED, BARN)
    assert code == 1
    assert "LAST CHANCE is “engine hung, canopy up”. Take it out before “complete”" in out
    assert "Barn: comes out at the last stage" in out
    assert "[for good: outer panels and" in out
    assert out.count("LAST CHANCE to come out") == 1
    code, out, _ = run("fit", MARRAM, BARN, SHED, "--json")
    answer = json.loads(out)
    assert (code, answer["answer"]) == (1, "stages")
    last = answer["stages"][2]
    assert last["permanent"] == "outer panels and winglets bonded on"
    doors = [cell["out"] for cell in last["places"]]
    assert [door["verdict"] for door in doors] == ["fits", "does not fit"]
    assert doors[1]["check"] == "way out"
    assert doors[1]["gap"]["value"] < 0.0
    barn, shed = answer["last_chances"]
    assert barn["no_longer_out_from"] is None
    assert shed["last_stage_that_comes_out"] == "engine hung, canopy up"
    assert shed["before_the_step_to"] == "complete"


def test_what_goes_with_one_place_only_is_refused_with_several():
    code, out, err = called("fit", MARRAM, SHED, BARN, "--spot", "bay", "--stage", "complete")
    assert (code, out) == (2, "")
    assert "--stage: given 'complete'; allowed with one place" in err
    assert "--spot" in err
    code, _, err = called("fit", MARRAM, SHED, SHED)
    assert code == 2
    assert "each place once" in err


def test_fit_tells_worst_case_99_per_cent_and_what_to_measure_next():
    _, out, _ = run("fit", MARRAM, SHED, "--stage", "engine hung, canopy up")
    assert "99 %" in out
    assert "Measure next, for “to things that hang or stand”: Boat shed: obstacles[1].bottom" in out
    _, out, _ = run("fit", MARRAM, SHED, "--stage", "engine hung, canopy up", "--json")
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

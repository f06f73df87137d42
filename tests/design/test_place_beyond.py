"""What reaches where it cannot be is asked about or refused: through walls, past a wall's end."""

from __future__ import annotations

from typing import Any

import pytest

from planform.design.load import load_place, place_from
from planform.design.place_beyond import beyond
from planform.design.problems import InputError
from tests.conftest import DESIGNS

DOOR = {"name": "door", "wall": "front", "from_corner": "1 m", "clear_width": "6 m",
        "clear_height": "3 m", "nominal_width": "6.2 m"}  # fmt: skip
BENCH = {"name": "bench", "kind": "standing", "top": "1 m",
         "outline": [["1 m", "1 m"], ["3 m", "1 m"], ["3 m", "2 m"], ["1 m", "2 m"]]}  # fmt: skip
LEAF = {"thickness": "50 mm", "height": "3 m"}


def place(door: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    return {
        "format": "planform place 1", "name": "Hall", "units": "m",
        "floor": {"width": "14 m", "depth": "12 m", "wall_thickness": "20 cm"},
        "ceiling": {"height": "4 m"}, "doors": [DOOR | (door or {})],
    } | more  # fmt: skip


def floor(**more: Any) -> dict[str, Any]:
    return {"floor": {"width": "14 m", "depth": "12 m", "wall_thickness": "20 cm"} | more}


def sliding(beside: str, width: str, face: str = "inside") -> dict[str, Any]:
    return {"sliding": [LEAF | {"beside": beside, "face": face, "width": width}]}


OUTSIDE = {"power_lines": [{"name": "drop", "line": [["-9 m", "-9 m"], ["20 m", "-9 m"]],
                            "height": "7 m", "voltage": "up to 50 kV"}]}  # fmt: skip

ASKED = [
    (place(**floor(pits=[{"name": "pit", "outline": [["2 m", "2 m"], ["17 m", "2 m"],
                                                     ["2 m", "4 m"]]}])),
     "pit 'pit': it reaches 3.000 m past the inner wall line"),
    (place(cars=[{"name": "van", "at": ["13 m", "5 m"], "heading": "90 deg", "length": "4 m",
                  "width": "2 m", "height": "2 m"}]), "car 'van': it reaches 1.000 m past"),
    (place(obstacles=[BENCH | {"rows": [{"step": ["3 m", "0 m"], "count": 5}]}]),
     "obstacle 'bench': it reaches 1.000 m past"),
    # looking out of the front door, its left is toward the wall's far end: 14 - 1 - 6 = 7 m
    (place(sliding("left", "7.5 m")), "its left leaf stands 7.5 m wide beside the opening, 0.5"),
    (place(sliding("right", "1.5 m")), "its right leaf stands 1.5 m wide beside the opening, 0.5"),
    (place({"hinged": [LEAF | {"hinge": h, "swings": "outside", "open": "90 deg", "width": "4 m"}
                       for h in ("left", "right")]}), "its hinged leaves are 8.000 m wide"),
    (place(outside={"power_lines": [OUTSIDE["power_lines"][0] | {"distance": "2 m"}]}),
     "power line 'drop': 2 m is given and kept, under the 3.048 m of 29 CFR 1926.1408"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "words"), ASKED)
def test_it_is_asked_about(table, words):
    (question,) = beyond(place_from(table))
    assert words in question


GOOD = [
    place(**floor(drains=[{"name": "gully", "line": [["2 m", "2 m"], ["2 m", "-3 m"]],
                           "width": "5 cm"}])),  # it may lead out of the door
    place(hoists=[{"name": "rail", "line": [["1 m", "5 m"], ["1 m", "-2 m"]], "width": "10 cm",
                   "bottom": "3 m"}]),
    place(obstacles=[BENCH], outside=OUTSIDE),
    place(obstacles=[{"name": "post", "kind": "standing", "top": "1 m",
                      "centre": ["-10 cm", "5 m"], "diameter": "1 m"}]),
    place(sliding("left", "7 m")), place(sliding("left", "7.5 m", "outside")),
    place(sliding("right", "1 m")),
    place({"hinged": [LEAF | {"hinge": "left", "swings": "inside", "open": "90 deg",
                              "width": "6.2 m"}]}),
]  # fmt: skip


@pytest.mark.parametrize("table", GOOD)
def test_what_stands_in_the_room_is_not_asked_about(table):
    assert list(beyond(place_from(table))) == []


def test_no_demo_place_is_asked_about():
    for name in ("barn", "boatshed", "creamery", "garden-shed", "long-hall"):
        assert list(beyond(load_place(DESIGNS / f"{name}.toml"))) == []


HINGED = LEAF | {"swings": "outside", "open": "90 deg", "width": "3 m", "hinge": "left"}

REFUSED = [
    (place({"hinged": [HINGED, HINGED]}), "hinged[2].hinge: given 'left'; allowed: one leaf"),
    (place({"strip_curtain": {"lower_end": "3 m"}}),
     "strip_curtain.lower_end: given '3 m'; allowed: under the clear height (3 m)"),
    (place(obstacles=[BENCH | {"bottom": "0.9 m", "legs": "0.6 m"}]),
     "obstacles[1].legs: given '0.6 m'; allowed: at most half its plan's lesser side, 0.5"),
    (place(obstacles=[{"name": "lamp", "kind": "hanging", "centre": ["3 m", "3 m"],
                       "diameter": "30 cm"}]),
     "obstacles[1].bottom: given nothing; a hanging thing needs its bottom height, or a drop"),
    (place(obstacles=[BENCH | {"top": "0 m"}]), "obstacles[1].top: given '0 m'"),
    (place(obstacles=[BENCH | {"top": "0 m", "incline": {"toward": "back", "top": "0 m"}}]),
     "obstacles[1].incline.top: given '0 m'; allowed: a top (0 m) above the bottom"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "words"), REFUSED)
def test_it_is_refused(table, words):
    with pytest.raises(InputError) as error:
        place_from(table)
    assert words in str(error.value)


@pytest.mark.parametrize(("top", "end"), [("0 m", "2 m"), ("2 m", "0 m"), ("0", "2 m")])
def test_stairs_that_begin_on_the_floor_are_right(top, end):
    from planform.fit.room import build_room

    stairs = BENCH | {"top": top, "incline": {"toward": "back", "top": end}}
    room = build_room(place_from(place(obstacles=[stairs])))
    pieces = [t for t in room.fixed if t.name == "bench"]
    assert max(t.high for t in pieces) == pytest.approx(2.0)
    assert min(t.high for t in pieces) == pytest.approx(2.0 / len(pieces))

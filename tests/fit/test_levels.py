"""Levels of a floor and ramps between them: parked, on their own floor, and over a ramp."""

from __future__ import annotations

import copy
import math
from functools import cache

import numpy as np
import pytest
import trimesh

from planform.airframe.build import build
from planform.airframe.raised import raised
from planform.airframe.stance import stand_on
from planform.design.load import place_from
from planform.design.models import Design
from planform.design.problems import InputError
from planform.design.questions import place_questions
from planform.fit.check import ROOM as IN_ROOM
from planform.fit.check import WAY_OUT
from planform.fit.ground_plan import Keep
from planform.fit.own_floor import there
from planform.fit.push import push_through
from planform.fit.question import question_for
from planform.fit.room import build_room
from planform.fit.second_check import go_over
from planform.fit.straight import judge_straight
from planform.fit.verdict import FITS, NOT, UNJUDGED
from planform.fit.way_out import BY_FLOORS, BY_RAMP, NONE, OPEN, WAY, greatest_clearance, way_out
from planform.study.judging import judge
from tests.conftest import PLAIN, ROOM

DESIGN = Design.model_validate(PLAIN)
PARKED = stand_on(build(DESIGN), DESIGN.stages[0])
HIGH = 0.4
UP = [{"name": "up", "at": ["7 m", "17 m"], "heading": "180 deg"}]


def hall(height=HIGH, wall="front", ramp=True, start=12.0):
    """A hall with a level from so far on, a ramp in the middle, and spots on both floors."""
    table = copy.deepcopy(ROOM)
    table["ceiling"] = {"height": "4 m"}
    ring = [["0 m", f"{start} m"], ["14 m", f"{start} m"], ["14 m", "24 m"], ["0 m", "24 m"]]
    floor = {"width": "14 m", "depth": "24 m"}
    if height:
        floor["levels"] = [{"name": "dock", "outline": ring, "height": f"{height} m"}]
        if ramp:
            ends = {
                "foot": ["7 m", f"{start - 4.0} m"],
                "head": ["7 m", f"{start} m"],
                "width": "4 m",
            }
            floor["ramps"] = [{"name": "ramp", "level": "dock", **ends}]
    door = {"wall": wall, "from_corner": "1.5 m", "clear_width": "11 m", "clear_height": "3 m"}
    table["doors"][0] |= door
    nose = "180 deg" if wall == "front" else "0 deg"
    table["spots"] = [
        {"name": "up", "at": ["7 m", "17 m"], "heading": nose},
        {"name": "down", "at": ["7 m", "4 m"], "heading": nose},
    ]
    return table | {"floor": floor}


@cache
def room_of(height=HIGH, wall="front", ramp=True):
    return build_room(place_from(hall(height, wall, ramp)))


def parked(room, spot):
    return {c.key: c for c in judge_straight(PARKED, room, spot).checks if c.group == IN_ROOM}


def test_on_a_level_all_that_is_overhead_is_nearer_by_its_height():
    up, flat = (parked(room_of(h), "up") for h in (HIGH, 0.0))
    assert up["wall"].gap == pytest.approx(flat["wall"].gap, abs=1e-9)
    assert flat["ceiling"].gap - up["ceiling"].gap == pytest.approx(HIGH, abs=1e-9)
    assert raised(PARKED, 0.0) is PARKED
    assert there(PARKED, room_of(0.0), "up")[0] is PARKED


def test_the_gap_to_a_level_is_that_to_its_box_of_points_all_over_the_skin():
    """The aircraft on the floor, its nose toward the level; points of it by trimesh."""
    table = hall(0.9, ramp=False)
    table["spots"][1] = {"name": "down", "at": ["7 m", "8.3 m"], "heading": "0 deg"}
    found = parked(build_room(place_from(table)), "down")["obstacle"]
    assert "dock" in found.detail
    turn = np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    near = math.inf
    for part in PARKED.parts:
        points, _ = trimesh.remesh.subdivide_to_size(part.points, part.faces, 0.1)
        points = points @ turn.T + np.array([7.0, 8.3, 0.0])
        low, high = np.array([0.0, 12.0, 0.0]), np.array([14.0, 24.0, 0.9])
        off = np.maximum(np.maximum(low - points, points - high), 0.0)
        near = min(near, float(np.linalg.norm(off, axis=1).min()) - part.bulge)
    assert found.gap == pytest.approx(near, abs=2e-3)


def test_a_wing_reaches_over_an_edge_and_a_wheel_does_not():
    table = hall(HIGH)
    table["spots"][0]["at"] = ["7 m", "14.5 m"]  # nose wheel 0.5 m from the edge, nose over it
    over = parked(build_room(place_from(table)), "up")
    assert "pit" not in over
    assert over["ceiling"].verdict == FITS
    table["spots"][0]["at"] = ["7 m", "13.9 m"]
    assert parked(build_room(place_from(table)), "up")["pit"].verdict == NOT
    table["spots"][1]["at"] = ["3 m", "11.9 m"]
    assert parked(build_room(place_from(table)), "down")["obstacle"].verdict == NOT


def ways(room, spot):
    question = question_for(PARKED, room, spot, Keep.nothing())
    return way_out(question), greatest_clearance(question)


def test_a_way_out_stays_on_its_floor_and_none_there_is_no_proof_beside_a_ramp():
    own, bare = ways(room_of(HIGH, "back"), "up")
    flat, same = ways(room_of(0.0, "back"), "up")
    assert own.answer == flat.answer == WAY
    assert bare.low == pytest.approx(same.low, abs=1e-6)
    over, greatest = ways(room_of(HIGH), "up")
    assert (over.answer, over.reason) == (OPEN, BY_RAMP)
    assert greatest.limited == BY_RAMP
    assert greatest.high == math.inf
    without, _ = ways(room_of(HIGH, ramp=False), "up")
    assert (without.answer, without.proof) == (NONE, BY_FLOORS)
    assert go_over(without, "no way").looks > 0


def test_over_a_ramp_the_verdict_is_never_a_silent_yes():
    answer = judge(PARKED, room_of(HIGH), "up", whole=False)
    assert answer.verdict == UNJUDGED
    assert next(c for c in answer.checks if c.group == WAY_OUT).missing == BY_RAMP
    assert judge_straight(PARKED, room_of(HIGH), "up").out_verdict == UNJUDGED
    assert judge(PARKED, room_of(HIGH), "down", whole=False).verdict == FITS


def pushed(room, spot, ahead=1):
    standing, seen = there(PARKED, room, spot)
    return push_through(standing, seen, seen.place.doors[0], ahead)


def test_a_push_down_a_ramp_is_that_over_the_same_ground_of_a_door():
    """The level taken as the floor, and what is lower as the ground of the door."""
    push = pushed(build_room(place_from(hall(HIGH, start=4.5) | {"spots": UP})), "up")
    table = hall(0.0)
    table["doors"][0] |= {
        "clear_height": f"{3.0 - HIGH} m",
        "ground": [{"at": "-4.5 m", "height": "0 m"}, {"at": "-0.5 m", "height": f"-{HIGH} m"}],
    }
    table["ceiling"] = {"height": f"{4.0 - HIGH} m"}
    other = push_through(PARKED, build_room(place_from(table)), place_from(table).doors[0])
    assert push.problem == other.problem == ""
    for kind in ("left jamb", "right jamb", "head", "ground"):
        assert push.least(kind).gap == pytest.approx(other.least(kind).gap, abs=2e-3)
    # two wheels on slopes that meet: the nose, 1 m ahead of its wheel, sinks by that much
    steep = math.atan(HIGH / 4.0)
    plain = 0.5 - math.sin(steep) - PARKED.bulge
    assert push.least("ground").gap == pytest.approx(plain, abs=6e-3)


def test_a_push_up_a_ramp_meets_as_much_as_one_down_it():
    down, up = pushed(room_of(HIGH), "up"), pushed(room_of(HIGH, "back"), "down")
    assert not up.problem
    assert up.least("head").gap == pytest.approx(down.least("head").gap, abs=2e-3)
    assert up.least("ground").gap == pytest.approx(down.least("ground").gap, abs=5e-3)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"width": "1.5 m"}, "no ramp is under left main"),
        ({"foot": ["6.5 m", "8 m"]}, "would run over ramp, which is not square"),
    ],
)
def test_a_ramp_that_does_not_carry_it_straight_is_told(change, told):
    table = hall(HIGH)
    table["floor"]["ramps"][0] |= change
    assert told in pushed(build_room(place_from(table)), "up").problem


def test_a_level_too_short_for_the_wheels_is_told():
    table = hall(HIGH)
    table["floor"]["levels"][0]["outline"][2:] = [["14 m", "14 m"], ["0 m", "14 m"]]
    table["spots"][0]["at"] = ["7 m", "13.5 m"]
    assert "no room before the ramp" in pushed(build_room(place_from(table)), "up").problem


def test_ramps_steps_hold_it_and_stand_out_by_one_step():
    room = room_of(HIGH)
    steps = [t for t in room.fixed if t.name == "ramp"]
    for thing in steps:
        far = thing.outline[:, 1].max()
        assert thing.high == pytest.approx(HIGH * (far - 8.0) / 4.0)
    assert max(t.high for t in steps) == pytest.approx(HIGH)
    assert HIGH / len(steps) <= 0.02 + 1e-9


def test_a_head_over_a_level_is_over_that():
    room = room_of(HIGH, "back")
    head = next(t for t in room.fixed if t.kind == "door head")
    assert head.low == pytest.approx(3.0 + HIGH)
    up, down = judge_straight(PARKED, room, "up"), judge_straight(PARKED, room_of(0.0), "down")
    gaps = [next(c.gap for c in a.checks if c.key == "door: head") for a in (up, down)]
    assert gaps[0] == pytest.approx(gaps[1], abs=1e-9)


def told(table):
    with pytest.raises(InputError) as caught:
        place_from(table)
    return {p.path: p.allowed for p in caught.value.problems}


BAD = [
    ("levels", {"height": "-0.4 m"}, "floor.levels[1].height", "above zero"),
    ("levels", {"height": "4.5 m"}, "floor.levels[1].height", "under the ceiling"),
    ("levels", {"outline": [["0 m", "12 m"]] * 3}, "floor.levels[1].outline", "each corner once"),
    ("levels", {"name": "ramp"}, "floor.ramps[1].name", "names of their own"),
    ("ramps", {"level": "dok"}, "floor.ramps[1].level", "did you mean 'dock'"),
    ("ramps", {"foot": ["7 m", "11.5 m"]}, "floor.ramps[1].foot", "1 in 2; steeper is a step"),
    ("ramps", {"foot": ["7 m", "-1 m"]}, "floor.ramps[1].foot", "on the room's floor"),
    ("ramps", {"head": ["7 m", "11 m"]}, "floor.ramps[1].head", "at the edge of level 'dock'"),
    ("ramps", {"width": "0 m"}, "floor.ramps[1].width", "above zero"),
]


@pytest.mark.parametrize(("field", "change", "path", "words"), BAD)
def test_bad_levels_and_ramps_are_told_in_one_sentence(field, change, path, words):
    table = hall(HIGH)
    table["floor"][field][0] |= change
    assert words in told(table)[path]


def side(first):
    door = {"name": "side", "wall": "left", "from_corner": f"{first} m"}
    return door | {"clear_width": "4 m", "clear_height": "2 m"}


def test_what_does_not_go_with_a_level_is_told():
    table = hall(HIGH)
    assert "no fall" in " ".join(
        told(
            table | {"floor": table["floor"] | {"fall": {"toward": "front", "drop": "5 cm"}}}
        ).values()
    ).replace("does not fall", "no fall")
    spots = [{"name": "s", "at": ["7 m", "9 m"], "heading": "0 deg"}]
    assert "on the ramp 'ramp'" in told(table | {"spots": spots})["spots[1].at"]
    doors = table["doors"]
    assert "all on one level" in told(table | {"doors": [*doors, side(10)]})["doors[2].from_corner"]
    ground = [{"at": "0 m", "height": "0 m"}, {"at": "1 m", "height": "-0.1 m"}]
    uneven = side(1) | {"ground": ground}
    assert "opens on a level" in told(table | {"doors": [*doors, uneven]})["doors[2].ground"]
    high = side(1) | {"clear_height": "3.8 m"}
    assert "3.600 m" in told(table | {"doors": [*doors, high]})["doors[2].clear_height"]
    bench = {"name": "bench", "kind": "standing", "centre": ["2 m", "20 m"], "diameter": "1 m"}
    low = [bench | {"top": "0.3 m"}]
    assert "over the level" in told(table | {"obstacles": low})["obstacles[1].top"]
    car = {"name": "car", "at": ["3 m", "20 m"], "heading": "0 deg", "length": "4 m"}
    cars = [car | {"width": "2 m", "height": "1.5 m"}]
    assert "say it as an obstacle" in told(table | {"cars": cars})["cars[1].at"]
    good = place_from(table | {"obstacles": [bench | {"top": "0.9 m"}]})
    assert any("0.500 m over the level" in question for question in place_questions(good))


def test_a_wall_of_no_length_is_told_of_the_outline():
    table = hall(HIGH)
    table["floor"] |= {"outline": [["0 m", "0 m"], ["0 m", "0 m"], ["14 m", "0 m"], ["0 m", "9 m"]]}
    del table["floor"]["width"], table["floor"]["depth"]
    table["doors"][0]["wall"] = "wall 1"
    assert "each corner once" in told(table)["floor.outline"]


def test_a_level_of_no_area_that_is_met_changes_nothing():
    """A small level far from all ways: the same gaps as without it."""
    table = hall(0.0)
    bare = parked(build_room(place_from(table)), "up")
    ring = [["0.1 m", "0.1 m"], ["0.15 m", "0.1 m"], ["0.1 m", "0.15 m"]]
    table["floor"]["levels"] = [{"name": "kerb", "outline": ring, "height": "0.05 m"}]
    found = parked(build_room(place_from(table)), "up")
    assert {k: c.gap for k, c in found.items()} == {k: c.gap for k, c in bare.items()}


def test_what_stands_on_blocks_crosses_no_edge():
    """A stance on blocks: nothing is lower than they are, and still its floor ends at the edge."""
    design = copy.deepcopy(PLAIN)
    high = dict.fromkeys(("nose", "main"), "0.3 m")
    design["stances"]["blocks"] = {"on": ["nose", "main"], "heights": high}
    design["stages"].append({"name": "high", "stance": "blocks"})
    model = Design.model_validate(design)
    standing = stand_on(build(model), model.stages[1])
    table = hall(HIGH)
    table["spots"][0]["at"] = ["7 m", "13.9 m"]
    room = build_room(place_from(table))
    found = {c.key: c for c in judge_straight(standing, room, "up").checks}
    assert found["pit"].verdict == NOT

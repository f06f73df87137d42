"""Ways out of a room: what is proved, what the second checker finds, what is refused."""

from __future__ import annotations

import copy
import dataclasses
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import planform as pf
from planform.core.motion import gear as gear_search
from planform.core.motion.routing import A_CUT, LOOKS
from planform.design.load import design_from, load_place, place_from
from planform.fit import proof
from planform.fit.moves import Move, Pose, Route
from planform.fit.on_wheels import gear_of, roll_out
from planform.fit.question import box_limit, question_for, time_limit
from planform.fit.stops import least_closed
from planform.fit.tightest import met_at, touching_where_parked
from planform.fit.way_out import (
    LEAST_LOOKS,
    NONE,
    NOT_FOUND,
    OPEN,
    WAY,
    greatest_clearance,
    proved,
    way_out,
)
from planform.study.roll_out import Wish
from tests.conftest import DESIGNS, PLAIN, ROOM, ROOT


@cache
def quillwort():
    return pf.stand_all(pf.build(pf.load(DESIGNS / "quillwort.toml")))[-1]


def graded(name):
    return pf.build_room(load_place(Path(ROOT / "benchmarks/rooms" / f"{name}.toml")))


@cache
def standing():
    return pf.stand_all(pf.build(design_from(PLAIN)))[0]


def asked(room, **changes):
    return question_for(standing(), pf.build_room(place_from(room | changes)))


def narrow(room, width):
    """A room to turn in whose door is this wide [m], in the middle of its front."""
    room["floor"] = {"width": "13 m", "depth": "10 m"}
    room["spots"][0]["at"] = ["6.5 m", "5.5 m"]
    room["doors"][0] |= {"from_corner": f"{6.5 - width / 2:.4f} m", "clear_width": f"{width:.4f} m"}
    return room


def test_a_way_stands_up_to_the_second_checker(room):
    question = asked(narrow(room, 7.6))
    found = way_out(question, 0.02)
    assert found.answer == WAY
    assert found.reason == "turning as needed, proved all along"
    clear = proved(question, found.route)
    assert clear >= 0.02 - 1e-9
    assert proof.sweep(question.plan, found.route, clear).good
    assert proof.sweep(question.plan, found.route, clear, exact=False).good
    far = question.plan.pivot_at(found.route.poses[-1])
    assert question.scene.off_floor(far) >= 0.0


def test_a_way_that_was_tampered_with_does_not_stand(room):
    question = asked(narrow(room, 7.6))
    route = way_out(question, 0.02).route
    moved = [
        dataclasses.replace(
            move,
            start=Pose(move.start.x - 0.6, move.start.y, move.start.heading),
            end=Pose(move.end.x - 0.6, move.end.y, move.end.heading),
            centre=None if move.centre is None else (move.centre[0] - 0.6, move.centre[1]),
        )
        for move in route.moves
    ]
    seen = proof.sweep(question.plan, Route(tuple(moved), 0.02, "dollies"), 0.0)
    assert not seen.good
    assert seen.least < -proof.STEP
    kept = proof.sweep(question.plan, route, 0.02).least
    assert not proof.sweep(question.plan, route, kept + 0.01).good


def test_a_short_cut_through_the_wall_is_seen_between_its_ends(room):
    """Both ends are free; only a look between them tells."""
    question = asked(narrow(room, 9.0))
    start = question.start
    through = Move(Pose(4.7, 5.5, start.heading), Pose(4.7, -9.0, start.heading))
    for pose in (through.start, through.end):
        assert question.scene.clearance(question.plan.pivot_at(pose))[0] > 0.1
    assert not proof.sweep(question.plan, Route((through,), 0.0, "dollies"), 0.0).good
    assert proved(question, Route((through,), 0.0, "dollies")) == -np.inf


@cache
def shut():
    """A question with no way out."""
    question = asked(narrow(copy.deepcopy(ROOM), 3.6))
    assert way_out(question, 0.0).answer == NONE
    return question


def test_no_way_is_shut_in_by_boxes_that_are_checked_again(room):
    closed = shut().cells.closed(0.0)
    assert len(closed.shell)
    assert proof.fault_in(shut().searched, closed) == ""
    with pytest.raises(ValueError, match="not closed"):
        asked(narrow(room, 9.0)).cells.closed(0.0)


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (lambda c: {"shell": c.shell[1:], "by": c.by[1:]}, "open on one side"),
        (lambda c: {"start": (c.start[0], c.start[1] - 20.0, c.start[2])}, "in no box"),
        (lambda c: {"clearance": c.clearance - 3.0}, "is not blocked by"),
        (lambda c: {"by": np.full_like(c.by, -1)}, "names nothing"),
        (lambda c: {"reached": np.concatenate([c.reached, c.reached[:1]])}, "listed twice"),
    ],
)
def test_a_spoiled_proof_of_none_does_not_hold(spoil, told):
    closed = shut().cells.closed(0.0)
    assert told in proof.fault_in(shut().searched, dataclasses.replace(closed, **spoil(closed)))


def test_the_same_answer_every_time(room):
    one, other = (asked(narrow(room, 7.6)) for _ in range(2))
    first, second = greatest_clearance(one, 0.05), greatest_clearance(other, 0.05)
    assert (first.low, first.high) == (second.low, second.high)
    assert first.way.route == second.way.route or first.way.route.moves == second.way.route.moves
    assert [a[:2] for a in first.asked] == [a[:2] for a in second.asked]


def test_an_ended_search_is_not_decided(room):
    question = asked(narrow(room, 7.3))
    ended = way_out(question, 0.99, box_limit(1))  # hard by the most there is
    assert ended.answer == OPEN
    assert ended.reason == "the search ended before a proof either way"
    assert way_out(question, 0.99, time_limit(30.0)).answer != OPEN  # what was found is kept


def test_on_its_own_wheels_each_push_is_proved(room):
    question = asked(narrow(room, 9.0))
    rolled = roll_out(question, 0.05)
    assert rolled.answer == WAY
    assert proof.sweep(question.plan, rolled.route, 0.05).good
    for move in rolled.route.moves:
        assert no_slip(question, move) < 1e-6


def test_rolling_ends_with_the_watch_and_says_so(room):
    question = asked(narrow(room, 9.0))
    ended = roll_out(question, 0.05, lambda step, boxes, seconds: "wheels" not in step)
    assert ended.answer == NOT_FOUND
    assert "ended before it was through" in ended.reason


def test_rolling_over_its_limit_of_poses_does_not_promise_more_time(room):
    question = asked(narrow(room, 9.0))
    scene, start, gear = question.scene, question.start_at, gear_of(question)
    aims = np.array([[6.0, -4.0]])
    moves, ended = gear_search.roll_out(scene, start, gear, 0.05, aims, lambda poses: True, most=0)
    assert moves is None
    assert ended == gear_search.TOO_MANY
    assert "more time" not in ended


def test_a_curve_costs_more_than_going_straight(room):
    question = asked(narrow(room, 9.0))
    (move,) = roll_out(question).route.moves
    assert move.centre is None


def no_slip(question, move):
    """How far the middle of the main axle goes sideways in a small bit of a move [m]."""
    axle = np.array([[question.plan.pivot[0] + gear_of(question).axle, 0.0]])
    a, b = move.at(0.5), move.at(0.5 + 1e-6)
    run = (b.place(axle) - a.place(axle))[0] / 1e-6
    across = np.array([np.cos(a.heading), -np.sin(a.heading)])
    return abs(float(run @ across)) * 1e-3


def test_with_a_pad_on_the_floor_rolling_is_not_found_not_denied(plain, room):
    plain["pads"] = {"bumper": {"fs": "-1.5 m", "bl": "0 m", "wl": "-0.6 m"}}
    plain["stances"]["kneeling"] = {"on": ["bumper", "main"], "retracted": ["nose"]}
    plain["stages"][0]["stance"] = "kneeling"
    kneeling = pf.stand_all(pf.build(design_from(plain)))[0]
    question = question_for(kneeling, pf.build_room(place_from(narrow(room, 9.0))))
    assert gear_of(question) is None
    assert way_out(question).answer == WAY
    assert roll_out(question).answer == NOT_FOUND
    assert "nothing dragging" in roll_out(question).reason


def test_graded_rooms_say_yes_and_no():
    yes = question_for(quillwort(), graded("benches"))
    found = way_out(yes, 0.15, box_limit(60_000))
    assert found.answer == WAY
    assert proof.sweep(yes.plan, found.route, 0.15).good
    low = question_for(quillwort(), graded("low-head"))
    assert way_out(low).reason == "right winglet stands higher than every door head"
    miss = question_for(quillwort(), graded("near-miss"))
    assert way_out(miss, 0.0, box_limit(400_000)).answer == NONE


def test_a_no_that_is_known_is_not_searched_again_and_the_depth_takes_no_longer():
    question = question_for(quillwort(), graded("near-miss"))
    known = way_out(question)
    assert known.answer == NONE
    decided = question.cells.looks
    found = greatest_clearance(question, known=known)
    assert found.asked[0][:2] == (0.0, NONE)
    assert found.none is None or found.none.question is question
    assert question.cells.looks - decided <= max(LEAST_LOOKS, decided)
    # bracketed before to a millimetre, each side proved and gone over: -11.4 to -10.4 mm
    assert -0.025 < found.low < -0.0104
    assert -0.0114 < found.high < 0.0
    tight = met_at(question, question.hand.back_pose(question.cells.likely_jam()))
    assert tight.thing in ("front wall before door", "front wall past door")
    assert (least_closed(question)[0].part, least_closed(question)[0].thing) == (
        tight.part,
        tight.thing,
    )


def test_a_search_is_looked_at_often_and_ends_when_told_to():
    question = question_for(quillwort(), graded("near-miss"))
    seen = []
    ended = way_out(
        question, 0.0, lambda step, boxes, seconds: not seen.append(boxes) and len(seen) < 9
    )
    assert ended.answer == OPEN
    assert len(seen) == 9
    assert seen[0] == 0  # boxes that are there before anything is cut are not counted yet
    assert max(np.diff(seen[1:])) <= 8 * (LOOKS // A_CUT + 200)


def test_an_aircraft_that_touches_on_its_spot_is_told_with_what(room):
    room["spots"][0]["at"] = ["3 m", "5 m"]
    found = pf.find_way_out(standing(), pf.build_room(place_from(room)))
    assert found.meets.thing == "left wall"
    assert found.meets.gap < -0.5
    assert (found.verdict, found.why) == (
        "does not fit",
        "it already touches where it is parked",
    )
    free = asked(ROOM)
    assert touching_where_parked(free) is None


def test_where_nothing_is_asked_half_of_the_greatest_is_kept():
    found = pf.find_way_out(quillwort(), graded("benches"), wish=Wish(toleranced=False))
    assert found.wished.wanted == pytest.approx(found.bare.low / 2)
    assert found.route.clearance >= found.wished.wanted
    bare = Wish(level=0.0, toleranced=False, greatest=False)
    told = pf.find_way_out(quillwort(), graded("benches"), wish=bare)
    assert told.wished.wanted == 0.0


@pytest.mark.parametrize(
    ("change", "field", "told"),
    [
        ({"spots": []}, "spots", "give the place a spot"),
        ({"doors": []}, "doors", "a door to come out of"),
        (
            {"spots": [{"name": "yard", "at": ["6 m", "0.1 m"], "heading": "180 deg"}]},
            "spots: yard",
            "its middle must stand on the floor",
        ),
        (
            {"doors": [ROOM["doors"][0] | {"wall": "roof"}]},
            "doors[1].wall",
            "no such name; names: front, right, back, left",
        ),
        (
            {
                "obstacles": [
                    {
                        "name": "hoist",
                        "kind": "hanging",
                        "outline": [["1 m", "1 m"], ["2 m", "1 m"], ["2 m", "2 m"]],
                        "bottom": "2.4 m",
                        "top": "2.2 m",
                    }
                ]
            },
            "obstacles[1].top",
            "is it upside down?",
        ),
    ],
)
def test_what_cannot_be_asked_is_told_in_one_sentence(room, change, field, told):
    with pytest.raises(pf.InputError) as caught:
        asked(room | change)
    (problem,) = caught.value.problems
    assert problem.path == field
    assert told in str(problem)

"""Routes told as steps, marks and walkers at an aircraft whose measures are plain."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.moves import Move, Pose, Tight
from planform.fit.room import build_room
from planform.fit.steps import kind_of, settled, steps_of
from planform.fit.swept import (
    contact_marks,
    corners_of,
    end_marks,
    plan_outline,
    stop_line,
    swept_outline,
    watched,
)
from planform.fit.taping import corners, in_the_way, tape
from planform.fit.walkers import PERSON, nearest, places, step_at, watched_there
from planform.report.way_out.card import walkers_table
from planform.report.way_out.instructions import detail, instruction
from tests.routes import chained, pushed, slid, turned, way_out

START = Pose(6.0, 5.0, math.pi)


@pytest.fixture
def standing(plain):
    return pf.stand_all(pf.build(design_from(plain)))[0]


@pytest.fixture
def built(room):
    return pf.build_room(place_from(room))


def steps(standing, *makers, **more):
    route = chained(START, *makers, **more)
    return steps_of(route, corners_of(plan_outline(standing)))


def words(standing, built, *makers, system="mm", **more):
    return [instruction(standing, built, s, system) for s in steps(standing, *makers, **more)]


def test_pushes_in_a_row_are_one_step(standing, built):
    assert words(standing, built, *[lambda p: pushed(p, -0.1)] * 7) == [
        "Push straight back 700 mm, toward the back wall"
    ]


def test_a_turn_in_pieces_is_one_turn_about_the_wheel(standing, built):
    told = words(standing, built, *[lambda p: turned(p, (0.0, -1.0), math.radians(5.0))] * 7)
    assert told == ["Turn 35 deg nose to the right about the left main wheel"]


def test_turns_to_both_sides_stay_apart(standing, built):
    told = words(
        standing,
        built,
        lambda p: turned(p, (0.0, 1.0), 0.2),
        lambda p: turned(p, (0.0, 1.0), -0.3),
    )
    assert told == [
        "Turn 11 deg nose to the right about the right main wheel",
        "Turn 17 deg nose to the left about the right main wheel",
    ]


def test_tiny_moves_of_any_kind_become_one_step_within_half_the_clearance(standing):
    tiny = [lambda p, k=k: slid(p, 0.02, 0.0, 0.002 * (-1) ** k) for k in range(10)]
    (one,) = steps(standing, *tiny, clearance=0.1)
    assert (one.first, one.last, len(one.moves)) == (0, 9, 10)
    assert 0.0 < one.stray <= 0.05
    assert len(steps(standing, *tiny, clearance=0.0)) > 1


def test_own_wheels_never_get_a_step_that_slips_sideways(standing):
    zigzag = [lambda p, k=k: turned(p, (0.0, 3.0 * (-1) ** k), 0.01 * (-1) ** k) for k in range(6)]
    found = steps(standing, *zigzag, clearance=0.5, moving="gear")
    assert len(found) == 6
    assert all(s.kind == "turn" for s in found)


@pytest.mark.parametrize(
    ("shift", "told"),
    [
        ((0.0, -0.6), "Push straight ahead 600 mm, toward the door"),
        ((0.6, 0.0), "Slide sideways 600 mm toward the right wall"),
        ((-0.6, 0.0), "Slide sideways 600 mm toward the left wall"),
        ((0.6, -0.6), "Slide 850 mm ahead and to its left, 45 deg off its length, toward the door"),
        ((0.0, -9.0), "Push straight ahead 9000 mm, out through the door"),
    ],
)
def test_straight_moves_in_words(standing, built, shift, told):
    assert words(standing, built, lambda p: slid(p, *shift)) == [told]


def test_way_in_from_outside_names_the_door(standing, built):
    out = chained(START, lambda p: pushed(p, 9.0)).reversed
    (step,) = steps_of(out, corners_of(plan_outline(standing)))
    assert instruction(standing, built, step, "ft-in") == (
        "Push straight back 29'-6 1/4\", in through the door"
    )


def test_slide_with_a_turn_in_words(standing, built):
    told = words(standing, built, lambda p: slid(p, 0.2, 0.0, math.radians(-10.0)), system="ft-in")
    assert told == ['Slide 7 3/4" toward the right wall while turning 10 deg nose to the left']


def test_a_turn_about_no_wheel_tells_where(standing, built):
    told = words(standing, built, lambda p: turned(p, (-1.0, 4.0), 0.3))
    assert told == [
        "Turn 17 deg nose to the right about the floor mark 4000 mm right and "
        "1000 mm ahead of the main wheels' middle"
    ]
    (step,) = steps(standing, lambda p: turned(p, (0.0, 0.0), 0.5))
    assert instruction(standing, built, step, "mm").endswith("about the main wheels' middle")
    assert "left tip" in detail(standing, step, "mm")


def test_a_slide_that_only_turns_is_a_turn():
    pose = Pose(1.0, 1.0, 0.2)
    move = settled(Move(pose, Pose(1.0, 1.0, 0.9)))
    assert kind_of(move) == "turn"
    assert move.centre == pytest.approx((1.0, 1.0))


def test_no_move_is_no_step(standing):
    assert steps(standing, lambda p: slid(p, 0.0, 0.0)) == ()


def test_marks_of_the_plain_design(standing):
    where = {m.name: m.point for m in (*contact_marks(standing), *end_marks(standing))}
    assert where["left main wheel"] == pytest.approx([0.0, -1.0, 0.0], abs=1e-9)
    assert where["nose wheel"] == pytest.approx([-2.0, 0.0, 0.0], abs=1e-9)
    assert where["nose"][:2] == pytest.approx([-3.0, 0.0], abs=1e-9)
    assert where["right tip"][1] == pytest.approx(4.0, abs=0.06)
    assert where["left tip"][1] == pytest.approx(-where["right tip"][1])
    assert {m.name for m in watched(standing)} == {"left tip", "right tip", "nose", "tail"}


def test_stop_board_stands_where_the_tyre_meets_it(standing):
    line = stop_line(standing, "behind")
    offset = math.sqrt(0.0889 * (0.4 - 0.0889))
    assert line.ends[:, 0] == pytest.approx([offset, offset])
    assert line.ends[:, 1] == pytest.approx([-1.15, 1.15])
    assert stop_line(standing, "ahead of").ends[0, 0] == pytest.approx(-offset)
    with pytest.raises(ValueError, match="Expected 'behind' or 'ahead of', got 'beside'"):
        stop_line(standing, "beside")


def test_sweep_says_what_it_needs(standing):
    shape = plan_outline(standing)
    with pytest.raises(ValueError, match="at least one move"):
        swept_outline(shape, [])
    with pytest.raises(ValueError, match="step above zero, got 0"):
        swept_outline(shape, [pushed(START, 1.0)], 0.0)


def test_tapes_go_round_what_stands_and_over_no_wall(room):
    room["floor"] = {
        "outline": [["0 m", "0 m"], ["12 m", "0 m"], ["12 m", "10 m"], ["5 m", "10 m"],
                    ["5 m", "6 m"], ["0 m", "6 m"]]
    }  # fmt: skip
    room["doors"][0]["wall"] = "wall 1"
    room["obstacles"] = [
        {
            "name": "saw",
            "kind": "standing",
            "outline": [["10 m", "1 m"], ["11 m", "1 m"], ["11 m", "4 m"], ["10 m", "4 m"]],
            "top": "1 m",
        }
    ]
    built = pf.build_room(place_from(room))
    assert corners(built)[0].name == "corner 1 (wall 6 meets wall 1)"
    floor = shapely.polygons(built.floor).buffer(1e-6)
    here = np.array([2.0, 2.0])
    assert in_the_way(built, np.array([5.0, 10.0]), here, floor) == "a wall"
    assert in_the_way(built, np.array([12.0, 2.0]), here, floor) == "saw"
    taped = tape(built, [("a", here), ("b", np.array([8.0, 5.0])), ("off", np.array([1.0, 9.0]))])
    assert [t.name for t in taped] == ["a", "b"]
    for one in taped:
        assert not one.blocked
        assert not one.poor


def test_a_point_in_a_corner_is_called_poor(room):
    room["floor"] = {"width": "12 m", "depth": "1 m"}
    room["spots"] = []
    built = pf.build_room(place_from(room))
    (one,) = tape(built, [("p", np.array([6.0, 0.5]))])
    assert one.poor


def test_walkers_have_room_and_are_never_ahead(standing, built):
    route = way_out(START)
    shape = plan_outline(standing)
    solid = shapely.union_all(
        [shapely.polygons(f.outline) for f in built.fixed if f.kind == "wall"]
    )
    for step in steps_of(route, corners_of(shape)):
        sweep = swept_outline(shape, step.moves)
        for place in places(standing, built, step, shape):
            if place.enough:
                here = shapely.points(place.point)
                assert here.distance(solid) >= PERSON - 1e-9
                if not place.along:
                    assert here.distance(sweep) > PERSON - 0.1


def test_a_tip_close_to_the_wall_gets_no_walker_between(standing, built):
    """The right tip 0.3 m off the left wall: whoever watches it stands elsewhere."""
    pose = Pose(4.3 + 0.05, 5.0, math.pi)
    (step,) = steps_of(chained(pose, lambda p: pushed(p, 0.4)), corners_of(plan_outline(standing)))
    found = {p.mark.name: p for p in places(standing, built, step, plan_outline(standing))}
    assert found["right tip"].point[0] > PERSON
    tip = found["right tip"].mark.at(step.start)
    between = shapely.box(0.0, tip[1] - 0.9, tip[0], tip[1] + 0.1)
    assert not between.covers(shapely.points(found["right tip"].point))


def test_nearest_thing_of_every_end(standing, built):
    """Half span about 4.04 m in the middle of 12 m: 1.96 m to either side wall."""
    shape = plan_outline(standing)
    found = nearest(standing, built, steps(standing, lambda p: pushed(p, -0.5)), shape)
    gaps = {n.mark.name: n for n in found}
    half = gaps["left tip"].mark.point[1]
    assert gaps["left tip"].gap == pytest.approx(6.0 + half)
    assert gaps["left tip"].thing == "right wall"
    assert [n.gap for n in found] == sorted(n.gap for n in found)


@pytest.mark.parametrize("over", [0.05, 0.2])
def test_a_bench_that_an_end_passes_over_is_as_near_as_it_is(standing, room, over):
    """Out ahead, the left tip goes over a bench: it comes within the height between, not 0."""
    shape = plan_outline(standing)
    tip = next(m for m in end_marks(standing) if m.name == "left tip")
    outline = [["9.5 m", "1 m"], ["11 m", "1 m"], ["11 m", "2 m"], ["9.5 m", "2 m"]]
    top = float(tip.point[2]) - over
    bench = {"name": "bench", "kind": "standing", "outline": outline, "top": f"{top:.9f} m"}
    there = build_room(place_from(room | {"obstacles": [bench]}))
    found = nearest(standing, there, steps(standing, lambda p: pushed(p, 3.8)), shape)
    near = next(n for n in found if n.mark.name == "left tip")
    assert (near.thing, near.above) == ("bench", pytest.approx(over, abs=1e-6))
    assert near.gap == pytest.approx(over, abs=1e-3)
    cells = walkers_table([near], (), ()).rows[0]
    assert cells[4].text == "bench, passing {0} over it"


def test_a_tight_instant_finds_its_step_and_walker(standing):
    route = way_out(START)
    found = steps_of(route, corners_of(plan_outline(standing)))
    pose = route.moves[1].at(0.5)
    tip = next(m for m in end_marks(standing) if m.name == "left tip").at(pose)
    tight = Tight(pose, "left winglet", "right wall", 0.2, tip, tip, 1, 0.5)
    assert step_at(found, tight).number == 2
    assert watched_there(standing, tight).name == "left tip"
    assert step_at((), tight) is None


@pytest.mark.parametrize(
    ("turn", "side", "told"), [(0.3, 4.0, "ahead"), (0.3, -4.0, "back"), (-0.3, -4.0, "ahead")]
)
def test_a_curve_on_own_wheels_tells_ahead_or_back(standing, built, turn, side, told):
    (step,) = steps(standing, lambda p: turned(p, (0.0, side), turn), moving="gear")
    text = instruction(standing, built, step, "mm")
    assert text.startswith(f"Roll {told} 1200 mm in a curve, 17 deg nose to the")
    here, there = (np.array([p.x, p.y]) for p in (step.start, step.end))
    nose = np.array([math.sin(step.start.heading), math.cos(step.start.heading)])
    assert (float((there - here) @ nose) > 0.0) == (told == "ahead")


def test_a_slide_with_a_turn_tells_the_point_that_goes_straight(standing, built):
    start = START.place(np.array([[-1.0, 0.5]]))[0]
    move = Move(START, Pose(0.0, 0.0, START.heading + 0.5), None, (-1.0, 0.5))
    there = move.end.place(np.array([[-1.0, 0.5]]))[0]
    end = Pose(start[0] + 1.0 - there[0], start[1] - there[1], START.heading + 0.5)
    route = chained(START, lambda p: Move(p, end, None, (-1.0, 0.5)))
    (step,) = steps_of(route, corners_of(plan_outline(standing)))
    assert instruction(standing, built, step, "mm") == (
        "Slide 1000 mm toward the right wall while turning 29 deg nose to the right"
    )
    assert detail(standing, step, "mm").startswith(
        "The point 500 mm right and 1000 mm ahead of the main wheels' middle goes straight"
    )

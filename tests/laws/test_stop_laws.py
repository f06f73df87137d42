"""Every "no" names what stops it and by how much, and a verdict agrees with its numbers."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import design_from, place_from
from planform.design.notation import read
from planform.design.told import said
from planform.fit.check import WAY_OUT
from planform.fit.question import box_limit
from planform.fit.stops import at_every_door
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED
from planform.fit.way_out import NONE, WAY
from planform.report.way_out.words import summary
from planform.study.change_cases import FAILS, FREES
from planform.study.changes import least_changes
from planform.study.judging import judge
from planform.study.roll_out import Wish, find_way_out
from tests.conftest import PLAIN, ROOM

BOXES = 1_500
BARE = Wish(toleranced=False)
DESIGN = design_from(copy.deepcopy(PLAIN))


STANDING = stand_all(build(DESIGN))[0]


def room_of(doors=None, obstacles=(), **more):
    table = copy.deepcopy(ROOM) | more
    if doors is not None:
        table["doors"] = doors
    table["obstacles"] = list(obstacles)
    return place_from(table)


def door(name, wide, high, wall="front", corner=0.5):
    return {
        "name": name, "wall": wall, "from_corner": f"{corner} m",
        "clear_width": f"{wide:.6f} m", "clear_height": f"{high:.6f} m",
    }  # fmt: skip


def beam(bottom):
    """A beam from wall to wall between the aircraft and the door."""
    outline = [["0 m", "0.5 m"], ["12 m", "0.5 m"], ["12 m", "0.8 m"], ["0 m", "0.8 m"]]
    return {
        "name": "beam", "kind": "hanging", "outline": outline, "bottom": f"{bottom:.6f} m",
        "top": "2.9 m",
    }  # fmt: skip


@settings(max_examples=5)
@given(under=st.floats(0.01, 0.5))
def test_a_beam_too_low_is_named_with_how_much(under):
    top = float(STANDING.all_points()[:, 2].max()) + STANDING.bulge
    room = pf.build_room(room_of(obstacles=[beam(top - under)]))
    found = find_way_out(STANDING, room, wish=BARE, watch=box_limit(BOXES))
    assert found.wished.answer == NONE
    (stop,) = found.stops
    assert stop.thing == "beam"
    assert "winglet" in stop.part
    assert stop.amount == pytest.approx(under, abs=2e-3)
    told = " ".join(summary(found, "mm"))
    assert f"{stop.part} is {said(stop.amount, 'over', 'mm')} too high to pass under beam" in told
    raised = pf.build_room(room_of(obstacles=[beam(top + 2e-3)]))
    assert find_way_out(STANDING, raised, wish=BARE, watch=box_limit(BOXES)).route is not None


@settings(max_examples=5)
@given(low=st.floats(0.01, 0.5), narrow=st.floats(0.5, 3.0))
def test_a_wide_low_door_beside_a_narrow_high_one(low, narrow):
    top = float(STANDING.all_points()[:, 2].max()) + STANDING.bulge
    doors = [door("wide", 11.0, top - low), door("tall", narrow, 2.9, "back")]
    room = pf.build_room(room_of(doors))
    by_thing = {stop.thing: stop for stop in at_every_door(STANDING, room)}
    assert set(by_thing) == {"the head of wide", "tall"}
    assert by_thing["the head of wide"].amount == pytest.approx(low, abs=1e-6)
    assert by_thing["tall"].amount > 0.0
    higher = [door("wide", 11.0, top + 1e-3), doors[1]]
    assert at_every_door(STANDING, pf.build_room(room_of(higher))) == ()


@settings(max_examples=4)
@given(
    wide=st.sampled_from([7.9, 8.4, 9.0, 11.0]),
    high=st.sampled_from([1.6, 2.0, 2.5]),
    walls=st.sampled_from([0.0, 0.1, 1.2]),
    sides=st.sampled_from([0.0, 0.1, 0.4]),
)
def test_a_verdict_is_that_of_its_own_numbers(wide, high, walls, sides):
    wishes = {"walls": f"{walls} m", "door_sides": f"{sides} m", "ceiling": "0.1 m"}
    place = room_of([door("door", wide, high)], clearances=wishes)
    room = pf.build_room(place)
    answer = judge(STANDING, room, boxes=BOXES)
    for check in answer.checks:
        if check.gap is None or (check.group == WAY_OUT and check.gap < 0.0):
            continue
        by_hand = NOT if check.gap < 0.0 else FITS
        if check.gap >= 0.0 and check.gap < max(check.worst, check.wanted or 0.0):
            by_hand = CARE
        if check.group == WAY_OUT and check.verdict == CARE and by_hand == FITS:
            continue  # another thing of the way has less than it asks
        assert check.verdict == by_hand
        if check.verdict == FITS:
            assert check.spare >= -1e-9
    found = answer.way
    assert found is not None
    if found.route is not None:
        assert answer.verdict_of(WAY_OUT) in (FITS, CARE)
        assert found.tight == () or found.tight[0].gap <= found.route.clearance + 5e-3
    told = " ".join(summary(found, "mm"))
    assert ("not decided" in told) == (found.verdict == UNJUDGED or found.undecided)
    if found.wished.answer == WAY:
        assert found.bare.low >= 0.0
    if found.bare.high <= 0.0:
        assert found.wished.answer == NONE


@pytest.mark.parametrize(("high", "answer"), [(1.2, FAILS), (2.5, FREES)])
def test_changes_and_roll_out_agree(high, answer):
    place = room_of([door("door", 10.0, high)])
    found = least_changes(DESIGN, place, keep=None, kinds=())
    out = find_way_out(STANDING, pf.build_room(place), wish=BARE, watch=box_limit(BOXES))
    assert found.base.answer == answer
    assert (out.bare.low >= 0.0) == (answer == FREES)


def test_a_clearance_is_never_rounded_up_nor_an_overlap_down():
    for system, step in (("ft-in", 0.0254 / 16), ("mm", 0.001), ("in", 0.000254), ("m", 0.001)):
        for value in (0.07129, 0.1, 0.0254, -0.0301, 3.0 * step):
            gap, over = (read(said(value, kind, system), "length") for kind in ("gap", "over"))
            assert value - step < float(gap) <= value + 1e-8
            assert value - 1e-8 <= float(over) < value + step

"""Laws of least changes: what is told to free the aircraft does, and the size below does not."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.design.load import design_from, place_from
from planform.fit.question import question_for
from planform.fit.room import build_room
from planform.fit.straight import judge_straight
from planform.fit.verdict import NOT
from planform.fit.way_out import NONE, WAY, way_out
from planform.study.change_cases import FAILS, FREES
from planform.study.changes import least_changes
from tests.conftest import PLAIN, ROOM


def search(case):
    """The real search, on a place built anew from its own texts and numbers."""
    place = case.place.model_copy(update={"spots": (case.spot,)})
    room = build_room(place)
    return judge_straight(case.standing, room).verdict_of("room"), way_out(
        question_for(case.standing, room)
    )


def box(**door):
    place = copy.deepcopy(ROOM)
    place["doors"][0] |= door
    return place_from(place)


@settings(max_examples=2)
@given(st.floats(1.3, 2.6), st.floats(1.5, 1.98))
def test_freed_is_free_and_just_below_is_not(width, height):
    place = box(clear_width=f"{width!r} m", clear_height=f"{height!r} m", from_corner="4 m")
    found = least_changes(design_from(PLAIN), place, kinds=("taller", "length", "parts"))
    assert found.base.answer == FAILS
    for change in found.found:
        parked, way = search(change.family.make(1.0 if change.size is None else change.size))
        assert parked != NOT
        assert way.answer == WAY
        if change.size is not None and change.fails:
            parked, way = search(change.family.make(change.fails))
            assert parked == NOT or way.answer == NONE


@settings(max_examples=2)
@given(st.floats(1.2, 1.9))
def test_a_wider_door_is_closed_in_on_and_more_never_hurts(width):
    place = box(clear_width=f"{width!r} m", from_corner="5 m")
    found = least_changes(design_from(PLAIN), place, kinds=("wider",))
    if found.free:
        return
    for change in (c for c in found.all if c.kind == "wider" and c.answer == FREES):
        assert change.size > (change.fails or 0.0)
        if change.closed:
            assert change.size - change.fails == pytest.approx(change.family.fine)
        wider = change.family.make(change.family.sizes[-1])
        assert search(wider)[1].answer == WAY

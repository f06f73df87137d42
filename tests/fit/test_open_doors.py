"""What stands out of an open door is told, and no place is chosen where something does."""

from __future__ import annotations

import copy

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.models import Design
from planform.design.place import Place
from planform.fit.check import ROOM as IN_ROOM
from planform.fit.clearance import placed
from planform.fit.packing import pack
from planform.fit.room import build_room
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE, FITS
from planform.report.fit.tables import checks_table, verdicts_table
from planform.study.judging import judge
from tests.conftest import PLAIN, ROOM


def stood():
    airframe = build(Design.model_validate(PLAIN))
    return stand_on(airframe, airframe.design.stages[0])


PARKED = stood()


def room_with(at, heading):
    tables = copy.deepcopy(ROOM)
    tables["spots"] = [
        {"name": "spot", "at": ["6 m", f"{at:.4f} m"], "heading": f"{heading:.3f} deg"}
    ]
    return build_room(Place.model_validate(tables))


@given(at=st.floats(1.2, 5.0), turn=st.floats(-8.0, 8.0), tail=st.booleans())
@example(at=1.2, turn=0.0, tail=False)
@settings(max_examples=12)
def test_what_is_past_the_wall_line_is_told_and_needs_care(at, turn, tail):
    room = room_with(at, turn if tail else 180.0 + turn)
    answer = judge_straight(PARKED, room)
    by = {
        name: -float(points[:, 1].min())
        for name, points, _, _ in placed(PARKED, room.place.spots[0])
    }
    told = {o.part: o.by for c in answer.in_group(IN_ROOM) for o in c.outside}
    assert told.keys() == {name for name, out in by.items() if out > 1e-6}
    bulges = {part.name: part.bulge for part in PARKED.parts}
    for name, out in told.items():
        assert out == pytest.approx(by[name] + bulges[name], abs=1e-5)
    assert answer.room_verdict == (CARE if told else FITS)


def test_the_sentence_names_the_part_the_door_and_how_far():
    room = room_with(1.2, 180.0)
    answer = judge_straight(PARKED, room)
    (row,) = [r for r in checks_table(answer, room.place, "m").rows if r[0] == "to shut door"]
    told = str(row)
    assert "pod stands out of door, which cannot be shut" in told
    assert "outside the inner wall line: pod 1.8" in told
    assert "pod stands out of door" in str(verdicts_table([answer], "m").rows)


def test_a_spot_that_stands_out_is_not_chosen():
    found = pack(room_with(1.2, 180.0), [("Plain", PARKED)], 0.2, 0.2)
    assert found.found
    for berth in found.berths:
        low = min(float(points[:, 1].min()) for _, points, _, _ in berth.solids)
        assert low > -1e-6


def test_a_place_is_judged_as_the_room_built_of_it():
    room = room_with(5.0, 180.0)
    by_place, by_room = (judge(PARKED, one, whole=False) for one in (room.place, room))
    assert repr(by_place) == repr(by_room)


def test_the_column_without_thresholds_says_so():
    tables = copy.deepcopy(ROOM)
    tables["doors"][0]["threshold"] = "0.1 m"
    tables["spots"][0]["at"] = ["6 m", "1.2 m"]
    answer = judge_straight(PARKED, build_room(Place.model_validate(tables)))
    sheet = verdicts_table([answer], "m")
    column = [str(head) for head in sheet.columns].index("least gap, parked, thresholds apart")
    low = [c for c in answer.near if c.kind == "threshold"]
    assert answer.near[0] in low
    assert sheet.rows[0][column].value == min(c.gap for c in answer.near if c not in low)

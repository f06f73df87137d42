"""The way out inside a verdict: it overrules the straight push, and says when it cannot."""

from __future__ import annotations

import json

import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.check import WAY_OUT
from planform.fit.verdict import FITS, NOT, UNJUDGED
from planform.report.fit.record import fit_record
from planform.report.record import document
from planform.study.judging import judge


def _answer(design, place, **options):
    room = pf.build_room(place_from(place))
    return judge(pf.stand_all(pf.build(design_from(design)))[0], room, **options), room


def _way(answer):
    (check,) = answer.in_group(WAY_OUT)
    return check


def _column(x, y):
    ends = ((x, y), (x + 0.4, y), (x + 0.4, y + 0.4), (x, y + 0.4))
    return {
        "name": "column",
        "kind": "standing",
        "outline": [[f"{a:.2f} m", f"{b:.2f} m"] for a, b in ends],
        "top": "3 m",
    }


def test_a_column_before_a_wide_door_shuts_in_what_would_go_straight_through(plain, room):
    room["spots"][0]["at"] = ["6 m", "6.5 m"]
    answer, _ = _answer(plain, room)
    assert (answer.door_verdict, answer.out_verdict) == (FITS, FITS)
    assert _way(answer).gap > 0.5
    room["obstacles"] = [_column(x, 0.6) for x in (2.4, 4.6, 6.8, 9.0)]
    answer, _ = _answer(plain, room)
    assert (answer.door_verdict, answer.out_verdict, answer.verdict) == (FITS, NOT, NOT)
    check = _way(answer)
    assert answer.deciding is check
    assert check.why.startswith("how deep it jams was not decided")


def test_a_door_too_narrow_straight_is_passed_turned(plain, room):
    room["floor"] = {"width": "30 m", "depth": "24 m"}
    room["spots"][0]["at"] = ["15 m", "12 m"]
    room["doors"][0] |= {"from_corner": "11.2 m", "clear_width": "7.6 m"}
    answer, built = _answer(plain, room)
    (passed,) = answer.passages
    assert passed.rolling_gap < 0.0
    assert answer.out_verdict != NOT
    assert answer.way.best.route.clearance > 0.0
    told = json.loads(document("fit", fit_record(answer, pf.advice(answer, built))))
    assert told["way_out"]["with_clearances_asked"]["answer"] == "way out"


def test_too_few_boxes_leave_it_undecided_not_denied(plain, room):
    room["obstacles"] = [_column(x, 0.6) for x in (2.4, 4.6, 6.8, 9.0)]
    room["spots"][0]["at"] = ["6 m", "6.5 m"]
    answer, _ = _answer(plain, room, boxes=10)
    assert (answer.out_verdict, answer.verdict) == (UNJUDGED, UNJUDGED)
    assert _way(answer).gap is None
    assert _way(answer).why == "the search ended before a proof either way"


def test_a_head_too_low_is_told_with_its_gap(plain, room):
    room["doors"][0]["clear_height"] = "1.5 m"
    answer, _ = _answer(plain, room)
    assert answer.verdict == NOT
    assert answer.deciding.key == "door: head"
    assert answer.deciding.gap < 0.0


def test_tolerances_of_the_door_act_on_the_way(plain, room):
    room["doors"][0] |= {"clear_width": "8.4 m", "from_corner": "1.8 m ± 20 mm (measured)"}
    answer, _ = _answer(plain, room)
    check = _way(answer)
    assert 0.1 <= check.gap <= 0.2
    assert check.worst == pytest.approx(0.02, abs=0.002)
    room["doors"][0] |= {"clear_width": "3.6 m ± 20 mm (measured)", "from_corner": "4 m"}
    answer, _ = _answer(plain, room)
    check = _way(answer)
    assert check.gap < 0.0
    assert check.worst == pytest.approx(0.01, abs=0.002)


def test_without_a_spot_the_straight_push_decides(plain, room):
    room.pop("spots")
    answer, _ = _answer(plain, room)
    assert answer.way is None
    assert answer.out_verdict == answer.door_verdict == FITS

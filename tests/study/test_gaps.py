"""Tolerances of a fit: corners built again, and pairs that come to govern within them."""

from __future__ import annotations

from itertools import product

import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.design.problems import InputError
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE, NOT
from planform.study.inputs import given_inputs, moved, state_of
from planform.study.judging import judge
from planform.study.spreads_of_measures import measure_spreads


def _answer(design, place):
    room = pf.build_room(place_from(place))
    return judge(pf.stand_all(pf.build(design_from(design)))[0], room), room


def _check(answer, key):
    return next(c for c in answer.checks if c.key == key)


def _lamp(name, bottom, x="5.8 m"):
    left = float(x.split()[0])
    corners = ((left, 4.8), (left + 0.1, 4.8), (left + 0.1, 5.2), (left, 5.2))
    outline = [[f"{a:.1f} m", f"{b} m"] for a, b in corners]
    return {"name": name, "kind": "hanging", "outline": outline, "bottom": bottom}


def test_99_per_cent_of_two_inputs_is_the_trapezoid(plain, room):
    room["doors"][0]["clear_width"] = "10 m ± 30 mm (measured)"
    plain["lifting"]["wing"]["cuts"][1]["bl"] = "4 m ± 20 mm (measured)"
    check = _check(_answer(plain, room)[0], "door: width")
    assert check.worst == pytest.approx(0.07, abs=1e-6)
    expected = 0.07 - (0.01 * 4.0 * 0.03 * 0.04) ** 0.5
    assert check.within_99 == pytest.approx(expected, abs=1e-6)


def test_a_thing_farther_off_governs_once_its_own_tolerance_is_taken(plain, room):
    room["obstacles"] = [_lamp("lamp", "2 m"), _lamp("duct", "2.005 m ± 20 mm (assumed)", "6.1 m")]
    check = _check(_answer(plain, room)[0], "obstacle")
    assert check.detail.startswith("pod and lamp")
    assert check.built_detail.startswith("pod and duct")
    assert check.built == pytest.approx(check.gap + 0.005 - 0.02, abs=1e-4)
    assert check.worst == pytest.approx(0.015, abs=1e-4)
    assert check.spread.by_input[0][0] == "Box: obstacles[2].bottom"
    assert check.within_99 == pytest.approx(0.99 * 0.02 - 0.005, abs=1e-4)


def _mast(top):
    ends = {"half_width": "0.1 m", "bottom": "0 m", "top": top}
    return {"cuts": [{"fs": "0 m", **ends}, {"fs": "0.2 m", **ends}]}


def _strand(check, part):
    return next(s for s in check.strands if part in s.name)


def test_another_part_under_the_door_head_governs_at_the_worst(plain, room):
    plain["winglets"]["winglet"]["length"] = "1 m ± 30 mm (assumed)"
    plain["bodies"]["mast"] = _mast("1.01 m")
    check = _check(_answer(plain, room)[0], "door: head")
    mast, winglet = _strand(check, "mast"), _strand(check, "winglet")
    assert check.gap == pytest.approx(mast.gap)
    assert mast.gap < winglet.gap
    assert check.built == pytest.approx(winglet.gap - 0.03, abs=1e-4)
    assert "winglet" in check.built_detail


def _tolerant(plain, room):
    plain["winglets"]["winglet"] |= {"length": "1 m ± 50 mm", "cant": "5 deg ± 2 deg"}
    plain["lifting"]["wing"]["cuts"][1] |= {"dihedral": "2 deg ± 1 deg"}
    room["spots"][0]["at"] = ["6.02 m ± 60 mm", "5 m"]
    room["obstacles"] = [_lamp("lamp", "2.6 m ± 20 mm"), _lamp("duct", "2.61 m", "9.8 m")]


def test_the_worst_corner_is_the_least_of_all_corners(plain, room):
    _tolerant(plain, room)
    answer, built = _answer(plain, room)
    inputs = given_inputs(answer.standing.airframe.design, built.place)
    base = state_of(answer.standing, built, answer.spot)
    corners = []
    for sides in product((1.0, -1.0), repeat=len(inputs)):
        state = moved(base, dict(zip(inputs, sides, strict=True)))
        corners.append(judge_straight(state.standing, state.room, limit=2.2))
    for key in ("wall", "ceiling", "obstacle", "door: head", "door: width"):
        check = _check(answer, key)
        least = min(_check(corner, key).gap for corner in corners)
        assert check.built == pytest.approx(least, abs=1e-9), key
        assert check.worst == pytest.approx(check.gap - least, abs=1e-9), key
        assert 0.0 < check.within_99 <= check.worst, key


def test_an_overlap_inside_its_tolerance_is_built_at_its_best(plain, room):
    room["doors"][0]["clear_height"] = "1.99 m ± 30 mm (assumed)"
    answer, _ = _answer(plain, room)
    check = _check(answer, "door: head")
    assert check.gap == pytest.approx(-0.01, abs=0.005)
    assert check.verdict == NOT
    assert check.why.startswith("inside the tolerance")
    assert check.built == pytest.approx(check.gap + 0.03, abs=1e-9)
    assert check.open


def test_a_second_overlap_keeps_the_first_from_turning(plain, room):
    plain["winglets"]["winglet"]["length"] = "1 m ± 60 mm (assumed)"
    plain["bodies"]["mast"] = _mast("0.99 m")
    room["doors"][0]["clear_height"] = "1.95 m"
    check = _check(_answer(plain, room)[0], "door: head")
    mast, winglet = _strand(check, "mast"), _strand(check, "winglet")
    assert check.gap == pytest.approx(winglet.gap)
    assert winglet.gap + 0.06 > 0.0
    assert check.built == pytest.approx(mast.gap, abs=1e-6)
    assert check.why == "too large"
    assert not check.open


def test_the_check_with_least_to_spare_decides(plain, room):
    room["ceiling"]["height"] = "2.7 m"
    room["clearances"]["ceiling"] = "1 m"
    answer, _ = _answer(plain, room)
    assert (answer.verdict, answer.deciding.key) == (CARE, "ceiling")
    room["doors"][0]["clear_width"] = "4 m"
    answer, _ = _answer(plain, room)
    assert (answer.verdict, answer.deciding.key) == (NOT, "way out")
    assert answer.door_verdict == NOT
    assert answer.deciding_in("room").key == "ceiling"


def test_a_spot_hardly_known_is_seen_to_touch_the_wall(plain, room):
    room["floor"]["width"], room["doors"][0]["clear_width"] = "9.6 m", "8.4 m"
    room["spots"][0]["at"] = ["4.8 m ± 0.9 m (assumed)", "5 m"]
    check = _check(_answer(plain, room)[0], "wall")
    assert check.gap > 0.7
    assert check.built < 0.0
    assert check.verdict == CARE


def test_a_tolerance_wider_than_is_looked_for_is_refused(plain, room):
    room["spots"][0]["at"] = ["6 m ± 12 m (assumed)", "5 m"]
    with pytest.raises(InputError, match="a tolerance of at most 1 m"):
        _answer(plain, room)


def _canopy(length):
    return {
        "hinge_from": {"fs": "0 m", "bl": "0.3 m", "wl": "0.5 m"},
        "hinge_to": {"fs": "1 m", "bl": "0.3 m", "wl": "0.5 m"},
        "width": "0.6 m",
        "toward": "left",
        "thickness": "10 mm",
        "strut": {
            "length": length,
            "frame_mount": {"fs": "0.5 m", "bl": "0.3 m", "wl": "0.2 m"},
            "panel_mount": {"fs": "0.5 m", "bl": "0 m", "wl": "0.5 m"},
        },
    }


def test_a_tolerance_that_cannot_be_built_is_named(plain, room):
    plain["panels"] = {"lid": _canopy("0.59 m ± 20 mm (measured)")}
    plain["stages"][0]["open"] = ["lid"]
    words = r"panels\.lid\.strut\.length: at the end of its tolerance"
    with pytest.raises(InputError, match=words):
        _answer(plain, room)
    with pytest.raises(InputError, match=words):
        measure_spreads(pf.stand_all(pf.build(design_from(plain))))


def test_a_corner_that_cannot_be_built_is_said(plain, room):
    canopy = _canopy("0.59 m ± 6 mm (measured)")
    canopy["strut"]["frame_mount"]["wl"] = "0.2 m ± 6 mm (measured)"
    plain["panels"] = {"lid": canopy}
    plain["stages"][0]["open"] = ["lid"]
    answer, _ = _answer(plain, room)
    unbuilt = [c for c in answer.checks if c.worst and c.built is None]
    assert unbuilt
    assert any("cannot be built" in note for note in answer.notes)

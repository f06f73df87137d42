"""Which better reading narrows a verdict's band most."""

from __future__ import annotations

import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.design.naming import in_words
from planform.fit.verdict import CARE, FITS
from planform.report.fit.advice import sentences
from planform.study.judging import judge
from planform.study.next_reading import CAREFUL, advice

TAPE = CAREFUL["length"]


BOXES = 3_000
"""Boxes a search for the way out may take: what is asked here stands without the widest way."""


def _advice(design, place):
    room = pf.build_room(place_from(place))
    answer = judge(pf.stand_all(pf.build(design_from(design)))[0], room, boxes=BOXES)
    return advice(answer, room)


def _head(plain, room, clear, winglet="1 m"):
    """The door head decides; the tips stand 2 m over the floor, less what a tip takes."""
    room["clearances"] = {"door_head": "10 mm"}
    room["doors"][0]["clear_height"] = clear
    plain["winglets"]["winglet"]["length"] = winglet
    return _advice(plain, room)


def test_the_input_that_narrows_most_comes_first(plain, room):
    found = _head(plain, room, "2.06 m ± 50 mm", "1 m ± 20 mm")
    check, better = found.better[0]
    assert check is found.deciding
    assert check.key == "door: head"
    assert [one.input.name for one in better] == [
        "Box: doors[1].clear_height",
        "Plain: winglets.winglet.length",
    ]
    assert in_words(better[0].input.name) == "clear height of “door”"
    assert check.worst == pytest.approx(0.07, abs=1e-4)
    assert better[0].worst == pytest.approx(0.02 + TAPE, abs=1e-4)
    assert better[1].worst == pytest.approx(0.05 + TAPE, abs=1e-4)
    assert better[0].within_99 <= better[0].worst
    assert (check.verdict, better[0].verdict, better[0].settles) == (CARE, FITS, True)
    first = sentences(found, "mm")[0]
    assert first.startswith(
        "Measure next, for “door: under the door head”: clear height of “door” ("
    )
    assert "± 70.0 mm to ± 21.6 mm" in first
    assert "coming out as written, it fits" in first


def test_what_is_read_finely_already_is_not_read_again(plain, room):
    found = _head(plain, room, "2.013 m ± 1 mm")
    check, better = next((c, b) for c, b in found.better if c.key == "door: head")
    assert check.open
    assert better == ()
    assert any("leave more room" in line for line in sentences(found, "ft-in"))


def test_a_verdict_out_of_reach_is_said_to_be_so(plain, room):
    room["doors"][0]["clear_height"] = "1.5 m ± 10 mm"
    found = _advice(plain, room)
    assert found.better == ()
    assert sentences(found, "mm")[0].startswith("No better reading turns “door: under")


def test_a_reading_without_tolerance_is_named_where_it_could_turn_the_verdict(plain, room):
    found = _head(plain, room, "2.06 m")
    assert found.bare == ()
    near = _head(plain, room, "2.012 m")
    names = [one.name for one, _ in near.bare]
    assert "Box: doors[1].clear_height" in names
    moves = {one.name: change for one, change in near.bare}
    assert moves["Box: doors[1].clear_height"] == pytest.approx(0.003175, abs=1e-9)
    assert any(line.startswith("No tolerance is given for these") for line in sentences(near, "in"))

"""Whatever is told, a way or that there is none, the second check has gone over."""

from __future__ import annotations

import copy
import dataclasses
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.question import box_limit, question_for
from planform.fit.second_check import FACES, GoneOver, go_over, not_gone_over
from planform.fit.way_out import (
    BY_BOXES,
    BY_CEILING,
    BY_HEIGHTS,
    BY_LINE,
    BY_SILLS,
    BY_SPOT,
    NONE,
    WAY,
    way_out,
)
from planform.report.words import gone_over
from planform.study.change_cases import FREES
from planform.study.changes import least_changes
from planform.study.roll_out import Wish
from tests.conftest import PLAIN, ROOM

STANDING = pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]
TOP = float(STANDING.all_points()[:, 2].max()) + STANDING.bulge
UNDER = min(float(p.points[:, 2].min()) for p in STANDING.parts if p.role != "wheel")
"""How low it hangs, its wheels apart [m]."""

BEAM = {
    "name": "beam", "kind": "hanging", "bottom": "1.5 m",
    "outline": [["0 m", "0.5 m"], ["12 m", "0.5 m"], ["12 m", "0.8 m"], ["0 m", "0.8 m"]],
}  # fmt: skip


def place(width=10.0, height=2.5, threshold=0.0, **more):
    table = copy.deepcopy(ROOM) | more
    table["doors"][0] |= {
        "from_corner": f"{0.5 * (12.0 - width):.4f} m",
        "clear_width": f"{width:.4f} m",
        "clear_height": f"{height:.4f} m",
    }
    if threshold > 0.0:
        table["doors"][0]["threshold"] = f"{threshold:.4f} m"
    return place_from(table)


def asked(keep=None, **changes):
    return question_for(STANDING, pf.build_room(place(**changes)), None, keep)


NARROW = {"width": 0.5, "floor": {"width": "12 m", "depth": "9 m"}}


@cache
def no_way(proof):
    """An answer that there is none, by each kind of proof."""
    if proof == BY_SPOT:  # more than the spot itself has
        return way_out(asked(), 5.0)
    if proof == BY_CEILING:  # its height leaves less than is kept under the ceiling
        low = Keep({}, {"ceiling": 0.3})
        return way_out(asked(low, height=2.1, ceiling={"height": "2.2 m"}))
    if proof == BY_SILLS:
        return way_out(asked(threshold=UNDER + 0.01))
    room = {BY_HEIGHTS: {"height": 1.5}, BY_LINE: {"obstacles": [BEAM]}, BY_BOXES: NARROW}
    return way_out(asked(**room[proof]))


@pytest.mark.parametrize("proof", [BY_HEIGHTS, BY_SILLS, BY_CEILING, BY_SPOT, BY_LINE, BY_BOXES])
def test_each_kind_of_no_is_gone_over_and_holds_only_where_it_is_so(proof):
    no = no_way(proof)
    assert (no.answer, no.proof) == (NONE, proof)
    again = go_over(no, "it")
    assert again.done
    assert again.looks > 0
    free = way_out(asked())
    assert free.answer == WAY
    lie = dataclasses.replace(free, answer=NONE, route=None, proof=proof)
    if proof == BY_BOXES:
        with pytest.raises(RuntimeError, match="disagrees"):
            go_over(lie, "it")
    else:
        assert not go_over(lie, "it").done


def test_a_sill_that_is_lower_than_all_that_hangs_stops_nothing():
    assert way_out(asked(threshold=UNDER - 0.01)).answer == WAY
    assert "lower than every door sill" in no_way(BY_SILLS).reason


def test_a_way_that_strays_is_a_fault():
    found = way_out(asked())
    assert go_over(found, "the way").done
    aside = [
        dataclasses.replace(
            move,
            start=Pose(move.start.x + 3.0, move.start.y, move.start.heading),
            end=Pose(move.end.x + 3.0, move.end.y, move.end.heading),
            centre=None,
        )
        for move in found.route.moves
    ]
    strayed = dataclasses.replace(found.route, moves=tuple(aside))
    with pytest.raises(RuntimeError, match="disagrees"):
        go_over(dataclasses.replace(found, route=strayed), "the way")


@settings(max_examples=4)
@given(st.floats(2.8, 9.9), st.floats(1.9, 2.4), st.booleans())
def test_what_a_roll_out_tells_is_gone_over(width, height, beam):
    there = place(width=width, height=height, obstacles=[BEAM] if beam else [])
    wish = Wish(toleranced=False, width=0.1)
    found = pf.find_way_out(STANDING, pf.build_room(there), None, wish, box_limit(2_000))
    assert all(one.done for one in found.gone_over)
    told = [one.what for one in found.gone_over]
    assert ("the way out" in told) == (found.best is not None)
    no = found.bare.high <= 0.0
    assert any("the proof that" in one for one in told) or not no
    lines = gone_over(found.gone_over)
    assert bool(lines) == bool(told)


def test_what_changes_tell_is_gone_over():
    found = least_changes(design_from(copy.deepcopy(PLAIN)), place(height=1.9), kinds=("taller",))
    freed = [change for change in found.all if change.answer == FREES]
    assert freed
    told = {one.what: one for one in found.gone_over}
    assert told["the proof that it does not come out as it stands"].done
    for change in freed:
        assert told[f"the way with “{change.what}”"].done
        if change.below is not None:
            assert told[f"the proof that less of “{change.what}” does not free it"].done


def test_what_was_not_gone_over_is_said():
    done = GoneOver("the way out", "a sweep", 1200, "poses")
    lines = gone_over((done, not_gone_over("the proof that there is no way out", "no time")))
    assert lines == (
        "A second, separate check went over the way out again: a sweep (1,200 poses).",
        "The second check did not go over the proof that there is no way out again: no time.",
    )


def test_a_proof_larger_than_what_is_gone_over_is_said(monkeypatch):
    no = no_way(BY_BOXES)
    assert go_over(no, "it").by == FACES
    monkeypatch.setattr("planform.fit.second_check.MOST_BOXES", 10)
    assert "more than are gone over" in go_over(no, "it").missing

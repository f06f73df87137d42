"""What would make it fit, on a small aircraft in a box."""

from __future__ import annotations

from functools import partial

import pytest

from planform.design.load import design_from, place_from
from planform.design.problems import InputError
from planform.design.told import said
from planform.fit.ground_plan import DRAWN_OUT
from planform.fit.proof import fault_in
from planform.fit.question import question_for
from planform.fit.room import build_room
from planform.fit.same_proof import SameProof
from planform.fit.second_check import proof_of
from planform.fit.way_out import NONE, WAY, way_out
from planform.report.changes.words import notes, others, told, untried
from planform.study.change_aircraft import _gone, _is_of
from planform.study.change_cases import EFFORT, FAILS, FREES, UNTRIED, first_case
from planform.study.change_found import Change, Changes
from planform.study.changes import least_changes
from tests.conftest import PLAIN, ROOM

STEP = 0.012
FEW = {"boxes": 10_000, "first": 10_000}
"""Boxes that one search may use here: a thin beam is not decided in them, and need not be."""


def found(design, place, **options):
    return least_changes(design_from(design), place_from(place), **{**FEW, **options})


def of(changes, kind, part=""):
    """The one change of a kind whose words hold a part."""
    return next(c for c in changes.all if c.kind == kind and part in c.what)


@pytest.fixture
def low(room):
    """A box whose door head is lower than the winglets."""
    room["doors"][0]["clear_height"] = "1.9 m"
    return room


@pytest.fixture(scope="module")
def hung():
    """A beam across the inside of the door that hangs lower than the winglets: what frees it."""
    outline = [["0.5 m", "0.5 m"], ["11.5 m", "0.5 m"], ["11.5 m", "0.7 m"], ["0.5 m", "0.7 m"]]
    beam = {"name": "beam", "kind": "hanging", "outline": outline, "bottom": "1.9 m"}
    return found(PLAIN, ROOM | {"obstacles": [beam]}, kinds=("obstacle",))


def test_what_comes_out_already_needs_nothing(plain, room):
    answer = found(plain, room)
    assert answer.free
    assert answer.all == ()


def test_a_door_is_made_taller_by_what_the_winglets_lack(plain, low):
    answer = found(plain, low, kinds=("taller",))
    change = of(answer, "taller")
    case = answer.base.case
    stands = case.standing.all_points()[:, 2].max() + case.standing.bulge
    lacks = stands - 1.9
    assert change.answer == FREES
    assert change.size >= lacks > change.fails
    assert change.size - change.fails < 2.5 * STEP


def test_a_winglet_is_made_shorter_by_what_the_door_lacks(plain, low):
    # cant 0 deg: a winglet shorter by so much stands lower by so much
    answer = found(plain, low, kinds=("length",))
    change = of(answer, "length")
    case = answer.base.case
    lacks = case.standing.all_points()[:, 2].max() + case.standing.bulge - 1.9
    assert change.answer == FREES
    assert change.size >= lacks > change.fails
    told = {e.what: e for e in change.effects}
    assert told["tip height"].before - told["tip height"].after == pytest.approx(change.size)


def test_a_winglet_leans_until_its_tip_is_under_the_head(plain, low):
    answer = found(plain, low, kinds=("cant",))
    both = [c for c in answer.all if c.kind == "cant"]
    assert [c.answer for c in both] == [FREES, FREES]
    for change in both:
        case = change.found.case
        assert case.standing.all_points()[:, 2].max() < 1.9
        assert change.size - change.fails < 2.5 * 0.5 * 3.141592653589793 / 180.0


def test_winglets_off_is_told_and_a_wider_door_does_not_help(plain, low):
    answer = found(plain, low, kinds=("parts", "wider"))
    assert of(answer, "parts", "winglets off").answer == FREES
    assert all(c.answer == FAILS for c in answer.all if c.kind == "wider")
    assert "higher than every door head" in of(answer, "wider").reason


def test_what_frees_it_is_in_order_of_effort(plain, low):
    answer = found(plain, low, kinds=("parts", "length", "taller"))
    efforts = [EFFORT[c.kind][0] for c in answer.found]
    assert efforts == sorted(efforts)
    assert {c.answer for c in answer.found} == {FREES}


def test_a_beam_is_raised_by_what_it_hangs_too_low(hung):
    change = of(hung, "obstacle", "raise")
    case = hung.base.case
    lacks = case.standing.all_points()[:, 2].max() + case.standing.bulge - 1.9
    assert change.size >= lacks > (change.fails or 0.0)
    assert change.size - lacks < 0.05
    assert of(hung, "obstacle", "take the beam away").answer == FREES


def test_a_thing_moved_stays_on_the_floor(hung):
    moved = [c for c in hung.all if c.what.startswith("move the beam")]
    assert moved
    for change in moved:
        for size in change.family.sizes:
            thing = change.family.make(size).place.obstacles[0]
            assert all(-1e-9 <= float(x) <= 12.0 + 1e-9 for x, _ in thing.outline)
            assert all(-1e-9 <= float(y) <= 10.0 + 1e-9 for _, y in thing.outline)


def test_blocks_come_down_until_it_passes(plain, room):
    heights = {"nose": "300 mm", "main": "300 mm"}
    plain["stances"]["stools"] = {"on": ["nose", "main"], "heights": heights}
    plain["stages"][0]["stance"] = "stools"
    room["doors"][0]["clear_height"] = "2.2 m"
    answer = found(plain, room, kinds=("blocks", "stance"))
    change = of(answer, "blocks")
    case = answer.base.case
    lacks = case.standing.all_points()[:, 2].max() + case.standing.bulge - 2.2
    assert change.answer == FREES
    assert change.size >= lacks > change.fails
    assert of(answer, "stance", "gear").answer == FREES


def test_what_is_proved_not_to_free_it_tells_how_far_outlines_were_drawn_out(plain, low):
    answer = found(plain, low, kinds=("taller", "turn"))
    change = of(answer, "taller")
    plan = answer.base.way.question.plan
    assert plan.drawn_out == DRAWN_OUT + answer.base.case.standing.bulge > DRAWN_OUT
    assert change.drawn_out == (pytest.approx(plan.drawn_out), 0.0)
    for system, unit in (("mm", 1e-3), ("in", 0.0254)):
        amount = said(plan.drawn_out, "fine_up", system)
        shown = float(amount.split()[0]) * unit
        assert plan.drawn_out - 1e-9 <= shown < plan.drawn_out + 3e-4
        words = told(answer, system)[0].bracket
        assert f"is proved not to free it, with outlines drawn out by {amount}" in words
        note = next(n for n in notes(answer, system) if n.startswith("What does not free it"))
        assert amount in note
        assert "ceiling" not in note


def test_an_earlier_stage_over_a_joint_for_good_comes_last(plain, low):
    bare = {"name": "bare", "without": ["winglet"], "stance": "gear"}
    whole = {**plain["stages"][0], "permanent": "winglets bonded on"}
    plain["stages"] = [bare, whole]
    answer = found(plain, low, kinds=("joined", "parts", "stage"))
    assert of(answer, "joined", "“bare”").answer == FREES
    off = of(answer, "joined", "winglets off")
    assert "without cutting" in " ".join(off.cautions)
    assert answer.found[-1].kind == "joined"


def test_shutting_a_canopy_is_tried_first(plain, room):
    plain["panels"] = {
        "canopy": {
            "hinge_from": {"fs": "-1 m", "bl": "0.3 m", "wl": "0.4 m"},
            "hinge_to": {"fs": "0 m", "bl": "0.3 m", "wl": "0.4 m"},
            "width": "1.8 m",
            "toward": "left",
            "thickness": "10 mm",
            "open_angle": "90 deg",
        }
    }
    plain["stages"][0]["open"] = ["canopy"]
    room["doors"][0]["clear_height"] = "2.2 m"
    answer = found(plain, room, kinds=("shut", "turn"))
    assert answer.found[0].what == "shut the canopy"


def test_parked_in_a_thing_it_is_stood_elsewhere(plain, room):
    outline = [["9.5 m", "4 m"], ["10.2 m", "4 m"], ["10.2 m", "9 m"], ["9.5 m", "9 m"]]
    chest = {"name": "chest", "kind": "standing", "outline": outline, "top": "2 m"}
    room["obstacles"] = [chest]
    answer = found(plain, room, kinds=("spot",))
    assert answer.base.answer == FAILS
    change = of(answer, "spot", "to the left")
    assert change.answer == FREES
    assert not change.cautions


def test_time_that_is_over_keeps_what_was_found(plain, low):
    told: list[Change] = []
    answer = found(plain, low, told=told.append, watch=lambda *_: len(told) < 3)
    assert answer.stopped
    assert len(answer.all) > 3
    assert {c.answer for c in told[4:]} == {UNTRIED}
    left = untried(answer, "m")
    assert len(left) == len(answer.with_answer(UNTRIED)) > 0
    assert not any(line in words for words in others(answer, "m") for line in left)


def test_a_clearance_to_keep_is_kept(plain, low):
    # the pod is 0.8 m wide and its wheels 2.1 m, the box 12 m: 5.2 m cannot be kept
    assert of(found(plain, low, keep=0.2, kinds=("parts",)), "parts", "winglets").answer == FREES
    assert not found(plain, low, keep=5.2, kinds=("parts",)).found


def test_the_question_that_cannot_be_asked_says_why(plain, room):
    room["spots"] = []
    with pytest.raises(InputError, match="give the place a spot"):
        found(plain, room)


def test_the_size_found_passes_the_search_and_the_one_below_does_not(plain, low):
    answer: Changes = found(plain, low, kinds=("cant", "taller"))
    for change in answer.found:
        if change.size is None:
            continue
        for size, wanted in ((change.size, WAY), (change.fails, NONE)):
            case = change.family.make(size)
            place = case.place.model_copy(update={"spots": (case.spot,)})
            assert way_out(question_for(case.standing, build_room(place))).answer == wanted


def test_a_part_that_stays_on_is_not_named_as_taken_off(plain, room):
    """Winglets of two names, one a side: with the left panel only the left one goes along."""
    plain["lifting"]["wing"]["cuts"].insert(
        1, {"bl": "2 m", "sweep_le_plan": "20 deg", "chord": "1.5 m", "joint": "outer"}
    )
    one = plain["winglets"].pop("winglet")
    plain["winglets"] = {"fin_a": one | {"side": "left"}, "fin_b": one | {"side": "right"}}
    case = first_case(design_from(plain), place_from(room), None, None, None)
    names = ("outer", "fin_a", "fin_b")
    assert _gone(case, partial(_is_of, names, "left "), names) == ["outer", "fin_a"]
    assert _gone(case, partial(_is_of, names, "right "), names) == ["outer", "fin_b"]


def test_it_is_the_same_list_on_one_process_and_on_two(plain, low):
    kinds = ("taller", "length", "parts", "obstacle")
    low["obstacles"] = [
        {"name": "chest", "kind": "standing", "top": "1 m",
         "outline": [["0.2 m", "8 m"], ["0.8 m", "8 m"], ["0.8 m", "9 m"], ["0.2 m", "9 m"]]}
    ]  # fmt: skip
    one, two = (found(plain, low, kinds=kinds, workers=count) for count in (1, 2))
    told_of = [
        [(c.what, c.answer, c.size, c.fails, c.parked, c.tries, c.gone_over) for c in answer.all]
        for answer in (one, two)
    ]
    assert told_of[0] == told_of[1]
    assert one.gone_over == two.gone_over


def test_what_shuts_it_in_is_taken_over_only_where_it_is_left_as_it_was(plain, room):
    room["doors"][0]["clear_width"] = "1.2 m"
    room["spots"][0]["at"] = ["6.3 m", room["spots"][0]["at"][1]]  # else the lamp decides the hand
    room["obstacles"] = [
        {"name": "lamp", "kind": "hanging", "bottom": "2.4 m",
         "outline": [["0.2 m", "8 m"], ["0.8 m", "8 m"], ["0.8 m", "9 m"], ["0.2 m", "9 m"]]}
    ]  # fmt: skip
    answer = found(plain, room, kinds=("obstacle",))
    base = answer.base.way
    proof = SameProof(base.question, proof_of(base))
    gone = answer.all[0].family.make(1.0)
    away = question_for(gone.standing, gone.room)
    closed = proof.holds_for(away)
    assert closed is not None
    assert fault_in(away.searched, closed) == ""
    wider = room | {"doors": [room["doors"][0] | {"clear_width": "2.6 m"}]}
    other = first_case(design_from(plain), place_from(wider), None, None, None)
    assert proof.holds_for(question_for(other.standing, other.room)) is None

"""One judgement: whoever asks for a verdict of the same design, stage, stance and place gets it."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict
from planform.study import judging
from planform.study.change_cases import FREES
from planform.study.changes import least_changes
from planform.study.compare import NO_WAY, default_terms, evaluate, study_of
from planform.study.options import Option
from tests.conftest import DESIGNS, PLAIN, ROOM
from tests.laws.worlds import worlds

BOXES = 3_000
"""Boxes a search may take here: both ask with the same, so both end alike."""

BASE = Option(0, (), "as designed")


def compared(design, place):
    """The base row of a comparison, and the answer of a fit at the same stage and stance."""
    terms, _ = default_terms(design)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(judging, "SPARING", BOXES)
        row = evaluate(study_of(design, place, terms), BASE)
        airframe = pf.build(design)
        standing = pf.stand(airframe, terms.stage, terms.stance)
        return row, judging.judge(standing, pf.build_room(place))


def assert_same(row, answer):
    words = answer.verdict, answer.verdict_of("room"), answer.out_verdict
    assert (row["verdict"], row["room_verdict"], row["out_verdict"]) == words
    if answer.verdict.good:
        for key, checks in (("parked", answer.in_group("room")), ("out", answer.out_checks)):
            told = [c.gap for c in checks if c.gap is not None]
            assert row[f"{key}_gap"] == pytest.approx(min(told), abs=1e-6)


def beam(y):
    """A beam from wall to wall, lower than the winglets stand."""
    ends = ((0.0, y), (12.0, y), (12.0, y + 0.3), (0.0, y + 0.3))
    outline = [[f"{a} m", f"{b} m"] for a, b in ends]
    return {"name": "beam", "kind": "hanging", "outline": outline, "bottom": "1.5 m"}


@settings(max_examples=4)
@given(
    width=st.floats(6.8, 10.5),
    over=st.floats(-0.05, 0.4),
    slack=st.sampled_from([0.0, 0.02, 0.2]),
    blocked=st.booleans(),
    wished=st.booleans(),
)
def test_an_option_is_judged_as_the_design_is(width, over, slack, blocked, wished):
    """Doors that are wide, passed turned or too low; readings that are sure, good and poor."""
    place, design = copy.deepcopy(ROOM), copy.deepcopy(PLAIN)
    place["doors"][0] |= {
        "from_corner": f"{0.5 * (12.0 - width):.4f} m",
        "clear_width": f"{width:.4f} m",
        "clear_height": f"{2.02 + over:.4f} m" + (f" ± {slack} m" if slack else ""),
    }
    design["wheels"]["main"]["wl"] = "-0.8 m" + (f" ± {slack / 20} m" if slack else "")
    if blocked:
        place["obstacles"] = [beam(0.5)]
    if not wished:
        place["clearances"] = {}
    assert_same(*compared(design_from(design), place_from(place)))


@settings(max_examples=2)
@given(worlds)
def test_in_any_world_a_comparison_and_a_fit_agree(world):
    assert_same(*compared(design_from(world.design), place_from(world.place)))


@pytest.mark.parametrize(("design", "place"), [("samphire", "garden-shed")])
def test_a_demo_is_judged_alike(design, place):
    both = pf.load(DESIGNS / f"{design}.toml"), pf.load_place(DESIGNS / f"{place}.toml")
    assert_same(*compared(*both))


def test_a_beam_across_the_room_is_no_free_door():
    place = copy.deepcopy(ROOM) | {"obstacles": [beam(0.5)]}
    row, answer = compared(design_from(copy.deepcopy(PLAIN)), place_from(place))
    assert (answer.door_verdict, answer.verdict) == (FITS, NOT)
    assert_same(row, answer)
    assert row["comes_out"] == NO_WAY


def test_a_door_whose_ground_stops_it_is_not_the_way():
    """On a level floor it would go straight out; over the ramp its tips strike the head."""
    place, design = copy.deepcopy(ROOM), design_from(copy.deepcopy(PLAIN))
    place["clearances"] = {}
    ramp = [{"at": "0.8 m", "height": "0 m"}, {"at": "2.6 m", "height": "-0.3 m"}]
    place["doors"][0] |= {"clear_height": "2.05 m", "ground": ramp}
    room = pf.build_room(place_from(place))
    standing = pf.stand_all(pf.build(design))[0]
    alone = judging.judge(standing, room, boxes=BOXES, whole=False)
    assert (alone.way.verdict, alone.out_verdict) == (FITS, NOT)
    back = {"name": "back door", "wall": "back", "from_corner": "1 m", "clear_width": "10 m"}
    place["doors"].append(back | {"clear_height": "2.3 m"})
    row, answer = compared(design, place_from(place))
    assert (answer.way_door, answer.verdict) == ("back door", FITS)
    assert_same(row, answer)
    assert any("by another door" in note for note in answer.notes)
    assert least_changes(design, place_from(place), kinds=()).base.answer == FREES


@settings(max_examples=3)
@given(st.floats(3.1, 40.0), st.floats(0.0, 360.0))
def test_more_room_never_makes_a_hall_unjudged(free, heading):
    """With so much free on every side there was nothing near enough to be looked at."""
    size = 2.0 * (free + 5.0)
    place = copy.deepcopy(ROOM) | {
        "floor": {"width": f"{size:.3f} m", "depth": f"{size:.3f} m"},
        "ceiling": {"height": f"{free + 2.5:.3f} m"},
    }
    place["doors"][0] |= {"from_corner": f"{0.5 * size - 5.0:.3f} m"}
    middle = f"{0.5 * size:.3f} m"
    place["spots"][0] |= {"at": [middle, middle], "heading": f"{heading:.2f} deg"}
    standing = pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]
    answer = judge_straight(standing, pf.build_room(place_from(place)))
    assert answer.verdict_of("room") == FITS
    assert answer.least.gap == pytest.approx(min(c.gap for c in answer.near))
    assert answer.least.gap > 0.95 * free - 1.0
    place["clearances"]["walls"] = f"{free + 6.0:.3f} m"
    wary = judge_straight(standing, pf.build_room(place_from(place)))
    assert wary.verdict_of("room") == CARE


def test_words_are_in_order_and_the_worst_is_the_greatest():
    assert sorted([NOT, FITS, UNJUDGED, CARE]) == list(Verdict) == [FITS, CARE, UNJUDGED, NOT]
    assert max(FITS, CARE) == CARE
    assert [v.good for v in Verdict] == [True, True, False, False]
    assert [v.colour for v in Verdict] == ["fits", "care", "un", "not"]
    assert f"{Verdict('does not fit')}" == "does not fit"

"""Clearances from published sources, by name, in a place file; permanent steps in a design."""

from __future__ import annotations

import pytest

import planform as pf
from planform.design.clearances import Clearances
from planform.design.guidance import GUIDES, MEMORY, READ, guide_names, guided
from planform.design.load import design_from, place_from
from planform.design.problems import InputError
from planform.design.questions import assumptions, place_questions
from planform.design.units import FOOT
from planform.fit.straight import judge_straight
from planform.report.words import whence


def test_every_figure_says_how_it_is_known_and_every_wish_is_a_field():
    assert {guide.status for guide in GUIDES} == {READ, MEMORY}
    fields = set(Clearances.model_fields)
    for guide in GUIDES:
        assert set(guide.wishes) <= fields
        assert guide.source


@pytest.mark.parametrize("name", guide_names())
def test_a_source_by_name_gives_its_figures_and_itself(plain, room, name):
    room["clearances"] = {"guide": name}
    place = place_from(room)
    for field in ("walls", "ceiling", "obstacles", "door_sides", "door_head"):
        guide = guided(field, (name,))
        metres, source = place.clearances.wanted(field)
        assert metres == (None if guide is None else guide.metres)
        assert source == ("" if guide is None else f"{guide.source} ({guide.status})")


def test_own_values_override_and_each_number_says_whence(plain, room):
    room["clearances"] = {
        "guide": ["MIL-HDBK-1028/1C", "29 CFR 1910.36(g)"],
        "ceiling": "0.2 m",
        "source": "our own wish",
    }
    place = place_from(room)
    answer = judge_straight(pf.stand_all(pf.build(design_from(plain)))[0], pf.build_room(place))
    wanted = {check.key: (check.wanted, whence(place, check)) for check in answer.checks}
    assert wanted["ceiling"] == (pytest.approx(0.2), "wanted: our own wish")
    assert wanted["wall"] == (pytest.approx(28 * 0.0254), "wanted: 29 CFR 1910.36(g) (read)")
    handbook = "wanted: MIL-HDBK-1028/1C (1999), par. 3.3 (read)"
    assert wanted["door: head"] == (pytest.approx(5 * FOOT), handbook)
    assert wanted["door: width"] == (pytest.approx(10 * FOOT), handbook)
    assert any("not law" in line for line in assumptions(design_from(plain), place))
    assert not any("none wanted" in line for line in place_questions(place))


def test_of_two_sources_the_greater_figure_counts():
    both = ("UFC 3-260-01 Att. 3", "UFC 3-260-01 Table 8.1")
    assert guided("walls", both).metres == pytest.approx(10 * FOOT)


def test_a_place_without_a_guide_prints_no_source(plain, room):
    place = place_from(room)
    answer = judge_straight(pf.stand_all(pf.build(design_from(plain)))[0], pf.build_room(place))
    assert {whence(place, check) for check in answer.checks} == {""}


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("UFC 3-260-01", "did you mean 'UFC 3-260-01 Att. 3'"),
        ("780 CMR 412.4", "no such name"),
        (5, "the name of a source, or a list of them"),
        ([5], "the name of a source, or a list of them"),
    ],
)
def test_unknown_sources_are_refused_with_the_nearest_name(room, given, words):
    room["clearances"]["guide"] = given
    with pytest.raises(InputError, match=r"clearances\.guide") as caught:
        place_from(room)
    assert words in str(caught.value)
    assert "MIL-HDBK-1028/1C" in str(caught.value)


@pytest.mark.parametrize("given", [True, "", 3])
def test_a_permanent_step_says_what_is_joined(plain, given):
    plain["stages"][0]["permanent"] = given
    with pytest.raises(InputError, match="what is joined for good, in words"):
        design_from(plain)

"""Stages against places: the last chance against a walk over all that can be undone."""

from __future__ import annotations

import copy
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.design.models import Stage
from planform.design.problems import InputError
from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.study.stages import last_chance, stage_table
from tests.conftest import PLAIN, ROOM


def _answers(steps):
    """Answers of stages that come out or not, the step to them permanent or not."""
    out = []
    for k, (free, permanent) in enumerate(steps):
        joined = "bonded" if permanent else None
        stage = Stage(name=f"stage {k}", stance="gear", permanent=joined)
        check = Check("door: width", "door", "width", 1.0 if free else -1.0, None)
        standing = SimpleNamespace(stage=stage)
        out.append(FitAnswer(stage.name, "gear", "Box", None, standing, (check,), (), ()))
    return out


@given(st.lists(st.tuples(st.booleans(), st.booleans()), min_size=1, max_size=7))
def test_the_last_chance_is_before_the_step_after_which_no_walk_leads_out(steps):
    """A walk goes on one stage, or back one where the step to the present stage can be undone."""
    found = last_chance(_answers(steps))
    given_any = any(permanent for _, permanent in steps)

    def free(k):
        lowest = k
        while lowest > 0 and not steps[lowest][1]:
            lowest -= 1
        return any(out for out, _ in steps[lowest:])

    shutting = [k for k in range(1, len(steps)) if free(k - 1) and not free(k)]
    if given_any and free(0):
        expected = shutting[0] if shutting else None
        if expected is None:
            assert found.step is None
        else:
            assert found.step.name == f"stage {expected}"
            last = max(k for k in range(expected) if steps[k][0])
            assert found.last.name == f"stage {last}"
            assert found.is_at(found.last)
            assert "LAST CHANCE" in found.words
    if not given_any and any(out for out, _ in steps) and not steps[-1][0]:
        last = max(k for k, (out, _) in enumerate(steps) if out)
        assert found.by_order
        assert (found.last.name, found.step.name) == (f"stage {last}", f"stage {last + 1}")
        assert "build order alone" in found.words
    if not any(out for out, _ in steps):
        assert found.last is None
        assert "at no stage" in found.words
    if steps[-1][0]:
        assert found.first_shut is None


def test_stages_that_are_not_judged_are_named_and_not_counted_on():
    answers = _answers([(False, False), (False, False), (False, True)])
    unknown = Check("door: head", "door", "head", None, None)
    answers[1] = replace(answers[1], checks=(unknown,))
    words = last_chance(answers).words
    assert words == "Box: no stage is known to come out; not judged: “stage 1”."
    answers[0] = _answers([(True, False)])[0]
    words = last_chance(answers).words
    assert "LAST CHANCE is “stage 0”" in words
    assert words.endswith("Not judged, and not counted on: “stage 1”.")


def test_a_way_back_that_is_open_is_said():
    words = last_chance(_answers([(True, True), (True, False), (False, False)])).words
    assert words.endswith("it can be taken back to “stage 1”.")


def _tables():
    design, box = copy.deepcopy(PLAIN), copy.deepcopy(ROOM)
    design["stages"] = [
        {"name": "bare", "parts": ["pod", "nose", "main"], "stance": "gear"},
        {"name": "winged", "without": ["winglet"], "stance": "gear"},
        {"name": "complete", "stance": "gear", "permanent": "winglets bonded on"},
    ]
    low = copy.deepcopy(box)
    low["name"] = "Low"
    low["doors"][0]["clear_height"] = "1.9 m"
    return design, box, low


def test_table_of_three_stages_in_two_places():
    design, box, low = _tables()
    standings = pf.stand_all(pf.build(design_from(design)))
    table = stage_table(standings, [place_from(box), place_from(low)])
    doors = [[answer.door_verdict for answer in row] for row in table.cells]
    assert doors == [["fits", "fits"], ["fits", "fits"], ["fits", "does not fit"]]
    open_, shut = table.last_chances
    assert open_.step is None
    assert (shut.last.name, shut.step.name) == ("winged", "complete")
    assert "winglets bonded on" in shut.words
    assert table.column(1)[2].deciding_in("door").key == "door: head"


def test_no_door_is_not_judged():
    design, box, _ = _tables()
    box["doors"] = []
    table = stage_table(pf.stand_all(pf.build(design_from(design))), [place_from(box)])
    assert table.last_chances[0].words == "Box: not judged; the place gives no door."


def test_two_places_of_one_name_are_refused():
    _, box, _ = _tables()
    with pytest.raises(InputError, match="each place once"):
        stage_table((), [place_from(box), place_from(box)])

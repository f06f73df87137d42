"""What is said is said once: stage and stance in titles, and progress without a terminal."""

from __future__ import annotations

import copy
import io
import re
from contextlib import redirect_stderr
from itertools import groupby

from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.cli.progress import told_on_change
from planform.design.load import design_from
from planform.design.told import stage_title
from planform.drawing.scenes import aircraft_scene
from planform.report.measures.page import sheet_page
from tests.conftest import PLAIN

STANCES = ("gear", "kneeling", "on blocks")
FIRST = ("complete", "hull", "engine hung", "gearbox on")


@given(
    stance=st.sampled_from(STANCES),
    before=st.sampled_from(FIRST),
    link=st.sampled_from([", ", " ", " on "]),
    named=st.booleans(),
)
def test_a_title_tells_stage_and_stance_once_each(stance, before, link, named):
    stage = f"{before}{link}{stance}" if named else before
    title = stage_title(stage, stance)
    assert stage in title
    assert len(re.findall(rf"\b{stance}\b", title)) == 1
    assert title == (stage if named else f"{stage}, {stance}")


def test_titles_of_a_built_aircraft_tell_its_stance_once():
    plain = copy.deepcopy(PLAIN)
    plain["stages"] = [{"name": "complete, on its gear", "stance": "gear"}]
    (standing,) = pf.stand_all(pf.build(design_from(plain)))
    page = sheet_page(
        standing.airframe.design, (standing,), ((),), (pf.standing_measures(standing),), "m"
    )
    for text in (standing.title, aircraft_scene(standing).title, page):
        assert "on its gear" in text
        assert "gear, gear" not in text


@given(words=st.lists(st.sampled_from(["A, place 1", "A, place 2", "B, place 3"]), max_size=60))
def test_progress_without_a_terminal_is_a_line_for_each_change(words):
    err = io.StringIO()
    with redirect_stderr(err):
        tell = told_on_change()
        for one in words:
            tell(one)
    assert err.getvalue().splitlines() == [one for one, _ in groupby(words)]

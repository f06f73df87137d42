"""Which aircraft is meant: hosts, the complete stage, and orders that cannot be reached."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.measure import standing_measures
from planform.airframe.presence import missing_at, on_stage
from planform.airframe.stages import (
    cannot_be_reached,
    complete_stage,
    joined_by,
    named_in,
    stage_questions,
    usual_stage,
)
from planform.airframe.stance import stand_all, stand_on
from planform.balance.answer import balance
from planform.design.load import design_from
from planform.report.measures.page import sheet_page
from planform.report.measures.sheet import classes
from planform.study.lift import lift_findings
from tests.conftest import PLAIN

BONDED = "winglets bonded on"


def table_of(stages, sides="both"):
    table = copy.deepcopy(PLAIN)
    cuts = table["lifting"]["wing"]["cuts"]
    cuts.insert(1, {"bl": "1 m", "sweep_le_plan": "0 deg", "chord": "1.8 m", "joint": "outer"})
    table["winglets"]["winglet"]["side"] = sides
    table["panels"] = {
        "lid": {
            "hinge_from": {"fs": "-1 m", "bl": "0.2 m", "wl": "0.4 m"},
            "hinge_to": {"fs": "0 m", "bl": "0.2 m", "wl": "0.4 m"},
            "width": "0.3 m", "toward": "left", "thickness": "0.01 m", "open_angle": "60 deg",
        }
    }  # fmt: skip
    table["stages"] = [{"stance": "gear", **stage} for stage in stages]
    return table


def airframe_of(stages, sides="both"):
    return build(design_from(table_of(stages, sides)))


GROUPS = ("wing", "outer", "winglet", "pod", "lid", "left wing", "right outer", "left winglet")


@settings(max_examples=25)
@given(off=st.lists(st.sampled_from(GROUPS), unique=True, max_size=3))
def test_what_is_left_out_takes_along_all_that_it_carries(off):
    airframe = airframe_of([{"name": "some", "without": off}])
    stage = airframe.design.stages[0]
    on = [part for part in airframe.parts if on_stage(stage, part)]
    names = {name for part in on for name in (part.name, part.group)}
    for part in on:
        assert all(host in names for host in part.hosts)
        assert part.name not in off
        assert part.group not in off
    sides = {-1.0: False, 1.0: False}
    for side in sides:
        prefix = "left " if side < 0 else "right "
        inner = {"wing", prefix + "wing"} & set(off)
        outer = inner or {"outer", prefix + "outer"} & set(off)
        lone = outer or {"winglet", prefix + "winglet"} & set(off)
        assert (f"{prefix}outer" in names) == (not outer)
        assert (f"{prefix}winglet" in names) == (not lone)


def test_without_its_wing_no_winglet_counts_in_the_width():
    airframe = airframe_of([{"name": "hull", "without": ["wing"]}, {"name": "whole"}])
    hull, whole = (standing_measures(one) for one in stand_all(airframe))
    assert hull["width"] == pytest.approx(2.1)  # the track of 2 m and a tyre of 0.1 m
    assert whole["width"] > 7.9


STAGES = (
    {"name": "bare", "without": ["wing", "pod"]},
    {"name": "no winglets", "without": ["winglet"]},
    {"name": "lid up, no outer panels", "open": ["lid"], "without": ["outer"]},
    {"name": "whole"},
)


@settings(max_examples=4)
@given(order=st.permutations(STAGES))
def test_the_order_of_stages_changes_nothing_of_the_complete_aircraft(order):
    airframe = airframe_of(order)
    stage = complete_stage(airframe)
    assert stage is not None
    assert stage.name == "whole"
    assert usual_stage(airframe)[0] is stage
    standing = stand_on(airframe, stage)
    found = standing_measures(standing)
    assert classes(airframe.design, standing, found)[0].startswith("Airplane design group I (whole")
    standings = stand_all(airframe)
    heights = tuple(map(standing_measures, standings))
    page = sheet_page(airframe.design, standings, ((),) * len(standings), heights, "m")
    assert "whole, gear" in page
    lift = lift_findings(standings).complete
    reference = lift_findings(stand_all(airframe_of([{"name": "whole"}]))).complete
    assert lift is not None
    assert reference is not None
    assert lift.neutral_point.value == pytest.approx(reference.neutral_point.value, abs=1e-9)


def test_a_file_without_a_complete_stage_is_asked_and_told():
    airframe = airframe_of(STAGES[:2])
    assert complete_stage(airframe) is None
    stage, words = usual_stage(airframe)
    assert stage.name == "no winglets"
    assert "without winglet" in words
    asked = " ".join(stage_questions(airframe))
    assert "no stage has every part on; “no winglets” comes nearest, without winglet" in asked
    lift = lift_findings(stand_all(airframe)).complete
    assert lift is not None  # of every part, at no stage
    assert "winglet" in lift.shares
    assert balance(airframe, stand_all(airframe)).loaded == ()


@settings(max_examples=20)
@given(
    before=st.lists(st.sampled_from(STAGES), max_size=2),
    after=st.lists(st.sampled_from(STAGES), max_size=2),
)
def test_no_stage_after_a_permanent_step_goes_without_what_it_joined(before, after):
    stages = [{**s, "name": f"{s['name']} {k}"} for k, s in enumerate([*before, *after])]
    step = {"name": "bonded", "permanent": BONDED}
    stages.insert(len(before), step)
    airframe = airframe_of(stages)
    barred = cannot_be_reached(airframe)
    k = len(before)
    everything = {part.name for part in airframe.parts} | {part.group for part in airframe.parts}
    new = set(missing_at(airframe, airframe.design.stages[k - 1])) if k else everything
    new = new & {"winglet", "right winglet", "left winglet"} or new
    for j, stage in enumerate(airframe.design.stages):
        lacks = new & set(missing_at(airframe, stage))
        assert (stage.name in barred) == (j > k and bool(lacks))
    asked = stage_questions(airframe)
    assert sum("joined for good" in q for q in asked) == len(barred)


@settings(max_examples=20)
@given(
    named=st.lists(st.sampled_from(["outer", "winglet", "lid"]), unique=True, max_size=2),
    late=st.lists(st.sampled_from(["outer", "winglet", "lid"]), unique=True, min_size=1),
)
def test_a_permanent_step_joins_what_its_words_name_of_what_came_on(named, late):
    words = " and ".join([f"{name}s" for name in named] or ["all"]) + " bonded on"
    stages = [{"name": "before", "without": late}, {"name": "bonded", "permanent": words}]
    airframe = airframe_of(
        [*stages, *({"name": f"no {n}", "without": [n]} for n in GROUPS[1:5] if n != "pod")]
    )
    new = set(late)
    new |= {"winglet"} if "outer" in late else set()
    joined = {part.group for part in joined_by(airframe, airframe.design.stages[1])}
    assert joined == (new & set(named) or new)
    barred = cannot_be_reached(airframe)
    for name in ("outer", "winglet", "lid"):
        takes = {name, "winglet"} if name == "outer" else {name}
        assert (f"no {name}" in barred) == bool(takes & joined)
    taken = [q for q in stage_questions(airframe) if "is taken as joining for good" in q]
    assert len(taken) == len(barred)
    for question in taken:
        told = question.split("for good: ")[-1]
        assert all(group in told for group in joined)
        assert ("name none" in told) == (not new & set(named))


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ("Winglets bonded on", {"winglet"}),
        ("left and right winglet, glued", {"winglet"}),
        ("right winglet bonded on", {"right winglet"}),
        ("lid's frame bonded to the pod", {"lid", "pod"}),
        ("main spar glued in, nose cone on", set()),
        ("main legs glassed in", {"main"}),
        ("wing tips closed", {"wing"}),
        ("outerworks", set()),
    ],
)
def test_words_name_parts_by_whole_words(words, names):
    assert named_in(airframe_of([{"name": "whole"}]), words) == names


def test_a_part_listed_without_its_host_is_asked_about():
    airframe = airframe_of([{"name": "odd", "parts": ["pod", "winglet", "nose", "main"]}])
    asked = stage_questions(airframe)
    assert any("has the right winglet and not the outer" in q for q in asked)
    assert np.isfinite(standing_measures(stand_all(airframe)[0])["width"])

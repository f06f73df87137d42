"""Laws of routes: what a mirror, a way back and a finer look may not change."""

from __future__ import annotations

import copy
import math
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.moves import Pose
from planform.fit.steps import STRAY_MOST, steps_of, stray_of
from planform.fit.swept import (
    at_pose,
    contact_marks,
    corners_of,
    plan_outline,
    simplified_outward,
    swept_outline,
)
from planform.report.way_out.marks import floor_marks
from tests.conftest import PLAIN, ROOM
from tests.formulas import where_tapes_cross
from tests.routes import chained, mirrored, pushed, slid, turned, way_out

SMALL = st.floats(-0.8, 0.8)
TURN = st.floats(-1.2, 1.2)


@cache
def standing_aircraft():
    return pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]


@cache
def box():
    return pf.build_room(place_from(copy.deepcopy(ROOM)))


def route_of(numbers, clearance=0.2):
    makers = []
    for kind, a, b, turn in numbers:
        if kind == "push":
            makers.append(lambda p, a=a: pushed(p, a))
        elif kind == "turn":
            makers.append(lambda p, a=a, b=b, t=turn: turned(p, (a, b), t))
        else:
            makers.append(lambda p, a=a, b=b, t=turn: slid(p, a, b, t))
    return chained(Pose(6.0, 5.0, math.pi), *makers, clearance=clearance)


moves = st.lists(
    st.tuples(st.sampled_from(["push", "turn", "slide"]), SMALL, SMALL, TURN),
    min_size=1,
    max_size=4,
)


@settings(max_examples=12)
@given(moves, st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3))
def test_sweep_holds_the_outline_at_every_instant(numbers, shares):
    route = route_of(numbers)
    shape = plan_outline(standing_aircraft())
    swept = swept_outline(shape, route.moves, 0.15)
    for move in route.moves:
        for share in shares:
            assert swept.covers(at_pose(shape, move.at(share)))


@settings(max_examples=8)
@given(moves)
def test_way_back_sweeps_the_same(numbers):
    route = route_of(numbers)
    shape = plan_outline(standing_aircraft())
    there = swept_outline(shape, route.moves, 0.15)
    back = swept_outline(shape, route.reversed.moves, 0.15)
    assert there.symmetric_difference(back).area < 1e-6


@settings(max_examples=8)
@given(moves)
def test_simplified_line_holds_the_sweep(numbers):
    swept = swept_outline(plan_outline(standing_aircraft()), route_of(numbers).moves, 0.15)
    simple = simplified_outward(swept, 0.04)
    assert simple.covers(swept)
    assert swept.buffer(2.5 * 0.04).covers(simple)


@settings(max_examples=15)
@given(moves, st.floats(0.0, 0.3))
def test_steps_start_and_end_with_the_route_and_stray_little(numbers, clearance):
    route = route_of(numbers, clearance)
    corners = corners_of(plan_outline(standing_aircraft()))
    steps = steps_of(route, corners)
    if not steps:
        return
    assert steps[0].start == route.poses[0]
    assert [m for s in steps for m in s.moves] == [
        m for k, m in enumerate(route.moves) if any(s.has(k) for s in steps)
    ]
    for step in steps:
        allowed = max(0.01, min(STRAY_MOST, 0.5 * clearance))
        assert stray_of(step.moves, step.plain, corners) <= allowed
        end = step.plain.at(1.0).place(corners)
        assert np.abs(end - step.moves[-1].end.place(corners)).max() < 0.01


@given(st.floats(0.2, 11.8), st.floats(0.2, 9.8))
def test_tapes_lead_back_to_the_point(x, y):
    from planform.fit.taping import tape

    (taped,) = tape(box(), [("p", np.array([x, y]))])
    again = where_tapes_cross(
        taped.first.point, taped.second.point, taped.from_first, taped.from_second
    )
    assert again == pytest.approx(np.array([x, y]), abs=1e-9)
    assert not taped.poor


def test_mirrored_route_gives_mirrored_marks():
    """The plain design and the box are their own mirrors; left and right change places."""
    route = way_out(Pose(5.2, 5.0, math.pi))
    other = mirrored(route, 6.0)
    corners = corners_of(plan_outline(standing_aircraft()))
    here = floor_marks(standing_aircraft(), box(), route.poses[0], steps_of(route, corners))
    there = floor_marks(standing_aircraft(), box(), other.poses[0], steps_of(other, corners))
    swap = {"left": "right", "right": "left"}
    assert [g.key for g in here.groups] == [g.key for g in there.groups]
    for group in here.groups:
        if group.key == "chalk":
            continue
        twin = there.group(group.key)
        points = {t.name: t.point for t in twin.taped}
        assert len(points) == len(group.taped)
        for taped in group.taped:
            first, _, rest = taped.name.partition(" ")
            name = f"{swap[first]} {rest}" if first in swap else taped.name
            assert points[name] == pytest.approx(
                np.array([12.0 - taped.point[0], taped.point[1]]), abs=1e-6
            )
    shape = plan_outline(standing_aircraft())
    swept = [swept_outline(shape, r.moves) for r in (route, other)]
    flipped = shapely.transform(swept[0], lambda p: np.array([12.0, 0.0]) + p * [-1.0, 1.0])
    assert flipped.symmetric_difference(swept[1]).area < 1e-4
    floor = shapely.polygons(box().floor)
    for chalk in (there.chalk, shapely.transform(here.chalk, lambda p: [12.0, 0.0] + p * [-1, 1])):
        assert chalk.buffer(1e-6).covers(swept[1].intersection(floor))


def test_wheels_stay_with_the_aircraft():
    """Distances between wheels are the same at every pose."""
    route = way_out(Pose(6.0, 5.0, math.pi))
    marks = contact_marks(standing_aircraft())
    flat = np.array([m.point for m in marks])
    for move in route.moves:
        for share in (0.0, 0.37, 1.0):
            placed = np.array([m.at(move.at(share)) for m in marks])
            for a in range(len(marks)):
                assert np.linalg.norm(placed[a] - placed[0]) == pytest.approx(
                    np.linalg.norm(flat[a] - flat[0])
                )

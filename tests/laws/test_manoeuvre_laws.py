"""Laws of ways out: a mirrored place, a wider door, a way back, exact distances."""

from __future__ import annotations

import copy
import itertools
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.core.motion.cells import WAY, Cells, scene
from planform.core.motion.plan_moves import straight
from planform.core.shape.convex import counter_clockwise
from planform.design.load import design_from, place_from
from planform.fit import proof
from planform.fit.question import question_for
from planform.fit.way_out import greatest_clearance, proved, way_out
from tests.conftest import PLAIN, ROOM

sizes = st.floats(0.4, 1.6)


def box(x0, x1, y0, y1):
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


def cells_of(pieces, width, off, mirror=False, cap=0.4):
    """Pieces in a room 7 m by 6 m whose door stands `off` the middle of its front."""
    side = -1.0 if mirror else 1.0
    flip = np.array([side, 1.0])
    a, b = off - 0.5 * width, off + 0.5 * width
    walls = [box(-3.7, a, -0.2, 0.0), box(b, 3.7, -0.2, 0.0), box(-3.7, 3.7, 6.0, 6.2)]
    walls += [box(-3.7, -3.5, 0.0, 6.0), box(3.5, 3.7, 0.0, 6.0)]
    things = [(0, counter_clockwise(wall * flip), 0.0) for wall in walls]
    body = [counter_clockwise(piece * np.array([1.0, side])) for piece in pieces]
    hull = counter_clockwise(shapely.get_coordinates(hull_of(body))[:-1])
    rings = [(0, piece) for piece in body]
    start = (0.0, 3.2, side * 0.4)
    return Cells(scene(rings, things, hull, [box(-3.5, 3.5, 0.0, 6.0)], 0.25), start, cap)


def hull_of(pieces):
    return shapely.convex_hull(shapely.multipoints(np.concatenate(pieces)))


def crossed(long, wide):
    """A bar of each length, crossed, off the middle."""
    return [box(-long, 0.6 * long, -0.2, 0.2), box(-0.1, 0.3, -0.8 * wide, wide)]


@settings(max_examples=10)
@given(sizes, sizes, st.floats(1.0, 3.0), st.floats(-0.4, 0.4), st.sampled_from([0.0, 0.1]))
def test_a_mirrored_place_has_the_mirrored_answer(long, wide, width, off, c):
    """The boxes differ (their lines are not mirrored), the answers may not."""
    here = cells_of(crossed(long, wide), width, off)
    there = cells_of(crossed(long, wide), width, off, mirror=True)
    one, other = (cells.decide(c, lambda boxes, gone: boxes < 60_000) for cells in (here, there))
    assert {one.answer, other.answer} in ({"way"}, {"none"}) or "open" in (one.answer, other.answer)
    if one.answer == WAY:
        for a, b in zip(one.path[:-1], one.path[1:], strict=True):
            mirror = np.array([-1.0, 1.0, -1.0])
            assert there.scene.keeps(straight(a * mirror, b * mirror), c)


@settings(max_examples=10)
@given(sizes, sizes, st.floats(0.8, 2.4), st.floats(0.05, 0.5))
def test_a_wider_door_never_takes_a_way_away(long, wide, width, more):
    narrow = cells_of(crossed(long, wide), width, 0.0).decide(0.0, lambda n, gone: n < 60_000)
    wider = cells_of(crossed(long, wide), width + more, 0.0)
    answer = wider.decide(0.0, lambda n, gone: n < 60_000).answer
    if narrow.answer == WAY:
        assert answer != "none"
        for a, b in zip(narrow.path[:-1], narrow.path[1:], strict=True):
            assert wider.scene.keeps(straight(a, b), 0.0)
    if answer == "none":
        assert narrow.answer != WAY


@cache
def plain():
    return pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]


def passed(width, off=0.0):
    """The plain aircraft in a room that it can turn in, whose door stands off the middle [m]."""
    room = copy.deepcopy(ROOM)
    room["floor"] = {"width": "13 m", "depth": "10 m"}
    room["spots"][0]["at"] = ["6.5 m", "5.5 m"]
    corner = 6.5 + off - 0.5 * width
    room["doors"][0] |= {"from_corner": f"{corner:.6f} m", "clear_width": f"{width:.6f} m"}
    return question_for(plain(), pf.build_room(place_from(room)))


def test_a_wider_door_never_lowers_the_greatest_clearance():
    found = [greatest_clearance(passed(width), 0.2) for width in (4.6, 5.4)]
    for less, more in itertools.pairwise(found):
        assert more.high >= less.low
    assert found[-1].low > found[0].low


def test_a_place_and_its_mirror_have_the_same_greatest_clearance():
    """The plain aircraft is its own mirror."""
    one, other = (
        greatest_clearance(passed(5.4, 1.5), 0.2),
        greatest_clearance(passed(5.4, -1.5), 0.2),
    )
    assert max(one.low, other.low) <= min(one.high, other.high)


@pytest.mark.parametrize("width", [7.6, 8.9])
def test_a_way_back_is_a_way(width):
    question = passed(width, 0.7)
    route = way_out(question, 0.02).route
    assert proved(question, route.reversed) == pytest.approx(proved(question, route), abs=2e-3)
    assert proof.sweep(question.plan, route.reversed, 0.02).good


rings = st.lists(st.tuples(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0)), min_size=4, max_size=9).map(
    lambda points: shapely.convex_hull(shapely.multipoints(points))
)


@given(rings, rings, st.floats(-4.0, 4.0), st.floats(-4.0, 4.0), st.floats(-3.2, 3.2))
def test_clearance_is_the_distance_of_a_general_library(ring, thing, x, y, heading):
    """Against shapely: exact where apart, not above zero where they meet."""
    if min(ring.area, thing.area) < 1e-2:
        return
    body, fixed = (
        counter_clockwise(np.asarray(shape.exterior.coords)[:-1]) for shape in (ring, thing)
    )
    built = scene([(0, body)], [(0, fixed, 0.0)], body, [box(-9, 9, -9, 9)], 0.1)
    there = shapely.transform(ring, lambda p: at(x, y, heading, p))
    apart = float(shapely.distance(there, thing))
    gap, _ = built.clearance((x, y, heading))
    if apart > 1e-9:
        assert gap == pytest.approx(apart, abs=1e-9)
    else:
        assert gap <= 1e-9


def at(x, y, heading, points):
    from planform.fit.moves import Pose

    return Pose(x, y, heading).place(points)

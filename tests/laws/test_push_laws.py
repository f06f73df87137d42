"""Laws of the push out of a door: what it must agree with, and what must change it exactly."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.door import passage
from planform.fit.push import push_through
from planform.fit.push_path import NEAR_ENOUGH, PushPath
from tests.conftest import DESIGNS, PLAIN, ROOM

STANDING = pf.stand_all(pf.build(design_from(PLAIN)))[0]


def room_with(ground=(), ceiling=True, **door):
    table = copy.deepcopy(ROOM)
    if not ceiling:
        del table["ceiling"]
    if ground:
        points = [{"at": f"{a:.9f} m", "height": f"{h:.9f} m"} for a, h in ground]
        table["doors"][0]["ground"] = points
    table["doors"][0] |= door
    return pf.build_room(place_from(table))


def way(ground=(), ahead=1, ceiling=True, **door):
    room = room_with(ground, ceiling, **door)
    return PushPath(STANDING, room, room.place.doors[0], ahead)


def least(one, kind):
    return one.least(kind, *one.reach)


def leaning():
    """The demo with a flat tyre, which leans to one side."""
    airframe = pf.build(pf.load(DESIGNS / "marram.toml"))
    return pf.stand(airframe, airframe.design.stages[-1], "flat_tyre")


@pytest.mark.parametrize("standing", [STANDING, leaning()], ids=["level", "flat tyre"])
@pytest.mark.parametrize("ahead", [1, -1])
def test_on_a_level_floor_the_push_is_the_straight_passage(standing, ahead):
    room = room_with()
    door = room.place.doors[0]
    push, level = push_through(standing, room, door, ahead), passage(standing, room, door)
    assert not push.problem
    assert push.least("head").gap == pytest.approx(level.head_gap, abs=1e-9)
    sides = push.least("left jamb"), push.least("right jamb")
    assert sum(side.gap for side in sides) == pytest.approx(level.rolling_gap, abs=2e-3)
    assert sum(side.gap + side.bracket for side in sides) >= level.rolling_gap - 1e-9
    hung = [p for p in standing.parts if p.role != "wheel"]
    low = min(float(p.points[:, 2].min()) for p in hung) - standing.bulge
    below = [t.gap for t in (push.least("ground"), push.least("legs")) if t is not None]
    assert min(below) == pytest.approx(low, abs=1e-9)
    ceiling = 3.0 - float(standing.all_points()[:, 2].max()) - standing.bulge
    assert push.least("ceiling").gap == pytest.approx(ceiling, abs=1e-9)


@settings(max_examples=8)
@given(more=st.floats(0.001, 0.4), rise=st.floats(-0.2, 0.1))
def test_raising_the_head_raises_the_gap_under_it_by_as_much(more, rise):
    ground = [(-1.0, 0.0), (0.0, 0.0), (2.0, rise)]
    here, there = (
        least(way(ground, clear_height=f"{height:.9f} m"), "head") for height in (2.5, 2.5 + more)
    )
    assert there.gap - here.gap == pytest.approx(more, abs=NEAR_ENOUGH)


@settings(max_examples=6)
@given(rise=st.floats(-0.15, 0.15), at=st.floats(0.0, 0.8), lip=st.floats(0.0, 0.08))
def test_nose_first_out_is_tail_first_over_the_ground_turned_about(rise, at, lip):
    """The push nose first, run backwards and seen from the other side of the wall."""
    out = [(-6.0, 0.0), (at, rise), (at, rise + lip), (at + 0.05, rise + lip), (6.0, rise)]
    turned = [(0.1 - a, h - rise) for a, h in reversed(out)]
    for kind in ("head", "left jamb"):
        ahead = least(way(out, 1, False, clear_height="2.4 m"), kind)
        height = f"{2.4 - rise:.9f} m"
        astern = least(way(turned, -1, False, clear_height=height), kind)
        assert ahead.gap == pytest.approx(astern.gap, abs=2.0 * NEAR_ENOUGH)


@settings(max_examples=5)
@given(height=st.floats(0.01, 0.1), start=st.floats(-1.0, 1.0))
def test_a_plank_on_the_other_side_swaps_left_and_right(height, start):
    found = []
    for side in (1.0, -1.0):
        plank = {
            "start": f"{start:.6f} m",
            "end": f"{start + 0.8:.6f} m",
            "middle": f"{side:.1f} m",
            "width": "0.3 m",
            "height": f"{height:.6f} m",
        }
        found.append(way(planks=[plank]))
    right, left = found
    assert least(right, "right jamb").gap == pytest.approx(
        least(left, "left jamb").gap, abs=NEAR_ENOUGH
    )
    assert least(right, "head").gap == pytest.approx(least(left, "head").gap, abs=NEAR_ENOUGH)


@settings(max_examples=8)
@given(
    at=st.floats(-1.5, 2.0),
    width=st.sampled_from([0.001, 0.02, 0.2]),
    lip=st.floats(0.005, 0.1),
    kind=st.sampled_from(["head", "right jamb", "ground"]),
)
def test_no_lip_is_stepped_over(at, width, lip, kind):
    """A dense walk never finds less than what is proved, and what is found is truly there."""
    one = way([(-9.0, 0.0), (at, 0.0), (at, lip), (at + width, lip), (at + width, 0.0)])
    tight = least(one, kind)
    assert tight.bracket <= NEAR_ENOUGH + 1e-12
    assert one.gap(kind, tight.pose.along) == pytest.approx(tight.gap + tight.bracket, abs=1e-9)
    walked = min(one.gap(kind, float(s)) for s in np.linspace(*one.reach, 400))
    assert walked >= tight.gap - 1e-9


def test_a_lip_never_gives_more_room_than_the_level_floor_has():
    """The level floor's tightest instants are still there beside a narrow lip far from them."""
    level = push_through(STANDING, room_with(), room_with().place.doors[0])
    before = dict.fromkeys(("head", "ground"), np.inf)
    for lip in (0.0, 0.03, 0.09):
        one = way([(-9.0, 0.0), (-0.1, 0.0), (-0.1, lip), (-0.08, lip), (-0.08, 0.0)])
        for kind in before:
            gap = least(one, kind).gap
            assert gap <= level.least(kind).gap + NEAR_ENOUGH
            before[kind] = gap
    assert before["ground"] < level.least("ground").gap - 0.05

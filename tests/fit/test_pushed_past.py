"""A straight push through a door past open leaves, what is outside, and edges for wheels."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import place_from
from planform.design.models import Design
from planform.fit.clearance import gap_to
from planform.fit.door import passage
from planform.fit.moves import Pose
from planform.fit.push import push_through
from planform.fit.push_path import NEAR_ENOUGH, PushPath
from planform.fit.pushed_past import Course, courses, drawn_back
from planform.fit.room import build_room
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE, FITS, NOT
from planform.study.spreads_of_fit import with_spreads
from tests.conftest import PLAIN, ROOM

DESIGN = Design.model_validate(PLAIN)
PARKED = stand_on(build(DESIGN), DESIGN.stages[0])
POINTS = PARKED.all_points()
LONG = float(np.ptp(POINTS[:, 0]))
HALF = 0.5 * float(np.ptp(POINTS[:, 1]))
HIGH = float(POINTS[:, 2].max())
BULGE = PARKED.bulge


def metres(*values):
    return [f"{value:.6f} m" for value in values]


def fence(x0, y0, x1, y1, height=1.2, thickness=0.1, name="fence"):
    line = [metres(x0, y0), metres(x1, y1)]
    high, thick = metres(height, thickness)
    return {"name": name, "line": line, "height": high, "thickness": thick}


def room_with(outside=None, pits=(), **door):
    table = copy.deepcopy(ROOM)
    if outside:
        table["outside"] = outside
    if pits:
        table["floor"]["pits"] = list(pits)
    table["doors"][0] |= door
    return build_room(place_from(table))


def checks(room, standing=PARKED):
    return {c.key: c for c in judge_straight(standing, room).checks}


def test_a_place_without_such_things_has_no_such_checks():
    assert set(checks(room_with())) == {
        "wall", "ceiling", "door head", "door: width", "door: head",
    }  # fmt: skip


@pytest.mark.parametrize("beyond", [0.4, 0.05, -0.3])
def test_a_fence_across_the_way_counts_to_where_all_of_it_is_outside(beyond):
    """Wholly outside it reaches its length and what its curves swell beyond the outer wall side."""
    face = 0.1 + LONG + BULGE + beyond
    room = room_with({"fences": [fence(-5, -face - 0.05, 17, -face - 0.05, height=4.0)]})
    found = checks(room)["door: outside"]
    assert beyond - BULGE - 1e-6 <= found.gap <= beyond + 1e-6  # by the part that is last
    assert found.verdict == (FITS if beyond > 0.2 else CARE if beyond > 0.0 else NOT)
    assert found.detail.endswith("and fence, nose first")
    assert found.wanted == 0.1


def test_a_fence_beside_the_way_is_as_far_as_its_face_is_from_the_tip():
    side = 6.0 + HALF + 0.25
    room = room_with({"fences": [fence(side, -1.0, side, -3.0, height=4.0, thickness=0.02)]})
    found = checks(room)["door: outside"]
    # the pod's, wings' and winglets' farthest points beside it are found at their own heights
    assert found.gap == pytest.approx(0.25 - 0.01, abs=BULGE + 2e-3)
    assert "winglet" in found.detail or "wing" in found.detail


def test_a_low_kerb_passes_under_a_wing_and_stops_a_wheel():
    low = float(POINTS[:, 2].min())
    assert low == pytest.approx(0.0, abs=1e-9)
    kerb = {"fences": [fence(8.0, -1.0, 11.0, -1.0, height=0.15)]}
    clear = checks(room_with(kerb))["door: outside"]
    assert clear.verdict != NOT
    kerb = {"fences": [fence(6.5, -1.0, 11.0, -1.0, height=0.15, name="kerb")]}
    struck = checks(room_with(kerb))["door: outside"]
    assert struck.verdict == NOT
    assert "main" in struck.detail
    assert "kerb" in struck.detail


def test_a_power_line_keeps_its_distance():
    line = {"name": "feeder", "line": [metres(-20, -3), metres(30, -3)], "height": "6 m",
            "distance": f"{6.0 - HIGH - 0.2:.6f} m"}  # fmt: skip
    found = checks(room_with({"power_lines": [line]}))["door: outside"]
    assert 0.2 - BULGE - 1e-6 <= found.gap <= 0.2 + 1e-6
    assert found.wanted is None
    assert "space kept round feeder" in found.detail


def test_an_apron_too_shallow_is_told_of_its_wheels_alone():
    apron = {"door": "door", "depth": "20 m", "width": "9 m"}
    assert "door: wheels" not in checks(room_with({"aprons": [apron]}))
    short = checks(room_with({"aprons": [apron | {"depth": "3 m"}]}))["door: wheels"]
    assert short.verdict == NOT
    assert short.detail == "nose and edge of the apron at door, nose first"
    narrow = checks(room_with({"aprons": [apron | {"width": "1.8 m"}]}))["door: wheels"]
    assert "main" in narrow.detail


def pit(x, y, size=0.4):
    ring = [metres(x, y), metres(x + size, y), metres(x + size, y + size), metres(x, y + size)]
    return {"name": "pit", "outline": ring}


def test_a_pit_on_the_way_of_a_wheel_stops_it_and_beside_it_nothing_is_told():
    # main wheels run at 1 m either side of the door's middle, which is at 6 m
    assert "door: wheels" not in checks(room_with(pits=[pit(5.3, 0.5)]))
    hit = checks(room_with(pits=[pit(4.8, 0.5)]))["door: wheels"]
    assert hit.verdict == NOT
    assert hit.detail == "right main and pit, nose first"
    # behind where they begin: wholly inside, the wheels are no farther in than the tail
    assert "door: wheels" not in checks(room_with(pits=[pit(4.8, LONG + 0.3)]))


LEAF = {"height": "2.4 m", "thickness": "50 mm", "width": "1 m"}


def test_a_leaf_square_to_the_opening_is_as_near_as_its_jamb():
    swung = LEAF | {"hinge": "left", "swings": "outside", "open": "90 deg"}
    found = checks(room_with(hinged=[swung]))
    assert found["door: leaf"].gap == pytest.approx(5.0 - HALF - BULGE, abs=2e-3)
    assert found["door: leaf"].detail.endswith("and left leaf of door, nose first")


def test_a_leaf_half_open_is_in_the_way_of_a_tip():
    """Open by 30 deg a leaf of 2.5 m leaves 2.5 cos 30 deg of the opening closed."""
    swung = LEAF | {"hinge": "left", "swings": "outside", "open": "30 deg", "width": "2.5 m"}
    found = checks(room_with(hinged=[swung]))["door: leaf"]
    reaches = 2.5 * np.cos(np.radians(30.0))
    assert found.verdict == NOT
    assert -found.gap <= reaches - (5.0 - HALF) + 2.0 * BULGE + 2e-3


def test_what_hangs_over_the_opening_is_told_with_its_part():
    leaf = {"leaf_height": "2.6 m", "thickness": "40 mm", "track_radius": "0.3 m",
            "track_height": "2.7 m"}  # fmt: skip
    plain = checks(room_with(sectional=leaf))
    assert plain["door: leaf"].gap == pytest.approx(plain["door: head"].gap, abs=BULGE)
    box = {"from_wall": "3 m", "length": "0.6 m", "width": "0.3 m", "underside": "1.4 m",
           "height": "0.2 m"}  # fmt: skip
    low = checks(room_with(sectional=leaf | {"opener": box}))["door: leaf"]
    assert "opener of door" in low.detail
    assert low.gap < plain["door: leaf"].gap


def test_the_verdict_of_a_way_out_that_goes_round_is_not_that_of_the_straight_push():
    face = 0.1 + LONG - 0.5
    room = room_with({"fences": [fence(5, -face, 7, -face)]})
    answer = judge_straight(PARKED, room)
    found = next(c for c in answer.checks if c.key == "door: outside")
    assert found.verdict == NOT
    assert found.beside
    assert answer.door_verdict == NOT


def test_tolerances_of_the_fence_are_measured():
    face = 0.1 + LONG + 0.3
    table = copy.deepcopy(ROOM)
    one = fence(-5, -face, 17, -face, height=4.0)
    one["line"] = [[x, f"{y} ± 5 mm (measured)"] for x, y in one["line"]]
    table["outside"] = {"fences": [one]}
    room = build_room(place_from(table))
    found = {c.key: c for c in with_spreads(judge_straight(PARKED, room), room).checks}
    assert found["door: outside"].worst == pytest.approx(0.005, abs=1e-6)


@settings(max_examples=8)
@given(
    x=st.floats(0.5, 11.5),
    y=st.floats(-6.0, -0.8),
    turn=st.floats(0.0, 3.1),
    size=st.floats(0.2, 2.0),
    height=st.floats(0.05, 2.5),
    ahead=st.sampled_from([1, -1]),
)
def test_a_dense_walk_finds_the_same_gap_and_never_less(x, y, turn, size, height, ahead):
    """Two ways: every pose by itself, and the push over ground, on a floor that is level."""
    dx, dy = size * np.cos(turn), size * np.sin(turn)
    room = room_with({"fences": [fence(x, y, x + dx, min(y + dy, -0.3), height=height)]})
    course = Course("door", 0.0, ahead)
    found = course.nearest(PARKED, room, "outside")
    pose, run = course.begun(PARKED, room)
    thing = next(one for one in room.fixed if one.outside)
    best = np.inf
    for share in np.linspace(0.0, 1.0, 81):
        here = Pose(pose.x + share * run[0], pose.y + share * run[1], pose.heading)
        for part in PARKED.parts:
            solid = part.name, here.place(part.points), part.faces, part.bulge
            near = gap_to(solid, thing, 3.0)
            best = min(best, np.inf if near is None else near.gap)
    step = float(np.linalg.norm(run)) / 80
    if best >= 0.0 and np.isfinite(best):
        assert best - step <= found.gap <= best + 1e-9
    assert found.gap < 0.0 or best >= 0.0
    push = push_through(PARKED, room, room.place.doors[0], ahead)
    tight = push.least("outside beside")
    if found.gap > 0.0 and found.gap < 2.5:
        assert tight.gap == pytest.approx(found.gap, abs=2.0 * NEAR_ENOUGH + BULGE)
    elif found.gap < -BULGE:
        assert tight.gap < 0.0


@settings(max_examples=4)
@given(
    rise=st.floats(-0.2, 0.2),
    low=st.floats(2.2, 3.0),
    y=st.floats(-4.0, -1.0),
)
def test_over_a_ramp_what_hangs_outside_is_never_nearer_than_told(rise, low, y):
    thing = {"name": "sign", "kind": "hanging", "outline": [
        metres(2, y), metres(9, y), metres(9, y + 0.3), metres(2, y + 0.3)],
        "bottom": f"{low:.6f} m"}  # fmt: skip
    ground = [{"at": "0.1 m", "height": "0 m"}, {"at": "3 m", "height": f"{rise:.6f} m"}]
    room = room_with({"things": [thing]}, ground=ground)
    way = PushPath(PARKED, room, room.place.doors[0], 1)
    start, end = way.stretch("outside over")
    tight = way.least("outside over", start, end)
    walked = [way.gap("outside over", float(at)) for at in np.linspace(start, end, 50)]
    assert min(walked) >= tight.gap - 1e-9
    assert min(walked) <= tight.gap + tight.bracket + 0.1


def test_a_raised_apron_edge_stops_the_wheels_that_are_raised_with_it():
    ground = [{"at": "0.1 m", "height": "0 m"}, {"at": "1 m", "height": "0.2 m"}]
    apron = {"door": "door", "depth": "3 m", "width": "9 m"}
    found = checks(room_with({"aprons": [apron]}, ground=ground))["door: wheels on the way"]
    assert found.verdict == NOT
    assert found.detail == "nose and edge of the apron at door, nose first"
    assert found.beside


def test_a_thing_drawn_back_covers_all_places_between():
    ring = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 0.2], [0.0, 1.0]])
    swept = drawn_back(ring, np.array([0.0, 3.0]))
    import shapely

    whole = shapely.polygons(swept)
    for share in np.linspace(0.0, 1.0, 9):
        there = shapely.polygons(ring - share * np.array([0.0, 3.0]))
        assert there.difference(whole).area < 1e-9
    assert whole.area == pytest.approx(shapely.polygons(ring).area + 2.0 * 3.0)


def test_turned_on_dollies_both_noses_are_tried():
    narrow = room_with(clear_width=f"{2.0 * HALF - 0.2:.6f} m", from_corner="2 m")
    passed = passage(PARKED, narrow, narrow.place.doors[0])
    assert not passed.rolling
    turns = {round(c.turned, 9) for c in courses(PARKED, passed, (1, -1))}
    assert turns == {round(passed.best_heading, 9), -round(passed.best_heading, 9)}

"""A floor that falls: gaps told over it against plane geometry of the plumb room."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import design_from, place_from
from planform.design.problems import InputError
from planform.design.questions import assumptions
from planform.fit.clearance import clearances, placed
from planform.fit.door import passages
from tests.conftest import PLAIN, ROOM

SIDES = {
    "front": (1, 0.0, 1.0), "back": (1, 10.0, -1.0), "left": (0, 0.0, 1.0), "right": (0, 12.0, -1.0)
}  # fmt: skip
"""Axis across each wall of the room, where it stands, and the way in."""


def standing_of(heights):
    table = copy.deepcopy(PLAIN)
    table["stances"]["gear"]["heights"] = heights
    return stand_all(build(design_from(table)))[0]


GEAR, BLOCKS = standing_of({}), standing_of({"nose": "0.2 m", "left main": "0.05 m"})


def sloping(toward, drop, heading=180.0, x=6.0, y=5.0, **more):
    table = copy.deepcopy(ROOM) | more
    table["floor"]["fall"] = {"toward": toward, "drop": f"{drop:.9f} m"}
    spot = table["spots"][0]
    spot["at"], spot["heading"] = [f"{x:.6f} m", f"{y:.6f} m"], f"{heading:.6f} deg"
    return place_from(table)


@settings(max_examples=8)
@given(
    toward=st.sampled_from(list(SIDES)),
    drop=st.floats(0.01, 0.2),
    heading=st.floats(0.0, 360.0),
    blocks=st.booleans(),
)
def test_gaps_of_a_sloping_floor_are_the_plumb_rooms_from_the_safe_side(
    toward, drop, heading, blocks
):
    """A plumb wall over the slope is the plane through its foot and the true upright."""
    standing = BLOCKS if blocks else GEAR
    place = sloping(toward, drop, heading, doors=[])
    room = pf.build_room(place)
    spot = place.spots[0]
    points = np.concatenate([p for _, p, _, _ in placed(standing, spot)])
    axis, low, high = (1, 0.0, 10.0) if toward in ("front", "back") else (0, 0.0, 12.0)
    rise = drop / (high - low) * (1.0 if toward in ("front", "left") else -1.0)
    near = clearances(standing, room, spot, 20.0)
    least = {kind: min(c.gap for c in near if c.kind == kind) for kind in ("wall", "ceiling")}
    feet = [(a, foot, sense) for a, foot, sense in SIDES.values()]
    exact = []
    for across, foot, sense in feet:
        lean = rise if across == axis else 0.0
        away = (points[:, across] - foot - lean * points[:, 2]) * sense / np.hypot(1.0, lean)
        exact.append(float(away.min()))
    assert least["wall"] <= min(exact) + 1e-6
    assert least["wall"] >= min(exact) - standing.bulge - abs(rise) * room.top - 1e-6
    over = 3.0 + (high - points[:, axis] if rise > 0.0 else points[:, axis] - low) * abs(rise)
    ceiling = float((over - points[:, 2]).min()) / np.hypot(1.0, rise)
    assert ceiling - standing.bulge - 1.5e-3 < least["ceiling"] < ceiling + 1.5e-3


@settings(max_examples=8)
@given(
    ways=st.tuples(st.sampled_from(["front", "back"]), st.sampled_from(["left", "right"])),
    drops=st.tuples(st.floats(0.01, 0.2), st.floats(0.01, 0.2)),
    swap=st.booleans(),
    blocks=st.booleans(),
)
def test_a_floor_that_falls_two_ways_is_one_plane(ways, drops, swap, blocks):
    """Walls lean by the fall across them, a level ceiling by both; gaps are never told larger."""
    standing = BLOCKS if blocks else GEAR
    table = copy.deepcopy(ROOM) | {"doors": []}
    falls = [
        {"toward": way, "drop": f"{drop:.9f} m"} for way, drop in zip(ways, drops, strict=True)
    ]
    names = ("second_fall", "fall") if swap else ("fall", "second_fall")
    table["floor"] |= dict(zip(names, falls, strict=True))
    table["spots"][0] |= {"at": ["6 m", "5 m"], "heading": "180 deg"}
    place = place_from(table)
    room, spot = pf.build_room(place), place.spots[0]
    points = np.concatenate([p for _, p, _, _ in placed(standing, spot)])
    left, front = ways[1] == "left", ways[0] == "front"
    rise = np.array([drops[1] / 12.0 * (1.0 if left else -1.0),
                     drops[0] / 10.0 * (1.0 if front else -1.0)])  # fmt: skip
    near = clearances(standing, room, spot, 20.0)
    least = {kind: min(c.gap for c in near if c.kind == kind) for kind in ("wall", "ceiling")}
    exact = min(
        float(((points[:, a] - foot - rise[a] * points[:, 2]) * sense).min()) / np.hypot(1, rise[a])
        for a, foot, sense in SIDES.values()
    )
    slack = float(np.abs(rise).sum()) * room.top
    assert exact - standing.bulge - slack - 1e-6 <= least["wall"] <= exact + 1e-6
    top = np.where(rise > 0.0, [12.0, 10.0], 0.0)  # the high corner, under the least height
    over = 3.0 + (top - points[:, :2]) @ rise - points[:, 2]
    ceiling = float(over.min()) / np.sqrt(1.0 + rise @ rise)
    assert ceiling - standing.bulge - min(drops) - 2e-3 < least["ceiling"] < ceiling + 1.5e-3


@pytest.mark.parametrize(
    ("falls", "told"),
    [
        ({"second_fall": "left"}, "fall, and second_fall across it"),
        ({"fall": "left", "second_fall": "right"}, "across that toward the left"),
        ({"fall": "front", "second_fall": "front"}, "across that toward the front"),
    ],
)
def test_two_falls_run_across_each_other(falls, told):
    table = copy.deepcopy(ROOM)
    table["floor"] |= {name: {"toward": way, "drop": "2 cm"} for name, way in falls.items()}
    with pytest.raises(pf.InputError) as refused:
        place_from(table)
    assert told in " ".join(problem.allowed for problem in refused.value.problems)


@given(toward=st.sampled_from(list(SIDES)), drop=st.floats(0.01, 0.2))
def test_a_door_head_counts_at_the_high_end_of_its_sill(toward, drop):
    level = passages(GEAR, pf.build_room(place_from(copy.deepcopy(ROOM))))[0]
    found = passages(GEAR, pf.build_room(sloping(toward, drop)))[0]
    lower = 0.5 * drop / 12.0 * 10.0 if toward in ("left", "right") else 0.0
    assert found.head_gap == pytest.approx(level.head_gap - lower, abs=1e-6)


def test_a_fall_of_nothing_much_changes_next_to_nothing_and_is_told():
    level = pf.build_room(place_from(copy.deepcopy(ROOM)))
    falling = pf.build_room(sloping("front", 0.0002))
    gaps = [
        sorted(c.gap for c in clearances(GEAR, room, room.place.spots[0], 20.0))
        for room in (level, falling)
    ]
    assert gaps[1] == pytest.approx(gaps[0], abs=3e-4)
    told = " ".join(assumptions(GEAR.airframe.design, falling.place))
    assert "heights are over the floor right under what they are of" in told


def test_a_ramp_is_no_floor():
    with pytest.raises(InputError, match="1 in 40"):
        sloping("front", 0.5)


@pytest.mark.parametrize("pitch", [0.05, 0.4])
def test_the_gap_to_a_sloped_ceiling_is_square_to_it(pitch):
    """A mono-pitch plane over all points: the distance of a point from a plane."""
    table = copy.deepcopy(ROOM)
    low, high = 3.0, 3.0 + 10.0 * pitch
    levels = [{"at": "0 m", "height": f"{low} m"}, {"at": "10 m", "height": f"{high} m"}]
    table["ceiling"] = {"along": "depth", "profile": levels}
    place = place_from(table)
    spot = place.spots[0]
    near = clearances(GEAR, pf.build_room(place), spot, 20.0)
    points = np.concatenate([p for _, p, _, _ in placed(GEAR, spot)])
    exact = float((low + pitch * points[:, 1] - points[:, 2]).min()) / np.hypot(1.0, pitch)
    found = min((c for c in near if c.kind == "ceiling"), key=lambda c: c.gap)
    assert exact - GEAR.bulge - 1e-9 <= found.gap <= exact + 1e-9
    assert np.linalg.norm(found.at_thing - found.at_part) == pytest.approx(found.gap, abs=0.005)
    assert found.at_thing[2] == pytest.approx(low + pitch * found.at_thing[1], abs=1e-9)

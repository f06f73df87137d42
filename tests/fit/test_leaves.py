"""Leaves of open doors against trigonometry by hand, and what is told of them."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.outlines import band_outline
from planform.airframe.stance import stand_on
from planform.design.load import place_from
from planform.design.models import Design
from planform.design.problems import InputError
from planform.fit.check import ROOM as IN_ROOM
from planform.fit.clearance import clearances, placed
from planform.fit.leaves import bifold_projection, sectional_reach, swings_of
from planform.fit.moves import Pose
from planform.fit.room import build_room, without_doors
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE
from planform.study.spreads_of_fit import with_spreads
from tests.conftest import PLAIN, ROOM

PARKED = stand_on(build(Design.model_validate(PLAIN)), Design.model_validate(PLAIN).stages[0])

SECTIONAL = {
    "leaf_height": "2.6 m",
    "thickness": "40 mm",
    "track_radius": "0.3 m",
    "track_height": "2.7 m",
}
OPENER = {
    "from_wall": "3 m",
    "length": "0.6 m",
    "width": "0.3 m",
    "underside": "2.4 m",
    "height": "0.2 m",
}
LEAF = {"hinge": "left", "swings": "inside", "open": "90 deg", "width": "2 m", "height": "2.4 m",
        "thickness": "50 mm"}  # fmt: skip
SLID = {"beside": "right", "face": "inside", "width": "0.9 m", "height": "2.4 m",
        "thickness": "50 mm"}  # fmt: skip


def table_with(wall="front", **leaf):
    table = copy.deepcopy(ROOM)
    table["doors"][0] |= {"wall": wall} | leaf
    if wall in ("left", "right"):
        table["doors"][0] |= {"clear_width": "6 m"}
    return table


def room_with(**leaf):
    return build_room(place_from(table_with(**leaf)))


def found(room, name):
    return [thing for thing in room.fixed if thing.name == name]


def test_a_sectional_leaf_lies_as_far_in_as_its_length_round_the_curve():
    # lower edge at 2.5, spring line at 2.4: 0.1 m up the curve, at asin(1/3)
    leaf = room_with(sectional=SECTIONAL).place.doors[0].sectional
    level = 2.6 - 0.3 * (math.pi / 2 - math.asin(1 / 3))
    assert sectional_reach(leaf, 2.5) == pytest.approx(0.3 + level, abs=1e-12)
    # stopped half way, 1.4 m of it are still upright
    assert sectional_reach(leaf, 1.0) == pytest.approx(0.3 + 2.6 - 1.4 - 0.15 * math.pi, abs=1e-12)


@given(lower=st.floats(0.3, 2.7), radius=st.floats(0.1, 0.6), leaf=st.floats(2.7, 4.0))
@settings(max_examples=40)
def test_the_pieces_of_a_sectional_leaf_enclose_the_leaf_walked_along_its_rails(
    lower, radius, leaf
):
    room = room_with(
        clear_height=f"{lower:.6f} m",
        sectional=SECTIONAL | {"leaf_height": f"{leaf:.6f} m", "track_radius": f"{radius:.6f} m"},
    )
    pieces = found(room, "leaf of door")
    spring = 2.7 - radius
    # the rail as a line of points, walked a leaf's length from the lower edge
    turn = np.linspace(0.0, math.pi / 2, 200)
    up = np.column_stack([np.zeros(300), np.linspace(0.0, spring, 300)])
    bend = np.column_stack([radius * (1 - np.cos(turn)), spring + radius * np.sin(turn)])
    flat = np.column_stack([np.linspace(radius, radius + leaf, 300), np.full(300, 2.7)])
    line = np.concatenate([up, bend, flat])
    line = line[line[:, 1] >= lower - 1e-9]
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    for q, z in line[run <= leaf - 0.02]:
        assert any(
            t.low - 1e-6 <= z <= t.high + 1e-6
            and t.outline[:, 1].min() - 1e-6 <= q <= t.outline[:, 1].max() + 1e-6
            for t in pieces
        ), (q, z)
    assert min(t.low for t in pieces) >= lower - 1e-5


def test_a_partly_open_leaf_leaves_its_rails_under_the_ceiling():
    room = room_with(clear_height="1.5 m", sectional=SECTIONAL | {"opener": OPENER})
    (one, two), (box,) = found(room, "rails of door"), found(room, "opener of door")
    assert one.low == two.low == pytest.approx(2.7)
    far = max(thing.outline[:, 1].max() for thing in (one, two))
    assert far == pytest.approx(0.3 + 2.6, abs=1e-7)
    assert np.ptp(box.outline, axis=0) == pytest.approx([0.3, 0.6])
    assert box.outline.mean(axis=0) == pytest.approx([6.0, 3.3])
    assert (box.low, box.high) == pytest.approx((2.4, 2.6))


@given(height=st.floats(3.0, 6.0), share=st.floats(0.5, 0.95))
@settings(max_examples=25)
def test_a_bifold_stands_out_by_the_height_of_its_triangle(height, share):
    clear = share * height
    fold = {"leaf_height": f"{height:.6f} m", "thickness": "50 mm", "folds": "outside"}
    table = table_with(clear_height=f"{clear:.6f} m", bifold=fold)
    table["ceiling"] = {"height": "8 m"}
    room = build_room(place_from(table))
    pieces = found(room, "leaf of door")
    # both panels from their hinges to the middle one: equal arms over the drop
    drop = height - clear
    out = math.sqrt((height / 2) ** 2 - (drop / 2) ** 2)
    assert bifold_projection(room.place.doors[0].bifold, clear) == pytest.approx(out, abs=1e-4)
    assert -min(t.outline[:, 1].min() for t in pieces) == pytest.approx(0.1 + out + 0.05, abs=1e-4)
    assert min(t.low for t in pieces) == pytest.approx(clear, abs=1e-5)
    for share_out in np.linspace(0.0, 1.0, 21):
        for z in (clear + share_out * drop / 2, height - share_out * drop / 2):
            q = -0.1 - share_out * out
            assert any(
                t.low - 1e-4 <= z <= t.high + 1e-4
                and t.outline[:, 1].min() - 1e-4 <= q <= t.outline[:, 1].max() + 1e-4
                for t in pieces
            )


@given(
    turn=st.floats(20.0, 90.0),
    thick=st.floats(0.01, 0.08),
    hinge=st.sampled_from(["left", "right"]),
)
@settings(max_examples=25)
def test_a_hinged_leaf_sweeps_its_sector_and_little_more(turn, thick, hinge):
    room = room_with(
        hinged=[LEAF | {"open": f"{turn:.4f} deg", "thickness": f"{thick:.6f} m", "hinge": hinge}]
    )
    (swing,) = swings_of(room.place, room.place.doors[0])
    area = shapely.polygons(swing.outline).area
    radius, angle = math.hypot(2.0, thick), math.radians(turn)
    sector = 0.5 * radius**2 * (angle + math.atan2(thick, 2.0))
    assert sector - 1e-5 <= area <= sector * 1.002 + 2.0 * thick + thick**2
    # wherever it is swung to on the way it is inside
    side = 1.0 if hinge == "left" else -1.0
    pin = np.array([6.0 + side * 5.0, 0.0])
    whole = shapely.polygons(swing.outline).buffer(1e-5)
    for a in np.linspace(0.0, math.radians(turn), 9):
        way = np.array([-side * math.cos(a), math.sin(a)])
        off = np.array([side * math.sin(a), math.cos(a)]) * thick
        ring = [pin, pin + 2.0 * way, pin + 2.0 * way + off, pin + off]
        assert whole.covers(shapely.polygons(np.array(ring)))


def test_a_leaf_at_a_right_angle_stands_clear_of_its_opening_inside_or_outside():
    for side, x in (("left", 11.0), ("right", 1.0)):
        for swings in ("inside", "outside"):
            room = room_with(hinged=[LEAF | {"hinge": side, "swings": swings}])
            (leaf,) = found(room, f"{side} leaf of door")
            xs, ys = leaf.outline.T
            away = 0.05 if side == "left" else -0.05
            assert sorted({round(v, 9) for v in xs}) == pytest.approx(sorted([x, x + away]))
            ends = [0.0, 2.0] if swings == "inside" else [-2.1, -0.1]
            assert sorted({round(v, 9) for v in ys}) == pytest.approx(ends)


def test_sliding_leaves_pass_one_another_beside_the_opening():
    second = SLID | {"off_wall": "60 mm", "past_jamb": "20 mm"}
    room = room_with(sliding=[SLID, second, SLID | {"beside": "left", "face": "outside"}])
    (one,), (two,) = (found(room, f"right leaf {k} of door") for k in (1, 2))
    (out,) = found(room, "left leaf of door")
    assert one.outline.min(axis=0) == pytest.approx([0.1, 0.0])
    assert one.outline.max(axis=0) == pytest.approx([1.0, 0.05])
    assert two.outline.min(axis=0) == pytest.approx([0.08, 0.06])
    assert out.outline.max(axis=0) == pytest.approx([11.9, -0.1])
    assert out.outline.min(axis=0) == pytest.approx([11.0, -0.15])


def test_a_drum_hangs_at_the_head_over_the_opening():
    room = room_with(
        roller={"face": "inside", "depth": "0.4 m", "height": "0.45 m", "past_jambs": "0.1 m"}
    )
    (drum,) = found(room, "drum of door")
    assert (drum.low, drum.high) == pytest.approx((2.5, 2.95))
    assert drum.outline.min(axis=0) == pytest.approx([0.9, 0.0])
    assert drum.outline.max(axis=0) == pytest.approx([11.1, 0.4])


@pytest.mark.parametrize(
    "leaf",
    [
        {"sectional": SECTIONAL | {"opener": OPENER}},
        {"bifold": {"leaf_height": "3 m", "thickness": "50 mm", "folds": "inside"}},
        {"hinged": [LEAF]},
        {"sliding": [SLID]},
        {"roller": {"face": "inside", "depth": "0.4 m", "height": "0.4 m"}},
    ],
    ids=lambda leaf: next(iter(leaf)),
)
def test_a_leaf_is_in_the_way_while_open_and_a_wall_while_shut(leaf):
    room = room_with(**leaf)
    assert sum(thing.kind == "obstacle" for thing in room.fixed) > 0
    shut, bare = without_doors(room, {"door"}), without_doors(room_with(), {"door"})
    assert [t.name for t in shut.fixed] == [t.name for t in bare.fixed]
    for one, two in zip(shut.fixed, bare.fixed, strict=True):
        assert one.outline == pytest.approx(two.outline)
    spot = room.place.spots[0]
    near = clearances(PARKED, room, spot, 20.0)
    assert {c.thing for c in near} >= {t.name for t in room.fixed if t.kind == "obstacle"}


def test_a_leaf_of_next_to_no_size_changes_no_gap():
    least = {"width": "1 mm", "height": "1 mm", "thickness": "1 mm", "past_jamb": "0.5 m"}
    bare, small = (judge_straight(PARKED, room_with(**leaf)) for leaf in
                   ({}, {"sliding": [SLID | least]}))  # fmt: skip
    small_gaps = {c.key: c.gap for c in small.checks}
    for check in bare.checks:
        assert small_gaps[check.key] == check.gap
    assert bare.least.gap == small.least.gap


def test_what_is_parked_in_a_swing_is_told_and_needs_care():
    room = room_with(hinged=[LEAF | {"width": "5 m"}])
    key = "door: swing of the left leaf of door"
    far = judge_straight(PARKED, room)
    table = table_with(hinged=[LEAF | {"width": "5 m"}])
    table["spots"][0] |= {"at": ["6 m", "1.9 m"], "heading": "0 deg"}
    near = judge_straight(PARKED, build_room(place_from(table)))
    verdicts = {c.key: (c.group, c.verdict) for c in near.checks}
    assert verdicts[key] == (IN_ROOM, CARE)
    free = next(c for c in far.checks if c.key == key)
    assert free.wanted == 0.1
    assert free.detail.startswith("pod and swing of the left leaf of door")
    # by another way: the plan of what is lower than the leaf, about the hinge, less its radius
    pose = Pose(6.0, 5.0, math.pi)
    plans = [pose.place(np.asarray(shapely.get_coordinates(band_outline(p, 0.0, 2.4))))
             for p in PARKED.parts]  # fmt: skip
    least = min(float(np.hypot(x - 11.0, y).min()) for x, y in (plan.T for plan in plans))
    assert least - math.hypot(5.0, 0.05) - 0.03 <= free.gap <= least - 5.0 + 1e-9
    # by another way: corners of what is parked in a quarter circle about the hinge
    for table_, hit in ((table, True), (ROOM, False)):
        spot = place_from(table_).spots[0]
        corners = np.concatenate([p for _, p, _, _ in placed(PARKED, spot)])
        low = corners[corners[:, 2] < 2.4]
        assert (np.hypot(low[:, 0] - 11.0, low[:, 1]) < 5.0).any() == hit


def test_a_tolerance_of_a_leaf_moves_the_gap_to_its_swing():
    table = table_with(hinged=[LEAF | {"width": "5 m ± 20 mm (measured)"}])
    room = build_room(place_from(table))
    found = with_spreads(judge_straight(PARKED, room), room).checks
    check = next(c for c in found if c.key == "door: swing of the left leaf of door")
    assert check.worst == pytest.approx(0.02, abs=5e-4)


def test_things_in_a_swing_are_asked_about():
    table = table_with(hinged=[LEAF])
    ring = [["9.5 m", "0.5 m"], ["10 m", "0.5 m"], ["10 m", "1 m"], ["9.5 m", "1 m"]]
    table["obstacles"] = [{"name": "bench", "kind": "standing", "outline": ring, "top": "0.9 m"}]
    notes = judge_straight(PARKED, build_room(place_from(table))).notes
    assert any("bench stands in the swing of the left leaf of door" in note for note in notes)
    table["obstacles"][0]["outline"] = [[f"{float(x[:-2]) - 4:.1f} m", y] for x, y in ring]
    notes = judge_straight(PARKED, build_room(place_from(table))).notes
    assert not any("swing" in note for note in notes)


def test_a_curtain_is_told_and_stands_in_no_way():
    bare = room_with()
    room = room_with(strip_curtain={"lower_end": "0.3 m"})
    assert [t.name for t in room.fixed] == [t.name for t in bare.fixed]
    assert any("0.300 m brushes the strips" in n for n in judge_straight(PARKED, room).notes)


@pytest.mark.parametrize(
    ("door", "told"),
    [
        ({"sectional": SECTIONAL | {"track_height": "2.4 m"}}, "sectional.track_height"),
        ({"sectional": SECTIONAL | {"track_height": "2.99 m"}}, "rails and leaf under the ceiling"),
        ({"sectional": SECTIONAL | {"track_radius": "2.8 m"}}, "sectional.track_radius"),
        ({"sectional": SECTIONAL | {"leaf_height": "2 m"}}, "sectional.leaf_height"),
        ({"sectional": SECTIONAL | {"thickness": "0 m"}}, "sectional.thickness"),
        (
            {"bifold": {"leaf_height": "2.55 m", "thickness": "50 mm", "folds": "inside"}},
            "at most 2.450 m: the folded leaf hangs down",
        ),
        (
            {"bifold": {"leaf_height": "2.9 m", "thickness": "5 cm", "folds": "up"}},
            "'inside' or 'outside'",
        ),
        ({"hinged": [LEAF | {"open": "190 deg"}]}, "hinged[1].open"),
        ({"hinged": [LEAF | {"open": "-5 deg"}]}, "hinged[1].open"),
        ({"hinged": [LEAF | {"hinge": "top"}]}, "'left' or 'right'"),
        ({"sliding": [SLID | {"width": "-1 m"}]}, "sliding[1].width"),
        ({"sliding": [SLID | {"past_jamb": "-1 m"}]}, "sliding[1].past_jamb"),
        ({"sliding": [SLID], "hinged": [LEAF]}, "one kind of leaf"),
        (
            {"roller": {"face": "inside", "depth": "4 cm", "height": "4 cm", "underside": "2 m"}},
            "roller.underside",
        ),
        ({"strip_curtain": {"lower_end": "-1 m"}}, "strip_curtain.lower_end"),
    ],
)
def test_a_leaf_that_cannot_be_is_told_in_one_sentence(door, told):
    with pytest.raises(InputError) as caught:
        place_from(table_with(**door))
    assert len(caught.value.problems) == 1
    assert told in str(caught.value)


def test_a_clear_size_is_asked_and_not_taken_from_the_nominal_one():
    table = table_with(sectional=SECTIONAL, nominal_height="2.6 m")
    del table["doors"][0]["clear_height"]
    with pytest.raises(InputError, match="left clear with the door open; it is not taken from"):
        place_from(table)

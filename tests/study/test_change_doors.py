"""A door opened farther and controls locked, as changes; what is not proposed for a pit."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

from planform.design.load import design_from, place_from
from planform.report.changes.words import notes, sized
from planform.study.change_cases import FREES, first_case
from planform.study.change_doors import opened
from planform.study.change_turning import locked
from planform.study.changes import least_changes
from tests.conftest import PLAIN, ROOM

STEP = 0.012
SECTIONAL = {"leaf_height": "2.6 m", "thickness": "40 mm", "track_radius": "0.3 m",
             "track_height": "2.7 m"}  # fmt: skip
LEAF = {"hinge": "left", "swings": "inside", "open": "40 deg", "width": "2 m", "height": "2.4 m",
        "thickness": "50 mm"}  # fmt: skip


def room_with(*, place=None, **door):
    table = copy.deepcopy(ROOM) | (place or {})
    table["doors"][0] |= door
    return table


def families(table):
    return list(opened(first_case(design_from(PLAIN), place_from(table), None, None, None)))


def test_a_door_stopped_half_way_is_opened_until_the_highest_part_passes():
    table = room_with(clear_height="1.9 m", sectional=SECTIONAL)
    found = least_changes(design_from(PLAIN), place_from(table), kinds=("opened",))
    (change,) = found.found
    standing = found.base.case.standing
    needs = float(standing.all_points()[:, 2].max()) + standing.bulge - 1.9
    assert needs <= change.size < needs + STEP + 1e-9
    assert change.size - change.fails < 2.0 * STEP + 1e-9
    assert sized(change, "m").startswith("Open the door farther by ")
    assert any("springs" in words for words in change.cautions)


@pytest.mark.parametrize(
    ("door", "most"),
    [
        ({"sectional": SECTIONAL}, 0.1),  # its own length
        ({"sectional": SECTIONAL | {"leaf_height": "3 m"}}, 0.2),  # its rails
        ({"sectional": SECTIONAL, "nominal_height": "2.55 m"}, 0.05),
        ({"bifold": {"leaf_height": "2.9 m", "thickness": "50 mm", "folds": "outside"}}, 0.3),
        ({"roller": {"face": "inside", "depth": "0.3 m", "height": "0.3 m",
                     "underside": "2.65 m"}}, 0.15),
    ],
)  # fmt: skip
def test_a_leaf_is_lifted_no_farther_than_it_goes(door, most):
    (one,) = families(room_with(**door))
    assert most - STEP < one.sizes[-1] <= most + 1e-9


@pytest.mark.parametrize(
    "door",
    [
        {},
        {"roller": {"face": "inside", "depth": "0.3 m", "height": "0.3 m"}},
        {"bifold": {"leaf_height": "2.6 m", "thickness": "50 mm", "folds": "outside"}},
        {"hinged": [LEAF | {"open": "180 deg", "width": "0.9 m"}]},
    ],
)
def test_what_is_open_as_far_as_it_goes_is_not_opened(door):
    assert families(room_with(**door)) == []


def test_a_hinged_leaf_swings_to_its_wall_or_to_what_stands_there():
    # 1 m of wall beside the door: a leaf of 0.9 m goes round to it, one of 2 m meets the side wall
    (short,) = families(room_with(hinged=[LEAF | {"width": "0.9 m"}]))
    assert math.degrees(short.sizes[-1]) == pytest.approx(140.0)
    (long,) = families(room_with(hinged=[LEAF]))
    # about the hinge at 1 m from the side wall: cos of its angle beyond 90, its thickness on both
    angles = np.radians(np.arange(91, 180))
    reach = -2.0 * np.cos(angles) + 0.05 * np.sin(angles)
    last = 90 + int((reach < 1.0).sum())
    assert abs(40.0 + math.degrees(long.sizes[-1]) - last) <= 1.0
    bench = {"name": "bench", "kind": "standing", "top": "0.9 m", "outline": [
        ["10.2 m", "1.2 m"], ["10.8 m", "1.2 m"], ["10.8 m", "1.6 m"], ["10.2 m", "1.6 m"]],
    }  # fmt: skip
    (stopped,) = families(room_with(hinged=[LEAF], place={"obstacles": [bench]}))
    # the nearest direction of the bench from the hinge at (11, 0), from the shut leaf
    first = math.degrees(math.atan2(1.2, 0.8))
    assert 40.0 + math.degrees(stopped.sizes[-1]) <= first + 0.01
    assert 40.0 + math.degrees(stopped.sizes[-1]) >= first - 4.0


def test_a_leaf_swung_farther_lets_it_out():
    table = room_with(hinged=[LEAF | {"width": "7 m", "open": "5 deg"}])
    found = least_changes(design_from(PLAIN), place_from(table), kinds=("opened",))
    change = next(c for c in found.all if c.kind == "opened")
    assert change.what == "swing the left leaf of door farther open"
    assert change.answer == FREES
    # what is left beside the leaf's end is at least the narrowest way through
    assert 10.0 - 7.0 * math.cos(math.radians(5.0)) < 3.1
    assert 10.0 - 7.0 * math.cos(math.radians(5.0) + change.size) > 3.1
    assert change.size > change.fails


FREE = {"flap": {"on": "wing", "inner": {"bl": "1 m", "hinge": "70 %"},
                 "outer": {"bl": "3 m", "hinge": "70 %"}, "down": "30 deg", "up": "20 deg",
                 "free": True}}  # fmt: skip


def test_a_free_control_that_hits_is_locked():
    design = copy.deepcopy(PLAIN) | {"controls": FREE}
    case = first_case(design_from(design), place_from(ROOM), None, None, None)
    (one,) = locked(case, lambda _case, _what: FREES)
    assert one.what == "lock the flap"
    free, held = (
        np.concatenate([p.points for p in c.standing.parts if p.role == "control"])
        for c in (case, one.make(1.0))
    )
    assert np.ptp(held[:, 2]) < np.ptp(free[:, 2])
    both = FREE | {
        "aileron": FREE["flap"]
        | {"inner": {"bl": "3.1 m", "hinge": "70 %"}, "outer": {"bl": "3.8 m", "hinge": "70 %"}}
    }
    design["controls"] = both
    case = first_case(design_from(design), place_from(ROOM), None, None, None)
    words = [one.what for one in locked(case, lambda _case, _what: "does not free it")]
    assert words == ["lock the flap", "lock the aileron", "lock the flap and the aileron"]
    stage = design["stages"][0]["stance"]
    design["stances"][stage] = design["stances"][stage] | {
        "deflected": {"flap": "0 deg", "aileron": "0 deg"}
    }
    case = first_case(design_from(design), place_from(ROOM), None, None, None)
    assert list(locked(case, lambda _case, _what: FREES)) == []


def test_locking_a_control_is_what_frees_it_from_a_beam():
    """A beam over the flap, which is struck by it alone as it goes up."""
    design = design_from(copy.deepcopy(PLAIN) | {"controls": FREE})
    case = first_case(design, place_from(ROOM), None, None, None)
    flap = next(p for p in case.standing.parts if p.name == "right flap")
    high = float(flap.points[:, 2].max())
    others = [p for p in case.standing.parts if p.role not in ("control", "winglet")]
    body = max(float(p.points[:, 2].max()) for p in others if "wing" in p.name)
    assert body < high - 0.02
    (x0, y0), (x1, y1) = flap.points[:, :2].min(axis=0), flap.points[:, :2].max(axis=0)
    ring = [[f"{6.0 - y:.4f} m", f"{5.0 + x:.4f} m"]  # its nose to the front
            for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]  # fmt: skip
    beam = {"name": "beam", "kind": "hanging", "outline": ring, "bottom": f"{high - 0.01:.4f} m"}
    found = least_changes(design, place_from(ROOM | {"obstacles": [beam]}), kinds=("locked",))
    assert not found.free
    (change,) = found.found
    assert change.what == "lock the flap"
    assert change.cautions


def test_no_board_over_a_pit_is_proposed_and_that_is_said():
    ring = [["4 m", "1 m"], ["8 m", "1 m"], ["8 m", "1.4 m"], ["4 m", "1.4 m"]]
    table = room_with(place={"floor": ROOM["floor"] | {"pits": [{"name": "pit", "outline": ring}]}},
                      clear_height="1.9 m")  # fmt: skip
    found = least_changes(design_from(PLAIN), place_from(table), kinds=("taller",))
    assert any("No board over a pit is proposed (pit)" in note for note in notes(found, "m"))
    bare = room_with(clear_height="1.9 m")
    found = least_changes(design_from(PLAIN), place_from(bare), kinds=("taller",))
    assert not any("board" in note for note in notes(found, "m"))

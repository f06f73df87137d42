"""Pits in the floor: wheels keep out of them, all else passes over."""

from __future__ import annotations

import copy

import numpy as np
import pytest

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import place_from
from planform.design.models import Design
from planform.design.problems import InputError
from planform.fit.clearance import placed
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.question import question_at
from planform.fit.room import build_room
from planform.fit.straight import judge_straight
from planform.fit.verdict import NOT
from tests.conftest import PLAIN, ROOM

DESIGN = Design.model_validate(PLAIN)
PARKED = stand_on(build(DESIGN), DESIGN.stages[0])


def room_with(x, y, size):
    table = copy.deepcopy(ROOM)
    ring = [[f"{a:.6f} m", f"{b:.6f} m"] for a, b in
            ((x, y), (x + size, y), (x + size, y + size), (x, y + size))]  # fmt: skip
    table["floor"]["pits"] = [{"name": "pit", "outline": ring}]
    return build_room(place_from(table))


def foot():
    """The lowest point of the aircraft on its spot, in place axes."""
    points = np.concatenate(
        [p for _, p, _, _ in placed(PARKED, room_with(1, 1, 0.1).place.spots[0])]
    )
    return points[np.argmin(points[:, 2])]


def checks(room):
    return {c.key: c for c in judge_straight(PARKED, room).checks}


def test_a_wheel_in_a_pit_does_not_fit_and_beside_it_nothing_changes():
    x, y, _ = foot()
    hit = room_with(x - 0.2, y - 0.2, 0.4)
    assert checks(hit)["pit"].verdict == NOT
    pose = Pose(6.0, 5.0, np.pi)
    assert question_at(PARKED, hit, pose, Keep.nothing()).parked <= 0.0
    # ahead of the wheel by half a metre, under the rest of the aircraft
    near = room_with(x - 0.05, y - 0.75, 0.1)
    bare = build_room(place_from(ROOM))
    found, before = checks(near), checks(bare)
    assert "pit" not in found
    assert {k: c.gap for k, c in found.items()} == {k: c.gap for k, c in before.items()}
    assert judge_straight(PARKED, near).least.gap == judge_straight(PARKED, bare).least.gap


def test_a_pit_without_area_is_told():
    with pytest.raises(InputError, match=r"floor.pits\[1\].outline"):
        room_with(2.0, 2.0, 0.0)

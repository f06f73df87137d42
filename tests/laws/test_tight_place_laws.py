"""Where a way is tight, the point that is told lies on the part, at the height where it is near."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from planform.airframe.build import build
from planform.airframe.stages import usual_stage
from planform.airframe.stance import stand_on
from planform.design.load import design_from, place_from
from planform.fit.question import box_limit
from planform.fit.room import build_room
from planform.study.roll_out import find_way_out
from tests.laws.worlds import world


@pytest.mark.parametrize("seed", [0, 3])
def test_the_point_of_a_tight_place_lies_on_its_part(seed):
    found = world(seed)
    airframe = build(design_from(found.design))
    standing = stand_on(airframe, usual_stage(airframe)[0])
    way = find_way_out(standing, build_room(place_from(found.place)), watch=box_limit(60_000))
    assert way.tight
    for tight in way.tight:
        part = next(p for p in standing.parts if p.name == tight.part)
        there = np.column_stack([tight.pose.place(part.points[:, :2]), part.points[:, 2]])
        mesh = trimesh.Trimesh(there, part.faces, process=False)
        _, off, _ = trimesh.proximity.closest_point_naive(mesh, [tight.at_part])
        assert off[0] < 1e-3

"""In the picture of a room nothing that stands there hides the aircraft."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.core.shape.prism import prism
from planform.design.load import design_from, place_from
from planform.drawing.framing import GLASS, aim
from planform.drawing.scene import Scene, Solid
from planform.drawing.scenes import hides, room_scene
from planform.drawing.style import PAPER
from planform.fit.room import Fixed
from planform.fit.straight import judge_straight
from tests.conftest import PLAIN, ROOM
from tests.report.scenes import camera


@pytest.fixture(scope="module")
def standing():
    return pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]


def scene_of(standing, *things):
    table = copy.deepcopy(ROOM)
    table["obstacles"] = [
        {
            "name": name,
            "kind": "standing",
            "outline": [[f"{x} m", f"{y} m"] for x, y in ((a, b), (c, b), (c, d), (a, d))],
            "top": "2.4 m",
        }
        for name, (a, b, c, d) in things
    ]
    room = pf.build_room(place_from(table))
    return room_scene(judge_straight(standing, room), room, "mm")


def test_a_door_leaf_before_the_aircraft_is_seen_through_and_a_chest_behind_it_is_not(standing):
    scene = scene_of(standing, ("leaf", (4, 0.3, 8, 0.4)), ("chest", (1, 9, 3, 9.8)))
    opacity = {solid.name: solid.opacity for solid in scene.solids}
    assert opacity["leaf"] < GLASS
    assert opacity["chest"] == 1.0


span = st.floats(0.2, 3.0)


@settings(max_examples=40)
@given(
    corner=st.tuples(st.floats(-5, 4), st.floats(-5, 4), st.floats(0, 2)),
    size=st.tuples(span, span, span),
    point=st.tuples(st.floats(-3, 3), st.floats(-3, 3), st.floats(0, 2)),
)
def test_what_hides_is_what_a_line_to_the_eye_runs_through(corner, size, point):
    """Against going along the line of sight in small steps, in both projections."""
    low = np.array(corner)
    high = low + size
    box = [(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])]
    thing = Fixed("leaf", "obstacle", np.array(box), float(low[2]), float(high[2]))
    solids = (
        Solid("leaf", *thing.mesh, "#b08d57"),
        Solid("part", *prism(np.array([[-3, -3], [3, -3], [3, 3.0]]), 0.0, 2.0), PAPER),
    )
    scene = Scene("s", solids, (), (camera("room", (0.62, -1.0, 0.95), parallel=False),))
    start = np.array([point])
    depth = -np.inf  # of the deepest step within the box; its sides count below 0
    for parallel in (True, False):
        view = aim(scene, scene.cameras[0], (1400, 900), parallel=parallel)
        way = view.toward_eye(start)[0]
        step = np.linspace(0.0, 30.0 / np.linalg.norm(way), 6000)[:, None]
        track = start + np.minimum(step, 1.0) * way
        depth = max(depth, float(np.minimum(track - low, high - track).min(axis=1).max()))
    if abs(depth) > 0.01:
        assert hides(thing, start, scene) == (depth > 0.0)

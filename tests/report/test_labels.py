"""Words on a plan lie over no aircraft, no wall and no other words."""

from __future__ import annotations

import copy

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import design_from, load_place, place_from
from planform.drawing.sketch import KEPT, Sketch
from planform.drawing.views import draw_room
from planform.fit.moves import Pose
from planform.report.way_out.pictures import packed_sketch
from tests.conftest import DESIGNS, PLAIN, ROOM

NEAR = 3.5
"""Words are placed cell by cell [px]."""


@pytest.fixture(scope="module")
def standing():
    return stand_all(build(design_from(copy.deepcopy(PLAIN))))[0]


def boxes_and_kept(sheet):
    """The words' boxes and the shapes that are kept free, in metres on the sheet."""
    sheet.settle()
    inward = np.array([NEAR, NEAR, -NEAR, -NEAR])
    shrunk = [np.array(box) + inward for box in sheet.boxes]
    words = [shapely.box(*sheet._back(b[0], b[3]), *sheet._back(b[2], b[1])) for b in shrunk]
    kept = []
    for what, where, css, _ in sheet.drawn:
        if css in KEPT and what in ("shape", "polygon"):
            kept.append(where if what == "shape" else shapely.polygons(where))
    return words, kept


def holds(sheet):
    words, kept = boxes_and_kept(sheet)
    assert words
    whole = shapely.union_all(kept)
    for k, box in enumerate(words):
        assert not box.intersects(whole)
        assert not any(box.intersects(other) for other in words[:k])
    paper = shapely.box(*sheet.low, *sheet.high)
    assert all(paper.covers(box) for box in words)


@settings(max_examples=15)
@given(
    things=st.lists(
        st.tuples(st.floats(0.2, 10.5), st.floats(0.2, 8.5), st.text("ab cd", min_size=1)),
        max_size=7,
    ),
    x=st.floats(4.0, 8.0),
    y=st.floats(3.0, 7.0),
    heading=st.floats(0.0, 6.2),
    called=st.text("wxyz ", min_size=1, max_size=60),
    profile=st.booleans(),
)
def test_words_of_a_full_hall(standing, things, x, y, heading, called, profile):
    table = copy.deepcopy(ROOM)
    if profile:
        levels = [{"at": "0 m", "height": "3 m"}, {"at": "5 m", "height": "5 m"}]
        table["ceiling"] = {"along": "width", "profile": levels}
    table["obstacles"] = [
        {
            "name": f"{name.strip() or 'a'} {k}",
            "kind": "standing",
            "outline": [[f"{a} m", f"{b} m"] for a, b in square(u, v)],
            "top": "1 m",
        }
        for k, (u, v, name) in enumerate(things)
    ]
    room = pf.build_room(place_from(table))
    holds(packed_sketch(room, [(standing, Pose(x, y, heading), called)], "heading", "ft-in"))


def square(x, y):
    return [(x, y), (x + 1.0, y), (x + 1.0, y + 1.0), (x, y + 1.0)]


def test_a_sheet_without_a_free_place_grows_downwards():
    sheet = Sketch(np.zeros(2), np.array([10.0, 4.0]), width=400, margin=0.0)
    sheet.polygon([(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)], "wall")
    before = sheet.height
    sheet.note((5.0, 2.0), "the only words on it", "small")
    holds(sheet)
    assert sheet.height > before


def test_a_bent_ceiling_shows_in_the_plan():
    room = pf.build_room(load_place(DESIGNS / "boatshed.toml"))
    sheet = Sketch(np.zeros(2), np.array([11.0, 9.0]))
    draw_room(sheet, room, "ft-in")
    text = sheet.text("room")
    assert 'class="bend"' in text
    assert "ceiling 13&#x27;-6&quot;" in text

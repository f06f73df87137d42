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
from planform.drawing.drawing import Fill, Text
from planform.drawing.sheet import Sheet
from planform.drawing.style import look_of
from planform.drawing.views import draw_room
from planform.drawing.writers import svg
from planform.fit.moves import Pose
from planform.report.way_out.pictures import packed_drawing
from tests.conftest import DESIGNS, PLAIN, ROOM

NEAR = 3.5
"""Words are placed cell by cell [px]."""


@pytest.fixture(scope="module")
def standing():
    return stand_all(build(design_from(copy.deepcopy(PLAIN))))[0]


def boxes_and_kept(drawing):
    """The words' boxes and the shapes that are kept free, in metres on the sheet."""
    words, kept = [], []
    for mark in drawing.marks:
        look = look_of(mark.kind)
        if isinstance(mark, Fill) and look.words == "off":
            kept.append(shapely.Polygon(mark.rings[0], mark.rings[1:]))
        elif isinstance(mark, Text):
            letter = look.letter / drawing.scale
            wide = look.letter_width * letter * len(mark.words)
            left = mark.point[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor] * wide
            low, high = mark.point[1] - 0.3 * letter, mark.point[1] + letter
            inward = NEAR / drawing.scale
            box = (left + inward, low + inward, left + wide - inward, high - inward)
            words.append(shapely.box(*box))
    return words, kept


def holds(drawing):
    words, kept = boxes_and_kept(drawing)
    assert words
    whole = shapely.union_all(kept)
    for k, box in enumerate(words):
        assert not box.intersects(whole)
        assert not any(box.intersects(other) for other in words[:k])
    paper = shapely.box(*drawing.low, *drawing.high)
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
    holds(packed_drawing(room, [(standing, Pose(x, y, heading), called)], "heading", "ft-in"))


def square(x, y):
    return [(x, y), (x + 1.0, y), (x + 1.0, y + 1.0), (x, y + 1.0)]


def test_a_sheet_without_a_free_place_grows_downwards():
    sheet = Sheet(np.zeros(2), np.array([10.0, 4.0]), width=400, margin=0.0)
    sheet.polygon([(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)], "wall")
    before = sheet.drawing("").size
    sheet.note((5.0, 2.0), "the only words on it", "small")
    drawing = sheet.drawing("a wall")
    holds(drawing)
    assert drawing.size[1] > before[1]


def test_a_bent_ceiling_shows_in_the_plan():
    room = pf.build_room(load_place(DESIGNS / "boatshed.toml"))
    sheet = Sheet(np.zeros(2), np.array([11.0, 9.0]))
    draw_room(sheet, room, "ft-in")
    text = svg.text(sheet.drawing("room"))
    assert 'class="bend"' in text
    assert "ceiling 13&#x27;-6&quot;" in text

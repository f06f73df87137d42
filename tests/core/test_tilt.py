"""Width against roll: closed forms, shapely beside it, laws."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planform.core.shape.tilt import Outline, across

RECTANGLE = Outline(np.array([[-1.5, -0.5], [1.5, -0.5], [1.5, 0.5], [-1.5, 0.5]]))

rings = st.lists(
    st.tuples(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0)), min_size=5, max_size=12
).map(lambda points: shapely.convex_hull(shapely.multipoints(points)))


def outline(hull, margin=0.0):
    ring = np.asarray(shapely.normalize(hull).exterior.coords)[:-1][::-1]
    return Outline(ring, margin)


def good(hull):
    return hull.area > 0.05


def test_a_rectangle_has_its_closed_form():
    """a |cos r| + b |sin r|, derived."""
    rolls = np.linspace(0.0, np.pi, 41)
    told = 3.0 * np.abs(np.cos(rolls)) + 1.0 * np.abs(np.sin(rolls))
    assert RECTANGLE.width(rolls) == pytest.approx(told)
    assert RECTANGLE.height(rolls) == pytest.approx([*np.roll(told[:-1], 20), told[20]])
    assert RECTANGLE.smallest == 0.0
    assert RECTANGLE.narrowest == pytest.approx(0.5 * np.pi)


def test_a_regular_polygon_has_its_closed_form():
    """A hexagon of side 1: 2 across corners, sqrt 3 across flats."""
    angle = np.arange(6) * np.pi / 3
    hexagon = Outline(np.column_stack([np.cos(angle), np.sin(angle)]))
    assert hexagon.width(0.0) == pytest.approx(2.0)
    assert hexagon.width(hexagon.narrowest) == pytest.approx(np.sqrt(3.0))


def test_a_bar_through_a_slot_leans_by_the_closed_form():
    """A 3 x 1 bar through 2.6 wide by 3.05 high, derived: it must lean from where
    3 cos r + sin r = 2.6 to where 3 sin r + cos r = 3.05, to either side.
    """
    lean, size = np.arctan2(1.0, 3.0), np.sqrt(10.0)
    first = lean + np.arccos(2.6 / size)
    last = 0.5 * np.pi - lean - np.arccos(3.05 / size)
    ranges = RECTANGLE.passing(2.6, 3.05)
    mirrored = [(np.pi - last, np.pi - first)]
    upright = 0.5 * np.pi - lean + np.arccos(3.05 / size)
    middle = [(upright, np.pi - upright)]
    assert np.array(ranges) == pytest.approx(np.array([(first, last), *middle, *mirrored]))
    assert RECTANGLE.passing(2.6, 2.6) == ()


@given(rings, st.floats(0.0, 0.1))
def test_least_rectangle_and_width_are_those_of_a_general_library(hull, margin):
    if not good(hull):
        return
    here = outline(hull, margin)
    area = here.width(here.smallest) * here.height(here.smallest)
    rectangle = shapely.minimum_rotated_rectangle(hull)
    sides = np.linalg.norm(np.diff(np.asarray(rectangle.exterior.coords), axis=0), axis=1)
    if margin == 0.0:
        assert area <= sides[0] * sides[1] + 1e-9
    rolls = np.linspace(0.0, np.pi, 721)
    assert here.width(here.narrowest) <= here.width(rolls).min() + 1e-9
    assert area <= (here.width(rolls) * here.height(rolls)).min() + 1e-9
    assert here.width(here.smallest) >= here.height(here.smallest) - 1e-9


@given(rings, st.floats(0.3, 4.0), st.floats(0.3, 4.0), st.floats(0.0, 0.05))
def test_ranges_and_the_best_roll_agree_with_a_fine_look(hull, width, height, margin):
    if not good(hull):
        return
    here = outline(hull, margin)
    rolls = np.linspace(0.0, np.pi, 1441)
    spare = here.spare(width, height, rolls)
    ranges = here.passing(width, height)
    for roll, left in zip(rolls, spare, strict=True):
        inside = any(a <= roll <= b for a, b in ranges)
        if abs(left) > 1e-6:
            assert inside == (left > 0.0)
    roll, most = here.best_for(width, height)
    assert most >= spare.max() - 1e-9
    assert here.spare(width, height, roll) == pytest.approx(most)


@given(rings, st.floats(-3.0, 3.0))
def test_a_turned_outline_has_the_turned_curve(hull, turn):
    if not good(hull):
        return
    here = outline(hull)
    c, s = np.cos(turn), np.sin(turn)
    there = Outline(here.ring @ np.array([[c, s], [-s, c]]))
    rolls = np.linspace(0.0, np.pi, 13)
    assert there.width(rolls) == pytest.approx(here.width(rolls + turn))


@given(st.tuples(*[st.floats(-1.0, 1.0)] * 3))
def test_axes_across_are_square_to_the_way(direction):
    d = np.array(direction)
    if np.linalg.norm(d) < 1e-3:
        return
    both = across(d)
    assert both @ both.T == pytest.approx(np.eye(2), abs=1e-12)
    assert both @ d == pytest.approx([0.0, 0.0], abs=1e-12)

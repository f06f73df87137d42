"""Cutting plans against every way there is, and outlines of few corners."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planform.core.shape.enclosing import few_corners
from planform.core.stock import cut_plan


def fewest(lengths, stock, kerf):
    """By brute force over all ways to share pieces out."""
    best = len(lengths)
    for ways in itertools.product(range(len(lengths)), repeat=len(lengths)):
        if all(way <= k for k, way in enumerate(ways)):
            held = {
                way: [x for x, w in zip(lengths, ways, strict=True) if w == way] for way in ways
            }
            if all(sum(h) + kerf * (len(h) - 1) <= stock + 1e-9 for h in held.values()):
                best = min(best, len(held))
    return best


@given(
    st.lists(st.integers(5, 40), min_size=1, max_size=6),
    st.sampled_from([0.0, 0.03]),
)
def test_no_plan_takes_fewer_sticks(tenths, kerf):
    lengths = [x / 10 for x in tenths]
    plan = cut_plan(lengths, (4.0,), kerf)
    assert plan.proved
    assert len(plan.sticks) == fewest(lengths, 4.0, kerf)


@given(st.lists(st.floats(0.1, 3.0), min_size=1, max_size=25), st.sampled_from([0.0, 0.003]))
def test_a_plan_cuts_every_piece_once_from_sticks_that_take_them(lengths, kerf):
    plan = cut_plan(lengths, (2.4, 3.0), kerf)
    assert sorted(k for one in plan.sticks for k in one.pieces) == list(range(len(lengths)))
    for one in plan.sticks:
        used = sum(lengths[k] for k in one.pieces) + kerf * (len(one.pieces) - 1)
        assert used <= one.stock + 1e-8
        assert one.stock == 2.4 or used > 2.4 - 1e-8
    assert len(plan.sticks) >= plan.least >= sum(lengths) / 3.0 - 1e-6


def test_first_fit_decreasing_is_bettered_where_it_wastes_a_stick():
    # Longest first: 6+4, 5+3, 5+... ; the best is 6+4, 5+5, 4+3+3 (all of 10).
    lengths = [6.0, 5.0, 5.0, 4.0, 4.0, 3.0, 3.0]
    assert len(cut_plan(lengths, (10.0,), 0.0).sticks) == 3


def test_a_piece_longer_than_every_stick_is_refused():
    with pytest.raises(ValueError, match=r"3\.0"):
        cut_plan([3.2], (2.4, 3.0), 0.0)


@given(st.integers(0, 1000), st.integers(4, 9))
def test_an_outline_of_few_corners_holds_the_hull(seed, most):
    points = np.random.default_rng(seed).normal(size=(60, 2)) * [3.0, 1.0]
    hull = shapely.MultiPoint(points).convex_hull
    ring = np.array(shapely.geometry.polygon.orient(hull).exterior.coords)[:-1]
    found = few_corners(ring, most)
    assert len(found) <= most
    whole = shapely.Polygon(found)
    assert whole.is_valid
    assert whole.buffer(1e-9).covers(hull)

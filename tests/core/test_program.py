"""Linear programs of a few unknowns against SciPy's, and outlines against every corner."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog
from scipy.spatial import ConvexHull

from planform.core.mass.program import Region, outline


def region(seed: int, *, signed: bool) -> tuple[Region, np.random.Generator]:
    dice = np.random.default_rng(seed)
    n, k = int(dice.integers(1, 7)), int(dice.integers(0, 4))
    some = dice.uniform(-1.0 if signed else 0.0, 1.0, (k, n)).round(2)
    rows = np.vstack([np.eye(n), some])
    top = dice.choice([0.0, 10.0, 55.0, 200.0], n)
    least = -40.0 if signed else 0.0
    return Region(rows, np.concatenate([top, dice.uniform(least, 150.0, k).round(1)])), dice


@given(st.integers(0, 2**32 - 1), st.booleans())
def test_the_best_is_that_of_another_solver(seed, signed):
    one, dice = region(seed, signed=signed)
    aim = dice.uniform(-2.0, 2.0, one.rows.shape[1]).round(2)
    found = one.most(aim)
    other = linprog(-aim, one.rows, one.bounds, bounds=(0, None), method="highs")
    if found is None:
        assert other.status == 2
        return
    assert (one.rows @ found <= one.bounds + 1e-6).all()
    assert other.status == 0
    assert aim @ found == pytest.approx(-other.fun, abs=1e-6)


@given(st.integers(0, 2**32 - 1))
def test_the_outline_holds_every_point_and_has_corners_alone(seed):
    one, dice = region(seed, signed=True)
    n = one.rows.shape[1]
    plane = np.vstack([np.ones(n), dice.uniform(-3.0, 3.0, n).round(2)])
    found = outline(one, plane)
    for way in dice.uniform(-1.0, 1.0, (12, 2)):
        other = linprog(-way @ plane, one.rows, one.bounds, bounds=(0, None), method="highs")
        if not found:
            assert other.status == 2
            continue
        assert max(way @ plane @ x for x in found) == pytest.approx(-other.fun, abs=1e-5)
    if len(found) > 3:
        corners = np.array([plane @ x for x in found])
        assert len(ConvexHull(corners).vertices) >= len(corners) - 1
        after = np.roll(corners, -1, axis=0)
        turned = corners[:, 0] * after[:, 1] - corners[:, 1] * after[:, 0]
        assert turned.sum() > 0.0  # counter-clockwise


def test_what_never_ends_is_refused():
    with pytest.raises(ValueError, match="bounded"):
        Region(np.array([[1.0, 0.0]]), np.array([5.0])).most(np.array([0.0, 1.0]))


def test_nothing_in_the_region_is_told():
    none = Region(np.array([[1.0], [-1.0]]), np.array([1.0, -2.0]))
    assert none.most(np.array([1.0])) is None
    assert outline(none, np.ones((2, 1))) == []

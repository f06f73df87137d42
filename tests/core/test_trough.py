"""The bottom of a trough with kinks: by closed forms, a general solver, and from many sides."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from planform.core.shape.trough import SLOPES, Trough, shortest


def _area(wide, high):
    return wide * high


def _frame(seed, tilt=None):
    """Level and up of a random attitude, or of one tilted about a random axis by so much [rad]."""
    axis = np.random.default_rng(seed).normal(size=3)
    turn = axis if tilt is None else tilt * axis / np.linalg.norm(axis)
    return Rotation.from_rotvec(turn).as_matrix()[:, :2].T


@given(st.integers(0, 10_000), st.floats(0.0, 2.0))
@settings(max_examples=40, deadline=None)
def test_the_shortest_mixture_is_that_of_a_general_solver(seed, aside):
    vectors = np.random.default_rng(seed).normal(size=(SLOPES, 3)) + np.array([aside, 0.0, 0.0])
    solved = minimize(
        lambda share: float(np.sum((share @ vectors) ** 2)),
        np.full(SLOPES, 1.0 / SLOPES),
        method="SLSQP",
        bounds=[(0.0, 1.0)] * SLOPES,
        constraints={"type": "eq", "fun": lambda share: share.sum() - 1.0},
        options={"ftol": 1e-14, "maxiter": 500},
    )
    found = shortest(vectors)
    assert np.linalg.norm(found) == pytest.approx(np.sqrt(max(solved.fun, 0.0)), abs=1e-4)
    if found.any():  # all of them lead up along it: no mixture is shorter
        assert (vectors @ found >= found @ found - 1e-9).all()


def test_equal_slopes_are_their_own_mixture():
    assert shortest(np.tile([0.3, -0.1, 0.2], (SLOPES, 1))) == pytest.approx([0.3, -0.1, 0.2])


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize(
    ("cost", "least"),
    [
        (_area, 0.4 * 0.7),
        (lambda wide, high: np.maximum(0.5 * (wide - 0.2), high - 0.1), 0.3),
    ],
)
def test_a_box_tilted_a_little_is_laid_flat_again(cost, least, seed):
    """A box of 0.7 by 0.4 by 3 m seen along its length: what it takes then is plain."""
    corners = np.array([(x, y, z) for x in (0.0, 0.7) for y in (0.0, 0.4) for z in (0.0, 3.0)])
    trough = Trough(corners, 0.0, cost)
    found = trough.costs(trough.bottom(_frame(seed, 0.05))[None])[0]
    assert found == pytest.approx(least, abs=1e-8)


def test_a_margin_stands_on_every_side():
    corners = np.array([(x, y, z) for x in (0.0, 0.7) for y in (0.0, 0.4) for z in (0.0, 3.0)])
    trough = Trough(corners, 0.01, _area)
    found = trough.costs(trough.bottom(_frame(1, 0.05))[None])[0]
    assert found == pytest.approx(0.42 * 0.72, abs=1e-8)


@pytest.mark.parametrize("seed", range(5))
def test_a_bottom_is_found_from_each_side_and_nothing_near_it_costs_less(seed):
    points = np.random.default_rng(seed).normal(size=(60, 3)) * [3.0, 1.0, 0.3]
    trough = Trough(points[ConvexHull(points).vertices], 0.0, _area)
    bottom = trough.bottom(_frame(seed))
    least = trough.costs(bottom[None])[0]
    dice = np.random.default_rng(seed + 100)
    for size in (1e-2, 1e-4, 1e-6):
        turned = Rotation.from_rotvec(dice.uniform(-size, size, (4000, 3))).as_matrix()
        assert trough.costs(bottom @ turned.transpose(0, 2, 1)).min() > least - 1e-9
    for again in range(4):
        aside = bottom @ Rotation.from_rotvec(dice.uniform(-2e-5, 2e-5, 3)).as_matrix().T
        assert trough.costs(trough.bottom(aside)[None])[0] == pytest.approx(least, abs=1e-8), again

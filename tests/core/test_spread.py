"""The band that holds 99 of 100 cases, against closed forms of sums of even bands."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product

import numpy as np
import pytest

from planform.core.spread import NO_SPREAD, Spread, band_of, ranked, spreads


def share_inside(halves: list[Fraction], width: Fraction) -> Fraction:
    """Exact share of a sum of even bands inside +-width: the alternating sum over all corners."""
    n = len(halves)
    total = Fraction(0)
    for signs in product((1, -1), repeat=n):
        reach = width + sum(s * a for s, a in zip(signs, halves, strict=True))
        if reach > 0:
            total += math.prod(signs) * reach**n
    below = total / (math.factorial(n) * 2**n * math.prod(halves))
    return 2 * below - 1


def test_one_input_fills_its_band_evenly():
    assert band_of([0.5]) == pytest.approx(0.495)


def test_nothing_moves_without_a_tolerance():
    assert band_of([]) == band_of([0.0, 0.0]) == 0.0
    assert NO_SPREAD.worst == NO_SPREAD.within_99 == NO_SPREAD.rss == 0.0


def test_two_equal_inputs_make_a_triangle():
    """P(|x| > w) = (1 - w / 2a)^2, so that 2 a (1 - sqrt 0.01) holds 99 of 100."""
    assert band_of([1.0, 1.0]) == pytest.approx(2.0 * (1.0 - math.sqrt(0.01)), abs=1e-6)


def test_two_unequal_inputs_make_a_trapezoid():
    """Of half widths a > b the tail past w >= a - b is (a + b - w)^2 / (4 a b), both sides."""
    a, b = 3.0, 2.0
    assert band_of([a, b]) == pytest.approx(a + b - math.sqrt(0.01 * 4.0 * a * b), abs=1e-6)


@pytest.mark.parametrize(
    "halves",
    [
        ["1", "1", "1"],
        ["5", "1", "1", "1/5"],
        ["1", "1/1000"],
        ["2", "3/2", "1", "1/2", "1/4", "1/8"],
        ["1"] * 9,
    ],
)
def test_band_holds_ninety_nine_of_a_hundred_exactly(halves):
    exact = [Fraction(half) for half in halves]
    width = Fraction(band_of([float(half) for half in exact]))
    assert float(share_inside(exact, width)) == pytest.approx(0.99, abs=2e-5)


def test_many_inputs_come_near_the_normal_band():
    """2.576 times the root-sum-square of a / sqrt 3 (JCGM 100:2008, 4.3.7 and G.1)."""
    normal = 2.5758 * math.sqrt(40.0 / 3.0)
    assert band_of([1.0] * 40) == pytest.approx(normal, rel=0.02)
    assert band_of([1.0] * 40) < normal


def test_band_against_a_draw_of_half_a_million():
    halves = [1.0, 0.6, 0.25, 0.25, 0.1]
    draws = np.random.default_rng(20).uniform(-1.0, 1.0, (500_000, len(halves))) @ halves
    assert band_of(halves) == pytest.approx(float(np.quantile(np.abs(draws), 0.99)), rel=0.005)


def test_spread_ranks_and_drops_rounding():
    spread = ranked({"small": 0.1, "none": 1e-9, "large": 0.3})
    assert spread.by_input == (("large", 0.3), ("small", 0.1))
    assert spread.worst == pytest.approx(0.4)
    assert spread.rss == pytest.approx(math.hypot(0.3, 0.1))
    assert spread.but("large", 0.1).by_input == (("small", 0.1), ("large", pytest.approx(0.03)))


def test_the_larger_of_two_sides_counts():
    found = spreads({"x": 1.0}, [("a", {"x": 1.2}), ("a", {"x": 0.9}), ("b", {"x": 1.0})])
    assert found["x"] == Spread((("a", pytest.approx(0.2)),))

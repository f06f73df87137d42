"""Laws of the 99 % band."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.core.spread import band_of

halves = st.lists(st.floats(1e-3, 10.0), min_size=1, max_size=8)


@given(halves)
def test_band_lies_within_the_worst_case_and_outside_the_largest_input_alone(parts):
    assert band_of(parts) <= sum(parts) * (1.0 + 1e-12)
    assert band_of(parts) >= 0.99 * max(parts) - 1e-3 * sum(parts)


@given(halves, st.floats(0.01, 100.0))
def test_band_scales_with_its_inputs_and_knows_no_order(parts, factor):
    scaled = band_of([factor * part for part in reversed(parts)])
    assert scaled == pytest.approx(factor * band_of(parts), rel=1e-9)


@given(halves, st.floats(0.1, 5.0))
def test_a_wider_input_makes_no_narrower_band(parts, more):
    assert band_of([parts[0] + more, *parts[1:]]) >= band_of(parts) * (1.0 - 1e-4)

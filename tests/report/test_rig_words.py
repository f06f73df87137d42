"""Limits of a rigging card as they are said: never wider than they are."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.notation import read
from planform.design.units import SYSTEMS
from planform.report.rig.words import go_words, within_words

sizes = st.floats(-12.0, 12.0)


@given(sizes, st.floats(0.0005, 0.1), st.sampled_from(SYSTEMS))
def test_a_length_said_to_be_go_lies_within_the_limits(target, half, system):
    low, high = ends(go_words(target - half, target + half, "length", system), "length")
    assert target - half - 1e-7 <= low <= high <= target + half + 1e-7
    assert high - low >= 0.8 * 2.0 * half - 6e-4


@given(st.floats(-0.2, 0.2), st.floats(0.001, 0.02))
def test_an_angle_said_to_be_go_lies_within_the_limits(target, half):
    low, high = ends(go_words(target - half, target + half, "angle", "mm"), "angle")
    assert target - half - 1e-8 <= low <= high <= target + half + 1e-8
    assert high - low >= 2.0 * half - 2.0 * math.radians(0.0101)


@given(st.floats(0.0005, 0.1), st.sampled_from(("length", "angle")), st.sampled_from(SYSTEMS))
def test_a_limit_to_either_side_is_never_said_wider(half, kind, system):
    told = float(read(within_words(half, kind, system).removeprefix("± "), kind))
    assert half - 3e-4 <= told <= half + 1e-8


def test_a_tip_within_an_eighth_of_an_inch():
    """51 5/8 in and 1/8 in to either side, as a tape shows it."""
    inch = 0.0254
    told = go_words(51.5 * inch, 51.75 * inch, "length", "ft-in")
    assert told == "from 4'-3 1/2\" to 4'-3 3/4\""


def ends(told, kind):
    low, high = re.fullmatch("from (.*) to (.*)", told).groups()
    return float(read(low, kind)), float(read(high, kind))


@pytest.mark.parametrize("system", SYSTEMS)
def test_limits_finer_than_a_step_are_said_finer(system):
    low, high = ends(go_words(1.2995, 1.3007, "length", system), "length")
    assert low < high

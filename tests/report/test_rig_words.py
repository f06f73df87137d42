"""Limits of a rigging card as they are said: never wider than they are."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.notation import read
from planform.design.units import SYSTEMS
from planform.report.rig.bench import BenchRow
from planform.report.rig.words import NO_LIMIT, go_words

sizes = st.floats(-12.0, 12.0)


def row(kind, target, half):
    low, high = (None, None) if half is None else (target - half, target + half)
    return BenchRow(1, "a reading", kind, target, low, high, "tape", "", False, {})


@given(sizes, st.floats(0.0005, 0.1), st.sampled_from(SYSTEMS))
def test_a_length_said_to_be_go_lies_within_the_limits(target, half, system):
    one = row("length", target, half)
    low, high = ends(go_words(one, system), "length")
    assert one.low - 1e-7 <= low <= high <= one.high + 1e-7
    assert high - low >= 0.6 * (one.high - one.low) - 2e-4


@given(st.floats(-0.2, 0.2), st.floats(0.001, 0.02))
def test_an_angle_said_to_be_go_lies_within_the_limits(target, half):
    one = row("angle", target, half)
    low, high = ends(go_words(one, "mm"), "angle")
    assert one.low - 1e-9 <= low <= high <= one.high + 1e-9
    assert high - low >= one.high - one.low - 2.0 * math.radians(0.01)


def test_without_a_limit_none_is_made_up():
    assert go_words(row("length", 1.0, None), "ft-in") == NO_LIMIT


def test_a_tip_within_an_eighth_of_an_inch():
    """51 5/8 in and 1/8 in to either side, as a tape shows it."""
    told = go_words(row("length", 51.625 * 0.0254, 0.125 * 0.0254), "ft-in")
    assert told == "from 4'-3 1/2\" to 4'-3 3/4\""


def ends(told, kind):
    low, high = re.fullmatch("from (.*) to (.*)", told).groups()
    return float(read(low, kind)), float(read(high, kind))


@pytest.mark.parametrize("system", SYSTEMS)
def test_limits_finer_than_a_step_are_said_finer(system):
    told = go_words(row("length", 1.3001, 0.0006), system)
    low, high = ends(told, "length")
    assert low < high

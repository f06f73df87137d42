"""Long moves on own wheels: never more than before, the same ends, no side-slip, all proved."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.core.motion.long_moves import joined, long_moves
from planform.core.motion.plan_moves import about, along, straight

LEAST = 1.2


def nose(heading):
    return np.array([np.sin(heading), np.cos(heading)])


def push(pose, axle, length, radius, side):
    """A push of a lattice: straight, or about a point of the axle's line."""
    if radius is None:
        return straight(pose, pose + length * np.array([*nose(pose[2]), 0.0]))
    n = nose(pose[2])
    centre = pose[:2] - axle * n + side * radius * np.array([n[1], -n[0]])
    return about(pose, side * length / radius, centre)


PUSHES = st.lists(
    st.tuples(st.sampled_from([None, LEAST, 2.4, 5.0]), st.sampled_from([-1.0, 1.0])),
    min_size=1, max_size=12,
)  # fmt: skip


def chain_of(pushes, axle, back):
    pose, out = np.array([1.0, 2.0, 0.3]), []
    for radius, side in pushes:
        move = push(pose, axle, -0.24 if back else 0.24, radius, side)
        out.append(move)
        pose = np.array(along(move, 1.0))
    return out


def holds(found, axle):
    for a, b in itertools.pairwise(found):
        assert np.array(along(a, 1.0)) == pytest.approx(b.start, abs=1e-6)
    for move in found:
        n = nose(move.heading)
        if move.arc:
            arm = move.centre - (move.start[:2] - axle * n)
            assert abs(arm @ n) < 1e-6  # the centre stands on the axle's line
            assert float(np.hypot(*arm)) >= LEAST - 1e-6
        else:
            assert abs(move.way[:2] @ np.array([n[1], -n[0]])) < 1e-6


@given(pushes=PUSHES, axle=st.floats(-1.0, 1.0), back=st.booleans())
def test_fewer_moves_between_the_same_poses_without_side_slip(pushes, axle, back):
    before = chain_of(pushes, axle, back)
    found = long_moves(before, axle, LEAST, lambda move: True)
    assert len(found) <= len(before)
    assert found[0].start == pytest.approx(before[0].start)
    assert np.array(along(found[-1], 1.0)) == pytest.approx(along(before[-1], 1.0), abs=1e-6)
    holds(found, axle)


def test_a_slalom_of_small_pushes_becomes_two_or_three_moves():
    pushes = [(LEAST, 1.0)] * 4 + [(None, 1.0)] * 4 + [(LEAST, 1.0)] * 3
    found = long_moves(chain_of(pushes, 0.4, False), 0.4, LEAST, lambda move: True)
    assert len(found) <= 3


@given(pushes=PUSHES, bad=st.integers(0, 5))
def test_what_is_not_proved_is_not_taken(pushes, bad):
    before = chain_of(pushes, 0.2, False)
    own = {tuple(np.round(m, 9)) for m in before}
    found = long_moves(before, 0.2, LEAST, lambda move: tuple(np.round(move, 9)) in own)
    assert len(found) <= len(before)
    holds(found, 0.2)


def test_two_poses_side_by_side_are_not_joined():
    a, b = np.array([0.0, 0.0, 0.0]), np.array([1.0, 0.0, 0.0])
    assert joined(a, b, 0.0, LEAST, lambda move: True) is None

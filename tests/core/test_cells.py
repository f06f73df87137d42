"""The boxes of pose space: the edge of the outside, and the same answer every time."""

from __future__ import annotations

import numpy as np
import pytest

from planform.core.motion.cells import NONE, WAY, Cells, scene


def _box(x0, x1, y0, y1):
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


def _door(width, keep=0.0, start=(0.0, 3.0, 0.3)):
    """A bar of 3 m by 1 m in a room of 8 m by 6 m with a door in the middle of its front."""
    bar, half = _box(-0.5, 0.5, -1.5, 1.5), 0.5 * width
    walls = [_box(-4.2, -half, -0.2, 0.0), _box(half, 4.2, -0.2, 0.0), _box(-4.2, 4.2, 6.0, 6.2)]
    walls += [_box(-4.2, -4.0, 0.0, 6.0), _box(4.0, 4.2, 0.0, 6.0)]
    things = [(0, wall, keep) for wall in walls]
    return Cells(scene([(0, bar)], things, bar, [_box(-4.0, 4.0, 0.0, 6.0)], 0.25), start, 0.5)


@pytest.mark.parametrize("keep", [0.0, 0.03, 0.0613, 0.1, 0.1371, 0.2])
def test_the_edge_of_the_outside_is_not_cut_for_ever(keep):
    cells = _door(2.0, keep)
    roots = cells.boxes
    found = cells.decide(0.0)
    assert found.answer == WAY
    assert found.boxes < roots + 800


@pytest.mark.parametrize(("width", "answer"), [(1.02, WAY), (0.98, NONE)])
def test_a_door_a_little_wider_than_the_bar_and_one_a_little_narrower(width, answer):
    assert _door(width).decide(0.0).answer == answer


def test_the_same_answer_every_time():
    one, other = (_door(1.1).decide(0.0) for _ in range(2))
    assert (one.boxes, one.rounds) == (other.boxes, other.rounds)
    assert np.array_equal(one.path, other.path)

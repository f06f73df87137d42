"""Closed forms of plane geometry beside the tapes and the sweep.

Two tapes: plane trilateration, the point of a triangle with three known sides by the law of
cosines (Euclid, Elements, II.12 and II.13); Pythagorean triangles give whole numbers.
Swept outlines: area of an annular sector; a rectangle that turns about a point on its long axis;
the circle that the far tip draws when one main wheel stands still (derived, no source: distance
of two points, sqrt((|y| + T/2)^2 + x^2)). Tolerances: half the last digit of the figures written,
or the bound that the sweep states of itself.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from planform.core.shape.tapes import crossing, moved_by
from planform.fit.moves import Pose
from planform.fit.steps import turning_point
from planform.fit.swept import (
    board_offset,
    farthest_travel,
    parking_travel,
    swept_outline,
)
from tests.formulas import where_tapes_cross
from tests.routes import turned

START = Pose(3.0, 2.0, 0.4)


@pytest.mark.parametrize(
    ("base", "a", "b", "point"),
    [
        (5.0, 3.0, 4.0, (1.8, 2.4)),
        (14.0, 13.0, 15.0, (5.0, 12.0)),
        (21.0, 10.0, 17.0, (6.0, 8.0)),
        (4.0, 13.0, 15.0, (-5.0, 12.0)),
    ],
)
def test_two_tapes_by_the_law_of_cosines(base, a, b, point):
    found = where_tapes_cross(np.zeros(2), np.array([base, 0.0]), a, b)
    assert found == pytest.approx(np.array(point), abs=1e-12)
    angle = math.acos((a * a + b * b - base * base) / (2.0 * a * b))
    assert crossing(np.zeros(2), np.array([base, 0.0]), found) == pytest.approx(
        min(angle, math.pi - angle), abs=1e-12
    )


def test_tapes_that_do_not_meet():
    with pytest.raises(ValueError, match=r"Expected tapes that meet, got 1 m and 2 m"):
        where_tapes_cross(np.zeros(2), np.array([5.0, 0.0]), 1.0, 2.0)


def test_both_tapes_out_move_a_square_crossing_by_root_two():
    assert moved_by(math.pi / 2.0, 0.003) == pytest.approx(0.003 * math.sqrt(2.0))
    point, a, b = np.array([3.0, 4.0]), np.zeros(2), np.array([6.0, 0.0])
    worst = max(
        float(np.linalg.norm(where_tapes_cross(a, b, 5.0 + i, 5.0 + j) - point))
        for i in (-1e-4, 1e-4)
        for j in (-1e-4, 1e-4)
    )
    assert worst == pytest.approx(moved_by(crossing(a, b, point), 1e-4), rel=1e-3)


@pytest.mark.parametrize("angle", [0.7, -1.9])
def test_a_bar_on_a_radius_sweeps_an_annular_sector(angle):
    bar = shapely.box(1.0 - 1e-9, -1e-9, 3.0, 1e-9)
    step = 0.004
    swept = swept_outline(bar, [turned(START, (0.0, 0.0), angle)], step)
    exact = 0.5 * abs(angle) * (3.0**2 - 1.0**2)
    edge = abs(angle) * 4.0 + 4.0
    assert exact <= swept.area <= exact + 0.51 * step * edge


@pytest.mark.parametrize("angle", [0.9, 2.0])
def test_a_rectangle_that_turns_about_a_point_of_its_axis(angle):
    """Rectangle, sector between both radii, and the segment that the far corners cut off."""
    a, b, h = 1.0, 3.0, 0.4
    far = math.hypot(b, h)
    exact = (b - a) * 2.0 * h + 0.5 * angle * (far**2 - a**2)
    exact += far**2 * math.acos(b / far) - b * h
    step = 0.004
    swept = swept_outline(shapely.box(a, -h, b, h), [turned(START, (0.0, 0.0), angle)], step)
    edge = angle * (far + a) + 2.0 * (b - a) + 4.0 * h
    assert exact <= swept.area <= exact + 0.51 * step * edge


@pytest.mark.parametrize(
    ("point", "radius"),
    [((-1.2, 4.5), 5.629387), ((-3.65, 0.0), 3.784508), ((-1.2, -4.5), 3.7)],
)
def test_pivot_about_the_left_main_wheel(point, radius):
    """Track 2 m: far tip, nose, near tip; axes aft and right."""
    speck = shapely.points(point).buffer(1e-7)
    move = turned(START, (0.0, -1.0), math.tau)
    centre = shapely.points(move.centre)
    ring = swept_outline(speck, [move], 0.01)
    reach = max(centre.distance(shapely.points(p)) for p in ring.exterior.coords)
    assert radius - 5e-7 <= reach <= radius + 0.0051
    corners = np.array([point])
    assert farthest_travel(move, corners) == pytest.approx(math.tau * radius, abs=4e-6)
    assert parking_travel(move) == pytest.approx(math.tau * 1.0)


def test_turning_point_of_a_quarter_turn():
    """About (1, 1), clockwise: (1, 3) goes to (3, 1)."""
    found = turning_point(Pose(1.0, 3.0, 0.0), Pose(3.0, 1.0, math.pi / 2.0))
    assert found == pytest.approx((1.0, 1.0))


def test_a_board_meets_a_tyre_where_the_chord_is():
    """Radius 5, board 2: 3-4-5 triangle, so 4 ahead of the axle."""
    assert board_offset(5.0, 2.0) == pytest.approx(4.0)
    assert board_offset(5.0, 7.0) == 5.0

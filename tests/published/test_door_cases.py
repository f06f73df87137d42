"""Manoeuvres through doors, in strips and about a wheel whose answer is known.

Numbers of the tests are those of a list of cases; the sources:

B4   rotating calipers: the least width of a convex polygon is found with a side against them
     (a standard result, from memory).
B9   the widest way between points is half the gap it goes through (Voronoi; from memory).
B5, B6, B8, B10, B13: closed forms, derived here; the derivation stands at each test.
"""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.core.motion.cells import Cells, scene
from planform.core.motion.plan_moves import about, straight
from planform.core.shape.convex import counter_clockwise
from planform.design.load import design_from, place_from
from planform.fit import way_out
from planform.fit.door import best_heading, needed_width
from planform.fit.ground_plan import Keep
from planform.fit.question import question_for, time_limit
from tests.manoeuvres import THICK, bar, box, cells_of, hull_of, passes


def doorway(pieces, width, thick, reach):
    """A wide bay behind one door of a wall; out is below it."""
    half, deep = 1.6 * reach, 2.6 * reach
    things = [
        box(-half - THICK, -0.5 * width, -thick, 0.0),
        box(0.5 * width, half + THICK, -thick, 0.0),
        box(-half - THICK, -half, 0.0, deep),
        box(half, half + THICK, 0.0, deep),
        box(-half - THICK, half + THICK, deep, deep + THICK),
    ]
    return cells_of(pieces, things, [box(-half, half, 0.0, deep)], (0.0, 1.4 * reach, np.pi))


# --- B4, B5, B6: through a door ------------------------------------------------------------------


def test_b4_thin_cross_straight_through_a_door():
    """A rhombus across its sides: S L / sqrt(S^2 + L^2), turned by atan(L/S)."""
    span, length = 9.0, 6.0
    hull = counter_clockwise(0.5 * np.array([[length, 0], [0, span], [-length, 0], [0, -span]]))
    heading, width = best_heading(hull)
    assert width == pytest.approx(4.992302, abs=5e-7)
    assert abs(np.degrees(heading)) == pytest.approx(90 - 33.69, abs=0.005) or abs(
        np.degrees(heading)
    ) == pytest.approx(33.69, abs=0.005)
    assert needed_width(hull, 0.0) == pytest.approx(9.0)
    assert needed_width(hull, 0.5 * np.pi) == pytest.approx(6.0)


def test_b4_equilateral_triangle_through_a_thin_door():
    """Turning does not help a triangle: its least width, s sqrt(3)/2."""
    side, need = 3.0, 2.598076
    high = side * np.sqrt(3.0) / 2.0
    assert high == pytest.approx(need, abs=5e-7)
    ring = np.array([[-2 * high / 3, 0], [high / 3, -side / 2], [high / 3, side / 2]])
    piece = [counter_clockwise(ring)]
    assert passes(doorway(piece, 1.01 * need, 0.1, 1.8))
    assert not passes(doorway(piece, 0.99 * need, 0.1, 1.8))


def test_b4_rectangle_through_a_door():
    assert passes(doorway([bar(3.0, 1.5)], 1.01 * 1.5, 0.1, 1.8))
    assert not passes(doorway([bar(3.0, 1.5)], 0.99 * 1.5, 0.1, 1.8))


@pytest.mark.parametrize(
    ("degrees", "margin"), [(0, 0.5), (5, 0.467900), (10, 0.397992), (15, 0.290806)]
)
def test_b5_straight_rolling_through_a_door(degrees, margin):
    """Closed form, derived here: along a path at angle psi to the door's axis the opening, g wide
    in a wall t thick, shows g cos psi - t sin psi.
    """
    g, t, w0, psi = 10.0, 0.3, 9.0, np.radians(degrees)
    assert (g * np.cos(psi) - t * np.sin(psi) - w0) / 2 == pytest.approx(margin, abs=5e-7)
    body = [box(-1.0, 1.0, -0.5 * w0, 0.5 * w0)]
    cells = doorway(body, g, t, 5.0)
    way = np.array([np.sin(psi), np.cos(psi)])
    start, end = (np.array([*(np.array([0, -t / 2]) + r * way), psi]) for r in (5.0, -5.0))
    move = straight(start, end)
    assert cells.scene.keeps(move, margin - 1e-4)
    assert not cells.scene.keeps(move, margin + 1e-4)


@pytest.mark.parametrize(("nose", "tail", "wing", "thick"), [(3, 3, 3, 0.4), (3.5, 2.5, 4.5, 0.4)])
def test_b6_turn_and_shift_of_a_plane_with_arms(nose, tail, wing, thick):
    """Closed form, derived here: an arm's tip passes while its neighbour lies along the wall in the
    door, so thin arms n, m, r, r need max(min(n, r), min(m, r)); arms and a wall of one thickness
    need no more than that thickness beside it.
    """
    need = max(min(nose, wing), min(tail, wing))
    cross = [
        box(-nose, tail, -0.5 * thick, 0.5 * thick),
        box(-0.5 * thick, 0.5 * thick, -wing, wing),
    ]
    assert best_heading(hull_of(cross))[1] > 1.3 * need
    assert passes(doorway(cross, need + thick, thick, 4.0))
    assert not passes(doorway(cross, 0.99 * need, thick, 4.0))


# --- B8, B9, B10: strips, points, pivots ---------------------------------------------------------


def strip(width, cap=1.0):
    """A rectangle 4 x 3 in a strip; a mast on its left side passes a gate only after a turn.

    The mast, and the half of the exit it does not pass, are in a second height range.
    """
    body, mast = bar(4.0, 3.0), box(-0.05, 0.05, -1.45, -1.35)
    long = 7.5
    walls = [
        box(-THICK, long, -THICK, 0.0),
        box(-THICK, long, width, width + THICK),
        box(-THICK, 0.0, 0.0, width),
    ]
    gate = box(long - 2.0, long, 0.5 * width + 0.2, width)
    built = scene(
        [(0, body), (1, mast)],
        [*((0, w, 0.0) for w in walls), (1, gate, 0.0)],
        body,
        [box(0.0, long, 0.0, width)],
        0.1,
    )
    return Cells(built, (2.75, 0.5 * width, 0.5 * np.pi), cap)


def test_b8_turning_round_in_a_strip():
    """Closed form, derived here: the diagonal must come across, p >= sqrt(l^2 + w^2)."""
    assert passes(strip(1.01 * 5.0))
    assert not passes(strip(0.99 * 5.0))
    cells = strip(5.4, cap=0.4)
    assert passes(cells, 0.185)
    assert not passes(cells, 0.225)


def test_b8_turning_round_on_the_spot():
    cells = strip(5.4)
    turn = straight(np.array([2.75, 2.7, 0.5 * np.pi]), np.array([2.75, 2.7, 1.5 * np.pi]))
    assert cells.scene.keeps(turn, 0.2 - 1e-4)
    assert not cells.scene.keeps(turn, 0.2 + 1e-4)


def test_b9_disc_between_points():
    radius, sides = 0.5, 24
    angle = 2.0 * np.pi * np.arange(sides) / sides
    disc = radius / np.cos(np.pi / sides) * np.column_stack([np.cos(angle), np.sin(angle)])
    points = [np.array([[x, 0.0], [x, 1e-6]]) for x in (0.0, 2.0, 5.0)]
    walls = [
        box(-THICK, 0.0, -0.5, 4.0),
        box(5.0, 5.0 + THICK, -0.5, 4.0),
        box(-THICK, 5.0 + THICK, 4.0, 4.0 + THICK),
    ]
    cells = cells_of([disc], [*points, *walls], [box(0, 5, 0, 4)], (2.5, 1.5, 0.0), cap=1.4)
    grown = radius / np.cos(np.pi / sides)  # corners of the polygon drawn round the disc
    assert passes(cells, 0.99 * (1.5 - grown))
    assert not passes(cells, 1.01 * (1.5 - radius))


@pytest.mark.parametrize(
    ("x", "y", "radius"), [(-1.2, 4.5, 5.629387), (3.65, 0.0, 3.784508), (-1.2, -4.5, 3.7)]
)
def test_b10_pivot_about_one_braked_wheel(x, y, radius):
    """Closed form, derived here: about a wheel at T/2 on the near side a point at x ahead of the
    axle and y to the far side sweeps sqrt((y + T/2)^2 + x^2).
    """
    track = 2.0
    swept = float(np.hypot(y + track / 2, x))
    if y >= 0.0:
        assert swept == pytest.approx(radius, abs=5e-7)
    else:  # the near tip: printed for a tip level with the axle
        assert abs(y) - track / 2 == pytest.approx(3.5)
        swept = float(np.hypot(abs(y) - track / 2, x))
        assert swept == pytest.approx(radius, abs=5e-7)
    point = np.array([-x, y])  # floor axes: x aft, y right
    wheel = np.array([0.0, -0.5 * track])
    piece = counter_clockwise(np.array([wheel, wheel + np.array([0.2, 0.1]), point]))
    gap = 0.05
    wall = box(-1.0, 1.0, swept + gap, swept + gap + 1.0)
    built = scene([(0, piece)], [(0, wall, 0.0)], piece, [box(-9, 9, -9, 9)], 0.1)
    centre = (-0.5 * track, 0.0)  # of the wheel, with the pivot at the origin and heading 0
    around = about(np.array([-centre[0], -centre[1], 0.0]), 2.0 * np.pi, np.zeros(2))
    assert built.keeps(around, gap - 1e-4)
    assert not built.keeps(around, gap + 1e-4)


# --- B13: height ranges through a stepped opening ------------------------------------------------


def test_b13_stepped_opening():
    """Closed form, derived here: the least of (W_k - w_k)/2 over the height ranges."""
    low_piece, high_piece = bar(3.0, 2.0), bar(1.0, 3.4)
    long, wide = 5.0, 6.0

    def built(low_width, high_width):
        things = []
        for band, width in ((0, low_width), (1, high_width)):
            things += [
                (band, box(-wide, -0.5 * width, -2.0, 0.0), 0.0),
                (band, box(0.5 * width, wide, -2.0, 0.0), 0.0),
                (band, box(-wide, -2.2, 0.0, long), 0.0),
                (band, box(2.2, wide, 0.0, long), 0.0),
                (band, box(-wide, wide, long, long + 2.0), 0.0),
            ]
        pieces = [(0, low_piece), (1, high_piece)]
        hull = hull_of([low_piece, high_piece])
        return scene(pieces, things, hull, [box(-2.2, 2.2, -2, long)], 0.1)

    for low_width, high_width in ((2.6, 4.3), (2.9, 4.0)):
        least = min(0.5 * (low_width - 2.0), 0.5 * (high_width - 3.4))
        cells = Cells(built(low_width, high_width), (0.0, 2.5, np.pi), 0.47)
        assert passes(cells, 0.99 * least)
        assert not passes(cells, 1.01 * least)


def test_b13_height_margin_under_a_head(plain, room):
    """The door head, less the highest point, less what a true curve stands outside its facets."""
    room["doors"][0]["clear_height"] = "2.2 m"
    standing = pf.stand_all(pf.build(design_from(plain)))[0]
    built = pf.build_room(place_from(room))
    tops = [float(part.points[:, 2].max()) for part in standing.parts]
    sure = 2.2 - max(tops) - standing.bulge
    most = 2.2 - max(top + part.bulge for top, part in zip(tops, standing.parts, strict=True))
    assert 0.05 < sure <= most < sure + 0.01
    for rise, answer in ((sure - 1e-3, way_out.WAY), (most + 1e-3, way_out.NONE)):
        question = question_for(standing, built, keep=Keep({}, {"door head": rise}))
        assert way_out.way_out(question, watch=time_limit(20.0)).answer == answer

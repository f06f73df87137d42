"""Manoeuvres whose answer is known: corridors, doors, strips, pivots.

Numbers of the tests are those of a list of cases; the sources:

B1   the longest ladder round a corner, (a^(2/3) + b^(2/3))^(3/2): a textbook problem of calculus.
B4   rotating calipers: the least width of a convex polygon is found with a side against them
     (a standard result, from memory).
B7   the moving sofa: J. M. Hammersley, On the enfeeblement of mathematical skills, Bulletin of the
     IMA 4 (1968), handset of area pi/2 + 2/pi; Y. Kallus, D. Romik, Improved upper bounds in the
     moving sofa problem, arXiv 1706.06630: no shape of area over 2.37 passes.
B9   the widest way between points is half the gap it goes through (Voronoi; from memory).
B2, B3, B5, B6, B8, B10, B13: closed forms, derived here; the derivation stands at each test.
"""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.core.motion.cells import NONE, WAY, Cells, scene, straight
from planform.core.shape.convex import counter_clockwise
from planform.design.load import design_from, place_from
from planform.fit import way_out
from planform.fit.door import best_heading, needed_width
from planform.fit.ground_plan import Keep
from planform.fit.question import question_for, time_limit

THICK, FAR = 2.0, 12.0


def box(x0, x1, y0, y1):
    """A rectangle, counter-clockwise."""
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


def bar(length, width):
    """A rectangle about its middle, long from nose to tail; a segment where it has no width."""
    if width == 0.0:
        return np.array([[-0.5 * length, 0.0], [0.5 * length, 0.0]])
    return box(-0.5 * length, 0.5 * length, -0.5 * width, 0.5 * width)


def hull_of(pieces):
    """Convex hull of pieces, counter-clockwise."""
    import shapely

    points = np.concatenate(pieces)
    hull = shapely.convex_hull(shapely.multipoints(points))
    if hull.geom_type == "LineString":
        return np.asarray(hull.coords)
    return counter_clockwise(np.asarray(hull.exterior.coords)[:-1])


def cells_of(pieces, things, floors, start, cap=1.0):
    """The search for pieces (all at one height) among things from a pose over floors."""
    built = scene(
        [(0, p) for p in pieces], [(0, t, 0.0) for t in things], hull_of(pieces), floors, 0.1
    )
    return Cells(built, start, cap)


def corner(pieces, p, q, cap=1.0, bay=False):
    """Round a right-angle corner: from a leg of width p, out through one of width q.

    bay : start in a wide bay before the first leg, so that its width counts too
    """
    reach = float(np.hypot(*np.concatenate(pieces).T).max())
    deep, out = 1.1 * reach + 0.5 + cap, max(2.2 * reach, p) + 0.3
    floors = [box(0.0, p, -deep, q), box(p, out, 0.0, q)]
    things = [
        box(-THICK, 0.0, -deep - THICK, q + THICK),
        box(-THICK, out + 2.0 * reach, q, q + THICK),
        box(p, max(out, p + THICK), -deep, 0.0),
    ]
    if not bay:
        things.append(box(-THICK, out, -deep - THICK, -deep))
        return cells_of(pieces, things, floors, (0.5 * p, -deep + reach + 0.1 + cap, 0.0), cap)
    side, end = 1.2 * reach, -deep - 2.4 * reach
    floors.append(box(-side, p + side, end, -deep))
    things[0] = box(-side - THICK, 0.0, -deep, q + THICK)
    things[2] = box(p, p + side + THICK, -deep, 0.0)
    things += [
        box(-side - THICK, -side, end, -deep),
        box(p + side, p + side + THICK, end, -deep),
        box(-side - THICK, p + side + THICK, end - THICK, end),
    ]
    return cells_of(pieces, things, floors, (0.5 * p, -deep - 1.2 * reach, 0.0), cap)


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


def passes(cells, c=0.0):
    """The proved answer; an open one is a failure."""
    answer = cells.decide(c).answer
    assert answer in (WAY, NONE)
    return answer == WAY


def bracketed(cells, high, width=0.003):
    """The greatest clearance, between two proved answers."""
    low = 0.0
    assert passes(cells, low)
    assert not passes(cells, high)
    while high - low > width:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if passes(cells, middle) else (low, middle)
    return low, high


def round_ring(radius, start, stop, sides, outside):
    """Corners of an arc as a polygon line that holds the arc (outside) or lies in it."""
    if not outside:
        angle = np.linspace(start, stop, sides + 1)
        return radius * np.column_stack([np.cos(angle), np.sin(angle)])
    step = (stop - start) / sides
    middle = start + step * (np.arange(sides) + 0.5)
    corners = radius / np.cos(0.5 * step) * np.column_stack([np.cos(middle), np.sin(middle)])
    ends = radius * np.array([[np.cos(a), np.sin(a)] for a in (start, stop)])
    return np.concatenate([ends[:1], corners, ends[1:]])


def about(pieces):
    """Pieces moved so that the middle of their box is the pivot."""
    points = np.concatenate(pieces)
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    return [p - middle for p in pieces]


# --- B1, B2, B3: round a corner -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("a", "b", "longest"),
    [(1, 1, 2.828427), (1, 2, 4.161938), (2.4, 3.0, 7.620995), (3, 5, 11.194100)],
)
def test_b1_segment_round_a_corner(a, b, longest):
    assert (a ** (2 / 3) + b ** (2 / 3)) ** 1.5 == pytest.approx(longest, abs=5e-7)
    assert passes(corner([bar(0.99 * longest, 0.0)], a, b))
    assert not passes(corner([bar(1.01 * longest, 0.0)], a, b))


@pytest.mark.parametrize(
    ("p", "q", "width", "longest"),
    [
        (1, 1, 0.5, 1.828427),
        (1, 1, 0.70710678, 1.414214),
        (1.2, 1.5, 0.4, 3.007413),
        (3, 4, 0.6, 8.659056),
        (3, 3, 1.2, 6.085281),
    ],
)
def test_b2_rectangle_round_a_corner(p, q, width, longest):
    """Closed form, derived here: with two corners on the outer walls at angle t, the inner edge
    meets the block where l sin t cos t + w = p sin t + q cos t; the least l over t is the most.
    """
    t = np.linspace(0.01, 0.5 * np.pi - 0.01, 200_001)
    least = (p * np.sin(t) + q * np.cos(t) - width) / (np.sin(t) * np.cos(t))
    assert float(least.min()) == pytest.approx(longest, abs=2e-6)
    assert passes(corner([bar(0.99 * longest, width)], p, q))
    assert not passes(corner([bar(1.01 * longest, width)], p, q))


@pytest.mark.parametrize(
    ("p", "q", "length", "width", "value"),
    [
        (1, 1, 2.0, 0.3, 0.0473088),
        (1, 1, 2.2, 0.3, 0.0058875),
        (1, 1, 1.2, 0.7, 0.0473088),
        (1.2, 1.5, 2.0, 0.4, 0.2069974),
        (3, 4, 7, 0.6, 0.3411069),
    ],
)
def test_b3_greatest_clearance_round_a_corner(p, q, length, width, value):
    """Closed form, derived here: B2 with every wall moved in by B,
    min over t of (p sin t + q cos t - l sin t cos t - w) / (1 + sin t + cos t), at most
    (p - w)/2 and (q - w)/2.
    """
    t = np.linspace(0.0, 0.5 * np.pi, 200_001)
    s, c = np.sin(t), np.cos(t)
    form = float(((p * s + q * c - length * s * c - width) / (1 + s + c)).min())
    assert min(form, 0.5 * (p - width), 0.5 * (q - width)) == pytest.approx(value, abs=5e-7)
    low, high = bracketed(corner([bar(length, width)], p, q, cap=0.47), 0.47)
    assert low <= value <= high
    assert high - low <= 0.003


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
    assert passes(doorway(piece, 1.01 * need, 0.1, 2.0))
    assert not passes(doorway(piece, 0.99 * need, 0.1, 2.0))


def test_b4_rectangle_through_a_door():
    assert passes(doorway([bar(4.0, 1.5)], 1.01 * 1.5, 0.1, 2.2))
    assert not passes(doorway([bar(4.0, 1.5)], 0.99 * 1.5, 0.1, 2.2))


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


@pytest.mark.parametrize(("nose", "tail", "wing", "thick"), [(3, 3, 3, 0.2), (3.5, 2.5, 4.5, 0.2)])
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
    assert passes(doorway(cross, need + thick, thick, 5.0))
    assert not passes(doorway(cross, 0.99 * need, thick, 5.0))


# --- B7: the moving sofa -------------------------------------------------------------------------


def half_disc(radius, outside):
    """A half disc as a polygon that holds it, or lies in it; its flat side first."""
    return counter_clockwise(round_ring(radius, 0.0, np.pi, 18, outside))


def handset(scale, stretch=1.0):
    """Convex pieces that hold the handset: the arcs drawn outside, the hollow cut inside."""
    half, hollow, sides = 2.0 / np.pi, 2.0 / np.pi, 12
    right = np.concatenate([[[0.0, 0.0]], round_ring(1.0, 0.0, 0.5 * np.pi, 8, True)])
    shift = np.array([half * stretch, 0.0])
    out = [right + shift, (right * [-1.0, 1.0])[::-1] - shift]
    angle = np.linspace(np.pi, 0.0, sides + 1)
    x, y = half * stretch * np.cos(angle), hollow * np.sin(angle)
    for k in range(sides):
        out.append(np.array([[x[k], y[k]], [x[k + 1], y[k + 1]], [x[k + 1], 1.0], [x[k], 1.0]]))
    return about([counter_clockwise(scale * p) for p in out])


def test_b7_half_disc_round_the_unit_corner():
    assert passes(corner(about([half_disc(0.99, True)]), 1, 1, bay=True))
    assert not passes(corner(about([half_disc(1.01, False)]), 1, 1, bay=True))


def test_b7_hammersleys_handset_round_the_unit_corner():
    pieces = handset(1.0)
    area = sum(float(np.cross(p[1:-1] - p[0], p[2:] - p[0]).sum()) / 2 for p in map(_three, pieces))
    assert area == pytest.approx(0.5 * np.pi + 2.0 / np.pi, rel=0.01)
    assert passes(corner(handset(0.97), 1, 1, bay=True))
    assert not passes(corner(handset(1.02), 1, 1, bay=True))


def _three(ring):
    return np.column_stack([ring, np.zeros(len(ring))])


@pytest.mark.parametrize("width", [0.5, 0.7, 0.9, 0.98])
def test_b7_no_rectangle_over_the_upper_bound_passes(width):
    assert not passes(corner([bar(2.38 / width, width)], 1, 1, bay=True))


def test_b7_no_stretched_handset_over_the_upper_bound_passes():
    import shapely

    pieces = handset(0.98, 1.5)
    assert shapely.union_all(shapely.polygons(pieces[0])).area > 0
    area = shapely.union_all([shapely.polygons(p) for p in pieces]).area
    assert area > 2.37
    assert not passes(corner(pieces, 1, 1, bay=True))


# --- B8, B9, B10: strips, points, pivots ---------------------------------------------------------


def strip(width, cap=1.0):
    """A rectangle 4 x 3 in a strip; a mast on its left side passes a gate only after a turn.

    The mast, and the half of the exit it does not pass, are in a second height range.
    """
    body, mast = bar(4.0, 3.0), box(-0.05, 0.05, -1.45, -1.35)
    long = 9.0
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
    return Cells(built, (3.5, 0.5 * width, 0.5 * np.pi), cap)


def test_b8_turning_round_in_a_strip():
    """Closed form, derived here: the diagonal must come across, p >= sqrt(l^2 + w^2)."""
    assert passes(strip(1.01 * 5.0))
    assert not passes(strip(0.99 * 5.0))
    cells = strip(5.4, cap=0.4)
    assert passes(cells, 0.185)
    assert not passes(cells, 0.225)


def test_b8_turning_round_on_the_spot():
    cells = strip(5.4)
    turn = np.array([3.5, 2.7, 0.5 * np.pi, 0.0, 0.0, np.pi, 0.0, 0.0, 0.0])
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
    move = np.array([0.0, 0.0, 0.0, 0.0, 0.0, 2.0 * np.pi, 1.0, *centre])
    around = move.copy()
    around[:2] -= centre
    around[7:] = 0.0
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

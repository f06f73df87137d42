"""Manoeuvres round a corner whose answer is known. Doors and strips: `test_door_cases.py`.

Numbers of the tests are those of a list of cases; the sources:

B1   the longest ladder round a corner, (a^(2/3) + b^(2/3))^(3/2): a textbook problem of calculus.
B7   the moving sofa: J. M. Hammersley, On the enfeeblement of mathematical skills, Bulletin of the
     IMA 4 (1968), handset of area pi/2 + 2/pi; Y. Kallus, D. Romik, Improved upper bounds in the
     moving sofa problem, arXiv 1706.06630: no shape of area over 2.37 passes.
B2, B3: closed forms, derived here; the derivation stands at each test.
"""

from __future__ import annotations

import numpy as np
import pytest

from planform.core.shape.convex import counter_clockwise
from tests.manoeuvres import THICK, bar, box, cells_of, passes


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

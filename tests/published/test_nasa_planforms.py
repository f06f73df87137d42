"""Planforms of NASA and NACA wings, each with its own source.

GE-04 NASA trap-wing data archive (1998/1999), Summary of Model Geometry.
GE-05, GE-06 NASA TP-1580 (1979), page 2, as quoted, with the quoting project's station list.
GE-08 NASA Glenn beginner's guide, wing-geometry exercise and its answers.
GE-12 NACA TN 1697 (1948), summary: inputs read, outputs derived.
GE-13 NASA memorandum, March 1959, abstract (triangles): inputs read, outputs derived.
GE-14 NASA low-speed canard configuration report, abstract: inputs read, outputs derived.
GE-17 NASA TP-1538 (1979), Table I: from memory. GE-18 NACA 45-deg research wing: from memory.
Tolerance: half of the last printed digit, unless a comment says otherwise.
"""

import math

import numpy as np
import pytest

from planform.core.shape import planform as pf
from tests import formulas

FT, IN = 0.3048, 0.0254


def test_ge_04_trap_wing():
    semispan, area = 85.1, 22.028 * 144
    root, tip = formulas.trapezoid(2 * area, 2 * semispan, 0.4)
    chord, y = np.array([root, tip]), np.array([0.0, semispan])
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(39.6, abs=0.05)
    ratio = pf.half_area(y, chord)
    assert (2 * semispan) ** 2 / (2 * ratio) == pytest.approx(4.56, abs=0.0075)  # exact 4.566
    leading = formulas.sweep_change(math.radians(30), 4.566, 0.4, 0.25, 0.0)
    assert math.degrees(leading) == pytest.approx(33.9, abs=0.05)


def _tp_1580(tip_y):
    """Outer panel of the cranked wing, carried to the centre line and cut at a tip [ft]."""
    y, x = np.array([2.297998, 5.999996]), np.array([0.0, 0.0])
    chord = np.array([1.116670, 0.500000])
    _, _, root = pf.to_centreline(y, x, chord)
    tip = root + (chord[1] - root) * tip_y / y[1]
    return np.array([0.0, tip_y]), np.array([root, tip])


def test_ge_05_reference_trapezoid_of_a_cranked_wing():
    y, chord = _tp_1580(5.999996)
    area = 2 * pf.half_area(y, chord)
    assert area == pytest.approx(12.0, abs=0.05)
    assert area * FT * FT == pytest.approx(1.11, abs=0.005)
    assert 12.0**2 / area == pytest.approx(12.0, abs=0.05)
    mac = pf.mean_aerodynamic_chord(y, chord) * FT
    assert mac * 100 == pytest.approx(33.02, abs=0.015)  # 33.010 from the quoted stations
    assert mac / IN == pytest.approx(13.00, abs=0.006)
    assert pytest.approx(13.40, abs=0.005) == 1.116670 * 12


def test_ge_06_same_wing_with_shorter_tips():
    y, chord = _tp_1580(10.59 / 2)
    area = 2 * pf.half_area(y, chord)
    assert area == pytest.approx(11.21, abs=0.005)
    assert area * FT * FT == pytest.approx(1.04, abs=0.005)
    assert 10.59**2 / area == pytest.approx(10.0, abs=0.05)
    # the quoted mean chord, 34.90 cm, does not follow from these stations and is not tested


def test_ge_08_elliptical_wing():
    """Printed chords; then area, MAC and butt line of the whole wing (exact, recomputed).

    The page's own aspect ratio, 5.05, uses one local chord and is not tested.
    """
    y = 5.6 * np.sin(np.linspace(0.0, np.pi / 2, 8001))
    chord = 2.56 * np.sqrt(1.0 - (y / 5.6) ** 2)
    for place, printed in ((1.0, 2.52), (2.8, 2.22), (5.0, 1.15)):
        assert np.interp(place, y, chord) == pytest.approx(printed, abs=0.005)
    area = 2 * pf.half_area(y, chord)
    assert area == pytest.approx(22.519, abs=0.0005)
    assert 11.2**2 / area == pytest.approx(5.570, abs=0.0005)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(2.1730, abs=0.00005)
    assert pf.mac_butt_line(y, chord) == pytest.approx(2.3767, abs=0.00005)


def test_ge_09_ellipse_constants():
    """Textbook integrals: MAC 8/(3 pi) c, butt line 4/(3 pi) b/2, mean chord pi/4 c."""
    y = np.sin(np.linspace(0.0, np.pi / 2, 4001))
    chord = np.sqrt(1.0 - y * y)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(8 / (3 * math.pi), abs=1e-6)
    assert pf.mac_butt_line(y, chord) == pytest.approx(4 / (3 * math.pi), abs=1e-6)
    assert formulas.geometric_mean_chord(y, chord) == pytest.approx(math.pi / 4, abs=1e-6)


def test_ge_12_tapered_wind_tunnel_wing():
    root, tip = formulas.trapezoid(24.0, 12.0, 0.5)
    assert (root, tip) == pytest.approx((2.6667, 1.3333), abs=0.00005)
    mac = pf.mean_aerodynamic_chord(np.array([0.0, 6.0]), np.array([root, tip]))
    assert mac == pytest.approx(2.0741, abs=0.00005)


def test_ge_13_triangular_canard_layout():
    """Aspect ratio 2 triangle: leading edge 63.43 deg; hinge 0.5 MAC ahead is c_r / 3 ahead."""
    root, span = 1.0, 1.0
    assert span**2 / (root * span / 2) == pytest.approx(2.0)
    sweep = pf.sweep_at(span / 2, 0.0, root, root, 0.0, 0.0)
    assert math.degrees(sweep) == pytest.approx(63.43, abs=0.005)
    mac = pf.mean_aerodynamic_chord(np.array([0.0, 0.5]), np.array([1.0, 0.0]))
    assert -0.5 * mac == pytest.approx(-1 / 3)


def test_ge_14_trapezoidal_canard_layout():
    leading = formulas.sweep_change(0.0, 3.0, 0.143, 0.8, 0.0)
    trailing = formulas.sweep_change(0.0, 3.0, 0.143, 0.8, 1.0)
    assert math.degrees(leading) == pytest.approx(38.65, abs=0.005)
    assert math.degrees(trailing) == pytest.approx(-11.31, abs=0.005)


def test_ge_17_swept_trapezoid_from_memory():
    root, tip = formulas.trapezoid(300.0, 30.0, 0.2275)
    assert root == pytest.approx(16.293, abs=0.0005)
    mac = pf.mean_aerodynamic_chord(np.array([0.0, 15.0]), np.array([root, tip]))
    assert mac == pytest.approx(11.32, abs=0.005)


def test_ge_18_swept_trapezoid_from_memory():
    root, tip = formulas.trapezoid(1.0, 2.0, 0.6)
    assert root == pytest.approx(0.625, abs=0.0005)
    mac = pf.mean_aerodynamic_chord(np.array([0.0, 1.0]), np.array([root, tip]))
    assert mac == pytest.approx(0.5104, abs=0.00005)

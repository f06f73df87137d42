"""Mean aerodynamic chord in closed form: NACA Report 751 (Diehl, 1942) and textbooks.

GE-01 trapezoid formulas (lambda squared, as dimensional analysis demands), GE-02 the definition,
GE-20 sweep conversion (from memory), GE-21 exact rational integrals of a cranked half wing
(computed, no publication). GE-10 AIAA 6th drag prediction workshop reference set, as quoted, and
GE-11 an aeroelastic research wing, as quoted: consistency of published sets, not planforms.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from planform.core.shape import planform as pf
from tests import formulas

root, span = st.floats(0.5, 5.0), st.floats(2.0, 20.0)
taper, sweep = st.floats(0.05, 1.5), st.floats(-0.5, 1.1)


@given(root, taper, span, sweep)
def test_ge_01_trapezoid(c, t, b, sweep):
    y, chord = np.array([0.0, b / 2]), np.array([c, t * c])
    x = y * math.tan(sweep)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(
        2 / 3 * c * (1 + t + t * t) / (1 + t)
    )
    bl = b / 6 * (1 + 2 * t) / (1 + t)
    assert pf.mac_butt_line(y, chord) == pytest.approx(bl)
    assert pf.mac_leading_edge(y, x, chord) == pytest.approx(bl * math.tan(sweep), abs=1e-12)


@given(root, taper, span)
def test_ge_02_definition(c, t, b):
    y, chord = np.array([0.0, b / 2]), np.array([c, t * c])
    square = quad(lambda s: np.interp(s, y, chord) ** 2, 0, b / 2)[0]
    area = 2 * pf.half_area(y, chord)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(2 / area * square, rel=1e-7)


@given(st.floats(1.0, 12.0), taper, sweep, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_ge_20_sweep_conversion(ratio, t, sweep, m, n):
    b = 2.0
    c, tip = formulas.trapezoid(b * b / ratio, b, t)
    aft = b / 2 * math.tan(sweep) - m * (tip - c)
    expected = pf.sweep_at(b / 2, 0.0, c, aft, tip, n)
    assert formulas.sweep_change(sweep, ratio, t, m, n) == pytest.approx(expected, abs=1e-9)


def test_ge_21_cranked_half_wing_exact_rationals():
    y, x, chord = (np.array(v, float) for v in ((0, 2, 5), (0, 1, 4), (3, 2, 1)))
    assert pf.half_area(y, chord) == pytest.approx(9.5, abs=1e-12)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(118 / 57, abs=1e-12)
    assert pf.mac_leading_edge(y, x, chord) == pytest.approx(77 / 57, abs=1e-12)
    assert pf.mac_butt_line(y, chord) == pytest.approx(118 / 57, abs=1e-12)


def test_ge_10_reference_set_is_no_simple_trapezoid():
    area, span, mac = 594720.0, 2313.50, 275.80
    assert span**2 / area == pytest.approx(9.00, abs=0.005)
    assert area * 0.0254**2 == pytest.approx(383.69, abs=0.005)
    assert mac * 0.0254 == pytest.approx(7.00532, abs=0.000005)
    assert area / span == pytest.approx(257.07, abs=0.005)
    c, tip = formulas.trapezoid(area, span, 0.275)
    wrong = pf.mean_aerodynamic_chord(np.array([0.0, span / 2]), np.array([c, tip]))
    assert wrong == pytest.approx(284.8, abs=0.05)  # the MAC must come from the area's own planform
    assert wrong > mac + 8


def test_ge_11_reference_set_of_a_cranked_wing():
    half, mac, semispan = 0.3926, 0.3445, 1.2857
    assert semispan**2 / half * 2 == pytest.approx(8.42, abs=0.005)
    assert mac / (half / semispan) == pytest.approx(1.128, abs=0.0005)

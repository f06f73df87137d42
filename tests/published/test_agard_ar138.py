"""AGARD Advisory Report 138, Experimental Data Base for Computer Program Assessment, 1979.

Case B1 (wing M6), paragraphs 2.1.2 to 2.1.8 and 4.7, as quoted from it. Entry GE-03.
Tolerances: the printed last digits (MAC 0.1 %, area 0.05 %, trailing-edge sweep 0.1 deg).
"""

import math

import numpy as np
import pytest

from planform.core.shape import planform as pf
from tests import formulas


def test_ge_03_planform_of_wing_m6():
    semispan, ratio, taper, sweep = 1.1963, 3.8, 0.562, math.radians(30.0)
    root, tip = formulas.trapezoid((2 * semispan) ** 2 / ratio, 2 * semispan, taper)
    y = np.array([0.0, semispan])
    x = np.array([0.0, semispan * math.tan(sweep)])
    chord = np.array([root, tip])
    assert root == pytest.approx(0.8059, abs=0.0003)  # 0.8061 from the rounded taper
    assert pf.half_area(y, chord) == pytest.approx(0.7532, rel=0.0005)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(0.64607, rel=0.001)
    trailing = pf.sweep_at(semispan, x[0], chord[0], x[1], chord[1], 1.0)
    assert math.degrees(trailing) == pytest.approx(15.8, abs=0.1)
    assert pf.mac_butt_line(y, chord) == pytest.approx(0.5422, abs=0.0002)
    assert pf.mac_leading_edge(y, x, chord) == pytest.approx(0.3131, abs=0.0002)

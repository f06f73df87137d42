"""AGARD calibration model B (1952; AG-4/M3, 1955) and AGARD R-765 (1985/88).

GE-07: equilateral delta, span 4 D: inputs read, outputs derived. GE-19: panel of the standard
aeroelastic configuration, from memory. Tolerance: half of the last printed digit.
"""

import math

import numpy as np
import pytest

from planform.core.shape import planform as pf


def test_ge_07_delta_wing_of_model_b():
    root = 4.0 * math.sqrt(3.0) / 2.0
    y, x, chord = np.array([0.0, 2.0]), np.array([0.0, root]), np.array([root, 0.0])
    assert root == pytest.approx(3.4641, abs=0.00005)
    assert 2 * pf.half_area(y, chord) == pytest.approx(6.9282, abs=0.00005)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(2.3094, abs=0.00005)
    assert pf.mac_butt_line(y, chord) == pytest.approx(0.6667, abs=0.00005)
    assert math.degrees(pf.sweep_at(2.0, x[0], root, x[1], 0.0, 0.0)) == pytest.approx(60.0)


def test_ge_19_swept_panel_from_memory():
    y, chord = np.array([0.0, 30.0]), np.array([21.96, 14.496])
    area = pf.half_area(y, chord)
    assert chord[1] / chord[0] == pytest.approx(0.66, abs=0.005)
    assert area == pytest.approx(546.84, abs=0.005)
    assert 30.0**2 / area == pytest.approx(1.65, abs=0.005)
    assert pf.mean_aerodynamic_chord(y, chord) == pytest.approx(18.483, abs=0.0005)
    aft = 30.0 * math.tan(math.radians(45.0)) + 0.25 * (chord[0] - chord[1])
    leading = pf.sweep_at(30.0, 0.0, chord[0], aft, chord[1], 0.0)
    assert math.degrees(leading) == pytest.approx(46.73, abs=0.005)

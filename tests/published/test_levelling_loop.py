"""A levelling loop measured both ways: sample output of a free geodetic adjustment program.

Entry PN-05, read there and reproduced. Tolerance: the printed last digit.
"""

import numpy as np
import pytest

from planform.core.adjust.least_squares import adjust
from planform.core.adjust.snooping import snoop

MARKS = {"4": 0, "3": 1, "2": 2}
READ = [
    ("1a", "4", -1.225),
    ("4", "3", -0.848),
    ("3", "2", 1.342),
    ("2", "1a", 0.720),
    ("1a", "2", -0.724),
    ("2", "3", -1.335),
    ("3", "4", 0.842),
    ("4", "1a", 1.231),
]


def loop():
    columns, seen = np.zeros((8, 3)), np.zeros(8)
    for row, (start, end, rise) in enumerate(READ):
        seen[row] = rise
        for mark, sign in ((start, -1.0), (end, 1.0)):
            if mark in MARKS:
                columns[row, MARKS[mark]] += sign
            else:
                seen[row] -= sign * 1000.0
    return columns, seen, np.full(8, 0.005)


def test_pn_05_heights_and_their_deviations():
    got = adjust(*loop())
    np.testing.assert_allclose(got.x, [998.77513, 997.93325, 999.27487], atol=6e-6)
    assert got.spread * 5.0 == pytest.approx(5.42, abs=0.005)
    assert got.chi2 * 25.0 == pytest.approx(146.625, abs=0.001)
    np.testing.assert_allclose(got.sd * 1000.0, [3.1, 3.5, 3.1], atol=0.05)


def test_pn_05_largest_residual():
    columns, seen, sd = loop()
    got = adjust(columns, seen, sd)
    worst = int(np.argmax(np.abs(got.w)))
    assert worst == 5
    assert abs(got.w[worst]) == pytest.approx(1.68, abs=0.005)
    assert snoop(columns, seen, sd).wrong == ()

"""Sums of rectangular distributions in a guide to uncertainty.

JCGM 101:2008, Evaluation of measurement data: Supplement 1 to the Guide to the expression of
uncertainty in measurement: propagation of distributions using a Monte Carlo method, clauses 9.2.3
and 9.2.4, the additive model Y = X1 + X2 + X3 + X4 with rectangular inputs. Printed values from
memory, not read; the closed form in the first test is worked out here and agrees with them.
Tolerance: half of the last printed digit.
"""

import math

import pytest

from planform.core.spread import band_of

ROOT_3 = math.sqrt(3.0)
"""Half width of a rectangular distribution of standard deviation 1."""


def test_9_2_3_four_inputs_of_standard_deviation_1():
    """95 % interval printed +-3.88; 2 sqrt 3 (2 - (3/5)^(1/4)) in closed form."""
    found = band_of([ROOT_3] * 4, 0.95)
    assert found == pytest.approx(3.88, abs=0.005)
    assert found == pytest.approx(2.0 * ROOT_3 * (2.0 - 0.6**0.25), abs=1e-5)


def test_9_2_4_one_input_of_standard_deviation_10():
    """95 % interval printed +-17.0."""
    assert band_of([ROOT_3, ROOT_3, ROOT_3, 10.0 * ROOT_3], 0.95) == pytest.approx(17.0, abs=0.05)

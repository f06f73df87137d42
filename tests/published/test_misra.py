"""NIST Statistical Reference Datasets, Misra1a, Misra1b and Misra1c: curved least squares.

Misra1b and Misra1c as read in public copies; the values of Misra1a from memory, reproduced.
Entries PN-02a to PN-02c. Tolerance: eight digits.
"""

import numpy as np
import pytest

from planform.core.adjust.least_squares import adjust_curved

X = np.array(
    [
        77.6,
        114.9,
        141.1,
        190.8,
        239.9,
        289.0,
        332.8,
        378.4,
        434.8,
        477.3,
        536.8,
        593.1,
        689.1,
        760.0,
    ]
)
Y = np.array(
    [
        10.07,
        14.73,
        17.94,
        23.93,
        29.61,
        35.18,
        40.02,
        44.82,
        50.76,
        55.05,
        61.01,
        66.40,
        75.47,
        81.78,
    ]
)


def misra_1a(b):
    return b[0] * (1.0 - np.exp(-b[1] * X))


def misra_1b(b):
    return b[0] * (1.0 - (1.0 + b[1] * X / 2.0) ** -2)


def misra_1c(b):
    return b[0] * (1.0 - (1.0 + 2.0 * b[1] * X) ** -0.5)


@pytest.mark.parametrize("start", [(500.0, 1e-4), (250.0, 5e-4)])
@pytest.mark.parametrize(
    ("law", "values", "widths", "left"),
    [
        (misra_1a, (238.94212918, 5.5015643181e-4), (2.7070075241, 7.2668688436e-6), 0.12455138894),
        (
            misra_1b,
            (337.99746163, 3.9039091287e-4),
            (3.1643950207, 4.2547321834e-6),
            0.075464681533,
        ),
        (
            misra_1c,
            (636.42725809, 2.0813627256e-4),
            (4.6638326572, 1.7728423155e-6),
            0.040966836971,
        ),
    ],
)
def test_pn_02_misra(law, values, widths, left, start):
    x, last = adjust_curved(law, np.array(start), Y, np.ones(len(Y)))
    assert last.freedom == 12
    np.testing.assert_allclose(x, values, rtol=1e-8)
    assert last.chi2 == pytest.approx(left, rel=1e-8)
    np.testing.assert_allclose(last.sd * last.spread, widths, rtol=1e-7)

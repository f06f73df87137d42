"""NIST Statistical Reference Datasets, Longley: certified values for linear least squares.

The data as statsmodels carries them (public domain); the certified values as read in a public
certification script. Entry PN-01. Tolerance: eight digits.
"""

import numpy as np
import pytest

from planform.core.adjust.least_squares import adjust

DATA = """
60323 83.0 234289 2356 1590 107608 1947
61122 88.5 259426 2325 1456 108632 1948
60171 88.2 258054 3682 1616 109773 1949
61187 89.5 284599 3351 1650 110929 1950
63221 96.2 328975 2099 3099 112075 1951
63639 98.1 346999 1932 3594 113270 1952
64989 99.0 365385 1870 3547 115094 1953
63761 100.0 363112 3578 3350 116219 1954
66019 101.2 397469 2904 3048 117388 1955
67857 104.6 419180 2822 2857 118734 1956
68169 108.4 442769 2936 2798 120445 1957
66513 110.8 444546 4681 2637 121950 1958
68655 112.6 482704 3813 2552 123366 1959
69564 114.2 502601 3931 2514 125368 1960
69331 115.7 518173 4806 2572 127852 1961
70551 116.9 554894 4007 2827 130081 1962
"""
CERTIFIED = """
-3482258.63459582 890420.383607373
15.0618722713733 84.9149257747669
-0.0358191792925910 0.0334910077722432
-2.02022980381683 0.488399681651699
-1.03322686717359 0.214274163161675
-0.0511041056535807 0.226073200069370
1829.15146461355 455.478499142212
"""


def test_pn_01_longley():
    table = np.array([row.split() for row in DATA.strip().splitlines()], dtype=float)
    wanted = np.array([row.split() for row in CERTIFIED.strip().splitlines()], dtype=float)
    columns = np.column_stack([np.ones(len(table)), table[:, 1:]])
    got = adjust(columns, table[:, 0], np.ones(len(table)))
    assert got.rank == 7
    assert got.freedom == 9
    assert got.chi2 == pytest.approx(836424.055505915, rel=1e-8)
    assert got.spread == pytest.approx(304.854073561965, rel=1e-8)
    np.testing.assert_allclose(got.x, wanted[:, 0], rtol=1e-8)
    np.testing.assert_allclose(got.sd * got.spread, wanted[:, 1], rtol=1e-8)
    total = float(((table[:, 0] - table[:, 0].mean()) ** 2).sum())
    assert 1.0 - got.chi2 / total == pytest.approx(0.995479004577296, rel=1e-10)

"""Detection limits of data snooping: Baarda, Publications on Geodesy 2(5), 1968.

3.2905 and "5.8 deviations at redundancy 0.5, lambda0 17" as read in lecture slides and a help
page; 4.13 from memory; the rest worked from normal quantiles. Entries PN-03 and PN-04.
"""

import numpy as np
import pytest

from planform.core.adjust.snooping import one_of, smallest_shown
from planform.rigging.tau import tau


def test_pn_03_threshold_of_one_reading():
    assert one_of(1, 0.001) == pytest.approx(3.2905, abs=5e-5)


def test_pn_03_smallest_mistake_at_half_redundancy():
    shown = float(smallest_shown(one_of(1, 0.001), np.array([0.5]))[0])
    assert shown == pytest.approx(5.8, abs=0.05)
    assert 0.5 * shown**2 == pytest.approx(17.075, abs=0.005)


@pytest.mark.parametrize(
    ("alarm", "power", "delta"),
    [
        (0.05, 0.8, 2.802),
        (0.01, 0.8, 3.417),
        (0.001, 0.8, 4.132),
        (0.001, 0.95, 4.935),
        (0.001, 0.99, 5.617),
    ],
)
def test_pn_03_other_pairs(alarm, power, delta):
    got = smallest_shown(one_of(1, alarm), np.array([1.0]), power)
    assert float(got[0]) == pytest.approx(delta, abs=6e-4)


@pytest.mark.parametrize(("count", "limit"), [(8, 2.727), (54, 3.305), (141, 3.565), (211, 3.669)])
def test_pn_03_the_greatest_of_many(count, limit):
    assert one_of(count) == pytest.approx(limit, abs=6e-4)


def test_pn_03_one_threshold_for_all_alarms_too_often():
    assert one_of(51) == pytest.approx(3.29, abs=0.002)
    each = 0.001
    assert 1.0 - (1.0 - each) ** 211 == pytest.approx(0.19, abs=0.005)
    assert smallest_shown(3.0, np.array([0.0]))[0] == np.inf


@pytest.mark.parametrize(
    ("count", "freedom", "limit"),
    [(10, 5, 2.106), (20, 10, 2.562), (50, 30, 3.078), (100, 70, 3.368), (200, 165, 3.605)],
)
def test_pn_04_pope(count, freedom, limit):
    assert tau(count, freedom) == pytest.approx(limit, abs=6e-4)


def test_pn_04_pope_simulated():
    assert tau(20, 19) == pytest.approx(2.7786, abs=3e-4)

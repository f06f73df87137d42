"""Laws of adjusted readings over random nets: rival methods, and mistakes that can be seen."""

import numpy as np
import pytest
from scipy.linalg import lstsq

from planform.core.adjust.least_squares import adjust, adjust_curved
from planform.core.adjust.snooping import seen_by, snoop


def trilaterated(dice):
    """A net of tapes between marks on a floor: its slopes, near the truth."""
    marks = dice.uniform(0.0, 10.0, (int(dice.integers(5, 9)), 2))
    pairs = [(i, j) for i in range(len(marks)) for j in range(i)]
    keep = dice.permutation(len(pairs))[: int(dice.integers(2 * len(marks), len(pairs) + 1))]
    columns = np.zeros((len(keep), 2 * len(marks)))
    for row, k in enumerate(keep):
        i, j = pairs[k]
        along = (marks[i] - marks[j]) / np.linalg.norm(marks[i] - marks[j])
        columns[row, 2 * i : 2 * i + 2] = along
        columns[row, 2 * j : 2 * j + 2] = -along
    return columns, dice.uniform(0.5e-3, 3e-3, len(keep))


def test_a_mistake_of_ten_tolerances_is_named_where_the_net_can_see_it():
    dice = np.random.default_rng(7)
    named = could = 0
    while could < 200:
        columns, tolerance = trilaterated(dice)
        sd = tolerance / np.sqrt(3.0)
        can = seen_by(adjust(columns, np.zeros(len(sd)), sd)).told
        wrong = int(dice.integers(len(sd)))
        seen = dice.uniform(-tolerance, tolerance)
        seen[wrong] += 10.0 * tolerance[wrong] * dice.choice([-1.0, 1.0])
        if not can[wrong]:
            continue
        could += 1
        named += snoop(columns, seen, sd).wrong == (wrong,)
    assert named >= 190


def test_where_a_net_cannot_see_a_mistake_it_says_so():
    """It is then named, or nothing is, or one that it was told to be taken for."""
    dice = np.random.default_rng(19)
    cannot = answered = 0
    while cannot < 200:
        columns, tolerance = trilaterated(dice)
        sd = tolerance / np.sqrt(3.0)
        seen = seen_by(adjust(columns, np.zeros(len(sd)), sd))
        wrong = int(dice.integers(len(sd)))
        read = dice.uniform(-tolerance, tolerance)
        read[wrong] += 10.0 * tolerance[wrong] * dice.choice([-1.0, 1.0])
        if seen.told[wrong]:
            continue
        cannot += 1
        found = snoop(columns, read, sd).wrong
        answered += not found or found[0] == wrong or found[0] in seen.alike[wrong]
    assert answered >= 190


def test_good_nets_seldom_give_an_alarm():
    dice = np.random.default_rng(11)
    alarms = 0
    for _ in range(200):
        columns, tolerance = trilaterated(dice)
        seen = dice.uniform(-tolerance, tolerance)
        alarms += bool(snoop(columns, seen, tolerance / np.sqrt(3.0)).wrong)
    assert alarms <= 20


def test_what_nothing_checks_is_told_so():
    columns = np.array([[1.0, 0.0], [0.0, 1.0], [0.0, 1.0]])
    got = adjust(columns, np.array([5.0, 1.0, 1.2]), np.ones(3))
    seen = seen_by(got)
    assert got.redundancy[0] == pytest.approx(0.0, abs=1e-12)
    assert not seen.told[0]
    assert not seen.told[1]  # two readings: either could be the wrong one
    assert seen.alike[1] == (2,)
    assert seen.alike[0] == ()


@pytest.mark.parametrize("seed", range(10))
def test_open_directions_are_told_and_the_rest_is_another_methods(seed):
    dice = np.random.default_rng(seed)
    columns, tolerance = trilaterated(dice)
    seen = dice.normal(size=len(tolerance)) * tolerance
    got = adjust(columns, seen, tolerance)
    assert got.null.shape[1] == columns.shape[1] - got.rank >= 3
    np.testing.assert_allclose(columns @ got.null, 0.0, atol=1e-9)
    by_qr = lstsq(
        columns / tolerance[:, None], seen / tolerance, cond=1e-10, lapack_driver="gelsy"
    )[0]
    np.testing.assert_allclose(columns @ by_qr, got.fitted, atol=1e-12)
    assert got.redundancy.sum() == pytest.approx(got.freedom, abs=1e-9)


def test_covariance_against_many_draws():
    dice = np.random.default_rng(3)
    columns = dice.normal(size=(12, 3))
    sd = dice.uniform(0.5, 2.0, 12)
    got = adjust(columns, columns @ [1.0, 2.0, 3.0], sd)
    solve = np.linalg.pinv(columns / sd[:, None]) / sd
    count = 1_000_000
    draws = (dice.uniform(-1.0, 1.0, (count, 12)) * sd * np.sqrt(3.0)) @ solve.T
    np.testing.assert_allclose(np.cov(draws.T), got.covariance, rtol=8e-3, atol=2e-3)


def test_trilateration_in_closed_form():
    """A point by three tapes: two of them give it in closed form, the third agrees."""
    base = np.array([[0.0, 0.0], [6.0, 0.0], [1.0, 5.0]])
    point = np.array([2.5, 3.5])
    tapes = np.linalg.norm(base - point, axis=1)
    x, last = adjust_curved(
        lambda p: np.linalg.norm(base - p, axis=1), np.array([3.0, 3.0]), tapes, np.full(3, 1e-3)
    )
    across = (tapes[0] ** 2 - tapes[1] ** 2 + 36.0) / 12.0
    np.testing.assert_allclose(x, [across, np.sqrt(tapes[0] ** 2 - across**2)], atol=1e-9)
    assert last.freedom == 1

"""Tapes that hang, pull and warm: published corrections and the calibration of one real tape.

PN-06 a worked homework answer; PN-07 a stored answer whose printed sum takes the whole line for
one span (the right sum is checked); PN-08 expansion of steel as measurers give it; PN-09 a tape
calibrated at NIST in 1991, in its owner's report; PN-11 worked from it; PN-12 a forum answer whose
rounding is mended. Tolerances beside each.
"""

import math

import pytest

from planform.core.adjust.hanging import (
    STEEL,
    belly,
    catenary_length,
    catenary_of,
    sag_shortens,
    stretch,
    warmth,
)

FOOT, POUND, INCH = 0.3048, 4.4482216152605, 0.0254
PER_FOOT = POUND / FOOT


def test_pn_06_temperature_and_pull():
    degrees = (95.0 - 68.0) / 1.8
    got = warmth(529.81 * FOOT, 20.0 + degrees, rate=6.45e-6 * 1.8) / FOOT
    assert got == pytest.approx(0.092, abs=5e-4)
    stiffness = 0.0075 * 29e6 * POUND
    got = stretch(529.81 * FOOT, 20.0 * POUND, 12.0 * POUND, stiffness) / FOOT
    assert got == pytest.approx(0.0195, abs=5e-5)


def test_pn_07_sag_of_three_spans_and_a_rest():
    weight, pull = 2.25 / 100.0 * PER_FOOT, 12.0 * POUND
    got = sum(sag_shortens(span * FOOT, weight, pull) for span in (100.0, 100.0, 100.0, 89.28))
    assert got / FOOT == pytest.approx(0.5437, abs=5e-5)


def test_pn_08_expansion():
    assert pytest.approx(6.45e-6 * 1.8, rel=2e-3) == STEEL
    assert warmth(100.0, 20.0 + 15.0 / 1.8, rate=6.5e-6 * 1.8) == pytest.approx(0.01, abs=3e-4)


WEIGHT, STIFFNESS = math.sqrt(0.0677 * 24.0 * 100.0 / 1e6) * PER_FOOT, 1.07e5 * POUND
FLAT = 100.0045


@pytest.mark.parametrize(
    ("supports", "pull", "length"),
    [
        (1, 10.0, 99.9368),
        (1, 15.0, 99.9791),
        (1, 20.0, 99.9969),
        (1, 25.0, 100.0077),
        (1, 21.23, 100.0),
        (2, 14.18, 100.0),
        (3, 11.39, 100.0),
        (4, 9.85, 100.0),
    ],
)
def test_pn_09_a_real_tape(supports, pull, length):
    span = 100.0 / supports * FOOT
    short = supports * sag_shortens(span, WEIGHT, pull * POUND)
    longer = stretch(100.0 * FOOT, pull * POUND, 10.0 * POUND, STIFFNESS)
    assert FLAT + (longer - short) / FOOT == pytest.approx(length, abs=2e-4)


def test_pn_09_lying_flat_and_cold():
    pull = 10.0 + (100.0 - FLAT) / 100.0 * 1.07e5
    assert pull == pytest.approx(5.20, abs=0.02)
    cold = warmth(50.0 * FOOT, 20.0 - 12.0 / 1.8)
    assert 0.5 * FLAT + cold / FOOT == pytest.approx(49.9998, abs=0.0015)


@pytest.mark.parametrize(
    ("pull", "inches"),
    [
        (2.0, (0.020, 0.163, 0.281, 0.548)),
        (5.0, (0.003, 0.026, 0.045, 0.088)),
        (10.0, (0.001, 0.007, 0.011, 0.022)),
    ],
)
def test_pn_11_sag_in_a_shop(pull, inches):
    for span, sag in zip((10.0, 20.0, 24.0, 30.0), inches, strict=True):
        got = sag_shortens(span * FOOT, WEIGHT, pull * POUND) / INCH
        assert got == pytest.approx(sag, abs=6e-4)


def test_pn_11_belly_cold_and_the_exact_curve():
    bellies = [belly(span * FOOT, WEIGHT, 5.0 * POUND) / INCH for span in (10.0, 20.0, 24.0, 30.0)]
    assert bellies == pytest.approx([0.38, 1.53, 2.20, 3.44], abs=0.006)
    cold = -warmth(30.0 * FOOT, (48.0 - 32.0) / 1.8, rate=6.45e-6 * 1.8) / INCH
    assert cold == pytest.approx(0.046, abs=0.001)
    exact = catenary_length(30.0 * FOOT, WEIGHT, 5.0 * POUND) - 30.0 * FOOT
    assert exact / FOOT == pytest.approx(0.0073121, abs=2e-7)
    series = sag_shortens(30.0 * FOOT, WEIGHT, 5.0 * POUND)
    assert series / FOOT == pytest.approx(0.0073116, abs=2e-7)


def test_pn_12_unequal_ends():
    a = catenary_of(20.0, 5.0, 20.7)
    assert a == pytest.approx(61.917, abs=5e-4)
    assert 2.0 * a * math.sinh(10.0 / a) == pytest.approx(math.sqrt(20.7**2 - 25.0), abs=1e-9)
    with pytest.raises(ValueError, match="longer than"):
        catenary_of(20.0, 5.0, 20.0)

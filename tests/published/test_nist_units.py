"""Conversion factors against a published table.

Source: A. Thompson, B. N. Taylor, "Guide for the Use of the International System of Units (SI)",
NIST Special Publication 811, 2008 edition, Appendix B (B.8, factors listed alphabetically).
The table itself was not at hand: the factors below are from memory of it. Those set in bold there
are exact (the international yard and pound of 1959; the US gallon of 231 in3); the others are
printed to seven digits and compared to half of the last one. UN-02 was computed by hand from UN-01.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from planform.design.units import factor, to_si

EXACT = {
    "in": "0.0254",
    "ft": "0.3048",
    "lb": "0.45359237",
    "gal (us)": "0.003785411784",
    "gal (imp)": "0.00454609",
    "ft2": "0.09290304",
    "in2": "0.00064516",
    "l": "0.001",
}

# unit: (printed digits, printed power of ten)
PRINTED = {
    "deg": (1.745329, -2),
    "oz": (2.834952, -2),
    "ft3": (2.831685, -2),
    "in3": (1.638706, -5),
    "lb/gal (us)": (1.198264, 2),
    "lb/gal (imp)": (9.977637, 1),
    "lb/ft3": (1.601846, 1),
    "lb/in3": (2.767990, 4),
    "lb/ft2": (4.882428, 0),
    "oz/ft2": (3.051517, -1),
    "oz/yd2": (3.390575, -2),
    "qt (us)": (9.463529, -4),
}


@pytest.mark.parametrize("unit", EXACT)
def test_un_01_exact(unit: str) -> None:
    assert factor(unit) == Fraction(EXACT[unit])
    assert to_si(1.0, unit) == float(EXACT[unit])


@pytest.mark.parametrize("unit", PRINTED)
def test_un_01_printed(unit: str) -> None:
    digits, power = PRINTED[unit]
    assert to_si(1.0, unit) / 10.0**power == pytest.approx(digits, abs=0.5e-6, rel=0)


@pytest.mark.parametrize(("pounds", "printed"), [(6.0, 0.718959), (7.5, 0.898698)])
def test_un_02_pounds_per_gallon(pounds: float, printed: float) -> None:
    per_litre = to_si(pounds, "lb/gal (US)") / to_si(1.0, "kg/L")
    assert per_litre == pytest.approx(printed, abs=0.5e-6, rel=0)


def test_un_02_pound_inch_is_mass_times_length() -> None:
    assert to_si(1.0, "lb in") == pytest.approx(0.0115212, abs=0.5e-7, rel=0)
    assert factor("lb in") == factor("lb") * factor("in")


def test_straight_angle_is_pi() -> None:
    assert to_si(180, "deg") == math.pi

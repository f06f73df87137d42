"""Factors against pint's own registry, and values as text."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.notation import read
from planform.design.units import (
    DEFINITIONS,
    DEGREE,
    FOOT,
    INCH,
    POUND,
    SI_UNIT,
    SPELLINGS,
    SQUARE_FOOT,
    SYSTEMS,
    factor,
    kind_of,
    show,
    to_si,
)
from tests.conftest import DESIGNS


@cache
def registry() -> pint.UnitRegistry[Fraction]:
    """Our definitions as pint reads them, with exact fractions."""
    units = pint.UnitRegistry(None, non_int_type=Fraction)
    units.load_definitions(list(DEFINITIONS))
    return units


NAMES = [line.split(" = ")[0] for line in DEFINITIONS]


@pytest.fixture(scope="module")
def default() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", NAMES)
def test_each_unit_is_that_of_the_default_registry(
    name: str, default: pint.UnitRegistry[float]
) -> None:
    ours = registry().Quantity(Fraction(1), name).to_base_units()
    theirs = default.Quantity(1.0, name).to_base_units()  # metre, kilogram, radian
    assert dict(ours.dimensionality) == dict(theirs.dimensionality)
    assert float(ours.magnitude) == pytest.approx(theirs.magnitude, rel=1e-14)


@pytest.mark.parametrize("kind", SPELLINGS)
def test_each_spelling_is_that_of_the_default_registry(
    kind: str, default: pint.UnitRegistry[float]
) -> None:
    for unit, expression in SPELLINGS[kind].items():
        theirs = default.Quantity(1.0, expression).to_base_units()
        assert to_si(1.0, unit) == pytest.approx(theirs.magnitude, rel=1e-14)


@pytest.mark.parametrize("kind", SPELLINGS)
def test_each_spelling_is_worked_out_as_pint_does_exactly(kind: str) -> None:
    for unit, expression in SPELLINGS[kind].items():
        exact = registry().Quantity(Fraction(1), expression).to_base_units().magnitude
        assert factor(unit) == Fraction(exact), unit


def test_a_spelling_belongs_to_one_kind() -> None:
    spelled = [unit for names in SPELLINGS.values() for unit in names]
    assert len(spelled) == len(set(spelled))
    assert all(unit == unit.lower() for unit in spelled)


def test_a_percent_is_a_hundredth() -> None:
    assert factor("%") == factor("% MAC") == Fraction(1, 100)
    assert registry().Quantity(1, "percent").dimensionless


@pytest.mark.parametrize("kind", [kind for kind in SPELLINGS if kind != "percent"])
def test_spellings_have_the_dimension_of_their_kind(kind: str) -> None:
    si = {"rad": "rad", "1": ""}.get(SI_UNIT[kind], SI_UNIT[kind])
    assert kind_of(si) == kind
    assert factor(si) == 1
    base = registry().Quantity(1, SPELLINGS[kind][si.lower()]).dimensionality
    for expression in SPELLINGS[kind].values():
        assert registry().Quantity(1, expression).dimensionality == base


def test_conversion_is_rounded_once() -> None:
    assert to_si(136.5, "in") == 3.4671
    assert to_si(Fraction(1, 3), "ft") == 0.1016
    assert to_si(1, "FT") == 0.3048


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_not_finite(number: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        to_si(number, "in")
    for system in SYSTEMS:
        with pytest.raises(ValueError, match="finite"):
            show(number, "length", system)


def test_unknown_names() -> None:
    with pytest.raises(ValueError, match="no such unit: 'furlong'"):
        to_si(1.0, "furlong")
    with pytest.raises(ValueError, match="expected a kind"):
        show(1.0, "colour", "mm")
    with pytest.raises(ValueError, match="expected a system"):
        show(1.0, "length", "yd")


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (136.5, "11'-4 1/2\""),
        (11.999, "1'-0\""),
        (-14.0, "-1'-2\""),
        (4.5, '4 1/2"'),
        (0.5, '1/2"'),
        (-0.5, '-1/2"'),
        (-0.001, '0"'),
        (12.0625, "1'-0 1/16\""),
        (20.0, "1'-8\""),
        (10.5, '10 1/2"'),
        (129.99416, "10'-10\""),
    ],
)
def test_feet_and_inches(inches: float, text: str) -> None:
    assert show(inches * INCH, "length", "ft-in") == text


@pytest.mark.parametrize(
    ("value", "kind", "system", "text"),
    [
        (129.99416 * INCH, "length", "in", "129.99 in"),
        (44.1 * INCH, "length", "in", "44.1 in"),
        (-1e-9, "length", "in", "0 in"),
        (3.0, "length", "mm", "3000 mm"),
        (-0.0004, "length", "mm", "0 mm"),
        (3.0, "length", "m", "3.000 m"),
        (1854 * 0.45359237, "mass", "ft-in", "1854 lb"),
        (12.34 * 0.45359237, "mass", "in", "12.3 lb"),
        (396.0, "mass", "mm", "396 kg"),
        (0.02, "mass", "m", "0.02 kg"),
        (94.2 * 0.09290304, "area", "in", "94.2 ft2"),
        (8.7514, "area", "m", "8.751 m2"),
        (60 * 0.003785411784, "volume", "ft-in", "60 gal (US)"),
        (0.02, "volume", "mm", "20 L"),
        (math.pi / 2, "angle", "ft-in", "90.0 deg"),
        (-1e-9, "angle", "m", "0.0 deg"),
        (1.0, "moment", "in", "86.8 lb in"),
        (720.0, "density", "mm", "720 kg/m3"),
        (0.3, "area_density", "m", "0.300 kg/m2"),
        (9.1234, "ratio", "in", "9.12"),
        (0.04512, "ratio", "mm", "0.0451"),
        (1234.6, "ratio", "m", "1235"),
        (9.999, "ratio", "m", "10.0"),
        (0.0, "ratio", "m", "0"),
    ],
)
def test_shown(value: float, kind: str, system: str, text: str) -> None:
    assert show(value, kind, system) == text
    assert show(np.float64(value), kind, system) == text


HALF_STEP = {"ft-in": INCH / 32, "in": INCH / 200, "mm": 0.0005, "m": 0.0005}


@pytest.mark.parametrize("system", SYSTEMS)
@given(value=st.floats(-100.0, 100.0))
def test_shown_lengths_read_back_within_half_a_step(system: str, value: float) -> None:
    back = read(show(value, "length", system), "length")
    assert abs(back - value) <= HALF_STEP[system] * (1 + 1e-9) + 1e-13
    assert show(back, "length", system) == show(value, "length", system)


@pytest.mark.parametrize("kind", ["angle", "mass", "volume"])
@given(value=st.floats(-50.0, 50.0))
def test_other_values_read_back_the_same(kind: str, value: float) -> None:
    for system in SYSTEMS:
        text = show(value, kind, system)
        back = read(text, kind)
        assert abs(back - value) <= to_si(Fraction(1, 20), text.split(" ", 1)[1]) * (1 + 1e-9)


def test_the_floats_are_the_registry_s_factors():
    named = {"in": INCH, "ft": FOOT, "ft2": SQUARE_FOOT, "lb": POUND, "deg": DEGREE}
    assert named == {unit: to_si(1, unit) for unit in named}


NOT_METRIC = ("in", "ft", "in2", "ft2", "ft3", "lb", "oz", "gal (US)", "gal (imp)", "deg")
"""Units whose factors, their inverses and usual parts of them stand in one module only."""


def _decimals():
    """Every number of the source with three decimals or more, and the module it stands in."""
    for root in ("planform", "viewer"):
        for path in (DESIGNS.parent / root).rglob("*.py"):
            for number in re.findall(r"\d*\.\d{3,}", path.read_text(encoding="utf-8")):
                yield path.name, float(number)


def test_factors_stand_in_one_module():
    whole = [to_si(1, unit) for unit in NOT_METRIC]
    known = [
        v for f in whole for v in (f, 1 / f, f / 8, f / 10, f / 16, f / 100, 100 * f, 1000 * f)
    ]
    found = {
        (name, value)
        for name, value in _decimals()
        if any(math.isclose(value, k, rel_tol=1e-6) for k in known)
    }
    assert {name for name, _ in found} == {"units.py"}, found

"""Airfield classes.

HG-01 FAA Advisory Circular 150/5300-13, Table 1-1: airplane design group by wingspan and tail
height, the more demanding governs. HG-02 ICAO Annex 14 Volume I, Table 1-1: code letter by wingspan
(older editions: also outer main gear wheel span). A boundary value belongs to the higher class.
"""

import pytest

from planform.airframe.airfield import code_letter, design_group
from planform.design.units import FOOT

GROUPS = [("I", 49, 20), ("II", 79, 30), ("III", 118, 45), ("IV", 171, 60), ("V", 214, 66)]
GROUPS += [("VI", 262, 80)]
NEXT = ["II", "III", "IV", "V", "VI"]


@pytest.mark.parametrize(("group", "span", "height"), GROUPS)
def test_hg_01_just_below_the_limits(group, span, height):
    assert design_group((span - 0.01) * FOOT, (height - 0.01) * FOOT) == group


@pytest.mark.parametrize(("limits", "higher"), list(zip(GROUPS[:-1], NEXT, strict=True)))
def test_hg_01_boundary_belongs_to_the_higher_and_the_more_demanding_governs(limits, higher):
    _, span, height = limits
    assert design_group(span * FOOT, 1.0) == higher
    assert design_group(5.0, height * FOOT) == higher


def test_hg_01_beyond_the_table():
    with pytest.raises(ValueError, match="larger than group VI"):
        design_group(262 * FOOT, 5.0)


LETTERS = [("A", 15, 4.5), ("B", 24, 6), ("C", 36, 9), ("D", 52, 14), ("E", 65, 14), ("F", 80, 16)]


@pytest.mark.parametrize(("letter", "span", "gear"), LETTERS)
def test_hg_02_letters(letter, span, gear):
    assert code_letter(span - 0.001) == letter
    assert code_letter(span - 0.001, gear - 0.001) == letter


def test_hg_02_boundaries_and_gear_span():
    assert code_letter(15.0) == "B"
    assert code_letter(10.0, 4.5) == "B"
    with pytest.raises(ValueError, match="larger than letter F"):
        code_letter(80.0)
    with pytest.raises(ValueError, match="above zero"):
        code_letter(0.0)

"""Drawn against as built: figures by hand, the same terms for both, words where there is none."""

from __future__ import annotations

import math

import pytest

from planform.design.load import changed, load, load_place
from planform.design.problems import InputError
from planform.design.units import INCH
from planform.design.vary import shifted
from planform.fit.room import build_room
from planform.study.as_built import (
    AIR,
    BALANCE,
    FIT,
    LEANS,
    SIDES,
    SIZES,
    TURNS,
    before_and_after,
)
from tests.conftest import DESIGNS


@pytest.fixture(scope="module")
def marram():
    return load(DESIGNS / "marram.toml")


@pytest.fixture(scope="module")
def same(marram):
    return before_and_after(marram, marram)


@pytest.fixture(scope="module")
def leaning(marram):
    return {side: before_and_after(marram, built(marram, side)) for side in ("left", "right")}


def rows(sheet, about):
    return {row.label: row for row in sheet.rows_about(about)}


def test_the_same_aircraft_twice(same):
    assert all(row.change in (0.0, None) for row in same.rows)
    assert all(row.drawn_words == row.built_words for row in same.rows)
    sides = rows(same, SIDES)
    assert sides
    assert all(abs(row.drawn) < 1e-12 for row in sides.values())


def test_a_foreplane_an_inch_higher(marram):
    path = ("lifting", "foreplane", "cuts", 0, "wl")
    found = rows(before_and_after(marram, shifted(marram, path, INCH)), SIZES)
    for side in ("left", "right"):
        label = f"{side} foreplane tip, leading edge, over the floor"
        assert found[label].change == pytest.approx(INCH, abs=1e-9)
        assert found[f"{side} wing tip, highest point"].change == pytest.approx(0.0, abs=1e-12)


def test_a_wing_two_inches_aft(marram):
    moved_aft = marram
    for k in (0, 1):
        moved_aft = shifted(moved_aft, ("lifting", "wing", "cuts", k, "fs"), 2 * INCH)
    sheet = before_and_after(marram, moved_aft)
    air, balance = rows(sheet, AIR), rows(sheet, BALANCE)
    assert air["wing LEMAC"].change == pytest.approx(2 * INCH)
    assert air["wing area"].change == pytest.approx(0.0, abs=1e-9)
    mac = air["wing MAC"].drawn
    case = next(label for label in balance if label.startswith("one aboard") and "%" in label)
    weight = next(label for label in balance if label.startswith("one aboard") and "%" not in label)
    moved = balance[weight].change
    assert balance[case].change == pytest.approx((moved - 2 * INCH) / mac, abs=1e-9)
    assert 0.0 < air["neutral point"].change < 2 * INCH
    cg = air["neutral point"].drawn - air["static margin"].drawn * mac
    after = air["neutral point"].built - air["static margin"].built * mac
    assert after == pytest.approx(cg)  # both about the drawn one's CG


def test_tolerances_of_the_drawing_are_told(same):
    found = rows(same, SIZES)
    assert found["overall width"].drawn_by > 0.0


def test_in_a_place_the_verdicts_stand_side_by_side(marram):
    room = build_room(load_place(DESIGNS / "barn.toml"))
    found = rows(before_and_after(marram, marram, room), FIT)
    assert found["altogether"].drawn_words == found["altogether"].built_words == "fits"


def test_a_stage_that_is_not_there(marram):
    with pytest.raises(InputError, match="complete"):
        before_and_after(marram, marram, stage="complet")


def built(design, side):
    """Marram with one outer panel half a degree nose up and a quarter swept aft."""
    row = {
        "of": "outer panel",
        "side": side,
        "sweep": "0.25 deg ± 0.05 deg",
        "incidence": "1/2 deg",
    }
    return changed(design, "as_built", [row])


def test_what_is_off_on_one_side_mirrors(leaning):
    left, right = leaning["left"], leaning["right"]
    for one, other in zip(left.rows_about(SIDES), right.rows_about(SIDES), strict=True):
        assert one.drawn == pytest.approx(0.0, abs=1e-12)
        assert one.built == pytest.approx(-other.built, abs=1e-9)
    first, second = rows(left, AIR), rows(right, AIR)
    for label in (LEANS, TURNS):
        assert first[label].drawn == pytest.approx(0.0, abs=1e-9)
        assert first[label].built == pytest.approx(-second[label].built, rel=1e-6)
    assert first["neutral point"].built == pytest.approx(second["neutral point"].built)
    assert first[LEANS].built < 0.0  # the left one lifts more


def test_tolerances_of_what_was_found_move_the_figures(leaning):
    found = rows(leaning["left"], SIDES)
    aft = found["wing tips, right one aft of the left"]
    assert aft.drawn_by == 0.0
    assert aft.built_by == pytest.approx(math.radians(0.05) * 108 * INCH, rel=0.02)

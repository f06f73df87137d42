"""Drawn against as built: figures by hand, the same terms for both, words where there is none."""

from __future__ import annotations

import pytest

from planform.design.load import load, load_place
from planform.design.problems import InputError
from planform.design.units import INCH
from planform.design.vary import shifted
from planform.fit.room import build_room
from planform.study.as_built import AIR, BALANCE, FIT, SIDES, SIZES, before_and_after
from tests.conftest import DESIGNS


@pytest.fixture(scope="module")
def marram():
    return load(DESIGNS / "marram.toml")


def rows(sheet, about):
    return {row.label: row for row in sheet.rows_about(about)}


def test_the_same_aircraft_twice(marram):
    sheet = before_and_after(marram, marram)
    assert all(row.change in (0.0, None) for row in sheet.rows)
    assert all(row.drawn_words == row.built_words for row in sheet.rows)
    sides = rows(sheet, SIDES)
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


def test_tolerances_of_the_drawing_are_told(marram):
    found = rows(before_and_after(marram, marram), SIZES)
    assert found["overall width"].drawn_by > 0.0


def test_in_a_place_the_verdicts_stand_side_by_side(marram):
    room = build_room(load_place(DESIGNS / "barn.toml"))
    found = rows(before_and_after(marram, marram, room), FIT)
    assert found["altogether"].drawn_words == found["altogether"].built_words == "fits"


def test_a_stage_that_is_not_there(marram):
    with pytest.raises(InputError, match="complete"):
        before_and_after(marram, marram, stage="complet")

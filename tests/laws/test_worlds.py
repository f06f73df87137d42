"""The generated worlds are good files."""

from __future__ import annotations

import tomllib

from hypothesis import given, settings

from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import carrier_from, design_from, place_from
from tests.laws.worlds import world, worlds


@settings(max_examples=15)
@given(worlds)
def test_generated_files_are_good_and_the_aircraft_stands(found):
    tables = {name: tomllib.loads(text) for name, text in found.texts().items()}
    place_from(tables["place"])
    carrier_from(tables["carrier"])
    assert all(s.parts for s in stand_all(build(design_from(tables["design"]))))


def test_a_number_always_makes_the_same_world():
    assert world(7) == world(7)

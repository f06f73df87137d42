"""A propeller turned by hand, as a change: which way, how far, and what it does to the height."""

from __future__ import annotations

import copy

import numpy as np
import pytest

from planform.design.load import design_from, place_from
from planform.study.change_cases import first_case
from planform.study.change_turning import propeller_turned
from tests.laws.worlds import world


def _families(blades: int, parked: float):
    found = world(0)
    tables = copy.deepcopy(found.design)
    tables["propeller"] = {
        "disc_fs": "3.3 m", "wl": "0.3 m", "diameter": "1.7 m", "depth": "0.1 m",
        "blades": blades, "chord": "0.1 m", "parked_angle": f"{parked} deg",
    }  # fmt: skip
    stance = tables["stages"][-1]["stance"]
    tables["stages"] = [{"name": "whole", "stance": stance}]
    for one in tables["stances"].values():
        one.pop("turned", None)
    case = first_case(design_from(tables), place_from(found.place), None, "gear", None)
    return case, list(propeller_turned(case))


@pytest.mark.parametrize(
    ("parked", "way", "size"),
    [(0.1, "clockwise", 89.9), (20.0, "clockwise", 70.0), (-20.0, "anticlockwise", 70.0),
     (120.0, "anticlockwise", 30.0)],
)  # fmt: skip
def test_two_blades_are_turned_toward_level_the_shorter_way(parked, way, size):
    case, (family,) = _families(2, parked)
    assert family.what == f"turn the propeller toward level, {way} as seen from behind"
    assert np.degrees(family.sizes[-1]) == pytest.approx(size)
    (level,) = (p for p in family.make(family.sizes[-1]).standing.parts if p.role == "propeller")
    across = np.ptp(level.points[:, 2])
    assert across < 0.1 + 0.03  # its chord, and what the aircraft leans by
    assert case.standing.airframe.design.propeller.parked_angle == pytest.approx(np.radians(parked))


def test_level_blades_are_not_turned():
    assert _families(2, 90.0)[1] == []


def test_three_blades_may_be_turned_two_ways():
    _, families = _families(3, 10.0)
    sizes = [round(float(np.degrees(family.sizes[-1]))) for family in families]
    assert sizes == [50, 10]

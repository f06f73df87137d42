"""Folded panels against plane trigonometry and the rotation of another library.

A panel of length L outboard of a fore-aft hinge at height z, turned up by an angle a from the
horizontal, has its tip at z + L sin a, and L cos a outboard of the hinge. Worked out here.
"""

from __future__ import annotations

import copy

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

import planform as pf
from planform.airframe.sweeping import turning_questions
from planform.airframe.weight.stage_weight import items_on
from planform.design.load import design_from
from tests.conftest import PLAIN

HINGE, LENGTH, WL = 2.0, 1.5, 0.4
CUTS = [
    {"fs": "0 m", "bl": "0 m", "wl": f"{WL} m", "chord": "1 m"},
    {"bl": f"{HINGE} m", "chord": "1 m", "sweep_le_plan": "0 deg", "joint": "tip panel"},
    {"bl": f"{HINGE + LENGTH} m", "chord": "1 m", "sweep_le_plan": "0 deg"},
]
WINGLET = {"on": "wing", "length": "0.5 m", "cant": "0 deg", "sweep_le_panel": "0 deg",
           "tip_chord": "0.5 m"}  # fmt: skip


def _design(fold: dict, stance: dict, winglet: bool = False):
    table = copy.deepcopy(PLAIN)
    cuts = [CUTS[0], CUTS[1] | {"fold": fold}, CUTS[2]]
    table["lifting"] = {"wing": {"role": "wing", "profile": "NACA 0012", "cuts": cuts}}
    table["winglets"] = {"fin": WINGLET} if winglet else {}
    table["masses"] = [
        {"name": "panels", "mass": "20 kg", "fs": "0.5 m", "wl": f"{WL} m", "part": "tip panel"}
    ]
    name = table["stages"][0]["stance"]
    table["stages"] = [{"name": "whole", "stance": name}]
    table["stances"] = {name: table["stances"][name] | stance}
    return design_from(table)


def _parts(design):
    return {part.name: part for part in pf.stand(pf.build(design)).parts}


def _low(design) -> float:
    """The height of the aircraft's waterline 0 over the floor [m]."""
    return float(pf.stand(pf.build(design)).to_floor(np.zeros((1, 3)))[0, 2])


@pytest.mark.parametrize("angle", [30.0, 90.0, 120.0])
@pytest.mark.parametrize("way", ["up", "down"])
def test_the_folded_tip_is_where_trigonometry_says(angle, way):
    design = _design({"angle": f"{angle} deg", "goes": way}, {"folded": ["tip panel"]})
    part = _parts(design)["right tip panel"]
    sign = 1.0 if way == "up" else -1.0
    # the leading edge's corner at the tip, on the chord line
    shut = pf.build(design).by_name["right tip panel"].points
    corner = int(np.argmin(np.abs(shut - [0.0, HINGE + LENGTH, WL]).sum(axis=1)))
    found = part.points[corner] - pf.stand(pf.build(design)).to_floor(np.zeros((1, 3)))[0]
    a = np.radians(angle)
    assert found[1] == pytest.approx(HINGE + LENGTH * np.cos(a))
    assert found[2] == pytest.approx(WL + sign * LENGTH * np.sin(a))


def test_a_winglet_goes_along_with_its_panel_as_another_library_turns_it():
    fold = {"angle": "75 deg", "above": "0.1 m"}
    design = _design(fold, {"folded": ["left tip panel"]}, winglet=True)
    built, parts = pf.build(design).by_name, _parts(design)
    zero = pf.stand(pf.build(design)).to_floor(np.zeros((1, 3)))[0]
    hinge = np.array([0.0, -HINGE, WL + 0.1])
    turn = Rotation.from_rotvec(np.radians(75.0) * np.array([1.0, 0.0, 0.0]))
    for name in ("left tip panel", "left fin"):
        # up on the left: from -y toward +z is against the right hand about the way aft
        expected = turn.inv().apply(built[name].points - hinge) + hinge
        assert np.abs(parts[name].points - zero - expected).max() < 1e-9
    for name in ("right tip panel", "right fin", "left wing"):
        assert np.abs(parts[name].points - zero - built[name].points).max() < 1e-9


def test_measures_of_a_folded_stance():
    fold = {"angle": "90 deg"}
    spread, folded = _design(fold, {}), _design(fold, {"folded": ["tip panel"]})
    one, two = (pf.standing_measures(pf.stand(pf.build(d))) for d in (spread, folded))
    assert one["width"] == pytest.approx(2 * (HINGE + LENGTH))
    half_thickness = 0.06 * 1.0
    assert two["width"] == pytest.approx(2 * (HINGE + half_thickness), abs=1e-3)
    assert two["tip_height"] == pytest.approx(_low(folded) + WL + LENGTH)
    assert two["footprint.area"] < one["footprint.area"] - 2.0
    for key in ("wing.span", "wing.area", "wing.mac"):  # what flies is spread
        found = (pf.design_measures(pf.build(d))[key] for d in (spread, folded))
        assert next(found) == next(found)


def test_the_mass_of_folded_panels_is_where_they_are():
    design = _design({"angle": "90 deg"}, {"folded": ["tip panel"]})
    airframe = pf.build(design)
    panels = next(i for i in items_on(airframe, design.stages[0]) if i.name == "panels")
    assert panels.wl == pytest.approx(WL + 0.5 * LENGTH)
    assert panels.bl == pytest.approx(0.0, abs=1e-9)
    alone = _design({"angle": "90 deg"}, {"folded": ["left tip panel"]})
    half = next(i for i in items_on(pf.build(alone), alone.stages[0]) if i.name == "panels")
    assert half.wl == pytest.approx(WL + 0.25 * LENGTH)
    assert half.bl == pytest.approx(0.5 * (-HINGE + HINGE + 0.5 * LENGTH))


@pytest.mark.parametrize(
    ("fold", "stance", "path", "allowed"),
    [
        ({"angle": "0 deg"}, {}, "lifting.wing.cuts[2].fold.angle", "more than 0"),
        ({"angle": "200 deg"}, {}, "lifting.wing.cuts[2].fold.angle", "at most 180"),
        ({"angle": "90"}, {}, "lifting.wing.cuts[2].fold.angle", "deg"),
        ({"angle": "9 deg", "goes": "left"}, {}, "lifting.wing.cuts[2].fold.goes", "outboard"),
        ({"angle": "9 deg"}, {"folded": ["wing"]}, "stances.gear.folded", "tip panel"),
        ({"angle": "9 deg"}, {"turned": {"tip panel": "10 deg"}},
         "stances.gear.turned.tip panel", "0 deg to 9 deg"),
        ({"angle": "9 deg"}, {"turned": {"tip panel": "8 deg"}, "folded": ["tip panel"]},
         "stances.gear.folded", "not in both"),
        ({"angle": "9 deg", "hinge_from": {"fs": "0 m", "bl": "2 m", "wl": "0 m"}}, {},
         "lifting.wing.cuts[2].fold", "both ends"),
    ],
)  # fmt: skip
def test_folds_that_cannot_be_are_told_in_one_sentence(fold, stance, path, allowed):
    with pytest.raises(pf.InputError) as told:
        _design(fold, stance)
    assert [p.path for p in told.value.problems] == [path]
    assert allowed in told.value.problems[0].allowed


@pytest.mark.parametrize("goes", ["aft", "outboard"])
def test_a_way_that_the_hinge_does_not_give_is_refused(goes):
    design = _design({"angle": "90 deg", "goes": goes}, {})
    with pytest.raises(pf.InputError, match="goes another way"):
        pf.build(design)


def test_winglets_that_meet_over_the_hull_are_asked_about():
    """Panels upright at BL 2 m, left and right: winglets of 2 m laid inboard meet in the middle."""

    def asked(length: str):
        design = _design({"angle": "90 deg"}, {"folded": ["tip panel"]}, winglet=True)
        fin = design.winglets["fin"]
        longer = fin.model_copy(update={"length": fin.length.with_value(float(length))})
        moved = design.model_copy(update={"winglets": {"fin": longer}})
        return turning_questions(pf.build(moved))

    assert asked("1.9") == ()
    assert asked("2.1") == (
        "stance “gear”: as it is folded, the left fin touches the right one; is it meant to?",
    )


def test_which_side_touches_which_is_told():
    """A pitot rod of 2.1 m on the right winglet alone, laid inboard, meets the left winglet."""
    table = _design({"angle": "90 deg"}, {"folded": ["tip panel"]}, winglet=True).model_dump(
        mode="json", exclude_unset=True
    )
    table["winglets"]["fin"]["length"] = "1.9 m"
    table["fittings"] = {
        "light": {
            "on": "right fin",
            "at": {"fs": "0.2 m", "bl": f"{HINGE + LENGTH} m", "wl": f"{WL + 1.8} m"},
            "toward": "up",
            "rod": {"length": "0.5 m", "diameter": "20 mm"},
        }
    }
    asked = [q for q in turning_questions(pf.build(design_from(table))) if "folded" in q]
    assert asked == [
        "stance “gear”: as they are folded, the left fin touches the light; is it meant to?"
    ]

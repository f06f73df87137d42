"""Tips of surfaces: winglets up and down, on one side, on a foreplane; tips bent or lengthened."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

import planform as pf
from planform.airframe.measure import design_measures, standing_measures
from planform.design.load import design_from
from planform.design.questions import design_questions
from tests.conftest import PLAIN

LEAF = {
    "on": "wing", "length": "1 m", "cant": "10 deg", "sweep_le_panel": "20 deg",
    "root_chord": "0.8 m", "tip_chord": "0.4 m",
}  # fmt: skip


def table(winglets=None, tips=(), **wing):
    out = copy.deepcopy(PLAIN)
    out["winglets"] = winglets or {}
    out["lifting"]["wing"] |= wing
    out["lifting"]["wing"]["cuts"] = [*out["lifting"]["wing"]["cuts"], *tips]
    return out


def built(*given, **more):
    return pf.build(design_from(table(*given, **more)))


@pytest.mark.parametrize("radius", ["0 m", "0.05 m", "0.3 m"])
@pytest.mark.parametrize("cant", ["0 deg", "10 deg", "40 deg", "-15 deg"])
def test_a_winglet_down_is_the_one_up_upside_down(radius, cant):
    """On a level wing of a symmetric section; blended or not, both on one tip are closed."""
    leaf = LEAF | {"blend_radius": radius, "cant": cant}
    airframe = built({"up": leaf, "down": leaf | {"direction": "down"}})
    parts = {part.name: part for part in airframe.parts}
    for side in ("left", "right"):
        up, down = parts[f"{side} up"], parts[f"{side} down"]
        assert up.trimesh().is_watertight
        assert down.trimesh().is_watertight
        # the diagonals of the facets of a blend run the other way
        assert up.trimesh().volume == pytest.approx(down.trimesh().volume, rel=1e-3)
        turned = down.points * [1.0, 1.0, -1.0]
        for axis in range(3):
            assert np.sort(turned[:, axis]) == pytest.approx(np.sort(up.points[:, axis]), abs=1e-9)


def test_a_blend_down_is_tangent_to_the_wing_and_as_long_as_written():
    """R(cos d - cos a) down and R(sin a + sin d) out, then the straight rest (closed form)."""
    leaf = LEAF | {"blend_radius": "0.3 m", "direction": "down"}
    airframe = built({"down": leaf}, tips=[])
    wing = next(h for h in airframe.halves if h.role == "wing")
    half = next(h for h in airframe.halves if h.role == "winglet")
    d, a, r = float(wing.angle[-1]), math.radians(80.0), 0.3
    rest = 1.0 - r * (a + d)
    out = half.leading_edge[-1] - half.leading_edge[0]
    assert out[1] == pytest.approx(r * (math.sin(a) + math.sin(d)) + rest * math.cos(a), abs=1e-9)
    assert out[2] == pytest.approx(-r * (math.cos(d) - math.cos(a)) - rest * math.sin(a), abs=1e-9)
    # eight chords of the arc are a little shorter than the arc
    assert 0.995 < float(half.developed[-1]) < 1.0


def test_up_and_down_on_one_tip_lift_alike():
    """The lattice of a level wing: a winglet down is worth what one up is; both more than one."""
    leaf = LEAF | {"length": "0.8 m"}
    flat = {"up": leaf}, {"down": leaf | {"direction": "down"}}
    found = [pf.aerodynamics(built(one)).efficiency.value for one in (None, *flat)]
    both = pf.aerodynamics(built(flat[0] | flat[1])).efficiency.value
    assert found[2] == pytest.approx(found[1], rel=1e-6)
    assert found[0] < found[1] < both


def test_one_tip_with_a_winglet_is_asked_about_and_spans_to_the_other_tip():
    lone = table({"port": LEAF | {"side": "left"}})
    (asked,) = design_questions(design_from(lone))
    assert "only the left tip of the wing has a winglet; is that meant?" in asked
    found = design_measures(pf.build(design_from(lone)))
    leaned = 4.0 + math.sin(math.radians(10.0)) + 4.0
    assert found["span_with_winglets"] == pytest.approx(leaned, abs=1e-9)
    pair = {"port": LEAF | {"side": "left"}, "starboard": LEAF | {"side": "right"}}
    assert not design_questions(design_from(table(pair)))
    assert not design_questions(design_from(table({"both": LEAF})))


def test_a_winglet_stands_on_the_foreplane_and_goes_with_it():
    given = table({"leaf": LEAF | {"on": "canard", "root_chord": "0.4 m", "tip_chord": "0.2 m"}})
    given["lifting"]["canard"] = {
        "role": "foreplane",
        "cuts": [
            {"fs": "-3 m", "bl": "0 m", "wl": "0.2 m", "chord": "0.6 m"},
            {"bl": "2 m", "sweep_le_plan": "5 deg", "chord": "0.5 m"},
        ],
    }
    given["stages"].append({"name": "no nose", "without": ["canard"], "stance": "gear"})
    airframe = pf.build(design_from(given))
    names = [{p.name for p in standing.parts} for standing in pf.stand_all(airframe)]
    assert {"right leaf", "left canard"} <= names[0]
    assert not {"right leaf", "left canard"} & names[-1]
    root = next(h for h in airframe.halves if h.name == "right leaf").leading_edge[0]
    tip = next(h for h in airframe.halves if h.name == "right canard").leading_edge[-1]
    assert root == pytest.approx(tip)


BENT = {"length": "0.6 m", "cant": "0 deg", "chord": "0.6 m", "sweep_le_panel": "30 deg"}
RAKED = {"bl": "4.6 m", "dihedral": "25 deg", "chord": "0.5 m", "sweep_le_plan": "50 deg"}


def test_a_tip_bent_upright_adds_height_and_no_plan():
    """Reference areas, mean chord and trapezoid are those of the wing without the bent tip."""
    plain, bent = built(), built(tips=[BENT])
    one, two = design_measures(plain), design_measures(bent)
    same = ("span", "area", "area_trapezoid", "area_exposed", "mac", "lemac_fs", "sweep_le")
    for key in (f"wing.{key}" for key in same):
        assert two[key] == pytest.approx(one[key], rel=1e-9), key
    assert two["wing.span_developed"] == pytest.approx(one["wing.span_developed"] + 1.2)
    assert all(part.trimesh().is_watertight for part in bent.parts)
    heights = [standing_measures(pf.stand_all(one)[0])["tip_height"] for one in (plain, bent)]
    assert heights[1] > heights[0] + 0.4
    efficiency = [pf.aerodynamics(one).efficiency.value for one in (plain, bent)]
    assert efficiency[0] < efficiency[1]


def test_a_raked_tip_counts_in_area_and_span():
    """Area 12 + 2 (0.6)(1 + 0.5)/2 m2 (trapezium), tip 0.6 tan 25 deg over the wing's."""
    raked = built(tips=[RAKED])
    found = design_measures(raked)
    assert found["wing.span"] == pytest.approx(9.2)
    assert found["wing.area"] == pytest.approx(12.9)
    assert found["wing.sweep_le"] == pytest.approx(math.radians(50.0))
    half = next(h for h in raked.halves if h.role == "wing")
    rise = half.leading_edge[-1, 2] - half.leading_edge[-2, 2]
    assert rise == pytest.approx(0.6 * math.tan(math.radians(25.0)))
    assert pf.aerodynamics(raked).efficiency.value > 0.9


def test_a_winglet_down_on_one_tip_is_asked_about_beside_a_pair_that_stands_up():
    pair = LEAF | {"direction": "up"}
    for side, count in (("left", 1), ("both", 0)):
        down = LEAF | {"direction": "down", "side": side}
        found = design_questions(design_from(table({"up": pair, "keel": down})))
        assert len(found) == count
        assert all("only the left tip of the wing has a winglet down" in one for one in found)

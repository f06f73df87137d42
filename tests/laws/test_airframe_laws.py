"""Laws of the built airframe: what must not change a measure, and what must change it exactly."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.airframe.surfaces import halves_of_surface
from planform.design.load import design_from
from planform.fit.straight import judge_straight
from tests.conftest import PLAIN

lengths = st.floats(0.3, 5.0)


def design(**changes):
    table = copy.deepcopy(PLAIN)
    for path, value in changes.items():
        keys = path.split("__")
        target = table
        for key in keys[:-1]:
            target = target[int(key)] if key.isdigit() else target[key]
        target[keys[-1]] = value
    return design_from(table)


def measures(d):
    return pf.design_measures(pf.build(d))


def standing(d):
    return pf.standing_measures(pf.stand_all(pf.build(d))[0])


@given(length=lengths, cant=st.floats(-60.0, 60.0))
def test_a_winglet_raises_the_tip_by_its_length_times_the_cosine_of_its_lean(length, cant):
    d = design(
        winglets__winglet__length=f"{length:.12f} m", winglets__winglet__cant=f"{cant:.12f} deg"
    )
    found = measures(d)
    assert found["winglet.rise"] == pytest.approx(length * math.cos(math.radians(cant)), rel=1e-9)
    reach = found["span_with_winglets"] - found["wing.span"]
    expected = 2.0 * length * math.sin(math.radians(cant))
    assert reach == pytest.approx(expected, abs=1e-9)


@given(length=lengths)
def test_an_upright_winglet_raises_the_highest_point_by_its_length(length):
    """0 cant: the mesh itself stands exactly L above the tip's leading-edge line."""
    d = design(winglets__winglet__length=f"{length:.12f} m")
    airframe = pf.build(d)
    tip = airframe.halves_in("wing")[0].leading_edge[-1, 2]
    part = next(p for p in airframe.parts if p.name == "right winglet")
    assert part.points[:, 2].max() - tip == pytest.approx(length, abs=1e-9)


@given(radius=st.floats(0.01, 0.3), cant=st.floats(-20.0, 40.0))
def test_a_blend_keeps_the_length_along_the_surface(radius, cant):
    d = design(
        winglets__winglet__blend_radius=f"{radius:.12f} m",
        winglets__winglet__cant=f"{cant:.12f} deg",
    )
    half = next(h for h in pf.build(d).halves if h.role == "winglet")
    turn = math.radians(90.0 - cant)
    straight = 1.0 - radius * turn
    rise = radius * (1.0 - math.cos(turn)) + straight * math.sin(turn)
    assert half.leading_edge[-1, 2] - half.leading_edge[0, 2] == pytest.approx(rise, abs=1e-9)
    # the arc is drawn as eight chords: shorter than the arc, by less than one in a hundred
    assert 0.99 < half.developed[-1] <= 1.0 + 1e-12


def test_a_winglet_down_is_the_mirror_of_one_up():
    up = measures(design(winglets__winglet__cant="20 deg"))
    down = measures(design(winglets__winglet__cant="20 deg", winglets__winglet__direction="down"))
    assert down["winglet.rise"] == pytest.approx(-up["winglet.rise"])
    assert down["span_with_winglets"] == pytest.approx(up["span_with_winglets"])


@settings(max_examples=8)
@given(share=st.floats(0.05, 0.95), dihedral=st.floats(-8.0, 8.0))
def test_splitting_a_panel_changes_no_measure(share, dihedral):
    whole = [
        {"fs": "0 m", "bl": "0 m", "wl": "0 m", "chord": "2 m"},
        {"bl": "4 m", "fs": "1.5 m", "chord": "1 m", "dihedral": f"{dihedral:.12f} deg"},
    ]
    middle = {
        "bl": f"{4 * share:.12f} m",
        "fs": f"{1.5 * share:.12f} m",
        "chord": f"{2 - share:.12f} m",
        "dihedral": f"{dihedral:.12f} deg",
    }
    one = measures(design(lifting__wing__cuts=whole))
    two = measures(design(lifting__wing__cuts=[whole[0], middle, whole[1]]))
    for item in one.items:
        if "trapezoid" not in item.key and "sweep" not in item.key:
            tolerance = 2e-3 if "wetted" in item.key else 1e-9
            assert two[item.key] == pytest.approx(item.value, rel=tolerance, abs=1e-12), item.key


@settings(max_examples=8)
@given(factor=st.floats(0.2, 5.0))
def test_scaling_everything_scales_lengths_and_areas(factor):
    table = copy.deepcopy(PLAIN)

    def scaled(node):
        if isinstance(node, dict):
            return {k: scaled(v) for k, v in node.items()}
        if isinstance(node, list):
            return [scaled(v) for v in node]
        if isinstance(node, str) and node.endswith(" m"):
            return f"{float(node[:-2]) * factor:.12f} m"
        return node

    one, two = design_from(table), design_from(scaled(table))
    power = {"length": 1, "station": 1, "area": 2, "ratio": 0, "angle": 0}
    for before, after in ((measures(one), measures(two)), (standing(one), standing(two))):
        for item in before.items:
            expected = item.value * factor ** power[item.kind]
            assert after[item.key] == pytest.approx(expected, rel=1e-5, abs=1e-9), item.key


def test_unit_system_changes_no_measure():
    table = copy.deepcopy(PLAIN)

    def in_inches(node):
        if isinstance(node, dict):
            return {k: in_inches(v) for k, v in node.items()}
        if isinstance(node, list):
            return [in_inches(v) for v in node]
        if isinstance(node, str) and node.endswith(" m"):
            return f"{float(node[:-2]) / 0.0254:.10f} in"
        return node

    metric, inches = measures(design_from(table)), measures(design_from(in_inches(table)))
    for item in metric.items:
        assert inches[item.key] == pytest.approx(item.value, rel=1e-8, abs=1e-9), item.key


@settings(max_examples=8)
@given(move=st.floats(-10.0, 10.0))
def test_moving_the_datum_moves_stations_and_nothing_else(move):
    def moved(table):
        for cut in table["lifting"]["wing"]["cuts"]:
            if "fs" in cut:
                cut["fs"] = f"{float(cut['fs'][:-2]) + move:.12f} m"
        for station in table["bodies"]["pod"]["cuts"]:
            station["fs"] = f"{float(station['fs'][:-2]) + move:.12f} m"
        for wheel in table["wheels"].values():
            wheel["fs"] = f"{float(wheel['fs'][:-2]) + move:.12f} m"
        return table

    one = design_from(copy.deepcopy(PLAIN))
    two = design_from(moved(copy.deepcopy(PLAIN)))
    found, stood = measures(two), standing(two)
    for item in measures(one).items:
        shift = move if item.kind == "station" else 0.0
        assert found[item.key] == pytest.approx(item.value + shift, abs=1e-8), item.key
    for item in standing(one).items:
        assert stood[item.key] == pytest.approx(item.value, abs=1e-6), item.key


def test_left_is_the_mirror_image_of_right():
    parts = {p.name: p for p in pf.build(design()).parts}
    mirrored = parts["left wing"].points * np.array([1.0, -1.0, 1.0])
    assert np.allclose(mirrored, parts["right wing"].points)


def test_left_and_right_may_differ_and_are_averaged():
    table = copy.deepcopy(PLAIN)
    wing = table["lifting"].pop("wing")
    del table["winglets"]
    other = copy.deepcopy(wing)
    other["cuts"][1]["chord"] = "1.2 m"
    table["lifting"] = {
        "right wing": {**wing, "side": "right"},
        "left wing": {**other, "side": "left"},
    }
    found = measures(design_from(table))
    assert found["wing.area"] == pytest.approx(4.0 * (2 + 1) / 2 + 4.0 * (2 + 1.2) / 2)


def test_sweeps_of_different_lines_agree():
    quarter = design(
        lifting__wing__cuts=[
            {"fs": "0 m", "bl": "0 m", "wl": "0 m", "chord": "2 m"},
            {"bl": "4 m", "sweep_quarter_plan": "15 deg", "chord": "1 m"},
        ]
    )
    found = measures(quarter)
    assert math.degrees(found["wing.sweep_quarter"]) == pytest.approx(15.0)
    tip = halves_of_surface("wing", quarter.lifting["wing"])[0].leading_edge[-1]
    assert tip[0] == pytest.approx(4 * math.tan(math.radians(15.0)) + 0.25 * (2 - 1))


@settings(max_examples=8)
@given(heading=st.floats(-180.0, 180.0))
def test_gaps_of_a_lone_post_do_not_change_when_all_turns(heading):
    """Rigid motion: aircraft and post turned together about the spot keep their distance."""
    from planform.design.load import place_from
    from tests.conftest import ROOM

    def gap(turn):
        table = copy.deepcopy(ROOM)
        table["floor"] = {"width": "60 m", "depth": "60 m"}
        table["spots"] = [{"name": "s", "at": ["30 m", "30 m"], "heading": f"{turn:.12f} deg"}]
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        corners = []
        for x, y in ((7.0, 2.0), (7.5, 2.0), (7.5, 2.5), (7.0, 2.5)):
            corners.append([f"{30 + c * x + s * y:.12f} m", f"{30 - s * x + c * y:.12f} m"])
        table["obstacles"] = [
            {"name": "post", "kind": "standing", "outline": corners, "top": "3 m"}
        ]
        built = pf.build_room(place_from(table))
        found = judge_straight(pf.stand_all(pf.build(design()))[0], built, limit=8.0)
        return next(k.gap for k in found.checks if k.key == "obstacle")

    assert gap(heading) == pytest.approx(gap(0.0), abs=1e-7)

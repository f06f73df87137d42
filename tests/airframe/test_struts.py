"""Struts from body to wing: on the skin or where they are written, round or faired."""

from __future__ import annotations

import copy

import numpy as np
import pytest

import planform as pf
from planform.core.shape.loft import section_ring
from planform.design.load import design_from
from planform.design.problems import InputError
from tests.conftest import PLAIN

ENDS = {
    "inner_end": {"on": "pod", "fs": "0.5 m", "bl": "0.2 m", "wl": "-0.9 m"},
    "outer_end": {"on": "wing", "fs": "1 m", "bl": "2.2 m", "wl": "0 m"},
}


def table(**strut):
    out = copy.deepcopy(PLAIN)
    body = {"half_width": "0.3 m", "bottom": "-1.2 m", "top": "-0.6 m", "boxiness": 2.0}
    out["bodies"] |= {"pod": {"cuts": [body | {"fs": "0 m"}, body | {"fs": "2 m"}]}}
    out["struts"] = {"lift strut": copy.deepcopy(ENDS) | strut}
    return out


def parts(given):
    return {part.name: part for part in pf.build(design_from(given)).parts}


LENGTH = float(np.linalg.norm([0.5, 2.0, 0.9]))


def test_a_round_strut_is_its_cylinder_drawn_from_outside():
    """Volume pi d^2 L / 4 (closed form), more by what 16 tangent sides add."""
    found = parts(table(diameter="40 mm"))
    sides = 16.0 / np.pi * np.tan(np.pi / 16.0)
    for name in ("left lift strut", "right lift strut"):
        solid = found[name].trimesh()
        assert solid.is_watertight
        assert solid.volume == pytest.approx(np.pi * 0.02**2 * LENGTH * sides, rel=1e-9)
    left, right = found["left lift strut"].points, found["right lift strut"].points
    assert left * [1.0, -1.0, 1.0] == pytest.approx(right)


def test_a_faired_strut_is_its_section_along_its_line():
    """Area of the facetted section, by the shoelace formula, times the length."""
    found = parts(table(chord="80 mm", thickness="20 mm"))["right lift strut"]
    x, y = section_ring(0.0, 0.0, 0.25, closed=True).T
    area = 0.5 * abs(float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())) * 0.08**2
    assert found.trimesh().is_watertight
    assert found.trimesh().volume == pytest.approx(area * LENGTH, rel=1e-9)
    across = np.array([0.5, 2.0, 0.9]) / LENGTH
    rings = found.points.reshape(2, -1, 3)
    assert (rings[0] - rings[0][0]) @ across == pytest.approx(0.0, abs=1e-12)
    assert found.bulge > 0.0


def test_the_skin_gives_what_is_left_out():
    """Round pod: at mid-height its side is 0.3 m out; the wing's underside is half its thickness.

    NACA 0012 at 30 % of its chord: 6 % below its chord line (NACA Report 460).
    """
    inner = {"on": "pod", "fs": "0.5 m", "wl": "-0.9 m"}
    outer = {"on": "wing", "fs": "0.3 m", "bl": "1 mm"}
    found = parts(table(inner_end=inner, outer_end=outer, diameter="1 mm"))["right lift strut"]
    rings = found.points.reshape(2, -1, 3).mean(axis=1)
    assert rings[0] == pytest.approx([0.5, 0.3, -0.9], abs=2e-3)
    assert rings[1][2] == pytest.approx(-0.06 * 2.0 * 0.5, abs=0.07)
    assert rings[1][2] < -0.05


def test_a_strut_comes_off_with_either_of_its_parts_and_alone():
    given = table(diameter="40 mm")
    for name, without in (
        ("a", "pod"),
        ("b", "wing"),
        ("c", "lift strut"),
        ("d", "left lift strut"),
    ):
        given["stages"].append({"name": name, "without": [without], "stance": "gear"})
    found = {
        standing.stage.name: {part.name for part in standing.parts}
        for standing in pf.stand_all(pf.build(design_from(given)))
    }
    both = {"left lift strut", "right lift strut"}
    assert not both & found["a"]
    assert not both & found["b"]
    assert not both & found["c"]
    assert "wing" not in given["struts"]
    assert both & found["d"] == {"right lift strut"}


def test_a_tolerance_moves_it_and_its_sides_may_differ():
    given = table(diameter="40 mm")
    given["struts"]["lift strut"]["outer_end"]["bl"] = {"left": "2.2 m", "right": "2.3 m ± 5 mm"}
    found = parts(given)
    assert found["right lift strut"].points[:, 1].max() > 2.29
    assert -found["left lift strut"].points[:, 1].min() < 2.22
    from planform.design.vary import toleranced_shape

    paths = [path for path, _ in toleranced_shape(design_from(given))]
    assert ("struts", "lift strut", "outer_end", "bl", "right") in paths


@pytest.mark.parametrize(
    ("strut", "field", "words"),
    [
        ({}, "", "either a diameter, or a chord and a thickness"),
        ({"diameter": "1 in", "chord": "2 in"}, "", "either a diameter"),
        ({"chord": "2 in"}, "", "either a diameter"),
        ({"chord": "2 in", "thickness": "1 in"}, "", "5 to 40 %"),
        ({"diameter": "-1 in"}, "diameter", "above zero"),
        ({"diameter": "3 m"}, "diameter", "is the unit right"),
        ({"diameter": "1 in", "side": "centre"}, "side", "both"),
        (
            {"diameter": "1 in", "inner_end": ENDS["inner_end"] | {"on": "pot"}},
            "inner_end.on",
            "pod",
        ),
        ({"diameter": "1 in", "inner_end": ENDS["outer_end"]}, "outer_end", "stand apart"),
        (
            {"diameter": "1 in", "inner_end": {"on": "pod", "fs": "1 m"}},
            "inner_end",
            "the skin gives the one left out",
        ),
        (
            {"diameter": "1 in", "inner_end": ENDS["inner_end"] | {"bl": "-1 m"}},
            "inner_end.bl",
            "zero or more",
        ),
    ],
)
def test_bad_struts_are_told(strut, field, words):
    with pytest.raises(InputError) as error:
        design_from(table(**strut))
    (problem,) = error.value.problems
    assert problem.path == f"struts.lift strut{f'.{field}' if field else ''}"
    assert words in problem.allowed


def test_where_there_is_no_skin_and_no_way_aft_planform_says_so():
    off = {"on": "pod", "fs": "5 m", "wl": "-0.9 m"}
    with pytest.raises(InputError, match="a place where the pod has a skin, or give bl too"):
        pf.build(design_from(table(inner_end=off, diameter="1 in")))
    along = ENDS["inner_end"] | {"fs": "1.5 m", "on": "pod"}
    with pytest.raises(InputError, match="no way to point"):
        pf.build(design_from(table(outer_end=along, chord="2 in", thickness="1/2 in")))

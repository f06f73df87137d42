"""The section of a surface at any place of its span, against the solid and against closed forms."""

from __future__ import annotations

import copy

import numpy as np
import pytest

import planform as pf
from planform.airframe.sections import along_at, section_at
from planform.core.shape.sections import half_thickness
from planform.design.load import design_from
from tests.conftest import PLAIN


def _halves(**cut):
    table = copy.deepcopy(PLAIN)
    table["lifting"]["wing"]["cuts"][-1] |= cut
    return pf.build(design_from(table))


@pytest.mark.parametrize("share", [0.0, 0.3, 0.7, 1.0])
def test_a_section_lies_on_the_built_skin(share):
    """Each corner of a section lies on the solid's surface (trimesh, nearest point)."""
    import trimesh

    airframe = _halves(incidence="0 deg")
    for half in airframe.halves:
        (part,) = (p for p in airframe.parts if p.name == half.name)
        corners = part.points[part.faces]
        found = section_at(half, share * float(half.developed[-1]))
        points = np.vstack([found.upper, found.lower])
        near = [
            trimesh.triangles.closest_point(corners, np.tile(point, (len(corners), 1)))
            for point in points
        ]
        off = np.array(
            [np.linalg.norm(q - p, axis=1).min() for p, q in zip(points, near, strict=True)]
        )
        assert off.max() < 2e-3 * found.chord  # a quad of a tapered panel is two triangles
        if share in (0.0, 1.0):
            assert off.max() < 1e-9


def test_a_symmetric_section_is_as_thick_as_its_formula():
    """Upper less lower at a corner of the facets is twice the half thickness of NACA Report 460."""
    table = copy.deepcopy(PLAIN)
    table["lifting"]["wing"]["profile"] = "NACA 0015"
    half = next(h for h in pf.build(design_from(table)).halves if h.role == "wing")
    run = float(half.developed[-1])
    x = np.array([0.5 * (1.0 - np.cos(np.pi * k / 20.0)) for k in (4, 8, 12, 16)])
    for share in (0.0, 0.5, 1.0):
        found = section_at(half, share * run)
        upper, lower = found.skin(x)
        thick = np.linalg.norm(upper - lower, axis=1) / found.chord
        inner = 1.0 / np.cos(float(half.angle[0])) if share == 0.0 else 1.0
        assert thick.max() <= 0.1501 * inner
        if share == 1.0:
            assert thick == pytest.approx(2.0 * half_thickness(x, 0.15, closed=True), rel=1e-6)


def test_a_butt_line_is_found_along_the_surface():
    half = next(h for h in _halves().halves if h.role == "wing")
    run = half.developed
    middle = 0.5 * (half.leading_edge[0, 1] + half.leading_edge[1, 1])
    assert along_at(half, float(middle)) == pytest.approx(0.5 * run[1])
    assert along_at(half, float(half.leading_edge[-1, 1])) == pytest.approx(run[-1])
    with pytest.raises(ValueError, match="allowed: BL"):
        along_at(half, 99.0)
    with pytest.raises(ValueError, match="allowed: 0 to"):
        section_at(half, float(run[-1]) + 0.01)


def test_the_left_section_is_the_mirror_image_of_the_right():
    airframe = _halves()
    right, left = (
        next(h for h in airframe.halves if h.role == "wing" and h.side == side) for side in (1, -1)
    )
    one, two = section_at(right, 0.4), section_at(left, 0.4)
    assert two.upper * [1.0, -1.0, 1.0] == pytest.approx(one.upper, abs=1e-15)

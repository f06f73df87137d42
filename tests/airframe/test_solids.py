"""Mesh sums against closed forms, and the meshes' bounds against the true shapes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import gamma

from planform.core.shape import hulls, loft
from planform.core.shape.sections import naca4


def _volume(mesh):
    import trimesh

    solid = trimesh.Trimesh(*mesh, process=False)
    assert solid.is_watertight
    return solid.volume


@given(
    a=st.floats(0.1, 2.0), b=st.floats(0.1, 2.0), n=st.floats(1.5, 12.0), length=st.floats(0.5, 9.0)
)
def test_straight_body_holds_the_true_superellipse(a, b, n, length):
    """Area of a superellipse: 4 a b G(1+1/n)^2 / G(1+2/n) (closed form, general mathematics)."""
    fs = np.array([0.0, length])
    column = np.array([a, a])
    mesh = hulls.body(
        hulls.Columns(fs, column, -b * np.ones(2), b * np.ones(2), n * np.ones(2)), 0.0
    )
    true = 4.0 * a * b * gamma(1.0 + 1.0 / n) ** 2 / gamma(1.0 + 2.0 / n) * length
    assert true <= _volume(mesh) * (1.0 + 1e-12)
    assert _volume(mesh) == pytest.approx(true, rel=0.012)
    assert mesh[0][:, 1].max() == pytest.approx(a, rel=1e-9)
    assert mesh[0][:, 2].max() == pytest.approx(b, rel=1e-9)


def test_cylinder_stands_outside_the_round_and_has_its_exact_extents():
    points, faces = loft.cylinder(np.zeros(3), np.array([0.0, 0.3, 0.0]), 0.5)
    assert np.pi * 0.25 * 0.3 < _volume((points, faces)) < 1.002 * np.pi * 0.25 * 0.3
    assert points[:, 2].min() == pytest.approx(-0.5, abs=1e-12)
    assert points[:, 0].max() == pytest.approx(0.5, abs=1e-12)


@given(c0=st.floats(0.3, 3.0), c1=st.floats(0.3, 3.0), t=st.integers(6, 21), span=st.floats(0.5, 9))
def test_panel_volume_is_the_prismoid_of_its_facetted_sections(c0, c1, t, span):
    """A straight loft of similar sections: V = A L (c0^2 + c0 c1 + c1^2) / 3."""
    ring = loft.section_ring(0.0, 0.0, t / 100.0, closed=True)
    x, y = ring.T
    area = 0.5 * abs(float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()))
    mesh = loft.panel_chain(
        loft.panel_rings(
            np.array([[0.0, 0.0, 0.0], [0.4, span, 0.0]]),
            np.array([c0, c1]),
            np.zeros(2),
            np.tile([0.0, 0.0, 1.0], (2, 1)),
            [ring, ring],
        ),
        closed=True,
    )
    # each quad is split into two flat triangles, so equal only where the taper is none
    assert _volume(mesh) == pytest.approx(area * span * (c0**2 + c0 * c1 + c1**2) / 3.0, rel=0.02)
    flat = loft.panel_chain(
        loft.panel_rings(
            np.array([[0.0, 0.0, 0.0], [0.4, span, 0.0]]),
            np.array([c0, c0]),
            np.zeros(2),
            np.tile([0.0, 0.0, 1.0], (2, 1)),
            [ring, ring],
        ),
        closed=True,
    )
    assert _volume(flat) == pytest.approx(area * span * c0**2, rel=1e-9)


def test_open_trailing_edge_closes_too():
    ring = loft.section_ring(0.02, 0.4, 0.12, closed=False)
    mesh = loft.panel_chain(
        loft.panel_rings(
            np.array([[0.0, 0.0, 0.0], [0.0, 2.0, 0.0]]),
            np.ones(2),
            np.zeros(2),
            np.tile([0.0, 0.0, 1.0], (2, 1)),
            [ring, ring],
        ),
        closed=False,
    )
    assert _volume(mesh) > 0.0


@pytest.mark.parametrize("t", [0.06, 0.12, 0.21])
@pytest.mark.parametrize("camber", [0.0, 0.02, 0.06])
def test_bulge_bounds_the_true_section(t, camber):
    """No point of the true section lies further outside the facets than the stated bulge."""
    import shapely

    ring = loft.section_ring(camber, 0.4, t, closed=True)
    polygon = shapely.polygons(ring)
    upper, lower = naca4(camber, 0.4, t, n=4001, closed=True)
    fine = shapely.points(np.concatenate([upper, lower]))
    assert shapely.distance(polygon, fine).max() <= loft.section_bulge(camber, 0.4, t) * 1.05


def test_bowed_plate_is_closed_and_opens_to_its_width():
    hinge = np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0]])
    points, faces = loft.plate(
        hinge[0], hinge[1], np.array([0.0, -1.0, 0.0]), np.array([0.0, 0.0, 1.0]), 0.2, 0.02
    )
    assert _volume((points, faces)) == pytest.approx(2.0 * 1.0 * 0.02, rel=1e-6)
    assert points[:, 2].max() == pytest.approx(0.2, abs=1e-9)

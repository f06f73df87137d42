"""A parked propeller against plane trigonometry and against polygons cut by another library.

A blade is the part of a strip of half chord w about a radius R that lies within the disc. Turned by
an angle t from straight up its highest point is R where the tip's round is over the shaft
(|t| <= asin(w / R)), and its upper corner at R cos(|t| - asin(w / R)) beyond. Closed forms, worked
out here.
"""

from __future__ import annotations

import copy

import numpy as np
import pytest
import shapely
import shapely.affinity
import trimesh
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.builders.propellers import build_propeller, disc
from planform.core.shape import loft
from planform.core.shape.blades import front_view, plate_about_shaft
from planform.design.load import design_from
from planform.design.propellers import Propeller
from tests.conftest import PLAIN

BASE = {"disc_fs": "3 m", "bl": "0.2 m", "wl": "1 m", "diameter": "1.8 m", "depth": "0.1 m"}


def _parked(angle: float, **more: object):
    fields = BASE | {"blades": 2, "chord": "0.14 m", "parked_angle": f"{angle} deg"} | more
    return build_propeller("propeller", Propeller.model_validate(fields)).parts[0]


@pytest.mark.parametrize("angle", [0.0, 3.0, 20.0, -20.0, 45.0, 80.0, 90.0])
def test_the_top_of_a_parked_blade_is_where_trigonometry_says(angle):
    corner = np.arcsin(0.07 / 0.9)
    off = min(abs(np.radians(angle)), np.pi - abs(np.radians(angle)))
    top = 0.9 if off <= corner else 0.9 * np.cos(off - corner)
    found = _parked(angle).points[:, 2].max() - 1.0
    assert top - 1e-12 <= found <= top + 1e-4  # drawn around the true tip
    assert _parked(angle).points[:, 2].min() - 1.0 == pytest.approx(-found)


def test_a_positive_angle_is_clockwise_as_seen_from_behind():
    part = _parked(30.0, blades=3)
    highest = part.points[np.argmax(part.points[:, 2])]
    assert highest[1] > 0.2  # seen from behind, right is to the right


def test_turned_level_it_is_as_high_as_its_chord_and_its_disc_as_its_diameter():
    level, swept = _parked(90.0), disc(Propeller.model_validate(BASE))
    assert np.ptp(level.points[:, 2]) == pytest.approx(0.14)
    assert np.ptp(level.points[:, 1]) == pytest.approx(1.8, abs=1e-4)
    assert np.ptp(swept[0][:, 2]) == pytest.approx(1.8, rel=0.003)


@given(
    count=st.integers(2, 6),
    root=st.floats(0.02, 0.09),
    tip=st.floats(0.01, 0.09),
    hub=st.one_of(st.just(0.0), st.floats(0.02, 0.3)),
    angle=st.floats(-4.0, 4.0),
)
def test_the_plate_holds_every_blade_and_the_hub_and_hardly_more(count, root, tip, hub, angle):
    """Against shapely: the union of strips cut by a fine disc, and the hub."""
    outline = shapely.Polygon(front_view(count, 0.9, root, tip, hub))
    assert outline.is_valid
    strip = shapely.Polygon([(0, -root), (0.9, -tip), (0.9, tip), (0, root)])
    blade = strip.intersection(shapely.Point(0, 0).buffer(0.9, quad_segs=256))
    true = [shapely.affinity.rotate(blade, 360 * k / count, (0, 0)) for k in range(count)]
    if hub:
        true.append(shapely.Point(0, 0).buffer(hub, quad_segs=256))
    whole = shapely.union_all(true)
    assert whole.difference(outline).area < 1e-12
    assert outline.area < 1.02 * whole.area
    rings = plate_about_shaft(np.array(outline.exterior.coords)[:-1], np.zeros(3), 0.1, angle)
    mesh = trimesh.Trimesh(*loft.star(rings), process=False)
    assert mesh.is_watertight
    assert mesh.body_count == 1
    assert mesh.volume == pytest.approx(0.1 * outline.area)


def test_a_propeller_without_blades_is_not_turned():
    """One sentence that says why; the propeller's own mistake is told alone."""
    table = copy.deepcopy(PLAIN) | {
        "propeller": {"disc_fs": "2.5 m", "wl": "0.5 m", "diameter": "1.6 m", "depth": "0.1 m"}
    }
    table["stances"]["gear"]["turned"] = {"propeller": "30 deg"}
    with pytest.raises(pf.InputError) as told:
        design_from(table)
    (problem,) = told.value.problems
    assert problem.path == "stances.gear.turned"
    assert "a propeller with blades" in problem.allowed
    table["propeller"] |= {"blades": 1, "chord": "0.1 m"}
    with pytest.raises(pf.InputError) as told:
        design_from(table)
    assert [problem.path for problem in told.value.problems] == ["propeller.blades"]

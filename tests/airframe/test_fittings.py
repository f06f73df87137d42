"""Small things on the skin of a part: where they stand, what carries them, what is refused."""

from __future__ import annotations

import copy

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.core.shape.skin import outermost
from planform.design.load import design_from
from planform.design.problems import InputError
from tests.conftest import PLAIN


def with_fitting(name="whip", plain=PLAIN, **fields):
    table = copy.deepcopy(plain)
    table["fittings"] = {name: fields}
    return table


def built(table):
    return {part.name: part for part in build(design_from(table)).parts}


ROD = {"length": "0.3 m", "diameter": "6 mm"}
BOX = {"fore_aft": "0.1 m", "across": "0.06 m", "upright": "0.02 m"}


def test_a_line_leaves_a_sphere_where_its_equation_says():
    import trimesh

    ball = trimesh.creation.icosphere(subdivisions=5, radius=2.0)
    for x, y in ((0.0, 0.0), (0.7, -0.4), (-1.2, 1.1)):
        height = np.sqrt(4.0 - x * x - y * y)
        point = np.array([x, y, 99.0])
        assert outermost(ball.triangles, point, 2, 1.0) == pytest.approx(height, abs=3e-3)
        assert outermost(ball.triangles, point, 2, -1.0) == pytest.approx(-height, abs=3e-3)
    assert outermost(ball.triangles, np.array([2.5, 0.0, 0.0]), 2, 1.0) is None


def test_a_rod_stands_on_the_skin_and_leans_aft():
    table = with_fitting(
        on="pod", at={"fs": "1 m", "bl": "0 m"}, toward="down", rod=ROD | {"leans_aft": "30 deg"}
    )
    parts = built(table)
    rod = parts["whip"]
    below = -0.5  # the pod's bottom
    tip = rod.points[rod.points[:, 2] < below - 0.2]
    reach = 0.3 * np.array([np.sin(np.radians(30.0)), 0.0, -np.cos(np.radians(30.0))])
    assert tip.mean(axis=0) == pytest.approx(np.array([1.0, 0.0, below]) + reach, abs=2e-3)
    assert rod.hosts == ("pod", "pod")
    assert rod.trimesh().is_watertight
    exact = np.pi * 0.003**2 * 0.3
    assert exact < rod.trimesh().volume < 1.03 * exact  # drawn around the true rod


def test_a_box_has_its_sizes_on_both_sides_and_stands_on_its_own_side():
    table = with_fitting(
        "step", on="pod", side="both", at={"fs": "1 m", "wl": "0.1 m"}, toward="outboard", box=BOX
    )
    parts = built(table)
    right, left = parts["right step"], parts["left step"]
    assert np.ptp(right.points, axis=0) == pytest.approx([0.1, 0.06, 0.02])
    assert right.trimesh().volume == pytest.approx(0.1 * 0.06 * 0.02)
    assert left.points[:, 1].max() == pytest.approx(-right.points[:, 1].min())
    assert left.points[:, 1].max() < 0.0


def test_three_coordinates_need_no_skin():
    at = {"fs": "1 m", "bl": "0.9 m", "wl": "3 m"}
    box = built(with_fitting(on="pod", at=at, toward="up", box=BOX))["whip"]
    assert box.points.min(axis=0) == pytest.approx([0.95, 0.87, 3.0])


@pytest.mark.parametrize(("on", "side"), [("wing", "both"), ("left wing", "left")])
def test_what_a_stage_leaves_out_takes_its_fittings_along(on, side):
    fs, bl = "1 m", "1 m"
    table = with_fitting("ring", on=on, side=side, at={"fs": fs, "bl": bl}, toward="down", box=BOX)
    table["stages"] = [{"name": "bare", "without": ["left wing"], "stance": "gear"}]
    airframe = build(design_from(table))
    on_it = [part.name for part in stand_on(airframe, airframe.design.stages[0]).parts]
    assert "left ring" not in on_it
    assert "ring" not in on_it
    assert ("right ring" in on_it) == (side == "both")


@pytest.mark.parametrize(
    ("fields", "path", "said"),
    [
        ({"at": {"fs": "30 m", "bl": "0 m"}}, "fittings.whip.at", "no skin of pod there"),
        ({"at": {"fs": "1 m"}}, "fittings.whip.at.bl", "only wl may be left out"),
        ({"on": "po"}, "fittings.whip.on", "did you mean 'pod'?"),
        ({"on": "whip"}, "fittings.whip.on", "no such name"),
        ({"box": BOX}, "fittings.whip", "either a rod or a box"),
        ({"rod": None}, "fittings.whip", "either a rod or a box"),
        ({"side": "both"}, "fittings.whip.at.bl", "above zero"),
        ({"toward": "outboard"}, "fittings.whip", "left or right here"),
        ({"side": "both", "toward": "left"}, "fittings.whip", "outboard or inboard"),
        ({"rod": ROD | {"leans_aft": "80 deg"}}, "fittings.whip.rod.leans_aft", "within 75 deg"),
        ({"rod": ROD | {"length": "30 m"}}, "fittings.whip.rod.length", "is the unit right?"),
        (
            {"toward": "aft", "at": {"bl": "0 m", "wl": "0.1 m"},
             "rod": ROD | {"leans_aft": "5 deg"}},
            "fittings.whip.rod.leans_aft", "already goes that way",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_in_a_sentence(fields, path, said):
    base = {"on": "pod", "at": {"fs": "1 m", "bl": "0 m"}, "toward": "down", "rod": ROD}
    table = with_fitting(**{k: v for k, v in (base | fields).items() if v is not None})
    with pytest.raises(InputError) as refused:
        build(design_from(table))
    told = {problem.path: problem.allowed for problem in refused.value.problems}
    assert list(told) == [path]
    assert said in told[path]


def test_it_is_a_part_like_any_other_to_the_measures_and_the_masses():
    table = with_fitting(
        on="pod", at={"bl": "0 m", "wl": "0 m"}, toward="ahead", rod=ROD | {"length": "0.5 m"}
    )
    table["masses"] = [
        {"name": "whip", "mass": "1 kg", "fs": "-2.2 m", "wl": "0 m", "part": "whip"}
    ]
    longer = pf.stand(build(design_from(table))).all_points()[:, 0].min()
    plain = pf.stand(build(design_from(PLAIN))).all_points()[:, 0].min()
    assert longer == pytest.approx(plain - 0.5)

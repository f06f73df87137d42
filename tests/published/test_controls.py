"""Control surfaces against rotation by hand, volumes by another library, and sampled sweeps.

The trailing edge of a control on an untwisted, unswept surface is c (1 - h) behind its hinge on the
chord line; deflected by d it is c (1 - h) sin d below it, and c (1 - h) cos d behind. Worked out
here. Trailing edge down, and on one fin left, is positive: common practice, no source.
"""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.outlines import outline
from planform.airframe.sweeping import least_gap, swept, turning_questions
from planform.core.shape.hull import convex_hull
from planform.core.shape.parting import Plane, monotone, part_off
from planform.design.load import design_from
from tests.conftest import PLAIN

CHORD, HINGE, WL = 1.0, 0.75, 0.4
CUTS = [
    {"fs": "0 m", "bl": "0 m", "wl": f"{WL} m", "chord": "1 m"},
    {"bl": "3 m", "chord": "1 m", "sweep_le_plan": "0 deg"},
]
FLAP = {
    "on": "wing", "inner": {"bl": "1 m", "hinge": "75 %"},
    "outer": {"bl": "2.5 m", "hinge": "75 %"}, "down": "30 deg", "up": "20 deg",
}  # fmt: skip
RUDDER = {
    "on": "fin", "inner": {"along": "0.1 m", "hinge": "60 %"}, "outer": {"hinge": "60 %"},
    "outboard": "30 deg", "inboard": "0 deg",
}  # fmt: skip
FIN = {"on": "wing", "length": "1 m", "cant": "0 deg", "sweep_le_panel": "0 deg",
       "root_chord": "0.5 m", "tip_chord": "0.5 m"}  # fmt: skip


def _design(controls: dict, stance: dict | None = None, cuts=CUTS, **more):
    table = copy.deepcopy(PLAIN) | more
    table["lifting"] = {"wing": {"role": "wing", "profile": "NACA 2412", "cuts": cuts}}
    table["winglets"] = {"fin": FIN}
    table["controls"] = controls
    name = table["stages"][0]["stance"]
    table["stages"] = [{"name": "whole", "stance": name}]
    table["stances"] = {name: table["stances"][name] | (stance or {})}
    return design_from(table)


def _standing(controls: dict, stance: dict):
    standing = pf.stand(pf.build(_design(controls, stance)))
    zero = standing.to_floor(np.zeros((1, 3)))[0]
    return {part.name: (part, part.points - zero) for part in standing.parts}


@pytest.mark.parametrize("angle", [-20.0, -7.5, 12.0, 30.0])
def test_the_trailing_edge_is_where_rotation_puts_it(angle):
    _, points = _standing({"flap": FLAP}, {"deflected": {"flap": f"{angle} deg"}})["right flap"]
    arm, turn = CHORD * (1.0 - HINGE), np.radians(angle)
    edge = points[np.argmax(points[:, 0] - points[:, 2] * np.sin(turn))]
    assert edge[0] == pytest.approx(CHORD * HINGE + arm * np.cos(turn))
    assert edge[2] == pytest.approx(WL - arm * np.sin(turn))


def test_a_rudder_outboard_widens_both_sides_alike():
    found = _standing({"rudder": RUDDER}, {"deflected": {"rudder": "30 deg"}})
    arm = 0.5 * 0.4
    for name, side in (("right rudder", 1.0), ("left rudder", -1.0)):
        _, points = found[name]
        reach = (side * points[:, 1]).max()
        assert reach == pytest.approx(3.0 + arm * np.sin(np.radians(30.0)), abs=2e-3)


def test_neutral_it_is_the_same_aircraft():
    """No outline, gap, volume or skin changes with a control cut out and not deflected."""
    whole, cut = (pf.build(_design(c)) for c in ({}, {"flap": FLAP, "rudder": RUDDER}))
    volume = [sum(p.trimesh().volume for p in a.parts) for a in (whole, cut)]
    assert volume[1] == pytest.approx(volume[0], rel=1e-12)
    one, two = (pf.standing_measures(pf.stand(a)) for a in (whole, cut))
    for key in ("length", "width", "height", "tip_height", "footprint.area"):
        assert two[key] == pytest.approx(one[key], abs=1e-9)
    flown = [pf.design_measures(a)["wing.wetted_area"] for a in (whole, cut)]
    assert flown[1] == pytest.approx(flown[0], rel=1e-12)
    for name in ("right wing", "left fin"):
        controls = [p for p in cut.parts if p.role == "control" and name in p.hosts[-2:]]
        pieces = [cut.by_name[name], *controls]
        together = np.concatenate([p.points for p in pieces])
        before = whole.by_name[name].points
        assert np.abs(together.max(axis=0) - before.max(axis=0)).max() < 1e-9
        assert np.abs(together.min(axis=0) - before.min(axis=0)).max() < 1e-9
        area = sum(outline(p).area for p in pieces)
        if name == "right wing":
            assert area == pytest.approx(outline(whole.by_name[name]).area, rel=1e-6)
    for part in cut.parts:
        mesh = part.trimesh()
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.body_count == 1


def test_the_planform_of_a_control_is_its_share_of_the_chord():
    part = pf.build(_design({"flap": FLAP})).by_name["right flap"]
    assert outline(part).area == pytest.approx(1.5 * CHORD * (1.0 - HINGE), rel=1e-3)


@pytest.mark.parametrize("name", ["right flap", "left rudder"])
def test_what_is_swept_holds_every_deflection(name):
    part = pf.build(_design({"flap": FLAP, "rudder": RUDDER})).by_name[name]
    space = swept(part)
    import trimesh

    hulls = trimesh.Trimesh(space.points, space.faces, process=False).split()
    for angle in np.linspace(part.hinge.least, part.hinge.most, 23):
        turn, shift = part.hinge.at(float(angle))
        points = part.points @ turn.T + shift
        out = []
        for hull in hulls:
            level = (hull.face_normals * hull.triangles[:, 0]).sum(axis=1)
            out.append((points @ hull.face_normals.T - level).max(axis=1))
        assert np.min(out, axis=0).max() < space.bulge - part.bulge + 1e-9
    assert space.bulge - part.bulge < 2e-3


def test_free_controls_count_with_all_they_sweep_unless_held():
    loose = {"rudder": RUDDER | {"free": True}}
    width = {
        key: np.ptp(np.concatenate([p for _, p in _standing(loose, stance).values()])[:, 1])
        for key, stance in (
            ("free", {}),
            ("held", {"deflected": {"rudder": "0 deg"}}),
            ("out", {"deflected": {"rudder": "30 deg"}}),
        )
    }
    assert width["free"] == pytest.approx(width["out"], abs=1e-3)
    assert width["held"] < width["free"] - 0.1


def test_a_control_goes_along_with_a_folded_panel_and_comes_off_alone():
    joint = [CUTS[0], {"bl": "2 m", "chord": "1 m", "sweep_le_plan": "0 deg", "joint": "outer",
                       "fold": {"angle": "90 deg"}}, CUTS[1]]  # fmt: skip
    flap = FLAP | {
        "inner": {"bl": "2.1 m", "hinge": "75 %"},
        "outer": {"bl": "2.9 m", "hinge": "75 %"},
    }
    design = _design({"flap": flap}, {"folded": ["outer"]}, cuts=joint)
    airframe = pf.build(design)
    assert airframe.by_name["right flap"].hosts[-2:] == ("right outer", "outer")
    standing = pf.stand(airframe)
    tall = next(p for p in standing.parts if p.name == "right flap").points
    assert np.ptp(tall[:, 2]) == pytest.approx(0.8, abs=1e-3)
    off = standing.stage.model_copy(update={"without": ("flap",)})
    names = {p.name for p in pf.stand(airframe, off).parts}
    assert "right outer" in names
    assert "right flap" not in names


def test_an_elevator_that_meets_the_hull_is_asked_about():
    wall = {"cuts": [{"fs": fs, "half_width": "0.9 m", "bottom": "0.2 m", "top": top}
                     for fs, top in (("0.9 m", "0.32 m"), ("1.4 m", "0.32 m"))]}  # fmt: skip
    flap = FLAP | {"inner": {"bl": "0.5 m", "hinge": "75 %"}}
    airframe = pf.build(_design({"flap": flap}, bodies={"block": wall}))
    (asked,) = turning_questions(airframe)
    assert asked.startswith("the flap touches the block at ")
    told = int(asked.split(" at ")[1].split(" ")[0])
    # by hand: at the flap's inner end, BL 0.5 m, the block's top is 0.06 (1 - (5 / 9)^2)^0.5 over
    # its middle, 0.090 m under the hinge: the trailing edge, 0.25 m behind it, is there at 21.1 deg
    assert told in (20, 21)  # the skin ahead of the edge, and the facets, meet it a little earlier
    gap = least_gap(airframe.by_name["right flap"], airframe.parts)
    assert gap == (0.0, "block")
    clear = pf.build(_design({"flap": FLAP}))
    assert turning_questions(clear) == ()


@given(st.integers(0, 10_000))
def test_a_hull_is_that_of_another_library(seed):
    import trimesh

    dice = np.random.default_rng(seed)
    points = dice.normal(size=(int(dice.integers(5, 60)), 3)) * [1.0, 0.2, 0.03]
    mesh = trimesh.Trimesh(*convex_hull(points), process=False)
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(trimesh.PointCloud(points).convex_hull.volume, rel=1e-9)


@given(st.integers(0, 10_000))
def test_a_box_is_parted_by_planes_as_arithmetic_says(seed):
    import trimesh

    dice = np.random.default_rng(seed)
    low, high = np.sort(dice.uniform(-0.9, 0.9, 2))
    behind = float(dice.uniform(-0.8, 0.8))
    if high - low < 0.05:
        return
    box = trimesh.creation.box(extents=(2.0, 2.0, 0.4))
    y, x = np.array([0.0, 1.0, 0.0]), np.array([1.0, 0.0, 0.0])
    planes = [Plane(y * low, y), Plane(y * high, -y), Plane(x * behind, x)]
    left, piece = part_off(np.asarray(box.vertices), np.asarray(box.faces), 0, planes)
    for cut in (left, piece):
        mesh = trimesh.Trimesh(cut.points, cut.faces, process=False)
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
    volume = trimesh.Trimesh(piece.points, piece.faces, process=False).volume
    assert volume == pytest.approx((high - low) * (1.0 - behind) * 0.4)
    rest = trimesh.Trimesh(left.points, left.faces, process=False).volume
    assert rest == pytest.approx(2.0 * 2.0 * 0.4 - volume)


def test_a_ring_that_turns_back_is_cut_ear_by_ear():
    ring = np.array([[0, 0], [4, 0], [4, 3], [1, 3], [1, 2], [3, 2], [3, 1], [0, 1]], float)
    corners = ring[monotone(ring)]
    u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = 0.5 * (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
    assert (area > 0.0).all()
    assert area.sum() == pytest.approx(4.0 + 1.0 * 1.0 + 3.0 * 1.0)


def _with(**more) -> dict:
    return {"flap": {k: v for k, v in (FLAP | more).items() if v is not None}}


@pytest.mark.parametrize(
    ("controls", "stance", "path", "allowed"),
    [
        (_with(on="wong"), {}, "controls.flap.on", "did you mean 'wing'"),
        (_with(down=None, up=None), {}, "controls.flap", "down and up"),
        (_with(down=None, up=None, outboard="9 deg", inboard="9 deg"), {}, "controls.flap",
         "allowed on wing: down and up"),
        (_with(down="100 deg"), {}, "controls.flap.down", "0 to 90 deg"),
        (_with(up="-5 deg"), {}, "controls.flap.up", "0 to 90 deg"),
        (_with(inner={"bl": "1 m", "hinge": "5 %"}), {}, "controls.flap.inner.hinge",
         "10 % to 99 %"),
        (_with(inner={"bl": "1 m", "along": "1 m", "hinge": "70 %"}), {}, "controls.flap.inner",
         "one of them"),
        (_with(inner={"bl": "1 m", "hinge": 0.7}), {}, "controls.flap.inner.hinge", "0.7 %"),
        (_with(), {"deflected": {"flap": "40 deg"}}, "stances.gear.deflected.flap",
         "-20 deg to 30"),
        (_with(), {"deflected": {"flop": "4 deg"}}, "stances.gear.deflected",
         "did you mean 'flap'"),
        (_with(), {"turned": {"flap": "4 deg"}}, "stances.gear.turned", "no such name"),
    ],
)  # fmt: skip
def test_controls_that_cannot_be_are_told_in_one_sentence(controls, stance, path, allowed):
    with pytest.raises(pf.InputError) as told:
        _design(controls, stance)
    assert [p.path for p in told.value.problems] == [path]
    assert allowed in told.value.problems[0].allowed


@pytest.mark.parametrize(
    ("controls", "allowed"),
    [
        (_with(outer={"bl": "3.2 m", "hinge": "75 %"}), "between the root and the tip"),
        (_with(outer={"bl": "0.5 m", "hinge": "75 %"}), "farther out"),
        ({"rudder": RUDDER | {"inner": {"bl": "3 m", "hinge": "60 %"}}}, "along"),
        ({"rudder": RUDDER | {"outer": {"along": "1.5 m", "hinge": "60 %"}}}, "within the surface"),
    ],
)
def test_places_that_are_not_on_the_surface_are_refused(controls, allowed):
    with pytest.raises(pf.InputError, match=allowed):
        pf.build(_design(controls))

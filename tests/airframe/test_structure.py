"""Spars, ribs, cores and bulkheads: volumes by closed forms, inside by formula, stages bare."""

from __future__ import annotations

import copy

import numpy as np
import pytest

from planform.airframe.build import build
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.presence import on_stage
from planform.airframe.stages import stage_questions
from planform.airframe.stance import stand_on
from planform.core.shape.enclosed import _edges_part, enclosed
from planform.core.shape.sections import half_thickness
from planform.design.load import design_from
from planform.design.problems import InputError
from planform.design.questions import assumptions
from tests.conftest import PLAIN

SPAR = {
    "on": "wing",
    "root": {"bl": "0 m", "chord_fraction": 0.3},
    "tip": {"chord_fraction": 0.3},
    "width": "40 mm",
    "inside": "2 mm",
}


def with_inner(stages=None, **fields):
    table = copy.deepcopy(PLAIN)
    table.update(fields)
    if stages:
        table["stages"] = stages + table["stages"]
    return table


def built(table):
    return {part.name: part for part in build(design_from(table)).parts}


def test_a_spar_inside_the_section_is_as_high_as_the_formula_less_the_skin():
    """NACA Report 460, thickness formula; upper and lower are alike in a section without camber."""
    for share in (0.15, 0.3, 0.5, 0.65):
        ends = {"root": {"bl": "0 m", "chord_fraction": share}, "tip": {"chord_fraction": share}}
        spar = built(with_inner(spars={"main spar": SPAR | ends}))["right main spar"]
        for bl, chord in ((0.0, 2.0), (4.0, 1.0)):
            end = spar.points[np.abs(spar.points[:, 1] - bl) < 1e-9]
            start = bl * np.tan(np.radians(20.0))
            for x in (share * chord - 0.02, share * chord + 0.02):
                there = end[np.abs(end[:, 0] - start - x) < 1e-6]
                true = 2.0 * chord * half_thickness(x / chord, 0.12, closed=True) - 0.004
                height = np.ptp(there[:, 2])
                assert true - 1.2e-3 * chord < height < true + 1e-9  # as built, facets inside


def test_a_box_spar_has_the_volume_of_a_prismatoid():
    sizes = {"height": "90 mm", "tip_height": "50 mm", "tip_width": "20 mm"}
    spar = {key: value for key, value in SPAR.items() if key != "inside"} | sizes
    part = built(with_inner(spars={"s": spar}))["right s"]
    area = [0.04 * 0.09, 0.03 * 0.07, 0.02 * 0.05]
    assert part.trimesh().is_watertight
    assert part.trimesh().is_winding_consistent
    exact = 4.0 * (area[0] + 4.0 * area[1] + area[2]) / 6.0
    assert part.trimesh().volume == pytest.approx(exact, rel=1e-6)


def test_a_straight_box_through_the_centre_is_a_box():
    spar = {"on": "wing", "carried_by": "pod", "side": "centre", "width": "50 mm",
            "height": "80 mm", "tip": {"bl": "0.5 m", "fs": "0.7 m"}}  # fmt: skip
    part = built(with_inner(spars={"carry-through": spar}))["carry-through"]
    assert part.trimesh().volume == pytest.approx(0.05 * 0.08 * 1.0, rel=1e-9)
    assert part.points.mean(axis=0) == pytest.approx([0.7, 0.0, 0.0], abs=1e-9)
    assert part.hosts == ("pod", "pod")


def test_a_rib_has_the_area_of_its_section():
    """Integral of the published thickness formula: 0.685 t c^2 (as its terms integrate)."""
    rib = {"on": "wing", "bl": "0 m", "thickness": "1 mm"}
    part = built(with_inner(ribs={"r": rib}))["right r"]
    area = 10.0 * 0.12 * (0.2969 / 1.5 - 0.126 / 2 - 0.3516 / 3 + 0.2843 / 4 - 0.1036 / 5) * 4.0
    assert part.trimesh().is_watertight
    assert part.trimesh().is_winding_consistent
    assert 0.97 * area < part.trimesh().volume / 1e-3 < area


def test_a_bulkhead_is_the_section_of_its_body_less_so_much():
    import shapely

    table = with_inner(bulkheads={"b": {"on": "pod", "fs": "0.5 m", "thickness": "6 mm",
                                        "inside": "10 mm"}})  # fmt: skip
    parts = built(table)
    ring = parts["b"].points[np.abs(parts["b"].points[:, 0] - 0.5) < 1e-9][:, 1:]
    whole = parts["pod"].points[parts["pod"].points[:, 0] < -1.9][:, 1:]
    hull = shapely.convex_hull(shapely.multipoints(whole))
    less = hull.buffer(-0.01, join_style="mitre")
    assert parts["b"].trimesh().volume == pytest.approx(0.006 * less.area, rel=1e-6)
    assert hull.exterior.distance(shapely.multipoints(ring)) == pytest.approx(0.01, abs=1e-9)
    assert parts["b"].within == ("pod",)


def test_blocks_inside_a_sphere_are_told_from_those_that_stick_out():
    import trimesh

    ball = trimesh.creation.icosphere(subdivisions=3, radius=1.0)
    cube = np.array(np.meshgrid([-1, 1], [-1, 1], [-1, 1])).reshape(3, 8).T
    blocks = np.array([0.5 * cube, 0.6 * cube, 0.2 * cube + [0.5, 0.5, 0.5], 0.1 * cube + 2.0])
    ways = np.broadcast_to(np.eye(3), (4, 3, 3))
    found = enclosed(blocks, ways, np.array(ball.vertices), np.array(ball.faces))
    assert found.tolist() == [True, False, False, False]


def _parted_by_lp(block, triangle):
    """Another method: a plane n x = 1 away from both, found or not by a linear program."""
    from scipy.optimize import linprog

    rows = np.vstack([np.c_[block, -np.ones(8)], -np.c_[triangle, -np.ones(3)]])
    found = linprog(np.zeros(4), A_ub=rows, b_ub=np.full(11, -1e-6), bounds=[(-1e3, 1e3)] * 4)
    return found.status == 0


def test_a_plane_along_two_edges_parts_what_a_linear_program_parts():
    dice = np.random.default_rng(4)
    cube = np.array(np.meshgrid([-1, 1], [-1, 1], [-1, 1])).reshape(3, 8).T
    seen = []
    for _ in range(200):
        block = cube * dice.uniform(0.2, 1.0, 3) + 0.1 * dice.normal(size=(8, 3))
        triangle = dice.normal(size=(3, 3)) + np.array([1.0, 0.5, 0.5])
        ours, other = _edges_part(block, triangle), _parted_by_lp(block, triangle)
        assert other or not ours
        seen.append((ours, other))
    assert seen.count((True, True)) > 30
    assert seen.count((False, False)) > 30
    assert seen.count((False, True)) < 10  # parted by a face alone


def test_a_core_between_two_profiles_is_proved_inside():
    """A skin that goes from one profile to another bends: facet planes alone do not part it."""
    table = with_inner()
    cuts = table["lifting"]["wing"]["cuts"]
    table["lifting"]["wing"]["profile"] = "NACA 2418"
    cuts[0]["incidence"] = "3 deg"
    cuts[1] |= {"profile": "NACA 4409", "incidence": "-3 deg"}
    core = {"on": "wing", "role": "core", "bl": "0.4 m", "thickness": "3 m", "inside": "8 mm"}
    table["ribs"] = {"core": core | {"from_chord": 0.3, "to_chord": 0.8}}
    part = built(table)["right core"]
    assert part.within == ("right wing",)


def test_what_lies_inside_its_skin_changes_nothing_and_what_is_too_high_counts():
    plain = build(design_from(with_inner()))
    inside = build(design_from(with_inner(spars={"main spar": SPAR})))
    stage = plain.design.stages[-1]
    before = standing_measures(stand_on(plain, stage)).items
    assert standing_measures(stand_on(inside, stage)).items == before
    assert [p.name for p in stand_on(inside, stage).parts] == [
        p.name for p in stand_on(plain, stage).parts
    ]
    assert design_measures(inside).items == design_measures(plain).items
    high = {key: value for key, value in SPAR.items() if key != "inside"} | {"height": "0.5 m"}
    out = stand_on(build(design_from(with_inner(spars={"main spar": high}))), stage)
    assert "right main spar" in [p.name for p in out.parts]


def bare_stage(**fields):
    stance = PLAIN["stages"][0]["stance"]
    return [{"name": "spars on", "stance": stance, "bare": ["wing", "pod"]} | fields]


def test_a_bare_stage_has_what_is_there():
    table = with_inner(bare_stage(), spars={"main spar": SPAR})
    airframe = build(design_from(table))
    standing = stand_on(airframe, airframe.design.stages[0])
    names = [part.name for part in standing.parts]
    assert "right wing" not in names
    assert {"right main spar", "left winglet"} <= set(names)
    top = max(p.points[:, 2].max() for p in standing.parts if "winglet" in p.name)
    assert standing_measures(standing)["tip_height"] == pytest.approx(top)
    assert not [q for q in stage_questions(airframe) if "what holds it" in q]
    told = "of the design's surfaces, also at “spars on”"
    assert any(told in one for one in assumptions(airframe.design))
    plain = design_from(with_inner())
    assert not any("surfaces" in one for one in assumptions(plain))


def test_a_spar_that_does_not_reach_the_winglet_is_asked_about():
    short = SPAR | {"tip": {"bl": "3 m", "chord_fraction": 0.3}}
    airframe = build(design_from(with_inner(bare_stage(), spars={"main spar": short})))
    told = [q for q in stage_questions(airframe) if "what holds it" in q]
    assert len(told) == 2
    assert "right winglet on the wing, whose skin is not on" in told[0]


def test_a_stage_without_the_wing_takes_its_spar_along():
    airframe = build(design_from(with_inner(spars={"main spar": SPAR})))
    stage = airframe.design.stages[0].model_copy(update={"without": ("wing",), "parts": None})
    assert not on_stage(stage, airframe.by_name["left main spar"])


def test_a_share_of_the_chord_may_be_written_in_percent():
    told = SPAR | {"root": {"bl": "0 m", "chord_fraction": "30 %"}}
    same = built(with_inner(spars={"main spar": SPAR}))
    for name, part in built(with_inner(spars={"main spar": told})).items():
        np.testing.assert_array_equal(part.points, same[name].points)


WRONG = [
    ("spars", SPAR | {"on": "hull"}, "spars.x.on"),
    ("spars", SPAR | {"inside": "0.2 m"}, "thinner there"),
    ("spars", SPAR | {"height": "1 m"}, "height and inside"),
    ("spars", SPAR | {"width": "3 m"}, "within the chord"),
    ("spars", SPAR | {"tip": {"bl": "9 m", "chord_fraction": 0.3}}, "spars.x.tip.bl"),
    ("spars", SPAR | {"tip": {"along": "9 m", "chord_fraction": 0.3}}, "spars.x.tip.along"),
    ("spars", SPAR | {"tip": {"bl": "0 m", "chord_fraction": 0.3}}, "further out than the root"),
    ("spars", SPAR | {"tip": {"bl": "1 m"}}, "neither fs nor chord_fraction"),
    ("spars", SPAR | {"tip": {"chord_fraction": "third"}}, "such as 0.35 or 35 %"),
    ("spars", SPAR | {"tip": {"chord_fraction": "130 %"}}, "such as 0.35 or 35 %"),
    ("spars", SPAR | {"tip": {"chord_fraction": -0.1}}, "such as 0.35 or 35 %"),
    ("spars", SPAR | {"carried_by": "nobody"}, "spars.x.carried_by"),
    ("spars", SPAR | {"side": "centre"}, "straight, tip to tip"),
    ("ribs", {"on": "wing", "thickness": "1 mm"}, "neither bl nor along"),
    ("ribs", {"on": "wing", "bl": "4 m", "thickness": "1 m"}, "passes the tip"),
    ("ribs", {"on": "wing", "bl": "1 m", "thickness": "1 mm", "inside": "1 m"}, "ribs.x.inside"),
    ("bulkheads", {"on": "pod", "fs": "9 m", "thickness": "1 mm"}, "bulkheads.x.fs"),
    ("bulkheads", {"on": "wing", "fs": "0 m", "thickness": "1 mm"}, "bulkheads.x.on"),
    ("bulkheads", {"on": "pod", "fs": "0 m", "thickness": "1 mm", "inside": "2 m"}, "inside"),
    ("bulkheads", {"on": "pod", "fs": "0 m", "thickness": "1 mm", "width": "1 m"}, "all of width"),
    ("bulkheads", {"on": "pod", "fs": "0 m", "thickness": "1 mm", "side": "left"}, "'centre'"),
]


@pytest.mark.parametrize(("field", "given", "words"), WRONG)
def test_what_cannot_be_is_told_in_one_sentence(field, given, words):
    with pytest.raises(InputError) as told:
        build(design_from(with_inner(**{field: {"x": given}})))
    assert len(told.value.problems) == 1
    assert words in str(told.value)


def test_a_part_under_the_floor_is_asked_about():
    """The wheels' lower ends are at WL -1 m and the bulkhead's at WL -1.2 m: 200 mm under it."""
    plate = {"on": "pod", "fs": "0 m", "thickness": "10 mm", "width": "0.4 m", "top": "0.2 m"}
    for low, words in (("-1.2 m", "frame would reach 0.200 m under the floor"), ("-0.9 m", "")):
        airframe = build(design_from(with_inner(bulkheads={"frame": plate | {"bottom": low}})))
        standing = stand_on(airframe, airframe.design.stages[-1])
        asked = [q for q in stage_questions(airframe, (standing,)) if "under the floor" in q]
        assert len(asked) == bool(words)
        assert words in "".join(asked)


def test_only_skins_can_be_bare():
    for name, words in (("nose", "that has a skin"), ("wong", "wing")):
        with pytest.raises(InputError, match=words):
            design_from(with_inner(bare_stage(bare=[name])))

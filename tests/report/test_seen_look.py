"""What a page shows, held against the library that it is read off."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path

import numpy as np
import pytest

import planform as pf
from planform.balance.stages import stage_balance
from planform.design.load import design_from
from planform.drawing.heights import tall_points
from planform.drawing.scale_figures import CAR, TALL, car, person
from planform.fit.room import spot_point
from planform.report.seen.answer import seen
from planform.report.seen.meshes import Meshes
from planform.report.seen.page import built, inline_json
from planform.report.seen.stage import stage_look
from planform.report.way_out.handover import spot_pose
from tests.conftest import DESIGNS
from tests.laws.changed import mirrored
from tests.laws.worlds import world

SOURCES = Path(__file__).parents[2] / "viewer/page"


def arrays(look, name):
    mesh = look["meshes"][name]
    points = np.frombuffer(base64.b64decode(mesh["points"]), "<f4").reshape(-1, 3)
    faces = np.frombuffer(base64.b64decode(mesh["faces"]), "<u4").reshape(-1, 3)
    return points.astype(float), faces


@pytest.fixture(scope="module")
def shown():
    design, place = pf.load(DESIGNS / "quillwort.toml"), pf.load_place(DESIGNS / "garden-shed.toml")
    standings = pf.stand_all(pf.build(design))
    found = seen(standings, pf.build_room(place), workers=1)
    return found, found.look("mm")


def test_every_part_stands_in_the_look_as_in_the_library(shown):
    found, look = shown
    for standing, stage in zip(found.standings, look["stages"], strict=True):
        whole = np.array(stage["body2floor"]).reshape(4, 4)
        assert [p["name"] for p in stage["parts"]] == [p.name for p in standing.parts]
        for part, told in zip(standing.parts, stage["parts"], strict=True):
            points, faces = arrays(look, told["mesh"])
            assert np.array_equal(faces, part.faces)
            over_floor = points @ whole[:3, :3].T + whole[:3, 3]
            np.testing.assert_allclose(over_floor, part.points, atol=2e-6)


def test_the_leaders_are_the_clearances_of_the_fit(shown):
    found, look = shown
    for so_far, stage in zip(found.answers, look["stages"], strict=True):
        near = so_far.answer.near
        assert [x["gap"] for x in stage["leaders"][:3]] == [c.gap for c in near[:3]]
        for told in stage["parts"]:
            mine = [c.gap for c in near if c.part == told["name"]]
            assert told["least"]["gap"] == min(mine, default=told["least"]["gap"])
            assert mine or told["least"]["gap"] > 3.0  # farther than the fit looks for
        assert stage["verdict"]["word"] == so_far.answer.verdict
        assert stage["left"] == []


def test_tall_points_are_the_measures(shown):
    found, look = shown
    for standing, stage in zip(found.standings, look["stages"], strict=True):
        measures = pf.standing_measures(standing)
        tall = tall_points(standing)
        assert max(one.height for one in tall) == pytest.approx(measures["height"], abs=1e-9)
        tips = [one.height for one in tall if one.what.endswith("tip")]
        if tips:
            assert max(tips) == pytest.approx(measures["tip_height"], abs=1e-9)
        assert [h["what"] for h in stage["heights"]] == [one.what for one in tall]


def test_a_way_out_begins_on_the_spot_and_is_whole(shown):
    found, look = shown
    ways = 0
    for so_far, stage in zip(found.answers, look["stages"], strict=True):
        route = None if so_far.answer.way is None else so_far.answer.way.route
        if route is None:
            continue
        ways += 1
        way = stage["way"]
        for pose, number in ((route.poses[0], 0), (route.poses[-1], -1)):
            told = (pose.x, pose.y, pose.heading)
            np.testing.assert_allclose(way["poses"][number], told, atol=1e-9)
        assert way["steps"][-1]["last"] == len(way["poses"]) - 1
        turned = np.abs(np.diff([p[2] for p in way["poses"]]))
        assert np.diff(way["lengths"]).max() <= 0.1 + 1e-9
        assert turned.max() <= 0.1 / 4.0 + 1e-9
    assert ways


def test_meshes_are_held_once_and_stand_by_content():
    design = pf.load(DESIGNS / "quillwort.toml")
    meshes, airframe = Meshes(), pf.build(design)
    first = stage_look(pf.stand(airframe), meshes, "mm")
    again = stage_look(pf.stand(pf.build(design)), meshes, "mm")
    assert [p["mesh"] for p in first["parts"]] == [p["mesh"] for p in again["parts"]]
    moved = pf.stand(pf.build(pf.changed(design, "winglets.winglet.cant", "31 deg")))
    other = stage_look(moved, meshes, "mm")
    before = {p["name"]: p["mesh"] for p in first["parts"]}
    new = {p["name"] for p in other["parts"] if before.get(p["name"]) != p["mesh"]}
    assert new
    assert all("winglet" in name for name in new)


def test_what_a_stage_changes_is_told(shown):
    found, look = shown
    assert look["stages"][0]["change"] == ""
    for before, after, stage in zip(
        found.standings, found.standings[1:], look["stages"][1:], strict=False
    ):
        told = stage["change"]
        new = {p.name for p in after.parts} - {p.name for p in before.parts}
        assert all(p.group in told or p.name in told for p in after.parts if p.name in new)
        longer = np.ptp(after.all_points(), axis=0)[0] - np.ptp(before.all_points(), axis=0)[0]
        words = f"{pf.said(abs(longer), 'length', 'mm')} {'longer' if longer > 0 else 'shorter'}"
        assert (words in told) == (abs(longer) >= 0.5e-3)
        balance = stage_balance(after)
        assert pf.said(balance.front_load, "mass", "mm") in told


def test_marks_are_plumb_under_wheels_and_tips(shown):
    found, look = shown
    pose = spot_pose(found.room)
    for standing, stage in zip(found.standings, look["stages"], strict=True):
        origin, right = pose.place(np.array([[0.0, 0.0, 0.0], [0.0, 1.0, 0.0]]))
        tips = [np.array(m["at"]) for m in stage["marks"] if m["kind"] == "tip"]
        across = [float((tip - origin[:2]) @ (right - origin)[:2]) for tip in tips]
        ends = standing.all_points()[:, 1]
        assert across == pytest.approx([ends.min(), ends.max()], abs=1e-9)


def test_without_a_place_there_is_neither_room_nor_verdict():
    found = seen(pf.stand_all(pf.build(pf.load(DESIGNS / "samphire.toml"))), None)
    look = found.look("mm")
    assert look["room"] is None
    assert all("verdict" not in stage for stage in look["stages"])
    assert all(stage["floor2place"] is None for stage in look["stages"])


def test_names_cannot_leave_the_json():
    text = inline_json({"a": "</script><script>alert(1)</script>\u2028<!--", "b": 1.23456789})
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == {"a": "</script><script>alert(1)</script>\u2028<!--", "b": 1.234568}


def test_figures_to_scale():
    assert person().points[:, 2].max() == pytest.approx(TALL)
    assert person().points[:, 2].min() == 0.0
    assert np.ptp(car().points, axis=0) == pytest.approx(CAR)


@pytest.mark.parametrize(
    "name",
    ["page.js", "page.css", "explore.js", "explore.css", "bench.js", "bench.css", "three.js"],
)
def test_the_bundle_is_built_from_its_sources(name):
    """As `viewer/page/build.mjs` marks it."""
    apart = ["src/three.js", "package-lock.json"]
    sources = sorted(
        str(p.relative_to(SOURCES))
        for p in (SOURCES / "src").rglob("*")
        if p.suffix in (".js", ".css")
    )
    paths = apart if name == "three.js" else [p for p in sources if p not in apart]
    found = hashlib.sha256()
    for path in sorted(paths):
        found.update(path.encode() + b"\0" + (SOURCES / path).read_bytes() + b"\0")
    assert built(name).startswith(f"/* built from {found.hexdigest()} */")


def test_the_spot_is_where_the_place_has_it(shown):
    found, look = shown
    spot = spot_point(found.room.place, None)
    assert look["stages"][0]["spot"]["at"] == [float(x) for x in spot.at]


def test_the_page_of_the_demo_is_small_and_comes_out_the_same(shown):
    found, _ = shown
    page = found.page("mm")
    assert len(page.encode()) < 1_500_000
    assert page == found.page("mm")
    assert not re.search(r"(src|href)=|url\(|@import|http-equiv=.refresh", head_of(page))


def head_of(page):
    """The page without its scripts, which draw nothing from elsewhere."""
    return re.sub(r"<script>.*?</script>", "", page, flags=re.S)


@pytest.mark.parametrize("seed", range(4))
def test_worlds_are_seen_as_they_are_and_mirrored(seed):
    found = world(seed)
    for one in (found, mirrored(found)):
        standings = pf.stand_all(pf.build(design_from(one.design)))
        look = seen(standings, None).look("m")
        for standing, stage in zip(standings, look["stages"], strict=True):
            whole = np.array(stage["body2floor"]).reshape(4, 4)
            for part, told in zip(standing.parts, stage["parts"], strict=True):
                points, _ = arrays(look, told["mesh"])
                over = points @ whole[:3, :3].T + whole[:3, 3]
                np.testing.assert_allclose(over, part.points, atol=4e-6)

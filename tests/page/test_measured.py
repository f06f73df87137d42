"""What the page measures itself, against the library: units, distances, areas of sections."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from planform.design.told import said
from planform.design.units import SYSTEMS, show
from tests.conftest import PLAIN
from tests.page.browser import needs_browser
from tests.page.made import opened_page, written_page

pytestmark = [pytest.mark.page, needs_browser]


@pytest.fixture(scope="module")
def found(tmp_path_factory):
    """The plain design alone: where its page is, and what it shows."""
    path = tmp_path_factory.mktemp("measured") / "plain.html"
    return path, written_page(path, PLAIN, None)


@pytest.fixture(scope="module")
def page(found, page_at):
    return opened_page(page_at, found[0]).page


def values():
    """Lengths at and around what rounding turns on, small and large, of both signs."""
    dice = np.random.default_rng(4)
    some = [0.0, 1e-9, 0.5e-4, 0.0254, 0.3048, 0.0254 / 32, 0.0254 * 3 / 32, 1.0005, 0.0015]
    some += [float(x) for x in dice.uniform(-30.0, 30.0, 250)]
    some += [k * 0.0254 / 32.0 for k in range(-40, 400, 7)]
    return some + [-x for x in some]


def test_lengths_and_stations_are_told_as_the_library_tells_them(page):
    lengths = values()
    told = page.evaluate(
        """([values, systems]) => systems.map((system) => values.map((value) => [
          shop.said.length(value, system), shop.said.gap(value, system),
          shop.said.station(value, system), shop.said.butt(value, system),
          shop.said.water(value, system), shop.said.area(value, system), shop.said.angle(value),
        ]))""",
        [lengths, list(SYSTEMS)],
    )
    for system, rows in zip(SYSTEMS, told, strict=True):
        for value, row in zip(lengths, rows, strict=True):
            kinds = ("length", "gap", "station", "butt", "water", "area", "angle")
            assert row == [said(value, kind, system) for kind in kinds], (value, system)


def corner(part):
    """The highest corner of a part that is farthest aft, in place axes [m]."""
    order = np.lexsort((-part.points[:, 0], -part.points[:, 2]))
    return part.points[order[0]]


def test_distance_between_two_tapped_corners_is_the_library_s(page, found):
    standing = found[1].standings[0]
    ends = [corner(p) for p in standing.parts if p.name in ("left winglet", "right winglet")]
    page.get_by_role("button", name="from above").click()
    page.get_by_role("button", name="measure", exact=True).click()
    box = page.locator("canvas.picture").bounding_box()
    for end in ends:
        x, y, depth = page.evaluate("(at) => shop.hall.project(at)", end.tolist())
        assert depth < 1
        page.mouse.click(box["x"] + x, box["y"] + y)
    points = page.evaluate("shop.ruler.points().map(p => [p.place, p.name])")
    assert [name.split(", ")[1] for _, name in points] == ["corner", "corner"]
    for (place, _), end in zip(points, ends, strict=True):
        assert place == pytest.approx(end.tolist(), abs=2e-6)
    told = dict(page.evaluate("shop.ruler.rows()"))
    assert told["A to B"] == show(float(np.linalg.norm(ends[1] - ends[0])), "length", "ft-in")
    assert "over the floor" in told["A"]
    assert told["angle above level"] == "0.0 deg"
    assert told["angle off the centre line, from above"] == "90.0 deg"
    shown = page.locator(".told dd").all_inner_texts()
    assert told["A to B"] in shown


def test_points_by_name_need_no_pointer_and_a_third_gives_an_angle(page, found):
    page.evaluate("shop.store.set({ ruler: { on: true, points: [] } })")
    parts = {part.name: part.points for part in found[1].standings[0].parts}
    picks = (("left winglet", "highest"), ("pod", "foremost"), ("right winglet", "highest"))
    ends = []
    for name, which in picks:
        page.get_by_role("combobox", name="part", exact=True).select_option(name)
        page.get_by_role("combobox", name="its point").select_option(which)
        page.get_by_role("button", name="take this point").click()
        points = parts[name]
        ends.append(points[np.argmax(points[:, 2])] if which == "highest" else None)
    told = dict(page.evaluate("shop.ruler.rows()"))
    at = page.evaluate("shop.ruler.points().map(p => p.place)")
    assert at[1][0] == pytest.approx(float(parts["pod"][:, 0].min()), abs=1e-5)
    one, other = np.subtract(at[0], at[1]), np.subtract(at[2], at[1])
    cosine = one @ other / np.linalg.norm(one) / np.linalg.norm(other)
    assert told["angle at B"] == f"{math.degrees(math.acos(cosine)):.1f} deg"
    page.get_by_role("button", name="clear the points").click()


def area_of(part, axis, at, own):
    """What a plane cuts of a solid, by trimesh: its outlines as polygons [m2]."""
    solid = trimesh.Trimesh(own, part.faces, process=False)
    normal = np.eye(3)[axis]
    lines = trimesh.intersections.mesh_plane(solid, normal, at * normal)
    if not len(lines):
        return 0.0
    import shapely

    flat = [segment[:, [k for k in range(3) if k != axis]] for segment in lines]
    rings = shapely.polygonize(
        list(shapely.node(shapely.MultiLineString([np.round(s, 9) for s in flat])).geoms)
    )
    return float(sum(ring.area for ring in rings.geoms))


def test_areas_of_sections_are_those_of_trimesh(page, found):
    standing = found[1].standings[0]
    page.evaluate("shop.go('corner')")
    cases = [("station", 0, 0.37), ("butt", 1, 2.3), ("butt", 1, -0.98), ("water", 2, 0.21)]
    for key, axis, at in [*cases, ("height", 2, 0.7)]:
        page.evaluate(
            "([axis, at]) => shop.store.set({ section: { axis, at, other: false } })", [key, at]
        )
        told = dict(page.evaluate("shop.section.cuts().map(c => [c.part.name, c.area])"))
        expected = {}
        for part in standing.parts:
            own = part.points
            if key != "height":
                own = (part.points - standing.shift) @ standing.turn
            area = area_of(part, axis, at, own)
            if area > 1e-6:
                expected[part.name] = area
        assert expected, key
        assert told == pytest.approx(expected, rel=1e-3), (key, at)
        rows = page.locator(".rest tbody tr").count()
        assert rows == len(expected)
        assert page.locator(".drawn svg path").count() == 2 * rows
    page.evaluate("shop.store.set({ section: { axis: 'none', at: null } })")

"""Plan and front drawings come from the same parts as the numbers."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from types import SimpleNamespace

import numpy as np
import pytest
import shapely

import planform as pf
from planform.airframe.outlines import band_outline, outline
from planform.design.load import design_from, place_from
from planform.drawing.drawing import Fill
from planform.drawing.views import (
    draw_room,
    front_view,
    label_things,
    plan_view,
    silhouette,
)
from planform.drawing.writers import svg
from planform.fit.room import build_room
from planform.fit.straight import judge_straight


@pytest.fixture
def standing(plain):
    return pf.stand_all(pf.build(design_from(plain)))[0]


def test_outline_of_the_wing_has_the_planform_area(standing):
    """Upright: the plan outline of both panels is the true planform within the nose rounding."""
    area = sum(outline(p).area for p in standing.parts if p.role == "wing")
    assert area == pytest.approx(pf.design_measures(standing.airframe)["wing.area"], rel=2e-3)


def test_band_outline_is_capped_and_grows_with_the_band(standing):
    pod = next(p for p in standing.parts if p.name == "pod")
    z = pod.points[:, 2]
    middle = 0.5 * (z.min() + z.max())
    thin = band_outline(pod, middle, middle + 1e-4)
    assert thin.area == pytest.approx(outline(pod).area, rel=1e-3)
    assert len(thin.interiors) == 0
    top = band_outline(pod, z.max() - 0.05, z.max() + 1.0)
    assert top.area < thin.area
    assert band_outline(pod, z.max() + 0.1, z.max() + 1.0).is_empty


def test_silhouette_has_no_slits(standing):
    for part, shape in silhouette(standing.parts, np.array([0.0, 1.0, 0.0])):
        for polygon in shapely.get_parts(shape):
            assert len(polygon.interiors) == 0, part.name


def test_drawings_are_sound_svg(standing, room):
    built = pf.build_room(place_from(room))
    answer = judge_straight(standing, built)
    for one in (plan_view(answer, built, "ft-in"), front_view(answer, built, "mm")):
        assert ET.fromstring(svg.text(one)).tag.endswith("svg")


def test_from_ahead_the_right_side_stands_on_the_readers_left(plain, room):
    plain["winglets"]["winglet"]["side"] = "right"
    one = pf.stand_all(pf.build(design_from(plain)))[0]
    built = pf.build_room(place_from(room))
    drawing = front_view(judge_straight(one, built), built, "mm")
    winglet = next(m for m in drawing.marks if isinstance(m, Fill) and "winglet" in m.title)
    assert drawing.px(winglet.rings[0])[:, 0].max() < 0.5 * drawing.size[0]


@pytest.mark.parametrize(("toward", "across"), [("front", 0.2), ("left", 11.0)])
def test_heights_over_a_falling_floor_are_those_of_the_file_with_what_counts(room, toward, across):
    outline = [["0.5 m", "4 m"], ["11.5 m", "4 m"], ["11.5 m", "4.2 m"], ["0.5 m", "4.2 m"]]
    room["obstacles"] = [
        {"name": "beam", "kind": "hanging", "outline": outline, "bottom": "2.3 m"},
        {"name": "chest", "kind": "standing", "outline": outline, "top": "1.2 m"},
    ]
    level, walls = _labels(room)
    assert level == {"beam, from 2300 mm", "chest, to 1200 mm", "door, 2500 mm to its head"}
    room["floor"]["fall"] = {"drop": "60 mm", "toward": toward}
    built = build_room(place_from(room))
    told, still = _labels(room)
    assert still == walls > 3  # they stand where they stood
    run = 10.0 if toward == "front" else 12.0
    sag = 0.5 * 0.06 * across / run
    beam = next(f for f in built.fixed if f.name == "beam")
    assert beam.low == pytest.approx(2.3 - sag)
    down, up = math.floor(1000 * (2.3 - sag) + 1e-6), math.ceil(1000 * (1.2 + sag) - 1e-6)
    assert f"beam, from 2300 mm (counts as {down} mm)" in told
    assert f"chest, to 1200 mm (counts as {up} mm)" in told
    door = next(words for words in told if words.startswith("door, 2500 mm"))
    assert ("counts as 24" in door) == (toward == "left")


def _labels(room):
    notes, walls = set(), []
    sheet = SimpleNamespace(
        note=lambda at, words, css: notes.add(words),
        polygon=lambda outline, css: walls.append(css == "wall"),
        line=lambda *_: None,
        shape=lambda *_: None,
    )
    built = build_room(place_from(room))
    draw_room(sheet, built, "mm")
    label_things(sheet, built, "mm")
    return {words for words in notes if not words.startswith("ceiling")}, sum(walls)

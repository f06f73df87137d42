"""Vector pictures: what hides what, what is cut where, how large the file is."""

from __future__ import annotations

import re
import time
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from planform.drawing.scene import Scene
from planform.drawing.style import PAPER
from planform.drawing.vector import scene_drawing
from planform.drawing.writers import svg
from tests.report.scenes import ball, box, camera, leader, shop

SVG = "{http://www.w3.org/2000/svg}"
SIZE = (1400, 900)
TONE = {"red": "#ff0000", "green": "#00ff00", "blue": "#0000ff"}


def to_svg(scene, shot, size=SIZE):
    return svg.text(scene_drawing(scene, shot, size))


def areas(text):
    """Painted polygons in the file's order: what colour channel leads, corners [px]."""
    out = []
    for path in ET.fromstring(text).iter(f"{SVG}path"):
        fill = path.get("fill") or ""
        if not re.fullmatch("#[0-9a-f]{6}", fill):
            continue
        channels = [int(fill[k : k + 2], 16) for k in (1, 3, 5)]
        for x, y, steps in re.findall(r"M(-?[\d.]+) ?(-?[\d.]+)l([^Mz]*)z", path.get("d")):
            moves = np.array(re.findall(r"-?[\d.]+", steps), dtype=float).reshape(-1, 2)
            corners = np.cumsum([[float(x), float(y)], *moves], axis=0)
            out.append((int(np.argmax(channels)), corners))
    return out


def on_top(text, spot):
    """Which colour, 0 red, 1 green, 2 blue, is painted last over a spot; None for none."""
    found = None
    for colour, corners in areas(text):
        side = np.roll(corners, -1, axis=0) - corners
        way = np.array(spot) - corners
        turn = side[:, 0] * way[:, 1] - side[:, 1] * way[:, 0]
        if (turn > 0.0).all() or (turn < 0.0).all():
            found = colour
    return found


@pytest.mark.parametrize("flip", [False, True])
def test_the_nearer_solid_hides_the_other_whatever_their_sizes_and_order(flip):
    """A large plate whose middle is near, and a small box behind its far edge, and in front."""
    plate = box("plate", (0, -10, -0.2), (0.1, 10, 8), TONE["red"])
    small = box("small", (-0.5, 8, -0.1), (-0.3, 9, 0.9), TONE["green"])
    for solids in ((plate, small), (small, plate)):
        shots = (-1.0, 0.02, 0.01) if not flip else (1.0, 0.02, 0.01)
        scene = Scene("s", solids, (leader((-0.4, 8.5, 0.4), (-0.4, 8.5, 0.4)),), ())
        text = to_svg(scene, camera(direction=shots), SIZE)
        dot = next(ET.fromstring(text).iter(f"{SVG}circle"))
        spot = float(dot.get("cx")) + 0.37, float(dot.get("cy")) + 0.21
        assert on_top(text, spot) == (0 if flip else 1)


def test_three_bars_that_cover_each_other_in_a_ring_are_all_drawn():
    bars = []
    for k, colour in enumerate(TONE.values()):
        bar = box(colour, (-3, 0.6, -0.1), (3, 1.0, 0.1), colour)
        tilt = np.array([[1, 0, 0.15], [0, 1, 0], [0, 0, 1]])
        a = np.radians(120.0 * k)
        turn = np.array([[np.cos(a), np.sin(a), 0], [-np.sin(a), np.cos(a), 0], [0, 0, 1]])
        bars.append(replace(bar, points=bar.points @ tilt @ turn))
    text = to_svg(Scene("s", tuple(bars), (), ()), camera("top", (0, 0, 1), (0, 1, 0)), SIZE)
    assert {colour for colour, _ in areas(text)} == {0, 1, 2}


def test_a_wing_through_a_body_is_cut_where_it_enters():
    """Along the wing's root, whatever lies a few px outside the body's skin shows the wing."""
    body = box("body", (-3, -1, -1), (3, 1, 1), TONE["red"])
    wing = box("wing", (-1, -8, -0.1), (1, 8, 0.1), TONE["green"])
    marks = (leader((-0.9, -1.06, 0.1), (0.9, -1.06, 0.1)), leader((0, -0.94, 1), (0, 0, 1)))
    text = to_svg(Scene("s", (body, wing), marks, ()), camera("corner", (-0.3, -0.5, 1.0)), SIZE)
    dots = [
        (float(c.get("cx")), float(c.get("cy"))) for c in ET.fromstring(text).iter(f"{SVG}circle")
    ]
    assert [on_top(text, (x + 0.13, y + 0.17)) for x, y in dots] == [1, 1, 0, 0]


def test_facets_turned_away_are_left_out():
    text = to_svg(Scene("s", (box("b", (0, 0, 0), (1, 2, 1)),), (), ()), camera(), SIZE)
    assert len(areas(text)) == 2
    text = to_svg(
        Scene("s", (box("b", (0, 0, 0), (1, 2, 1)),), (), ()), camera("c", (-1, -1, 1)), SIZE
    )
    assert len(areas(text)) == 6


def test_a_room_never_hides_what_stands_in_it():
    """Its light fill comes first; near walls are lines only."""
    scene = shop()
    text = to_svg(scene, scene.cameras[0], SIZE)
    paths = [p for p in ET.fromstring(text).iter(f"{SVG}path") if p.get("fill") != "none"]
    glass = [k for k, p in enumerate(paths) if p.get("fill-opacity") == "0.12"]
    solid = [k for k, p in enumerate(paths) if p.get("stroke") == p.get("fill")]
    assert glass
    assert solid
    assert max(glass) < min(solid)


def test_words_are_escaped_and_on_top():
    scene = shop()
    sharp = replace(scene.leaders[0], label='1\'-1" <wing> & "wall"')
    scene = replace(scene, title="A & B <script>", leaders=(sharp,))
    page = ET.fromstring(to_svg(scene, scene.cameras[0], SIZE))
    words = [t.text for t in page.iter(f"{SVG}text")]
    assert sharp.label in words
    assert page.find(f"{SVG}title").text == "A & B <script>, seen from corner"
    assert [child.tag for child in page][-3:] == [f"{SVG}path", f"{SVG}text", f"{SVG}text"]
    assert not list(page.iter(f"{SVG}script"))


def test_the_ground_is_the_paper_of_the_plans():
    """One colour all over, and no names that two pictures on one page could share."""
    scene = shop()
    for shot in scene.cameras:
        text = to_svg(scene, shot, SIZE)
        ground = next(ET.fromstring(text).iter(f"{SVG}rect"))
        assert ground.get("fill") == PAPER
        assert "gradient" not in text.lower()
        assert "id=" not in text


def test_many_facets_stay_below_a_megabyte():
    """12 000 triangles, about what three fine bodies have."""
    solids = tuple(ball(f"b{k}", (0, 2.2 * k, 0), (3, 1, 1), rings=41, around=50) for k in range(3))
    assert sum(len(s.faces) for s in solids) == 12_000
    start = time.process_time()
    text = to_svg(Scene("s", solids, (), ()), camera("c", (-1, -0.8, 0.6)), SIZE)
    assert len(text.encode()) < 1_000_000
    assert time.process_time() - start < 20.0
    assert len(areas(text)) > 5_000


def test_the_same_scene_gives_the_same_file():
    scene = shop()
    assert to_svg(scene, scene.cameras[0], SIZE) == to_svg(scene, scene.cameras[0], SIZE)


@pytest.mark.parametrize("solids", [(), (box("flat", (0, 0, 0), (1, 1, 0)),)])
def test_a_scene_without_volume_is_still_a_picture(solids):
    text = to_svg(Scene("bare", solids, (), ()), camera("c", (-1, -1, 1)), SIZE)
    assert "nan" not in text
    assert ET.fromstring(text).find(f"{SVG}title").text.startswith("bare")

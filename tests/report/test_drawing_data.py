"""A drawing is data: every writer puts the same marks in the same places, in the same looks."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from types import ModuleType

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.drawing import writers as room
from planform.drawing.drawing import Arc, Dimension, Drawing, Fill, Line, Text
from planform.drawing.style import LOOKS, PAPER, Look
from planform.drawing.writers import svg, writers
from planform.drawing.writers.pixels import painted
from planform.report.folder import pictured, put

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = sorted(name for name, look in LOOKS.items() if look.stroke or look.opacity < 1.0)

spots = st.tuples(st.floats(0.5, 7.5), st.floats(0.5, 5.5)).map(np.array)
angles = st.floats(0.0, 6.2)


def rgb(colour):
    return np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)])


def sheet(*marks):
    return Drawing("a <drawing>", np.zeros(2), np.array([8.0, 6.0]), 40.0, marks)


def runs_of(path):
    """The corners [px] of each run of a path of straight lines."""
    out = []
    for x, y, steps in re.findall(r"M(-?[\d.]+) ?(-?[\d.]+)l([^Mz]*)", path):
        moves = np.array(re.findall(r"-?[\d.]+", steps), dtype=float).reshape(-1, 2)
        out.append(np.cumsum([[float(x), float(y)], *moves], axis=0))
    return out


@settings(max_examples=30)
@given(st.lists(st.lists(spots, min_size=3, max_size=6).map(np.array), min_size=1, max_size=4))
def test_corners_in_the_file_are_those_of_the_drawing(tracks):
    marks = [Line(t, "thin") if k % 2 else Fill((t,), "wall") for k, t in enumerate(tracks)]
    drawing = sheet(*marks)
    paths = ET.fromstring(svg.text(drawing)).iter(f"{SVG}path")
    found = [run for path in paths for run in runs_of(path.get("d"))]
    longer = [t for t in tracks if np.ptp(np.rint(drawing.px(t) * 10), axis=0).any()]
    assert len(found) == len(longer)
    for run, track in zip(found, longer, strict=True):
        assert np.abs(run - drawing.px(track)).max() <= 0.05 + 1e-6


@settings(max_examples=20)
@given(centre=spots, radius=st.floats(0.3, 2.0), start=angles, sweep=st.floats(0.3, 6.0))
def test_an_arc_lies_where_its_ends_and_middle_are(centre, radius, start, sweep):
    """In the file by the flags of its path, in pixels by ink at its middle and none opposite."""
    drawing = sheet(Arc(centre, radius, Look(stroke="#000000", weight=3.0), start, sweep))
    path = next(ET.fromstring(svg.text(drawing)).iter(f"{SVG}path")).get("d")
    form = r"M(\S+) (\S+)A(\S+) \S+ 0 (\d) (\d) (\S+) (\S+)"
    x0, y0, r, large, flip, x1, y1 = map(float, re.fullmatch(form, path).groups())
    assert np.allclose([[x0, y0], [x1, y1]], drawing.px(drawing.marks[0].ends()), atol=0.06)
    assert (r, large, flip) == (pytest.approx(40.0 * radius, abs=0.01), sweep > np.pi, 0.0)
    image = np.asarray(painted(drawing).convert("L"))
    for angle, ink in ((start + 0.5 * sweep, True), (start + 0.5 * sweep + np.pi, False)):
        at = drawing.px(centre + radius * np.array([np.cos(angle), np.sin(angle)]))
        x, y = np.floor(at).astype(int)
        if 0 <= x < 320 and 0 <= y < 240 and (ink or sweep < 5.8):
            assert (image[y, x] < 140) == ink


@settings(max_examples=15)
@given(kind=st.sampled_from(SHAPES))
def test_pixels_and_file_show_one_look(kind):
    """The colour in the middle of an area, and on its edge, are those the table tells."""
    look = LOOKS[kind]
    ring = np.array([[1.0, 1.0], [6.0, 1.0], [6.0, 5.0], [1.0, 5.0]])
    drawing = sheet(Fill((ring,), kind))
    rule = re.search(rf"\.drawn \.{kind}{{(.*?)}}", svg.text(drawing))[1]
    told = dict(one.split(":") for one in rule.split(";"))
    assert told["fill"] == (look.fill or "none")
    assert told.get("stroke") == look.stroke
    assert float(told.get("stroke-width", look.weight)) == look.weight
    paper, ink = rgb(PAPER), rgb(look.fill or PAPER)
    middle = np.array(painted(drawing).getpixel((140, 120)))
    assert np.abs(middle - (paper + look.opacity * (ink - paper))).max() <= 2


def test_a_ring_that_runs_the_other_way_is_a_hole_and_one_that_runs_along_is_not():
    outer = np.array([[1.0, 1.0], [6.0, 1.0], [6.0, 5.0], [1.0, 5.0]])
    inner = np.array([[3.0, 2.0], [4.0, 2.0], [4.0, 4.0], [3.0, 4.0]])
    for ring, hole in ((inner, False), (inner[::-1], True)):
        image = painted(sheet(Fill((outer, ring), Look(fill="#204060"))))
        assert (image.getpixel((140, 120)) != (0x20, 0x40, 0x60)) == hole


def test_only_the_looks_that_are_used_are_written_and_only_for_drawings():
    marks = Dimension(np.ones(2), np.full(2, 2.0), "1 m"), Text(np.ones(2), "<b>", "small")
    text = svg.text(sheet(*marks))
    rules = re.search("<style>(.*?)</style>", text)[1]
    assert re.findall(r"\.drawn \.?(\w+)\{", rules) == ["text", "small", "leader", "end"]
    assert text.count("<circle") == 2
    assert "&lt;b&gt;" in text
    assert "a &lt;drawing&gt;" in text


def test_a_new_kind_of_file_is_one_new_module(tmp_path, monkeypatch):
    """A module in the room of writers is all it takes: found, and every folder gets such files."""
    module = ModuleType(f"{room.__name__}.corners")
    module.ENDING = "txt"
    module.written = lambda drawing: repr([len(m.points) for m in drawing.marks]).encode()
    (tmp_path / "corners.py").write_text("", encoding="utf-8")
    monkeypatch.setattr(room, "__path__", [*room.__path__, str(tmp_path)])
    monkeypatch.setitem(__import__("sys").modules, module.__name__, module)
    writers.cache_clear()
    try:
        put(tmp_path, pictured({"one": sheet(Line(np.zeros((3, 2)), "thin"))}))
        assert {p.name for p in tmp_path.glob("one.*")} == {"one.svg", "one.png", "one.txt"}
        assert (tmp_path / "one.txt").read_bytes() == b"[3]"
    finally:
        writers.cache_clear()

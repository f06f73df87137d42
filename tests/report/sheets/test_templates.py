"""Templates: joined from their pages, measured, and against closed forms."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from planform.airframe.build import build
from planform.core.shape.sections import naca4
from planform.design.load import design_from, load
from planform.drawing.paper.marks import Lettering, PenStroke, corners_of
from planform.drawing.paper.moved import lines_of, path
from planform.drawing.paper.sizes import PAPERS
from planform.drawing.paper.tiling import MARGIN, cell_name, tiled
from planform.report.sheets.templates.asked import (
    TemplateAsked,
    patterns,
    template_pages,
    template_sheet,
)
from planform.report.sheets.templates.pages import Heading, pattern_pages
from planform.report.sheets.templates.usual import usual_pages
from tests.conftest import DESIGNS, PLAIN

HEADING = Heading("Plain", "2026-01-01")
ASKED = (
    TemplateAsked("wing", at="BL 150 in", skin="1/4 in"),
    TemplateAsked("winglet", at="40 %"),
    TemplateAsked("outer panel", "incidence", at="BL 100 in"),
    TemplateAsked("winglet", "joint"),
    TemplateAsked("hull", at="FS 60 in", height="6 in"),
)


@pytest.fixture(scope="module")
def marram():
    return build(load(DESIGNS / "marram.toml"))


@pytest.fixture(scope="module")
def plain():
    return build(design_from(PLAIN))


def outlines(pattern):
    return [path(m) for m in lines_of(pattern.marks) if m.pen == "outline"]


def crosses(page):
    """Where each numbered register mark stands on a page [mm]."""
    return {
        int(m.text): m.point - 1.0
        for m in page.marks()
        if isinstance(m, Lettering) and m.text.isdecimal() and m.capital == 1.8
    }


def shared(left, a, b):
    return left[a].keys() & left[b].keys()


def joined(pages):
    """The outlines of all pages laid together at their crosses, by the crosses alone."""
    left = {k: crosses(page) for k, page in enumerate(pages)}
    shift = {0: np.zeros(2)}
    while len(shift) < len(pages):
        a, b = next((a, b) for a in shift for b in left if b not in shift and shared(left, a, b))
        both = shared(left, a, b)
        shift[b] = shift[a] + np.mean([left[a][n] - left[b][n] for n in both], axis=0)
    strokes = [
        shapely.LineString(path(m) + shift[k])
        for k, page in enumerate(pages)
        for m in page.marks()
        if isinstance(m, PenStroke) and m.pen == "outline"
    ]
    return shapely.union_all(strokes)


@pytest.mark.parametrize("asked", ASKED, ids=lambda one: f"{one.part} {one.of}")
def test_pages_laid_together_give_the_outline(marram, asked):
    paper = "A4" if asked.at is None else "letter"
    (pattern,) = patterns(marram, asked, "ft-in")
    pages = pattern_pages(pattern, PAPERS[paper], HEADING)[1:]
    tiling = tiled(pattern.marks, PAPERS[paper])
    lying = [path(m) for m in lines_of(tiling.marks) if m.pen == "outline"]
    whole = shapely.union_all([shapely.LineString(p) for p in lying])
    found = joined(pages)
    first = np.array(tiling.printed(tiling.cells[0])[:2])
    at = first - np.array([MARGIN, MARGIN + 26.0])
    found = shapely.transform(found, lambda points: points + at)
    assert found.difference(whole.buffer(0.05)).length < 0.01
    assert whole.difference(found.buffer(0.05)).length < 0.01


@pytest.mark.parametrize("asked", ASKED, ids=lambda one: f"{one.part} {one.of}")
def test_nothing_is_printed_in_the_margins_and_every_page_has_its_ruler(marram, asked):
    for page in template_pages(marram, asked, PAPERS["letter"], HEADING, "ft-in"):
        wide, high = page.paper.width, page.paper.height
        texts = []
        for mark in page.marks():
            points = path(mark) if isinstance(mark, PenStroke) else None
            if isinstance(mark, Lettering):
                points = corners_of(mark)
                texts.append(mark.text)
            if points is not None:
                assert points.min() >= MARGIN - 0.01
                assert (points.max(axis=0) <= np.array([wide, high]) - MARGIN + 0.01).all()
        assert {"100 mm", "4 in"} <= set(texts)
        spans = [np.ptp(m.points, axis=0).max() for m in page.drawn if isinstance(m, PenStroke)]
        assert min(abs(one - 100.0) for one in spans) < 1e-9


def test_a_turned_pattern_takes_no_more_pages_than_one_that_lies(marram):
    for asked in ASKED[:3]:
        (pattern,) = patterns(marram, asked, "ft-in")
        turned = tiled(pattern.marks, PAPERS["A4"])
        straight = tiled(pattern.marks, PAPERS["A4"], turn=False)
        assert len(turned.cells) <= len(straight.cells) <= straight.columns * straight.rows
    slanting = (PenStroke(np.array([(0.0, 0.0), (300.0, 300.0)]), "outline"),)
    assert len(tiled(slanting, PAPERS["A4"]).cells) == 2
    assert len(tiled(slanting, PAPERS["A4"], turn=False).cells) > 2


def test_the_names_of_pages_count_on_past_z():
    assert [cell_name(c) for c in ((0, 0), (2, 1), (0, 25), (1, 26))] == ["A1", "B3", "Z1", "AA2"]


def test_a_section_is_the_published_one(plain):
    """NACA Report 460: area 0.6851 t c^2 by its polynomial; half way out the chord is 1.5 m."""
    (pattern,) = patterns(plain, TemplateAsked("wing", at="50 %"), "m")
    (ring,) = outlines(pattern)
    shape = shapely.Polygon(ring)
    terms = zip((0.2969, -0.1260, -0.3516, 0.2843, -0.1036), (0.5, 1, 2, 3, 4), strict=True)
    area = 2.0 * 5.0 * 0.12 * sum(a / (p + 1.0) for a, p in terms) * 1500.0**2
    assert shape.area == pytest.approx(area, rel=2e-5)
    upper, lower = naca4(0.0, 0.0, 0.12, n=20001)
    around = sum(np.linalg.norm(np.diff(s, axis=0), axis=1).sum() for s in (upper, lower)) * 1500.0
    assert shape.length == pytest.approx(around, rel=1e-5)


def test_the_built_facets_corners_lie_on_the_section(marram):
    from planform.airframe.sections import section_at
    from planform.airframe.true_curves import fine_section

    for half in marram.halves:
        for share in (0.0, 0.37, 1.0):
            along = share * half.developed[-1]
            fine, built = fine_section(half, along), section_at(half, along)
            for a, b in ((fine.upper, built.upper), (fine.lower, built.lower)):
                assert np.abs(a[:: (len(a) - 1) // (len(b) - 1)] - b).max() < 1e-9


def test_a_skin_is_taken_off_square_to_the_outline(plain):
    (pattern,) = patterns(plain, TemplateAsked("wing", at="25 %", skin="6 mm"), "m")
    (outer,) = outlines(pattern)
    inner = max((path(m) for m in lines_of(pattern.marks) if m.pen == "edge"), key=len)
    outer_line = shapely.LineString(outer)
    off = shapely.distance(shapely.points(inner), outer_line)
    assert np.abs(off - 6.0).max() < 0.01


def tilted(degrees):
    """A wing without sweep or taper, its nose up."""
    own = {
        **PLAIN,
        "lifting": {
            "wing": {
                "role": "wing",
                "profile": "NACA 0012",
                "cuts": [
                    {
                        "fs": "0 m",
                        "bl": "0 m",
                        "wl": "0 m",
                        "chord": "1 m",
                        "incidence": f"{degrees} deg",
                    },
                    {"fs": "0 m", "bl": "4 m", "chord": "1 m", "incidence": f"{degrees} deg"},
                ],
            }
        },
    }
    return build(design_from(own))


@pytest.mark.parametrize("degrees", [0.0, 3.0, -2.0])
def test_an_incidence_board_is_trigonometry(degrees):
    """Feet at 20 and 60 % of NACA 0012's chord, turned by the incidence."""
    asked = TemplateAsked("wing", "incidence", at="BL 2 m", contact="20 %, 60 %")
    (pattern,) = patterns(tilted(degrees), asked, "mm")
    (ring,) = outlines(pattern)
    x = np.array([0.2, 0.6])
    terms = zip((0.2969, -0.1260, -0.3516, 0.2843, -0.1036), (0.5, 1, 2, 3, 4), strict=True)
    y = 5.0 * 0.12 * sum(a * x**p for a, p in terms)
    turn = np.radians(degrees)
    along = 1000.0 * (x * np.cos(turn) + y * np.sin(turn))
    up = 1000.0 * (y * np.cos(turn) - x * np.sin(turn))
    assert ring[[1, 4], 0] == pytest.approx(along, abs=0.02)
    assert ring[[1, 4], 1] == pytest.approx(up, abs=0.02)
    assert ring[6, 1] == ring[7, 1]
    wedge = next(row.value for row in pattern.facts if row.what.startswith("wedge"))
    rise = np.degrees(np.arctan2(up[0] - up[1], along[1] - along[0]))
    assert float(wedge.split()[0]) == pytest.approx(rise, abs=0.051)


def test_the_joint_of_an_upright_winglet_is_square(plain):
    (pattern,) = patterns(plain, TemplateAsked("winglet", "joint"), "mm")
    facts = {row.what: row.value for row in pattern.facts}
    assert facts["middle planes, inside"].startswith("90.0")
    inside, outside = outlines(pattern)
    assert not shapely.Polygon(inside).intersects(shapely.Polygon(outside))


def test_a_cradle_is_the_bodys_own_ellipse():
    """A round body of 1 m: the cut-out half way up is a half circle of 0.5 m and the padding."""
    own = {
        **PLAIN,
        "bodies": {
            "hull": {
                "role": "fuselage",
                "cuts": [
                    {
                        "fs": "0 m",
                        "half_width": "0.5 m",
                        "bottom": "0 m",
                        "top": "1 m",
                        "boxiness": 2.0,
                    },
                    {
                        "fs": "3 m",
                        "half_width": "0.5 m",
                        "bottom": "0 m",
                        "top": "1 m",
                        "boxiness": 2.0,
                    },
                ],
            }
        },
    }
    asked = TemplateAsked("hull", at="FS 1.2 m", height="400 mm", padding="20 mm")
    (pattern,) = patterns(build(design_from(own)), asked, "mm")
    (ring,) = outlines(pattern)
    curve = ring[np.hypot(ring[:, 0], ring[:, 1] - 500.0) < 521.0]
    assert np.hypot(curve[:, 0], curve[:, 1] - 500.0) == pytest.approx(520.0, abs=0.02)
    rim = 2.0 * np.sqrt(520.0**2 - 100.0**2)
    assert np.ptp(curve[:, 0]) == pytest.approx(rim, abs=0.05)


def test_sides_that_differ_have_templates_of_their_own():
    cuts = PLAIN["lifting"]["wing"]["cuts"]
    both = {"left": "1.0 m", "right": "1.1 m"}
    own = {
        **PLAIN,
        "lifting": {
            "wing": {**PLAIN["lifting"]["wing"], "cuts": [cuts[0], {**cuts[1], "chord": both}]}
        },
    }
    airframe = build(design_from(own))
    right, left = patterns(airframe, TemplateAsked("wing", at="100 %"), "m")
    widths = [np.ptp(outlines(one)[0][:, 0]) for one in (right, left)]
    assert widths == pytest.approx([1100.0, 1000.0], abs=0.01)
    with pytest.raises(ValueError, match="its sides differ"):
        template_sheet(airframe, TemplateAsked("wing", at="100 %"), HEADING, "m")


@pytest.mark.parametrize(("system", "step"), [("mm", 100), ("ft-in", 4)])
def test_stations_are_named_all_along_the_chord(marram, system, step):
    (pattern,) = patterns(marram, TemplateAsked("wing", at="BL 150 in"), system)
    named = [float(m.text.split()[1]) for m in pattern.marks if getattr(m, "text", "")[:3] == "FS "]
    assert named == list(np.arange(named[0], named[-1] + 1, step))
    chord = np.ptp(outlines(pattern)[0][:, 0]) / (1.0 if system == "mm" else 25.4)
    assert chord * 0.9 - 2 * step < named[-1] - named[0] < chord


def test_a_rib_is_the_section_less_what_it_stays_inside():
    own = {
        **PLAIN,
        "ribs": {
            "root rib": {
                "on": "wing",
                "along": "1 m",
                "thickness": "10 mm",
                "inside": "3 mm",
                "to_chord": 0.6,
            }
        },
    }
    airframe = build(design_from(own))
    (pattern,) = patterns(airframe, TemplateAsked("root rib"), "mm")
    (ring,) = outlines(pattern)
    (section,) = outlines(patterns(airframe, TemplateAsked("wing", at="1 m"), "mm")[0])
    chord = np.ptp(section[:, 0])
    assert ring[:, 0].max() == pytest.approx(0.6 * chord, abs=0.01)
    off = shapely.distance(shapely.points(ring), shapely.LineString(section))
    assert off[ring[:, 0] < 0.6 * chord - 0.01] == pytest.approx(3.0, abs=0.02)
    assert off.min() > 2.98


def test_a_set_holds_joints_and_incidence_boards_and_tells_what_it_leaves_out(marram):
    pages, left_out = usual_pages(marram, PAPERS["letter"], HEADING, "ft-in")
    maps = [page.title for page in pages if page.title.endswith("map of its pages")]
    assert [one.split(":")[0] for one in maps] == ["right winglet", "wing", "foreplane"]
    assert left_out == ()
    swept = {**PLAIN["winglets"]["winglet"], "root_setback": "3 m"}
    apart = build(design_from({**PLAIN, "winglets": {"winglet": swept}}))
    _, (told,) = usual_pages(apart, PAPERS["letter"], HEADING, "m")
    assert told.startswith("no template of the winglet, joint: --of: given 'joint'; the right")


@pytest.mark.parametrize("degrees", [30, 90, 120, 180, -60, -90, -150])
def test_turned_words_read_from_the_bottom_or_the_right_where_they_stood(degrees):
    from planform.drawing.paper.moved import turned as turned_mark

    words = Lettering(np.array([7.0, 3.0]), "B3 of the wing", 2.5, "start")
    angle = np.radians(degrees)
    found = turned_mark(words, angle)
    assert -0.5 * np.pi < found.turn <= 0.5 * np.pi + 1e-6
    c, s = np.cos(angle), np.sin(angle)
    middle = corners_of(words).mean(axis=0) @ np.array([[c, s], [-s, c]])
    assert np.linalg.norm(corners_of(found).mean(axis=0) - middle) < 0.6

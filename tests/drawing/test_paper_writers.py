"""Pages as files: read back by other hands, measured, and alike in all kinds."""

import io
import itertools
import re
from collections import Counter
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from planform.drawing.paper.dimension import Angular, Linear, Radius
from planform.drawing.paper.letters import shown
from planform.drawing.paper.marks import Area, Circle, Lettering, line, rectangle
from planform.drawing.paper.page import Page, PlacedView
from planform.drawing.paper.pens import PENS
from planform.drawing.paper.sizes import PAPERS, DrawingScale
from planform.drawing.writers.paper_png import png_page
from planform.drawing.writers.papers import ENDINGS, OF_ONE, written_as
from tests.drawing.reading import outside
from tests.drawing.sample_pages import SCALE, sample_page

SVG = "{http://www.w3.org/2000/svg}"
POINT = 25.4 / 72.0
LONG = 100.0


@pytest.fixture(scope="module")
def page():
    return sample_page()


@pytest.fixture(scope="module")
def files(page):
    return {one: written_as([page], one, page.title) for one in ENDINGS if one != "png"}


def ruler(paper="A4"):
    """A page that holds one level line of 100 mm, alone."""
    return Page("ruler", PAPERS[paper], (), (line([(50.0, 80.0), (50.0 + LONG, 80.0)], "cut"),))


def pdf_of(content):
    return pypdf.PdfReader(io.BytesIO(content))


def dxf_of(content):
    return ezdxf.read(io.StringIO(content.decode("utf-8")))


def painted(content):
    """How often a PDF page paints a path."""
    (leaf,) = pdf_of(content).pages
    names = Counter(name for _, name in leaf.get_contents().operations)
    return sum(names[one] for one in (b"S", b"s", b"f*", b"B*", b"b*"))


def words_of(page):
    return [shown(m.text) for m in page.marks() if isinstance(m, Lettering) and m.text.strip()]


def test_a_sample_page_stays_on_its_paper(page):
    assert outside(page) == []


def test_the_same_page_gives_the_same_bytes(page, files):
    for ending, content in files.items():
        assert written_as([page], ending, page.title) == content
    assert png_page(page, 30.0) == png_page(page, 30.0)
    assert written_as([ruler()], "png", "") == png_page(ruler())


def test_a_pdf_holds_its_words_its_bookmarks_and_embedded_fonts_alone(page, files):
    read = pdf_of(files["pdf"])
    (leaf,) = read.pages
    assert [one.title for one in read.outline] == [page.title]
    assert read.metadata.title == page.title
    told = Counter(re.sub(r"\s", "", leaf.extract_text()))
    assert told == Counter(re.sub(r"\s", "", "".join(words_of(page))))
    for font in leaf["/Resources"]["/Font"].values():
        font = font.get_object()
        assert "DejaVuSans" in font["/BaseFont"]
        assert "/FontFile2" in font["/FontDescriptor"].get_object()


def test_a_pdf_has_a_bookmark_and_a_size_for_each_page(page):
    read = pdf_of(written_as([page, ruler(), ruler("A0")], "pdf", "three"))
    assert [one.title for one in read.outline] == [page.title, "ruler", "ruler"]
    assert [float(one.mediabox.width) * POINT for one in read.pages] == pytest.approx(
        [841.0, 297.0, 1189.0], abs=1e-3
    )


def test_a_hundred_millimetres_are_that_in_every_file():
    pdf = pdf_of(written_as([ruler()], "pdf", "")).pages[0].get_contents().operations
    grow = 1.0
    for values, name in pdf:
        if name == b"cm":
            grow *= float(values[0])
    (start,) = [v for v, name in pdf if name == b"m"]
    (end,) = [v for v, name in pdf if name == b"l"]
    assert (float(end[0]) - float(start[0])) * grow * POINT == pytest.approx(LONG, abs=1e-3)

    svg = ElementTree.fromstring(written_as([ruler()], "svg", ""))
    assert (svg.get("width"), svg.get("viewBox")) == ("297mm", "0 0 297 210")
    (path,) = svg.iter(f"{SVG}path")
    ends = [float(x) for x, _ in re.findall(r"([\d.]+),([\d.]+)", path.get("d"))]
    assert ends[1] - ends[0] == pytest.approx(LONG, abs=1e-9)

    (entity,) = dxf_of(written_as([ruler()], "dxf", "")).layout("Layout1").query("LWPOLYLINE")
    assert np.ptp([x for x, *_ in entity.get_points()]) == pytest.approx(LONG, abs=1e-9)

    for dpi in (100.0, 150.0):
        picture = Image.open(io.BytesIO(png_page(ruler(), dpi)))
        dark = np.nonzero(np.asarray(picture).min(axis=0) < 128)[0]
        assert abs(np.ptp(dark) * 25.4 / dpi - LONG) <= 2 * 25.4 / dpi
        assert picture.info["dpi"][0] == pytest.approx(dpi, abs=0.02)


def strokes_of_dxf(document):
    """Strokes, circles and areas that are no part of a dimension, in both spaces."""
    kinds = "LWPOLYLINE CIRCLE ARC HATCH"
    return Counter(
        one.dxftype()
        for space in (document.modelspace(), document.layout("Layout1"))
        for one in space.query(kinds)
    )


def test_all_files_hold_the_same_marks(page, files):
    marks = list(page.marks())
    drawn = [one for one in marks if not isinstance(one, Lettering)]
    assert painted(files["pdf"]) == len(drawn)
    svg = ElementTree.fromstring(files["svg"])
    assert sum(one.tag in (f"{SVG}path", f"{SVG}circle") for one in svg.iter()) == len(drawn)
    assert [one.text for one in svg.iter(f"{SVG}text")] == words_of(page)

    document = dxf_of(files["dxf"])
    own = [
        mark for group in (*[v.drawn for v in page.views], page.drawn) for one in group
        for mark in ([one] if not isinstance(one, Linear | Angular | Radius)
                     and not hasattr(one, "drawn") else
                     [] if isinstance(one, Linear | Angular | Radius) else one.drawn())
    ]  # fmt: skip
    outlines = sum(len(m.rings) for m in own if isinstance(m, Area) and m.pen)
    lines = sum(not isinstance(m, Area | Circle | Lettering) for m in own)
    found = strokes_of_dxf(document)
    assert found["HATCH"] == sum(isinstance(m, Area) for m in own)
    assert found["CIRCLE"] + found["ARC"] == sum(isinstance(m, Circle) for m in own)
    assert found["LWPOLYLINE"] == lines + outlines


def test_a_dxf_is_clean_and_its_dimensions_measure_what_they_say(page, files):
    document = dxf_of(files["dxf"])
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)
    asked = [one for view in page.views for one in view.drawn
             if isinstance(one, Linear | Angular | Radius)]  # fmt: skip
    found = document.modelspace().query("DIMENSION")
    assert len(found) == len(asked) == 72
    for entity, one in zip(found, asked, strict=True):
        right = np.degrees(one.value) if isinstance(one, Angular) else 1000.0 * one.value
        assert entity.get_measurement() == pytest.approx(right, abs=1e-9)
        assert one.words in entity.dxf.text
        assert entity.get_dim_style().dxf.dimlfac == 1.0
        block = entity.get_geometry_block()
        told = [m for m in one.drawn() if isinstance(m, Lettering)]
        assert [t.dxf.text for t in block.query("TEXT")] == [m.text for m in told]
        assert len(block) == len(list(one.drawn()))


def test_a_dxf_shows_each_view_at_its_scale_and_keeps_them_apart(page, files):
    document = dxf_of(files["dxf"])
    sheet = document.layout("Layout1")
    windows = sheet.query("VIEWPORT")[1:]
    assert [one.get_scale() for one in windows] == pytest.approx([1.0 / 20.0, 1.0 / 50.0])
    for window, view in zip(windows, page.views, strict=True):
        middle = np.array(window.dxf.view_center_point)[:2]
        true = 1000.0 * view.true(np.array(window.dxf.center)[:2])
        assert middle[1] == pytest.approx(true[1], abs=1e-6)
    halves = [0.5 * w.dxf.view_height * w.dxf.width / w.dxf.height for w in windows]
    middles = [w.dxf.view_center_point[0] for w in windows]
    assert middles[0] + halves[0] < middles[1] - halves[1]
    assert (sheet.dxf.paper_width, sheet.dxf.paper_height) == (841.0, 594.0)


def test_views_of_any_scale_lie_apart_in_model_space():
    """A small scale after a large one, and a view far wider than high."""
    views = tuple(
        PlacedView(str(k), DrawingScale(float(ratio), f"1:{ratio}"), np.array([20.0 + k, 40.0]),
                   (20.0, 20.0, 800.0, 60.0), (rectangle((20.0, 20.0, 800.0, 60.0), "edge"),))
        for k, ratio in enumerate((100, 50, 1, 200))
    )  # fmt: skip
    model = dxf_of(written_as([Page("p", PAPERS["A1"], views)], "dxf", "")).modelspace()
    runs = sorted(
        (min(x), max(x))
        for x in ([p[0] for p in one.get_points()] for one in model.query("LWPOLYLINE"))
    )
    assert len(runs) == 4
    assert all(a[1] < b[0] for a, b in itertools.pairwise(runs))


@pytest.mark.parametrize("name", sorted(PENS))
def test_a_dxf_draws_each_pen_by_its_width_and_dashes(name):
    drawn = (line([(20.0, 20.0), (120.0, 20.0)], name), Circle(np.array([50.0, 50.0]), 9.0, name))
    view = PlacedView("v", SCALE, np.zeros(2), (0.0, 0.0, 200.0, 90.0), drawn)
    document = dxf_of(written_as([Page("p", PAPERS["A4"], (view,))], "dxf", ""))
    assert document.header["$PSLTSCALE"] == 0
    for entity in document.modelspace():
        assert abs(entity.dxf.lineweight - 100.0 * PENS[name].width) <= 5
        if PENS[name].dash:
            kind = document.linetypes.get(entity.dxf.linetype)
            long = [abs(tag.value) for tag in kind.pattern_tags.tags if tag.code == 49]
            assert long == pytest.approx(PENS[name].dash)
            assert entity.dxf.ltscale == SCALE.ratio
        else:
            layer = document.layers.get(entity.dxf.layer)
            shows = entity.dxf.get("linetype", "BYLAYER")
            assert (layer.dxf.linetype if shows == "BYLAYER" else shows) == "Continuous"


HOSTILE = (
    "<b>&\"'</b>]]>", "a" * 200, "שלום 12 אב", "\u202etxt.exe", "bell\x07", "nul\x00", "two\nlines",
    "half \ud800", "\ufffe", "%%c %%d <> \\P {x} \\X",
)  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_breaks_a_file(text):
    words = Lettering(np.array([50.0, 50.0]), text, 2.5)
    named = Page(text, PAPERS["A4"], (), (words,))
    assert len(pdf_of(written_as([named], "pdf", text)).pages) == 1
    svg = ElementTree.fromstring(written_as([named], "svg", text))
    (told,) = svg.iter(f"{SVG}text")
    assert told.text == shown(text)
    assert dxf_of(written_as([named], "dxf", text)).audit().errors == []
    assert Image.open(io.BytesIO(png_page(named, 50.0))).size == (585, 413)


def test_letters_that_run_leftward_are_turned_once_alone():
    """The order is that of the eye already; an SVG reader must not turn it again."""
    words = Lettering(np.array([50.0, 50.0]), "אבג", 2.5)
    (told,) = ElementTree.fromstring(
        written_as([Page("p", PAPERS["A4"], (), (words,))], "svg", "")
    ).iter(f"{SVG}text")
    assert told.text == "גבא"
    assert told.get("unicode-bidi") == "bidi-override"


def test_files_of_one_page_refuse_two():
    for ending in OF_ONE:
        with pytest.raises(ValueError, match="unpack"):
            written_as([ruler(), ruler()], ending, "")


POINTS = st.tuples(st.floats(0.0, 297.0), st.floats(0.0, 210.0))
RUNS = st.lists(POINTS, min_size=2, max_size=6).map(lambda p: np.array(p, float))
MARKS = st.one_of(
    st.builds(line, RUNS, st.sampled_from(sorted(PENS)), st.booleans()),
    st.builds(lambda p, r, s, w: Circle(np.array(p), r, "edge", s, w), POINTS,
              st.floats(0.1, 50.0), st.floats(-7.0, 7.0), st.floats(0.01, 6.2)),
    st.builds(lambda p: Area((p,), "thing", "edge"), st.lists(POINTS, min_size=3, max_size=5)
              .map(lambda p: np.array(p, float))),
    st.builds(lambda p, t, c: Lettering(np.array(p), t, c), POINTS, st.text(max_size=20),
              st.floats(0.5, 10.0)),
)  # fmt: skip


@settings(max_examples=12, deadline=None)
@given(st.lists(MARKS, max_size=5))
def test_any_page_is_written_alike_in_all_kinds(marks):
    made = Page("any", PAPERS["A4"], (), tuple(marks))
    count = sum(not isinstance(one, Lettering) for one in marks)
    assert painted(written_as([made], "pdf", "any")) == count
    svg = ElementTree.fromstring(written_as([made], "svg", "any"))
    assert sum(one.tag in (f"{SVG}path", f"{SVG}circle") for one in svg.iter()) == count
    assert [one.text for one in svg.iter(f"{SVG}text")] == words_of(made)
    outlined = sum(isinstance(one, Area) for one in marks)
    document = dxf_of(written_as([made], "dxf", "any"))
    assert sum(strokes_of_dxf(document).values()) == count + outlined
    png_page(made, 30.0)

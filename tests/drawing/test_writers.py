"""Files of pages: sizes true to a tenth of a pixel or better, the same words, the same bytes."""

import io
import re
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from planform.drawing.paper.dimension import Angular, Linear, Note, Radius
from planform.drawing.paper.marks import Area, Circle, Lettering, line
from planform.drawing.paper.page import Page, PlacedView
from planform.drawing.paper.sizes import PAPERS, DrawingScale, PaperSize, scale_named
from planform.drawing.writers.dxf import dxf_page
from planform.drawing.writers.paper_png import png_page
from planform.drawing.writers.paper_svg import svg_page
from planform.drawing.writers.papers import ENDINGS, written_as
from planform.drawing.writers.pdf import pdf

A4 = PAPERS["A4"]
HALF = DrawingScale(2.0, "1:2")


def linear(start, end, through, value, **more):
    start, end = np.array(start, float), np.array(end, float)
    way = (end - start) / np.linalg.norm(end - start)
    return Linear(key="d", value=value, words="100 mm", start=start, end=end, along=way,
                  through=np.array(through, float), **more)  # fmt: skip


def sample(text="a plain line"):
    square = np.array([(200, 40), (220, 40), (220, 60), (200, 60)], float)
    hole = np.array([(205, 45), (215, 45), (215, 55), (205, 55)], float)
    view = PlacedView("thing", HALF, np.array([60.0, 60.0]), (40.0, 40.0, 180.0, 130.0), (
        line([(60, 60), (160, 60)], "outline"),
        line([(60, 60), (60, 110)], "hidden"),
        Circle(np.array([100.0, 90.0]), 10.0, "edge"),
        linear((60, 60), (160, 60), (60, 50), 0.2, tail="± 1 mm M"),
        linear((60, 60), (60, 110), (50, 60), 0.1),
        Angular(key="a", value=np.pi / 3, words="60 deg", centre=np.array([60.0, 60.0]),
                first=np.pi / 6, sweep=np.pi / 3, radius=30.0),
        Radius(key="r", value=0.02, words="20 mm", centre=np.array([100.0, 90.0]),
               on=np.array([110.0, 90.0])),
    ))  # fmt: skip
    own = (
        Area((square, hole), "thing", "wall"),
        Lettering(np.array([30.0, 20.0]), text, 3.5, "start"),
        Note(key="n", value=0.0, words="here", point=np.array([220.0, 120.0]),
             elbow=np.array([230.0, 130.0])),
        line([(20, 150), (120, 150)], "frame"),
    )  # fmt: skip
    return Page("A sample", A4, (view,), own)


def test_a_hundred_millimetres_are_a_hundred_in_the_pdf():
    content = pypdf.PdfReader(io.BytesIO(pdf([sample()], "x"))).pages[0]
    assert float(content.mediabox.width) == pytest.approx(297.0 / 25.4 * 72.0, abs=1e-3)
    stream = content.get_contents().get_data().decode("latin-1")
    scales = [float(x) for x in re.findall(r"([\d.]+) 0 0 [\d.]+ 0 0 cm", stream)]
    assert np.prod(scales) == pytest.approx(72.0 / 25.4, abs=1e-5)
    assert re.search(r"\b20 150 m 120 150 l", stream)


def test_the_pdf_embeds_every_font_and_says_its_words():
    reader = pypdf.PdfReader(io.BytesIO(pdf([sample(), sample()], "x")))
    assert len(reader.pages) == 2
    assert [one.title for one in reader.outline] == ["A sample", "A sample"]
    for page in reader.pages:
        fonts = page["/Resources"]["/Font"]
        for font in fonts.values():
            about = font.get_object()
            assert "/FontFile2" in about["/FontDescriptor"].get_object(), about
        text = page.extract_text()
        for words in ("a plain line", "100 mm", "60 deg", "R 20 mm", "± 1 mm M", "here"):
            assert words in text


def test_a_hundred_millimetres_are_a_hundred_in_the_svg():
    root = ET.fromstring(svg_page(sample()).encode("utf-8"))
    assert root.get("width") == "297mm"
    assert root.get("viewBox") == "0 0 297 210"
    paths = [one.get("d") for one in root.iter("{http://www.w3.org/2000/svg}path")]
    assert "M20.0000,60.0000 L120.0000,60.0000" in paths


def test_a_hundred_millimetres_are_a_hundred_in_the_png():
    picture = np.asarray(Image.open(io.BytesIO(png_page(sample(), 254.0))))
    assert picture.shape == (2100, 2970)
    row = picture[600]
    dark = np.flatnonzero(row < 128)
    assert dark[0] == pytest.approx(200, abs=5)
    assert dark[dark < 1500][-1] == pytest.approx(1200, abs=5)


def test_the_dxf_holds_the_thing_in_true_size_and_real_dimensions():
    document = ezdxf.read(io.StringIO(dxf_page(sample()).decode("utf-8")))
    audit = document.audit()
    assert audit.errors == []
    assert audit.fixes == []
    assert document.header["$MEASUREMENT"] == 1
    model = document.modelspace()
    found = {one.dxf.text: one.get_measurement() for one in model.query("DIMENSION")}
    assert found["100 mm\\X± 1 mm M"] == pytest.approx(200.0, abs=1e-9)  # drawn at 1:2
    assert found["100 mm"] == pytest.approx(100.0, abs=1e-9)
    assert found["60 deg"] == pytest.approx(60.0, abs=1e-9)
    assert found["R 20 mm"] == pytest.approx(20.0, abs=1e-9)
    outline = [one for one in model.query("LWPOLYLINE") if one.dxf.layer == "OUTLINE"]
    ends = np.array([p[:2] for p in outline[0].get_points()])
    assert np.linalg.norm(ends[1] - ends[0]) == pytest.approx(200.0, abs=1e-9)
    sheet = document.paperspace()
    views = [v for v in sheet.query("VIEWPORT") if v.dxf.id != 1]
    assert len(views) == 1
    assert views[0].dxf.view_height / views[0].dxf.height == pytest.approx(2.0)
    assert {layer.dxf.name for layer in document.layers} >= {"OUTLINE", "HIDDEN", "DIMENSIONS"}


@pytest.mark.parametrize("ending", ENDINGS)
def test_the_same_page_gives_the_same_bytes(ending):
    assert written_as((sample(),), ending, "x") == written_as((sample(),), ending, "x")


HOSTILE = [
    "<b>&amp;</b>",
    "]]>",
    "x" * 200,
    "שלום 12",
    "مرحبا",
    "{\\H9;a} %%c <>",
    "漢字",
    "(a) \\ b",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_names_of_any_kind_are_safe(text):
    page = sample(text)
    root = ET.fromstring(svg_page(page).encode("utf-8"))
    assert sum(1 for _ in root.iter()) == sum(
        1 for _ in ET.fromstring(svg_page(sample()).encode("utf-8")).iter()
    )
    assert len(pypdf.PdfReader(io.BytesIO(pdf([page], text))).pages) == 1
    document = ezdxf.read(io.StringIO(dxf_page(page).decode("utf-8")))
    assert document.audit().errors == []
    assert png_page(page, 40.0).startswith(b"\x89PNG")


points = st.tuples(st.floats(10, 280), st.floats(10, 200))


@given(st.lists(st.tuples(points, points), min_size=1, max_size=8))
@settings(max_examples=20, deadline=None)
def test_no_two_kinds_of_file_disagree_on_the_lines(pairs):
    page = Page("p", A4, (), tuple(line(pair, "edge") for pair in pairs))
    stream = pypdf.PdfReader(io.BytesIO(pdf([page], "x"))).pages[0].get_contents().get_data()
    root = ET.fromstring(svg_page(page).encode("utf-8"))
    document = ezdxf.read(io.StringIO(dxf_page(page).decode("utf-8")))
    count = len(pairs)
    assert len(re.findall(rb" l\b", stream)) == count
    assert sum(1 for _ in root.iter("{http://www.w3.org/2000/svg}path")) == count
    assert len(document.paperspace().query("LWPOLYLINE")) == count


@pytest.mark.parametrize(("text", "ratio"), [
    ("1:50", 50.0), ("1:33", 33.0), ("1/4 in", 48.0), ("1/8 in = 1 ft", 96.0), ("3 in", 4.0),
    ('1/2"', 24.0), ("half", None), ("1:0", None), ("2:1", None),
])  # fmt: skip
def test_scales_are_read_as_draughtsmen_write_them(text, ratio):
    found = scale_named(text)
    assert (found.ratio if found else None) == ratio


def test_frames_of_the_a_series():
    """ISO 5457:1999, Table 1 (from memory): drawing spaces of A3 to A0."""
    spaces = {"A3": (390, 277), "A2": (564, 400), "A1": (811, 574), "A0": (1159, 821)}
    for name, (wide, high) in spaces.items():
        left, bottom, right, top = PAPERS[name].frame()
        assert (right - left, top - bottom) == (wide, high)
    assert isinstance(PAPERS["A4"].upright, PaperSize)
    assert PAPERS["A4"].upright.width == 210.0

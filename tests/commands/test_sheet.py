"""The sheet command: one file by its ending, a folder of all, and what it refuses."""

import io

import ezdxf
import pypdf
import pytest

from tests.commands.test_commands import DESIGNS, called

MARRAM, BOATSHED = DESIGNS / "marram.toml", DESIGNS / "boatshed.toml"


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    folder = tmp_path_factory.mktemp("set") / "all"
    code, out, err = called("sheet", MARRAM, BOATSHED, "-o", folder)
    assert code == 0, err
    return folder, out


def test_a_folder_gets_every_page_in_every_kind(whole):
    folder, out = whole
    pages = ("dimension-sheet", "general-views", "heights", "stations", "sections", "winglets",
             "cant-options", "room-plan")  # fmt: skip
    names = {f"{page}.{end}" for page in pages for end in ("svg", "dxf", "png")}
    whole_files = {"drawings.pdf", "templates.pdf", "mock-up.pdf", "dimensions.csv"}
    there = {p.name for p in folder.iterdir() if not p.name.startswith(".")}
    assert there == names | whole_files
    assert "wrote" in out
    reader = pypdf.PdfReader(folder / "drawings.pdf")
    assert len(reader.pages) == len(pages)
    assert next(one.title for one in reader.outline).startswith("Dimension sheet")
    for page in pages:
        assert not ezdxf.readfile(folder / f"{page}.dxf").audit().errors


def test_the_pdf_says_the_computed_numbers(whole):
    import planform as pf

    folder, _ = whole
    standing = pf.stand(pf.build(pf.load(MARRAM)))
    found = pf.standing_measures(standing)
    text = pypdf.PdfReader(folder / "drawings.pdf").pages[0].extract_text()
    for key in ("length", "width", "tip_height", "wheel_track", "wheel_base"):
        assert pf.said(found[key], "length", "ft-in") in text, key
    for words in ("Marram", "clear door width", "the shop's own wish", "cut out, lay on a plan"):
        assert words in text


@pytest.mark.parametrize("ending", ["svg", "dxf", "png", "PDF"])
def test_the_ending_picks_the_writer_and_the_same_bytes_come_twice(tmp_path, ending):
    path = tmp_path / f"sheet.{ending}"
    assert called("sheet", DESIGNS / "quillwort.toml", "-o", path)[0] == 0
    first = path.read_bytes()
    assert called("sheet", DESIGNS / "quillwort.toml", "-o", path)[0] == 0
    assert path.read_bytes() == first
    starts = {"svg": b"<?xml", "dxf": b"  0\n", "png": b"\x89PNG", "PDF": b"%PDF"}
    assert first.startswith(starts[ending])


@pytest.mark.parametrize(("options", "words"), [
    (("-o", "x.doc"), ".pdf, .svg, .dxf, .png"),
    (("-o", "x.pdf", "--paper", "A9"), "A4, A3"),
    (("-o", "x.pdf", "--scale", "huge"), "as 1:50"),
    (("-o", "x.pdf", "--scale", "1:10"), "fits"),
    (("-o", "x.pdf", "--projection", "second"), "first, third"),
    (("-o", "x.pdf", "--stage", "nothing"), "nothing"),
    (("-o", "/proc/none/x.pdf"), "cannot be written"),
])  # fmt: skip
def test_wrong_input_is_told_in_a_sentence_and_writes_nothing(
    tmp_path, monkeypatch, options, words
):
    monkeypatch.chdir(tmp_path)
    code, _, err = called("sheet", MARRAM, *options)
    assert code == 2
    assert words in err
    assert "Traceback" not in err
    assert list(tmp_path.iterdir()) == []


def test_the_file_hides_moves_and_asks_for_dimensions(tmp_path):
    text = (
        MARRAM.read_text("utf-8")
        + """
[drawings]
revision = "C7"
measured_by = "Ada & <Bo>"
date = "2026-01-02"
hide = ["wheel_base"]
move = { width = "20 mm" }
[[drawings.ask]]
name = "post to post"
view = "side"
start = { fs = "100 in", bl = "0 in", wl = "20 in" }
end = { fs = "150 in", bl = "0 in", wl = "20 in" }
along = "straight"
"""
    )
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    assert called("sheet", tmp_path / "own.toml", "-o", tmp_path / "own.pdf")[0] == 0
    page = pypdf.PdfReader(io.BytesIO((tmp_path / "own.pdf").read_bytes())).pages[0].extract_text()
    for words in ("C7", "Ada & <Bo>", "2026-01-02", "4'-2\"", "post to post"):
        assert words in page
    assert "9'-1\"" not in page
    text = text.replace('"wheel_base"', '"wheelbase"')
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    code, _, err = called("check", tmp_path / "own.toml")
    assert code == 2
    assert "drawings.hide[1]" in err
    assert "wheel_base" in err


def test_what_lies_behind_is_drawn_where_it_is_asked_for(tmp_path):
    found = []
    for extra in ((), ("--hidden",)):
        path = tmp_path / f"s{len(extra)}.svg"
        assert called("sheet", DESIGNS / "quillwort.toml", "-o", path, *extra)[0] == 0
        found.append('class="hidden"' in path.read_text("utf-8"))
    assert found == [False, True]

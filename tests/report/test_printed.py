"""Printed documents, read back by another reader of PDF (pypdf): words, fonts, pages, breaks."""

from __future__ import annotations

import io
import json
import re
from collections import Counter
from dataclasses import dataclass

import pytest
from pypdf import PdfReader

import planform as pf
from planform.design.load import design_from
from planform.design.problems import InputError
from planform.design.told import said, stage_title
from planform.drawing.writers.embedded import MM
from planform.report.answer import write_pdf
from planform.report.balance.printed import weighing_document, whole_document
from planform.report.measures.answer import MeasuresAnswer
from planform.report.printed.document import pdf
from planform.report.printed.looks import MARGIN, SIZES
from planform.report.printed.pieces import (
    Beside,
    Blanks,
    Boxed,
    Flowing,
    HeadingText,
    Listed,
    Printed,
    Prose,
)
from planform.report.table import Quantity, Table, cell
from tests.commands.test_commands import called
from tests.conftest import DESIGNS

HEADS = {SIZES["h1"][0], SIZES["h2"][0], SIZES["table title"][0]}


@dataclass(frozen=True)
class Sheet:
    """A page as it is read: its words, and height over the foot, size and words of every text."""

    high: float
    text: str
    lines: list[tuple[float, float, str]]


def read(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content))


def words(text: str) -> str:
    """Without spaces and breaks, which readers of PDF put in as they like."""
    return re.sub(r"\s+", "", text)


def sheets(reader: PdfReader) -> list[Sheet]:
    """Every page; texts above the foot line alone are told by their height."""
    out = []
    for page in reader.pages:
        found = []

        def keep(text, matrix, base, font, size, found=found):
            height = base[1] * matrix[4] + base[3] * matrix[5] + base[5]
            if text.strip() and height > MARGIN * MM:
                found.append((height, round(size * abs(base[3]), 2), text.strip()))

        text = page.extract_text(visitor_text=keep)
        out.append(Sheet(float(page.mediabox.height), words(text), sorted(found)))
    return out


def all_words(pages: list[Sheet]) -> str:
    return "".join(page.text for page in pages)


def fonts(reader: PdfReader) -> dict[str, bool]:
    """Every font of every page and of what is put into it, and whether its letters are there."""
    found = {}

    def look(resources):
        for font in (resources.get("/Font") or {}).values():
            font = font.get_object()
            whole = font.get("/DescendantFonts", [font])[0].get_object()
            descriptor = whole.get("/FontDescriptor")
            found[font["/BaseFont"]] = bool(descriptor and "/FontFile2" in descriptor.get_object())
        for inner in (resources.get("/XObject") or {}).values():
            if "/Resources" in inner.get_object():
                look(inner.get_object()["/Resources"].get_object())

    for page in reader.pages:
        look(page["/Resources"].get_object())
    return found


def check_pages(pages: list[Sheet], fullest: float = 0.5) -> None:
    """Numbered, no heading last on a page, none but the last much emptier than full."""
    for number, page in enumerate(pages, 1):
        assert words(f"{number} of {len(pages)}") in page.text
        assert page.lines[0][1] not in HEADS, f"page {number} ends with {page.lines[0][2]!r}"
        if number < len(pages):
            assert page.lines[0][0] < fullest * page.high, f"page {number}"


def check_fonts(reader: PdfReader) -> None:
    found = fonts(reader)
    assert found
    assert all(found.values()), found


@pytest.fixture(scope="module")
def balance():
    design = pf.load(DESIGNS / "marram.toml")
    return pf.balance_findings(pf.stand_all(pf.build(design))[-1:], design)


def test_the_report_is_short_numbered_and_says_what_was_computed(quillwort_report):
    content = (quillwort_report / "report.pdf").read_bytes()
    reader = read(content)
    assert len(reader.pages) <= 14
    assert len(content) < 3_000_000
    check_fonts(reader)
    pages = sheets(reader)
    check_pages(pages)
    width, height = (float(v) / MM for v in reader.pages[0].mediabox.upper_right)
    assert (width, height) == pytest.approx((210.0, 297.0), abs=0.01)
    text = all_words(pages)
    answer = json.loads((quillwort_report / "answer.json").read_text(encoding="utf-8"))
    system = pf.load(DESIGNS / "quillwort.toml").units
    compared = 0
    for stage in answer["stages"]:
        assert words(stage_title(stage["stage"], stage["stance"])) in text
        assert words(stage["verdict"]) in text
        for check in stage["checks"]:
            if check.get("gap") is not None:
                assert words(said(check["gap"]["value"], "gap", system)) in text
                compared += 1
    assert compared >= 5
    titles = [one.title for one in reader.outline if not isinstance(one, list)]
    assert {stage_title(s["stage"], s["stance"]) for s in answer["stages"]} <= set(titles)
    assert reader.metadata.title == f"{answer['design']} in {answer['place']}"


def test_the_balance_sheet_and_record_say_what_was_computed(balance):
    content = pdf(whole_document(balance, "ft-in", None))
    assert content == pdf(whole_document(balance, "ft-in", None))
    reader = read(content)
    check_fonts(reader)
    pages = sheets(reader)
    check_pages(pages, 0.6)
    text = all_words(pages)
    for case in balance.answer.cases:
        for value, kind in ((case.total.mass, "mass"), (case.total.fs, "station")):
            assert words(said(value, kind, "ft-in")) in text
    for scale in balance.answer.record.weighed.scales:
        assert words(scale.reading_text) in text
    for told in ("CG station, in aft of the datum", "reading, lb", "arm measured, in", "Next"):
        assert words(told) in text
    width, height = (float(v) / 72.0 for v in reader.pages[0].mediabox.upper_right)
    assert (width, height) == pytest.approx((8.5, 11.0), abs=0.01)


def test_blanks_are_for_a_hand_and_in_the_unit_that_was_read(balance):
    document = weighing_document(balance, "mm", "A4")
    blanks = [one for one in document.pieces if isinstance(one, Blanks)]
    assert len(blanks) >= 5
    across = 210.0 - 2 * MARGIN
    for form in blanks:
        wide = [w / sum(form.widths) * across for w in form.widths]
        empty = {k for row in form.rows for k, text in enumerate(row) if not text}
        assert form.height >= 8.0
        assert all(wide[k] >= 30.0 for k in empty)
    assert any("reading, lb" in form.head for form in blanks)  # as read, though the rest is metric
    assert any("arm measured, mm" in form.head for form in blanks)
    narrow = Printed("x", (Blanks((("a", "", ""),), (150.0, 20.0, 20.0)),), "mm", "A4")
    with pytest.raises(ValueError, match="blanks of 30 mm by 8 mm"):
        pdf(narrow)


def test_a_long_table_has_its_heads_on_every_page_and_every_row_once():
    rows = tuple((f"row {k:03d}.", Quantity(0.001 * k, "length"), "words") for k in range(300))
    table = Table("long", "A long table", ("name", "how long", "said"), rows, ("A remark.",))
    for k in (0, 3, 8, 11):  # the heading begins wherever the page has got to
        pieces = (*(Prose("filling") for _ in range(4 * k)), HeadingText("Over it", 2), table)
        pages = sheets(read(pdf(Printed("Long", pieces, "mm", "letter"))))
        check_pages(pages, 0.3)
        texts = [page.text for page in pages]
        assert all("howlong" in text for text in texts[1:])
        found = Counter(re.findall(r"row(\d{3})\.", "".join(texts)))
        assert found == {f"{k:03d}": 1 for k in range(300)}
        assert all(words(cell(row[1], "mm")) in "".join(texts) for row in rows)


class Plainly(MeasuresAnswer):
    """An answer with no document of its own, and no files."""

    def files(self, system):
        return {}


HOSTILE = (
    "<b>bold</b> & <font size=90>{0} </para>",
    "W" * 200,
    "\u05e9\u05dc\u05d5\u05dd aircraft",
    "tail\N{AIRPLANE}\U0001f6e9 \\ (paren) %s",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_names_are_shown_as_they_are(name):
    table = Table("t", name, (name, name), ((name, Quantity(1.0, "length")),) * 2, (name,))
    pieces = (
        HeadingText(name), Prose(name, strong=name), Listed((name,) * 3), table, Boxed((name,)),
        Flowing((HeadingText(name, 3), table, Prose(name), table)),
        Beside(((Prose(name),), (table,))), Blanks(((name, ""),), (60.0, 60.0), name, (name, "")),
    )  # fmt: skip
    content = pdf(Printed(name, pieces, "mm", "A4"))
    assert content == pdf(Printed(name, pieces, "mm", "A4"))
    reader = read(content)
    check_fonts(reader)
    if name.isascii():
        assert all_words(sheets(reader)).count(words(name)) >= 10


def test_every_answer_prints_what_it_says(plain, tmp_path):
    design = design_from(plain)
    answer = Plainly(design=design, standings=pf.stand_all(pf.build(design)))
    write_pdf(answer, tmp_path / "one.pdf", "mm")
    text = all_words(sheets(read((tmp_path / "one.pdf").read_bytes())))
    for block in answer.said("mm"):
        told = [getattr(block, "text", block)]
        for row in block.texts("mm") if isinstance(block, Table) else [told]:
            assert all(words(one) in text for one in row)
    with pytest.raises(InputError, match="this is a folder"):
        write_pdf(answer, tmp_path, "mm")


def test_the_command_writes_one_file_or_tells_in_a_sentence(tmp_path):
    samphire = DESIGNS / "samphire.toml"
    code, _, err = called("balance", samphire, "-o", tmp_path / "b.pdf", "--paper", "A5")
    assert code == 2
    assert "--paper" in err
    assert "allowed: A4, letter" in err
    assert not (tmp_path / "b.pdf").exists()
    code, _, err = called("balance", samphire, "-o", tmp_path / "file" / "b.pdf", "--paper", "A4")
    assert code == 1, err
    assert [path.name for path in (tmp_path / "file").iterdir()] == ["b.pdf"]
    width = float(read((tmp_path / "file" / "b.pdf").read_bytes()).pages[0].mediabox.width)
    assert width / MM == pytest.approx(210.0, abs=0.01)

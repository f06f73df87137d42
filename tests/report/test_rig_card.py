"""A rigging card on paper, as drawing and as JSON, read back from what is written."""

from __future__ import annotations

import io
import json
from dataclasses import replace

import numpy as np
import pytest
from pypdf import PdfReader

import planform as pf
from planform.report.printed.document import pdf
from planform.report.rig.answer import ENDINGS, RigAnswer, write_card
from planform.report.rig.page import bench_page
from planform.report.rig.picture import Taken, readings_drawing
from planform.report.rig.printed import rig_document
from planform.report.rig.sheet import bench_sheet, swapped
from planform.rigging.making import rigging_card
from tests.conftest import DESIGNS
from tests.rigged import made_card


@pytest.fixture(scope="module")
def standing():
    return pf.stand(pf.build(pf.load(DESIGNS / "marram.toml")), stage="hull on its wheels")


@pytest.fixture(scope="module")
def card(standing):
    return made_card(standing)


def pages_of(card, paper, system="ft-in"):
    content = pdf(rig_document(bench_sheet(card, system), paper))
    return PdfReader(io.BytesIO(content)).pages


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("system", ["ft-in", "mm"])
def test_a_card_is_one_printed_side_with_all_that_decides(card, paper, system):
    pages = pages_of(card, paper, system)
    assert len(pages) == 1
    text = " ".join(pages[0].extract_text().split())
    for words in (*card.cautions, *card.supports, *card.lost, card.base[0], "read by", "tilt"):
        assert words in text
    for row in bench_sheet(card, system).rows:
        assert row.target in text
        assert row.short in text
    for step in card.order:
        assert step.words in text


@pytest.mark.parametrize("joint", ["foreplane to bulkhead", "outer panel to centre section"])
def test_marrams_own_joints_stand_on_one_side(joint):
    card = rigging_card(pf.build(pf.load(DESIGNS / "marram.toml")), joint)
    pages = pages_of(card, "letter")
    assert len(pages) == 1
    text = " ".join(pages[0].extract_text().split())
    assert all(check.name in text for check in card.checks)
    assert all(words in text for words in card.cautions)


def test_more_readings_stand_on_one_side_too(card):
    """Seven levels more, none of which has a twin: the card is made smaller until it fits."""
    level = card.targets[7]
    more = tuple(replace(level, number=11 + k, words=f"block {k}") for k in range(7))
    assert len(pages_of(replace(card, targets=(*card.targets, *more)), "letter")) == 1


def test_without_limits_no_word_of_the_card_makes_one(standing):
    card = made_card(standing, limits=False)
    level = card.targets[7]
    bare = tuple(replace(t, low=None, high=None) for t in card.targets)
    sheet = bench_sheet(replace(card, targets=bare), "in")
    assert {row.go for row in sheet.rows} == {"no limit is given", "reference"}
    assert all("no limit is given" in check.go for check in sheet.checks)
    assert level.low is not None


def test_a_pair_stands_on_one_line_with_a_box_for_each(card):
    text = pages_of(card, "A4")[0].extract_text()
    assert "left, right foreplane tip, leading edge" in " ".join(text.split())
    assert swapped("from the left tip to the right one") == "from the right tip to the left one"


def test_every_number_of_a_reading_stands_in_the_drawing_once(card):
    drawing = bench_sheet(card, "mm").drawing
    words = [mark.words for mark in drawing.marks if hasattr(mark, "words")]
    numbers = [int(one) for text in words for one in text.split(" · ") if one.isdecimal()]
    assert sorted(numbers) == [one.number for one in card.targets]


@pytest.mark.parametrize("narrow", [False, True])
def test_all_that_is_read_lies_on_the_sheet(standing, card, narrow):
    far = card.targets[8].ends + np.array([[0.0, 0.0, 0.0], [9.0, 0.0, 0.0]])
    drawing = readings_drawing(standing, card.parts, [Taken(1, "tape", far)], narrow=narrow)
    points = [point for mark in drawing.marks if hasattr(mark, "points") for point in mark.points]
    assert min(p[0] for p in points) >= drawing.low[0]
    assert max(p[0] for p in points) <= drawing.high[0]


def test_what_is_written_is_what_the_ending_says(card, tmp_path):
    answer = RigAnswer(card=card, paper="A4")
    for ending in ENDINGS:
        write_card(answer, tmp_path / f"card{ending}", "ft-in")
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "card.svg").read_text().startswith("<svg")
    told = json.loads((tmp_path / "card.json").read_text())
    assert told["joint"] == card.joint
    assert [one["number"] for one in told["readings"]] == [one.number for one in card.targets]
    assert told["readings"][0]["target"] == {"value": card.targets[0].target, "unit": "m"}
    assert told["readings"][7]["go_to"] == {"value": card.targets[7].high, "unit": "rad"}
    assert told["checks"][0]["sum_of"][0]["reading"] == 3
    assert told["bolts"][0]["thicker_for"]["tilt"]["unit"] == "m/rad"


def test_the_same_card_is_the_same_bytes(card):
    sheet = bench_sheet(card, "ft-in")
    assert pdf(rig_document(sheet, "A4")) == pdf(rig_document(sheet, "A4"))
    assert bench_page(card, sheet) == bench_page(card, sheet)


def test_a_name_that_is_markup_stays_a_name(card):
    bad = '</script><img src=x onerror=alert(1)>"&'
    first = replace(card.targets[0], words=bad, survey={"what": "height", "point": bad})
    named = replace(card, title=bad, targets=(first, *card.targets[1:]), lost=(bad,))
    page = bench_page(named, bench_sheet(named, "mm"))
    assert "<img" not in page
    assert page.count("</script>") == 2
    assert len(pages_of(named, "A4")) == 1


def test_said_in_a_terminal_it_tells_the_same(card):
    blocks = list(RigAnswer(card=card).said("ft-in"))
    told = " ".join(str(block) for block in blocks)
    for row in bench_sheet(card, "ft-in").rows:
        assert row.words in told
    for words in card.cautions:
        assert words in told

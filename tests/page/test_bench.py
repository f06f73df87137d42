"""The card at the bench, in a real browser: what it reads, decides, shows and gives away."""

from __future__ import annotations

import csv
import io
import math
import random
import re
import tomllib
from pathlib import Path

import pytest

import planform as pf
from planform.design.models import Design
from planform.design.notation import NotationError, read
from planform.report.rig.page import bench_page
from planform.report.rig.sheet import bench_sheet
from planform.rigging.deciding import decide
from planform.rigging.making import rigging_card
from planform.rigging.reading_file import readings_in
from tests.conftest import DESIGNS
from tests.page.browser import PHONE, needs_browser
from tests.rigged import made_card

pytestmark = [pytest.mark.page, needs_browser]
pytest.importorskip("playwright.sync_api", reason="needs the extra for tests in a browser")

AXE = Path(__file__).parent / "axe" / "axe.min.js"
NARROW = 320
PIECES = (
    "1", "12", "5/8", "3 1/2", "7-3/8", ".5", "0", "30/2", "5/0", "'", '"', "ft", "in", " ", "mm",
    "m", "deg", "°", "-", "+", "±", "BL", "FS", "L", "R", "lb", "(measured)", "½", ",", "−", "min",
    "outboard", "inf", "#REF!", "N", "1,250", "12,5", "''", "+/-",
)  # fmt: skip
UNITS = ("in", "mm", "ft", "m", "deg", '"', "cm", "rad")


@pytest.fixture(scope="module")
def airframe():
    return pf.build(pf.load(DESIGNS / "marram.toml"))


@pytest.fixture(scope="module")
def card(airframe):
    return made_card(pf.stand(airframe, stage="hull on its wheels"))


@pytest.fixture(scope="module")
def marram(airframe, tmp_path_factory):
    """The card of Marram's own joint, and its page."""
    own = rigging_card(airframe, "foreplane to bulkhead")
    target = tmp_path_factory.mktemp("marram") / "card.html"
    target.write_text(bench_page(own, bench_sheet(own, "ft-in")), encoding="utf-8")
    return own, target


@pytest.fixture(scope="module")
def path(card, tmp_path_factory):
    target = tmp_path_factory.mktemp("bench") / "card.html"
    target.write_text(bench_page(card, bench_sheet(card, "ft-in")), encoding="utf-8")
    return target


BLOCKED = {
    "foreplane to bulkhead": {"on": "foreplane", "bl": "BL 40 in", "angle": "0.5 deg"},
    "outer panel to centre section": {"on": "outer panel", "bl": "BL 120 in", "angle": "1 deg"},
}


@pytest.fixture(params=[*BLOCKED, "cradle under the aircraft", "spar blocks under the aircraft"])
def blocked(request):
    """Marram with blocks on its joints, and the name of one."""
    whole = tomllib.loads((DESIGNS / "marram.toml").read_text(encoding="utf-8"))
    for name, block in BLOCKED.items():
        whole["joints"][name]["blocks"] = [block]
    return pf.build(Design.model_validate(whole)), request.param


@pytest.fixture
def opened(path, page_at):
    return page_at(path, PHONE, touch=True)


def test_a_text_is_read_as_the_library_reads_it(opened):
    dice = random.Random(18)
    texts = [
        "11'-4 1/2\"",
        "BL 55.5 in L",
        "174 in ± 1/8 in (measured)",
        "2° 30' 15\"",
        "4'-13 1/2\"",
    ]
    texts += [f"{sign}{n} {unit}" for sign in ("", "-") for n in PIECES[:6] for unit in UNITS]
    for glue in ("", " "):
        texts += [glue.join(dice.choices(PIECES, k=dice.randint(1, 5))) for _ in range(1500)]
    asked = [(text, kind) for text in texts for kind in ("length", "angle")]
    told = opened.page.evaluate(
        """(asked) => asked.map(([text, kind]) => {
        try { const found = bench.read(text, kind); return [found.value, found.tolerance, ""]; }
        catch (error) { return [null, null, error.message]; } })""",
        asked,
    )
    count = 0
    for (text, kind), (value, tolerance, why) in zip(asked, told, strict=True):
        reading, refused = library(text, kind)
        assert why == refused, text
        assert (value is None) == (reading is None), text
        if reading is not None:
            count += 1
            assert value == pytest.approx(float(reading), rel=1e-12, abs=1e-15), text
            assert tolerance == pytest.approx(reading.tolerance, rel=1e-12), text
    assert count > 100


def library(text, kind):
    try:
        return read(text, kind), ""
    except NotationError as error:
        return None, error.allowed


def random_values(card, dice):
    """Readings of a part set somehow, some of them nonsense, some not there, levels turned."""
    wide = dice.choice((0.1, 0.5, 0.5, 3.0, 30.0))
    size = dice.choice((0.0, 0.02, 0.2, 3.0))
    turns = [dice.gauss(0.0, size) * one.usual for one in card.freedoms]
    gross = dice.choice((0, 0, 0, dice.randint(1, len(card.targets))))
    out = []
    for one in card.targets:
        value = one.target + dice.uniform(-wide, wide) * one.tolerance
        value += sum(by * column for by, column in zip(turns, one.columns, strict=True))
        if one.number == gross:
            value = dice.choice((value / 25.4, value * 12.0, value + 0.0254, value - 0.1, -value))
        pair = [value, value + dice.choice((0.1, 0.5, 40.0)) * dice.uniform(-1.0, 1.0) * one.once]
        pair = pair if one.twice else pair[:1]
        out.append([None if dice.random() < 0.1 else one for one in pair])
    return out


def test_the_page_decides_as_the_library_does(card, opened):
    words = same_decisions(card, opened.page, 600)
    assert words == {"GO", "STOP", "measure again", ""}


def test_the_page_of_a_built_joint_decides_as_the_library_does(marram, page_at):
    card, path = marram
    assert "STOP" in same_decisions(card, page_at(path, PHONE, touch=True).page, 300)


def same_decisions(card, page, count):
    """Random readings decided by both; the words that all of it came to."""
    dice = random.Random(5)
    many = [random_values(card, dice) for _ in range(count)]
    many.append([[None] * (2 if one.twice else 1) for one in card.targets])
    told = page.evaluate("(many) => many.map((values) => bench.decide(values))", many)
    words = set()
    for values, found in zip(many, told, strict=True):
        own = decide(card, values)
        words.add(own.word)
        assert (found["word"], found["why"]) == (own.word, own.why)
        for one, other in zip(found["rows"], own.rows, strict=True):
            assert (one["word"], one["why"]) == (other.word, other.why)
            assert one["off"] == near(other.off)
        for one, other in zip(found["checks"], own.checks, strict=True):
            assert (one["word"], one["why"]) == (other.word, other.why)
            assert one["half"] == near(other.half)
        assert [one["name"] for one in found["turns"]] == [one.name for one in own.turns]
        for one, other in zip(found["turns"], own.turns, strict=True):
            assert one["by"] == pytest.approx(other.by, rel=1e-6, abs=1e-9)
            assert one["half"] == pytest.approx(other.half, rel=1e-6)
        assert [one["name"] for one in found["shims"]] == [name for name, _ in own.shims]
        thick = [by for _, by in own.shims]
        assert [one["by"] for one in found["shims"]] == pytest.approx(thick, rel=1e-6, abs=1e-9)
    return words


def test_a_survey_takes_what_the_page_gives_away(airframe, marram, page_at):
    """Every reading at its target, typed to a tenth of a millimetre; levels laid on twice."""
    card, path = marram
    page = page_at(path, PHONE, touch=True).page
    for one in card.targets:
        length = one.kind == "length"
        text = f"{one.target * 1000:.1f} mm" if length else f"{math.degrees(one.target):.2f} deg"
        typed(page, {f"r{one.number}{box}": text for box in "ab"[: 1 + one.twice]})
    assert page.locator("#verdict .word").inner_text() == "GO"
    taken = readings_in(page.locator("#csv").input_value(), "readings.csv", airframe)
    assert len(taken.readings) == sum(1 + one.twice for one in card.targets)
    assert sum(one.reversed for one in taken.readings) == sum(one.twice for one in card.targets)
    wanted = [one.target for one in card.targets for _ in range(1 + one.twice)]
    assert [one.value[0] for one in taken.readings] == pytest.approx(wanted, abs=1e-4)


def near(value):
    return None if value is None else pytest.approx(value, rel=1e-9, abs=1e-12)


def typed(page, values):
    for name, text in values.items():
        page.locator(f"#{name}").fill(text)


def test_a_tilted_foreplane_is_stopped_and_gets_its_shims(card, opened):
    page = opened.page
    typed(page, {"r1a": "4'-1 11/16\"", "r3a": "4'-2 5/16\""})
    assert page.locator("#verdict .word").inner_text() == "STOP"
    assert "tilt is outside its limit" in page.locator("#verdict").inner_text()
    assert page.locator("#r3 .answer .word").inner_text() == "STOP"
    assert not page.locator("#found .thick").count()  # how the aircraft stands is not read yet
    more = {
        "r2a": "4'-1 11/16\"",
        "r4a": "4'-2 5/16\"",
        "r7a": "0",
        "r7b": "0",
        "r8a": "1 deg",
        "r8b": "1 deg",
    }
    typed(page, more)
    turns = page.locator("#found .turns").inner_text()
    tilt = float(re.search(r"tilt\s+(-?[0-9.]+) deg", turns)[1])
    assert tilt == pytest.approx(0.23, abs=0.03)  # 5/8 in over 13 ft: 0.23 deg
    thick = dict(
        re.findall(r"(left|right) front bolt\s+([0-9.]+) in", page.inner_text("#found .thick"))
    )
    assert float(thick["left"]) > 0.03
    assert not opened.errors
    assert not opened.requests


def test_a_value_in_another_unit_is_measured_again(marram, page_at):
    """Everything on its target but one height in inches that was told as millimetres."""
    card, path = marram
    page = page_at(path, PHONE, touch=True).page
    assert page.locator(".signs").inner_text().startswith("Signs: level: nose up +")
    for one in card.targets:
        number = one.target * 1000 / (25.4 if one.number == 5 else 1.0)
        text = f"{number:.1f} mm" if one.kind == "length" else f"{math.degrees(one.target):.2f} deg"
        typed(page, {f"r{one.number}{box}": text for box in "ab"[: 1 + one.twice]})
    assert page.locator("#verdict .word").inner_text() == "measure again"
    assert "about 25.4 times too small, is the unit right?" in page.inner_text("#verdict")
    assert not page.locator("#found .turns").count()
    assert not page.locator("#found .thick").count()


def test_the_table_leaves_out_what_a_survey_cannot_take(blocked, tmp_path, page_at):
    """A level on a block, on each joint of the demo that takes one; the pads of a cradle."""
    airframe, joint = blocked
    own = rigging_card(airframe, joint)
    target = tmp_path / "card.html"
    target.write_text(bench_page(own, bench_sheet(own, "mm")), encoding="utf-8")
    page = page_at(target, PHONE, touch=True).page
    told = [one for one in own.targets if one.survey]
    lacks = sum(1 + one.twice for one in own.targets if not one.survey)
    for one in own.targets:
        length = one.kind == "length"
        text = f"{one.target * 1000:.1f} mm" if length else f"{math.degrees(one.target):.2f} deg"
        typed(page, {f"r{one.number}{box}": text for box in "ab"[: 1 + one.twice]})
    taken = page.locator("#csv").input_value()
    assert lacks == 4 or joint not in BLOCKED  # a level on each side, laid on twice
    assert taken.count("is left out") == lacks
    found = readings_in(taken, "readings.csv", airframe).readings
    assert len(found) == sum(1 + one.twice for one in told) > 0


def test_what_is_not_read_is_told_beside_its_box(opened):
    page = opened.page
    page.locator("#r1a").fill("50 1/8")
    assert (
        page.locator("#r1 .error").inner_text() == "50 1/8: no unit; write 50 1/8 in or 50 1/8 mm"
    )
    assert page.locator("#r1a").get_attribute("aria-invalid") == "true"
    page.locator(".tick input").check()
    assert not page.locator("#r1 .error").count()
    assert '"50 1/8 in"' not in page.locator("#csv").input_value()
    assert "50 1/8 in" in page.locator("#csv").input_value()


def test_the_readings_are_given_away_as_a_table(card, opened):
    page = opened.page
    typed(page, {"r1a": "4'-2 1/8\"", "r8a": "1.0 deg", "r8b": "1.1 deg"})
    lines = page.locator("#csv").input_value().splitlines()
    rows = list(csv.DictReader(io.StringIO("\n".join(x for x in lines if not x.startswith("#")))))
    assert [row["read"] for row in rows] == ["4'-2 1/8\"", "1.0 deg", "1.1 deg"]
    assert [row["reversed"] for row in rows] == ["", "", "yes"]
    assert rows[0]["point"] == card.targets[0].survey["point"]
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", rows[0]["date"])
    with page.expect_download() as waited:
        page.get_by_role("button", name="Save as a file").click()
    assert waited.value.suggested_filename == "readings.csv"
    assert Path(waited.value.path()).read_text().splitlines() == lines


def test_it_does_not_move_sideways_and_axe_finds_nothing(opened):
    page = opened.page
    typed(page, {"r1a": "4'-2\"", "r3a": "4'-2 5/8\"", "r5a": "nonsense"})
    for width in (NARROW, PHONE[0]):
        page.set_viewport_size({"width": width, "height": 640})
        assert page.evaluate("document.documentElement.scrollWidth") == width
    letters = page.evaluate(
        """() => [...document.querySelectorAll("figure svg text")].map((one) =>
        parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a)"""
    )
    assert min(letters) > 9.0
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run(document).then((f) => f.violations.map((v) => v.id))")
    assert found == []
    page.locator("#r8a").scroll_into_view_if_needed()
    box = page.locator("#verdict").bounding_box()
    assert abs(box["y"]) < 2.0  # it stays in sight


def test_without_scripts_it_is_a_plain_card(card, path, page_at):
    page = page_at(path, PHONE, java_script_enabled=False).page
    text = page.locator("main").inner_text()
    for one in card.targets:
        assert one.words in text
    for words in (*card.cautions, *card.supports, *card.lost):
        assert words in text
    assert page.locator("input[type=text]").count() == sum(1 + one.twice for one in card.targets)
    assert not page.locator("#verdict").count()

"""The written pages on a telephone, in a real browser."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import planform as pf
from planform.fit.moves import Pose
from planform.report.way_out.answer import write_route
from planform.report.way_out.handover import handover
from tests.conftest import DESIGNS, PLAIN, ROOM
from tests.fuzz.changes import written
from tests.fuzz.drive import run
from tests.page.browser import PHONE, needs_browser
from tests.routes import chained, pushed, turned

pytestmark = [pytest.mark.page, needs_browser]
pytest.importorskip("playwright.sync_api", reason="needs the extra for tests in a browser")

AXE = Path(__file__).parent / "axe" / "axe.min.js"
NARROW = 320
"""What a page must bear without moving sideways (WCAG 2.1, 1.4.10; from memory) [px]."""

FIRST = {
    "report/report.html": ("#last-chance", ".sheet .v"),
    "way/helpers-card.html": (".stop", "h1 + p b", ".cautions"),
    "way/route.html": ("main > ul > li",),
    "balance/balance.html": ("main > ul .v",),
    "carry/carry.html": ("#doors tbody tr",),
    "changes/changes.html": ("#changes + p b",),
    "compare/compare.html": ("li.lines",),
    "haul/haul.html": ("p > b",),
    "pack/packing.html": ("p > b",),
}
"""What tells the verdict on a page, and is read without a move of the hand."""

STANDING_OUT = """() => [...document.body.querySelectorAll("*")].filter((one) => {
  for (let over = one.parentElement; over; over = over.parentElement)
    if (over.localName === "svg" || getComputedStyle(over).overflowX !== "visible") return false;
  const box = one.getBoundingClientRect();
  return box.width > 1.5 && (box.right > 391 || box.left < -1);
}).map((one) => one.outerHTML.slice(0, 90))"""

SMALL = """() => [...document.body.querySelectorAll("*:not(svg *)")].filter((one) =>
  [...one.childNodes].some((held) => held.nodeType === 3 && held.data.trim())
  && !one.closest("svg") && parseFloat(getComputedStyle(one).fontSize) < 13
).map((one) => one.outerHTML.slice(0, 90))"""

LETTERS = """() => [...document.querySelectorAll("svg text")].map((one) =>
  parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a).filter((one) => one > 0)"""
"""How high the letters of drawings are [px]; those turned upright apart."""

STACKED = """() => [...document.querySelectorAll(".wide table")].map((table) => {
  const heads = [...table.tHead.rows[0].cells].map((one) => one.textContent);
  return [...table.tBodies[0].rows].map((row) => [...row.cells].map((cell, k) => ({
    head: k ? heads[k] : "", shown: getComputedStyle(cell, "::before").content,
    display: getComputedStyle(cell).display, empty: !cell.textContent }))).flat();
}).flat()"""


@pytest.fixture(scope="module")
def made(quillwort_report, tmp_path_factory):
    """A folder with what the commands write, each in its own."""
    folder = tmp_path_factory.mktemp("phone")
    (folder / "report").symlink_to(quillwort_report)
    marram, shed, trailer = (
        str(DESIGNS / f"{name}.toml") for name in ("marram", "garden-shed", "flat-trailer")
    )
    plain, room = str(folder / "plain.toml"), str(folder / "room.toml")
    Path(plain).write_text(written(PLAIN), encoding="utf-8")
    Path(room).write_text(written(ROOM), encoding="utf-8")
    piece = ("--part", "left outer panel + left winglet")
    calls = [
        ("balance", marram),
        ("carry", marram, shed, *piece),
        ("haul", marram, trailer, *piece),
        ("survey", marram, str(DESIGNS / "readings/marram-morning.csv")),
        ("compare", plain, room, "--cant", "0 deg, 10 deg", "--workers", "1"),
        ("changes", plain, room, "--time", "1"),
        ("pack", room, plain, "--time", "30"),
    ]
    for name, *words in calls:
        answer = run(name, *words, "-o", str(folder / name))
        assert answer.code in (0, 1), (name, answer.refused, answer.failure)
    standing = pf.stand_all(pf.build(pf.load(DESIGNS / "marram.toml")))[0]
    boatshed = pf.build_room(pf.load_place(DESIGNS / "boatshed.toml"))
    turns = [lambda p, k=k: turned(p, (0.0, 0.914), 0.05 * (-1) ** k) for k in range(2)]
    route = chained(Pose(5.26, 4.57, math.pi), *turns, lambda p: pushed(p, 9.0))
    told = ("There is a way out.",)
    write_route(handover(standing, boatshed, route), folder / "way", "ft-in", told)
    return folder


@pytest.fixture(scope="module")
def seen(made, page_at):
    """How a page of the folder is opened, with the one page of the module."""
    page = page_at(made / "report/report.html", PHONE, touch=True).page

    def opened(name):
        page.goto((made / name).as_uri())
        return page

    return opened


def test_no_page_moves_sideways(made, seen):
    pages = sorted(made.glob("*/*.html"))
    names = {page.relative_to(made).as_posix() for page in pages} - {"report/in-3d.html"}
    assert names >= {*FIRST, "report/sheet.html", "balance/weighing-record.html"}
    for name in sorted(names):
        page = seen(name)
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE[0], name
        assert page.evaluate("innerWidth") == PHONE[0], name
        assert not page.evaluate(STANDING_OUT), name
        assert not page.evaluate(SMALL), name
        page.set_viewport_size({"width": NARROW, "height": 640})
        assert page.evaluate("document.documentElement.scrollWidth") == NARROW, name
        page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})


@pytest.mark.parametrize("name", FIRST)
def test_the_verdict_stands_in_the_first_screen(seen, name):
    page = seen(name)
    for what in FIRST[name]:
        box = page.locator(what).first.bounding_box()
        assert box["height"] > 0, what
        assert box["y"] + box["height"] <= PHONE[1], (what, box)


@pytest.mark.parametrize("name", ["report/report.html", "balance/balance.html", "carry/carry.html"])
def test_a_stacked_value_stands_behind_its_head(seen, name):
    page = seen(name)
    cells = page.evaluate(STACKED)
    assert len(cells) > 20
    for cell in cells:
        if cell["empty"]:
            assert cell["display"] == "none"
        elif cell["head"]:
            assert cell["shown"].startswith(f'"{cell["head"]}'), cell
        else:
            assert cell["shown"] == "none"
    page.emulate_media(media="print")
    printed = page.evaluate(STACKED)
    page.emulate_media(media="screen")
    assert {(cell["display"], cell["shown"]) for cell in printed} == {("table-cell", "none")}


@pytest.mark.parametrize("name", [*FIRST, "report/sheet.html", "balance/weighing-record.html"])
def test_no_violations_by_axe(seen, name):
    page = seen(name)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found, passed = page.evaluate(
        """() => axe.run(document, { resultTypes: ["violations"] }).then((found) => [
        found.violations.map((one) => [one.id, one.nodes[0].html]), found.passes.length])"""
    )
    assert found == []
    assert passed > 15


def test_what_is_red_is_printed_red(seen):
    for name, what in (("way/helpers-card.html", ".stop"), ("balance/balance.html", ".v.not")):
        page = seen(name)
        page.emulate_media(media="print")
        style = "(one) => [getComputedStyle(one).printColorAdjust, getComputedStyle(one).color]"
        printed = page.locator(what).first.evaluate(style)
        page.emulate_media(media="screen")
        assert printed == ["exact", "rgb(255, 255, 255)"], name  # white on red, or it is not seen


def test_a_step_of_the_card_is_as_wide_as_the_screen(seen):
    page = seen("way/helpers-card.html")
    for picture in page.locator(".steps svg").all():
        assert picture.bounding_box()["width"] == PHONE[0]
    letters = page.evaluate(LETTERS)
    assert letters
    assert min(letters) > 9.0


@pytest.mark.parametrize("name", ["report/report.html", "way/route.html", "balance/balance.html"])
def test_a_telephone_on_its_side_shows_letters_to_read(seen, name):
    page = seen(name)
    page.set_viewport_size({"width": PHONE[1], "height": PHONE[0]})
    letters = page.evaluate(LETTERS)
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    assert len(letters) > 10
    assert min(letters) > 7.5

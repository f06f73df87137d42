"""The page whose values move, in a real browser on the real server."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest

import planform as pf
from planform.design.load import design_from
from tests.conftest import PLAIN, ROOM
from tests.fuzz.hostile import hostile
from tests.page.exploring import answered, field, opened, serving, strip

pytest.importorskip("playwright.sync_api", reason="needs the extra for tests in a browser")
CANT = "design:winglets.winglet.cant"
LENGTH = "design:winglets.winglet.length"
UNFOLD = "() => { for (const one of document.querySelectorAll('#live details')) one.open = true; }"
AXE = Path(__file__).parent / "axe" / "axe.min.js"


def tip_height(**winglet):
    """What the library says of the plain design with its winglet changed."""
    table = copy.deepcopy(PLAIN)
    table["winglets"]["winglet"].update(winglet)
    standing = pf.stand(pf.build(design_from(table)))
    return pf.said(pf.standing_measures(standing)["tip_height"], "length", "m")


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("explore"), PLAIN, ROOM) as one:
        yield one


@pytest.fixture(scope="module")
def shown(browser, served):
    """The served page, small so that it is drawn fast."""
    context = browser.new_context(viewport={"width": 720, "height": 480})
    yield opened(context.new_page(), served.address)
    context.close()


@pytest.fixture
def page(shown):
    """The served page with all values as in the files."""
    back = shown.get_by_role("button", name="all back to the files")
    if back.is_enabled():
        back.click()
        answered(shown)
    yield shown
    assert not shown.wrong


def put(page, path, text):
    """Types a text into the box of a value and waits for the answer."""
    box = field(page, path).locator("input[type=text]")
    box.fill(text)
    box.press("Enter")
    return box


def test_a_slider_changes_the_number_that_the_library_computes(page):
    slider = field(page, LENGTH).locator("input[type=range]")
    slider.focus()
    for _ in range(8):
        page.keyboard.press("ArrowRight")
    answered(page)
    text = field(page, LENGTH).locator("input[type=text]").input_value()
    assert text == "1.008 m"
    assert strip(page, "tip_height") == tip_height(length=text) != tip_height()
    page.keyboard.press("Control+z")
    answered(page)
    assert strip(page, "tip_height") == tip_height()


SWEEP = """async () => {
  const value = document.querySelector('.hand [data-path="design:winglets.winglet.length"]');
  const slider = value.querySelector('input[type=range]');
  const box = value.querySelector('input[type=text]');
  const cell = document.querySelector('tr[data-key=tip_height] td[data-of=now]');
  const seen = [];
  const look = () => { if (cell.ariaBusy === 'false') seen.push([box.value, cell.textContent]); };
  const all = {attributes: true, childList: true, characterData: true, subtree: true};
  new MutationObserver(look).observe(cell, all);
  for (let k = 0; k < 100; k += 1) {
    slider.value = 1000 + 5 * (k % 60);
    slider.dispatchEvent(new Event('input', {bubbles: true}));
    look();
    do await new Promise((go) => setTimeout(go, 10));
    while (k % 20 === 19 && cell.ariaBusy !== 'false');  // a rest, until it is answered
  }
  slider.dispatchEvent(new Event('change', {bubbles: true}));
  window.seen = seen;
}"""


def test_no_number_of_an_older_value_stands_as_new_while_a_value_is_swept(page):
    page.evaluate(SWEEP)
    answered(page)
    seen = {tuple(pair) for pair in page.evaluate("() => seen")}
    last = field(page, LENGTH).locator("input[type=text]").input_value(), strip(page, "tip_height")
    assert len({text for text, _ in seen}) > 1
    for text, told in {*seen, last}:
        assert told == tip_height(length=text), text


def test_a_value_that_cannot_be_stands_at_its_field_in_the_words_of_check(page):
    box = put(page, LENGTH, "1,5 m")
    page.wait_for_selector('body[data-answer="stopped"]')
    wrong = pf.InputError
    table = copy.deepcopy(PLAIN)
    table["winglets"]["winglet"]["length"] = "1,5 m"
    with pytest.raises(wrong) as raised:
        design_from(table)
    words = str(raised.value.problems[0]).partition(": ")[2]
    told = page.locator(f"#{box.get_attribute('aria-describedby').split()[0]}")
    assert told.inner_text() == words
    assert box.get_attribute("aria-invalid") == "true"
    assert page.locator("#live tr td[data-of=now].before").count() > 0  # none stands as new
    page.get_by_role("button", name="all back to the files").click()
    answered(page)
    assert told.is_hidden()
    assert box.input_value() == "1 m"


def test_what_is_asked_for_stands_in_the_address_and_two_tabs_are_apart(page, served):
    put(page, LENGTH, "1.25 m")
    answered(page)
    page.wait_for_timeout(400)
    other = opened(page.context.new_page(), served.address)
    assert strip(other, "tip_height") == tip_height()
    put(other, LENGTH, "1.5 m")
    answered(other)
    again = opened(page.context.new_page(), page.url)
    assert not [*other.wrong, *again.wrong]
    assert strip(again, "tip_height") == strip(page, "tip_height") == tip_height(length="1.25 m")
    assert strip(other, "tip_height") == tip_height(length="1.5 m")
    other.close()
    again.close()


def test_two_variants_stand_side_by_side_and_are_swapped(page):
    put(page, LENGTH, "1.25 m")
    answered(page)
    page.locator("#live summary", has_text="Two variants").click()
    page.get_by_role("button", name="hold this one beside").click()
    put(page, LENGTH, "0.75 m")
    answered(page)
    row = page.locator('#live tr[data-key="tip_height"]')
    held = row.locator('td[data-of="held"]')
    assert held.inner_text() == tip_height(length="1.25 m")
    assert strip(page, "tip_height") == tip_height(length="0.75 m")
    page.get_by_role("button", name="swap the two").click()
    answered(page)
    assert held.inner_text() == tip_height(length="0.75 m")
    assert strip(page, "tip_height") == tip_height(length="1.25 m")
    page.get_by_role("button", name="let the held one go").click()
    assert held.count() == 0


def test_the_aircraft_is_moved_by_keys_and_its_least_gap_follows(page):
    before = strip(page, "least_gap")
    page.locator("#live summary", has_text="Moved on the floor").click()
    page.get_by_label("by", exact=True).select_option(label="500 mm")
    page.get_by_role("button", name="left", exact=True).focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    answered(page)
    assert strip(page, "least_gap") != before
    page.get_by_role("button", name="undo").click()
    answered(page)
    assert strip(page, "least_gap") == before


def test_what_is_kept_is_a_new_file_with_the_changed_value(page, served):
    put(page, LENGTH, "1.25 m")
    answered(page)
    page.get_by_role("button", name="keep this").click()
    dialogue = page.get_by_role("dialog")
    dialogue.get_by_label("Name of the new file").fill("longer.toml")
    dialogue.get_by_label("Name of the new file").press("Tab")
    dialogue.locator(".difference .new").first.wait_for()
    dialogue.get_by_role("button", name="write the new file").click()
    dialogue.locator(".done:not(:empty)").wait_for()
    written = served.folder / "longer.toml"
    assert str(written) in dialogue.locator(".done").inner_text()
    assert pf.load(written).winglets["winglet"].length == 1.25
    assert pf.load(served.design).winglets["winglet"].length == 1.0
    dialogue.get_by_role("button", name="close").click()


def test_a_file_changed_on_disk_is_taken_up_and_a_mistake_in_it_is_told_at_its_field(page, served):
    table = copy.deepcopy(PLAIN)
    table["winglets"]["winglet"]["length"] = "1.1 m"
    served.write(table)
    box = field(page, LENGTH).locator("input[type=text]")
    page.locator(".banner", has_text="was changed on disk").wait_for()
    answered(page)
    assert box.input_value() == "1.1 m"
    assert strip(page, "tip_height") == tip_height(length="1.1 m")
    table["winglets"]["winglet"]["length"] = "one metre"
    served.write(table)
    page.locator(".banner", has_text="has a mistake").wait_for()
    assert "one metre" in field(page, LENGTH).locator(".error").inner_text()
    assert strip(page, "tip_height") == tip_height(length="1.1 m")
    served.design.rename(served.folder / "away.toml")
    page.locator(".banner", has_text="is gone from the disk").wait_for()
    served.write(PLAIN)
    page.locator(".banner", has_text="is gone from the disk").wait_for(state="detached")
    answered(page)
    assert strip(page, "tip_height") == tip_height()


def test_memory_is_flat_after_five_hundred_changes(page):
    session = page.context.new_cdp_session(page)

    def held():
        session.send("HeapProfiler.collectGarbage")
        return session.send("Runtime.getHeapUsage")["usedSize"]

    def changed(times):
        page.evaluate(SWEEP.replace("k < 100", f"k < {times}"))
        answered(page)
        page.evaluate("() => { window.seen = null; }")

    changed(100)
    first = held()
    changed(500)
    assert held() < first + 6e6


def test_no_barrier_is_found_in_the_page(page):
    put(page, LENGTH, "1,5 m")
    page.wait_for_selector('body[data-answer="stopped"]')
    page.evaluate(UNFOLD)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run('#live').then((found) => found.violations)")
    assert not [(one["id"], [node["html"] for node in one["nodes"]]) for one in found]


def test_names_that_are_made_to_act_do_nothing(browser, tmp_path):
    texts = ('"><img src=x onerror=alert(1)>', "</script><script>alert(1)</script>", "{{ x }} $y")
    with serving(tmp_path, hostile(PLAIN, texts), hostile(ROOM, texts)) as served:
        page = opened(browser.new_page(viewport={"width": 720, "height": 480}), served.address)
        page.evaluate(UNFOLD)
        page.evaluate(UNFOLD)  # the parts too
        page.get_by_role("button", name="hold this one beside").click()
        answered(page)
        assert "onerror" in page.locator("#live").inner_text()
        assert (
            page.evaluate("() => document.querySelectorAll('img[src=x], #live script').length") == 0
        )
        assert not page.wrong
        page.context.close()


def test_a_server_that_is_killed_is_told_and_touch_moves_a_slider(browser, tmp_path):
    with serving(tmp_path, PLAIN, ROOM) as served:
        context = browser.new_context(
            viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
        )
        page = opened(context.new_page(), served.address)
        slider = field(page, LENGTH).locator("input[type=range]")
        slider.evaluate("one => one.scrollIntoView({block: 'center'})")
        box = slider.bounding_box()
        page.touchscreen.tap(box["x"] + 0.8 * box["width"], box["y"] + box["height"] / 2)
        answered(page)
        text = field(page, LENGTH).locator("input[type=text]").input_value()
        assert text != "1 m"
        assert strip(page, "tip_height") == tip_height(length=text)
        assert page.evaluate("() => document.documentElement.scrollWidth") <= 390
        served.kill()
        page.locator(".banner", has_text="planform explore has ended").wait_for()
        told = page.locator(".banner").inner_text()
        assert "values are in the address" in told
        assert str(served.design) in told
        assert strip(page, "tip_height") == tip_height(length=text)
        put(page, LENGTH, "0.9 m")
        page.wait_for_selector('body[data-answer="stopped"]')
        fresh = "#live tr:not(:has(td[data-of=now].before))"
        assert page.locator(f"{fresh} td[data-of=now]").count() == 0
        assert not page.wrong
        context.close()


def test_a_tolerance_that_nobody_touches_goes_on_with_the_new_value(page, served):
    table = copy.deepcopy(PLAIN)
    table["winglets"]["winglet"]["length"] = "1 m ± 2 mm (measured)"
    served.write(table)
    page.locator(".banner", has_text="was changed on disk").wait_for()
    put(page, LENGTH, "1.2 m")
    answered(page)
    page.get_by_role("button", name="keep this").click()
    dialogue = page.get_by_role("dialog")
    dialogue.get_by_label("Name of the new file").fill("with-tolerance.toml")
    dialogue.locator("fieldset").wait_for()
    dialogue.get_by_role("button", name="write the new file").click()
    dialogue.locator(".done:not(:empty)").wait_for()
    kept = pf.load(served.folder / "with-tolerance.toml").winglets["winglet"].length
    assert (float(kept), kept.tolerance, kept.source) == (1.2, 0.002, "measured")
    dialogue.get_by_role("button", name="close").click()

"""All of the page by keys, by touch, without WebGL, on paper, with names that would do harm."""

from __future__ import annotations

import copy
import io
import unicodedata
from pathlib import Path

import pypdf
import pytest

from tests.conftest import PLAIN, ROOM
from tests.fuzz.hostile import hostile
from tests.page.browser import BARE, PHONE, TABLET, launched, needs_browser, opener
from tests.page.made import opened_page, two_stages, written_page

pytestmark = [pytest.mark.page, needs_browser]
AXE = Path(__file__).parent / "axe" / "axe.min.js"
EVIL = ('"><img src=x onerror="hit=1">', "</script><script>hit=1</script>", "${hit=1}")


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """The plain design at two stages in its room: where its page is, and what it shows."""
    path = tmp_path_factory.mktemp("reached") / "small.html"
    return path, written_page(path, two_stages())


@pytest.fixture(scope="module")
def desk(small, page_at):
    return opened_page(page_at, small[0]).page


def eye(page):
    return page.evaluate("shop.hall.camera.position.toArray()")


def test_the_picture_by_keys(desk):
    desk.locator(".box").focus()
    before = eye(desk)
    desk.keyboard.press("ArrowLeft")
    turned = eye(desk)
    assert turned != before
    assert turned[2] == pytest.approx(before[2])
    desk.keyboard.press("+")
    assert eye(desk) != turned
    desk.keyboard.press("2")
    assert desk.get_by_role("button", name="from above").get_attribute("aria-pressed") == "true"
    inside = desk.get_by_role("button", name="inside, eye at 5 ft 6 in")
    inside.focus()
    desk.keyboard.press("Enter")
    x, y, z = eye(desk)
    assert 0 < x < 12
    assert 0 < y < 10
    assert z == pytest.approx(66 * 0.0254)
    desk.locator(".box").focus()
    desk.keyboard.press("Shift+ArrowUp")
    assert eye(desk)[:2] != [x, y]
    assert eye(desk)[2] == pytest.approx(z)
    desk.keyboard.press("1")


def test_stages_by_keys_tell_verdict_and_change(desk, small):
    desk.locator(".box").focus()
    desk.keyboard.press("PageUp")
    stages = small[1].look("ft-in")["stages"]
    first, last = stages
    assert desk.locator(".verdict > .v").inner_text() == first["verdict"]["word"]
    assert not desk.evaluate("shop.hall.solids.has('part left winglet')")
    desk.keyboard.press("PageDown")
    assert desk.locator(".verdict > .v").inner_text() == last["verdict"]["word"]
    assert last["change"]
    assert last["change"] in desk.locator(".change").inner_text()
    assert desk.evaluate("shop.hall.solids.has('part left winglet')")


def test_parts_are_chosen_seen_through_and_hidden(desk):
    desk.get_by_role("combobox", name="part or thing").select_option("part left winglet")
    told = desk.locator(".chosen dl").inner_text()
    assert "BL" in told
    assert "least clearance" in told
    desk.locator("summary", has_text="Shown and hidden").click()
    row = desk.get_by_role("button", name="left winglet is shown")
    row.press("Enter")
    part = "shop.hall.solids.get('part left winglet')"
    assert desk.evaluate(f"{part}.visible && {part}.paint.opacity < 0.5")
    desk.get_by_role("button", name="left winglet is see-through").press("Enter")
    assert not desk.evaluate(f"{part}.visible")
    desk.get_by_role("button", name="left winglet is hidden").press("Enter")
    assert desk.evaluate(f"{part}.visible && {part}.paint.opacity === 1")


def test_the_way_out_is_dragged_played_and_parked(desk, small):
    desk.evaluate("shop.store.set({ stage: '1' })")
    way = small[1].look("ft-in")["stages"][0]["way"]
    bar = desk.get_by_role("slider", name="Along the way out")
    bar.fill("1000")
    end = desk.evaluate("shop.hall.standing")
    assert [end[3], end[7]] != pytest.approx(way["poses"][0][:2], abs=0.1)
    x, y, _ = way["poses"][-1]
    floor = desk.evaluate("shop.journey.pose(1)")
    assert floor[:2] == pytest.approx([x, y], abs=1e-5)
    assert "Step" in desk.locator(".now").inner_text()
    desk.get_by_role("button", name="back to where it is parked").click()
    assert desk.evaluate("shop.store.get().away") is False
    desk.get_by_role("button", name="play the way out").click()
    desk.wait_for_function("shop.store.get().share > 0")
    desk.get_by_role("button", name="back to where it is parked").click()
    desk.evaluate("shop.store.set({ stage: '2' })")


def test_the_way_that_jams_is_shown_where_it_jams(desk, small):
    look = small[1].look("ft-in")
    jam = {
        "at": [6.0, 4.0, 3.0],
        "pose": -1,
        "gap": -0.0254,
        "text": '-1"',
        "part": "left winglet",
        "thing": "front wall",
        "from": [5.0, 0.1, 1.0],
        "to": [5.0, 0.0, 1.0],
    }
    way = {"told": ["no way"], "steps": [], "poses": [], "swept": [], "tight": [jam]}
    stage = {**look["stages"][1], "way": way}
    desk.evaluate("(stage) => shop.take({ stages: [stage] })", stage)
    desk.get_by_role("button", name="left winglet to front wall").click()
    stood = desk.evaluate("shop.hall.standing")
    assert [stood[3], stood[7]] != pytest.approx(look["stages"][1]["floor2place"][3:8:4])
    assert 'over by 1"' in desk.locator(".now").inner_text()
    desk.get_by_role("button", name="back to where it is parked").click()
    desk.evaluate("(stage) => shop.take({ stages: [stage] })", look["stages"][1])


def test_the_aircraft_is_moved_over_the_floor_by_pointer_and_keys(desk):
    desk.evaluate(
        "() => { globalThis.moves = []; shop.onMove((move) => moves.push({ ...move })); }"
    )
    desk.get_by_role("button", name="from above").click()
    desk.get_by_role("button", name="move on the floor").click()
    desk.evaluate("scrollTo(0, 0)")
    box = desk.locator("canvas.picture").bounding_box()
    middle = "shop.hall.extent().low.map((a, k) => (a + shop.hall.extent().high[k]) / 2)"
    x, y, _ = desk.evaluate(f"shop.hall.project({middle})")
    at = desk.evaluate(f"{middle}")
    desk.mouse.move(box["x"] + x, box["y"] + y)
    desk.mouse.down()
    desk.mouse.move(box["x"] + x + 40, box["y"] + y)
    now = desk.evaluate(f"{middle}")
    desk.mouse.up()
    moves = desk.evaluate("moves")
    assert moves[-1]["done"] is True
    assert moves[-1]["thing"] == "aircraft"
    assert moves[-1]["dx"] > 0.2
    assert moves[-1]["dy"] == pytest.approx(0.0, abs=0.02)
    assert now[0] - at[0] == pytest.approx(moves[-1]["dx"], abs=1e-4)
    desk.get_by_role("button", name="move on the floor").click()
    desk.locator(".box").focus()
    desk.keyboard.press("Alt+ArrowUp")
    last = desk.evaluate("moves.at(-1)")
    assert (last["dx"], last["dy"], last["done"]) == (0, pytest.approx(0.0254), True)


def test_five_hundred_looks_leave_nothing_behind(desk, small):
    kept = desk.evaluate(
        """(stage) => {
          const points = (k) => {
            const array = new Float32Array([0, 0, k, 1, 0, k, 0, 1, k, 0, 0, k + 1]);
            return btoa(String.fromCharCode(...new Uint8Array(array.buffer)));
          };
          const whole = (numbers) =>
            btoa(String.fromCharCode(...new Uint8Array(new Uint32Array(numbers).buffer)));
          const faces = whole([0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3]);
          const take = (k) => {
            const parts = stage.parts.map((part, n) => (n ? part : { ...part, mesh: `mesh ${k}` }));
            const mesh = { points: points(k / 500), faces, edges: whole([0, 1]) };
            shop.take({ meshes: { [`mesh ${k}`]: mesh }, stages: [{ ...stage, parts }] });
            if (k % 50 === 0) shop.hall.draw();
          };
          const count = () => [shop.hall.renderer.info.memory.geometries, shop.held().length];
          for (let k = 0; k < 450; k += 1) take(k);
          shop.hall.draw();
          const first = count();
          for (let k = 450; k < 950; k += 1) take(k);
          shop.hall.draw();
          const last = count();
          shop.take({ stages: [stage] });
          return [first, last];
        }""",
        small[1].look("ft-in")["stages"][1],
    )
    assert kept[0] == kept[1]


def test_it_glides_to_a_view_and_draws_only_when_asked(small, page_at):
    opened = page_at(small[0], reduced_motion="no-preference")
    page = opened.page
    page.wait_for_function("document.documentElement.dataset.ready")
    page.get_by_role("button", name="from the left").click()
    goal = page.evaluate("shop.views.placeOf('left').eye")
    page.wait_for_function(
        "(eye) => shop.hall.camera.position.toArray().every((x, k) => Math.abs(x - eye[k]) < 1e-6)",
        arg=goal,
    )
    page.evaluate("new Promise((done) => setTimeout(done, 300))")
    drawn = page.evaluate("shop.hall.drawn")
    page.evaluate("new Promise((done) => setTimeout(done, 500))")
    assert page.evaluate("shop.hall.drawn") == drawn
    assert opened.errors == []


def test_tables_sort(desk):
    desk.locator(".below thead button", has_text="gap").first.click()
    head = desk.locator(".below th[aria-sort=ascending]")
    assert head.count() == 1
    desk.locator(".below thead button", has_text="gap").first.click()
    assert desk.locator(".below th[aria-sort=descending]").count() == 1


def test_what_is_shown_stands_in_the_address_and_a_reload_keeps_it(small, page_at):
    page = opened_page(page_at, small[0]).page
    page.evaluate(
        """() => {
          shop.next(-1);
          shop.go("above");
          shop.store.set({
            hidden: new Set(["left main"]),
            faint: new Set(["pod"]),
            chosen: { kind: "part", name: "right wing" },
            section: { axis: "station", at: 0.25 },
          });
          shop.journey.drag(0.4);
        }"""
    )
    page.evaluate("history.replaceState(null, '', location.hash + '&live-x=1')")
    page.evaluate("shop.journey.drag(0.5)")
    stood = page.evaluate("shop.hall.standing")
    page.reload()
    page.wait_for_function("document.documentElement.dataset.ready")
    state = page.evaluate(
        """() => {
          const { stage, view, chosen, section, share, away, hidden, faint } = shop.store.get();
          return { stage, view, chosen, section, share, away, sets: [[...hidden], [...faint]] };
        }"""
    )
    assert state == {
        "stage": "1",
        "view": "above",
        "chosen": {"kind": "part", "name": "right wing"},
        "section": {"axis": "station", "at": 0.25},
        "share": 0.5,
        "away": True,
        "sets": [["left main"], ["pod"]],
    }
    assert "live-x=1" in page.evaluate("location.hash")
    assert not page.evaluate("shop.hall.solids.get('part left main').visible")
    assert page.evaluate("shop.hall.standing") == pytest.approx(stood)


@pytest.mark.parametrize("size", [TABLET, PHONE])
def test_by_touch_nothing_runs_off_sideways_and_the_verdict_comes_first(small, page_at, size):
    opened = opened_page(page_at, small[0], size=size, touch=True)
    page = opened.page
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    box = page.locator(".verdict > .v").bounding_box()
    assert box["y"] + box["height"] < size[1]
    picture = page.locator("canvas.picture").bounding_box()
    pod = page.evaluate("shop.hall.project(shop.hall.extent().low.map((a, k) =>"
                        " (a + shop.hall.extent().high[k]) / 2))")  # fmt: skip
    page.touchscreen.tap(picture["x"] + pod[0], picture["y"] + pod[1])
    assert page.evaluate("shop.store.get().chosen?.kind") == "part"
    least = page.evaluate(
        "Math.min(...[...document.querySelectorAll('#shop button, #shop select')]"
        ".filter(e => e.offsetParent && !e.closest('thead')).map(e => e.offsetHeight))"
    )
    assert least >= 43
    assert opened.errors == []


@pytest.mark.parametrize("touch", [False, True])
def test_no_violations_by_axe(small, page_at, touch):
    size = PHONE if touch else (1280, 800)
    page = opened_page(page_at, small[0], size=size, touch=touch).page
    page.evaluate(
        """() => {
          for (const one of document.querySelectorAll("details")) one.open = true;
          shop.store.set({
            chosen: { kind: "part", name: "left winglet" },
            section: { axis: "butt", at: 0.7 },
            ruler: { on: true, points: [] },
          });
        }"""
    )
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(v["id"], v["nodes"][0]["html"]) for v in found["violations"]] == []
    assert len(found["passes"]) > 20


def test_hostile_names_run_no_script(tmp_path, page_at):
    design, room = (hostile(copy.deepcopy(one), EVIL) for one in (PLAIN, ROOM))
    path = tmp_path / "hostile.html"
    found = written_page(path, design, room)
    opened = opened_page(page_at, path)
    page = opened.page
    name = found.standings[0].parts[0].name
    page.evaluate(
        """(name) => {
          for (const one of document.querySelectorAll("details")) one.open = true;
          shop.store.set({
            chosen: { kind: "part", name },
            section: { axis: "water", at: 0.1 },
          });
          shop.ruler.add([0, 0, 0], name, true);
          shop.journey.drag(0.5);
        }""",
        name,
    )
    page.get_by_role("button", name="from above").click()
    assert page.evaluate("typeof hit") == "undefined"
    assert page.locator("#shop img, #shop script").count() == 0
    assert found.standings[0].airframe.design.name in page.locator("h1").inner_text()
    assert opened.requests == []
    assert opened.errors == []


def test_on_paper_it_is_whole(desk, small):
    desk.evaluate("shop.store.set({ stage: '2', chosen: null })")
    pages = pypdf.PdfReader(io.BytesIO(desk.pdf(format="A4"))).pages
    told = " ".join(" ".join(page.extract_text() for page in pages).split())
    text = unicodedata.normalize("NFKC", told)  # a font's ligatures as letters
    look = small[1].look("ft-in")
    assert look["stages"][1]["title"] in text
    assert look["stages"][1]["verdict"]["word"] in text
    assert look["cautions"][0] in text
    assert look["stages"][1]["measures"][0]["title"] in text
    assert "play the way out" not in text
    assert len(pages[0].images) == 1


def test_without_webgl_a_sentence_and_the_drawings(small, play):
    for browser in launched(play, BARE):
        for page_at in opener(browser):
            opened = opened_page(page_at, small[0])
            page = opened.page
            assert page.locator(".no3d").inner_text().startswith("This browser shows no 3D")
            assert page.locator(".plainly svg").count() >= 1
            assert page.locator(".verdict > .v").is_visible()
            page.get_by_role("button", name="the stage before").click()
            assert page.evaluate("shop.store.get().stage") == "1"
            assert page.locator(".below table").count() >= 1
            assert opened.errors == []

"""Pages: nothing overlaps, nothing leaves the sheet, every kind of file tells the same."""

import tomllib

import pytest

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import design_from, load, load_place
from planform.drawing.paper.dimension import Linear
from planform.drawing.paper.sizes import PAPERS
from planform.report.sheets.answer import DrawnAircraft
from planform.report.sheets.dimension_sheet import SheetAsked
from tests.conftest import DESIGNS
from tests.drawing.reading import crossed, outside, overlapping
from tests.laws.worlds import world

STAGES = [
    (name, k) for name, count in (("marram", 4), ("quillwort", 3), ("samphire", 2))
    for k in range(count)
]  # fmt: skip


def drawn(design, stage=-1, system=None, place=None, **asked):
    system = system or design.units
    wanted = SheetAsked(**({"paper": PAPERS["letter" if "in" in system else "A4"]} | asked))
    standing = stand_on(build(design), design.stages[stage])
    return DrawnAircraft(standing, place, wanted, system)


@pytest.mark.parametrize(("name", "stage"), STAGES)
def test_no_text_of_a_demo_sheet_lies_on_another(name, stage):
    design = load(DESIGNS / f"{name}.toml")
    if stage >= len(design.stages):
        pytest.skip("no such stage")
    for angle in ("first", "third"):
        page = drawn(design, stage, angle=angle).dimension_sheet()
        assert overlapping(page) == []
        assert outside(page) == []
        assert crossed(page) == []


@pytest.mark.parametrize("number", range(50))
def test_no_text_of_a_generated_sheet_lies_on_another(number):
    design = design_from(world(number).design)
    page = drawn(design, paper=PAPERS["A3"]).dimension_sheet()
    assert overlapping(page) == []
    assert outside(page) == []


@pytest.mark.parametrize(("name", "place"), [
    ("marram", "boatshed"), ("quillwort", "garden-shed"), ("samphire", "barn"),
])  # fmt: skip
def test_no_text_of_the_whole_set_lies_on_another(name, place):
    design, room = load(DESIGNS / f"{name}.toml"), load_place(DESIGNS / f"{place}.toml")
    pages = drawn(design, place=room).pages()
    assert {"dimension-sheet", "general-views", "heights", "room-plan"} <= set(pages)
    assert ("winglets" in pages) == (name != "samphire")
    for key, page in pages.items():
        assert overlapping(page) == [], key
        assert outside(page) == [], key


def test_what_a_sheet_measures_is_what_is_drawn():
    """Every dimension's value is the distance of its features on the page, at the view's scale."""
    page = drawn(load(DESIGNS / "marram.toml")).dimension_sheet()
    count = 0
    for view in page.views:
        for one in view.drawn:
            if isinstance(one, Linear):
                first, last = one.feet
                drawn_length = abs(float((last - first) @ one.along))
                assert drawn_length / view.scale.mm == pytest.approx(one.value, abs=1e-9)
                count += 1
    assert count > 8


def test_the_place_says_the_margins_of_the_door():
    design, place = load(DESIGNS / "marram.toml"), load_place(DESIGNS / "boatshed.toml")
    told = drawn(design, place=place)
    page = told.dimension_sheet()
    found = told.aircraft.found
    texts = [one.text for one in page.drawn if hasattr(one, "text")]
    from planform.design.told import said

    wanted = found["width"] + 2 * told.standing.bulge + 2 * 6 * 0.0254
    assert said(wanted, "over", "ft-in") in texts


def test_the_heights_of_blades_are_those_of_the_arc_that_they_sweep():
    table = tomllib.loads((DESIGNS / "marram.toml").read_text(encoding="utf-8"))
    table["propeller"]["parked_angle"] = "90 deg"
    told = drawn(design_from(table))
    page = told.dimension_sheet()
    values = {one.key: one.value for v in page.views for one in v.drawn if isinstance(one, Linear)}
    found = told.aircraft.found
    assert values["propeller_ground_clearance"] == pytest.approx(
        found["propeller_ground_clearance"], abs=1e-9
    )
    assert found["propeller_parked_clearance"] > found["propeller_ground_clearance"] + 0.5


@pytest.mark.parametrize(("name", "place", "told"), [
    ("quillwort", "garden-shed", "none"), ("samphire", "barn", "in 2 steps"),
])  # fmt: skip
def test_the_room_plan_tells_of_the_way_out_what_was_proved(name, place, told):
    page = drawn(
        load(DESIGNS / f"{name}.toml"), place=load_place(DESIGNS / f"{place}.toml")
    ).room_plan("1")
    texts = [one.text for one in page.drawn if hasattr(one, "text")]
    assert texts[texts.index("way out") + 1] == told

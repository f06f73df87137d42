"""Single lines of sheets and templates, of an aircraft whose canopy is cut from a smooth hull."""

import re
import tomllib

import numpy as np
import pytest

from planform.airframe.build import build
from planform.airframe.curves import curve_lines
from planform.airframe.stance import stand_on
from planform.core.spread import Spread
from planform.design.clearances import Clearances
from planform.design.load import design_from, load, load_place
from planform.design.problems import InputError
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view
from planform.drawing.paper.frame import Title
from planform.drawing.paper.sizes import PAPERS
from planform.report.sheets.answer import DrawnAircraft
from planform.report.sheets.dimension_sheet import SheetAsked
from planform.report.sheets.mockup import MockupAsked, mockup
from planform.report.sheets.mockup_page import mockup_pages
from planform.report.sheets.telling import Teller
from planform.report.sheets.templates.asked import TemplateAsked, patterns
from tests.conftest import DESIGNS
from tests.drawing.reading import crossed, outside, overlapping

OWN = """
format = "planform design 1"
name = "Sundew"
units = "mm"
datum = "FS 0 is 500 mm ahead of the nose"
lifting.wing.role = "wing"
lifting.wing.profile = "NACA 2412"
lifting.wing.cuts = [
  { fs = "3100 mm", bl = "0 mm", wl = "450 mm", chord = "1300 mm" },
  { bl = "1000 mm", fs = "3300 mm", chord = "1050 mm" },
  { bl = "4000 mm", fs = "4350 mm", dihedral = "6 deg", chord = "600 mm" },
]
bodies.hull.role = "fuselage"
bodies.hull.smooth = true
bodies.hull.cuts = [
  { fs = "500 mm", half_width = "40 mm", bottom = "480 mm", top = "560 mm" },
  { fs = "1800 mm", half_width = "400 mm", bottom = "60 mm", top = "1050 mm" },
  { fs = "3400 mm", half_width = "420 mm", bottom = "40 mm", top = "1200 mm" },
  { fs = "4300 mm", half_width = "300 mm", bottom = "250 mm", top = "1000 mm" },
]
spars."main spar".on = "wing"
spars."main spar".root = { bl = "0 mm", chord_fraction = 0.3 }
spars."main spar".tip = { chord_fraction = 0.3 }
spars."main spar".width = "70 mm"
spars."main spar".inside = "6 mm"
ribs."root rib" = { on = "wing", bl = "800 mm", thickness = "10 mm", inside = "2 mm" }
wheels.nose = { fs = "1300 mm", bl = "0 mm", wl = "-350 mm", diameter = "300 mm", width = "110 mm" }
stances.gear.on = ["nose", "main"]
stages = [{ name = "complete", stance = "gear" }]
[wheels.main]
side = "both"
fs = "3420 mm"
bl = "950 mm"
wl = "-320 mm"
diameter = "400 mm"
width = "140 mm"
[panels.canopy]
frames = [{ fs = "1700 mm", lower = "750 mm" }, { fs = "3200 mm", lower = "850 mm" }]
hinge_from = { fs = "1750 mm", bl = "380 mm", wl = "750 mm" }
hinge_to = { fs = "3150 mm", bl = "380 mm", wl = "850 mm" }
opens = "up"
thickness = "15 mm"
open_angle = "75 deg"
"""


def own(**more):
    return design_from(tomllib.loads(OWN) | more)


def drawn(design, place=None, **asked):
    standing = stand_on(build(design), design.stages[-1])
    wanted = SheetAsked(**({"paper": PAPERS["A4"]} | asked))
    return DrawnAircraft(standing, place, wanted, "mm")


def told(page):
    return [one.text for one in page.drawn if hasattr(one, "text")]


def test_margins_without_a_source_are_the_place_s_own():
    design, room = load(DESIGNS / "quillwort.toml"), load_place(DESIGNS / "garden-shed.toml")
    wishes = room.clearances.model_copy(update={"source": None})
    for one, words in ((wishes, room.name), (Clearances(), f"{room.name} asks for none")):
        place = room.model_copy(update={"clearances": one})
        texts = told(drawn(design, place).dimension_sheet())
        assert texts[texts.index("margins from") + 1] == words


def test_what_the_door_needs_is_a_sum_that_can_be_followed():
    texts = told(drawn(own()).dimension_sheet())
    k = texts.index("clear door width, straight")
    parts = re.fullmatch(r"(\d+) mm, curves (\d+) mm \+ 2 x (\d+) mm", texts[k + 2])
    assert parts is not None
    size, curves, each = map(int, parts.groups())
    assert abs(size + curves + 2 * each - int(texts[k + 1].removesuffix(" mm"))) <= 1
    assert size == 8005  # the lower side of a tip that leans 6 deg, 25 mm deep, stands farther out


def test_a_tolerance_too_small_to_tell_has_no_letter_either():
    design = load(DESIGNS / "quillwort.toml")
    source = "lifting.wing.cuts[4].bl"
    for change, words in ((0.005, "± 5.0 mm M"), (1e-9, "")):
        spread = {"length": Spread(((source, change),))}
        assert Teller(design, spread, "mm").tail("length") == words


def test_paper_too_small_for_every_scale_is_told_of_the_paper():
    ends = {
        name: {"fs": at, "bl": "0 mm", "wl": "500 mm"}
        for name, at in (("start", "600 mm"), ("end", "4000 mm"))
    }
    ask = [{"name": f"no. {k}", "view": "side", "along": "level"} | ends for k in range(30)]
    with pytest.raises(InputError) as error:
        drawn(own(drawings={"ask": ask})).dimension_sheet()
    assert "--paper: given A4" in str(error.value)
    assert "--scale" not in str(error.value)


def test_the_section_at_the_end_of_a_leaning_panel_is_whole():
    """NACA 2412 is 12 % thick; a plane that runs out of the panel's end would cut its top off."""
    page = drawn(own(), paper=PAPERS["A3"]).pages()["sections"]
    views = [view for view in page.views if view.name.startswith("BL")]
    assert [view.name for view in views] == ["BL 1000 mm R", "BL 4000 mm R"]
    for view in views:
        (ring,) = (one.points for one in view.drawn if getattr(one, "pen", "") == "cut")
        wide, high = np.ptp(ring, axis=0)
        assert 0.115 < high / wide < 0.13


def test_a_rib_with_a_spar_through_it_is_one_template_where_both_sides_are_alike():
    (pattern,) = patterns(build(own()), TemplateAsked("root rib"), "mm")
    assert "root rib" in pattern.title


def test_a_dimension_straight_between_two_points_keeps_off_what_is_drawn():
    """With its name it is longer than its line; beyond the line's end it lay on the wing."""
    ends = {
        name: {"fs": at, "bl": "0 mm", "wl": high}
        for name, at, high in (("start", "900 mm", "700 mm"), ("end", "3100 mm", "450 mm"))
    }
    ask = [{"name": "nose leg to spar", "view": "side", "along": "straight"} | ends]
    for angle in ("first", "third"):
        page = drawn(own(drawings={"ask": ask}), angle=angle).dimension_sheet()
        assert overlapping(page) == outside(page) == crossed(page) == []
        assert any(view.name.startswith("side") for view in page.views)
        (one,) = (d for v in page.views for d in v.drawn if getattr(d, "key", "") == ask[0]["name"])
        assert one.words == f"{np.hypot(2200, 250):.0f} mm"
        assert one.tail == ask[0]["name"]


@pytest.mark.parametrize("corners", [5, 6, 8])
@pytest.mark.parametrize("parts", [(), ("wing",), ("hull", "canopy")])
def test_no_text_of_a_mock_up_lies_on_another(parts, corners):
    design = own()
    standing = stand_on(build(design), design.stages[-1])
    made = mockup(standing, MockupAsked(parts, "ahead", corners, stock="2.4 m, 3 m"), "mm")
    title = Title("Sundew", "Mock-up", "", "mm", "2026-11-20", "1")
    for page in mockup_pages(made, PAPERS["A4"], title, "mm"):
        assert overlapping(page) == outside(page) == []


def test_a_mock_up_of_an_aircraft_on_its_wheels_does_not_go_under_the_floor():
    """How far a curved canopy may stand outside its facets is no matter of the wheels."""
    design = own()
    standing = stand_on(build(design), design.stages[-1])
    assert standing.bulge > 0.005
    made = mockup(standing, MockupAsked((), "ahead", 6), "mm")
    assert made.ring[:, 1].min() == pytest.approx(0.0, abs=1e-3)


def test_a_canopy_cut_from_a_smooth_hull_is_drawn_by_its_rim_alone():
    """From above, lines of the canopy stand at its rim; scraps of its facets stood all over it."""
    found = drawn(own()).aircraft
    frame = FRAMES["above"]
    lines = [one for one in line_view(found.solid, frame).lines if one.kind != "outline"]
    (canopy,) = (part for part in found.standing.parts if part.name == "canopy")
    low, high = canopy.points[:, 0].min(), canopy.points[:, 0].max()
    fs = np.concatenate([one.points @ frame[:2, 0] for one in lines])
    bl = np.concatenate([one.points @ frame[:2, 1] for one in lines])
    within = (fs > low + 0.05) & (fs < high - 0.05) & (np.abs(bl) < 0.25)
    assert not within.any()
    assert (np.abs(fs - low) < 0.02).any()
    assert (np.abs(fs - high) < 0.02).any()


def test_check_tells_by_how_much_a_skin_stands_outside_the_panel_cut_from_it():
    airframe = build(own())
    (canopy,) = (part for part in airframe.parts if part.name == "canopy")
    (line,) = (one for one in curve_lines(airframe) if one.startswith("the canopy"))
    told = float(re.search(r"at most ([\d.]+) mm", line)[1]) / 1000.0
    assert canopy.bulge <= told < canopy.bulge + 2e-4

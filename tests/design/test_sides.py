"""Left and right different: what is read, what is refused, and what it is called."""

from __future__ import annotations

import copy
import json

import pytest

from planform.airframe.build import build
from planform.airframe.measure import design_measures
from planform.airframe.stance import stand_all
from planform.design.carrier import Carrier
from planform.design.fields import Model
from planform.design.kinds import KINDS
from planform.design.load import design_from, place_from
from planform.design.models import Design
from planform.design.naming import field_name
from planform.design.pairs import Sideable
from planform.design.place import Place
from planform.design.questions import design_questions
from planform.design.sided import Sided, on_side
from planform.design.starter import schema_text
from planform.design.vary import readings, toleranced
from tests.design.test_bad_input import problems

INCHES = {"left": "0.5 m", "right": "0.6 m ± 5 mm (measured)"}


def test_every_kind_that_has_a_side_takes_a_number_for_each():
    paired = [kind.model for kind in KINDS if "side" in kind.model.model_fields]
    assert len(paired) > 4
    assert all(issubclass(model, Sideable) for model in paired)


def test_a_number_of_each_side_is_read_with_its_own_tolerance_and_name(plain):
    plain["winglets"]["winglet"]["length"] = INCHES
    design = design_from(plain)
    assert design.winglets["winglet"].length == Sided(0.5, 0.6)
    assert on_side(design, "left").winglets["winglet"].length == 0.5
    found = {str(field_name(design, path)): field_name(design, path).words
             for path, _ in readings(design) if "length" in path}  # fmt: skip
    assert found["winglets.winglet.length.left"] == "left length of the winglet"
    paths = [path for path, _ in toleranced(design)]
    assert ("winglets", "winglet", "length", "right") in paths
    assert ("winglets", "winglet", "length", "left") not in paths


def test_a_point_and_a_plain_number_of_each_side(plain):
    plain["wheels"]["main"]["leg"] = {
        "thickness": "0.05 m",
        "top": {
            "left": {"fs": "1.2 m", "bl": "0.4 m", "wl": "0.2 m"},
            "right": {"fs": "1.3 m", "bl": "0.4 m", "wl": "0.2 m"},
        },
    }
    plain["bodies"]["tip pod"] = {
        "side": "both",
        "bl": "1.5 m",
        "cuts": [
            {"fs": "0 m", "half_width": "0.1 m", "bottom": "0 m", "top": "0.2 m", "boxiness": 2.0},
            {"fs": "1 m", "half_width": {"left": "0.1 m", "right": "0.2 m"}, "bottom": "0 m",
             "top": "0.2 m", "boxiness": {"left": 2.0, "right": 4}},
        ],
    }  # fmt: skip
    design = design_from(plain)
    assert design.wheels["main"].leg.top.fs == Sided(1.2, 1.3)
    assert design.bodies["tip pod"].cuts[1].boxiness == Sided(2.0, 4.0)
    again = design_from(json.loads(design.model_dump_json(exclude_unset=True)))
    assert again == design
    parts = {part.name: part for part in build(design).parts}
    wide = {side: abs(parts[f"{side} tip pod"].points[:, 1]).max() for side in ("left", "right")}
    assert wide["left"] == pytest.approx(1.6, abs=0.005)
    assert wide["right"] == pytest.approx(1.7, abs=0.005)


BOTH = 'allowed: one value, or both sides: { left = "26 in", right = "25 7/8 in" }'
NOT_HERE = 'with a number of a part with side = "both"'
NUMBERS = "allowed: left and right for a number or a point; where more differs, write a part for"


@pytest.mark.parametrize(
    ("where", "given", "path", "told"),
    [
        ("winglets.winglet.length", {"left": "25", "right": "0.6 m"},
         "winglets.winglet.length.left", "no unit; write 25 in or 25 mm"),
        ("winglets.winglet.length", {"left": "0.6 m", "right": "-0.6 m"},
         "winglets.winglet.length.right", "allowed: a length above zero"),
        ("winglets.winglet.length", {"left": "0.6 m", "right": "40 m"},
         "winglets.winglet.length.right", "is the unit right?"),
        ("winglets.winglet.length", {"left": "0.6 m"}, "winglets.winglet.length", BOTH),
        ("winglets.winglet.length", {"left": "0.6 m", "rihgt": "0.6 m"},
         "winglets.winglet.length", BOTH),
        ("winglets.winglet.length", {"left": {"left": "1 m", "right": "1 m"}, "right": "1 m"},
         "winglets.winglet.length", NUMBERS),
        ("winglets.winglet.cant", {"left": "95 deg", "right": "5 deg"},
         "winglets.winglet.cant.left", "-90 deg to 90 deg from the vertical"),
        ("winglets.winglet.profile", {"left": "NACA 0010", "right": "NACA 0012"},
         "winglets.winglet.profile", NUMBERS),
        ("wheels.nose.bl", {"left": "0 m", "right": "0.1 m"}, "wheels.nose.bl", NOT_HERE),
        ("wheels.main.bl", {"left": "-0.1 m", "right": "0.6 m"},
         "wheels.main.bl.left", "right of the centre line"),
        ("wheels.main.flat_drop", {"left": "0.02 m", "right": "0.4 m"},
         "wheels.main.flat_drop.right", "less than half the diameter"),
        ("lifting.wing.cuts.1.bl", {"left": "-1 m", "right": "3 m"},
         "lifting.wing.cuts[2].bl.left", "further out than the cut before it"),
        ("masses.0.mass", {"left": "5 kg", "right": "6 kg"}, "masses[1].mass", NOT_HERE),
    ],
)  # fmt: skip
def test_what_is_wrong_on_one_side_is_told_of_that_side(plain, where, given, path, told):
    plain["masses"] = [{"name": "shell", "mass": "9 kg", "fs": "1 m", "wl": "0 m"}]
    *way, last = where.split(".")
    target = plain
    for step in way:
        target = target[int(step) if step.isdigit() else step]
    target[int(last) if last.isdigit() else last] = given
    found = problems(plain)
    assert told in found[path]
    assert len(found) == 1


def test_a_mistake_between_fields_names_the_side_it_is_on(plain):
    cuts = [
        {"fs": "0 m", "half_width": "0.1 m", "bottom": "0 m", "top": "0.2 m"},
        {"fs": "1 m", "half_width": "0.1 m", "bottom": {"left": "0.3 m", "right": "0 m"},
         "top": "0.2 m"},
    ]  # fmt: skip
    plain["bodies"]["tip pod"] = {"side": "both", "bl": "1 m", "cuts": cuts}
    told = problems(plain)["bodies.tip pod.cuts[2]"]
    assert "bottom '0.3 m', top '0.2 m' on the left" in told
    plain["bodies"]["tip pod"]["cuts"][1]["bottom"] = "0.3 m"
    assert "on the" not in problems(plain)["bodies.tip pod.cuts[2]"]


def test_places_know_no_left_and_right_number(room):
    room["ceiling"] = {"height": {"left": "3 m", "right": "3.1 m"}}
    assert NOT_HERE in problems(room, place_from)["ceiling.height"]


def test_one_side_is_asked_about_alone(plain):
    plain["winglets"]["winglet"]["root_chord"] = "0.4 m"
    plain["winglets"]["winglet"]["tip_chord"] = {"left": "0.5 m", "right": "0.3 m"}
    asked = [q for q in design_questions(design_from(plain)) if "root chord" in q]
    assert len(asked) == 1
    assert "(in the file: winglets.winglet.tip_chord.left)" in asked[0]


def test_span_is_from_tip_to_tip_and_winglets_are_told_apart(plain):
    bl = plain["lifting"]["wing"]["cuts"][-1]["bl"]
    half = float(bl.split(" ")[0])
    uneven = copy.deepcopy(plain)
    uneven["lifting"]["wing"]["cuts"][-1]["bl"] = {"left": f"{half - 0.2} m", "right": bl}
    was, now = (design_measures(build(design_from(t))) for t in (plain, uneven))
    assert now["wing.span"] == pytest.approx(was["wing.span"] - 0.2)
    assert {"left winglet.area", "right winglet.area"} <= {m.key for m in now.items}
    for standing in stand_all(build(design_from(uneven))):
        assert {p.name for p in standing.parts} >= {"left wing", "right wing"}


def test_the_lattice_takes_the_mean_of_both_sides(plain):
    from planform.aero.lifting import lifting_surfaces

    plain["lifting"]["wing"]["cuts"][-1]["chord"] = {"left": "0.5 m", "right": "0.55 m"}
    wing = next(s for s in lifting_surfaces(build(design_from(plain))) if s.name == "wing")
    assert wing.line.chord[-1] == pytest.approx(0.525)


def test_the_schema_offers_each_side_where_the_file_takes_it():
    schema = json.loads(schema_text("planform-design.schema.json"))
    each = {"$ref": "#/$defs/EachSide"}
    assert each in schema["$defs"]["Winglet"]["properties"]["length"]["anyOf"]
    assert each in schema["$defs"]["LiftingCut"]["properties"]["bl"]["anyOf"]
    assert each not in schema["$defs"]["Mass"]["properties"]["fs"].get("anyOf", [])
    assert each not in schema["$defs"]["Winglet"]["properties"]["on"].get("anyOf", [])
    assert "EachSide" not in json.loads(schema_text("planform-place.schema.json"))["$defs"]


@pytest.mark.parametrize("model", [Design, Place, Carrier])
def test_files_themselves_are_no_pairs(model):
    assert issubclass(model, Model)
    assert not issubclass(model, Sideable)

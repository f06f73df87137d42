"""Shared values: named once, used in sums and differences, one reading wherever they stand."""

from __future__ import annotations

import copy
import json
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.design.load import carrier_from, changed, design_from, place_from
from planform.design.naming import field_name
from planform.design.questions import (
    assumptions,
    design_questions,
    place_questions,
    value_questions,
)
from planform.design.sided import Sided
from planform.design.vary import own_readings, readings, shifted, toleranced
from planform.study.spreads_of_measures import measure_spreads
from tests.design.test_bad_input import problems

INCH = 0.0254
SHARED = {
    "spar": "FS 40 in ± 1/8 in (measured)",
    "gap": "4 in",
    "aft": "= spar + gap",
    "lean": "10 deg",
    "tip": {"left": "0.5 m", "right": "0.6 m ± 5 mm"},
}


@pytest.fixture
def shared(plain):
    """A design with shared values in wing, wheels and winglets."""
    plain["values"] = dict(SHARED)
    plain["lifting"]["wing"]["cuts"][0]["fs"] = "= aft - 2 in"
    plain["wheels"]["main"]["fs"] = "= spar + 8 in ± 1/16 in (drawing)"
    plain["winglets"]["winglet"] |= {"cant": "= lean", "length": "= tip"}
    return plain


def test_sums_are_worked_out_and_written_as_they_were(shared):
    design = design_from(copy.deepcopy(shared))
    assert float(design.lifting["wing"].cuts[0].fs) == pytest.approx(42 * INCH)
    assert design.winglets["winglet"].length == Sided(0.5, 0.6)
    wheel = design.wheels["main"].fs
    assert float(wheel) == pytest.approx(48 * INCH)
    assert wheel.tolerance == pytest.approx(INCH / 16)
    assert wheel.whole_tolerance == pytest.approx(INCH * 3 / 16)
    assert wheel.source == "drawing"
    table = design.model_dump(mode="json", exclude_unset=True)
    assert table == shared
    assert design_from(json.loads(json.dumps(table))) == design


def test_moving_a_value_moves_every_field_it_stands_in(shared):
    design = design_from(shared)
    found = dict(toleranced(design))
    assert ("values", "spar") in found
    assert ("lifting", "wing", "cuts", 0, "fs") not in found
    after = shifted(design, ("values", "spar"), 0.01)
    moved = {path for (path, a), (_, b) in zip(readings(design), readings(after), strict=True)
             if abs(b - a - 0.01) < 1e-12}  # fmt: skip
    assert moved == {
        ("values", "spar"),
        ("values", "aft"),
        ("lifting", "wing", "cuts", 0, "fs"),
        ("wheels", "main", "fs"),
    }
    assert after.bodies is design.bodies  # what it does not stand in is the very same
    assert after.wheels["nose"] is design.wheels["nose"]
    alone = shifted(design, ("wheels", "main", "fs"), 0.01)
    assert alone.values is design.values
    assert alone.lifting is design.lifting
    left = shifted(design, ("values", "tip", "left"), 0.01).winglets["winglet"].length
    assert left.left == pytest.approx(0.51)
    assert left.right == 0.6


def test_a_difference_cancels_what_both_stand_on(shared):
    shared["bodies"]["pod"]["cuts"][0]["half_width"] = "= aft - spar"
    design = design_from(shared)
    assert float(design.bodies["pod"].cuts[0].half_width) == pytest.approx(4 * INCH)
    after = shifted(design, ("values", "spar"), 0.05)
    assert after.bodies["pod"].cuts[0].half_width == design.bodies["pod"].cuts[0].half_width
    after = shifted(design, ("values", "gap"), 0.01)
    assert float(after.bodies["pod"].cuts[0].half_width) == pytest.approx(4 * INCH + 0.01)


def test_the_answer_names_the_value(shared):
    design = design_from(shared)
    name = field_name(design, ("values", "spar"))
    assert (str(name), name.words) == ("values.spar", "the shared value spar")
    name = field_name(design, ("values", "tip", "left"))
    assert str(name) == "values.tip.left"
    assert "tip" in name.words
    assert "left" in name.words


def test_a_value_changed_changes_all_that_stand_on_it(shared):
    design = changed(design_from(shared), "values.spar", "FS 41 in")
    assert float(design.lifting["wing"].cuts[0].fs) == pytest.approx(43 * INCH)
    assert float(design.wheels["main"].fs) == pytest.approx(49 * INCH)


def test_a_sum_is_no_reading_of_its_own(shared):
    design = design_from(shared)
    own = [path for path, _ in own_readings(design)]
    assert ("values", "spar") in own
    assert ("winglets", "winglet", "cant") not in own
    assert ("wheels", "main", "fs") in own  # it has a tolerance of its own
    plainly = copy.deepcopy(shared)
    plainly["winglets"]["winglet"]["cant"] = "10 deg"
    del plainly["values"]["lean"]
    assert assumptions(design)[-1] == assumptions(design_from(plainly))[-1]


def test_an_unused_value_is_asked_about(shared, room):
    shared["values"]["spare"] = "3 in"
    asked = [q for q in design_questions(design_from(shared)) if "values." in q]
    assert asked == [
        "the shared value spare: no field stands on it; is one still a number? "
        "(in the file: values.spare)"
    ]
    room["values"] = {"post": "0.2 m"}
    assert any("values.post" in q for q in place_questions(place_from(room)))


def test_places_and_carriers_have_values_too(room):
    wide = room["floor"]["width"]
    room["values"] = {"wide": wide}
    room["floor"]["width"] = "= wide + 1 m"
    assert float(place_from(room).floor.width) == pytest.approx(float(wide.split(" ")[0]) + 1.0)
    cart = {
        "format": "planform carrier 1", "name": "Cart", "units": "m",
        "values": {"deck": "5 m ± 10 mm", "none": "1 m"},
        "bed": {"length": "= deck - 1 m", "width": "2 m"},
    }  # fmt: skip
    carrier = carrier_from(cart)
    assert carrier.bed.length == 4.0
    assert [path for path, _ in toleranced(carrier)] == [("values", "deck")]
    assert len(list(value_questions(carrier))) == 1


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("= spr + 4 in", "no value has the name spr; did you mean spar? names in [values]: spar"),
        ("= lean", "lean is an angle; allowed: a length"),
        ("= spar + lean", "spar is a length and lean is an angle; allowed: quantities of one kind"),
        ("= spar + 4 lb", "4 lb: lb is a unit of mass"),
        ("= spar + 4", "4: no unit; write 4 in or 4 mm"),
        ("= spar * 2", "allowed: names and quantities with + or - between spaces"),
        ("= spar+4 in", "allowed: names and quantities with + or - between spaces"),
        ("= 2 spar", "2 spar: allowed: a length with its unit"),
        ("=", "a name or a quantity is missing"),
        ("= spar +", "spar +: allowed: a length"),
        ("= spar ± 1/8 in (guessed)", "no such source"),
        ("= spar ± 1", "no unit; write 1 in"),
        ("= spar - 900 m", "allowed: at most 300 m"),
        ("= tip", 'with a number of a part with side = "both"'),
        ("= spar" + " + 1 in" * 20, "too long: at most 80 characters"),
    ],
)
def test_a_sum_that_is_none_is_told_in_its_field(shared, given, told):
    shared["wheels"]["nose"]["fs"] = given
    found = problems(shared)
    assert told in found["wheels.nose.fs"]
    assert len(found) == 1


@pytest.mark.parametrize(
    ("name", "given", "told"),
    [
        ("gap", "4", "allowed: a length, an angle, a mass"),
        ("gap", 0, "allowed: a length, an angle, a mass"),
        ("gap", "nonsense", "allowed: a length, an angle, a mass"),
        ("gap", "= gap", "a value that stands on itself (gap → gap)"),
        ("gap", "= aft", "a value that stands on itself"),
        ("gap", "= nothing", "no value has the name nothing"),
        ("front gap", "4 in", "allowed: a name of letters, digits and _ that begins with a letter"),
        ("gap", {"left": "4 in"}, "allowed: one value, or both sides"),
        ("far", {"left": "4 in", "right": "4 lb"}, "a left and a right one of the same kind"),
        ("gap", "4 in ± 50 m", "a tolerance of at most 1 m"),
    ],
)
def test_a_bad_value_is_told_once_where_it_stands(shared, name, given, told):
    shared["values"][name] = given
    found = problems(shared)
    assert told in found[f"values.{name}"]
    assert len(found) == 1


def test_a_tolerance_of_a_value_counts_where_a_length_must_stay_above_zero(shared):
    shared["values"]["thin"] = "2 mm ± 5 mm"
    shared["wheels"]["nose"]["width"] = "= thin"
    assert "a tolerance of less than the length" in problems(shared)["wheels.nose.width"]


def test_prose_may_begin_with_an_equals_sign(shared):
    shared["story"] = "= is how sums begin"
    assert design_from(shared).story == "= is how sums begin"


def test_spreads_tell_the_value_as_one_input(shared):
    from planform.airframe.build import build
    from planform.airframe.stance import stand_all

    shared["values"]["high"] = "0.5 m ± 10 mm"
    low = shared["wheels"]["main"]["wl"]
    shared["wheels"]["main"]["wl"] = f"= high - 0.5 m {'-' if low.startswith('-') else '+'} " + (
        low.removeprefix("-")
    )
    nose = shared["wheels"]["nose"]["wl"]
    shared["wheels"]["nose"]["wl"] = f"= high - 0.5 m {'-' if nose.startswith('-') else '+'} " + (
        nose.removeprefix("-")
    )
    design = design_from(shared)
    standing = stand_all(build(design))[-1]
    spread = measure_spreads([standing]).standings[0]["height"]
    told = dict(spread.by_input)
    # both wheels rise with the value, so the whole aircraft sinks by as much
    assert told["values.high"] == pytest.approx(0.010, abs=2e-4)
    assert not any(str(name).startswith("wheels.") and "wl" in str(name) for name in told)


@settings(max_examples=60, deadline=None)
@given(
    terms=st.lists(
        st.tuples(st.sampled_from(["+", "-"]), st.sampled_from(["a", "b", "c", "q"]),
                  st.integers(0, 64)),
        min_size=1, max_size=5,
    ),
    base=st.tuples(st.integers(1, 640), st.integers(1, 640)),
)  # fmt: skip
def test_sums_are_those_of_their_terms(terms, base):
    cart = {
        "format": "planform carrier 1", "name": "Cart", "units": "in",
        "values": {"a": f"{base[0]} in", "b": f"{base[1]} in",
                   "c": "= a - b"},
        "bed": {"length": "5 m", "width": "2 m"},
    }  # fmt: skip
    worth = {"a": base[0], "b": base[1], "c": base[0] - base[1]}
    text, whole = "=", Fraction(0)
    for sign, name, eighths in terms:
        term = name if name != "q" else f"{eighths}.5 in"
        whole += (-1 if sign == "-" else 1) * Fraction(
            worth[name] if name != "q" else Fraction(2 * eighths + 1, 2)
        )
        text += f" {sign} {term}"
    cart["values"]["sum"] = text
    carrier = carrier_from(cart)
    assert float(carrier.values["sum"]) == pytest.approx(
        float(whole * Fraction("0.0254")), abs=1e-9
    )
    stands_on = {"a": {"a": 1}, "b": {"b": 1}, "c": {"a": 1, "b": -1}, "q": {}}
    times = {"a": 0, "b": 0}
    for sign, name, _ in terms:
        for one, by in stands_on[name].items():
            times[one] += by * (-1 if sign == "-" else 1)
    for one, by in times.items():
        after = shifted(carrier, ("values", one), 0.25)
        moved = float(after.values["sum"]) - float(carrier.values["sum"])
        assert moved == pytest.approx(0.25 * by, abs=1e-9)

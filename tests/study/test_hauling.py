"""Parts on a carrier: statics by hand, places by a general library, refusals."""

from __future__ import annotations

import copy
from itertools import combinations, product

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.design.load import carrier_from, design_from, load_carrier
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED
from planform.study.hauling import haul, pieces_of
from planform.study.load_limits import centre_of, hitch_load
from planform.study.stowing import attitudes, least_box
from tests.conftest import DESIGNS, PLAIN

TRAILER = {
    "format": "planform carrier 1",
    "name": "Trailer",
    "units": "m",
    "bed": {"length": "6 m", "width": "2 m", "over_road": "0.6 m", "gap": "0.05 m"},
    "running": {
        "axles": ["3 m", "4 m"],
        "hitch": "1.5 m",
        "empty": "500 kg",
        "empty_hitch": "40 kg",
        "payload": "800 kg",
        "hitch_least": "30 kg",
        "hitch_most": "120 kg",
    },
    "road": {"width": "2.55 m", "height": "4 m"},
}
BOX = {
    "format": "planform carrier 1",
    "name": "Box",
    "units": "m",
    "bed": {"length": "5 m", "width": "2.3 m", "headroom": "2.3 m", "gap": "0.05 m"},
    "end_door": {"clear_width": "2.2 m", "clear_height": "2.2 m"},
}
MASSES = [
    {"name": "wings", "mass": "80 kg", "fs": "1.2 m", "bl": "0 m", "wl": "0 m", "part": "wing"},
    {
        "name": "winglets", "mass": "10 kg", "fs": "2.2 m", "bl": "0 m", "wl": "0.5 m",
        "part": "winglet",
    },
]  # fmt: skip


def design(masses=True):
    table = copy.deepcopy(PLAIN)
    if masses:
        table["masses"] = MASSES
    return design_from(table)


def carrier(base, **changes):
    table = copy.deepcopy(base)
    for path, value in changes.items():
        where, name = path.split("__")
        table[where][name] = value
    return carrier_from(table)


def test_the_hitch_is_the_worked_example_by_moments():
    """Closed form, by hand: axles' middle 3.5 m behind the front, hitch 1.5 m ahead: arm 5 m.
    100 kg at 2 m: 40 + 100 (3.5 - 2) / 5 = 70 kg; behind the axles at 4.5 m: 40 - 20 = 20 kg.
    """
    assert hitch_load(carrier(TRAILER), 100.0, 2.0) == pytest.approx(70.0)
    assert hitch_load(carrier(TRAILER), 100.0, 4.5) == pytest.approx(20.0)


@given(st.floats(1.0, 900.0), st.floats(0.0, 6.0), st.floats(0.0, 2.0))
def test_hitch_and_axles_carry_the_load_together(mass, along, push):
    """Moments about the hitch and about the axles agree; pushed back, the hitch gets lighter."""
    one = carrier(TRAILER)
    here = hitch_load(one, mass, along) - 40.0
    axles = mass * (along + 1.5) / 5.0
    assert here + axles == pytest.approx(mass)
    assert hitch_load(one, mass, along + push) <= hitch_load(one, mass, along) + 1e-9


def test_a_spar_inside_a_piece_is_weighed_with_it():
    """It lies inside the skin, so no outline has it; by hand half of 80 kg and half of 14 kg."""
    table = copy.deepcopy(PLAIN)
    ends = {"root": {"bl": "0.1 m", "chord_fraction": 0.3}, "tip": {"chord_fraction": 0.3}}
    table["spars"] = {"spar": ends | {"on": "wing", "width": "40 mm", "inside": "4 mm"}}
    spar = {"name": "spar", "mass": "14 kg", "fs": "1 m", "wl": "0 m", "part": "spar"}
    table["masses"] = [*MASSES, spar]
    airframe = pf.build(design_from(table))
    assert airframe.by_name["left spar"].within
    (left,) = pieces_of(airframe, ["left wing"])
    assert [part.name for part in left.carried.parts] == ["left wing"]
    assert left.item.mass == pytest.approx(47.0)
    alone, whole = pieces_of(airframe, ["left wing", "left spar"])
    assert (alone.item.mass, whole.item.mass) == pytest.approx((40.0, 7.0))


def test_masses_follow_the_parts():
    """Half of a pair's item with one side; the whole centre as by hand."""
    airframe = pf.build(design())
    (left,) = pieces_of(airframe, ["left wing + left winglet"])
    assert left.name == "left wing and left winglet"
    assert left.item.mass == pytest.approx(45.0)
    assert left.item.fs == pytest.approx((40.0 * 1.2 + 5.0 * 2.2) / 45.0)
    assert left.item.bl < -1.0
    (bare,) = pieces_of(pf.build(design(masses=False)), ["left wing"])
    assert bare.item is None
    assert bare.missing == ("wing",)


def test_places_are_apart_on_the_bed_and_hold_the_parts():
    airframe = pf.build(design())
    found = haul(airframe, carrier(BOX), ["left wing", "right wing", "left winglet"])
    assert found.found
    bed = shapely.box(0.0, 0.0, 5.0, 2.3)
    boxes = [shapely.box(one.box[0], one.box[2], one.box[1], one.box[3]) for one in found.loaded]
    for box in boxes:
        assert bed.buffer(-0.05 + 1e-9, join_style="mitre").covers(box)
    for a, b in combinations(boxes, 2):
        assert a.distance(b) >= 0.05 - 1e-9
    for one in found.loaded:
        assert one.attitude.size[2] <= 2.2
        for part in one.attitude.piece.carried.parts:
            there = part.points @ one.attitude.axes.T - one.attitude.low
            assert (there >= -1e-9).all()
            assert (there <= one.attitude.size + 1e-9).all()
        assert np.linalg.det(one.attitude.axes) == pytest.approx(1.0)  # turned, not mirrored


def test_the_least_box_is_about_that_of_a_general_library():
    """trimesh's oriented box (its own search) beside ours; ours may be the smaller one."""
    airframe = pf.build(design())
    for name in ("left wing", "left winglet", "pod"):
        (piece,) = pieces_of(airframe, [name])
        ours = float((least_box(piece.carried)[2] - 2.0 * piece.carried.margin).prod())
        hull = trimesh.convex.convex_hull(piece.carried.hull)
        _, theirs = trimesh.bounds.oriented_bounds(hull)
        assert ours <= 1.05 * float(np.prod(theirs))


def test_the_load_is_pushed_back_for_the_hitch():
    airframe = pf.build(design())
    base = carrier(TRAILER, running__hitch_most="60 kg")
    found = haul(airframe, base, ["left wing", "right wing"])
    assert found.shift > 0.0
    lines = {line.name: line for line in found.lines}
    hitch = lines["load on the hitch, most"].value
    assert hitch == pytest.approx(hitch_load(base, found.mass, float(found.centre[0])))
    free = 6.0 - max(one.box[1] for one in found.loaded)
    assert hitch == pytest.approx(45.0) or free == pytest.approx(0.0)
    assert found.centre == pytest.approx(centre_of(found.loaded))


def test_limits_are_held_one_by_one():
    airframe = pf.build(design())
    found = haul(airframe, carrier(TRAILER, running__payload="60 kg"), ["wing+winglet"])
    assert not found.found
    assert found.too_large == (found.pieces[0].name,)
    found = haul(airframe, carrier(TRAILER, running__payload="60 kg"), ["left wing", "right wing"])
    lines = {line.name: line for line in found.lines}
    assert lines["payload"].verdict == NOT
    assert lines["payload"].left == pytest.approx(-20.0)
    assert found.verdict == NOT
    bare = haul(pf.build(design(masses=False)), carrier(TRAILER), ["left wing"])
    assert {line.name: line.verdict for line in bare.lines}["payload"] == UNJUDGED
    assert bare.verdict == UNJUDGED
    assert haul(airframe, carrier(TRAILER), ["left wing"]).verdict == FITS


@pytest.mark.parametrize(
    ("base", "changes", "told"),
    [
        (TRAILER, {"running__axles": ["7 m"]}, r"running.axles\[1\].*under the bed"),
        (TRAILER, {"running__axles": []}, "running.axles"),
        (TRAILER, {"running__hitch_least": "200 kg"}, "no more than hitch_most"),
        (TRAILER, {"running__empty_hitch": "600 kg"}, "less than the whole trailer"),
        (TRAILER, {"bed__length": "0 m"}, "a length above zero"),
        (BOX, {"end_door__clear_width": "2.4 m"}, "no more than bed.width"),
        (BOX, {"end_door__clear_height": "2.4 m"}, "no more than bed.headroom"),
        (BOX, {"bed__hight": "2 m"}, "no such field"),
    ],
)
def test_what_does_not_go_together_is_told(base, changes, told):
    with pytest.raises(pf.InputError, match=told):
        carrier(base, **changes)


def test_a_door_without_a_roof_is_told():
    table = copy.deepcopy(BOX)
    del table["bed"]["headroom"]
    with pytest.raises(pf.InputError, match=r"give bed\.headroom"):
        carrier_from(table)


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ([], "allowed: wing"),
        (["left wing", "wing"], "left wing is in another piece already"),
        (["left wyng"], "did you mean 'left wing'"),
    ],
)
def test_wrong_pieces_are_told(names, told):
    with pytest.raises(pf.InputError, match=told):
        pieces_of(pf.build(design()), names)


def test_demo_carriers_take_a_wing_apart():
    airframe = pf.build(pf.load(DESIGNS / "quillwort.toml"))
    sides = ("left", "right")
    names = [f"{side} {part}" for part, side in product(("outer panel", "winglet"), sides)]
    for name in ("flat-trailer", "box-container"):
        assert haul(airframe, load_carrier(DESIGNS / f"{name}.toml"), names).found


def test_tolerances_reach_every_limit():
    """By hand: the payload by the masses', the end door by half of its width's."""
    table = copy.deepcopy(PLAIN)
    table["masses"] = copy.deepcopy(MASSES)
    table["masses"][0]["mass"] = "80 kg ± 2 kg (measured)"
    airframe = pf.build(design_from(table))
    base = carrier(TRAILER, running__payload="800 kg ± 5 kg (measured)")
    found = haul(airframe, base, ["left wing", "right wing"])
    inputs = dict(found.spreads["payload"].by_input)
    assert inputs["Plain: masses[1].mass"] == pytest.approx(2.0)
    assert inputs["Trailer: running.payload"] == pytest.approx(5.0)
    assert found.spreads["payload"].worst == pytest.approx(7.0)
    hitch = dict(found.spreads["load on the hitch, most"].by_input)
    arm = 3.5 - float(found.centre[0])
    assert hitch["Plain: masses[1].mass"] == pytest.approx(2.0 * abs(arm) / 5.0)
    box = carrier(BOX, end_door__clear_width="1.2 m ± 10 mm (measured)")
    found = haul(pf.build(design()), box, ["left winglet"])
    worst = found.spreads["left winglet through the end door"].worst
    assert worst == pytest.approx(0.005) or worst == 0.0


def test_a_limit_within_the_tolerance_needs_care():
    table = copy.deepcopy(PLAIN)
    table["masses"] = copy.deepcopy(MASSES)
    table["masses"][0]["mass"] = "80 kg ± 2 kg (measured)"
    found = haul(
        pf.build(design_from(table)),
        carrier(TRAILER, running__payload="81 kg"),
        ["left wing", "right wing"],
    )
    assert {line.name: line.verdict for line in found.lines}["payload"] == CARE
    assert found.verdict == CARE


@pytest.mark.parametrize("name", ["outer panel", "winglet"])
def test_a_left_and_a_right_piece_stand_alike(name):
    airframe = pf.build(pf.load(DESIGNS / "marram.toml"))
    left, right = (pieces_of(airframe, [f"{side} {name}"])[0] for side in ("left", "right"))
    there = {(a.words, *np.round(a.size, 6)): a for a in attitudes(right)}
    for one in attitudes(left):
        other = there[(one.words, *np.round(one.size, 6))]
        assert np.linalg.det(one.axes) > 0.0
        assert np.linalg.det(other.axes) > 0.0
        middles = [
            a.axes @ a.piece.carried.hull.mean(axis=0) - a.low - 0.5 * a.size for a in (one, other)
        ]
        assert middles[0][[0, 2]] == pytest.approx(middles[1][[0, 2]], abs=1e-6)
        assert abs(middles[0][1]) == pytest.approx(abs(middles[1][1]), abs=1e-6)
        assert middles[0][2] <= 1e-6  # what there is more of lies down

"""Several aircraft in one hall: what is told is checked by other means."""

from __future__ import annotations

import copy
import dataclasses
from functools import cache
from itertools import pairwise
from types import SimpleNamespace

import fcl
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.outlines import band_outline
from planform.design.load import design_from, place_from
from planform.design.told import said
from planform.fit import proof
from planform.fit.moves import Pose
from planform.fit.packing import keeping, pack
from planform.fit.parked import as_things, levels, slices
from planform.fit.parked_gaps import Between, Flat, OneOver, flat_tyres
from planform.fit.question import question_at
from planform.fit.swept import at_pose
from planform.report.packing.tables import _flats, _gaps
from planform.report.packing.words import headline
from planform.report.table import Quantity, cell
from tests.collision import tree
from tests.conftest import DESIGNS, PLAIN, ROOM

GAP, OVER = 0.2, 0.1


@cache
def standing():
    return pf.stand_all(pf.build(design_from(copy.deepcopy(PLAIN))))[0]


def hall(width=20.0, depth=9.0, more=0.0):
    room = copy.deepcopy(ROOM)
    room["floor"] = {"width": f"{width + more} m", "depth": f"{depth + more} m"}
    room["doors"][0] |= {"clear_width": f"{width - 2} m"}
    room["spots"] = []
    return pf.build_room(place_from(room))


@cache
def packed():
    return pack(hall(), [("one", standing()), ("two", standing())], GAP, OVER)


def test_two_are_packed_and_every_way_holds_up():
    found = packed()
    assert found.found
    assert [b.number for b in found.berths] == [1, 2]
    keep = keeping(found.room, GAP, OVER)
    for berth in found.berths:
        kept = question_at(berth.standing, berth.room, berth.pose, keep)
        assert kept.parked >= 0.0
        assert proof.sweep(kept.plan, berth.route, 0.0).good
        assert proof.sweep(kept.plan, berth.way_in, 0.0).good
        assert berth.route.clearance > 0.0
    assert sum(t.kind == "aircraft" for t in found.berths[0].room.fixed) == 0
    assert sum(t.kind == "aircraft" for t in found.berths[1].room.fixed) > 5


def test_the_gap_told_is_that_of_a_general_library():
    """python-fcl between the solids as they stand, less what true curves may take."""
    (one,) = packed().between
    first, second = ([tree(p, f) for _, p, f, _ in b.solids] for b in packed().berths)
    least = min(
        fcl.distance(a, b, fcl.DistanceRequest(), fcl.DistanceResult())
        for a in first
        for b in second
    )
    assert one.apart <= least + 1e-6
    assert one.apart >= least - 2.0 * standing().bulge - 1e-6
    assert one.apart >= min(GAP, OVER)


def test_a_larger_hall_keeps_what_was_found():
    larger = hall(more=2.0)
    keep = keeping(larger, GAP, OVER)
    for berth in packed().berths:
        before = [b for b in packed().berths if b.number < berth.number]
        things = tuple(t for b in before for t in as_things(b.standing, b.pose, b.name))
        room = pf.build_room(larger.place)
        room = type(room)(room.place, (*room.fixed, *things), room.floor, room.top)
        question = question_at(berth.standing, room, berth.pose, keep)
        assert question.parked >= 0.0


def test_no_room_for_two_is_not_found_which_proves_nothing():
    found = pack(hall(8.9, 5.0), [("one", standing()), ("two", standing())], GAP, OVER)
    assert not found.found
    assert found.refused == ""
    assert found.whole


def test_both_orders_are_tried_where_two_of_one_design_stand_otherwise():
    design = copy.deepcopy(PLAIN)
    design["stances"]["flat"] = {"on": ["nose", "main"], "flat": ["left main"]}
    airframe = pf.build(design_from(design))
    (stage,) = airframe.design.stages
    level, low = (pf.stand(airframe, stage, stance) for stance in ("gear", "flat"))

    def first_in(*aircraft):
        names = []
        pack(hall(8.9, 5.0), aircraft, GAP, OVER, lambda step: not names.append(step.split(",")[0]))
        return set(names)

    assert first_in(("one", level), ("two", level)) == {"one"}
    assert first_in(("one", level), ("two", low)) == {"one", "two"}


def test_one_too_high_is_refused_with_its_reason():
    room = copy.deepcopy(ROOM)
    room["doors"][0]["clear_height"] = "1.5 m"
    found = pack(pf.build_room(place_from(room)), [("one", standing())], GAP, OVER)
    assert found.refused.startswith("one: ")
    assert "higher than every door head" in found.refused


def test_the_search_can_be_ended():
    found = pack(hall(), [("one", standing()), ("two", standing())], GAP, OVER, lambda step: False)
    assert (found.found, found.whole, found.tried) == (False, False, 0)


def test_the_same_answer_every_time():
    again = pack(hall(), [("one", standing()), ("two", standing())], GAP, OVER)
    assert [b.pose for b in again.berths] == [b.pose for b in packed().berths]


def test_a_flat_tyre_lowers_a_tip(plain):
    """The far tip rises and the near one sinks; what is left is measured anew."""
    flats = flat_tyres(packed().berths, packed().room)
    assert {f.wheel for f in flats} == {"left main", "right main"}
    assert len(flats) == 4
    assert all(abs(f.left - f.before) < 0.4 for f in flats)
    assert any(f.left != pytest.approx(f.before, abs=1e-6) for f in flats)


@pytest.mark.parametrize("name", ["marram", "quillwort", "samphire"])
def test_slices_hold_all_of_the_aircraft(name):
    """At any height the section lies in its slice's outline."""
    aircraft = pf.stand_all(pf.build(pf.load(DESIGNS / f"{name}.toml")))[-1]
    marks = levels(aircraft)
    assert marks == sorted(marks)
    assert len(slices(aircraft)) == len(marks) - 1
    for (low, high), (_, _, region) in zip(pairwise(marks), slices(aircraft), strict=True):
        for share in (0.05, 0.5, 0.95):
            z = low + share * (high - low)
            for part in aircraft.parts:
                thin = band_outline(part, z, z + 1e-3)
                assert thin.is_empty or region.buffer(1e-6).covers(thin)


def test_a_parked_aircraft_is_placed_as_its_pose_says():
    pose = Pose(3.0, 4.0, 0.7)
    rings = [t.outline for t in as_things(standing(), pose, "other")]
    whole = shapely.union_all([shapely.polygons(r) for r in rings])
    flat = shapely.union_all([band_outline(p, -1.0, 9.0) for p in standing().parts])
    assert whole.buffer(1e-6).covers(at_pose(flat, pose))


def test_a_flat_tyre_that_lets_it_touch_is_said_first():
    found = packed()
    flat = dataclasses.replace(found.flats[0], left=-0.01)
    told = headline(dataclasses.replace(found, flats=(flat, *found.flats[1:])))
    assert f"{flat.wheel} tyre flat {flat.part} touches {flat.thing}" in told
    assert headline(found) == "found and proved: the order below works"


@given(apart=st.floats(0.0, 2.0), system=st.sampled_from(["mm", "m", "in", "ft-in"]))
def test_one_distance_reads_alike_wherever_it_is_told(apart, system):
    over = OneOver("a: wing", "b: wing", apart)
    between = Between("a", "b", apart, "wing", "wing", (over,))
    room = SimpleNamespace(part="wing", thing="wall", gap=apart)
    flat = Flat("a", "nose", apart, "wing", "wall", apart)
    found = SimpleNamespace(between=(between,), walls=(("a", room),), flats=(flat,))
    told = {
        cell(one, system)
        for sheet in (_gaps(found, {}), _flats(found))
        for row in sheet.rows
        for one in row
        if isinstance(one, Quantity) and one.kind != "fine"
    }
    assert told == {said(apart, "gap", system)}


def test_nobody_is_put_where_room_is_kept_free():
    """A place in the middle of where it stands without that: clear of it with it, by shapely."""

    def berth(zone):
        room = copy.deepcopy(ROOM) | {"kept_free": zone, "spots": []}
        (found,) = pack(pf.build_room(place_from(room)), [("one", standing())], GAP, OVER).berths
        bands = [band_outline(part, 0.0, 2.0) for part in found.standing.parts]
        return at_pose(shapely.union_all(bands), found.pose)

    bare = berth([])
    x, y = bare.centroid.x, bare.centroid.y
    ring = [(x - 0.6, y - 0.6), (x + 0.6, y - 0.6), (x + 0.6, y + 0.6), (x - 0.6, y + 0.6)]
    kept = shapely.polygons(ring)
    zone = {"name": "walkway", "top": "2 m", "outline": [[f"{a} m", f"{b} m"] for a, b in ring]}
    assert bare.intersects(kept)
    assert berth([zone]).distance(kept) > 0.0

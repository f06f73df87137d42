"""Spars, ribs and bulkheads by themselves: carried, hauled, with tolerances, and inside skins."""

from __future__ import annotations

import copy

import pytest

import planform as pf
from planform.airframe.stance import stand_on
from planform.design.load import carrier_from, design_from, place_from
from planform.fit.carrying import one_piece
from planform.study.hauling import haul
from planform.study.judging import judge
from tests.conftest import PLAIN, ROOM
from tests.laws.alike import answer
from tests.laws.worlds import World, world

BOX = {
    "on": "wing", "carried_by": "pod", "side": "centre", "width": "50 mm", "height": "80 mm",
    "tip": {"bl": "0.5 m", "fs": "0.7 m"},
}  # fmt: skip
CARRIER = world(0).carrier


def with_inner(**fields):
    return copy.deepcopy(PLAIN) | fields


def test_a_box_spar_is_carried_through_its_own_section():
    """By hand: a straight box of 50 mm by 80 mm, 1 m long, needs its end."""
    airframe = pf.build(design_from(with_inner(spars={"carry-through": BOX})))
    way = one_piece(airframe, ["carry-through"]).ways[0]
    assert sorted(way.rectangle) == pytest.approx([0.05, 0.08], abs=1e-3)
    assert way.length == pytest.approx(1.0, abs=2e-3)


def test_a_bulkhead_is_carried_flat_through_its_thickness_and_lesser_side():
    """By hand: a plate 0.6 m wide, 0.4 m high, 6 mm thick."""
    plate = {"on": "pod", "fs": "0.5 m", "thickness": "6 mm", "width": "0.6 m",
             "bottom": "-0.2 m", "top": "0.2 m"}  # fmt: skip
    airframe = pf.build(design_from(with_inner(bulkheads={"firewall": plate})))
    way = one_piece(airframe, ["firewall"]).ways[0]
    assert sorted(way.rectangle) == pytest.approx([0.006, 0.4], abs=1e-3)
    assert way.length == pytest.approx(0.6, abs=2e-3)


def test_a_rib_is_carried_through_its_thickness_and_its_section_is_its_length():
    """NACA 0012 of 2 m chord: 0.24 m thick at the most."""
    rib = {"on": "wing", "bl": "0 m", "thickness": "5 mm"}
    airframe = pf.build(design_from(with_inner(ribs={"root rib": rib})))
    way = one_piece(airframe, ["right root rib"]).ways[0]
    assert sorted(way.rectangle) == pytest.approx([0.005, 0.24], abs=3e-3)
    assert way.length == pytest.approx(2.0, abs=0.01)


def test_a_spar_and_a_bulkhead_are_hauled_by_what_they_weigh():
    spar = {"name": "spar", "mass": "9 kg", "fs": "0.7 m", "wl": "0 m", "part": "carry-through"}
    plate = {"on": "pod", "fs": "0.5 m", "thickness": "6 mm", "width": "0.6 m",
             "bottom": "-0.2 m", "top": "0.2 m"}  # fmt: skip
    wall = {"name": "wall", "mass": "4 kg", "fs": "0.5 m", "wl": "0 m", "part": "firewall"}
    table = with_inner(spars={"carry-through": BOX}, bulkheads={"firewall": plate})
    table["masses"] = [spar, wall]
    airframe = pf.build(design_from(table))
    found = haul(airframe, carrier_from(CARRIER), ["carry-through", "firewall"])
    assert found.mass == pytest.approx(13.0)


def bare(spar):
    """Spars alone on their wheels, in a room whose ceiling is near."""
    table = with_inner(spars={"beam": spar})
    stage = {"name": "spars", "stance": "gear", "bare": ["wing"],
             "without": ["pod", "winglet"]}  # fmt: skip
    table["stages"] = [stage, *table["stages"]]
    room = copy.deepcopy(ROOM) | {"ceiling": {"height": "1.5 m"}}
    room["doors"][0]["clear_height"] = "1.4 m"
    return table, room


def test_what_a_spar_may_be_off_is_taken_from_the_gap_over_it():
    """By hand: a box about the section's middle is half its height over that: 10 mm take 5."""
    spar = {"on": "wing", "side": "both", "width": "40 mm", "height": "0.3 m ± 10 mm (measured)",
            "root": {"bl": "0.1 m", "chord_fraction": 0.3},
            "tip": {"chord_fraction": 0.3}}  # fmt: skip
    table, room = bare(spar)
    airframe = pf.build(design_from(table))
    standing = stand_on(airframe, airframe.design.stages[0])
    found = judge(standing, place_from(room), "middle")
    over = next(check for check in found.checks if check.key == "ceiling")
    assert "beam" in over.detail
    by = dict(over.spread.by_input)
    assert by["Plain: spars.beam.height"] == pytest.approx(0.005, abs=1e-6)
    assert over.worst == pytest.approx(0.005, abs=1e-6)


@pytest.mark.parametrize("bench", [False, True])
def test_a_way_out_is_the_same_with_and_without_spars_inside_their_skins(bench):
    """All that `rollout --json` says."""
    ends = {"root": {"bl": "0.1 m", "chord_fraction": 0.3}, "tip": {"chord_fraction": 0.3}}
    spar = ends | {"on": "wing", "width": "40 mm", "inside": "4 mm"}
    place = copy.deepcopy(ROOM)
    if bench:  # a thing in the way, so that the way has turns
        ring = [["4 m", "1 m"], ["5 m", "1 m"], ["5 m", "1.3 m"], ["4 m", "1.3 m"]]
        place["obstacles"] = [{"name": "bench", "kind": "standing", "outline": ring, "top": "1 m"}]
    inner = with_inner(spars={"spar": spar})
    assert pf.build(design_from(inner)).by_name["left spar"].within == ("left wing",)
    here, there = (
        answer(World(table, place, CARRIER), "rollout") for table in (with_inner(), inner)
    )
    assert here["verdict"]
    assert here == there

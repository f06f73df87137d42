"""Tolerances of parts carried out and of aircraft parked together, by hand."""

from __future__ import annotations

import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.carrying import one_piece, spare_of, through_doors
from planform.fit.packing import pack
from planform.study.spreads_of_parked import carried_spreads, key_between, key_room, packed_spreads


def test_a_door_gives_half_its_width_and_all_its_height(plain, room):
    design = design_from(plain)
    one = one_piece(pf.build(design), ["left wing"])
    room["doors"][0] |= {"clear_width": "2.2 m ± 20 mm (measured)", "clear_height": "2.5 m"}
    place = place_from(room)
    doors = through_doors(one, place)
    assert doors[0].spare == pytest.approx(spare_of(one, doors[0], place))
    spread = carried_spreads(design, place, one, doors)["door"]
    assert spread.worst == pytest.approx(0.01, abs=1e-9)
    room["doors"][0] |= {"clear_width": "9 m", "clear_height": "0.5 m ± 4 mm (measured)"}
    place = place_from(room)
    doors = through_doors(one, place)
    spread = carried_spreads(design, place, one, doors)["door"]
    assert spread.worst == pytest.approx(0.004, abs=1e-9)


def test_a_longer_part_needs_more(plain, room):
    plain["lifting"]["wing"]["cuts"][0]["chord"] = "2 m ± 30 mm (measured)"
    design = design_from(plain)
    one = one_piece(pf.build(design), ["left wing"])
    room["doors"][0] |= {"clear_width": "2.6 m", "clear_height": "0.5 m"}
    place = place_from(room)
    doors = through_doors(one, place)
    spread = carried_spreads(design, place, one, doors)["door"]
    assert 0.0 < spread.worst <= 0.03
    assert spread.by_input[0][0] == "Plain: lifting.wing.cuts[1].chord"


def test_two_of_one_design_count_apart(plain, room):
    plain["lifting"]["wing"]["cuts"][1]["bl"] = "4 m ± 10 mm (measured)"
    room["floor"] = {"width": "20 m ± 30 mm (measured)", "depth": "9 m"}
    room["doors"][0]["clear_width"] = "18 m"
    room["spots"] = []
    standing = pf.stand_all(pf.build(design_from(plain)))[0]
    found = pack(pf.build_room(place_from(room)), [("a", standing), ("b", standing)], 0.2, 0.1)
    spreads = packed_spreads(found)
    names = {name for name, _ in spreads[key_between("a", "b")].by_input}
    assert names <= {f"{x}: lifting.wing.cuts[2].bl" for x in "ab"}
    for berth in found.berths:
        near = dict(found.walls)[berth.name]
        inputs = dict(spreads[key_room(berth.name)].by_input)
        if near.thing == "right wall":
            assert inputs["Box: floor.width"] == pytest.approx(0.03, abs=1e-6)
        assert inputs.get("Box: floor.width", 0.0) <= 0.03 + 1e-9

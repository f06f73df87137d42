"""Roofs by their shape, rows, hoists, cars and what is outside, seen in a mirror."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planform.design.load import place_from
from planform.fit.room import build_room
from tests.laws.alike import Back, answer, count, unlike
from tests.laws.changed import in_units, mirrored, renamed, reordered, shifted, width_of
from tests.laws.more_places import with_more
from tests.laws.more_rooms import with_levels
from tests.laws.worlds import world


@pytest.mark.parametrize("seed", range(12))
def test_a_place_in_a_mirror_is_built_mirrored(seed):
    found = with_more(world(seed), seed)
    here, there = (build_room(place_from(one.place)) for one in (found, mirrored(found)))
    wide = width_of(found.place)
    at = np.random.default_rng(seed).uniform(0.0, 8.0, (50, 2))
    seen = np.column_stack([wide - at[:, 0], at[:, 1]])
    assert here.ceiling_over(at) == pytest.approx(there.ceiling_over(seen), abs=1e-9)

    def solids(room, side):
        return sorted(
            (
                t.kind, round(t.low, 6), round(t.high, 6),
                sorted((round(wide - x if side < 0 else x, 6) + 0.0, round(y, 6) + 0.0)
                       for x, y in t.outline.tolist()),
            )
            for t in room.fixed
        )  # fmt: skip

    for one, other in zip(solids(here, 1), solids(there, -1), strict=True):
        assert one[0] == other[0]
        assert one[1:3] == pytest.approx(other[1:3], abs=2e-6)
        assert np.array(one[3]) == pytest.approx(np.array(other[3]), abs=2e-6)


@pytest.mark.parametrize("seed", [4])
def test_a_fit_in_a_mirror_and_from_another_datum_is_mirrored(seed):
    found = with_more(world(seed), seed)
    back = Back(fs=7.3, wl=3.1, mirror=found, told_fs=True)
    here = Back(told_fs=True).answer(answer(found, "rollout"))
    there = answer(shifted(mirrored(found), 7.3, 3.1), "rollout", part="right wing")
    assert count(here) > 20
    assert unlike(here, back.answer(there)) == []


@pytest.mark.parametrize("seed", [0, 3, 6])
def test_a_way_out_from_a_level_is_the_same_in_a_mirror(seed):
    found = world(seed)
    found = replace(found, place=with_levels(found.place, seed))
    back = Back(fs=7.3, wl=3.1, mirror=found, told_fs=True)
    here = Back(told_fs=True).answer(answer(found, "rollout"))
    there = answer(shifted(mirrored(found), 7.3, 3.1), "rollout", part="right wing")
    assert "verdict" in here
    assert unlike(here, back.answer(there)) == []


def _solids(place, height):
    """What a room is made of, from one of its floors: kinds, heights and outlines."""
    room = build_room(place_from(place), height)
    return sorted(
        (t.kind, round(t.low, 5), round(t.high, 5), *np.round(t.outline.mean(axis=0), 5).tolist())
        for t in room.fixed
    )


@pytest.mark.parametrize("seed", [1, 4, 9])
def test_units_and_names_change_no_room(seed):
    found = with_more(world(seed), seed)
    found = replace(found, place=with_levels(found.place, seed))
    high = place_from(found.place).floor.levels[0].height
    other, names = renamed(found, seed)
    assert {"island", "column", "walkway"} <= set(names.values())
    for height in (0.0, float(high)):
        here = _solids(found.place, height)
        assert len(here) > 20
        assert _solids(other.place, height) == here
        for one, two in zip(_solids(in_units(found, "in").place, height), here, strict=True):
            assert one[0] == two[0]
            assert one[1:] == pytest.approx(two[1:], abs=3e-5)


def test_the_order_of_things_changes_no_room():
    found = with_more(world(1), 1)
    rooms = [build_room(place_from(one.place)) for one in (found, reordered(found, 1))]
    names = [sorted((t.name, t.low, t.high) for t in room.fixed) for room in rooms]
    assert names[0] == names[1]

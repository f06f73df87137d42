"""Left and right different: a pair with numbers of each side is a part of its own on each side."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.part import Part
from planform.airframe.stance import stand_all
from planform.core.shape.loft import mirrored as mirror_image
from planform.design.load import changed, design_from
from planform.design.problems import InputError
from planform.design.side_checks import sided_at
from planform.design.sided import Sided, differs, hands, on_side
from planform.design.vary import readings, shifted
from tests.laws.alike import Back, answer, count, unlike
from tests.laws.changed import mirrored
from tests.laws.changed import shifted as moved
from tests.laws.sides import (
    PAIRED,
    SIDES,
    apart,
    on_one,
    one_a_side,
    pairs_of,
    without_named_pairs,
)
from tests.laws.worlds import Table, World, world

ONE_A_SIDE = "turning"
"""Measures of a pair of wheels, which two single wheels have not."""


def _values(measures) -> dict[str, float]:
    return {m.key: m.value for m in measures.items if not m.key.startswith(ONE_A_SIDE)}


def _uneven(seed: int) -> World:
    """A world of which every winglet is one of a pair, so that parts keep their names.

    It has none of the parts that name a pair they stand in, which `one_a_side` has not.
    """
    found = world(seed)
    while "port fin" in found.design["winglets"]:
        seed += 1000
        found = world(seed)
    return apart(without_named_pairs(found), seed)


def _same(part: Part, other: Part) -> bool:
    """Whether two parts are the same solid, to the bit but where one is cut out of another."""
    if np.array_equal(part.points, other.points):
        return True
    one, two = part.trimesh(), other.trimesh()
    return bool(
        np.allclose(one.bounds, two.bounds, atol=1e-9)
        and np.isclose(one.volume, two.volume, rtol=1e-9, atol=1e-12)
        and np.isclose(one.area, two.area, rtol=1e-9, atol=1e-12)
    )


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 500))
def test_each_side_is_built_stood_and_measured_as_a_part_of_its_own(seed):
    found = _uneven(seed)
    one, two = (build(design_from(w.design)) for w in (found, one_a_side(found)))
    here, there = ({part.name: part for part in airframe.parts} for airframe in (one, two))
    assert here.keys() == there.keys()
    for name, part in here.items():
        assert np.array_equal(part.points, there[name].points), name
        assert np.array_equal(part.faces, there[name].faces), name
    for a, b in zip(stand_all(one), stand_all(two), strict=True):
        # the loads on tyres and struts are summed in another order: rounding apart
        assert np.allclose(a.turn, b.turn, rtol=0.0, atol=1e-12)
        assert a.attitude.height == pytest.approx(b.attitude.height, abs=1e-12)
        assert np.allclose(a.parked, b.parked, rtol=0.0, atol=1e-12)
        assert _values(standing_measures(a)) == pytest.approx(_values(standing_measures(b)))
    told, singly = _values(design_measures(one)), _values(design_measures(two))
    each = {key for key in told if key.partition(" ")[0] in SIDES and "winglet" not in key}
    assert {k: v for k, v in told.items() if k not in each}.items() <= singly.items()
    assert all(key.endswith((".taper", ".sweep_le", ".sweep_quarter")) for key in each)


@pytest.mark.parametrize(("seed", "command"), [(0, "rollout"), (2, "fit"), (9, "fit")])
def test_in_a_room_it_answers_as_a_part_of_its_own_on_each_side(seed, command):
    found = _uneven(seed)
    here, there = (answer(w, command) for w in (found, one_a_side(found)))
    apart_in = unlike(here, there)
    names = (".questions", ".assumed")
    told = [one for one in apart_in if not one.startswith(names) and ".notes[" not in one]
    assert count(here) > 20
    assert told == []


def _balance(found: World) -> dict[str, object]:
    told = answer(found, "balance")
    return {key: told[key] for key in ("stages", "cases", "empty") if key in told}


def test_it_balances_as_a_part_of_its_own_on_each_side():
    found = _uneven(0)
    here, there = _balance(found), _balance(one_a_side(found))
    # the items are halved there, and the lattice has no surface that is on one side only
    apart_there = (".items", ".notes[", ".static_margin")
    lines = [one for one in unlike(here, there) if not any(key in one for key in apart_there)]
    assert count(here) > 100
    assert lines == []


def _equal(design: Table) -> Table:
    """The design with every number of a pair written for each side, the same on both."""

    def each(item: object) -> object:
        if isinstance(item, dict):
            return {k: each(v) for k, v in item.items()}
        if isinstance(item, list):
            return [each(v) for v in item]
        number = str(item).endswith((" m", " deg"))
        return {"left": item, "right": item} if number else item

    out = copy.deepcopy(design)
    for field, name in pairs_of(design):
        out[field][name] = each(out[field][name])
    return out


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 500))
def test_the_same_on_both_sides_is_a_plain_number(seed):
    found = world(seed)
    plain, both = build(design_from(found.design)), build(design_from(_equal(found.design)))
    assert [p.name for p in plain.parts] == [p.name for p in both.parts]
    assert all(
        np.array_equal(a.points, b.points) for a, b in zip(plain.parts, both.parts, strict=True)
    )
    for a, b in zip(stand_all(plain), stand_all(both), strict=True):
        assert a.attitude == b.attitude
        assert standing_measures(a).items == standing_measures(b).items
    assert plain.design.model_dump() != both.design.model_dump()  # two readings are not one


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 500))
def test_what_is_alike_on_both_sides_is_the_other_side_in_a_mirror(seed):
    found = _uneven(seed)
    airframe = build(design_from(found.design))
    for side in SIDES:
        design = on_one(found.design, side)
        there = {part.name: part for part in build(design_from(design)).parts}
        for part in airframe.parts:
            if part.name.startswith(side):
                assert _same(part, there[part.name])
                other = there[f"{SIDES[side == 'left']} {part.name.partition(' ')[2]}"]
                points, _ = mirror_image(other.points, other.faces)
                assert np.allclose(points, part.points, rtol=0.0, atol=1e-12)


@pytest.mark.parametrize(
    ("seed", "command"),
    [(0, "measure"), (2, "measure"), (0, "rollout"), (0, "fit"), (9, "balance"), (2, "compare")],
)
def test_left_for_right_is_the_mirror_image(seed, command):
    found = apart(world(seed), seed)
    there = answer(moved(mirrored(found), 7.3, 3.1), command, part="right wing")
    back = Back(fs=7.3, wl=3.1, mirror=found, told_fs=True)
    here = Back(told_fs=True).answer(answer(found, command))
    assert count(here) > 20
    assert unlike(here, back.answer(there)) == []


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 500), st.data())
def test_a_reading_of_one_side_moves_that_side_alone(seed, data):
    design = design_from(apart(world(seed), seed).design)
    sided = [path for path, _ in readings(design) if sided_at(design, path[:-1])]
    path = data.draw(st.sampled_from(sided))
    reading = dict(readings(design))[path]
    after = shifted(design, path, 0.01)
    one, other = (
        dict(readings(on_side(after, side))) for side in (path[-1], SIDES[path[-1] == "left"])
    )
    before = dict(readings(on_side(design, SIDES[path[-1] == "left"])))
    assert one[path[:-1]] == pytest.approx(float(reading) + 0.01)
    assert other == before
    airframe = build(design)
    again = build(after, like=airframe)
    group = path[1]
    kept = {part.name: part for part in airframe.parts if part.group != group}
    shared = [p for p in again.parts if p.name in kept and p.points is kept[p.name].points]
    assert shared  # pieces that the change does not touch are not built again


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 500))
def test_it_is_written_as_it_was_read(seed):
    table = apart(world(seed), seed).design
    design = design_from(table)
    assert differs(design)
    dumped = design.model_dump(mode="json", exclude_unset=True)
    assert {k: dumped[k] for k in PAIRED if k in table} == {
        k: table[k] for k in PAIRED if k in table
    }
    assert design_from(design.model_dump(mode="json", exclude_unset=True)) == design
    assert [side for side, _ in hands(design)] == list(SIDES)
    for side, one in hands(design):
        assert not differs(one)
        assert one == design_from(on_one(table, side))


def test_a_field_of_one_side_is_changed_alone():
    design = design_from(world(0).design)
    name = next(iter(design.winglets))
    uneven = changed(design, f"winglets.{name}.length", {"left": "0.5 m", "right": "0.6 m"})
    longer = changed(uneven, f"winglets.{name}.length.left", "0.7 m")
    assert uneven.winglets[name].length == Sided(0.5, 0.6)
    assert longer.winglets[name].length == Sided(0.7, 0.6)
    with pytest.raises(InputError, match=r"length\.left: given '-1 m'; allowed: a length above"):
        changed(uneven, f"winglets.{name}.length.left", "-1 m")

"""Laws of aircraft as built, on random ones: datum, mirror, units, order, there and back."""

import copy
import random

import numpy as np
import pytest

from planform.airframe.build import build, drawn
from planform.airframe.freedoms import freedoms
from planform.airframe.stages import stand
from planform.design.as_built import ANGLES
from planform.design.as_built_checks import may_differ
from planform.design.load import design_from
from tests.laws.changed import in_units, mirrored, shifted
from tests.laws.worlds import world

SEEDS = range(12)
TURNS_ROUND = {"bl", "skew", "tilt", "bend_sideways", "hull_twist"}
"""Of the whole aircraft, what is the other way in a mirror."""


def rows_of(table, seed):
    """Some differences from the drawing of a random aircraft."""
    dice = random.Random(f"as built {seed}")
    may = may_differ(design_from(table))
    pads = set(table.get("pads", {}))
    every = [
        (of, side, kind)
        for of, sides in may.items()
        if of not in pads
        for side, kinds in sides.items()
        for kind in kinds
    ]
    out = []
    for of, side, kind in dice.sample(every, 6):
        by = dice.uniform(-0.02, 0.02)
        text = f"{np.degrees(by):.6f} deg" if kind in ANGLES else f"{by:.6f} m"
        out.append({"of": of, "side": side, "kind": kind, "by": text})
    return out


def with_rows(table, rows):
    """A design with these differences."""
    written = [
        {"of": row["of"], row["kind"]: row["by"]} | ({"side": row["side"]} if row["side"] else {})
        for row in rows
    ]
    return design_from({**copy.deepcopy(table), "as_built": written})


def other_side(row):
    """A difference as it is in a mirror."""
    swap = {"left": "right", "right": "left", "": ""}
    by = row["by"]
    if not row["side"] and row["kind"] in TURNS_ROUND:
        by = by[1:] if by.startswith("-") else f"-{by}"
    return row | {"side": swap[row["side"]], "by": by}


def ends(airframe):
    """The least and the greatest of each coordinate, by part; corners may be others by rounding."""
    return {
        part.name: np.array([part.points.min(axis=0), part.points.max(axis=0)])
        for part in airframe.parts
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_datum_units_and_order_change_nothing(seed):
    found = world(seed)
    rows = rows_of(found.design, seed)
    plain = ends(build(with_rows(found.design, rows)))
    again = ends(build(with_rows(found.design, rows[::-1])))
    moved = ends(build(with_rows(shifted(found, 1.5, 0.25).design, rows)))
    inches = ends(build(with_rows(in_units(found, "in").design, rows)))
    for name, at in plain.items():
        np.testing.assert_allclose(again[name], at, atol=1e-12)
        np.testing.assert_allclose(moved[name] - [1.5, 0.0, 0.25], at, atol=1e-6)
        np.testing.assert_allclose(inches[name], at, atol=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirror_image_is_built_as_one(seed):
    found = world(seed)
    rows = rows_of(found.design, seed)
    plain = build(with_rows(found.design, rows))
    other = build(with_rows(mirrored(found).design, [other_side(row) for row in rows]))
    swap = {"left": "right", "right": "left"}
    by_name = ends(other)
    for name, at in ends(plain).items():
        first, _, rest = name.partition(" ")
        there = by_name[f"{swap[first]} {rest}" if first in swap else name]
        there = np.sort(there * [1.0, -1.0, 1.0], axis=0)
        np.testing.assert_allclose(there, at, atol=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_it_stands_and_what_can_differ_is_what_may(seed):
    found = world(seed)
    design = with_rows(found.design, rows_of(found.design, seed))
    airframe = build(design)
    assert airframe.moved is not None
    assert drawn(design).as_built == ()
    plain = build(drawn(design))
    for stage in design.stages:
        built = stand(airframe, stage)
        assert np.isfinite(built.all_points()).all()
        low = built.all_points()[:, 2].min()
        assert low == pytest.approx(stand(plain, stage).all_points()[:, 2].min(), abs=0.12)
    can = {(f.of, f.side, f.kind) for f in freedoms(plain)}
    pads = set(design.pads)
    may = {
        (of, side, kind)
        for of, sides in may_differ(design).items()
        for side, kinds in sides.items()
        for kind in kinds
        if of not in pads
    }
    assert may == can

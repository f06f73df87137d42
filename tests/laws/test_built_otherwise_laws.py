"""Laws of an aircraft as built: mirror, datum, units, order; no difference, there and back."""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest

from planform.airframe.build import build, drawn
from planform.airframe.deviated import moved_by
from planform.airframe.freedoms import freedoms
from planform.airframe.measure import design_measures
from planform.design.load import design_from
from tests.laws.alike import Back, answer, count, unlike
from tests.laws.built_otherwise import built, mirror_built, opposite, shifted_built, without
from tests.laws.changed import in_units, mirrored, reordered
from tests.laws.worlds import world

MANY = int(os.environ.get("PLANFORM_WORLDS", "0"))
SEEDS = range(MANY) if MANY else (0, 1, 3, 5)
ASKED = (
    [(seed, command) for seed in SEEDS for command in ("measure", "balance", "compare", "rollout")]
    if MANY
    else [(0, "measure"), (1, "measure"), (3, "measure"), (2, "balance"), (10, "compare")]
)
LEAST = 15


def _airframe(found):
    return build(design_from(found.design))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_point_is_mirrored_and_moved_with_the_aircraft(seed):
    found = built(world(seed), seed)
    other = mirrored(found)
    other.design["as_built"] = mirror_built(found.design["as_built"])
    there, here = _airframe(shifted_built(other, 7.3, 3.1)), _airframe(found)
    assert here.moved is not None
    swap = {"left": "right", "right": "left"}
    for part in here.parts:
        side, _, rest = part.name.partition(" ")
        twin = there.by_name[f"{swap[side]} {rest}" if side in swap else part.name]
        back = (twin.points - np.array([7.3, 0.0, 3.1])) * np.array([1.0, -1.0, 1.0])
        for a, b in ((part.points, back), (back, part.points)):
            far = np.array([np.min(np.linalg.norm(b - point, axis=1)) for point in a[::7]])
            assert far.max() < 1e-6, part.name


@pytest.mark.parametrize(("seed", "command"), ASKED)
def test_mirrored_and_from_another_datum_the_answer_is_mirrored_and_moved(seed, command):
    found = built(world(seed), seed)
    other = mirrored(found)
    other.design["as_built"] = mirror_built(found.design["as_built"])
    there = answer(shifted_built(other, 7.3, 3.1), command, part="right wing")
    back = Back(fs=7.3, wl=3.1, mirror=found, told_fs=True)
    here = Back(told_fs=True).answer(answer(found, command))
    assert count(here) > LEAST
    assert unlike(here, back.answer(there)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_units_and_order_change_no_measure(seed):
    found = built(world(seed), seed)
    here = Back(units=True).answer(answer(found, "measure"))
    assert unlike(here, Back(units=True).answer(answer(in_units(found, "in"), "measure"))) == []
    assert unlike(here, Back(units=True).answer(answer(reordered(found, seed), "measure"))) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_as_drawn_is_the_very_same_and_there_and_back_is_near(seed):
    found = built(world(seed), seed)
    design = design_from(found.design)
    plain, again = _airframe(without(found)), build(drawn(design))
    for one, other in zip(plain.parts, again.parts, strict=True):
        np.testing.assert_array_equal(one.points, other.points)
    there = build(design)
    back = design_from(
        replace(
            found, design=found.design | {"as_built": opposite(found.design["as_built"])}
        ).design
    )
    given = {
        (row.of, row.side or "", kind): float(v)
        for row in back.as_built
        for kind, v in row.given().items()
    }
    turns = [one for one in freedoms(there) if (one.of, one.side, one.kind) in given]
    home = moved_by(there, turns, [given[one.of, one.side, one.kind] for one in turns])
    for one, other in zip(plain.parts, home.parts, strict=True):
        off = float(np.linalg.norm(one.points - other.points, axis=1).max())
        gone = float(np.linalg.norm(there.by_name[one.name].points - one.points, axis=1).max())
        assert off <= 0.15 * gone + 1e-9, one.name  # of the second order


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_by_nothing_is_the_same_aircraft(seed):
    found = built(world(seed), seed)
    rows = [
        {k: v if k in ("of", "side") else f"0 {v.split(' ')[1]}" for k, v in row.items()}
        for row in found.design["as_built"]
    ]
    one = design_measures(_airframe(without(found)))
    other = design_measures(build(design_from(found.design | {"as_built": rows})))
    assert {m.key: m.value for m in one.items} == pytest.approx(
        {m.key: m.value for m in other.items}, rel=1e-9, abs=1e-12
    )

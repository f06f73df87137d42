"""Datum, side, units, names and order change no answer: every number of every command.

The suite tries a few worlds. A long run: PLANFORM_WORLDS=200 pytest tests/laws/test_mirror_laws.py
"""

from __future__ import annotations

import os

import pytest

from tests.laws.alike import Back, answer, unlike
from tests.laws.changed import in_units, mirrored, reordered, shifted
from tests.laws.worlds import world

MANY = int(os.environ.get("PLANFORM_WORLDS", "0"))
SEEDS = range(MANY) if MANY else (0, 3, 4)
COMMANDS = ("measure", "rollout") if not MANY else ("measure", "balance", "compare", "rollout")
WITH_PLACES = [
    (seed, command) for seed in (SEEDS if MANY else (0,)) for command in ("fit", "carry", "haul")
]
"""Commands whose datum alone is looked at: left and right of parts that lie, roll or tie there."""


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("command", COMMANDS)
def test_the_mirror_image_has_the_mirrored_answer(seed, command):
    found = world(seed)
    there = Back(mirror=found).answer(answer(mirrored(found), command))
    assert unlike(answer(found, command), there) == []


@pytest.mark.parametrize(
    ("seed", "command"), [*((s, c) for s in SEEDS for c in COMMANDS), *WITH_PLACES]
)
def test_another_datum_moves_stations_and_waterlines_alone(seed, command):
    found = world(seed)
    there = Back(fs=7.3, wl=3.1, told_fs=True).answer(answer(shifted(found, 7.3, 3.1), command))
    assert unlike(Back(told_fs=True).answer(answer(found, command)), there) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_units_and_order_change_no_measure(seed):
    found = world(seed)
    here = Back(units=True).answer(answer(found, "measure"))
    assert unlike(here, Back(units=True).answer(answer(in_units(found, "in"), "measure"))) == []
    assert unlike(here, Back(units=True).answer(answer(reordered(found, seed), "measure"))) == []

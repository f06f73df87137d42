"""Datum, side, units, names and order change no answer: every number of every command.

The suite tries a few worlds. A long run: PLANFORM_WORLDS=200 pytest tests/laws/test_mirror_laws.py
"""

from __future__ import annotations

import copy
import os

import pytest

from tests.laws.alike import Back, answer, count, unlike
from tests.laws.changed import in_units, mirrored, reordered, shifted
from tests.laws.worlds import World, world

MANY = int(os.environ.get("PLANFORM_WORLDS", "0"))
EVERY = ("measure", "rollout", "fit", "carry", "haul", "balance", "compare", "pack", "changes")
ASKED = (
    [(seed, command) for seed in range(MANY) for command in EVERY]
    if MANY
    else [*((seed, command) for seed in (0, 3) for command in ("measure", "rollout")),
          (2, "fit"), (3, "fit"), (2, "carry"), (6, "carry"), (2, "haul"), (2, "pack"),
          (2, "balance"), (5, "balance"), (9, "balance"), (10, "compare"), (9, "low doors")]
)  # fmt: skip

LEAST = 15
"""Numbers of an answer: a refusal has none, one that stops where it is parked 18."""


def _asked(found: World, command: str) -> tuple[World, str]:
    """The world and the command; low doors are those that nothing but a higher door frees."""
    if command != "low doors":
        return found, command
    place = copy.deepcopy(found.place)
    for door in place["doors"]:
        door["clear_height"] = "0.5 m"
    return World(found.design, place, found.carrier), "changes"


@pytest.mark.parametrize(("seed", "command"), ASKED)
def test_mirrored_and_from_another_datum_the_answer_is_mirrored_and_moved(seed, command):
    found, command = _asked(world(seed), command)
    there = answer(shifted(mirrored(found), 7.3, 3.1), command, part="right wing")
    back = Back(fs=7.3, wl=3.1, mirror=found, told_fs=True)
    here = Back(told_fs=True).answer(answer(found, command))
    assert count(here) > LEAST or command in ("pack", "changes")
    assert unlike(here, back.answer(there)) == []


@pytest.mark.parametrize("seed", range(MANY) if MANY else (0, 3))
def test_units_and_order_change_no_measure(seed):
    found = world(seed)
    here = Back(units=True).answer(answer(found, "measure"))
    assert unlike(here, Back(units=True).answer(answer(in_units(found, "in"), "measure"))) == []
    assert unlike(here, Back(units=True).answer(answer(reordered(found, seed), "measure"))) == []

"""Laws of rigging cards: seen in a mirror, from another datum, in other units."""

from __future__ import annotations

import re

import numpy as np
import pytest

from planform.airframe.build import build
from planform.design.load import design_from
from planform.design.problems import InputError
from planform.rigging.joints import joints_of
from planform.rigging.making import rigging_card
from tests.laws.changed import in_units, mirrored, shifted
from tests.laws.worlds import world

SEEDS = range(6)


def cards(found):
    """Every card that a random aircraft has."""
    airframe = build(design_from(found.design))
    out = {}
    for joint in joints_of(airframe):
        try:
            out[joint.name] = rigging_card(airframe, joint.name)
        except InputError as error:
            out[joint.name] = str(error)
    return out


def other(words):
    sides = {"left": "right", "right": "left"}
    return re.sub(r"\b(left|right)\b", lambda one: sides[one[1]], words)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_datum_that_moves_changes_no_reading(seed):
    found = world(seed)
    one, two = cards(found), cards(shifted(found, 0.731, -0.214))
    assert one.keys() == two.keys()
    for name, card in one.items():
        if isinstance(card, str):
            assert two[name] == card
            continue
        same(card, two[name])
        by = [c.size for c in card.checks]
        assert by == pytest.approx([c.size for c in two[name].checks], abs=2e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_units_change_no_reading(seed):
    found = world(seed)
    one, two = cards(found), cards(in_units(found, "in"))
    for name, card in one.items():
        if not isinstance(card, str):
            same(card, two[name])


def same(card, twin):
    assert [t.words for t in card.targets] == [t.words for t in twin.targets]
    told = [t.target for t in card.targets]
    assert told == pytest.approx([t.target for t in twin.targets], abs=2e-4)
    columns = np.array([t.columns for t in card.targets])
    assert columns == pytest.approx(np.array([t.columns for t in twin.targets]), abs=1e-3)
    assert [s.words for s in card.order] == [s.words for s in twin.order]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirrored_aircraft_has_mirrored_cards(seed):
    """Heights, stations and distances alike under swapped names; offsets with the other sign."""
    found = world(seed)
    one, two = cards(found), cards(mirrored(found))
    assert one.keys() == two.keys()
    compared = 0
    for name, card in one.items():
        if isinstance(card, str):
            continue
        twin = {t.words: t for t in two[name].targets}
        for t in card.targets:
            image = twin.get(other(t.words))
            if image is None or "over" in t.words or t.reference:
                continue
            sign = -1.0 if t.sort == "offset" else 1.0
            assert image.target == pytest.approx(sign * t.target, abs=2e-4), t.words
            assert image.tolerance == pytest.approx(t.tolerance)
            compared += 1
    assert compared

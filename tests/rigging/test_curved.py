"""Readings that are curved: an aircraft that stands nose down, with one reading in millimetres."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from planform.core.vectors import Array
from planform.rigging.explain.curved import Curved, Pointwise, explain_curved, placed
from planform.rigging.explain.net import Candidate, sd_of
from tests.rigging.made_shops import DEG, INCH, Craft, is_angle, observed, takes

UNKNOWN = ("pitch", "roll", "height", "floor slope along", "floor slope across", "level zero")
POSE = np.array([-8.0 * DEG, 2.0 * DEG, 0.9, 0.3 * DEG, -0.2 * DEG, 0.1 * DEG])


def made(seed: int) -> tuple[Curved, Array, list[str]]:
    craft = Craft(np.random.default_rng(seed))
    always, may = takes(craft)
    kinds = (
        "height",
        "distance",
        "height difference",
        "level along",
        "level across",
        "level reversed",
    )
    chosen = [t for t in always + may if t.what in kinds]
    names = list(craft.moves)
    points = sorted(craft.at)
    drawn = np.array([craft.at[p] for p in points])
    moves = np.array([[craft.moved(n, p) for p in points] for n in names])
    place = {p: k for k, p in enumerate(points)}

    def where(theta: Array) -> Array:
        return drawn + np.einsum("k,kpi->pi", theta, moves)

    def seen(points: Array, x: Array) -> Array:
        turn = Rotation.from_euler("yx", x[:2]).as_matrix()
        at = points @ turn.T
        told = []
        for take in chosen:
            ends = [at[place[p]] for p in take.points]
            if take.what == "distance":
                told.append(np.linalg.norm(ends[0] - ends[1]))
            elif take.what == "height":
                told.append(ends[0] @ [-x[3], -x[4], 1.0] + x[2])
            elif take.what == "height difference":
                told.append(ends[0][2] - ends[1][2])
            else:
                run = ends[1] - ends[0]
                angle = np.arctan2(run[2], np.hypot(run[0], run[1]))
                told.append(angle + x[5])
        return np.array(told)

    truth = np.zeros(len(names))
    truth[names.index("panel left, sweep")] = 0.5 * DEG
    truth[names.index("foreplane, tilt")] = -0.6 * DEG
    tolerance = np.array([t.tolerance for t in chosen])
    dice = np.random.default_rng(seed + 1)
    model = Pointwise(moves, where, seen)
    read = model.values(POSE, truth) + dice.uniform(-1.0, 1.0, len(chosen)) * tolerance
    base = model.values(np.zeros(6), np.zeros(len(names)))
    candidates = tuple(
        Candidate(n, is_angle(n), 2.0 * (DEG if is_angle(n) else INCH)) for n in names
    )
    net = Curved(
        UNKNOWN,
        candidates,
        observed(chosen, read, base),
        model.values,
        model.slopes,
        model.placing,
        read,
        sd_of(tolerance),
        np.zeros(6),
    )
    return net, truth, names


@pytest.mark.parametrize("seed", [1, 2])
def test_what_is_off_is_found_however_the_aircraft_stands(seed: int):
    net, truth, names = made(seed)
    told = explain_curved(net)
    found = {one.name: one for one in told.found}
    assert set(found) == {names[k] for k in np.flatnonzero(truth)}
    for name, one in found.items():
        assert abs(one.by - truth[names.index(name)]) < 1.5 * one.half_width
    assert told.unknown == pytest.approx(POSE, abs=4e-3)
    assert not told.suspects
    assert told.remaining.explained


def test_a_reading_in_the_wrong_unit_does_not_pull_the_placement_along():
    net, _, _ = made(3)
    wrong = next(k for k, o in enumerate(net.readings) if o.words.startswith("height"))
    read = net.read.copy()
    read[wrong] *= 25.4
    readings = list(net.readings)
    readings[wrong] = type(readings[wrong])(readings[wrong].words, False, read[wrong], 1.0)
    spoilt = replace(net, readings=tuple(readings), read=read)
    assert placed(spoilt) == pytest.approx(placed(net), abs=3e-3)
    told = explain_curved(spoilt)
    assert [one.number for one in told.suspects] == [wrong]
    assert told.suspects[0].looks_like.startswith("25.4 times")
    assert {one.name for one in told.found} == {"panel left, sweep", "foreplane, tilt"}
